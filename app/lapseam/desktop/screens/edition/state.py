"""What the Edition shows, worked out from the next edition as it would stand now. No Qt here."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from lapseam.domain.edition import Chapter, PictureShown
from lapseam.domain.plan import FLAWS_GROUP, LEAD_GROUP
from lapseam.domain.signoff_case import RuleAnswer
from lapseam.workflow.arranging import InTheMaking
from lapseam.workflow.publishing import EditionLine

from ...words import _, _n

FIXED_GROUPS = (LEAD_GROUP, FLAWS_GROUP)


@dataclass(frozen=True, slots=True)
class Place:
    """One place of the sequence. `own` is the caption that a person wrote, `subject` what stands there without one."""

    sha256: str
    group: str
    number: int
    name: str
    caption: str
    own: str
    subject: str
    alt: str
    findings: tuple[str, ...] = ()
    again: bool = False
    leads: bool = False

    @property
    def movable(self) -> bool:
        """Whether a person may order it."""
        return self.group not in FIXED_GROUPS

    @property
    def words(self) -> str:
        """The place for a screen reader."""
        return _("Photo {number}: {caption}").format(number=self.number, caption=self.caption)


@dataclass(frozen=True, slots=True)
class Group:
    """One gallery group of the sequence; `arranged` where a person ordered it."""

    id: str
    name: str
    places: tuple[Place, ...]
    arranged: bool = False


@dataclass(frozen=True, slots=True)
class Reason:
    """One reason of a sign-off rule; `stops` where it stops the signature."""

    stops: bool
    title: str
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class EditionScreen:
    """The whole station; `with_key` where a key made the signature.

    `empty` says what is so and what to do next where nothing can be shown; else it is blank.
    """

    stock: str = ""
    number: int = 1
    headline: str = ""
    holds: str = ""
    standing: str = ""
    signed: bool = False
    with_key: bool = False
    groups: tuple[Group, ...] = ()
    reasons: tuple[Reason, ...] = ()
    last: EditionLine | None = None
    empty: tuple[str, str] = ("", "")

    @property
    def places(self) -> tuple[Place, ...]:
        """Every place in order."""
        return tuple(place for group in self.groups for place in group.places)

    def place(self, sha256: str) -> Place | None:
        """The photo's first place, or None."""
        return next((place for place in self.places if place.sha256 == sha256), None)

    @property
    def stopped_by(self) -> int:
        """How many rules stop the signature."""
        return sum(reason.stops for reason in self.reasons)


def no_car() -> EditionScreen:
    """Nothing is open."""
    return EditionScreen(
        empty=(_("No car is open."), _("Open one in the Yard, and its next edition is laid out here.")),
    )


def edition_screen(made: InTheMaking, editions: Sequence[EditionLine]) -> EditionScreen:
    """The station for one car.

    Args:
        made: the next edition as it would be published now.
        editions: those that were published, oldest first.
    """
    gallery, review = made.edition.gallery, made.review
    groups = tuple(_group(made, chapter) for chapter in gallery.chapters if chapter.pictures)
    screen = EditionScreen(
        stock=review.car.stock,
        number=made.edition.number,
        headline=_("Edition {number}").format(number=made.edition.number),
        holds=gallery.count_words,
        standing=_standing(made),
        signed=review.signed is not None,
        with_key=review.signed is not None and bool(review.signed.key_sha256),
        groups=groups,
        reasons=_reasons(review.rules),
        last=editions[-1] if editions else None,
    )
    if groups:
        return screen
    next_step = _("Put photos on their shots in the Walk; those that may show a plate or a paper wait for a look.")
    return replace(screen, empty=(_("No photo would be shown yet."), next_step))


def _standing(made: InTheMaking) -> str:
    review = made.review
    if review.signed is not None:
        return _("Signed. Publish it before anything changes.")
    if review.signature_fault:
        return review.signature_fault
    stops = len(review.blocked)
    if not stops:
        return _("Nothing stops the signature; until a manager signs, it says UNSIGNED on every page.")
    return _n(
        "{n} rule stops the signature; until then it says UNSIGNED on every page.",
        "{n} rules stop the signature; until then it says UNSIGNED on every page.",
        stops,
    )


def _group(made: InTheMaking, chapter: Chapter) -> Group:
    places = tuple(_place(made, chapter, picture) for picture in chapter.pictures)
    return Group(chapter.id, chapter.name, places, chapter.id in made.review.car.arranged)


def _place(made: InTheMaking, chapter: Chapter, picture: PictureShown) -> Place:
    car, gallery = made.review.car, made.edition.gallery
    photo, own = car.photo(picture.sha256), car.captions.get(picture.sha256)
    shot = car.plan.shot(picture.shot) if picture.shot else None
    return Place(
        sha256=picture.sha256,
        group=chapter.id,
        number=picture.number,
        name=photo.name if photo else picture.sha256[:8],
        caption=picture.caption,
        own=own.words if own else "",
        subject=shot.title if shot else picture.zone_name,
        alt=picture.alt,
        findings=tuple(one.sentence for one in picture.findings),
        again=picture.again,
        leads=gallery.hero is not None and gallery.hero.sha256 == picture.sha256 and not picture.again,
    )


def _reasons(rules: Sequence[RuleAnswer]) -> tuple[Reason, ...]:
    """What stops first, then what only warns."""
    spoken = [rule for rule in rules if rule.blocks or rule.warns]
    ordered = sorted(spoken, key=lambda rule: not rule.blocks)
    return tuple(Reason(rule.blocks, rule.rule.rule, rule.reasons) for rule in ordered)


def moved(screen: EditionScreen, sha256: str, before: str) -> tuple[str, tuple[str, ...]] | None:
    """Group and new order once the photo stands before another one of its group; None where that is no move.

    `before` is a SHA-256, "" for the end of the group.
    """
    place = screen.place(sha256)
    if place is None or not place.movable or sha256 == before:
        return None
    order = [one.sha256 for group in screen.groups if group.id == place.group for one in group.places]
    if before and before not in order:
        return None
    rest = [one for one in order if one != sha256]
    at = rest.index(before) if before else len(rest)
    new = (*rest[:at], sha256, *rest[at:])
    return None if list(new) == order else (place.group, new)
