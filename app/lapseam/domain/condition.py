"""Conditions over facts: a small language with three answers.

`body in ['hardtop', 'coupe'] and not vinyl_roof` is true, false, or unknown: a fact that nobody has answered is
unknown, never false. The logic is Kleene's strong three-valued logic (S. C. Kleene, *Introduction to
Metamathematics*, 1952, par. 64): `false and unknown` is false, `true or unknown` is true, the rest stays unknown.

Grammar (highest binding last):

    or-expr   = and-expr { "or" and-expr }
    and-expr  = not-expr { "and" not-expr }
    not-expr  = "not" not-expr | comparison
    comparison = term [ ( "==" | "!=" | "<" | "<=" | ">" | ">=" | "in" | "not in" ) term ]
    term      = name | number | 'word' | "true" | "false" | "[" [ term { "," term } ] "]" | "(" or-expr ")"
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache

Scalar = str | int | float | bool
Value = Scalar | tuple[Scalar, ...]
Facts = Mapping[str, Value]

_LONGEST = 2_000
_DEEPEST = 40
_TOKEN = re.compile(
    r"\s*(?:(?P<number>-?\d+(?:\.\d+)?)|(?P<word>'[^']*')|(?P<name>[A-Za-z_][A-Za-z0-9_]*)"
    r"|(?P<sign>==|!=|<=|>=|<|>|\(|\)|\[|\]|,))"
)


class ConditionError(ValueError):
    """The text is no condition. `column` is the 0-based place in the text where reading stopped."""

    def __init__(self, words: str, column: int) -> None:
        super().__init__(words)
        self.words = words
        self.column = column


@dataclass(frozen=True, slots=True)
class Answer:
    """What a condition says of a car: `holds` is True, False or None (unknown); `asks` the facts it hangs on."""

    holds: bool | None
    asks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Comparison:
    """One fact compared with one literal. `fact_first` says on which side of `sign` the fact stands."""

    fact: str
    sign: str
    literal: Scalar
    fact_first: bool


@dataclass(frozen=True, slots=True)
class Condition:
    """A condition as written. Equal texts are equal conditions; parsing is done once for each text."""

    text: str

    def answer(self, facts: Facts) -> Answer:
        """Evaluate over `facts`; names absent from it are unknown.

        Raises:
            ConditionError: the text does not parse (a plan that was loaded by `plans` never holds such a text).
        """
        missing: list[str] = []
        holds = _truth(_parse(self.text)(facts, missing))
        return Answer(holds, tuple(dict.fromkeys(missing)) if holds is None else ())

    def names(self) -> tuple[str, ...]:
        """The facts this condition can ask, in the order written."""
        return _names(self.text)

    def comparisons(self) -> tuple[Comparison, ...]:
        """Every fact that the text compares with a literal, for a loader to check against the list of facts."""
        return _comparisons(self.text)

    def literals(self) -> tuple[tuple[str, Scalar], ...]:
        """Pairs (fact, literal) that the text compares."""
        return tuple(dict.fromkeys((one.fact, one.literal) for one in _comparisons(self.text)))


Node = Callable[[Facts, list[str]], "Value | None"]


def _truth(value: Value | None) -> bool | None:
    return value if value is None or isinstance(value, bool) else bool(value)


@lru_cache(maxsize=4096)
def _parse(text: str) -> Node:
    return _Reader(text).whole()


@lru_cache(maxsize=4096)
def _names(text: str) -> tuple[str, ...]:
    reader = _Reader(text)
    reader.whole()
    return tuple(dict.fromkeys(reader.names))


@lru_cache(maxsize=4096)
def _comparisons(text: str) -> tuple[Comparison, ...]:
    reader = _Reader(text)
    reader.whole()
    return tuple(dict.fromkeys(reader.compared))


class _Reader:
    """A recursive-descent reader that turns the text into nested closures."""

    def __init__(self, text: str) -> None:
        if len(text) > _LONGEST:
            raise ConditionError(f"the condition is longer than {_LONGEST} characters", _LONGEST)
        self.text = text
        self.tokens = self._split(text)
        self.at = 0
        self.depth = 0
        self.names: list[str] = []
        self.compared: list[Comparison] = []

    @staticmethod
    def _split(text: str) -> list[tuple[str, str, int]]:
        tokens, place = [], 0
        while text[place:].strip():
            found = _TOKEN.match(text, place)
            if not found:
                start = place + len(text[place:]) - len(text[place:].lstrip())
                raise ConditionError(f"cannot read {text[start : start + 12]!r} here", start)
            kind = found.lastgroup or ""
            tokens.append((kind, found.group(kind), found.start(kind)))
            place = found.end()
        return tokens

    def _peek(self) -> tuple[str, str, int]:
        return self.tokens[self.at] if self.at < len(self.tokens) else ("end", "", len(self.text))

    def _take(self, *wanted: str) -> bool:
        if self._peek()[1] in wanted and self._peek()[0] != "word":
            self.at += 1
            return True
        return False

    def whole(self) -> Node:
        if not self.tokens:
            raise ConditionError("the condition is empty", 0)
        node = self._or()
        kind, word, column = self._peek()
        if kind != "end":
            raise ConditionError(f"{word!r} is one word too many", column)
        return node

    def _or(self) -> Node:
        self.depth += 1
        if self.depth > _DEEPEST + 1:
            raise ConditionError(f"more than {_DEEPEST} brackets inside each other", self._peek()[2])
        parts = [self._and()]
        while self._take("or"):
            parts.append(self._and())
        self.depth -= 1
        return parts[0] if len(parts) == 1 else _any_of(parts)

    def _and(self) -> Node:
        parts = [self._not()]
        while self._take("and"):
            parts.append(self._not())
        return parts[0] if len(parts) == 1 else _all_of(parts)

    def _not(self) -> Node:
        turns = 0
        while self._take("not"):
            turns += 1
        node = self._comparison()
        return _negated(node) if turns % 2 else node

    def _comparison(self) -> Node:
        left_from = self.at
        left = self._term()
        left_to = self.at
        sign = self._peek()[1] if self._peek()[0] in ("sign", "name") else ""
        if sign == "not":
            self.at += 1
            if not self._take("in"):
                raise ConditionError("'not' after a word must be 'not in'", self._peek()[2])
            sign = "not in"
        elif sign in ("==", "!=", "<", "<=", ">", ">=", "in"):
            self.at += 1
        else:
            return left
        right_from = self.at
        right = self._term()
        self._note_compared((left_from, left_to), sign, (right_from, self.at))
        return _compared(left, sign, right)

    def _note_compared(self, left: tuple[int, int], sign: str, right: tuple[int, int]) -> None:
        def side(span: tuple[int, int]) -> tuple[list[str], list[Scalar]]:
            names, values = [], []
            for kind, word, _ in self.tokens[span[0] : span[1]]:
                if kind == "name" and word not in ("true", "false"):
                    names.append(word)
                elif kind in ("word", "number") or word in ("true", "false"):
                    values.append(_literal(kind, word))
            return names, values

        (left_names, left_values), (right_names, right_values) = side(left), side(right)
        for name in left_names:
            self.compared.extend(Comparison(name, sign, value, True) for value in right_values)
        for name in right_names:
            self.compared.extend(Comparison(name, sign, value, False) for value in left_values)

    def _term(self) -> Node:
        kind, word, column = self._peek()
        if self._take("("):
            node = self._or()
            if not self._take(")"):
                raise ConditionError("a bracket is not closed: ')' is missing", self._peek()[2])
            return node
        if self._take("["):
            return self._list()
        if kind == "end":
            raise ConditionError("the condition stops in the middle", column)
        if kind == "sign" or word in ("and", "or", "in", "not"):
            raise ConditionError(f"{word!r} does not belong here", column)
        self.at += 1
        if kind == "name" and word not in ("true", "false"):
            self.names.append(word)
            return _fact(word)
        return _constant(_literal(kind, word))

    def _list(self) -> Node:
        values: list[Scalar] = []
        while not self._take("]"):
            if values and not self._take(","):
                raise ConditionError("a list wants ',' between its words and ']' at its end", self._peek()[2])
            kind, word, column = self._peek()
            if kind not in ("word", "number") and word not in ("true", "false"):
                raise ConditionError("a list holds words in single quotes, numbers, true or false", column)
            self.at += 1
            values.append(_literal(kind, word))
        return _constant(tuple(values))


def _literal(kind: str, word: str) -> Scalar:
    if kind == "word":
        return word[1:-1]
    if kind == "number":
        return float(word) if "." in word else int(word)
    return word == "true"


def _constant(value: Value) -> Node:
    return lambda facts, missing: value


def _fact(name: str) -> Node:
    def look(facts: Facts, missing: list[str]) -> Value | None:
        value = facts.get(name)
        if value is None:
            missing.append(name)
        return value

    return look


def _each(parts: list[Node], facts: Facts, missing: list[str]) -> list[bool | None]:
    """The parts' answers; only a part that is unknown adds to what is missing."""
    answers: list[bool | None] = []
    for part in parts:
        asked: list[str] = []
        answers.append(_truth(part(facts, asked)))
        missing.extend(asked if answers[-1] is None else ())
    return answers


