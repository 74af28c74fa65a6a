"""Verbs about what goes out: publish, verify, editions, demo."""

from __future__ import annotations

import argparse
from pathlib import Path

from lapseam.workflow import Stop, demo, proving

from .cars import stock
from .verb import Ask, Verb


def _publish(ask: Ask) -> int:
    stop = Stop()
    coming = ask.desk.publish(stock=ask.args.stock, by=ask.by, progress=ask.out.progress("Publishing"), stop=stop)
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
    parser.add_argument("edition", metavar="EDITION", help="an edition's folder")


def _verify(ask: Ask) -> int:
    report = proving.verify(Path(ask.args.edition))
    faults = [fault.words for fault in report.faults]
    ask.out.answer({"valid": report.complete, "words": [report.words, *faults], "report": report})
    for words in (report.words, *faults):
        ask.out.say(words)
    return 0 if report.complete else 1


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
    Verb("publish", "publish the next edition: gallery, disclosure, record, in a checked bag", stock, _publish),
    Verb("editions", "list a car's editions", stock, _editions, by_somebody=False),
    Verb("verify", "say whether an edition is complete and unchanged", _verify_arguments, _verify,
         needs_workspace=False, by_somebody=False),
    Verb("demo", "do the whole job on the invented demo car in a fresh workspace", _demo_arguments, _demo,
         needs_workspace=False, by_somebody=False),
)  # fmt: skip
