"""What a published edition looks like, and whether one is whole.

Answers: which picture files a page shows, what the pages say, how an edition is packed, and whether a packed one is
still what it was; and what a shot list and setup cards look like on paper. Page models come finished from the
domain; nothing here decides what is shown.

May import: domain, places, the standard library, Pillow and pillow-heif (pictures), av (clips), Jinja2 (pages), Babel
(languages), typst and segno (paper), cryptography and rfc3161-client (public keys, signatures and time stamps;
private keys are opened in storage and never come here).
"""

from .comparison_page import read_record, write_comparison
from .files import write as write_file
from .languages import language, window_texts
from .listing_text import listing_name
from .making import MadeEdition, folder_name, make_edition, numbers, sweep
from .print_cards import setup_cards
from .print_pages import cards_pdf, shot_list_pdf
from .print_shots import car_shot_list, plan_shot_list
from .renditions import Recipe
from .signature import Seal, SignatureFound, Signed, SignerSaid, holds, lay_beside
from .time_stamp import StampFound, stamp_request, take_reply
from .typesetting import Paper
from .verify import Fault, Harm, PartState, VerifyReport, bag_sha256, verify

__all__ = [
    "Fault",
    "Harm",
    "MadeEdition",
    "Paper",
    "PartState",
    "Recipe",
    "Seal",
    "SignatureFound",
    "Signed",
    "SignerSaid",
    "StampFound",
    "VerifyReport",
    "bag_sha256",
    "car_shot_list",
    "cards_pdf",
    "folder_name",
    "holds",
    "language",
    "lay_beside",
    "listing_name",
    "make_edition",
    "numbers",
    "plan_shot_list",
    "read_record",
    "setup_cards",
    "shot_list_pdf",
    "stamp_request",
    "sweep",
    "take_reply",
    "verify",
    "window_texts",
    "write_comparison",
    "write_file",
]
