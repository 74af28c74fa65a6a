"""What an outlet gets and what it really showed: a person's wishes for its photos, and every posting as it stood.

A posting is kept whole: photos, order, captions, text, price with its validity, edition, and from when to when it was
to be seen. It is never edited; what was shown next is the next posting. All of this is private, and none of it belongs
to what a signature signs: it says where the record went, not what it says.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from typing import Final

from .selection_rules import TextForm, Wishes

_LONGEST_NAME: Final = 60
_AMOUNT: Final = re.compile(r"[0-9]{1,12}(\.[0-9]{1,2})?")
_CURRENCY: Final = re.compile(r"[A-Z]{3}")
_SHA256: Final = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class OutletWishes:
    """What a person asked for one outlet, by SHA-256 of photos: in, out, first in this order."""

    outlet: str
    by: str
    at: datetime
    pins: tuple[str, ...] = ()
    bans: tuple[str, ...] = ()
    order: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        return outlet_key(self.outlet)

    @property
    def wishes(self) -> Wishes:
        """The same as the selection takes them."""
        return Wishes(self.pins, self.bans, self.order)

    @property
    def empty(self) -> bool:
        """Whether nothing is asked for."""
        return not (self.pins or self.bans or self.order)


@dataclass(frozen=True, slots=True)
class Price:
    """What was asked for the car. `amount` is a decimal number as text, `currency` three letters (ISO 4217).

    `until` is the last day on which it holds, None where no end was said.
    """

    amount: str
    currency: str
    until: date | None = None


@dataclass(frozen=True, slots=True)
class PostedPhoto:
    """One picture at its place, from 1. `sha256` is the original's, `file_sha256` that of the file that went out."""

    place: int
    sha256: str
    file: str
    file_sha256: str
    caption: str


@dataclass(frozen=True, slots=True)
class Posting:
    """One showing of the car at one outlet.

    `since` and `down` bound when it was to be seen; `down` is None while it is up. `folder` is its kept copy below the
    car's folder, a bag with `bag_sha256` over everything in it; `saved` are pages in that copy as they stood at the
    outlet; `changed` says what a person changed by hand between the record and the outlet. `price` is None where none
    was asked. `address` is where it was to be seen, in words.
    """

    number: int
    outlet: str
    edition: int
    since: datetime
    by: str
    at: datetime
    photos: tuple[PostedPhoto, ...]
    title: str
    teaser: str
    text: str
    form: TextForm
    folder: str
    bag_sha256: str
    price: Price | None = None
    address: str = ""
    saved: tuple[str, ...] = ()
    changed: tuple[str, ...] = ()
    down: datetime | None = None
    down_by: str = ""
    down_words: str = ""

    @property
    def key(self) -> str:
        return str(self.number)

    @property
    def up(self) -> bool:
        """Whether nobody has taken it down."""
        return self.down is None

    def seen_between(self, first: datetime, last: datetime) -> bool:
        """Whether it was to be seen at any moment from `first` up to, not with, `last`."""
        return self.since < last and (self.down is None or self.down > first)


def outlet_key(outlet: str) -> str:
    """An outlet's name without regard to capitals and spaces: one outlet, however it is written."""
    return " ".join(outlet.casefold().split())


def wishes_objections(wishes: OutletWishes) -> Iterator[str]:
    """What speaks against these wishes, whatever the car is."""
    yield from _outlet_objections(wishes.outlet)
    for digest in wishes.pins:
        if digest in wishes.bans:
            yield f"photo {digest[:8]!r} cannot be both in and out: take one of the two back"
    for photos in (wishes.pins, wishes.bans, wishes.order):
        if len(set(photos)) < len(photos):
            yield "a photo is named twice"


def posting_objections(posting: Posting) -> Iterator[str]:
    """What speaks against this posting, whatever the car is."""
    yield from _outlet_objections(posting.outlet)
    if posting.edition < 1:
        yield "editions count from 1"
    if [one.place for one in posting.photos] != list(range(1, len(posting.photos) + 1)):
        yield "the photos' places count from 1 without a gap"
    digests = (posting.bag_sha256, *(one.file_sha256 for one in posting.photos))
    if not all(_SHA256.fullmatch(digest) for digest in digests):
        yield "a posting needs the checksums of its kept copy"
    if not posting.title.strip():
        yield "a posting needs the title under which it was shown"
    if posting.price is not None:
        yield from price_objections(posting.price, posting.since.date())
    if posting.down is not None:
        if posting.down < posting.since:
            yield "it cannot be taken down before it was up"
        if not posting.down_by.strip():
            yield "it is not said who took it down"


def _outlet_objections(outlet: str) -> Iterator[str]:
    if not outlet.strip():
        yield "the outlet's name is empty"
    if len(outlet) > _LONGEST_NAME:
        yield f"an outlet's name has at most {_LONGEST_NAME} characters"


def price_objections(price: Price, since: date) -> Iterator[str]:
    """What speaks against this price of a posting that begins on that day."""
    if not _AMOUNT.fullmatch(price.amount) or not float(price.amount):
        yield f"{price.amount!r} is no price: write figures, with a point for the decimals, such as 24500"
    if not _CURRENCY.fullmatch(price.currency):
        yield f"{price.currency!r} is no currency: write its three letters (ISO 4217), such as USD"
    if price.until is not None and price.until < since:
        yield "the price ends before the posting begins"
