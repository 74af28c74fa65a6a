"""Verbs about editions: publish the next one, list them, and put right what a killed run left."""

from __future__ import annotations

import json
from collections.abc import Mapping
from concurrent.futures import Future
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from lapseam import __version__, publish
from lapseam.domain import edition as editing
from lapseam.domain.car import House
from lapseam.domain.decision import PROGRAM
from lapseam.domain.edition import Edition
from lapseam.domain.errors import KeyRefused, NotAllowed, NotFound
from lapseam.domain.photo import PreviewSize
from lapseam.domain.signing_key import grouped
from lapseam.publish import Seal, SignatureFound, StampFound, VerifyReport
from lapseam.publish.kept_copies import sweep_copies
from lapseam.storage import EditionRow, plan_text, record_sha256, verify_journal

from .key_keeping import known_keys
from .listing import Standing
from .outlets import Outlets
from .runner import Progress, Stop
from .signing import Review, text_of

DATA = "data"
_MANAGER = "manager"


@dataclass(frozen=True, slots=True)
class EditionMade:
    """A finished edition: its folder (a bag), its two pages, and words about it."""

    number: int
    path: Path
    gallery: Path
    disclosure: Path
    photos: int
    signed: bool
    words: str


@dataclass(frozen=True, slots=True)
class EditionLine:
    """One edition in a list."""

    number: int
    at: datetime
    path: Path
    photos: int
    signed: bool


def _silent(done: int, total: int) -> None:
    """Nobody listens."""


