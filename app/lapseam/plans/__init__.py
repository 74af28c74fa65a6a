"""Plans: what do the shot-plan, vocabulary, car and notes files say, and where exactly are they wrong?

May import: `lapseam.domain`, ruamel.yaml (this is its home) and pydantic. Knows nothing of storage, intake or pages.
Every problem is told at once, with file, line, column and a remedy; a broken file raises `PlanBroken` or `NotesBroken`.
"""

from .plan import load_plan
from .problems import Grade, Problem
from .vocabulary import load_vocabulary

__all__ = ["Grade", "Problem", "load_plan", "load_vocabulary"]
