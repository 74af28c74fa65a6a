"""Where the shipped data, the demo and a person's own workspace are, in a checkout, an editable install or a wheel."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

from platformdirs import user_documents_path

SHIPPED = ("shot_plans", "templates", "demo_assets")


def shipped(folder: str) -> Path:
    """The folder of shipped data with that name (one of `SHIPPED`).

    In a wheel it lies in `lapseam/_data`; in a checkout or an editable install at the top of the tree.

    Raises:
        FileNotFoundError: the installation lacks it (a packaging fault of ours, shown as a bug).
    """
    package = Path(str(files("lapseam")))
    for place in (package / "_data" / folder, package.parents[1] / folder):
        if place.is_dir():
            return place
    raise FileNotFoundError(f"the installation lacks its folder {folder!r}")


def shot_plans() -> Path:
    """The folder of the plans that ship."""
    return shipped("shot_plans")


def templates() -> Path:
    """The folder of what publishing fills in."""
    return shipped("templates")


def demo_assets() -> Path:
    """The invented demo car's card, facts and notes."""
    return shipped("demo_assets")


def fonts() -> Path:
    """The letters that ship with the program (IBM Plex, under the SIL Open Font License beside them)."""
    return Path(str(files("lapseam"))) / "desktop" / "fonts"


def default_workspace() -> Path:
    """Where the workspace lies if nobody says otherwise."""
    return user_documents_path() / "Lapseam"
