"""The public keys of a person as settings.yaml holds them, each beside its fingerprint, so that a change shows."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any, Final

from ruamel.yaml.comments import CommentedMap, CommentedSeq

from lapseam.domain.signing_key import SigningKey, fingerprint_of, is_public_key

_WORDS: Final = ("public", "fingerprint", "made", "retired")


def keys_of(value: Any, tell: Callable[[str], None]) -> tuple[SigningKey, ...]:
    """The keys of one person's row; what is wrong with them is told, one sentence each."""
    if value is None:
        return ()
    if not isinstance(value, list) or not all(isinstance(one, dict) for one in value):
        tell("wants a list of {public, fingerprint, made}, as lapseam key make writes it")
        return ()
    keys = tuple(key for one in value if (key := _key(one, tell)) is not None)
    if len({key.public for key in keys}) < len(keys):
        tell("one key stands here twice")
    if sum(key.retired is None for key in keys) > 1:
        tell("more than one key is not retired; a person signs with one")
    return keys


def keys_node(keys: tuple[SigningKey, ...]) -> CommentedSeq:
    """The keys as they are written."""
    node = CommentedSeq()
    for key in keys:
        row = CommentedMap(public=key.public, fingerprint=key.fingerprint, made=key.made)
        if key.retired is not None:
            row["retired"] = key.retired
        node.append(row)
    return node


def _key(row: dict[Any, Any], tell: Callable[[str], None]) -> SigningKey | None:
    for name in row:
        if name not in _WORDS:
            tell(f"unknown word {str(name)!r}; one of: {', '.join(_WORDS)}")
            return None
    public, fingerprint = row.get("public"), row.get("fingerprint")
    if not isinstance(public, str) or not is_public_key(public):
        tell("public wants the 64 hex digits of a public key")
        return None
    if fingerprint != fingerprint_of(public):
        tell("a public key and its fingerprint do not belong together: one of them was changed; bring a backup back")
        return None
    made, retired = row.get("made"), row.get("retired")
    if type(made) is not date or not (retired is None or type(retired) is date):
        tell("made and retired want days, such as 2026-05-12")
        return None
    return SigningKey(public, made, retired)
