"""What is said of an outlet's pictures, in one table; `phrases` takes it in and says it."""

from __future__ import annotations

from typing import Final

SELECTION_WORDS: Final[dict[str, str]] = {
    # why a picture is in
    "chosen.never-dropped": "never dropped",
    "chosen.list": "on the list of this limit",
    "chosen.finding": "in a place kept for findings",
    "chosen.proof": "rust-prone shot in a free place",
    "chosen.best-fill": "best use of a free place",
    "chosen.pinned": "pinned by a person",
    "chosen": "{title}: {why}",
    "chosen.shows": "{words}; shows {findings}",
    "chosen.worst": "{words}; of {n} frames the one with the worst finding|"
    "{words}; of {n} frames the one with the worst finding",
    "chosen.extra": "extra of {zone}",
    "chosen.findings": "finding {numbers}|findings {numbers}",
    # what captions and the outlet's text say besides
    "outlet.not-reached": "{title}: could not be reached ({why}).",
    "outlet.not-fitted": "{title}: not fitted.",
    "outlet.not-shown": "{title}: photographed, but no photo of it may be shown here.",
    "outlet.no-photo": "{title}: no photo.",
    "outlet.not-seen": "Not seen: {sentence}",
    "outlet.more": "{n} more finding is on the full page: {findings}.|"
    "{n} more findings are on the full page: {findings}.",
    "outlet.not-pictured": "Not pictured here, but on the full page: {findings}.",
    "outlet.finding": "Finding {number}, {severity}, not pictured here: {look}.",
    # where a wish could not be kept
    "wish.photo": "Photo {photo}",
    "wish.unpublished": "Photo {photo} is not in the published gallery, so no outlet gets it.",
    "wish.stays": "{photo} was to be left out, but it is the only one that shows something no limit may drop ({why}). "
    "It stays.",
    "wish.both": "{photo} was both pinned and left out; it is left out.",
    "wish.no-place": "{photo} was pinned, but all places ({n}) are taken by what may not be dropped, or it is no still "
    "picture. It stays out.|{photo} was pinned, but all places ({n}) are taken by what may not be dropped, or it is no "
    "still picture. It stays out.",
}
