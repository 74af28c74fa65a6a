"""Photograph the demo's published pages in Chromium, at 390 and 1440 px, in light and dark, to be looked at.

Run it from the top of the tree: `python tests/journeys/looks.py`. Pictures go to `tests/journeys/looks/`.
"""

from __future__ import annotations

import io
import shutil
import sys
import tempfile
from pathlib import Path
from typing import Final, Literal

from PIL import Image
from playwright.sync_api import Browser, sync_playwright

from lapseam.workflow import demo

LOOKS = Path(__file__).parent / "looks"
TALL, SCREEN = {390: 1600, 1440: 1800}, {390: 844, 1440: 900}
SCHEMES: Final[tuple[Literal["dark", "light"], ...]] = ("dark", "light")
VIEWS = {
    "index": ("index.html", TALL, SCHEMES),
    "disclosure": ("disclosure.html", TALL, SCHEMES),
    "close": ("index.html#look-21", SCREEN, SCHEMES[1:]),
}
"""The close view is dark in both schemes."""
QUIET = (
    *("--disable-gpu", "--disable-quic", "--no-first-run", "--hide-scrollbars"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
)


def photograph(
    browser: Browser, address: str, size: tuple[int, int], scheme: Literal["dark", "light"], target: Path
) -> None:
    """One picture of the top of a page, or of the close view that its address opens."""
    context = browser.new_context(viewport={"width": size[0], "height": size[1]}, color_scheme=scheme)
    page = context.new_page()
    page.goto(address)
    page.wait_for_load_state("networkidle")
    page.wait_for_timeout(300)
    seen = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
    seen.save(target, quality=80, optimize=True, progressive=True)
    context.close()


def main() -> None:
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        sys.exit("Chromium is needed to photograph pages, and was not found.")
    LOOKS.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        shown = demo.run(Path(folder) / "workspace", say=print, progress=lambda doing: lambda done, total: None)
        browser = driver.chromium.launch(executable_path=chromium, args=list(QUIET), chromium_sandbox=False)
        for name, (page, heights, schemes) in VIEWS.items():
            address = f"{shown.gallery.parent.as_uri()}/{page}"
            for width, height in heights.items():
                for scheme in schemes:
                    target = LOOKS / f"{name}-{scheme}-{width}.jpg"
                    photograph(browser, address, (width, height), scheme, target)
                    print(target.name)
        browser.close()


if __name__ == "__main__":
    main()
