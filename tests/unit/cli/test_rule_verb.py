"""The verb `rule`: lists, works, refuses; needs no workspace."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest

from lapseam import cli
from lapseam.domain.measure.catalogue import RULES
from lapseam.workflow.rulebook import date_windows


def run(*words: str) -> tuple[int, str]:
    out = io.StringIO()
    return cli.main(["rule", *words], stdout=out), out.getvalue()


def test_without_a_name_every_rule_is_listed() -> None:
    code, told = run()
    assert code == 0
    assert all(f"\n{name} " in f"\n{told}" for name in RULES)
    code, told = run("--json")
    assert [one["name"] for one in json.loads(told)] == list(RULES)


def test_a_rule_shows_its_answer_working_source_and_cautions(tmp_path: Path) -> None:
    code, told = run("axle-ratio", "20", "12", "one-held", "--workspace", str(tmp_path / "none"))
    assert code == 0
    assert "3.333:1" in told
    assert "2 x 20 / 12 = 3.333" in told
    assert "Source:" in told
    assert "Approximate." in told
    assert not (tmp_path / "none").exists()


def test_json_has_values_units_source_and_how_it_is_known() -> None:
    code, told = run("tyre-size", "205/70R14", "--json")
    answer = json.loads(told)
    assert code == 0
    diameter = next(value for value in answer["values"] if value["name"] == "diameter")
    assert diameter == {"name": "diameter", "amount": 642.6, "shown": "642.6 mm (25.30 in)", "unit": "mm"}
    assert answer["known"] == "computed from the formula shown"


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["tire-size", "205/70R14"], "tyre-size"),
        (["displacement", "4", "3.48", "8"], "4 mm, or 4 in"),
        (["rust", "🟤"], "no number"),
        (["tread", "5/0"], "divides by nought"),
        (["odometer", "45123"], "READING mi|km"),
    ],
)
def test_a_mistake_is_one_sentence_and_exit_2(words: list[str], says: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(*words)[0] == 2
    assert says in capsys.readouterr().err


def test_part_dates_use_the_windows_that_ship() -> None:
    windows = {window.id: window for window in date_windows(None)}
    block = windows["dr-block-cast"]
    assert (block.least, block.most, block.look_closer_to) == (5, 90, 180)
    assert len(windows) == 9
    code, told = run("part-date", "dr-block-cast", "1968-10-21", "1968-12", "--json")
    assert code == 0
    assert json.loads(told)["values"][0]["amount"] == "consistent"


def test_a_house_sets_windows_of_its_own(tmp_path: Path) -> None:
    from shutil import copytree

    from lapseam.places import shot_plans

    own = tmp_path / "plans" / "vocabulary"
    copytree(shot_plans() / "vocabulary", own)
    dates = own / "dates.yaml"
    dates.write_text(dates.read_text().replace("normal: [5, 90]", "normal: [5, 30]"))
    windows = {window.id: window for window in date_windows(tmp_path)}
    assert windows["dr-block-cast"].most == 30
