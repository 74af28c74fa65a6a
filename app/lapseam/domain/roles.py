"""Roles instead of persons: what stands in public where the record names somebody."""

from __future__ import annotations

import re
from collections.abc import Iterator

from .car import Car, House
from .phrases import said, say


class Roles:
    """Turns names into roles for one car and house. Names are everybody of the house's list and of the record."""

    def __init__(self, car: Car, house: House) -> None:
        self._roles = {person.name: person.roles[0] if person.roles else "none" for person in house.people}
        known = sorted({*self._roles, *_names(car)}, key=len, reverse=True)
        self._names = re.compile(
            "|".join(rf"(?<!\w){re.escape(name)}(?!\w)" for name in known if name.strip()) or r"(?!)"
        )

    def of(self, name: str, told: str = "") -> str:
        """The role in words, 'mechanic'. `told` is a role the record gives itself; it goes first."""
        role = told or self._roles.get(name, "none")
        return said(f"role.{role}") or self.hide(role)

    def the(self, name: str, told: str = "") -> str:
        """'the mechanic'."""
        return say("role.the", role=self.of(name, told))

    def hide(self, text: str) -> str:
        """Free words with every known name replaced by its role."""
        return self._names.sub(lambda found: self.the(found.group()), text)


def _names(car: Car) -> Iterator[str]:
    for decision in car.decisions():
        yield decision.by
