"""The language that words are made in: a value that publish fills from a message catalogue and the domain speaks with.

English stands in the code as the key (GNU gettext's habit), each with a context that says where it stands, so a text
that no catalogue has shows English, never a code. `edition.build` is handed a language and speaks it while it works;
outside `speaking` everything is English.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from datetime import date
from typing import Final

_MONTHS: Final = (
    *("January", "February", "March", "April", "May", "June", "July"),
    *("August", "September", "October", "November", "December"),
)

Catalogue = Mapping[tuple[str, str], tuple[str, ...]]
"""By context ("" for none) and English: the text, or its forms in the order of the plural rule."""


def english_day(on: date) -> str:
    """'12 May 2026', the same order in every English-speaking country's eyes."""
    return f"{on.day} {_MONTHS[on.month - 1]} {on.year}"


def english_whole(value: int) -> str:
    """'84 213': thousands apart by a space, which no reader takes for a decimal mark."""
    return f"{value:,}".replace(",", " ")


def _as_it_is(digits: str) -> str:
    return digits


def english_form(n: int) -> int:
    """Which of the two English forms goes with a number."""
    return int(n != 1)


@dataclass(frozen=True, slots=True)
class Language:
    """One language with its words and its ways of writing dates and numbers.

    Attributes:
        tag: BCP 47 ("en", "pt-BR"): the language that the words are in, not the one that was wished for.
        rtl: whether it is written from right to left.
        catalogue: its texts; English ones where it has none.
        form: the plural rule: which form goes with a number.
        day: a day in words.
        number: a figure's digits ("0.12") with this language's decimal mark.
        whole: a whole number with its thousands apart.
        units_first: units that stand first beside a figure read in another system; what was read follows in brackets.
    """

    tag: str = "en"
    rtl: bool = False
    catalogue: Catalogue = field(default_factory=dict)
    form: Callable[[int], int] = english_form
    day: Callable[[date], str] = english_day
    number: Callable[[str], str] = _as_it_is
    whole: Callable[[int], str] = english_whole
    units_first: frozenset[str] = frozenset()

    def text(self, english: str, *, context: str = "") -> str:
        """The text in this language."""
        return self.catalogue.get((context, english), (english,))[0]

    def counted(self, one: str, many: str, n: int, *, context: str = "") -> str:
        """The form that goes with `n`, its slots still open."""
        forms = self.catalogue.get((context, one))
        return (one, many)[english_form(n)] if forms is None else forms[min(self.form(n), len(forms) - 1)]


ENGLISH: Final = Language()

_spoken: ContextVar[Language] = ContextVar("spoken", default=ENGLISH)


def spoken() -> Language:
    """The language that words are being made in."""
    return _spoken.get()


@contextmanager
def speaking(language: Language) -> Iterator[None]:
    """Make words in that language, in this thread and until the block ends."""
    token = _spoken.set(language)
    try:
        yield
    finally:
        _spoken.reset(token)
