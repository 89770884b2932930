"""Surveyed points in the order in which they stand round the opening: as listed, or put in order where only one order can be.

Terms
-----
ring
    The points in order, counter-clockwise as seen from outside, the last beside the first.
certain
    Every point lies near the hull of all of them, its neighbours along the hull farther off than it stands inside it: then there is one
    order only. Or the edges are named and each runs one way: then its points lie in order along it, and the edges meet end to end.

An order that is neither certain nor as listed without a crossing is refused.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from geometry.incoming.incoming import IncomingError

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Points = NDArray[np.float64]
else:
    Points = Any

SAME = 1e-3
"""mm within which two points are one."""
ASIDE = 1 / 3
"""Greatest part of the distance to a neighbour that a point may stand inside the hull for its order to be certain (own default)."""
NEARER = 0.8
"""The edges are certainly linked where every other way without a crossing is at least a quarter longer (own default)."""
MOST_LINKED = 6
"""Edges up to which every way of linking them is looked at."""


class OrderError(IncomingError):
    """Points whose order is not certain; ``rows`` are their places in the list."""

    def __init__(self, found: str, allowed: str, rows: Sequence[int] = ()) -> None:
        self.rows = tuple(rows)
        super().__init__(found, allowed)


def ring_of(points: Points, edges: Sequence[str]) -> tuple[list[int], str]:
    """The places in the list of the points in their order round the opening, and what was done about the order ("" where nothing was).

    ``points`` (n, 2) mm, no two of them the same; ``edges`` the edge of each, "" where none is named.

    Raises
    ------
    OrderError
        When the order is not certain.
    """
    listed = list(range(len(points)))
    ring, told = listed, ""
    names = [name for name in dict.fromkeys(edges) if name]
    if len(names) == 1 and all(edges):
        ring, told = _round(points), "points put in order round their middle"
    elif (hull := _by_hull(points)) is not None:
        ring, told = hull, "points put in order round their hull"
    elif names:
        ring, told = _by_edges(points, edges, names), "points put in order along their edges"
    crossing = crossing_sides(points[ring])
    if crossing is not None:
        a, b = crossing
        rows = [ring[a], ring[(a + 1) % len(ring)], ring[b], ring[(b + 1) % len(ring)]]
        raise OrderError(
            "the points in this order make an outline that crosses itself, and no other order is certain",
            "points in order round the opening, or with the name of their edge",
            rows,
        )
    if signed_area(points[ring]) < 0:
        ring = [ring[0], *ring[:0:-1]]
    start = ring.index(0)
    ring = ring[start:] + ring[:start]
    return ring, "" if ring in (listed, [0, *listed[:0:-1]]) else told


def signed_area(ring: Points) -> float:
    """Area inside a ring of points, mm², positive where they run counter-clockwise."""
    import numpy as np

    x, y = (ring - ring.mean(axis=0)).T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0


def crossing_sides(ring: Points) -> tuple[int, int] | None:
    """The first two sides of a ring that cross or touch each other, by the numbers of their first points; None where none do."""
    import numpy as np
    import shapely

    closed = np.vstack((ring, ring[:1]))
    if shapely.LinearRing(closed).is_simple:
        return None
    sides = shapely.linestrings(np.stack((closed[:-1], closed[1:]), axis=1))
    first, second = shapely.STRtree(sides).query(sides, predicate="intersects")
    count = len(ring)
    pairs = sorted((a, b) for a, b in zip(first.tolist(), second.tolist(), strict=True) if a < b and b - a not in (1, count - 1))
    if pairs:
        return pairs[0]
    back = [
        (a, (a + 1) % count) for a in range(count) if _turns_back(ring[a - count], ring[(a + 1) % count], ring[(a + 2) % count])
    ]
    return back[0] if back else (0, 1)


def _turns_back(a: Points, b: Points, c: Points) -> bool:
    one, two = b - a, c - b
    return float(one @ two) < 0 and abs(one[0] * two[1] - one[1] * two[0]) <= 1e-9 * float(one @ one + two @ two)


def _by_hull(points: Points) -> list[int] | None:
    """The order along the hull, where it is the only one that can be."""
    import numpy as np
    import shapely

    hull = shapely.MultiPoint(points).convex_hull
    if hull.geom_type != "Polygon":
        raise OrderError("the points lie on one line", "points round the opening")
    edge = hull.exterior
    places = shapely.points(points)
    along, inside = shapely.line_locate_point(edge, places), shapely.distance(edge, places)
    ring = np.lexsort((np.arange(len(points)), along))
    gaps = np.diff(np.append(along[ring], along[ring[0]] + edge.length))
    deep = inside[ring]
    near = np.maximum(deep, np.roll(deep, -1)) > ASIDE * gaps
    if bool(near.any()):
        return None
    return [int(index) for index in ring]


def _by_edges(points: Points, edges: Sequence[str], names: Sequence[str]) -> list[int]:
    """Edge after edge, each in order along its own way; a point without a name stands where two edges meet."""
    chains = [_along(points, [index for index, edge in enumerate(edges) if edge == name]) for name in names]
    ring = _linked(points, chains) if len(names) <= MOST_LINKED else [index for chain in chains for index in chain]
    for index in (index for index, edge in enumerate(edges) if not edge):
        ring = _with_corner(points, ring, index, edges)
    return ring


def _along(points: Points, rows: list[int]) -> list[int]:
    """The points of one edge in order: as listed where that goes one way along it, else along the line between its farthest two."""
    import numpy as np

    if len(rows) < 3:
        return rows
    its = points[rows]
    middle = its.mean(axis=0)
    _, _, axes = np.linalg.svd(its - middle, full_matrices=False)
    along = (its - middle) @ axes[0]
    order = np.argsort(along, kind="stable")
    steps = np.diff(along)
    if bool((steps > 0).all() or (steps < 0).all()):
        return rows
    across = (its - middle) @ axes[1]
    apart, aside = np.diff(along[order]), np.abs(np.diff(across[order]))
    listed = points[rows]
    turns = np.cross(np.diff(listed, axis=0)[:-1], np.diff(listed, axis=0)[1:])
    ahead = np.einsum("ij,ij->i", np.diff(listed, axis=0)[:-1], np.diff(listed, axis=0)[1:])
    if bool((ahead > 0).all()) and bool((turns >= 0).all() or (turns <= 0).all()):
        return rows  # a bend listed one way round
    if bool((apart <= aside).any()):
        worst = int(np.argmax(aside - apart))
        raise OrderError(
            "the order of the points of an edge is not certain", "the points of each edge in order along it",
            [rows[int(order[worst])], rows[int(order[worst + 1])]],
        )  # fmt: skip
    return [rows[int(index)] for index in order]


def _span(points: Points, a: int, b: int) -> float:
    return math.hypot(*(points[a] - points[b]))


def _linked(points: Points, chains: list[list[int]]) -> list[int]:
    """Edges end to end, either way round, in the order whose links are shortest, where every other one is longer or crosses itself."""
    from itertools import permutations, product

    ways: list[tuple[float, list[list[int]]]] = []
    for order in permutations(range(1, len(chains))):
        for turned in product((False, True), repeat=len(chains)):
            if len(chains) > 2 and order[0] > order[-1]:
                continue  # the same ring the other way round
            placed = [chains[at][::-1] if turn else chains[at] for at, turn in zip((0, *order), turned, strict=True)]
            ways.append((math.fsum(_span(points, placed[at - 1][-1], placed[at][0]) for at in range(len(placed))), placed))
    ways.sort(key=lambda way: way[0])
    found: tuple[float, list[int]] | None = None
    for length, placed in ways:
        ring = [index for chain in placed for index in chain]
        if found is not None:
            if found[0] <= NEARER * length:
                break
            if _same_ring(ring, found[1]):
                continue
        if crossing_sides(points[ring]) is not None:
            continue
        if found is not None:
            rows = [chain[-1] for chain in placed]
            raise OrderError(
                "which edge follows which, or which way it runs, is not certain", "the points of the corners as well", rows
            )
        found = length, ring
    return [index for chain in chains for index in chain] if found is None else found[1]


def _same_ring(one: list[int], other: list[int]) -> bool:
    for ring in (one, one[::-1]):
        start = ring.index(other[0])
        if ring[start:] + ring[:start] == other:
            return True
    return False


def _with_corner(points: Points, ring: list[int], index: int, edges: Sequence[str]) -> list[int]:
    """The ring with a point without a name put in where two edges meet and it lies nearest to both."""
    count = len(ring)
    joints = [at for at in range(count) if edges[ring[at]] != edges[ring[(at + 1) % count]] or not edges[ring[at]]]
    detours = sorted(
        (
            _span(points, ring[at], index)
            + _span(points, index, ring[(at + 1) % count])
            - _span(points, ring[at], ring[(at + 1) % count]),
            at,
        )
        for at in joints
    )
    if not detours or (len(detours) > 1 and detours[0][0] > NEARER * detours[1][0]):
        raise OrderError("a point without an edge, and where it belongs is not certain", "the name of its edge", [index])
    at = detours[0][1]
    return [*ring[: at + 1], index, *ring[at + 1 :]]


def _round(points: Points) -> list[int]:
    """One edge all round: by the angle about the middle, where neighbours keep their distance from it."""
    import numpy as np

    off = points - points.mean(axis=0)
    angle = np.arctan2(off[:, 1], off[:, 0])
    reach = np.hypot(*off.T)
    order = np.argsort(angle, kind="stable")
    gaps = np.diff(np.append(angle[order], angle[order[0]] + 2 * math.pi))
    if bool((gaps > math.radians(150)).any()) or bool((reach <= 0.05 * reach.max()).any()):
        raise OrderError("the points of the one edge do not go all round", "points round the opening")
    return [int(index) for index in order]


__all__ = ["SAME", "OrderError", "crossing_sides", "ring_of", "signed_area"]
