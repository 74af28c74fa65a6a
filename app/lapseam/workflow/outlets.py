"""Verbs about outlets: which photos one of them gets and why, a person's wishes, and the folder that is taken there."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import Future
from dataclasses import dataclass, replace
from difflib import get_close_matches
from functools import lru_cache
from pathlib import Path
from typing import Final

from lapseam.domain.car import Car
from lapseam.domain.changes import Changes
from lapseam.domain.claims import Judged
from lapseam.domain.decision import Decision
from lapseam.domain.edition import PublishedPhoto
from lapseam.domain.edition_gallery import gallery_page
from lapseam.domain.edition_gaps import not_seen, not_tested
from lapseam.domain.edition_record import published_photos
from lapseam.domain.errors import Mistake, NotFound
from lapseam.domain.language import speaking
from lapseam.domain.posting import OutletWishes, outlet_key
from lapseam.domain.selection import Chosen, Outlet, OutletRules, PhotoList, Selection, Wishes, choose
from lapseam.places import shot_plans
from lapseam.plans.outlet_file import HouseOutlets, load_house_outlets, near_outlet
from lapseam.plans.outlet_rules import load_outlet_rules
from lapseam.publish.kept_copies import outlet_folder
from lapseam.publish.outlet_files import OutletFolder, OutletPhoto, write_outlet
from lapseam.publish.outlet_list import Sending, set_bytes
from lapseam.storage import record_sha256
from lapseam.storage.layout import OUTLETS, PLANS

from .listing import ListingMade, Listings, Standing, refuse, refuse_unsigned, refused_of
from .office import Choice, Done, Drop, photo_called
from .runner import Progress, Stop

__all__ = ["OutletFolder", "OutletSet", "Outlets", "PhotoWishes"]


@dataclass(frozen=True, slots=True)
class PhotoWishes:
    """Wishes for one asking, by photo as a person names one: must be in, stay out, come first in this order."""

    pins: tuple[str, ...] = ()
    bans: tuple[str, ...] = ()
    first: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class OutletSet:
    """What an outlet would get. Nothing leaves the house unsigned.

    `captions` are whole, in the order of the pictures, and `judged_captions` what the guard says of them; `wishes` are
    those that stand in the record; `notes` say what is to be known besides, such as shots of the house's own list that
    this car's plan has not.
    """

    outlet: Outlet
    selection: Selection
    captions: tuple[str, ...]
    signed: bool
    listing: ListingMade
    judged_captions: tuple[Judged, ...] = ()
    wishes: OutletWishes | None = None
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Worked:
    """A set with what its folder is made from."""

    made: OutletSet
    photos: tuple[OutletPhoto, ...]
    sending: Sending


def _silent(done: int, total: int) -> None:
    """Nobody listens."""


_NO_WISHES = PhotoWishes()
PACKAGED: Final = "outlets"
"""The folder of an edition's package that says what each outlet gets."""


