"""One Chromium and one workspace with two published cars for all tests that open pages in a browser."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from fakes import demo_car, hostile_car, reader
from lapseam import places
from lapseam.domain import coverage, edition, signoff
from lapseam.publish import Recipe, make_edition
from lapseam.publish.formats import Format
from lapseam.publish.renditions import PUBLISHED

if TYPE_CHECKING:
    from playwright.sync_api import Browser

CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)


@dataclass(frozen=True, slots=True)
class Published:
    """The demo's pages, and those of a car about which people wrote the worst they could."""

    demo: Path
    hostile: hostile_car.Made

    @property
    def index(self) -> Path:
        return self.demo / "index.html"

    @property
    def disclosure(self) -> Path:
        return self.demo / "disclosure.html"


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    """Chromium, started once."""
    if CHROMIUM is None:
        pytest.skip("Chromium is not on this machine")
    api = pytest.importorskip("playwright.sync_api", reason="playwright, which drives Chromium, is not installed")
    try:
        driver = api.sync_playwright().start()
    except Exception as broken:  # noqa: BLE001 - the driver says no more than that its pipe was closed
        pytest.skip(f"playwright's driver does not start on this machine: {broken}")
    started = driver.chromium.launch(executable_path=CHROMIUM, args=list(reader.FLAGS), chromium_sandbox=False)
    yield started
    started.close()
    driver.stop()


def demo_pages(folder: Path, recipe: Recipe) -> Path:
    """The demo car's edition, its pictures by that recipe."""
    car, house, made_at = demo_car.noted(), demo_car.house(), demo_car.MADE_AT
    covered = coverage.check(car)
    rules = signoff.judge(car, covered, house, today=made_at.date())
    card = {photo.sha256: places.demo_assets() / "card" / photo.name for photo in car.photos}
    made = make_edition(
        edition.build(car, covered, rules, house, number=1, made_at=made_at, signed=None),
        originals=card.__getitem__,
        folder=folder,
        plan_json="{}\n",
        tool_version="0.1.0",
        recipe=recipe,
    )
    return made.path / "data"


@pytest.fixture(scope="package")
def published(tmp_path_factory: pytest.TempPathFactory) -> Published:
    """Both cars' pages, the first with smaller pictures in one format; the second went the whole way by the verbs."""
    folder = tmp_path_factory.mktemp("browser")
    plain = Recipe(widths=(240, 1200), formats=(Format.JPEG,))
    return Published(demo_pages(folder / "demo", plain), hostile_car.make(folder / "workspace"))


@pytest.fixture(scope="package")
def shipped(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo car's pages with every picture file that an edition has."""
    return demo_pages(tmp_path_factory.mktemp("shipped") / "demo", PUBLISHED)
