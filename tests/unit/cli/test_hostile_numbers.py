"""Every place that takes a number: hostile words are understood or refused in words, and never break anything."""

from __future__ import annotations

import contextlib
import io
import shutil
from datetime import date, datetime
from pathlib import Path

import pytest

from lapseam import cli
from lapseam.domain.errors import Mistake, UserError
from lapseam.domain.measure.as_read import figures, reading_objection
from lapseam.workflow import Desk
from lapseam.workflow.rulebook import rules, work_out

STOCK, BY = "A-1", "Ann"
NOW = datetime.fromisoformat("2026-05-15T10:00:00+00:00")
HOSTILE = (
    *("5/32", "1,5", "1.5", "12mm", "12 mm", "-3", "1e9", "🚗", "１２", "NaN", "nan", "inf", "-inf", "Infinity", ""),
    *("1,250", "1.250,5", "48 213", "0x1F", "1_000", "½", "1½", "3/0", "--5", "+7", "12 34 56 78", "9" * 400, "٣", "∞"),
    *("12;DROP", "=1+1", "1e400", "0.0000001", "1\u00a0000", "twelve", "12\n13", "'; --"),
)
NONSENSE = (
    "1e9",
    "🚗",
    "NaN",
    "nan",
    "inf",
    "-inf",
    "Infinity",
    "0x1F",
    "3/0",
    "--5",
    "9" * 400,
    "∞",
    "1e400",
)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("numbers") / "yard"
    with Desk.open(folder, create=True, clock=lambda: NOW) as desk:
        desk.new_car(stock=STOCK, plan="hardtop-full", by=BY).result()
    return folder


@pytest.fixture
def folder(made: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(made, tmp_path / "yard"))


def said(folder: Path, *words: str) -> tuple[int, str]:
    trouble, out = io.StringIO(), io.StringIO()
    with contextlib.redirect_stderr(trouble):
        code = cli.main([*words, "--workspace", str(folder), "--by", BY], stdout=out)
    return code, out.getvalue() + trouble.getvalue()


def asked(number: str) -> tuple[tuple[str, ...], ...]:
    """Every verb that takes a number, with that number in it."""
    finding = (
        "finding",
        STOCK,
        "hood",
        "dent",
        "left edge",
        "--severity",
        "note",
        "--basis",
        "told",
        "--who-said",
        "seller",
    )
    measure = ("measure", STOCK, "m-tread", "left-front-wheel", f"inner={number} mm", "--instrument", "gauge")
    return (
        measure,
        ("measure", STOCK, "m-tread", "left-front-wheel", f"inner={number}mm", "--instrument", "gauge"),
        ("measure", STOCK, "m-odometer", "odometer", f"dash={number} mi", "--instrument", "eyes"),
        ("measure", STOCK, "m-coolant-temp", "engine-block", f"housing={number} C", "--instrument", "thermometer"),
        (*finding, f"--extent={number}"),
        (*finding, f"--count={number}"),
        ("describe", STOCK, f"--odometer-reading={number}"),
        ("describe", STOCK, f"--odometer-digits={number}"),
        ("describe", STOCK, f"--year={number}"),
        ("facts", STOCK, f"doors={number}"),
    )


@pytest.mark.parametrize("number", NONSENSE, ids=lambda words: words[:12])
def test_no_verb_records_what_is_no_number(folder: Path, number: str) -> None:
    for words in asked(number):
        code, told = said(folder, *words)
        assert code == 2, (words, told)
        assert len(told.strip()) > 20
        assert "Traceback" not in told


