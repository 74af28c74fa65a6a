"""The rules by name: what each wants in a person's words, and how the words become a worked answer.

Fronts list these and ask by name; they hold no parsing of their own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from difflib import get_close_matches
from typing import Final

from ..errors import Mistake, NotFound
from . import film, gearing, odometer, old_tyres, part_dates, rust, tyre_dates, tyre_marks, tyres, units, vin
from .part_dates import DateWindow
from .reading import choice, day, measure, model_year, number, plain, quantity, quoted, whole
from .worked import Worked

MOST_WORDS: Final = 200


@dataclass(frozen=True, slots=True)
class Asked:
    """One asking of a rule: its words in order, its named words, today, and the windows of part dates."""

    words: tuple[str, ...]
    named: Mapping[str, str]
    today: date
    windows: Sequence[DateWindow] = ()


@dataclass(frozen=True, slots=True)
class Rule:
    """One published rule. `wants` are its words in order (the last repeats if `many`), `named` its optional ones."""

    name: str
    title: str
    wants: tuple[str, ...]
    example: str
    work: Callable[[Asked], Worked]
    named: Mapping[str, str] = field(default_factory=dict)
    many: bool = False
    fewest: int | None = None

    @property
    def usage(self) -> str:
        """Its words as a line: 'SHAFT WHEEL TURNING [read-to=TURNS]'."""
        last = " …" if self.many else ""
        return " ".join([*self.wants]) + last + "".join(f" [{name}={word}]" for name, word in self.named.items())


def work(
    name: str, words: Sequence[str], *, today: date, windows: Callable[[], Sequence[DateWindow]] = tuple
) -> Worked:
    """The answer of the rule of that name to a person's words; `windows` is called only by the rule that needs them.

    Raises:
        NotFound: there is no such rule.
        Mistake: words are missing, too many, or not understood; it says what to write instead.
    """
    rule = find(name)
    if len(words) > MOST_WORDS:
        raise Mistake(f"{len(words)} words are more than {name} takes.", next_step=_shown_how(rule))
    plain_words, named = _sorted(rule, words)
    fewest = len(rule.wants) if rule.fewest is None else rule.fewest
    if len(plain_words) < fewest or (len(plain_words) > len(rule.wants) and not rule.many):
        raise Mistake(f"{name} wants {rule.usage}; {len(plain_words)} given.", next_step=_shown_how(rule))
    needed = windows() if rule.name == PART_DATE else ()
    return rule.work(Asked(plain_words, named, today, needed))


def find(name: str) -> Rule:
    """The rule of that name; NotFound with the nearest name where there is none."""
    if name in RULES:
        return RULES[name]
    near = get_close_matches(name[:40], RULES, 1)
    raise NotFound(
        f"There is no rule {quoted(name)}." + (f" Did you mean {near[0]}?" if near else ""),
        next_step="List the rules with: lapseam rule",
    )


def _sorted(rule: Rule, words: Sequence[str]) -> tuple[tuple[str, ...], dict[str, str]]:
    """Words in order and named words apart."""
    in_order, named = [], {}
    for word in words:
        key, sign, value = word.partition("=")
        name = key.strip().casefold()
        if sign and name in rule.named:
            if name in named:
                raise Mistake(f"{name} was given twice.", next_step="Give it once.")
            named[name] = value
        elif sign and "=" not in rule.wants[0]:
            near = get_close_matches(name[:40], rule.named, 1)
            raise Mistake(
                f"{rule.name} has no {quoted(key)}." + (f" Did you mean {near[0]}?" if near else ""),
                next_step=f"Named words it takes: {', '.join(rule.named) or 'none'}.",
            )
        else:
            in_order.append(word)
    return tuple(in_order), named


def _shown_how(rule: Rule) -> str:
    return f"For instance: lapseam rule {rule.name} {rule.example}"


def _vin(asked: Asked) -> Worked:
    year = model_year(asked.named["year"]) if "year" in asked.named else None
    kinds = {kind.value: kind for kind in vin.Kind}
    kind = kinds[choice(asked.named.get("kind", "unknown"), kinds, of="kind of vehicle")]
    return vin.vin(" ".join(asked.words), year=year, kind=kind)


def _tyre_date(asked: Asked) -> Worked:
    on = day(asked.named["on"], of="the age") if "on" in asked.named else asked.today
    return tyre_dates.tyre_date(" ".join(asked.words), on=on)


def _film(asked: Asked) -> Worked:
    worked = film.film(film_readings(asked.words))
    return replace(worked, understood=tuple(f"Read as written: {plain(word)}." for word in asked.words))


def film_readings(words: Sequence[str]) -> dict[str, tuple[float, ...]]:
    """Readings in µm by panel from words such as `hood=118 121 115 um`.

    A unit written once on a panel holds for that panel; every panel needs one.

    Raises:
        Mistake: a panel is named twice or not at all, or a reading or its unit is not understood.
    """
    read: dict[str, tuple[float, ...]] = {}
    for word in words:
        panel, sign, values = word.partition("=")
        name = plain(panel)
        if not sign or not name:
            raise Mistake(
                f"{quoted(word)} names no panel.", next_step="Write PANEL=READINGS, for instance hood='118 121 115 um'."
            )
        if name in read:
            raise Mistake(f"{quoted(name)} was given twice.", next_step="Write all its readings behind it once.")
        read[name] = _panel_readings(name, values)
    return read


def _panel_readings(name: str, values: str) -> tuple[float, ...]:
    pieces = [piece.strip(",") for piece in plain(values).replace(";", " ").split()]
    written: list[str] = []
    for piece in pieces:
        if written and piece and not any(char.isdigit() for char in piece):
            written[-1] += f" {piece}"
        elif piece:
            written.append(piece)
    of = f"a reading of {name}"[:60]
    found = {quantity(one, of=of).unit for one in written} - {""}
    if len(found) > 1:
        raise Mistake(f"{name} has readings in more than one unit.", next_step="Write all in µm, or all in mil.")
    unit = "".join(found)
    return tuple(measure(one, of=of, unit="µm", least=0, most=film.MOST_UM, bare=unit) for one in written)


def _rust(asked: Asked) -> Worked:
    around = asked.named.get("give-or-take")
    spreads = {spread.name.casefold(): spread for spread in rust.Spread}
    named = asked.named.get("spread")
    return rust.rusted(
        rust.read_percent(asked.words[0]),
        give_or_take=rust.read_percent(around, of="the uncertainty") if around is not None else 0,
        spread=spreads[choice(named, spreads, of="spread")] if named is not None else None,
    )


def _axle_ratio(asked: Asked) -> Worked:
    ways = {way.value: way for way in gearing.Turning}
    read_to = asked.named.get("read-to")
    return gearing.axle_ratio(
        number(asked.words[0], of="shaft turns", least=0, most=1000),
        number(asked.words[1], of="wheel turns", least=0, most=500),
        ways[choice(asked.words[2], ways, of="way the wheels turned")],
        read_to=number(read_to, of="reading of the shaft", least=0, most=10) if read_to else gearing.READ_TO_TURNS,
    )


def tyre_diameter_mm(words: str) -> float:
    """A tyre's diameter in mm from a size with a geometry, or from a measured length; Mistake otherwise."""
    try:
        return float(tyres.read_size(words).diameter_mm)
    except Mistake:
        return measure(words, of="the tyre's diameter or size", unit="mm", least=250, most=1600)


