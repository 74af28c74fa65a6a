"""How well the claims guard reads: what it lets by and what it stops wrongly, on the labelled sentences.

Prints the rates for each part of the corpus, and what went wrong among the sentences that rules were tuned on. The last
part was written by somebody who had not seen the rules, and judged once after the last rule was written: its figures
are the ones to believe. With `--held` it names what went wrong there too; after that it is no longer held out.
"""

from __future__ import annotations

import sys
import time
from dataclasses import dataclass
from pathlib import Path

from lapseam.domain.claims import Guard, Verdict, guard_of
from lapseam.places import shot_plans
from lapseam.plans import load_vocabulary

PARTS = {
    "false": "tuned on",
    "true": "held out",
    "late": "written later, tuned on",
    "late-held": "written later, held out",
    "last": "written third",
    "end": "written last",
    "hand-1": "by another hand, tuned on",
    "hand-2": "by another hand, second batch, tuned on",
    "unseen": "by another hand, third batch, never tuned on",
}
UNSEEN = "unseen"
"""The part that no rule was tuned on: its figures are what to expect of sentences by others. Keep it so."""
CORPUS = Path(__file__).parents[1] / "unit" / "domain" / "claims" / "corpus.tsv"


@dataclass(frozen=True, slots=True)
class Labelled:
    """One sentence (or a few) with what a careful person says of it: allowed, forbidden, or needs:<claim>.

    `held` is one of `PARTS`.
    """

    label: str
    trick: str
    held: str
    text: str


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the guard said of one labelled text."""

    labelled: Labelled
    verdict: Verdict
    rules: tuple[str, ...]

    @property
    def let_by(self) -> bool:
        """It may not be said so, and the guard is silent or milder."""
        if self.labelled.label == "forbidden":
            return self.verdict is not Verdict.REFUSED
        return self.labelled.label.startswith("needs:") and self.verdict is Verdict.ALLOWED

    @property
    def stopped(self) -> bool:
        """It may be said, and the guard objects."""
        return self.labelled.label == "allowed" and self.verdict is not Verdict.ALLOWED

    @property
    def misnamed(self) -> bool:
        """A claim that needs evidence is refused outright, or taken for another claim only."""
        claim = self.labelled.label.removeprefix("needs:")
        wrong = self.verdict is Verdict.REFUSED or claim not in self.rules
        return self.labelled.label.startswith("needs:") and not self.let_by and wrong


@dataclass(frozen=True, slots=True)
class Rates:
    """Counts over one part of the corpus."""

    outcomes: tuple[Outcome, ...]

    @property
    def let_by(self) -> float:
        """Share of what may not be said (so) that the guard lets by."""
        bad = [one for one in self.outcomes if one.labelled.label != "allowed"]
        return sum(one.let_by for one in bad) / len(bad)

    @property
    def stopped(self) -> float:
        """Share of what may be said that the guard stops."""
        good = [one for one in self.outcomes if one.labelled.label == "allowed"]
        return sum(one.stopped for one in good) / len(good)

    @property
    def misnamed(self) -> float:
        """Share of claims with needs that are found, but not as the right claim."""
        needy = [one for one in self.outcomes if one.labelled.label.startswith("needs:")]
        return sum(one.misnamed for one in needy) / len(needy)


def corpus(path: Path = CORPUS) -> tuple[Labelled, ...]:
    """Every labelled text of the file; `\\n` in it is a line break."""
    rows = path.read_text(encoding="utf-8").splitlines()[1:]
    cells = (row.split("\t", 3) for row in rows)
    return tuple(Labelled(label, trick, held, text.replace("\\n", "\n")) for label, trick, held, text in cells)


def judged(guard: Guard, texts: tuple[Labelled, ...]) -> Rates:
    """What the guard says of each."""
    found = []
    for one in texts:
        sentences = guard.judge(one.text)
        verdicts = {sentence.verdict for sentence in sentences}
        worst = next((v for v in (Verdict.REFUSED, Verdict.NEEDS_EVIDENCE) if v in verdicts), Verdict.ALLOWED)
        found.append(Outcome(one, worst, tuple(o.rule for sentence in sentences for o in sentence.objections)))
    return Rates(tuple(found))


def _tell(name: str, rates: Rates, seconds: float) -> None:
    print(f"{name}: {len(rates.outcomes)} texts, let by {rates.let_by:.1%}, wrongly stopped {rates.stopped:.1%}, "
          f"claim misnamed {rates.misnamed:.1%}, {seconds / len(rates.outcomes) * 1e3:.2f} ms each")  # fmt: skip


def _name(rates: Rates) -> None:
    for one in rates.outcomes:
        if one.let_by or one.stopped or one.misnamed:
            what = "let by" if one.let_by else "stopped" if one.stopped else "misnamed"
            print(f"  {what:8} {one.labelled.label:22} {one.verdict.value:14} {','.join(one.rules):24} "
                  f"{one.labelled.text!r}")  # fmt: skip


def main() -> None:
    """Print the figures."""
    started = time.perf_counter()
    guard = guard_of(load_vocabulary(shot_plans() / "vocabulary"))
    print(f"guard made in {time.perf_counter() - started:.2f} s (vocabulary included)")
    texts = corpus()
    for held, name in PARTS.items():
        started = time.perf_counter()
        rates = judged(guard, tuple(one for one in texts if one.held == held))
        _tell(name, rates, time.perf_counter() - started)
        if held != UNSEEN or "--held" in sys.argv:
            _name(rates)


if __name__ == "__main__":
    main()
