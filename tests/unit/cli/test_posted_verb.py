"""The verbs posted and shown: prices, days and times as people type them, and refusals in words."""

from __future__ import annotations

from datetime import date, time

import pytest

from lapseam.cli.posted import _day, _moment, _price
from lapseam.domain.errors import Mistake
from lapseam.domain.posting import Price, price_objections


@pytest.mark.parametrize(
    ("typed", "amount"),
    [("24500", "24500"), ("24,500", "24500"), ("24 500", "24500"), ("24'500.50", "24500.50"), ("1,250,000", "1250000")],
)
def test_thousands_may_be_parted(typed: str, amount: str) -> None:
    assert _price(typed, "usd", "2026-06-30") == Price(amount, "USD", date(2026, 6, 30))


@pytest.mark.parametrize("typed", ["24,5", "24.500,00", "2 4500", "cheap", "1e5", "٣", ""])
def test_what_is_doubtful_is_not_guessed(typed: str) -> None:
    price = _price(typed, "USD", None)
    assert price is not None
    assert any("is no price" in words for words in price_objections(price, date(2026, 5, 1)))


def test_a_price_needs_its_currency_and_an_end_its_price() -> None:
    with pytest.raises(Mistake, match="needs its currency"):
        _price("24500", None, None)
    with pytest.raises(Mistake, match="without a price"):
        _price(None, "USD", None)
    assert _price(None, None, None) is None


def test_days_and_times_are_understood_or_refused() -> None:
    assert _moment(None, time.min) is None
    begins, ends = _moment("2026-06-30", time.min), _moment("2026-06-30", time(23, 59, 59))
    assert begins is not None
    assert ends is not None
    assert (begins.hour, ends.hour, begins.tzinfo is not None) == (0, 23, True)
    typed = _moment("2026-06-30T09:30+02:00", time.min)
    assert typed is not None
    assert typed.isoformat() == "2026-06-30T09:30:00+02:00"
    for wrong in ("30.6.2026", "2026-13-01", "tomorrow", "2026-06-31"):
        with pytest.raises(Mistake, match="is no day"):
            _day(wrong)
        with pytest.raises(Mistake, match="is no day and time"):
            _moment(wrong, time.min)
