"""The fitter's card of one pane: A4, two sides, in black alone; side 1 says where, side 2 says when.

A third side is added only where the running distances of a long pane find no room beside their ticks; side 1 then says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from outputs.drawing.card_clock import clock_marks
from outputs.drawing.card_facts import CardFacts, Row, Tick, facts_of, rounded_distances
from outputs.drawing.card_fit import Fit, fitted
from outputs.drawing.card_gaps import gaps_marks
from outputs.drawing.card_glass import glass_picture
from outputs.drawing.card_hand import HEADING, LEFT, RIGHT, STRONG, down, words
from outputs.drawing.card_head import head_blocks, head_when, head_where, lifting_line, state_line, take_line
from outputs.drawing.card_readings import caution_marks, days_marks, go_marks, measured_marks, used_marks
from outputs.drawing.card_recess import high, recess_picture
from outputs.drawing.card_room import card_room
from outputs.drawing.card_section import notch_marks, section_marks
from outputs.drawing.card_spacers import height_in_words
from outputs.drawing.card_words import COLUMN_HIGH, Piece, glass_words, in_lines, off_wall_lines, recess_words, set_inside
from outputs.sheet.outcomes import Fate
from outputs.sheets.hand_sheet import hand_sheet
from outputs.sheets.letters import CARD
from outputs.sheets.title import identification

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from outputs.sheet.entities import Mark, Sheet
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.outcomes import Outcome
    from outputs.sheets.contents import Contents

PICTURES = (29.0, 74.4, 181.0, 146.4)  # left, head, right and foot of the recess with its words inside
GLASS_HEAD, GLASS_FOOT = 160.6, 231.0
COLUMN, COLUMN_RIGHT = 142.0, 118.5  # where the words begin beside a compact pane, and where its picture ends
ONE_COLUMN = (33.0, 74.4, COLUMN_RIGHT, 146.4)
NARROWEST, NARROWEST_WITH_WORDS = 44.0, 71.0
SPARED = 5.4  # over and under the recess, for a second row of figures


def card_sheets(contents: Contents) -> tuple[Sheet, ...]:
    """The sides of the card, in order. Raises ``ValueError`` where the pane was not checked: the card is made of the checks."""
    if contents.check is None or contents.state is None:
        raise ValueError("a fitter's card is drawn from the checks of its pane; none were made")
    facts = facts_of(contents.check)
    picture = _where(contents.detail, facts)
    sides = 3 if picture.tabled else 2
    gaps, of_gaps = gaps_marks(contents.detail, facts.gaps)
    where = [*head_where(contents.pane, identification(contents, CARD), contents.mark, sides), *state_line(contents.state, 35.1)]
    where += [*lifting_line(facts.lifting), *picture.marks]
    where += [*take_line(facts, 238.3), *section_marks(contents.detail), *notch_marks(contents.detail)[0]]
    when = [*head_when(contents.pane, facts.clock.at(0), contents.mark, sides), *state_line(contents.state, 23.4)]
    when += [*clock_marks(facts.clock), *gaps, *go_marks(facts.go)]
    when += [*measured_marks(206.2), *used_marks(216.3), *days_marks(facts.days, 239.6), *caution_marks(facts, 257.0)]
    drawn = [where, when]
    if picture.tabled:
        drawn.append(_blocks_side(contents, facts, sides))
    names = ("where", "when", "blocks")
    outcomes = (picture.outcomes, tuple(("GAPS", outcome) for outcome in of_gaps), ())
    return tuple(
        _sheet(contents, marks, f"side {number} of {sides}, {name}", of_side)
        for number, (marks, name, of_side) in enumerate(zip(drawn, names, outcomes, strict=False), start=1)
    )


def _sheet(contents: Contents, marks: list[Mark], which: str, outcomes: tuple[tuple[str, Outcome], ...]) -> Sheet:
    told = contents.state.told if contents.state else ""
    says = f"Fitter's card of pane {contents.detail.code}, {which}: {told}"
    return hand_sheet(contents, f"fitter's card, {which}", says, marks, outcomes=outcomes)


@dataclass(frozen=True, slots=True)
class _Pictures:
    """Both pictures of side 1: their marks, what found no room and is told on side 3, and what became of everything."""

    marks: tuple[Mark, ...]
    tabled: tuple[tuple[Row, Tick], ...]
    outcomes: tuple[tuple[str, Outcome], ...]

    @property
    def missing(self) -> tuple[int, int]:
        """How much was left out, and how much is told elsewhere."""
        return sum(1 for _, outcome in self.outcomes if outcome.fate is Fate.LEFT_OUT), len(self.tabled)


def _where(detail: Detail, facts: CardFacts) -> _Pictures:
    """Both pictures of side 1 with their words inside them, or beside them where they find no room inside."""
    tried = []
    for column, spares in ((False, (0.0, SPARED)), (True, (0.0, SPARED))):
        for spared in spares:
            found = _pictures(detail, facts, column=column, spared=spared)
            if found is None:
                break  # no room for the words; in a smaller picture there is none either
            if found.missing == (0, 0):
                return found
            tried.append(found)
    return min(tried, key=lambda each: each.missing)


def _pictures(detail: Detail, facts: CardFacts, *, column: bool, spared: float) -> _Pictures | None:
    """Recess and glass with their words, and what found no room; None where words that are to stand inside do not."""
    left, head, right, foot = ONE_COLUMN if column else PICTURES
    narrowest = NARROWEST if column else NARROWEST_WITH_WORDS
    recess = fitted(detail.curves.recess, (left, down(foot - spared), right, down(head + spared)), narrowest=narrowest)
    edge = COLUMN - 2.0 if column else RIGHT
    room = card_room((LEFT, down(GLASS_HEAD - 1.5), edge, down(61.4)))
    picture = recess_picture(detail, facts, recess, room)
    if not facts.even and not column:
        return None  # the column alone has room to tell each spacer its distance from the wall
    off = [] if facts.even else off_wall_lines(detail, facts)
    text = recess_words(detail, facts, column=column, chocks=picture.unnamed, off=off, more=bool(picture.tabled))
    if off and text.height > COLUMN_HIGH:
        picture.tabled += [(row, tick) for row in facts.rows for tick in row.ticks if not tick.chock]
        text = recess_words(detail, facts, column=column, chocks=picture.unnamed, more=True)
    beside = text.at(COLUMN, down(head + 0.2)) if column else _inside(text, recess, room, lean=0.0)
    if beside is None or (picture.unnamed and not column):
        return None
    glass = _glass_fit(detail, recess, (left, right))
    glass_room = card_room((LEFT, down(GLASS_FOOT + 1.0), edge, down(GLASS_HEAD - 1.0)))
    drawn = glass_picture(detail, facts, glass, glass_room)
    text = glass_words(detail, facts, column=column)
    under = text.at(COLUMN, down(GLASS_HEAD)) if column else _inside(text, glass, glass_room, lean=0.5)
    if under is None:
        return None
    told = (("RECESS", room.outcomes), ("GLASS", glass_room.outcomes))
    outcomes = tuple((name, outcome) for name, found in told for outcome in found)
    return _Pictures((*picture.marks, *drawn, *beside, *under), tuple(picture.tabled), outcomes)


def _inside(text: Piece, fit: Fit, room: KeepClear, *, lean: float) -> list[Mark] | None:
    """Words inside a picture, clear of its corners."""
    left, low, right, high = fit.paper
    return set_inside(text, (left + 12.0, low + 9.0, right - 12.0, high - 9.0), room, lean=lean)


def _glass_fit(detail: Detail, recess: Fit, sides: tuple[float, float]) -> Fit:
    """The glass turned over, at the scale of the recess."""
    from geometry.outline import bounding_box

    box = bounding_box(detail.curves.glass)
    wide, high = (box.right - box.left) * recess.across, (box.top - box.bottom) * recess.upwards
    top = down(GLASS_HEAD)
    return Fit(
        (sides[0] + sides[1] - wide) / 2,
        top - high,
        recess.across,
        recess.upwards,
        (box.left, box.bottom, box.right, box.top),
        mirrored=True,
    )


def _blocks_side(contents: Contents, facts: CardFacts, sides: int) -> list[Mark]:
    """Side 3: every running distance, wall by wall; a pane with so many blocks finds no room for them on side 1."""
    marks = [*head_blocks(contents.pane, contents.mark, sides)]
    if contents.state is not None:
        marks += state_line(contents.state, 23.4)
    marks.append(words(LEFT, down(40.0), "RUNNING DISTANCES of all blocks, in mm, seen from OUTSIDE", HEADING, bold=True))
    y = 49.0
    for row in facts.rows:
        zero, cells = block_cells(facts, row)
        marks.append(words(LEFT, down(y), zero, STRONG, bold=True))
        for string in in_lines(cells, RIGHT - LEFT):
            y += 6.3
            marks.append(words(LEFT, down(y), string))
        y += 9.0
    return marks


def block_cells(facts: CardFacts, row: Row) -> tuple[str, list[str]]:
    """A row of running distances in words: where it begins, and each block with its distance and what of it is its own."""
    cells = []
    for tick, figure in zip(row.ticks, rounded_distances([tick.distance for tick in row.ticks]), strict=True):
        tall = f" ({high(facts.chock_ends[tick.mark])})" if tick.chock else ""
        if tick.mark in facts.spacer_heights:
            tall = f" ({height_in_words(facts.spacer_heights[tick.mark])} high)"
        off = "" if facts.even or tick.chock else f" ({rounded_distances([facts.off_wall[tick.mark]])[0]} off the wall)"
        cells.append(f"{tick.mark} {figure}{tall}{off}")
    at = "" if row.corner is None else f" at corner {row.corner}"
    return f"{row.name}, from {row.zero_at}{at}", cells


__all__ = ["block_cells", "card_sheets"]
