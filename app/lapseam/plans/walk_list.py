"""A list of shots that differences are laid over: what is dropped, changed and added."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from .nodes import Pairs, Scalar
from .problems import Problems, did_you_mean, one_of, quoted
from .sheets import id_of, merged, scalar_of

Added = tuple[Scalar, Sequence[Pairs]]
"""The shot after which something is added, and what."""


class WalkList:
    """Shots in shooting order. A dropped one keeps its place, so that what follows it still knows where it goes."""

    def __init__(self, shots: Iterable[Pairs], problems: Problems) -> None:
        self.dropped: dict[str, tuple[Scalar, Pairs]] = {}
        self._shots = list(shots)
        self._problems = problems
        self._dropped_here: set[str] = set()
        self._file = ""

    def begin(self, file: str) -> None:
        """From here on the differences are those of that file."""
        self._file = file
        self._dropped_here = set()

    def standing(self) -> list[Pairs]:
        """The shots that were not dropped."""
        return [shot for shot in self._shots if id_of(shot) not in self.dropped]

    def drop(self, name: Scalar) -> None:
        """Take a shot out. One that an earlier difference dropped already is passed over."""
        place = self._place(name, "drop")
        if place is not None:
            self._dropped_here.add(name.text)
            self.dropped.setdefault(name.text, (name, self._shots[place]))

    def change(self, entry: Pairs) -> None:
        """Give a shot other keys. One that an earlier difference dropped comes back."""
        name = scalar_of(entry, "id")
        if name is None:
            words, remedy = "needs 'id': the shot of the base that differs", "add: id: ext-front-left"
            self._problems.add(entry.mark, "change", words, remedy)
            return
        if name.text in self._dropped_here:
            words = f"the shot {name.text!r} is dropped and changed"
            self._problems.add(name.mark, f"change.{name.text}", words, "do one of the two")
            return
        place = self._place(name, "change")
        if place is not None:
            self.dropped.pop(name.text, None)
            self._shots[place] = merged(self._shots[place], entry)

    def add(self, added: Iterable[Added]) -> None:
        """Put shots behind others, also behind ones that are added; those behind the same shot keep their order."""
        behind: dict[str, list[Added]] = {}
        for after, shots in added:
            behind.setdefault(after.text, []).append((after, shots))
        made: list[Pairs] = []
        waiting = list(reversed(self._shots))
        while waiting:
            shot = waiting.pop()
            made.append(shot)
            for _, shots in reversed(behind.pop(id_of(shot), [])):
                waiting.extend(reversed(shots))
        self._shots = made
        added_ids = {id_of(one) for left in behind.values() for _, shots in left for one in shots}
        for left in behind.values():
            for after, shots in left:
                self._nowhere(after, shots, circle=after.text in added_ids)

    def _nowhere(self, after: Scalar, shots: Sequence[Pairs], *, circle: bool) -> None:
        word = f"add.{id_of(shots[0]) if shots else '?'}.after"
        if circle:
            words = f"what follows {after.text!r} is followed by it again"
            self._problems.add(after.mark, word, words, "let one of them follow a shot of the base")
            return
        known = [id_of(shot) for shot in self._shots]
        remedy = did_you_mean(after.text, known) or f"known: {one_of(known)}"
        words = f"there is no shot {quoted(after.text)} to follow"
        self._problems.add(after.mark, word, words, remedy)

    def _place(self, name: Scalar, key: str) -> int | None:
        known = [id_of(shot) for shot in self._shots]
        if name.text in known:
            return known.index(name.text)
        remedy = did_you_mean(name.text, known) or f"its shots: {one_of(known)}"
        self._problems.add(name.mark, f"{key}.{name.text}", f"the base has no shot {quoted(name.text)}", remedy)
        return None
