"""The Walk's view says what the person wants, by key and by press, and shows what the state says."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent

from desktop.looks import Stage
from fakes import demo_walk
from lapseam.desktop.screens.walk.closing import closing_screen
from lapseam.domain.coverage import check
from lapseam.domain.decision import Sight

SILL = "under-right-sill"


@pytest.fixture
def stage(qtbot):
    made = Stage()
    qtbot.addWidget(made.window)
    made.window.resize(1280, 800)
    with qtbot.waitActive(made.window):
        made.window.show()
        made.window.activateWindow()
    made.walk_at(demo_walk.noted_car(), SILL)
    return made


def _press(qtbot, stage, key):
    qtbot.keyClick(stage.window.focusWidget() or stage.window, key)


def test_enter_wants_the_next_open_shot(qtbot, stage):
    with qtbot.waitSignal(stage.walk.shot_wanted) as asked:
        _press(qtbot, stage, Qt.Key.Key_Return)
    assert asked.args[0] != SILL


@pytest.mark.parametrize(
    ("key", "signal", "first"),
    [
        (Qt.Key.Key_B, "shot_wanted", "under-left-sill"),
        (Qt.Key.Key_A, "again_wanted", SILL),
        (Qt.Key.Key_N, "not_fitted_wanted", SILL),
        (Qt.Key.Key_F, "finding_wanted", SILL),
        (Qt.Key.Key_E, "extra_wanted", "under-centre"),
        (Qt.Key.Key_C, "closing_wanted", "s7-lift"),
    ],
)
def test_a_single_key_says_what_is_wanted(qtbot, stage, key, signal: str, first: str):
    with qtbot.waitSignal(getattr(stage.walk, signal)) as asked:
        _press(qtbot, stage, key)
    assert asked.args[0] == first


def test_single_keys_can_be_turned_off_and_the_action_is_still_found(qtbot, stage):
    stage.window.actions.use_single_keys(False)
    with qtbot.assertNotEmitted(stage.walk.finding_wanted):
        _press(qtbot, stage, Qt.Key.Key_F)
    _press(qtbot, stage, Qt.Key.Key_F2)
    qtbot.keyClicks(stage.window.find.line, "find note")
    with qtbot.waitSignal(stage.walk.finding_wanted):
        qtbot.keyClick(stage.window.find.line, Qt.Key.Key_Return)
    assert not stage.window.find.isVisible()


def test_a_number_ticks_its_item_on_the_last_frame(qtbot, stage):
    last = next(one for one in demo_walk.noted_car().frames_of(SILL))
    with qtbot.waitSignal(stage.walk.ticked) as asked:
        _press(qtbot, stage, Qt.Key.Key_1)
    assert asked.args == [SILL, stage.walk.card._shot.must[0].id, last.sha256, Sight.SEEN.value]
    with qtbot.waitSignal(stage.walk.ticked) as asked:
        _press(qtbot, stage, Qt.Key.Key_2)
    assert asked.args[3] == Sight.COATED.value, "on a rust-prone shot, seen is followed by hidden by coating"


def test_a_press_on_a_box_leaves_it_as_it_was_until_the_record_says_otherwise(qtbot, stage):
    row = stage.walk.card.rows()[0]
    assert not row.isChecked()
    with qtbot.waitSignal(stage.walk.ticked):
        qtbot.mouseClick(row, Qt.MouseButton.LeftButton)
    assert not row.isChecked()


def test_without_a_frame_nothing_can_be_ticked_or_taken_again(qtbot, stage):
    stage.walk_at(demo_walk.new_car(), "ext-front-left")
    assert not any(row.isEnabled() for row in stage.walk.card.rows())
    assert not stage.walk.again.isEnabled()
    with qtbot.assertNotEmitted(stage.walk.ticked):
        _press(qtbot, stage, Qt.Key.Key_1)


def test_not_reachable_asks_for_its_reason_by_number(qtbot, stage):
    _press(qtbot, stage, Qt.Key.Key_X)
    assert stage.walk.choices.isVisible()
    with qtbot.waitSignal(stage.walk.not_reachable_wanted) as asked:
        _press(qtbot, stage, Qt.Key.Key_2)
    assert asked.args == [SILL, "lift-arm-in-the-way"]
    assert not stage.walk.choices.isVisible()
    assert stage.window.focusWidget() is not None


def test_escape_takes_the_question_back(qtbot, stage):
    _press(qtbot, stage, Qt.Key.Key_X)
    with qtbot.assertNotEmitted(stage.walk.not_reachable_wanted):
        _press(qtbot, stage, Qt.Key.Key_Escape)
    assert not stage.walk.choices.isVisible()


def test_the_picture_the_sketch_and_the_words_are_shown(stage):
    assert stage.walk.frames.verdict.text() == "Sharp · Light good"
    assert "context still wanted" in stage.walk.frames.frames.text()
    assert stage.walk.frames.sketch.accessibleDescription().startswith("Inboard of the right rocker")
    assert stage.walk.card.title.accessibleName() == "Right rocker underside and pinch weld"
    assert "Vehicle lift" in stage.walk.card.beware.text()


def test_closing_cannot_be_pressed_until_every_rust_prone_gap_has_its_reason(qtbot, stage):
    car = demo_walk.noted_car()
    screen = closing_screen(car, check(car), "s7-lift", minutes_left=18)
    stage.walk.show_closing(screen)
    view = stage.walk.closing
    assert view.headline.text() == "30 shots still open, 21 rust-prone"
    assert view.minutes.text() == "18 minutes left"
    assert not view.close_button.isEnabled()
    for gap in [gap for gap in view.gaps() if gap.row.needs_reason]:
        assert not view.close_button.isEnabled()
        row = next(one for one in view.gaps() if one.row.shot == gap.row.shot)
        row.reason.click()
        qtbot.keyClick(view.choices, Qt.Key.Key_9)
    with qtbot.waitSignal(stage.walk.close_wanted) as asked:
        view.close_button.click()
    assert asked.args[0] == "s7-lift"
    assert set(asked.args[1].values()) == {"no-time"}
    assert len(asked.args[1]) == 21


def test_the_closing_list_is_read_at_two_metres(stage):
    """At least 34 px: cap height 24 px, 6 mm at 96 dpi, over 10 minutes of arc at two metres (20/20 reads 5)."""
    car = demo_walk.noted_car()
    stage.walk.show_closing(closing_screen(car, check(car), "s7-lift"))
    view = stage.walk.closing
    sizes = [view.headline.font().pixelSize(), *(gap.title.font().pixelSize() for gap in view.gaps())]
    assert min(sizes) >= 34


def test_dropped_photos_are_handed_on(qtbot, stage, tmp_path):
    path = tmp_path / "one.jpg"
    path.write_bytes(b"")
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    event = QDropEvent(
        QPointF(5, 5), Qt.DropAction.CopyAction, data, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    )
    with qtbot.waitSignal(stage.walk.files_dropped) as asked:
        stage.walk.dropEvent(event)
    assert asked.args[0] == (path,)


def test_chapters_are_walked_with_the_arrow_keys(qtbot, stage):
    strip = stage.walk.chapters
    strip.tabs()[0].setFocus()
    qtbot.keyClick(strip.tabs()[0], Qt.Key.Key_Right)
    assert strip.tabs()[1].hasFocus()
    with qtbot.waitSignal(strip.wanted) as asked:
        qtbot.keyClick(strip.tabs()[1], Qt.Key.Key_Return)
    assert asked.args == ["s2-outside"]


@pytest.mark.parametrize(("width", "height"), [(1100, 660), (1280, 800), (2560, 1440)])
def test_what_the_person_must_read_is_never_squeezed(qtbot, stage, width: int, height: int):
    stage.window.resize(width, height)
    qtbot.waitUntil(lambda: stage.window.width() == width)
    card = stage.walk.card
    for part in (card.title, card.instruction, card.beware, *card.rows()):
        assert part.height() >= part.heightForWidth(part.width()), part.accessibleName()


def test_a_small_notebook_shows_the_keys_on_the_buttons(qtbot, stage):
    """With every station's tab beside it; gloved hands have no tooltip."""
    stage.walk_at(demo_walk.noted_car(), "under-right-sill")
    assert [button.key for button in stage.walk.buttons] == ["Enter", "B", "A", "X", "N", "F", "E"]
