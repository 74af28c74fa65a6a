"""Any single change to an edition is found and said in words; garbage is answered, not raised for."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fakes import published_car
from lapseam.publish import Harm, Recipe, make_edition, verify
from lapseam.publish.bag import files_below

SETTINGS = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    base = tmp_path_factory.mktemp("edition")
    photos = published_car.originals(base / "originals")
    return make_edition(
        published_car.edition(photos, signed=True),
        originals=photos.__getitem__,
        folder=base / "editions",
        plan_json="{}\n",
        tool_version="0.1.0",
        signer_role="manager",
        seal=published_car.seal(),
        recipe=Recipe(widths=(40,)),
    ).path


@contextmanager
def copied(made: Path) -> Iterator[Path]:
    place = made.parent.parent / "copy"
    shutil.rmtree(place, ignore_errors=True)
    shutil.copytree(made, place)
    yield place


def paths(made: Path) -> list[str]:
    return sorted(files_below(made))


@SETTINGS
@given(data=st.data())
def test_any_flipped_bit_of_any_file_is_found(made: Path, data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(paths(made)))
    with copied(made) as place:
        content = bytearray((place / name).read_bytes())
        at = data.draw(st.integers(0, len(content) - 1))
        content[at] ^= 1 << data.draw(st.integers(0, 7))
        (place / name).write_bytes(content)
        report = verify(place)
        assert not report.complete
        assert name in {fault.path for fault in report.faults} or not name.startswith("data/")
        if name.startswith("data/"):
            assert [fault.path for fault in report.of(Harm.CHANGED)] == [name]


@SETTINGS
@given(data=st.data())
def test_any_removed_file_is_named(made: Path, data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(paths(made)))
    with copied(made) as place:
        (place / name).unlink()
        report = verify(place)
        assert any(fault.path == name for fault in report.faults)


@SETTINGS
@given(data=st.data())
def test_any_renamed_payload_file_is_called_renamed(made: Path, data: st.DataObject) -> None:
    name = data.draw(st.sampled_from([path for path in paths(made) if path.startswith("data/")]))
    with copied(made) as place:
        (place / name).rename(place / "data" / "other.bin")
        report = verify(place)
        assert [fault.words for fault in report.faults] == [f"{name} is now called data/other.bin."]
        assert report.faults[0].harm is Harm.RENAMED


@SETTINGS
@given(data=st.data())
def test_any_renamed_file_of_the_bag_itself_is_found(made: Path, data: st.DataObject) -> None:
    name = data.draw(st.sampled_from([path for path in paths(made) if not path.startswith("data/")]))
    with copied(made) as place:
        (place / name).rename(place / f"{name}.old")
        report = verify(place)
        assert not report.complete
        assert {name, f"{name}.old"} & {fault.path for fault in report.faults}


@SETTINGS
@given(name=st.from_regex(r"\A[a-z]{1,8}\.[a-z]{1,3}\Z"), inside=st.sampled_from(["", "data", "data/photos"]))
def test_any_added_file_is_found(made: Path, name: str, inside: str) -> None:
    with copied(made) as place:
        (place / inside / name).write_bytes(b"new")
        report = verify(place)
        assert [fault.harm for fault in report.faults] == [Harm.ADDED]


def test_words_count_what_happened(made: Path) -> None:
    assert verify(made).words.startswith("Complete: ")
    with copied(made) as place:
        (place / "data" / "plan.json").unlink()
        (place / "data" / "more.txt").write_bytes(b"x")
        assert verify(place).words == "Not as published: 1 added, 1 missing."


@pytest.mark.parametrize("path", ["../../outside.txt", "/etc/hostname", "~/x", "data/../../outside.txt", "C:\\x"])
def test_a_hostile_list_is_refused_and_not_followed(made: Path, path: str) -> None:
    with copied(made) as place:
        with (place / "manifest-sha256.txt").open("a") as file:
            file.write("0" * 64 + f"  {path}\n")
        report = verify(place)
        assert any(repr(path) in fault.words for fault in report.of(Harm.REFUSED))


@pytest.mark.skipif(os.name != "posix", reason="needs links that anyone may make")
def test_links_and_pipes_are_not_followed(made: Path, tmp_path: Path) -> None:
    secret = tmp_path / "secret.txt"
    secret.write_text("s")
    with copied(made) as place:
        (place / "data" / "plan.json").unlink()
        (place / "data" / "plan.json").symlink_to(secret)
        (place / "data" / "elsewhere").symlink_to(tmp_path, target_is_directory=True)
        os.mkfifo(place / "data" / "pipe")
        named = {fault.path for fault in verify(place).of(Harm.REFUSED)}
        assert {"data/plan.json", "data/elsewhere", "data/pipe"} <= named
    (tmp_path / "link").symlink_to(made, target_is_directory=True)
    assert verify(tmp_path / "link").faults[0].harm is Harm.NOT_A_BAG


def test_parts_kept_elsewhere_are_not_fetched(made: Path) -> None:
    with copied(made) as place:
        (place / "fetch.txt").write_text("https://example.invalid/plan.json 3 data/plan.json\n")
        (place / "data" / "plan.json").unlink()
        report = verify(place)
        assert "nothing was fetched" in report.of(Harm.REFUSED)[0].words
        assert [fault.path for fault in report.of(Harm.MISSING)] == ["data/plan.json"]


def test_a_file_that_is_far_too_large_is_not_read(made: Path) -> None:
    with copied(made) as place:
        for name in ("data/photos/more.jpg", "data/plan.json", "bag-info.txt"):
            with (place / name).open("ab") as file:
                file.truncate(1 << 42)  # four terabytes that take no room
        report = verify(place)
        assert {fault.path for fault in report.faults} == {"data/photos/more.jpg", "data/plan.json", "bag-info.txt"}
        assert any("was not read" in fault.words for fault in report.faults)
        for name in ("manifest-sha256.txt", "tagmanifest-sha512.txt"):
            with (place / name).open("ab") as file:
                file.truncate(1 << 42)
        assert any("it is no list" in fault.words for fault in verify(place).faults)


def test_what_is_complete_is_counted_part_by_part(made: Path) -> None:
    pictures = len(list((made / "data" / "photos").iterdir()))
    assert [part.words for part in verify(made).parts] == [
        f"Photographs: complete, {pictures} files.",
        "Pages: complete, 3 files.",
        "Record: complete, 2 files.",
        "Shot plan: complete, 1 file.",
        "The bag's own lists: complete, 9 files.",
    ]


def test_one_list_that_hides_a_file_is_found_by_the_other(made: Path) -> None:
    with copied(made) as place:
        path = place / "manifest-sha512.txt"
        path.write_text("".join(path.read_text().splitlines(keepends=True)[1:]))
        assert any("does not list" in fault.words for fault in verify(place).faults)


def test_no_folder_and_an_empty_one(tmp_path: Path) -> None:
    assert verify(tmp_path / "none").faults[0].harm is Harm.NOT_A_BAG
    assert verify(tmp_path).faults[0].harm is Harm.NOT_A_BAG
    assert not verify(tmp_path).complete


@SETTINGS
@given(
    st.dictionaries(
        st.sampled_from(
            [
                "bagit.txt",
                "manifest-sha256.txt",
                "tagmanifest-sha512.txt",
                "bag-info.txt",
                "data/edition.json",
                "data/x",
            ]
        ),
        st.binary(max_size=300),
    )
)
def test_garbage_is_answered(tmp_path: Path, content: dict[str, bytes]) -> None:
    place = tmp_path / "garbage"
    shutil.rmtree(place, ignore_errors=True)
    (place / "data").mkdir(parents=True)
    for name, octets in content.items():
        (place / name).write_bytes(octets)
    assert not verify(place).complete


@pytest.mark.parametrize("said", [b"[]", b'{"number": true}', b'{"number": "9"}', b"9" * 9000, b"[" * 90_000])
def test_an_odd_list_of_its_own_gives_no_number(tmp_path: Path, said: bytes) -> None:
    (tmp_path / "data").mkdir()
    (tmp_path / "data" / "edition.json").write_bytes(said)
    assert verify(tmp_path).number == 0
