"""What a person can do: one keyword-only verb for each thing, called alike by windows, command line and phone.

Picks order and thread; no rule of the trade lives here. May import: plans, storage, intake, publish, domain.
Every verb answers with a Future, so that a window never waits; the command line asks for the result at once.
"""

from .desk import Desk
from .office import Done
from .runner import Every, Progress, Runner, Stop

__all__ = ["Desk", "Done", "Every", "Progress", "Runner", "Stop"]
