"""Side 2 of the fitter's card, lower half: gaps to read, go or no-go, what was measured and used, days, cautions."""

from __future__ import annotations

import math
from math import fsum
from typing import TYPE_CHECKING

from outputs.drawing.card_facts import MOST_ROWS
from outputs.drawing.card_fit import drawn, on_edge
from outputs.drawing.card_fit import fitted as fit_outline
from outputs.drawing.card_hand import (
    HEADING,
    KEY,
    LEFT,
    PLAIN,
    RIGHT,
    SMALL,
    SOLID,
    STRONG,
    down,
    field,
    plate,
    ring,
    width_of,
    words,
)
from outputs.drawing.card_room import Room
from outputs.drawing.pictograms import ALL
from outputs.sheet.boxes import box_of_text
from outputs.sheet.drafting import number
from outputs.sheet.entities import Hatch, Text
from outputs.sheet.runs import box_nodes, line

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from geometry.outline import Outline
    from outputs.drawing.card_facts import CardFacts, Days, Gaps, GoTable, Reading
    from outputs.drawing.card_fit import Fit
    from outputs.sheet.entities import Mark, Place

GAPS_TOP = 136.0
READ, INSIDE = (16.0, 7.6), (14.0, 6.8)  # box for a reading outside the wall and inside it
PICTURE = (33.5, 154.0, 117.5, 192.8)  # left, top, right and foot (down from the head) of the picture of the gaps
LETTER = 3.9
READ_TRIES = 4
READ_PLACES = tuple(
    sorted(
        (
            (1.6 + 0.9 * step, side * shift)
            for step in range(26)
            for shift in (0.0, 1.5, 3.0, 5.0, 7.0, 10.0, 14.0, 20.0)
            for side in (1, -1)
        ),
        key=lambda place: (place[0] + 0.55 * abs(place[1]), place),
    )
)
"""Places of a box: how far off the wall and how far along it, paper mm, the nearest first."""
GRID_LEFT, GRID_TOP, CELL = 156.5, 152.6, (7.25, 5.1)


def gaps_marks(detail: Detail, gaps: Gaps) -> list[Mark]:
    """The picture of the recess from outside with a box at each place where the gap is read, and inside it one for how flush it lies."""
    marks: list[Mark] = _gap_title(gaps)
    left, top, right, foot = PICTURE
    fit = fit_outline(detail.curves.recess, (left, down(foot), right, down(top)), narrowest=32.0)
    wall = fit.outline(detail.curves.recess)
    room = Room(page=(LEFT, down(203.0), 139.5, down(142.4)))
    marks.append(drawn("GLASS", wall))
    room.add(marks[-1:])
    flush = _flush(gaps, fit, wall, room)
    room.add(flush)
    marks += _readings(gaps, fit, wall, room)
    inside = _flush_boxes(gaps, fit, wall, room)
    marks += [*flush, *inside]
    marks += _outer_numbers(detail, fit, wall, room)
    return marks


def _gap_title(gaps: Gaps) -> list[Mark]:
    least, most = number(max(0.0, gaps.least)), number(gaps.most)
    told = f"GAP {number(gaps.readings[0].wanted, decimals=1)}" if gaps.even else "GAP as below"
    if gaps.least > 0:
        told += f", least {least}, most {most}"
    marks: list[Mark] = [words(LEFT, down(GAPS_TOP + 4.8), told, 4.4, bold=True)]
    x = LEFT + width_of(told, 4.4, bold=True) + 5.0
    after = "from outside" if gaps.least > 0 else "TOO TIGHT: the glass may touch"
    if x + width_of(after) < 148.0:
        marks.append(words(x, down(GAPS_TOP + 4.6), after, bold=gaps.least <= 0))
    return marks


def _flush(gaps: Gaps, fit: Fit, wall: Outline, room: Room) -> list[Mark]:
    """How flush the glass is to lie, and what it may be off by, never with a minus; as near to the middle as it is clear of the wall."""
    low, high = _in_or_out(gaps.proud_least), _in_or_out(gaps.proud_most)
    title, limits = f"FLUSH {_in_or_out(gaps.proud)}", f"{low} to {high}"
    half = max(width_of(title, HEADING, bold=True), width_of(limits)) / 2 + 0.5
    left, foot, right, head = fit.paper
    middle = ((left + right) / 2, (foot + head) / 2)
    places = sorted(
        ((x, y) for x in _steps(left + half, right - half) for y in _steps(foot + 9.0, head - 9.0)),
        key=lambda place: (place[0] - middle[0]) ** 2 + (place[1] - middle[1]) ** 2,
    )
    for x, y in places:
        box = (x - half, y - 6.8, x + half, y + 5.6)
        if _all_inside(wall, box) and room.free(box):
            return [words(x, y + 1.2, title, HEADING, bold=True, align="middle"), words(x, y - 5.6, limits, align="middle")]
    return [words(LEFT, down(202.6), f"{title}, {limits}", bold=True)]


