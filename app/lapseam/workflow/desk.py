"""The desk: every verb of the house on one open workspace."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from lapseam.storage import Workspace

from .arranging import Arranging
from .asking import Asking
from .calling import Calling
from .comparing import Comparing
from .finding_out import FindingOut
from .looking import Looking
from .office import Clock
from .posting import Showing
from .printing import Printing
from .recording import Recording
from .runner import Runner
from .shelving import Shelving
from .taking_in import TakingIn
from .yard import Yard


class Desk(
    Yard, TakingIn, Recording, FindingOut, Arranging, Comparing, Printing, Looking, Shelving, Asking, Calling, Showing
):
    """All verbs together. Open one with `Desk.open`; close it when done."""

    @classmethod
    def open(cls, folder: Path, *, create: bool = False, clock: Clock | None = None) -> Desk:
        """Open the workspace in `folder` on a thread of its own; what a killed run left half done is put right.

        Raises:
            NotFound, NoRights, WorkspaceBusy, WorkspaceNewer, WorkspaceBroken: in words for a person.
        """
        runner = Runner()
        try:
            workspace = runner.on_book(Workspace.open, folder, create=create).result()
        except BaseException:
            runner.close()
            raise
        desk = cls(folder, workspace, runner=runner, clock=clock or _wall_clock)
        desk.runner.on_book(desk.finish_started_work).result()
        return desk

    def __enter__(self) -> Desk:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


def _wall_clock() -> datetime:
    return datetime.now().astimezone()
