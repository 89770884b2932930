"""Fitted pictures of the fitter's card: an outline drawn as large as its box allows, and curves beside it at distances on the paper.

Nobody measures on the card, so its pictures have no scale: what counts is that every block is found and every line is told from its
neighbour. A pane is drawn at one scale both ways as long as neither way comes out too narrow for bead, lines and blocks beside one another;
a strip is drawn wider than it is. Places along an edge stay in proportion.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.outline import Outline, OutlineError, Vertex, bounding_box, nearest_station, offset, point_in
from geometry.outline import Point as At
from outputs.sheet.entities import Path
from outputs.sheet.keep_clear import facets

if TYPE_CHECKING:
    from outputs.sheet.entities import Node, Place


SHORTEST = 1e-3
"""Paper mm; a shorter segment of an outline is left out."""


@dataclass(frozen=True, slots=True)
class Fit:
    """From the pane to the paper: ``across`` and ``upwards`` are paper mm for one mm, ``left`` and ``bottom`` where the box comes to lie.

    ``mirrored`` turns the picture over about the upright through the middle of the box.
    """

    left: float
    bottom: float
    across: float
    upwards: float
    box: tuple[float, float, float, float]  # of the outline that was fitted: left, bottom, right, top
    mirrored: bool = False

    @property
    def width(self) -> float:
        """Width of the fitted box, paper mm."""
        return (self.box[2] - self.box[0]) * self.across

    @property
    def height(self) -> float:
        """Height of the fitted box, paper mm."""
        return (self.box[3] - self.box[1]) * self.upwards

    @property
    def paper(self) -> tuple[float, float, float, float]:
        """The fitted box on the paper."""
        return self.left, self.bottom, self.left + self.width, self.bottom + self.height

    def at(self, place: Place) -> Place:
        """A place of the pane on the paper."""
        x = self.box[2] - place[0] if self.mirrored else place[0] - self.box[0]
        return self.left + x * self.across, self.bottom + (place[1] - self.box[1]) * self.upwards

    def way(self, direction: Place) -> Place:
        """A direction on the pane as a unit vector on the paper."""
        x, y = direction[0] * self.across * (-1.0 if self.mirrored else 1.0), direction[1] * self.upwards
        long = (x * x + y * y) ** 0.5
        return x / long, y / long

    def outline(self, outline: Outline) -> Outline:
        """An outline of the pane on the paper, counter-clockwise there too; its arcs are facets where the picture is stretched."""
        nodes: list[Node] = [(vertex.x, vertex.y, vertex.bulge) for vertex in outline.vertices]
        if abs(self.across - self.upwards) > 1e-9 and any(node[2] for node in nodes):
            nodes = [(x, y, 0.0) for x, y, _, _ in facets(tuple(nodes), closed=True)]
        if self.mirrored:  # the same loop the other way round: each bulge belongs to the node its segment now leaves
            nodes = [(*nodes[number][:2], nodes[number - 1][2]) for number in range(len(nodes) - 1, -1, -1)]
        return Outline(tuple(Vertex(*self.at((x, y)), bulge) for x, y, bulge in nodes))


def fitted(
    outline: Outline,
    room: tuple[float, float, float, float],
    *,
    narrowest: float,
    scale: float | None = None,
    mirrored: bool = False,
) -> Fit:
    """The outline as large as a box of the paper allows (left, bottom, right, top), in its upper middle.

    ``narrowest`` is the least width and height on paper; a pane that comes out narrower is stretched that way.
    """
    left, bottom, right, top = room
    around = bounding_box(outline)
    wide, high = around.right - around.left, around.top - around.bottom
    one = min((right - left) / wide, (top - bottom) / high)
    if scale is not None:
        one = min(one, scale)
    across, upwards = max(one, min(narrowest, right - left) / wide), max(one, min(narrowest, top - bottom) / high)
    middle = (left + right) / 2
    return Fit(
        middle - wide * across / 2,
        top - high * upwards,
        across,
        upwards,
        (around.left, around.bottom, around.right, around.top),
        mirrored,
    )


def parallel(outline: Outline, distance: float) -> Outline | None:
    """The curve at a distance beside an outline on the paper, negative: inside; None where there is none."""
    try:
        return offset(outline, distance)
    except OutlineError:
        return None


def drawn(layer: str, outline: Outline) -> Path:
    """An outline of the paper as a closed path."""
    nodes = [(vertex.x, vertex.y, vertex.bulge) for vertex in outline.vertices]
    kept = [
        node
        for node, after in zip(nodes, [*nodes[1:], nodes[0]], strict=True)
        if abs(node[0] - after[0]) + abs(node[1] - after[1]) > SHORTEST
    ]
    return Path(layer, tuple(kept), True)


def on_edge(outline: Outline, place: Place) -> tuple[Place, Place]:
    """The place of an outline nearest to another, and the direction inwards there."""
    station = nearest_station(outline, At(*place))
    return (station.point.x, station.point.y), (-station.outward.x, -station.outward.y)


def lies_inside(outline: Outline, place: Place) -> bool:
    """Whether a place of the paper lies inside an outline of the paper."""
    return point_in(outline, At(*place))


__all__ = ["Fit", "drawn", "fitted", "lies_inside", "on_edge", "parallel"]
