"""How bead and joint move, drawn over the plan: the glass against the frame as arrows, the joint as a band along the glass edge.

Terms
-----
exaggerated
    Movements of tenths of a millimetre are drawn so many times larger; the factor stands under the picture.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from outputs.drawing.figures_round import Lettered, figures_round, spread
from outputs.drawing.plan_outlines import nodes_of
from outputs.sheet.entities import Hatch, Layer, Mark, Path
from outputs.sheet.layers import CONTINUOUS
from outputs.sheet.runs import circle, line, run

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from geometry.detail.parts import Detail
    from geometry.workings.movement import CaseMovement
    from outputs.sheet.entities import Place
    from outputs.sheet.pencil import Pencil

LONGEST = 9.0  # paper mm of the longest arrow, about
APART = 9.0  # paper mm between two arrows
FIGURES_APART = 15.6
LEAST = 0.2  # paper mm: a shorter arrow is a dot
OPENS, CLOSES, LIMIT, ARROWS = "JOINT_OPENS", "JOINT_CLOSES", "JOINT_LIMITS", "MOVEMENT"
LAYERS = (
    Layer(OPENS, 0.05, CONTINUOUS, 30, "joint that opens", ink="#f9c59b"),
    Layer(CLOSES, 0.25, CONTINUOUS, 5, "joint that closes", ink="#1d4568"),
    Layer(LIMIT, 0.13, CONTINUOUS, 7, "limits of the joint's movement"),
    Layer(ARROWS, 0.25, CONTINUOUS, 7, "movement of the glass against the frame"),
)


def exaggeration(largest: float) -> int:
    """A round factor (1, 2 or 5 with noughts) by which the largest movement, paper mm, becomes about :data:`LONGEST`.

    >>> exaggeration(0.04), exaggeration(0.0), exaggeration(30.0)
    (200, 1, 1)
    """
    if largest <= 0.0:
        return 1
    wanted = LONGEST / largest
    power = 10.0 ** math.floor(math.log10(wanted))
    return max(1, round(max(power * step for step in (1, 2, 5) if power * step <= wanted + 1e-9)))


def shear_marks(detail: Detail, case: CaseMovement, pencil: Pencil, factor: int) -> list[Mark]:
    """Recess, glass and centre of the bead, and from there how the glass moves against the frame; a ring at the largest."""
    marks: list[Mark] = [
        Path("RECESS", nodes_of(detail.curves.recess), True),
        Path("DETAIL", nodes_of(detail.curves.glass), True),
        Path("BEAD_CENTRE", nodes_of(detail.curves.bead_centre), True),
    ]
    points = [(station.point.x, station.point.y) for station in case.stations]
    for index in dict.fromkeys((*spread(points, pencil.paper(APART)), case.worst_shear_index)):
        station = case.stations[index]
        marks += _arrow(points[index], (station.shear_x * factor, station.shear_y * factor), pencil)
    marks.append(circle("DETAIL", points[case.worst_shear_index], pencil.paper(1.4)))
    return marks


def _arrow(foot: Place, move: Place, pencil: Pencil) -> list[Mark]:
    """An arrow as long as the movement; a head no longer than its arrow."""
    length = math.hypot(*move)
    if length < pencil.paper(LEAST):
        return [circle(ARROWS, foot, pencil.paper(LEAST))]
    tip = (foot[0] + move[0], foot[1] + move[1])
    head = min(pencil.style.arrow, length * pencil.scale)
    shaft = (tip[0] - move[0] * pencil.paper(head) / length, tip[1] - move[1] * pencil.paper(head) / length)
    found: list[Mark] = [pencil.arrow(ARROWS, tip, math.degrees(math.atan2(move[1], move[0])), size=head)]
    return [line(ARROWS, foot, shaft), *found] if math.dist(foot, shaft) > pencil.paper(0.01) else found


def joint_marks(detail: Detail, case: CaseMovement, pencil: Pencil, factor: int, figure: Callable[[float], str]) -> list[Mark]:
    """A band along the glass edge as wide as the joint moves: outside where it opens, inside and hatched where it closes."""
    edge = [(joint.point.x, joint.point.y) for joint in case.joints]
    normals = [_outward(edge, index) for index in range(len(edge))]
    marks: list[Mark] = []
    outer = edge
    for layer, material, sign in ((OPENS, "shade", 1.0), (CLOSES, "compression", -1.0)):
        moved = [
            (x + nx * max(0.0, sign * joint.opening) * sign * factor, y + ny * max(0.0, sign * joint.opening) * sign * factor)
            for (x, y), (nx, ny), joint in zip(edge, normals, case.joints, strict=True)
        ]
        if moved != edge:
            limit = run(LIMIT, _apart(moved), closed=True)
            marks += [Hatch(layer, material, (limit.nodes, run(LIMIT, _apart(edge), closed=True).nodes)), limit]
        outer = moved if sign > 0.0 else outer
    marks.append(Path("DETAIL", nodes_of(detail.curves.glass), True))
    entries = [
        Lettered(place, normal, figure(joint.opening), abs(joint.opening))
        for place, normal, joint in zip(outer, normals, case.joints, strict=True)
        if normal != (0.0, 0.0)
    ]
    return [*marks, *figures_round(entries, marks, pencil, apart=FIGURES_APART)]


def _apart(places: Sequence[Place]) -> list[Place]:
    """The places without those that stand twice in a row: at the ends of a straight side one may."""
    return [place for index, place in enumerate(places) if math.dist(place, places[index - 1]) > 1e-6]


def _outward(places: Sequence[Place], index: int) -> Place:
    """Unit vector out of a line that runs counter-clockwise; none where its neighbours are one place."""
    (x0, y0), (x1, y1) = places[index - 1], places[(index + 1) % len(places)]
    length = math.hypot(x1 - x0, y1 - y0)
    return (0.0, 0.0) if length < 1e-6 else ((y1 - y0) / length, -(x1 - x0) / length)


__all__ = ["LAYERS", "exaggeration", "joint_marks", "shear_marks"]
