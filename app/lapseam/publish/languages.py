"""Reads message catalogues and makes a `Language` of one: its words, its plural rule, its dates and figures.

A catalogue is a GNU gettext file, `<language>/LC_MESSAGES/edition.po` (or `.mo`), in the shipped `templates/messages`
or in the `messages` of a workspace, which goes first. Dates and figures are those of the Unicode CLDR, by Babel. A text
whose slots do not match the English ones would lose a basis or a number on the page, so such a catalogue is refused.
"""

from __future__ import annotations

import gettext
import io
import re
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from functools import partial
from pathlib import Path
from typing import Final

from babel import Locale, UnknownLocaleError
from babel.dates import format_date
from babel.messages.catalog import Catalog, Message
from babel.messages.mofile import read_mo, write_mo
from babel.messages.pofile import PoFileError, read_po
from babel.numbers import format_decimal

from lapseam import places
from lapseam.domain.errors import LanguageBroken
from lapseam.domain.language import ENGLISH, Language

DOMAIN: Final = "edition"
"""The catalogue of what an edition says, and coverage in the windows."""
WINDOWS: Final = "lapseam"
"""The catalogue of the windows' own texts."""
SOURCE: Final = "en"
"""The language that the texts are written in; it needs no catalogue."""

_SLOT: Final = re.compile(r"\{(\w+)\}")


def language(tag: str, *folders: Path) -> Language:
    """The language of that tag (BCP 47, "de", "pt-BR"), English where no catalogue is found for it.

    Args:
        tag: what the house wishes for. Plain "en" writes dates and figures as this program always did; "en-US" and its
            like as the CLDR says.
        folders: where to look for catalogues before the shipped ones; those that are not there are passed over.

    Raises:
        LanguageBroken: the tag is none, or the catalogue does not hold; `problems` names every text.
    """
    locale = _locale(tag)
    if str(locale) == SOURCE:
        return ENGLISH
    found = next(_catalogues(locale, (*folders, places.templates() / "messages")), None)
    if found is None and locale.language != SOURCE:
        return ENGLISH
    catalog = _read(found, locale) if found is not None else Catalog(locale)
    return Language(
        tag=str(locale).replace("_", "-"),
        rtl=locale.character_order == "right-to-left",
        catalogue={(one.context or "", _english(one)): _forms(one) for one in catalog if _is_told(one)},
        form=gettext.c2py(catalog.plural_expr),
        day=partial(_day, locale=locale),
        number=partial(_number, locale=locale),
        whole=partial(_whole, locale=locale),
    )


def window_texts(tag: str, *folders: Path) -> gettext.NullTranslations:
    """The windows' texts in the language of that tag, English ones where there is no catalogue; as `language`."""
    locale = _locale(tag)
    found = next(_catalogues(locale, (*folders, places.templates() / "messages"), WINDOWS), None)
    if found is None:
        return gettext.NullTranslations()
    compiled = io.BytesIO()
    write_mo(compiled, _read(found, locale))
    compiled.seek(0)
    return gettext.GNUTranslations(compiled)


def _locale(tag: str) -> Locale:
    try:
        return Locale.parse(tag.strip().replace("_", "-"), sep="-")
    except (ValueError, UnknownLocaleError) as error:
        raise LanguageBroken(
            f"{tag!r} is no language that dates and numbers are known for.",
            problems=(f"language: {tag!r}",),
            next_step="Write a tag such as en, de or pt-BR behind language: in settings.yaml.",
        ) from error


def _catalogues(locale: Locale, folders: tuple[Path, ...], domain: str = DOMAIN) -> Iterator[Path]:
    """The catalogue files that would serve, the best first: the country's own before the language's."""
    for name in dict.fromkeys((str(locale), str(locale).replace("_", "-"), locale.language)):
        for folder in folders:
            for ending in ("po", "mo"):
                path = folder / name / "LC_MESSAGES" / f"{domain}.{ending}"
                if path.is_file():
                    yield path


def _read(path: Path, locale: Locale) -> Catalog:
    """The catalogue in that file, every text of it checked."""
    try:
        with path.open("rb") as file:
            catalog = read_mo(file) if path.suffix == ".mo" else read_po(file, locale, abort_invalid=True)
            if path.suffix == ".mo":
                catalog.locale = locale
    except (PoFileError, ValueError, OSError) as error:
        raise _broken(path, (str(error),)) from error
    if faults := tuple(fault for one in catalog if _is_told(one) for fault in _faults(one, catalog.num_plurals)):
        raise _broken(path, faults)
    return catalog


def _broken(path: Path, faults: tuple[str, ...]) -> LanguageBroken:
    count = f"{len(faults)} problem{'s' if len(faults) > 1 else ''}"
    return LanguageBroken(f"The catalogue {path} has {count}.", problems=faults)


def _is_told(message: Message) -> bool:
    """Whether it is a text with a translation that somebody stands by."""
    return bool(message.id) and not message.fuzzy and any(_forms(message))


def _english(message: Message) -> str:
    return message.id if isinstance(message.id, str) else message.id[0]


def _forms(message: Message) -> tuple[str, ...]:
    return (message.string,) if isinstance(message.string, str) else tuple(message.string or ())


def _faults(message: Message, plurals: int) -> Iterator[str]:
    """What is wrong with one text: forms that are missing, slots that are lost or unknown."""
    where = f"line {message.lineno}: " if message.lineno else ""
    ids, forms = message.id, _forms(message)
    wanted = plurals if not isinstance(ids, str) else 1
    if len(forms) != wanted or not all(forms):
        yield f"{where}{_english(message)!r} wants {wanted} forms, all of them written"
        return
    slots = {slot for words in ([ids] if isinstance(ids, str) else ids) for slot in _SLOT.findall(words)}
    for form in forms:
        there = set(_SLOT.findall(form))
        lost = slots - there - ({"n"} if not isinstance(ids, str) else set())
        if lost or there - slots or _SLOT.sub("", form).count("{") or _SLOT.sub("", form).count("}"):
            wants = ", ".join(f"{{{slot}}}" for slot in sorted(slots)) or "none"
            yield f"{where}{form!r} has other slots than the English text, which has: {wants}"


def _day(on: date, locale: Locale) -> str:
    return format_date(on, "long", locale=locale)


def _number(digits: str, locale: Locale) -> str:
    return format_decimal(Decimal(digits), locale=locale, decimal_quantization=False)


def _whole(value: int, locale: Locale) -> str:
    return format_decimal(value, locale=locale)
