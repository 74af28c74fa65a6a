"""A walk through the gallery by keys alone, by fingers, and by addresses."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from fakes.reader import until, visit

if TYPE_CHECKING:
    from conftest import Published
    from playwright.sync_api import Browser, Page


def focused(page: Page) -> str:
    """The id of what has the focus, or what its button does."""
    return str(page.evaluate("document.activeElement.id || document.activeElement.dataset.do || ''"))


def size(page: Page) -> float:
    """CSS pixels for one pixel of the picture's file."""
    there = "document.querySelector('.sheet')"
    return float(page.evaluate(f"{there}.offsetWidth / {there}.querySelector('img').getAttribute('width')"))


def where(page: Page) -> tuple[str, str]:
    """What the address names, and what the close view says it shows."""
    return str(page.evaluate("location.hash")), page.locator(".viewer .place").inner_text()


def tab_to(page: Page, wanted: str, most: int = 60) -> None:
    """Press Tab until that has the focus, as a person without a mouse does."""
    for _ in range(most):
        page.keyboard.press("Tab")
        if focused(page) == wanted:
            return
    raise AssertionError(f"{most} tabs do not lead to {wanted}; the focus is on {focused(page)!r}")


def test_the_whole_walk_by_keys_alone(browser: Browser, published: Published) -> None:
    with visit(browser) as reader:
        page = reader.open(published.index)
        tab_to(page, "look-1", most=8)
        tab_to(page, "look-2")
        page.keyboard.press("Enter")
        assert where(page) == ("#look-2", "Photo 2 of 70")
        assert focused(page) == "after"
        page.keyboard.press("ArrowRight")
        assert where(page) == ("#look-3", "Photo 3 of 70")
        told = page.locator(".viewer .told")
        assert [one.inner_text() for one in told.locator(".name").all()] == ["Surface rust", "Scratch"]
        assert page.locator(".viewer .stage .mark").count() == 2

        whole = size(page)
        for _ in range(12):
            page.keyboard.press("+")
        assert size(page) == 1
        at = page.locator(".viewer .sheet").bounding_box()
        page.keyboard.press("ArrowRight")
        moved = page.locator(".viewer .sheet").bounding_box()
        assert at is not None
        assert moved is not None
        assert moved["x"] < at["x"]
        assert where(page)[0] == "#look-3"
        page.keyboard.press("0")
        assert size(page) == whole

        page.keyboard.press("m")
        assert page.locator(".viewer .stage .mark").first.is_hidden()
        page.keyboard.press("m")
        assert page.locator(".viewer .stage .mark").first.is_visible()

        page.keyboard.press("f")
        assert where(page) == ("#look-3", "Photo 3, 1 of 21 with findings")
        page.keyboard.press("ArrowRight")
        assert where(page) == ("#look-9", "Photo 9, 2 of 21 with findings")
        page.keyboard.press("End")
        assert where(page)[1] == "Photo 63, 21 of 21 with findings"
        page.keyboard.press("ArrowRight")
        assert where(page)[1] == "Photo 63, 21 of 21 with findings"
        page.keyboard.press("Home")
        page.keyboard.press("f")
        assert where(page) == ("#look-3", "Photo 3 of 70")

        page.keyboard.press("Escape")
        until(page, "!location.hash")
        assert page.locator("dialog.viewer").is_hidden()
        assert focused(page) == "look-3"
        assert reader.hits() == []


def test_the_focus_stays_in_the_close_view(browser: Browser, published: Published) -> None:
    with visit(browser) as reader:
        page = reader.open(published.index, "#look-3")
        until(page, "document.activeElement.dataset.do === 'after'")
        seen = set()
        for _ in range(20):
            page.keyboard.press("Tab")
            seen.add(focused(page))
            inside = "document.activeElement === document.body || document.activeElement.closest('dialog') !== null"
            assert page.evaluate(inside)
        assert {"close", "before", "after", "larger", "marks", "only"} <= seen


def test_the_filter_by_keys_on_the_page(browser: Browser, published: Published) -> None:
    with visit(browser) as reader:
        page = reader.open(published.index)
        page.locator("#only-findings").focus()
        page.keyboard.press("Space")
        shown = "[...document.querySelectorAll('figure[data-look]')].filter((one) => one.checkVisibility())"
        assert page.evaluate(f"{shown}.length") == 22
        assert page.evaluate(f"{shown}.filter((one) => !one.dataset.findings).map((one) => one.id)") == ["photo-1"]
        cells = "document.querySelectorAll('.zones .c').length"
        assert page.evaluate(cells) == 116
        page.keyboard.press("Space")
        assert page.evaluate(f"{shown}.length") > 70


def test_a_finding_s_number_goes_near_its_mark(browser: Browser, published: Published) -> None:
    with visit(browser) as reader:
        page = reader.open(published.index, "#look-3")
        whole = size(page)
        page.get_by_role("button", name="Show finding 6 on the photo").click()
        assert size(page) >= whole
        mark, stage = (
            page.locator(".stage .mark[data-finding='6']").bounding_box(),
            page.locator(".stage").bounding_box(),
        )
        assert mark is not None
        assert stage is not None
        assert stage["x"] <= mark["x"] <= stage["x"] + stage["width"]
        assert stage["y"] <= mark["y"] <= stage["y"] + stage["height"]


