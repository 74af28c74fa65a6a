"""Paint film thickness: the readings of each panel beside the same car's other panels, and no verdict.

Source: SSPC-PA 2, sections 3 and 8, for how many readings make a spot (read in a secondary source); ASTM D7091 is how
the gauge is verified, ISO 2808 the list of methods (from memory). There is no supportable threshold that tells one
paint from another: sources disagree, and so did factories. So every reading is shown, with mean and spread, and each
panel is compared with the others measured. Why a panel is thicker is not in the figures.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from statistics import fmean, median, stdev
from typing import Final

from ..errors import Mistake
from ..phrases import listed
from .worked import Known, Value, Worked, both, grouped

SPOT_READINGS: Final = 3
"""Readings that make one spot (SSPC-PA 2)."""
MOST_UM: Final = 5000.0
_SOURCE: Final = "SSPC-PA 2, sections 3 and 8; gauge verified as in ASTM D7091; 1 mil = 25.4 µm exactly"


class Beside(Enum):
    """How a panel's mean stands to the readings of the other panels."""

    THICKER = "thicker than the other panels measured"
    THINNER = "thinner than the other panels measured"
    AMONG = "among the other panels measured"
    ALONE = "the only panel measured"


@dataclass(frozen=True, slots=True)
class PanelFilm:
    """One panel's readings in µm, as read and in their order, and what follows from them.

    `others_um` is the median of the other panels' means, `apart_um` the panel's mean less that; None on a panel alone.
    """

    panel: str
    readings_um: tuple[float, ...]
    mean_um: float
    spread_um: float
    deviation_um: float | None
    beside: Beside
    others_um: float | None = None
    apart_um: float | None = None

    @property
    def gauge_um(self) -> float:
        """What a careful reading on clean flat metal may be off: about 3 % and 2 µm (common practice)."""
        return 0.03 * self.mean_um + 2


def panels(readings: Mapping[str, Sequence[float]]) -> tuple[PanelFilm, ...]:
    """Each panel compared with the others; readings in µm by the panel's name.

    A panel is called thicker (thinner) only where its mean lies above (below) every single reading of every other
    panel.

    Raises:
        Mistake: no panel, a panel without readings, or a reading that no gauge shows.
    """
    if not readings:
        raise Mistake("No panel was given.", next_step="Write PANEL=READINGS, for instance hood='118 121 115 um'.")
    for panel, read in readings.items():
        if not read:
            raise Mistake(f"{panel} has no readings.", next_step="Write at least one, better three a spot.")
        if not all(0 <= one <= MOST_UM for one in read):
            raise Mistake(
                f"{panel} has a reading that no gauge shows.", next_step=f"They lie within 0 and {MOST_UM:.0f} µm."
            )
    return tuple(_panel(panel, readings) for panel in readings)


def _panel(panel: str, readings: Mapping[str, Sequence[float]]) -> PanelFilm:
    own = tuple(readings[panel])
    mean = fmean(own)
    others = [read for name, read in readings.items() if name != panel]
    level = median(fmean(read) for read in others) if others else None
    flat = [one for read in others for one in read]
    beside = Beside.ALONE
    if flat:
        beside = Beside.THICKER if mean > max(flat) else Beside.THINNER if mean < min(flat) else Beside.AMONG
    return PanelFilm(
        panel=panel,
        readings_um=own,
        mean_um=mean,
        spread_um=max(own) - min(own),
        deviation_um=stdev(own) if len(own) > 1 else None,
        beside=beside,
        others_um=level,
        apart_um=None if level is None else mean - level,
    )


def film(readings: Mapping[str, Sequence[float]]) -> Worked:
    """All readings of each panel in µm with mean, spread and the difference from the other panels.

    Raises:
        Mistake: as `panels`.
    """
    found = panels(readings)
    apart = [one for one in found if one.beside in (Beside.THICKER, Beside.THINNER)]
    said = listed(f"{one.panel} is {one.beside.value}" for one in apart) if apart else (
        "No panel stands apart from the others measured" if len(found) > 1 else f"{found[0].panel} alone was measured"
    )  # fmt: skip
    return Worked(
        rule="film",
        said=f"{said}.",
        values=tuple(value for one in found for value in _values(one)),
        working=tuple(_step(one) for one in found),
        source=_SOURCE,
        known=Known.SECONDARY,
        cautions=tuple(_cautions(found)),
    )


def _values(one: PanelFilm) -> tuple[Value, ...]:
    read = " ".join(f"{um:g}" for um in one.readings_um)
    values = [
        Value(f"{one.panel}: readings", one.readings_um, f"{read} µm", "µm"),
        Value(f"{one.panel}: mean", one.mean_um, _um(one.mean_um), "µm"),
        Value(f"{one.panel}: spread", one.spread_um, _um(one.spread_um), "µm"),
    ]
    if one.apart_um is not None:
        sign = "+" if one.apart_um > 0 else ""
        values.append(Value(f"{one.panel}: apart from the others", one.apart_um, sign + _um(one.apart_um), "µm"))
    return (*values, Value(f"{one.panel}: beside the others", one.beside, one.beside.value))


def _um(amount: float) -> str:
    return both(amount, "µm", 0, beside_places=1)


def _step(one: PanelFilm) -> str:
    total = grouped(sum(one.readings_um), 0 if all(um == int(um) for um in one.readings_um) else 1)
    count = len(one.readings_um)
    words = (
        f"{one.panel}: {count} reading{'s' if count > 1 else ''}, {total} / {count} = {one.mean_um:.0f} µm; least "
        f"{min(one.readings_um):g}, most {max(one.readings_um):g}"
    )
    if one.others_um is None:
        return f"{words}."
    return f"{words}; the other panels' means have their middle at {one.others_um:.0f} µm."


def _cautions(found: Sequence[PanelFilm]) -> list[str]:
    few = [one.panel for one in found if len(one.readings_um) < SPOT_READINGS]
    cautions = [
        "The figures do not say why a panel is thicker or thinner: factories, plants and years differ too.",
        "A panel is called thicker or thinner only where its mean lies beyond every reading of all the others.",
        "A careful reading is good to about 3 % and 2 µm on clean flat metal, less on curves and edges (common "
        "practice).",
        "A magnetic or eddy-current gauge reads nothing on plastic, composite or wood.",
    ]
    if few:
        cautions.insert(0, f"Fewer than {SPOT_READINGS} readings on {listed(few)}: too few for a spot (SSPC-PA 2).")
    return cautions
