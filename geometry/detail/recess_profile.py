"""The profile of the recess in a section: landing, wall, the draft of the wall and the fillet between them.

Terms
-----
foot
    The origin: where the wall would meet the landing if there were no fillet. x runs along the landing, z outboard.
draft
    The angle by which the wall leans away from the joint, so that the recess opens outwards: the wall stands at x = −z tan(draft).
fillet
    The weld or mould radius in the foot: a concave arc of frame, tangent to landing and wall.
run
    Nodes (x, z, bulge) in order, the last one without a bulge; the arc of the fillet stays an arc.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

Node = tuple[float, float, float]
Nodes = tuple[Node, ...]
COINCIDENT = 1e-9  # mm


@dataclass(frozen=True, slots=True)
class RecessProfile:
    """Draft in degrees (0 square to the landing, positive opens outwards) and fillet radius in mm."""

    draft: float = 0.0
    fillet: float = 0.0

    @property
    def slope(self) -> float:
        """How far the wall leans back for each mm of height."""
        return math.tan(math.radians(self.draft))

    @property
    def tangent_length(self) -> float:
        """From the foot to either end of the fillet, mm: radius / tan(half the angle between landing and wall)."""
        return self.fillet / math.tan(math.radians(90.0 + self.draft) / 2)

    @property
    def wall_end(self) -> float:
        """Height at which the fillet runs into the wall."""
        return self.tangent_length * math.cos(math.radians(self.draft))

    def wall_at(self, z: float) -> float:
        """Distance of wall or fillet from the foot along x, at a height above the landing."""
        if z >= self.wall_end:
            return -z * self.slope
        return self.tangent_length - math.sqrt(max(0.0, self.fillet**2 - (self.fillet - z) ** 2))

    def floor_at(self, x: float) -> float:
        """Height of landing or fillet at a distance from the foot; short of the fillet's upper end, the height of that end."""
        if x >= self.tangent_length:
            return 0.0
        if x <= self.wall_at(self.wall_end):
            return self.wall_end
        return self.fillet - math.sqrt(max(0.0, self.fillet**2 - (self.tangent_length - x) ** 2))

    def _bulge(self, high: float, low: float) -> float:
        """Bulge of the fillet from one height down to another."""
        return math.tan((math.asin(1 - low / self.fillet) - math.asin(1 - high / self.fillet)) / 4)

    def down(self, high: float, low: float) -> Nodes:
        """The run down the wall and the fillet from one height to a lower one."""
        run: list[Node] = []
        start = high
        if high > self.wall_end + COINCIDENT:
            run.append((self.wall_at(high), high, 0.0))
            start = self.wall_end
        if low < start - COINCIDENT and self.fillet > 0:
            run.append((self.wall_at(start), start, self._bulge(start, low)))
        return (*run, (self.wall_at(low), low, 0.0))

    def up(self, low: float, high: float) -> Nodes:
        """The same run the other way."""
        run = self.down(high, low)
        bulges = [-node[2] for node in run[-2::-1]]
        return tuple((x, z, bulge) for (x, z, _), bulge in zip(run[::-1], [*bulges, 0.0], strict=True))

    def along(self, left: float, right: float) -> Nodes:
        """The run along fillet and landing from one distance from the foot to a greater one."""
        end = self.tangent_length
        if self.fillet <= 0 or left >= end - COINCIDENT:
            return (left, 0.0, 0.0), (right, 0.0, 0.0)
        high, low = self.floor_at(left), self.floor_at(right)
        first = (left, high, self._bulge(high, low))
        return (first, (right, low, 0.0)) if right <= end + COINCIDENT else (first, (end, 0.0, 0.0), (right, 0.0, 0.0))

    def greatest_fillet(self, *, x: float, z: float) -> float:
        """The fillet radius, mm, whose arc just reaches the place (x, z), both positive, from below."""
        reach = 1 / math.tan(math.radians(90.0 + self.draft) / 2)
        half = reach * x + z
        return (half + math.sqrt(half * half - reach * reach * (x * x + z * z))) / (reach * reach)


def loop(*nodes: Node) -> Nodes:
    """A closed run without the nodes that fall together: of two, the one whose segment goes on."""
    kept = [
        node
        for node, after in zip(nodes, (*nodes[1:], nodes[0]), strict=True)
        if math.hypot(node[0] - after[0], node[1] - after[1]) > COINCIDENT
    ]
    return tuple(kept)


__all__ = ["RecessProfile", "loop"]
