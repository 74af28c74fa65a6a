"""The fault campaign: kill the program with SIGKILL at many moments, start it again, and count what is there.

A zygote imports everything once and forks a child for each trial, so that a kill can hit any moment of the work and
not only the start-up. Half the moments are spread over the time the work takes, half lie just before the n-th call that
makes something durable (fsync, rename, link, commit): the places where an ordering mistake would show.

Usage: python campaign.py take-in|publish MOMENTS FOLDER
Prints one JSON object; `broken` lists every promise that did not hold.
"""

from __future__ import annotations

import json
import os
import signal
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

os.environ["OPENBLAS_NUM_THREADS"] = "1"

from lapseam.domain.decision import Target
from lapseam.places import demo_assets
from lapseam.workflow import Desk, proving

STOCK = "T-114"
PHOTOS = 12
TRIES = 3
"""How often a moment is tried that came too late, each time sooner."""
BY = "Ada Lindqvar"


def card(folder: Path) -> Path:
    """A small card: twelve frames of the demo car, one of them twice under another name."""
    folder.mkdir()
    frames = sorted((demo_assets() / "card").glob("EXO_*.JPG"))[:PHOTOS]
    for frame in frames:
        (folder / frame.name).write_bytes(frame.read_bytes())
    (folder / "COPY.JPG").write_bytes(frames[0].read_bytes())
    return folder


def make_car(workspace: Path) -> None:
    with Desk.open(workspace, create=True) as desk:
        desk.car_from_file(path=demo_assets() / "facts.yaml", plan="hardtop-full", by=BY).result()


def take_in(workspace: Path, photos: Path) -> None:
    with Desk.open(workspace) as desk:
        desk.take_in(stock=STOCK, paths=[photos], by=BY).result()


def publish(workspace: Path, photos: Path) -> None:
    with Desk.open(workspace) as desk:
        desk.publish(stock=STOCK, by=BY).result()


def ready_to_publish(workspace: Path, photos: Path) -> None:
    """A car with its photos placed, so that an edition has pictures to make."""
    make_car(workspace)
    take_in(workspace, photos)
    with Desk.open(workspace) as desk:
        car = desk.car(stock=STOCK).result()
        shots = [
            shot.id for shot in car.plan.shots if shot.setup == "s2-outside" and not shot.rust and not shot.private
        ]
        for photo, shot in zip(car.photos[:4], shots, strict=False):
            desk.place(stock=STOCK, photo=photo.sha256, target=Target.SHOT, shot=shot, by=BY).result()


def child(work: Callable[[], None], die_at: int | None) -> int:
    """Fork; in the child do the work, dying before the `die_at`-th durable call. The child's pid."""
    pid = os.fork()
    if pid:
        return pid
    try:
        os.setsid()
        sys.stdout = sys.stderr = open(os.devnull, "w")  # noqa: SIM115, PTH123
        if die_at is not None:
            _count_durable_calls(die_at)
        work()
        os._exit(0)
    except BaseException:  # noqa: BLE001 - a child must never fall back into the parent's loop
        os._exit(3)


def _count_durable_calls(die_at: int) -> None:
    counted = 0

    def watched(call: Callable[..., Any]) -> Callable[..., Any]:
        def counting(*args: Any, **kwargs: Any) -> Any:
            nonlocal counted
            counted += 1
            if counted == die_at:
                os.kill(os.getpid(), signal.SIGKILL)
            return call(*args, **kwargs)

        return counting

    for name in ("fsync", "replace", "rename", "link", "unlink"):
        setattr(os, name, watched(getattr(os, name)))


def durable_calls(work: Callable[[], None]) -> int:
    """How many durable calls the whole work makes (counted in a child that reports by a pipe)."""
    read, write = os.pipe()
    pid = os.fork()
    if pid == 0:
        counted = 0

        def watched(call: Callable[..., Any]) -> Callable[..., Any]:
            def counting(*args: Any, **kwargs: Any) -> Any:
                nonlocal counted
                counted += 1
                return call(*args, **kwargs)

            return counting

        for name in ("fsync", "replace", "rename", "link", "unlink"):
            setattr(os, name, watched(getattr(os, name)))
        work()
        os.write(write, str(counted).encode())
        os._exit(0)
    os.waitpid(pid, 0)
    os.close(write)
    return int(os.read(read, 32) or b"0")


