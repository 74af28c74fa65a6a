"""Killed with SIGKILL at fifty moments of taking in and of publishing: the next start finishes the work."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

CAMPAIGN = Path(__file__).with_name("campaign.py")
MOMENTS = 50

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="the campaign forks, which this system cannot")


@pytest.mark.slow
@pytest.mark.timeout(600)
@pytest.mark.parametrize("verb", ["take-in", "publish"])
def test_no_photo_lost_none_twice_no_half_edition(verb: str, tmp_path: Path) -> None:
    ran = subprocess.run(
        [sys.executable, str(CAMPAIGN), verb, str(MOMENTS), str(tmp_path)], capture_output=True, text=True, check=False
    )
    assert ran.returncode == 0, ran.stderr[-2000:]
    answer = json.loads(ran.stdout)
    assert answer["broken"] == {}
    assert answer["killed"] >= MOMENTS * 0.8, "the kills came too late to prove anything"
