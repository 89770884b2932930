"""Remedies that change the bead: its width, its notch, and the sizes that have to follow.

Terms
-----
series
    The bond widths that nozzles are cut for.
follows
    A size of the job file that has to change with another one, so that the remedy does not break what it leans on.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING

from geometry.ledger.finding import Change, Remedy
from geometry.rules.rounding import mm, up

if TYPE_CHECKING:
    from geometry.workings.subject import Subject


def down(value: float, step: float = 1.0) -> float:
    """Round down to a step; what lies within a millionth of a step counts as on it.

    >>> down(6.9), down(6.9999999999), down(4.4, 0.5)
    (6.0, 7.0, 4.0)
    """
    return math.floor(value / step + 1e-6) * step


def bead_changes(subject: Subject, *, width: float | None = None, thickness: float | None = None) -> tuple[Change, ...]:
    """Another bond width or thickness, and a notch that was given recut for it as it would be worked out."""
    changes = []
    if width is not None:
        changes.append(Change("bond.width", width))
    if thickness is not None:
        changes.append(Change("bond.thickness", thickness))
    given = subject.pane.bond
    if given.notch_width is not None or given.notch_height is not None:
        wide = subject.sizes.bond_width.value if width is None else width
        thick = subject.sizes.bond_thickness.value if thickness is None else thickness
        notch = up(2 / subject.limit("notch_height_to_thickness").value * wide, 0.5)
        changes += [Change("bond.notch_width", notch), Change("bond.notch_height", up(2 * wide * thick / notch, 0.5))]
    return tuple(changes)


def narrower_bead(subject: Subject, fits: Callable[[float], bool]) -> tuple[Remedy, ...]:
    """The widest bead of the series that is narrower than this one and fits; none where there is none."""
    least = max(subject.limit("bond_width_least").value, subject.sizes.bond_thickness.value)
    widths = [width for width in subject.limit("bond_widths").value if least <= width < subject.sizes.bond_width.value]
    width = next((width for width in reversed(widths) if fits(width)), None)
    if width is None:
        return ()
    return (Remedy(f"lay a narrower bead of {mm(width)}, if the pressure allows it", bead_changes(subject, width=width)),)


def notch_changes(subject: Subject, *, height: float) -> tuple[Change, Change]:
    """A notch of another height, as wide as keeps the section of the bead, to the next half millimetre up."""
    sizes = subject.sizes
    section = 2 * sizes.bond_width.value * sizes.bond_thickness.value
    return Change("bond.notch_height", height), Change("bond.notch_width", up(section / height, 0.5))


def landing_needed(subject: Subject, *, joint: float, bond_width: float, squeeze_out: float) -> float:
    """Landing, mm, that carries joint, set-back, bead, squeeze-out and the margin inside it, in whole millimetres."""
    return up(joint + subject.sizes.set_back.value + bond_width + squeeze_out + float(subject.limit("landing_inside").value))


def frit_follows(subject: Subject, *, solid: float = 0.0, width: float = 0.0) -> tuple[Change, ...]:
    """The frit widened to a solid width or a whole width, mm, where it may still be printed and is narrower; else nothing."""
    frit = subject.pane.frit
    wanted = up(max(solid + frit.fade, width))
    if frit.printed or frit.outline is not None or frit.width is None or wanted <= subject.sizes.frit_width.value:
        return ()
    return (Change("frit.width", wanted),)


__all__ = ["bead_changes", "down", "frit_follows", "landing_needed", "narrower_bead", "notch_changes"]
