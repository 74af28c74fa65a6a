"""What a published edition looks like, and whether one is whole.

Answers: which picture files a page shows, what the pages say, how an edition is packed, and whether a packed one is
still what it was. Page models come finished from the domain; nothing here decides what is shown.

May import: domain, places, the standard library, Pillow and pillow-heif (pictures), Jinja2 (pages).
"""

from .making import MadeEdition, make_edition, numbers, sweep
from .renditions import Recipe
from .verify import Fault, Harm, VerifyReport, bag_sha256, verify

__all__ = [
    "Fault",
    "Harm",
    "MadeEdition",
    "Recipe",
    "VerifyReport",
    "bag_sha256",
    "make_edition",
    "numbers",
    "sweep",
    "verify",
]
