"""The sums of one pane made ready for print: each with its number, its letters, the figures that went in and where each of them is from.

Terms
-----
use
    A rule worked out once. Where a pane works a rule out several times, its uses are told apart by a letter: 6.4 a, 6.4 b.
entry
    A value that went in and is no result: a key of the job file, a default, a measure of the outline. Each stands once, numbered.
letter
    The sign of a size in the sketch of the section.
reference
    Where an input is from: the number of a sum, the number of an entry (``i12``), or none for a size that has a letter.
"""

from __future__ import annotations

import dataclasses
import json
import math
import re
from dataclasses import dataclass
from enum import Enum
from typing import TYPE_CHECKING, Any

from geometry.ledger.size import Origin
from geometry.rules.units import units_of
from outputs.record.data import plain
from outputs.record.numbers import number
from outputs.record.sums import SUMS, Sum

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping

    from geometry.ledger.figure import Figure, Input
    from geometry.rules.calculation import Calculation
    from geometry.sizing.sizes import Sizes

LETTERS = {
    "joint width": "g",
    "backfill depth": "d",
    "backer diameter": "D",
    "bond width": "w",
    "bond thickness": "t",
    "set-back": "s",
    "landing": "L",
    "recess depth": "R",
    "frit start": "a",
    "frit width": "F",
    "frit fade": "f",
    "spacer width": "b",
    "notch width": "n",
    "notch height": "h",
    "glass thickness": "T",
    "backfill over chocks": "k",
    "glass proud of the skin": "z",
}
"""Letters of the sketch by the size they stand for; c is the bead's centre line, worked out."""
_INPUT_NAMES = {
    "set back": "set-back",
    "fade": "frit fade",
    "proud": "glass proud of the skin",
    "backfill over": "backfill over chocks",
    "thickness": "glass thickness",
}
_SAME = {
    "bead area": "section.uncured_bead_area",
    "bead centre": "section.bead_centre",
    "least width": "joint.least_width",
    "differential strain": "thermal.differential_strain",
    "mass": "materials.mass",
}
"""Inputs that are the result of a rule wherever their value is, whichever way it was handed on."""
CENTRE = "section.bead_centre"
DIGITS = 6
UNNUMBERED = "0.1"


class Kind(Enum):
    """Where an entry is from."""

    GIVEN = 0
    OFFICE = 1
    DEFAULT = 2
    MEASURED = 3


_KINDS = {Origin.GIVEN: 0, Origin.DEFAULT: 2, Origin.WORKED_OUT: 3}


@dataclass(frozen=True, slots=True)
class Use:
    """One working-out of a rule; ``letter`` is "" where the pane works it out once."""

    figure: Figure
    number: str
    letter: str

    @property
    def label(self) -> str:
        """Number and letter: ``6.4 b``."""
        return f"{self.number} {self.letter}".rstrip()

    @property
    def id_(self) -> str:
        """Its mark on the page."""
        return f"s{self.number}{self.letter}"


@dataclass(frozen=True, slots=True)
class Entry:
    """A value that went in, by its number on the page; ``key`` is "" for what is measured or worked out on the way."""

    number: int
    name: str
    key: str
    value: Any
    unit: str
    kind: Kind
    given_by: str = ""

    @property
    def label(self) -> str:
        """As a sum refers to it."""
        return f"i{self.number}"


@dataclass(frozen=True, slots=True)
class Group:
    """All uses of one rule on the pane."""

    sum: Sum
    record: Calculation
    uses: tuple[Use, ...]


