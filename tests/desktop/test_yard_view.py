"""The Yard's view: a new car in four fields, cars opened by key, facts answered."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from desktop.looks import Stage, facts, yard_with_cars
from lapseam.desktop.screens.yard.new_car import USUAL_PLAN, NewCar
from lapseam.desktop.screens.yard.view import CarRow
from lapseam.desktop.widgets.fact_answers import FactAnswers

PLANS = (("buyer-asked", "What a buyer asked for"), (USUAL_PLAN, "Full walkaround"), ("quick", "Quick"))


@pytest.fixture
def stage(qtbot):
    made = Stage()
    qtbot.addWidget(made.window)
    made.window.resize(1280, 800)
    with qtbot.waitActive(made.window):
        made.window.show()
        made.window.activateWindow()
    yard_with_cars(made)
    made.yard.offer_plans(PLANS)
    return made


def test_a_new_car_is_made_by_keys_on_the_usual_plan(qtbot, stage):
    qtbot.keyClick(stage.yard.new, Qt.Key.Key_N, Qt.KeyboardModifier.ControlModifier)
    form = stage.yard.form
    for field, words in ((form.stock, "T-9"), (form.year, "1968"), (form.make, "Talbrook"), (form.model, "Vesper")):
        assert stage.window.focusWidget() is field
        qtbot.keyClicks(field, words)
        qtbot.keyClick(field, Qt.Key.Key_Tab)
    with qtbot.waitSignal(stage.yard.new_car_wanted) as asked:
        qtbot.keyClick(form.plan, Qt.Key.Key_Return)
    assert asked.args == [NewCar("T-9", USUAL_PLAN, 1968, "Talbrook", "Vesper")]


def test_another_plan_chosen_once_is_not_kept_for_the_next_car(stage):
    form = stage.yard.form
    form.plan.setCurrentIndex(2)
    stage.yard.show_form()
    assert form.plan.currentData() == USUAL_PLAN


def test_a_form_without_a_stock_number_says_what_is_lacking(qtbot, stage):
    stage.yard.show_form()
    with qtbot.assertNotEmitted(stage.yard.new_car_wanted):
        stage.yard.form.go.click()
    assert "stock number" in stage.yard.form.trouble.text()


def test_enter_on_a_car_opens_its_walk_where_it_was_left(qtbot, stage):
    rows = stage.yard.findChildren(CarRow)
    rows[0].setFocus()
    qtbot.keyClick(rows[0], Qt.Key.Key_Down)
    assert rows[1].hasFocus()
    with qtbot.waitSignal(stage.yard.walk_wanted) as asked:
        qtbot.keyClick(rows[1], Qt.Key.Key_Return)
    assert asked.args == [rows[1].card.stock, rows[1].card.resume_shot]


def test_unknown_is_an_answer_like_any_other(qtbot, stage):
    facts(stage)
    asked = next(one for one in stage.yard.findChildren(FactAnswers) if one.question.fact == "carpet_lifts")
    yes, _no, unknown = asked.findChildren(type(stage.yard.new))
    assert unknown.isChecked()
    with qtbot.waitSignal(stage.yard.answered) as said:
        yes.click()
    assert said.args == ["T-114", "carpet_lifts", True]
    with qtbot.waitSignal(stage.yard.answered) as said:
        unknown.click()
    assert said.args == ["T-114", "carpet_lifts", None]
