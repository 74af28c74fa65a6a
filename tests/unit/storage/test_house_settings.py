"""settings.yaml: read with every problem at once and its line, written without losing a person's comments."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from lapseam.domain.car import House, Person
from lapseam.domain.errors import SettingsBroken
from lapseam.storage import load_house, save_house

WRITTEN = """\
# Ours.
name: Saltmarsh Lane Collector Cars   # as on the sign
units: [km, mm]

# who works here
people:
  # at the lift
  - name: Ada Lindqvar
    roles: [photographer]   # since May
  - {name: Jun Thornby, roles: [manager]}
stale_photo_days: 45
language: 'en'
"""
HOUSE = House(
    name="Saltmarsh Lane Collector Cars",
    units=("km", "mm"),
    people=(Person("Ada Lindqvar", ("photographer",)), Person("Jun Thornby", ("manager",))),
    stale_photo_days=45,
)


def write(folder: Path, text: str) -> None:
    (folder / "settings.yaml").write_text(text, "utf-8")


def test_without_a_file_the_defaults_hold(tmp_path: Path) -> None:
    assert load_house(tmp_path) == House()
    write(tmp_path, "# nothing yet\n")
    assert load_house(tmp_path) == House()


def test_what_is_written_is_read(tmp_path: Path) -> None:
    write(tmp_path, WRITTEN)
    assert load_house(tmp_path) == HOUSE


def test_the_distance_after_which_photos_are_old_is_a_setting(tmp_path: Path) -> None:
    write(tmp_path, "stale_km: 250\n")
    assert load_house(tmp_path).stale_km == 250
    for wrong in ("0", "2.5", "far", "true"):
        write(tmp_path, f"stale_km: {wrong}\n")
        with pytest.raises(SettingsBroken) as caught:
            load_house(tmp_path)
        assert "stale_km: wants a whole number of kilometres from 1" in caught.value.problems[0]


def test_all_problems_are_told_at_once_with_their_lines(tmp_path: Path) -> None:
    write(
        tmp_path,
        "nmae: Saltmarsh\n"
        "units: [furlong, in]\n"
        "one_person_firm: perhaps\n"
        "stale_photo_days: 0\n"
        "people:\n"
        "  - {name: Ada, roles: [photografer]}\n"
        "  - {name: Jun, role: manager}\n"
        "  - {name: Ada}\n"
        "  - Mirek\n"
        "  - {roles: lister}\n",
    )
    with pytest.raises(SettingsBroken) as caught:
        load_house(tmp_path)
    assert caught.value.problems == (
        "settings.yaml:1: unknown setting 'nmae' (did you mean 'name'?)",
        "settings.yaml:2: units: wants [mi or km, in or mm or cm], not a list or group",
        "settings.yaml:3: one_person_firm: wants true or false, not 'perhaps'",
        "settings.yaml:4: stale_photo_days: wants a whole number of days from 1, not 0",
        "settings.yaml:6: people: 'photografer' is no role (did you mean 'photographer'?); one of: photographer, "
        "lister, manager, phone, mechanic, clerk, dispatcher",
        "settings.yaml:7: people: unknown word 'role' (did you mean 'roles'?)",
        "settings.yaml:9: people: wants {name: …, roles: […]}, not 'Mirek'",
        "settings.yaml:10: people: everybody needs a name",
        "settings.yaml:10: people: roles wants a list, not 'lister'",
    )


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("name: [a\nunits: b\n", 2),
        ("name: a\nname: b\n", 2),
        ("- a\n", 1),
        ("people:\n  - {name: A, roles: []}\n  - {name: A, roles: []}\n", 3),
        ("a: &x [*x]\n", 1),
        ("people: Ada\n", 1),
    ],
)
def test_a_file_that_does_not_hold_names_the_line(tmp_path: Path, text: str, line: int) -> None:
    write(tmp_path, text)
    with pytest.raises(SettingsBroken) as caught:
        load_house(tmp_path)
    assert caught.value.problems[0].startswith(f"settings.yaml:{line}: ")


@pytest.mark.parametrize("content", [b"name: a\nunits: \xff\n", b"\x00\x01", b"name: !!python/object:x {}\n", b"{{{"])
def test_nothing_in_a_file_is_a_crash(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "settings.yaml").write_bytes(content)
    with pytest.raises(SettingsBroken):
        load_house(tmp_path)
    with pytest.raises(SettingsBroken):
        save_house(tmp_path, House())
    assert (tmp_path / "settings.yaml").read_bytes() == content


def test_saving_keeps_comments_order_and_what_did_not_change(tmp_path: Path) -> None:
    write(tmp_path, WRITTEN)
    save_house(tmp_path, replace(HOUSE, stale_photo_days=60, units=("mi", "in")))
    text = (tmp_path / "settings.yaml").read_text("utf-8")
    lines = text.splitlines()
    for kept in ("# Ours.", "# who works here", "  # at the lift", "    roles: [photographer]   # since May"):
        assert kept in lines
    assert lines[1] == "name: Saltmarsh Lane Collector Cars   # as on the sign"
    assert lines[2] == "units: [mi, in]"
    assert "language: 'en'" in lines
    assert "stale_photo_days: 60" in lines
    assert load_house(tmp_path) == replace(HOUSE, stale_photo_days=60, units=("mi", "in"))


def test_people_come_go_and_change_roles(tmp_path: Path) -> None:
    write(tmp_path, WRITTEN)
    people = (Person("Ada Lindqvar", ("photographer", "lister")), Person("Mirek Osoba", ("lister",)))
    save_house(tmp_path, replace(HOUSE, people=people))
    assert load_house(tmp_path).people == people
    assert "# at the lift" in (tmp_path / "settings.yaml").read_text("utf-8")


def test_a_first_file_explains_itself_and_saves_the_same_again(tmp_path: Path) -> None:
    save_house(tmp_path, HOUSE)
    first = (tmp_path / "settings.yaml").read_text("utf-8")
    assert first.startswith("# The settings of this house.")
    assert load_house(tmp_path) == HOUSE
    save_house(tmp_path, HOUSE)
    assert (tmp_path / "settings.yaml").read_text("utf-8") == first


@pytest.mark.parametrize(
    "name", ["yes", "1:30", "a: b # c", "Größer & Söhne", '"', "", " x", "- a", "null", "a\nb", "%x"]
)
def test_any_name_survives(tmp_path: Path, name: str) -> None:
    house = House(name=name, people=(Person(name.strip() or "Ada", ("phone",)),))
    save_house(tmp_path, house)
    assert load_house(tmp_path) == house