class Publishing(Outlets):
    """Editions."""

    def publish(
        self,
        *,
        stock: str,
        by: str,
        passphrase: str | None = None,
        progress: Progress = _silent,
        stop: Stop | None = None,
    ) -> Future[EditionMade]:
        """Publish the next edition, built beside and swapped in: a failed build leaves the last one untouched.

        With the signer's passphrase the edition itself is signed too; without it, `sign_edition` does that later.

        Raises (in the future):
            PublishFailed, DiskFull: nothing was published. Cancelled: `stop` was set.
            KeyRefused, WrongPassphrase: the signer's key cannot be used so; nothing was published.
        """
        return self.runner.beside(self._publish, stock, by, passphrase, progress, stop or Stop())

    def sign_edition(self, *, stock: str, number: int, by: str, passphrase: str) -> Future[SignatureFound]:
        """Sign an edition that is published already with a manager's key; the signature lies beside its folder.

        Raises (in the future):
            NotFound: no such edition. NotAllowed: it is unsigned, changed, or the person is no manager.
            KeyRefused, WrongPassphrase: the key cannot be used so, or another key signed the record.
        """
        return self.runner.aside(self._sign_edition, stock, number, by, passphrase)

    def ask_stamp(self, *, stock: str, number: int, by: str) -> Future[Path]:
        """Write a time stamp request (RFC 3161) for an edition, to be sent by the house; answers with its file."""

        def work() -> Path:
            path = publish.stamp_request(self._edition_folder(stock, number))
            self._tell(stock, "time-stamp", f"Ask for a time stamp of edition {number}", by)
            return path

        return self.runner.aside(work)

    def take_stamp(
        self, *, stock: str, number: int, reply: Path, by: str, roots: Path | None = None
    ) -> Future[StampFound]:
        """Take an authority's reply in beside the edition, if it fits.

        Raises (in the future):
            Mistake: it does not fit, or cannot be read. NotFound: no such edition or file.
        """

        def work() -> StampFound:
            folder = self._edition_folder(stock, number)
            for path in filter(None, (reply, roots)):
                if not path.is_file():
                    raise NotFound(f"There is no file {path}.")
            found = publish.take_reply(folder, reply, roots=roots)
            self._tell(stock, "time-stamp", f"Take the time stamp of edition {number} in: {found.words}", by)
            return found

        return self.runner.aside(work)

    def verify(self, *, stock: str, number: int) -> Future[VerifyReport]:
        """Whether an edition of this house is complete and unchanged, and whose signature it carries."""
        folder = self._edition_folder(stock, number)
        return self.runner.aside(lambda: publish.verify(folder, known=known_keys(self.house)))

    def editions(self, *, stock: str) -> Future[tuple[EditionLine, ...]]:
        """The car's editions, oldest first."""

        def read() -> tuple[EditionLine, ...]:
            self._car(stock)
            folder = self._workspace.editions_folder(stock)
            return tuple(
                EditionLine(row.number, row.at, folder / row.folder, row.photos, bool(row.signed_by))
                for row in self._workspace.book.editions(stock)
            )

        return self.runner.on_book(read)

    def journal_faults(self, *, stock: str) -> Future[tuple[str, ...]]:
        """What is wrong with the car's hash-chained journal file, in words; empty when it holds."""

        def look() -> tuple[str, ...]:
            self._car(stock)
            report = verify_journal(self._workspace.car_folder(stock) / "journal.jsonl")
            return (*report.problems, *(["its last line was cut off"] if report.torn else []))

        return self.runner.on_book(look)

    def finish_started_work(self) -> tuple[str, ...]:
        """Sweep half-built editions and enter finished ones that a killed run did not; on the book's thread.

        Returns:
            What was put right, in words.
        """
        words = list(self._workspace.repaired)
        for line in self._workspace.book.cars():
            sweep_copies(self._workspace.postings_folder(line.stock))
            folder = self._workspace.editions_folder(line.stock)
            if not folder.is_dir():
                continue
            if swept := publish.sweep(folder):
                words.append(f"{line.stock}: {len(swept)} half-built editions were cleared away.")
            entered = {row.folder for row in self._workspace.book.editions(line.stock)}
            for found in sorted(folder.iterdir()):
                if found.is_dir() and found.name not in entered:
                    self._workspace.book.add_edition(line.stock, _row_of(found, PROGRAM))
                    words.append(f"{line.stock}: finished edition {found.name} was entered in the book.")
        return tuple(words)

    def _tell(self, stock: str, verb: str, words: str, by: str) -> None:
        """Enter in the car's journal what was done beside its record."""
        at = self.now()
        self.runner.on_book(lambda: self._workspace.book.tell(stock, verb=verb, words=words, by=by, at=at)).result()

    def _edition_folder(self, stock: str, number: int) -> Path:
        self.runner.on_book(self._car, stock).result()
        folder = self._workspace.editions_folder(stock) / publish.folder_name(number)
        if not folder.is_dir():
            raise NotFound(f"{stock} has no edition {number}.", next_step=f"List them with: lapseam editions {stock}")
        return folder

    def _sign_edition(self, stock: str, number: int, by: str, passphrase: str) -> SignatureFound:
        folder = self._edition_folder(stock, number)
        opened = self._open_key(by, passphrase)
        person = self.house.person(by)
        if opened is None or person is None or "manager" not in person.roles:
            raise NotAllowed(f"{by or 'Nobody'} is no manager with a key, and only such a one signs an edition.")
        report = publish.verify(folder)
        if not report.complete or not report.signed:
            why = report.words if not report.complete else "its record is unsigned"
            raise NotAllowed(
                f"Edition {number} of {stock} cannot be signed: {why}",
                effect="Nothing was written.",
                next_step=f"See what it says with: lapseam verify {folder}",
            )
        if report.signature.fingerprint not in ("", opened.key.fingerprint):
            raise KeyRefused(
                f"The record of edition {number} was signed with another key: {grouped(report.signature.fingerprint)}.",
                effect="Nothing was written.",
                next_step="Its holder must sign the edition.",
            )
        publish.lay_beside(folder, publish.SignerSaid(opened.key.public, _MANAGER), opened.sign)
        self._tell(stock, "sign", f"Sign edition {number} with the key {grouped(opened.key.fingerprint)}", by)
        return publish.verify(folder, known=known_keys(self.house)).signature

    def _seal(self, review: Review, passphrase: str | None) -> Seal | None:
        """Who signs the edition by key: nobody, the key of the sign-off by name of it, or that key itself."""
        signed = review.signed
        if signed is None or not signed.key_sha256:
            if passphrase:
                why = "is signed by name only" if signed is not None else "is not signed"
                raise KeyRefused(
                    f"The record of {review.car.stock} {why}, so that no key can sign its edition.",
                    effect="Nothing was published.",
                    next_step=f"Sign it with the key first: lapseam sign {review.car.stock}; or publish without one.",
                )
            return None
        held = review.house.key_holder(signed.key_sha256)
        if held is None:
            return None
        text = text_of(review.car.stock, signed)
        said = publish.SignerSaid(held[1].public, signed.role, text, signed.signature)
        if not passphrase:
            return publish.Seal(said)
        return publish.Seal(said, self._workspace.keyring.open(held[1], passphrase, whose=signed.by).sign)

    def _publish(self, stock: str, by: str, passphrase: str | None, progress: Progress, stop: Stop) -> EditionMade:
        review, edition = self.runner.on_book(self._edition, stock).result()
        seal = self._seal(review, passphrase)
        standing = Standing(review, edition.number, datetime.fromisoformat(edition.made_at), True)
        listing = self._package_texts(standing)
        made = publish.make_edition(
            edition,
            originals=self._workspace.vault.path,
            folder=self._workspace.editions_folder(stock),
            plan_json=plan_text(review.car.plan),
            tool_version=__version__,
            record_sha256=record_sha256(review.car),
            signer_role=review.signed.role if review.signed else "",
            seal=seal,
            paper=paper_of(review.house),
            cache=self.folder / "cache" / "renditions",
            texts={**listing, **self._package_sets(standing)},
            posters=lambda sha256: self._workspace.previews.path(sha256, PreviewSize.PREVIEW),
            progress=progress,
            stop=stop,
        )
        self.runner.on_book(self._workspace.book.add_edition, stock, _row_of(made.path, by)).result()
        signed = review.signed is not None
        how = "UNSIGNED" if not signed else "signed by name" if seal is None else "signed with a key"
        words = f"Edition {made.number} of {stock} is published, {how}, with {made.photos} photos."
        words += _without_catalogue(review.house.language, edition.language.tag)
        if not listing:
            words += f" Its listing text was left out, since not all of it may be said: lapseam listing {stock}"
        data = made.path / DATA
        return EditionMade(
            made.number, made.path, data / "index.html", data / "disclosure.html", made.photos, signed, words
        )

    def _edition(self, stock: str) -> tuple[Review, Edition]:
        review = self._review(stock)
        self._refuse_baseless(review.car)
        rows = self._workspace.book.editions(stock)
        folder = self._workspace.editions_folder(stock)
        number = max([row.number for row in rows] + publish.numbers(folder), default=0) + 1
        edition = editing.build(
            review.car,
            review.coverage,
            review.rules,
            review.house,
            number=number,
            made_at=self.now(),
            signed=review.signed,
            previous=_record_of(folder / rows[-1].folder) if rows else None,
            language=self.language,
        )
        return review, edition


