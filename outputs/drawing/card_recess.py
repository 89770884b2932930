"""Side 1 of the fitter's card, first picture: the recess as he stands before it, with the places of all blocks.

A row of running distances runs outside each wall, its zero at the neighbouring wall; the setting chocks have a line of their own inside.
Figures stand upright, each as near to its tick as it finds room; one that finds none is told in a table.

Terms
-----
tape mark
    A triangle in the middle of each side: a strip of tape over hull and glass at the dry fit, cut in the joint, brings the pane back.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from itertools import combinations, pairwise
from typing import TYPE_CHECKING

from outputs.drawing.card_facts import rounded_distances
from outputs.drawing.card_fit import drawn, on_edge, parallel
from outputs.drawing.card_hand import APART, STRONG, TITLE, dot, head, numbered, polygon, upward_triangle, width_of, words
from outputs.sheet.boxes import box_of_text, grown, overlap
from outputs.sheet.runs import line

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.detail.parts import Detail
    from geometry.outline import Corner, Outline, Point
    from outputs.drawing.card_facts import CardFacts, Row, Tick
    from outputs.drawing.card_fit import Fit
    from outputs.drawing.card_room import Room
    from outputs.sheet.entities import Mark, Place, Text

ROW_OFF, TICK, OVER_TICK = 5.0, 1.3, 1.1  # wall to row; half a tick; tick to figure
GLASS_IN, SPACER_IN = 3.3, 5.0  # inside the wall: edge of the glass, middle of a spacer
SPACER, CHOCK_HIGH, CHOCK_LEAST = (3.0, 1.8), 2.3, 4.0
BETWEEN = 2.4  # between two figures of a row, so that nobody reads them as one
STAGGER = 5.3  # from one row of figures to the next
NUDGES = (
    (0.0, 0.0), (0.8, 0.0), (-0.8, 0.0), (1.6, 0.0), (-1.6, 0.0), (2.4, 0.0), (-2.4, 0.0),
    (3.4, 2.6), (-3.4, 2.6), (4.6, 2.8), (-4.6, 2.8), (6.0, 3.2), (-6.0, 3.2),
)  # fmt: skip
"""How far a figure moves along its row, and how much farther out it then stands, paper mm; the first that is clear."""
LINE_IN, LINE_MOST, CLIMB = 14.2, 34.0, 0.4  # height of the chocks' line over their wall, and its steps
LEVEL_WALL = 0.25  # sine of the slope up to which the chocks' line runs inside


@dataclass
class RecessPicture:
    """The marks of the picture, and what found no room on it: row, block, figure."""

    marks: list[Mark] = field(default_factory=list)
    tabled: list[tuple[Row, Tick]] = field(default_factory=list)
    unnamed: list[str] = field(default_factory=list)  # marks and heights of chocks, to be told beside the picture
    wall: Outline | None = None


def recess_picture(detail: Detail, facts: CardFacts, fit: Fit, room: Room) -> RecessPicture:
    """Wall, blocks, rows, chocks and corner numbers; everything is taken into the account of the room."""
    wall = fit.outline(detail.curves.recess)
    picture = RecessPicture(wall=wall)
    put = _Put(picture, room)
    put(drawn("RECESS", wall))
    inner = parallel(wall, -GLASS_IN)
    if inner is not None:
        put(drawn("SIGHT_LINE", inner))
    put(*_blocks(detail, fit, wall))
    put(*_tape_marks(detail, fit, wall))
    chosen = _chock_row(facts)
    rows = [(row, [tick for tick in row.ticks if row is not chosen or not tick.chock]) for row in facts.rows]
    for row, ticks in rows:
        put(*_row_lines(row, ticks, fit, wall))
    if chosen is not None and not _chock_line(chosen, detail, fit, wall, put):
        rows = [(row, list(row.ticks)) for row in facts.rows]
        chosen = None
    _zeros(facts, fit, wall, put)
    for row, ticks in rows:
        _figures(row, ticks, fit, wall, put)
    picture.marks += corner_numbers(detail, fit, wall, room)
    _chock_names(detail, chosen, fit, wall, put)
    return picture


class _Put:
    """Adds marks to the picture and to the account of the room."""

    def __init__(self, picture: RecessPicture, room: Room) -> None:
        self.picture, self.room = picture, room

    def __call__(self, *marks: Mark) -> None:
        self.picture.marks += marks
        self.room.add(marks)


def _blocks(detail: Detail, fit: Fit, wall: Outline) -> Iterator[Mark]:
    """Spacers and chocks, drawn thick."""
    for spacer in detail.spacers:
        (x, y), (dx, dy) = on_edge(wall, fit.at(spacer.centre))
        yield _block("SPACERS", (x + SPACER_IN * dx, y + SPACER_IN * dy), (dx, dy), *SPACER)
    for chock in detail.chocks:
        (x, y), (dx, dy) = on_edge(wall, fit.at(chock.foot))
        along = fit.across if abs(dx) < 0.7 else fit.upwards
        long = min(max(CHOCK_LEAST, chock.length * along), 22.0)
        yield _block("CHOCKS", (x + (0.5 + CHOCK_HIGH / 2) * dx, y + (0.5 + CHOCK_HIGH / 2) * dy), (dx, dy), long, CHOCK_HIGH)


def _block(layer: str, centre: Place, inward: Place, long: float, high: float) -> Mark:
    (x, y), (dx, dy) = centre, inward
    along = (-dy, dx)
    corners = ((-long / 2, -high / 2), (long / 2, -high / 2), (long / 2, high / 2), (-long / 2, high / 2))
    return polygon(layer, [(x + a * along[0] + b * dx, y + a * along[1] + b * dy) for a, b in corners])


def _tape_marks(detail: Detail, fit: Fit, wall: Outline) -> Iterator[Mark]:
    for place in tape_places(detail):
        (x, y), (dx, dy) = on_edge(wall, fit.at(place))
        yield upward_triangle((x - 2.2 * dx, y - 2.2 * dy), (dx, dy))


def tape_places(detail: Detail) -> tuple[Place, ...]:
    """The middle of each straight side; of a round pane its four farthest places."""
    from geometry.outline import bounding_box

    if detail.edge_middles:
        longest = sorted(detail.edge_middles, key=lambda edge: edge[0])[:6]
        return tuple((middle.x, middle.y) for _, middle, _ in longest)
    box = bounding_box(detail.curves.glass)
    x, y = (box.left + box.right) / 2, (box.bottom + box.top) / 2
    return (x, box.bottom), (box.right, y), (x, box.top), (box.left, y)


def _beside(row: Row, tick: Tick, fit: Fit, wall: Outline) -> tuple[Place, Place]:
    """Where a tick crosses its row, and the direction out of the recess there."""
    (x, y), (dx, dy) = on_edge(wall, fit.at(tick.foot))
    if row.curved:
        return (x - ROW_OFF * dx, y - ROW_OFF * dy), (-dx, -dy)
    zero, outward, way = _line_of(row, fit)
    along = (x - zero[0]) * way[0] + (y - zero[1]) * way[1]
    return (zero[0] + along * way[0], zero[1] + along * way[1]), outward


def _line_of(row: Row, fit: Fit) -> tuple[Place, Place, Place]:
    """Zero of a straight row on the paper, the direction out of the recess and the direction along it."""
    way = fit.way(row.way)
    outward = (way[1], -way[0])
    told = fit.way(row.outward)
    if outward[0] * told[0] + outward[1] * told[1] < 0:
        outward = (-outward[0], -outward[1])
    x, y = fit.at(row.zero)
    return (x + ROW_OFF * outward[0], y + ROW_OFF * outward[1]), outward, way


def _row_lines(row: Row, ticks: list[Tick], fit: Fit, wall: Outline) -> Iterator[Mark]:
    """Line of a row with its ticks and the dot of its zero; on a curve the ticks alone."""
    places = [_beside(row, tick, fit, wall) for tick in ticks]
    for (x, y), (dx, dy) in places:
        yield line("TICKS", (x - TICK * dx, y - TICK * dy), (x + TICK * dx, y + TICK * dy))
    for tick, ((x, y), outward) in zip(ticks, places, strict=True):
        if tick.beside:
            yield from _dotted(fit.at(tick.foot), (x - TICK * outward[0], y - TICK * outward[1]))
    if not row.curved and places:
        zero, _, _ = _line_of(row, fit)
        yield line("DIMENSIONS", zero, places[-1][0])


def _dotted(start: Place, end: Place) -> Iterator[Mark]:
    """A run of dots from a block in a corner arc to its tick."""
    long = ((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5
    count = int((long - 1.6) // 1.3)
    for step in range(1, count + 1):
        share = (1.0 + 1.3 * step) / long
        if share < 1.0:
            yield dot("DETAIL", (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])), 0.22)


def _zeros(facts: CardFacts, fit: Fit, wall: Outline, put: _Put) -> None:
    """The dot and the 0 of every row; rows to both sides of one zero share it."""
    done: set[Place] = set()
    for row in facts.rows:
        if row.curved:
            (x, y), (dx, dy) = on_edge(wall, fit.at(row.zero))
            zero, outward = (x - ROW_OFF * dx, y - ROW_OFF * dy), (-dx, -dy)
        else:
            zero, outward, _ = _line_of(row, fit)
        key = (round(zero[0], 1), round(zero[1], 1))
        if key in done or not row.ticks:
            continue
        done.add(key)
        put(dot("TICKS", zero, 0.9))
        found = put.room.first([text] for text in _around(zero, outward, "0", STRONG, off=TICK + OVER_TICK))
        if found is not None:
            put(*found)


def _figures(row: Row, ticks: list[Tick], fit: Fit, wall: Outline, put: _Put) -> None:
    """The figure of every tick; equal ones stand once."""
    figures = rounded_distances([tick.distance for tick in ticks])
    of_chocks = {figure for tick, figure in zip(ticks, figures, strict=True) if tick.chock}
    told = [pair for pair in zip(ticks, figures, strict=True) if pair[0].chock or pair[1] not in of_chocks]
    marked = [f"{tick.mark} {figure}" if tick.chock else figure for tick, figure in told]
    places = [_beside(row, tick, fit, wall) for tick, _ in told]
    shifts = [0.0] * len(told) if row.curved else _spread(row, fit, places, marked)
    for (tick, figure), string, (at, outward), shift in zip(told, marked, places, shifts, strict=True):
        found = next(
            filter(None, (_placed(at, outward, each, put.room, shift) for each in dict.fromkeys((string, figure)))), None
        )
        found = found or _placed_inside(tick, figure, fit, wall, put.room)
        if found is None:
            put.picture.tabled.append((row, tick))
        else:
            put(*found)


def _spread(row: Row, fit: Fit, places: list[tuple[Place, Place]], strings: list[str]) -> list[float]:
    """How far each figure of a straight row must move along it so that they stand apart, the zero staying where it is.

    Neighbours that stand too near are taken together and moved about their middle (pooling of neighbours, in their order); paper mm, to the
    left of the direction out of the recess.
    """
    zero, outward, way = _line_of(row, fit)
    wide = [width_of(string, STRONG, bold=True) for string in ("0", *strings)]
    half = [abs(way[0]) * each / 2 + abs(way[1]) * STRONG / 2 for each in wide]
    ends = [zero, *(at for at, _ in places)]
    wanted = [(x - zero[0]) * way[0] + (y - zero[1]) * way[1] for x, y in ends]
    groups: list[tuple[float, float, list[int]]] = []  # weight, place of the first, figures
    reach = [0.0]
    for one, other in pairwise(half):
        reach.append(reach[-1] + one + other + BETWEEN)
    for number in range(len(wanted)):
        weight, place, members = (1e6 if number == 0 else 1.0), wanted[number] - reach[number], [number]
        while groups and groups[-1][1] > place - 1e-9:
            before = groups.pop()
            place = (before[0] * before[1] + weight * place) / (before[0] + weight)
            weight, members = before[0] + weight, before[2] + members
        groups.append((weight, place, members))
    moved = {number: place + reach[number] - wanted[number] for _, place, members in groups for number in members}
    side = 1.0 if outward[0] * way[1] - outward[1] * way[0] > 0 else -1.0
    return [side * moved[number + 1] for number in range(len(strings))]


def _placed(at: Place, outward: Place, string: str, room: Room, shift: float) -> list[Mark] | None:
    """A figure beyond its tick, with a leader where it stands aside or farther out; None where no place is clear."""
    for text in _around(at, outward, string, STRONG, off=TICK + OVER_TICK, rows=3, moved=shift):
        if room.free(box_of_text(text, 1.0), apart=BETWEEN - 0.05):
            leader = list(_leader(at, outward, text))
            if room.clear_of_texts(leader) and room.clear_of_lines(leader):
                return [text, *leader]
    return None


def _placed_inside(tick: Tick, string: str, fit: Fit, wall: Outline, room: Room) -> list[Mark] | None:
    """A figure inside the recess beside its block, where no place outside is clear."""
    (x, y), (dx, dy) = on_edge(wall, fit.at(tick.foot))
    at = (x + (SPACER_IN + SPACER[1] / 2) * dx, y + (SPACER_IN + SPACER[1] / 2) * dy)
    found = room.first([text] for text in _around(at, (dx, dy), string, STRONG, off=OVER_TICK))
    return None if found is None else list(found)


def _around(
    at: Place, outward: Place, string: str, height: float, *, off: float, rows: int = 1, moved: float = 0.0
) -> Iterator[Text]:
    """Places of an upright figure beyond a tick: straight out first, then a little along the row, then in a row farther out."""
    half = width_of(string, height, bold=True) / 2
    (x, y), (dx, dy) = at, outward
    off += 0.25 * height * max(0.0, dy)  # a comma hangs under its line; all figures of a row stand on one
    for row in range(rows):
        for nudge, farther in NUDGES[:7] if rows == 1 else NUDGES:
            shift = nudge + moved
            more = max(farther, 2.4) if abs(shift) > 2.6 else farther
            reach = off + more + abs(dx) * half + abs(dy) * height / 2 + row * (STAGGER if abs(dy) > 0.5 else 2 * half + 2.0)
            centre = (x + reach * dx - shift * dy, y + reach * dy + shift * dx)
            yield words(centre[0], centre[1] - height / 2, string, height, bold=True, align="middle")


def _leader(at: Place, outward: Place, text: Text) -> Iterator[Mark]:
    """A line from a tick to a figure that stands aside or farther out."""
    box = box_of_text(text, 1.0)
    start = (at[0] + TICK * outward[0], at[1] + TICK * outward[1])
    edge = (min(max(start[0], box[0]), box[2]), min(max(start[1], box[1]), box[3]))
    long = math.dist(start, edge)
    if long > OVER_TICK + 1.8:
        share = 1.0 - 1.3 / long
        yield line("DIMENSIONS", start, (start[0] + share * (edge[0] - start[0]), start[1] + share * (edge[1] - start[1])))


def _chock_row(facts: CardFacts) -> Row | None:
    """The wall whose chocks have a line of their own inside: the level one that carries most."""
    level = [row for row in facts.rows if not row.curved and abs(row.way[1]) <= LEVEL_WALL and row.outward[1] < 0]
    carrying = [row for row in level if sum(tick.chock for tick in row.ticks) > 1]
    return max(carrying, key=lambda row: sum(tick.chock for tick in row.ticks), default=None)


def _chock_line(row: Row, detail: Detail, fit: Fit, wall: Outline, put: _Put) -> bool:
    """The line of the chocks inside the recess, climbing until it is clear; False where it finds no room."""
    heights = {chock.mark: chock.height for chock in detail.chocks}
    ticks = [tick for tick in row.ticks if tick.chock]
    level = LINE_IN
    while level <= LINE_MOST:
        for aside in (False, True):
            found = _chock_marks(row, ticks, heights, fit, wall, level, put.room, aside=aside)
            if found is not None:
                put(*found)
                return True
        level += CLIMB
    return False


def _chock_marks(
    row: Row, ticks: list[Tick], heights: dict[str, float], fit: Fit, wall: Outline, level: float, room: Room, *, aside: bool
) -> list[Mark] | None:
    """Line, ticks, stems, figures and heights at one level over the wall, or None where a text is not clear.

    ``aside``: the texts stand to the right of their stems, beside a wall that is near.
    """
    from geometry.outline import Point, ray_length

    zero, _, way = _line_of(row, fit)
    over = level + ROW_OFF
    texts: list[Text] = []
    lines: list[Mark] = []
    last = zero
    for tick, figure in zip(ticks, rounded_distances([tick.distance for tick in ticks]), strict=True):
        (x, y), outward_ = _beside(row, tick, fit, wall)
        at = (x - over * outward_[0], y - over * outward_[1])
        foot = (x - (ROW_OFF + 0.5 + CHOCK_HIGH) * outward_[0], y - (ROW_OFF + 0.5 + CHOCK_HIGH) * outward_[1])
        beside_spacer = any(not other.chock and abs(other.distance - tick.distance) * fit.across < 3.0 for other in row.ticks)
        if beside_spacer:
            foot = (x - (ROW_OFF + SPACER_IN + 1.6) * outward_[0], y - (ROW_OFF + SPACER_IN + 1.6) * outward_[1])
        lines += [line("DIMENSIONS", foot, at), line("TICKS", (at[0], at[1] - TICK), (at[0], at[1] + TICK))]
        tilt = abs(way[1] / way[0])
        slope = tilt * width_of(figure, TITLE, bold=True) / 2
        name = f"{_high(heights[tick.mark])} high"
        name_foot = at[1] - STRONG - 1.3 - tilt * width_of(name, STRONG, bold=True)
        share = (at[1] - name_foot - STRONG / 2) / (at[1] - foot[1])
        stem, beside = at[0] + share * (foot[0] - at[0]), 1.4 + tilt * STRONG
        if aside:
            texts += [
                words(at[0] - 1.0, at[1] + TICK + 2.4 + slope * 2, figure, TITLE, bold=True),
                words(stem + beside, name_foot, f"{tick.mark} {name}", STRONG, bold=True),
            ]
            last = at
            continue
        texts += [
            words(at[0], at[1] + TICK + (2.4 if "," in figure else 1.2) + slope, figure, TITLE, bold=True, align="middle"),
            words(stem - beside, name_foot, tick.mark, STRONG, bold=True, align="right"),
            words(stem + beside, name_foot, name, STRONG, bold=True),
        ]
        last = at
    back = ray_length(wall, Point(*last), Point(-way[0], -way[1]))
    along = (last[0] - zero[0]) * way[0] + (last[1] - zero[1]) * way[1]
    if back is None or back > along + 0.4 * over:  # over a cut-out it would run on to another wall
        return None
    tip = (last[0] - (back - 0.5) * way[0], last[1] - (back - 0.5) * way[1])
    lines += [line("DIMENSIONS", tip, last), head("DIMENSIONS", tip, (-way[0], -way[1]))]
    boxes = [box_of_text(text, 1.0) for text in texts]
    clear = all(room.free(box) for box in boxes)
    apart = not any(overlap(grown(one, APART), other) for one, other in combinations(boxes, 2))
    return [*lines, *texts] if clear and apart and room.clear_of_texts(lines) else None


def _high(height: float) -> str:
    return rounded_distances([height])[0]


def _chock_names(detail: Detail, chosen: Row | None, fit: Fit, wall: Outline, put: _Put) -> None:
    """Mark and height of the chocks that have no line inside, beside each."""
    named = set() if chosen is None else {tick.mark for tick in chosen.ticks if tick.chock}
    for chock in detail.chocks:
        if chock.mark in named:
            continue
        (x, y), (dx, dy) = on_edge(wall, fit.at(chock.foot))
        string = f"{chock.mark} {_high(chock.height)} high"
        half = width_of(string, STRONG, bold=True) / 2
        places = [
            (x + reach * dx - shift * dy, y + reach * dy + shift * dx)
            for step in range(16)
            for reach in (4.5 + step * 1.0 + abs(dx) * half + abs(dy) * STRONG / 2,)
            for shift in (0.0, 2.0, -2.0, 4.0, -4.0, 7.0, -7.0, 10.0, -10.0)
        ]
        inside = [place for place in places if _inside(wall, place) and _inside(wall, (place[0] - half, place[1]))]
        found = put.room.first([words(cx, cy - STRONG / 2, string, STRONG, bold=True, align="middle")] for cx, cy in inside)
        if found is None:
            put.picture.unnamed.append(string)
        else:
            put(*found)


def corner_numbers(detail: Detail, fit: Fit, outline: Outline, room: Room, *, first: float = 9.0) -> list[Mark]:
    """The number of each corner inside it, as near to it as is clear; a convex corner may have it farther along either side."""
    marks: list[Mark] = []
    for corner in detail.corners:
        x, y = fit.at((corner.theoretical.x, corner.theoretical.y))
        ways = [
            fit.way((end.x - corner.theoretical.x, end.y - corner.theoretical.y))
            for end in (_beyond(corner, before=True), _beyond(corner, before=False))
        ]
        if corner.convex:
            steps = sorted(((a, b) for a in range(24) for b in range(24)), key=lambda step: (max(step) + 0.3 * min(step), step))
            across = max(0.35, abs(ways[0][0] * ways[1][1] - ways[0][1] * ways[1][0]))
            reaches = [((first + a) / across, (first + b) / across) for a, b in steps]
            places = [(x + a * ways[0][0] + b * ways[1][0], y + a * ways[0][1] + b * ways[1][1]) for a, b in reaches]
        else:
            dx, dy = fit.way((corner.bisector.x, corner.bisector.y))
            places = [(x + (7.0 + 0.7 * step) * dx, y + (7.0 + 0.7 * step) * dy) for step in range(20)]
        for centre in places:
            box = (centre[0] - 3.8, centre[1] - 3.8, centre[0] + 3.8, centre[1] + 3.8)
            if room.free(box, apart=2.2) and _inside(outline, centre):
                found = numbered(centre, corner.number)
                room.add(found)
                marks += found
                break
    return marks


def _beyond(corner: Corner, *, before: bool) -> Point:
    """A place on one side of a corner, far enough from its sharp point to give the side's direction."""
    from geometry.outline import Point

    sharp, (bx, by) = corner.theoretical, corner.bisector
    turn = math.radians(corner.interior_angle / 2) * (1.0 if before else -1.0)
    return Point(sharp.x + bx * math.cos(turn) - by * math.sin(turn), sharp.y + by * math.cos(turn) + bx * math.sin(turn))


def _inside(outline: Outline, place: Place) -> bool:
    from geometry.outline import Point, point_in

    return point_in(outline, Point(*place))


__all__ = ["GLASS_IN", "RecessPicture", "corner_numbers", "recess_picture", "tape_places"]
