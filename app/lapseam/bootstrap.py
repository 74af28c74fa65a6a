"""The one place that builds the real parts and hands them to a front.

No arguments open the windows; anything else is a command. The windows are imported only when they are wanted, so that
the command line runs on a machine with no screen and none of Qt's libraries.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from pathlib import Path


def run(argv: Sequence[str]) -> int:
    """Run the front that `argv` asks for; its exit code."""
    if not argv:
        return _windows(None, "")
    from lapseam import cli

    return cli.main(argv, open_window=_windows if _has_screen() else None)


def _windows(folder: Path | None, stock: str) -> int:
    """Open the windows on a workspace, and on a car where one is named."""
    if not _has_screen():
        sys.stderr.write("There is no screen here. Use the command line: lapseam --help\n")
        return 2
    try:
        from lapseam.desktop.program import main
    except ImportError as error:
        sys.stderr.write(f"The windows cannot open here: {error}. Use the command line, or install what is missing.\n")
        return 2
    return main(folder, stock=stock)


def _has_screen() -> bool:
    """Whether a window can be shown: always on macOS and Windows; elsewhere where a display is named."""
    if sys.platform in ("darwin", "win32") or os.environ.get("QT_QPA_PLATFORM"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
