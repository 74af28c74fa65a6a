"""A car about which people wrote the worst they could: every free word of the record, and every file's name.

It goes the real way, from a card through the verbs into an edition and an outlet's folder.
"""

from __future__ import annotations

import json
import random
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import cycle
from pathlib import Path

from PIL import Image

from lapseam.domain.car import House, Person
from lapseam.domain.decision import Closed, Signoff, WaiverOf
from lapseam.domain.statement import Basis, Evidence, SerialPlace
from lapseam.storage import Workspace, record_sha256
from lapseam.workflow import Desk

STOCK = "H-1"
TOLD_BY = "owner before last"
BY = "Jun Thornby"
AT = datetime(2026, 5, 14, 10, tzinfo=UTC)

MARKUP = (
    "<script>__hit('script')</script>",
    "</script><script>__hit('ended')</script>",
    "<img src=x onerror=__hit('image')>",
    "<svg onload=__hit('drawing')><animate onbegin=__hit('animate')>",
    "<iframe srcdoc='<script>parent.__hit(1)</script>'></iframe>",
    "<a href='javascript:__hit(1)'>click</a>",
    "<details open ontoggle=__hit('toggle')><summary>x</summary></details>",
    "<form action='http://outside.example/'><button>send</button></form>",
    "<meta http-equiv=refresh content='0;url=http://outside.example/'>",
    "<base href='http://outside.example/'><link rel=stylesheet href=x.css>",
    '" onmouseover="__hit(\'attribute\')" x="',
    "' autofocus onfocus='__hit(1)' x='",
    "` onclick=__hit(1) `",
    "</title><script>__hit('title')</script>",
    "</style><style>*{display:none!important}",
    "</textarea></dialog></template></main><script>__hit(1)</script>",
    "<!--<script>__hit(1)//--> --!> ]]>",
    "&lt;script&gt;__hit(1)&lt;/script&gt; &#60;b&#62;",
)
ADDRESSES = (
    "javascript:__hit('address')",
    "data:text/html,<script>__hit(1)</script>",
    "http://outside.example/pixel.png",
    "[see](javascript:__hit(1)) ![x](http://outside.example/p.png)",
    "url(http://outside.example/x) ;background:url(//outside.example)",
)
OTHER_TONGUES = (
    '=HYPERLINK("http://outside.example/","open")',
    "+cmd|' /C calc'!A0",
    "@SUM(1+1)*cmd",
    "-2+3+cmd",
    "../../../etc/passwd",
    r"..\..\windows\win.ini",
    "%2e%2e%2f%00.jpg",
    "{{ 7*7 }}{% raw %}{# x #}",
    "{number} {0} %s %(x)s ${x}",
    '#panic("out") #read("/tokens.json") $x/0$',
    "**bold** _slanted_ `code` # heading",
    "'; DROP TABLE findings; --",
)
TURNED = "not \u202egnp.exe\u202c so"
RIGHT_TO_LEFT = "שלום 12 mm (סוף)"
UNSEEN = "zero\u200bwidth\ufeffsign\u00ad"
LONG = "W" * 150
HUGE = "<b>W" * 900
WORDS = (*MARKUP, *ADDRESSES, *OTHER_TONGUES, TURNED, RIGHT_TO_LEFT, UNSEEN, LONG)

FILES = (
    "<img src=x onerror=__hit(1)>.jpg",
    '" onload="__hit(1)" x=".jpg',
    "javascript:__hit(1).jpg",
    "=cmd|' C calc'!A0.jpg",
    "up..%2f..%2f..%2fetc%2fpasswd.jpg",
    "up\\..\\..\\win.jpg",
    "not \u202egpj.exe.jpg",
    "zero\u200bwidth.jpg",
    "-rf ~; $(touch hit).jpg",
    '#panic("out").jpg',
)


@dataclass(frozen=True, slots=True)
class Made:
    """What was made of it: the pages' folder, the outlet's folder, and the whole workspace."""

    data: Path
    outlet: Path
    workspace: Path


