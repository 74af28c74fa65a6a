"""The condition page's sections as the templates are given them: in order, counted, and gaps under their zones."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from lapseam.domain.edition import Disclosure, GapShown, Section, SeverityGroup

from .views import safe_anchor, without


@dataclass(frozen=True, slots=True)
class SectionView:
    """One section of the condition page and the macro that prints its rows."""

    kind: str
    anchor: str
    heading: str
    lead: str
    rows: tuple[object, ...]
    count: int


@dataclass(frozen=True, slots=True)
class ZoneGaps:
    """What was not seen or not tested in one zone: subject and the rest of its sentence."""

    zone_name: str
    gaps: tuple[tuple[str, str], ...]


def sections(page: Disclosure) -> tuple[SectionView, ...]:
    """The condition page's sections in the order in which they are printed."""
    order = (
        ("sentences", page.what_it_is),
        ("sentences", page.what_it_is_not),
        ("lines", page.identity),
        ("lines", page.summary),
        ("zones", page.zones),
        ("by_severity", page.findings),
        ("gaps", Section(*_head(page.not_seen), by_zone(page.not_seen.rows))),
        ("gaps", Section(*_head(page.not_tested), by_zone(page.not_tested.rows))),
        ("findings", page.good),
        ("lines", page.nothing_found),
        ("checks", page.checks),
        ("measurements", page.measurements),
        ("parts", page.originality),
        ("statements", page.statements),
        ("statements", page.told),
        ("findings", page.closed),
        ("lines", page.edits),
        ("lines", page.withheld),
        ("lines", page.waivers),
        ("lines", page.looked_by),
        ("sentences", page.changed),
        ("lines", page.definitions),
    )
    counted = {"by_severity", "gaps", "findings", "checks", "measurements", "statements"}
    return tuple(
        SectionView(
            kind,
            safe_anchor(section.anchor),
            section.heading,
            section.lead,
            section.rows,
            sum(_weight(row) for row in section.rows) if kind in counted else 0,
        )
        for kind, section in order
    )


def _head(section: Section[GapShown]) -> tuple[str, str, str]:
    return section.anchor, section.heading, section.lead


def by_zone(gaps: Sequence[GapShown]) -> tuple[ZoneGaps, ...]:
    """Gaps that follow each other in one zone, under that zone's name; their order stays."""
    return tuple(
        ZoneGaps(zone, tuple((gap.subject, without(gap.subject, gap.sentence)) for gap in found))
        for zone, found in groupby(gaps, key=lambda gap: gap.zone_name)
    )


def _weight(row: object) -> int:
    if isinstance(row, SeverityGroup):
        return len(row.findings)
    return len(row.gaps) if isinstance(row, ZoneGaps) else 1