def run(work: Callable[[], None]) -> float:
    """Do the work in a child to its end; seconds it took."""
    begun = time.monotonic()
    pid = child(work, None)
    _, status = os.waitpid(pid, 0)
    if status:
        raise SystemExit(f"the work failed without being killed: status {status}")
    return time.monotonic() - begun


def broken_promises(workspace: Path, expect_edition: bool) -> list[str]:
    """What does not hold after the next start has finished the work."""
    broken: list[str] = []
    with Desk.open(workspace) as desk:
        car = desk.car(stock=STOCK).result()
        digests = [photo.sha256 for photo in car.photos]
        if len(digests) != PHOTOS:
            broken.append(f"{len(digests)} photos instead of {PHOTOS}")
        if len(set(digests)) != len(digests):
            broken.append("a photo is there twice")
        broken.extend(
            f"original {d[:8]} is not whole" for d in digests if not desk.original_is_whole(sha256=d).result()
        )
        broken.extend(desk.journal_faults(stock=STOCK).result())
        editions = desk.editions(stock=STOCK).result()
    folder = workspace / "cars" / STOCK / "editions"
    on_disk = sorted(one.name for one in folder.iterdir()) if folder.exists() else []
    if expect_edition and not editions:
        broken.append("no edition after the next start")
    if sorted(one.path.name for one in editions) != on_disk:
        broken.append(f"editions on disk {on_disk} are not those in the book")
    for edition in editions:
        report = proving.verify(edition.path)
        if not report.complete:
            broken.append(f"edition {edition.number} is not whole: {report.faults}")
    if any((workspace / "vault").rglob("*.part")):
        broken.append("a half copy is left in the vault")
    return broken


def campaign(verb: str, moments: int, folder: Path) -> dict[str, Any]:
    """Kill `verb` at `moments` moments in workspaces below `folder`."""
    photos = card(folder / "card")
    prepare, work = (
        (lambda w: make_car(w), take_in) if verb == "take-in" else (lambda w: ready_to_publish(w, photos), publish)
    )
    template = folder / "template"
    pid = child(lambda: prepare(template), None)
    if os.waitpid(pid, 0)[1]:
        raise SystemExit("the template workspace could not be made")

    def fresh(name: str) -> Path:
        import shutil

        return Path(shutil.copytree(template, folder / name))

    run(lambda: work(fresh("warm"), photos))
    timed = [fresh(f"time{n}") for n in range(2)]
    whole_s = min(run(lambda place=place: work(place, photos)) for place in timed)
    calls = durable_calls(lambda: work(fresh("count"), photos))
    counted = moments // 2
    broken: dict[str, list[str]] = {}
    killed = 0
    for moment in range(moments):
        by_call = moment < counted
        die_at = 1 + moment * max(calls - 1, 1) // max(counted - 1, 1) if by_call else None
        for again in range(TRIES):
            place = fresh(f"trial{moment}-{again}")
            pid = child(lambda place=place: work(place, photos), die_at)
            if not by_call:
                time.sleep(whole_s * (moment - counted + 0.5) / (moments - counted))
                os.kill(pid, signal.SIGKILL)
            _, status = os.waitpid(pid, 0)
            if os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGKILL:
                killed += 1
                break
            whole_s *= 0.7  # done before its moment came: the machine has less to do than when the work was timed
        run(lambda place=place: work(place, photos))
        if faults := broken_promises(place, verb == "publish"):
            broken[f"{'call ' + str(die_at) if by_call else 'time'} ({moment})"] = faults
    return {
        "verb": verb,
        "moments": moments,
        "killed": killed,
        "durable_calls": calls,
        "whole_s": whole_s,
        "broken": broken,
    }


if __name__ == "__main__":
    answer = campaign(sys.argv[1], int(sys.argv[2]), Path(sys.argv[3]))
    print(json.dumps(answer))
