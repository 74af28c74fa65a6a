"""What was taken in and said, and how is it kept so that nothing is lost?

Workspace, book (the rows), journal (undo and audit), vault (originals by hash), mirror (the open files beside the
database), previews, the house's settings, the keys of those who sign. May import: domain. SQLAlchemy, Alembic and
pydantic live here, ruamel.yaml for settings.yaml, and cryptography for private keys. The book belongs to one thread;
vault, previews and keys may be used from any.
"""

from .book import Book, CarLine
from .codec import plan_from, plan_text, record_sha256
from .house import load_house, save_house
from .journal import JournalReport, verify_journal
from .keyring import Keyring, OpenKey
from .previews import Previews
from .rebuild import MissingPhoto, RebuildReport, RebuiltCar, rebuild
from .record import EditionRow, RecordFile, read_record, record_schema, record_schema_text
from .search import Finds, Found, IndexLost, Search
from .vault import Vault
from .workspace import Workspace

__all__ = [
    "Book",
    "CarLine",
    "EditionRow",
    "Finds",
    "Found",
    "IndexLost",
    "JournalReport",
    "Keyring",
    "MissingPhoto",
    "OpenKey",
    "Previews",
    "RebuildReport",
    "RebuiltCar",
    "RecordFile",
    "Search",
    "Vault",
    "Workspace",
    "load_house",
    "plan_from",
    "plan_text",
    "read_record",
    "rebuild",
    "record_schema",
    "record_schema_text",
    "record_sha256",
    "save_house",
    "verify_journal",
]
