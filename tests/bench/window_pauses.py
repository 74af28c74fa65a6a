"""How long the window stands still while photos arrive: 200 of 24 megapixels, dropped into a watched folder.

Run it from the top of the tree: `python tests/bench/window_pauses.py [photos] [runs]`.
A timer of 5 ms runs on the window's thread; a pause is the time between two of its turns less those 5 ms. Beside the
figure while photos arrive stands the figure of the same window at rest, in the same run: what is above it is ours.
"""

from __future__ import annotations

import io
import os
import sys
import tempfile
from pathlib import Path
from threading import Thread
from time import perf_counter, sleep

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PIL import Image
from PySide6.QtCore import QEventLoop, QSettings, QTimer
from PySide6.QtWidgets import QApplication

from lapseam.desktop.front import Front
from lapseam.desktop.look import Ground
from lapseam.desktop.program import steady
from lapseam.desktop.theme import dress
from lapseam.places import demo_assets
from lapseam.workflow import Desk

SIZE = (6000, 4000)
TICK_S = 0.005
STOCK = "T-114"


class Pauses:
    """Counts the pauses of the thread it lives on."""

    def __init__(self) -> None:
        self.longest_s = 0.0
        self.over_50_ms = 0
        self._last = perf_counter()
        self._timer = QTimer(interval=round(TICK_S * 1000))
        self._timer.timeout.connect(self._turn)
        self._timer.start()

    def _turn(self) -> None:
        now = perf_counter()
        pause = now - self._last - TICK_S
        self.longest_s = max(self.longest_s, pause)
        self.over_50_ms += pause > 0.05
        self._last = now

    def stop(self) -> None:
        self._timer.stop()


def frames(count: int) -> list[bytes]:
    """JPEGs of 24 megapixels that differ in their bytes; a few pictures serve, each with a comment of its own."""
    bases = []
    for path in sorted((demo_assets() / "card").glob("EXO_*.JPG"))[:4]:
        target = io.BytesIO()
        Image.open(path).convert("RGB").resize(SIZE).save(target, "JPEG", quality=88)
        bases.append(target.getvalue())
    made = []
    for number in range(count):
        base = bases[number % len(bases)]
        words = f"frame {number}".encode()
        made.append(base[:2] + b"\xff\xfe" + (len(words) + 2).to_bytes(2, "big") + words + base[2:])
    return made


def wait(so, most_s: float) -> bool:
    """Run the event loop until something is so."""
    loop = QEventLoop()
    timer = QTimer(interval=20)
    end = perf_counter() + most_s
    timer.timeout.connect(lambda: loop.quit() if so() or perf_counter() > end else None)
    timer.start()
    loop.exec()
    return bool(so())


def drop_all(photos: list[bytes], incoming: Path) -> None:
    """What a tethered camera's program does, on a thread of its own: about sixteen frames a second."""
    for number, frame in enumerate(photos):
        part = incoming / f".{number}.part"
        part.write_bytes(frame)
        part.rename(incoming / f"IMG_{number:04}.JPG")
        sleep(0.06)


def measure(app: QApplication, photos: list[bytes], folder: Path) -> tuple[Pauses, Pauses, float]:
    """Pauses at rest, pauses while the photos arrive, and how long the arriving took in seconds."""
    incoming = folder / "incoming"
    incoming.mkdir(parents=True)
    desk = Desk.open(folder / "workspace", create=True)
    desk.car_from_file(path=demo_assets() / "facts.yaml", plan="hardtop-full", by="bench").result()
    front = Front(desk, settings=QSettings(str(folder / "s.ini"), QSettings.Format.IniFormat))
    front.window.resize(1280, 800)
    front.window.show()
    front.open_walk(STOCK, "ext-front-left")
    wait(lambda: front.whole is not None, 20)
    wait(lambda: False, 1)
    resting = Pauses()
    wait(lambda: False, 3)
    resting.stop()
    front.walk.watch(incoming)
    arriving = Pauses()
    begun = perf_counter()
    shutter = Thread(target=drop_all, args=(photos, incoming), daemon=True)
    shutter.start()
    whole = wait(lambda: front.whole is not None and len(front.whole.car.photos) == len(photos), 300)
    took = perf_counter() - begun
    arriving.stop()
    shutter.join()
    front.close()
    desk.close()
    if not whole:
        raise SystemExit(f"only {len(front.whole.car.photos) if front.whole else 0} of {len(photos)} photos arrived")
    return resting, arriving, took


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    runs = int(sys.argv[2]) if len(sys.argv) > 2 else 3
    app = QApplication([])
    steady()
    dress(app, Ground.LIGHT)
    photos = frames(count)
    figures = []
    for _run in range(runs):
        with tempfile.TemporaryDirectory() as folder:
            resting, arriving, took = measure(app, photos, Path(folder))
        figures.append((arriving.longest_s, arriving.over_50_ms, resting.longest_s, took))
        print(
            f"longest pause {arriving.longest_s * 1000:.0f} ms while {count} photos arrived in {took:.1f} s "
            f"({arriving.over_50_ms} over 50 ms); at rest {resting.longest_s * 1000:.0f} ms"
        )
    best = min(figures)
    print(
        f"minimum of {runs} runs: {best[0] * 1000:.0f} ms, {best[0] / max(best[2], 0.001):.1f} times the pause at rest"
    )


if __name__ == "__main__":
    main()
