"""Editions against the Library of Congress's bagit library, an independent reading of RFC 8493."""

from __future__ import annotations

import gc
import logging
import shutil
from collections.abc import Iterator
from pathlib import Path

import bagit
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fakes import published_car
from lapseam.publish import Recipe, bag, make_edition, verify
from lapseam.publish.signature import SIGNATURE

SETTINGS = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


@pytest.fixture(scope="module")
def edition(tmp_path_factory: pytest.TempPathFactory) -> Path:
    base = tmp_path_factory.mktemp("bag")
    photos = published_car.originals(base / "originals")
    return make_edition(
        published_car.edition(photos),
        originals=photos.__getitem__,
        folder=base / "editions",
        plan_json="{}\n",
        tool_version="0.1.0",
        recipe=Recipe(widths=(40,)),
        seal=published_car.seal(),
    ).path


@pytest.fixture(autouse=True)
def _quiet(caplog: pytest.LogCaptureFixture) -> Iterator[None]:
    caplog.set_level(logging.CRITICAL, logger="bagit")
    yield
    gc.collect()


def holds(folder: Path) -> bool:
    try:
        return bool(bagit.Bag(str(folder)).validate())
    except (bagit.BagError, UnicodeDecodeError):  # it lets a broken UTF-8 in bag-info.txt through as an error of Python
        return False


@pytest.mark.filterwarnings("ignore::ResourceWarning")
@pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")
class TestAgainstBagit:
    def test_an_edition_is_a_valid_bag(self, edition: Path) -> None:
        found = bagit.Bag(str(edition))
        assert found.validate()
        assert found.version_info == (1, 0)
        assert sorted(found.algorithms) == ["sha256", "sha512"]
        assert found.info["External-Identifier"] == "T-1/1"
        assert found.info["Bagging-Date"] == "2026-05-14"
        assert found.info["Payload-Oxum"] == found.info["Payload-Oxum"].strip()
        assert set(found.tagfile_entries()) >= {"bagit.txt", "bag-info.txt", "signer.json", "signer.pem"}

    def test_hard_names_hold(self, tmp_path: Path) -> None:
        (tmp_path / "data").mkdir()
        # Not with a percent sign: RFC 8493, 2.1.3 wants it encoded, and bagit 1.9 does not decode %25.
        for name in ("ü", "a\nb", "x y", "~a", "b'c"):
            (tmp_path / "data" / name).write_bytes(name.encode())
        bag.write_bag(tmp_path, [])
        assert holds(tmp_path)

    @SETTINGS
    @given(data=st.data())
    def test_any_flipped_bit_breaks_it(self, edition: Path, data: st.DataObject) -> None:
        """Payload and listed tag files; the two places where it does not look are named below."""
        name = data.draw(st.sampled_from([name for name in sorted(bag.files_below(edition)) if not overlooked(name)]))
        place = copy(edition)
        content = bytearray((place / name).read_bytes())
        content[data.draw(st.integers(0, len(content) - 1))] ^= 1 << data.draw(st.integers(0, 7))
        (place / name).write_bytes(content)
        assert not holds(place)
        assert not verify(place).complete

    @SETTINGS
    @given(data=st.data(), how=st.sampled_from(["removed", "renamed", "added"]))
    def test_a_missing_renamed_or_added_file_breaks_it(self, edition: Path, data: st.DataObject, how: str) -> None:
        names = [name for name in sorted(bag.files_below(edition)) if not overlooked(name)]
        name = data.draw(st.sampled_from(names))
        place = copy(edition)
        if how == "removed":
            (place / name).unlink()
        elif how == "renamed":
            (place / name).rename(place / f"{name}.old")
        else:
            (place / "data" / "added.bin").write_bytes(b"new")
        assert not holds(place)
        assert not verify(place).complete

    def test_where_the_reference_does_not_look_we_do(self, edition: Path) -> None:
        """No list can name the tag manifests and what is signed over them, and RFC 8493 lets tag files be added."""
        for name in (SIGNATURE, "tagmanifest-sha512.txt"):
            place = copy(edition)
            (place / name).unlink()
            assert holds(place)
            assert not verify(place).complete
        place = copy(edition)
        signature = bytearray((place / SIGNATURE).read_bytes())
        signature[7] ^= 1
        (place / SIGNATURE).write_bytes(signature)
        assert holds(place)
        assert not verify(place).complete
        place = copy(edition)
        (place / "read-me.txt").write_bytes(b"new")
        assert holds(place)
        assert not verify(place).complete
        place = copy(edition)
        listed = place / "tagmanifest-sha512.txt"
        listed.write_text(listed.read_text().replace("  ", "   ", 1))
        assert holds(place)
        assert not verify(place).complete


def overlooked(name: str) -> bool:
    """Whether no list of a bag can name that file."""
    return name == SIGNATURE or name.startswith("tagmanifest-")


def copy(edition: Path) -> Path:
    place = edition.parent.parent / "copy"
    shutil.rmtree(place, ignore_errors=True)
    shutil.copytree(edition, place)
    return place
