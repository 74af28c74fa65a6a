"""The verbs posted and shown: keep what an outlet shows, take it down, and say what was to be seen on a day."""

from __future__ import annotations

import argparse
from datetime import date, datetime, time
from pathlib import Path

from lapseam.domain.errors import Mistake
from lapseam.domain.posting import Price
from lapseam.workflow import Stop
from lapseam.workflow.posting import PostingAsked

from .cars import stock
from .verb import Ask, Verb

_END_OF_DAY = time(23, 59, 59)


def _posted_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("--outlet", metavar="NAME", required=True, help="an outlet of outlets.yaml in the workspace")
    parser.add_argument("--edition", type=int, metavar="N", help="the signed edition that is shown (else the last)")
    parser.add_argument("--price", metavar="AMOUNT", help="what is asked, such as 24500")
    parser.add_argument("--currency", metavar="CODE", help="its three letters, such as USD")
    parser.add_argument("--until", metavar="DAY", help="the last day on which the price holds, year-month-day")
    parser.add_argument("--since", metavar="WHEN", help="from when it is seen: a day, or a day and time (else now)")
    parser.add_argument("--address", metavar="WORDS", default="", help="where it is to be seen")
    parser.add_argument("--folder", metavar="DIR", help="the outlet's folder as it was taken there (else made anew)")
    parser.add_argument("--saved", action="append", default=[], metavar="FILE", help="a page as it stood there")
    parser.add_argument("--order", nargs="+", type=int, default=[], metavar="PLACE", help="as the outlet shows them")
    parser.add_argument("--taken-down", action="store_true", help="the outlet shows it no longer")
    parser.add_argument("--at", metavar="WHEN", help="with --taken-down: when (else now)")
    parser.add_argument("--why", metavar="WORDS", default="", help="with --taken-down: why")


def _posted(ask: Ask) -> int:
    args = ask.args
    if args.taken_down:
        if args.price or args.edition or args.folder or args.saved or args.since:
            raise Mistake("What is taken down gets no price, edition or copy.", next_step="Say only when and why.")
        done = ask.desk.taken_down(
            stock=args.stock, outlet=args.outlet, by=ask.by, at=_moment(args.at, _END_OF_DAY), words=args.why
        ).result()
        ask.out.answer(done)
        ask.out.say(done.words)
        return 0
    if args.at or args.why:
        raise Mistake("--at and --why go with --taken-down.", next_step="A beginning is said with --since.")
    asked = PostingAsked(
        outlet=args.outlet,
        edition=args.edition,
        price=_price(args.price, args.currency, args.until),
        since=_moment(args.since, time.min),
        address=args.address,
        made=Path(args.folder) if args.folder else None,
        saved=tuple(map(Path, args.saved)),
        order=tuple(args.order),
    )
    stop = Stop()
    coming = ask.desk.posted(stock=args.stock, asked=asked, by=ask.by, progress=ask.out.progress("Writing"), stop=stop)
    try:
        kept = coming.result()
    except KeyboardInterrupt:
        stop.set()
        kept = coming.result()
    ask.out.answer(kept)
    ask.out.say(kept.words)
    if kept.replaced is not None:
        ask.out.say(f"Posting {kept.replaced.number} counts as taken down.")
    for line in kept.changed:
        ask.out.say(line)
    ask.out.say(f"What it shows is kept in {kept.path}")
    return 0


def _price(amount: str | None, currency: str | None, until: str | None) -> Price | None:
    if amount is None:
        if currency or until:
            raise Mistake("A currency or an end without a price says nothing.", next_step="Add --price AMOUNT.")
        return None
    if not currency:
        raise Mistake("A price needs its currency.", next_step="Add --currency, three letters such as USD.")
    plain = amount.replace(" ", "").replace(",", "").replace("'", "") if _grouped(amount) else amount
    return Price(plain, currency.upper(), _day(until) if until else None)


def _grouped(amount: str) -> bool:
    """Whether commas, spaces or apostrophes part thousands and nothing else."""
    head, _, tail = amount.partition(".")
    groups = head.replace(" ", ",").replace("'", ",").split(",")
    return len(groups) > 1 and all(len(one) == 3 for one in groups[1:]) and "".join((*groups, tail)).isdigit()


def _day(words: str) -> date:
    try:
        return date.fromisoformat(words)
    except ValueError as error:
        raise Mistake(f"{words!r} is no day.", next_step="Write it as year-month-day, such as 2026-06-30.") from error


def _moment(words: str | None, at: time) -> datetime | None:
    """A day and time as typed, in this desk's zone; a day alone takes the time `at`."""
    if words is None:
        return None
    try:
        whole_day = len(words) == 10
        found = datetime.combine(date.fromisoformat(words), at) if whole_day else datetime.fromisoformat(words)
    except ValueError as error:
        raise Mistake(f"{words!r} is no day and time.", next_step="Write 2026-06-30, or 2026-06-30T09:30.") from error
    return found if found.tzinfo else found.astimezone()


def _shown_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("--on", metavar="DAY", help="what was to be seen on that day (else every posting there is)")


def _shown(ask: Ask) -> int:
    on = _day(ask.args.on) if ask.args.on else None
    found = ask.desk.shown(stock=ask.args.stock, on=on).result()
    ask.out.answer(found)
    for one in found:
        posting = one.posting
        ask.out.say(f"{posting.outlet}: edition {posting.edition}, posting {posting.number}, {one.span_words}")
        ask.out.say(f"  {posting.title}")
        ask.out.say(f"  Price: {one.price_words}")
        if posting.address:
            ask.out.say(f"  Seen at: {posting.address}")
        ask.out.say(f"  {len(posting.photos)} photos in this order:")
        ask.out.table([(f"  {photo.place:>3}", photo.file, photo.caption) for photo in posting.photos])
        for line in posting.changed:
            ask.out.say(f"  {line}")
        ask.out.say(f"  Kept in {one.path}")
        ask.out.say(f"  {one.copy_words}")
        ask.out.say("")
    if not found:
        ask.out.say("No outlet showed it then." if on else "No outlet has shown it yet.")
    return 0 if all(one.whole for one in found) and (found or on is None) else 1


VERBS: tuple[Verb, ...] = (
    Verb(
        "posted",
        "keep what an outlet shows from now on: photos, order, captions, text, price; or take it down",
        _posted_arguments,
        _posted,
        "Keeps a checksummed copy of the outlet's folder and text, of a signed edition only. What the outlet showed "
        "until then counts as replaced. Without --folder the folder is made from the record, which must still be the "
        "edition's.",
    ),
    Verb(
        "shown",
        "say what outlets showed on a day, with the kept copies and whether they are whole",
        _shown_arguments,
        _shown,
        "Exit code 1 if nothing was shown on that day or a kept copy is not whole.",
        by_somebody=False,
    ),
)
