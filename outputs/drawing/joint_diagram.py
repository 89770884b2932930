"""The joint width along the perimeter of the pane, as a diagram: the glass edge rolled out, the width over it.

Terms
-----
rolled out
    The glass edge counter-clockwise from its first vertex, seen from outside; its corners stand under the axis.
as designed, least left
    The joint width of the section, dashed, and what must be left of it, dash-dotted.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline import nearest_station
from outputs.drawing.figures_round import Lettered, figures_round
from outputs.drawing.plan_outlines import nodes_of
from outputs.sheet.drafting import number
from outputs.sheet.entities import Layer, Path
from outputs.sheet.layers import CONTINUOUS
from outputs.sheet.runs import circle, line, run

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.detail.parts import Detail
    from geometry.workings.joint_round import JointRound
    from outputs.sheet.entities import Mark, Place
    from outputs.sheet.pencil import Pencil

    At = Callable[[float, float], Place]

CURVE, AXIS, DESIGNED, LEFT, WORDS = "JOINT_RUN", "JOINT_AXIS", "JOINT_DESIGNED", "JOINT_LEAST", "TEXT"
LAYERS = (
    Layer(CURVE, 0.5, CONTINUOUS, 7, "joint width along the perimeter"),
    Layer(AXIS, 0.18, CONTINUOUS, 7, "axes of the joint diagram"),
    Layer(DESIGNED, 0.25, "DASHED_025", 7, "joint width as designed"),
    Layer(LEFT, 0.25, "LONG_DASH_DOT_025", 7, "joint that must be left"),
)
TICK, RING = 1.2, 1.2  # paper mm
APART = 0.01  # paper mm between two figures of the plan: all are tried, the narrowest first
STEPS = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0)
MOST_TICKS = 6


def joint_diagram(
    joint: JointRound, pencil: Pencil, *, corner: Place, width: float, height: float, designed: float, least_left: float
) -> list[Mark]:
    """The diagram with the lower left of its axes at ``corner``, ``width`` and ``height`` of them in paper mm.

    ``designed`` and ``least_left``: joint of the section and what must be left of it, mm. The narrowest place has a ring and its figure.
    """
    top = max(designed, least_left, *(each.width for each in joint.run))
    low = min(0.0, *(each.width for each in joint.run))
    step = next((each for each in STEPS if (top - low) / each <= MOST_TICKS), STEPS[-1])
    low, top = math.floor(low / step + 1e-9) * step, math.ceil(top / step - 1e-9) * step
    wide, high = pencil.paper(width), pencil.paper(height)

    def at(length: float, value: float) -> Place:
        return corner[0] + wide * length / joint.perimeter, corner[1] + high * (value - low) / (top - low)

    marks: list[Mark] = [line(AXIS, at(0.0, 0.0), at(joint.perimeter, 0.0)), line(AXIS, at(0.0, low), at(0.0, top))]
    marks += _ticks(pencil, at, low, top, step)
    marks += _corners(joint, pencil, at, low)
    marks += [
        line(layer, at(0.0, value), at(joint.perimeter, value)) for layer, value in ((DESIGNED, designed), (LEFT, least_left))
    ]
    first = joint.run[0]
    places = [at(each.length, each.width) for each in joint.run]
    marks.append(run(CURVE, [*places, at(joint.perimeter, first.width)]))
    marks += _least(joint, pencil, at, places)
    return marks


def joint_plan(detail: Detail, joint: JointRound, pencil: Pencil, figure: Callable[[float], str]) -> list[Mark]:
    """Recess and glass in plan, the joint width lettered outside at its stations, as many as find room, a ring at the narrowest place."""
    glass, recess = detail.curves.glass, detail.curves.recess
    marks: list[Mark] = [Path("RECESS", nodes_of(recess), True), Path("DETAIL", nodes_of(glass), True)]
    marks.append(circle(AXIS, (joint.least.at.x, joint.least.at.y), pencil.paper(RING)))
    entries = []
    places = sorted((joint.least, joint.widest, *joint.stations), key=lambda each: nearest_station(glass, each.at).length_along)
    for each in places:
        station = nearest_station(glass, each.at)
        if math.dist(station.point, each.at) > 1e-6:
            continue  # a surveyed point stands on the wall: the glass edge beside it has its own station
        wall = nearest_station(recess, each.at).point
        # the narrower the joint, the sooner it is lettered
        entries.append(Lettered((wall.x, wall.y), (station.outward.x, station.outward.y), figure(each.width), -each.width))
    return [*marks, *figures_round(entries, marks, pencil, apart=APART)]


def _ticks(pencil: Pencil, at: At, low: float, top: float, step: float) -> list[Mark]:
    found: list[Mark] = []
    for count in range(round((top - low) / step) + 1):
        x, y = at(0.0, low + count * step)
        found.append(line(AXIS, (x - pencil.paper(TICK), y), (x, y)))
        found.append(pencil.text(WORDS, (x - pencil.paper(2 * TICK), y), number(low + count * step), align="right", centred=True))
    return found


def _corners(joint: JointRound, pencil: Pencil, at: At, low: float) -> list[Mark]:
    """Corners under the axis, the name of one left out where it would stand on its neighbour's."""
    found: list[Mark] = []
    last = -math.inf
    for name, length in joint.corners:
        x, y = at(length, low)
        found.append(line(AXIS, (x, y), (x, y - pencil.paper(TICK))))
        if x - last >= pencil.width(name) + pencil.paper(1.0):
            found.append(
                pencil.text(WORDS, (x, y - pencil.paper(2 * TICK) - pencil.paper(pencil.style.text)), name, align="middle")
            )
            last = x
    return found


def _least(joint: JointRound, pencil: Pencil, at: At, places: list[Place]) -> list[Mark]:
    lengths = [each.length for each in joint.run]
    index = min(range(len(lengths)), key=lambda place: (round(joint.run[place].width, 6), place))
    x, y = places[index]
    printed = f"{number(round(joint.least.width, 2))} {joint.least.name}"
    half = pencil.width(printed) / 2
    left, right = at(0.0, 0.0)[0], at(joint.perimeter, 0.0)[0]
    middle = min(max(x, left + half + pencil.paper(1.0)), right - half)
    below = y - pencil.paper(RING + 1.0 + pencil.style.text)  # nothing of the curve is lower
    if below < at(0.0, 0.0)[1] + pencil.paper(0.5):
        below = y + pencil.paper(RING + 1.0)
    return [circle(AXIS, (x, y), pencil.paper(RING)), pencil.text(WORDS, (middle, below), printed, align="middle")]


__all__ = ["LAYERS", "joint_diagram", "joint_plan"]
