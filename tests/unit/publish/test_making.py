"""Editions appear whole or not at all; numbers only rise; the same input gives the same bytes."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from fakes import published_car
from lapseam import places
from lapseam.domain.edition import Edition
from lapseam.domain.errors import Cancelled, PublishFailed
from lapseam.publish import MadeEdition, Recipe, bag_sha256, make_edition, numbers, sweep, verify
from lapseam.publish.checking import PageRead

SMALL = Recipe(widths=(60, 120))


@pytest.fixture
def photos(tmp_path: Path) -> dict[str, Path]:
    return published_car.originals(tmp_path / "originals")


def make(edition: Edition, photos: dict[str, Path], folder: Path, **more: object) -> MadeEdition:
    return make_edition(
        edition,
        originals=photos.__getitem__,
        folder=folder,
        plan_json='{"id": "small"}\n',
        tool_version="0.1.0",
        recipe=SMALL,
        **more,  # type: ignore[arg-type]
    )


def tree(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_an_edition_is_whole_and_says_so(tmp_path: Path, photos: dict[str, Path]) -> None:
    told: list[tuple[int, int]] = []
    made = make(published_car.edition(photos), photos, tmp_path / "editions", progress=lambda *step: told.append(step))
    assert made.path == tmp_path / "editions" / "0001"
    assert told == [(1, 3), (2, 3), (3, 3)]
    report = verify(made.path)
    assert report.complete, report.faults
    assert (report.number, report.signed) == (1, False)
    assert report.bag_sha256 == made.bag_sha256 == bag_sha256(made.path)
    assert {path.name for path in (made.path / "data").iterdir()} == {
        "index.html",
        "disclosure.html",
        "disclosure.pdf",
        "photos",
        "record.json",
        "plan.json",
        "edition.json",
    }
    assert [path.name for path in (tmp_path / "editions").iterdir()] == ["0001"]


def test_texts_for_outlets_lie_in_the_package_and_are_checked_with_it(tmp_path: Path, photos: dict[str, Path]) -> None:
    texts = {"listing.txt": b"A car.\n", "outlets/weekly-sheet.json": b"{}\n"}
    made = make(published_car.edition(photos), photos, tmp_path, texts=texts)
    for name, content in texts.items():
        assert (made.path / "data" / name).read_bytes() == content
    assert verify(made.path).complete
    (made.path / "data" / "listing.txt").write_bytes(b"A car without flaws.\n")
    assert [fault.path for fault in verify(made.path).faults] == ["data/listing.txt"]


def test_the_list_names_originals_and_published_files(tmp_path: Path, photos: dict[str, Path]) -> None:
    made = make(published_car.edition(photos), photos, tmp_path, record_sha256="ab" * 32)
    said = json.loads((made.path / "data" / "edition.json").read_text())
    assert (said["number"], said["status"], said["signed_by_role"]) == (1, "UNSIGNED", "")
    assert said["record_sha256"] == "ab" * 32
    assert [photo["original_sha256"] for photo in said["photos"]] == list(photos)
    for photo in said["photos"]:
        for file in photo["files"]:
            content = (made.path / "data" / file["path"]).read_bytes()
            assert len(content) == file["octets"]
    assert json.loads((made.path / "data" / "record.json").read_text())["findings"] == [7]


@pytest.mark.parametrize("signed", [False, True])
def test_the_list_fits_its_published_schema(tmp_path: Path, photos: dict[str, Path], signed: bool) -> None:
    schema = json.loads((places.shot_plans() / "edition.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    made = make(published_car.edition(photos, signed=signed), photos, tmp_path)
    said = json.loads((made.path / "data" / "edition.json").read_text())
    listed = {file["path"] for photo in said["photos"] for file in photo["files"]}
    assert listed == {f"photos/{path.name}" for path in (made.path / "data" / "photos").iterdir()}
    assert [fault.message for fault in Draft202012Validator(schema).iter_errors(said)] == []
    said["photos"][0]["files"][0]["media_type"] = "image/gif"
    assert not Draft202012Validator(schema).is_valid(said)


def test_both_pages_print_the_fingerprint_of_the_list(tmp_path: Path, photos: dict[str, Path]) -> None:
    made = make(published_car.edition(photos), photos, tmp_path)
    for name in ("index.html", "disclosure.html"):
        assert made.seal in (made.path / "data" / name).read_text(encoding="utf-8")


def test_building_twice_gives_the_same_bytes(tmp_path: Path, photos: dict[str, Path]) -> None:
    edition = published_car.edition(photos)
    one = make(edition, photos, tmp_path / "one", cache=tmp_path / "cache")
    two = make(edition, photos, tmp_path / "two", cores=1)
    assert tree(one.path) == tree(two.path)
    assert one.bag_sha256 == two.bag_sha256


def test_a_signed_edition_has_the_role_the_signature_and_no_flag(tmp_path: Path, photos: dict[str, Path]) -> None:
    seal = published_car.seal()
    made = make(published_car.edition(photos, signed=True), photos, tmp_path, signer_role="manager", seal=seal)
    assert json.loads((made.path / "data" / "edition.json").read_text())["signed_by_role"] == "manager"
    listed = (made.path / "tagmanifest-sha256.txt").read_bytes()
    assert seal.sign is not None
    assert (made.path / "signature.ed25519").read_bytes() == seal.sign(listed)
    assert b"signer.json" in listed
    assert b"signer.pem" in listed
    for name in ("index.html", "disclosure.html"):
        assert "UNSIGNED" not in "".join(PageRead((made.path / "data" / name).read_text()).words)
    assert verify(made.path).complete


def test_unsigned_stands_on_every_page_and_in_the_list(tmp_path: Path, photos: dict[str, Path]) -> None:
    made = make(published_car.edition(photos), photos, tmp_path)
    for name in ("index.html", "disclosure.html"):
        page = PageRead((made.path / "data" / name).read_text(encoding="utf-8"))
        assert "UNSIGNED" in "".join(page.words)
    assert "UNSIGNED" in (made.path / "bag-info.txt").read_text()


@pytest.mark.parametrize("number", [1, 2])
def test_a_number_is_never_used_again(tmp_path: Path, photos: dict[str, Path], number: int) -> None:
    made = make(published_car.edition(photos, number=2), photos, tmp_path)
    before = tree(made.path)
    with pytest.raises(PublishFailed, match="is there already"):
        make(published_car.edition(photos, number=number), photos, tmp_path)
    assert tree(made.path) == before
    assert numbers(tmp_path) == [2]


def test_a_photo_that_fails_leaves_the_last_edition_alone(tmp_path: Path, photos: dict[str, Path]) -> None:
    folder = tmp_path / "editions"
    first = make(published_car.edition(photos), photos, folder)
    before = tree(folder)
    broken = tmp_path / "broken.jpg"
    broken.write_bytes(b"\xff\xd8 no")
    with pytest.raises(PublishFailed):
        make(published_car.edition(photos, number=2), dict.fromkeys(photos, broken), folder)
    assert tree(folder) == before
    assert [path.name for path in folder.iterdir()] == [first.path.name]


def test_stopping_at_the_last_moment_leaves_nothing(tmp_path: Path, photos: dict[str, Path]) -> None:
    asked: list[int] = []

    def stop() -> bool:
        asked.append(1)
        return len(asked) > len(photos)

    with pytest.raises(Cancelled):
        make(published_car.edition(photos), photos, tmp_path / "editions", stop=stop)
    assert list((tmp_path / "editions").iterdir()) == []


def test_a_page_that_lacks_a_photo_is_not_published(tmp_path: Path, photos: dict[str, Path]) -> None:
    edition = published_car.edition(photos)
    fewer = replace(edition, gallery=replace(edition.gallery, chapters=edition.gallery.chapters[:1]))
    with pytest.raises(PublishFailed, match="did not pass its own check"):
        make(fewer, photos, tmp_path / "editions")
    assert list((tmp_path / "editions").iterdir()) == []


def test_a_link_to_nowhere_is_not_published(tmp_path: Path, photos: dict[str, Path]) -> None:
    edition = published_car.edition(photos)
    lost = replace(edition.gallery.ribbon[0], target="photo-99")
    with pytest.raises(PublishFailed, match="names no place"):
        make(replace(edition, gallery=replace(edition.gallery, ribbon=(lost,))), photos, tmp_path / "editions")


def test_an_unsigned_page_without_its_flag_is_not_published(tmp_path: Path, photos: dict[str, Path]) -> None:
    edition = published_car.edition(photos)
    silent = replace(edition, disclosure=replace(edition.disclosure, flag=""))
    with pytest.raises(PublishFailed, match="does not say UNSIGNED"):
        make(silent, photos, tmp_path / "editions")


def test_leftovers_of_a_killed_build_are_swept_and_nothing_else(tmp_path: Path, photos: dict[str, Path]) -> None:
    made = make(published_car.edition(photos), photos, tmp_path)
    outside = tmp_path.parent / f"{tmp_path.name}-outside"
    outside.mkdir()
    (outside / "kept.txt").write_text("kept")
    (tmp_path / ".making-0002-4711" / "data").mkdir(parents=True)
    (tmp_path / ".making-0002-4711-scrap").mkdir()
    (tmp_path / ".making-0003-1").symlink_to(outside, target_is_directory=True)
    (tmp_path / "notes.txt").write_text("mine")
    assert sweep(tmp_path) == (".making-0002-4711", ".making-0002-4711-scrap", ".making-0003-1")
    assert sorted(path.name for path in tmp_path.iterdir() if path.name != "originals") == ["0001", "notes.txt"]
    assert (outside / "kept.txt").exists()
    assert verify(made.path).complete
    assert sweep(tmp_path / "not there") == ()


def test_originals_are_only_read(tmp_path: Path, photos: dict[str, Path]) -> None:
    before = {path: path.read_bytes() for path in photos.values()}
    for path in photos.values():
        path.chmod(0o444)
    make(published_car.edition(photos), photos, tmp_path / "editions")
    assert {path: path.read_bytes() for path in photos.values()} == before