class Outlets(Listings):
    """Outlets: their sets, wishes and folders."""

    def outlets(self) -> tuple[Outlet, ...]:
        """The house's outlets, from `outlets.yaml` in the workspace.

        Raises:
            PlanBroken: the file does not hold.
        """
        return self._house_outlets().outlets

    def outlet(
        self, *, stock: str, name: str = "", limit: int = 0, wishes: PhotoWishes = _NO_WISHES
    ) -> Future[OutletSet]:
        """The photos, each with its reason, and the text for the house's outlet of that name, or for any that takes
        `limit` photos. `wishes` hold for this asking, on top of those that stand in the record.

        Raises (in the future):
            NotFound: no such car, outlet or photo. Mistake: a limit below 1. PlanBroken, TemplateBroken: a file of the
            house's does not hold.
        """
        return self.runner.aside(lambda: self._worked(stock, name, limit, wishes).made)

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
        """Write the outlet's folder: photos in order within its limits, captions, and the text to paste.

        Raises (in the future):
            NotAllowed: nobody has signed the record as it is now, or a sentence may not be printed. Mistake: `out` is
            in use. PublishFailed, Cancelled, DiskFull, NoRights: nothing was written. And as `outlet`.
        """
        return self.runner.beside(self._write_outlet, stock, out, name, limit, wishes, progress, stop or Stop())

    def wish(
        self,
        *,
        stock: str,
        outlet: str,
        by: str,
        pins: Sequence[str] = (),
        bans: Sequence[str] = (),
        free: Sequence[str] = (),
        order: Sequence[str] | None = None,
    ) -> Future[Done]:
        """Store wishes for one outlet's photos; the rest is chosen anew around them.

        A pin takes back a ban of the same photo and the other way round; `free` takes both back; `order` stands for
        the whole order that was asked before (empty: gallery order again).

        Raises (in the future):
            NotFound: no such car, outlet or photo. Mistake: a photo both in and out.
        """

        def choose_now(car: Car) -> Choice:
            name = self._outlet_called(outlet, 0).name
            here = car.wishes.get(outlet_key(name))
            asked = _asked(car, here or OutletWishes(name, by, self.now()), pins, bans, free, order)
            asked = replace(asked, outlet=name, by=by, at=self.now())
            words = f"Wishes for {name}: {_counted(asked)}"
            if asked.empty:
                return (), (Drop("wishes", asked.key),), f"No more wishes for {name}"
            same = here is not None and replace(here, by=by, at=asked.at, outlet=name) == asked
            put: tuple[Decision, ...] = () if same else (asked,)
            return put, (), words

        return self._decide(stock, verb="outlet", by=by, choose=choose_now, changes=Changes.OUTLETS)

    def _write_outlet(
        self, stock: str, out: Path, name: str, limit: int, wishes: PhotoWishes, progress: Progress, stop: Stop
    ) -> OutletFolder:
        worked = self._worked(stock, name, limit, wishes)
        return self._written(worked, stock, out, progress, stop)

    def _written(self, worked: _Worked, stock: str, out: Path, progress: Progress, stop: Stop) -> OutletFolder:
        made = worked.made
        refuse_unsigned(made.signed, stock)
        refuse(made.listing.judged, f"The text of {stock} for {made.outlet.name}")
        refuse(made.judged_captions, f"What stands under the photos of {stock} for {made.outlet.name}")
        with speaking(self._tongue):
            return write_outlet(
                worked.photos, made.outlet, out, texts=made.listing.texts, sending=worked.sending,
                progress=progress, stop=stop,
            )  # fmt: skip

    def _house_outlets(self) -> HouseOutlets:
        return load_house_outlets(self.folder / OUTLETS)

    def _outlet_called(self, name: str, limit: int) -> Outlet:
        if not name:
            return Outlet(f"an outlet for {limit} photos", limit)
        known = self.outlets()
        found = next((one for one in known if outlet_key(one.name) == outlet_key(name)), None)
        if found is None:
            here = ", ".join(one.name for one in known)
            raise NotFound(
                f"The house has no outlet {name!r}.",
                effect=f"Its outlets: {here}." if here else f"It has none yet: {OUTLETS} in the workspace lists them.",
                next_step=near_outlet(name, known) or f"Check the name, or add it to {self.folder / OUTLETS}.",
            )
        return found

    def _worked(self, stock: str, name: str, limit: int, wishes: PhotoWishes) -> _Worked:
        outlet = self._outlet_called(name, limit)
        if outlet.photos < 1:
            raise Mistake("An outlet takes at least one photo.", next_step="Give a limit of 1 or more.")
        standing = self.runner.on_book(self._standing, stock).result()
        with speaking(self._tongue):
            return self._worked_from(standing, outlet, bool(name), wishes)

    def _worked_from(self, standing: Standing, outlet: Outlet, named: bool, wishes: PhotoWishes) -> _Worked:
        car, draft = standing.review.car, self._draft(standing)
        stored = car.wishes.get(outlet_key(outlet.name)) if named else None
        own_list = self._house_outlets().photo_list(outlet) if named else None
        wanted = _together(car, stored, wishes)
        selection = choose(draft.car, draft.coverage, draft.pictures, self._rules().by(own_list), outlet.photos, wanted)
        gallery = gallery_page(draft, not_seen(draft), not_tested(draft))
        said = {one.sha256: one for one in published_photos(draft, gallery)}
        captions = tuple(" ".join((said[one.sha256].caption, *one.adds)) for one in selection.pictures)
        places = {one.sha256: one.place for one in selection.pictures}
        made = OutletSet(
            outlet=outlet,
            selection=selection,
            captions=captions,
            signed=standing.review.signed is not None,
            listing=self._listing(standing, draft, outlet.form, outlet=outlet, places=places),
            judged_captions=self._judged(standing.review, captions),
            wishes=stored,
            notes=(*_unknown_shots(car, own_list), *_too_small(car, selection, outlet)),
        )
        photos = tuple(self._photo(one, said[one.sha256]) for one in selection.pictures)
        made_at = self.now().isoformat(timespec="seconds")
        sending = Sending(car.stock, standing.edition, record_sha256(car), made_at, standing.review.house.name)
        return _Worked(made, photos, sending)

    def _package_sets(self, standing: Standing) -> dict[str, bytes]:
        """What each of the house's outlets gets of a signed edition, for its package, by file name."""
        if standing.review.signed is None:
            return {}
        sets: dict[str, bytes] = {}
        for outlet in self.outlets():
            with speaking(self._tongue):
                made = self._worked_from(standing, outlet, True, _NO_WISHES).made
            if not refused_of((*made.listing.judged, *made.judged_captions)):
                photos = [
                    {"number": one.number, "original_sha256": one.sha256, "caption": caption, "reason": one.reason}
                    for one, caption in zip(made.selection.pictures, made.captions, strict=True)
                ]
                sets[f"{PACKAGED}/{outlet_folder(outlet.name)}.json"] = set_bytes(outlet, photos, made.listing.texts)
        return sets

    def _rules(self) -> OutletRules:
        own = self.folder / PLANS / "vocabulary"
        folder = own if own.is_dir() else shot_plans() / "vocabulary"
        looks = ((path.name, path.stat()) for path in sorted(folder.glob("*.yaml")))
        return _rules_of(folder, tuple((name, look.st_mtime_ns, look.st_size) for name, look in looks))

    def _photo(self, one: Chosen, said: PublishedPhoto) -> OutletPhoto:
        path = self._workspace.vault.path(one.sha256)
        return OutletPhoto(one.shot or "extra", path, said.caption, said, one.findings, one.adds)


