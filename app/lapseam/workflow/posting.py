"""Verbs about what outlets showed: post the car, take it down, and say what was to be seen on a day."""

from __future__ import annotations

import shutil
import tempfile
from concurrent.futures import Future
from dataclasses import asdict, dataclass, replace
from datetime import date, datetime, time, timedelta
from pathlib import Path

from lapseam import publish
from lapseam.domain.car import Car
from lapseam.domain.changes import Changes
from lapseam.domain.claims import Judged
from lapseam.domain.errors import Mistake, NotAllowed, NotFound
from lapseam.domain.phrases import day
from lapseam.domain.posting import PostedPhoto, Posting, Price, outlet_key, price_objections
from lapseam.publish.kept_copies import KeptCopy, keep_copy, outlet_folder
from lapseam.publish.listing_text import plain_words
from lapseam.publish.outlet_list import OutletRead, read_outlet
from lapseam.storage import EditionRow

from .listing import refuse
from .office import Choice, Done
from .outlets import Outlets, PhotoWishes
from .runner import Progress, Stop


@dataclass(frozen=True, slots=True)
class PostingAsked:
    """What a person says of a posting.

    `since` is when it began to be seen (None: now); `made` the outlet's folder as it was taken there (None: one is made
    from the record, which must be the edition's); `saved` are pages as they stood at the outlet; `order` are places in
    the folder as the outlet shows them, where it shows them in an order of its own: the others follow.
    """

    outlet: str
    edition: int | None = None
    price: Price | None = None
    since: datetime | None = None
    address: str = ""
    made: Path | None = None
    saved: tuple[Path, ...] = ()
    order: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Posted:
    """A posting that is kept, the one it stands for now, and words about it."""

    posting: Posting
    path: Path
    replaced: Posting | None
    changed: tuple[str, ...]
    words: str


@dataclass(frozen=True, slots=True)
class ShownThen:
    """A posting as it was to be seen on a day: its kept copy, whether that is whole, and the price's standing then."""

    posting: Posting
    path: Path
    whole: bool
    copy_words: str
    price_words: str
    span_words: str


def _silent(done: int, total: int) -> None:
    """Nobody listens."""


