"""The plane in which an outline lies: the paper, or a plane in space that is fitted to it and never cast as a shadow.

Terms
-----
paper
    All places at one height: the drawing is looked at from above, and its own X and Y stand.
plane in space
    Fitted by least squares. Its X runs level, its Y upwards, both from the foot of the drawing's origin on it.
towards
    From where a plane in space is seen from outside: its outer face looks there.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from geometry.incoming.incoming import IncomingError
from geometry.incoming.moves import cross, dot, unit
from geometry.incoming.pieces import UP, Place

NOT_FLAT = 0.5
"""mm off the fitted plane from which an outline is not flat (own bound): a pane of flat glass has none, and a survey tells it apart."""
REVERSE = 45.0
"""Degrees from upright up to which a pane may lean out as well as back: the side has to be named."""
EDGE_ON = 5.0
"""Degrees within which a plane is edge-on to a side, or level: there the drawing's own X stands."""
TOWARDS = {
    "+x": (1.0, 0.0, 0.0),
    "-x": (-1.0, 0.0, 0.0),
    "+y": (0.0, 1.0, 0.0),
    "-y": (0.0, -1.0, 0.0),
    "+z": UP,
    "-z": (0.0, 0.0, -1.0),
}


@dataclass(frozen=True, slots=True)
class Plane:
    """Unit vectors of a plane, ``normal`` towards the viewer; ``lean`` degrees from upright (+ outer face up), None on paper.

    ``off`` is how far the farthest place lies off it, drawing units.
    """

    x: Place = (1.0, 0.0, 0.0)
    y: Place = (0.0, 1.0, 0.0)
    normal: Place = UP
    lean: float | None = None
    off: float = 0.0

    def flat(self, at: Sequence[float]) -> tuple[float, float]:
        """X and Y of a place in the plane."""
        if self.lean is None:
            return at[0], at[1]
        return dot(self.x, at), dot(self.y, at)


def plane_of(places: Sequence[Place], *, level: float, factor: float, seen_from: str) -> Plane:
    """The plane of an outline's places; heights within ``level`` are paper, ``factor`` is mm in a unit of the drawing.

    Raises ``IncomingError`` where the places lie in no plane, and where the outer side of a plane in space is not known.
    """
    heights = [at[2] for at in places]
    if max(heights) - min(heights) <= level:
        if seen_from in TOWARDS:
            raise IncomingError(
                f"the outline lies flat on the paper, and seen_from is {seen_from}", "outside or inside", key="seen_from"
            )
        return Plane()
    import numpy as np

    points = np.array(places)
    middle = points.mean(axis=0)
    _, sizes, ways = np.linalg.svd(points - middle, full_matrices=False)
    if sizes[1] <= 1e-9 * sizes[0]:
        raise IncomingError("the outline lies on one straight line in space", "an outline with an area")
    normal = ways[2]
    off = np.abs((points - middle) @ normal)
    worst = int(off.argmax())
    if off[worst] * factor > NOT_FLAT:
        x, y, z = (float(value) * factor for value in points[worst])
        raise IncomingError(
            f"the outline is not flat: at ({x:.1f}, {y:.1f}, {z:.1f}) it lies {off[worst] * factor:.2f} mm off the plane that fits it best",
            f"at most {NOT_FLAT:g} mm off a plane",
            "a curved or twisted opening is a survey of its points",
        )
    return _seen(tuple(float(value) for value in normal), float(off[worst]), seen_from)


def _seen(normal: tuple[float, ...], off: float, seen_from: str) -> Plane:
    n: Place = (normal[0], normal[1], normal[2])
    if seen_from in TOWARDS:
        side = dot(n, TOWARDS[seen_from])
        if abs(side) < math.sin(math.radians(EDGE_ON)):
            raise IncomingError(
                f"the outline stands edge-on to {seen_from}", "a side towards which its outer face looks", key="seen_from"
            )
    else:
        side = n[2]
        if abs(side) <= math.sin(math.radians(REVERSE)):
            ways = sorted(
                (name for name in TOWARDS if dot(n, TOWARDS[name]) ** 2 > 0.2), key=lambda name: -abs(dot(n, TOWARDS[name]))
            )
            lean = math.degrees(math.asin(abs(side)))
            stands = "stands upright" if lean < 0.05 else f"leans {lean:.1f} deg from upright"
            raise IncomingError(
                f"the outline {stands} in space, and nothing says which of its faces is outside",
                "seen_from = " + " or ".join(f'"{name}"' for name in ways) + ", where the viewer outside stands",
                key="seen_from",
            )
    if side < 0:
        n = (-n[0], -n[1], -n[2])
    return replace(plane_seen(n, "+z"), off=off)


def plane_seen(normal: Place, up: str) -> Plane:
    """The plane that looks along a unit vector, its Y upwards; where it lies level within ``EDGE_ON``, X runs along X, or along Y where X is up.

    >>> plane_seen((0.0, -1.0, 0.0), "+z").x, plane_seen((0.0, 0.0, 1.0), "+z").x
    ((1.0, 0.0, 0.0), (1.0, 0.0, 0.0))
    """
    upright = TOWARDS[up]
    side = dot(normal, upright)
    if abs(side) > math.cos(math.radians(EDGE_ON)):
        along = (0.0, 1.0, 0.0) if upright[0] else (1.0, 0.0, 0.0)
        x = unit(_square(along, normal))
        y = cross(normal, x)
    else:
        y = unit(_square(upright, normal))
        x = cross(y, normal)
    return Plane(x, y, normal, math.degrees(math.asin(max(-1.0, min(1.0, side)))))


def _square(way: Place, normal: Place) -> Place:
    """What of a direction is square to a normal."""
    along = dot(way, normal)
    return way[0] - along * normal[0], way[1] - along * normal[1], way[2] - along * normal[2]


__all__ = ["EDGE_ON", "NOT_FLAT", "TOWARDS", "Plane", "plane_of", "plane_seen"]
