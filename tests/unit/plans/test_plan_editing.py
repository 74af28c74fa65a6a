"""Edits of hand-written plan files: only the lines differ that must, and the file means what was asked."""

from __future__ import annotations

from difflib import unified_diff
from pathlib import Path

import pytest

from lapseam.domain.errors import Mistake
from lapseam.domain.plan_edits import AddShot, ChangeShot, PlanEdit, RemoveShot, ShotSheet, edited
from lapseam.places import shot_plans
from lapseam.plans.composing import compose
from lapseam.plans.editing import edit_plan, own_shots, rename_plan
from lapseam.plans.house_plan import PlanText, read_text, save_text, try_text
from lapseam.plans.nodes import plain
from lapseam.plans.reading import Reading

HEAD = """\
# The house's own walk.   Ask Ada before you change it.
plan:
  id: house
  title: "House walk"   # shown in the yard
  base: hardtop-full

"""

CHANGE = """\
change:
  # the lip shows more on our cars
  - id: ext-front-left   # corner
    title: Front left, low
    count: 2             # two are enough
    must: [front end, left side, wheel]
"""

FIRST = HEAD + "change:\n  - id: ext-front-left\n"

VARIANTS = {
    "block": HEAD + CHANGE,
    "flow": HEAD + 'change:\n  - {id: ext-front-left, title: "Front left, low", count: 2, must: [a b, c d]} # short\n',
    "single quotes": HEAD
    + "change:\n- id: 'ext-front-left'\n  title: 'Ada''s corner'\n  count: 2\n  must: ['a b', 'c: d']\n",
    "double quotes": HEAD + 'change:\n  - "id": "ext-front-left"\n'
    + '    "title": "Front \\"low\\""\n    "count": 2\n    must: ["a b"]\n',
    "block list": FIRST + "    must:\n      - a b   # first\n      # between\n      - c d\n    count: 2\n",
    "flow over lines": FIRST + "    must: [a b,   # first\n           c d]\n    count: 2\n",
    "folded": FIRST + "    frame: >\n      Low and\n      near.\n\n    count: 2\n    must: [a b]\n",
    "literal": FIRST + "    light: |\n      Even.\n    count: 2\n    must: [a b]\n",
    "CRLF": (HEAD + CHANGE).replace("\n", "\r\n"),
    "no final newline": (HEAD + CHANGE).rstrip("\n"),
    "CRLF, no final newline": (HEAD + CHANGE).replace("\n", "\r\n").rstrip("\r\n"),
    "byte order mark": "\ufeff" + HEAD + CHANGE,
    "comment at the end": HEAD + CHANGE + "# to do in spring: the trunk\n\n",
    "no indent": HEAD + CHANGE.replace("  - ", "- ").replace("    ", "  "),
    "wide indent": HEAD + CHANGE.replace("  - id", "    -   id").replace("    title", "        title")
    .replace("    count", "        count").replace("    must", "        must"),
    "trailing spaces": (HEAD + CHANGE).replace("walk.   Ask", "walk.  Ask").replace("count: 2 ", "count: 2  "),
    "other sections": HEAD + "drop: [ext-rear-left]   # never asked\n" + CHANGE
    + "add:\n  - {id: house-key, after: ext-front-left, use: ext-front-right}\n",
}  # fmt: skip

NEW = {
    "id": "house-plate",
    "title": "Plate, close",
    "setup": "s2-outside",
    "zone": "front",
    "comps": ["grille-nose"],
    "cam": {"at": "outside", "bearing": 0, "dist": 0.5, "h": 0.6, "lens": [50, 85]},
    "frame": "Square on: fill the frame.",
    "light": "Even.",
    "rust": False,
    "must": ["plate, whole", "both bolts"],
    "count": 1,
    "need": "conditional",
    "when": "body == 'coupe'",
}


