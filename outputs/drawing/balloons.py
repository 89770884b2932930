"""Item numbers of the parts list in balloons, each with a leader that ends in a dot on its part.

The parts are numbered in the order in which they lie in the section through a spacer, so that one row of balloons under it stands in
ascending order and no leader crosses another. What lies over the row's parts has its balloon over the section.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.detail.parts import BlockKind
from geometry.outline import Point
from outputs.sheet.entities import Fill, Mark
from outputs.sheet.outcomes import ItemNumber
from outputs.sheet.runs import circle, circle_nodes, line, polar

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from geometry.detail.parts import Chock, Detail, Section
    from outputs.drawing.section_view import CutBack
    from outputs.sheet.entities import Place
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.pencil import Pencil

RADIUS = 3.0  # paper mm
PITCH = 7.4  # paper mm, least between the middles of two balloons
UNDER = 9.0  # paper mm from the foot of the section to the middles of the row
OFF_EDGE = 1.6  # paper mm from the end of the landing to a leader that runs beside it
OFF_DOT = 0.8  # paper mm from a dot to the leader of a flag that passes it
ITEM_OF = {"frame": "1", "backer": "2", "spacer": "3", "adhesive": "4", "frit": "5", "glass": "6", "sealant": "7"}
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


def items_under(section: Section, pencil: Pencil, ends: CutBack) -> tuple[Item, ...]:
    """The parts that a row under the section names, in the order of their numbers, which is that in which they lie."""
    x, levels = section.crossing, section.levels
    middles = {face.material: _middle(face.nodes) for face in section.faces}
    found = [Item(ITEM_OF["frame"], (ends.left * 0.45, levels.skin * 0.3))]
    found += [Item(ITEM_OF[name], middles[name]) for name in ("backer", "spacer", "adhesive") if name in middles]
    solid = min(x.frit_inner if x.frit_fade is None else x.frit_fade, ends.right)
    bare = max(x.bead_inner, x.frit_start)
    frit = bare + 0.55 * (solid - bare) if solid > bare + 0.5 else (x.frit_start + x.bead_outer) / 2
    off = pencil.paper(OFF_EDGE)
    if abs(frit - x.landing) < off:  # else its leader would run down the end of the landing
        frit = x.landing - off if x.landing - off > x.frit_start else x.landing + off
    found.append(Item(ITEM_OF["frit"], (min(frit, ends.right - pencil.paper(5.0)), levels.bond_face - pencil.paper(0.6))))
    found.append(
        Item(ITEM_OF["glass"], (ends.right - pencil.paper(2.6), levels.bond_face + 0.2 * (levels.glass_face - levels.bond_face)))
    )
    return tuple(found)


def item_of_backfill(section: Section) -> Item | None:
    """The backfill that a section cuts."""
    face = next((face for face in section.faces if face.material == "sealant"), None)
    return None if face is None else Item(ITEM_OF["sealant"], _middle(face.nodes))


def items_in_plan(detail: Detail, told: Collection[str]) -> tuple[tuple[str, tuple[Point, ...]], ...]:
    """The blocks whose number no section carries, with the places where they stand; ``told`` are the numbers that stand already."""
    kinds = {chock.kind for chock in detail.chocks}
    wanted = [(ITEM_OF["spacer"], tuple(spacer.centre for spacer in detail.spacers))]
    wanted += [
        (item_of_chock(detail, kind), tuple(_inside(chock) for chock in detail.chocks if chock.kind == kind))
        for kind in CHOCK_KINDS
        if kind in kinds
    ]
    return tuple((number, places) for number, places in wanted if places and number not in told)


def _inside(chock: Chock) -> Point:
    """The middle of a chock on the plan."""
    turn, half = math.radians(chock.angle), chock.height / 2
    return Point(chock.foot.x + half * math.sin(turn), chock.foot.y - half * math.cos(turn))


def item_on_chock(section: Section, detail: Detail) -> Item | None:
    """The chock that a section cuts."""
    face = next((face for face in section.faces if face.material == "chock"), None)
    if face is None or section.chock is None:
        return None
    x, z = _middle(face.nodes)
    return Item(item_of_chock(detail, section.chock.kind), (x, z * 0.7))


def _middle(nodes: tuple[tuple[float, float, float], ...]) -> Place:
    xs, zs = [x for x, _, _ in nodes], [z for _, z, _ in nodes]
    return (min(xs) + max(xs)) / 2, (min(zs) + max(zs)) / 2


def balloon(item: Item, centre: Place, pencil: Pencil) -> tuple[Mark, ...]:
    """Balloon, number, leader and dot."""
    radius = pencil.paper(RADIUS * pencil.style.text / 2.5)
    away = math.degrees(math.atan2(item.place[1] - centre[1], item.place[0] - centre[0]))
    return (
        circle("ITEM_LEADERS", centre, radius),
        pencil.text("TEXT", centre, item.number, align="middle", centred=True),
        line("ITEM_LEADERS", polar(centre, away, radius), item.place),
        Fill("ITEM_LEADERS", circle_nodes(item.place, pencil.paper(0.45))),
    )


def balloon_row(items: Sequence[Item], pencil: Pencil, room: KeepClear, *, level: float) -> list[Mark]:
    """Balloons in one row with their middles at ``level``, each as near under its part as its neighbours let it."""
    pitch = pencil.paper(PITCH * pencil.style.text / 2.5)
    places = pooled([item.place[0] for item in items], pitch)
    if room.within is not None:
        limit = room.within[2] - pencil.paper(RADIUS * pencil.style.text / 2.5 + 0.3)
        for index in range(len(places) - 1, -1, -1):
            places[index] = min(places[index], limit)
            limit = places[index] - pitch
    marks: list[Mark] = []
    off = pencil.paper(OFF_DOT)
    for item, x in zip(items, places, strict=True):
        marks += balloon(item, (x, level), pencil)
        room.lead(line("ITEM_LEADERS", (x, level), item.place))
        for (u, v), half in ((item.place, off), ((x, level), pencil.paper(RADIUS * pencil.style.text / 2.5))):
            room.lead(line("ITEM_LEADERS", (u - half, v), (u + half, v)))  # nor over its dot, nor through the balloon
        room.drawn(ItemNumber(item.number))
    room.add(marks)
    return marks


def balloon_beside(item: Item, centre: Place, pencil: Pencil, room: KeepClear) -> list[Mark]:
    """One balloon where it is wanted."""
    marks = list(balloon(item, centre, pencil))
    room.add(marks)
    room.drawn(ItemNumber(item.number))
    return marks


def pooled(wanted: Sequence[float], pitch: float) -> list[float]:
    """Rising places moved as little as can be (least squares) so that each lies at least ``pitch`` after the one before.

    >>> pooled([10.0, 12.0, 30.0], 5.0)
    [8.5, 13.5, 30.0]
    """
    stacks: list[tuple[float, int]] = []
    for index, place in enumerate(wanted):
        mean, count = place - index * pitch, 1
        while stacks and stacks[-1][0] > mean:
            before, number = stacks.pop()
            mean = (mean * count + before * number) / (count + number)
            count += number
        stacks.append((mean, count))
    flat = [mean for mean, count in stacks for _ in range(count)]
    return [place + index * pitch for index, place in enumerate(flat)]


__all__ = [
    "ITEM_OF",
    "RADIUS",
    "Item",
    "balloon",
    "balloon_beside",
    "balloon_row",
    "item_of_backfill",
    "item_of_chock",
    "item_on_chock",
    "items_in_plan",
    "items_under",
    "pooled",
]
