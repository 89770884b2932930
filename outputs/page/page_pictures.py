"""The pictures of the card's page: the views of the paper card, composed on a paper as narrow as a phone so that their lettering is read.

All in paper millimetres of a picture :data:`WIDE` mm wide, which fills the screen. The card's own views draw them; what finds no room in a
picture stands in the page's table of blocks, which tells every block anyway.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.drawing.card_corners import corner_numbers
from outputs.drawing.card_fit import drawn, fitted, on_edge
from outputs.drawing.card_glass import glass_picture
from outputs.drawing.card_hand import LAYERS, TITLE, dot, words
from outputs.drawing.card_recess import recess_picture
from outputs.drawing.card_room import card_room
from outputs.drawing.card_section import section_marks
from outputs.drawing.card_words import across, pointers
from outputs.files.svg import svg_inline
from outputs.page.page_parts import button
from outputs.record.markup import Html, join, tag
from outputs.sheet.boxes import box_of, joined
from outputs.sheet.entities import Sheet
from outputs.sheet.flattening import flattened
from outputs.sheet.moving import shifted

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Detail
    from outputs.drawing.card_facts import CardFacts
    from outputs.drawing.card_words import Piece
    from outputs.sheet.entities import Mark

WIDE = 112.0
BORDER = 1.5
NARROWEST = 36.0
ROWS = 20.0  # beside the recess: rows of running distances and their figures
MOST_HIGH = 96.0
LETTER_OFF = 5.6  # from the wall to the middle of the letter of a place


def recess_svg(detail: Detail, facts: CardFacts) -> Html:
    """The recess from outside: blocks, running distances, chock heights, corner numbers, UP and FWD."""
    fit = fitted(detail.curves.recess, (ROWS, 0.0, WIDE - ROWS, MOST_HIGH), narrowest=NARROWEST)
    room = card_room((BORDER, fit.bottom - 3 * ROWS, WIDE - BORDER, MOST_HIGH + 3 * ROWS))
    picture = recess_picture(detail, facts, fit, room)
    return _svg("recess", "Recess seen from outside", picture.marks, pointers(detail, turned_over=False))


def glass_svg(detail: Detail, facts: CardFacts) -> Html:
    """The glass as it lies, inner face up: path of the bead with its start, masking lines, pack changes, corner numbers, UP and FWD."""
    fit = fitted(detail.curves.glass, (6.0, 0.0, WIDE - 6.0, MOST_HIGH), narrowest=NARROWEST, mirrored=True)
    room = card_room((BORDER, fit.bottom - ROWS, WIDE - BORDER, MOST_HIGH + ROWS))
    marks = glass_picture(detail, facts, fit, room)
    return _svg("glass", "Glass as it lies, inner face up", marks, pointers(detail, turned_over=True))


def places_svg(detail: Detail, facts: CardFacts) -> Html:
    """The eight places at which gap and flush face are read, by their letters, from outside."""
    fit = fitted(detail.curves.recess, (12.0, 0.0, WIDE - 12.0, 62.0), narrowest=30.0)
    room = card_room((BORDER, fit.bottom - ROWS, WIDE - BORDER, 62.0 + ROWS))
    wall = fit.outline(detail.curves.recess)
    marks: list[Mark] = [drawn("GLASS", wall)]
    for reading in facts.gaps.readings:
        (x, y), (dx, dy) = on_edge(wall, fit.at(reading.place))
        marks.append(dot("DETAIL", (x, y), 1.3))
        at = (x - LETTER_OFF * dx, y - LETTER_OFF * dy - TITLE / 2)
        marks.append(words(*at, reading.letter, TITLE, bold=True, align="middle"))
    room.add(marks)
    marks += corner_numbers(detail, fit, wall, room)
    return _svg("places", "Where gap and flush face are read, from outside", marks, ())


def section_svg(detail: Detail) -> Html:
    """The section through a spacer with set-back, width and thickness of the bead."""
    return _svg("section", "Section: set-back, width, thickness", section_marks(detail), ())


def _svg(name: str, title: str, marks: Sequence[Mark], ways: Sequence[Piece]) -> Html:
    """The marks as a picture that is as wide as they are, UP and FWD under them in the middle."""
    left, low, right, high = joined(box_of(mark, 1.0) for mark in marks)
    marks = list(marks)
    if ways:
        piece = across(ways, 12.0)
        marks += piece.at((left + right - piece.width) / 2, low - 4.0)
        left, right = min(left, (left + right - piece.width) / 2), max(right, (left + right + piece.width) / 2)
        low -= 4.0 + piece.height
    laid = tuple(shifted(mark, BORDER - left, BORDER - low) for mark in marks)
    size = (right - left + 2 * BORDER, high - low + 2 * BORDER)
    sheet = Sheet("", *size, title, f"{title}; not to scale.", LAYERS, (), (), laid)
    return Html(svg_inline(flattened(sheet), name))


def picture(name: str, svg: Html) -> Html:
    """A picture in its frame, with a button that enlarges it there."""
    return join(tag("div", svg, class_="picture", id=f"{name}-picture"), button("larger", larger=f"{name}-picture"))


__all__ = ["WIDE", "glass_svg", "picture", "places_svg", "recess_svg", "section_svg"]
