"""What came off the card, and what does it say? Finds files, copies them safely, and reads metadata and pixels.

May import: `lapseam.domain`, Pillow, pillow-heif, exifread, numpy, watchdog and, where installed, av. It never touches
the database: rows and folders are the caller's, handed in as callables and the two small ports of `ports`.
A bad file is a result; only a card that left, a full disk or refused rights end a take-in.
"""

from lapseam.intake.look import remake_previews
from lapseam.intake.pipeline import TakenIn, take_in
from lapseam.intake.ports import Previews, Vault
from lapseam.intake.progress import Every
from lapseam.intake.source import Found, find
from lapseam.intake.watch import Watch, watch

__all__ = ["Every", "Found", "Previews", "TakenIn", "Vault", "Watch", "find", "remake_previews", "take_in", "watch"]
