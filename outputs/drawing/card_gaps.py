"""Side 2 of the fitter's card: the gaps that are read, and how flush the glass lies, at eight places round the pane.

Where the same gap is wanted all round and every box finds its place, the boxes to write in stand at the places, on a picture of the recess from
outside; else all eight stand in a table beside a smaller picture with their letters, and none is ever missing.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.workings.fitting import LETTERS
from outputs.drawing.card_corners import corner_marks
from outputs.drawing.card_fit import drawn, on_edge
from outputs.drawing.card_fit import fitted as fit_outline
from outputs.drawing.card_hand import HEADING, LEFT, PLAIN, dot, down, field, width_of, words
from outputs.drawing.card_room import card_room, leads_clear, standing
from outputs.sheet.boxes import box_of_text
from outputs.sheet.drafting import number
from outputs.sheet.runs import line
from outputs.sheet.tables import wrapped

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Detail
    from geometry.outline import Outline
    from outputs.drawing.card_facts import Gaps, Reading
    from outputs.drawing.card_fit import Fit
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Mark, Place, Text
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.outcomes import Outcome

TOP, RIGHT = 136.0, 139.5  # down from the head, and where the region ends
REGION: Box = (LEFT, down(203.0), RIGHT, down(142.4))
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
BESIDE = {False: 59.5, True: 96.5}
"""Where the smaller picture's region ends and the table begins: of a gap that differs from place to place, and of an even one."""
DRAWN_COLUMN, LEAST_COLUMN, MOST_COLUMN = 77.0, 89.0, 101.0  # the figures end there
GAP_BOX, FLUSH_BOX = (103.5, 120.5), (122.5, RIGHT)
TABLE_HEAD, TABLE_TOP, ROW = 146.7, 148.6, 6.15
FLUSH_LINE = 202.6


def gaps_marks(detail: Detail, gaps: Gaps) -> tuple[list[Mark], list[Outcome]]:
    """Gap wanted, least and most with a box for what is read, and one for how flush the glass lies, at each of the eight places."""
    found = _at_the_places(detail, gaps) if gaps.even else None
    return _in_a_table(detail, gaps) if found is None else found


# At the places.


def _at_the_places(detail: Detail, gaps: Gaps) -> tuple[list[Mark], list[Outcome]] | None:
    """Boxes round the picture and inside it; None where one of them, or the number of a corner, finds no room."""
    left, top, right, foot = PICTURE
    fit = fit_outline(detail.curves.recess, (left, down(foot), right, down(top)), narrowest=32.0)
    wall = fit.outline(detail.curves.recess)
    room = card_room(REGION)
    outline = drawn("GLASS", wall)
    room.add([outline])
    flush = _flush(gaps, fit, wall, room)
    if not flush:
        return None
    room.add(flush)
    read = _readings(gaps, fit, wall, room)
    if read is None:
        return None
    outside, room = read
    inside = _flush_boxes(gaps, fit, wall, room)
    numbers = corner_marks(detail, fit, room, _outer_places)
    if inside is None or any(outcome.reason for outcome in room.outcomes):
        return None
    for reading in gaps.readings:
        room.drawn(f"gap {reading.letter}")
        room.drawn(f"flush {reading.letter}")
    return [*_title(gaps), outline, *flush, *outside, *inside, *numbers], room.outcomes


def gap_words(gaps: Gaps) -> str:
    """What is wanted all round, within which limits."""
    first = gaps.readings[0]
    drawn_gap = "no joint" if first.no_joint else f"GAP {number(first.wanted, decimals=1)}"
    return f"{drawn_gap}, least {number(first.least)}, most {number(first.most)}"


def tight_words(gaps: Gaps) -> tuple[str, ...]:
    """Where less joint is drawn than a reading may be, or the tolerances may leave none, the longest first; empty where neither."""
    none = [each.letter for each in gaps.readings if each.no_joint]
    tight = [each.letter for each in gaps.readings if each.too_tight]
    if none:
        return (f"NO JOINT at {_listed(none)}: the glass does not go in", f"NO JOINT at {_listed(none)}", "NO JOINT")
    if gaps.may_touch:
        return ("TOO TIGHT: the glass may touch", "TOO TIGHT")
    return (f"TOO TIGHT at {_listed(tight)}: under the least", f"TOO TIGHT at {_listed(tight)}", "TOO TIGHT") if tight else ()