def test_what_people_write_is_understood(folder: Path) -> None:
    good = (
        ("measure", STOCK, "m-tread", "left-front-wheel", "inner=6,5 mm", "outer=6.5mm", "--instrument", "gauge"),
        ("measure", STOCK, "m-tread", "left-front-wheel", "inner=7 1/32 in", "--instrument", "gauge"),
        ("measure", STOCK, "m-odometer", "odometer", "dash=48,213 mi", "--instrument", "eyes"),
        ("measure", STOCK, "m-coolant-freeze", "cooling", "sample=-35 C", "--instrument", "refractometer"),
        ("describe", STOCK, "--odometer-reading=48 213", "--year=1968", "--odometer-digits=５"),
        ("facts", STOCK, "doors=２"),
    )
    for words in good:
        code, told = said(folder, *words)
        assert code == 0, (words, told)
    with Desk.open(folder, clock=lambda: NOW) as desk:
        car = desk.car(stock=STOCK).result()
    read = [(one.value, one.unit) for taken in car.measurements for one in taken.readings]
    assert read == [("6,5", "mm"), ("6.5", "mm"), ("7", "1/32 in"), ("48,213", "mi"), ("-35", "C")]
    assert car.details is not None
    assert (car.details.odometer_reading, car.details.odometer_digits, car.details.year) == (48213, 5, 1968)
    assert car.facts["doors"].value == 2


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (("measure", STOCK, "m-tread", "left-front-wheel", "a=1,250 mm", "--instrument", "g"), "reads two ways"),
        (("measure", STOCK, "m-tread", "left-front-wheel", "a=12cm mm", "--instrument", "g"), "is written in cm"),
        (("measure", STOCK, "m-tread", "left-front-wheel", "a=12 kPa", "--instrument", "g"), "is no unit of 'm-tread'"),
        (("measure", STOCK, "m-paint", "hood", "a=-3 um", "--instrument", "g"), "is below nought"),
        (
            ("measure", STOCK, "m-battery-rest", "charging-battery", "a=999999999 V", "--instrument", "g"),
            "is no amount of V",
        ),
        (("describe", STOCK, "--odometer-reading=-3"), "is below nought"),
        (("describe", STOCK, "--odometer-reading=12mm"), "has no unit"),
        (("facts", STOCK, "doors=12mm"), "wants a number"),
        (("facts", STOCK, "doors=-3"), "wants a number"),
    ],
)
def test_the_refusal_says_why(folder: Path, words: tuple[str, ...], why: str) -> None:
    code, told = said(folder, *words)
    assert code == 2
    assert why in told


@pytest.mark.parametrize("rule", rules(), ids=lambda rule: rule.name)
def test_no_rule_breaks_on_any_of_them(rule, tmp_path: Path) -> None:
    """Each word of a rule's own example is exchanged for each hostile one; part-date reads a vocabulary each time."""
    words = [word.strip("'") for word in rule.example.split()]
    tried = 0
    for place, word in enumerate(words):
        for number in HOSTILE if rule.name != "part-date" else HOSTILE[::20]:
            key, sign, _value = word.partition("=")
            wrong = [*words[:place], f"{key}={number}" if sign else number, *words[place + 1 :]]
            with contextlib.suppress(UserError):
                worked = work_out(rule=rule.name, words=wrong, today=date(2026, 5, 15), folder=tmp_path)
                assert worked.said
                assert "nan" not in worked.said.casefold().split()
                assert "inf" not in worked.said.casefold().split()
            tried += 1
    assert tried >= 2 * len(words)


@pytest.mark.parametrize("unit", ["mm", "um", "V", "%", "mi", "C", "rpm", "count", "text", "WWYY", "fraction", ":1"])
def test_a_reading_is_judged_without_breaking_whatever_stands_there(unit: str) -> None:
    for number in HOSTILE:
        assert isinstance(reading_objection(number, unit), str)
        if unit not in ("text", "WWYY"):
            assert bool(reading_objection(number, unit)) or number not in NONSENSE
    assert reading_objection("6.5", "mm") == ""


@pytest.mark.parametrize(
    ("words", "parted"),
    [
        ("6.5mm", ("6.5", "mm")),
        ("5/32 in", ("5/32", "in")),
        ("12", ("12", "")),
        ("🚗", ("🚗", "")),
        ('1½"', ("1 1/2", '"')),
    ],
)
def test_figures_and_unit_are_parted(words: str, parted: tuple[str, str]) -> None:
    assert figures(words) == parted


def test_a_rule_still_refuses_a_word_it_does_not_know(tmp_path: Path) -> None:
    """The loop over the rules can fail: a word that is no number raises, and is a Mistake in words."""
    with pytest.raises(Mistake, match="is no number"):
        work_out(rule="displacement", words=["🚗", "3.48in", "8"], today=date(2026, 5, 15), folder=tmp_path)
