"""One function to test, as a value. No Qt here."""

from __future__ import annotations

import re
from dataclasses import dataclass
from unicodedata import normalize

from lapseam.domain.car import Car
from lapseam.domain.statement import CheckResult, CheckVerdict

from ...words import _
from .said import verdict_word


@dataclass(frozen=True, slots=True)
class CheckScreen:
    """What to test and how, what to beware of, what it gave last time. A test of the house's `own` is named here."""

    check: str
    item: str
    how: str
    cautions: tuple[tuple[str, str], ...] = ()
    now: str = ""
    verdict: CheckVerdict | None = None
    conditions: str = ""
    note: str = ""
    own: bool = False


OWN = "own-"
"""How the ids of the house's own tests begin."""
_GAPS = re.compile(r"[^a-z0-9]+")


def own_check(item: str) -> str:
    """The id of a test of the house's own: "Seat heater, left" is own-seat-heater-left; "" where there are no words."""
    plain = normalize("NFKD", item.casefold()).encode("ascii", "ignore").decode()
    slug = _GAPS.sub("-", plain).strip("-")
    return f"{OWN}{slug}" if slug else ""


def check_screen(car: Car, check: str) -> CheckScreen:
    """A check of the car's plan, with its last result."""
    words = car.plan.vocabulary
    asked, result = words.checks.get(check), car.checks.get(check)
    if asked is None:
        how = _("Say what is tested, then what the test gave.")
        if result is None:
            return CheckScreen("", "", how, own=True)
        kept = {"verdict": result.verdict, "conditions": result.conditions, "note": result.note}
        return CheckScreen(check, result.item or check, how, now=_now(car, result), own=True, **kept)
    cautions = tuple((words.cautions[one].name, words.cautions[one].text) for one in asked.cautions)
    return CheckScreen(
        check=check,
        item=asked.item,
        how=asked.how,
        cautions=cautions,
        now=_now(car, result),
        verdict=result.verdict if result else None,
        conditions=result.conditions if result else "",
        note=result.note if result else "",
    )


def _now(car: Car, result: CheckResult | None) -> str:
    if result is None:
        return ""
    reason = car.plan.vocabulary.not_tested_reasons.get(result.reason)
    told = ", ".join(part for part in (verdict_word(result.verdict).lower(), reason.name if reason else "") if part)
    day = result.on.isoformat() if result.on else ""
    by = _("{name}, {day}").format(name=result.by, day=day) if day else result.by
    return _("On file: {result} ({by}).").format(result=told, by=by)


def reasons(car: Car) -> tuple[tuple[str, str], ...]:
    """Why a function may not have been tested: ids and words."""
    return tuple((one.id, one.name) for one in car.plan.vocabulary.not_tested_reasons.values())