def _steps(first: float, last: float) -> list[float]:
    """Places from one to the other, 2 mm apart; the middle where there is no room between them."""
    if last <= first:
        return [(first + last) / 2]
    count = int((last - first) / 2.0) + 1
    return [first + (last - first) * step / count for step in range(count + 1)]


def _in_or_out(proud: float) -> str:
    figure = number(abs(proud), decimals=1)
    return figure if figure == "0" else f"{figure} {'in' if proud < 0 else 'out'}"


def _readings(gaps: Gaps, fit: Fit, wall: Outline, room: Room) -> list[Mark]:
    """A box for each reading; one that finds no place in its turn, in a cut-out beside another, takes its place first."""
    order = list(gaps.readings)
    for _ in range(READ_TRIES):
        trial = room.copy()
        found = [_reading(reading, fit, wall, trial, even=gaps.even) for reading in order]
        missing = [reading for reading, marks in zip(order, found, strict=True) if not marks]
        if not missing:
            break
        order = missing + [reading for reading in order if reading not in missing]
    room.lines, room.texts = trial.lines, trial.texts
    return [mark for marks in found for mark in marks]


def _reading(reading: Reading, fit: Fit, wall: Outline, room: Room, *, even: bool) -> list[Mark]:
    """A box outside the wall with its letter; where the gap wanted differs from place to place it stands with the letter."""
    (x, y), (dx, dy) = on_edge(wall, fit.at(reading.place))
    letter = reading.letter if even else f"{reading.letter} {number(reading.wanted, decimals=1)}"
    wide = width_of(letter, LETTER, bold=True)
    for away, shift in READ_PLACES:
        cx = x - dx * (away + abs(dx) * READ[0] / 2 + abs(dx * dy) * 3.0) - shift * dy
        cy = y - dy * (away + abs(dy) * READ[1] / 2 + abs(dx * dy) * 3.0) + shift * dx
        box = (cx - READ[0] / 2, cy - READ[1] / 2, cx + READ[0] / 2, cy + READ[1] / 2)
        text = _letter_beside(box, letter, wide, to_the_left=dx > 0.3)
        if not (room.free(box, apart=1.0) and room.free(box_of_text(text, 1.0), apart=1.0)):
            continue
        leader = _to_the_wall((x, y), (dx, dy), box)
        if room.clear_of_texts(leader) and room.clear_of_lines(leader):
            marks: list[Mark] = [field(*box), text, *leader]
            room.add(marks)
            room.block(box)
            return marks
    return []


def _to_the_wall(place: Place, inward: Place, box: tuple[float, float, float, float]) -> list[Mark]:
    """A leader from a box to its place on the wall where it stands away from it."""
    x, y = place[0] - 0.7 * inward[0], place[1] - 0.7 * inward[1]
    edge = (min(max(x, box[0]), box[2]), min(max(y, box[1]), box[3]))
    long = math.hypot(edge[0] - x, edge[1] - y)
    return [line("DIMENSIONS", (x, y), edge)] if long > 4.0 else []


def _letter_beside(box: tuple[float, float, float, float], letter: str, wide: float, *, to_the_left: bool) -> Text:
    """The letter of a reading beside its box, on the side that looks away from the wall."""
    foot = (box[1] + box[3]) / 2 - LETTER / 2
    if to_the_left:
        return words(box[0] - 1.3, foot, letter, LETTER, bold=True, align="right")
    return words(box[2] + 1.3, foot, letter, LETTER, bold=True)


def _flush_boxes(gaps: Gaps, fit: Fit, wall: Outline, room: Room) -> list[Mark]:
    """A dashed box inside the wall beside each place."""
    marks: list[Mark] = []
    wide, high = INSIDE[0] / 2, INSIDE[1] / 2
    for reading in gaps.readings:
        (x, y), (dx, dy) = on_edge(wall, fit.at(reading.place))
        for shift in (0.0, 1.5, -1.5, 3.0, -3.0, 4.5, -4.5, 6.0, -6.0, 8.0, -8.0, 10.0, -10.0):
            cx = x + dx * (1.6 + abs(dx) * wide + abs(dy) * high) - shift * dy
            cy = y + dy * (1.6 + abs(dy) * high + abs(dx * dy) * 3.0) + shift * dx
            box = (cx - wide, cy - high, cx + wide, cy + high)
            if room.free(box, apart=1.0) and _all_inside(wall, box):
                marks.append(field(*box, layer="FIELDS"))
                room.block(box)
                break
    return marks


