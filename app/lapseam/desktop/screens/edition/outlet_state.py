"""What an outlet would get, worked out from its set: photos with reasons, what its text says, what stops it. No Qt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from lapseam.domain.car import Car
from lapseam.domain.claims import Judged
from lapseam.domain.selection import Outlet
from lapseam.workflow.listing import refused_of
from lapseam.workflow.outlets import OutletSet

from ...words import _, _n

TRADE_LIMITS = (12, 20, 24, 40, 100)
"""The limits that are tried where the house has named no outlet; common practice, no source."""


@dataclass(frozen=True, slots=True)
class OutletChoice:
    """One outlet to choose: by its name, or by a limit where the house has named none."""

    words: str
    name: str = ""
    limit: int = 0


@dataclass(frozen=True, slots=True)
class OutletPlace:
    """One photo at its place in the outlet's set. `wished` says in a word what a person asked of it, "" for nothing."""

    place: int
    sha256: str
    title: str
    reason: str
    wished: str = ""

    @property
    def words(self) -> str:
        """The row for a screen reader."""
        return ", ".join(part for part in (f"{self.place}. {self.title}", self.reason, self.wished) if part)


@dataclass(frozen=True, slots=True)
class OutletScreen:
    """One outlet's pane. `named` outlets keep wishes; `told` are headings with their lines, `text` what is pasted."""

    choice: OutletChoice
    headline: str
    places: tuple[OutletPlace, ...] = ()
    told: tuple[tuple[str, tuple[str, ...]], ...] = ()
    text: str = ""
    standing: str = ""
    ready: bool = False

    @property
    def named(self) -> bool:
        """Whether the house has named it, so that wishes for it are kept."""
        return bool(self.choice.name)

    def moved(self, sha256: str, steps: int) -> tuple[str, ...]:
        """The order that comes first once that photo is moved; () where it cannot go further."""
        order = [one.sha256 for one in self.places]
        if sha256 not in order:
            return ()
        at = order.index(sha256)
        to = min(max(at + steps, 0), len(order) - 1)
        if to == at:
            return ()
        order.insert(to, order.pop(at))
        return tuple(order)


def choices(outlets: Sequence[Outlet]) -> tuple[OutletChoice, ...]:
    """The house's outlets; the trade's limits where it has none."""
    if not outlets:
        return tuple(
            OutletChoice(_n("Any that takes {n} photo", "Any that takes {n} photos", limit), limit=limit)
            for limit in TRADE_LIMITS
        )
    return tuple(
        OutletChoice(
            _("{name}: {photos}").format(name=one.name, photos=_n("{n} photo", "{n} photos", one.photos)), name=one.name
        )
        for one in outlets
    )


def outlet_screen(choice: OutletChoice, made: OutletSet, car: Car) -> OutletScreen:
    """The pane for one outlet's set."""
    pins = made.wishes.pins if made.wishes else ()
    order = made.wishes.order if made.wishes else ()
    places = tuple(
        OutletPlace(
            one.place,
            one.sha256,
            _title(caption),
            one.reason.removeprefix(f"{_title(caption)}: "),
            _("wanted in") if one.sha256 in pins else _("ordered") if one.sha256 in order else "",
        )
        for one, caption in zip(made.selection.pictures, made.captions, strict=True)
    )
    refused = len(_refused(made))
    return OutletScreen(
        choice=choice,
        headline=_("{n} of {most} photos").format(n=len(places), most=made.outlet.photos),
        places=places,
        told=_told(made, car),
        text=made.listing.text,
        standing=_standing(made.signed, refused),
        ready=made.signed and not refused,
    )


def _refused(made: OutletSet) -> tuple[Judged, ...]:
    return (*made.listing.refused, *refused_of(made.judged_captions))


def _title(caption: str) -> str:
    return caption.partition(";")[0].rstrip(".")


def _standing(signed: bool, refused: int) -> str:
    if refused:
        return _n("{n} sentence may not be printed.", "{n} sentences may not be printed.", refused)
    return _("Signed: it may go out.") if signed else _("UNSIGNED: it goes to no outlet until a manager has signed.")


def _told(made: OutletSet, car: Car) -> tuple[tuple[str, tuple[str, ...]], ...]:
    bans = made.wishes.bans if made.wishes else ()
    kept_out = tuple(photo.name for sha256 in bans if (photo := car.photo(sha256)) is not None)
    refused = tuple(f"{sentence.text}: {one.why}" for sentence in _refused(made) for one in sentence.objections[:1])
    found = (
        (_("May not be printed"), refused),
        (_("Wishes that could not be kept"), made.selection.conflicts),
        (_("Kept out"), kept_out),
        (_("Its text must say"), made.selection.overflow),
        (_("Listed, but not shown here"), made.selection.unseen),
        (_("To be known besides"), made.notes),
        (_("Left out of the text for its length"), made.listing.left_out),
    )
    return tuple((heading, lines) for heading, lines in found if lines)
