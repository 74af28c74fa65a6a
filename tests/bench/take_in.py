"""Times a take-in of 24-megapixel JPEGs beside vipsthumbnail making one thumbnail of the same files. Prints only.

    python tests/bench/take_in.py [--photos 16] [--runs 5] [--workers 2] [--folder DIR]

Our side copies, fingerprints, flushes, reads metadata, measures and makes two previews; theirs makes one thumbnail.
Both run in turn on the same files, already in the system's cache; the least of the runs counts. The files are the demo
card's frames enlarged to 6000 x 4000 pixels under fresh sensor-like noise, so that they weigh what a camera's weigh.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from PIL import Image

sys.path.insert(0, str(Path(__file__).parents[1]))

from fakes.folder_vault import FolderVault, Shelf
from lapseam import places
from lapseam.intake import find, take_in

SIZE = (6000, 4000)
NOISE = 4.0
QUALITY = 92


def make_card(folder: Path, photos: int) -> int:
    """Write so many large frames; returns their bytes in all."""
    folder.mkdir(parents=True, exist_ok=True)
    frames = sorted(places.demo_assets().glob("card/*"))
    random = np.random.default_rng(1968)
    for number in range(photos):
        target = folder / f"BIG_{number:04}.JPG"
        if target.exists():
            continue
        with Image.open(frames[number * 7 % len(frames)]) as frame:
            large = frame.convert("RGB").resize(SIZE, Image.Resampling.BICUBIC)
        noise = random.normal(0, NOISE, (SIZE[1], SIZE[0], 1)).astype(np.int16)
        pixels = np.clip(np.asarray(large).astype(np.int16) + noise, 0, 255).astype(np.uint8)
        Image.fromarray(pixels).save(target, quality=QUALITY)
    return sum(path.stat().st_size for path in folder.glob("BIG_*"))


def ours(card: Path, scratch: Path, workers: int | None) -> None:
    """One whole take-in into a fresh vault."""
    vault = FolderVault(Path(tempfile.mkdtemp(dir=scratch)))
    found = find([card])
    taken = take_in(found, vault=vault, previews=Shelf(), known=lambda _: None, keep=lambda *_: True, workers=workers)
    if taken.safe != len(found):
        raise SystemExit(f"only {taken.safe} of {len(found)} came in: {taken.results}")
    shutil.rmtree(vault.folder)


def theirs(card: Path, scratch: Path) -> None:
    """One 320 px thumbnail of each."""
    out = Path(tempfile.mkdtemp(dir=scratch))
    files = sorted(str(path) for path in card.glob("BIG_*"))
    subprocess.run(["vipsthumbnail", "--size", "320", "--output", f"{out}/%s.jpg", *files], check=True)
    if len(list(out.iterdir())) != len(files):
        raise SystemExit("vipsthumbnail left files out")
    shutil.rmtree(out)


def seconds(work: Callable[[], None]) -> float:
    """How long it took."""
    begun = time.perf_counter()
    work()
    return time.perf_counter() - begun


def main() -> None:
    """Measure and print."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--photos", type=int, default=16)
    options.add_argument("--runs", type=int, default=5)
    options.add_argument("--workers", type=int, default=None)
    options.add_argument("--folder", type=Path, default=None, help="keep the large frames here for the next time")
    asked = options.parse_args()
    with tempfile.TemporaryDirectory(prefix="take-in-") as made:
        scratch = Path(made)
        card = asked.folder or scratch / "card"
        size = make_card(card, asked.photos)
        print(f"{asked.photos} photos of 24 megapixels, {size / 1e6:.0f} MB, {os.cpu_count()} cores")
        vips = shutil.which("vipsthumbnail") is not None
        mine, other = [], []
        for _ in range(asked.runs):
            mine.append(seconds(lambda: ours(card, scratch, asked.workers)))
            if vips:
                other.append(seconds(lambda: theirs(card, scratch)))
    report("take-in", asked.photos, mine)
    if not vips:
        print("vipsthumbnail is not installed: no comparison")
        return
    report("vipsthumbnail, 320 px only", asked.photos, other)
    print(f"ratio of the least times: {min(mine) / min(other):.2f}")


def report(name: str, photos: int, runs: list[float]) -> None:
    """One line for one side."""
    least = min(runs)
    print(f"{name}: {photos / least:.1f} photos/s, {1000 * least / photos:.0f} ms each, all runs "
          + " ".join(f"{run:.2f}" for run in runs) + " s")  # fmt: skip


if __name__ == "__main__":
    main()
