"""The book: cars, their photos, their decisions and the journal of every change. The only place that writes rows."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from datetime import datetime

from sqlalchemy import Connection

from lapseam.domain.changes import Change, Entry
from lapseam.domain.decision import Decision
from lapseam.domain.errors import Mistake, NothingToUndo
from lapseam.domain.photo import Photo

from . import rows
from .codec import (
    canonical,
    decision_text,
    digest,
    dumped,
    json_of,
    key_of,
    photo_text,
    plan_from,
    readable,
    same_word,
)
from .layout import JOURNAL, stock_number
from .reading import CarLine, Reading
from .record import EditionRow

__all__ = ["Book", "CarLine"]


class Book(Reading):
    """The rows of one workspace, to look into and to change. Belongs to the thread that opened it.

    Each verb is one transaction and one journal step; the car's files follow after the commit.
    """

    def new_car(
        self,
        stock: str,
        plan_json: str,
        plan_sha256: str,
        plan_id: str,
        *,
        by: str,
        at: datetime,
        decisions: Iterable[Decision] = (),
    ) -> Entry:
        """Make a car with its own copy of the plan (the JSON of a `Plan`, as `plan_text` writes it).

        `plan_sha256` names the plan as it was read and is kept as given. Making a car cannot be undone.

        Raises:
            Mistake: the stock number is taken or cannot name a folder, or the text is no plan.
        """
        stock_number(stock)
        plan = plan_from(plan_json)
        row = rows.CarRow(stock, plan_id, plan_sha256, digest(plan_json), at.isoformat(), at.isoformat(), 0)
        with self._turn() as connection:
            self._refuse_taken(connection, stock)
            rows.insert_car(connection, row, plan_json)
            self._plans[row.plan_copy] = plan
            made = {"plan_id": plan_id, "plan_sha256": plan_sha256, "plan_copy": row.plan_copy}
            changes = (Change("car", stock, None, made), *self._changes(connection, stock, put=decisions, drop=()))
            entry = self._write(connection, row, changes, verb="new-car", words=f"New car {stock}", by=by, at=at)
        self._follow(stock)
        return entry

    def add_photo(self, stock: str, photo: Photo, *, by: str, at: datetime) -> bool:
        """Add a photo that is already in the vault. False: this car has it. Cannot be undone.

        Raises:
            NotFound: there is no such car.
        """
        return bool(self.add_photos(stock, (photo,), by=by, at=at))

    def add_photos(self, stock: str, photos: Iterable[Photo], *, by: str, at: datetime) -> tuple[Photo, ...]:
        """Add photos as one step; returns those that the car did not have yet. Cannot be undone.

        Raises:
            NotFound: there is no such car.
        """
        with self._turn() as connection:
            row = self._row(connection, stock)
            here = rows.digests(connection, stock)
            new = tuple({one.sha256: one for one in photos if one.sha256 not in here}.values())
            if not new:
                return ()
            changes = tuple(Change("photo", one.sha256, None, json.loads(photo_text(one))) for one in new)
            words = f"Take in {len(new)} photos" if len(new) > 1 else f"Take in {readable(new[0].name)}"
            self._write(connection, row, changes, verb="take-in", words=words, by=by, at=at)
        self._follow(stock)
        return new

    def apply(
        self,
        stock: str,
        *,
        verb: str,
        words: str,
        by: str,
        at: datetime,
        put: Iterable[Decision] = (),
        drop: Iterable[tuple[str, str]] = (),
        undoable: bool = True,
    ) -> Entry | None:
        """Put decisions and drop those named by (kind, key), all in one step. None: nothing was different.

        Putting what is there already, and dropping what is not, changes nothing; the program's own proposal is the
        same as before if only its moment differs.

        Raises:
            NotFound: there is no such car.
        """
        with self._turn() as connection:
            row = self._row(connection, stock)
            changes = self._changes(connection, stock, put=put, drop=drop)
            if not changes:
                return None
            entry = self._write(connection, row, changes, verb=verb, words=words, by=by, at=at, undoable=undoable)
        self._follow(stock)
        return entry

    def undo(self, stock: str, *, by: str, at: datetime) -> Entry:
        """Take back the last step that can be taken back; after an undo the one before it.

        Raises:
            NotFound: there is no such car. NothingToUndo: there is no such step, or a later one stands on it.
        """
        return self._play(stock, by=by, at=at, back=True)

    def redo(self, stock: str, *, by: str, at: datetime) -> Entry:
        """Do again what was last undone, unless something was changed since.

        Raises:
            NotFound: there is no such car. NothingToUndo: there is no such step, or a later one stands in its way.
        """
        return self._play(stock, by=by, at=at, back=False)

    def add_edition(self, stock: str, edition: EditionRow) -> Entry:
        """Enter a published edition. Cannot be undone.

        Raises:
            NotFound: there is no such car. Mistake: it has an edition of that number.
        """
        with self._turn() as connection:
            row = self._row(connection, stock)
            here = [json.loads(text)["number"] for text in rows.editions(connection, stock)]
            if edition.number in here:
                raise Mistake(
                    f"Car {stock} already has an edition {edition.number}.",
                    next_step=f"The next one is {max(here) + 1}.",
                )
            change = Change("edition", str(edition.number), None, dumped(edition))
            words = f"Publish edition {edition.number}"
            entry = self._write(connection, row, (change,), verb="publish", words=words, by=edition.by, at=edition.at)
        self._follow(stock)
        return entry

    def tell(self, stock: str, *, verb: str, words: str, by: str, at: datetime) -> Entry:
        """Enter what somebody did beside the record, such as signing an edition. No row changes and no undo plays it.

        Raises:
            NotFound: there is no such car.
        """
        with self._turn() as connection:
            entry = self._write(connection, self._row(connection, stock), (), verb=verb, words=words, by=by, at=at)
        self._follow(stock)
        return entry

    def _refuse_taken(self, connection: Connection, stock: str) -> None:
        taken = rows.like(connection, stock)
        if taken is not None:
            raise Mistake(
                f"There is already a car {taken}.",
                effect="Nothing was changed.",
                next_step="Open that car, or give the new one another stock number.",
            )
        if (self._mirror.folder(stock) / JOURNAL).exists():
            raise Mistake(
                f"The folder {self._mirror.folder(stock)} holds the journal of a car that the database does not know.",
                effect="Nothing was changed.",
                next_step="Bring that car back with: lapseam rebuild; or give the new one another stock number.",
            )

    @staticmethod
    def _changes(
        connection: Connection, stock: str, *, put: Iterable[Decision], drop: Iterable[tuple[str, str]]
    ) -> tuple[Change, ...]:
        """What differs between the rows and what is wanted; the last word on a key counts."""
        wanted: dict[rows.Key, str | None] = dict.fromkeys(drop)
        wanted.update({key_of(decision): decision_text(decision) for decision in put})
        changes = []
        for (kind, key), after in wanted.items():
            before = rows.content(connection, stock, (kind, key))
            if before != after and not same_word(before, after):
                changes.append(Change(kind, key, json_of(before), json_of(after)))
        return tuple(changes)

    @staticmethod
    def _write(
        connection: Connection,
        row: rows.CarRow,
        changes: tuple[Change, ...],
        *,
        verb: str,
        words: str,
        by: str,
        at: datetime,
        undoable: bool = False,
        plays: Mapping[str, int] | None = None,
    ) -> Entry:
        entry = Entry(
            stock=row.stock,
            number=row.revision + 1,
            at=at,
            by=readable(by),
            verb=readable(verb),
            words=readable(words),
            changes=changes,
            undoable=undoable,
            **(plays or {}),
        )
        rows.write_entry(connection, entry)
        return entry

    def _follow(self, stock: str) -> None:
        with self._turn() as connection:
            self._mirror.follow(connection, stock)

    def _play(self, stock: str, *, by: str, at: datetime, back: bool) -> Entry:
        """Write the step that plays the next one back (undo) or forth (redo)."""
        with self._turn() as connection:
            row = self._row(connection, stock)
            target = self._target(connection, stock, back=back)
            if target is None:
                raise NothingToUndo(f"There is nothing to {'undo' if back else 'redo'} on car {stock}.")
            changes = target.changes
            if back:
                changes = tuple(Change(one.kind, one.key, one.after, one.before) for one in reversed(changes))
            self._refuse_stale(connection, target, changes)
            entry = self._write(
                connection,
                row,
                changes,
                verb="undo" if back else "redo",
                words=f"{'Undo' if back else 'Redo'} step {target.number}: {target.words}",
                by=by,
                at=at,
                plays={"undoes" if back else "redoes": target.number},
            )
        self._follow(stock)
        return entry

    @staticmethod
    def _refuse_stale(connection: Connection, target: Entry, changes: Iterable[Change]) -> None:
        """A step that is not undoable may have changed the same row since; then playing would lose it."""
        for one in changes:
            here = rows.content(connection, target.stock, (one.kind, one.key))
            if here != (None if one.before is None else canonical(one.before)):
                raise NothingToUndo(
                    f"Step {target.number} ({target.words}) cannot be played: {one.kind} {one.key} was changed since.",
                    effect="Nothing was changed.",
                )
