"""The overall sizes of the plan: glass and recess, and the chocks along a level sill, below and beside the recess."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.detail.edges import ROUND
from geometry.detail.parts import BlockKind
from geometry.outline import Point, bounding_box, corners, ray_hits
from outputs.drawing.plan_outlines import nodes_of
from outputs.sheet.drafting import toleranced
from outputs.sheet.keep_clear import facets

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Dimension, Place
    from outputs.sheet.pencil import Pencil

LONGEST_EXTENSION = 80.0  # paper mm that an extension line may run up beside the pane
DOWN = Point(0.0, -1.0)
ROW_BELOW_MARKS = 17.0  # paper mm from the recess to the first dimension line where cutting lines stand


class PlanSizes:
    """Lays them out. ``box`` is that of pane and recess together, ``framed`` the window of the enlarged corner where it is shown.

    ``mirrored``: the plan is turned over afterwards, and the figures of the heights then stand between their line and the pane.
    """

    def __init__(self, detail: Detail, pencil: Pencil, box: Box, framed: Box | None, *, mirrored: bool = False) -> None:
        self.detail, self.pencil, self.box, self.framed, self.mirrored = detail, pencil, box, framed, mirrored

    def marks(self) -> list[Dimension]:
        """The sizes, the rows below first."""
        pencil, style, detail = self.pencil, self.pencil.style, self.detail
        pane, recess = bounding_box(detail.curves.glass), bounding_box(detail.curves.recess)
        tolerance = detail.pane_tolerance
        rows: list[tuple[Place, Place, str | None, float | None]] = []
        sharp = corners(detail.curves.glass)
        sill = [
            chock
            for chock in detail.chocks
            if chock.kind == BlockKind.SETTING and abs(chock.angle) < 1e-6 and chock.edge.startswith("e")
        ]
        for chock in sill:
            rows.append((self._under(chock.foot.x - chock.distance), self._under(chock.foot.x), None, None))
        round_pane = not sharp and detail.chocks and detail.chocks[0].edge == ROUND
        marked = "Ø" if round_pane and abs((pane.right - pane.left) - (pane.top - pane.bottom)) < 1e-6 else ""
        for whole, spread in ((pane, tolerance), (recess, detail.recess_tolerance)):
            # the widest places of a round pane are far up: its sizes stand under it
            ends = (
                ((whole.left, self.box[1]), (whole.right, self.box[1]))
                if marked
                else (self._under(whole.left), self._under(whole.right))
            )
            rows.append((*ends, marked, spread))
        level = self.box[1] - pencil.paper(ROW_BELOW_MARKS)
        if self.framed is not None:
            level = min(level, self.framed[1] - pencil.paper(style.text + 3.0))
        dimensions: list[Dimension] = []
        for first, second, prefix, deviation in rows:
            dimensions.append(self._size(first, second, level, 0.0, prefix or "", deviation))
            level -= pencil.paper(style.row)
        if not marked:
            side, at, row = self._side_of_heights()
            dimensions.append(self._size((side, pane.bottom), (side, pane.top), at, 90.0, "", tolerance))
            dimensions.append(self._size((side, recess.bottom), (side, recess.top), at + row, 90.0, "", detail.recess_tolerance))
        return dimensions

    def _under(self, x: float) -> Place:
        """Where an extension line to the rows below begins: at the lowest place of recess and pane there, unless that is far up."""
        from_top = Point(x, self.box[3] + 1.0)
        hits = [
            hit for outline in (self.detail.curves.recess, self.detail.curves.glass) for hit in ray_hits(outline, from_top, DOWN)
        ]
        lowest = from_top.y - max(hits) if hits else self.box[1]
        return x, lowest if lowest - self.box[1] < self.pencil.paper(LONGEST_EXTENSION) else self.box[1]

    def _side_of_heights(self) -> tuple[float, float, float]:
        """The side on which the heights stand, the place of their first row and the step to the next.

        They stand at the left, unless the highest and the lowest place of the pane both lie nearer to the right.
        """
        pencil, style, pane = self.pencil, self.pencil.style, bounding_box(self.detail.curves.glass)
        near = pencil.paper(0.5)
        places = [straight[:2] for straight in facets(nodes_of(self.detail.curves.glass), closed=True)]
        highest = [x for x, y in places if y > pane.top - near] or [pane.left]
        lowest = [x for x, y in places if y < pane.bottom + near] or [pane.left]
        from_left = min(highest) + min(lowest) - 2 * pane.left
        from_right = 2 * pane.right - max(highest) - max(lowest)
        if from_right < 0.5 * from_left:
            at = self.box[2] + pencil.paper(ROW_BELOW_MARKS)
            if self.framed is not None:
                at = max(at, self.framed[2] + pencil.paper(style.text + 3.0))
            return self.box[2], at, pencil.paper(style.row)
        at = self.box[0] - pencil.paper(ROW_BELOW_MARKS if self.mirrored else style.first_row)
        if self.framed is not None:
            at = min(at, self.framed[0] - pencil.paper(2.0))
        return self.box[0], at, -pencil.paper(style.row)

    def _size(self, first: Place, second: Place, at: float, angle: float, prefix: str, tolerance: float | None) -> Dimension:
        value = second[0] - first[0] if angle == 0.0 else second[1] - first[1]
        return self.pencil.linear(first, second, line_at=at, angle=angle, text=f"{prefix}{toleranced(value, tolerance)}")


__all__ = ["PlanSizes"]
