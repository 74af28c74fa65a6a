"""What a published edition looks like, and whether one is whole.

Answers: which picture files a page shows, what the pages say, how an edition is packed, and whether a packed one is
still what it was; and what a shot list and setup cards look like on paper. Page models come finished from the
domain; nothing here decides what is shown.

May import: domain, places, the standard library, Pillow and pillow-heif (pictures), Jinja2 (pages), Babel
(languages), typst and segno (paper).
"""

from .files import write as write_file
from .languages import language
from .making import MadeEdition, make_edition, numbers, sweep
from .print_cards import setup_cards
from .print_pages import cards_pdf, shot_list_pdf
from .print_shots import car_shot_list, plan_shot_list
from .renditions import Recipe
from .typesetting import Paper
from .verify import Fault, Harm, VerifyReport, bag_sha256, verify

__all__ = [
    "Fault",
    "Harm",
    "MadeEdition",
    "Paper",
    "Recipe",
    "VerifyReport",
    "bag_sha256",
    "car_shot_list",
    "cards_pdf",
    "language",
    "make_edition",
    "numbers",
    "plan_shot_list",
    "setup_cards",
    "shot_list_pdf",
    "sweep",
    "verify",
    "write_file",
]
