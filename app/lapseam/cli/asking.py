"""Verbs for whoever answers the phone: ask, want, call, promises."""

from __future__ import annotations

import argparse
import shlex
from collections.abc import Mapping
from datetime import date

from lapseam.domain.answers import Answer, EntryKind, Hit
from lapseam.domain.call import AnswerBasis, Asked, Call
from lapseam.domain.errors import Mistake
from lapseam.workflow.calling import NOT_KNOWN_ANSWER

from .cars import stock
from .verb import Ask, Verb

_FEW = 12


def _ask_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("words", metavar="WORDS", nargs="+", help="a question or any words: floor pans; any rust?")
    parser.add_argument("--car", metavar="STOCK", help="one car; else every car")
    parser.add_argument("--all", action="store_true", help=f"everything that was found, not only the first {_FEW}")


def _ask(ask: Ask) -> int:
    asked = " ".join(ask.args.words)
    limit = 500 if ask.args.all else 50
    progress = ask.out.progress("Reading the cars")
    answer = ask.desk.ask(words=asked, stock=ask.args.car, limit=limit, progress=progress).result()
    ask.out.answer(answer_facts(answer, ask.args.car))
    if answer.question is not None:
        ask.out.say(f"{answer.question.words}  How to answer: {answer.question.answer}.")
    if answer.loose:
        ask.out.say("Nothing holds all of these words; this holds some of them:")
    if not answer.known:
        ask.out.say("Not recorded.")
    shown = answer.hits if ask.args.all else answer.hits[:_FEW]
    for hit in shown:
        key = "" if hit.entry.kind is EntryKind.PHOTO else f"  [{hit.entry.key}]"
        ask.out.say(f"{hit.stock}  {hit.entry.words}{key}")
        if told := _known(hit):
            ask.out.say(f"{' ' * len(hit.stock)}  {told}")
    if len(shown) < len(answer.hits) or answer.more:
        more = len(answer.hits) - len(shown)
        ask.out.say(f"… and {more}{' or more' if answer.more else ''} more (--all).")
    if not answer.known:
        ask.out.say(f"Say: “{NOT_KNOWN_ANSWER}”")
        ask.out.say(f"Put it on the list: {put_on_list(answer, ask.args.car)}")
    return 0 if answer.known else 1


def _known(hit: Hit) -> str:
    """How it is known, how old that is, and what would renew it where it is too old."""
    parts = [hit.basis] if hit.entry.kind is not EntryKind.PHOTO else [hit.entry.basis]
    if hit.entry.answers or hit.entry.kind is EntryKind.PHOTO:
        parts.append(hit.age.words)
        parts.append(f"STALE: {hit.age.renew}" if hit.age.stale and hit.age.renew else "")
    return "; ".join(part for part in parts if part)


def put_on_list(answer: Answer, car: str | None) -> str:
    """The command that puts the question on a car's re-shoot list."""
    gap = answer.gap
    number = car or (gap.stock if gap is not None else "STOCK")
    told = ["lapseam", "want", number, answer.asked]
    if gap is not None and gap.stock == number and gap.entry.kind is not EntryKind.NOT_ANSWERED:
        told += ["--about", gap.entry.about[0]]
    return shlex.join(told)


def answer_facts(answer: Answer, car: str | None) -> Mapping[str, object]:
    """What `ask --json` prints."""
    question = answer.question
    return {
        "asked": answer.asked,
        "known": answer.known,
        "question": {"id": question.id, "words": question.words, "answer": question.answer} if question else None,
        "every_word_met": not answer.loose,
        "more": answer.more,
        "editions": dict(answer.editions),
        "hits": [_hit_facts(hit) for hit in answer.hits],
        "put_on_list": None if answer.known else put_on_list(answer, car),
    }


def _hit_facts(hit: Hit) -> Mapping[str, object]:
    entry = hit.entry
    return {
        "stock": hit.stock,
        "key": entry.key,
        "kind": entry.kind.value,
        "subject": entry.subject,
        "words": entry.words,
        "basis": entry.how.value if entry.how else None,
        "basis_words": entry.basis,
        "day": entry.day,
        "by": entry.by,
        "answers": entry.answers,
        "about": list(entry.about),
        "photos": [{"name": one.name, "number": one.number, "sha256": one.sha256} for one in hit.photos],
        "age": {"days": hit.age.days, "stale": hit.age.stale, "words": hit.age.words, "renew": hit.age.renew},
    }


def _day(words: str) -> date:
    try:
        return date.fromisoformat(words)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{words!r} is no day; write it as 2026-05-12") from None


def _want_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("stock", metavar="STOCK", nargs="?", help="the car; left out: what is open on every car")
    parser.add_argument("question", metavar="QUESTION", nargs="?", help="in the caller's words; left out: the list")
    parser.add_argument("--about", metavar="ID", default="", help="the shot, check, measurement or component wanted")
    parser.add_argument("--done", metavar="NUMBER", type=int, help="that line was dealt with")
    parser.add_argument("--note", default="", help="with --done: what was done")


def _want(ask: Ask) -> int:
    args = ask.args
    if args.stock is None:
        lines = ask.desk.to_look_at().result()
        ask.out.answer(lines)
        ask.out.table([(one.stock, *_asked_row(one.asked)) for one in lines])
        if not lines:
            ask.out.say("Nothing is wanted of any car.")
        return 0
    if args.done is not None:
        done = ask.desk.dealt_with(stock=args.stock, number=args.done, by=ask.by, words=args.note).result()
    elif args.question:
        done = ask.desk.want(stock=args.stock, question=args.question, by=ask.by, about=args.about).result()
    else:
        return _wanted_of(ask)
    ask.out.answer({"words": done.words})
    ask.out.say(done.words)
    return 0