def _any_of(parts: list[Node]) -> Node:
    def some(facts: Facts, missing: list[str]) -> bool | None:
        answers = _each(parts, facts, missing)
        return True if True in answers else None if None in answers else False

    return some


def _all_of(parts: list[Node]) -> Node:
    def every(facts: Facts, missing: list[str]) -> bool | None:
        answers = _each(parts, facts, missing)
        return False if False in answers else None if None in answers else True

    return every


def _negated(part: Node) -> Node:
    def turned(facts: Facts, missing: list[str]) -> bool | None:
        answer = _truth(part(facts, missing))
        return None if answer is None else not answer

    return turned


def _compared(left: Node, sign: str, right: Node) -> Node:
    def compare(facts: Facts, missing: list[str]) -> bool | None:
        a, b = left(facts, missing), right(facts, missing)
        if a is None or b is None:
            return None
        if sign == "==":
            return a == b
        if sign == "!=":
            return a != b
        if sign in ("in", "not in"):
            inside = a in b if isinstance(b, tuple) else a == b
            return inside if sign == "in" else not inside
        return _ordered(a, sign, b)

    return compare


def _ordered(a: Value, sign: str, b: Value) -> bool | None:
    if isinstance(a, tuple) or isinstance(b, tuple) or isinstance(a, str) != isinstance(b, str):
        return None
    if isinstance(a, str) and isinstance(b, str):
        less, equal = a < b, a == b
    else:
        assert not isinstance(a, str)
        assert not isinstance(b, str)
        less, equal = a < b, a == b
    return {"<": less, "<=": less or equal, ">": not (less or equal), ">=": not less}[sign]
