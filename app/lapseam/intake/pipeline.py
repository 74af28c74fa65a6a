"""Takes photos in: copies, looks, keeps, and tells what became of every file.

Order for one file: copy and hash in one read, ask whether it is known, look at the copy, move it into the vault, make
previews, and only then hand the photo to the caller for its row. A crash between any two steps is harmless: the next
take-in of the same card finishes the work, and what is safe is not copied twice.

Workers copy and look; everything the caller hands in as a callable is called on the caller's own thread, one file after
the other, in the order found.
"""

from __future__ import annotations

import os
import sys
import threading
from collections import deque
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import Future, ThreadPoolExecutor, wait
from contextlib import suppress
from dataclasses import dataclass
from typing import Any, Final

from lapseam.domain.errors import CutShort, UserError
from lapseam.domain.photo import IntakeOutcome, IntakeResult, Photo
from lapseam.intake.look import look
from lapseam.intake.near import SameView
from lapseam.intake.ports import Previews, Vault
from lapseam.intake.progress import Every
from lapseam.intake.refusal import Refused
from lapseam.intake.source import Found
from lapseam.intake.spool import Spooled, spool, writing

AHEAD: Final = 2
"""Files per worker that are being copied, and as many that are being looked at, before the next one is begun."""
_NICENESS: Final = 5
MOST_WORKERS: Final = 4
"""More threads than this only fight for the card and the memory."""


@dataclass(frozen=True, slots=True)
class TakenIn:
    """What became of a take-in: one result for each file finished, in the order found; `total` counts all found."""

    results: tuple[IntakeResult, ...]
    total: int
    stopped: bool = False

    def count(self, outcome: IntakeOutcome) -> int:
        """How many files came out so."""
        return sum(result.outcome is outcome for result in self.results)

    @property
    def safe(self) -> int:
        """Files whose photo is in the vault and has its row."""
        return self.count(IntakeOutcome.KEPT) + self.count(IntakeOutcome.ALREADY_HERE)


def take_in(
    found: Sequence[Found],
    *,
    vault: Vault,
    previews: Previews,
    known: Callable[[str], Photo | None],
    keep: Callable[[Photo, Found], bool],
    in_car: Mapping[str, str] | None = None,
    progress: Callable[[int, int], None] = lambda done, total: None,
    stop: Callable[[], bool] = lambda: False,
    workers: int | None = None,
) -> TakenIn:
    """Take these files in.

    Args:
        found: what `find` gave.
        vault, previews: where originals and previews go.
        known: the readings already made of the file with this SHA-256, if any: it is then not looked at again.
        keep: writes the photo's row; False if this car had it already. Called last, when the original is safe.
        in_car: SHA-256 to difference hash of the stills that the car has, for `IntakeResult.near`.
        progress: given files done and files in all, at most ten times a second and always the last.
        stop: asked between files; once true, nothing new is begun.
        workers: threads for copying and looking; by default one for each core, at most four.

    Raises:
        CardGone, DiskFull, NoRights: the take-in could not go on. What was safe by then is told in `effect`, and the
            first two carry `results`.
    """
    results: list[IntakeResult] = []
    report = Every(progress)

    def told(result: IntakeResult) -> None:
        results.append(result)
        report(len(results), len(found))

    count = max(1, workers if workers is not None else min(MOST_WORKERS, os.cpu_count() or 1))
    with ThreadPoolExecutor(count, thread_name_prefix="intake", initializer=_step_back) as pool:
        desk = _Desk(pool, vault, previews, known, keep, SameView(in_car or {}), told)
        try:
            stopped = desk.run(found, stop, count * AHEAD)
        except (UserError, OSError) as error:
            desk.finish_copied()
            raise _cut_short(error, results, len(found)) from error
        finally:
            desk.clear()
            report.last(len(results), len(found))
    return TakenIn(tuple(results), len(found), stopped)


def _step_back() -> None:
    """Let a window's thread go first on a busy machine; where threads have no priority of their own, do nothing."""
    if sys.platform == "linux":
        with suppress(OSError):
            os.setpriority(os.PRIO_PROCESS, threading.get_native_id(), _NICENESS)


def _cut_short(error: UserError | OSError, results: list[IntakeResult], total: int) -> UserError:
    told = writing(error, "vault") if isinstance(error, OSError) else error
    safe = TakenIn(tuple(results), total).safe
    told.effect = " ".join(part for part in (f"{safe} of {total} files are safe.", told.effect) if part)
    if isinstance(told, CutShort):
        told.results = tuple(results)
    return told


@dataclass(slots=True)
class _Job:
    """One file on its way; `twin` says that an equal file was begun before it in this run."""

    found: Found
    copying: Future[Spooled] | None = None
    looking: Future[Photo] | None = None
    refused: Refused | None = None
    sha256: str = ""
    twin: bool = False


