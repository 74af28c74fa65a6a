"""Verbs about what goes out: publish, verify, editions, demo."""

from __future__ import annotations

import argparse
import os
from pathlib import Path

from lapseam.domain.errors import Mistake
from lapseam.places import default_workspace
from lapseam.workflow import Stop, comparing, demo, proving

from .cars import stock
from .passphrase import passphrase, passphrase_arguments
from .verb import Ask, Verb


def _publish_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("--with-key", action="store_true", help="sign the edition itself with the signer's key")
    passphrase_arguments(parser)


def _publish(ask: Ask) -> int:
    stop = Stop()
    words = None
    if ask.args.with_key or ask.args.passphrase_stdin:
        signed = ask.desk.review(stock=ask.args.stock).result().signed
        words = passphrase(ask.args, signed.by if signed is not None else "the signer")
    coming = ask.desk.publish(
        stock=ask.args.stock, by=ask.by, passphrase=words, progress=ask.out.progress("Publishing"), stop=stop
    )
    try:
        made = coming.result()
    except KeyboardInterrupt:
        stop.set()
        made = coming.result()
    ask.out.answer(made)
    ask.out.say(made.words)
    ask.out.say(f"Gallery:    {made.path / 'data' / 'index.html'}")
    ask.out.say(f"Disclosure: {made.path / 'data' / 'disclosure.html'}")
    return 0


def _editions(ask: Ask) -> int:
    found = ask.desk.editions(stock=ask.args.stock).result()
    ask.out.answer(found)
    ask.out.table(
        [
            (str(one.number), f"{one.at:%Y-%m-%d %H:%M}", "signed" if one.signed else "UNSIGNED", str(one.path))
            for one in found
        ]
    )
    if not found:
        ask.out.say("No edition yet.")
    return 0


def _verify_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("edition", metavar="EDITION", help="an edition's folder, from wherever it came")
    parser.add_argument("--authority", metavar="FILE", help="root certificates (PEM) of the time stamp authority")


def _house(ask: Ask) -> Path | None:
    """The workspace whose public keys are asked: the one named, else the usual one if its settings hold."""
    if named := ask.args.workspace or os.environ.get("LAPSEAM_WORKSPACE"):
        return Path(named).expanduser()
    return default_workspace() if proving.has_settings(default_workspace()) else None


def _verify(ask: Ask) -> int:
    roots = Path(ask.args.authority) if ask.args.authority else None
    report = proving.verify(Path(ask.args.edition), house=_house(ask), roots=roots)
    ask.out.answer({"valid": report.complete, "words": report.said, "report": report})
    for words in report.said:
        ask.out.say(words)
    return 0 if report.complete else 1


def _stamp_arguments(parser: argparse.ArgumentParser) -> None:
    stock(parser)
    parser.add_argument("number", metavar="N", type=int, help="the edition's number")
    parser.add_argument("--reply", metavar="FILE", help="take the authority's reply (.tsr) in")
    parser.add_argument("--authority", metavar="FILE", help="check the reply against these root certificates (PEM)")


def _stamp(ask: Ask) -> int:
    args = ask.args
    if not args.reply:
        path = ask.desk.ask_stamp(stock=args.stock, number=args.number, by=ask.by).result()
        ask.out.answer({"request": path})
        ask.out.say(f"The request is {path}.")
        ask.out.say(
            "Send it to a time stamp authority that you trust (RFC 3161; application/timestamp-query), and take"
        )
        ask.out.say(f"its reply in with: lapseam time-stamp {args.stock} {args.number} --reply FILE")
        return 0
    roots = Path(args.authority) if args.authority else None
    found = ask.desk.take_stamp(
        stock=args.stock, number=args.number, reply=Path(args.reply), by=ask.by, roots=roots
    ).result()
    ask.out.answer(found)
    ask.out.say(found.words)
    return 0


def _compare_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "which", metavar="WHICH", nargs="+", help="a stock number and two editions' numbers, or two editions' folders"
    )
    parser.add_argument("--out", metavar="DIR", help="write the comparison as a page and as JSON into this folder")


def _of_a_car(args: argparse.Namespace) -> bool:
    """Whether two editions of the workspace were named, and not two folders."""
    return len(args.which) != 2


def _compare(ask: Ask) -> int:
    which = ask.args.which
    if len(which) == 2:
        found = comparing.compare_folders(Path(which[0]), Path(which[1]))
    elif len(which) == 3 and which[1].isdecimal() and which[2].isdecimal():
        found = ask.desk.compare_editions(stock=which[0], before=int(which[1]), after=int(which[2])).result()
    else:
        raise Mistake(
            "Name two editions: lapseam compare STOCK 1 2, or two folders: lapseam compare FOLDER FOLDER.",
            effect="Nothing was compared.",
        )
    ask.out.answer(found.data)
    for words in found.lines:
        ask.out.say(words)
    if ask.args.out:
        page, _ = found.write(Path(ask.args.out))
        ask.out.say("")
        ask.out.say(f"Page: {page}")
    return 0


def _demo_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--no-window", action="store_true", help="only make the edition, open nothing")


def _demo(ask: Ask) -> int:
    folder = Path(ask.args.workspace).expanduser() if ask.args.workspace else None
    shown = demo.run(folder, say=ask.out.say, progress=ask.out.progress)
    ask.out.answer(shown)
    if ask.open_window is None or ask.args.no_window or ask.out.json:
        return 0
    return ask.open_window(shown.workspace, shown.stock)


VERBS: tuple[Verb, ...] = (
    Verb("publish", "publish the next edition: gallery, disclosure, record, in a checked bag", _publish_arguments,
         _publish),
    Verb("editions", "list a car's editions", stock, _editions, by_somebody=False),
    Verb("verify", "say whether an edition is complete and unchanged", _verify_arguments, _verify,
         needs_workspace=False, by_somebody=False),
    Verb("compare", "say what was added, changed and withdrawn between two editions", _compare_arguments, _compare,
         needs_workspace=_of_a_car, by_somebody=False),
    Verb("time-stamp", "ask for an edition's time stamp, or take the reply in", _stamp_arguments, _stamp),
    Verb("demo", "do the whole job on the invented demo car in a fresh workspace", _demo_arguments, _demo,
         needs_workspace=False, by_somebody=False),
)  # fmt: skip
