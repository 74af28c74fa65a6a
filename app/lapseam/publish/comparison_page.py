"""Two editions side by side as a page: read from their folders, filled into a template, written with its data.

The page is self-contained as the edition's own pages are: no address leads out of it, no script runs on it.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from markupsafe import Markup

from lapseam import places
from lapseam.domain import comparison_telling as telling
from lapseam.domain.edition_comparison import Comparison, FieldTurned, RowTurned, Turn, without_photos
from lapseam.domain.edition_record import FORMAT, VERSION
from lapseam.domain.errors import Mistake
from lapseam.domain.language import Language, speaking
from lapseam.domain.phrases import capital, photos

from . import bag, files, pages
from .manifest import json_bytes
from .verify import VerifyReport

PAGE: Final = "comparison.html"
DATA: Final = "comparison.json"
TEMPLATE: Final = "comparison/comparison.html.j2"

_LARGEST_OCTETS: Final = 64_000_000


@dataclass(frozen=True, slots=True)
class _RowShown:
    """A row for the template: its pieces say which words stand otherwise in the other edition."""

    turn: str
    turn_words: str
    subject: str
    before: tuple[tuple[str, bool], ...]
    after: tuple[tuple[str, bool], ...]
    before_photos: str
    after_photos: str
    told: tuple[FieldTurned, ...]


@dataclass(frozen=True, slots=True)
class _SectionShown:
    anchor: str
    heading: str
    count: int
    rows: tuple[_RowShown, ...]
    groups: tuple[tuple[str, tuple[str, ...]], ...]


def read_record(edition: Path) -> Mapping[str, Any]:
    """The published record in an edition's folder.

    Raises:
        Mistake: there is none, or it is of a form that this program does not know.
    """
    path = edition / bag.PAYLOAD / "record.json"
    try:
        if path.is_symlink() or not path.is_file() or path.stat().st_size > _LARGEST_OCTETS:
            raise ValueError("there is no such file, or it is far too large")
        said = json.loads(path.read_bytes())
    except (OSError, ValueError, RecursionError) as error:
        raise Mistake(
            f"{edition} holds no published record that can be read.",
            effect="Nothing was compared.",
            next_step="Name the folder of an edition, the one that holds bagit.txt.",
            detail=str(error),
        ) from error
    if not isinstance(said, dict) or said.get("format") != FORMAT or said.get("version") != VERSION:
        raise Mistake(
            f"The published record in {edition} has a form that this program does not know.",
            effect="Nothing was compared.",
            next_step="A newer lapseam may know it.",
        )
    return said


def comparison_page(
    comparison: Comparison,
    checked: tuple[VerifyReport, VerifyReport],
    *,
    language: Language,
    templates: Path | None = None,
) -> str:
    """The page, in the language that the comparison was made in."""
    folder = templates or places.templates()
    broken = [
        edition
        for edition, report in zip((comparison.before, comparison.after), checked, strict=True)
        if not report.complete
    ]
    with speaking(language):
        flag = " ".join(map(telling.broken, broken))
        return pages.environment(folder, language).get_template(TEMPLATE).render(
            looks=Markup(pages.looks(folder)),
            policy=pages.policy(),
            language=language.tag,
            rtl=language.rtl,
            flag=flag,
            comparison=comparison,
            editions=[
                (telling.named(edition), edition, telling.state(report.files, len(report.faults)))
                for edition, report in zip((comparison.before, comparison.after), checked, strict=True)
            ],
            totals=telling.totals(comparison),
            sections=tuple(_sections(comparison)),
        )  # fmt: skip


def write_comparison(
    folder: Path, comparison: Comparison, checked: tuple[VerifyReport, VerifyReport], *, language: Language
) -> tuple[Path, Path]:
    """Write page and data into `folder`, made if absent; answers with their paths.

    Raises:
        DiskFull, NoRights.
    """
    files.folder(folder)
    page = comparison_page(comparison, checked, language=language)
    with speaking(language):
        data = telling.as_data(comparison, checked=(checked[0].words, checked[1].words))
    files.write(folder / PAGE, page.encode())
    files.write(folder / DATA, json_bytes(data))
    return folder / PAGE, folder / DATA


def _sections(comparison: Comparison) -> list[_SectionShown]:
    return [
        _SectionShown(
            section.key,
            section.heading,
            len(section.rows),
            tuple(_shown(section.key, row) for row in section.rows),
            telling.compact(section),
        )
        for section in comparison.sections
        if section.rows
    ]


def _shown(section: str, row: RowTurned) -> _RowShown:
    before, after = without_photos(row.before, row.before_photos), without_photos(row.after, row.after_photos)
    changed = row.turn is Turn.CHANGED
    return _RowShown(
        turn=row.turn.value,
        turn_words=telling.turned(section, row.turn),
        subject=row.subject,
        before=_pieces(before, after if changed else before),
        after=_pieces(after, before if changed else after),
        before_photos=capital(photos(row.before_photos)),
        after_photos=capital(photos(row.after_photos)),
        told=row.told,
    )


def _pieces(one: str, other: str) -> tuple[tuple[str, bool], ...]:
    return telling.differing(one, other) if one else ()
