"""Plans: what do the shot-plan, vocabulary, car and notes files say, and where exactly are they wrong?

May import: `lapseam.domain`, ruamel.yaml (this is its home) and pydantic. Knows nothing of storage, intake or pages.
Every problem is told at once, with file, line, column and a remedy; a broken file raises `PlanBroken` or `NotesBroken`.
"""

from .asked import BASE as ASKED_BASE
from .asked import asked_plan
from .car_file import CarFile, read_car_file
from .catalogue import PlanFile, find_plans
from .check import check_plan
from .claim_file import load_claim_rules
from .kept_ids import keep_ids
from .notes import Notes, read_notes
from .notes_form import notes_form
from .notes_table import columns_told
from .plan import load_plan, vocabulary_for
from .plan_copy import digest, dump_plan, plan_from
from .problems import Grade, Problem
from .reference import reference
from .schema import schemas
from .search_words import load_search_words
from .vocabulary import load_lists, load_vocabulary
from .writing import write_whole

__all__ = [
    "ASKED_BASE",
    "CarFile",
    "Grade",
    "Notes",
    "PlanFile",
    "Problem",
    "asked_plan",
    "check_plan",
    "columns_told",
    "digest",
    "dump_plan",
    "find_plans",
    "keep_ids",
    "load_claim_rules",
    "load_lists",
    "load_plan",
    "load_search_words",
    "load_vocabulary",
    "notes_form",
    "plan_from",
    "read_car_file",
    "read_notes",
    "reference",
    "schemas",
    "vocabulary_for",
    "write_whole",
]
