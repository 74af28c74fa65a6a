"""Times the pictures of an edition beside a plain libvips pipeline making the same files at equal SSIM. Prints only.

    python tests/bench/publishing.py [--photos 100] [--runs 3] [--beside avif|webp] [--cores N] [--folder DIR]
    python tests/bench/publishing.py --qualities

Photos of 24 megapixels, three widths, two formats: JPEG and the one named. Both sides run in turn on the same files;
the least of the runs counts. Theirs is vipsthumbnail, once for each width and format, on as many processes as ours has
threads, at the same encoder speeds; its qualities are searched first, until each width and format has our mean SSIM
(luma, against the whole original scaled by Lanczos). `--vips-effort 4` takes libvips' own AVIF speed instead,
`--vips-once` lets it decode each original once, as ours does. `--qualities` prints the mean SSIM of each format as
editions are made, on the demo car's photographs.
"""

from __future__ import annotations

import argparse
import multiprocessing
import os
import shutil
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from statistics import mean

import numpy as np
from PIL import Image
from skimage.metrics import structural_similarity

sys.path.insert(0, str(Path(__file__).parents[1]))

from bench.take_in import make_card, seconds
from lapseam import places
from lapseam.publish import renditions
from lapseam.publish.formats import Format
from lapseam.publish.renditions import PUBLISHED, Recipe, Wanted

WIDTHS = (480, 960, 1600)
SAMPLE = 6
"""Photos that the qualities are searched on."""
Made = dict[tuple[Format, int], list[Path]]


@dataclass(frozen=True)
class Run:
    """One run of ours: seconds, the most memory the process held in MB, and the files by format and width."""

    seconds: float
    peak_mb: float
    made: Made


def ours(card: list[Path], recipe: Recipe, cache: Path, cores: int) -> Run:
    """All pictures into a fresh cache; meant for a process of its own."""
    wanted = [Wanted(f"{place:064x}", path.name, path) for place, path in enumerate(card)]
    made: Made = {}
    begun = time.perf_counter()
    rendered = renditions.render_all(wanted, recipe, cache, cores=cores)
    took = time.perf_counter() - begun
    for photo in wanted:
        for one in rendered[photo.sha256]:
            made.setdefault((one.format, one.width), []).append(one.path)
    return Run(took, peak_mb(), made)


def peak_mb() -> float:
    """The most memory that this program held; getrusage would count what its parent held before it."""
    told = Path("/proc/self/status")
    lines = told.read_text().splitlines() if told.exists() else []
    return next((int(line.split()[1]) / 1000 for line in lines if line.startswith("VmHWM")), float("nan"))


def alone(card: list[Path], recipe: Recipe, cache: Path, cores: int) -> Run:
    """`ours` in a fresh process, so that its memory is its own."""
    with ProcessPoolExecutor(1, multiprocessing.get_context("spawn")) as one:
        return one.submit(ours, card, recipe, cache, cores).result()


def luma(path: Path) -> np.ndarray:
    with Image.open(path) as picture:
        return np.asarray(picture.convert("L"))


def references(card: list[Path], widths: tuple[int, ...]) -> dict[int, list[np.ndarray]]:
    """The whole original, scaled by Lanczos in one step."""
    found: dict[int, list[np.ndarray]] = {width: [] for width in widths}
    for path in card:
        with Image.open(path) as opened:
            whole = opened.convert("RGB")
        for width in widths:
            size = (width, round(whole.height * width / whole.width))
            found[width].append(np.asarray(whole.resize(size, Image.Resampling.LANCZOS).convert("L")))
    return found


def ssim(references: list[np.ndarray], paths: list[Path]) -> float:
    """Mean structural similarity (Wang et al. 2004, as scikit-image works it) of the files with their references."""
    return mean(
        float(structural_similarity(reference, luma(path), data_range=255))
        for reference, path in zip(references, paths, strict=True)
    )


def vips_ending(kind: Format, width: int, quality: int, effort: int | None) -> str:
    """The file name's end that tells vipsthumbnail how to write; the encoders' speeds are ours unless one is given."""
    if kind is Format.JPEG:
        return f".jpg[Q={quality},optimize_coding,interlace,strip]"
    if kind is Format.WEBP:
        return f".webp[Q={quality},effort=2,strip]"
    speed = renditions._settings(kind, width, PUBLISHED)["speed"]
    return f".avif[Q={quality},effort={9 - speed if effort is None else effort},strip]"


def thumbnails(card: list[Path], width: int, out: Path, ending: str, cores: int) -> list[Path]:
    """One width and format of every photo by vipsthumbnail, on so many processes."""
    out.mkdir(parents=True)

    def some(paths: list[Path]) -> None:
        command = ["vipsthumbnail", "--size", f"{width}x", "--output", f"{out}/%s{ending}"]
        subprocess.run([*command, *map(str, paths)], check=True)

    with ThreadPoolExecutor(cores) as pool:
        list(pool.map(some, [part for start in range(cores) if (part := card[start::cores])]))
    return sorted(out.iterdir())


def plain(card: list[Path], endings: dict[tuple[Format, int], str], out: Path, options: argparse.Namespace) -> None:
    """All pictures by libvips: each from the original, or all from one that is as wide as the widest."""
    if options.vips_once:
        card = thumbnails(card, max(WIDTHS), out / "once", ".v", options.cores)
    for (kind, width), ending in endings.items():
        thumbnails(card, width, out / kind.name / str(width), ending, options.cores)


