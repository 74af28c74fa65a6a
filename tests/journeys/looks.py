"""Photograph the demo's published pages in Chromium, at 390 and 1440 px, in light and dark, to be looked at.

Run it from the top of the tree: `python tests/journeys/looks.py`. Pictures go to `tests/journeys/looks/`.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from PIL import Image

from lapseam.workflow import demo

LOOKS = Path(__file__).parent / "looks"
PAGES = ("index", "disclosure")
SIZES = ((390, 1600), (1440, 1800))
SCHEMES = {"dark": 0, "light": 1}
QUIET = (
    *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--hide-scrollbars"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
    "--force-device-scale-factor=1",
)


def photograph(chromium: str, page: Path, size: tuple[int, int], scheme: int, target: Path) -> None:
    """One picture of the top of a page."""
    with tempfile.TemporaryDirectory() as profile:
        shot = Path(profile) / "shot.png"
        subprocess.run(
            [
                chromium,
                *QUIET,
                f"--user-data-dir={profile}/user",
                f"--window-size={size[0]},{size[1]}",
                f"--blink-settings=preferredColorScheme={scheme}",
                f"--screenshot={shot}",
                page.as_uri(),
            ],
            check=True,
            capture_output=True,
            timeout=90,
        )
        Image.open(shot).convert("RGB").save(target, quality=80, optimize=True, progressive=True)


def main() -> None:
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        sys.exit("Chromium is needed to photograph pages, and was not found.")
    LOOKS.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        shown = demo.run(Path(folder) / "workspace", say=print, progress=lambda doing: lambda done, total: None)
        for name in PAGES:
            for size in SIZES:
                for scheme, number in SCHEMES.items():
                    target = LOOKS / f"{name}-{scheme}-{size[0]}.jpg"
                    photograph(chromium, shown.gallery.with_name(f"{name}.html"), size, number, target)
                    print(target.name)


if __name__ == "__main__":
    main()