def _geared(asked: Asked) -> tuple[float, float, float]:
    """Axle ratio, tyre diameter in mm and gear ratio."""
    gear = asked.named.get("gear")
    return (
        number(asked.words[1], of="the axle ratio", least=0.5, most=20),
        tyre_diameter_mm(asked.words[2]),
        number(gear, of="the gear ratio", least=0.1, most=20) if gear is not None else 1.0,
    )


def _engine_speed(asked: Asked) -> Worked:
    speed = measure(asked.words[0], of="speed", unit="mph", least=0, most=500)
    axle, tyre, gear = _geared(asked)
    return gearing.engine_speed(speed, axle, tyre, gear=gear)


def _road_speed(asked: Asked) -> Worked:
    turns = number(asked.words[0].casefold().removesuffix("rpm"), of="engine speed", least=0, most=20_000)
    axle, tyre, gear = _geared(asked)
    return gearing.road_speed(turns, axle, tyre, gear=gear)


def _displacement(asked: Asked) -> Worked:
    bore, stroke = (
        measure(words, of=of, unit="mm", least=10, most=300)
        for words, of in zip(asked.words, ("the bore", "the stroke"), strict=False)
    )
    return gearing.displacement(bore, stroke, whole(asked.words[2], of="the number of cylinders", least=1, most=24))


def _odometer(asked: Asked) -> Worked:
    wheels = asked.named.get("wheels")
    status = choice(asked.named.get("status", "shown"), odometer.STATUS_WORDS, of="status")
    return odometer.odometer(
        asked.words[0],
        unit=choice(asked.words[1], ("mi", "km"), of="unit of an odometer"),
        wheels=odometer.read_wheels(wheels) if wheels is not None else None,
        status=odometer.STATUS_WORDS[status],
    )


