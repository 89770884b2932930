"""Side 2 of the fitter's card, lower half: go or no-go, what was measured and used, days, cautions."""

from __future__ import annotations

from math import fsum
from typing import TYPE_CHECKING

from outputs.drawing.card_facts import MOST_ROWS
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
    fitted,
    plate,
    ring,
    width_of,
    words,
)
from outputs.drawing.pictograms import ALL
from outputs.sheet.drafting import number
from outputs.sheet.entities import Hatch, Text
from outputs.sheet.runs import box_nodes, line

if TYPE_CHECKING:
    from outputs.drawing.card_facts import CardFacts, Days, GoTable
    from outputs.sheet.entities import Mark

GAPS_TOP = 136.0
GRID_LEFT, GRID_TOP, CELL = 156.5, 152.6, (7.25, 5.1)


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


PRODUCT_NAMES = {
    "adhesive": "adhesive",
    "activator": "activator",
    "cleaner": "cleaner",
    "primer_frame": "primer, landing",
    "primer_glass": "primer, glass",
    "sealant": "sealant",
}
"""What is used up, by its name in the bonding record, in few letters: the same on card, form and care sheet."""
FIELDS = (
    tuple(f"lot: {PRODUCT_NAMES[name]}" for name in ("adhesive", "activator", "primer_glass", "primer_frame", "sealant")),
    ("tear test: day, held?", "photos no.", "straps at", "date", "signature"),
)


def used_marks(top: float) -> list[Mark]:
    """Boxes for lots, tear test, photos, straps, date and signature."""
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
    day_0 = f"day 0 = {days.bonded}" if days.bonded else "bonded = day 0"
    marks: list[Mark] = [plate(LEFT, head - 13.6, LEFT + 38.5, head)]
    marks += [
        words(LEFT + 2.3, head - 5.6, "NOT BEFORE", HEADING, bold=True, white=True),
        words(LEFT + 2.3, head - 11.2, day_0, fitted(day_0, 35.0, (PLAIN, 3.0, SMALL)), white=True),
    ]
    x, share = LEFT + 41.5, (RIGHT - LEFT - 41.5 + 3.5) / 3
    for (name, day), date in zip(
        (("MOVE BOAT", days.move), ("BACKFILL", days.backfill), ("HOSE", days.hose)), days.dates, strict=True
    ):
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
        if date:
            marks.append(
                words(start + 1.2, head - 11.6, date, fitted(date, end - start - 2.4, (STRONG, PLAIN, SMALL, 2.5)), bold=True)
            )
            x += share
            continue
        marks += [words(start + (end - start) * part, head - 12.0, ",", STRONG) for part in (0.34, 0.67)]
        x += share
    return marks


CAUTIONS = (
    "Isocyanates: trained people only. Never heat it.",
    "Vapour: no flame, no spark; air the cabin.",
    "Eyes: rinse 15 min, doctor. No solvent on skin.",
    "Cups: dry clean glass, pump again every 5 min.",
    "Over water: edge guard, life-jacket, tied tools.",
)


def strap_words(facts: CardFacts) -> str:
    """What a pane that leans out needs until the bead holds it; empty where it needs nothing."""
    return f"STRAP for {number(facts.pull, decimals=0)} N till held: bead slips" if facts.pull > 0.5 else ""


def caution_marks(facts: CardFacts, top: float) -> list[Mark]:
    """Five pictograms and what they mean; over them, in bold, the strap of a pane that leans out."""
    marks: list[Mark] = [words(102.5, down(top + 3.6 + row * 6.3), string) for row, string in enumerate(CAUTIONS)]
    strap = strap_words(facts)
    if strap:
        marks.append(words(LEFT, down(top + 3.6), strap, bold=True))
    for number_, sign in enumerate(ALL):
        marks += sign((LEFT + 8.2 + number_ * 18.1, down(top + 15.4)))
    return marks


__all__ = ["CAUTIONS", "FIELDS", "PRODUCT_NAMES", "caution_marks", "days_marks", "go_marks", "measured_marks", "strap_words", "used_marks"]
