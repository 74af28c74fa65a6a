"""The gallery page's model: ribbon, chapters, pictures with captions, alt text, marks and findings."""

from __future__ import annotations

from collections.abc import Mapping

from . import wording
from .coverage import ShotCoverage, State
from .decision import WaiverOf
from .edition_draft import Draft, finding_shown, good_findings, marks_on, photo_anchor
from .finding import Finding
from .language import spoken
from .page import Cell, Chapter, FindingShown, Gallery, GapShown, Line, PictureShown, Segment
from .photo import MediaKind
from .phrases import capital, count, day, say, small
from .plan import Tone
from .sequence import Picture, worst_first

ALT_LIMIT = 140
_LEGEND = ("covered", "partly", "taken", "missed", "not-reachable", "not-fitted", "decide", "waived")


def gallery_page(draft: Draft, not_seen: tuple[GapShown, ...], not_tested: tuple[GapShown, ...]) -> Gallery:
    """Everything the gallery prints."""
    findings = {one.number: one for one in draft.car.findings}
    shown = {number: finding_shown(draft, one) for number, one in findings.items()}
    pictures = [(one.group, picture_shown(draft, one, findings, shown)) for one in draft.pictures]
    ribbon = _ribbon(draft)
    cells = [cell for segment in ribbon for cell in segment.cells]
    covered = sum(cell.state is State.COVERED for cell in cells)
    open_count = len(worst_first(draft.car)) + len(good_findings(draft))
    return Gallery(
        title=draft.title,
        subtitle=_subtitle(draft),
        edition_words=draft.edition_words,
        house=draft.house.name,
        language=spoken().tag,
        flag=draft.flag,
        hero=pictures[0][1] if pictures else None,
        ribbon=ribbon,
        ribbon_words=count("ribbon", len(cells), covered=covered),
        chapters=_chapters(draft, pictures, not_seen),
        count_words=say(
            "gallery.count",
            photos=count("count.photos", len(draft.numbers)),
            findings=count("count.findings", open_count),
            gaps=count("count.gaps", len(not_seen) + len(not_tested)),
        ),
        legend=_legend(),
    )


def _legend() -> tuple[Line, ...]:
    labels = {one: say("state.waived-label" if one == "waived" else f"state.{one}") for one in _LEGEND}
    return tuple(Line(capital(label), say(f"legend.{one}"), id=one) for one, label in labels.items())


def _subtitle(draft: Draft) -> str:
    parts, details = [], draft.car.details
    if details is not None:
        interior = say("interior", words=details.interior) if details.interior else ""
        parts = [part for part in (details.trim, details.colour, interior) if part]
    return capital(", ".join([*parts, say("stock.short", stock=draft.car.stock)]))


def _ribbon(draft: Draft) -> tuple[Segment, ...]:
    """One segment a zone in walking order, one cell a shot in the plan's order."""
    by_zone: dict[str, list[ShotCoverage]] = {}
    for covered in draft.coverage.shots:
        by_zone.setdefault(covered.shot.zone, []).append(covered)
    order = [zone for zone in draft.words.zones if zone in by_zone]
    segments = []
    for zone in (*order, *(zone for zone in by_zone if zone not in draft.words.zones)):
        cells = tuple(_cell(draft, covered) for covered in by_zone[zone])
        covered_cells = sum(cell.state is State.COVERED for cell in cells)
        name = draft.zone_name(zone)
        first = min((one.number for one in draft.pictures if one.zone == zone), default=0)
        words = count("segment", len(cells), name=name, covered=covered_cells)
        segments.append(Segment(zone, name, words, cells, photo_anchor(first) if first else ""))
    return tuple(segments)


def _cell(draft: Draft, covered: ShotCoverage) -> Cell:
    state = say(f"state.{covered.state.value}")
    waived = f"{WaiverOf.SHOT}:{covered.shot.id}" in draft.car.waivers
    words = say("state.waived", state=state) if waived else state
    return Cell(covered.shot.id, covered.shot.title, covered.state, waived, words)


def _chapters(
    draft: Draft, pictures: list[tuple[str, PictureShown]], not_seen: tuple[GapShown, ...]
) -> tuple[Chapter, ...]:
    """The groups that have pictures or gaps, in their order."""
    zones = {zone.id: zone.name for zone in draft.words.zones.values()}
    chapters = []
    for group in sorted(draft.words.gallery_groups.values(), key=lambda one: one.order):
        inside = tuple(shown for home, shown in pictures if home == group.id)
        mine = {zones.get(z.zone, "") for z in draft.words.zone_gallery.values() if z.group == group.id}
        gaps = tuple(gap.sentence for gap in not_seen if gap.kind == "shot" and gap.zone_name in mine)
        if inside or gaps:
            anchor = f"group-{group.id.removeprefix('gg-')}"
            chapters.append(Chapter(group.id, anchor, group.name, capital(group.holds), inside, gaps))
    return tuple(chapters)


