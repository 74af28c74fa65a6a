"""Words on printed sheets: where to stand, how far, which lens, and conditions as somebody would say them."""

from __future__ import annotations

import re
import unicodedata
from datetime import date
from typing import Final

from lapseam.domain.condition import Condition
from lapseam.domain.phrases import day
from lapseam.domain.plan import Camera, PrivateSight, Shot

_SIDES: Final = (
    "Ahead of the nose",
    "Off the front right corner",
    "Beside the right side",
    "Off the rear right corner",
    "Behind the tail",
    "Off the rear left corner",
    "Beside the left side",
    "Off the front left corner",
)
_FROM: Final = (
    "from the front",
    "from the front right",
    "from the right",
    "from the rear right",
    "from the rear",
    "from the rear left",
    "from the left",
    "from the front left",
)
_STANDS: Final = {
    "ladder": "On a ladder",
    "inside": "In the car",
    "doorway": "In the doorway",
    "bay": "Over the engine bay",
    "trunk": "At the open trunk",
    "lift": "Under the raised car",
    "well": "At the wheel well",
    "table": "At a table",
}
_CLOSE_WITH: Final = {
    "card": "with the scale card",
    "arrow": "with an arrow",
    "both": "with scale card and arrow",
    "tape": "with a tape measure",
    "gauge": "with the gauge in the frame",
}
_SIGHTS: Final = {
    PrivateSight.PLATE: "a plate",
    PrivateSight.PAPER: "a paper",
    PrivateSight.STAMP: "a stamp",
    PrivateSight.KEY_CODE: "a key code",
}
_SIGNS: Final = {"==": "is", "!=": "is not", "<": "below", "<=": "at most", ">": "above", ">=": "at least"}
_CONDITION: Final = re.compile(r"'[^']*'|\[[^\]]*\]|[<>=!]=|[<>]|[^\s'\[\]<>=!]+")
_METRES_PER_FOOT: Final = 0.3048
_LONGEST_WORD: Final = 24
_TIE: Final = "\u00a0"
"""No-break space: a number and its unit stay together."""
_GAP: Final = "\u200b"
"""Zero-width space: where a word that is longer than a line may be broken."""


def metres(length_m: float) -> str:
    """A length in both systems: '7 m (23 ft)', '0.3 m (12 in)'."""
    feet = length_m / _METRES_PER_FOOT
    other = f"{feet:.0f}{_TIE}ft" if length_m >= 2 else f"{feet * 12:.0f}{_TIE}in"
    return f"{length_m:g}{_TIE}m ({other})"


def stand_words(camera: Camera) -> str:
    """Where to stand, which way to look, how far, how high, in one sentence."""
    opening = _STANDS.get(camera.at, "")
    spot = camera.spot
    if camera.bearing_deg is not None:
        spot = (_FROM if opening else _SIDES)[round((camera.bearing_deg % 360) / 45) % 8]
    parts = [opening, spot]
    if camera.look:
        parts.append(f"looking {camera.look.replace('-', ' and ')}")
    if camera.distance_m is not None:
        parts.append(f"{metres(camera.distance_m)} away")
    if camera.height_m is not None:
        parts.append(f"lens {metres(camera.height_m)} high")
    words = ", ".join(part for part in parts if part)
    return f"{words[:1].upper()}{words[1:]}." if words else ""


def lens_words(camera: Camera) -> str:
    """The lens range in full-frame millimetres, '' where the plan gives none."""
    if camera.lens_mm is None:
        return ""
    low, high = camera.lens_mm
    return f"{low} mm" if low == high else f"{low}–{high} mm"


def close_words(shot: Shot) -> str:
    """How near the closest frame is taken and what lies in it for scale, '' where the plan asks for none."""
    scale = _CLOSE_WITH.get(shot.close_scale, "")
    if shot.close_m is None:
        return scale
    return f"from {metres(shot.close_m)}" + (f", {scale}" if scale else "")


def private_words(shot: Shot) -> str:
    """What the frame may show that is looked at before it is published."""
    return " and ".join(_SIGHTS[sight] for sight in shot.private)


def condition_words(condition: Condition) -> str:
    """A condition as somebody would say it: "construction is x-frame or ladder-frame"."""
    words = []
    tokens = _CONDITION.findall(condition.text)
    for place, token in enumerate(tokens):
        if token.startswith("["):
            words.append(_either(re.findall(r"'([^']*)'|([^\s,\[\]']+)", token)))
        elif token == "in" and place + 1 < len(tokens) and tokens[place + 1].startswith("["):
            negated = bool(words) and words[-1] == "not"
            words[-1:] = ["is not"] if negated else [*words[-1:], "is"]
        else:
            words.append(_SIGNS.get(token, token.strip("'").replace("_", " ")))
    return " ".join(words)


def _either(found: list[tuple[str, str]]) -> str:
    values = [quoted or bare for quoted, bare in found]
    return values[0] if len(values) == 1 else f"{', '.join(values[:-1])} or {values[-1]}" if values else "nothing"


def duration(minutes: int) -> str:
    """'45 min', '6 h 40 min'."""
    hours, rest = divmod(minutes, 60)
    parts = [f"{hours} h"] * bool(hours) + [f"{rest} min"] * bool(rest or not hours)
    return " ".join(parts)


def printed(on: date) -> str:
    """When the sheet was printed."""
    return f"Printed {day(on)}"


def many(count: int, thing: str) -> str:
    """'1 shot', '12 shots'."""
    return f"{count} {thing}" if count == 1 else f"{count} {thing}s"


def fitting(words: str, most: int) -> str:
    """Free words made fit for paper: one line of text, no longer than `most`, with no word that no line can hold.

    Signs that steer a terminal or turn the direction of writing are taken out; the full words stay in the record.
    """
    spaced = (" " if sign.isspace() and sign != _TIE else sign for sign in words if sign.isspace() or _visible(sign))
    flat = " ".join(part for part in "".join(spaced).split(" ") if part)
    if len(flat) > most:
        flat = flat[: most - 1].rstrip() + "…"
    return " ".join(_breakable(word) for word in flat.split(" "))


def named(words: str, most: int) -> str:
    """`fitting` for a heading, which may not be empty."""
    return fitting(words, most) or "–"


def _visible(sign: str) -> bool:
    return unicodedata.category(sign) not in ("Cc", "Cf", "Cs", "Co", "Cn")


def _breakable(word: str) -> str:
    if len(word) <= _LONGEST_WORD:
        return word
    return _GAP.join(word[at : at + 8] for at in range(0, len(word), 8))
