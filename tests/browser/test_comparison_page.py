"""Two editions side by side in Chromium: axe-core finds nothing, nothing runs, nothing is wider than the page."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

import pytest

from fakes import demo_car
from fakes.reader import visit
from lapseam.domain import coverage, edition
from lapseam.domain.edition_comparison import compare
from lapseam.domain.language import ENGLISH
from lapseam.publish import Fault, Harm, VerifyReport, write_comparison

if TYPE_CHECKING:
    from playwright.sync_api import Browser

axe_package = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe-core is not installed")
SCHEMES: tuple[Literal["light", "dark"], ...] = ("light", "dark")
HOSTILE = "<script>document.title='run'</script><img src=x onerror=document.title='run'> " + "unbroken" * 30


def later(record: dict[str, Any]) -> dict[str, Any]:
    """The demo's record as a second edition: every part has something added, changed and withdrawn."""
    made: dict[str, Any] = json.loads(json.dumps(record))
    made |= {"edition": 2, "house": HOSTILE, "signed_words": HOSTILE}
    for name in ("identity", "findings", "statements", "nothing_found", "not_seen", "photos"):
        del made[name][-1]
        made[name][0] |= {key: HOSTILE for key in ("words", "sentence", "caption") if key in made[name][0]}
    made["findings"][1]["severity"] = "unsafe"
    made["findings"].append({**made["findings"][0], "number": 99, "part": HOSTILE})
    made["let_stand"].append({"what": HOSTILE, "words": HOSTILE})
    for shot in made["shots"][:40]:
        shot["state"] = "covered"
    return made


@pytest.fixture(scope="module")
def comparison(tmp_path_factory: pytest.TempPathFactory) -> Path:
    car, house, at = demo_car.noted(), demo_car.house(), demo_car.MADE_AT
    made = edition.build(car, coverage.check(car), (), house, number=1, made_at=at, signed=None)
    record = json.loads(json.dumps(made.record.as_dict()))
    broken = VerifyReport("two", (Fault(Harm.CHANGED, "data/record.json", "It was changed."),))
    found = compare(record, later(record))
    assert not found.same
    folder = tmp_path_factory.mktemp("comparison")
    return write_comparison(folder, found, (VerifyReport("one", ()), broken), language=ENGLISH)[0]


@pytest.mark.parametrize("width", [390, 1440])
def test_it_is_for_everybody(browser: Browser, comparison: Path, width: int) -> None:
    with visit(browser, width) as reader:
        page = reader.open(comparison)
        for scheme in SCHEMES:
            page.emulate_media(color_scheme=scheme)
            found = axe_package.Axe().run(page, None, {"resultTypes": ["violations"]}).response["violations"]
            assert [f"{one['id']}: {node['html'][:160]}" for one in found for node in one["nodes"]] == [], scheme
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert page.title().startswith("What changed: ")
        assert page.locator("aside.flag").is_visible()
        assert reader.hits() == []