def _without_catalogue(wished: str, spoken: str) -> str:
    """What to say where the house wishes for a language that there are no words in."""
    if wished.partition("-")[0].casefold() == spoken.partition("-")[0].casefold():
        return ""
    return f" It is in English: there is no catalogue messages/{wished}/LC_MESSAGES/edition.po in the workspace."


def paper_of(house: House) -> publish.Paper:
    """US Letter for a house that works in miles and inches, else A4."""
    return publish.Paper.LETTER if {"mi", "in"} <= set(house.units) else publish.Paper.A4


def _record_of(folder: Path) -> Mapping[str, Any] | None:
    """An earlier edition's public record, or None where it cannot be read any more."""
    try:
        record: Mapping[str, Any] = json.loads((folder / DATA / "record.json").read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    return record


def _row_of(folder: Path, by: str) -> EditionRow:
    """The book's row for an edition's folder, from its own edition.json."""
    told = json.loads((folder / DATA / "edition.json").read_text(encoding="utf-8"))
    return EditionRow(
        number=told["number"],
        at=datetime.fromisoformat(told["made_at"]),
        by=by,
        revision=told["revision"],
        folder=folder.name,
        record_sha256=told["record_sha256"],
        manifest_sha256=publish.bag_sha256(folder),
        signed_by=told.get("signed_by_role", ""),
        photos=len(told["photos"]),
    )