def equal_quality(
    kind: Format, width: int, card: list[Path], target: float, known: list[np.ndarray], options: argparse.Namespace
) -> tuple[int, float]:
    """The least quality of libvips whose mean SSIM reaches `target`, and that SSIM."""
    low, high, reached = 20, 98, 0.0
    while low < high:
        middle = (low + high) // 2
        with tempfile.TemporaryDirectory() as folder:
            ending = vips_ending(kind, width, middle, options.vips_effort)
            got = ssim(known, thumbnails(card, width, Path(folder) / "out", ending, options.cores))
        if got >= target:
            high, reached = middle, got
        else:
            low = middle + 1
    return low, reached


def compare(options: argparse.Namespace, scratch: Path) -> None:
    """Measure both sides and print."""
    folder = options.folder or scratch / "card"
    size = make_card(folder, options.photos)
    card = sorted(folder.glob("BIG_*"))[: options.photos]
    print(f"{len(card)} photos of 24 megapixels, {size / 1e6:.0f} MB, {options.cores} of {os.cpu_count()} cores")
    recipe = Recipe(widths=WIDTHS, formats=(Format(f"image/{options.beside}"), Format.JPEG))
    first = alone(card, recipe, scratch / "first", options.cores)
    known = references(card[:SAMPLE], WIDTHS)
    endings: dict[tuple[Format, int], str] = {}
    for (kind, width), paths in first.made.items():
        mine = ssim(known[width], paths[:SAMPLE])
        kilobytes = mean(path.stat().st_size for path in paths[:SAMPLE]) / 1000
        print(f"  {kind.name:4} {width:4} px: SSIM {mine:.4f}, {kilobytes:6.1f} kB", end="", flush=True)
        if shutil.which("vipsthumbnail"):
            quality, theirs = equal_quality(kind, width, card[:SAMPLE], mine, known[width], options)
            endings[kind, width] = vips_ending(kind, width, quality, options.vips_effort)
            with tempfile.TemporaryDirectory() as out:
                made = thumbnails(card[:SAMPLE], width, Path(out) / "out", endings[kind, width], options.cores)
                kilobytes = mean(path.stat().st_size for path in made) / 1000
            print(f"; libvips at quality {quality}: SSIM {theirs:.4f}, {kilobytes:6.1f} kB", end="")
        print()
    mine_s, theirs_s, peak = [first.seconds], [], first.peak_mb
    for turn in range(options.runs):
        if turn:
            again = alone(card, recipe, scratch / f"run{turn}", options.cores)
            mine_s.append(again.seconds)
            peak = max(peak, again.peak_mb)
            shutil.rmtree(scratch / f"run{turn}")
        if endings:
            out = scratch / f"vips{turn}"
            theirs_s.append(seconds(lambda out=out: plain(card, endings, out, options)))
            shutil.rmtree(out)
    report("ours", len(card), mine_s)
    print(f"  most memory held: {peak:.0f} MB")
    from_cache = alone(card, recipe, scratch / "first", options.cores)
    print(f"  again, from the cache: {from_cache.seconds:.2f} s")
    if not endings:
        print("vipsthumbnail is not installed: no comparison")
        return
    report("libvips", len(card), theirs_s)
    print(f"ratio of the least times: {min(mine_s) / min(theirs_s):.2f}")


def report(name: str, photos: int, runs: list[float]) -> None:
    """One line for one side."""
    least = min(runs)
    print(f"{name}: {1000 * least / photos:.0f} ms a photo, all runs " + " ".join(f"{run:.1f}" for run in runs) + " s")


def qualities(scratch: Path) -> None:
    """Mean SSIM and bytes of each format and width as editions are made."""
    card = [path for path in sorted(places.demo_assets().glob("card/*"))[3::7] if luma(path).shape[1] == 1200]
    run = ours(card, PUBLISHED, scratch / "cache", 2)
    widths = tuple(sorted({width for _, width in run.made}))
    known = references(card, widths)
    whole: dict[Format, list[float]] = {}
    for (kind, width), paths in run.made.items():
        got = ssim(known[width], paths)
        whole.setdefault(kind, []).append(got)
        print(f"{kind.name:4} {width:4} px: SSIM {got:.4f}, {mean(p.stat().st_size for p in paths) / 1000:6.1f} kB")
    for kind, got in whole.items():
        print(f"{kind.name:4} over its widths: {mean(got):.4f}")


def main() -> None:
    """Measure and print."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--photos", type=int, default=100)
    options.add_argument("--runs", type=int, default=3)
    options.add_argument("--beside", choices=("avif", "webp"), default="avif")
    options.add_argument("--cores", type=int, default=renditions.cores())
    options.add_argument("--vips-effort", type=int, default=None)
    options.add_argument("--vips-once", action="store_true")
    options.add_argument("--folder", type=Path, default=None, help="keep the large frames here for the next time")
    options.add_argument("--qualities", action="store_true")
    asked = options.parse_args()
    with tempfile.TemporaryDirectory(prefix="publishing-") as made:
        qualities(Path(made)) if asked.qualities else compare(asked, Path(made))


if __name__ == "__main__":
    main()
