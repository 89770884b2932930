"""The recess as one sees it who surveys it: its wall, the stations with their numbers, and the two datum lines. Not to scale."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline import corners
from outputs.drawing import card_hand as hand
from outputs.drawing.card_fit import drawn, fitted, on_edge
from outputs.drawing.card_room import card_room
from outputs.sheet.boxes import box_of_text
from outputs.sheet.runs import line

if TYPE_CHECKING:
    from collections.abc import Iterable

    from geometry.workings.survey_stations import SurveyPlan
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Mark, Place, Text
    from outputs.sheet.keep_clear import KeepClear

ASIDE = 9.0  # paper mm from the recess to the datum lines
ROUND = 7.5  # paper mm round the picture
HEIGHTS = (hand.PLAIN, hand.SMALL, 2.2)
CLOSE, CLOSER = 6.5, 5.0  # paper mm between stations from which their numbers are as large


def survey_marks(plan: SurveyPlan, room: Box, names: tuple[str, ...]) -> list[Mark]:
    """The picture in a room of the paper (left, bottom, right, top); ``names`` are those of the corners, as on the other sheets."""
    left, bottom, right, top = room
    fit = fitted(
        plan.recess,
        (left + ASIDE + ROUND, bottom + ASIDE + ROUND, right - ROUND, top - ROUND),
        narrowest=24.0,
        mirrored=plan.inside,
    )
    edge = fit.outline(plan.recess)
    account = card_room(room)
    around = fit.paper
    origin = (around[0] - ASIDE, around[1] - ASIDE)
    far, high = (min(around[2] + 2.0, right), origin[1]), (origin[0], min(around[3] + 2.0, top))
    marks: list[Mark] = [
        drawn("RECESS", edge),
        line("SIGHT_LINE", origin, far),
        line("SIGHT_LINE", origin, high),
        hand.head("DETAIL", far, (1.0, 0.0)),
        hand.head("DETAIL", high, (0.0, 1.0)),
        hand.ring("DIMENSIONS", origin, 1.2),
    ]
    account.add(marks)
    letters = [
        hand.words(far[0] - 4.0, far[1] - 4.6, "X", hand.PLAIN, bold=True, align="middle"),
        hand.words(high[0] - 3.4, high[1] - 4.2, "Y", hand.PLAIN, bold=True, align="middle"),
        hand.words(origin[0] - 3.4, origin[1] - 5.6, "O", hand.PLAIN, bold=True, align="middle"),
    ]
    account.add(letters)
    marks += letters
    spots = [(place, *on_edge(edge, fit.at((place.at.x, place.at.y)))) for place in plan.places]
    ticks = [hand.dot("TICKS", at, 0.8) for _, at, _ in spots]
    account.add(ticks)
    marks += ticks
    near = min((math.dist(one[1], other[1]) for one, other in zip(spots, [*spots[1:], spots[0]], strict=True)), default=CLOSE)
    heights = HEIGHTS if near >= CLOSE else HEIGHTS[1:] if near >= CLOSER else HEIGHTS[2:]
    for place, at, inward in spots:
        marks += _lettered(str(place.number), at, inward, account, heights, bold=True)
    for name, corner in zip(names, corners(plan.recess), strict=False):
        at = fit.at((corner.theoretical.x, corner.theoretical.y))
        marks += _lettered(name, at, fit.way((corner.bisector.x, corner.bisector.y)), account, HEIGHTS, bold=False)
    return marks


def _lettered(string: str, at: Place, inward: Place, account: KeepClear, heights: tuple[float, ...], *, bold: bool) -> list[Mark]:
    """A name inside the wall, else outside, at the first place that is free; in smaller letters where there is none."""
    for height in heights:
        for text in _tries(string, at, inward, height, bold=bold):
            if account.free(box_of_text(text, 1.0)):
                account.add([text])
                return [text]
    return []


def _tries(string: str, at: Place, inward: Place, height: float, *, bold: bool) -> Iterable[Text]:
    (x, y), (dx, dy) = at, inward
    half = hand.width_of(string, height, bold=bold) / 2
    reach = abs(dx) * half + abs(dy) * height / 2 + 2.0
    for step in range(12):
        for side in (1.0, -1.0):
            for shift in (0.0, 1.2, -1.2, 2.4, -2.4, 3.6, -3.6):
                away = side * (reach + 0.7 * step)
                middle = (x + dx * away - dy * shift, y + dy * away + dx * shift)
                yield hand.words(middle[0], middle[1] - height / 2, string, height, bold=bold, align="middle")


__all__ = ["survey_marks"]
