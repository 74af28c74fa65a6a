"""The next edition by keyboard alone: order, caption, lead, panes, undo, publish; and by mouse: drag a photo."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt, QUrl
from PySide6.QtWidgets import QApplication, QLineEdit

from lapseam.desktop.front import EDITION, Front
from lapseam.domain.decision import Target, Verdict
from lapseam.places import demo_assets
from lapseam.workflow import Desk

STOCK = "T-114"
PLACED = {
    "EXO_4117.JPG": "ext-front-left",
    "EXO_4120.JPG": "ext-left-profile",
    "EXO_4126.JPG": "ext-right-profile",
    "EXO_4123.JPG": "ext-rear-right",
    "EXO_4129.JPG": "ext-rear-left",
}
ALT = Qt.KeyboardModifier.AltModifier


@pytest.fixture
def workspace(tmp_path: Path, clock) -> Path:
    """The demo car with five frames on their shots, looked at and released."""
    folder = tmp_path / "workspace"
    with Desk.open(folder, create=True, clock=clock) as desk:
        desk.car_from_file(path=demo_assets() / "facts.yaml", plan="hardtop-full", by="lister").result()
        desk.take_in(stock=STOCK, paths=[demo_assets() / "card" / name for name in PLACED], by="lister").result()
        for name, shot in PLACED.items():
            desk.place(stock=STOCK, photo=name, target=Target.SHOT, shot=shot, by="lister").result()
            desk.release(stock=STOCK, photo=name, verdict=Verdict.SHOW, words="no plate", by="lister").result()
    return folder


class Hands:
    """Press and type where the keyboard is, and wait for what is seen."""

    def __init__(self, front: Front, qtbot) -> None:
        self.front, self.qtbot = front, qtbot
        self.view = front._edition_view

    def press(self, key: Qt.Key, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        self.qtbot.keyClick(QApplication.focusWidget() or self.front.window, key, modifier)

    def until(self, so) -> None:
        self.qtbot.waitUntil(so, timeout=20_000)

    @property
    def screen(self):
        return self.front.edition.screen

    def names(self, group: str) -> list[str]:
        return [place.name for one in self.screen.groups if one.id == group for place in one.places]


@pytest.fixture
def hands(front: Front, qtbot) -> Hands:
    qtbot.waitExposed(front.window)
    front.window.activateWindow()
    made = Hands(front, qtbot)
    front.open_walk(STOCK, "")
    made.until(lambda: front.whole is not None)
    front.window.station_wanted.emit(EDITION)
    made.until(lambda: bool(made.screen.groups))
    made.view.sequence.setFocus()
    return made


def chosen(hands: Hands) -> str:
    place = hands.view.sequence.place()
    return place.name if place else ""


def walk_to(hands: Hands, name: str) -> None:
    for _ in range(len(hands.screen.places)):
        if chosen(hands) == name:
            return
        hands.press(Qt.Key.Key_Right)
    raise AssertionError(f"{name} is not in the sequence")


def test_order_caption_lead_and_undo_by_keys(hands: Hands) -> None:
    usual = hands.names("gg-outside")
    assert len(usual) >= 3
    walk_to(hands, usual[0])
    hands.press(Qt.Key.Key_Right, ALT)
    hands.until(lambda: hands.names("gg-outside") == [usual[1], usual[0], *usual[2:]])
    assert chosen(hands) == usual[0], "the moved photo stays chosen"
    hands.press(Qt.Key.Key_C)
    field = QApplication.focusWidget()
    assert isinstance(field, QLineEdit)
    hands.qtbot.keyClicks(field, "Seen from the hall door")
    hands.press(Qt.Key.Key_Return)
    hands.until(lambda: any(place.own == "Seen from the hall door" for place in hands.screen.places))
    hands.view.sequence.setFocus()
    hands.press(Qt.Key.Key_L)
    hands.until(lambda: hands.front.whole.car.lead is not None)
    assert hands.front.whole.car.photo(hands.front.whole.car.lead.sha256).name == usual[0]
    for _step in range(3):
        revision = hands.front.whole.car.revision
        hands.press(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
        hands.until(lambda revision=revision: hands.front.whole.car.revision > revision)
    hands.until(lambda: hands.names("gg-outside") == usual)
    assert hands.front.whole.car.captions == {}
    assert hands.front.whole.car.lead is None


def test_the_guard_speaks_while_one_writes_and_the_gate_refuses(hands: Hands) -> None:
    walk_to(hands, hands.names("gg-outside")[0])
    hands.press(Qt.Key.Key_C)
    hands.qtbot.keyClicks(QApplication.focusWidget(), "Rust-free left side")
    hands.until(lambda: "rust" in hands.view.photo.guard.text().lower())
    hands.press(Qt.Key.Key_Return)
    hands.until(lambda: hands.front.window.notices.isVisible())
    assert "cannot go into the record" in hands.front.window.notices.problem.text()
    assert hands.front.whole.car.captions == {}
    hands.press(Qt.Key.Key_Escape)
    assert hands.view.photo.caption.text() == ""


def test_panes_open_by_their_keys(hands: Hands) -> None:
    for key, pane in ((Qt.Key.Key_2, hands.view.phone), (Qt.Key.Key_4, hands.view.signature)):
        hands.press(key)
        assert hands.view.beside.currentWidget() is pane
    hands.press(Qt.Key.Key_1)
    assert hands.view.beside.currentWidget() is hands.view.photo


def test_a_photo_is_dragged_before_another(hands: Hands) -> None:
    usual = hands.names("gg-outside")
    sequence = hands.view.sequence
    moving = next(place for place in hands.screen.places if place.name == usual[2])
    onto = next(place for place in hands.screen.places if place.name == usual[0])
    row = sequence.places.row_of(onto.sha256, again=False)
    box = sequence.visualRect(sequence.places.index(row))
    sequence.drop(moving.sha256, QPoint(box.left() + 4, box.center().y()))
    hands.until(lambda: hands.names("gg-outside") == [usual[2], usual[0], usual[1], *usual[3:]])
    walk_to(hands, usual[0])
    hands.press(Qt.Key.Key_U)
    hands.until(lambda: hands.names("gg-outside") == usual)


def test_publish_look_and_folder(hands: Hands) -> None:
    opened: list[QUrl] = []
    hands.front.edition.open_url = opened.append
    hands.press(Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)
    hands.until(lambda: hands.screen.last is not None)
    assert "UNSIGNED" in hands.front.window.notices.problem.text()
    assert hands.screen.number == 2
    hands.view.sequence.setFocus()
    hands.press(Qt.Key.Key_W)
    hands.press(Qt.Key.Key_O)
    assert [Path(url.toLocalFile()).name for url in opened] == ["index.html", hands.screen.last.path.name]
    assert Path(opened[0].toLocalFile()).is_file()


def test_an_outlet_keeps_wishes_and_gives_its_text(hands: Hands) -> None:
    outlets = hands.front.desk.folder / "outlets.yaml"
    outlets.write_text("outlets:\n  - {name: Weekly sheet, photos: 3, text_chars: 4000}\n", encoding="utf-8")
    last = hands.names("gg-outside")[-1]
    walk_to(hands, last)
    hands.press(Qt.Key.Key_3)
    errands = hands.front.edition.outlets
    hands.until(lambda: errands.screen is not None and errands.screen.named)
    hands.press(Qt.Key.Key_P)
    hands.until(lambda: any(one.wished == "wanted in" for one in errands.screen.places))
    wished = next(one for one in errands.screen.places if one.wished)
    assert hands.front.whole.car.photo(wished.sha256).name == last
    hands.press(Qt.Key.Key_B)
    hands.until(lambda: any(heading == "Kept out" for heading, _lines in errands.screen.told))
    assert wished.sha256 not in [one.sha256 for one in errands.screen.places]
    hands.press(Qt.Key.Key_Y)
    assert QApplication.clipboard().text() == errands.screen.text
    assert STOCK in errands.screen.text
    assert not hands.view.outlets.write.isEnabled(), "nothing goes out unsigned"
    hands.press(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    hands.until(lambda: any(one.wished == "wanted in" for one in errands.screen.places))


def test_a_stopped_publication_leaves_nothing(hands: Hands) -> None:
    hands.press(Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)
    for stop in hands.front._stops.values():
        stop.set()
    hands.until(lambda: hands.view.publish.isEnabled())
    folder = hands.front.desk.folder / "cars" / STOCK / "editions"
    left = list(folder.iterdir()) if folder.is_dir() else []
    assert left == []
    assert hands.front.desk.editions(stock=STOCK).result() == ()
