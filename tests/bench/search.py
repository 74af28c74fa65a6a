"""How fast the answer desk answers: 500 cars, 50,000 photos and 100,000 other entries, all invented on the spot.

Run as a script. Prints milliseconds a query (the least of several runs) beside a plain scan for the same words in a
table of the same texts. `--cars N` makes it smaller, `--runs N` measures more often.
"""

from __future__ import annotations

import argparse
import random
import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import date, timedelta
from hashlib import sha256
from pathlib import Path
from time import perf_counter

from lapseam import places, plans
from lapseam.domain.ageing import Lasting
from lapseam.domain.entry import Entry, EntryKind, Named
from lapseam.domain.plan import Vocabulary
from lapseam.domain.search_words import SearchWords, read_query
from lapseam.domain.statement import Basis
from lapseam.storage import Search

PHOTOS, ENTRIES = 100, 200
"""For each car."""
QUESTIONS = (
    *("floor pans", "does the clock work", "tyre age", "any rust?", "rust in the boot", "wing scratch"),
    *("frame rails", "silencer", "gauge reading on the door", "windsc", "original paint", "banana"),
    *("left", "trunk lamp test", "left right front rear floor panel", "what doesn't work?", "q40"),
)
KINDS = (
    *((EntryKind.FINDING, 20), (EntryKind.CHECK, 30), (EntryKind.MEASUREMENT, 15), (EntryKind.STATEMENT, 10)),
    *((EntryKind.LOOKED, 25), (EntryKind.CALL, 10), (EntryKind.NOT_SEEN, 50), (EntryKind.NOT_TESTED, 40)),
)
LISTS = {
    EntryKind.FINDING: ("list:findings",),
    EntryKind.NOT_SEEN: ("list:not-seen",),
    EntryKind.NOT_TESTED: ("list:not-tested", "list:checks"),
}


def entries(number: int, words: Vocabulary, dice: random.Random) -> Iterator[Entry]:
    """The entries and photos of one car, in the trade's words."""
    parts, kinds = tuple(words.components().values()), tuple(words.findings.values())
    checks = tuple(words.checks.values())
    names = [f"IMG_{number:03}{place:03}.JPG" for place in range(PHOTOS)]
    photos = [Named(sha256(name.encode()).hexdigest(), name) for name in names]
    filler = [word for part in parts for word in part.name.split()]
    for kind, share in KINDS:
        for place in range(share):
            part, found, check = dice.choice(parts), dice.choice(kinds), dice.choice(checks)
            subject = f"{part.name}: {found.name}" if kind is EntryKind.FINDING else part.name
            subject = check.item if kind in (EntryKind.CHECK, EntryKind.NOT_TESTED) else subject
            yield Entry(
                key=f"{kind.value}:{place}",
                kind=kind,
                subject=subject,
                words=f"{subject}: {' '.join(dice.choices(filler, k=12))}.",
                basis="seen on 12 May 2026",
                day=date(2026, 5, 12) - timedelta(days=dice.randrange(200)),
                photos=tuple(dice.sample(photos, k=2)),
                about=(part.id, check.id, *LISTS.get(kind, ()), f"group:{found.group}"),
                lasting=Lasting.LOOK,
                rank=dice.randrange(6),
                how=Basis.SEEN,
                more=f"{found.definition} {part.zone}",
            )
    for photo in photos:
        part = dice.choice(parts)
        yield Entry(
            key=f"photo:{photo.sha256}",
            kind=EntryKind.PHOTO,
            subject=f"{part.name}, view",
            words=f"{part.name}: {photo.name}; it shows {' '.join(dice.choices(filler, k=6))}.",
            photos=(photo,),
            about=(part.id,),
            answers=False,
            more=photo.name,
        )


def least(runs: int, job: Callable[[], object]) -> float:
    """The shortest of several runs, in milliseconds."""
    taken = []
    for _ in range(runs):
        begun = perf_counter()
        job()
        taken.append(perf_counter() - begun)
    return min(taken) * 1000


def scan(database: sqlite3.Connection, text: str, words: SearchWords, stock: str | None) -> list[object]:
    """What a plain scan costs: every group's phrases by LIKE over the same texts, best rows first."""
    groups = read_query(text, words).groups
    tests = [" OR ".join("text LIKE ?" for _ in group.phrases) for group in groups]
    holding = " AND ".join(f"({test})" for test in tests) or "0"
    one_car = "stock = ? AND " if stock else ""
    given = [*((stock,) if stock else ()), *(f"%{' '.join(said)}%" for group in groups for said in group.phrases)]
    query = f"SELECT content FROM flat WHERE {one_car}({holding}) ORDER BY id LIMIT 50"
    return database.execute(query, given).fetchall()


def ask(search: Search, text: str, words: SearchWords, stock: str | None) -> object:
    """One question as the answer desk asks it."""
    query = read_query(text, words)
    about = search.about(query.question.about, stock=stock) if query.question is not None else None
    return about, search.find(query, stock=stock)


def main() -> None:
    """Make the cars, index them, and measure."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cars", type=int, default=500)
    parser.add_argument("--runs", type=int, default=7)
    args = parser.parse_args()
    folder = places.shot_plans() / "vocabulary"
    vocabulary, words = plans.load_vocabulary(folder), plans.load_search_words(folder)
    dice = random.Random(1)
    with tempfile.TemporaryDirectory() as where:
        path = Path(where) / "search.sqlite"
        search = Search(path)
        begun = perf_counter()
        for number in range(args.cars):
            search.put(f"B-{number}", "0", entries(number, vocabulary, dice))
        print(f"{args.cars} cars, {args.cars * PHOTOS:,} photos, {args.cars * ENTRIES:,} other entries")
        print(f"indexed in {perf_counter() - begun:.1f} s; {path.stat().st_size / 1e6:.0f} MB")
        with closing(sqlite3.connect(path)) as plain:
            texts = "SELECT id, stock, content, subject || words || more AS text FROM entry"
            plain.execute(f"CREATE TEMP TABLE flat AS {texts}")
            marks = {f"B-{number}": "0" for number in range(args.cars)}
            print(f"which cars have changed: {least(args.runs, lambda: search.behind(marks)):.1f} ms")
            print(f"{'':34}{'every car':>24}{'one car':>24}\n{'':34}" + f"{'index ms':>12}{'scan ms':>12}" * 2)
            for text in QUESTIONS:
                row = [
                    least(args.runs, job)
                    for stock in (None, "B-7")
                    for job in (
                        lambda text=text, stock=stock: ask(search, text, words, stock),
                        lambda text=text, stock=stock: scan(plain, text, words, stock),
                    )
                ]
                print(f"{text:34}" + "".join(f"{ms:12.1f}" for ms in row))
        search.close()


if __name__ == "__main__":
    main()
