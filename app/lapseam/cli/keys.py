"""The verb about the keys of those who sign: make, list, passphrase, retire."""

from __future__ import annotations

import argparse
import os

from lapseam.domain.errors import Mistake
from lapseam.domain.signing_key import grouped
from lapseam.workflow.key_keeping import KeyLine

from .passphrase import NEW_VARIABLE, VARIABLE, passphrase, passphrase_arguments
from .verb import Ask, Verb

_ACTIONS = ("make", "list", "passphrase", "retire")


def _key_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("action", choices=_ACTIONS, help="make one, list all, change a passphrase, or retire one")
    parser.add_argument("person", metavar="PERSON", nargs="?", default="", help="whose key; somebody of settings.yaml")
    passphrase_arguments(parser)


def _key(ask: Ask) -> int:
    args = ask.args
    if args.action == "list":
        return _list(ask)
    if not args.person:
        raise Mistake(f"Whose key? Name the person: lapseam key {args.action} PERSON")
    return {"make": _make, "passphrase": _change, "retire": _retire}[args.action](ask)


def _list(ask: Ask) -> int:
    lines = ask.desk.keys().result()
    ask.out.answer([_told(line) for line in lines])
    ask.out.table([(line.person, grouped(line.fingerprint), f"made {line.made}", line.words) for line in lines])
    if not lines:
        ask.out.say("No keys. Whoever signs does so by name. Make one with: lapseam key make PERSON")
    return 0


def _make(ask: Ask) -> int:
    person = ask.args.person
    fresh = _new_passphrase(ask, person, also=VARIABLE)
    line = ask.desk.make_key(person=person, passphrase=fresh).result()
    ask.out.answer(_told(line))
    ask.out.say(f"{person} has a key. Its fingerprint, to be told to whoever asks, by another way than this program's:")
    ask.out.say(f"  {line.fingerprint}")
    ask.out.say("Nobody can recover the passphrase. Put the workspace's folder keys/ into your backups.")
    return 0


def _change(ask: Ask) -> int:
    person = ask.args.person
    if ask.desk.key_of(person=person).result() is None:
        raise Mistake(f"{person} has no key that signs.", next_step="See them with: lapseam key list")
    old = passphrase(ask.args, person)
    line = ask.desk.change_passphrase(person=person, old=old, new=_new_passphrase(ask, person)).result()
    ask.out.answer(_told(line))
    ask.out.say(f"The key of {person} has its new passphrase. A copy of the old file opens with the old one still.")
    return 0


def _retire(ask: Ask) -> int:
    line = ask.desk.retire_key(person=ask.args.person).result()
    ask.out.answer(_told(line))
    ask.out.say(
        f"The key {grouped(line.fingerprint)} of {line.person} is retired and its private half deleted. "
        "It signs nothing more; what it signed stays verifiable."
    )
    return 0


def _new_passphrase(ask: Ask, person: str, *, also: str = NEW_VARIABLE) -> str:
    """A new passphrase; `also` names a further variable that may hold it."""
    if not ask.args.passphrase_stdin and NEW_VARIABLE not in os.environ and also in os.environ:
        return os.environ[also]
    return passphrase(ask.args, person, new=True)


def _told(line: KeyLine) -> dict[str, object]:
    return {
        "person": line.person,
        "fingerprint": line.fingerprint,
        "made": line.made,
        "retired": line.retired,
        "here": line.here,
        "words": line.words,
    }


VERBS: tuple[Verb, ...] = (
    Verb("key", "keys of those who sign: make, list, change a passphrase, retire", _key_arguments, _key,
         by_somebody=False),
)  # fmt: skip
