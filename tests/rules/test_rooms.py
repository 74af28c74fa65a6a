"""The house's own rules: who may import what, and that the written page about it is true."""

from __future__ import annotations

import ast
import re
import shutil
import subprocess
from pathlib import Path

import pytest

TOP = Path(__file__).parents[2]
APP = TOP / "app" / "lapseam"

HOMES = {
    "PySide6": {"desktop"},
    "PIL": {"intake", "publish"},
    "pillow_heif": {"intake", "publish"},
    "exifread": {"intake"},
    "av": {"intake", "publish"},
    "jinja2": {"publish", "phone"},
    "babel": {"publish"},
    "sqlalchemy": {"storage"},
    "alembic": {"storage"},
    "ruamel": {"plans", "storage"},
    "pydantic": {"plans", "storage"},
    "numpy": {"intake", "publish"},
    "watchdog": {"intake"},
    "typst": {"publish"},
    "segno": {"publish"},
    "platformdirs": {"places.py"},
    "cryptography": {"storage", "publish"},
    "rfc3161_client": {"publish"},
}
TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    "pyproject.toml",
    "app",
    "shot_plans",
    "templates",
    "tests",
    "demo_assets",
}


def imports() -> list[tuple[str, str, Path]]:
    """(outside library, room, file) of every import in the program."""
    found = []
    for path in APP.rglob("*.py"):
        room = path.relative_to(APP).parts[0]
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.Import):
                found += [(name.name.split(".")[0], room, path) for name in node.names]
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                found.append((node.module.split(".")[0], room, path))
    return found


def test_every_outside_library_has_its_one_home() -> None:
    strays = [
        f"{path.name}: {library}"
        for library, room, path in imports()
        if library in HOMES and room not in HOMES[library]
    ]
    assert strays == []


def test_the_homes_are_lived_in() -> None:
    """A home that nobody uses would make the rule above empty."""
    used = {library for library, _, _ in imports()}
    assert {"PySide6", "PIL", "exifread", "jinja2", "sqlalchemy", "ruamel", "pydantic"} <= used


def test_the_developers_page_names_every_room() -> None:
    page = (TOP / "DEVELOPERS.md").read_text()
    rooms = {folder.name for folder in APP.iterdir() if folder.is_dir() and (folder / "__init__.py").exists()}
    assert rooms == set(re.findall(r"^\| `(\w+)/` \|", page, re.MULTILINE))


def test_every_room_says_which_question_it_answers() -> None:
    for folder in APP.iterdir():
        if (folder / "__init__.py").exists():
            says = ast.get_docstring(ast.parse((folder / "__init__.py").read_text())) or ""
            assert len(says.split()) > 8, folder.name


def test_every_module_begins_with_one_line_that_says_what_it_is() -> None:
    for path in APP.rglob("*.py"):
        if "migrations" in path.parts:
            continue
        says = ast.get_docstring(ast.parse(path.read_text())) or ""
        assert says.split("\n")[0].strip(), path


def tracked() -> list[str]:
    if shutil.which("git") is None:
        pytest.skip("git is not on this machine, so what the project holds cannot be listed")
    listed = subprocess.run(["git", "ls-files"], cwd=TOP, capture_output=True, text=True, check=False)
    if listed.returncode:
        pytest.skip("no git checkout here")
    return listed.stdout.splitlines()


def test_the_top_level_holds_nothing_else() -> None:
    tops = {name.split("/")[0] for name in tracked()}
    assert {name for name in tops if not name.startswith(".")} <= TOP_LEVEL


def test_no_path_of_a_machine_and_no_registry_address() -> None:
    machine = re.compile("/(?:" + "|".join(("work", "farm", "root")) + ")/")
    registry = re.compile("(?:pypi|npmjs)" + r"\.org|files\.pythonhosted|deb\.debian")
    hits = []
    for name in tracked():
        path = TOP / name
        if path.suffix.lower() in {".jpg", ".png", ".ttf", ".heic", ".otf", ".woff2"} or not path.is_file():
            continue
        text = path.read_text(encoding="utf-8", errors="ignore")
        if (machine.search(text) and not name.startswith(".ci")) or registry.search(text):
            hits.append(name)
    assert hits == []
