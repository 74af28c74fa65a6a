"""The book as first laid out: plan copies, cars, photos, decisions, numbers given out, journal, editions."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the seven tables."""
    op.create_table(
        "plan",
        sa.Column("sha256", sa.Text, nullable=False),
        sa.Column("content", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("sha256"),
        sqlite_strict=True,
    )
    op.create_table(
        "car",
        sa.Column("stock", sa.Text, nullable=False),
        sa.Column("folded", sa.Text, nullable=False, unique=True),
        sa.Column("plan_id", sa.Text, nullable=False),
        sa.Column("plan_sha256", sa.Text, nullable=False),
        sa.Column("plan_copy", sa.Text, nullable=False),
        sa.Column("made_at", sa.Text, nullable=False),
        sa.Column("changed_at", sa.Text, nullable=False),
        sa.Column("revision", sa.Integer, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("stock"),
        sa.ForeignKeyConstraint(["plan_copy"], ["plan.sha256"]),
        sqlite_strict=True,
    )
    op.create_table(
        "photo",
        sa.Column("stock", sa.Text, nullable=False),
        sa.Column("sha256", sa.Text, nullable=False),
        sa.Column("place", sa.Integer, nullable=False),
        sa.Column("readings", sa.Text, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("stock", "sha256"),
        sa.ForeignKeyConstraint(["stock"], ["car.stock"]),
        sqlite_strict=True,
    )
    op.create_index("photo_by_digest", "photo", ["sha256"])
    op.create_table(
        "decision",
        sa.Column("stock", sa.Text, nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("key", sa.Text, nullable=False),
        sa.Column("content", sa.Text, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("stock", "kind", "key"),
        sa.ForeignKeyConstraint(["stock"], ["car.stock"]),
        sqlite_strict=True,
    )
    _journal_tables()


def _journal_tables() -> None:
    op.create_table(
        "numbering",
        sa.Column("stock", sa.Text, nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("last", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("stock", "kind"),
        sa.ForeignKeyConstraint(["stock"], ["car.stock"]),
        sqlite_strict=True,
    )
    op.create_table(
        "entry",
        sa.Column("stock", sa.Text, nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("at", sa.Text, nullable=False),
        sa.Column("person", sa.Text, nullable=False),
        sa.Column("verb", sa.Text, nullable=False),
        sa.Column("words", sa.Text, nullable=False),
        sa.Column("changes", sa.Text, nullable=False),
        sa.Column("undoable", sa.Integer, nullable=False),
        sa.Column("undoes", sa.Integer),
        sa.Column("redoes", sa.Integer),
        sa.Column("previous", sa.Text, nullable=False),
        sa.Column("sha256", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("stock", "number"),
        sa.ForeignKeyConstraint(["stock"], ["car.stock"]),
        sqlite_strict=True,
    )
    op.create_table(
        "edition",
        sa.Column("stock", sa.Text, nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("content", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("stock", "number"),
        sa.ForeignKeyConstraint(["stock"], ["car.stock"]),
        sqlite_strict=True,
    )
