"""Verbs about the listing's text: as it would be pasted, with what the claims guard says of every sentence of it."""

from __future__ import annotations

from collections.abc import Iterable
from concurrent.futures import Future
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from lapseam import publish
from lapseam.domain.claim_evidence import OnFile
from lapseam.domain.claims import Judged, Verdict
from lapseam.domain.edition import draft_in, with_own_units
from lapseam.domain.edition_draft import Draft
from lapseam.domain.errors import NotAllowed
from lapseam.domain.language import Language, speaking
from lapseam.domain.listing import listing_of
from lapseam.domain.listing_draft import Places, gather
from lapseam.domain.selection import Outlet, TextForm
from lapseam.publish.listing_text import write_text
from lapseam.publish.outlet_list import OutletTexts
from lapseam.storage import record_sha256
from lapseam.storage.layout import TEMPLATES

from .guarding import guard_for
from .signing import Review, Signing


@dataclass(frozen=True, slots=True)
class ListingMade:
    """A listing as it would be pasted. `outlet` is "" for none; `edition` 0 where none stands under this record.

    `judged` are all sentences of title, teaser and text with what the guard says; `refused` those that may not go out.
    `left_out` are sentences that the outlet's limit took; `over` how many characters are too many all the same.
    """

    stock: str
    outlet: str
    edition: int
    form: TextForm
    title: str
    teaser: str
    text: str
    signed: bool
    judged: tuple[Judged, ...]
    left_out: tuple[str, ...] = ()
    over: int = 0

    @property
    def refused(self) -> tuple[Judged, ...]:
        """Sentences that may not be printed on the evidence that is on file."""
        return refused_of(self.judged)

    @property
    def texts(self) -> OutletTexts:
        """The three texts as they are pasted."""
        return OutletTexts(self.title, self.teaser, self.text, self.form)


@dataclass(frozen=True, slots=True)
class Standing:
    """A review with the edition its record stands `published` as, or would be the next: number and moment."""

    review: Review
    number: int
    made_at: datetime
    published: bool

    @property
    def edition(self) -> int:
        """The edition that holds this very record, 0 if none does."""
        return self.number if self.published else 0


class Listings(Signing):
    """The listing's text."""

    def listing(self, *, stock: str, form: TextForm = TextForm.PLAIN) -> Future[ListingMade]:
        """The car's listing for no outlet in particular, nothing left out.

        Raises (in the future):
            NotFound: no such car. TemplateBroken: a template of the house's does not hold.
        """

        def work() -> ListingMade:
            standing = read.result()
            with speaking(self._tongue):
                return self._listing(standing, self._draft(standing), form)

        read = self.runner.on_book(self._standing, stock)
        return self.runner.aside(work)

    def save_text(self, *, listing: ListingMade, out: Path) -> Future[Path]:
        """Write a listing's text into a file. One for no outlet may be unsigned: it says so at its head.

        Raises (in the future):
            NotAllowed: it is for an outlet and nobody has signed the record, or a sentence may not be printed; `detail`
            has each with the wording that is allowed instead. DiskFull, NoRights: nothing was written.
        """

        def work() -> Path:
            if listing.outlet:
                refuse_unsigned(listing.signed, listing.stock)
            refuse(listing.judged, f"The listing of {listing.stock}")
            publish.write_file(out, listing.text.encode())
            return out

        return self.runner.beside(work)

    def _standing(self, stock: str) -> Standing:
        """The review and the edition that this record stands published as, or would be; on the book's thread."""
        review = self._review(stock)
        self._refuse_baseless(review.car)
        rows = self._workspace.book.editions(stock)
        digest = record_sha256(review.car)
        last = next((row for row in reversed(rows) if row.record_sha256 == digest), None)
        if last is not None:
            return Standing(review, last.number, last.at, True)
        return Standing(review, max((row.number for row in rows), default=0) + 1, self.now(), False)

    @property
    def _tongue(self) -> Language:
        """The language that texts are made in, with the house's units first where it wants that."""
        return with_own_units(self.language, self.house)

    def _draft(self, standing: Standing) -> Draft:
        """What texts are made from; call it while the house's language is spoken."""
        review = standing.review
        return draft_in(
            self.language, review.car, review.coverage, review.rules, review.house,
            number=standing.number, made_at=standing.made_at, signed=review.signed,
        )  # fmt: skip

    def _listing(
        self,
        standing: Standing,
        draft: Draft,
        form: TextForm,
        *,
        outlet: Outlet | None = None,
        places: Places | None = None,
    ) -> ListingMade:
        listing = listing_of(gather(draft, published=standing.published, places=places), outlet)
        limit = outlet.text_chars if outlet else 0
        written = write_text(listing, form, limit=limit, house=self.folder / TEMPLATES)
        words = (listing.title, listing.teaser, written.plain)
        return ListingMade(
            stock=draft.car.stock,
            outlet=outlet.name if outlet else "",
            edition=standing.edition,
            form=form,
            title=listing.title,
            teaser=listing.teaser,
            text=written.text,
            signed=draft.signed is not None,
            judged=self._judged(standing.review, words),
            left_out=written.left_out,
            over=written.over,
        )

    def _judged(self, review: Review, words: Iterable[str]) -> tuple[Judged, ...]:
        """Every sentence of those texts, held against the record."""
        guard = guard_for(review.car.plan.vocabulary, self.folder)
        on_file = OnFile(review.car, review.coverage)
        return tuple(one for text in words for one in guard.judge(text, on_file=on_file))

    def _package_texts(self, standing: Standing) -> dict[str, bytes]:
        """The listing in every form for an edition's package, by file name; none if a sentence may not be printed."""
        with speaking(self._tongue):
            listing = listing_of(gather(self._draft(standing), published=True))
        written = {form: write_text(listing, form, house=self.folder / TEMPLATES) for form in TextForm}
        words = (listing.title, listing.teaser, *(one.plain for one in written.values()))
        if refused_of(self._judged(standing.review, words)):
            return {}
        return {publish.listing_name(form): one.text.encode() for form, one in written.items()}


def refused_of(judged: Iterable[Judged]) -> tuple[Judged, ...]:
    """The sentences that may not be printed as things stand, each once."""
    found = {one.text: one for one in judged if one.verdict is not Verdict.ALLOWED}
    return tuple(found.values())


def refuse_unsigned(signed: bool, stock: str) -> None:
    """Let nothing out of the house that nobody has signed.

    Raises:
        NotAllowed: nobody has signed the record as it stands now.
    """
    if not signed:
        raise NotAllowed(
            f"{stock} goes to no outlet: nobody has signed the record as it stands now.",
            effect="Nothing was written; it may still be looked at.",
            next_step=f"See what is open with: lapseam review {stock}",
        )


def refuse(judged: Iterable[Judged], what: str) -> None:
    """Stop what may not be printed.

    Raises:
        NotAllowed: there is such a sentence; `detail` has each, why, and the wording that is allowed instead.
    """
    found = refused_of(judged)
    if not found:
        return
    lines = []
    for sentence in found:
        lines.append(sentence.text)
        for one in sentence.objections:
            instead = f" Say instead: {one.instead}." if one.instead else ""
            lines.append(f"  {one.why}{instead}")
    count = f"{len(found)} sentences that may" if len(found) > 1 else "one sentence that may"
    raise NotAllowed(
        f"{what} holds {count} not be printed on the evidence that is on file.",
        effect="Nothing was written.",
        next_step="Put the evidence on file, or say it in the words allowed, in the record or in the house's template.",
        detail="\n".join(lines),
    )
