"""The house's own settings: settings.yaml, with every problem told at once and a person's comments kept."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from difflib import get_close_matches
from io import StringIO
from pathlib import Path
from typing import Any, Final

from ruamel.yaml import YAML
from ruamel.yaml.comments import CommentedMap, CommentedSeq
from ruamel.yaml.error import MarkedYAMLError, YAMLError

from lapseam.domain.car import House, Person
from lapseam.domain.errors import SettingsBroken

from .durable import refusals, write_whole
from .house_keys import keys_node, keys_of
from .layout import SETTINGS

ROLES: Final = ("photographer", "lister", "manager", "phone", "mechanic", "clerk", "dispatcher")
UNITS: Final = (("mi", "km"), ("in", "mm", "cm"))
"""What the house may choose for distances and for lengths."""

_PERSON: Final = ("name", "roles", "keys")

_BEGINNING = """\
# The settings of this house. Comments in this file are kept when the program changes a setting.
# people: everybody who works here, with the roles each holds, for example
#   people:
#     - {name: Pat Example, roles: [photographer, lister]}
"""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong with the file; `line` counts from 1, 0 where there is none to name."""

    line: int
    words: str

    def __str__(self) -> str:
        return f"{SETTINGS}:{self.line}: {self.words}" if self.line else f"{SETTINGS}: {self.words}"


Tell = Callable[[str], None]


def _words(value: Any, tell: Tell) -> Any:
    if not isinstance(value, str):
        tell(f"wants words, not {_shown(value)}")
    return value


def _flag(value: Any, tell: Tell) -> Any:
    if not isinstance(value, bool):
        tell(f"wants true or false, not {_shown(value)}")
    return value


def _days(value: Any, tell: Tell) -> Any:
    if isinstance(value, bool) or not isinstance(value, int) or value < 1:
        tell(f"wants a whole number of days from 1, not {_shown(value)}")
    return value


def _distance(value: Any, tell: Tell) -> Any:
    if isinstance(value, bool) or not isinstance(value, int) or value < 1:
        tell(f"wants a whole number of kilometres from 1, not {_shown(value)}")
    return value


def _units(value: Any, tell: Tell) -> Any:
    distances, lengths = UNITS
    good = isinstance(value, list) and len(value) == 2 and value[0] in distances and value[1] in lengths
    if not good:
        tell(f"wants [{' or '.join(distances)}, {' or '.join(lengths)}], not {_shown(value)}")
    return tuple(value) if good else ()


_FIELDS: Final[dict[str, Callable[[Any, Tell], Any]]] = {
    "name": _words,
    "units": _units,
    "own_units_first": _flag,
    "language": _words,
    "one_person_firm": _flag,
    "mask_serial": _flag,
    "stale_photo_days": _days,
    "stale_check_days": _days,
    "stale_km": _distance,
}


def _shown(value: Any) -> str:
    return "nothing" if value is None else repr(value) if isinstance(value, (str, int, float)) else "a list or group"


def load_house(folder: Path) -> House:
    """The settings of the workspace in `folder`; without a file, or for what it leaves out, the defaults.

    Raises:
        SettingsBroken: the file does not hold; `problems` names every line.
    """
    faults: list[Fault] = []
    tree = _read(folder, faults)
    house = _house(tree, faults)
    _refuse(folder, faults)
    return house


def save_house(folder: Path, house: House) -> None:
    """Write the settings; comments and the order in which a person wrote them stay.

    Raises:
        SettingsBroken: the file that is there does not hold; it was left as it is. DiskFull, NoRights.
    """
    faults: list[Fault] = []
    tree = _read(folder, faults)
    _house(tree, faults)
    _refuse(folder, faults)
    fresh = not tree
    for name in _FIELDS:
        value = getattr(house, name)
        wanted = list(value) if isinstance(value, tuple) else value
        if name not in tree or tree[name] != wanted:
            tree[name] = _flow(value) if isinstance(value, tuple) else value
    tree["people"] = _people_node(tree.get("people"), house.people)
    out = StringIO()
    _yaml().dump(tree, out)
    text = (_BEGINNING if fresh else "") + out.getvalue()
    with refusals(f"write {SETTINGS}", effect="The settings are as they were."):
        write_whole(folder / SETTINGS, text.encode())


def _yaml() -> YAML:
    yaml = YAML(typ="rt")
    yaml.preserve_quotes = True
    yaml.width = 4096
    yaml.indent(mapping=2, sequence=4, offset=2)
    return yaml