def job_limit_words(gaps: Gaps) -> str:
    """Why the limits at some places are others than at their neighbours; empty where each place has them about its drawn gap."""
    letters = [each.letter for each in gaps.readings if each.outside_the_job]
    return f"{_listed(letters)}: gap drawn is outside job limits" if letters else ""


def _listed(letters: Sequence[str]) -> str:
    return "all" if len(letters) == len(LETTERS) else ", ".join(letters)


def _title(gaps: Gaps) -> list[Mark]:
    told = gap_words(gaps)
    marks: list[Mark] = [words(LEFT, down(TOP + 4.8), told, 4.4, bold=True)]
    return [*marks, *_after_the_title(LEFT + width_of(told, 4.4, bold=True) + 5.0, gaps)]


def _after_the_title(x: float, gaps: Gaps) -> list[Mark]:
    """In bold where it is too tight; else how one looks at it."""
    room, tight = 148.0 - x, tight_words(gaps)
    told = next((each for each in tight or ("from outside",) if width_of(each, bold=bool(tight)) < room), None)
    return [] if told is None else [words(x, down(TOP + 4.6), told, bold=bool(tight))]


def _flush(gaps: Gaps, fit: Fit, wall: Outline, room: KeepClear) -> list[Mark]:
    """How flush the glass is to lie, and what it may be off by, never with a minus; as near to the middle as it is clear of the wall."""
    title, limits, where = *flush_words(gaps), "dashed boxes"
    half = max(width_of(title, HEADING, bold=True), width_of(limits), width_of(where)) / 2 + 0.5
    left, foot, right, head = fit.paper
    middle = ((left + right) / 2, (foot + head) / 2)
    places = sorted(
        ((x, y) for x in _steps(left + half, right - half) for y in _steps(foot + 10.0, head - 10.0)),
        key=lambda place: (place[0] - middle[0]) ** 2 + (place[1] - middle[1]) ** 2,
    )
    for x, y in places:
        box = (x - half, y - 9.4, x + half, y + 8.6)
        if _all_inside(wall, box) and room.free(box):
            return [
                words(x, y + 4.2, title, HEADING, bold=True, align="middle"),
                words(x, y - 1.9, limits, align="middle"),
                words(x, y - 8.0, where, align="middle"),
            ]
    return []


def flush_words(gaps: Gaps) -> tuple[str, str]:
    """How flush the glass is to lie, and between which limits, in words."""
    return f"FLUSH {_in_or_out(gaps.proud)}", f"{_in_or_out(gaps.proud_least)} to {_in_or_out(gaps.proud_most)}"


def _steps(first: float, last: float) -> list[float]:
    """Places from one to the other, 2 mm apart; the middle where there is no room between them."""
    if last <= first:
        return [(first + last) / 2]
    count = int((last - first) / 2.0) + 1
    return [first + (last - first) * step / count for step in range(count + 1)]


def _in_or_out(proud: float) -> str:
    figure = number(abs(proud), decimals=1)
    return figure if figure == "0" else f"{figure} {'in' if proud < 0 else 'out'}"


def _readings(gaps: Gaps, fit: Fit, wall: Outline, room: KeepClear) -> tuple[list[Mark], KeepClear] | None:
    """A box for each reading with the account they stand in; one that finds no place in its turn, beside another, takes its place first.

    None where one finds none at all.
    """
    order = list(gaps.readings)
    for _ in range(READ_TRIES):
        trial = room.copy()
        found = [_reading(reading, fit, wall, trial) for reading in order]
        missing = [reading for reading, marks in zip(order, found, strict=True) if not marks]
        if not missing:
            return [mark for marks in found for mark in marks], trial
        order = missing + [reading for reading in order if reading not in missing]
    return None


