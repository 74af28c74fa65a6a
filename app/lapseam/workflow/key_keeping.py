"""Verbs about the keys of those who sign: make one, list them, change a passphrase, retire one."""

from __future__ import annotations

from concurrent.futures import Future
from dataclasses import dataclass, replace
from datetime import date

from lapseam.domain.car import House, Person
from lapseam.domain.errors import KeyRefused, Mistake, NotFound
from lapseam.domain.signing_key import SigningKey, grouped, passphrase_objection
from lapseam.storage import OpenKey

from .office import Office


@dataclass(frozen=True, slots=True)
class KeyLine:
    """One key of the house: whose, since when, whether it signs still, and whether its private half lies here."""

    person: str
    fingerprint: str
    made: date
    retired: date | None
    here: bool

    @property
    def words(self) -> str:
        """Its state in a few words."""
        if self.retired is not None:
            return f"retired {self.retired.isoformat()}"
        return "signs" if self.here else "LOST: the private half is not in keys/"


class KeyKeeping(Office):
    """Keys. A passphrase is never written down, never logged, and kept no longer than the one thing it opens."""

    def keys(self) -> Future[tuple[KeyLine, ...]]:
        """Every key of the house, person by person, oldest first."""
        return self.runner.aside(lambda: tuple(self._line(one, key) for one in self.house.people for key in one.keys))

    def key_of(self, *, person: str) -> Future[KeyLine | None]:
        """The key that the person signs with now, or None for somebody who signs by name."""

        def look() -> KeyLine | None:
            found = self.house.person(person)
            return self._line(found, found.key) if found is not None and found.key is not None else None

        return self.runner.aside(look)

    def make_key(self, *, person: str, passphrase: str) -> Future[KeyLine]:
        """Make a key for a person of the house's list.

        Raises (in the future):
            NotFound: nobody of that name. Mistake: there is a key already, or the passphrase is too short.
        """
        return self.runner.aside(self._make_key, person, passphrase)

    def change_passphrase(self, *, person: str, old: str, new: str) -> Future[KeyLine]:
        """Put a person's key under another passphrase; the key stays the same.

        Raises (in the future):
            KeyRefused, WrongPassphrase: the old one does not open it. Mistake: the new one is too short.
        """
        return self.runner.aside(self._change_passphrase, person, old, new)

    def retire_key(self, *, person: str) -> Future[KeyLine]:
        """Let a person's key sign nothing more: its private half is deleted, its public half stays for verifying."""
        return self.runner.aside(self._retire_key, person)

    def _make_key(self, name: str, passphrase: str) -> KeyLine:
        house = self.house
        person = _listed(house, name)
        if person.key is not None:
            raise Mistake(
                f"{name} has a key already: {grouped(person.key.fingerprint)}.",
                effect="No key was made.",
                next_step=f"Sign with it, or retire it first: lapseam key retire '{name}'",
            )
        key = self._workspace.keyring.make(passphrase, made=self.now().date())
        try:
            self._save_person(house, replace(person, keys=(*person.keys, key)))
        except BaseException:
            self._workspace.keyring.discard(key)
            raise
        return self._line(person, key)

    def _change_passphrase(self, name: str, old: str, new: str) -> KeyLine:
        person = _listed(self.house, name)
        if objection := passphrase_objection(new):
            raise Mistake(f"{objection}.", effect="Nothing was changed.", next_step="Choose another passphrase.")
        key = _held(person)
        self._workspace.keyring.change(key, old, new, whose=name)
        return self._line(person, key)

    def _retire_key(self, name: str) -> KeyLine:
        house = self.house
        person = _listed(house, name)
        key = _held(person)
        retired = replace(key, retired=self.now().date())
        self._save_person(house, replace(person, keys=tuple(retired if one == key else one for one in person.keys)))
        self._workspace.keyring.discard(key)
        return self._line(person, retired)

    def _save_person(self, house: House, changed: Person) -> None:
        people = tuple(changed if one.name == changed.name else one for one in house.people)
        self._workspace.save_house(replace(house, people=people))

    def _line(self, person: Person, key: SigningKey) -> KeyLine:
        here = self._workspace.keyring.holds(key)
        return KeyLine(person.name, key.fingerprint, key.made, key.retired, here)

    def _open_key(self, name: str, passphrase: str | None) -> OpenKey | None:
        """The signer's opened key; None for somebody who has none and signs by name.

        Raises:
            KeyRefused: there is a key and no passphrase, or the other way round, or it cannot be used.
        """
        person = self.house.person(name)
        if person is None or person.key is None:
            if passphrase:
                raise KeyRefused(
                    f"{name or 'Nobody'} has no key in this house.",
                    effect="Nothing was signed.",
                    next_step=f"Make one with: lapseam key make '{name}'; or sign by name, without a passphrase.",
                )
            return None
        if not passphrase:
            raise KeyRefused(
                f"{name} has a key, so that signing by name alone is not enough.",
                effect="Nothing was signed.",
                next_step="Give the passphrase; if it is forgotten, retire the key and make a new one.",
            )
        return self._workspace.keyring.open(person.key, passphrase, whose=name)


def known_keys(house: House) -> dict[str, str]:
    """Whom each fingerprint of the house belongs to, in words."""
    return {
        key.fingerprint: person.name + (f", retired on {key.retired.isoformat()}" if key.retired else "")
        for person in house.people
        for key in person.keys
    }


def _listed(house: House, name: str) -> Person:
    person = house.person(name)
    if person is None:
        names = ", ".join(one.name for one in house.people) or "nobody yet"
        raise NotFound(
            f"There is nobody called {name!r} on the house's list.",
            effect=f"The list has: {names}.",
            next_step="Add the person under people: in the workspace's settings.yaml, with a role.",
        )
    return person


def _held(person: Person) -> SigningKey:
    if person.key is None:
        raise KeyRefused(
            f"{person.name} has no key that signs.", next_step=f"Make one with: lapseam key make '{person.name}'"
        )
    return person.key
