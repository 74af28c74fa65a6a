"""What is shipped: a wheel built from this tree, unpacked elsewhere, opens a plan and does the main job."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

TOP = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that holds what the wheel holds, as an installer would lay it out."""
    folder = tmp_path_factory.mktemp("wheel")
    built = subprocess.run(
        [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(folder), str(TOP)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert built.returncode == 0, built.stderr[-2000:]
    (wheel,) = folder.glob("*.whl")
    site = folder / "site"
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(site)
    return site


def lapseam(site: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """Run the unpacked program, not the checkout's."""
    environment = {**os.environ, "PYTHONPATH": str(site), "PYTHONSAFEPATH": "1"}
    return subprocess.run(
        [sys.executable, "-m", "lapseam", *words],
        cwd=site.parent,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )


def test_the_unpacked_program_is_the_one_that_runs(installed: Path) -> None:
    where = subprocess.run(
        [sys.executable, "-c", "import lapseam; print(lapseam.__file__)"],
        cwd=installed.parent,
        env={**os.environ, "PYTHONPATH": str(installed), "PYTHONSAFEPATH": "1"},
        capture_output=True,
        text=True,
        check=True,
    )
    assert where.stdout.startswith(str(installed))


def test_the_wheel_lists_its_plans(installed: Path) -> None:
    ran = lapseam(installed, "plans", "--json")
    assert ran.returncode == 0, ran.stderr
    assert "hardtop-full" in {plan["id"] for plan in json.loads(ran.stdout)}


def test_the_wheel_does_the_demo(installed: Path, tmp_path: Path) -> None:
    ran = lapseam(installed, "demo", "--no-window", "--workspace", str(tmp_path / "workspace"), "--json")
    assert ran.returncode == 0, ran.stderr
    assert Path(json.loads(ran.stdout)["gallery"]).is_file()


def test_the_command_line_imports_nothing_of_qt(installed: Path, tmp_path: Path) -> None:
    code = (
        "import sys; from lapseam import cli; cli.main(['demo','--no-window','--workspace',sys.argv[1]]); "
        "sys.exit(any(name.startswith(('PySide6', 'shiboken6')) for name in sys.modules))"
    )
    environment = {**os.environ, "PYTHONPATH": str(installed), "PYTHONSAFEPATH": "1"}
    ran = subprocess.run([sys.executable, "-c", code, str(tmp_path / "w")], env=environment, check=False)
    assert ran.returncode == 0
