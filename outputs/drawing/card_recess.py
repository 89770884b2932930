"""Side 1 of the fitter's card, first picture: the recess as he stands before it, with the places of all blocks.

A row of running distances runs outside each wall, its zero at the neighbouring wall; the setting chocks have a line of their own inside.
Figures stand upright, each as near to its tick as it finds room; one that stands off its row says from which corner it counts.

Terms
-----
tape mark
    A triangle in the middle of each side: a strip of tape over hull and glass at the dry fit, cut in the joint, brings the pane back.
"""

from __future__ import annotations

import math
from itertools import combinations
from math import fsum
from typing import TYPE_CHECKING, NamedTuple

from outputs.drawing.card_corners import corner_numbers
from outputs.drawing.card_facts import rounded_distances
from outputs.drawing.card_fit import drawn, lies_inside, on_edge, parallel
from outputs.drawing.card_hand import APART, STRONG, TITLE, head, polygon, ring, upward_triangle, width_of, words
from outputs.drawing.card_room import beyond_its_start, standing
from outputs.drawing.card_rows import (
    CHOCK_HIGH,
    CHOCK_LEAST,
    GLASS_IN,
    ROW_OFF,
    SPACER,
    SPACER_IN,
    TICK,
    Put,
    RecessPicture,
    beside_tick,
    figure_inside,
    figures_of,
    line_of,
    row_lines,
    rows_apart,
    zeros,
)
from outputs.drawing.card_spacers import put_spacer_heights
from outputs.sheet.boxes import box_of_text, grown, overlap
from outputs.sheet.runs import line

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.detail.parts import Detail
    from geometry.outline import Outline
    from outputs.drawing.card_facts import CardFacts, Row, Tick
    from outputs.drawing.card_fit import Fit
    from outputs.sheet.entities import Fill, Mark, Place, Text
    from outputs.sheet.keep_clear import KeepClear

LINE_IN, LINE_MOST, CLIMB = 14.2, 34.0, 0.4  # height of the chocks' line over their wall, and its steps
SHIFTS = tuple(side * shift for shift in (0.0, 2.0, 4.0, 7.0, 10.0, 14.0, 18.0) for side in (1.0, -1.0))  # along the wall
NEARER = 0.5  # by how much a text without a leader is nearer to its chock than to any other block, paper mm
LEVEL_WALL = 0.25  # sine of the slope up to which the chocks' line runs inside


def recess_picture(detail: Detail, facts: CardFacts, fit: Fit, room: KeepClear) -> RecessPicture:
    """Wall, blocks, rows, chocks and corner numbers; everything is taken into the account of the room."""
    wall = fit.outline(detail.curves.recess)
    picture = RecessPicture(wall=wall)
    put = Put(picture, room)
    put(drawn("RECESS", wall))
    inner = parallel(wall, -GLASS_IN)
    if inner is not None:
        put(drawn("SIGHT_LINE", inner))
    put(*_blocks(detail, fit, wall))
    put(*_tape_marks(facts, fit, wall), *_straps(facts, fit))
    chosen = _chock_row(facts)
    rows = [(row, [tick for tick in row.ticks if row is not chosen or not tick.chock]) for row in facts.rows]
    rows, given_up = rows_apart(rows, fit, wall)
    for row, ticks in rows:
        put(*row_lines(row, ticks, fit, wall))
    if chosen is not None and _chock_line(chosen, facts, fit, wall, put):
        for tick in (tick for tick in chosen.ticks if tick.chock):
            put.room.drawn(f"height of {tick.mark}")
    elif chosen is not None:
        rows, given_up = rows_apart([(row, list(row.ticks)) for row in facts.rows], fit, wall)
        chosen = None
    zeros(facts, fit, wall, put)
    put_spacer_heights(detail, facts, fit, wall, put)
    for row, tick in given_up:
        figure_inside(row, tick, fit, wall, put)
    for row, ticks in rows:
        figures_of(row, ticks, fit, wall, put)
    _chock_names(detail, facts, chosen, fit, wall, put)
    picture.marks += corner_numbers(detail, fit, wall, room)
    return picture


def _blocks(detail: Detail, fit: Fit, wall: Outline) -> Iterator[Fill]:
    """Spacers and chocks, drawn thick."""
    for spacer in detail.spacers:
        (x, y), (dx, dy) = on_edge(wall, fit.at(spacer.centre))
        yield _block("SPACERS", (x + SPACER_IN * dx, y + SPACER_IN * dy), (dx, dy), *SPACER)
    for chock in detail.chocks:
        (x, y), (dx, dy) = on_edge(wall, fit.at(chock.foot))
        along = fit.across if abs(dx) < 0.7 else fit.upwards
        long = min(max(CHOCK_LEAST, chock.length * along), 22.0)
        yield _block("CHOCKS", (x + (0.5 + CHOCK_HIGH / 2) * dx, y + (0.5 + CHOCK_HIGH / 2) * dy), (dx, dy), long, CHOCK_HIGH)


