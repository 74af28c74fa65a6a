"""The tables of the book, valid on SQLite (as STRICT tables) and on PostgreSQL.

Only INTEGER and TEXT: moments are ISO 8601 text, values are canonical JSON text, yes and no are 1 and 0. `version`
counts a row's changes, so that several stations can see that somebody else was faster.
"""

from __future__ import annotations

from sqlalchemy import Column, ForeignKeyConstraint, Index, Integer, MetaData, PrimaryKeyConstraint, Table, Text

metadata = MetaData()

plan = Table(
    "plan",
    metadata,
    Column("sha256", Text, nullable=False),
    Column("content", Text, nullable=False),
    PrimaryKeyConstraint("sha256"),
    sqlite_strict=True,
)

car = Table(
    "car",
    metadata,
    Column("stock", Text, nullable=False),
    Column("folded", Text, nullable=False, unique=True),
    Column("plan_id", Text, nullable=False),
    Column("plan_sha256", Text, nullable=False),
    Column("plan_copy", Text, nullable=False),
    Column("made_at", Text, nullable=False),
    Column("changed_at", Text, nullable=False),
    Column("revision", Integer, nullable=False),
    Column("version", Integer, nullable=False),
    PrimaryKeyConstraint("stock"),
    ForeignKeyConstraint(["plan_copy"], ["plan.sha256"]),
    sqlite_strict=True,
)

photo = Table(
    "photo",
    metadata,
    Column("stock", Text, nullable=False),
    Column("sha256", Text, nullable=False),
    Column("place", Integer, nullable=False),
    Column("readings", Text, nullable=False),
    Column("version", Integer, nullable=False),
    PrimaryKeyConstraint("stock", "sha256"),
    ForeignKeyConstraint(["stock"], ["car.stock"]),
    Index("photo_by_digest", "sha256"),
    sqlite_strict=True,
)

decision = Table(
    "decision",
    metadata,
    Column("stock", Text, nullable=False),
    Column("kind", Text, nullable=False),
    Column("key", Text, nullable=False),
    Column("content", Text, nullable=False),
    Column("version", Integer, nullable=False),
    PrimaryKeyConstraint("stock", "kind", "key"),
    ForeignKeyConstraint(["stock"], ["car.stock"]),
    sqlite_strict=True,
)

numbering = Table(
    "numbering",
    metadata,
    Column("stock", Text, nullable=False),
    Column("kind", Text, nullable=False),
    Column("last", Integer, nullable=False),
    PrimaryKeyConstraint("stock", "kind"),
    ForeignKeyConstraint(["stock"], ["car.stock"]),
    sqlite_strict=True,
)

entry = Table(
    "entry",
    metadata,
    Column("stock", Text, nullable=False),
    Column("number", Integer, nullable=False),
    Column("at", Text, nullable=False),
    Column("person", Text, nullable=False),
    Column("verb", Text, nullable=False),
    Column("words", Text, nullable=False),
    Column("changes", Text, nullable=False),
    Column("undoable", Integer, nullable=False),
    Column("undoes", Integer),
    Column("redoes", Integer),
    Column("previous", Text, nullable=False),
    Column("sha256", Text, nullable=False),
    PrimaryKeyConstraint("stock", "number"),
    ForeignKeyConstraint(["stock"], ["car.stock"]),
    sqlite_strict=True,
)

edition = Table(
    "edition",
    metadata,
    Column("stock", Text, nullable=False),
    Column("number", Integer, nullable=False),
    Column("content", Text, nullable=False),
    PrimaryKeyConstraint("stock", "number"),
    ForeignKeyConstraint(["stock"], ["car.stock"]),
    sqlite_strict=True,
)