def make(workspace: Path) -> Made:
    """Record all of it in a new workspace, sign it as it stands, and publish."""
    card = workspace.parent / "card"
    card.mkdir()
    for place, name in enumerate(FILES):
        blocks = Image.frombytes("RGB", (8, 5), random.Random(place).randbytes(120))
        blocks.resize((320, 200), Image.Resampling.NEAREST).save(card / name, "JPEG", comment=MARKUP[0].encode())
    with Desk.open(workspace, create=True, clock=lambda: AT) as desk:
        desk.save_house(house=House(name=f"House {MARKUP[0]}", people=(Person(BY, ("manager",)),))).result()
        named = {"make": MARKUP[1], "model": MARKUP[10], "trim": ADDRESSES[0], "colour": TURNED, "interior": MARKUP[2]}
        desk.new_car(stock=STOCK, plan="hardtop-full", by=BY, details=named).result()
        taken = desk.take_in(stock=STOCK, paths=[card], by=BY).result()
        assert taken.kept == len(FILES)
        photos = [photo.sha256 for photo in desk.car(stock=STOCK).result().photos]
        notes = workspace.parent / "notes.yaml"
        notes.write_text(_notes(photos), encoding="utf-8")
        desk.take_notes(stock=STOCK, path=notes, by=BY).result()
        desk.answer(stock=STOCK, answers={"road_legal": True}, by=BY).result()
        told = Evidence(Basis.TOLD, who_said=TOLD_BY, on=AT.date())
        desk.state(stock=STOCK, subject=LONG, claim=HUGE, evidence=told, by=BY).result()
        desk.close_shot(
            stock=STOCK, shot="ext-cowl", closed=Closed.NOT_REACHABLE, reason="no-time", note=MARKUP[2], by=BY
        ).result()
        desk.waive(stock=STOCK, of=WaiverOf.SHOT, subject="ext-roof-top", reason=MARKUP[0], by=BY).result()
        desk.read_serial(stock=STOCK, place=SerialPlace.CAR, text=MARKUP[8], by=BY).result()
    _sign(workspace)
    outlet = workspace.parent / "outlet"
    with Desk.open(workspace, clock=lambda: AT) as desk:
        made = desk.publish(stock=STOCK, by=BY).result()
        desk.write_outlet(stock=STOCK, out=outlet, limit=4).result()
    return Made(made.gallery.parent, outlet, workspace)


def _extent(words: str) -> str:
    """The words behind a size, without their figures: what is no size is refused at the gate."""
    return ("12 mm " + "".join(one for one in words if not one.isnumeric()))[:200]


def _notes(photos: Sequence[str]) -> str:
    """A notes file in which the words stand wherever a person may write; JSON is YAML too."""
    zones, frames = cycle(("front", "left-side", "rear", "right-side")), cycle(photos)
    rows = [(words, next(frames)) for words in WORDS]
    day = "2026-05-14"
    said = {
        "notes_for": STOCK,
        "by": BY,
        "on": day,
        "placements": [{"photo": photo, "extra": next(zones)} for photo in photos],
        "released": [{"photo": photo, "verdict": "show", "words": words} for words, photo in rows[: len(photos)]],
        "findings": [
            {
                "number": number, "component": "hood", "kind": "paint-chip", "place": words, "extent": _extent(words),
                "detail": words, "severity": "cosmetic", "basis": "seen", "close": [photo], "note": words,
                "marks": [{"photo": photo, "box": [0.2, 0.2, 0.3, 0.3]}, {"photo": photo, "point": [0.7, 0.7]}],
            }
            for number, (words, photo) in enumerate(rows, 1)
        ],
        "checks": [
            {"check": f"own-{place}", "item": words, "result": "works", "conditions": words, "note": words}
            for place, words in enumerate(WORDS[::2])
        ],
        "measurements": [
            {
                "number": number, "measure": "m-odometer", "component": "odometer", "instrument": words, "note": words,
                "readings": [{"place": words, "value": "48213", "unit": "mi"}], "photos": [photo],
            }
            for number, (words, photo) in enumerate(rows[1::3], 1)
        ],
        "statements": [
            {"number": number, "subject": words, "claim": f"It says {words}", "basis": "told", "who_said": TOLD_BY}
            for number, words in enumerate(WORDS[1::2], 1)
        ],
    }  # fmt: skip
    return json.dumps(said)


def _sign(workspace: Path) -> None:
    """A manager's signature under the record as it stands; the car's own gaps would stop the verb."""
    opened = Workspace.open(workspace)
    try:
        signature = Signoff(BY, "manager", AT, record_sha256(opened.book.car(STOCK)), ())
        opened.book.apply(STOCK, verb="sign", words="Sign", by=BY, at=AT, put=[signature])
    finally:
        opened.close()
