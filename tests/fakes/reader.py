"""A reader at a real browser: opens a published page as a visitor would, and notes all that a page must never do."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

FLAGS = (
    *("--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"),
    *("--disable-component-update", "--disable-sync"),
)
SIZES = {390: 844, 1440: 900}

_CANARY = """
window.__hits = [];
window.__hit = (what) => window.__hits.push(String(what));
window.__shift = 0;
addEventListener("securitypolicyviolation", (event) => window.__hits.push("policy: " + event.blockedURI));
new PerformanceObserver((seen) => {
  for (const one of seen.getEntries()) if (!one.hadRecentInput) window.__shift += one.value;
}).observe({ type: "layout-shift", buffered: true });
"""


@dataclass
class Visit:
    """One page in the browser, and what it did that no page of ours may do.

    Attributes:
        asked: every address it asked for. `said`: what it wrote on the console, and errors of its script.
        dialogs: message boxes it opened.
    """

    page: Page
    asked: list[str] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    dialogs: list[str] = field(default_factory=list)

    def open(self, page: Path | str, hash_: str = "") -> Page:
        """Go there and wait until all has come."""
        address = page if isinstance(page, str) else page.resolve().as_uri()
        self.page.goto(address + hash_)
        self.page.wait_for_load_state("load")
        return self.page

    def hits(self) -> list[str]:
        """What ran that should not have, and what the page's own policy had to stop."""
        found: list[str] = self.page.evaluate("window.__hits || []")
        return found + self.dialogs + self.said


def until(page: Page, expression: str) -> None:
    """Wait until it holds. Playwright's own waiting builds functions from text, which the page's policy forbids."""
    for _ in range(200):
        if page.evaluate(expression):
            return
        page.wait_for_timeout(25)
    raise AssertionError(f"never came: {expression}")


@contextmanager
def visit(browser: Browser, width: int = 1440, **more: Any) -> Iterator[Visit]:
    """A fresh visitor with a window of that width; `more` goes to the browser (colour scheme, scripts, touch)."""
    context = browser.new_context(viewport={"width": width, "height": SIZES[width]}, **more)
    try:
        context.set_default_timeout(15_000)
        context.add_init_script(_CANARY)
        page = context.new_page()
        made = Visit(page)
        page.on("request", lambda request: made.asked.append(request.url))
        page.on("console", lambda message: made.said.append(message.text))
        page.on("pageerror", lambda error: made.said.append(str(error)))
        page.on("dialog", lambda dialog: (made.dialogs.append(dialog.message), dialog.dismiss()))
        yield made
    finally:
        context.close()
