"""The one place that builds the real parts and hands them to a front.

No arguments open the windows; anything else is a command. The windows are imported only when they are wanted, so that
the command line runs on a machine with no screen and none of Qt's libraries.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence


def run(argv: Sequence[str]) -> int:
    """Run the front that `argv` asks for; its exit code."""
    if not argv:
        return _windows()
    from lapseam import cli

    return cli.main(argv)


def _windows() -> int:
    try:
        from lapseam.desktop.program import main
    except ImportError as error:
        sys.stderr.write(
            f"The windows cannot open here: {error}. Use the command line (lapseam --help), or install what is missing.\n"
        )
        return 2
    return main()
