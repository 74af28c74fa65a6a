"""What a caller was told enters the record only with its basis; the re-shoot list only with what is wanted."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from fakes import cars
from lapseam.domain.admission import objections
from lapseam.domain.call import AnswerBasis, Asked, Call, Wanted
from lapseam.domain.car import Car

WHO, AT = cars.ANNA, cars.NOON
CALL = Call(1, "Any rust?", "On the right rocker.", AnswerBasis.SEEN, WHO, AT, known_by="seen on 12 May, IMG_1.JPG")
ASKED = Asked(1, Wanted.SHOT, "left-rocker", "Can I see the rocker?", WHO, AT)


def car() -> Car:
    return cars.car([cars.photo("wide")])


def said(decision: Asked | Call) -> str:
    return "; ".join(objections(decision, car()))


def test_a_call_with_its_basis_comes_in() -> None:
    assert said(CALL) == ""


@pytest.mark.parametrize("basis", [one for one in AnswerBasis if one is not AnswerBasis.NOT_KNOWN])
def test_an_answer_without_how_it_is_known_is_refused_whatever_its_basis(basis: AnswerBasis) -> None:
    assert "needs how it is known" in said(replace(CALL, basis=basis, known_by="  "))


def test_not_known_is_a_whole_answer() -> None:
    unknown = replace(CALL, answer="I don't know that.", basis=AnswerBasis.NOT_KNOWN, known_by="")
    assert said(unknown) == ""


@pytest.mark.parametrize(
    ("change", "objection"),
    [
        ({"question": " "}, "the question is empty"),
        ({"answer": ""}, "the answer is empty"),
        ({"answer": "x" * 4001}, "the answer is longer"),
        ({"by": ""}, "nobody's name"),
        ({"by": "lapseam"}, "only a person"),
        ({"edition": 0}, "editions count from 1"),
        ({"photos": ("f" * 64,)}, "not among this car's photos"),
        ({"call_back": date(2026, 5, 11)}, "lies before the call"),
        ({"promise": "the clock"}, "needs its day"),
        ({"kept": date(2026, 5, 13)}, "nothing was promised"),
        ({"call_back": date(2026, 5, 14), "kept": date(2026, 5, 11)}, "cannot be kept before the call"),
    ],
)
def test_a_call_is_refused_in_words(change: dict[str, object], objection: str) -> None:
    assert objection in said(replace(CALL, **change))  # type: ignore[arg-type]


def test_what_is_wanted_stands_on_the_list_it_names() -> None:
    assert said(ASKED) == ""
    assert said(replace(ASKED, wanted=Wanted.COMPONENT)) == ""
    assert "did you mean 'left-rocker'" in said(replace(ASKED, subject="left-roker"))
    assert "no check is called" in said(replace(ASKED, wanted=Wanted.CHECK))
    assert "no measure is called" in said(replace(ASKED, wanted=Wanted.MEASURE))
    assert "has no id" in said(replace(ASKED, wanted=Wanted.OTHER))
    assert said(replace(ASKED, wanted=Wanted.OTHER, subject="")) == ""
    assert "the question is empty" in said(replace(ASKED, question=""))
    assert "who dealt with it is empty" in said(replace(ASKED, done=date(2026, 5, 13)))


def test_an_open_promise_waits_until_it_is_kept() -> None:
    promised = replace(CALL, call_back=date(2026, 5, 13))
    assert promised.promised
    assert not replace(promised, kept=date(2026, 5, 13)).promised
    assert not CALL.promised
