"""A print film cut into pages, where it is longer than a page of a PDF may be.

A page larger than 200 inches (14 400 units of 1/72 inch: ISO 32000-1, annex C) is shown by some readers and by none for certain, and a unit
of the page's own, which is the standard's way out, is passed over by many: the film would come out small. So every page stays true size.

Terms
-----
page
    A window of the film, 1:1. Neighbours share a strip of :data:`SHARED` mm, drawn on both alike.
seam
    The middle of that strip. Outside the glass a register cross stands on it, on both pages: they are laid on one another by those.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from math import ceil
from typing import TYPE_CHECKING

from outputs.files.print_film import (
    BAR,
    CROSS_ARM,
    CROSS_AT,
    HEADING,
    PITCH,
    UNDER_BAR,
    WORDS,
    FilmText,
    bar_along,
    bar_up,
    cross_at,
)
from outputs.sheet.drafting import number
from outputs.sheet.lettering import text_width
from outputs.sheet.tables import wrapped

if TYPE_CHECKING:
    from outputs.files.print_film import Film, Stroke

LONGEST_PAGE = 5000.0  # mm; 200 inches are 5080
SHARED = 60.0  # mm
BESIDE = 170.0  # mm left of a film that is cut into pages one over the other, for what the upper ones say

Box = tuple[float, float, float, float]


def film_pages(film: Film) -> tuple[Film, ...]:
    """The film itself where it is short enough, else its pages, the lower left first. Each is a film, its ``page`` the window."""
    left, bottom, right, top = film.page
    if right - left <= LONGEST_PAGE and top - bottom <= LONGEST_PAGE:
        return (film,)
    if top - bottom > LONGEST_PAGE:
        left -= BESIDE
    columns, rows = _windows(left, right), _windows(bottom, top)
    whole = replace(film, strokes=(*film.strokes, *_on_seams(film, columns, rows)))
    windows = [(column[0], row[0], column[1], row[1]) for row, column in product(rows, columns)]
    return tuple(_page(whole, window, index, len(windows)) for index, window in enumerate(windows, start=1))


def _windows(first: float, last: float) -> list[tuple[float, float]]:
    """Stretches of equal length that cover a length, as few as may be, neighbours sharing a strip."""
    count = max(1, ceil((last - first - SHARED) / (LONGEST_PAGE - SHARED)))
    long = (last - first + (count - 1) * SHARED) / count
    starts = [first + index * (long - SHARED) for index in range(count)]
    return [(start, start + long) for start in starts]


def _on_seams(film: Film, columns: list[tuple[float, float]], rows: list[tuple[float, float]]) -> list[Stroke]:
    """Register crosses on the seams, outside the glass, where none of the film's own stands in the strip."""
    left, bottom, right, top = film.glass
    strokes: list[Stroke] = []
    for start, _ in columns[1:]:
        if not _crossed(start, ((left + right) / 2, left - CROSS_AT, right + CROSS_AT)):
            strokes += [stroke for y in (bottom - CROSS_AT, top + CROSS_AT) for stroke in cross_at(start + SHARED / 2, y)]
    for start, _ in rows[1:]:
        if not _crossed(start, ((bottom + top) / 2, bottom - CROSS_AT, top + CROSS_AT)):
            strokes += [stroke for x in (left - CROSS_AT, right + CROSS_AT) for stroke in cross_at(x, start + SHARED / 2)]
    return strokes


def _crossed(start: float, middles: tuple[float, ...]) -> bool:
    """Whether one of the crosses that every film has lies in a strip, arms and all."""
    return any(start + CROSS_ARM < middle < start + SHARED - CROSS_ARM for middle in middles)


def _page(film: Film, window: Box, index: int, count: int) -> Film:
    """What of a film lies in a window, and what that page says of itself."""
    left, bottom, right, top = window
    low = bottom < film.glass[1] - CROSS_AT
    words = (
        f"page {index} of {count}, X {number(left, decimals=0)} to {number(right, decimals=0)}, "
        f"Y {number(bottom, decimals=0)} to {number(top, decimals=0)}; crosses of neighbours lie on one another"
    )
    strokes, texts = (_under if low else _beside)(film, window, index, words)
    rows = tuple(
        replace(row, dots=tuple(dot for dot in row.dots if _within(dot, window, over=row.diameter / 2))) for row in film.rows
    )
    return replace(
        film,
        title=f"{film.title}, page {index} of {count}",
        page=(left, min([bottom, *(text.y - PITCH for text in texts)]), right, top),
        rows=rows,
        strokes=(*(stroke for stroke in film.strokes if all(_within(place, window) for place in stroke)), *strokes),
        texts=texts,
    )


def _own(film: Film, window: Box) -> list[FilmText]:
    """The lettering of the film that lies in a window."""
    return [
        text
        for text in film.texts
        if _within((text.x, text.y), window) and text.x + text_width(text.string, text.height) <= window[2]
    ]


def _under(film: Film, window: Box, index: int, words: str) -> tuple[list[Stroke], tuple[FilmText, ...]]:
    """A bar and lettering under the glass: all of the film's own on the first page, heading and code on those beside it."""
    left, _, right, _ = window
    heading, code = film.texts[:2]
    texts = _own(film, window)
    if index == 1:
        y = min(text.y for text in texts) - PITCH
        return [], (*texts, *_lines([(WORDS, words)], heading.x, y, right - heading.x - 5.0))
    start = left + SHARED + 5.0
    bar, figure = bar_along(start, heading.y + UNDER_BAR)
    lines = [(HEADING, heading.string), (WORDS, code.string), (WORDS, words)]
    return bar, (*texts, figure, *_lines(lines, start, heading.y, right - start - 5.0))


def _beside(film: Film, window: Box, index: int, words: str) -> tuple[list[Stroke], tuple[FilmText, ...]]:
    """A bar and lettering left of the glass, on an upper page; one that does not reach beyond the glass there says nothing."""
    left, _, _, top = window
    if left > film.glass[0] - CROSS_AT:
        return [], ()
    heading, code = film.texts[:2]
    lines = [(HEADING, heading.string), (WORDS, code.string), (WORDS, words)]
    told = _lines(lines, left + 5.0, min(top, film.glass[3]) - 20.0, BESIDE - 10.0)
    bar, figure = bar_up(left + 10.0, min(text.y for text in told) - 2 * PITCH - BAR)
    return bar, (*told, figure)


def _lines(lines: list[tuple[float, str]], x: float, y: float, width: float) -> tuple[FilmText, ...]:
    """Lines of lettering one under the other, each broken where it is too long."""
    parts = [(height, part) for height, line in lines for part in wrapped(line, width, height)]
    return tuple(FilmText(x, y - PITCH * index, part, height) for index, (height, part) in enumerate(parts))


def _within(place: tuple[float, float], window: Box, *, over: float = 0.0) -> bool:
    left, bottom, right, top = window
    return left - over <= place[0] <= right + over and bottom - over <= place[1] <= top + over


__all__ = ["LONGEST_PAGE", "SHARED", "film_pages"]