def lines_of(before: str, after: str) -> tuple[list[str], list[str]]:
    """The lines that went and that came, with their line ends."""
    diff = list(unified_diff(before.splitlines(keepends=True), after.splitlines(keepends=True), n=0))[2:]
    gone = [line[1:] for line in diff if line.startswith("-")]
    came = [line[1:] for line in diff if line.startswith("+")]
    return gone, came


@pytest.fixture(params=VARIANTS)
def text(request) -> str:
    return VARIANTS[request.param]


def shots(text: str, tmp_path: Path) -> dict[str, ShotSheet]:
    path = tmp_path / "house.yaml"
    path.write_bytes(text.encode())
    made = compose(path, Reading(), shot_plans())
    return {shot.id: shot for shot in (ShotSheet(plain(pairs)) for pairs in made.shots)}


def test_a_count_changed_touches_one_line(text):
    after = edit_plan(text, [ChangeShot("ext-front-left", "count", 5)])
    gone, came = lines_of(text, after)
    assert len(gone) == len(came) == 1
    assert came[0] == gone[0].replace("count: 2", "count: 5").replace('"count": 2', '"count": 5')


def test_a_condition_added_adds_one_line_or_stays_in_the_brackets(text):
    after = edit_plan(text, [ChangeShot("ext-front-left", "when", "runs")])
    gone, came = lines_of(text, after)
    new = [line for line in came if "when" in line]
    assert len(new) == 1
    assert len(came) - len(gone) == (0 if "{id: ext-front-left" in text else 1)
    assert [line.rstrip() for line in gone if "{" not in line] == [line.rstrip() for line in came if "when" not in line]


def test_a_shot_added_touches_no_line_but_its_own(text):
    after = edit_plan(text, [AddShot("ext-front-left", NEW)])
    gone, came = lines_of(text, after)
    assert [line.rstrip() for line in gone] in ([], [came[0].rstrip()])
    assert "id: house-plate" in after


def test_a_form_s_edits_together_mean_what_it_says(text, tmp_path):
    edits: list[PlanEdit] = [
        ChangeShot("ext-front-left", "title", "Corner: low, #2"),
        ChangeShot("ext-front-left", "must", ["a b", "grille, whole", "left side"]),
        ChangeShot("ext-front-left", "frame", "From the knee."),
        ChangeShot("ext-front-left", "light", "Even."),
        ChangeShot("ext-front-left", "caution", ["moving-car"]),
        AddShot("ext-front-left", NEW),
        ChangeShot("house-plate", "count", 3),
        RemoveShot("ext-front"),
        ChangeShot("ext-rear", "count", 9),
    ]
    before = shots(text, tmp_path)
    wanted = {shot.id: dict(shot.values) for shot in edited(before.values(), edits)}
    got = {name: dict(shot.values) for name, shot in shots(edit_plan(text, edits), tmp_path).items()}
    assert got == wanted
    assert "ext-front" not in got
    assert got["house-plate"]["count"] == 3


def test_comments_and_line_ends_survive_every_edit(text):
    edits = [ChangeShot("ext-front-left", "title", "X"), RemoveShot("ext-front"), AddShot("ext-front-left", NEW)]
    after = edit_plan(text, edits)
    comments = [line.split("#", 1)[1].strip() for line in text.splitlines() if "#" in line]
    assert [one for one in comments if one not in after] == []
    assert ("\r\n" in after) == ("\r\n" in text)
    assert after.replace("\r\n", "").count("\r") == 0
    if "\r\n" in text:
        assert "\n" not in after.replace("\r\n", "")


def test_a_key_taken_out_again_leaves_the_file_as_it_was(text):
    once = edit_plan(text, [ChangeShot("ext-front-left", "when", "runs")])
    assert edit_plan(once, [ChangeShot("ext-front-left", "when", None)]) == text


FULL = (shot_plans() / "hardtop-full.yaml").read_text(encoding="utf-8")


