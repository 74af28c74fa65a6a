"""Composing a plan: its base, the differences laid over it, and the shots it uses and includes, as one list of shots.

Everything happens on the nodes of the files, so that each key keeps the file, line and column where it was written: a
problem of a plan's own key names the plan, one that comes with its base names the base.

The order in which a walk is made: the shots of the base; the differences of each overlay; the plan's own drops and
changes; the selection; its additions. The later word wins: an overlay that changes a shot which an earlier one dropped
brings it back.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from .nodes import Items, Node, Pairs, Scalar
from .plan_fields import SELECT
from .problems import Mark, did_you_mean, one_of, quoted
from .reading import Reading, Row, Spot
from .sheets import Sheets, id_of, merged, scalar_of
from .walk_list import WalkList

DEEPEST = 6
"""How many plans or shared files may stand behind each other."""

MOST_SHOTS = 600
"""More than any walk has; a plan whose shared files multiply is stopped here."""

MOST_INCLUDES = 100
_INHERITED = ("applies", "setups")
_DIFFERENCES = ("select", "drop", "change", "add")


@dataclass(frozen=True, slots=True)
class Composed:
    """A plan with everything it is made of.

    Attributes:
        head: the head with what it takes from its base; None where the file has none.
        shots: every shot in shooting order, as mappings whose keys know their places.
        base_ids: the ids of the shots that the base has.
        dropped: the shots of the base that were dropped: where the drop is written, and the shot.
        files: the plan's file and those of its base, of the base's base and so on.
    """

    head: Pairs | None
    shots: tuple[Pairs, ...] = ()
    base_ids: frozenset[str] = frozenset()
    dropped: tuple[tuple[Scalar, Pairs], ...] = ()
    files: tuple[Path, ...] = ()


def compose(path: Path, reading: Reading, shelf: Path | None = None) -> Composed | None:
    """Read the plan with all it is made of; problems are noted. None where the file is no plan at all.

    Args:
        shelf: a folder of plans that bases and shared files are looked for in after the plan's own folder.
    """
    return _Composer(Sheets(reading, shelf)).plan(path, ())


@dataclass(slots=True)
class _Composer:
    sheets: Sheets
    includes: int = 0
    shots: int = 0
    _full: bool = field(default=False)

    def plan(self, path: Path, behind: tuple[Path, ...]) -> Composed | None:
        sheet = self.sheets.plan(path)
        if sheet is None:
            return None
        head: Pairs | None = sheet["plan"]
        name = scalar_of(head, "base") if head else None
        base = self._base(name, path, behind) if name else None
        if name is None:
            self._needs_base(sheet)
        else:
            self._one_way(sheet)
        whole = _Plan(path, sheet, base or Composed(None), has_base=base is not None)
        walk = WalkList(whole.base.shots, self.sheets.reading.problems)
        for overlay in self._overlays(head, path, whole.base) if base else ():
            self._differ(walk, _Plan(overlay[0], overlay[1], whole.base, has_base=True))
        return self._made(whole, walk, _head(head, whole.base.head))

    def _made(self, plan: _Plan, walk: WalkList, head: Pairs | None) -> Composed:
        shots = self._shots(plan)
        if plan.sheet.has("shots") and not plan.sheet.has("select"):
            found = shots
        else:
            self._differ(walk, plan)
            found = walk.standing()
            if plan.sheet["select"] is not None:
                found = self._selected(plan, found, shots, head)
        ids = frozenset(id_of(shot) for shot in plan.base.shots)
        files = (plan.path, *plan.base.files)
        return Composed(head, tuple(found), ids, tuple(walk.dropped.values()), files)

    def _base(self, name: Scalar, path: Path, behind: tuple[Path, ...]) -> Composed | None:
        found = self.sheets.plan_called(name, path, "plan.base")
        if found is None:
            return None
        way = (*behind, path)
        if found.resolve() in [one.resolve() for one in way]:
            circle = " → ".join(one.name for one in (*way, found))
            self._wrong(name.mark, "plan.base", f"these plans are made from each other: {circle}", "give one no 'base'")
            return None
        if len(way) > DEEPEST:
            words = f"more than {DEEPEST} plans are made from each other"
            self._wrong(name.mark, "plan.base", words, "make this one from a plan nearer to the first")
            return None
        return self.plan(found, way)

    def _needs_base(self, sheet: Row) -> None:
        for key in _DIFFERENCES:
            if sheet.has(key):
                sheet.wrong(key, f"{key!r} needs the plan that this one is made from", "add to the head: base: …")
        if not sheet.has("shots") and sheet["plan"] is not None:
            words = "needs 'shots', or a base that has them"
            sheet.spot.wrong(sheet.node, words, "add 'shots', or to the head: base: hardtop-full")

    def _one_way(self, sheet: Row) -> None:
        if not sheet.has("shots") or sheet.has("select"):
            return
        for key in _DIFFERENCES[1:]:
            if sheet.has(key):
                words = f"{key!r} stands beside 'shots', which already say the whole walk"
                sheet.wrong(key, words, f"take 'shots' or {key!r} out")

    def _overlays(self, head: Pairs | None, path: Path, base: Composed) -> Iterable[tuple[Path, Row]]:
        node = head.get("overlays") if head else None
        for name in node.items if isinstance(node, Items) else ():
            found = self.sheets.plan_called(name, path, "plan.overlays") if isinstance(name, Scalar) else None
            sheet = self.sheets.plan(found) if found else None
            if found is None or sheet is None or not isinstance(name, Scalar):
                continue
            under = scalar_of(sheet["plan"], "base") if sheet["plan"] is not None else None
            if under is None or under.text not in [file.stem for file in base.files]:
                words = f"{name.text!r} is not made from any of the plans that this one is made from"
                self._wrong(name.mark, "plan.overlays", words, f"lay over plans made from {base.files[-1].stem!r}")
            elif sheet.has("shots") or sheet.has("select"):
                words = f"{name.text!r} says its whole walk, and no differences"
                self._wrong(name.mark, "plan.overlays", words, "only 'drop', 'change' and 'add' can be laid over")
            else:
                yield found, sheet

    def _differ(self, walk: WalkList, plan: _Plan) -> None:
        """Lay the differences of one plan over the walk."""
        walk.begin(plan.path.name)
        node = plan.sheet.given.get("drop")
        for name in node.items if isinstance(node, Items) else ():
            if isinstance(name, Scalar):
                walk.drop(name)
        for entry in plan.sheet["change"] or ():
            walk.change(entry)
        added = []
        for entry in plan.sheet["add"] or ():
            after = scalar_of(entry, "after")
            if after is None:
                words = "needs 'after': the shot it follows in shooting order"
                self._wrong(entry.mark, f"add.{id_of(entry) or '?'}", words, "add: after: ext-rear-left")
                continue
            added.append((after, self._expanded(entry, plan, (), "add")))
        walk.add(added)

    def _shots(self, plan: _Plan) -> list[Pairs]:
        entries = plan.sheet["shots"] or ()
        return [shot for entry in entries for shot in self._expanded(entry, plan, (), "shots")]

    def _expanded(self, entry: Pairs, plan: _Plan, behind: tuple[Path, ...], word: str) -> Sequence[Pairs]:
        """The shots that one entry stands for: itself, one of the base, or those of a shared file."""
        extra = ("after",) if word == "add" and not behind else ()
        if entry.get("include") is not None:
            return self._included(entry, plan, behind, word)
        if entry.get("use") is not None:
            under = self._used(entry, plan, word)
            return self._counted([merged(under, entry, without=("use", *extra))] if under else [], entry)
        return self._counted([merged(Pairs(entry.mark), entry, without=extra)], entry)

    def _used(self, entry: Pairs, plan: _Plan, word: str) -> Pairs | None:
        name = scalar_of(entry, "use")
        word = f"{word}.{name.text if name else '?'}.use"
        if name is None:
            self._wrong(entry.mark, word, "'use' names no shot", "write the id of a shot of the base")
            return None
        known = {id_of(shot): shot for shot in plan.base.shots}
        if name.text not in known:
            if plan.has_base:
                where = plan.base.files[0].stem
                remedy = did_you_mean(name.text, known) or f"its shots: {one_of(known)}"
                self._wrong(name.mark, word, f"there is no shot {quoted(name.text)} in {where!r}", remedy)
            elif not scalar_of(plan.sheet["plan"] or Pairs(entry.mark), "base"):
                words = "'use' needs the plan that the shot is taken from"
                self._wrong(name.mark, word, words, "add to the head: base: hardtop-full")
            return None
        return known[name.text]

    def _included(self, entry: Pairs, plan: _Plan, behind: tuple[Path, ...], word: str) -> Sequence[Pairs]:
        name, word = scalar_of(entry, "include"), f"{word}.include"
        if name is None or entry.get("use") is not None:
            self._wrong(
                entry.mark,
                word,
                "'include' names one file, and stands without 'use'",
                "as in: include: shared/papers.yaml",
            )
            return []
        path = self.sheets.shared_called(name, plan.path, word)
        if path is None or not self._may_include(name, path, behind, word):
            return []
        sheet = self.sheets.shared(path)
        shots: list[Pairs] = []
        for one in (sheet["shots"] or ()) if sheet else ():
            for shot in self._expanded(one, plan, (*behind, path), "shots"):
                shots.append(_with_keys(shot, entry))
        return shots

    def _may_include(self, name: Scalar, path: Path, behind: tuple[Path, ...], word: str) -> bool:
        self.includes += 1
        if path.resolve() in [one.resolve() for one in behind]:
            circle = " → ".join(one.name for one in (*behind, path))
            self._wrong(name.mark, word, f"these files include each other: {circle}", "take one 'include' out")
        elif len(behind) >= DEEPEST:
            words = f"more than {DEEPEST} files include each other"
            self._wrong(name.mark, word, words, "write the shots into a file nearer to the plan")
        elif self.includes > MOST_INCLUDES:
            words = f"more than {MOST_INCLUDES} files are included"
            self._wrong(name.mark, word, words, "check whether the files include each other too often")
        else:
            return True
        return False

    def _counted(self, shots: list[Pairs], entry: Pairs) -> list[Pairs]:
        self.shots += len(shots)
        if self.shots <= MOST_SHOTS * DEEPEST:
            return shots
        if not self._full:
            words = f"the plan and its files hold more than {MOST_SHOTS * DEEPEST} shots"
            self._wrong(entry.mark, "shots", words, "check whether a file is included too often")
        self._full = True
        return []

    def _selected(self, plan: _Plan, found: Sequence[Pairs], shots: list[Pairs], head: Pairs | None) -> list[Pairs]:
        """The chosen shots of the base and the plan's own, in the order of the plan's setups."""
        reading = self.sheets.reading
        row = SELECT.read(plan.sheet["select"], Spot(reading, "select"))
        if row is None or not row["into"]:
            return shots
        setups = _setup_ids(head)
        lines = []
        for one in row["into"]:
            node = one.given.get("setup")
            if isinstance(node, Scalar) and node.text not in setups:
                remedy = did_you_mean(node.text, setups) or f"its setups: {one_of(setups)}"
                one.wrong("setup", f"there is no setup {quoted(node.text)} in this plan", remedy)
            elif isinstance(node, Scalar):
                lines.append((node, one["of"], one["zones"]))
        chosen = []
        for shot in found:
            if (_flag(shot.get("rust")) is True) is not row["rust"]:
                continue
            was, zone = _text(shot, "setup"), _text(shot, "zone")
            setup = next((node for node, of, zones in lines if was in of or zone in zones), None)
            if setup is None:
                words = f"no line says where the shot {id_of(shot)!r} of setup {was!r} and zone {zone!r} goes"
                row.wrong("into", words, "add its setup or its zone to one of the lines")
                continue
            over = Pairs(shot.mark, [(Scalar(setup.mark, "setup", True), setup)])
            chosen.append(merged(shot, over))
        return sorted([*chosen, *shots], key=lambda shot: _place(_text(shot, "setup"), setups))

    def _wrong(self, mark: Mark, word: str, words: str, remedy: str) -> None:
        self.sheets.reading.problems.add(mark, word, words, remedy)


@dataclass(frozen=True, slots=True)
class _Plan:
    """One plan file with the base it stands on."""

    path: Path
    sheet: Row
    base: Composed
    has_base: bool


def _head(own: Pairs | None, base: Pairs | None) -> Pairs | None:
    """The plan's own head, with what it leaves to its base."""
    if own is None or base is None:
        return own
    return merged(Pairs(base.mark, [(key, node) for key, node in base.pairs if key.text in _INHERITED]), own)


def _with_keys(shot: Pairs, entry: Pairs) -> Pairs:
    """The shot with the keys that the including entry gives to all."""
    over = [(key, node) for key, node in entry.pairs if key.text not in ("include", "after")]
    return merged(shot, Pairs(shot.mark, over)) if over else shot


def _setup_ids(head: Pairs | None) -> list[str]:
    node = head.get("setups") if head else None
    return [id_of(item) for item in node.items if isinstance(item, Pairs)] if isinstance(node, Items) else []


def _place(setup: str, setups: list[str]) -> int:
    return setups.index(setup) if setup in setups else len(setups)


def _text(pairs: Pairs, key: str) -> str:
    found = scalar_of(pairs, key)
    return found.text if found else ""


def _flag(node: Node | None) -> bool | None:
    value = node.value() if isinstance(node, Scalar) else None
    return value if isinstance(value, bool) else None
