"""One quantity in every unit of its kind, with the factor that was used.

Factors are those of `domain.units`: exact by the international yard and pound agreement of 1959, psi and inHg rounded
to seven figures as in NIST SP 811.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from .. import units
from ..errors import Mistake
from .reading import quantity, quoted
from .worked import Known, Value, Worked, either, grouped

MOST: Final = 10**9
_LEAST: Final = Fraction(1, 1000)
_SOURCE: Final = "international yard and pound agreement (1959); NIST SP 811, appendix B.8, for psi and inHg"
_ROUNDED: Final = ("psi", "inHg")


def convert(words: str, *, into: str = "") -> Worked:
    """A quantity such as `5/32 in` in the unit `into`, or where none is given in every handy one.

    Raises:
        Mistake: it is no quantity, has no unit, or the unit asked measures something else.
    """
    read = quantity(words, of="the quantity")
    if read.unit not in units.SIZES:
        raise Mistake(
            f"{quoted(words)} has no unit to convert from.", next_step=f"Write one of {either(units.SIZES)} behind it."
        )
    if abs(read.amount) > MOST:
        raise Mistake(f"{quoted(words)} is beyond what is measured on a car.", next_step="Look at the figures again.")
    kind, size = units.SIZES[read.unit]
    fitting = tuple(name for name, (other, _) in units.SIZES.items() if other == kind and name != read.unit)
    if into and into not in fitting:
        raise Mistake(f"{read.unit} cannot be turned into {quoted(into)}.", next_step=f"Use one of {either(fitting)}.")
    usual = into or units.other_unit(read.unit) or fitting[0]
    handy = (one for one in fitting if one == usual or _LEAST <= abs(read.amount) * size / units.SIZES[one][1] <= MOST)
    wanted = (into,) if into else tuple(handy)
    first = grouped_exactly(read.amount)
    said = grouped_exactly(read.amount * size / units.SIZES[usual][1])
    return Worked(
        rule="units",
        said=f"{first} {read.unit} is {said} {usual}.",
        values=tuple(_value(read.amount * size / units.SIZES[name][1], name) for name in wanted),
        working=tuple(f"1 {read.unit} = {grouped_exactly(size / units.SIZES[name][1], 8)} {name}." for name in wanted),
        source=_SOURCE,
        known=Known.COMPUTED,
        cautions=("psi and inHg are rounded to seven figures.",) if {read.unit, *wanted} & set(_ROUNDED) else (),
        approximate=False,
    )


def _value(amount: Fraction, unit: str) -> Value:
    return Value(unit, float(amount), f"{grouped_exactly(amount)} {unit}", unit)


def grouped_exactly(amount: Fraction, figures: int = 6) -> str:
    """A number to so many significant figures, with groups of three and no idle noughts; never in powers of ten."""
    value = float(amount)
    if value == 0:
        return "0"
    whole = len(str(int(abs(value)))) if abs(value) >= 1 else 0
    below = 0
    while not whole and abs(value) * 10 ** (below + 1) < 1:
        below += 1
    words = grouped(value, max(0, figures - whole) + below)
    return words.rstrip("0").rstrip(".") if "." in words else words
