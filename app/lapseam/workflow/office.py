"""The ground that all verbs stand on: an open workspace, the clock, the book's thread, and the gate for decisions."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import Future
from dataclasses import dataclass
from datetime import datetime
from gettext import NullTranslations
from pathlib import Path

from lapseam import plans, publish
from lapseam.domain.admission import refused, unknown
from lapseam.domain.car import Car, House
from lapseam.domain.changes import Changes, Entry
from lapseam.domain.condition import Scalar, Value
from lapseam.domain.decision import Decision
from lapseam.domain.errors import Mistake, NotFound
from lapseam.domain.language import ENGLISH, Language
from lapseam.domain.measure.reading import quantity
from lapseam.domain.photo import Photo
from lapseam.domain.plan import FactAsked, FactKind
from lapseam.storage import Workspace
from lapseam.storage.layout import MESSAGES

from .runner import Runner

Clock = Callable[[], datetime]


@dataclass(frozen=True, slots=True)
class Done:
    """What a verb did: flags for screens, the journal's step (None: nothing was different), and words for people."""

    changes: Changes
    entry: Entry | None
    words: str


@dataclass(frozen=True, slots=True)
class Drop:
    """A decision to take back, by kind and key."""

    kind: str
    key: str


Choice = tuple[Sequence[Decision], Sequence[Drop], str]
"""What to put, what to drop, and the journal's words."""


class Office:
    """One open workspace. `clock` gives the present moment with its zone; nothing below asks for the time itself."""

    def __init__(self, folder: Path, workspace: Workspace, *, runner: Runner, clock: Clock) -> None:
        self.folder = folder
        self.runner = runner
        self._workspace = workspace
        self._clock = clock
        self._closed = False
        self.shown_in: Language = ENGLISH
        """The language in which cars and coverage are handed to screens; the terminal leaves it English."""

    def close(self) -> None:
        """Close the workspace and end the threads; closing twice does nothing."""
        if self._closed:
            return
        self._closed = True
        self.runner.on_book(self._workspace.close).result()
        self.runner.close()

    @property
    def language(self) -> Language:
        """The language of the house's editions: of a catalogue of its own in `messages`, else of one that ships.

        Raises:
            LanguageBroken: no such language is known, or its catalogue does not hold.
        """
        return publish.language(self.house.language, self.folder / MESSAGES)

    def window_texts(self) -> NullTranslations:
        """The windows' own texts in the house's language, from `lapseam.po` beside the editions' catalogue.

        Raises:
            LanguageBroken: as `language`.
        """
        return publish.window_texts(self.house.language, self.folder / MESSAGES)

    @property
    def house(self) -> House:
        """The house's settings as they are on disk now."""
        return self._workspace.house()

    def now(self) -> datetime:
        """The present moment, with its zone."""
        return self._clock()

    def car(self, *, stock: str) -> Future[Car]:
        """A fresh picture of the whole car."""
        return self.runner.on_book(self._car, stock)

    def _car(self, stock: str) -> Car:
        known = [line.stock for line in self._workspace.book.cars()]
        if stock not in known:
            hint = f" The cars here: {', '.join(known)}." if known else ""
            raise NotFound(
                f"There is no car {stock} in this workspace.",
                effect=hint.strip(),
                next_step="Check the stock number, or make the car with: lapseam new STOCK --plan PLAN",
            )
        return self._workspace.book.car(stock)

    def _decide(
        self, stock: str, *, verb: str, by: str, choose: Callable[[Car], Choice], changes: Changes
    ) -> Future[Done]:
        """Let `choose` look at the car and say what changes; gate it; write it as one undoable step."""
        return self.runner.on_book(self._decide_now, stock, verb, by, choose, changes)

    def _decide_now(self, stock: str, verb: str, by: str, choose: Callable[[Car], Choice], changes: Changes) -> Done:
        car = self._car(stock)
        put, drop, words = choose(car)
        self.gate(put, car)
        entry = self._workspace.book.apply(
            stock, verb=verb, words=words, by=by, at=self.now(), put=put, drop=[(d.kind, d.key) for d in drop]
        )
        return Done(changes if entry else Changes.NOTHING, entry, words if entry else "Nothing was different.")

    @staticmethod
    def gate(put: Iterable[Decision], car: Car) -> None:
        """Refuse what may not enter the record, with every objection in one message.

        Raises:
            Mistake: one or more decisions may not enter; nothing was written.
        """
        against = refused(put, car)
        if against:
            lines = [f"{type(one).__name__} {one.key}: {why}" for one, whys in against for why in whys]
            more = f" (and {len(lines) - 1} more)" if len(lines) > 1 else ""
            raise Mistake(
                f"This cannot go into the record: {against[0][1][0]}{more}.",
                effect="Nothing was written.",
                next_step="Put it right and say it again.",
                detail="\n".join(lines),
            )


def photo_called(car: Car, name: str) -> Photo:
    """The one photo of that name or digest.

    Raises:
        NotFound: there is none. Mistake: there are several.
    """
    found = car.photos_called(name)
    if not found:
        words = unknown(name, "photo of this car", [photo.name for photo in car.photos])
        raise NotFound(words[0].upper() + words[1:] + ".", next_step=f"List them with: lapseam photos {car.stock}")
    if len(found) > 1:
        raise Mistake(
            f"{len(found)} photos are called {name!r}.",
            next_step="Name it by the first digits of its digest: " + ", ".join(photo.short for photo in found),
        )
    return found[0]


def plan_path(folder: Path, name: str) -> Path:
    """The plan file that `name` means: a path, or the id of a plan in the workspace or among those that ship.

    Raises:
        NotFound: there is no such file and no such id.
    """
    from lapseam.places import shot_plans

    if name.endswith((".yaml", ".yml")) or "/" in name:
        path = Path(name)
        if path.is_file():
            return path
        raise NotFound(f"There is no plan file {name}.", next_step="List the plans with: lapseam plans")
    known = {one.id: one.path for one in plans.find_plans(folder / "plans", shot_plans())}
    if name not in known:
        words = unknown(name, "plan", known)
        raise NotFound(words[0].upper() + words[1:] + ".", next_step="List the plans with: lapseam plans")
    return known[name]


def typed_fact(asked: FactAsked, said: str) -> Value:
    """What a person typed as the kind of answer the fact wants; a word that is none stays as typed."""
    if asked.kind is FactKind.FLAG:
        return {"true": True, "yes": True, "false": False, "no": False}.get(said.lower(), said)
    if asked.kind is FactKind.NUMBER:
        try:
            read = quantity(said, of=asked.id.replace("_", " "))
        except Mistake:
            return said
        if read.unit:
            return said
        number: Scalar = int(read.amount) if read.amount == int(read.amount) else float(read.amount)
        return number
    if asked.kind is FactKind.LIST:
        return tuple(word.strip() for word in said.split(",") if word.strip())
    return said
