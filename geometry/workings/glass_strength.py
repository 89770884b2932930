"""What the glass may bear: its characteristic strength, that of its printed face, and the stress that somebody allows.

Terms
-----
characteristic strength
    By treatment, from the register of materials, unless the job gives its own; never a stress that is allowed.
allowed stress
    From the engineer or the rule that governs; nothing here stands in for it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.ledger.figure import Sourced
from geometry.ledger.size import Origin
from geometry.rules.materials import GLASS_STRENGTH

if TYPE_CHECKING:
    from geometry.workings.subject import Subject

NO_ALLOWED = "allowed stress of the glass (glass.allowed_stress)"


def strength_of(subject: Subject) -> Sourced:
    """Characteristic bending strength, MPa: given, else of the register by treatment; None where the register has none."""
    own = subject.asked("materials.glass.strength", unit="MPa")
    if own.value is not None:
        return own
    entry = GLASS_STRENGTH.get(subject.pane.glass.treatment)
    return Sourced(None if entry is None else entry.value, Origin.DEFAULT, own.key, "MPa")


def printed_strength_of(subject: Subject) -> Sourced:
    """That of the printed face, MPa: the register's by treatment, or the given one where that is less."""
    strength = strength_of(subject)
    entry = GLASS_STRENGTH.get(f"{subject.pane.glass.treatment}_enamelled")
    if entry is None or (strength.value is not None and strength.value <= entry.value):
        return strength
    return Sourced(entry.value, Origin.DEFAULT, "materials.glass.strength", "MPa")


def allowed_stress(subject: Subject) -> Sourced:
    """What the engineer or the rule that governs allows, MPa; None where it was not given."""
    return subject.asked("glass.allowed_stress", unit="MPa")


__all__ = ["NO_ALLOWED", "allowed_stress", "printed_strength_of", "strength_of"]