def _exemption(asked: Asked) -> Worked:
    transfer = model_year(asked.words[1], of="the transfer") if len(asked.words) > 1 else asked.today.year
    return odometer.exemption(model_year(asked.words[0]), transfer)


def _units(asked: Asked) -> Worked:
    into = asked.named.get("into")
    unit = quantity(f"1 {into}", of="the unit").unit if into is not None else ""
    return units.convert(" ".join(asked.words), into=unit)


def _part_date(asked: Asked) -> Worked:
    by_id = {window.id: window for window in asked.windows}
    window = by_id[choice(asked.words[0], by_id, of="date rule")]
    part, build = asked.words[1:]
    return part_dates.part_date(part_dates.span(part, of="the part"), part_dates.span(build, of="the car"), window)


PART_DATE: Final = "part-date"


def _rules() -> Iterator[Rule]:
    yield Rule("vin", "structure, check digit and model year of a serial", ("SERIAL",), "1M8GDM9AXKP042788 kind=light",
               _vin, {"year": "MODEL-YEAR", "kind": "light|other"}, many=True)  # fmt: skip
    yield Rule("tyre-size", "geometry of a tyre size; usual substitute of an old one", ("SIZE",), "205/70R14",
               lambda asked: old_tyres.sizes(" ".join(asked.words)), many=True)  # fmt: skip
    yield Rule("tyre-compare", "a fitted tyre size beside the usual one", ("FITTED", "USUAL"), "225/70R14 205/70R14",
               lambda asked: tyres.compare_sizes(*asked.words))  # fmt: skip
    yield Rule("tyre-mark", "load index and speed symbol", ("MARK",), "95H",
               lambda asked: tyre_marks.tyre_mark(asked.words[0]))  # fmt: skip
    yield Rule("tyre-date", "week, year and age of a tyre", ("CODE",), "3500 on=2026-11-24", _tyre_date,
               {"on": "DAY"}, many=True)  # fmt: skip
    yield Rule("tread", "tread depth in mm and 32nds of an inch", ("DEPTH",), "5/32in",
               lambda asked: tyre_marks.tread(" ".join(asked.words)), many=True)  # fmt: skip
    yield Rule("film", "paint film thickness, panel beside panel", ("PANEL=READINGS",),
               "hood='118 121 115 um' roof='112 117 119 um'", _film, many=True)  # fmt: skip
    yield Rule("rust", "ASTM D610 grade of a rusted share", ("PERCENT",), "3 give-or-take=1 spread=spot", _rust,
               {"give-or-take": "POINTS", "spread": "spot|general|pinpoint|hybrid"})  # fmt: skip
    yield Rule("axle-ratio", "axle ratio from counted turns", ("SHAFT-TURNS", "WHEEL-TURNS", "both|one-held|free"),
               "20 12 one-held", _axle_ratio, {"read-to": "TURNS"})  # fmt: skip
    yield Rule("engine-speed", "engine speed at a road speed", ("SPEED", "AXLE", "TYRE"), "65mph 3.73 205/70R14",
               _engine_speed, {"gear": "RATIO"})  # fmt: skip
    yield Rule("road-speed", "road speed at an engine speed", ("RPM", "AXLE", "TYRE"), "2500 3.73 25.3in",
               _road_speed, {"gear": "RATIO"})  # fmt: skip
    yield Rule("displacement", "swept volume of an engine", ("BORE", "STROKE", "CYLINDERS"), "4.00in 3.48in 8",
               _displacement)  # fmt: skip
    yield Rule("odometer", "an odometer reading and what it may stand for", ("READING", "mi|km"),
               "45123 mi wheels=5 status=actual", _odometer,
               {"wheels": "COUNT", "status": "|".join(odometer.STATUS_WORDS)})  # fmt: skip
    yield Rule("odometer-exemption", "federal exemption by year, for information", ("MODEL-YEAR", "TRANSFER-YEAR"),
               "1969 2026", _exemption, fewest=1)  # fmt: skip
    yield Rule("units", "a quantity in the other units of its kind", ("QUANTITY",), "'5/32 in' into=mm", _units,
               {"into": "UNIT"}, many=True)  # fmt: skip
    yield Rule(PART_DATE, "a part's date beside the car's build date", ("DATE-RULE", "PART", "BUILD"),
               "dr-block-cast 1968-10-21 1968-12", _part_date)  # fmt: skip


RULES: Final[Mapping[str, Rule]] = {rule.name: rule for rule in _rules()}
"""Every rule by its name, in the order they are listed."""