class _Desk:
    """The caller's thread: begins files, receives them in the order found, and calls everything that was handed in."""

    def __init__(
        self,
        pool: ThreadPoolExecutor,
        vault: Vault,
        previews: Previews,
        known: Callable[[str], Photo | None],
        keep: Callable[[Photo, Found], bool],
        same_view: SameView,
        told: Callable[[IntakeResult], None],
    ) -> None:
        self._pool, self._vault, self._previews = pool, vault, previews
        self._known, self._keep, self._same_view, self._told = known, keep, same_view, told
        self._copying: deque[_Job] = deque()
        self._looking: deque[_Job] = deque()
        self._first: dict[str, IntakeResult] = {}
        self._begun: set[str] = set()

    def run(self, found: Sequence[Found], stop: Callable[[], bool], ahead: int) -> bool:
        """Take every file in; True if told to stop before the last: what is being looked at by then is still kept."""
        stopped = False
        for each in found:
            if stopped := stop():
                _abandon(self._copying)
                break
            self._begin(each)
            self._receive(ahead)
        self._receive(0)
        return stopped

    def _begin(self, found: Found) -> None:
        job = _Job(found)
        if found.refusal is None:
            job.copying = self._pool.submit(spool, found, self._vault)
        self._copying.append(job)

    def _receive(self, ahead: int) -> None:
        """Take in what is finished until at most so many files are being copied and as many looked at."""
        while len(self._copying) > ahead:
            self._copied(self._copying[0])
            self._looking.append(self._copying.popleft())
            while len(self._looking) > ahead:
                self._looked_at(self._looking.popleft())
        while len(self._looking) > ahead:
            self._looked_at(self._looking.popleft())

    def finish_copied(self) -> None:
        """After something broke: what was copied before is looked at and kept, as far as that still goes."""
        while self._looking:
            job = self._looking.popleft()
            if job.twin and job.sha256 not in self._first:
                continue  # the first of the two is what broke
            with suppress(UserError, OSError):
                self._looked_at(job)

    def clear(self) -> None:
        """Leave nothing half done and no copy behind."""
        _abandon(self._copying)
        _abandon(self._looking)

    def _copied(self, job: _Job) -> None:
        if job.copying is None:
            return
        try:
            spooled = job.copying.result()
        except Refused as refused:
            job.refused = refused
            return
        job.sha256 = spooled.sha256
        if spooled.sha256 in self._begun:
            job.twin = True
            spooled.discard()
            return
        self._begun.add(spooled.sha256)
        readings = self._known(spooled.sha256)
        if readings is None:
            job.looking = self._pool.submit(_look_and_keep, spooled, job.found, self._vault, self._previews)
        else:
            job.looking = self._pool.submit(_keep_known, spooled, readings, self._vault)

    def _looked_at(self, job: _Job) -> None:
        result = self._result(job)
        if job.sha256:
            self._first.setdefault(job.sha256, result)
        self._told(result)

    def _result(self, job: _Job) -> IntakeResult:
        label = job.found.label
        if job.found.refusal is not None:
            return IntakeResult(label, job.found.refusal, reason=job.found.reason)
        if job.twin:
            first = self._first[job.sha256]
            again = IntakeOutcome.ALREADY_HERE if first.photo is not None else first.outcome
            return IntakeResult(label, again, photo=first.photo, reason=first.reason or f"the same as {first.name}")
        try:
            if job.refused is not None:
                raise job.refused
            assert job.looking is not None
            photo = job.looking.result()
        except Refused as refused:
            return IntakeResult(label, refused.outcome, reason=refused.reason)
        if not self._keep(photo, job.found):
            return IntakeResult(label, IntakeOutcome.ALREADY_HERE, photo=photo)
        return IntakeResult(label, IntakeOutcome.KEPT, photo=photo, near=self._same_view.admit(photo))


def _abandon(jobs: deque[_Job]) -> None:
    futures: list[Future[Any]] = [future for job in jobs for future in (job.copying, job.looking) if future is not None]
    for future in futures:
        future.cancel()
    wait(futures)
    for job in jobs:
        if job.copying is not None and not job.copying.cancelled() and job.copying.exception() is None:
            job.copying.result().discard()
    jobs.clear()


def _look_and_keep(spooled: Spooled, found: Found, vault: Vault, previews: Previews) -> Photo:
    try:
        seen = look(spooled.copy, spooled.content)
        vault.keep(spooled.copy, spooled.sha256, spooled.content.suffix)
        for size, jpeg in seen.previews.items():
            previews.put(spooled.sha256, size, jpeg)
        return seen.photo(spooled, found)
    finally:
        spooled.discard()


def _keep_known(spooled: Spooled, readings: Photo, vault: Vault) -> Photo:
    """Its readings were made before; where the original itself was lost since, this copy takes its place."""
    try:
        if not vault.has(spooled.sha256):
            vault.keep(spooled.copy, spooled.sha256, spooled.content.suffix)
        return readings
    finally:
        spooled.discard()
