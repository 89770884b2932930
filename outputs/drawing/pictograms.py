"""Pictograms of the cautions, drawn by this project in the manner of ISO 7010: few strokes, black and white.

Mandatory signs are white on a black disc, the prohibition is a black ring with a bar over a black figure, the warning a triangle. On a card
printed in black the colours of the standard (blue, red, yellow) are left out; shapes and meanings stay. None is a copy of a sign of the
standard: each is drawn here from arcs and straight lines.

Every sign is ``SIZE`` across, its middle at the place asked for.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from outputs.drawing.card_hand import SOLID
from outputs.sheet.entities import Fill, Hatch, Path
from outputs.sheet.runs import circle_nodes

if TYPE_CHECKING:
    from collections.abc import Sequence

    from outputs.sheet.entities import Mark, Node, Place

SIZE = 16.0
_HALF = SIZE / 2
_WHITE, _BLACK = "ON_PLATES", "PLATES"


def _disc(centre: Place) -> Mark:
    return Fill(_BLACK, circle_nodes(centre, _HALF))


def _shape(layer: str, centre: Place, nodes: Sequence[Node]) -> Fill:
    return Fill(layer, tuple((centre[0] + x, centre[1] + y, bulge) for x, y, bulge in nodes))


def _bar(layer: str, centre: Place, start: Place, end: Place, width: float) -> Fill:
    """A straight stroke with round ends."""
    (x1, y1), (x2, y2) = start, end
    long = math.hypot(x2 - x1, y2 - y1)
    ax, ay = -(y2 - y1) / long * width / 2, (x2 - x1) / long * width / 2
    nodes = ((x1 - ax, y1 - ay, 0.0), (x2 - ax, y2 - ay, 1.0), (x2 + ax, y2 + ay, 0.0), (x1 + ax, y1 + ay, 1.0))
    return _shape(layer, centre, nodes)


def gloves(centre: Place) -> list[Mark]:
    """Wear gloves: an open hand with its cuff."""
    fingers = (((-2.55, -0.2), (-2.75, 3.0)), ((-0.95, 0.0), (-1.0, 4.6)), ((0.65, 0.0), (0.75, 4.4)), ((2.2, -0.3), (2.5, 3.0)))
    marks: list[Mark] = [_disc(centre)]
    marks += [_bar(_WHITE, centre, start, end, 1.25) for start, end in fingers]
    marks.append(_bar(_WHITE, centre, (2.5, -2.2), (4.6, 0.4), 1.4))
    palm = ((-3.15, 0.6, 0.0), (-3.15, -2.4, 0.2), (-2.0, -3.6, 0.0), (2.2, -3.6, 0.2), (3.1, -2.0, 0.0), (2.8, 0.6, 0.0))
    marks.append(_shape(_WHITE, centre, palm))
    marks.append(_shape(_WHITE, centre, ((-2.2, -6.2, 0.0), (2.3, -6.2, 0.0), (2.3, -4.3, 0.0), (-2.2, -4.3, 0.0))))
    return marks


def goggles(centre: Place) -> list[Mark]:
    """Wear goggles: a head with closed goggles and their strap."""
    face: tuple[Node, ...] = (
        (-3.6, 1.5, 0.0),
        (-2.6, -3.6, 0.45),
        (2.6, -3.6, 0.0),
        (3.6, 1.5, 0.0),
        (3.4, 3.6, 0.5),
        (-3.4, 3.6, 0.0),
    )
    marks: list[Mark] = [_disc(centre), _shape(_WHITE, centre, face)]
    marks.append(_shape(_BLACK_ON_WHITE, centre, ((-4.6, 1.5, 0.0), (4.6, 1.5, 0.0), (4.6, 2.3, 0.0), (-4.6, 2.3, 0.0))))
    for side in (-1.0, 1.0):
        glass = (
            (0.35 * side, 0.3, 0.0),
            (0.35 * side, 2.7, 0.0),
            (3.3 * side, 2.7, 0.0),
            (3.3 * side, 0.7, 0.0),
            (2.7 * side, 0.1, 0.0),
        )
        marks.append(_shape(_BLACK_ON_WHITE, centre, glass if side > 0 else glass[::-1]))
        lens = ((0.95 * side, 0.9, 0.0), (0.95 * side, 2.1, 0.0), (2.6 * side, 2.1, 0.0), (2.6 * side, 0.9, 0.0))
        marks.append(_shape(_WHITE_ON_THAT, centre, lens if side > 0 else lens[::-1]))
    marks.append(_shape(_BLACK_ON_WHITE, centre, ((-1.3, -3.0, 0.0), (1.3, -3.0, 0.0), (1.3, -2.45, 0.0), (-1.3, -2.45, 0.0))))
    return marks


def respirator(centre: Place) -> list[Mark]:
    """Protect the breath: a head with a half mask, its straps and its two filters."""
    x, y = centre
    marks: list[Mark] = [_disc(centre), Fill(_WHITE, circle_nodes((x, y + 1.4), 4.6))]
    marks += [Fill(_BLACK_ON_WHITE, circle_nodes((x + side * 1.7, y + 2.9), 0.6)) for side in (-1.0, 1.0)]
    marks += [_bar(_BLACK_ON_WHITE, centre, (side * 2.0, -0.4), (side * 4.5, 1.6), 0.7) for side in (-1.0, 1.0)]
    mask: tuple[Node, ...] = ((0.0, 1.9, 0.0), (-2.6, -0.6, 0.0), (-2.5, -3.4, 0.35), (2.5, -3.4, 0.0), (2.6, -0.6, 0.0))
    marks.append(_shape(_BLACK_ON_WHITE, centre, mask))
    for side in (-1.0, 1.0):
        place = (x + side * 3.2, y - 3.0)
        marks += [Fill(_WHITE_ON_THAT, circle_nodes(place, 2.2)), Fill(_TOP, circle_nodes(place, 1.6))]
    marks += [_bar(_WHITE_ON_THAT, centre, (-1.1, level), (1.1, level), 0.5) for level in (-1.2, -2.4)]
    return marks


def no_flame(centre: Place) -> list[Mark]:
    """No open flame, no smoking: a flame under the bar of a prohibition."""
    outer, inner = circle_nodes(centre, _HALF), circle_nodes(centre, _HALF - 1.5)
    flame: tuple[Node, ...] = (
        (-0.4, 5.0, -0.25),
        (-2.6, 0.4, 0.1),
        (-2.9, -2.2, 0.55),
        (2.9, -2.2, 0.15),
        (1.9, 1.4, -0.2),
        (1.1, -0.2, 0.2),
    )
    marks: list[Mark] = [Hatch(_BLACK, SOLID, (outer, inner)), _shape(_BLACK, centre, flame)]
    reach = (_HALF - 0.8) * math.sqrt(0.5)
    marks.append(_bar(_WHITE, centre, (-reach + 1.0, reach - 1.0), (reach - 1.0, -reach + 1.0), 2.7))
    marks.append(_bar(_BLACK_ON_WHITE, centre, (-reach, reach), (reach, -reach), 1.5))
    return marks


def sharp_glass(centre: Place) -> list[Mark]:
    """Danger of cuts: a pane broken into splinters, in the triangle of a warning."""
    x, y = centre
    top, left, right = (0.0, 7.6), (-8.2, -6.8), (8.2, -6.8)

    def triangle(share: float) -> tuple[Node, ...]:
        centre_y = -2.0
        return tuple((x + px * share, y + centre_y + (py - centre_y) * share, 0.0) for px, py in (left, right, top))

    marks: list[Mark] = [Hatch(_BLACK, SOLID, (triangle(1.0), triangle(0.74)))]
    splinters = (
        ((-3.4, -5.0), (-0.6, -5.0), (-1.9, -1.7)),
        ((0.1, -5.0), (3.5, -5.0), (1.6, -2.9)),
        ((-1.2, -1.5), (0.0, -4.3), (1.0, -2.7), (0.5, 0.4)),
        ((-0.6, 0.2), (0.3, 1.4), (0.0, 3.2), (-1.1, 0.8)),
    )
    marks += [_shape(_BLACK, centre, [(px, py, 0.0) for px, py in splinter]) for splinter in splinters]
    return marks


_BLACK_ON_WHITE, _WHITE_ON_THAT, _TOP = "OVER", "LIGHT", "TOP"
ALL = (gloves, goggles, respirator, no_flame, sharp_glass)


def hourglass(centre: Place) -> list[Mark]:
    """Wait: an hourglass, 3.4 high."""
    x, y = centre
    half, high = 1.25, 1.7
    upper = ((x - half, y + high, 0.0), (x, y, 0.0), (x + half, y + high, 0.0))
    lower = ((x - half, y - high, 0.0), (x + half, y - high, 0.0), (x, y, 0.0))
    return [Path("DIMENSIONS", upper, True), Fill("DETAIL", lower), Path("DIMENSIONS", lower, True)]


def hook(centre: Place) -> list[Mark]:
    """Lifting gear only: a crane hook in a frame, 10 across."""
    x, y = centre
    frame = tuple((x + px, y + py, 0.0) for px, py in ((-5.0, -5.0), (5.0, -5.0), (5.0, 5.0), (-5.0, 5.0)))
    eye = circle_nodes((x, y + 2.9), 1.3)
    shank = ((x, y + 1.6, 0.0), (x, y + 0.6, 0.0))
    curve = ((x, y + 0.6, -0.35), (x + 2.1, y - 1.6, -0.85), (x - 2.1, y - 1.9, 0.0))
    return [Path("TABLES", frame, True), Path("TICKS", eye, True), Path("TICKS", shank), Path("TICKS", curve)]


__all__ = ["ALL", "SIZE", "gloves", "goggles", "hook", "hourglass", "no_flame", "respirator", "sharp_glass"]
