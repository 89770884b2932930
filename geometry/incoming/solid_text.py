"""The text of a STEP file (ISO 10303-21): its instances by number, each taken apart when it is looked at.

Read in plain text and not by the geometry kernel: a damaged file ends in a sentence, and no kernel is loaded for one face.

Terms
-----
instance
    One statement of the data section: ``#12 = TYPE(...);``, or of several types at once: ``#12 = (ONE(...) TWO(...));``.
attribute
    A value in the brackets: a number, a text, a ``Reference`` to an instance, a ``Word`` between full stops, a ``Typed`` value, a tuple of
    attributes, or None (left out, ``$``, or told elsewhere, ``*``).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from geometry.incoming.incoming import IncomingError

LARGEST = 60_000_000
"""Bytes of a file."""
WHAT = "a STEP file (.step or .stp: text of ISO 10303-21)"
DEEPEST = 40
"""Brackets in each other."""
_STATEMENT = re.compile(r"'[^']*'|/\*.*?\*/|;|'", re.S)
_INSTANCE = re.compile(r"\s*#(\d{1,18})\s*=\s*", re.S)
_KIND = re.compile(r"([A-Za-z_][A-Za-z0-9_]*)\s*\(")
_FIGURES = re.compile(r"(CARTESIAN_POINT|DIRECTION)\s*\(\s*'[^']*'\s*,\s*\(([-+0-9.Ee,\s]*)\)\s*\)")
_TOKEN = re.compile(
    r"\s*(?:(?P<text>'(?:[^']|'')*')|\#(?P<reference>\d{1,18})|(?P<number>[+-]?(?:\d+\.?\d*|\.\d+)(?:[Ee][+-]?\d+)?)"
    r"|\.(?P<word>[A-Za-z_][A-Za-z0-9_]*)\.|(?P<type>!?[A-Za-z_][A-Za-z0-9_]*)|(?P<binary>\"[0-9A-Fa-f]*\")|(?P<sign>[(),$*]))"
)


class Reference(int):
    """The number of another instance."""


class Word(str):
    """One of a set of words, without its full stops: ``T``, ``MILLI``."""

    __slots__ = ()


class Typed(NamedTuple):
    """A value that says its type: ``LENGTH_MEASURE(25.4)``."""

    kind: str
    value: Any


@dataclass
class StepText:
    """The instances of one file; ``name`` is how sentences call it."""

    name: str
    statements: dict[int, str]
    _parsed: dict[int, dict[str, tuple[Any, ...]]] = field(default_factory=dict)
    _kinds: dict[str, list[int]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for number, body in self.statements.items():
            several = body.startswith("(")
            for kind in dict.fromkeys(_KIND.findall(body)) if several else _KIND.findall(body, 0, 120)[:1]:
                self._kinds.setdefault(kind.upper(), []).append(number)

    def numbers(self, kind: str) -> list[int]:
        """The instances of a type, in the order of the file."""
        return [each for each in self._kinds.get(kind, []) if kind in self.at(each)]

    def kinds(self) -> Iterator[str]:
        """The types that stand in the file."""
        yield from self._kinds

    def at(self, number: int) -> dict[str, tuple[Any, ...]]:
        """The attributes of an instance by its type, or by each of its types. Raises ``IncomingError`` where there is no such instance."""
        if number not in self._parsed:
            if number not in self.statements:
                raise self.damaged(f"the instance #{number} is named, and is not in it")
            try:
                self._parsed[number] = _types_of(self.statements[number])
            except _Broken as error:
                raise self.damaged(f"#{number}: {error}") from None
        return self._parsed[number]

    def of(self, number: Any, kind: str, least: int = 0) -> tuple[Any, ...]:
        """The attributes that an instance has as a type, at the least so many. Raises ``IncomingError`` where it is none of that type."""
        if not isinstance(number, Reference):
            raise self.damaged(f"{number!r} stands where an instance of {kind} is needed")
        found = self.at(number).get(kind)
        if found is None or len(found) < least:
            raise self.damaged(f"#{number} is {' '.join(self.at(number))}, and {kind} is needed")
        return found

    def figures(self, number: Any, kind: str) -> tuple[Any, ...]:
        """The figures of a point or a direction: most of a file is these."""
        match = _FIGURES.fullmatch(self.statements.get(number, "")) if isinstance(number, Reference) else None
        if match is not None and match[1].upper() == kind:
            try:
                return tuple(map(float, match[2].split(",")))
            except ValueError:
                pass
        found = self.of(number, kind, 2)[1]
        return found if isinstance(found, tuple) else ()

    def damaged(self, what: str) -> IncomingError:
        """The refusal of the file."""
        return IncomingError(f"{self.name} is damaged: {plain_words(what)}", f"a whole {WHAT[2:]}")


class _Broken(ValueError):
    """A statement that is none."""


def plain_words(text: str) -> str:
    """A sentence with something of the file in it: printable, and not endless."""
    found = "".join(sign if sign.isprintable() and sign.isascii() else "?" for sign in text)
    return found if len(found) <= 160 else found[:157] + "..."


def text_of_step(data: bytes, name: str) -> StepText:
    """The instances of a STEP file's bytes. Raises ``IncomingError`` where it is no STEP file, or breaks off."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = data.decode("latin-1")
    if not re.match(r"\s*ISO-10303-21\s*;", text):
        packed = "a packed file: " if data[:2] in (b"PK", b"\x1f\x8b") else ""
        raise IncomingError(f"{name} is {packed}no STEP file: it does not begin with ISO-10303-21", WHAT)
    found: dict[int, str] = {}
    inside = ended = False
    start, comments = 0, False
    for match in _STATEMENT.finditer(text):
        sign = match[0]
        if sign == "'":
            raise _broken_off(name, text, match.start(), "a text in quotes begins and does not end")
        if sign != ";":
            comments = comments or sign.startswith("/*")
            continue
        body = text[start : match.start()]
        if comments:
            body = _without_comments(body)
        start, comments = match.end(), False
        known = _INSTANCE.match(body)
        if known is not None and inside:
            number = int(known[1])
            if number in found:
                raise IncomingError(f"{name} is damaged: #{number} stands twice in it", f"a whole {WHAT[2:]}")
            found[number] = body[known.end() :].strip()
        elif not body.lstrip().startswith("#"):
            word = body.strip()
            inside = word.startswith("DATA") if not inside else word != "ENDSEC"
            ended = ended or word == "END-ISO-10303-21"
    if not ended:
        raise _broken_off(name, text, len(text), "END-ISO-10303-21 is missing at its end")
    if not found:
        raise IncomingError(f"{name} holds no data: its DATA section is empty or missing", WHAT)
    return StepText(name, found)


