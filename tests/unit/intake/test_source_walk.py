"""Walking a card: order, what is left out, and what must never be opened."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from lapseam.domain.errors import CardGone
from lapseam.domain.photo import IntakeOutcome
from lapseam.intake.source import Found, find, natural, readable


def _labels(found: tuple[Found, ...]) -> list[str]:
    return [each.label for each in found]


def _touch(*paths: Path) -> None:
    for path in paths:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(b"x")


def test_names_come_in_natural_order_whatever_their_case(tmp_path: Path) -> None:
    _touch(*(tmp_path / name for name in ("IMG_10.JPG", "img_9.jpg", "IMG_2.JPG", "IMG_2a.JPG", "A.JPG")))
    assert _labels(find([tmp_path])) == ["A.JPG", "IMG_2.JPG", "IMG_2a.JPG", "img_9.jpg", "IMG_10.JPG"]


@pytest.mark.parametrize("digits", ["²", "٣", "१२", "1" * 5000])
def test_odd_digits_have_an_order_too(digits: str) -> None:
    assert sorted([f"b{digits}", f"a{digits}"], key=natural) == [f"a{digits}", f"b{digits}"]


def test_numbers_order_by_value_not_by_their_leading_zeros() -> None:
    assert sorted(["a12", "a0003", "a9", "a00"], key=natural) == ["a00", "a0003", "a9", "a12"]


def test_folders_follow_one_another_each_with_its_own_files_first(tmp_path: Path) -> None:
    _touch(
        tmp_path / "DCIM/101/B.JPG", tmp_path / "DCIM/99/Z.JPG", tmp_path / "DCIM/101/deep/A.JPG", tmp_path / "z.jpg"
    )
    assert _labels(find([tmp_path])) == ["z.jpg", "DCIM/99/Z.JPG", "DCIM/101/B.JPG", "DCIM/101/deep/A.JPG"]


def test_housekeeping_of_operating_systems_is_left_out(tmp_path: Path) -> None:
    left_out = (".DS_Store", "Thumbs.db", "._IMG_1.JPG", ".Trashes/IMG_2.JPG", "System Volume Information/x.jpg")
    _touch(*(tmp_path / name for name in (*left_out, "IMG_1.JPG")))
    assert _labels(find([tmp_path])) == ["IMG_1.JPG"]


def test_a_hidden_file_asked_for_by_name_is_taken(tmp_path: Path) -> None:
    _touch(tmp_path / ".hidden.jpg")
    assert _labels(find([tmp_path / ".hidden.jpg"])) == [".hidden.jpg"]


def test_links_in_a_circle_end_and_each_folder_is_walked_once(tmp_path: Path) -> None:
    _touch(tmp_path / "a/IMG_1.JPG")
    (tmp_path / "a/up").symlink_to(tmp_path)
    (tmp_path / "b").symlink_to(tmp_path / "a")
    assert _labels(find([tmp_path])) == ["a/IMG_1.JPG"]


def test_a_link_that_leads_nowhere_is_a_result(tmp_path: Path) -> None:
    (tmp_path / "lost.jpg").symlink_to(tmp_path / "gone.jpg")
    (found,) = find([tmp_path])
    assert found.refusal is IntakeOutcome.GONE
    (tmp_path / "self.jpg").symlink_to(tmp_path / "self.jpg")
    assert all(each.refusal is IntakeOutcome.GONE for each in find([tmp_path]))


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes in folders: this system has none")
def test_a_pipe_named_like_a_photo_is_never_opened(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "IMG_1.JPG")
    (found,) = find([tmp_path])
    assert found.refusal is IntakeOutcome.NOT_A_PHOTO
    assert found.reason == "not an ordinary file"


def test_a_card_that_is_not_there_ends_the_walk(tmp_path: Path) -> None:
    with pytest.raises(CardGone, match="is not there"):
        find([tmp_path / "card"])


def test_a_card_taken_out_is_noticed(tmp_path: Path) -> None:
    card = tmp_path / "card"
    _touch(card / "IMG_1.JPG")
    (found,) = find([card])
    assert not found.card_is_gone()
    card.rename(tmp_path / "elsewhere")
    assert found.card_is_gone()


def test_another_device_in_its_place_counts_as_gone(tmp_path: Path) -> None:
    _touch(tmp_path / "IMG_1.JPG")
    (found,) = find([tmp_path])
    assert Found(found.path, found.root, found.root_device + 1).card_is_gone()


@pytest.mark.skipif(os.name == "nt", reason="names that are no text: this system has none")
def test_a_name_that_is_no_text_becomes_one_that_can_be_stored(tmp_path: Path) -> None:
    Path(os.fsdecode(os.fsencode(tmp_path) + b"/caf\xe9.jpg")).write_bytes(b"x")
    (found,) = find([tmp_path])
    assert found.name == "caf\N{REPLACEMENT CHARACTER}.jpg"
    assert readable(str(found.path)).encode("utf-8")


AS_NOBODY = """
import os, sys
from pathlib import Path
from lapseam.intake.source import find
from lapseam.domain.errors import NoRights
os.setgid(65534); os.setuid(65534)
print([(each.label, str(each.refusal)) for each in find([Path(sys.argv[1])])])
try:
    find([Path(sys.argv[1]) / "shut"])
except NoRights as error:
    print("refused:", error.problem)
"""


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="giving up rights: needs the root user")
def test_a_shut_folder_below_is_a_result_and_a_shut_card_an_error() -> None:
    with tempfile.TemporaryDirectory() as made:
        card = Path(made)
        card.chmod(0o755)
        _touch(card / "a.jpg", card / "shut/b.jpg", card / "z/c.jpg")
        (card / "shut").chmod(0)
        run = subprocess.run(
            [sys.executable, "-c", AS_NOBODY, made], capture_output=True, text=True, timeout=60, check=False
        )
    assert run.stdout.splitlines() == [
        "[('a.jpg', 'None'), ('shut', 'no rights'), ('z/c.jpg', 'None')]",
        "refused: shut may not be read.",
    ], run.stderr