class Showing(Outlets):
    """What outlets showed."""

    def posted(
        self, *, stock: str, asked: PostingAsked, by: str, progress: Progress = _silent, stop: Stop | None = None
    ) -> Future[Posted]:
        """Keep what an outlet shows from now on; what it showed until then counts as replaced.

        Raises (in the future):
            NotAllowed: the edition is unsigned, or a sentence may not be printed. NotFound: no such car, outlet,
            edition or folder. Mistake: the folder is another car's or edition's, or a price is none. Cancelled,
            DiskFull, NoRights, PublishFailed: nothing was kept.
        """
        return self.runner.beside(self._posted, stock, asked, by, progress, stop or Stop())

    def taken_down(
        self, *, stock: str, outlet: str, by: str, at: datetime | None = None, words: str = ""
    ) -> Future[Done]:
        """Say that an outlet shows the car no longer. The posting and its copy stay.

        Raises (in the future):
            NotFound: nothing of this car is up there. Mistake: it was not up yet at that time.
        """

        def choose(car: Car) -> Choice:
            up = _up(car, outlet)
            if up is None:
                raise NotFound(
                    f"{stock} is not up at {outlet}.",
                    next_step=f"See what was shown: lapseam shown {stock}",
                )
            down = replace(up, down=at or self.now(), down_by=by, down_words=words)
            return (down,), (), f"Taken down from {up.outlet}: posting {up.number}"

        return self._decide(stock, verb="posted", by=by, choose=choose, changes=Changes.OUTLETS)

    def shown(self, *, stock: str, on: date | None = None) -> Future[tuple[ShownThen, ...]]:
        """What outlets showed on a day, or every posting there is, oldest first; each kept copy is checked.

        Raises (in the future):
            NotFound: no such car.
        """

        def work() -> tuple[ShownThen, ...]:
            postings = read.result().postings
            if on is not None:
                postings = tuple(one for one in postings if _on_that_day(one, on))
            ordered = sorted(postings, key=lambda one: (one.since, one.number))
            return tuple(self._then(stock, one, on) for one in ordered)

        read = self.runner.on_book(self._car, stock)
        return self.runner.aside(work)

    def _then(self, stock: str, posting: Posting, on: date | None) -> ShownThen:
        path = self._workspace.car_folder(stock) / posting.folder
        report = publish.verify(path)
        same = report.bag_sha256 == posting.bag_sha256
        replaced = report.complete and not same
        words = "Not as it was kept: its lists are not the ones on record." if replaced else report.words
        return ShownThen(
            posting, path, report.complete and same, words, _price_words(posting.price, on), _span_words(posting)
        )

    def _posted(self, stock: str, asked: PostingAsked, by: str, progress: Progress, stop: Stop) -> Posted:
        outlet = self._outlet_called(asked.outlet, 0)
        since = asked.since or self.now()
        edition, number = self.runner.on_book(self._to_post, stock, asked, since).result()
        folder = self._workspace.postings_folder(stock) / outlet_folder(outlet.name)
        publish.files.folder(folder)
        with tempfile.TemporaryDirectory(prefix=".making-", dir=folder) as scrap:
            made = asked.made
            if made is None:
                made = Path(scrap) / "made"
                self._make_folder(stock, outlet.name, edition, made, progress, stop)
            read = _reordered(read_outlet(made), asked.order)
            _refuse_other(read, stock, outlet.name, edition)
            refuse(self._judged_by_hand(stock, read), f"What was changed by hand for {outlet.name}")
            posting = _posting(read, asked, edition, number, since, by, self.now())
            copy = keep_copy(
                _free(folder / f"{number:04d}"),
                made=made,
                photos=[one.name for one in read.photos],
                posting=_told(posting, stock, edition),
                saved=asked.saved,
                info=_info(posting, stock, read.sending.house),
                stop=stop,
            )
        return self._enter(stock, posting, copy, by)

    def _to_post(self, stock: str, asked: PostingAsked, since: datetime) -> tuple[EditionRow, int]:
        """The signed edition that is shown, and the posting's number; on the book's thread."""
        _refuse_times(asked, since, _up(self._car(stock), asked.outlet))
        rows = self._workspace.book.editions(stock)
        wanted = asked.edition if asked.edition is not None else max((row.number for row in rows), default=0)
        edition = next((row for row in rows if row.number == wanted), None)
        if edition is None:
            there = f"It has: {', '.join(str(row.number) for row in rows)}." if rows else "It has none yet."
            raise NotFound(
                f"Car {stock} has no edition {wanted}." if rows else f"Car {stock} has no edition.",
                effect=there,
                next_step=f"Publish it with: lapseam publish {stock}",
            )
        if not edition.signed_by:
            raise NotAllowed(
                f"Edition {edition.number} of {stock} is UNSIGNED and goes to no outlet.",
                effect="Nothing was kept.",
                next_step=f"Sign the record and publish it again; see what is open with: lapseam review {stock}",
            )
        return edition, self._workspace.book.next_number(stock, "posting")

    def _make_folder(
        self, stock: str, outlet: str, edition: EditionRow, out: Path, progress: Progress, stop: Stop
    ) -> None:
        """The outlet's folder, made from the record, which must still be the edition's."""
        worked = self._worked(stock, outlet, 0, PhotoWishes())
        if worked.sending.edition != edition.number:
            raise Mistake(
                f"The record of {stock} has gone on since edition {edition.number}.",
                effect="What would be made now is not what that edition says; nothing was kept.",
                next_step="Publish and sign anew, or name the folder that was taken to the outlet.",
            )
        self._written(worked, stock, out, progress, stop)

    def _judged_by_hand(self, stock: str, read: OutletRead) -> tuple[Judged, ...]:
        """What the guard says of texts and captions, where a person changed any of them."""
        if not read.changed:
            return ()
        review = self.runner.on_book(self._review, stock).result()
        texts = read.texts
        words = (texts.title, texts.teaser, plain_words(texts.text, texts.form), *(one.caption for one in read.photos))
        return self._judged(review, words)

    def _enter(self, stock: str, posting: Posting, copy: KeptCopy, by: str) -> Posted:
        """Enter the posting whose copy is kept; without its entry the copy goes too."""
        folder = copy.folder.relative_to(self._workspace.car_folder(stock)).as_posix()
        whole = replace(posting, folder=folder, bag_sha256=copy.bag_sha256, saved=copy.saved)
        replaced: list[Posting] = []

        def choose(car: Car) -> Choice:
            up = _up(car, whole.outlet)
            if up is not None:
                words = f"replaced by posting {whole.number}"
                replaced.append(replace(up, down=whole.since, down_by=by, down_words=words))
            return (*replaced, whole), (), f"Posting {whole.number}: edition {whole.edition} at {whole.outlet}"

        try:
            self.runner.on_book(self._decide_now, stock, "posted", by, choose, Changes.OUTLETS).result()
        except BaseException:
            shutil.rmtree(copy.folder, ignore_errors=True)
            raise
        words = f"Posting {whole.number}: {whole.outlet} shows edition {whole.edition} with {len(whole.photos)} photos."
        return Posted(whole, copy.folder, replaced[0] if replaced else None, whole.changed, words)


def _up(car: Car, outlet: str) -> Posting | None:
    """What that outlet shows of the car now."""
    key = outlet_key(outlet)
    return next((one for one in car.postings if one.up and outlet_key(one.outlet) == key), None)


def _on_that_day(posting: Posting, on: date) -> bool:
    """Whether it was to be seen on that day, by the clock of the place where it was posted."""
    first = datetime.combine(on, time.min, posting.since.tzinfo)
    return posting.seen_between(first, first + timedelta(days=1))