def _reading(reading: Reading, fit: Fit, wall: Outline, room: KeepClear) -> list[Mark]:
    """A box outside the wall with its letter."""
    (x, y), (dx, dy) = on_edge(wall, fit.at(reading.place))
    for away, shift in READ_PLACES:
        cx = x - dx * (away + abs(dx) * READ[0] / 2 + abs(dx * dy) * 3.0) - shift * dy
        cy = y - dy * (away + abs(dy) * READ[1] / 2 + abs(dx * dy) * 3.0) + shift * dx
        box = (cx - READ[0] / 2, cy - READ[1] / 2, cx + READ[0] / 2, cy + READ[1] / 2)
        text = _letter_beside(box, reading.letter, to_the_left=dx > 0.3)
        if not (room.free(box, apart=1.0) and room.free(box_of_text(text, 1.0), apart=1.0)):
            continue
        leader = _to_the_wall((x, y), (dx, dy), box)
        if leads_clear(leader, room):
            marks: list[Mark] = [field(*box), text, *leader]
            room.add(standing(marks))
            room.block(box)
            return marks
    return []


def _to_the_wall(place: Place, inward: Place, box: Box) -> list[Mark]:
    """A leader from a box to its place on the wall where it stands away from it."""
    x, y = place[0] - 0.7 * inward[0], place[1] - 0.7 * inward[1]
    edge = (min(max(x, box[0]), box[2]), min(max(y, box[1]), box[3]))
    long = math.hypot(edge[0] - x, edge[1] - y)
    return [line("DIMENSIONS", (x, y), edge)] if long > 4.0 else []


def _letter_beside(box: Box, letter: str, *, to_the_left: bool) -> Text:
    """The letter of a reading beside its box, on the side that looks away from the wall."""
    foot = (box[1] + box[3]) / 2 - LETTER / 2
    if to_the_left:
        return words(box[0] - 1.3, foot, letter, LETTER, bold=True, align="right")
    return words(box[2] + 1.3, foot, letter, LETTER, bold=True)


def _flush_boxes(gaps: Gaps, fit: Fit, wall: Outline, room: KeepClear) -> list[Mark] | None:
    """A dashed box inside the wall beside each place; None where one finds no room."""
    marks: list[Mark] = []
    wide, high = INSIDE[0] / 2, INSIDE[1] / 2
    for reading in gaps.readings:
        (x, y), (dx, dy) = on_edge(wall, fit.at(reading.place))
        for shift in (0.0, 1.5, -1.5, 3.0, -3.0, 4.5, -4.5, 6.0, -6.0):
            cx = x + dx * (1.6 + abs(dx) * wide + abs(dy) * high) - shift * dy
            cy = y + dy * (1.6 + abs(dy) * high + abs(dx * dy) * 3.0) + shift * dx
            box = (cx - wide, cy - high, cx + wide, cy + high)
            if room.free(box, apart=1.0) and _all_inside(wall, box):
                marks.append(field(*box, layer="FIELDS"))
                room.block(box)
                break
        else:
            return None
    return marks


def _all_inside(wall: Outline, box: Box) -> bool:
    from geometry.outline import Point, point_in

    return all(point_in(wall, Point(x, y)) for x in (box[0], box[2]) for y in (box[1], box[3]))


def _outer_places(corner: Place, outward: Place) -> list[Place]:
    """Places of a corner's number: outside the wall, straight out or a little aside."""
    (x, y), (dx, dy) = corner, outward
    aside = (0, 2, -2, 4, -4)
    return [(x + dx * reach + a, y + dy * reach + b) for reach in range(5, 13) for a in aside for b in (0, 2, -2)]


# In a table.


def _in_a_table(detail: Detail, gaps: Gaps) -> tuple[list[Mark], list[Outcome]]:
    """A row for each place: letter, gap wanted, least and most, a box for what is read and a dashed one for how flush the glass lies.

    The gap stands in the title where it is the same everywhere.
    """
    reason = "the boxes find no room at their places" if gaps.even else "the gap wanted differs from place to place"
    edge = BESIDE[gaps.even]
    why = wrapped(job_limit_words(gaps), edge - LEFT, PLAIN)
    foot = FLUSH_LINE - 4.2 - ROW * len(why)
    fit = fit_outline(
        detail.curves.recess,
        (LEFT + 11.0, down(min(187.0, foot - 9.0)), edge - 11.0, down(153.0)),
        narrowest=20.0,
    )
    wall = fit.outline(detail.curves.recess)
    room = card_room((LEFT, down(foot), edge, down(142.4)))
    outline = drawn("GLASS", wall)
    said: list[Mark] = [words(LEFT, down(FLUSH_LINE - ROW * (len(why) - row)), told) for row, told in enumerate(why)]
    room.add([outline, *said])
    marks: list[Mark] = [*(_title(gaps) if gaps.even else _uneven_title(gaps)), outline, *said]
    marks += _letters(gaps.readings, fit, wall, room)
    marks += corner_marks(detail, fit, room, _outer_places)
    marks += _table_head(even=gaps.even)
    for index, reading in enumerate(gaps.readings):
        marks += _table_row(reading, edge + 2.5, TABLE_TOP + index * ROW, even=gaps.even)
        room.tabled(f"gap {reading.letter}", reason)
        room.tabled(f"flush {reading.letter}", reason)
    title, limits = flush_words(gaps)
    marks.append(words(LEFT, down(FLUSH_LINE), f"{title}, {limits}", bold=True))
    return marks, room.outcomes


