"""Both pages for everybody: axe-core, nothing moves, no scripts needed, nothing asked for outside, good on paper."""

from __future__ import annotations

import hashlib
import io
import threading
from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from typing import TYPE_CHECKING, Literal

import pytest
import zxingcpp
from PIL import Image

from fakes import demo_car
from fakes.reader import until, visit

if TYPE_CHECKING:
    from conftest import Published
    from playwright.sync_api import Browser, Page

axe_package = pytest.importorskip("axe_playwright_python.sync_playwright", reason="axe-core is not installed")
WIDTHS = (390, 1440)
SCHEMES: tuple[Literal["light", "dark"], ...] = ("light", "dark")


def violations(page: Page, within: str | None = None) -> list[str]:
    """What axe-core (Deque Systems, MPL-2.0) finds against any of its rules, each with the element it names."""
    found = axe_package.Axe().run(page, within, {"resultTypes": ["violations"]}).response["violations"]
    return [f"{one['id']}: {node['html'][:160]}" for one in found for node in one["nodes"]]


def test_axe_finds_what_is_wrong(browser: Browser) -> None:
    """The check itself: a page with a picture without words and pale text is refused."""
    with visit(browser) as reader:
        reader.page.set_content("<html><title>x</title><img src='x.png'><p style='color:#bbb'>pale</p></html>")
        rules = {one.split(":")[0] for one in violations(reader.page)}
    assert {"image-alt", "color-contrast", "html-has-lang"} <= rules


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", ["index.html", "disclosure.html"])
def test_axe_finds_nothing(browser: Browser, published: Published, name: str, width: int) -> None:
    with visit(browser, width) as reader:
        page = reader.open(published.hostile.data / name)
        for scheme in SCHEMES:
            page.emulate_media(color_scheme=scheme)
            assert violations(page) == [], scheme


@pytest.mark.parametrize("width", WIDTHS)
def test_axe_finds_nothing_in_the_close_view(browser: Browser, published: Published, width: int) -> None:
    with visit(browser, width) as reader:
        page = reader.open(published.index, "#look-3")
        page.keyboard.press("f")
        assert page.locator("dialog.viewer").is_visible()
        for scheme in SCHEMES:
            page.emulate_media(color_scheme=scheme)
            assert violations(page, "dialog.viewer") == [], scheme


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", ["index.html", "disclosure.html"])
def test_nothing_moves_while_pictures_come(browser: Browser, published: Published, name: str, width: int) -> None:
    """Layout Instability (WICG): the sum of shifts without a person's doing, scrolled from top to bottom, is 0."""
    with visit(browser, width) as reader:
        page = reader.open(published.demo / name)
        height = page.evaluate("document.documentElement.scrollHeight")
        for top in range(0, height, 3000):
            page.evaluate(f"scrollTo(0, {top})")
            page.wait_for_timeout(30)
        assert page.evaluate("document.documentElement.scrollHeight") == height
        assert page.evaluate("window.__shift") == 0
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert reader.hits() == []


class _Silent(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:
        """Nobody listens."""


@pytest.fixture
def host(published: Published) -> Iterator[str]:
    """The edition on a plain static host, below a folder with a name of its own."""
    folder = published.demo.parent
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(_Silent, directory=str(folder))) as server:
        thread = threading.Thread(target=server.serve_forever)
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}/{published.demo.name}/"
        server.shutdown()
        thread.join()


def test_a_static_host_serves_it_and_nothing_outside_is_asked_for(browser: Browser, host: str) -> None:
    with visit(browser, 390) as reader:
        for name in ("index.html", "disclosure.html"):
            page = reader.open(f"{host}{name}")
            page.evaluate("for (const img of document.images) img.loading = 'eager'")
            page.wait_for_load_state("networkidle")
            assert page.evaluate("[...document.images].every((one) => one.complete && one.naturalWidth)")
        page = reader.open(f"{host}index.html", "#look-5")
        page.keyboard.press("ArrowRight")
        page.keyboard.press("Escape")
        assert [words for words in reader.hits() if "404" not in words] == []
        assert len(reader.asked) > 20
        strangers = {address for address in reader.asked if not address.startswith(host)}
        assert {address.removeprefix(host[: -len("data/")]) for address in strangers} <= {"favicon.ico"}


