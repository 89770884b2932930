"""The film that a pane is printed from, full size: the print, crosses to register it by, bars to measure it by, and what it says.

Terms
-----
film
    One sheet as large as it has to be, 1 : 1, in the coordinates of the pane, mm: the print and, outside the glass, all the rest.
mirrored film
    The same film seen from inside. The outlines turn over, the lettering does not; heading and name say so.
register cross
    Two lines to lay film and glass on one another by, outside the glass, at known distances from the box of the glass.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import fsum
from typing import TYPE_CHECKING

from geometry.outline import Outline, area, bounding_box
from outputs.sheet.drafting import number
from outputs.sheet.lettering import text_width
from outputs.sheet.tables import wrapped

if TYPE_CHECKING:
    from outputs.drawing.pane_print import DotRow, PanePrint

CROSS_AT, CROSS_ARM = 15.0, 5.0  # mm outside the box of the glass, to the middle of a cross, and its arms
BAR, BAR_END = 100.0, 2.0  # mm, length and half the end stroke
STROKE = 0.25  # mm, width of every line
HEADING, WORDS, PITCH = 5.0, 3.5, 6.5  # mm, heights of lettering and base line to base line
MARGIN = 25.0  # mm round the glass
BARS_AT = 25.0  # mm outside the box of the glass
UNDER_BAR = 14.0  # mm from the bar along to the base line under it
LEAST_WIDTH = 180.0  # mm of lettering

Stroke = tuple[tuple[float, float], tuple[float, float]]


@dataclass(frozen=True, slots=True)
class FilmText:
    """A line of lettering: left end of its base line and height of its capitals, mm."""

    x: float
    y: float
    string: str
    height: float


@dataclass(frozen=True, slots=True)
class Film:
    """Everything on a film, mm, in the coordinates of the pane. ``page`` and ``glass`` are boxes: left, bottom, right and top."""

    title: str
    page: tuple[float, float, float, float]
    glass: tuple[float, float, float, float]
    solid: tuple[Outline, ...]
    rows: tuple[DotRow, ...]
    strokes: tuple[Stroke, ...]
    texts: tuple[FilmText, ...]


def film_of(given: PanePrint, *, code: str, revision: str, mark: str, face: int, faces: int) -> Film:
    """The film of a print on ``face`` of ``faces``, face 1 outside."""
    box = bounding_box(given.glass)
    mirrored = given.seen_from_inside
    heading = f"{'MIRRORED PRINT FILM' if mirrored else 'PRINT FILM'} 1:1, seen from {'INSIDE' if mirrored else 'OUTSIDE'}"
    left, right = box.left - MARGIN - 12.0, max(box.right + MARGIN, box.left - MARGIN + LEAST_WIDTH)
    top = max(box.top + MARGIN, box.bottom + BAR + MARGIN)
    start = box.left - BARS_AT
    texts: list[FilmText] = []
    y = box.bottom - BARS_AT - UNDER_BAR
    for height, line in ((HEADING, heading), *((WORDS, line) for line in _lines(given, code, revision, mark, face, faces))):
        for part in wrapped(line, right - start - 5.0, height):
            texts.append(FilmText(start, y, part, height))
            y -= PITCH
    page = (left, y - 4.0, right, top)
    named = f"{code} {revision} {'mirrored print film' if mirrored else 'print film'}".replace("  ", " ")
    bars, figures = _bars(box.left, box.bottom)
    return Film(
        named,
        page,
        (box.left, box.bottom, box.right, box.top),
        given.solid,
        given.rows,
        (*_crosses(given), *bars),
        (*texts, *figures),
    )


def _lines(given: PanePrint, code: str, revision: str, mark: str, face: int, faces: int) -> list[str]:
    box = bounding_box(given.glass)
    near = (face == 1) is not given.seen_from_inside if face in (1, faces) else None
    place = "outer face" if face == 1 else "inner face" if face == faces else "within the laminate"
    seen = "seen through the glass" if not near else "the printed face looks at you"
    solid = abs(area(given.solid[0]) - fsum(area(loop) for loop in given.solid[1:])) if len(given.solid) == 2 else None
    edge = f"{number(given.bleed)} of bleed beyond the glass edge" if given.bleed else "no bleed: the print ends within the glass"
    lines = [
        f"{code}{f', revision {revision}' if revision else ''}, mark of the job {mark}; mm",
        f"print on face {face} of {faces} ({place}), {seen}",
        f"solid print one region, 100 % black{'' if solid is None else f', {number(solid, decimals=0)} mm²'}; {edge}",
        f"glass {number(box.width)} × {number(box.height)}; crosses {number(CROSS_AT)} outside its box; both bars {number(BAR)}",
    ]
    if given.rows:
        lines.append(f"fade in {len(given.rows)} rows of dots, from the solid edge inwards:")
    for index, row in enumerate(given.rows, start=1):
        dots = f"{len(row.dots)} dots Ø{number(row.diameter)}, middle {number(row.distance)} from the solid edge"
        lines.append(f"row {index}: {dots}, cover {number(100 * row.cover, decimals=1)} %")
    return lines


def _crosses(given: PanePrint) -> list[Stroke]:
    box = bounding_box(given.glass)
    xs = (box.left - CROSS_AT, box.middle.x, box.right + CROSS_AT)
    ys = (box.bottom - CROSS_AT, box.middle.y, box.top + CROSS_AT)
    places = [(x, y) for x in xs for y in ys if (x, y) != (xs[1], ys[1])]
    return [stroke for place in places for stroke in cross_at(*place)]


def cross_at(x: float, y: float) -> list[Stroke]:
    """The two lines of a register cross."""
    return [((x - across, y - up), (x + across, y + up)) for across, up in ((CROSS_ARM, 0.0), (0.0, CROSS_ARM))]


def _bars(left: float, bottom: float) -> tuple[list[Stroke], list[FilmText]]:
    along, one = bar_along(left - BARS_AT, bottom - BARS_AT)
    up, other = bar_up(left - BARS_AT, bottom)
    return [*along, *up], [one, other]


def bar_along(x: float, y: float) -> tuple[list[Stroke], FilmText]:
    """A bar along, 100 mm between its ends, from its left end, with its figure."""
    strokes: list[Stroke] = [((x, y), (x + BAR, y)), *(((x + at, y - BAR_END), (x + at, y + BAR_END)) for at in (0.0, BAR))]
    return strokes, FilmText(x + BAR + 3.0, y - WORDS / 2, number(BAR), WORDS)


def bar_up(x: float, y: float) -> tuple[list[Stroke], FilmText]:
    """A bar up, 100 mm between its ends, from its lower end, with its figure."""
    strokes: list[Stroke] = [((x, y), (x, y + BAR)), *(((x - BAR_END, y + at), (x + BAR_END, y + at)) for at in (0.0, BAR))]
    label = number(BAR)
    return strokes, FilmText(x - text_width(label, WORDS) / 2, y + BAR + 4.0, label, WORDS)


__all__ = [
    "BAR", "CROSS_ARM", "CROSS_AT", "HEADING", "PITCH", "STROKE", "UNDER_BAR", "WORDS", "Film", "FilmText", "bar_along", "bar_up", "cross_at",
    "film_of",
]  # fmt: skip