def _read(folder: Path, faults: list[Fault]) -> CommentedMap:
    path = folder / SETTINGS
    try:
        with refusals(f"read {path}"):
            text = path.read_text("utf-8-sig")
    except FileNotFoundError:
        return CommentedMap()
    except UnicodeDecodeError as error:
        faults.append(Fault(path.read_bytes()[: error.start].count(b"\n") + 1, "is not written in UTF-8"))
        return CommentedMap()
    try:
        tree = _yaml().load(text)
    except MarkedYAMLError as error:
        line = error.problem_mark.line + 1 if error.problem_mark else 0
        faults.append(Fault(line, str(error.problem or error.context or "cannot be read").split("\n")[0]))
        return CommentedMap()
    except (YAMLError, ValueError) as error:
        faults.append(Fault(0, str(error).split("\n")[0]))
        return CommentedMap()
    if tree is None:
        return CommentedMap()
    if not isinstance(tree, CommentedMap):
        faults.append(Fault(1, "wants lines such as 'name: …', not a list or a single word"))
        return CommentedMap()
    return tree


def _house(tree: CommentedMap, faults: list[Fault]) -> House:
    values: dict[str, Any] = {}
    for name, value in tree.items():
        line = tree.lc.key(name)[0] + 1 if tree.lc.data else 0
        if name == "people":
            values["people"] = _people(value, line, faults)
        elif name in _FIELDS:
            values[name] = _FIELDS[name](value, _teller(faults, line, str(name)))
        else:
            faults.append(Fault(line, f"unknown setting {str(name)!r}{_near(str(name), (*_FIELDS, 'people'))}"))
    return House(**values) if not faults else House()


def _teller(faults: list[Fault], line: int, name: str) -> Tell:
    return lambda words: faults.append(Fault(line, f"{name}: {words}"))


def _near(word: str, known: tuple[str, ...]) -> str:
    found = get_close_matches(word, known, 1)
    return f" (did you mean {found[0]!r}?)" if found else ""


def _people(value: Any, line: int, faults: list[Fault]) -> tuple[Person, ...]:
    if value is None:
        return ()
    if not isinstance(value, CommentedSeq):
        faults.append(Fault(line, f"people: wants a list of names and roles, not {_shown(value)}"))
        return ()
    people: dict[str, Person] = {}
    for place, one in enumerate(value):
        at = value.lc.item(place)[0] + 1 if value.lc.data else line
        person = _person(one, at, faults)
        if person is not None and person.name in people:
            faults.append(Fault(at, f"people: {person.name!r} stands here twice"))
        elif person is not None:
            people[person.name] = person
    return tuple(people.values())


def _person(value: Any, line: int, faults: list[Fault]) -> Person | None:
    before = len(faults)
    if not isinstance(value, CommentedMap):
        faults.append(Fault(line, f"people: wants {{name: …, roles: […]}}, not {_shown(value)}"))
        return None
    for name in value:
        if name not in _PERSON:
            faults.append(Fault(line, f"people: unknown word {str(name)!r}{_near(str(name), _PERSON)}"))
    name, roles = value.get("name"), value.get("roles", [])
    if not isinstance(name, str) or not name.strip():
        faults.append(Fault(line, "people: everybody needs a name"))
    if not isinstance(roles, list):
        faults.append(Fault(line, f"people: roles wants a list, not {_shown(roles)}"))
        roles = []
    for role in roles:
        if role not in ROLES:
            faults.append(Fault(line, f"people: {_shown(role)} is no role{_near(str(role), ROLES)}; {_one_of(ROLES)}"))
    keys = keys_of(value.get("keys"), lambda words: faults.append(Fault(line, f"people: keys: {words}")))
    return Person(str(name).strip(), tuple(map(str, roles)), keys) if len(faults) == before else None


def _one_of(words: tuple[str, ...]) -> str:
    return "one of: " + ", ".join(words)


def _refuse(folder: Path, faults: list[Fault]) -> None:
    if faults:
        faults.sort(key=lambda fault: fault.line)
        count = f"{len(faults)} problem{'s' if len(faults) > 1 else ''}"
        raise SettingsBroken(f"The settings file {folder / SETTINGS} has {count}.", problems=tuple(map(str, faults)))


def _flow(words: tuple[str, ...]) -> CommentedSeq:
    node = CommentedSeq(words)
    node.fa.set_flow_style()
    return node


def _people_node(old: Any, people: tuple[Person, ...]) -> CommentedSeq:
    """The list of people, written into the old one so that the comments beside those who stay are kept."""
    node = old if isinstance(old, CommentedSeq) else CommentedSeq()
    wanted = {person.name: person for person in people}
    for place in reversed(range(len(node))):
        if node[place]["name"].strip() not in wanted:
            del node[place]
    here = {one["name"].strip(): one for one in node}
    for person in people:
        if person.name not in here:
            here[person.name] = CommentedMap(name=person.name, roles=_flow(person.roles))
            if not person.keys:
                here[person.name].fa.set_flow_style()
            node.append(here[person.name])
        elif tuple(here[person.name].get("roles", [])) != person.roles:
            here[person.name]["roles"] = _flow(person.roles)
        if keys_of(here[person.name].get("keys"), lambda words: None) != person.keys:
            here[person.name]["keys"] = keys_node(person.keys)
    return node
