"""How old evidence is on a day, when that is too old, and what renews it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fakes import cars
from lapseam.domain.ageing import Lasting, age, age_of, driven_since, lasting_of, odometer_readings
from lapseam.domain.car import House
from lapseam.domain.statement import Basis, CheckResult, CheckVerdict, Evidence, Measurement, Reading, Statement

TODAY = date(2026, 8, 30)
HOUSE = House()


def days_ago(days: int) -> date:
    return TODAY - timedelta(days=days)


@pytest.mark.parametrize(
    ("how", "days", "stale"),
    [
        (Lasting.LOOK, 90, False),
        (Lasting.LOOK, 91, True),
        (Lasting.READING, 91, True),
        (Lasting.RUN, 60, False),
        (Lasting.RUN, 61, True),
        (Lasting.PAPER, 4000, False),
        (Lasting.WORD, 4000, False),
        (Lasting.OPEN, 4000, False),
    ],
)
def test_looks_go_stale_after_90_days_and_runs_after_60(how: Lasting, days: int, stale: bool) -> None:
    assert age(how, days_ago(days), today=TODAY, house=HOUSE).stale is stale


def test_the_house_sets_days_and_distance() -> None:
    strict = replace(HOUSE, stale_photo_days=10, stale_check_days=5, stale_km=20)
    assert age(Lasting.LOOK, days_ago(11), today=TODAY, house=strict).words == "11 days ago, older than 10 days"
    assert age(Lasting.RUN, days_ago(6), today=TODAY, house=strict).stale
    driven = age(Lasting.LOOK, days_ago(1), today=TODAY, house=strict, driven_km=21)
    assert (driven.stale, driven.words) == (True, "yesterday, 21 km were driven since")
    assert not age(Lasting.LOOK, days_ago(1), today=TODAY, house=strict, driven_km=20).stale
    assert not age(Lasting.RUN, days_ago(1), today=TODAY, house=strict, driven_km=900).stale


def test_what_renews_it_depends_on_how_it_is_known() -> None:
    renew = {how: age(how, TODAY, today=TODAY, house=HOUSE).renew for how in Lasting}
    assert renew[Lasting.LOOK] == "look at it again and take a new photo"
    assert renew[Lasting.RUN] == "test it again"
    assert renew[Lasting.PAPER] == ""
    assert renew[Lasting.WORD] == "a paper, a look or a test would prove it"


def test_evidence_without_a_day_and_of_a_day_to_come_is_not_trusted() -> None:
    undated = age(Lasting.LOOK, None, today=TODAY, house=HOUSE)
    assert (undated.days, undated.stale, undated.words) == (None, True, "no day is on file")
    coming = age(Lasting.LOOK, days_ago(-1), today=TODAY, house=HOUSE)
    assert (coming.stale, coming.words) == (True, "its day, 2026-08-31, is still to come")


def test_every_basis_ages_in_its_way() -> None:
    assert {basis: lasting_of(Evidence(basis)) for basis in Basis} == {
        Basis.SEEN: Lasting.LOOK,
        Basis.MEASURED: Lasting.READING,
        Basis.TESTED: Lasting.RUN,
        Basis.DOCUMENTED: Lasting.PAPER,
        Basis.TOLD: Lasting.WORD,
        Basis.NOT_CHECKED: Lasting.OPEN,
    }


def odometer(number: int, day: date, value: str, unit: str = "km") -> Measurement:
    at = datetime(2026, 5, 12, 12)
    return Measurement(
        number, "m-odometer", "odometer", (Reading("dash", value, unit),), cars.ANNA, at, "counter", on=day
    )


def test_distance_is_read_off_the_odometer() -> None:
    car = replace(
        cars.car(),
        measurements=(
            odometer(1, days_ago(50), "1 000"),
            odometer(2, days_ago(30), "1,100"),
            odometer(3, days_ago(10), "1000", "mi"),
            odometer(4, days_ago(5), "unreadable"),
            odometer(5, days_ago(5), "nan"),
        ),
    )
    readings = odometer_readings(car)
    assert [round(km) for _, km in readings] == [1000, 1100, 1609]
    assert round(driven_since(readings, days_ago(30))) == 509
    assert round(driven_since(readings, days_ago(60))) == 609, "before the first reading: from the first"
    assert driven_since(readings, days_ago(1)) == 0
    assert driven_since(readings[:1], days_ago(60)) == 0


def test_an_odometer_that_went_round_tells_no_distance() -> None:
    assert driven_since(((days_ago(9), 99_990.0), (days_ago(1), 20.0)), days_ago(9)) == 0


def test_each_thing_of_a_record_has_its_age() -> None:
    horn = CheckResult("chk-horn", CheckVerdict.WORKS, cars.ANNA, cars.NOON, conditions="cold", on=days_ago(61))
    paper = Statement(
        1, "paint", "Repainted", Evidence(Basis.TOLD, who_said="seller", on=days_ago(400)), "A", cars.NOON
    )
    car = replace(cars.car(), measurements=(odometer(1, days_ago(70), "0"), odometer(2, TODAY, "600")))
    tested = age_of(horn, car, today=TODAY, house=HOUSE)
    assert (tested.days, tested.stale, tested.renew, tested.driven_km) == (61, True, "test it again", 600)
    assert not age_of(paper, car, today=TODAY, house=HOUSE).stale
    untested = CheckResult("chk-horn", CheckVerdict.NOT_TESTED, cars.ANNA, cars.NOON, reason="no-time")
    assert age_of(untested, car, today=TODAY, house=HOUSE).renew == "have it looked at or tested"


@given(st.sampled_from(Lasting), st.integers(0, 5000), st.integers(0, 5000), st.floats(0, 1e6))
def test_evidence_never_grows_fresh_by_waiting(how: Lasting, days: int, more: int, driven_km: float) -> None:
    first = age(how, days_ago(days), today=TODAY, house=HOUSE, driven_km=driven_km)
    later = age(how, days_ago(days), today=TODAY + timedelta(days=more), house=HOUSE, driven_km=driven_km)
    assert later.stale or not first.stale
