"""The house's outlets: read with every mistake named, and the trade's limits as the selection takes them."""

from __future__ import annotations

from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from ruamel.yaml import YAML

from lapseam.domain.errors import PlanBroken
from lapseam.domain.selection import LimitList, Outlet, PhotoList, TextForm
from lapseam.places import shot_plans
from lapseam.plans import schemas
from lapseam.plans.outlet_file import load_house_outlets, load_outlets, near_outlet
from lapseam.plans.outlet_rules import load_outlet_rules


def test_outlets_are_read_with_their_limits(tmp_path: Path) -> None:
    path = tmp_path / "outlets.yaml"
    path.write_text(
        'outlets:\n  - {name: Weekly sheet, photos: 12, max_bytes: 200000, aspect: "4:3", caption_chars: 90}\n'
        "  - {name: Own page, photos: 100, longest_px: 2400}\n"
    )
    first, second = load_outlets(path)
    assert first == Outlet("Weekly sheet", 12, 1600, 200_000, "4:3", 90, 0, True)
    assert (second.name, second.photos, second.longest_px, second.max_bytes) == ("Own page", 100, 2400, 0)
    assert "Own page" in near_outlet("Own pge", (first, second))


def test_no_file_is_no_outlet(tmp_path: Path) -> None:
    assert load_outlets(tmp_path / "outlets.yaml") == ()


def test_every_mistake_is_named_at_once(tmp_path: Path) -> None:
    path = tmp_path / "outlets.yaml"
    path.write_text(
        "outlets:\n"
        '  - {name: A, photos: 0, aspect: "wide"}\n'
        "  - {name: B, photos: 5, longest: 900}\n"
        "  - {name: b, photos: 5}\n"
        "  - {photos: 5}\n"
    )
    with pytest.raises(PlanBroken) as told:
        load_outlets(path)
    problems = "\n".join(told.value.problems)
    assert all(words in problems for words in ("photos", "aspect", "longest", "already", "name"))
    assert [f"outlets.yaml:{line}:" in problems for line in (2, 3, 4, 5)] == [True] * 4


def test_the_limits_of_the_trade_hold_as_many_photos_as_they_say() -> None:
    rules = load_outlet_rules(shot_plans() / "vocabulary")
    shots = 0
    for row in rules.limits:
        shots += len(row.shots)
        assert shots + row.flaws == row.limit
    assert len(rules.below) == 11
    assert all(len(swap.comes_in) == len(swap.gives_way) for swap in rules.swaps)


OWN = """\
outlets:
  - {name: Abroad, photos: 20, min_px: 800, form: markdown, title_chars: 60, teaser_chars: 160, photo_list: Seen first}
  - {name: Own page, photos: 100}
photo_lists:
  - name: Seen first
    limits:
      - {limit: 8, shots: [under-overall-front, under-overall-rear, dash-odometer, id-vin-plate], flaws: 3}
      - {limit: 20, shots: [ext-front-left], flaws: 6}
    gives_way: [ext-front-left]
"""


def test_a_list_of_the_house_s_own_stands_for_the_trade_s(tmp_path: Path) -> None:
    path = tmp_path / "outlets.yaml"
    path.write_text(OWN)
    house = load_house_outlets(path)
    abroad, page = house.outlets
    assert (abroad.form, abroad.min_px, abroad.title_chars, abroad.teaser_chars) == (TextForm.MARKDOWN, 800, 60, 160)
    own = house.photo_list(abroad)
    assert own == PhotoList(
        "Seen first",
        (
            LimitList(8, ("under-overall-front", "under-overall-rear", "dash-odometer", "id-vin-plate"), 3),
            LimitList(20, ("ext-front-left",), 6),
        ),
        ("ext-front-left",),
    )
    assert house.photo_list(page) is None
    trade = load_outlet_rules(shot_plans() / "vocabulary")
    assert trade.by(own).limits == own.limits
    assert trade.by(own).below == trade.below
    assert trade.by(None) is trade
    schema = Draft202012Validator(schemas()["outlets.schema.json"])
    assert list(schema.iter_errors(YAML(typ="safe").load(OWN))) == []
    assert not schema.is_valid(YAML(typ="safe").load(OWN.replace("form: markdown", "form: word")))


@pytest.mark.parametrize(
    ("was", "now", "line", "words"),
    [
        ("photo_list: Seen first}", "photo_list: Sen first}", 2, "did you mean 'Seen first'"),
        ("min_px: 800", "min_px: 1700", 2, "at least 1700 and at most 1600"),
        ("dash-odometer, ", "", 7, "no limit may drop dash-odometer"),
        ("flaws: 3", "flaws: 1", 7, "never dropped"),
        ("limit: 20", "limit: 8", 8, "comes after 8"),
        ("flaws: 6", "flaws: 16", 8, "do not fit 20 photos"),
        ("form: markdown", "form: word", 2, "not one of: plain, markdown, html"),
    ],
)
def test_what_is_wrong_with_a_list_or_an_outlet_is_said_with_its_line(
    tmp_path: Path, was: str, now: str, line: int, words: str
) -> None:
    path = tmp_path / "outlets.yaml"
    path.write_text(OWN.replace(was, now))
    with pytest.raises(PlanBroken) as told:
        load_house_outlets(path)
    problem = told.value.problems[0]
    assert f"outlets.yaml:{line}:" in problem
    assert words in problem
