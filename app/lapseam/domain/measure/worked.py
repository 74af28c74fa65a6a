"""What every rule answers with: values, the working in words, the source, and cautions."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from enum import Enum

from .. import units

Amount = bool | int | float | str | date | Enum | tuple[object, ...] | None


class Known(Enum):
    """How well the figures of a rule are known."""

    PRIMARY = "read in the primary text or an official publication"
    SECONDARY = "read in a secondary source"
    COMPUTED = "computed from the formula shown"
    MEMORY = "from memory, not found in a published source"
    PRACTICE = "common practice of the trade, no standard"


@dataclass(frozen=True, slots=True)
class Value:
    """One value of the answer. `shown` carries the unit, and the other system's where buyers need both."""

    name: str
    amount: Amount
    shown: str
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Worked:
    """A rule's answer.

    `said` is the answer in one sentence; `working` are the steps; `understood` says how what was asked was read;
    `approximate` is set where the figures are no more than that.
    """

    rule: str
    said: str
    values: tuple[Value, ...]
    working: tuple[str, ...]
    source: str
    known: Known
    cautions: tuple[str, ...] = ()
    approximate: bool = False
    understood: tuple[str, ...] = ()

    def value(self, name: str) -> Value:
        """The value of that name.

        Raises:
            KeyError: the answer has none of that name.
        """
        for one in self.values:
            if one.name == name:
                return one
        raise KeyError(name)

    def amount(self, name: str) -> Amount:
        """The bare amount of the value of that name, KeyError if there is none."""
        return self.value(name).amount


def measured(
    name: str, amount: float, unit: str, places: int = 1, *, beside: str = "", beside_places: int = 2
) -> Value:
    """A value in its unit with the other system's in brackets; `beside` names the other unit, else the usual one."""
    return Value(name, amount, both(amount, unit, places, beside=beside, beside_places=beside_places), unit)


def both(amount: float, unit: str, places: int = 1, *, beside: str = "", beside_places: int = 2) -> str:
    """The amount in its unit and in the other system's: '642.6 mm (25.30 in)'."""
    first = f"{grouped(amount, places)} {unit}"
    other = beside or units.other_unit(unit)
    if not other:
        return first
    return f"{first} ({grouped(units.change(amount, unit, other), beside_places)} {other})"


def grouped(amount: float, places: int = 0) -> str:
    """A number with thin groups of three: 63 360, 1 040.25. Never in powers of ten, never a minus nought."""
    words = f"{amount:,.{places}f}".replace(",", " ")
    return words[1:] if words.startswith("-") and not any(c in "123456789" for c in words) else words


def either(words: Iterable[object]) -> str:
    """'1979, 1989 or 1999'."""
    every = [str(word) for word in words]
    return f"{', '.join(every[:-1])} or {every[-1]}" if len(every) > 1 else "".join(every)