def _wanted_of(ask: Ask) -> int:
    if ask.args.about:
        raise Mistake("Nothing was asked.", next_step="Write the question in the caller's words before --about.")
    car = ask.desk.car(stock=ask.args.stock).result()
    ask.out.answer(car.asked)
    ask.out.table([_asked_row(one) for one in car.asked])
    if not car.asked:
        ask.out.say(f"Nothing is wanted of {car.stock}.")
    return 0


def _asked_row(one: Asked) -> tuple[str, str, str, str]:
    state = f"done {one.done:%Y-%m-%d}" if one.done else "open"
    return str(one.number), state, one.subject or "-", f"{one.question}  ({one.by}, {one.at:%Y-%m-%d})"


def _call_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("question", metavar="QUESTION", nargs="?", help="in the caller's words; left out: the calls")
    parser.add_argument("--answer", default="", help="as it was read out; left out: that nobody knows")
    parser.add_argument("--from", dest="source", metavar="ENTRY", default="",
                        help="the entry that was read out, as ask names it: finding:3")  # fmt: skip
    parser.add_argument("--basis", choices=[one.value for one in AnswerBasis], help="how the answer is known")
    parser.add_argument("--known-by", default="", metavar="WORDS", help="the photo, test, paper, or who said it")
    parser.add_argument("--edition", type=int, metavar="N", help="the edition it stood on (else the last)")
    parser.add_argument("--caller", default="", metavar="LABEL", help="who called; stays in the house")
    parser.add_argument("--sent", default="", metavar="WORDS", help="what was sent")
    parser.add_argument("--photo", metavar="PHOTO", action="append", default=[], help="a photo that was sent")
    parser.add_argument("--call-back", type=_day, metavar="DAY", help="the day by which to call back")
    parser.add_argument("--promise", default="", metavar="WORDS", help="what was promised")
    parser.add_argument("--kept", type=int, metavar="NUMBER", help="the promise of that call was kept")
    parser.add_argument("--note", default="", help="with --kept: what was said")


def _call(ask: Ask) -> int:
    args = ask.args
    if args.kept is not None:
        done = ask.desk.kept(stock=args.stock, number=args.kept, by=ask.by, words=args.note).result()
    elif args.question:
        done = ask.desk.log_call(
            stock=args.stock, question=args.question, by=ask.by, answer=args.answer,
            basis=AnswerBasis(args.basis) if args.basis else None, known_by=args.known_by, source=args.source,
            edition=args.edition, caller=args.caller, sent=args.sent, photos=args.photo, call_back=args.call_back,
            promise=args.promise,
        ).result()  # fmt: skip
    else:
        return _calls_of(ask)
    ask.out.answer({"words": done.words})
    ask.out.say(done.words)
    return 0


def _calls_of(ask: Ask) -> int:
    if ask.args.answer or ask.args.source:
        raise Mistake("No question was named.", next_step="Write the question in the caller's words before --answer.")
    car = ask.desk.car(stock=ask.args.stock).result()
    ask.out.answer(car.calls)
    for call in car.calls:
        edition = f"edition {call.edition}" if call.edition is not None else "no edition yet"
        ask.out.say(f"{call.number:>3}  {call.at:%Y-%m-%d %H:%M}  {call.by}, {edition}: “{call.question}”")
        ask.out.say(f"     {call.answer}  ({call.basis.value}{f': {call.known_by}' if call.known_by else ''})")
        for told in _after(call):
            ask.out.say(f"     {told}")
    if not car.calls:
        ask.out.say(f"No call about {car.stock} is on file.")
    return 0


def _after(call: Call) -> list[str]:
    told = [f"sent: {call.sent}"] if call.sent else []
    if call.call_back is not None:
        state = f"kept on {call.kept}" if call.kept else "open"
        told.append(f"call back by {call.call_back}{f' about {call.promise}' if call.promise else ''}: {state}")
    return told


def _promises_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--late", action="store_true", help="only those whose day has come or is past")


def _promises(ask: Ask) -> int:
    found = [one for one in ask.desk.promises().result() if not ask.args.late or one.days_late >= 0]
    ask.out.answer(found)
    for one in found:
        late = f"{one.days_late} days late" if one.days_late > 0 else "today" if one.days_late == 0 else "in time"
        what = one.call.promise or one.call.question
        ask.out.say(f"{one.call.call_back}  {late:>12}  {one.stock} call {one.call.number}: {what}  ({one.call.by})")
    if not found:
        ask.out.say("No promise to call back is open.")
    return 0


VERBS: tuple[Verb, ...] = (
    Verb(
        "ask",
        "answer a question about one car or every car from the record",
        _ask_arguments,
        _ask,
        "Findings, checks, measurements, statements, calls, gaps and photos in one list, best first, each with how it "
        "is known, its date and its photos. Exit code 1: not recorded.",
        by_somebody=False,
    ),
    Verb("want", "put a shot, check or part on a car's re-shoot list, or show the list", _want_arguments, _want),
    Verb("call", "log what a caller asked and was told, or show a car's calls", _call_arguments, _call,
         "An answer needs its basis, or is logged as not known. Calls are never published."),
    Verb("promises", "promises to call back that are still open, on every car", _promises_arguments, _promises,
         by_somebody=False),
)  # fmt: skip
