"""The local stress of the bead under pressure as shades over the plan of the pane, and the neighbourhood of each peak, larger.

Terms
-----
band of stress
    A step of the legend. Each has a letter and a shade that darkens with the stress, and is hatched where it is compression.
region
    Where the stress of the bead lies within a band: closed runs, even-odd.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from outputs.drawing.plan_outlines import nodes_of
from outputs.sheet.entities import Hatch, Layer, Mark, Path
from outputs.sheet.layers import CONTINUOUS
from outputs.sheet.runs import box, box_nodes, circle

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from geometry.detail.parts import Detail
    from geometry.plate.results import StressMap
    from outputs.sheet.entities import Node, Place
    from outputs.sheet.pencil import Pencil

MOST_STEPS = 5
TENSION = ("#fdeadb", "#f9c59b", "#f0954f", "#c95a12", "#7f2f04", "#4a1a00")
COMPRESSION = ("#e3edf7", "#b5cfe6", "#7ba7cf", "#41759f", "#1d4568", "#0b2237")
PEAK = 2.2  # paper mm, half the size of the mark of a peak
HATCH, EDGE = "COMPRESSION_HATCH", "BEAD_LIMITS"

Regions = dict[str, tuple[tuple["Node", ...], ...]]


@dataclass(frozen=True, slots=True)
class Band:
    """Stress from ``low`` to ``high`` MPa, tension positive, with its letter and its shade."""

    letter: str
    low: float
    high: float
    shade: str

    @property
    def compressed(self) -> bool:
        """Whether it is a band of compression."""
        return self.high <= 0.0

    @property
    def layer(self) -> str:
        """Name of the layer with its shade."""
        return f"STRESS_{self.letter}"


def bands_for(least: float, most: float) -> tuple[Band, ...]:
    """Bands from the least to the greatest stress, MPa, in steps of 1, 2 or 5, with 0 as a limit between two.

    >>> [(band.letter, round(band.low, 3), round(band.high, 3)) for band in bands_for(-0.011, 0.038)]
    [('A', -0.02, -0.01), ('B', -0.01, 0.0), ('C', 0.0, 0.01), ('D', 0.01, 0.02), ('E', 0.02, 0.03), ('F', 0.03, 0.04)]
    """
    greatest = max(abs(least), abs(most))
    if greatest == 0.0:
        return (Band("A", 0.0, 0.0, TENSION[0]),)
    power = 10.0 ** math.floor(math.log10(greatest / MOST_STEPS))
    step = next(power * factor for factor in (1, 2, 5, 10) if greatest / (power * factor) <= MOST_STEPS + 1e-9)
    low, high = math.floor(min(least, 0.0) / step + 1e-9), math.ceil(max(most, 0.0) / step - 1e-9)
    found: list[Band] = []
    for index in range(low, high):
        shade = TENSION[min(index, len(TENSION) - 1)] if index >= 0 else COMPRESSION[min(-index - 1, len(COMPRESSION) - 1)]
        found.append(Band(chr(ord("A") + len(found)), index * step, (index + 1) * step, shade))
    return tuple(found)


def map_layers(bands: Iterable[Band]) -> tuple[Layer, ...]:
    """The layers of a map, under all others: a shade for each band, the hatch of compression, the limits of the bead."""
    shades = tuple(Layer(band.layer, 0.05, CONTINUOUS, 7, "band of stress", ink=band.shade) for band in bands)
    hatch = Layer(HATCH, 0.18, CONTINUOUS, 7, "compression", ink="#ffffff")
    return (*shades, hatch, Layer(EDGE, 0.13, CONTINUOUS, 5, "limits of the bead"))


def map_marks(detail: Detail, regions: Regions, bands: Sequence[Band]) -> list[Mark]:
    """The shades between the limits of the bead, in the pane."""
    marks: list[Mark] = []
    for band in bands:
        if band.letter in regions:
            marks += shaded(band, regions[band.letter])
    return [
        *marks,
        Path(EDGE, nodes_of(detail.curves.bead_outer), True),
        Path(EDGE, nodes_of(detail.curves.bead_inner), True),
        Path("DETAIL", nodes_of(detail.curves.glass), True),
    ]


def shaded(band: Band, runs: tuple[tuple[Node, ...], ...]) -> list[Mark]:
    """A face in the shade of a band."""
    hatched = [Hatch(HATCH, "compression", runs)] if band.compressed else []
    return [Hatch(band.layer, "shade", runs), *hatched]


def peak_mark(kind: str, place: Place, pencil: Pencil) -> Path:
    """The mark of the greatest stress: a ring for tension, a square for compression."""
    half = pencil.paper(PEAK)
    if kind == "tension":
        return circle("DETAIL", place, half)
    return box("DETAIL", place[0] - half, place[1] - half, place[0] + half, place[1] + half)


def legend_marks(bands: Sequence[Band], words: Sequence[str], pencil: Pencil, at: Place) -> list[Mark]:
    """One row for each band, greatest first, under their heading, then the marks of the peaks; ``at`` is the upper left corner.

    ``words`` are the heading and what is said of each band. For paper, so the pencil's scale is 1.
    """
    left, y = at
    marks: list[Mark] = [pencil.text("TEXT", (left, y - 3.0), words[0])]
    for band, said in zip(reversed(bands), reversed(words[1:]), strict=True):
        y -= 6.0
        nodes = box_nodes(left, y - 4.6, left + 9.0, y)
        marks += [*shaded(band, (nodes,)), Path(EDGE, nodes, True), pencil.text("TEXT", (left + 11.5, y - 3.5), said)]
    for kind in ("tension", "compression"):
        y -= 6.0
        marks += [
            peak_mark(kind, (left + 4.5, y - 2.3), pencil),
            pencil.text("TEXT", (left + 11.5, y - 3.5), f"greatest {kind}"),
        ]
    return marks


Corner = tuple[int, int, float]
"""A node (its number twice), or where the stress of an edge between two nodes is that of a limit."""


def regions_of(stress_map: StressMap, stress: Sequence[float], bands: Sequence[Band]) -> Regions:
    """The region of each band that occurs, by letter, mm.

    Triangles are cut where the stress, linear between nodes, passes a limit between two bands. An edge between two pieces of
    the same band is inside its region and left out.
    """
    points = stress_map.points.tolist()

    def node(corner: Corner) -> Node:
        first, second, limit = corner
        x, y = points[first]
        if second != first:
            share = (limit - stress[first]) / (stress[second] - stress[first])
            x, y = x + share * (points[second][0] - x), y + share * (points[second][1] - y)
        return x, y, 0.0

    edges = _edges(stress_map.triangles.tolist(), stress, bands)
    return {
        letter: tuple(tuple(node(corner) for corner in loop) for loop in _loops(found) if len(loop) > 2)
        for letter, found in edges.items()
    }


def _edges(
    triangles: Iterable[Sequence[int]], stress: Sequence[float], bands: Sequence[Band]
) -> dict[str, dict[tuple[Corner, Corner], None]]:
    """The directed edges round the region of each band."""
    limits = [band.high for band in bands[:-1]]
    edges: dict[str, dict[tuple[Corner, Corner], None]] = {}
    for triangle in triangles:
        around: list[tuple[Corner, float]] = []
        for start, end in zip(triangle, (*triangle[1:], triangle[0]), strict=True):
            low, high = stress[start], stress[end]
            around.append(((start, start, 0.0), low))
            passed = [limit for limit in limits if min(low, high) < limit < max(low, high)]
            for limit in passed if low < high else reversed(passed):
                around.append(((min(start, end), max(start, end), limit), limit))
        for index, band in enumerate(bands):
            last = index == len(bands) - 1
            piece = [corner for corner, value in around if (index == 0 or value >= band.low) and (last or value <= band.high)]
            if len(piece) < 3:
                continue
            mine = edges.setdefault(band.letter, {})
            for edge in zip(piece, (*piece[1:], piece[0]), strict=True):
                if edge[::-1] in mine:
                    del mine[edge[::-1]]
                else:
                    mine[edge] = None
    return edges


def _loops(edges: Iterable[tuple[Corner, Corner]]) -> Iterator[list[Corner]]:
    """Directed edges put end to end."""
    leaving: dict[Corner, list[Corner]] = {}
    for start, end in edges:
        leaving.setdefault(start, []).append(end)
    while leaving:
        first = next(iter(leaving))
        loop, at = [first], first
        while True:
            ends = leaving[at]
            following = ends.pop(0)
            if not ends:
                del leaving[at]
            if following == first:
                break
            loop.append(following)
            at = following
        yield loop


__all__ = ["Band", "bands_for", "legend_marks", "map_layers", "map_marks", "peak_mark", "regions_of", "shaded"]
