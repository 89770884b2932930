"""The stations of a surveyed recess on the detail sheet: a table beside the plan, its numbers those of the plan, and the spacers' heights.

Terms
-----
number
    Of a station: its place in the file of the survey, from 1.
flush
    How far the glass stands proud or sunk of the skin there on spacers all as high as drawn, mm.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.workings.joint_round import joint_round_of
from geometry.workings.surveyed_recess import own_spacer_heights, surveyed_recess_of
from outputs.drawing.card_spacers import height_in_words
from outputs.sheet.drafting import number
from outputs.sheet.entities import Text
from outputs.sheet.lettering import text_width
from outputs.sheet.tables import Column, ruled
from outputs.sheets.detail_tables import heading

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.outline import Point
    from geometry.workings.surveyed_recess import RecessStation, SurveyedRecess
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Mark
    from outputs.sheets.contents import Contents
    from outputs.sheets.detail_places import Places

LEAST_ROWS = 6
"""Rows with which a table of more stations than have room still tells something."""


def numbered_stations(contents: Contents) -> tuple[tuple[int, Point], ...]:
    """Number and place of every surveyed station; none where the recess was not surveyed or nothing was judged."""
    recess = None if contents.check is None else surveyed_recess_of(contents.check.subject)
    return () if recess is None else tuple((count, each.at) for count, each in enumerate(recess.stations, start=1))


def least_words(contents: Contents) -> str:
    """The least joint all round and where it is, beside a recess with an outline of its own; else ""."""
    if contents.check is None or contents.check.subject.pane.recess_outline is None:
        return ""
    least = joint_round_of(contents.check.subject).least
    width = number(abs(least.width), decimals=1)
    return f"{width if least.width >= 0 else f'overlap {width}'} at {least.name}"


def stations_table(contents: Contents, places: Places, under: Box) -> list[Mark] | None:
    """The stations as a table in a box (left, bottom, right, top), the spacers' own heights under it; None where that is too small."""
    recess = None if contents.check is None else surveyed_recess_of(contents.check.subject)
    if recess is None:
        return None
    style, times = places.style, places.times
    left, bottom, right, top = under
    spacers = _in_lines(spacer_words(contents), right - left, style.text)
    head = style.label + 2.0 * times
    room = top - bottom - head - (style.line_pitch * (len(spacers) - 1) + style.text + 1.5 * times if spacers else 0.0)
    most = int(room / style.table_row + 1e-6) - 1
    if most < min(LEAST_ROWS, len(recess.stations)):
        return None
    chosen = chosen_stations(recess, most)
    columns = _columns(right - left, times)
    if columns is None:
        return None
    says = "" if len(chosen) == len(recess.stations) else f"{len(chosen)} of {len(recess.stations)}, all in the record"
    marks = heading("Stations of the survey", (left, top - style.label), style, says=says, room=right - left)
    level = top - head
    marks += ruled(columns, [_row(count, each) for count, each in chosen], left=left, top=level, style=style)
    level -= style.table_row * (len(chosen) + 1) + 1.5 * times + style.text
    marks += [Text("TEXT", left, level - style.line_pitch * index, each, style.text) for index, each in enumerate(spacers)]
    return marks


def _columns(width: float, times: float) -> tuple[Column, ...] | None:
    figures = tuple(
        Column(name, wide * times, "right")
        for name, wide in (("joint", 11.5), ("depth", 11.5), ("flush", 18.0), ("spacer", 13.5), ("landing", 15.0))
    )
    station = width - 8.0 * times - math.fsum(each.width for each in figures)
    return (
        (Column("no.", 8.0 * times), Column("station", min(station, 30.0 * times)), *figures) if station >= 14.0 * times else None
    )


def _row(count: int, each: RecessStation) -> tuple[str, ...]:
    def told(value: float | None) -> str:
        return "" if value is None else number(value, decimals=1)

    flush = "" if each.flush is None else flush_in_words(each.flush)
    spacer = "" if each.bond is None else height_in_words(each.spacer or 0.0)
    joint = told(each.joint)
    return str(count), f"{each.edge} {each.name}".strip(), joint, told(each.depth), flush, spacer, told(each.landing)


def flush_in_words(proud: float) -> str:
    """How the glass stands to the skin, to a tenth, mm; no sign has to be known.

    >>> flush_in_words(-1.42), flush_in_words(0.5), flush_in_words(0.01)
    ('1,4 sunk', '0,5 proud', 'flush')
    """
    if round(abs(proud), 1) == 0:
        return "flush"
    return f"{number(abs(proud), decimals=1)} {'proud' if proud > 0 else 'sunk'}"


def chosen_stations(recess: SurveyedRecess, most: int) -> list[tuple[int, RecessStation]]:
    """At most so many stations with their numbers, in their order: the extremes first, then evenly spread over all."""
    every = list(enumerate(recess.stations, start=1))
    if len(every) <= most:
        return every
    kept: dict[int, RecessStation] = {}
    keys: tuple[Callable[[RecessStation], float | None], ...] = (
        lambda each: each.joint,
        lambda each: each.flush,
        lambda each: None if each.flush is None else -each.flush,
        lambda each: each.landing_inside,
        lambda each: -each.joint,
    )
    for key in keys:
        with_one = [(value, count, each) for count, each in every if (value := key(each)) is not None]
        if with_one and len(kept) < most:
            _, count, each = min(with_one, key=lambda found: found[:2])
            kept[count] = each
    left = most - len(kept)
    spread = [each for each in every if each[0] not in kept]
    kept |= dict(spread[len(spread) * step // left] for step in range(left)) if left > 0 else {}
    return sorted(kept.items())


def spacer_words(contents: Contents) -> str:
    """Every spacer's own free height, as a sentence; "" where one height tells them all."""
    heights = {} if contents.check is None else own_spacer_heights(contents.check.subject)
    told = ", ".join(f"{mark} {height_in_words(height)}" for mark, height in heights.items())
    return f"Spacers, free height: {told}." if told else ""


def _in_lines(told: str, width: float, height: float) -> list[str]:
    """A list broken at its commas: no mark stands apart from its figure."""
    lines: list[str] = []
    for part in told.split(", ") if told else ():
        longer = f"{lines[-1]}, {part}" if lines else part
        if lines and text_width(f"{longer},", height) > width:
            lines[-1] += ","
            lines.append(part)
        else:
            lines[-1:] = [longer]
    return lines


def stations_words(contents: Contents) -> list[str]:
    """What the notes tell where the table finds no room: the tightest station, the spacers' heights."""
    recess = None if contents.check is None else surveyed_recess_of(contents.check.subject)
    if recess is None:
        return []
    tight = min(recess.stations, key=lambda each: each.joint)
    name, wide = f"{tight.edge} {tight.name}".strip(), number(tight.joint, decimals=1)
    said = f"{len(recess.stations)} stations surveyed, the tightest {name} with a joint of {wide}: see the record."
    return [said, *([spacer_words(contents)] if spacer_words(contents) else [])]


__all__ = [
    "chosen_stations",
    "flush_in_words",
    "least_words",
    "numbered_stations",
    "spacer_words",
    "stations_table",
    "stations_words",
]
