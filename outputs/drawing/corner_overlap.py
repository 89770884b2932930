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
from outputs.sheet.drafting import ASIDE, OVER, number
from outputs.sheet.entities import Hatch, Path
from outputs.sheet.keep_clear import crosses
from outputs.sheet.runs import run, shorter_arcs

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.detail.parts import Curves
    from geometry.outline import Outline
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Mark, Node, Place, Text
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.pencil import Pencil

NEARLY = 0.8  # of the depth of an overlap, where a leader may end
STEP = 0.5  # mm of the plan from place to place of an overlap
LOOKS = 8  # places by which a piece is looked at first
BESIDE = 5.0  # paper mm from the window to a name right of it
AIR = 0.3  # paper mm from a leader to the name at its end
LEAST = 0.05  # mm, an overlap that is drawn
SAME = 1e-6  # mm between two places that are one


@dataclass(frozen=True, slots=True)
class Overlap:
    """One overlap: what it is, how deep, mm, the places in its middle where it is about as deep, and its outline."""

    name: str
    depth: float
    deep: tuple[Place, ...]
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
    marks: list[Mark] = []
    for each in beyond:
        what = f"size {each.words}"
        found = next((one for one in _named(each, window, pencil, room) if _stands(one, pencil, room)), None)
        if found is None:
            room.tabled(what, "no free place beside the corner")
            continue
        room.add(found)
        room.lead(found[1])
        room.drawn(what)
        marks += found
    return marks


def _named(each: Overlap, window: Box, pencil: Pencil, room: KeepClear) -> Iterator[tuple[Text, Path]]:
    """The name, where it is free, on its shelf and the leader, the nearest first; the leader ends where it is shortest, else in the middle."""
    times = pencil.style.text / 2.5
    aside, over = pencil.paper(ASIDE * times), pencil.paper(OVER * times)
    long = pencil.width(each.words) + 2 * aside

    def name(spot: Place) -> Text:
        return pencil.text("TEXT", (spot[0] + aside, spot[1] + over), each.words)

    middle = each.deep[len(each.deep) // 2]
    for spot, _ in room.those_free(_shelves(each, long, window, pencil), lambda spot: box_of_text(name(spot), pencil.scale)):
        ends = (spot, (spot[0] + long, spot[1]))
        shortest = min(each.deep, key=lambda at: min(math.dist(ends[0], at), math.dist(ends[1], at)))
        for at in dict.fromkeys((shortest, middle)):
            start, far = ends if math.dist(ends[0], at) <= math.dist(ends[1], at) else ends[::-1]
            yield name(spot), run("ITEM_LEADERS", (at, start, far))


def _shelves(each: Overlap, long: float, window: Box, pencil: Pencil) -> list[Place]:
    """The left ends of the shelves, those with their middle nearest to the overlap first."""
    left, bottom, right, top = window
    step = pencil.paper(3.0)
    rows = range(1, int((top - bottom) / step))
    lefts = (right + pencil.paper(BESIDE), *(left + step * (1 + count) for count in range(int((right - left - long) / step))))
    spots = [(x, bottom + step * row) for x in lefts for row in rows]
    away = _least_distances([(x + long / 2, y) for x, y in spots], each.deep)
    return [spot for _, spot in sorted(zip(away, spots, strict=True))]


def _least_distances(places: Sequence[Place], others: Sequence[Place]) -> list[float]:
    """From each place to the nearest of the others: those that may be it are found together, and measured one by one."""
    import numpy as np

    if not places:
        return []
    (x, y), (x2, y2) = np.array(places).T, np.array(others).T
    apart = np.hypot(x[:, None] - x2, y[:, None] - y2)
    least = [math.inf] * len(places)
    for one, other in np.argwhere(apart <= apart.min(axis=1, keepdims=True) + SAME).tolist():
        least[one] = min(least[one], math.dist(places[one], others[other]))
    return least


def _stands(named: tuple[Text, Path], pencil: Pencil, room: KeepClear) -> bool:
    """Whether a leader runs into nothing, its own name included, and its shelf is free."""
    text, leader = named
    box, (at, start, far) = box_of_text(text, pencil.scale), leader.nodes
    if crosses(grown(box, pencil.paper(AIR)), (*at[:2], *start[:2])) or not room.clear_of_texts(named) or not room.leads(leader):
        return False
    return room.free((min(start[0], far[0]), start[1], max(start[0], far[0]), box[1]))


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
    deepest = max(depths)
    deep = tuple(
        ((one.x + other.x) / 2, (one.y + other.y) / 2)
        for one, other, depth in zip(places, nearest, depths, strict=True)
        if depth >= NEARLY * deepest
    )
    round_it = [(p.x, p.y) for p in (*places, *reversed(nearest))]  # many places share the nearest one at a corner
    apart = [at for at, before in zip(round_it, (round_it[-1], *round_it), strict=False) if math.dist(at, before) > SAME]
    return Overlap(name, deepest, deep, tuple(apart))


__all__ = ["Overlap", "overlap_names", "overlaps", "squeeze_line"]
