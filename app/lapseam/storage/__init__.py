"""What was taken in and said, and how is it kept so that nothing is lost?

Workspace, book (the rows), journal (undo and audit), vault (originals by hash), mirror (the open files beside the
database), previews, the house's settings. May import: domain. SQLAlchemy, Alembic and pydantic live here, and
ruamel.yaml for settings.yaml. The book belongs to one thread; vault and previews may be used from any.
"""

from .book import Book, CarLine
from .codec import plan_from, plan_text, record_sha256
from .house import load_house, save_house
from .journal import JournalReport, verify_journal
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
    "MissingPhoto",
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
