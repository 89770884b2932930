"""The laminate as one sheet of glass: effective thicknesses by two methods, beside the coupling that the job's figures take.

Terms
-----
in use
    The coupling of ``glass.shear_coupling``, 0 unless the job gives another: deflection, bead and glass stress are worked out by it.
by modulus
    The coupling that follows from the interlayer's own shear modulus, where the job gives it: information, in no finding.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from geometry.rules import glass as rules
from geometry.workings.section_sums import sides_of_box

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.ledger.figure import Figure, Ledger, Sourced
    from geometry.ledger.size import Size
    from geometry.workings.subject import Subject

SLIDING, IN_USE, ONE_SHEET = "plies that slide", "coupling in use", "one sheet"
BY_MODULUS = "by the interlayer's shear modulus"


@dataclass(frozen=True, slots=True)
class EffectiveThickness:
    """The laminate by one coupling (0 to 1); thicknesses mm, ``stress`` of each ply from the outside in."""

    method: str
    source: str
    coupling: float
    deflection: float
    stress: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Laminate:
    """``rows`` from plies that slide to one sheet, with that in use and that by the modulus between; ``missing`` says why one is not there."""

    rows: tuple[EffectiveThickness, ...]
    missing: str = ""


def laminate_of(subject: Subject, ledger: Ledger) -> Laminate | None:
    """The pane's laminate; None for a pane of one ply."""
    glass = subject.pane.glass
    if not glass.interlayers:
        return None
    used = subject.asked("glass.shear_coupling", scale=0.01)
    rows = [_row(subject, ledger, SLIDING, 0.0), _row(subject, ledger, IN_USE, used)]
    missing = ""
    modulus = subject.asked("glass.interlayer_modulus", unit="MPa")
    if len(glass.plies) != 2:
        missing = f"the method by the interlayer's shear modulus is for two plies, not {len(glass.plies)}"
    elif modulus.value is None:
        missing = "not checked: no glass.interlayer_modulus given"
    else:
        transfer = ledger.work(
            "coupling by the interlayer's shear modulus",
            rules.shear_transfer,
            plies=glass.plies,
            interlayers=glass.interlayers,
            glass_modulus=subject.glass("young_modulus", register="glass modulus", unit="MPa"),
            interlayer_modulus=modulus,
            short_side=sides_of_box(subject)[0],
        )
        rows.append(_row(subject, ledger, BY_MODULUS, transfer))
    rows.append(_row(subject, ledger, ONE_SHEET, 1.0))
    return Laminate(tuple(rows), missing)


def bent_thickness(subject: Subject, ledger: Ledger) -> Size | Figure:
    """Thickness of the pane that bends, mm: of a laminate the effective one at the coupling that the job gives."""
    return _in_use(subject, ledger, "effective thickness for deflection", rules.effective_thickness)


def stressed_thickness(subject: Subject, ledger: Ledger) -> Size | Figure:
    """The same for the stress."""
    return _in_use(subject, ledger, "effective thickness for stress", rules.effective_thickness_for_stress)


def _in_use(subject: Subject, ledger: Ledger, what: str, rule: Callable[..., float]) -> Size | Figure:
    glass = subject.pane.glass
    if not glass.interlayers:
        return subject.sizes.glass_thickness
    coupling = subject.asked("glass.shear_coupling", scale=0.01)
    return ledger.work(what, rule, plies=glass.plies, interlayers=glass.interlayers, coupling=coupling)


def _row(subject: Subject, ledger: Ledger, method: str, coupling: float | Sourced | Figure) -> EffectiveThickness:
    glass, share = subject.pane.glass, coupling if isinstance(coupling, float) else float(coupling.value)
    make_up: dict[str, Any] = {"plies": glass.plies, "interlayers": glass.interlayers, "coupling": coupling}
    bends = ledger.work("effective thickness for deflection", rules.effective_thickness, **make_up)
    ledger.work("effective thickness for stress", rules.effective_thickness_for_stress, **make_up)
    stressed = rules.stress_thicknesses(plies=glass.plies, interlayers=glass.interlayers, coupling=share)
    by_modulus = method == BY_MODULUS
    source = "ASTM E1300 appendix X9 (Wölfel, Bennison), from memory" if by_modulus else "EN 16612, from memory"
    return EffectiveThickness(method, source, share, float(bends.value), stressed)


__all__ = [
    "BY_MODULUS",
    "IN_USE",
    "ONE_SHEET",
    "SLIDING",
    "EffectiveThickness",
    "Laminate",
    "bent_thickness",
    "laminate_of",
    "stressed_thickness",
]
