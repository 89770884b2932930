"""The bending stress of the glass: told beside its strength, looked at where it is near it, and never approved.

Terms
-----
printed band
    The glass under the frit. On the printed face its strength is less than that of the bare glass.
look
    Beyond the strength over a factor, until somebody gives the stress that is allowed. Nothing beneath it is a pass: what the glass may
    bear is for the rule that governs.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.ledger.figure import defaults_of
from geometry.ledger.finding import Constraint, Finding, Remedy, Side, Verdict
from geometry.ledger.size import Origin
from geometry.rules.calculation import Status
from geometry.rules.holding import bent_pane
from geometry.rules.materials import GLASS_STRENGTH
from geometry.rules.rounding import number
from geometry.workings.glass_edge import edge_place
from geometry.workings.glass_strength import allowed_stress, printed_strength_of, strength_of

if TYPE_CHECKING:
    from geometry.ledger.figure import Ledger, Sourced
    from geometry.plate.results import BondStress, FaceStress, PressureResult, ValueAt
    from geometry.workings.subject import Subject

GLASS = Constraint(
    "bending stress of the glass",
    side=Side.AT_MOST,
    unit="MPa",
    source="thin plate on an elastic bead by finite elements, linear or by large deflection (von Karman) as told",
    status=Status.DERIVED,
    short=Verdict.LOOK,
)


@dataclass(frozen=True)
class _Stressed:
    """A stress of the glass with the strength that it is read beside; ``words`` say where on the pane."""

    result: PressureResult
    stress: ValueAt
    strength: Sourced
    words: str

    @property
    def used(self) -> float:
        """Stress over strength; without a strength nothing is used."""
        return self.stress.value / self.strength.value if self.strength.value else 0.0


def findings(subject: Subject, ledger: Ledger, stress: BondStress, results: list[PressureResult]) -> tuple[Finding, ...]:
    """The finding, under the pressures that are given."""
    anywhere = max((_anywhere(subject, each) for each in results), key=lambda each: each.stress.value)
    printed = [each for result in results for each in _printed(subject, result)]
    shown = [anywhere, *sorted(printed, key=lambda each: -each.stress.value)[:1]]
    worst = max(shown, key=lambda each: each.used)
    told = f"{_told(subject, stress, shown)}; for information, the rule that governs decides"
    defaults = defaults_of(
        subject.glass("young_modulus", register="glass modulus"),
        subject.glass("poisson", register="glass Poisson's ratio"),
        worst.strength,
        subject.asked("glass.shear_coupling"),
    )
    if worst.strength.value and allowed_stress(subject).value is None:
        factor = subject.limit("glass_factor")
        look = ledger.work("stress of the glass to look at", bent_pane.glass_look, strength=worst.strength, factor=factor)
        if worst.stress.value > look.value:
            told += f"; over 1/{number(factor.value)} of the strength"
            return (_judged(subject, worst, look.value, told, (*defaults, *defaults_of(factor))),)
    return (
        Finding(
            name=GLASS.name,
            verdict=Verdict.NOT_CHECKED,
            source=GLASS.source,
            status=GLASS.status,
            unit=GLASS.unit,
            at=(float(worst.stress.point.x), float(worst.stress.point.y)),
            says=f"not checked: {told}",
            missing=told,
            defaults=tuple(dict.fromkeys(defaults)),
        ),
    )


def _judged(subject: Subject, worst: _Stressed, look: float, told: str, defaults: tuple[str, ...]) -> Finding:
    value, at = worst.stress.value, worst.stress.point
    edge = edge_place(subject.detail.curves.glass, at)[3]
    return GLASS.judged(
        value=value,
        limit=look,
        where=f"{worst.words}, nearest {edge}, X {number(at.x, 0)}, Y {number(at.y, 0)}",
        at=at,
        part=edge,
        says=told,
        remedies=(Remedy(f"ask the engineer whether the glass bears {number(value)} MPa under the rule that governs"),),
        defaults=defaults,
    )


def _anywhere(subject: Subject, result: PressureResult) -> _Stressed:
    face = max(result.faces, key=lambda each: each.greatest.value)
    return _Stressed(result, face.greatest, strength_of(subject), _face(face))


def _printed(subject: Subject, result: PressureResult) -> list[_Stressed]:
    """The printed face in its band; nothing where no frit is drawn."""
    glass = subject.pane.glass
    number_ = glass.printed_face or glass.bond_face
    ply, side = (number_ + 1) // 2, "outer" if number_ % 2 else "inner"
    return [
        _Stressed(result, face.printed, printed_strength_of(subject), f"printed band, {_face(face)}")
        for face in result.faces
        if face.ply == ply and face.face == side and face.printed is not None
    ]


def _face(face: FaceStress) -> str:
    return f"ply {face.ply}, {face.face} face"


def _told(subject: Subject, stress: BondStress, shown: list[_Stressed]) -> str:
    told = []
    for each in shown:
        result = each.result
        words = f"{number(each.stress.value)} MPa at {number(result.pressure)} kPa {result.direction} ({each.words})"
        if result.large is not None and each is shown[0]:
            words += f" by large deflection ({number(max(result.linear.glass_stress))} MPa by linear theory)"
        told.append(words)
    error = f"mesh error {number(100 * stress.error.glass_stress, 1)} %"
    if not stress.error.glass_holds:
        error += ": the mesh does not hold within 3 %, the stress is greater"
    return f"{', '.join(told)}, {error}, {strength_in_words(subject)}"


def strength_in_words(subject: Subject) -> str:
    """The strength beside the stress, with its source, and that of a printed face, which is less."""
    treatment = subject.pane.glass.treatment
    kind, strength = treatment.replace("_", " "), strength_of(subject)
    if strength.value is None:
        return f"no strength of {kind} glass is given"
    if strength.origin is not Origin.DEFAULT:
        return f"characteristic strength {number(strength.value)} MPa as given"
    words = f"characteristic strength of {kind} glass {number(strength.value)} MPa"
    printed = GLASS_STRENGTH.get(f"{treatment}_enamelled")
    if printed is not None:
        words += f", of its printed face {number(printed.value)}"
    return f"{words} ({GLASS_STRENGTH[treatment].source.partition(',')[0]})"


__all__ = ["GLASS", "findings", "strength_in_words"]
