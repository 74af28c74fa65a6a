"""Both systems of units are printed; which stands first is the house's to say, and what was read always says so.

Factors: 1 in = 25.4 mm, 1 mi = 1.609344 km (international yard and pound agreement, 1959).
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from fakes import demo_car
from lapseam.domain import coverage, edition, units
from lapseam.domain.edition import Edition


def made(*chosen: str) -> Edition:
    """The demo car's edition for a house with those units first; with none, as read first."""
    house = replace(demo_car.house(), own_units_first=bool(chosen), units=chosen or demo_car.house().units)
    car = demo_car.noted()
    return edition.build(car, coverage.check(car), (), house, number=1, made_at=demo_car.MADE_AT, signed=None)


def odometer(page: Edition) -> str:
    return page.disclosure.identity.rows[-1].words


def seat(page: Edition) -> str:
    """The finding whose length somebody read in millimetres."""
    rows = [one for group in page.disclosure.findings.rows for one in group.findings]
    return next(one.sentence for one in rows if "stuffing shows" in one.sentence)


def test_what_was_read_stands_first_unless_the_house_says_otherwise() -> None:
    assert odometer(made()).startswith("48 213 mi (about 77 591 km, converted), ")
    assert ", about 120 mm (about 4.7 in), " in seat(made())


def test_a_house_of_kilometres_reads_kilometres_first() -> None:
    page = made("km", "mm")
    assert odometer(page).startswith("about 77 591 km, converted (48 213 mi as read), ")
    assert ", about 120 mm (about 4.7 in), " in seat(page)
    assert "dash about 77591 km, converted (48213 mi as read)" in page.disclosure.measurements.rows[0].sentence


def test_a_house_of_inches_reads_inches_first() -> None:
    page = made("mi", "in")
    assert odometer(page).startswith("48 213 mi (about 77 591 km, converted), ")
    assert ", about 4.7 in (120 mm as read), " in seat(page)


@pytest.mark.parametrize(
    ("chosen", "there", "absent"),
    [(("mi", "in"), {"mi", "mil", "psi", "°F"}, {"km", "mm"}), (("mi", "mm"), {"mi", "mm", "µm"}, {"km", "in", "mil"})],
)
def test_a_house_may_drive_in_miles_and_measure_in_millimetres(
    chosen: tuple[str, str], there: set[str], absent: set[str]
) -> None:
    own = units.own_units(chosen)
    assert there <= own
    assert not absent & own


def test_a_length_is_turned_round_once_only() -> None:
    once = units.beside(
        "12 mm deep", "about {value} {unit}", turned="{converted} ({read} as read)", first=frozenset({"in"})
    )
    assert once == "about 0.47 in (12 mm as read) deep"
    again = units.beside(once, "about {value} {unit}", turned="{converted} ({read} as read)", first=frozenset({"in"}))
    assert again == once
