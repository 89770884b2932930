"""Side 2 of the fitter's card, upper half: the clock in two columns, the steps done together, LAST PRESS and ABORT.

Every line says when it starts, as ``+0:47`` after the start of work and as a time of day, beside a box for the time at which it was done.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.rules.day.time_plan import StepKind
from outputs.drawing.card_hand import HEADING, LEFT, PLAIN, RIGHT, dots, down, field, fitted, plate, time_field, width_of, words
from outputs.drawing.pictograms import hourglass

if TYPE_CHECKING:
    from collections.abc import Sequence

    from outputs.drawing.card_times import Clock, Line
    from outputs.sheet.entities import Mark

WIDE, ROW, HEAD = 93.0, 6.5, 6.2
SECOND = RIGHT - WIDE
BOX = (17.5, 5.7)
FIRST_TOP = 33.8
ROWS = 8


def plus(minutes: int) -> str:
    """Minutes after the start of work as they stand on the card.

    >>> plus(47), plus(75)
    ('+0:47', '+1:15')
    """
    return f"+{minutes // 60}:{minutes % 60:02d}"


def clock_marks(clock: Clock) -> list[Mark]:
    """Both columns, what is done together, and the times that must be kept."""
    marks = _column("FRAME", clock, clock.frame, LEFT, FIRST_TOP)
    marks += _column("GLASS", clock, clock.glass, SECOND, FIRST_TOP)
    top = FIRST_TOP + HEAD + len(clock.frame) * ROW
    for name, longest in zip(("landing", "glass"), clock.longest, strict=True):
        marks += _longest(name, longest, clock, top)
        top += ROW
    lower = FIRST_TOP + HEAD + ROWS * ROW + 3.0
    marks += _column("BOTH TOGETHER", clock, clock.both, LEFT, lower)
    return marks + _kept(clock, lower)


def _column(name: str, clock: Clock, lines: Sequence[Line], left: float, top: float) -> list[Mark]:
    marks: list[Mark] = [plate(left, down(top + HEAD), left + WIDE, down(top))]
    marks.append(words(left + 1.8, down(top + 5.15), name, HEADING, bold=True, white=True))
    marks.append(words(left + WIDE - 1.8, down(top + 4.9), "write", white=True, align="right"))
    for number, each in enumerate(lines):
        marks += _row(clock, each, left, top + HEAD + 0.35 + number * ROW)
    return marks


def _row(clock: Clock, each: Line, left: float, top: float) -> list[Mark]:
    foot = down(top + 4.9)
    box = left + WIDE - BOX[0]
    marks: list[Mark] = [words(left + 27.8, foot, clock.at(each.offset), 3.8, bold=True, align="right")]
    if each.offset is not None:
        marks.append(words(left + 12.0, foot, plus(each.offset), align="right"))
        marks += time_field(box, down(top + 0.4 + BOX[1]), box + BOX[0], down(top + 0.4))
    x, tall = left + 30.2, PLAIN
    if each.wait is not None:
        marks += hourglass((x + 1.4, foot + PLAIN / 2))
        string = f"WAIT {each.wait} min" if each.by is None else f"WAIT {each.wait}, end {clock.at(each.by)}"
        tall = fitted(string, box - x - 6.0, (PLAIN, 3.2, 3.0, 2.8), bold=True)
        marks.append(words(x + 5.0, foot, string, tall, bold=True))
        x += 5.0
    elif each.kind is StepKind.BEAD:
        string = "BEAD"
        marks.append(words(x, foot, string, 4.0, bold=True))
        return [*marks, *dots(x + width_of(string, 4.0, bold=True) + 2.4, box - 2.4, foot)]
    else:
        latest = "no time for it" if clock.last_lift is None else f"not after {clock.at(clock.last_lift)}"
        string = f"{each.what}, {latest}" if each.kind is StepKind.LIFT else each.what
        marks.append(words(x, foot, string, fitted(string, box - x - 1.0, (PLAIN, 3.5))))
    if each.offset is None:  # nothing to write
        return marks
    end = x + width_of(string, tall, bold=each.wait is not None)
    return [*marks, *dots(end + 2.4, box - 2.4, foot)]


def _longest(name: str, longest: int | None, clock: Clock, top: float) -> list[Mark]:
    """By when a primed face must be wetted; boxes to fill in where the primer's longest wait is not given."""
    top += 0.35
    foot = down(top + 4.9)
    box = LEFT + WIDE - BOX[0]
    marks: list[Mark] = [*time_field(box, down(top + 0.4 + BOX[1]), box + BOX[0], down(top + 0.4))]
    if longest is not None:
        marks.append(words(LEFT + 12.0, foot, plus(longest), align="right"))
        marks.append(words(LEFT + 27.8, foot, clock.at(longest), 3.8, bold=True, align="right"))
        return [*marks, words(LEFT + 30.2, foot, f"{name}: bonded by", bold=True)]
    marks.append(words(LEFT + 31.0, foot, f"{name}: most", align="right"))
    marks.append(field(LEFT + 32.4, down(top + 0.4 + BOX[1]), LEFT + 45.0, down(top + 0.9)))
    return [*marks, words(box - 1.6, foot, "min, redo at", align="right")]


