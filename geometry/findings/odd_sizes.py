"""Figures of the job that can be but seldom are: each is told once, with the slip of typing that most likely stands behind it.

Terms
-----
usual
    Between two figures that a pane of a vessel seldom passes. All of them are this project's own defaults: nothing is refused by them.
likely slip
    Another unit, or a zero too many, with which the figure would be usual. It is named, and nothing is changed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from geometry.ledger.finding import Constraint, Finding, Remedy, Side, Verdict
from geometry.rules.calculation import Status
from geometry.rules.rounding import number

if TYPE_CHECKING:
    from geometry.job import Pane
    from geometry.ledger.figure import Ledger
    from geometry.workings.subject import Subject

__all__ = ["BANDS", "CHECKS", "Band", "findings", "likely_slips", "names_of"]

OWN = "this project's own default"
LENGTH_SLIPS = (
    ("centimetres typed for millimetres", 10.0),
    ("metres typed for millimetres", 1000.0),
    ("inches typed for millimetres", 25.4),
    ("tenths of a millimetre typed for millimetres, or a zero too many", 0.1),
    ("micrometres typed for millimetres, or three zeros too many", 0.001),
)
PRESSURE_SLIPS = (
    ("megapascals typed for kilopascals", 1000.0),
    ("bar typed for kilopascals", 100.0),
    ("metres of water typed for kilopascals", 9.80665),
    ("pounds per square inch typed for kilopascals", 6.894757),
    ("millibar typed for kilopascals, or a zero too many", 0.1),
    ("pascals typed for kilopascals", 0.001),
)
"""What was typed for what, and the figure that was meant for 1 of the figure that stands (NIST SP 811, from memory)."""


@dataclass(frozen=True, slots=True)
class Band:
    """What is usual of one figure: from ``least`` to ``most`` in ``unit``. ``aimed`` narrows what a slip must lead to."""

    what: str
    of: Callable[[Pane], tuple[tuple[str, float | None], ...]]
    least: float
    most: float
    aimed: tuple[float, float]
    unit: str = "mm"
    slips: tuple[tuple[str, float], ...] = LENGTH_SLIPS


def _given(*keys: str) -> Callable[[Pane], tuple[tuple[str, float | None], ...]]:
    """The figures at these keys of the pane, as far as the job or the office's defaults give them."""

    def values(pane: Pane) -> tuple[tuple[str, float | None], ...]:
        return tuple((key, _at(pane, key)) for key in keys if pane.was_given(key))

    return values


def _at(pane: Pane, key: str) -> float | None:
    value: Any = pane
    for step in key.split("."):
        value = getattr(value, step)
    return value if isinstance(value, float) else None


def _outline(pane: Pane) -> tuple[tuple[str, float | None], ...]:
    left, bottom, right, top = pane.outline.box
    key = "recess.outline" if pane.outline_worked_out and pane.line_given.of == "glass" else "outline"
    return ((f"{key}, width", right - left), (f"{key}, height", top - bottom))


def _plies(pane: Pane) -> tuple[tuple[str, float | None], ...]:
    return tuple((f"glass.plies, ply {place}", ply) for place, ply in enumerate(pane.glass.plies, start=1))


def _glass(pane: Pane) -> tuple[tuple[str, float | None], ...]:
    return (("glass, all together", pane.glass.thickness),)


BANDS: tuple[Band, ...] = (
    Band("pane", _outline, 100.0, 6000.0, (200.0, 4000.0)),
    Band("ply of glass", _plies, 2.0, 25.0, (3.0, 19.0)),
    Band("glass", _glass, 3.0, 40.0, (4.0, 30.0)),
    Band("recess depth", _given("recess.depth"), 5.0, 150.0, (10.0, 60.0)),
    Band("landing", _given("recess.landing"), 10.0, 150.0, (15.0, 80.0)),
    Band("joint", _given("joint.width"), 2.0, 40.0, (4.0, 20.0)),
    Band("bond width", _given("bond.width"), 5.0, 60.0, (8.0, 40.0)),
    Band("bond thickness", _given("bond.thickness"), 1.0, 25.0, (3.0, 12.0)),
    Band("frit", _given("frit.width"), 5.0, 250.0, (15.0, 100.0)),
    Band(
        "design pressure",
        _given("pressure.outward", "pressure.inward"),
        0.05,
        200.0,
        (0.5, 100.0),
        unit="kPa",
        slips=PRESSURE_SLIPS,
    ),
)


def findings(subject: Subject, ledger: Ledger) -> Iterator[Finding]:
    """One finding for each figure that is not usual; none where all are."""
    for band in BANDS:
        for where, value in band.of(subject.pane):
            if value is not None and not band.least <= value <= band.most:
                yield _odd(band, where, value)


def likely_slips(band: Band, value: float) -> tuple[tuple[str, float], ...]:
    """The slips, two at most, that would make the figure one that is often typed, each with that figure.

    >>> likely_slips(BANDS[0], 90.0)
    (('centimetres typed for millimetres', 900.0), ('inches typed for millimetres', 2286.0))
    >>> likely_slips(BANDS[-1], 300.0)
    (('millibar typed for kilopascals, or a zero too many', 30.0),)
    """
    low, high = band.aimed
    return tuple((words, value * times) for words, times in band.slips if low <= value * times <= high)[:2]


def names_of(what: str) -> tuple[str, str]:
    """The names of the findings about one size: of a length, and of anything else."""
    return f"{what} of a usual size", f"{what} of a usual order"


def _odd(band: Band, where: str, value: float) -> Finding:
    small = value < band.least
    stands = (
        f"{number(value, 4)} {band.unit} stands there, usual are {number(band.least, 2)} to {number(band.most, 2)} {band.unit}"
    )
    slips = " or ".join(f"{words} ({number(meant, 2)} {band.unit} meant)" for words, meant in likely_slips(band, value))
    told = f"{stands}; a likely slip: {slips}" if slips else stands
    return Constraint(
        names_of(band.what)[0 if band.unit == "mm" else 1],
        side=Side.AT_LEAST if small else Side.AT_MOST,
        unit=band.unit,
        source=OWN,
        status=Status.OWN_DEFAULT,
        short=Verdict.LOOK,
    ).judged(
        value=value,
        limit=band.least if small else band.most,
        where=where,
        says=told,
        remedies=(Remedy(f"read {number(value, 4)} {band.unit} once more; leave it where it is meant"),),
    )


CHECKS = (findings,)
