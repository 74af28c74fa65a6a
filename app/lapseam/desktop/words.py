"""Every text of the windows goes through here: `_` and `_n` look it up, and the trade's words have their tables.

English stands in the code as the key (GNU gettext's habit), so a missing translation shows English, never a code.
`templates/messages/lapseam.pot` lists every key and a test keeps it complete.
"""

from __future__ import annotations

import gettext
from pathlib import Path

from lapseam import places
from lapseam.domain.coverage import State

_catalogue: gettext.NullTranslations = gettext.NullTranslations()


def use(catalogue: gettext.NullTranslations) -> None:
    """Take texts from that catalogue."""
    global _catalogue
    _catalogue = catalogue


def use_language(tag: str, folder: Path | None = None) -> None:
    """Take texts from the catalogue of that language (`en`, `de` …); English where there is none."""
    global _catalogue
    at = folder or places.templates() / "messages"
    _catalogue = gettext.translation("lapseam", localedir=str(at), languages=[tag], fallback=True)


def _(text: str) -> str:
    """The text in the language chosen."""
    return _catalogue.gettext(text)


def _n(one: str, many: str, number: int) -> str:
    """The text for that number, with `{n}` filled in."""
    return _catalogue.ngettext(one, many, number).format(n=number)


def state_word(state: State) -> str:
    """The one word for where a shot stands."""
    return {
        State.MISSED: _("missed"),
        State.TAKEN: _("taken, not looked at"),
        State.PARTLY: _("partly"),
        State.COVERED: _("covered"),
        State.NOT_REACHABLE: _("not reachable"),
        State.NOT_FITTED: _("not fitted"),
        State.DECIDE: _("decide"),
    }[state]


def zone_short(zone: str, name: str) -> str:
    """A zone's name for a narrow label, at most two short words; the full name where we know no shorter one."""
    return {
        "front": _("Front"),
        "left-side": _("Left"),
        "rear": _("Rear"),
        "right-side": _("Right"),
        "roof": _("Roof"),
        "glass": _("Glass"),
        "openings": _("Jambs"),
        "luggage": _("Trunk"),
        "cabin": _("Cabin"),
        "cabin-floor": _("Floor"),
        "dash": _("Dash"),
        "engine-bay": _("Engine"),
        "under-front": _("Under front"),
        "under-centre": _("Under centre"),
        "under-rear": _("Under rear"),
        "wheel-wells": _("Wells"),
        "wheels-brakes": _("Wheels"),
        "identity": _("Identity"),
        "documents": _("Papers"),
        "road-test": _("Road"),
        "soft-top": _("Top"),
        "pickup-bed": _("Bed"),
        "wagon-rear": _("Wagon rear"),
        "composite-body": _("Body"),
        "motorcycle": _("Cycle"),
        "handover": _("Loading"),
    }.get(zone, name)


def look_word(look: str) -> str:
    """Which way the lens points, worded for "looking …"."""
    return {
        "forward": _("forward"),
        "rearward": _("rearward"),
        "up": _("up"),
        "down": _("down"),
        "left": _("left"),
        "right": _("right"),
        "inward": _("inward"),
        "outward": _("outward"),
        "up-forward": _("up and forward"),
        "up-left": _("up and left"),
        "up-right": _("up and right"),
        "up-rearward": _("up and rearward"),
    }.get(look, look)


def not_reachable_word(reason: str) -> str:
    """A reason of the plan's list in words; an unknown one as it is written, without its hyphens."""
    return {
        "no-lift": _("No lift"),
        "lift-arm-in-the-way": _("Lift arm in the way"),
        "undertray-fitted": _("Undertray fitted"),
        "carpet-fixed": _("Carpet fixed"),
        "trim-fixed": _("Trim fixed"),
        "no-endoscope": _("No endoscope"),
        "no-consent": _("No consent"),
        "not-safe": _("Not safe"),
        "no-time": _("No time"),
    }.get(reason, reason.replace("-", " ").capitalize())


def fact_question(fact: str) -> str:
    """The question a fact asks, as one would ask it beside the car."""
    return _questions().get(fact, _("{fact}?").format(fact=fact.replace("_", " ").capitalize()))


def _questions() -> dict[str, str]:
    return {
        "body": _("What body has it?"),
        "construction": _("How is it built?"),
        "skin": _("What is the skin made of?"),
        "doors": _("How many side doors?"),
        "model_year": _("Which model year, as titled?"),
        "steering_side": _("On which side is the wheel?"),
        "gearbox": _("Which gearbox?"),
        "drive": _("Which wheels are driven?"),
        "engine_place": _("Where is the engine?"),
        "rear_suspension": _("What rear suspension?"),
        "fuel": _("What does it run on?"),
        "volts": _("How many volts?"),
        "lift": _("Is there a lift, pit or safe high stands?"),
        "gauge": _("Is a paint gauge for this skin at hand?"),
        "endoscope": _("Is an endoscope at hand?"),
        "carpet_lifts": _("May the carpet be raised?"),
        "rear_seat": _("Has it a rear seat?"),
        "torque_boxes": _("Has it torque boxes?"),
        "subframe_connectors": _("Has it subframe connectors?"),
        "vinyl_roof": _("Has it a vinyl roof?"),
        "sunroof": _("Has it a sunroof?"),
        "liftout_roof": _("Has it lift-out roof panels?"),
        "power_top": _("Has it a power top?"),
        "power_windows": _("Has it power windows?"),
        "power_seats": _("Has it power seats?"),
        "air_con": _("Has it air conditioning?"),
        "airbags": _("Has it airbags?"),
        "hv_system": _("Has it a high-voltage drive?"),
        "undertrays": _("Are undertrays fitted?"),
        "tow_hitch": _("Has it a tow hitch?"),
        "wood_trim": _("Has it wood trim?"),
        "third_seat": _("Has it a third seat?"),
        "roof_rack": _("Has it a roof rack?"),
        "sliding_door": _("Has it a sliding door?"),
        "bed_liner": _("Has it a bed liner?"),
        "body_tag": _("Did this make carry a body tag?"),
        "cert_label": _("Has it a certification label?"),
        "engine_stamp_known": _("Has the engine stamp been found?"),
        "runs": _("Does it run?"),
        "road_legal": _("May it be driven on the road today?"),
        "owner_allows_drive": _("Does the owner allow a drive?"),
        "ad_claims": _("What will the advertisement claim?"),
        "open_findings": _("How many findings still need a photo?"),
    }