def test_without_scripts_every_photo_is_a_link_and_the_filter_works(browser: Browser, published: Published) -> None:
    with visit(browser, 390, java_script_enabled=False) as reader:
        page = reader.open(published.index)
        links = page.locator("a.frame")
        addresses = [link.get_attribute("href") or "" for link in links.all()]
        assert len(addresses) > 60
        assert all((published.demo / address).is_file() for address in addresses)
        assert page.locator("dialog.viewer").is_hidden()
        plain, found = page.locator("#photo-5"), page.locator("#photo-3")
        assert plain.is_visible()
        page.get_by_label("Only with findings").check()
        assert plain.is_hidden()
        assert found.is_visible()
        assert "21 photos with findings are shown below, of 70" in page.locator(".filtered").inner_text()
        page.get_by_role("checkbox", name="Marks").uncheck()
        assert found.locator(".mark").first.is_hidden()


def test_a_photo_that_an_address_names_is_shown_in_spite_of_the_filter(browser: Browser, published: Published) -> None:
    """The ribbon leads to a zone's first photo; that one must not be hidden when the reader gets there."""
    with visit(browser, java_script_enabled=False) as reader:
        page = reader.open(published.index)
        page.get_by_label("Only with findings").check()
        page.locator(".zones a[href='#photo-5'], .zones a[href='#photo-4']").first.click()
        target = page.locator(":target")
        assert target.is_visible()
        box = target.bounding_box()
        assert box is not None
        assert 0 <= box["y"] < 400


def test_on_paper_marks_and_captions_stay_and_controls_go(browser: Browser, published: Published) -> None:
    with visit(browser) as reader:
        page = reader.open(published.index)
        page.emulate_media(media="print")
        for gone in (".strip", ".skip", ".viewer", ".go"):
            assert page.locator(gone).first.is_hidden(), gone
        assert page.locator("#photo-3 .mark").first.is_visible()
        assert page.locator("#photo-3 .cap-text").is_visible()
        assert page.locator(".filtered").is_hidden()
        after = page.evaluate("[...document.links].map((one) => getComputedStyle(one, '::after').content)")
        assert set(after) == {"none"}
        whole = "getComputedStyle(document.querySelector('#photo-3')).breakInside"
        assert page.evaluate(whole) == "avoid"


def test_less_motion_is_no_motion(browser: Browser, published: Published) -> None:
    with visit(browser, reduced_motion="reduce") as reader:
        page = reader.open(published.index, "#look-3")
        page.keyboard.press("+")
        assert page.evaluate("document.getAnimations().length") == 0
        assert page.evaluate("getComputedStyle(document.documentElement).scrollBehavior") == "auto"


@pytest.mark.parametrize("scheme", SCHEMES)
def test_the_code_leads_to_the_digits_at_the_foot(
    browser: Browser, published: Published, scheme: Literal["light", "dark"]
) -> None:
    """zxing-cpp reads off the screen what the foot prints; a signed edition's code stands on a dark page too."""
    with visit(browser, 390, color_scheme=scheme) as reader:
        page = reader.open(published.disclosure)
        seen = Image.open(io.BytesIO(page.locator(".code").screenshot()))
        found = [one.text for one in zxingcpp.read_barcodes(seen)]
        page.get_by_role("link", name="The same in digits").click()
        assert found == [page.locator("#seal .mono").inner_text()]
        assert hashlib.sha256((published.demo / "edition.json").read_bytes()).hexdigest() == found[0]


def test_small_pictures_carry_their_finding_s_marks(browser: Browser, published: Published) -> None:
    with visit(browser) as reader:
        page = reader.open(published.disclosure)
        page.locator("#finding-4").scroll_into_view_if_needed()
        until(page, "[...document.querySelectorAll('#finding-4 img')].every((one) => one.complete)")
        shares = page.evaluate(
            """[...document.querySelectorAll('#finding-4 .mark')].map((one) => {
              const below = one.closest('.print').querySelector('img');
              const [mark, image] = [one, below].map((each) => each.getBoundingClientRect());
              return [(mark.left - image.left) / image.width, mark.width / image.width];
            })"""
        )
        marks = demo_car.noted().findings[3].marks
        assert len(shares) == len(marks)
        for (left, width), mark in zip(sorted(shares), sorted(marks, key=lambda one: one.x), strict=True):
            assert left == pytest.approx(mark.x, abs=0.02)
            assert width == pytest.approx(mark.width, abs=0.03)
