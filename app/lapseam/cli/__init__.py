"""The command line: reads words, calls one workflow verb, prints the answer. No rule lives here.

May import: workflow and domain. Needs no screen and none of Qt's libraries.
"""

from .front import main

__all__ = ["main"]