def test_in_a_plan_that_stands_by_itself_a_manager_s_edits_touch_only_their_lines(tmp_path):
    edits = [
        AddShot("ext-front-left", NEW),
        ChangeShot("ext-front-left", "count", 7),
        ChangeShot("cold-drip-sheet", "when", "runs"),
        ChangeShot("cold-drip-sheet", "cam", {"at": "outside", "bearing": 0, "dist": 1.0, "h": 0.3, "lens": [35, 50]}),
    ]
    after = edit_plan(FULL, edits)
    gone, came = lines_of(FULL, after)
    assert len(gone) == 2
    assert "lens: [28, 50]" in gone[0] + gone[1]
    assert len(came) == 2 + 1 + len(NEW)
    tried = try_text(PlanText(tmp_path / "hardtop-full.yaml", after), shot_plans())
    assert tried.errors == ()
    assert tried.plan is not None
    names = [shot.id for shot in tried.plan.shots]
    assert names.index("house-plate") == names.index("ext-front-left") + 1
    assert tried.plan.shot("ext-front-left").count == 7
    assert tried.plan.shot("cold-drip-sheet").when.text == "runs"
    assert tried.plan.shot("cold-drip-sheet").camera.lens_mm == (35, 50)


def test_a_shot_taken_out_takes_its_lines_and_no_others():
    after = edit_plan(FULL, [RemoveShot("cold-engine-proof")])
    gone, came = lines_of(FULL, after)
    assert came == []
    assert gone[0].strip() == "- id: cold-engine-proof"
    assert own_shots(FULL) - own_shots(after) == {"cold-engine-proof"}


def test_a_shared_shot_is_not_changed_behind_the_other_plans_backs():
    text = "plan:\n  id: a\n  title: A\nshots:\n  - include: shared/papers.yaml\n"
    with pytest.raises(Mistake, match="several plans share"):
        edit_plan(text, [ChangeShot("paper-title", "count", 2)])


def test_what_cannot_be_written_safely_is_refused():
    text = FIRST + "    must: # a note that is in the way\n      a: b\n"
    with pytest.raises(Mistake, match="cannot be changed here"):
        edit_plan(text, [ChangeShot("ext-front-left", "must", ["x"])])


@pytest.mark.parametrize(
    "words", ["a: b", "- x", "yes", "12", "#2", "'", '"', "a\nb", "{x}", "ÄÖ – 3 m", "&a", "*", "@"]
)
def test_any_words_can_be_a_title(words):
    for name in ("block", "flow", "single quotes"):
        after = edit_plan(VARIANTS[name], [ChangeShot("ext-front-left", "title", words)])
        assert own_shots(after) is not None


def test_a_copy_gets_its_own_id_and_title_only():
    gone, came = lines_of(FULL, rename_plan(FULL, plan_id="ours", title="Ours: all"))
    assert [line.strip() for line in came] == ["id: ours", 'title: "Ours: all"']
    assert len(gone) == 2


def test_a_file_changed_on_disk_meanwhile_is_not_written_over(tmp_path):
    path = tmp_path / "house.yaml"
    path.write_bytes(VARIANTS["CRLF"].encode())
    page = read_text(path)
    path.write_bytes(b"# by somebody else\n")
    with pytest.raises(Mistake, match="changed on disk"):
        save_text(PlanText(path, page.text + "#", page.digest))
    assert path.read_bytes() == b"# by somebody else\n"
    assert [one.name for one in tmp_path.iterdir()] == ["house.yaml"]


def test_saving_keeps_every_byte(tmp_path):
    path = tmp_path / "house.yaml"
    for text in VARIANTS.values():
        path.write_bytes(text.encode())
        page = read_text(path)
        assert page.text == text
        again = save_text(page)
        assert path.read_bytes() == text.encode()
        assert again.digest == page.digest


def test_trying_a_text_leaves_the_disk_alone(tmp_path):
    path = tmp_path / "house.yaml"
    path.write_text(VARIANTS["block"])
    tried = try_text(PlanText(path, VARIANTS["block"].replace("count: 2", "count: many")), shot_plans())
    assert [one.line for one in tried.errors] == [11]
    assert tried.plan is None
    assert tried.shots
    assert path.read_text() == VARIANTS["block"]
