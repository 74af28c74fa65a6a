"""One function to test, as a value. No Qt here."""

from __future__ import annotations

from dataclasses import dataclass

from lapseam.domain.car import Car
from lapseam.domain.statement import CheckResult, CheckVerdict

from ...words import _
from .said import verdict_word


@dataclass(frozen=True, slots=True)
class CheckScreen:
    """What to test and how, what to beware of, and what it gave last time."""

    check: str
    item: str
    how: str
    cautions: tuple[tuple[str, str], ...] = ()
    now: str = ""
    verdict: CheckVerdict | None = None
    conditions: str = ""
    note: str = ""


def check_screen(car: Car, check: str) -> CheckScreen:
    """A check of the car's plan, with its last result."""
    words = car.plan.vocabulary
    asked, result = words.checks.get(check), car.checks.get(check)
    if asked is None:
        item = result.item if result and result.item else check
        return CheckScreen(check, item, "", now=_now(car, result))
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
