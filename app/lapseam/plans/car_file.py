"""The car file: what the house knows about a car when its walk begins."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from ..domain.car import House, Person
from ..domain.condition import Value
from ..domain.decision import CarDetails, FactAnswer
from ..domain.plan import Vocabulary
from .answers import Answers, check_answers
from .fields import Field, One, Rows, Shape
from .kinds import Choice, Flag, ListOf, Number, Text
from .nodes import read_nodes
from .reading import Reading, Row, Spot
from .vocabulary import raise_broken

ROLES = ("photographer", "lister", "manager", "phone", "mechanic", "clerk", "dispatcher")
UNITS = ("mi", "km", "in", "mm")
_WORD = Text(120)
_DAYS = Number(1, 3650, whole=True, unit="days")
_KM = Number(1, 1_000_000, whole=True, unit="km")

CAR = Shape(
    "car",
    "what the house calls the car",
    {
        "year": Field(Number(1880, 2100, whole=True), "as titled"),
        "make": Field(_WORD, "the maker", default=""),
        "model": Field(_WORD, "the model", default=""),
        "trim": Field(_WORD, "body and trim in words", default=""),
        "colour": Field(_WORD, "outside colour in words", default=""),
        "interior": Field(_WORD, "inside colour and material in words", default=""),
    },
    renamed={"color": "colour"},
)

ODOMETER = Shape(
    "odometer",
    "what the odometer shows",
    {
        "reading": Field(Number(0, 9_999_999, whole=True), "the digits as shown", required=True),
        "unit": Field(Choice(("mi", "km")), "the unit on the dial", required=True, default=""),
        "digits": Field(Number(3, 8, whole=True), "how many digits it has, without tenths"),
        "status": Field(_WORD, "what is claimed of it, in words", default=""),
    },
)

HOUSE = Shape(
    "house",
    "the dealer's own settings",
    {
        "name": Field(_WORD, "the house's name", default=""),
        "units": Field(ListOf(Choice(UNITS), least=1), "units, the house's own first", default=("mi", "in")),
        "language": Field(Text(12), "language tag of pages for buyers, such as en", default="en"),
        "one_person_firm": Field(Flag(), "a lister may sign his own work, and the page says so", default=False),
        "mask_serial": Field(Flag(), "the public record shows only part of the serial", default=False),
        "stale_photo_days": Field(_DAYS, "after how many days a photo is called old", default=90),
        "stale_check_days": Field(_DAYS, "after how many days a check is called old", default=60),
        "stale_km": Field(_KM, "after how many kilometres driven a photo is called old", default=500),
    },
)

PERSON = Shape(
    "person",
    "somebody of the house's list",
    {
        "name": Field(_WORD, "the name", required=True),
        "roles": Field(ListOf(Choice(ROLES), least=1), "what this person does", required=True),
    },
)

CAR_FILE = Shape(
    "car_file",
    "what the house knows about a car when its walk begins",
    {
        "stock": Field(Text(40, loose=True), "the stock number", required=True),
        "car": Field(One(CAR), "what the house calls the car"),
        "serial": Field(Text(40, loose=True), "the serial as the papers give it, free text", default=""),
        "odometer": Field(One(ODOMETER), "what the odometer shows"),
        "facts": Field(Answers(), "answers to facts; what is left out is unknown"),
        "house": Field(One(HOUSE), "the dealer's own settings"),
        "people": Field(Rows(PERSON, name_by="name"), "the house's people", default=()),
    },
)


@dataclass(frozen=True, slots=True)
class CarFile:
    """A car file as read. `house` carries the people."""

    stock: str
    year: int | None
    make: str
    model: str
    trim: str
    colour: str
    interior: str
    serial: str
    odometer_reading: int | None
    odometer_unit: str
    odometer_digits: int | None
    odometer_status: str
    facts: Mapping[str, Value]
    house: House

    def details(self, by: str, at: datetime) -> CarDetails:
        """What the file says of the car, as that person's decision."""
        return CarDetails(
            by=by,
            at=at,
            year=self.year,
            make=self.make,
            model=self.model,
            trim=self.trim,
            colour=self.colour,
            interior=self.interior,
            serial=self.serial,
            odometer_reading=self.odometer_reading,
            odometer_unit=self.odometer_unit,
            odometer_digits=self.odometer_digits,
            odometer_status=self.odometer_status,
        )

    def answers(self, by: str, at: datetime) -> tuple[FactAnswer, ...]:
        """The facts that the file answers, as that person's decisions."""
        return tuple(FactAnswer(fact, value, by, at) for fact, value in self.facts.items())


def read_car_file(path: Path, vocabulary: Vocabulary | None = None) -> CarFile:
    """Read and check a car file; with a vocabulary its facts are checked too.

    Raises:
        PlanBroken: something is wrong; `problems` names every place.
    """
    reading = Reading()
    node = read_nodes(path, reading.problems)
    row = CAR_FILE.read(node, Spot(reading, "")) if node is not None else None
    if row is not None and row["facts"] is not None and vocabulary is not None:
        check_answers(row["facts"], vocabulary.facts)
    raise_broken(reading, path.name, next_step="Mend the lines named and read the car file again.")
    if row is None:
        raise ValueError("a car file without a problem has rows")
    return _car_file(row)


def _car_file(row: Row) -> CarFile:
    car, odometer, house = (row[key].values if row[key] else _left_out(shape) for key, shape in _PARTS.items())
    people = tuple(Person(person["name"], person["roles"]) for person in row["people"])
    return CarFile(
        stock=row["stock"],
        **car,
        serial=row["serial"],
        **{f"odometer_{key}": value for key, value in odometer.items()},
        facts=dict(row["facts"].values) if row["facts"] else {},
        house=House(people=people, **house),
    )


_PARTS = {"car": CAR, "odometer": ODOMETER, "house": HOUSE}


def _left_out(shape: Shape) -> dict[str, Any]:
    return {key: entry.default for key, entry in shape.fields.items()}
