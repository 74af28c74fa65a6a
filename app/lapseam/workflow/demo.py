"""The whole job on the invented demo car, in a fresh workspace: what a new user sees first."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future
from dataclasses import dataclass
from pathlib import Path

from lapseam.domain.coverage import State
from lapseam.domain.errors import Cancelled, Mistake
from lapseam.places import default_workspace, demo_assets

from . import proving
from .desk import Desk
from .runner import Progress, Stop

Say = Callable[[str], None]

PLAN = "hardtop-full"
STOCK = "T-114"
_LISTER = "Mirek Osoba"
_PHOTOGRAPHER = "Ada Lindqvar"


@dataclass(frozen=True, slots=True)
class Shown:
    """Where the demo left its things."""

    workspace: Path
    stock: str
    edition: Path
    gallery: Path
    disclosure: Path


def run(folder: Path | None, *, say: Say, progress: Callable[[str], Progress]) -> Shown:
    """Do the job from card to edition, saying each step; `progress(doing)` gives the reporter of long work.

    Raises:
        Mistake: `folder` is there and not empty.
    """
    workspace = folder or _free_folder()
    if workspace.exists() and any(workspace.iterdir()):
        raise Mistake(
            f"{workspace} is not empty, and the demo wants a fresh workspace.",
            next_step="Name a folder that does not exist yet: lapseam demo --workspace DIR",
        )
    with Desk.open(workspace, create=True) as desk:
        _record(desk, say, progress("Taking in"), Stop())
        _say_review(desk, STOCK, say)
        made = desk.publish(stock=STOCK, by=_LISTER, progress=progress("Publishing")).result()
        say(made.words)
    say(proving.verify(made.path).words)
    shown = Shown(workspace, STOCK, made.path, made.gallery, made.disclosure)
    say("")
    say(f"Gallery:    {shown.gallery}")
    say(f"Disclosure: {shown.disclosure}")
    say(f"Workspace:  {workspace}")
    return shown


def open_car(desk: Desk, *, progress: Progress, stop: Stop) -> Future[str]:
    """Bring the demo car, its photos and its notes into an open workspace; answers with its stock number."""
    return desk.runner.aside(_record, desk, lambda words: None, progress, stop)


def _record(desk: Desk, say: Say, progress: Progress, stop: Stop) -> str:
    assets = demo_assets()
    done = desk.car_from_file(path=assets / "facts.yaml", plan=PLAN, by=_LISTER).result()
    title = next(line.title for line in desk.cars().result() if line.stock == STOCK)
    say(f"{STOCK}, {title}: {done.words}")
    taken = desk.take_in(stock=STOCK, paths=[assets / "card"], by=_PHOTOGRAPHER, progress=progress, stop=stop).result()
    if taken.stopped:
        raise Cancelled
    say(f"The card is in: {taken.kept} of {len(taken.results)} photos are copied and checked.")
    proposed = desk.propose(stock=STOCK).result()
    say(f"{proposed.proposed} photos have a place proposed; {proposed.strong} are sure enough to accept unseen.")
    notes = desk.take_notes(stock=STOCK, path=assets / "notes.yaml", by=_LISTER).result()
    say(f"A person's own look at them is read: {notes.words}.")
    return STOCK


def _say_review(desk: Desk, stock: str, say: Say) -> None:
    review = desk.review(stock=stock).result()
    states = [line.state for line in review.coverage.shots]
    counted = ", ".join(f"{states.count(state)} {state}" for state in State if state in states)
    say(f"Coverage of {len(states)} shots: {counted}.")
    say(
        f"{len(review.coverage.gaps)} gaps; the dearest: {review.coverage.gaps[0].words.partition('. ')[0]}"
        if review.coverage.gaps
        else "No gaps."
    )
    blocked = ", ".join(rule.rule.id for rule in review.blocked)
    say(f"What stops the manager's signature: {blocked}." if blocked else "Nothing stops the manager's signature.")


def _free_folder() -> Path:
    home = default_workspace().parent
    for number in range(1, 1000):
        folder = home / ("Lapseam demo" if number == 1 else f"Lapseam demo {number}")
        if not folder.exists():
            return folder
    raise Mistake("There are a thousand demo workspaces already.", next_step=f"Clear some of them out of {home}.")
