"""The window's frame: ribbon, tabs, notices, long work, undo and the list of actions."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QFontDatabase, QImage, QPainter

from desktop.looks import Stage
from fakes import cars, demo_walk
from lapseam.desktop import icons
from lapseam.desktop.look import Ground, read_look
from lapseam.desktop.notices import notice_of
from lapseam.desktop.ribbon import Cell, lap_ribbon
from lapseam.desktop.theme import dress, inks, load_fonts, px, text_percent_for
from lapseam.desktop.widgets.cells import paint_cell
from lapseam.desktop.widgets.find_action import fitting
from lapseam.desktop.widgets.lap_ribbon import LapRibbon
from lapseam.desktop.widgets.station_tabs import Station
from lapseam.desktop.window import Head, MainWindow, Steps
from lapseam.domain.coverage import State, check
from lapseam.domain.errors import CardGone


@pytest.fixture
def window(qtbot):
    made = MainWindow()
    qtbot.addWidget(made)
    made.resize(1280, 800)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    return made


@pytest.fixture
def ribbon(qtbot):
    made = LapRibbon()
    qtbot.addWidget(made)
    made.resize(1248, 70)
    car = demo_walk.noted_car()
    made.show_ribbon(lap_ribbon(car.plan, check(car), "under-centre"))
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    return made


def _segment(ribbon: LapRibbon, zone: str):
    return next(one for one in ribbon.segments() if one.segment.zone == zone)


def test_a_press_on_a_label_wants_the_zone_and_on_a_cell_the_shot(qtbot, ribbon):
    segment = _segment(ribbon, "cabin")
    with qtbot.waitSignal(ribbon.zone_wanted) as asked:
        qtbot.mouseClick(segment, Qt.MouseButton.LeftButton, pos=QPoint(3, 6))
    assert asked.args == ["cabin"]
    with qtbot.waitSignal(ribbon.shot_wanted) as asked:
        qtbot.mouseClick(segment, Qt.MouseButton.LeftButton, pos=QPoint(2, segment.height() - 14))
    assert asked.args == [segment.segment.cells[0].shot]


def test_arrow_keys_walk_the_ribbon_and_enter_goes_there(qtbot, ribbon):
    here = _segment(ribbon, "under-centre")
    here.setFocus()
    qtbot.keyClick(here, Qt.Key.Key_Right)
    there = _segment(ribbon, "under-rear")
    assert there.hasFocus()
    with qtbot.waitSignal(ribbon.zone_wanted) as asked:
        qtbot.keyClick(there, Qt.Key.Key_Return)
    assert asked.args == ["under-rear"]
    qtbot.keyClick(there, Qt.Key.Key_Home)
    assert _segment(ribbon, "front").hasFocus()


def test_tab_stops_once_on_the_ribbon_at_the_zone_being_worked_on(ribbon):
    stops = [one.segment.zone for one in ribbon.segments() if one.focusPolicy() & Qt.FocusPolicy.TabFocus]
    assert stops == ["under-centre"]


def test_every_segment_says_its_zone_and_counts(ribbon):
    segment = _segment(ribbon, "roof")
    assert segment.accessibleName().startswith("Roof and pillars: ")
    assert _segment(ribbon, "under-centre").accessibleName().endswith("here now")


def test_with_the_shipped_type_no_label_is_cut(qtbot, ribbon):
    for width in (1024, 1248):
        ribbon.resize(width, 70)
        for one in ribbon.segments():
            assert " ".join(one.lines()) == one.segment.short


def test_every_state_looks_different_without_any_colour(dressed):
    """Drawn in ink only and compared as bit patterns: state is never colour alone."""
    looks = {}
    for state in State:
        for waived in (False, True):
            image = QImage(12, 22, QImage.Format.Format_Grayscale8)
            image.fill(inks().sheet)
            painter = QPainter(image)
            paint_cell(painter, image.rect().toRectF(), Cell("s", "S", state, waived=waived), inks())
            painter.end()
            looks[state, waived] = bytes(image.constBits())
    assert len(set(looks.values())) == len(looks)


def test_the_type_that_ships_is_worn_and_every_icon_draws(dressed):
    assert set(load_fonts()) == {read_look().family, read_look().numbers}
    assert dressed.font().family() == read_look().family
    assert "Bold" in QFontDatabase.styles(read_look().family)
    for name in icons.names():
        image = QImage(48, 48, QImage.Format.Format_ARGB32)
        image.fill(Qt.GlobalColor.transparent)
        painter = QPainter(image)
        icons.paint_icon(painter, name, image.rect().toRectF(), inks().ink)
        painter.end()
        assert any(image.pixelColor(x, y).alpha() for x in range(48) for y in range(48)), name


def test_a_theme_and_a_text_size_reach_what_is_painted(dressed):
    dress(dressed, Ground.DARK, text_percent=150)
    assert inks().sheet.name().upper() == read_look().colours[Ground.DARK].sheet
    assert px(48) == 72
    assert text_percent_for(1440) > text_percent_for(800) == 100


def test_a_notice_says_problem_effect_and_next_step_and_waits_its_turn(qtbot, window):
    window.tell_error(CardGone("The card was taken out.", effect="31 of 48 photos are safe."))
    window.tell_error(ValueError("odd"))
    bar = window.notices
    assert bar.problem.text() == "The program made a mistake."
    assert bar.detail.text() == "ValueError: odd"
    assert bar.waiting.text() == "1 more"
    qtbot.keyClick(window, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert bar.problem.text() == "The card was taken out."
    assert bar.effect.text() == "31 of 48 photos are safe."
    assert bar.next_step.text().startswith("Next: Put it back")
    bar.close_button.click()
    assert not bar.isVisible()


def test_the_same_notice_twice_is_shown_once(window):
    for _turn in range(3):
        window.tell(notice_of(CardGone("The card was taken out.")))
    assert len(window.notices.notices()) == 1


def test_long_work_shows_how_far_it_is_and_can_be_stopped(qtbot, window):
    jobs = window.jobs
    jobs.begin("one", "Taking photos in")
    jobs.tell("one", 31, 48)
    row = jobs._rows["one"]
    assert (row.bar.value(), row.bar.maximum(), row.count.text()) == (31, 48, "31 of 48")
    with qtbot.waitSignal(window.stop_wanted) as asked:
        row.stop.click()
    assert asked.args == ["one"]
    assert not row.stop.isEnabled()
    jobs.end("one")
    jobs.tell("one", 48, 48)
    assert not jobs.isVisible()


def test_undo_and_redo_say_what_they_would_do(qtbot, window):
    undo = window.actions.action("undo")
    assert not undo.isEnabled()
    window.show_steps(Steps(undo="tick 'drains'"))
    assert window.undo_button.accessibleName() == "Undo: tick 'drains'"
    with qtbot.waitSignal(window.undo_wanted):
        qtbot.keyClick(window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    window.show_steps(Steps())
    with qtbot.assertNotEmitted(window.undo_wanted):
        qtbot.keyClick(window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)


def test_actions_are_found_by_any_of_their_words_and_those_possible_come_first(window):
    window.actions.add("a", "Take photos in from a folder", lambda: None)
    off = window.actions.add("b", "Take this shot again", lambda: None)
    off.setEnabled(False)
    found = [action.text() for action in fitting(window.actions.all(), "ta")]
    assert found.index("Take photos in from a folder") < found.index("Take this shot again")
    assert [action.text() for action in fitting(window.actions.all(), "fold take")] == ["Take photos in from a folder"]
    assert fitting(window.actions.all(), "zzz") == ()


def test_escape_closes_the_list_of_actions_and_gives_the_keyboard_back(qtbot, window):
    window.find_button.setFocus()
    window.open_find()
    assert window.find.line.hasFocus()
    qtbot.keyClick(window.find.line, Qt.Key.Key_Escape)
    assert not window.find.isVisible()
    assert window.find_button.hasFocus()


def test_tabs_say_their_counts_and_are_walked_with_keys(qtbot):
    stage = Stage()
    qtbot.addWidget(stage.window)
    stage.show("yard", yard=3, walk=31)
    with qtbot.waitActive(stage.window):
        stage.window.show()
        stage.window.activateWindow()
    tabs = stage.window.tabs
    assert tabs.tab("walk").accessibleName() == "Walk, 31 open"
    tabs.tab("yard").setFocus()
    qtbot.keyClick(tabs.tab("yard"), Qt.Key.Key_Down)
    with qtbot.waitSignal(stage.window.station_wanted) as asked:
        qtbot.keyClick(tabs.tab("walk"), Qt.Key.Key_Return)
    assert asked.args == ["walk"]


def test_a_further_station_is_added_without_touching_the_frame(qtbot, window):
    from PySide6.QtWidgets import QWidget

    for name in ("yard", "sort"):
        window.add_station(name, QWidget())
    window.show_stations((Station("yard", "Yard", "yard"), Station("sort", "Sort", "sort", 4)), "sort")
    assert window.tabs.tab("sort").isChecked()
    assert window.actions.action("go.sort").shortcut().toString() == "Ctrl+2"


def test_the_head_is_empty_without_a_car(window):
    window.show_head(Head())
    assert window.windowTitle() == "Lapseam"
    assert not window.ribbon.isVisible()
    car = cars.car()
    window.show_head(Head("T-1", "1968 Talbrook Vesper", "", lap_ribbon(car.plan, check(car))))
    assert window.ribbon.isVisible()
    assert window.windowTitle() == "T-1 · 1968 Talbrook Vesper · Lapseam"