def _free(target: Path) -> Path:
    """That name, or one with a number more where a copy without an entry lies there."""
    found, more = target, 1
    while found.exists():
        more += 1
        found = target.with_name(f"{target.name}-{more}")
    return found


def _refuse_times(asked: PostingAsked, since: datetime, up: Posting | None) -> None:
    """Refuse what no record could hold before anything is made.

    Raises:
        Mistake: a price that is none, or a beginning before that of what is up.
    """
    if asked.price is not None and (against := tuple(price_objections(asked.price, since.date()))):
        words = against[0]
        raise Mistake(f"{words[:1].upper()}{words[1:]}.", effect="Nothing was kept.", next_step="Say the price again.")
    if up is not None and since < up.since:
        raise Mistake(
            f"Posting {up.number} at {up.outlet} is up since {_moment(up.since)}, later than this one.",
            effect="Nothing was kept.",
            next_step="Post what came first, first; or take that posting down.",
        )


def _reordered(read: OutletRead, order: tuple[int, ...]) -> OutletRead:
    """The folder's photos as the outlet shows them.

    Raises:
        Mistake: a place that the folder has not, or one named twice.
    """
    places = range(1, len(read.photos) + 1)
    if len(set(order)) < len(order) or any(place not in places for place in order):
        raise Mistake(
            f"The order must name places from 1 to {len(read.photos)}, each once.",
            effect="Nothing was kept.",
            next_step="A place is the number that a file's name begins with, counted anew where files were taken out.",
        )
    shown = [*order, *(place for place in places if place not in order)]
    if shown == list(places):
        return read
    photos = tuple(read.photos[place - 1] for place in shown)
    return replace(read, photos=photos, changed=(*read.changed, "The outlet shows the photos in an order of its own."))


def _refuse_other(read: OutletRead, stock: str, outlet: str, edition: EditionRow) -> None:
    sending = read.sending
    ours = sending.stock == stock and outlet_key(read.outlet) == outlet_key(outlet)
    if not ours or sending.record_sha256 != edition.record_sha256:
        of = f"{sending.stock} for {read.outlet}" + (f", edition {sending.edition}" if sending.edition else "")
        raise Mistake(
            f"The folder is of {of}, not of edition {edition.number} of {stock} for {outlet}.",
            effect="Nothing was kept.",
            next_step="Name the folder that was taken there, or the edition that it was made from.",
        )


def _posting(
    read: OutletRead, asked: PostingAsked, edition: EditionRow, number: int, since: datetime, by: str, at: datetime
) -> Posting:
    """The posting but for its kept copy."""
    return Posting(
        number=number,
        outlet=read.outlet,
        edition=edition.number,
        since=since,
        by=by,
        at=at,
        photos=tuple(
            PostedPhoto(place, one.original, one.name, one.sha256, one.caption)
            for place, one in enumerate(read.photos, 1)
        ),
        title=read.texts.title,
        teaser=read.texts.teaser,
        text=read.texts.text,
        form=read.texts.form,
        folder="",
        bag_sha256="",
        price=asked.price,
        address=asked.address,
        changed=read.changed,
    )


def _told(posting: Posting, stock: str, edition: EditionRow) -> dict[str, object]:
    """What `posting.json` of the copy says: everything but who, which stays in the record."""
    said = {
        key: value
        for key, value in asdict(posting).items()
        if key not in ("by", "at", "down", "down_by", "down_words", "folder", "bag_sha256", "saved")
    }
    price = posting.price
    until = price.until.isoformat() if price and price.until else ""
    return {
        "stock": stock,
        **said,
        "form": posting.form.value,
        "since": posting.since.isoformat(),
        "price": {"amount": price.amount, "currency": price.currency, "until": until} if price else None,
        "edition_bag_sha256": edition.manifest_sha256,
        "record_sha256": edition.record_sha256,
    }


def _info(posting: Posting, stock: str, house: str) -> tuple[tuple[str, str], ...]:
    told = (
        ("Source-Organization", house),
        ("Bagging-Date", posting.at.date().isoformat()),
        ("External-Identifier", f"{stock}/{posting.edition}/{posting.outlet}/{posting.number}"),
        ("External-Description", f"What {posting.outlet} showed of {stock}: {posting.title}"),
        ("Internal-Sender-Identifier", stock),
    )
    return tuple((label, value) for label, value in told if value)


def _price_words(price: Price | None, on: date | None) -> str:
    if price is None:
        return "No price was said."
    words = f"{price.amount} {price.currency}"
    if price.until is None:
        return f"{words}, without an end."
    ended = f"; on {day(on)} that had passed" if on is not None and on > price.until else ""
    return f"{words}, valid until {day(price.until)}{ended}."


def _span_words(posting: Posting) -> str:
    since = _moment(posting.since)
    if posting.down is None:
        return f"up since {since}"
    why = f", {posting.down_words}" if posting.down_words else ""
    return f"{since} to {_moment(posting.down)}{why}"


def _moment(at: datetime) -> str:
    return f"{day(at.date())} {at:%H:%M}"
