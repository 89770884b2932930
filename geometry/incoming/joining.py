"""Loose pieces joined to loops: by their ends alone, never by trying ways through a net.

Terms
-----
node
    Where ends of pieces meet within rounding.
loose end
    An end at which nothing else ends; an open strand has two. Two loose ends no farther apart than the gap are joined, and it is told.
junction
    A node at which three or more pieces end: there is no one way on.
drawn twice
    A piece or loop that lies on another one from end to end; the first stays.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, NamedTuple

from geometry.incoming.pieces import Chain, Piece, Place

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

ROUNDING = 1e-6
"""mm (or so many units of a drawing in millimetres) within which ends are one place."""


class Loop(NamedTuple):
    """A closed loop of pieces in order, with the layers and inserts they came from and the shape it was drawn as."""

    pieces: tuple[Piece, ...]
    layers: tuple[str, ...]
    inserts: frozenset[int]
    shape: str = ""
    axes: tuple[Place, ...] = ()
    gaps: tuple[tuple[Place, Place], ...] = ()


class Strand(NamedTuple):
    """Pieces that close no loop: the places where it ends, or its junctions with how many pieces end there."""

    pieces: int
    layers: tuple[str, ...]
    ends: tuple[Place, ...]
    junctions: tuple[tuple[Place, int], ...]
    chains: tuple[Chain, ...]


@dataclass
class Joined:
    """Loops and strands, and how many pieces were without length or drawn twice."""

    loops: list[Loop] = field(default_factory=list)
    strands: list[Strand] = field(default_factory=list)
    without_length: int = 0
    twice: int = 0


class _Edge(NamedTuple):
    piece: Piece
    chain: Chain


def joined(closed: Iterable[Chain], open_: Iterable[Chain], *, gap: float, rounding: float) -> Joined:
    """The loops of closed chains and of what open ones make together; ``gap`` and ``rounding`` in units of the drawing."""
    found = Joined()
    for chain in closed:
        pieces = tuple(piece for piece in chain.pieces if _has_length(piece, rounding))
        found.without_length += len(chain.pieces) - len(pieces)
        if pieces:
            found.loops.append(Loop(pieces, (chain.layer,), frozenset((chain.insert,)), chain.shape, chain.axes))
    edges = []
    for chain in open_:
        for piece in chain.pieces:
            if _has_length(piece, rounding):
                edges.append(_Edge(piece, chain))
            else:
                found.without_length += 1
    if edges:
        _join(edges, gap, rounding, found)
    return found


def _has_length(piece: Piece, rounding: float) -> bool:
    return piece.length > rounding or bool(piece.spans and _extent(piece) > rounding) or abs(piece.bulge) > 1e3


def _extent(piece: Piece) -> float:
    return math.dist(piece.start, piece.middle())


def _join(edges: list[_Edge], gap: float, rounding: float, found: Joined) -> None:
    import numpy as np

    ends = np.array([end for edge in edges for end in (edge.piece.start, edge.piece.end)])
    node, _ = _nodes(ends, max(rounding, 8 * np.finfo(float).eps * float(np.abs(ends).max())))
    nodes = node.tolist()
    edges, nodes = _once(edges, nodes, gap, found)
    bridged = _bridges(edges, nodes, gap)
    parent = {two: one for one, two, _, _ in bridged}
    if parent:
        nodes = [parent.get(each, each) for each in nodes]
    at: dict[int, list[int]] = defaultdict(list)  # node -> ends, numbered 2 i and 2 i + 1 for edge i
    for number, each in enumerate(nodes):
        at[each].append(number)
    places = _places(edges, at, {one: ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2) for one, _, a, b in bridged})
    gaps = {one: (a, b) for one, _, a, b in bridged}
    used = [False] * len(edges)
    for start in range(len(edges)):
        if not used[start]:
            _component(start, edges, nodes, at, places, gaps, used, found)


def _nodes(ends: NDArray[np.float64], within: float) -> tuple[Any, int]:
    """The node of every end: ends within rounding of each other share one."""
    import numpy as np
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components
    from scipy.spatial import cKDTree

    places, index = np.unique(ends, axis=0, return_inverse=True)
    index = index.reshape(-1)
    pairs = cKDTree(places).query_pairs(within, output_type="ndarray")
    if not len(pairs):
        return index, len(places)
    size = len(places)
    graph = coo_array((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), shape=(size, size))
    count, labels = connected_components(graph, directed=False)
    return labels[index], int(count)


def _once(edges: list[_Edge], nodes: list[int], gap: float, found: Joined) -> tuple[list[_Edge], list[int]]:
    """The edges without those that lie on another one between the same nodes."""
    seen: dict[tuple[int, int], list[Place]] = defaultdict(list)
    kept: list[_Edge] = []
    ends: list[int] = []
    for i, edge in enumerate(edges):
        a, b = nodes[2 * i], nodes[2 * i + 1]
        middle = edge.piece.middle()
        others = seen[(a, b) if a < b else (b, a)]
        if any(math.dist(middle, other) <= gap for other in others):
            found.twice += 1
            continue
        others.append(middle)
        kept.append(edge)
        ends += [a, b]
    return kept, ends


def _bridges(edges: Sequence[_Edge], nodes: Sequence[int], gap: float) -> list[tuple[int, int, Place, Place]]:
    """Pairs of loose ends to join, nearest first: both nodes and both places."""
    import numpy as np

    count: dict[int, int] = defaultdict(int)
    for each in nodes:
        count[each] += 1
    loose = [number for number, each in enumerate(nodes) if count[each] == 1]
    if len(loose) < 2 or gap <= 0:
        return []
    from scipy.spatial import cKDTree

    places = [_end(edges, number) for number in loose]
    tree = cKDTree(np.array(places))
    near, which = tree.query(np.array(places), k=min(4, len(loose)), distance_upper_bound=gap * (1 + 1e-9))
    pairs = {
        (min(i, j), max(i, j)): float(far)
        for i, (fars, others) in enumerate(zip(near, which, strict=True))
        for far, j in zip(fars.tolist(), others.tolist(), strict=True)
        if math.isfinite(far) and j != i and not _same_short(edges, loose[i], loose[j], gap)
    }
    taken: set[int] = set()
    found = []
    for (i, j), _far in sorted(pairs.items(), key=lambda item: (item[1], item[0])):
        if i in taken or j in taken:
            continue
        taken |= {i, j}
        found.append((nodes[loose[i]], nodes[loose[j]], places[i], places[j]))
    return found


def _end(edges: Sequence[_Edge], number: int) -> Place:
    piece = edges[number // 2].piece
    return piece.end if number % 2 else piece.start


def _same_short(edges: Sequence[_Edge], one: int, two: int, gap: float) -> bool:
    """Whether two ends belong to one piece that is no more than the gap itself."""
    return one // 2 == two // 2 and _extent(edges[one // 2].piece) <= gap


def _places(edges: Sequence[_Edge], at: dict[int, list[int]], bridged: dict[int, Place]) -> dict[int, Place]:
    """One place for each node: the end of a straight line where there is one, for it was written and not worked out."""
    found: dict[int, Place] = dict(bridged)
    for node, ends in at.items():
        if node in found:
            continue
        lines = [number for number in ends if not edges[number // 2].piece.bulge and not edges[number // 2].piece.spans]
        number = (lines or ends)[0]
        found[node] = _end(edges, number)
    return found


def _component(
    start: int,
    edges: Sequence[_Edge],
    nodes: Sequence[int],
    at: dict[int, list[int]],
    places: dict[int, Place],
    gaps: dict[int, tuple[Place, Place]],
    used: list[bool],
    found: Joined,
) -> None:
    """All that hangs together with one edge: a loop where every node holds two ends, else a strand."""
    members, todo, plain = [], [start], True
    used[start] = True
    met: dict[int, int] = {}
    while todo:
        edge = todo.pop()
        members.append(edge)
        for number in (2 * edge, 2 * edge + 1):
            node = nodes[number]
            ends = at[node]
            met[node] = len(ends)
            plain = plain and len(ends) == 2
            for other in ends:
                if not used[other // 2]:
                    used[other // 2] = True
                    todo.append(other // 2)
    layers = tuple(dict.fromkeys(edges[i].chain.layer for i in sorted(members)))
    if not plain:
        junctions = tuple((places[node], count) for node, count in met.items() if count > 2)
        loose = tuple(places[node] for node, count in met.items() if count == 1)
        chains = tuple(Chain((edges[i].piece,), edges[i].chain.layer, edges[i].chain.insert) for i in sorted(members))
        found.strands.append(Strand(len(members), layers, loose, junctions, chains))
        return
    pieces, node, edge = [], nodes[2 * start], start
    while True:
        forward = nodes[2 * edge] == node
        one, two = (2 * edge, 2 * edge + 1) if forward else (2 * edge + 1, 2 * edge)
        piece = edges[edge].piece if forward else edges[edge].piece.reversed()
        pieces.append(_between(piece, places[nodes[one]], places[nodes[two]]))
        node = nodes[two]
        ends = at[node]
        following = ends[0] if ends[1] == two else ends[1]
        edge = following // 2
        if edge == start or len(pieces) > len(members):
            break
        node = nodes[following]
    inserts = frozenset(edges[i].chain.insert for i in members)
    found.loops.append(Loop(tuple(pieces), layers, inserts, gaps=tuple(gaps[node] for node in met if node in gaps)))


def _between(piece: Piece, start: Place, end: Place) -> Piece:
    return piece if piece.start == start and piece.end == end else piece._replace(start=start, end=end)


__all__ = ["ROUNDING", "Joined", "Loop", "Strand", "joined"]
