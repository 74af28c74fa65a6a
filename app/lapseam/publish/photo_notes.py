"""What each published picture file says of itself: from the edition's finished words to `xmp.Notes`.

Only what the pages print anyway: caption, alt text, day, the house, stock number and edition, where findings are
marked. No person, no camera, no position, no name of an original file.
"""

from __future__ import annotations

from typing import Final

from lapseam.domain.edition import Edition, MarkShown, PublishedPhoto
from lapseam.domain.finding import MarkShape
from lapseam.domain.language import ENGLISH, speaking, spoken
from lapseam.domain.phrases import say

from .xmp import Circle, Notes, Rectangle, Region

POINT_RADIUS: Final = 0.02
"""A point has no size; it is told as a circle of this share of the picture's width."""


def notes_of(edition: Edition, photo: PublishedPhoto) -> Notes:
    """What one photo's files say, the same in every width."""
    job = f"{edition.stock}/{edition.number}"
    with speaking(edition.language):
        return notes_for(photo, house=edition.gallery.house, job=job, made_on=edition.made_at[:10])


def notes_for(photo: PublishedPhoto, *, house: str, job: str, made_on: str) -> Notes:
    """The same for a picture outside an edition; `job` names stock and edition, `made_on` is an ISO day."""
    year = (photo.taken_on or made_on)[:4]
    return Notes(
        title=photo.title,
        description=photo.caption,
        alt=photo.alt,
        creator=house,
        rights=say("photo.rights", year=year, house=house) if house else "",
        job=job,
        day=photo.taken_on,
        captured=photo.captured,
        regions=tuple(_region(place, mark) for place, mark in enumerate(photo.marks, start=1)),
        language="" if spoken() is ENGLISH else spoken().tag,
    )


def _region(place: int, mark: MarkShown) -> Region:
    return Region(f"finding-{mark.finding}-{place}", mark.words, _boundary(mark))


def _boundary(mark: MarkShown) -> Rectangle | Circle:
    if mark.shape is MarkShape.POINT:
        return Circle(mark.x, mark.y, POINT_RADIUS)
    return Rectangle(mark.x, mark.y, min(mark.width, 1 - mark.x), min(mark.height, 1 - mark.y))
