"""Marks on a large picture: by mouse, by keys, painted to stand out on any ground, and said to a screen reader."""

from __future__ import annotations

from concurrent.futures import Future

import pytest
from PySide6.QtCore import QPoint, QSize, Qt
from PySide6.QtGui import QColor, QImage

from lapseam.desktop.bridge import Bridge
from lapseam.desktop.pictures import PictureShelf
from lapseam.desktop.screens.findings.marking import Marking
from lapseam.desktop.theme import inks
from lapseam.desktop.widgets.mark_picture import MarkPicture
from lapseam.domain.finding import Mark, MarkShape

A = "a" * 64
LEFT = Qt.MouseButton.LeftButton


def grey(light: int) -> QImage:
    image = QImage(QSize(400, 300), QImage.Format.Format_RGB32)
    image.fill(QColor(light, light, light))
    return image


@pytest.fixture(params=[0, 128, 255])
def picture(request, qtbot) -> MarkPicture:
    """A black, a grey and a white photo, shown at twice its size."""

    def load(_sha256: str, _longest_px: int) -> Future[QImage]:
        found: Future[QImage] = Future()
        found.set_result(grey(request.param))
        return found

    def fail(error: Exception) -> None:
        raise error

    bridge = Bridge(fail)
    made = MarkPicture(PictureShelf(load, bridge))
    made.bridge = bridge  # keeps it alive
    qtbot.addWidget(made)
    made.resize(800, 700)
    made.show_photo(A, "side.jpg")
    made.show_marks(Marking(), may_mark=True)
    made.show()
    qtbot.waitUntil(lambda: (made.grab(), made._box.width() == 800)[1])
    return made


def at(picture: MarkPicture, x: float, y: float) -> QPoint:
    box = picture._box
    return QPoint(round(box.x() + x * box.width()), round(box.y() + y * box.height()))


def drag(picture: MarkPicture, qtbot, begin: tuple[float, float], end: tuple[float, float]) -> None:
    qtbot.mousePress(picture, LEFT, pos=at(picture, *begin))
    qtbot.mouseMove(picture, at(picture, (begin[0] + end[0]) / 2, (begin[1] + end[1]) / 2))
    qtbot.mouseMove(picture, at(picture, *end))
    qtbot.mouseRelease(picture, LEFT, pos=at(picture, *end))


def only(picture: MarkPicture) -> Mark:
    (mark,) = picture.marking.marks
    return mark


def test_a_press_is_a_point_in_shares_of_the_photo_not_of_the_widget(picture: MarkPicture, qtbot):
    qtbot.mouseClick(picture, LEFT, pos=at(picture, 0.25, 0.75))
    assert (only(picture).shape, only(picture).x, only(picture).y) == (MarkShape.POINT, 0.25, 0.75)


def test_a_drag_is_a_box_and_one_that_leaves_the_photo_ends_at_its_edge(picture: MarkPicture, qtbot):
    drag(picture, qtbot, (0.5, 0.5), (0.25, 0.25))
    assert only(picture) == Mark(A, MarkShape.BOX, 0.25, 0.25, 0.25, 0.25)
    picture.show_marks(Marking(), may_mark=True)
    drag(picture, qtbot, (0.5, 0.5), (0.75, 1.05))
    assert only(picture) == Mark(A, MarkShape.BOX, 0.5, 0.5, 0.25, 0.5)


def test_a_mark_is_moved_by_dragging_and_taken_away_by_a_key(picture: MarkPicture, qtbot):
    drag(picture, qtbot, (0.25, 0.25), (0.5, 0.5))
    drag(picture, qtbot, (0.4, 0.4), (0.5, 0.4))
    assert only(picture).x == pytest.approx(0.35, abs=0.01)
    assert picture.marking.held == 0
    qtbot.keyClick(picture, Qt.Key.Key_Delete)
    assert picture.marking.marks == ()


def test_beside_the_photo_and_without_a_finding_nothing_is_marked(picture: MarkPicture, qtbot):
    qtbot.mouseClick(picture, LEFT, pos=QPoint(400, 10))
    picture.show_marks(Marking(), may_mark=False)
    qtbot.mouseClick(picture, LEFT, pos=at(picture, 0.5, 0.5))
    picture.set_point()
    assert picture.marking.marks == ()


def test_escape_lets_go_of_what_is_under_way_before_it_leaves(picture: MarkPicture, qtbot):
    left = []
    picture.left.connect(lambda: left.append(True))
    picture.set_box()
    qtbot.keyClick(picture, Qt.Key.Key_Escape)
    assert (picture.marking.begun, left) == (None, [])
    qtbot.keyClick(picture, Qt.Key.Key_Escape)
    assert left == [True]


def test_marks_stand_out_on_any_ground(picture: MarkPicture, qtbot):
    drag(picture, qtbot, (0.25, 0.25), (0.75, 0.75))
    picture.show_marks(picture.marking.let_go(), may_mark=True)
    image = picture.grab().toImage()
    spot = at(picture, 0.25, 0.5)
    across = {image.pixelColor(x, spot.y()).name() for x in range(spot.x() - 5, spot.x() + 6)}
    assert {inks().ink.name(), inks().sheet.name()} <= across


def test_a_screen_reader_hears_marks_and_cross(picture: MarkPicture, qtbot):
    picture.set_point()
    qtbot.keyClick(picture, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    picture.take_up()
    assert picture.accessibleName() == "side.jpg, 1 point, cross at 55 % across, 50 % down, mark 1 taken up"
