"""What comes out of the printer: pages of a PDF as text and as grey pictures, by poppler's tools."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

needs_poppler = pytest.mark.skipif(
    shutil.which("pdftotext") is None or shutil.which("pdftoppm") is None or shutil.which("pdfinfo") is None,
    reason="poppler's tools are not installed",
)


def pages(pdf: Path) -> tuple[str, ...]:
    """The text of each page, lines joined."""
    told = subprocess.run(["pdftotext", "-raw", pdf, "-"], capture_output=True, check=True).stdout.decode()
    return tuple(re.sub(r"\s+", " ", page.replace("\u200b", "")) for page in told.split("\f")[:-1])


def bare(words: str) -> str:
    """Words without spaces, hyphens and what only allows a line to break, because a line may break there on paper."""
    return re.sub(r"[\s\u200b-]+", "", words)


def said_of(pdf: Path) -> dict[str, str]:
    """What pdfinfo says: title, pages, page size, whether it is tagged."""
    told = subprocess.run(["pdfinfo", pdf], capture_output=True, check=True, text=True).stdout
    return {name.strip(): value.strip() for name, _, value in (line.partition(":") for line in told.splitlines())}


def page_picture(pdf: Path, number: int, dpi: int) -> Image.Image:
    """One page as a grey picture of the whole sheet."""
    beside = pdf.with_name(f"{pdf.stem}-{number}-{dpi}")
    where = ["-f", str(number), "-l", str(number), "-r", str(dpi), "-gray", "-singlefile"]
    subprocess.run(["pdftoppm", *where, pdf, beside], capture_output=True, check=True)
    return Image.open(beside.with_suffix(".pgm")).convert("L")


def extent_mm(picture: Image.Image, dpi: int, box_mm: tuple[float, float, float, float]) -> tuple[float, ...]:
    """Left, top, right, bottom of what is dark inside a box of the sheet, in millimetres from the sheet's corner."""
    scale = dpi / 25.4
    left, top, right, bottom = (round(edge * scale) for edge in box_mm)
    dark = np.asarray(picture)[top:bottom, left:right] < 128
    rows, columns = np.flatnonzero(dark.any(axis=1)), np.flatnonzero(dark.any(axis=0))
    return (
        (left + columns[0]) / scale,
        (top + rows[0]) / scale,
        (left + columns[-1] + 1) / scale,
        (top + rows[-1] + 1) / scale,
    )