def test_an_address_opens_its_photo_and_back_closes_it(browser: Browser, published: Published) -> None:
    with visit(browser) as reader:
        page = reader.open(published.disclosure)
        page.locator("#finding-4 a[href='index.html#look-20']").first.click()
        until(page, "document.querySelector('dialog.viewer')?.open")
        until(page, "location.hash === '#look-20'")
        assert where(page) == ("#look-20", "Photo 20 of 70")
        page.go_back()
        until(page, "location.pathname.endsWith('disclosure.html')")
        page.go_forward()
        until(page, "document.querySelector('dialog.viewer')?.open && document.readyState === 'complete'")
        page.keyboard.press("Escape")
        until(page, "location.hash === '#photo-20'")

        page.locator("#look-21").click()
        until(page, "document.querySelector('dialog.viewer').open")
        page.keyboard.press("PageDown")
        until(page, "location.hash === '#look-22'")
        page.go_back()
        until(page, "!document.querySelector('dialog.viewer').open")
        until(page, "document.activeElement.id === 'look-22'")
        assert reader.hits() == []


def test_a_picture_is_never_larger_than_its_file(browser: Browser, published: Published) -> None:
    with visit(browser) as reader:
        page = reader.open(published.hostile.data / "index.html", "#look-1")
        assert page.evaluate("document.querySelector('.sheet').offsetWidth") == 320
        page.keyboard.press("+")
        assert page.evaluate("document.querySelector('.sheet').offsetWidth") == 320
        until(page, "document.querySelector('.sheet img').naturalWidth === 320")


@contextmanager
def fingers(browser: Browser, published: Published) -> Iterator[tuple[Page, Any]]:
    """A telephone, and a way to lay fingers on it: each a list of points, None lifts."""
    with visit(browser, 390, has_touch=True, is_mobile=True) as reader:
        page = reader.open(published.index, "#look-3")
        session = page.context.new_cdp_session(page)

        def touch(*frames: list[tuple[float, float]]) -> None:
            kinds = ["touchStart", *["touchMove"] * (len(frames) - 1)]
            for kind, points in zip(kinds, frames, strict=True):
                laid = [{"x": x, "y": y, "id": place} for place, (x, y) in enumerate(points)]
                session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": laid})
            session.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})

        yield page, touch
        assert reader.hits() == []


def test_a_swipe_turns_to_the_next_photo_and_back(browser: Browser, published: Published) -> None:
    with fingers(browser, published) as (page, touch):
        touch([(300, 300)], [(220, 305)], [(120, 305)])
        assert where(page)[0] == "#look-4"
        touch([(100, 300)], [(200, 300)], [(300, 305)])
        assert where(page)[0] == "#look-3"
        touch([(200, 200)], [(205, 260)], [(210, 330)])
        assert where(page)[0] == "#look-3"


def test_two_fingers_and_a_double_tap_go_near(browser: Browser, published: Published) -> None:
    with fingers(browser, published) as (page, touch):
        whole = size(page)
        touch([(150, 280), (240, 280)], [(100, 280), (290, 280)], [(60, 280), (330, 280)])
        near = size(page)
        assert near > 2 * whole
        assert near <= 1
        assert where(page)[0] == "#look-3"
        before = page.locator(".sheet").bounding_box()
        touch([(200, 280)], [(150, 260)], [(100, 240)])
        after = page.locator(".sheet").bounding_box()
        assert before is not None
        assert after is not None
        assert after["x"] < before["x"]
        assert where(page)[0] == "#look-3"
        touch([(200, 280)])
        touch([(200, 280)])
        assert size(page) == whole
        page.wait_for_timeout(400)
        touch([(200, 280)])
        touch([(200, 280)])
        assert size(page) > whole


def test_a_telephone_laid_on_its_side_gives_the_photo_most_of_the_room(browser: Browser, published: Published) -> None:
    with visit(browser, 390, has_touch=True, is_mobile=True) as reader:
        reader.page.set_viewport_size({"width": 844, "height": 390})
        page = reader.open(published.index, "#look-3")
        stage, keys = page.locator(".stage").bounding_box(), page.locator(".viewer .keys").bounding_box()
        assert stage is not None
        assert keys is not None
        assert stage["height"] > 240
        assert keys["y"] + keys["height"] <= 390
        for button in page.locator(".viewer button[data-do]").all():
            box = button.bounding_box()
            assert box is not None
            assert box["width"] >= 48
            assert box["height"] >= 48
            assert box["x"] + box["width"] <= 844


def test_where_writing_runs_from_right_to_left_so_does_the_walk(browser: Browser, published: Published) -> None:
    with visit(browser) as reader:
        page = reader.open(published.index, "#look-3")
        page.evaluate("document.dir = 'rtl'")
        page.keyboard.press("ArrowLeft")
        assert where(page)[0] == "#look-4"
        page.keyboard.press("ArrowRight")
        assert where(page)[0] == "#look-3"
