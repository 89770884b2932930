"""The names on the plan: of its blocks, of its corners and of its edges."""

from __future__ import annotations

import math
from functools import partial
from typing import TYPE_CHECKING

from geometry.detail.edges import edges_of
from geometry.outline import Point
from outputs.drawing.plan_rows import is_rectangular
from outputs.sheet.drafting import as_fine_as
from outputs.sheet.pencil import upright
from outputs.sheet.runs import polar

if TYPE_CHECKING:
    from geometry.detail.parts import Chock, Spacer
    from outputs.drawing.plan_ink import PlanInk


ONE_PLACE = 0.25  # mm along the edge within which a chock and a spacer stand at one place


class PlanNames:
    """Letters them, each at the first place that is free and nearer to its own thing than to another of its kind."""

    def __init__(self, ink: PlanInk) -> None:
        self.ink, self.detail, self.pencil = ink, ink.detail, ink.pencil

    def blocks(self) -> None:
        """K and S marks inside the ring, a chock and a spacer at one place side by side; what is inside cannot meet a size.

        Where the daylight is too narrow they stand outside the recess, or at the end of a leader.
        """
        blocks: list[tuple[Chock | Spacer, Point]] = [(each, each.foot) for each in self.detail.chocks]
        blocks += [(each, each.centre) for each in self.detail.spacers]
        near = self.pencil.paper(7.0)
        for block, at in blocks:
            twin = next(
                (
                    (other, place)
                    for other, place in blocks
                    if other.mark[0] != block.mark[0] and math.dist(place, at) < near
                ),
                None,
            )
            self._block_name(
                block, at, twin, [place for other, place in blocks if other.mark[0] == block.mark[0] and other is not block]
            )

    def _block_name(self, block: Chock | Spacer, at: Point, twin: tuple[Chock | Spacer, Point] | None, others: list[Point]) -> None:
        pencil = self.pencil
        inward = Point(*polar((0.0, 0.0), block.angle + 90.0, 1.0))
        reach, out = self.ink.inner(at, inward), self.ink.outer(at, Point(-inward.x, -inward.y))
        half = pencil.width(block.mark) / 2
        depth = abs(inward.x) * half + abs(inward.y) * pencil.paper(pencil.style.text / 2)
        level = abs(inward.y) >= abs(inward.x)
        shifts: tuple[float, ...] = (0.0, 3.5, -3.5, 5.0, -5.0, 8.0, -8.0)
        if twin is not None:
            other, there = twin
            beside = (pencil.width(other.mark) / 2 + half) * pencil.scale / 2 + 1.0 if level else pencil.style.text / 2 + 1.2
            left = polar((0.0, 0.0), block.angle, 1.0)
            sign = (1.0 if left[0] > 0 else -1.0) if level else (1.0 if left[1] < 0 else -1.0)
            ahead = (there.x - at.x) * left[0] + (there.y - at.y) * left[1]  # names stand in the order of their running sizes
            behind = ahead > 0.0 if abs(ahead) > ONE_PLACE else (sign > 0.0) == (block.mark[0] == "K")
            own = -beside if behind else beside
            shifts = (own, own * 1.6, *shifts)
        far_inside = (11.0, -11.0) if is_rectangular(self.detail) else ()
        texts = (
            pencil.text("TEXT", polar(spot, block.angle, pencil.paper(shift)), block.mark, align="middle", centred=True)
            for way, far, beside in (
                (90.0, reach, shifts),
                (90.0, reach, far_inside),
                (-90.0, out, (3.5, -3.5, 5.0, -5.0, 8.0, -8.0)),
                (90.0, reach, (11.0, -11.0, 14.0, -14.0)),
            )
            for more in (1.6, 4.4, 7.4)
            for shift in beside
            for spot in (polar(at, block.angle + way, far + depth + pencil.paper(more)),)
        )
        if not self.ink.name(texts, block.mark, partial(_nearer, at, others)) and not self.ink.led_name(
            block.mark, block.mark, at, block.angle + 90.0
        ):
            self.ink.no_room(block.mark)

    def corners(self) -> None:
        """V1, V2 ... outside the corners of a pane that is no rectangle."""
        if is_rectangular(self.detail):
            return
        pencil = self.pencil
        for corner in self.detail.corners:
            outward = math.degrees(math.atan2(-corner.bisector.y, -corner.bisector.x))
            back = Point(-corner.bisector.x, -corner.bisector.y)
            out, inside = self.ink.outer(corner.theoretical, back), self.ink.inner(corner.theoretical, corner.bisector)
            candidates = (
                pencil.text(
                    "TEXT",
                    polar(corner.theoretical, way + turn, reach + pencil.paper(more)),
                    f"V{corner.number}",
                    align="middle",
                    centred=True,
                )
                for way, reach, steps in (
                    (outward, out, (4.0, 6.0, 8.0, 10.0)),
                    (outward + 180.0, inside, (4.0, 6.0, 9.0)),
                    (outward, out, (13.0, 16.0)),
                )
                for more in steps
                for turn in (0.0, 15.0, -15.0, 35.0, -35.0, 55.0, -55.0)
            )
            others = [other.theoretical for other in self.detail.corners if other.number != corner.number]
            if not self.ink.name(candidates, f"V{corner.number}", partial(_nearer, corner.theoretical, others)):
                self.ink.no_room(f"V{corner.number}")

    def edges(self) -> None:
        """e1, e2 ... with their lengths between sharp corners, along the edges of a pane that is no rectangle: inside the ring, or close
        outside the recess.
        """
        if is_rectangular(self.detail):
            return
        pencil = self.pencil
        lengths = {edge.name: edge.end for edge in edges_of(self.detail.curves.glass)}
        for name, place, angle in self.detail.edge_middles:
            inward = Point(*polar((0.0, 0.0), angle + 90.0, 1.0))
            half = pencil.paper(pencil.style.text / 2)
            inside, outside = self.ink.inner(place, inward), self.ink.outer(place, Point(-inward.x, -inward.y))
            strings = (f"{name} ({as_fine_as(lengths[name], 1.0)})", name) if name in lengths else (name,)
            candidates = (
                pencil.text(
                    "TEXT", polar(spot, angle, pencil.paper(shift)), string, align="middle", rotation=turned, centred=True
                )
                for string in strings
                for way, reach, steps in ((90.0, inside, (2.5, 5.5)), (-90.0, outside, (2.0, 4.5)), (90.0, inside, (8.5, 12.0)))
                for more in steps
                for shift in (0.0, 10.0, -10.0, 15.0, -15.0, 20.0, -20.0, 30.0, -30.0)
                for turned in (upright(angle),)
                for spot in (polar(place, angle + way, reach + half + pencil.paper(more)),)
            )
            if not self.ink.name(candidates, f"edge {name}"):
                self.ink.no_room(f"edge {name}")


def _nearer(own: Point, others: list[Point], middle: Point) -> bool:
    """Whether a place is nearer to its own thing than to any other of its kind."""
    return all(math.dist(own, middle) <= math.dist(other, middle) for other in others)


__all__ = ["PlanNames"]