def _block(layer: str, centre: Place, inward: Place, long: float, high: float) -> Fill:
    (x, y), (dx, dy) = centre, inward
    along = (-dy, dx)
    corners = ((-long / 2, -high / 2), (long / 2, -high / 2), (long / 2, high / 2), (-long / 2, high / 2))
    return polygon(layer, [(x + a * along[0] + b * dx, y + a * along[1] + b * dy) for a, b in corners])


def _tape_marks(facts: CardFacts, fit: Fit, wall: Outline) -> Iterator[Mark]:
    for place in facts.tape_places:
        (x, y), (dx, dy) = on_edge(wall, fit.at(place))
        yield upward_triangle((x - 2.2 * dx, y - 2.2 * dy), (dx, dy))


def _straps(facts: CardFacts, fit: Fit) -> Iterator[Mark]:
    """A cross in a ring where a strap or prop bears."""
    for place in facts.straps:
        x, y = fit.at(place)
        yield ring("DIMENSIONS", (x, y), 2.0)
        yield from (line("DIMENSIONS", (x - 1.4, y - up * 1.4), (x + 1.4, y + up * 1.4)) for up in (1, -1))


def _chock_row(facts: CardFacts) -> Row | None:
    """The wall whose chocks have a line of their own inside: the level one that carries most."""
    level = [row for row in facts.rows if not row.curved and abs(row.way[1]) <= LEVEL_WALL and row.outward[1] < 0]
    carrying = [row for row in level if fsum(tick.chock for tick in row.ticks) > 1]
    return max(carrying, key=lambda row: fsum(tick.chock for tick in row.ticks), default=None)


def _chock_line(row: Row, facts: CardFacts, fit: Fit, wall: Outline, put: Put) -> bool:
    """The line of the chocks inside the recess, climbing until it is clear; False where it finds no room."""
    heights = {mark: high(ends) for mark, ends in facts.chock_ends.items()}
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
    row: Row, ticks: list[Tick], heights: dict[str, str], fit: Fit, wall: Outline, level: float, room: KeepClear, *, aside: bool
) -> list[Mark] | None:
    """Line, ticks, stems, figures and heights at one level over the wall, or None where a text is not clear.

    ``aside``: the texts stand to the right of their stems, beside a wall that is near.
    """
    from geometry.outline import Point, ray_length

    zero, _, way = line_of(row, fit)
    over = level + ROW_OFF
    texts: list[Text] = []
    lines: list[Mark] = []
    last = zero
    for tick, figure in zip(ticks, rounded_distances([tick.distance for tick in ticks]), strict=True):
        (x, y), outward_ = beside_tick(row, tick, fit, wall)
        at = (x - over * outward_[0], y - over * outward_[1])
        foot = (x - (ROW_OFF + 0.5 + CHOCK_HIGH) * outward_[0], y - (ROW_OFF + 0.5 + CHOCK_HIGH) * outward_[1])
        lines += [line("DIMENSIONS", foot, at), line("TICKS", (at[0], at[1] - TICK), (at[0], at[1] + TICK))]
        tilt = abs(way[1] / way[0])
        slope = tilt * width_of(figure, TITLE, bold=True) / 2
        name = heights[tick.mark]
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


def high(ends: tuple[float, float]) -> str:
    """Height of a chock; where its ends differ to the hand, both: left and right, or below and above.

    >>> high((6.0, 6.1)), high((4.6, 4.1))
    ('6 high', '4,5 | 4 high')
    """
    first, last = rounded_distances(ends)
    return f"{first} high" if first == last else f"{first} | {last} high"


def _chock_names(detail: Detail, facts: CardFacts, chosen: Row | None, fit: Fit, wall: Outline, put: Put) -> None:
    """Mark and height of the chocks that have no line inside, at each; where both find no room, the mark, and the rest beside the picture."""
    named = set() if chosen is None else {tick.mark for tick in chosen.ticks if tick.chock}
    blocks = [_outline_of(mark) for mark in _blocks(detail, fit, wall)]
    left = [
        _Named(
            chock.mark,
            _told_of(chock.mark, facts, put),
            on_edge(wall, fit.at(chock.foot)),
            own,
            [each for each in blocks if each is not own],
        )
        for chock, own in zip(detail.chocks, blocks[len(detail.spacers) :], strict=True)
        if chock.mark not in named
    ]
    tried = [_names_in_turn(order, wall, put.room) for order in (left, left[::-1])]  # a long name may stand in the next one's way
    best = max(tried, key=_how_much)
    for each in sorted(best, key=lambda said: left.index(said.chock)):
        if each.said != each.chock.told:
            put.picture.unnamed.append(each.chock.told)
            put.room.tabled(f"height of {each.chock.mark}", "no place at its chock is clear: told beside the picture")
        else:
            put.room.drawn(f"height of {each.chock.mark}")
        put(*each.marks)