def picture_shown(
    draft: Draft, picture: Picture, findings: Mapping[int, Finding], shown: Mapping[int, FindingShown]
) -> PictureShown:
    """One picture with its words."""
    photo = draft.car.photo(picture.sha256)
    if photo is None:
        raise ValueError(f"the sequence names a photo that the car has not: {picture.sha256[:8]}")
    here = tuple(shown[number] for number in picture.findings)
    good = tuple(shown[one.number] for one in good_findings(draft) if picture.sha256 in one.photos)
    subject = _subject(draft, picture)
    own = draft.car.captions.get(picture.sha256)
    said = own.words.rstrip(". ") if own else subject
    clip = photo.media is MediaKind.CLIP
    seconds = spoken().number(f"{photo.duration_s:.0f}") if photo.duration_s is not None else ""
    anchor = photo_anchor(picture.number)
    return PictureShown(
        sha256=picture.sha256,
        number=picture.number,
        number_words=say("photo.number", number=picture.number),
        anchor=f"{anchor}-again" if picture.again else anchor,
        shot=picture.shot,
        zone=picture.zone,
        zone_name=draft.zone_name(picture.zone),
        caption=caption(draft, picture, said, [findings[one] for one in picture.findings]),
        alt=alt_text(draft, picture, subject, [findings[one] for one in picture.findings]),
        media=photo.media,
        width=photo.width,
        height=photo.height,
        taken_words=say("taken", date=day(photo.camera.taken_at.date())) if photo.camera.taken_at else "",
        taken_on=photo.camera.taken_at.date().isoformat() if photo.camera.taken_at else "",
        duration=say("clip", seconds=seconds) if clip and seconds else "",
        slot=picture.slot,
        slot_words=say(f"slot.{picture.slot.value}.frame") if picture.slot else "",
        again=picture.again,
        marks=marks_on(draft, picture.sha256),
        findings=(*here, *good),
        subject=caption(draft, picture, subject, []),
    )


def _subject(draft: Draft, picture: Picture) -> str:
    """What is shown and which side: the shot's title, or the zone's name for an extra."""
    shot = draft.car.plan.shot(picture.shot) if picture.shot else None
    if shot is None:
        return say("extra", zone=draft.zone_name(picture.zone))
    slot = f", {say(f'slot.{picture.slot.value}')}" if picture.slot else ""
    return f"{shot.title}{slot}"


def caption(draft: Draft, picture: Picture, subject: str, findings: list[Finding]) -> str:
    """One sentence: what it is, which side, and what to look at with its finding number. The basis is the photo."""
    parts = [subject]
    for finding in findings:
        kind = draft.words.findings.get(finding.kind)
        name = small(kind.name if kind else finding.kind)
        extent = wording.extent_words(finding)
        at = wording.place_words(finding, draft.part(finding.component))
        look = say("caption.look", name=name, place=at)
        look = say("more", first=look, next=extent) if extent else look
        basis = say(f"basis.word.{finding.evidence.basis.value}")
        parts.append(say("caption.finding", look=look, number=finding.number, basis=basis))
    if picture.proposed:
        parts.append(say("proposed"))
    return capital("; ".join(parts)) + "."


def alt_text(draft: Draft, picture: Picture, subject: str, findings: list[Finding]) -> str:
    """Subject and side, then each flaw named as such, within 140 characters and never cut inside a word."""
    flaws = []
    for finding in findings:
        kind = draft.words.findings.get(finding.kind)
        name = small(kind.name if kind else finding.kind.replace("-", " "))
        key = "finding.alt.note" if kind and kind.tone is not Tone.FAULT else "finding.alt.fault"
        flaws.append(say(key, number=finding.number, name=name))
    photo = draft.car.photo(picture.sha256)
    clip = photo is not None and photo.media is MediaKind.CLIP
    words = say("alt.clip", subject=subject) if clip else subject
    if not flaws:
        return shorten(words, ALT_LIMIT)
    for kept in range(len(flaws), 0, -1):
        more = len(flaws) - kept
        told = "; ".join(flaws[:kept]) + (count("alt.more", more) if more else "")
        room = ALT_LIMIT - len(told) - 2
        if len(words) <= room or (kept == 1 and room > 0):
            return f"{shorten(words, room)}; {told}"
    return shorten(f"{flaws[0]}; {words}", ALT_LIMIT)


def shorten(text: str, limit: int) -> str:
    """At most `limit` characters, ended at a word with an ellipsis where something is left out."""
    if len(text) <= limit:
        return text
    cut = text[: max(limit - 1, 0)]
    return (cut.rsplit(" ", 1)[0] if " " in cut else cut).rstrip(" ,;:") + "…"
