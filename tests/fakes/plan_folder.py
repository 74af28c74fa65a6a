"""A small plan with its whole vocabulary as files in a folder: written, changed and broken by tests."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

PLAN = """\
plan:
  id: small
  title: "A small walk"
  applies: "body in ['coupe', 'sedan']"
  setups:
    - {id: outside, name: "Outside", minutes: 10}
    - {id: raised, name: "On the lift", minutes: 20}
shots:
  - id: front
    title: Dead front
    setup: outside
    zone: nose
    comps: [bumper, valance]
    cam: {at: outside, bearing: 0, dist: 7, h: 0.9, lens: [85, 100]}
    frame: "Camera on the centre line."
    light: "Even."
    must: [bumper level, both lamps]
    count: 1
    need: required
    private: [plate]
  - id: sunroof
    title: Opening and drains
    setup: outside
    zone: top
    comps: [roof-opening]
    cam: {at: ladder, bearing: 315, dist: 2.5, h: 2.3, lens: [35, 50]}
    frame: "Every corner."
    light: "Overcast."
    must: [each drain]
    count: 2
    need: conditional
    when: "sunroof"
    rust: true
    close: {dist: 0.3, scale: card}
    caution: [ladder]
  - id: rail
    title: Rail from below
    setup: raised
    zone: below
    comps: [rail, valance]
    cam: {at: lift, spot: "below the left corner", look: up-forward, dist: 0.8, h: 1.3, lens: [28, 50]}
    frame: "Whole length."
    light: "Raking."
    must: [bottom edge, firewall joint]
    count: 2
    need: required
    rust: true
    close: {dist: 0.3, scale: both}
    caution: [lift]
"""

VOCABULARY = {
    "facts.yaml": """\
facts:
  - {id: body, kind: choice, values: [coupe, sedan, pickup, motorcycle]}
  - {id: doors, kind: number, note: "side doors"}
  - {id: sunroof, kind: flag}
  - {id: ad_claims, kind: list, values: [restored], also: claims}
""",
    "zones.yaml": """\
zones:
  - id: nose
    name: Nose
    group: outside
    components:
      - {id: bumper, name: "Bumper"}
      - {id: valance, name: "Valance", rust: true}
  - id: top
    name: Roof
    group: outside
    components:
      - {id: roof-opening, name: "Opening", rust: true, when: "sunroof"}
  - id: below
    name: Underside
    group: under
    components:
      - {id: rail, name: "Rail", rust: true, struct: true}
  - id: bed
    name: Bed
    group: outside
    when: "body == 'pickup'"
    components:
      - {id: bed-floor, name: "Bed floor", rust: true}
skin_only_rust: [valance]
""",
    "rust_places.yaml": """\
type_tests:
  - {id: closed-car, when: "body in ['coupe', 'sedan']"}
  - {id: any-lorry, when: "body == 'pickup'"}
rust_places:
  - id: rp-rail
    types: [closed-car, any-lorry]
    comps: [rail]
    where: "Behind the wheel."
    why: "Mud lies there."
    photo: "Close, raking."
    good: "Crisp edges."
    bad: "Scale."
    disguise: "Fresh undercoat."
""",
    "findings.yaml": """\
findings:
  - {id: chip, group: paint, tone: fault, name: "Chip", def: "Paint gone.", photo: "Close.",
     extent: {what: "size", unit: "mm"}, say: "Chip on {place}, {extent}; {basis}."}
  - {id: good-seam, group: good, tone: good, name: "Sound seam", def: "Seam as built.", photo: "Close.",
     extent: {what: "length", unit: "mm"}, say: "Seam on {place} sound; {basis}."}
""",
    "checks.yaml": """\
not_tested_reasons:
  - {id: no-time, name: "Not done in the time available"}
checks:
  - {id: chk-clock, item: "Clock", zone: nose, comps: [bumper], how: "Set it.", who: anyone, caution: []}
""",
    "measurements.yaml": """\
measures:
  - {id: m-tread, name: "Tread", unit: mm, alt: "1/32 in", tool: "Gauge", method: "Three grooves.", range: "8 mm new",
     round: "0.1 mm", uncertainty: "0.3 mm", who: anyone, basis: "common practice"}
""",
    "bases.yaml": """\
