"""Plans made from a base, with differences, overlays, used and included shots: what comes out, and what is told."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

import pytest

from fakes.plan_folder import PLAN, PlanFolder, write_plan_folder
from lapseam.domain.errors import PlanBroken
from lapseam.plans import Grade, Problem, check_plan, keep_ids, load_plan
from lapseam.plans.composing import DEEPEST

SOON_S = 10.0
HEAD = "plan:\n  id: ours\n  title: Ours\n  base: small\n"
SHOT = """\
  - id: {id}
    title: Another view
    setup: outside
    zone: nose
    comps: [bumper]
    cam: {{at: outside, bearing: 10, dist: 2}}
    frame: "All of it."
    light: "Even."
    must: [one thing, another thing]
    count: 1
    need: required
"""
ADDED = SHOT.replace("{id}\n", "{id}\n    after: {after}\n")


@pytest.fixture
def small(tmp_path: Path) -> PlanFolder:
    return write_plan_folder(tmp_path / "plans")


def ours(small: PlanFolder, text: str, name: str = "ours") -> Path:
    path = small.folder / f"{name}.yaml"
    path.write_text(text, "utf-8")
    return path


def ids(path: Path) -> list[str]:
    return [shot.id for shot in load_plan(path).shots]


def errors(path: Path) -> list[Problem]:
    return [one for one in check_plan(path) if one.severity is Grade.ERROR]


def test_a_plan_takes_from_its_base_what_it_does_not_say(small: PlanFolder) -> None:
    path = ours(small, HEAD)
    base, plan = load_plan(small.plan), load_plan(path)
    assert (plan.id, plan.title) == ("ours", "Ours")
    assert (plan.shots, plan.setups, plan.applies) == (base.shots, base.setups, base.applies)
    assert check_plan(path) == ()


def test_differences_are_laid_over_the_base(small: PlanFolder) -> None:
    text = HEAD + (
        "drop: [sunroof]\nchange:\n  - {id: front, count: 5, must: [both lamps]}\nadd:\n"
        + ADDED.format(id="second", after="front")
        + ADDED.format(id="third", after="second")
        + ADDED.format(id="fourth", after="front")
    )
    plan = load_plan(ours(small, text))
    assert [shot.id for shot in plan.shots] == ["front", "second", "third", "fourth", "rail"]
    assert plan.shots[0].count == 5
    assert [item.words for item in plan.shots[0].must] == ["both lamps"]
    assert plan.shots[0].framing == load_plan(small.plan).shots[0].framing


def test_with_shots_of_its_own_a_plan_uses_only_what_it_names(small: PlanFolder) -> None:
    text = HEAD + "shots:\n  - {use: rail, count: 7}\n  - {use: front, id: nose-again, setup: raised}\n"
    plan = load_plan(ours(small, text))
    assert [(shot.id, shot.count, shot.setup) for shot in plan.shots] == [
        ("rail", 7, "raised"),
        ("nose-again", 1, "raised"),
    ]


def test_included_shots_stand_where_they_are_included(small: PlanFolder) -> None:
    (small.folder / "shared").mkdir()
    (small.folder / "shared/two.yaml").write_text("shots:\n" + SHOT.format(id="one") + SHOT.format(id="two"), "utf-8")
    (small.folder / "shared/both.yaml").write_text(
        "shots:\n  - {include: shared/two.yaml}\n" + SHOT.format(id="three"), "utf-8"
    )
    path = ours(small, HEAD + "add:\n  - {include: shared/both.yaml, after: front, count: 4, need: optional}\n")
    plan = load_plan(path)
    assert [shot.id for shot in plan.shots] == ["front", "one", "two", "three", "sunroof", "rail"]
    assert {shot.count for shot in plan.shots[1:4]} == {4}


def test_of_two_overlays_the_later_word_wins(small: PlanFolder) -> None:
    ours(small, HEAD.replace("ours", "first") + "drop: [sunroof]\nchange:\n  - {id: front, count: 5}\n", "first")
    ours(
        small,
        HEAD.replace("ours", "second") + "change:\n  - {id: front, count: 6}\n  - {id: sunroof, count: 9}\n",
        "second",
    )
    text = HEAD.replace("ours", "both") + "  overlays: [first, second]\nchange:\n  - {id: rail, count: 3}\n"
    shots = {shot.id: shot.count for shot in load_plan(ours(small, text, "both")).shots}
    assert shots == {"front": 6, "sunroof": 9, "rail": 3}
    other = text.replace("first, second", "second, first").replace("both", "turned")
    assert {shot.id: shot.count for shot in load_plan(ours(small, other, "turned")).shots} == {"front": 5, "rail": 3}


def test_a_selection_keeps_shooting_order_inside_its_setups(small: PlanFolder) -> None:
    text = HEAD + (
        "  setups:\n    - {id: r1, name: Up, minutes: 9}\n    - {id: r2, name: Down, minutes: 9}\n"
        "select:\n  rust: true\n  into:\n    - {setup: r2, zones: [top]}\n    - {setup: r1, of: [outside, raised]}\n"
        "shots:\n" + SHOT.format(id="extra").replace("setup: outside", "setup: r1")
    )
    plan = load_plan(ours(small, text))
    assert [(shot.id, shot.setup) for shot in plan.shots] == [("rail", "r1"), ("extra", "r1"), ("sunroof", "r2")]


def test_a_house_plan_may_stand_for_a_shipped_one_of_the_same_id(small: PlanFolder, tmp_path: Path) -> None:
    house = tmp_path / "house"
    house.mkdir()
    path = house / "small.yaml"
    path.write_text("plan:\n  id: small\n  title: Ours\n  base: small\ndrop: [sunroof]\n", "utf-8")
    assert [shot.id for shot in load_plan(path, shelf=small.folder).shots] == ["front", "rail"]
    with pytest.raises(PlanBroken):
        load_plan(path)


def test_a_problem_names_the_file_that_it_was_written_in(small: PlanFolder) -> None:
    small.change("small.yaml", "need: required", "need: requird")
    path = ours(small, HEAD + "change:\n  - {id: rail, cuont: 2}\n")
    told = {(one.file, one.line): one.words for one in errors(path)}
    assert "not one of" in told["small.yaml", 19]
    assert told["ours.yaml", 6] == "unknown key 'cuont'"


def test_a_drop_may_not_leave_a_component_bare(small: PlanFolder) -> None:
    path = ours(small, HEAD + "drop: [rail]\n")
    (found,) = errors(path)
    assert (found.file, found.line, found.word) == ("ours.yaml", 5, "drop.rail")
    assert "nothing shows rail" in found.words
    path.write_text(path.read_text("utf-8").replace("  base", "  scope: chosen\n  base"), "utf-8")
    assert errors(path) == []


def test_a_required_shot_that_can_never_apply_is_an_error(small: PlanFolder) -> None:
    path = ours(small, HEAD + "change:\n  - {id: front, when: \"body == 'pickup'\"}\n")
    (found,) = errors(path)
    assert (found.file, found.line) == ("ours.yaml", 6)
    assert "this required shot can never apply" in found.words
    path = ours(small, HEAD + "change:\n  - {id: front, zone: bed}\n")
    assert any("no car this plan is for has the zone 'bed'" in one.words for one in errors(path))


def test_more_minutes_than_promised_are_told(small: PlanFolder) -> None:
    path = ours(small, HEAD + "  minutes: 5\n")
    (found,) = check_plan(path)
    assert found.severity is Grade.WARNING
    assert found.words == "the setups take 30 minutes, and the plan promises 5"


# ---- broken ones ------------------------------------------------------------


def files(small: PlanFolder, **texts: str) -> None:
    for name, text in texts.items():
        (small.folder / f"{name}.yaml").write_text(text, "utf-8")


def outside(small: PlanFolder) -> None:
    (small.folder.parent / "secret.yaml").write_text("shots:\n" + SHOT.format(id="secret"), "utf-8")
    (small.folder / "link.yaml").symlink_to(small.folder.parent / "secret.yaml")


def chain(small: PlanFolder) -> None:
    for number in range(DEEPEST + 3):
        base = f"b{number + 1}" if number < DEEPEST + 2 else "small"
        ours(small, f"plan:\n  id: b{number}\n  title: B\n  base: {base}\n", f"b{number}")


def bomb(small: PlanFolder) -> None:
    for level in range(DEEPEST):
        following = f"x{level + 1}.yaml"
        body = f"  - {{include: {following}}}\n" * 9 if level < DEEPEST - 1 else SHOT.format(id="one")
        (small.folder / f"x{level}.yaml").write_text("shots:\n" + body, "utf-8")


def utf16(small: PlanFolder) -> None:
    (small.folder / "b.yaml").write_bytes(PLAN.encode("utf-16"))


def nothing(small: PlanFolder) -> None:
    """No further file is needed."""


Make = Callable[[PlanFolder], None]
BROKEN: dict[str, tuple[str, Make, tuple[str, int], str]] = {
    "an unknown base": (HEAD.replace("small", "smal"), nothing, ("ours.yaml", 4), "there is no plan 'smal'"),
    "a base in another folder": (HEAD.replace("small", "../small"), nothing, ("ours.yaml", 4), "is no plan's id"),
    "a base that is itself": (HEAD.replace("small", "ours"), nothing, ("ours.yaml", 4), "there is no plan 'ours'"),
    "bases in a circle": (
        HEAD.replace("small", "b"),
        lambda small: files(small, b=HEAD.replace("ours", "b").replace("base: small", "base: ours")),
        ("b.yaml", 4),
        "made from each other: ours.yaml → b.yaml → ours.yaml",
    ),
    "too many bases": (HEAD.replace("small", "b0"), chain, (f"b{DEEPEST - 1}.yaml", 4), "made from each other"),
    "differences without a base": (PLAN + "drop: [front]\n", nothing, ("ours.yaml", 50), "'drop' needs the plan"),
    "neither base nor shots": (
        HEAD.replace("  base: small\n", ""),
        nothing,
        ("ours.yaml", 1),
        "needs 'shots', or a base that has them",
    ),
    "a drop of no shot": (HEAD + "drop: [fornt]\n", nothing, ("ours.yaml", 5), "the base has no shot 'fornt'"),
    "a change of no shot": (
        HEAD + "change:\n  - {id: nose, count: 2}\n",
        nothing,
        ("ours.yaml", 6),
        "the base has no shot 'nose'",
    ),
    "a change without an id": (HEAD + "change:\n  - {count: 2}\n", nothing, ("ours.yaml", 6), "needs 'id'"),
    "a shot dropped and changed": (
        HEAD + "drop: [sunroof]\nchange:\n  - {id: sunroof, count: 2}\n",
        nothing,
        ("ours.yaml", 7),
        "is dropped and changed",
    ),
    "an addition without its place": (
        HEAD + "add:\n" + SHOT.format(id="new"),
        nothing,
        ("ours.yaml", 6),
        "needs 'after'",
    ),
    "an addition behind no shot": (
        HEAD + "add:\n" + ADDED.format(id="new", after="frnt"),
        nothing,
        ("ours.yaml", 7),
        "there is no shot 'frnt' to follow",
    ),
    "additions behind each other": (
        HEAD + "add:\n" + ADDED.format(id="one", after="two") + ADDED.format(id="two", after="one"),
        nothing,
        ("ours.yaml", 7),
        "is followed by it again",
    ),
    "an addition whose id is taken": (
        HEAD + "add:\n" + ADDED.format(id="front", after="front"),
        nothing,
        ("ours.yaml", 6),
        "the shot 'front' already stands at small.yaml:9",
    ),
    "an addition with half its keys": (
        HEAD + "add:\n  - {id: new, after: front, title: New}\n",
        nothing,
        ("ours.yaml", 6),
        "needs 'setup'",
    ),
    "use of no shot": (HEAD + "shots:\n  - {use: rial}\n", nothing, ("ours.yaml", 6), "there is no shot 'rial'"),
    "use without a base": (
        PLAN + "  - {use: rail}\n",
        nothing,
        ("ours.yaml", 50),
        "'use' needs the plan that the shot is taken from",
    ),
    "use and include at once": (
        HEAD + "shots:\n  - {use: rail, include: a.yaml}\n",
        nothing,
        ("ours.yaml", 6),
        "stands without 'use'",
    ),
    "an include that is not there": (
        HEAD + "shots:\n  - {include: shared/none.yaml}\n",
        nothing,
        ("ours.yaml", 6),
        "there is no file 'shared/none.yaml'",
    ),
    "an include above the folder": (
        HEAD + "shots:\n  - {include: ../secret.yaml}\n",
        outside,
        ("ours.yaml", 6),
        "leads out of the plan's folder",
    ),
    "an include by a link out": (
        HEAD + "shots:\n  - {include: link.yaml}\n",
        outside,
        ("ours.yaml", 6),
        "leads out of the plan's folder",
    ),
    "an include from the root": (
        HEAD + "shots:\n  - {include: /etc/hostname}\n",
        nothing,
        ("ours.yaml", 6),
        "leads out of the plan's folder",
    ),
    "an include of another drive": (
        HEAD + "shots:\n  - {include: 'c:\\\\x.yaml'}\n",
        nothing,
        ("ours.yaml", 6),
        "leads out of the plan's folder",
    ),
    "includes in a circle": (
        HEAD + "shots:\n  - {include: a.yaml}\n",
        lambda small: files(small, a="shots:\n  - {include: b.yaml}\n", b="shots:\n  - {include: a.yaml}\n"),
        ("b.yaml", 2),
        "include each other: a.yaml → b.yaml → a.yaml",
    ),
    "includes that multiply": (
        HEAD + "shots:\n  - {include: x0.yaml}\n",
        bomb,
        ("x4.yaml", 6),
        "more than 100 files are included",
    ),
    "a shared file that is no list": (
        HEAD + "shots:\n  - {include: a.yaml}\n",
        lambda small: files(small, a="rust: true\n"),
        ("a.yaml", 1),
        "unknown key 'rust'",
    ),
    "a shared file of ten megabytes": (
        HEAD + "shots:\n  - {include: a.yaml}\n",
        lambda small: files(small, a="# x\n" * 2_600_000),
        ("a.yaml", 1),
        "10.4 MB",
    ),
    "a shared file with an anchor": (
        HEAD + "shots:\n  - {include: a.yaml}\n",
        lambda small: files(small, a="shots: &a\n  - *a\n"),
        ("a.yaml", 1),
        "anchors and aliases",
    ),
    "a shared file with a tab": (
        HEAD + "shots:\n  - {include: a.yaml}\n",
        lambda small: files(small, a="shots:\n\t- {use: rail}\n"),
        ("a.yaml", 2),
        "indented with a tab",
    ),
    "a base that is not UTF-8": (
        HEAD.replace("small", "b"),
        utf16,
        ("b.yaml", 1),
        "is not UTF-8",
    ),
    "an overlay of other stock": (
        HEAD + "  overlays: [other]\n",
        lambda small: files(small, other=PLAN.replace("id: small", "id: other")),
        ("ours.yaml", 5),
        "is not made from any of the plans",
    ),
    "an overlay that is a whole walk": (
        HEAD + "  overlays: [other]\n",
        lambda small: files(small, other=HEAD.replace("ours", "other") + "shots:\n  - {use: rail}\n"),
        ("ours.yaml", 5),
        "says its whole walk",
    ),
    "an overlay without a base": (
        HEAD.replace("  base: small\n", "  overlays: [small]\n"),
        nothing,
        ("ours.yaml", 4),
        "'overlays' needs the plan that they are laid over",
    ),
    "shots beside differences": (
        HEAD + "shots:\n  - {use: rail}\ndrop: [front]\n",
        nothing,
        ("ours.yaml", 7),
        "'drop' stands beside 'shots'",
    ),
    "a selection into no setup": (
        HEAD + "select:\n  rust: true\n  into:\n    - {setup: rr, of: [outside, raised]}\n",
        nothing,
        ("ours.yaml", 8),
        "there is no setup 'rr'",
    ),
    "a selection that forgets a zone": (
        HEAD + "select:\n  rust: true\n  into:\n    - {setup: raised, of: [raised]}\n",
        nothing,
        ("ours.yaml", 8),
        "no line says where the shot 'sunroof'",
    ),
    "a base given as a list": (HEAD.replace("small", "[small]"), nothing, ("ours.yaml", 4), "a list stands here"),
    "drop as one word": (HEAD + "drop: front\n", nothing, ("ours.yaml", 5), "wanted: a list"),
    "change as a mapping": (HEAD + "change:\n  front: 2\n", nothing, ("ours.yaml", 6), "a mapping stands here"),
    "everything dropped": (HEAD + "drop: [front, sunroof, rail]\n", nothing, ("ours.yaml", 2), "no shot is left"),
}


@pytest.mark.parametrize("what", BROKEN)
def test_a_broken_plan_names_line_and_remedy_and_never_hangs(small: PlanFolder, what: str) -> None:
    text, make, place, words = BROKEN[what]
    make(small)
    path = ours(small, text)
    begun = time.monotonic()
    found = errors(path)
    assert time.monotonic() - begun < SOON_S
    told = [one for one in found if words in one.words]
    assert told, [str(one) for one in found]
    assert (told[0].file, told[0].line) == place, str(told[0])
    assert all(one.remedy for one in found), [str(one) for one in found if not one.remedy]
    assert "secret" not in " ".join(str(one) for one in found).replace("secret.yaml", "")
    with pytest.raises(PlanBroken):
        load_plan(path)


# ---- ids of the last version ------------------------------------------------


def test_ids_of_the_last_version_are_held_against_the_plan(small: PlanFolder) -> None:
    path = ours(small, HEAD + "add:\n" + ADDED.format(id="second", after="front"))
    file = keep_ids(path)
    keep_ids(small.plan)
    assert "\nours:\n  second: [bumper]\n" in file.read_text("utf-8"), "the base's own plan keeps the base's shots"
    assert errors(path) == []
    ours(small, HEAD + "add:\n" + ADDED.format(id="2nd", after="front"))
    (found,) = errors(path)
    assert (found.line, found.word) == (2, "plan.id")
    assert found.words == "the shot 'second' of the last version is called '2nd' now"
    assert found.remedy == "call it 'second' again"
    ours(small, HEAD)
    (found,) = errors(path)
    assert found.words == "the shot 'second' of the last version is gone"
    assert "--keep-ids" in found.remedy


def test_an_id_may_not_change_what_it_means(small: PlanFolder) -> None:
    path = ours(small, HEAD + "add:\n" + ADDED.format(id="second", after="front"))
    keep_ids(path)
    other = ADDED.format(id="second", after="front").replace("comps: [bumper]", "comps: [valance]")
    ours(small, HEAD + "add:\n" + other)
    (found,) = errors(path)
    assert (found.line, found.word) == (6, "shots.second.id")
    assert "showed bumper, and now none of them" in found.words
    keep_ids(path)
    assert errors(path) == [], "a manager may agree to it"


def test_a_spoilt_list_of_kept_ids_is_told_and_nothing_is_lost(small: PlanFolder) -> None:
    keep_ids(small.plan)
    file = small.folder / "shot-ids.lock"
    file.write_text("small: [front]\n", "utf-8")
    assert [one.file for one in errors(small.plan)] == ["shot-ids.lock"]
    with pytest.raises(PlanBroken):
        keep_ids(small.plan)
    assert file.read_text("utf-8") == "small: [front]\n"