def _kept(clock: Clock, top: float) -> list[Mark]:
    """LAST PRESS black on white beside ABORT white on black; under them the rule that holds whatever the day did."""
    left, right = SECOND, RIGHT
    foot, head, middle = down(top + 39.2), down(top), left + 45.0
    windows = (left + 0.8, head - 18.0, middle, head - 0.8), (left + 2.0, head - 37.4, RIGHT - 2.0, head - 29.8)
    marks: list[Mark] = [plate(left, foot, right, head, *windows)]
    press = "LAST PRESS" if clock.last_press is None else f"LAST PRESS {plus(clock.last_press)}"
    marks.append(words(left + 2.7, head - 5.2, press, bold=True))
    marks.append(words(right - 2.7, head - 5.2, f"ABORT {plus(clock.abort)}", bold=True, align="right", white=True))
    for string, white in ((clock.at(clock.last_press), False), (clock.at(clock.abort), True)):
        tall = fitted(string, 40.0, (10.0, 8.0, 6.0), bold=True)
        at = (right - 2.7, head - 17.0) if white else (left + 2.7, head - 17.0)
        marks.append(words(*at, string, tall, bold=True, align="right" if white else "left", white=white))
    if clock.too_long:
        told = f"PLAN {clock.too_long} MIN TOO LONG: DO NOT START"
        marks.append(words(left + 2.7, head - 22.5, told, bold=True, white=True))
    else:
        marks.append(words(left + 2.7, head - 22.5, "LAST PRESS = PLAN", white=True))
        marks.append(words(right - 2.7, head - 22.5, "ABORT = LIMIT", align="right", white=True))
    marks.append(words(left + 2.7, head - 27.7, "past ABORT: do not place, scrape off", white=True))
    return [*marks, *_from_bead(clock, left, head)]


def _from_bead(clock: Clock, left: float, head: float) -> list[Mark]:
    """Bead began, plus so many minutes, is the abort."""
    low, high = head - 37.4, head - 29.8
    marks: list[Mark] = []
    foot, inner = low + 2.0, (low + 0.9, high - 0.9)
    x = left + 3.2
    marks.append(words(x, foot, "bead began"))
    x += width_of("bead began") + 1.6
    marks += time_field(x, inner[0], x + 17.0, inner[1])
    x += 17.0 + 1.6
    told = f"+ {clock.from_bead} min ="
    marks.append(words(x, foot, told, bold=True))
    return [*marks, *time_field(RIGHT - 3.6 - 17.0, inner[0], RIGHT - 3.6, inner[1])]


__all__ = ["FIRST_TOP", "HEAD", "ROW", "ROWS", "SECOND", "WIDE", "clock_marks", "plus"]