@lru_cache(maxsize=4)
def _rules_of(folder: Path, stamp: tuple[tuple[str, int, int], ...]) -> OutletRules:
    """The rules of a vocabulary, read again only when one of its files is another: a preview asks at every touch."""
    return load_outlet_rules(folder)


def _together(car: Car, stored: OutletWishes | None, now: PhotoWishes) -> Wishes:
    """Stored wishes with those of this asking over them."""
    pins, bans, first = ([photo_called(car, name).sha256 for name in names] for names in _named(now))
    before = stored.wishes if stored else Wishes()
    return Wishes(
        tuple(dict.fromkeys((*(one for one in before.pins if one not in bans), *pins))),
        tuple(dict.fromkeys((*(one for one in before.bans if one not in pins), *bans))),
        tuple(first) or before.order,
    )


def _named(wishes: PhotoWishes) -> tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]:
    return wishes.pins, wishes.bans, wishes.first


def _asked(
    car: Car,
    before: OutletWishes,
    pins: Sequence[str],
    bans: Sequence[str],
    free: Sequence[str],
    order: Sequence[str] | None,
) -> OutletWishes:
    pinned, banned, freed = ([photo_called(car, name).sha256 for name in names] for names in (pins, bans, free))
    if both := set(pinned) & set(banned):
        raise Mistake(
            f"Photo {min(both)[:8]} cannot be both in and out.", effect="Nothing was written.", next_step="Say one."
        )
    gone = {*freed, *banned}, {*freed, *pinned}
    first = before.order if order is None else tuple(photo_called(car, name).sha256 for name in order)
    return replace(
        before,
        pins=tuple(dict.fromkeys((*(one for one in before.pins if one not in gone[0]), *pinned))),
        bans=tuple(dict.fromkeys((*(one for one in before.bans if one not in gone[1]), *banned))),
        order=tuple(dict.fromkeys(first)),
    )


def _counted(wishes: OutletWishes) -> str:
    told = ((wishes.pins, "in"), (wishes.bans, "out"), (wishes.order, "first"))
    return ", ".join(f"{len(photos)} {word}" for photos, word in told if photos)


def _too_small(car: Car, selection: Selection, outlet: Outlet) -> tuple[str, ...]:
    """Photos of the set whose originals have fewer pixels than the outlet wants, each in words."""
    words = []
    for one in selection.pictures:
        photo = car.photo(one.sha256)
        longest = max(photo.width, photo.height) if photo else 0
        if photo and longest < outlet.min_px:
            words.append(
                f"Photo {one.number} has {longest} pixels on its longest side; {outlet.name} wants {outlet.min_px}, "
                "and nothing is enlarged."
            )
    return tuple(words)


def _unknown_shots(car: Car, own: PhotoList | None) -> tuple[str, ...]:
    """Shots of the house's own list that this car's plan has not, each in words."""
    known = [shot.id for shot in car.plan.shots]
    words = []
    for shot in dict.fromkeys(shot for limit in own.limits for shot in limit.shots) if own else ():
        if shot not in known:
            near = get_close_matches(shot, known, n=1, cutoff=0.75)
            hint = f" (did you mean {near[0]!r}?)" if near else ""
            words.append(f"The list {own.name if own else ''} names {shot!r}, which this car's plan has not{hint}.")
    return tuple(words)