def _broken_off(name: str, text: str, place: int, what: str) -> IncomingError:
    line = text.count("\n", 0, place) + 1
    return IncomingError(f"{name} breaks off or is damaged, line {line}: {what}", f"a whole {WHAT[2:]}")


def _without_comments(body: str) -> str:
    return re.sub(r"('[^']*')|/\*.*?\*/", lambda part: part[1] or " ", body, flags=re.S)


def _types_of(body: str) -> dict[str, tuple[Any, ...]]:
    """The types of a statement with their attributes."""
    tokens = _tokens(body)
    kind, value = next(tokens, ("", ""))
    found: dict[str, tuple[Any, ...]] = {}
    several = (kind, value) == ("sign", "(")
    if several:
        kind, value = next(tokens, ("", ""))
    while kind == "type":
        if next(tokens, None) != ("sign", "("):
            raise _Broken(f"a bracket is missing behind {value}")
        found[value.upper()] = _listed(tokens, 0)
        kind, value = next(tokens, ("", ""))
    if not found or (several and (kind, value) != ("sign", ")")) or (not several and kind) or next(tokens, None):
        raise _Broken("it is no instance")
    return found


def _tokens(body: str) -> Iterator[tuple[str, str]]:
    place, end = 0, len(body.rstrip())
    while place < end:
        match = _TOKEN.match(body, place)
        if match is None:
            raise _Broken(f"it cannot be read at {body[place : place + 20].strip()!r}")
        place = match.end()
        kind = match.lastgroup or ""
        yield kind, match[kind]


def _listed(tokens: Iterator[tuple[str, str]], depth: int) -> tuple[Any, ...]:
    """The attributes up to the closing bracket."""
    if depth > DEEPEST:
        raise _Broken(f"brackets stand more than {DEEPEST} deep in each other")
    found: list[Any] = []
    waiting = True  # for an attribute
    for kind, value in tokens:
        if (kind, value) == ("sign", ")") and (not waiting or not found):
            return tuple(found)
        if (kind, value) == ("sign", ","):
            if waiting:
                raise _Broken("an attribute is missing")
            waiting = True
            continue
        if not waiting or (kind, value) == ("sign", ")"):
            raise _Broken("a comma or an attribute is missing")
        waiting = False
        found.append(_value(kind, value, tokens, depth))
    raise _Broken("a bracket is not closed")


def _value(kind: str, value: str, tokens: Iterator[tuple[str, str]], depth: int) -> Any:
    if kind == "sign":
        return _listed(tokens, depth + 1) if value == "(" else None
    if kind == "type":
        if next(tokens, None) != ("sign", "("):
            raise _Broken(f"a bracket is missing behind {value}")
        inner = _listed(tokens, depth + 1)
        return Typed(value.upper(), inner[0] if len(inner) == 1 else inner)
    if kind == "reference":
        return Reference(value)
    if kind == "number":
        return float(value)
    if kind == "word":
        return Word(value.upper())
    return decoded(value[1:-1]) if kind == "text" else value


def decoded(text: str) -> str:
    r"""A text as it reads: apostrophes and backslashes single, letters by their codes, line breaks of the file gone.

    >>> decoded("Salon d''\\X2\\00E9\\X0\\t\\X\\E9 \\\\")
    "Salon d'été \\"
    """
    found = re.sub(r"[\r\n]", "", text).replace("''", "'") if text else text
    return (
        found
        if "\\" not in found
        else re.sub(
            r"\\X2\\((?:[0-9A-Fa-f]{4})*)\\X0\\|\\X4\\((?:[0-9A-Fa-f]{8})*)\\X0\\|\\X\\([0-9A-Fa-f]{2})|\\S\\(.)|\\P[A-I]\\|(\\\\)",
            _sign,
            found,
        )
    )


def _sign(part: re.Match[str]) -> str:
    two, four, one, shifted, doubled = part.groups()
    if two is not None:
        return bytes.fromhex(two).decode("utf-16-be", "replace")
    if four is not None:
        return bytes.fromhex(four).decode("utf-32-be", "replace")
    if one is not None:
        return chr(int(one, 16))
    if shifted is not None:
        return chr((ord(shifted) + 128) & 0xFF)
    return "\\" if doubled else ""


__all__ = ["LARGEST", "WHAT", "Reference", "StepText", "Typed", "Word", "decoded", "plain_words", "text_of_step"]