class _Named(NamedTuple):
    """A chock that is named at its place: what is told of it, its foot and the way into the recess, its outline and all other blocks'."""

    mark: str
    told: str
    foot: tuple[Place, Place]
    own: list[Place]
    others: list[list[Place]]


def _told_of(mark: str, facts: CardFacts, put: Put) -> str:
    """Mark and height, with the running distance where its row has no room for it."""
    at = put.picture.unplaced.get(mark)
    return f"{mark} {high(facts.chock_ends[mark])}" if at is None else f"{mark} at {at}; {high(facts.chock_ends[mark])}"


class _Said(NamedTuple):
    """What is said at a chock: all that is told of it, its mark alone, or nothing."""

    chock: _Named
    said: str
    marks: tuple[Mark, ...]


def _how_much(found: Sequence[_Said]) -> tuple[int, int]:
    """Chocks that are named at all, then those of which all is told there."""
    return len([each for each in found if each.said]), len([each for each in found if each.said == each.chock.told])


def _names_in_turn(order: Sequence[_Named], wall: Outline, room: KeepClear) -> list[_Said]:
    """What each gets, one after another; the account of the room stays as it is."""
    trial, found = room.copy(), []
    for each in order:
        said = ""
        marks: tuple[Mark, ...] = ()
        for told in (each.told, each.mark):
            marks = _at_its_chock(told, each.foot, each.own, each.others, wall, trial) or ()
            if marks:
                said = told
                break
        trial.add(standing(list(marks)))
        found.append(_Said(each, said, marks))
    return found


def _at_its_chock(
    string: str, foot: tuple[Place, Place], own: list[Place], others: list[list[Place]], wall: Outline, room: KeepClear
) -> tuple[Text] | tuple[Text, Mark] | None:
    """A text nearer to its own chock than to any other block, else one with a leader from its chock; None where neither is clear."""
    (x, y), (dx, dy) = foot
    half = width_of(string, STRONG, bold=True) / 2
    led: tuple[Text, Mark] | None = None
    for step in range(30):
        for shift in SHIFTS:
            reach = 4.5 + step + abs(dx) * half + abs(dy) * STRONG / 2
            cx, cy = x + reach * dx - shift * dy, y + reach * dy + shift * dx
            text = words(cx, cy - STRONG / 2, string, STRONG, bold=True, align="middle")
            box = box_of_text(text, 1.0)
            if not (room.free(box) and lies_inside(wall, (cx - half, cy)) and lies_inside(wall, (cx + half, cy))):
                continue
            near = _away(own, box) + NEARER
            if all(_away(other, box) > near for other in others):
                return (text,)
            led = led or _led(text, foot, own, room)
    return led


def _led(text: Text, foot: tuple[Place, Place], own: list[Place], room: KeepClear) -> tuple[Text, Mark] | None:
    """The text with a leader from the inner face of its chock, clear of every other line and text; the glass edge it may cross."""
    (x, y), (dx, dy) = foot
    box = box_of_text(text, 1.0)
    long = math.dist(own[0], own[1])
    for share in (0.0, 0.35, -0.35):
        start = (x + (0.5 + CHOCK_HIGH) * dx - share * long * dy, y + (0.5 + CHOCK_HIGH) * dy + share * long * dx)
        edge = (min(max(start[0], box[0]), box[2]), min(max(start[1], box[1]), box[3]))
        far = math.dist(start, edge)
        if far < 3.0:
            continue
        way = ((edge[0] - start[0]) / far, (edge[1] - start[1]) / far)
        inward = way[0] * dx + way[1] * dy
        if inward < 0.35:
            continue
        past = (GLASS_IN - 0.5 - CHOCK_HIGH + 0.3) / inward
        end = (edge[0] - 1.1 * way[0], edge[1] - 1.1 * way[1])
        beyond = line("DIMENSIONS", (start[0] + past * way[0], start[1] + past * way[1]), end)
        leader = line("DIMENSIONS", start, end)
        if room.clear_of_texts([leader]) and room.clear_of_strokes([beyond_its_start(beyond)]):
            return text, leader
    return None


def _outline_of(mark: Fill) -> list[Place]:
    """Corners of a block as drawn."""
    return [(x, y) for x, y, _ in mark.nodes]


def _away(block: list[Place], box: tuple[float, float, float, float]) -> float:
    """Paper mm from a block to the box of a text, from the block's corners and the middles of its faces."""
    ends = zip(block, block[1:] + block[:1], strict=True)
    places = [*block, *(((ax + bx) / 2, (ay + by) / 2) for (ax, ay), (bx, by) in ends)]
    return min(math.hypot(max(box[0] - x, 0.0, x - box[2]), max(box[1] - y, 0.0, y - box[3])) for x, y in places)


__all__ = ["GLASS_IN", "RecessPicture", "high", "recess_picture"]