def _all_inside(wall: Outline, box: tuple[float, float, float, float]) -> bool:
    from geometry.outline import Point, point_in

    return all(point_in(wall, Point(x, y)) for x in (box[0], box[2]) for y in (box[1], box[3]))


def _outer_numbers(detail: Detail, fit: Fit, wall: Outline, room: Room) -> list[Mark]:
    """The number of each corner, outside the wall or, where it finds no room there, inside; always nearest to its own corner."""
    from outputs.drawing.card_hand import numbered
    from outputs.drawing.card_recess import around, at_its_corner, square

    marks: list[Mark] = []
    sharp = [fit.at((corner.theoretical.x, corner.theoretical.y)) for corner in detail.corners]
    for corner, (x, y) in zip(detail.corners, sharp, strict=True):
        dx, dy = fit.way((-corner.bisector.x, -corner.bisector.y))
        aside = (0, 2, -2, 4, -4)
        places = [(x + dx * reach + a, y + dy * reach + b) for reach in range(5, 13) for a in aside for b in (0, 2, -2)]
        places += around((x, y))
        own = [place for place in places if at_its_corner(place, (x, y), sharp)]
        centre = next((place for place in own if room.free(square(place, 3.5), apart=1.0)), None)
        if centre is not None:
            found = numbered(centre, corner.number)
            room.add(found)
            marks += found
    return marks


def go_marks(table: GoTable) -> list[Mark]:
    """Surface temperature against humidity: white is go, black is no; a ring round the plan."""
    wide, high = CELL
    marks: list[Mark] = [
        words(RIGHT, down(GAPS_TOP + 4.8), f"GO / NO-GO, air {number(table.air)} °C", HEADING, bold=True, align="right")
    ]
    head = down(GRID_TOP)
    for column, humidity in enumerate(table.humidities):
        marks.append(words(GRID_LEFT + (column + 0.5) * wide, head + 1.9, str(humidity), align="middle"))
    marks.append(words(GRID_LEFT - 2.0, head + 1.9, "%", align="right"))
    for row, surface in enumerate(table.surfaces):
        y = head - (row + 1) * high
        marks.append(words(GRID_LEFT - 1.8, y + (high - PLAIN) / 2, str(surface).replace("-", "−"), align="right"))
        first = next((number_ for number_, go in enumerate(table.go[row]) if not go), None)
        for column in range(len(table.humidities)):
            if not table.go[row][column]:
                x = GRID_LEFT + column * wide
                marks.append(Hatch("PLATES", SOLID, (box_nodes(x, y, x + wide, y + high),)))
        if first is not None:
            marks += _white_grid(table, row, y)
    marks += _grid(table, head)
    if table.planned is not None:
        row, column = table.planned
        centre = (GRID_LEFT + (column + 0.5) * wide, head - (row + 0.5) * high)
        marks.append(ring("ON_PLATES" if not table.go[row][column] else "TABLES", centre, 1.7))
    foot = head - len(table.surfaces) * high
    told = ("black NO, ring: plan or worse", f"surface least: dew point + {number(table.over_dew_point)} K")
    marks += [words(RIGHT, head - MOST_ROWS * high - 4.5 - 6.1 * row, each, align="right") for row, each in enumerate(told)]
    marks.append(Text("TEXT", GRID_LEFT - 9.6, (head + foot) / 2, "surface °C", PLAIN, "middle", 90.0))
    return marks


def _white_grid(table: GoTable, row: int, y: float) -> list[Mark]:
    """White lines between two black cells."""
    wide, high = CELL
    marks: list[Mark] = []
    for column in range(len(table.humidities)):
        x = GRID_LEFT + column * wide
        if table.go[row][column]:
            continue
        if column and not table.go[row][column - 1]:
            marks.append(line("ON_PLATES", (x, y), (x, y + high)))
        if row and not table.go[row - 1][column]:
            marks.append(line("ON_PLATES", (x, y + high), (x + wide, y + high)))
    return marks


def _grid(table: GoTable, head: float) -> list[Mark]:
    """Frame of the table and the lines between white cells."""
    wide, high = CELL
    right, foot = GRID_LEFT + wide * len(table.humidities), head - high * len(table.surfaces)
    marks: list[Mark] = [field(GRID_LEFT, foot, right, head)]
    for row, cells in enumerate(table.go):
        y = head - (row + 1) * high
        for column, go in enumerate(cells):
            x = GRID_LEFT + (column + 1) * wide
            if go and column + 1 < len(cells):
                marks.append(line("DIMENSIONS", (x, y), (x, y + high)))
            if go and row + 1 < len(table.go):
                marks.append(line("DIMENSIONS", (x - wide, y), (x, y)))
    return marks


