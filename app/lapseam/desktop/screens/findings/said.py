"""The words of the Findings for what the record has fixed lists of. No Qt here."""

from __future__ import annotations

from lapseam.domain.finding import FindingState, PartOrigin, PartWork
from lapseam.domain.finding_gaps import Lack
from lapseam.domain.statement import Basis, CheckVerdict
from lapseam.domain.unfinished import Why

from ...words import _


def verdict_word(verdict: CheckVerdict) -> str:
    """What a test gave."""
    return {
        CheckVerdict.WORKS: _("Works"),
        CheckVerdict.DOES_NOT_WORK: _("Does not work"),
        CheckVerdict.INTERMITTENT: _("Intermittent"),
        CheckVerdict.NOT_FITTED: _("Not fitted"),
        CheckVerdict.NOT_TESTED: _("Not tested"),
    }[verdict]


def basis_word(basis: Basis) -> str:
    """How a thing is known."""
    return {
        Basis.SEEN: _("seen, a photo shows it"),
        Basis.MEASURED: _("measured with an instrument"),
        Basis.TESTED: _("tested by operating"),
        Basis.DOCUMENTED: _("documented by a paper"),
        Basis.TOLD: _("told by somebody"),
        Basis.NOT_CHECKED: _("not checked"),
    }[basis]


def origin_word(origin: PartOrigin) -> str:
    """Where a part came from."""
    return {
        PartOrigin.ORIGINAL: _("original to this car"),
        PartOrigin.NEW_OLD_STOCK: _("new-old-stock"),
        PartOrigin.FACTORY_TYPE: _("factory-type replacement"),
        PartOrigin.REPRODUCTION: _("reproduction"),
        PartOrigin.AFTERMARKET: _("aftermarket"),
        PartOrigin.UNKNOWN: _("unknown"),
    }[origin]


def work_word(work: PartWork) -> str:
    """What was done to a part."""
    return {
        PartWork.NONE: _("nothing"),
        PartWork.REPAIRED: _("repaired"),
        PartWork.REFINISHED: _("refinished"),
        PartWork.REBUILT: _("rebuilt"),
        PartWork.MODIFIED: _("modified"),
        PartWork.UNKNOWN: _("unknown"),
    }[work]


def state_of_finding(state: FindingState) -> str:
    """Whether a finding still stands."""
    return {
        FindingState.OPEN: _("open"),
        FindingState.REPAIRED: _("repaired"),
        FindingState.CORRECTED: _("corrected: it was not so"),
    }[state]


def lack_word(lack: Lack) -> str:
    """What a finding lacks."""
    return {
        Lack.PLACE: _("its place"),
        Lack.PERSON: _("who noted it"),
        Lack.CONTEXT: _("a context photo"),
        Lack.CLOSE: _("a close-up"),
        Lack.EXTENT: _("its size"),
        Lack.REPAIR_DAY: _("the day of the repair"),
        Lack.REPAIR_PHOTO: _("a photo after the repair"),
    }[lack]


def why_word(why: Why) -> str:
    """Why nothing was said of a part."""
    return {
        Why.FINDINGS: _("has a finding"),
        Why.SAID: _("said before"),
        Why.NO_FRAME: _("no ticked frame shows it"),
        Why.COATED: _("coating hides it"),
        Why.NOT_FITTED: _("not on this car"),
        Why.DECIDE: _("hangs on an unanswered fact"),
    }[why]
