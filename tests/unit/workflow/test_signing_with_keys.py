"""The sign-off and the edition signed with a key: from making the key to what a stranger's verify says."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from fakes import record
from lapseam import plans
from lapseam.domain.car import House, Person
from lapseam.domain.decision import Signoff
from lapseam.domain.errors import KeyRefused, Mistake, NotAllowed, NotFound, SettingsBroken, WrongPassphrase
from lapseam.domain.signing_key import grouped
from lapseam.publish import Signed
from lapseam.storage import Workspace, load_house, rebuild, record_sha256, save_house
from lapseam.workflow import Desk, proving

STOCK = "T-7"
JUN, ADA = "Jun Thornby", "Ada Lindqvar"
WORDS = "corrosion never sleeps"


class Clock:
    """A clock that a test moves on."""

    def __init__(self) -> None:
        self.at = datetime(2026, 5, 12, 9, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.at


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def desk(tmp_path: Path, clock: Clock) -> Iterator[Desk]:
    folder = tmp_path / "workspace"
    with Workspace.open(folder, create=True) as workspace:
        plan = record.plan()
        workspace.book.new_car(
            STOCK, plans.dump_plan(plan), plans.digest(plan), plan.id, by=ADA, at=clock.at, decisions=()
        )
        save_house(folder, House(name="Invented Cars", people=(Person(JUN, ("manager",)), Person(ADA, ("lister",)))))
    with Desk.open(folder, clock=clock) as desk:
        yield desk


def waived(desk: Desk) -> None:
    """Something changes in the record, so that a signature under it lapses."""
    desk.describe(stock=STOCK, by=ADA, colour="blue-green").result()


def test_without_a_key_a_manager_signs_by_name(desk: Desk) -> None:
    desk.sign(stock=STOCK, by=JUN).result()
    made = desk.publish(stock=STOCK, by=ADA).result()
    assert "signed by name" in made.words
    assert "by name, no key" in made.disclosure.read_text()
    assert proving.verify(made.path).signature.state is Signed.BY_NAME
    with pytest.raises(KeyRefused, match="has no key in this house"):
        desk.sign(stock=STOCK, by=JUN, passphrase=WORDS).result()


def test_the_sign_off_and_the_edition_carry_the_key(desk: Desk, tmp_path: Path) -> None:
    line = desk.make_key(person=JUN, passphrase=WORDS).result()
    with pytest.raises(KeyRefused, match="signing by name alone is not enough"):
        desk.sign(stock=STOCK, by=JUN).result()
    with pytest.raises(WrongPassphrase):
        desk.sign(stock=STOCK, by=JUN, passphrase="something else").result()
    assert desk.review(stock=STOCK).result().signed is None
    desk.sign(stock=STOCK, by=JUN, passphrase=WORDS).result()
    signed = desk.review(stock=STOCK).result().signed
    assert signed is not None
    assert signed.key_sha256 == line.fingerprint
    with pytest.raises(WrongPassphrase):
        desk.publish(stock=STOCK, by=ADA, passphrase="something else").result()
    assert desk.editions(stock=STOCK).result() == ()
    made = desk.publish(stock=STOCK, by=ADA, passphrase=WORDS).result()
    assert "signed with a key" in made.words
    away = tmp_path / "a stranger's disk" / "0001"
    shutil.copytree(made.path, away)
    shutil.move(desk.folder, tmp_path / "gone")
    found = proving.verify(away)
    assert found.complete
    assert found.signature.state is Signed.GOOD
    assert found.signature.fingerprint == line.fingerprint
    assert found.signature.holder == ""
    assert JUN not in "".join(path.read_text("latin-1") for path in away.rglob("*") if path.is_file())
    assert proving.verify(away, house=tmp_path / "gone").signature.holder == JUN
    shutil.move(tmp_path / "gone", desk.folder)


def test_a_change_lets_the_signature_lapse_and_undo_brings_it_back(desk: Desk) -> None:
    desk.make_key(person=JUN, passphrase=WORDS).result()
    desk.sign(stock=STOCK, by=JUN, passphrase=WORDS).result()
    waived(desk)
    assert desk.review(stock=STOCK).result().signed is None
    with pytest.raises(KeyRefused, match="is not signed"):
        desk.publish(stock=STOCK, by=ADA, passphrase=WORDS).result()
    desk.undo(stock=STOCK, by=ADA).result()
    assert desk.review(stock=STOCK).result().signed is not None


def test_an_edition_is_signed_later_beside_its_folder(desk: Desk, clock: Clock) -> None:
    with pytest.raises(NotFound, match="has no edition 1"):
        desk.sign_edition(stock=STOCK, number=1, by=JUN, passphrase=WORDS).result()
    line = desk.make_key(person=JUN, passphrase=WORDS).result()
    desk.publish(stock=STOCK, by=ADA).result()
    with pytest.raises(NotAllowed, match="its record is unsigned"):
        desk.sign_edition(stock=STOCK, number=1, by=JUN, passphrase=WORDS).result()
    desk.sign(stock=STOCK, by=JUN, passphrase=WORDS).result()
    made = desk.publish(stock=STOCK, by=ADA).result()
    assert proving.verify(made.path).signature.state is Signed.RECORD_ONLY
    with pytest.raises(NotAllowed, match="no manager with a key"):
        desk.sign_edition(stock=STOCK, number=2, by=ADA, passphrase="").result()
    found = desk.sign_edition(stock=STOCK, number=2, by=JUN, passphrase=WORDS).result()
    assert (found.state, found.beside, found.holder) == (Signed.GOOD, True, JUN)
    assert desk.verify(stock=STOCK, number=2).result().signature.fingerprint == line.fingerprint
    with pytest.raises(Mistake, match="already"):
        desk.sign_edition(stock=STOCK, number=2, by=JUN, passphrase=WORDS).result()
    assert desk.ask_stamp(stock=STOCK, number=2, by=ADA).result().name == "0002.tsq"
    told = [(entry.by, entry.words, entry.undoable) for entry in desk.log(stock=STOCK).result()[-2:]]
    assert told[0] == (JUN, f"Sign edition 2 with the key {grouped(line.fingerprint)}", False)
    assert told[1] == (ADA, "Ask for a time stamp of edition 2", False)
    assert desk.review(stock=STOCK).result().signed is not None
    assert desk.journal_faults(stock=STOCK).result() == ()
    desk.close()
    for file in desk.folder.glob("lapseam.sqlite*"):
        file.unlink()
    rebuild(desk.folder, at=clock.at)
    with Desk.open(desk.folder) as again:
        assert [entry.words for entry in again.log(stock=STOCK).result()[-2:]] == [words for _, words, _ in told]
        signed = again.review(stock=STOCK).result().signed
        assert signed is not None
        assert signed.key_sha256 == line.fingerprint


def test_another_managers_key_does_not_sign_what_the_first_signed(desk: Desk) -> None:
    house = load_house(desk.folder)
    desk.save_house(house=replace(house, people=(*house.people, Person("Vera Lind", ("manager",))))).result()
    for name in (JUN, "Vera Lind"):
        desk.make_key(person=name, passphrase=WORDS).result()
    desk.sign(stock=STOCK, by=JUN, passphrase=WORDS).result()
    desk.publish(stock=STOCK, by=ADA).result()
    with pytest.raises(KeyRefused, match="signed with another key"):
        desk.sign_edition(stock=STOCK, number=1, by="Vera Lind", passphrase=WORDS).result()


def test_a_retired_key_signs_nothing_more_and_stays_verifiable(desk: Desk, clock: Clock) -> None:
    first = desk.make_key(person=JUN, passphrase=WORDS).result()
    with pytest.raises(Mistake, match="has a key already"):
        desk.make_key(person=JUN, passphrase=WORDS).result()
    desk.sign(stock=STOCK, by=JUN, passphrase=WORDS).result()
    made = desk.publish(stock=STOCK, by=ADA, passphrase=WORDS).result()
    clock.at += timedelta(days=20)
    desk.retire_key(person=JUN).result()
    assert list((desk.folder / "keys").iterdir()) == []
    with pytest.raises(KeyRefused, match="has no key"):
        desk.retire_key(person=JUN).result()
    found = desk.verify(stock=STOCK, number=1).result().signature
    assert (found.state, found.holder) == (Signed.GOOD, f"{JUN}, retired on 2026-06-01")
    assert desk.review(stock=STOCK).result().signed is not None
    with pytest.raises(KeyRefused, match="was retired on 2026-06-01"):
        desk.publish(stock=STOCK, by=ADA, passphrase=WORDS).result()
    second = desk.make_key(person=JUN, passphrase=WORDS).result()
    assert [line.fingerprint for line in desk.keys().result()] == [first.fingerprint, second.fingerprint]
    assert [line.words for line in desk.keys().result()] == ["retired 2026-06-01", "signs"]
    assert proving.verify(made.path, house=desk.folder).complete


def test_a_lost_key_is_told_and_the_passphrase_can_change(desk: Desk) -> None:
    desk.make_key(person=JUN, passphrase=WORDS).result()
    desk.change_passphrase(person=JUN, old=WORDS, new="another dozen letters").result()
    with pytest.raises(WrongPassphrase):
        desk.sign(stock=STOCK, by=JUN, passphrase=WORDS).result()
    next((desk.folder / "keys").iterdir()).unlink()
    with pytest.raises(KeyRefused, match="is lost"):
        desk.sign(stock=STOCK, by=JUN, passphrase="another dozen letters").result()
    assert desk.keys().result()[0].words.startswith("LOST")
    with pytest.raises(NotFound, match="nobody called 'Kim'"):
        desk.make_key(person="Kim", passphrase=WORDS).result()


def forged(desk: Desk, change: Signoff) -> str:
    """Write a sign-off past the verbs, as somebody with the database could; answers with what the review says."""
    desk.runner.on_book(
        lambda: desk._workspace.book.apply(STOCK, verb="sign", words="Sign", by=JUN, at=change.at, put=[change])
    ).result()
    review = desk.review(stock=STOCK).result()
    assert review.signed is None
    return review.signature_fault


def test_forged_sign_offs_do_not_count(desk: Desk, clock: Clock) -> None:
    house = load_house(desk.folder)
    desk.save_house(house=replace(house, people=(*house.people, Person("Vera Lind", ("manager",))))).result()
    line = desk.make_key(person=JUN, passphrase=WORDS).result()
    clock.at += timedelta(days=1)
    desk.sign(stock=STOCK, by=JUN, passphrase=WORDS).result()
    good = desk.review(stock=STOCK).result().signed
    assert good is not None
    digest = record_sha256(desk.car(stock=STOCK).result())
    assert "does not fit the key of Jun Thornby" in forged(desk, replace(good, at=clock.at + timedelta(hours=1)))
    assert "does not fit" in forged(desk, replace(good, lifted=("so-identity",)))
    assert "its key belongs to Jun Thornby" in forged(desk, replace(good, by="Vera Lind"))
    assert "nobody of the house holds that" in forged(desk, replace(good, key_sha256="ab" * 32))
    assert "does not use it" in forged(desk, Signoff(JUN, "manager", clock.at, digest))
    settings = desk.folder / "settings.yaml"
    text = settings.read_text()
    assert line.fingerprint in text
    settings.write_text(re.sub(r"public: ..", "public: 00", text))
    with pytest.raises(SettingsBroken, match="problem"):
        desk.review(stock=STOCK).result()
