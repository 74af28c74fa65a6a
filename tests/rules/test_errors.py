"""Errors for people have a name of their own and always say what to do next."""

from __future__ import annotations

from lapseam.domain import errors
from lapseam.domain.errors import UserError


def kinds() -> list[type[UserError]]:
    return [one for one in vars(errors).values() if isinstance(one, type) and issubclass(one, UserError)]


def test_every_kind_has_its_own_name() -> None:
    names = [kind.ref for kind in kinds()]
    assert len(names) == len(set(names)) > 10


def test_every_kind_says_what_to_do_next() -> None:
    for kind in kinds():
        assert kind("Something happened.").next_step.endswith((".", "rebuild", "FILE", "STOCK", "key list")), kind


def test_an_error_reads_as_sentences() -> None:
    error = errors.CardGone("The card was taken out.", effect="31 of 48 photos are safe.", next_step="Put it back.")
    assert str(error) == "The card was taken out. 31 of 48 photos are safe. Put it back."
