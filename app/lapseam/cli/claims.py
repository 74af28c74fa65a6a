"""The verb about words: claims, which judges a text line by line before anybody prints it."""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

from lapseam.domain.claims import Judged, Objection, Verdict
from lapseam.domain.errors import Mistake, NotFound
from lapseam.workflow import Desk, guarding

from .cars import workspace_of
from .verb import Ask, Verb

_LONGEST_BYTES = 2_000_000
_STDIN = "-"
_SLOT = re.compile(r"\{\w+\}")


def _arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="the text, UTF-8; - reads it from standard input")
    parser.add_argument("--car", metavar="STOCK", help="hold claims against what this car's record proves")


def _claims(ask: Ask) -> int:
    text = _text(ask.args.file)
    folder = workspace_of(ask)
    if ask.args.car is None:
        judged = guarding.judge_text(text, workspace=folder)
    else:
        with Desk.open(folder) as desk:
            whole = desk.whole(stock=ask.args.car).result()
        judged = guarding.judge_text(text, workspace=folder, whole=whole)
    lines = tuple(_lines(text, judged))
    ask.out.answer({"file": ask.args.file, "car": ask.args.car, "lines": lines, "summary": _summary(lines)})
    for line in lines:
        _say(ask, line)
    counts = _summary(lines)
    ask.out.say(f"{counts['allowed']} lines allowed, {counts['needs-evidence']} need evidence, "
                f"{counts['refused']} refused.")  # fmt: skip
    unproved = ask.args.car is not None and counts["needs-evidence"]
    return 1 if counts["refused"] or unproved else 0


def _text(name: str) -> str:
    if name == _STDIN:
        raw = sys.stdin.buffer.read(_LONGEST_BYTES + 1)
    else:
        path = Path(name)
        if path.is_dir():
            raise Mistake(f"{name} is a folder.", next_step="Name the text file in it.")
        if not path.is_file():
            raise NotFound(f"There is no text file {name}.", next_step="Check the path, or use - for standard input.")
        with path.open("rb") as file:
            raw = file.read(_LONGEST_BYTES + 1)
    if len(raw) > _LONGEST_BYTES:
        raise Mistake("The text is longer than 2 MB.", next_step="Judge it in parts.")
    try:
        return raw.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")
    except UnicodeDecodeError as error:
        raise Mistake(
            "The text is not UTF-8.", next_step="Save it as UTF-8 and ask again.", detail=f"byte {error.start}"
        ) from error


def _lines(text: str, judged: Sequence[Judged]) -> Iterator[dict[str, object]]:
    """One entry for each line that is not empty; an objection stands on the line where its words begin."""
    objections = [(one, sentence) for sentence in judged for one in sentence.objections]
    start = 0
    for number, line in enumerate(text.split("\n"), 1):
        here = [(one, sentence) for one, sentence in objections if start <= one.start <= start + len(line)]
        if line.strip():
            verdict = Judged(line, number, start, start, tuple(one for one, _ in here)).verdict
            here.sort(key=lambda pair: pair[0].start)
            told = [_objection(one, sentence, one.start - start + 1) for one, sentence in here]
            yield {"line": number, "text": line, "verdict": verdict.value, "objections": told}
        start += len(line) + 1


def _objection(one: Objection, sentence: Judged, column: int) -> dict[str, object]:
    return {
        "rule": one.rule,
        "verdict": one.verdict.value,
        "column": column,
        "words": one.words,
        "sentence": sentence.text,
        "why": one.why,
        "needs": list(one.needs),
        "say_instead": one.say_instead,
    }


def _summary(lines: Sequence[dict[str, object]]) -> dict[str, int]:
    return {verdict.value: sum(line["verdict"] == verdict.value for line in lines) for verdict in Verdict}


def _say(ask: Ask, line: dict[str, object]) -> None:
    objections = line["objections"]
    if not isinstance(objections, list) or not objections:
        return
    ask.out.say(f"{line['line']:4}  {line['text']}")
    for one in objections:
        ask.out.say(f"      {one['verdict']} ({one['rule']}): {one['why']}")
        if one["say_instead"]:
            ask.out.say(f"      Say instead: {_SLOT.sub('…', one['say_instead'])}")


VERBS: tuple[Verb, ...] = (
    Verb(
        "claims",
        "judge a text line by line: what may not be said without which evidence",
        _arguments,
        _claims,
        "Judges a listing, captions or any other text. Refused words may not be printed; a claim that needs evidence "
        "names it. With --car the evidence is looked for in that car's record. Exit code 1 if a line is refused, or, "
        "with --car, if a claim is not proved.",
        needs_workspace=False,
        by_somebody=False,
    ),
)
