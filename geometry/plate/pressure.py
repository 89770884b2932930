"""The figures of one load, from its fields.

Terms
-----
far face
    The one the load pushes towards: stretched where the pane sags.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

from geometry.plate.bead import point_of
from geometry.plate.glass import effective_thickness
from geometry.plate.recovery import greatest_principal
from geometry.plate.results import BeadShear, FaceStress, PressureResult, TheoryFigures, ValueAt

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from geometry.plate.bead import Bead
    from geometry.plate.fields import Fields
    from geometry.plate.glass import GlassBuildUp

    Floats = NDArray[np.float64]
    Direction = Literal["outward", "inward"]


@dataclass(frozen=True, slots=True, eq=False)
class Pane:
    """What the figures of every load share: the bead on the fine mesh; the glass; ``bond_thickness`` mm; ``points`` (p, 2) at which the
    glass is stressed and ``printed`` (p,) which of them lie in the printed band, None where none was given; ``arm`` mm from the plane the
    pane bends about to its bonded face.
    """

    bead: Bead
    glass: GlassBuildUp
    bond_thickness: float
    points: Floats
    printed: NDArray[np.bool_] | None
    arm: float


def bonded_arm(glass: GlassBuildUp) -> float:
    """From the plane that does not stretch to the bonded face, mm: half the inner ply where plies slide; with the shear coupling in
    proportion more, up to the whole pane's where they bend as one.

    >>> from geometry.plate.glass import GlassBuildUp
    >>> [bonded_arm(GlassBuildUp((8.0, 8.0), (1.52,), shear_coupling=c)) for c in (0.0, 1.0)]
    [4.0, 8.76]
    """
    levels = [math.fsum(glass.plies[:i]) + math.fsum(glass.interlayers[:i]) for i in range(len(glass.plies))]
    middles = [level + ply / 2 for level, ply in zip(levels, glass.plies, strict=True)]
    middle = math.fsum(ply * at for ply, at in zip(glass.plies, middles, strict=True)) / math.fsum(glass.plies)
    return glass.plies[-1] / 2 + glass.shear_coupling * (middles[-1] - middle)


def face_stresses(pane: Pane, fields: Fields, direction: Direction) -> tuple[FaceStress, ...]:
    """Greatest tension of both faces of every ply: bending, and the pull of the middle plane over all glass."""
    thickness = effective_thickness(pane.glass).stress
    pulled = fields.force / math.fsum(pane.glass.plies)
    found = []
    for ply, h in enumerate(thickness, start=1):
        for face in ("outer", "inner"):
            sign = 1.0 if (face == "outer") == (direction == "outward") else -1.0
            stress = greatest_principal(sign * 6 / h**2 * fields.moment + pulled)
            printed = None if pane.printed is None else _most(np.where(pane.printed, stress, -np.inf), pane.points)
            found.append(FaceStress(ply, face, _most(stress, pane.points), printed))
    return tuple(found)


def _most(values: Floats, points: Floats) -> ValueAt:
    """The greatest value and its place; 0 where none is over 0."""
    at = int(np.argmax(values))
    return amount(values[at], points[at])


def amount(value: float, point: Floats) -> ValueAt:
    """The value, or 0 where it is negative."""
    return ValueAt(max(0.0, float(value)), point_of(point))


def each_ply(faces: tuple[FaceStress, ...]) -> tuple[float, ...]:
    """Greatest tension of each ply, the greater of its faces."""
    return tuple(max(face.greatest.value for face in faces if face.ply == ply) for ply in sorted({face.ply for face in faces}))


def chief_figures(pane: Pane, fields: Fields, direction: Direction) -> TheoryFigures:
    """What stands side by side for both theories."""
    sign = 1.0 if direction == "outward" else -1.0
    bead = pane.bead
    mean = bead.mean_across(sign * bead.stiffness * fields.at_places)[bead.used]
    peak = float(np.max(sign * bead.stiffness * fields.deflection[bead.nodes]))
    return TheoryFigures(
        float(np.max(fields.deflection)),
        max(0.0, float(np.max(mean))),
        max(0.0, peak),
        each_ply(face_stresses(pane, fields, direction)),
    )


def pressure_result(pane: Pane, direction: Direction, pressure: float, linear: Fields, large: Fields | None) -> PressureResult:
    """The figures of a load, by large deflection where its fields are given."""
    fields = linear if large is None else large
    bead, points = pane.bead, pane.bead.mesh.points
    outward = direction == "outward"
    sign = 1.0 if outward else -1.0
    at_nodes = bead.stiffness * fields.deflection[bead.nodes]
    most, least = (int(bead.nodes[find(at_nodes)]) for find in (np.argmax, np.argmin))
    with_load = amount(bead.stiffness * fields.deflection[most], points[most])
    against = amount(-bead.stiffness * fields.deflection[least], points[least])
    stress = sign * bead.stiffness * fields.at_places
    tension, share = _mean_of_part(stress, bead.area)
    compression, _ = _mean_of_part(-stress, bead.area)
    highest, lowest = int(np.argmax(fields.deflection)), int(np.argmin(fields.deflection))
    edge = bead.mesh.edge_nodes()
    at_edge = int(edge[np.argmax(fields.deflection[edge])])
    faces = face_stresses(pane, fields, direction)
    shear = bead.shear(fields, sign * pane.arm, pane.bond_thickness)
    worst = max(shear, key=lambda each: each.strain)
    bound = max(shear, key=lambda each: each.bound)
    chief = chief_figures(pane, linear, direction)
    thickness = effective_thickness(pane.glass).deflection
    return PressureResult(
        direction=direction,
        pressure=pressure,
        peak_tension=with_load if outward else against,
        peak_compression=against if outward else with_load,
        mean_tension=tension,
        mean_compression=compression,
        mean=sign * fields.load / bead.whole,
        tension_share=share,
        reactions=bead.reactions(stress),
        deflection=ValueAt(float(fields.deflection[highest]), point_of(points[highest])),
        deflection_centre=fields.centre,
        deflection_edge=ValueAt(float(fields.deflection[at_edge]), point_of(points[at_edge])),
        uplift=amount(-fields.deflection[lowest], points[lowest]),
        glass_stress=each_ply(faces),
        faces=faces,
        shear=BeadShear(shear, ValueAt(worst.strain, worst.point), ValueAt(bound.bound, bound.point)),
        theory="linear" if large is None else "large deflection",
        linear=chief,
        large=None if large is None else chief_figures(pane, large, direction),
        beyond_linear=large is None and float(fields.deflection[highest]) > thickness / 2,
    )


def _mean_of_part(stress: Floats, area: Floats) -> tuple[float, float]:
    """Mean of the stress over the part of the bead where it is positive, and the share of the area of that part."""
    part = stress > 0.0
    covered = float(np.sum(area[part]))
    if covered == 0.0:
        return 0.0, 0.0
    return float(stress[part] @ area[part]) / covered, covered / float(np.sum(area))


__all__ = ["Pane", "amount", "bonded_arm", "chief_figures", "each_ply", "face_stresses", "pressure_result"]
