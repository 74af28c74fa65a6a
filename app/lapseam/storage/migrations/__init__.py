"""The numbered migrations of the book, and the one function that runs them.

They ship inside the package and need no settings file. A migration's revision is its number in four digits; `HEAD` is
the last one, so that a workspace that is up to date opens without loading the machinery.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final

from sqlalchemy import Connection

HEAD: Final = "0001"
"""The revision that this program reads and writes."""

_HERE: Final = Path(__file__).parent


def upgrade(connection: Connection, *, extra: Sequence[Path] = (), to: str = "head") -> None:
    """Bring the database behind `connection` to revision `to`, all steps in the transaction that is under way.

    `extra` names further folders with migrations.
    """
    from alembic import command
    from alembic.config import Config

    config = Config()
    folders = [str(folder) for folder in (_HERE / "versions", *extra)]
    config.set_main_option("path_separator", "newline")
    config.set_main_option("script_location", _escaped(str(_HERE)))
    config.set_main_option("version_locations", _escaped("\n".join(folders)))
    config.attributes["connection"] = connection
    command.upgrade(config, to)


def _escaped(path: str) -> str:
    """The settings parser reads % as the start of a name."""
    return path.replace("%", "%%")
