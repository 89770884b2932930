"""What reaches in an enlarged corner over the line that it must keep to, hatched, with the depth by which it does.

Terms
-----
overlap
    Glass beyond the wall of the recess.
off the landing, past the frit
    The bead beyond the end of the landing, or beyond the print that has to cover it.
squeeze-out
    The bead as it is pressed at the tightest place, where the print does not cover it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from geometry.outline import Point, nearest_station, point_in
from geometry.outline.clip import clip_path
from geometry.outline.offset import try_offset
from outputs.drawing.plan_outlines import nodes_of
from outputs.sheet.boxes import box_of_text, grown
from outputs.sheet.drafting import number
from outputs.sheet.entities import Hatch, Path
from outputs.sheet.keep_clear import crosses
from outputs.sheet.runs import run, shorter_arcs

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.detail.parts import Curves
    from geometry.outline import Outline
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Mark, Node, Place
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.pencil import Pencil

STEP = 0.5  # mm of the plan from place to place of an overlap
LOOKS = 8  # places by which a piece is looked at first
BESIDE = 5.0  # paper mm from the window to a name right of it
AIR = 0.7  # paper mm from a leader to the name at its end
LEAST = 0.05  # mm, an overlap that is drawn


@dataclass(frozen=True, slots=True)
class Overlap:
    """One overlap: what it is, how deep, mm, its deepest place, and its outline."""

    name: str
    depth: float
    at: Place
    places: tuple[Place, ...]

    @property
    def words(self) -> str:
        """Its name and depth, to a tenth."""
        return f"{self.name} {number(self.depth, decimals=1)}"

    def marks(self) -> list[Mark]:
        """The hatched area and its outline."""
        nodes = tuple((x, y, 0.0) for x, y in self.places)
        return [Hatch("DIMENSIONS", "compression", (nodes,)), run("DIMENSIONS", self.places, closed=True)]


def overlaps(curves: Curves, window: Box, *, squeeze: float = 0.0) -> list[Overlap]:
    """Of each kind the deepest within the window; ``squeeze`` is the squeeze-out that the print does not cover, mm, 0 where it does."""
    kinds: list[tuple[str, Outline | None, Outline, bool]] = [
        ("overlap", curves.glass, curves.recess, False),
        ("off the landing", curves.bead_inner, curves.sight_line, True),
        ("past the frit", curves.bead_inner, curves.frit_inner, True),
    ]
    if squeeze > 0.0:
        kinds.append(("squeeze-out past the frit", try_offset(curves.bead_inner, -squeeze), curves.frit_inner, True))
    found = []
    for name, outline, limit, inside in kinds:
        runs = [] if outline is None else list(_beyond(outline, limit, window, inside=inside))
        if runs:
            found.append(max((_overlap(name, run_, limit) for run_ in runs), key=lambda each: each.depth))
    return [each for each in found if each.depth >= LEAST]


def overlap_names(beyond: Sequence[Overlap], window: Box, pencil: Pencil, room: KeepClear) -> list[Mark]:
    """What each overlap is, with its depth, in the window or right of it, on a leader that crosses no other."""
    left, bottom, right, top = window
    step = pencil.paper(3.0)
    marks: list[Mark] = []
    for each in beyond:
        long = pencil.width(each.words)
        rows = range(1, int((top - bottom) / step))
        lefts = (right + pencil.paper(BESIDE), *(left + step * (1 + count) for count in range(int((right - left - long) / step))))
        spots = sorted(
            ((x, bottom + step * row) for x in lefts for row in rows),
            key=lambda spot: (math.dist((spot[0] + long / 2, spot[1]), each.at), spot),
        )
        what = f"size {each.words}"
        for x, y in spots:
            text = pencil.text("TEXT", (x, y + pencil.paper(1.4)), each.words)
            start = (x, y) if abs(x - each.at[0]) <= abs(x + long - each.at[0]) else (x + long, y)
            leader = run("ITEM_LEADERS", (each.at, start, (x + long if start[0] == x else x, y)))
            shelf = (x, y, x + long, y + pencil.paper(1.4))
            through = crosses(grown(box_of_text(text, pencil.scale), pencil.paper(AIR)), (*each.at, *start))
            if not through and room.takes((text, leader)) and room.free(shelf) and room.leads(leader):
                room.add((text, leader))
                room.lead(leader)
                room.drawn(what)
                marks += [leader, text]
                break
        else:
            room.tabled(what, "no free place beside the corner")
    return marks


def squeeze_line(curves: Curves, window: Box, squeeze: float) -> list[Mark]:
    """The edge of the bead as it is pressed at the tightest place, in the window."""
    pressed = try_offset(curves.bead_inner, -squeeze)
    if pressed is None:
        return []
    return [Path("DETAIL_DASHED", nodes, closed) for nodes, closed in clip_path(nodes_of(pressed), closed=True, window=window)]


def _beyond(outline: Outline, limit: Outline, window: Box, *, inside: bool) -> Iterator[list[Point]]:
    """Runs of places of an outline that lie on the wrong side of a limit: ``inside`` of it, or outside."""
    for nodes, closed in clip_path(nodes_of(outline), closed=True, window=window):
        places = _places((*nodes, nodes[0]) if closed else nodes)
        step = max(1, len(places) // LOOKS)
        if not any(point_in(limit, each) is inside for each in places[::step]):
            continue
        own: list[Point] = []
        for each in places:
            if point_in(limit, each) is inside:
                own.append(each)
            elif len(own) > 1:
                yield own
                own = []
            else:
                own = []
        if len(own) > 1:
            yield own


def _places(nodes: tuple[Node, ...]) -> list[Point]:
    """Places along a run, at most ``STEP`` apart."""
    found = [Point(nodes[0][0], nodes[0][1])]
    for start, end in pairwise(nodes):
        if start[2]:
            chord = math.dist(start[:2], end[:2])
            sweep = 4 * math.atan(abs(start[2]))
            radius = chord / 2 / math.sin(sweep / 2)
            ends, _ = shorter_arcs(start, end, longest=STEP / radius)
        else:
            count = max(1, math.ceil(math.dist(start[:2], end[:2]) / STEP))
            ends = [
                (start[0] + (end[0] - start[0]) * k / count, start[1] + (end[1] - start[1]) * k / count)
                for k in range(1, count + 1)
            ]
        found += [Point(x, y) for x, y in ends]
    return found


def _overlap(name: str, places: list[Point], limit: Outline) -> Overlap:
    nearest = [nearest_station(limit, each).point for each in places]
    depths = [math.dist(one, other) for one, other in zip(places, nearest, strict=True)]
    deepest = max(range(len(places)), key=lambda index: depths[index])
    one, other = places[deepest], nearest[deepest]
    at = ((one.x + other.x) / 2, (one.y + other.y) / 2)
    return Overlap(name, depths[deepest], at, tuple((p.x, p.y) for p in (*places, *reversed(nearest))))


__all__ = ["Overlap", "overlap_names", "overlaps", "squeeze_line"]
