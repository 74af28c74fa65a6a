"""The sections of the condition page in words, and what the page says of itself."""

from __future__ import annotations

from typing import Final

LINKED_WORDS: Final[dict[str, str]] = {
    "jsonld.record": "Everything that the pages print, as data: findings, checks, measurements, what was not seen.",
    "jsonld.serial": "Serial as read on the car",
    "jsonld.damages.gaps": "{gaps}, each in the linked record.",
    "jsonld.damages.none": "No finding on file in the places photographed; see what was not seen.",
    "jsonld.description": "Condition record with {findings}; {gaps}.",
}
"""What the page says of itself to machines; part of `phrases.WORDS`."""
SECTIONS: Final[dict[str, tuple[str, str, str]]] = {
    # id: (heading, what stands below it, what stands there where there are no rows)
    "what-it-is": ("What this page is", "", ""),
    "what-it-is-not": ("What this page is not", "", ""),
    "identity": ("Identity and odometer", "As read on the car and its papers; nothing is corrected.", ""),
    "summary": ("Summary", "", ""),
    "zones": (
        "Zone by zone",
        "In walking order: what is on file for each zone, and what is open there.",
        "The plan of this car names no zone.",
    ),
    "findings": (
        "Findings",
        "By severity, then by place in walking order. Each says where, how large, how it is known and in which photo.",
        "No finding is on file. That is not the same as nothing found: see what was not seen.",
    ),
    "not-seen": (
        "Not seen",
        "Nobody can say anything about these from this record. Each has its reason.",
        "Everything that the plan asks for on this car was shown and looked at.",
    ),
    "not-tested": (
        "Not tested",
        "Each has its reason.",
        "Every function check that applies to this car was made.",
    ),
    "good": ("Good findings", "On the same evidence as the faults.", "No good finding is on file."),
    "nothing-found": (
        "Looked at, nothing to report",
        "A person looked at these parts in the photos named and saw nothing to report.",
        "Nobody has recorded a part as looked at with nothing to report.",
    ),
    "checks": ("Function checks", "As tried on the day and in the conditions named.", "No function was tried."),
    "measurements": (
        "Measurements",
        "As read, with place and instrument; figures in brackets are converted.",
        "Nothing was measured.",
    ),
    "originality": (
        "Originality of parts",
        "Where a part came from and what was done to it are two questions. Parts not listed: not known.",
        "Nothing is recorded of any part's origin. Unknown is the full answer.",
    ),
    "statements": ("Further statements", "Each with its basis in the same sentence.", "No further statement is made."),
    "told": (
        "Told, not verified",
        "Somebody said so; nothing on file supports it.",
        "Nothing was taken from hearsay into this page.",
    ),
    "closed": (
        "Repaired or corrected since",
        "A finding is never removed; it stays readable with what became of it.",
        "No finding has been closed.",
    ),
    "edits": (
        "What was done to the photos",
        "Every photo shown was reduced in size and brought to one colour space (sRGB); a see-through ground became "
        "white. Nothing was cropped, straightened, brightened, masked or painted over. The originals are kept as the "
        "camera wrote them.",
        "",
    ),
    "withheld": ("Photos withheld", "These photos are on file and are not published.", "No photo is withheld."),
    "waivers": (
        "Gaps that the house lets stand",
        "Each with the reason that was written down.",
        "No gap was let stand and no rule was lifted.",
    ),
    "looked-by": ("Who looked", "By role; names stay in the private record.", "Nobody is on record."),
    "changed": (
        "Changed since the edition before",
        "",
        "There is no edition before this one.",
    ),
    "definitions": ("Words used here", "As this house uses them; the trade does not agree on all of them.", ""),
}

WHAT_IT_IS: Final = (
    "A record of what was seen, measured, tested, read in papers or told about this car, with the photos that show it.",
    "Every sentence says how it is known. What nobody saw or tried is listed as large as what was found.",
    "Photos are shown upright and reduced in size; nothing in them was retouched.",
)
WHAT_IT_IS_NOT: Final = (
    "It is no warranty and no promise about what was not seen or not tested.",
    "It is no safety inspection and no roadworthiness test; those are for licensed people under local law.",
    "It says how things were on the days named, not how they are later.",
    "It takes the place of no form and no contract: where it differs, the form on the car and the contract govern.",
)
