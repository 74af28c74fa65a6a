"""The setup card: what its code says, and the sizes on it that lengths are measured from.

A card is photographed first and last in a setup (or in a zone, where a house likes). Printing draws it, intake reads
it; both take the words and the millimetres from here. The code is a QR code (ISO/IEC 18004) whose text is
`LS1:<stock>:<setup>:<end>`; a zone's name begins with `@`, the end is `a` for the first card and `z` for the last. In
stock number and name `%`, `:`, `@` and what is no printable ASCII are percent-encoded (RFC 3986): four parts stay four.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final
from urllib.parse import quote, unquote

VERSION: Final = "LS1"

FRAME_MM: Final = (250.0, 180.0)
"""Distance between the centres of the corner marks, across and down; the same on every paper."""
CODE_MM: Final = 56.0
"""Side of the code's square of modules, without its quiet zone, whatever its version."""
CODE_AT_MM: Final = (16.0, 92.0)
"""Where the code's top left corner lies, right and down from the centre of the top left corner mark."""
SCALE_MM: Final = 200.0
"""Length of the printed scale."""
CHECK_MM: Final = 100.0
"""Length of the line that is laid against a ruler to see that the printer kept the size."""
GREY_SRGB: Final = 118
"""The grey patch, equal in red, green and blue: 18 % of white's luminance, L* 49.6 (sRGB curve of IEC 61966-2-1)."""

_STAYS: Final = "".join(chr(code) for code in range(0x21, 0x7F) if chr(code) not in "%:@")
_ZONE: Final = "@"


class CardOf(StrEnum):
    """What a card bounds."""

    SETUP = "setup"
    ZONE = "zone"


class CardEnd(StrEnum):
    """Whether a card is photographed before or after what it bounds."""

    FIRST = "a"
    LAST = "z"


@dataclass(frozen=True, slots=True)
class CardCode:
    """What a card's code says: whose car, which setup or zone of its plan, which end."""

    stock: str
    of: CardOf
    subject: str
    end: CardEnd

    @property
    def text(self) -> str:
        """The text in the code."""
        zone = _ZONE if self.of is CardOf.ZONE else ""
        return ":".join((VERSION, _encoded(self.stock), zone + _encoded(self.subject), self.end.value))


def read_code(text: str) -> CardCode | None:
    """What a decoded text says, or None if it is no card of ours: any code may lie in a picture."""
    parts = text.split(":")
    if len(parts) != 4 or parts[0] != VERSION or parts[3] not in tuple(CardEnd):
        return None
    of = CardOf.ZONE if parts[2].startswith(_ZONE) else CardOf.SETUP
    stock, subject = unquote(parts[1]), unquote(parts[2].removeprefix(_ZONE))
    return CardCode(stock, of, subject, CardEnd(parts[3])) if stock and subject else None


def _encoded(words: str) -> str:
    return quote(words, safe=_STAYS, errors="replace")
