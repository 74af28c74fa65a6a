"""Keeps what imaging libraries mutter about odd files out of the program's own words: the result says what was wrong.

Their loggers speak only of what is critical, in the whole process; warnings are kept in for as long as
a file is looked at.
"""

from __future__ import annotations

import logging
import threading
import warnings
from collections.abc import Iterator
from contextlib import contextmanager

for _name in ("PIL", "exifread", "pillow_heif", "libav"):
    logging.getLogger(_name).setLevel(logging.CRITICAL)

_LOCK = threading.Lock()
_inside = 0
_hushed: warnings.catch_warnings[None] | None = None


@contextmanager
def quiet() -> Iterator[None]:
    """Ignore warnings that arise in Pillow and its plugins while any thread is inside.

    `warnings.catch_warnings` alone is not safe here: two threads that overlap would restore each other's filters and
    leave the process deaf. So the filters change when the first thread enters and change back when the last leaves.
    """
    global _inside, _hushed
    with _LOCK:
        if _inside == 0:
            _hushed = warnings.catch_warnings()
            _hushed.__enter__()
            warnings.filterwarnings("ignore", module=r"(PIL|pillow_heif)(\.|$)")
        _inside += 1
    try:
        yield
    finally:
        with _LOCK:
            _inside -= 1
            if _inside == 0 and _hushed is not None:
                _hushed.__exit__(None, None, None)
                _hushed = None