class Worked:
    """The figures of a pane by rule, numbered, with the entries behind them."""

    def __init__(
        self, figures: Iterable[Figure], sizes: Sizes | None = None, given_by: Callable[[str], str] = lambda key: ""
    ) -> None:
        """``given_by`` tells the place in the office's defaults that gave a key, "" where none did."""
        once: dict[str, Figure] = {}
        for figure in figures:
            once.setdefault(_identity(figure), figure)
        rules: dict[str, list[Figure]] = {}
        for figure in once.values():
            rules.setdefault(figure.record.name, []).append(figure)
        self._sizes = {} if sizes is None else {size.name: size.value for size in sizes.all()}
        self._uses: dict[str, Use] = {}
        self.groups: list[Group] = []
        for name, members in sorted(rules.items(), key=lambda each: (_sum_of(each[0]).order, each[0])):
            known = _sum_of(name)
            uses = tuple(
                Use(each, known.number, _letter(index) if len(members) > 1 else "") for index, each in enumerate(members)
            )
            self._uses |= {_identity(use.figure): use for use in uses}
            self.groups.append(Group(known, members[0].record, uses))
        self._results: dict[tuple[str, str], list[Use]] = {}
        for use in self._uses.values():
            self._results.setdefault((use.figure.what, use.figure.where), []).append(use)
        self._parts = dict(self._parts_of_results())
        self.entries = self._entered(given_by)

    def use_of(self, figure: Figure) -> Use | None:
        """The use that a figure is, None for one that is not on the page."""
        return self._uses.get(_identity(figure))

    def value_of(self, rule: str) -> Any:
        """The result of a rule on this pane, None where it was not worked out."""
        return next((group.uses[0].figure.value for group in self.groups if group.record.name == rule), None)

    def letter_of(self, each: Input) -> str:
        """The letter of an input that is a size of the section, "" of any other."""
        name = _INPUT_NAMES.get(each.name, each.name)
        if each.figure != ("", ""):
            return ""
        size = self._sizes.get(name)
        same = size is not None and isinstance(each.value, (int, float)) and math.isclose(size, each.value, rel_tol=1e-9)
        return LETTERS.get(name, "") if same else ""

    def references(self, each: Input) -> tuple[str, ...]:
        """Labels of the sums that an input came from, or of its entry; none for a size with a letter."""
        if each.figure != ("", ""):
            return tuple(use.label for use in self._results.get(each.figure, ()) if use.figure.value == each.value)
        if self.letter_of(each):
            return ()
        part = self._part(each)
        if part is not None:
            return (part.label,)
        entry = self.entries.get(_entry_key(each))
        return () if entry is None else (entry.label,)

    def _part(self, each: Input) -> Use | None:
        """The sum that an input is a result of, or one of several results, told by its value to the last bit."""
        if isinstance(each.value, tuple) and each.value and not each.key and all(isinstance(one, float) for one in each.value):
            found = {self._parts.get((abs(one), each.unit)) for one in each.value if one}
            return found.pop() if len(found) == 1 else None
        if each.key or not isinstance(each.value, float) or abs(each.value) in (0.0, 1.0):
            return None
        for group in self.groups:
            if group.record.name == _SAME.get(each.name):
                return next((use for use in group.uses if abs(use.figure.value) == abs(each.value)), None)
        return self._parts.get((abs(each.value), each.unit))

    def _parts_of_results(self) -> Iterator[tuple[tuple[float, str], Use]]:
        for use in reversed(self._uses.values()):
            value = use.figure.value
            for name, unit in results_of(value).items():
                for part in _floats(getattr(value, name)):
                    yield (abs(part), unit or ""), use

    def _entered(self, given_by: Callable[[str], str]) -> dict[tuple[Any, ...], Entry]:
        """Every value that is no result, numbered: given, by the office, defaults, measured; each kind by its key."""
        found: dict[tuple[Any, ...], Input] = {}
        for group in self.groups:
            for use in group.uses:
                for each in use.figure.inputs:
                    plain_number = isinstance(each.value, (int, float)) and not isinstance(each.value, bool)
                    if not each.key and not plain_number:
                        continue  # a word or a list of the pane's own stands beside its sum
                    if each.figure == ("", "") and not self.letter_of(each) and self._part(each) is None:
                        found.setdefault(_entry_key(each), each)
        kinds = [
            (
                _KINDS[each.origin] if each.key and not given_by(each.key) else 1 if each.key else 3,
                "." in each.key,
                each.key,
                place,
            )
            for place, each in enumerate(found.values())
        ]
        ordered = [(kind, *pair) for kind, pair in sorted(zip(kinds, found.items(), strict=True), key=lambda each: each[0])]
        return {
            key: Entry(count, each.name, each.key, each.value, each.unit, Kind(kind[0]), given_by(each.key) if each.key else "")
            for count, (kind, key, each) in enumerate(ordered, start=1)
        }


