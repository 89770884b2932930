"""Rows of running distances on the card's picture of the recess: lines, ticks, zeros and figures.

A row runs outside its wall, its zero at the neighbouring wall. Figures stand upright, each as near to its tick as it finds room, in their order;
one that finds none stands inside beside its block and says from which corner it counts, or is handed back to be told elsewhere.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from itertools import combinations, pairwise
from typing import TYPE_CHECKING

from outputs.drawing.card_facts import rounded_distances
from outputs.drawing.card_fit import lies_inside, on_edge
from outputs.drawing.card_hand import STRONG, dot, width_of, words
from outputs.drawing.card_room import leads_clear, led_text, standing
from outputs.sheet.boxes import box_of_text
from outputs.sheet.runs import line

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.outline import Outline
    from outputs.drawing.card_facts import CardFacts, Row, Tick
    from outputs.drawing.card_fit import Fit
    from outputs.sheet.entities import Mark, Place, Text
    from outputs.sheet.keep_clear import KeepClear

ROW_OFF, TICK, OVER_TICK = 5.0, 1.3, 1.1  # wall to row; half a tick; tick to figure
GLASS_IN, SPACER_IN = 3.3, 5.0  # inside the wall: edge of the glass, middle of a spacer
SPACER, CHOCK_HIGH, CHOCK_LEAST = (3.0, 1.8), 2.3, 4.0
LED = 20  # how far a figure may stand on a leader from its tick or spacer
BETWEEN = 2.4  # between two figures of a row, so that nobody reads them as one
STAGGER = 5.3  # from one row of figures to the next
NUDGES = (
    (0.0, 0.0), (0.8, 0.0), (-0.8, 0.0), (1.6, 0.0), (-1.6, 0.0), (2.4, 0.0), (-2.4, 0.0),
    (3.6, 0.0), (-3.6, 0.0), (3.4, 2.6), (-3.4, 2.6), (4.6, 2.8), (-4.6, 2.8), (6.0, 3.2), (-6.0, 3.2),
)  # fmt: skip
"""How far a figure moves along its row, and how much farther out it then stands, paper mm; the first that is clear."""


@dataclass
class RecessPicture:
    """The marks of the picture, and what found no room on it: row, block, figure."""

    marks: list[Mark] = field(default_factory=list)
    tabled: list[tuple[Row, Tick]] = field(default_factory=list)
    unplaced: dict[str, str] = field(
        default_factory=dict
    )  # chocks without a figure at their row: figure, and from where it counts
    unnamed: list[str] = field(default_factory=list)  # marks, figures and heights of chocks, to be told beside the picture
    wall: Outline | None = None


class Put:
    """Adds marks to the picture and to the account of the room."""

    def __init__(self, picture: RecessPicture, room: KeepClear) -> None:
        self.picture, self.room = picture, room

    def __call__(self, *marks: Mark) -> None:
        """Add marks to both."""
        self.picture.marks += marks
        self.room.add(standing(marks))


def beside_tick(row: Row, tick: Tick, fit: Fit, wall: Outline) -> tuple[Place, Place]:
    """Where a tick crosses its row, and the direction out of the recess there."""
    (x, y), (dx, dy) = on_edge(wall, fit.at(tick.foot))
    if row.curved:
        return (x - ROW_OFF * dx, y - ROW_OFF * dy), (-dx, -dy)
    zero, outward, way = line_of(row, fit)
    along = (x - zero[0]) * way[0] + (y - zero[1]) * way[1]
    return (zero[0] + along * way[0], zero[1] + along * way[1]), outward


def line_of(row: Row, fit: Fit) -> tuple[Place, Place, Place]:
    """Zero of a straight row on the paper, the direction out of the recess and the direction along it."""
    way = fit.way(row.way)
    outward = (way[1], -way[0])
    told = fit.way(row.outward)
    if outward[0] * told[0] + outward[1] * told[1] < 0:
        outward = (-outward[0], -outward[1])
    x, y = fit.at(row.zero)
    return (x + ROW_OFF * outward[0], y + ROW_OFF * outward[1]), outward, way


def rows_apart(
    rows: list[tuple[Row, list[Tick]]], fit: Fit, wall: Outline
) -> tuple[list[tuple[Row, list[Tick]]], list[tuple[Row, Tick]]]:
    """Rows of which no line crosses another, as two do that run into a re-entrant corner; and the last ticks that one of the two gives up.

    The figure of such a tick stands inside, beside its block.
    """
    kept, inner = [(row, list(ticks)) for row, ticks in rows], []
    for (one, few), (other, more) in combinations([pair for pair in kept if not pair[0].curved], 2):
        while few and more and _cross(_line(one, few, fit, wall), _line(other, more, fit, wall)):
            row, ticks = max(((one, few), (other, more)), key=lambda pair: len(pair[1]) if not pair[1][-1].chock else 0)
            if len(ticks) < 2 or ticks[-1].chock:
                break
            inner.append((row, ticks.pop()))
    return kept, inner


def _line(row: Row, ticks: list[Tick], fit: Fit, wall: Outline) -> tuple[Place, Place]:
    """From the zero of a straight row to beyond its last tick."""
    zero, _, way = line_of(row, fit)
    (x, y), _ = beside_tick(row, ticks[-1], fit, wall)
    return zero, (x + TICK * way[0], y + TICK * way[1])


def _cross(one: tuple[Place, Place], other: tuple[Place, Place]) -> bool:
    """Whether two straight lines cross between their ends."""

    def side(start: Place, end: Place, place: Place) -> float:
        return (end[0] - start[0]) * (place[1] - start[1]) - (end[1] - start[1]) * (place[0] - start[0])

    return all(side(*run, off[0]) * side(*run, off[1]) < 0 for run, off in ((one, other), (other, one)))


def row_lines(row: Row, ticks: list[Tick], fit: Fit, wall: Outline) -> Iterator[Mark]:
    """Line of a row with its ticks and the dot of its zero; on a curve the ticks alone."""
    places = [beside_tick(row, tick, fit, wall) for tick in ticks]
    for (x, y), (dx, dy) in places:
        yield line("TICKS", (x - TICK * dx, y - TICK * dy), (x + TICK * dx, y + TICK * dy))
    for tick, ((x, y), outward) in zip(ticks, places, strict=True):
        if tick.beside:
            yield from _dotted(fit.at(tick.foot), (x - TICK * outward[0], y - TICK * outward[1]))
    if not row.curved and places:
        zero, _, _ = line_of(row, fit)
        yield line("DIMENSIONS", zero, places[-1][0])


def _dotted(start: Place, end: Place) -> Iterator[Mark]:
    """A run of dots from a block in a corner arc to its tick."""
    long = ((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5
    count = int((long - 1.6) // 1.3)
    for step in range(1, count + 1):
        share = (1.0 + 1.3 * step) / long
        if share < 1.0:
            yield dot("DETAIL", (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])), 0.22)


def zeros(facts: CardFacts, fit: Fit, wall: Outline, put: Put) -> None:
    """The dot and the 0 of every row; rows to both sides of one zero share it."""
    found: dict[Place, tuple[Row, Place, Place]] = {}
    for row in facts.rows:
        if row.curved:
            (x, y), (dx, dy) = on_edge(wall, fit.at(row.zero))
            zero, outward = (x - ROW_OFF * dx, y - ROW_OFF * dy), (-dx, -dy)
        else:
            zero, outward, _ = line_of(row, fit)
        if row.ticks:
            found.setdefault((round(zero[0], 1), round(zero[1], 1)), (row, zero, outward))
    put(*(dot("TICKS", zero, 0.9) for _, zero, _ in found.values()))
    for row, zero, outward in found.values():
        beside = _first_free(_around(zero, outward, "0", STRONG, off=TICK + OVER_TICK), put.room)
        marks = [beside] if beside is not None else led_text(words(0.0, 0.0, "0", STRONG, bold=True), zero, put.room)
        if marks:
            put(*marks)
            put.room.drawn(f"zero of {row.name}")
        else:
            put.picture.tabled.append((row, row.ticks[0]))
            put.room.tabled(f"zero of {row.name}", "no place beside its dot is clear: told on side 3")


def figure_inside(row: Row, tick: Tick, fit: Fit, wall: Outline, put: Put) -> None:
    """The figure of a tick that its row has not, inside beside its block."""
    figure = rounded_distances([tick.distance])[0]
    found = _placed_inside(row, tick, figure, fit, wall, put.room) or _led_inside(row, tick, figure, fit, wall, put.room)
    if found is not None:
        put(*found)
        put.room.drawn(f"{row.name} {tick.mark}")
    else:
        put.picture.tabled.append((row, tick))
        put.room.tabled(f"{row.name} {tick.mark}", "no place beside its block is clear: told on side 3")


def figures_of(row: Row, ticks: list[Tick], fit: Fit, wall: Outline, put: Put) -> None:
    """The figure of every tick, of a chock never without its mark; equal ones stand once."""
    figures = rounded_distances([tick.distance for tick in ticks])
    of_chocks = {figure for tick, figure in zip(ticks, figures, strict=True) if tick.chock}
    told = [pair for pair in zip(ticks, figures, strict=True) if pair[0].chock or pair[1] not in of_chocks]
    marked = [f"{tick.mark} {figure}" if tick.chock else figure for tick, figure in told]
    places = [beside_tick(row, tick, fit, wall) for tick, _ in told]
    shifts = [0.0] * len(told) if row.curved else _spread(row, fit, places, marked)
    for (tick, figure), string, (at, outward), shift in zip(told, marked, places, shifts, strict=True):
        tried = (_placed(at, outward, string, put.room, moved) for moved in dict.fromkeys((0.0, shift)))
        found = next(filter(None, tried), None)
        if found is None and not tick.chock:
            found = _placed_inside(row, tick, figure, fit, wall, put.room) or _led_beyond(figure, (at, outward), wall, put.room)
        name = f"{row.name} {tick.mark}"
        if found is not None:
            put(*found)
            put.room.drawn(name)
        elif tick.chock:
            put.picture.unplaced[tick.mark] = row.off_its_row(figure, in_words=True)
            put.room.tabled(name, "no place at its tick is clear: told with its chock")
        else:
            put.picture.tabled.append((row, tick))
            put.room.tabled(name, "no place at its tick is clear: told on side 3")


def _spread(row: Row, fit: Fit, places: list[tuple[Place, Place]], strings: list[str]) -> list[float]:
    """How far each figure of a straight row must move along it so that they stand apart, the zero staying where it is.

    Neighbours that stand too near are taken together and moved about their middle (pooling of neighbours, in their order); paper mm, to the
    left of the direction out of the recess.
    """
    zero, outward, way = line_of(row, fit)
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


def _placed(at: Place, outward: Place, string: str, room: KeepClear, shift: float) -> list[Mark] | None:
    """A figure beyond its tick, with a leader where it stands aside or farther out; None where no place is clear."""
    for text in _around(at, outward, string, STRONG, off=TICK + OVER_TICK, rows=3, moved=shift):
        if room.free(box_of_text(text, 1.0), apart=BETWEEN - 0.05):
            leader = list(_leader(at, outward, text))
            if leads_clear(leader, room):
                return [text, *leader]
    return None


def _placed_inside(row: Row, tick: Tick, figure: str, fit: Fit, wall: Outline, room: KeepClear) -> list[Mark] | None:
    """The figure of a spacer inside the recess beside it, off its row and so with what it counts from, where no place outside is clear."""
    (x, y), (dx, dy) = on_edge(wall, fit.at(tick.foot))
    at = (x + (SPACER_IN + SPACER[1] / 2) * dx, y + (SPACER_IN + SPACER[1] / 2) * dy)
    found = _first_free(_around(at, (dx, dy), row.off_its_row(figure), STRONG, off=OVER_TICK), room)
    return None if found is None else [found]


def _led_inside(row: Row, tick: Tick, figure: str, fit: Fit, wall: Outline, room: KeepClear) -> list[Mark] | None:
    """The same, farther in on a leader from the spacer."""
    (x, y), (dx, dy) = on_edge(wall, fit.at(tick.foot))
    face = SPACER_IN + SPACER[1] / 2
    text = words(0.0, 0.0, row.off_its_row(figure), STRONG, bold=True, align="middle")
    found = led_text(text, (x + face * dx, y + face * dy), room, inside=lambda place: lies_inside(wall, place), farthest=LED)
    return found or None


def _led_beyond(figure: str, beside: tuple[Place, Place], wall: Outline, room: KeepClear) -> list[Mark] | None:
    """The figure of a spacer farther out, on a leader from its tick."""
    (x, y), outward = beside
    text = words(0.0, 0.0, figure, STRONG, bold=True, align="middle")
    start = (x + TICK * outward[0], y + TICK * outward[1])
    return led_text(text, start, room, inside=lambda place: not lies_inside(wall, place), farthest=LED) or None


def _first_free(texts: Iterator[Text], room: KeepClear) -> Text | None:
    """The first of the texts that is free; the account does not change."""
    return next((text for text in texts if room.free(box_of_text(text, 1.0))), None)


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


__all__ = [
    "ROW_OFF",
    "SPACER",
    "SPACER_IN",
    "TICK",
    "Put",
    "RecessPicture",
    "beside_tick",
    "figure_inside",
    "figures_of",
    "line_of",
    "row_lines",
    "rows_apart",
    "zeros",
]
