"""A house's own words, claims.yaml and synonyms.yaml, reach the sign-off, the editions and the answer desk."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path

import pytest

from lapseam.domain.errors import NotAllowed, PlanBroken
from lapseam.domain.statement import Basis, Evidence
from lapseam.workflow import Desk

NOW = datetime.fromisoformat("2026-05-15T10:00:00+00:00")
TOLD = Evidence(Basis.TOLD, on=date(2026, 5, 14), who_said="owner before last")
CLAIMS = (
    'wording:\n  - {id: matron, name: "praise of its owners", words: ["lady owner"], say_instead: "name the papers"}\n'
)


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    made = Desk.open(tmp_path / "yard", create=True, clock=lambda: NOW)
    made.new_car(stock="A-1", plan="handover", by="Ann").result()
    made.state(
        stock="A-1", subject="history", claim="It had one lady owner from new.", evidence=TOLD, by="Ann"
    ).result()
    yield made
    made.close()


def claim_rule(desk: Desk) -> tuple[str, ...]:
    rules = desk.review(stock="A-1").result().rules
    return next(one.reasons for one in rules if one.rule.id == "so-claim")


def test_the_houses_claims_stop_the_signature_and_stand_in_the_edition(desk: Desk) -> None:
    assert not any("praise of its owners" in reason for reason in claim_rule(desk))
    (desk.folder / "claims.yaml").write_text(CLAIMS, encoding="utf-8")
    assert any("“lady owner” is praise of its owners" in reason for reason in claim_rule(desk))
    with pytest.raises(NotAllowed) as refused:
        desk.sign(stock="A-1", by="Ann").result()
    assert "so-claim" in refused.value.detail
    assert "praise of its owners" in refused.value.detail
    made = desk.publish(stock="A-1", by="Ann").result()
    assert not made.signed
    refusals = [one.rule for judged in desk.listing(stock="A-1").result().judged for one in judged.objections]
    assert "matron" in refusals
    (desk.folder / "claims.yaml").unlink()
    assert not any("praise of its owners" in reason for reason in claim_rule(desk))


def test_broken_claims_are_named_and_nothing_is_signed_by_them(desk: Desk) -> None:
    (desk.folder / "claims.yaml").write_text("wording:\n  - {id: a, name: b, words: [Praise]}\n", encoding="utf-8")
    with pytest.raises(PlanBroken) as broken:
        desk.review(stock="A-1").result()
    assert broken.value.problems[0].startswith("claims.yaml:2:")


def test_the_houses_synonyms_find_what_the_trade_calls_otherwise(desk: Desk) -> None:
    assert not desk.ask(words="matron", stock="A-1").result().known
    own = desk.folder / "synonyms.yaml"
    own.write_text("synonyms:\n  - {id: lady, same: [lady, matron]}\n", encoding="utf-8")
    assert desk.ask(words="matron", stock="A-1").result().known
    own.write_text("synonyms:\n  - {id: lady, sane: [lady]}\n", encoding="utf-8")
    with pytest.raises(PlanBroken) as broken:
        desk.ask(words="matron", stock="A-1").result()
    assert "did you mean 'same'?" in "".join(broken.value.problems)
