"""Figures with their pedigree: what was worked out, by which rule, from which inputs, and what of it was a default.

Terms
-----
sourced value
    A number (or word) of the job file with its key and where it comes from.
figure
    One result: the rule's record, the inputs as they went in, and the outcome.
ledger
    The figures of one pane in the order in which they were worked out. It is handed on explicitly.
default behind a figure
    A key of the job file that was left out and whose default value went in, directly or through another figure.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from typing import Any, NamedTuple, TypeVar

from geometry.ledger.size import Origin, Size
from geometry.rules.calculation import Calculation, record_of
from geometry.rules.units import units_of

__all__ = ["Figure", "Input", "Ledger", "RoughLedger", "Sourced", "defaults_of", "plain", "worked_once"]

Pane = TypeVar("Pane")
Result = TypeVar("Result")


@dataclass(frozen=True, slots=True)
class Sourced:
    """A value with where it comes from; ``key`` is its dotted key in the job file, "" where it is none."""

    value: Any
    origin: Origin
    key: str = ""
    unit: str = ""


class Input(NamedTuple):
    """One input of a figure, as a reader needs it to do the sum again; ``figure`` is what and where of the one that it came from."""

    name: str  # in words
    value: Any
    unit: str
    origin: Origin
    key: str = ""
    figure: tuple[str, str] = ("", "")


@dataclass(frozen=True, slots=True)
class Figure:
    """One result. ``what`` says what it is the figure of ("joint strain at the head, hot soak"); ``where`` may name a place."""

    what: str
    value: Any
    record: Calculation
    inputs: tuple[Input, ...]
    where: str = ""
    defaults: tuple[str, ...] = ()

    @property
    def unit(self) -> str:
        """Unit of the result."""
        return self.record.unit


class Ledger:
    """Works figures out and keeps them in order.

    >>> from geometry.rules.fit import section
    >>> ledger = Ledger()
    >>> bond = Sourced(15.0, Origin.DEFAULT, "bond.width", "mm")
    >>> centre = ledger.work("bead centre", section.bead_centre, set_back=8.0, bond_width=bond)
    >>> centre.value, centre.defaults, len(ledger.figures)
    (15.5, ('bond.width',), 1)
    >>> ledger.work("bead centre", section.bead_centre, set_back=8.0, bond_width=bond) is centre
    True
    """

    def __init__(self) -> None:
        self._figures: list[Figure] = []
        self._by_what: dict[tuple[str, str, str], list[Figure]] = {}

    @property
    def figures(self) -> tuple[Figure, ...]:
        """Every figure so far."""
        return tuple(self._figures)

    def work(self, what: str, rule: Callable[..., Any], *, where: str = "", **inputs: Any) -> Figure:
        """Call a recorded rule and keep the result.

        Each input may be a plain value (something of the pane's own geometry), a ``Sourced``, a ``Size`` of the detail or another
        ``Figure``: the rule gets its plain value. The same sum asked for again is the figure that stands already. Raises what the rule
        raises; ``LookupError`` for a rule without a record.
        """
        record = record_of(rule)
        units = units_of(rule)
        entered = tuple(_input(name, value, units.get(name) or "") for name, value in inputs.items())
        for known in self._by_what.get((what, where, record.name), ()):
            if known.inputs == entered:
                return known
        figure = Figure(
            what=what,
            value=rule(**{name: plain(value) for name, value in inputs.items()}),
            record=record,
            inputs=entered,
            where=where,
            defaults=defaults_of(*inputs.values()),
        )
        self._figures.append(figure)
        self._by_what.setdefault((what, where, record.name), []).append(figure)
        return figure

    def once(self, working: Callable[[Pane, Ledger], Result], pane: Pane) -> Result:
        """What a working gives for a pane: made again, so that the ledger sees all its figures."""
        return working(pane, self)


class RoughLedger(Ledger):
    """Works figures out and keeps none, for a trial of which only the outcome is looked at: its figures name no inputs."""

    def __init__(self) -> None:
        super().__init__()
        self._worked: dict[tuple[Any, int], tuple[Any, Any]] = {}

    def work(self, what: str, rule: Callable[..., Any], *, where: str = "", **inputs: Any) -> Figure:
        """As a ledger does, without the inputs."""
        value = rule(**{name: plain(each) for name, each in inputs.items()})
        return Figure(what, value, record_of(rule), (), where)

    def once(self, working: Callable[[Pane, Ledger], Result], pane: Pane) -> Result:
        """What a working gives for a pane: many checks of a trial ask for the same."""
        key = (working, id(pane))
        if key not in self._worked:
            self._worked[key] = (pane, working(pane, self))  # the pane is kept, so that no other takes its identity
        found: Result = self._worked[key][1]
        return found


def worked_once(working: Callable[[Pane, Ledger], Result]) -> Callable[[Pane, Ledger], Result]:
    """Mark a working that many checks ask for: in a trial it is done once for a pane."""

    @wraps(working)
    def asked(subject: Pane, ledger: Ledger) -> Result:
        return ledger.once(working, subject)

    return asked


def plain(value: Any) -> Any:
    """The bare value of a sourced value, a size or a figure."""
    return value.value if isinstance(value, (Sourced, Size, Figure)) else value


def _input(name: str, value: Any, unit: str) -> Input:
    """One input with the unit it was handed on with, else with that which the rule states; what is no number has none."""
    words = name.replace("_", " ")
    if isinstance(value, Sourced):
        return Input(words, value.value, value.unit or _sign(value.value, unit), value.origin, value.key)
    if isinstance(value, Figure):
        sign = value.unit or _sign(value.value, unit)
        return Input(words, value.value, sign, Origin.WORKED_OUT, figure=(value.what, value.where))
    if isinstance(value, Size):
        return Input(words, value.value, value.unit or _sign(value.value, unit), value.origin)
    return Input(words, value, _sign(value, unit), Origin.WORKED_OUT)


def _sign(bare: Any, unit: str) -> str:
    return "" if bare is None or isinstance(bare, (bool, str)) else unit


def defaults_of(*values: Any) -> tuple[str, ...]:
    """Keys whose default values stand behind these values."""
    keys: dict[str, None] = {}
    for value in values:
        if isinstance(value, Sourced) and value.origin is Origin.DEFAULT:
            keys[value.key] = None
        elif isinstance(value, Size) and value.origin is Origin.DEFAULT:
            keys[value.name] = None
        elif isinstance(value, Figure):
            keys.update(dict.fromkeys(value.defaults))
    return tuple(keys)
