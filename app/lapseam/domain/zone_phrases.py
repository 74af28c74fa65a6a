"""Words of the condition page's index by zone, and of what was done to the photos; part of `phrases.WORDS`."""

from __future__ import annotations

from typing import Final

ZONE_WORDS: Final[dict[str, str]] = {
    "zone.found": "finding {numbers}|findings {numbers}",
    "zone.none": "no finding on file",
    "zone.more": "{first}; {next}",
    "zone.nothing": "{n} part looked at with nothing to report|{n} parts looked at with nothing to report",
    "zone.checks": "{n} function check made|{n} function checks made",
    "zone.measured": "{n} measurement|{n} measurements",
    "zone.unseen": "{n} thing not seen|{n} things not seen",
    "zone.untested": "{n} function not tested|{n} functions not tested",
    "zone.photos": "{n} photo|{n} photos",
    "zone.photos.none": "no photo shown",
    "edit.turned": "Turned upright, as the camera noted",
    "edit.as-taken": "Upright as the camera wrote it",
    "edit.still": "A still of a clip",
    "edit.hidden": "Hidden or masked",
    "edit.hidden.none": "nothing in any photo shown",
    "edit.withheld": "{n} photo is withheld whole|{n} photos are withheld whole",
    "edit.run": "{first} to {last}",
}