def _uneven_title(gaps: Gaps) -> list[Mark]:
    told = "GAP AND FLUSH"
    marks: list[Mark] = [words(LEFT, down(TOP + 4.8), told, 4.4, bold=True)]
    return [*marks, *_after_the_title(LEFT + width_of(told, 4.4, bold=True) + 5.0, gaps)]


def _table_head(*, even: bool) -> list[Mark]:
    """Names of the columns; what is written in stands in bold."""
    foot = down(TABLE_HEAD)
    marks: list[Mark] = [
        words((first + last) / 2, foot, name, bold=True, align="middle")
        for (first, last), name in ((GAP_BOX, "gap" if even else "gap read"), (FLUSH_BOX, "flush"))
    ]
    columns = () if even else ((DRAWN_COLUMN, "gap"), (LEAST_COLUMN, "least"), (MOST_COLUMN, "most"))
    return [*marks, *(words(x, foot, name, align="right") for x, name in columns)]


def _table_row(reading: Reading, left: float, top: float, *, even: bool) -> list[Mark]:
    foot = down(top + 4.5)
    marks: list[Mark] = [words(left, foot, reading.letter, bold=True)]
    if not even:
        marks += _limit_words(reading, foot)
    for (first, last), layer in ((GAP_BOX, "TABLES"), (FLUSH_BOX, "FIELDS")):
        marks.append(field(first, down(top + 5.4), last, down(top + 0.2), layer=layer))
    return marks


def _limit_words(reading: Reading, foot: float) -> list[Mark]:
    """Gap as drawn, in bold, least and most; in words where no joint is drawn."""
    wanted = "none" if reading.no_joint else number(reading.wanted, decimals=1)
    columns = (
        (DRAWN_COLUMN, wanted, True),
        (LEAST_COLUMN, number(reading.least), False),
        (MOST_COLUMN, number(reading.most), False),
    )
    return [words(x, foot, told, bold=bold, align="right") for x, told, bold in columns]


def _letters(readings: Sequence[Reading], fit: Fit, wall: Outline, room: KeepClear) -> list[Mark]:
    """A dot on the wall at each place and its letter beside it: outside the wall, else inside it."""
    places = [on_edge(wall, fit.at(reading.place)) for reading in readings]
    marks: list[Mark] = [dot("TICKS", place, 0.9) for place, _ in places]
    room.add(marks)
    for reading, ((x, y), (dx, dy)) in zip(readings, places, strict=True):
        half = width_of(reading.letter, LETTER, bold=True) / 2
        reach = abs(dx) * half + abs(dy) * LETTER / 2 + 1.9
        spots = (
            (x + side * dx * away - shift * dy, y + side * dy * away + shift * dx)
            for step in range(8)
            for side in (-1.0, 1.0)
            for away in (reach + 0.8 * step,)
            for shift in (0.0, 1.5, -1.5, 3.0, -3.0)
        )
        tried = (words(at, up - LETTER / 2, reading.letter, LETTER, bold=True, align="middle") for at, up in spots)
        text = next((each for each in tried if room.free(box_of_text(each, 1.0))), None)
        if text is None:
            room.left_out(f"letter {reading.letter}", "the picture has no room for it")
        else:
            marks.append(text)
            room.add([text])
    return marks


__all__ = ["flush_words", "gap_words", "gaps_marks", "job_limit_words", "tight_words"]
