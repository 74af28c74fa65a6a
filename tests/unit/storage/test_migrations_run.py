"""Migrations: from nothing, from an older book with a copy kept, all or nothing; and the same tables on PostgreSQL."""

from __future__ import annotations

import sqlite3
from contextlib import ExitStack, closing
from pathlib import Path
from typing import Any

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import event
from sqlalchemy.dialects import postgresql
from sqlalchemy.schema import CreateIndex, CreateTable

from fakes.record import BY, every_kind, moment, photo, plan
from lapseam.domain.errors import NothingToUndo
from lapseam.storage import EditionRow, Workspace, migrations, plan_text
from lapseam.storage.tables import metadata
from lapseam.storage.workspace import open_database

LATER = '''
"""A later migration, for this test only."""
import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

def upgrade():
    op.add_column("car", sa.Column("lot", sa.Text))
    {more}
'''


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    with Workspace.open(tmp_path / "yard", create=True) as workspace:
        workspace.book.new_car("T-114", plan_text(plan()), "0" * 64, "tiny", by=BY, at=moment())
    return tmp_path / "yard"


def later(tmp_path: Path, more: str = "") -> Path:
    versions = tmp_path / "later"
    versions.mkdir()
    (versions / "m0002_lot.py").write_text(LATER.format(more=more))
    return versions


def columns(path: Path) -> list[str]:
    with closing(sqlite3.connect(path)) as database:
        return [row[1] for row in database.execute("PRAGMA table_info(car)")]


def revision(path: Path) -> str:
    with closing(sqlite3.connect(path)) as database:
        return str(database.execute("SELECT version_num FROM alembic_version").fetchone()[0])


def test_the_number_that_opening_looks_for_is_the_last_migration() -> None:
    script = ScriptDirectory(str(Path(migrations.__file__).parent))
    assert script.get_current_head() == migrations.HEAD
    numbers = [one.revision for one in reversed(list(script.walk_revisions()))]
    assert numbers == [f"{number:04}" for number in range(1, len(numbers) + 1)]


def test_migrations_from_nothing_make_the_tables_that_the_code_uses(tmp_path: Path) -> None:
    with ExitStack() as held:
        connection = open_database(tmp_path / "new.sqlite", held)
        with connection.begin():
            context = MigrationContext.configure(connection, opts={"compare_server_default": True})
            assert compare_metadata(context, metadata) == []


def test_an_older_book_is_copied_and_then_brought_up_to_date(folder: Path, tmp_path: Path) -> None:
    database = folder / "lapseam.sqlite"
    with ExitStack() as held:
        open_database(database, held, extra=[later(tmp_path)])
    assert revision(database) == "0002"
    assert "lot" in columns(database)
    (copy,) = folder.glob("lapseam.sqlite.before-upgrade-*")
    assert copy.name == "lapseam.sqlite.before-upgrade-from-0001-1"
    assert revision(copy) == "0001"
    with closing(sqlite3.connect(copy)) as old:
        assert old.execute("SELECT stock FROM car").fetchall() == [("T-114",)]
    assert not list(folder.glob("*.part"))


def test_a_migration_that_fails_leaves_the_book_as_it_was(folder: Path, tmp_path: Path) -> None:
    database = folder / "lapseam.sqlite"
    with ExitStack() as held, pytest.raises(ZeroDivisionError):
        open_database(database, held, extra=[later(tmp_path, more="1 / 0")])
    assert revision(database) == "0001"
    assert "lot" not in columns(database)
    with Workspace.open(folder) as workspace:
        assert [line.stock for line in workspace.book.cars()] == ["T-114"]


@pytest.mark.parametrize("table", metadata.sorted_tables, ids=lambda table: table.name)
def test_every_table_can_be_made_on_postgresql(table: Any) -> None:
    made = str(CreateTable(table).compile(dialect=postgresql.dialect()))
    assert f"CREATE TABLE {table.name}" in made.replace('"', "")
    assert "STRICT" not in made
    for index in table.indexes:
        assert "CREATE INDEX" in str(CreateIndex(index).compile(dialect=postgresql.dialect()))


def test_every_statement_of_a_whole_life_can_be_said_on_postgresql(tmp_path: Path) -> None:
    said: set[str] = set()

    def listen(_connection: Any, statement: Any, *_: Any) -> None:
        if isinstance(statement, str):
            said.add(f"as text: {statement}")
        else:
            said.add(str(statement.compile(dialect=postgresql.dialect())))

    with Workspace.open(tmp_path / "yard", create=True) as workspace:
        book = workspace.book
        event.listen(book._connection.engine, "before_execute", listen)
        book.new_car("T-114", plan_text(plan()), "0" * 64, "tiny", by=BY, at=moment())
        book.add_photo("T-114", photo(1), by=BY, at=moment())
        book.apply("T-114", verb="all", words="", by=BY, at=moment(), put=every_kind(moment()))
        book.apply("T-114", verb="all", words="", by=BY, at=moment(), put=every_kind(moment(9)))
        book.undo("T-114", by=BY, at=moment())
        book.redo("T-114", by=BY, at=moment())
        book.add_edition("T-114", EditionRow(1, moment(), BY, 1, "edition-1"))
        with pytest.raises(NothingToUndo):
            book.redo("T-114", by=BY, at=moment())
        book.cars()
        book.car("T-114")
        book.known(photo(1).sha256)
        book.log("T-114")
        book.editions("T-114")
        book.next_number("T-114", "finding")
    assert not [text for text in said if text.startswith("as text")]
    assert len(said) > 20
