"""Moves of space: what an insert, an extrusion or a block's own place does to what is drawn.

Terms
-----
own axes
    The axes in which a flat entity is written; an extrusion of -Z looks at them from behind (DXF reference, object coordinates).
one scale
    A move keeps arcs round where it scales all directions of their plane alike.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any

from geometry.incoming.incoming import IncomingError
from geometry.incoming.pieces import SIMILAR, Place, Span

MOST_PLACED = 100_000
"""Places of one insert, rows and columns together."""


class Move:
    """An affine map of space by its rows: images of the three axes, and of the origin."""

    __slots__ = ("plain", "rows")

    def __init__(self, rows: tuple[Place, Place, Place, Place]) -> None:
        self.rows = rows
        self.plain = rows == ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (0.0, 0.0, 0.0))

    def place(self, at: Sequence[float]) -> Place:
        """Where a place goes."""
        if self.plain:
            return at[0], at[1], at[2]
        (ax, ay, az), (bx, by, bz), (cx, cy, cz), (ox, oy, oz) = self.rows
        x, y, z = at
        return x * ax + y * bx + z * cx + ox, x * ay + y * by + z * cy + oy, x * az + y * bz + z * cz + oz

    def way(self, along: Sequence[float]) -> Place:
        """Where a direction goes, its length with it."""
        if self.plain:
            return along[0], along[1], along[2]
        (ax, ay, az), (bx, by, bz), (cx, cy, cz), _ = self.rows
        x, y, z = along
        return x * ax + y * bx + z * cx, x * ay + y * by + z * cy, x * az + y * bz + z * cz

    def after(self, inner: Move) -> Move:
        """The map that does another one first."""
        a, b, c, o = inner.rows
        return Move((self.way(a), self.way(b), self.way(c), self.place(o)))

    def spans(self, spans: Sequence[Span]) -> tuple[Span, ...]:
        """Where spans go: control points move, weights stay."""
        if self.plain:
            return tuple(spans)
        import numpy as np

        matrix = np.array([[*row, 0.0] for row in self.rows[:3]] + [[*self.rows[3], 1.0]])
        return tuple(span @ matrix for span in spans)


NOWHERE = Move(((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (0.0, 0.0, 0.0)))


def own_axes(normal: Sequence[float]) -> Move:
    """The map from an entity's own axes to the drawing's (arbitrary axis rule of the DXF reference).

    >>> own_axes((0, 0, -1)).place((5, 2, 0))
    (-5.0, 2.0, 0.0)
    """
    length = math.hypot(*normal)
    if not math.isfinite(length) or length == 0.0 or (normal[0] == 0.0 and normal[1] == 0.0 and normal[2] > 0):
        return NOWHERE
    z = (normal[0] / length, normal[1] / length, normal[2] / length)
    world = (0.0, 1.0, 0.0) if abs(z[0]) < 1 / 64 and abs(z[1]) < 1 / 64 else (0.0, 0.0, 1.0)
    x = unit(cross(world, z))
    return Move((x, unit(cross(z, x)), z, (0.0, 0.0, 0.0)))


def dot(a: Sequence[float], b: Sequence[float]) -> float:
    """The product of two vectors, a number."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Place, b: Place) -> Place:
    """The vector square to two others."""
    return a[1] * b[2] - a[2] * b[1] + 0.0, a[2] * b[0] - a[0] * b[2] + 0.0, a[0] * b[1] - a[1] * b[0] + 0.0


def unit(a: Place) -> Place:
    """The unit vector along another one; nought stays nought."""
    length = math.hypot(*a)
    return (a[0] / length + 0.0, a[1] / length + 0.0, a[2] / length + 0.0) if length else a


def scale_of(move: Move) -> float | None:
    """The one scale of a map in the plane of its first two axes; None where it is not one."""
    a, b = move.rows[0], move.rows[1]
    one, two = math.hypot(*a), math.hypot(*b)
    along = dot(a, b)
    if not one > 0 or abs(one - two) > SIMILAR * one or abs(along) > SIMILAR * one * one:
        return None
    return one


def normal_of(move: Move) -> Place:
    """From where the plane of a move's first two axes is looked at, a unit vector."""
    return unit(cross(move.rows[0], move.rows[1]))


def on_circle(x: float, y: float, radius: float, angle: float) -> tuple[float, float]:
    """A place on a circle; exact at the quarters."""
    quarter, rest = divmod(angle / (math.pi / 2), 1.0)
    if min(rest, 1 - rest) < 1e-14:
        way = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter + (rest > 0.5)) % 4]
        return x + radius * way[0], y + radius * way[1]
    return x + radius * math.cos(angle), y + radius * math.sin(angle)


def padded(at: Any) -> Place:
    """A place with three numbers."""
    values = tuple(float(value) for value in at)
    return (values[0], values[1], values[2] if len(values) > 2 else 0.0)


def placed(entity: Any, axes: Move, spot: Place, base: Place) -> Iterator[Move]:
    """The maps from a block to the drawing, one for each row and column of the insert."""
    dxf = entity.dxf
    sx, sy, sz = (float(dxf.get(name, 1.0)) for name in ("xscale", "yscale", "zscale"))
    angle = math.radians(float(dxf.get("rotation", 0.0)))
    cosine, sine = on_circle(0.0, 0.0, 1.0, angle)
    rows, columns = (max(1, int(dxf.get(name, 1))) for name in ("row_count", "column_count"))
    if rows * columns > MOST_PLACED:
        raise IncomingError(f"an insert has {rows} rows and {columns} columns", f"at most {MOST_PLACED} in all")
    along, up = float(dxf.get("column_spacing", 0.0)), float(dxf.get("row_spacing", 0.0))
    x, y, z = (cosine * sx, sine * sx, 0.0), (-sine * sy, cosine * sy, 0.0), (0.0, 0.0, sz)
    shift = tuple(base[0] * x[i] + base[1] * y[i] + base[2] * z[i] for i in range(3))
    done = set()
    for row in range(rows):
        for column in range(columns):
            dx, dy = column * along, row * up
            if (dx, dy) in done:
                continue
            done.add((dx, dy))
            at = (
                spot[0] + cosine * dx - sine * dy - shift[0],
                spot[1] + sine * dx + cosine * dy - shift[1],
                spot[2] - shift[2],
            )
            yield axes.after(Move((x, y, z, at)))


__all__ = ["NOWHERE", "Move", "cross", "dot", "normal_of", "on_circle", "own_axes", "padded", "placed", "scale_of", "unit"]
