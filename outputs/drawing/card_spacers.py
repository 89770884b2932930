"""Heights of spacers that each have their own, on the fitter's card: a surveyed recess is not everywhere as deep.

The height stands at its spacer, inside the wall, in mm; where one finds no clear place, all distances and heights stand on side 3.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from outputs.drawing.card_fit import on_edge
from outputs.drawing.card_hand import STRONG, width_of, words
from outputs.drawing.card_rows import CHOCK_HIGH, SPACER, SPACER_IN
from outputs.sheet.boxes import box_of_text
from outputs.sheet.drafting import number

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.detail.parts import Detail
    from geometry.outline import Outline
    from outputs.drawing.card_facts import CardFacts
    from outputs.drawing.card_fit import Fit
    from outputs.drawing.card_rows import Put
    from outputs.sheet.entities import Place, Text

NO_BOND = "no room"
CLEARLY = 1.6
"""How many times as far any other block is from a figure."""
SHIFTS = tuple(side * shift for shift in (0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0) for side in (1.0, -1.0))  # along the wall, paper mm
STEPS, STEP = 8, 0.5  # farther into the pane, paper mm


def height_in_words(height: float) -> str:
    """The free height of a spacer to a tenth, mm; that there is none where no bond is left.

    >>> height_in_words(5.263), height_in_words(0.0)
    ('5,3', 'no room')
    """
    return number(height, decimals=1) if height > 0 else NO_BOND


def put_spacer_heights(detail: Detail, facts: CardFacts, fit: Fit, wall: Outline, put: Put) -> None:
    """Letter every spacer's own height beside it; nothing where one height tells them all."""
    if not facts.spacer_heights:
        return
    feet = {each.mark: on_edge(wall, fit.at(each.centre)) for each in detail.spacers}
    blocks = {mark: _in(foot, SPACER_IN) for mark, foot in feet.items()}
    blocks |= {each.mark: _in(on_edge(wall, fit.at(each.foot)), CHOCK_HIGH / 2) for each in detail.chocks}
    for mark, foot in feet.items():
        what = f"height of {mark}"
        string = height_in_words(facts.spacer_heights[mark])
        text = next(
            (each for each in _tries(string, foot) if _owned(each, mark, blocks) and put.room.free(box_of_text(each, 1.0))),
            None,
        )
        if text is not None:
            put(text)
            put.room.drawn(what)
            continue
        entry = next((row, tick) for row in facts.rows for tick in row.ticks if tick.mark == mark)
        if entry not in put.picture.tabled:
            put.picture.tabled.append(entry)
        put.room.tabled(what, "no place at its spacer is clear: told on side 3")


def _in(foot: tuple[Place, Place], reach: float) -> Place:
    (x, y), (dx, dy) = foot
    return x + reach * dx, y + reach * dy


def _tries(string: str, foot: tuple[Place, Place]) -> Iterator[Text]:
    """The figure farther and farther in from its spacer, and a little aside."""
    (x, y), (dx, dy) = foot
    half = width_of(string, STRONG, bold=True) / 2
    first = SPACER_IN + SPACER[1] / 2 + 1.2 + abs(dx) * half + abs(dy) * STRONG / 2
    for step in range(STEPS):
        for shift in SHIFTS:
            reach = first + step * STEP
            middle = (x + reach * dx - shift * dy, y + reach * dy + shift * dx)
            yield words(middle[0], middle[1] - STRONG / 2, string, STRONG, bold=True, align="middle")


def _owned(text: Text, mark: str, blocks: dict[str, Place]) -> bool:
    """Whether nobody takes the figure for another block's: that is clearly farther from it than its own spacer."""
    left, low, right, high = box_of_text(text, 1.0)

    def away(place: Place) -> float:
        x, y = place
        return math.hypot(max(left - x, 0.0, x - right), max(low - y, 0.0, y - high))

    own = away(blocks[mark])
    return all(away(place) > CLEARLY * own for other, place in blocks.items() if other != mark)


__all__ = ["height_in_words", "put_spacer_heights"]
