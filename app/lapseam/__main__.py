"""`lapseam`: no arguments open the windows; otherwise the command line."""

from __future__ import annotations

import sys


def main() -> int:
    """Entry point of the installed command."""
    from lapseam.bootstrap import run

    return run(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