evidence_basis:
  - {id: seen, name: "Seen", rank: 3, needs: [photo, who, date], def: "Seen.", phrase: "seen", proves: "the surface",
     proves_not: "the rest"}
  - {id: measured, name: "Measured", rank: 4, needs: [value, unit, place, instrument, who, date], def: "Read.",
     phrase: "measured {value}", proves: "the reading", proves_not: "the cause"}
  - {id: tested, name: "Tested", rank: 4, needs: [result, who, date, conditions], def: "Operated.",
     phrase: "tested {date}", proves: "that it did", proves_not: "that it will"}
  - {id: documented, name: "Documented", rank: 3, needs: [document, document_date, issuer_kind, who], def: "Paper.",
     phrase: "per {document}", proves: "the paper", proves_not: "the work"}
  - {id: told, name: "Told", rank: 1, needs: [who_said, date, words], def: "Said.", phrase: "told",
     proves: "that it was said", proves_not: "the thing said"}
  - {id: not-checked, name: "Not checked", rank: 0, needs: [reason], def: "Nobody looked.", phrase: "not checked",
     proves: "honesty", proves_not: "anything"}
""",
    "claims.yaml": """\
claims:
  - {id: fine-paint, claim: "Fine paint", needs: [{basis: [seen, told], about: bumper, what: "every panel"}],
     not_enough: "shine", say_instead: "Paint as seen"}
  - {id: as-new, claim: "As new", needs: [{same_as: fine-paint}], say_instead: "Used"}
  - {id: rust-free, claim: "Rust-free", forbidden: true, say_instead: "No rust seen in the places photographed"}
""",
    "cautions.yaml": """\
cautions:
  - {id: lift, name: "Lift", text: "A trained operator raises the car."}
  - {id: ladder, name: "Ladder", text: "Firm ground."}
""",
    "signoff.yaml": """\
signoff_rules:
  - {id: so-missed, effect: block, rule: "A required shot is missed"}
  - {id: so-claim, effect: block, rule: "A claim lacks its needs", liftable: false}
""",
    "gallery.yaml": """\
gallery_groups:
  - {id: gg-outside, order: 1, name: "Outside", holds: "the walk"}
zone_gallery:
  - {zone: nose, group: gg-outside, close: gg-outside}
  - {zone: top, group: gg-outside, close: gg-outside}
  - {zone: below, group: gg-outside, close: gg-outside}
  - {zone: bed, group: gg-outside, close: gg-outside}
""",
    "words.yaml": """\
word_lists:
  not_reachable_reasons: [no-lift, no-time]
""",
    "originality.yaml": """\
originality:
  - {id: original, axis: origin, name: "Original", def: "As built.", needs: "serial", pitfall: "none"}
""",
    "dates.yaml": """\
date_rules:
  - {id: dr-glass, part: "Glass", normal: [5, 180], look_closer_to: 365, note: ""}
""",
    "titles.yaml": """\
title_states:
  - {id: ts-none, name: "No brand found", note: ""}
""",
    "questions.yaml": """\
questions:
  - {id: q01, q: "Any rust?", lists: [findings], comps: [rail], answer: "The findings"}
""",
    "synonyms.yaml": """\
synonyms:
  - {id: bumper, same: [bumper, fender bar], wider: [valance], unless: ["bumper sticker"]}
silent: [the, is]
""",
    "outlets.yaml": """\
outlet_limits:
  - {limit: 12, fixed: [front], identity: [], flaws: 2}
structural_overflow:
  gives_way: [front]
  then: "named in the text"
below_12:
  order: [front, worst-structural-finding]
""",
}


@dataclass(frozen=True, slots=True)
class PlanFolder:
    """The small plan on disk."""

    folder: Path

    @property
    def plan(self) -> Path:
        """The plan file."""
        return self.folder / "small.yaml"

    @property
    def vocabulary(self) -> Path:
        """The vocabulary beside it."""
        return self.folder / "vocabulary"

    def file(self, name: str) -> Path:
        """The plan for `small.yaml`, a vocabulary file for any other name."""
        return self.plan if name == self.plan.name else self.vocabulary / name

    def change(self, name: str, old: str, new: str, count: int = 1) -> None:
        """Replace text that must be there."""
        path = self.file(name)
        text = path.read_text(encoding="utf-8")
        assert old in text, f"{name} does not hold {old!r}"
        path.write_text(text.replace(old, new, count), encoding="utf-8")


def write_plan_folder(folder: Path) -> PlanFolder:
    """Write the small plan and its vocabulary into `folder`."""
    made = PlanFolder(folder)
    made.vocabulary.mkdir(parents=True)
    made.plan.write_text(PLAN, encoding="utf-8")
    for name, text in VOCABULARY.items():
        (made.vocabulary / name).write_text(text, encoding="utf-8")
    return made