def measured_marks(top: float) -> list[Mark]:
    """Boxes for the air, the humidity, the dew point and the temperatures of glass and frame on the day."""
    names = (("air", "°C"), ("humidity", "%"), ("dew point", "°C"), ("glass", "°C"), ("frame", "°C"))
    foot, high, box = down(top + 7.6), 7.6, 14.5
    taken = fsum(width_of(name) + width_of(unit) for name, unit in names) + len(names) * (box + 2.6)
    gap = (RIGHT - LEFT - taken) / (len(names) - 1)
    marks: list[Mark] = []
    x = LEFT
    for name, unit in names:
        marks.append(words(x, foot + 2.0, name))
        x += width_of(name) + 1.3
        marks.append(field(x, foot, x + box, foot + high))
        x += box + 1.3
        marks.append(words(x, foot + 2.0, unit))
        x += width_of(unit) + gap
    return marks


FIELDS = (
    ("batch adhesive", "batch activator", "batch primer glass", "batch primer frame", "batch sealant"),
    ("tear test: day, held?", "photos no.", "straps at", "date", "signature"),
)


def used_marks(top: float) -> list[Mark]:
    """Boxes for batch numbers, tear test, photos, straps, date and signature."""
    wide, high, gap = 36.6, 9.4, 1.75
    marks: list[Mark] = []
    for row, names in enumerate(FIELDS):
        head = down(top + row * (high + 1.75))
        for column, name in enumerate(names):
            x = LEFT + column * (wide + gap)
            marks += [field(x, head - high, x + wide, head), words(x + 1.5, head - 1.3 - SMALL, name, SMALL)]
    return marks


def days_marks(days: Days, top: float) -> list[Mark]:
    """Days after the bonding before which the boat is not moved, the joint not closed and no hose turned on it."""
    head = down(top)
    marks: list[Mark] = [plate(LEFT, head - 13.6, LEFT + 38.5, head)]
    marks += [
        words(LEFT + 2.3, head - 5.6, "NOT BEFORE", HEADING, bold=True, white=True),
        words(LEFT + 2.3, head - 11.2, "bonded = day 0", white=True),
    ]
    x, share = LEFT + 41.5, (RIGHT - LEFT - 41.5 + 3.5) / 3
    for name, day in (("MOVE BOAT", days.move), ("BACKFILL", days.backfill), ("HOSE", days.hose)):
        if name == "BACKFILL" and days.too_early:  # neither a day nor a box to write one in
            marks.append(words(x, head - 4.4, name, HEADING, bold=True))
            marks += [words(x, head - base, told, bold=True) for base, told in ((9.6, "TOO EARLY"), (14.9, "see record"))]
            x += share
            continue
        figure = "never" if day is None else str(day)
        tall = KEY if day is not None else 5.0
        wide = width_of(figure, tall, bold=True)
        marks.append(words(x, head - 12.4, figure, tall, bold=True))
        start, end = x + wide + 1.8, x + share - 3.5
        marks.append(words(start, head - 4.4, name, HEADING, bold=True))
        marks.append(field(start, head - 13.6, end, head - 5.8))
        marks += [words(start + (end - start) * part, head - 12.0, ",", STRONG) for part in (0.34, 0.67)]
        x += share
    return marks


def caution_marks(facts: CardFacts, top: float) -> list[Mark]:
    """Five pictograms and what they mean; over them, in bold, the strap of a pane that leans out."""
    lines = (
        "Isocyanates: trained people only. Never heat it.",
        "Vapour: no flame, no spark; air the cabin.",
        "Eyes: rinse 15 min, doctor. No solvent on skin.",
        "Cups: dry clean glass, pump again every 5 min.",
        "Over water: edge guard, life-jacket, tied tools.",
    )
    marks: list[Mark] = [words(102.5, down(top + 3.6 + row * 6.3), string) for row, string in enumerate(lines)]
    if facts.pull > 0.5:
        strap = f"STRAP for {number(facts.pull, decimals=0)} N till held: bead slips"
        marks.append(words(LEFT, down(top + 3.6), strap, bold=True))
    for number_, sign in enumerate(ALL):
        marks += sign((LEFT + 8.2 + number_ * 18.1, down(top + 15.4)))
    return marks


__all__ = ["caution_marks", "days_marks", "gaps_marks", "go_marks", "measured_marks", "used_marks"]