def formula_of(group: Group, use: Use, worked: Worked) -> str:
    """The formula of a use with its places still empty, "" where it is told in words."""
    inputs = {each.name: each.value for each in use.figure.inputs}
    try:
        formula = group.sum.formula_of(inputs)
    except (KeyError, TypeError):  # an input that the formula does not know of: the rule's own words tell it
        return ""
    return formula if _filled(formula, _expanded(inputs), worked) else ""


def part_formulas(group: Group, use: Use, worked: Worked) -> tuple[tuple[str, str], ...]:
    """The formulas of single results of a use that has several, by the name of the result."""
    inputs = {each.name: each.value for each in use.figure.inputs}
    return tuple(each for each in group.sum.parts_of(inputs) if _filled(each[1], inputs, worked))


def results_of(value: Any) -> dict[str, str | None]:
    """The names of the results that a value holds, with the unit of each; none for a plain one."""
    kind: Any = type(value)
    return units_of(kind) if dataclasses.is_dataclass(kind) or hasattr(kind, "_fields") else {}


def _filled(formula: str, known: Mapping[str, Any], worked: Worked) -> bool:
    """Whether every place of a formula has a figure."""
    for place in re.findall(r"\{([^}]*)\}", formula):
        value = worked.value_of(place[1:]) if place.startswith("@") else known.get(place)
        if not isinstance(value, (int, float)) or isinstance(value, bool):
            return False
    return True


def values_of(use: Use, worked: Worked, formula: str) -> dict[str, float]:
    """The figures that go into the places of a formula."""
    known = _expanded({each.name: each.value for each in use.figure.inputs})
    places = re.findall(r"\{([^}]*)\}", formula)
    return {each: worked.value_of(each[1:]) if each.startswith("@") else known[each] for each in places}


def input_of(use: Use, place: str) -> Input | None:
    """The input that a place of a formula is filled from, whole or in part."""
    name = re.sub(r" \d+$", "", place)
    return next((each for each in use.figure.inputs if each.name == place), None) or next(
        (each for each in use.figure.inputs if each.name == name), None
    )


def substituted(formula: str, values: Mapping[str, float]) -> str:
    """The formula with its figures in place; a negative one in brackets where it follows a sign."""

    def figure(found: re.Match[str]) -> str:
        value = values[found[1]]
        text = number(float(value), digits=DIGITS)
        return f"({text})" if value < 0.0 and found.start() > 0 and formula[: found.start()].rstrip()[-1:] not in "(;|" else text

    return re.sub(r"\{([^}]*)\}", figure, formula)


def _expanded(inputs: Mapping[str, Any]) -> dict[str, Any]:
    """Inputs with the members of a list by their place: ``plies 1``."""
    found = dict(inputs)
    for name, value in inputs.items():
        if isinstance(value, (tuple, list)):
            found |= {f"{name} {count}": each for count, each in enumerate(value, start=1)}
    return found


def _floats(value: Any) -> Iterator[float]:
    if isinstance(value, float):
        yield value
    elif isinstance(value, tuple):
        for each in value:
            if isinstance(each, float):
                yield each


def _entry_key(each: Input) -> tuple[Any, ...]:
    if each.key:
        return (each.key, json.dumps(plain(each.value)), each.unit)
    return ("", each.name, json.dumps(plain(each.value)), each.unit)


def _sum_of(rule: str) -> Sum:
    return SUMS.get(rule, Sum(UNNUMBERED))


def _letter(index: int) -> str:
    """From a to z, then aa, ab."""
    return chr(97 + index) if index < 26 else f"{_letter(index // 26 - 1)}{_letter(index % 26)}"


def _identity(figure: Figure) -> str:
    return json.dumps(plain(figure), ensure_ascii=False)


__all__ = [
    "CENTRE",
    "LETTERS",
    "Entry",
    "Group",
    "Kind",
    "Use",
    "Worked",
    "formula_of",
    "input_of",
    "part_formulas",
    "results_of",
    "substituted",
    "values_of",
]
