"""What a reader's browser fetches, at the widths that a page is looked at: real bytes over HTTP, and what is drawn."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pikepdf
import pytest

from fakes import private_clip, published_car, reader, static_host
from lapseam.publish import Recipe, make_edition

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

MOST_FIRST_OCTETS = 250_000
MOST_TEXT_OCTETS = 60_000
"""The house's budgets: all that a first view fetches, and of it HTML with its looks and script, compressed."""

EVERY_PICTURE = """async (without) => {
  for (const kind of without)
    document.querySelectorAll(`source[type="image/${kind}"]`).forEach((source) => source.remove());
  const pictures = [...document.querySelectorAll("picture img")];
  pictures.forEach((img) => { img.loading = "eager"; });
  await Promise.all(pictures.map((img) => img.decode().catch(() => {})));
  return pictures.map((img) => ({
    file: img.currentSrc.split("/").at(-1),
    drawn: img.getBoundingClientRect().width,
    told: img.naturalWidth,
    shape: img.getAttribute("width") / img.getAttribute("height") / (img.naturalWidth / img.naturalHeight),
  }));
}"""


@pytest.fixture(scope="module")
def address(shipped: Path) -> Iterator[str]:
    with static_host.host(shipped) as served:
        yield served


def pictures(page: Page, *without: str) -> list[dict[str, Any]]:
    """Every picture as it is drawn, `without` some formats; `told` is how wide `sizes` said it would be."""
    found: list[dict[str, Any]] = page.evaluate(EVERY_PICTURE, list(without))
    assert found
    return found


@pytest.mark.parametrize("width", sorted(reader.SIZES))
@pytest.mark.parametrize("name", ["index.html", "disclosure.html"])
def test_a_first_view_is_within_its_budgets(browser: Browser, address: str, name: str, width: int) -> None:
    with reader.visit(browser, width) as visit:
        done: list[Any] = []
        visit.page.on("requestfinished", lambda request: done.append(request))
        visit.page.goto(f"{address}/{name}")
        visit.page.wait_for_load_state("networkidle")
        weights = {}
        for request in done:
            sizes = request.sizes()
            weights[request.url] = sizes["responseBodySize"] + sizes["responseHeadersSize"]
        assert weights[f"{address}/{name}"] <= MOST_TEXT_OCTETS, weights
        assert sum(weights.values()) <= MOST_FIRST_OCTETS, weights
        assert name == "disclosure.html" or any(url.endswith(".avif") for url in weights)
        assert set(visit.asked) == set(weights), "something was asked for that did not come"


@pytest.mark.parametrize("width", sorted(reader.SIZES))
def test_each_picture_is_as_wide_as_the_page_told_the_browser(browser: Browser, address: str, width: int) -> None:
    with reader.visit(browser, width) as visit:
        page = visit.open(f"{address}/index.html")
        drawn = pictures(page)
        wrong = [one for one in drawn if abs(one["told"] / one["drawn"] - 1) > 0.03]
        assert not wrong
        assert {one["file"].rpartition(".")[2] for one in drawn} == {"avif"}
        assert page.evaluate("window.__shift") == 0, "the page moved while its pictures came"
        assert all(abs(one["shape"] - 1) < 0.01 for one in drawn)


def test_a_browser_without_the_newer_formats_takes_the_older(browser: Browser, address: str) -> None:
    with reader.visit(browser, 390) as visit:
        page = visit.open(f"{address}/index.html")
        assert {one["file"].rpartition(".")[2] for one in pictures(page, "avif")} == {"webp"}
        jpegs = pictures(page, "avif", "webp")
        assert {one["file"].rpartition(".")[2] for one in jpegs} == {"jpg"}
        assert all(one["told"] for one in jpegs)


def test_pictures_come_from_a_folder_with_scripts_off(browser: Browser, shipped: Path) -> None:
    with reader.visit(browser, 390, java_script_enabled=False) as visit:
        loaded: list[str] = []
        visit.page.on("requestfinished", lambda request: loaded.append(request.url))
        visit.open(shipped / "index.html")
        visit.page.wait_for_load_state("networkidle")
        assert [url for url in loaded if url.endswith(".avif")]


def test_a_printed_gallery_holds_every_photo(browser: Browser, tmp_path: Path) -> None:
    photos = published_car.originals(tmp_path / "originals")
    made = make_edition(
        published_car.edition(photos),
        originals=photos.__getitem__,
        folder=tmp_path / "editions",
        plan_json="{}\n",
        tool_version="0.1.0",
        recipe=Recipe(widths=(120, 300)),
    )
    with reader.visit(browser, 1440) as visit:
        page = visit.open(made.path / "data" / "index.html")
        page.evaluate("dispatchEvent(new Event('beforeprint'))")
        reader.until(page, "[...document.images].every((one) => one.complete)")
        with pikepdf.open(io.BytesIO(page.pdf())) as printed:
            streams = [one for one in printed.objects if isinstance(one, pikepdf.Stream)]
            shown = [one for one in streams if one.get("/Subtype") == "/Image" and one.Width in (120, 300)]
    assert len(shown) >= len(photos), "cells and hatching are images too, but of no picture's width"


def test_a_clip_is_fetched_and_plays_when_it_is_begun(browser: Browser, tmp_path: Path) -> None:
    pytest.importorskip("av", reason="the extra 'video' is not installed")
    with static_host.host(private_clip.published(tmp_path) / "data") as served, reader.visit(browser, 390) as visit:
        page = visit.open(f"{served}/index.html")
        page.wait_for_load_state("networkidle")
        assert not [url for url in visit.asked if url.endswith(".mp4")]
        assert page.evaluate("document.querySelector('video').paused")
        page.evaluate("document.querySelector('video').play()")
        reader.until(page, "document.querySelector('video').currentTime > 0.2")
        assert [url for url in visit.asked if url.endswith(".mp4")]
        assert visit.hits() == []
