"""Item numbers of the parts list in balloons, each with a leader that ends in a dot on its part.

Terms
-----
lane
    The strip over a section in which its balloons stand in one row, between the extension lines that run through it.
entry
    Where a leader comes into the section: it crosses no extension line on its way there where that can be had.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import TYPE_CHECKING

import numpy as np

from geometry.detail.parts import BlockKind
from outputs.sheet.boxes import box_of
from outputs.sheet.entities import Fill, Mark, Path
from outputs.sheet.keep_clear import meet
from outputs.sheet.runs import circle, circle_nodes, line, polar

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

    from geometry.detail.parts import Detail, Section
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Place
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.pencil import Pencil

RADIUS = 3.5  # paper mm
PITCH = 8.0  # paper mm, least between the middles of two balloons
RISE = 9.0  # paper mm from the section to the middles of the balloons
LANE = 14.0  # paper mm that balloons add over a section
LANE_BESIDE = 20.0  # paper mm of the lane beside the frame that dimensions leave free
STEP = 0.5  # paper mm
REACH = 45.0  # paper mm that a balloon may stand beside its part
CROSSING = 500.0  # what the crossing of a line weighs against paper mm squared of leaning
FRAME_PLACES = (0.35, 0.6, 0.9, 0.15)  # of the way from the top of the section to its lowest item, where the frame is pointed at
WRITTEN_OVER = 50  # times that for a text
NO_PLACE = "no place over the section from which a leader runs clear of texts"

ITEM_OF = {"frame": "1", "glass": "2", "adhesive": "3", "frit": "4", "sealant": "5", "backer": "6", "spacer": "7"}
CHOCK_KINDS = tuple(BlockKind)  # numbered from 8 on, as far as a pane has them


@dataclass(frozen=True, slots=True)
class Item:
    """One number of the parts list and the place on its part."""

    number: str
    place: Place


def item_of_chock(detail: Detail, kind: BlockKind) -> str:
    """The number of a kind of chock in the parts list."""
    kinds = {chock.kind for chock in detail.chocks}
    present = [name for name in CHOCK_KINDS if name in kinds]
    return str(len(ITEM_OF) + 1 + present.index(kind))


def items_of(section: Section, detail: Detail) -> tuple[Item, ...]:
    """Every part that a section through a spacer cuts, from the wall inwards."""
    x, levels, profile = section.crossing, section.levels, section.profile
    middles = {face.material: _middle(face.nodes) for face in section.faces}
    solid_end = x.frit_inner if x.frit_fade is None else x.frit_fade
    bare = max(x.bead_inner, x.frit_start)
    frit = bare + 0.4 * (solid_end - bare) if solid_end > bare + 0.5 else (x.frit_start + x.bead_outer) / 2
    outer_ply = detail.glass.plies[0].thickness
    found = [Item(ITEM_OF["frame"], (profile.wall_at(levels.skin) - 6.0, max(levels.skin - 4.0, levels.skin / 2)))]
    for material in ("backer", "sealant", "spacer", "adhesive"):
        if material in middles:
            found.append(Item(ITEM_OF[material], middles[material]))
    found.append(Item(ITEM_OF["frit"], (frit, levels.bond_face)))
    found.append(Item(ITEM_OF["glass"], (max(x.landing, x.frit_inner) + 5.0, levels.glass_face - outer_ply / 2)))
    return tuple(found)


def item_on_chock(section: Section, detail: Detail) -> Item | None:
    """The chock that a section cuts."""
    face = next((face for face in section.faces if face.material == "chock"), None)
    if face is None or section.chock is None:
        return None
    return Item(item_of_chock(detail, section.chock.kind), _middle(face.nodes))


def _middle(nodes: tuple[tuple[float, float, float], ...]) -> Place:
    xs, zs = [x for x, _, _ in nodes], [z for _, z, _ in nodes]
    return (min(xs) + max(xs)) / 2, (min(zs) + max(zs)) / 2


def balloon(item: Item, centre: Place, pencil: Pencil) -> tuple[Mark, ...]:
    """Balloon, number, leader and dot."""
    radius = pencil.paper(RADIUS)
    away = math.degrees(math.atan2(item.place[1] - centre[1], item.place[0] - centre[0]))
    return (
        circle("ITEM_LEADERS", centre, radius),
        pencil.text("TEXT", centre, item.number, height=pencil.style.label, align="middle", centred=True),
        line("ITEM_LEADERS", polar(centre, away, radius), item.place),
        Fill("ITEM_LEADERS", circle_nodes(item.place, pencil.paper(0.5))),
    )


def balloon_row(items: tuple[Item, ...], lines: tuple[float, ...], pencil: Pencil, room: KeepClear, *, top: float) -> list[Mark]:
    """Balloons in one row over ``top`` (z), clear of texts and of the upright extension lines at ``lines`` (x), no leader across another.

    The order is that of the items, but neighbours whose leaders would cross change places.
    """
    lane = _Lane(items, lines, pencil, room, top=top)
    best: tuple[float, list[Mark]] = (math.inf, [])
    for share in FRAME_PLACES:
        low, high = min(item.place[1] for item in items), top
        first = Item(items[0].number, (items[0].place[0], high - share * (high - low)))
        order = [first, *items[1:]]
        for _ in range(len(items)):
            cost, centres = lane.centres(order)
            leaders = [(*centre, *item.place) for centre, item in zip(centres, order, strict=True)]
            crossed = next((index for index, pair in enumerate(pairwise(leaders)) if meet(*pair)), None)
            if crossed is None:
                break
            order[crossed : crossed + 2] = order[crossed + 1], order[crossed]
        if any(meet(*pair) for pair in combinations(leaders, 2)):
            cost += WRITTEN_OVER * CROSSING
        if cost < best[0] - 1e-9:
            best = cost, [mark for item, centre in zip(order, centres, strict=True) for mark in balloon(item, centre, pencil)]
    for item in items:
        if not best[1]:
            room.tabled(f"item {item.number}", NO_PLACE)
        else:
            room.drawn(f"item {item.number}")
    return best[1]


class _Lane:
    """The lane of one section: where a balloon may stand, and what its leader costs from there."""

    def __init__(self, items: tuple[Item, ...], lines: tuple[float, ...], pencil: Pencil, room: KeepClear, *, top: float) -> None:
        self.room, self.top = room, top
        self.y = top + pencil.paper(RISE)
        self.step, clear = pencil.paper(STEP), pencil.paper(RADIUS + 0.5)
        first = min(item.place[0] for item in items) - pencil.paper(REACH)
        count = round((max(item.place[0] for item in items) + pencil.paper(REACH) - first) / self.step) + 1
        self.places = [first + index * self.step for index in range(count)]
        xs = np.array(self.places)
        near = np.abs(xs[:, None] - np.array(lines)[None, :]).min(axis=1, initial=math.inf) < clear
        self.free = ~(near | room.lettered(xs, self.y, clear))
        self._xs, self._lines = xs, np.array(lines)
        self._costs: dict[Item, NDArray[np.float64]] = {}

    def costs(self, item: Item) -> NDArray[np.float64]:
        """What the leader of an item costs from each place: its lean squared, and every line and text that it crosses."""
        if item not in self._costs:
            share = (self.y - self.top) / (self.y - item.place[1])
            entries = self._xs + (item.place[0] - self._xs) * share
            low, high = np.minimum(self._xs, entries)[:, None], np.maximum(self._xs, entries)[:, None]
            crossed = ((low < self._lines) & (self._lines < high)).sum(axis=1)
            texts = self.room.written_over(self._xs, self.y, item.place)
            lean = (self._xs - item.place[0]) / self.step * STEP
            self._costs[item] = lean * lean + (WRITTEN_OVER * texts + crossed) * CROSSING
        return self._costs[item]

    def centres(self, items: list[Item]) -> tuple[float, list[Place]]:
        """The middles of the balloons from left to right, and what they cost.

        They lean their leaders as little as the pitch and the lines allow and cross a line or a text only where there is no other way:
        the least sum of squares, found place by place from the left.
        """
        pitch, count = round(PITCH / STEP), len(self.places)
        least = np.zeros(count)  # the least cost with the last balloon at or before each place
        chosen: list[NDArray[np.int_]] = []  # and where it stands then
        for order, item in enumerate(items):
            before = least if order == 0 else np.concatenate((np.full(pitch, math.inf), least[:-pitch]))
            costs = np.where(self.free, np.round(before + self.costs(item), 6), math.inf)  # what is alike counts as alike
            least = np.minimum.accumulate(costs)
            is_better = costs < np.concatenate(((math.inf,), least[:-1]))
            chosen.append(np.maximum.accumulate(np.where(is_better, np.arange(count), -1)))
        found: list[Place] = []
        at = count - 1
        for row in reversed(chosen):
            index = int(row[at])
            found.append((self.places[index], self.y))
            at = index - pitch
        return float(least[-1]), found[::-1]


def balloon_beside(item: Item, pencil: Pencil, room: KeepClear, *, top: float, right: float) -> list[Mark]:
    """One balloon over the section and left of ``right`` (x), where it and its leader touch no text."""
    radius = pencil.paper(RADIUS)
    for rise in (RISE, 11.0, 13.0, 16.0, 20.0, 24.0, 30.0):
        for back in range(60):
            centre = (right - pencil.paper(RADIUS + 1.0 + back), top + pencil.paper(rise))
            box: Box = (centre[0] - radius, centre[1] - radius, centre[0] + radius, centre[1] + radius)
            if not room.free(box):
                continue
            marks = balloon(item, centre, pencil)
            leader = next(mark for mark in marks if isinstance(mark, Path) and not mark.closed)
            if room.takes(marks) and room.leads(leader):
                take(marks, room, pencil)
                room.drawn(f"item {item.number}")
                return list(marks)
    room.tabled(f"item {item.number}", NO_PLACE)
    return []


def take(marks: Iterable[Mark], room: KeepClear, pencil: Pencil) -> None:
    """Count balloons with their leaders as standing."""
    marks = tuple(marks)
    room.add(marks)
    for mark in marks:
        if isinstance(mark, Path) and mark.closed:
            room.block(box_of(mark, pencil.scale))
        elif isinstance(mark, Path):
            room.lead(mark)


__all__ = [
    "LANE",
    "LANE_BESIDE",
    "Item",
    "balloon",
    "balloon_beside",
    "balloon_row",
    "item_of_chock",
    "item_on_chock",
    "items_of",
    "take",
]
