"""Verbs about outlets: which photos one of them gets and why, and the folder that is taken there."""

from __future__ import annotations

from concurrent.futures import Future
from dataclasses import dataclass
from pathlib import Path

from lapseam.domain.edition_draft import draft_for
from lapseam.domain.edition_gallery import gallery_page
from lapseam.domain.edition_gaps import not_seen, not_tested
from lapseam.domain.errors import Mistake, NotAllowed, NotFound
from lapseam.domain.selection import Chosen, Outlet, Selection, Wishes, choose
from lapseam.places import shot_plans
from lapseam.plans.outlet_file import load_outlets, near_outlet
from lapseam.plans.outlet_rules import load_outlet_rules
from lapseam.publish.outlet_files import OutletFolder, OutletPhoto, write_outlet
from lapseam.storage.layout import OUTLETS, PLANS

from .office import photo_called
from .runner import Progress, Stop
from .signing import Signing

__all__ = ["OutletFolder", "OutletSet", "Outlets", "PhotoWishes"]


@dataclass(frozen=True, slots=True)
class PhotoWishes:
    """A person's wishes, by photo as a person names one: must be in, stay out, come first in this order."""

    pins: tuple[str, ...] = ()
    bans: tuple[str, ...] = ()
    first: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class OutletSet:
    """What an outlet would get; `captions` whole, in the order of the pictures. Nothing leaves the house unsigned."""

    outlet: Outlet
    selection: Selection
    captions: tuple[str, ...]
    signed: bool


def _silent(done: int, total: int) -> None:
    """Nobody listens."""


_NO_WISHES = PhotoWishes()


class Outlets(Signing):
    """Outlets, which change nothing in the record."""

    def outlets(self) -> tuple[Outlet, ...]:
        """The house's outlets, from `outlets.yaml` in the workspace.

        Raises:
            PlanBroken: the file does not hold.
        """
        return load_outlets(self.folder / OUTLETS)

    def outlet(
        self, *, stock: str, name: str = "", limit: int = 0, wishes: PhotoWishes = _NO_WISHES
    ) -> Future[OutletSet]:
        """The photos for the house's outlet of that name, or for any that takes `limit`.

        Raises (in the future):
            NotFound: no such car, outlet or photo. Mistake: a limit below 1. PlanBroken: an outlets file is broken.
        """
        return self.runner.on_book(lambda: self._set(stock, self._outlet_called(name, limit), wishes))

    def write_outlet(
        self,
        *,
        stock: str,
        out: Path,
        name: str = "",
        limit: int = 0,
        wishes: PhotoWishes = _NO_WISHES,
        progress: Progress = _silent,
        stop: Stop | None = None,
    ) -> Future[OutletFolder]:
        """Write the outlet's folder: photos in order within its limits, captions, and what its text must say.

        Raises (in the future):
            NotAllowed: nobody has signed the record as it is now. Mistake: `out` is in use. PublishFailed, Cancelled,
            DiskFull, NoRights: nothing was written. And as `outlet`.
        """
        return self.runner.beside(self._write_outlet, stock, out, name, limit, wishes, progress, stop or Stop())

    def _write_outlet(
        self, stock: str, out: Path, name: str, limit: int, wishes: PhotoWishes, progress: Progress, stop: Stop
    ) -> OutletFolder:
        made = self.outlet(stock=stock, name=name, limit=limit, wishes=wishes).result()
        if not made.signed:
            raise NotAllowed(
                f"{stock} goes to no outlet: nobody has signed the record as it stands now.",
                effect="Nothing was written; the list may still be looked at.",
                next_step=f"See what is open with: lapseam review {stock}",
            )
        photos = [
            self._photo(one, caption) for one, caption in zip(made.selection.pictures, made.captions, strict=True)
        ]
        return write_outlet(photos, made.outlet, out, text=made.selection.overflow, progress=progress, stop=stop)

    def _photo(self, one: Chosen, caption: str) -> OutletPhoto:
        return OutletPhoto(one.shot or "extra", self._workspace.vault.path(one.sha256), caption, one.findings)

    def _outlet_called(self, name: str, limit: int) -> Outlet:
        if not name:
            return Outlet(f"an outlet for {limit} photos", limit)
        known = self.outlets()
        found = next((one for one in known if one.name.casefold() == name.casefold()), None)
        if found is None:
            here = ", ".join(one.name for one in known)
            raise NotFound(
                f"The house has no outlet {name!r}.",
                effect=f"Its outlets: {here}." if here else f"It has none yet: {OUTLETS} in the workspace lists them.",
                next_step=near_outlet(name, known) or f"Check the name, or add it to {self.folder / OUTLETS}.",
            )
        return found

    def _set(self, stock: str, outlet: Outlet, wishes: PhotoWishes) -> OutletSet:
        if outlet.photos < 1:
            raise Mistake("An outlet takes at least one photo.", next_step="Give a limit of 1 or more.")
        review = self._review(stock)
        car = review.car
        wanted = Wishes(*(tuple(photo_called(car, name).sha256 for name in names) for names in _named(wishes)))
        draft = draft_for(
            car, review.coverage, review.rules, review.house, number=1, made_at=self.now(), signed=review.signed
        )
        own = self.folder / PLANS / "vocabulary"
        rules = load_outlet_rules(own if own.is_dir() else shot_plans() / "vocabulary")
        selection = choose(draft.car, draft.coverage, draft.pictures, rules, outlet.photos, wanted)
        shown = {one.sha256: one for one in gallery_page(draft, not_seen(draft), not_tested(draft)).pictures()}
        captions = tuple(" ".join((shown[one.sha256].caption, *one.adds)) for one in selection.pictures)
        return OutletSet(outlet, selection, captions, review.signed is not None)


def _named(wishes: PhotoWishes) -> tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]:
    return wishes.pins, wishes.bans, wishes.first
