"""Blocks of the plan set out by running dimensions, each row from a place on the recess that can be touched.

Terms
-----
row
    The blocks along one edge, measured from one zero in one direction; the figures stand behind the line, outside the recess.
zero
    The neighbouring wall, or where a straight begins: see ``geometry.detail.block_rows``.
told twice
    A row whose every figure stands on the opposite edge as well: it is drawn once.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from geometry.detail.block_rows import block_rows
from geometry.detail.edges import edges_of, sides_of
from geometry.outline import Point, ray_length
from outputs.drawing.balloons import pooled
from outputs.drawing.plan_sizes import surveyed
from outputs.sheet.boxes import box_of_text, texts_of
from outputs.sheet.drafting import in_halves, number
from outputs.sheet.entities import Dimension
from outputs.sheet.keep_clear import crosses, straights_of
from outputs.sheet.pencil import upright
from outputs.sheet.runs import circle, line

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.block_rows import BlockRow, RowEntry
    from geometry.detail.parts import Detail
    from outputs.sheet.entities import Fill, Mark, Path, Place, Text
    from outputs.sheet.pencil import Pencil

ALIKE = 0.26  # mm between figures that are told once
ONE_PLACE = 0.5  # mm along a round edge between blocks that have one figure
SURVEYED = 5.0  # mm, the same in a recess as it was measured: a spacer is set by hand to no less, and a note says so
ZERO = 1.0  # paper mm, radius of the circle at the zero
BEHIND = 1.1  # paper mm from the ends of the extension lines of a row to its figures
APART = 1.6  # paper mm between two figures of a row


@dataclass(frozen=True, slots=True)
class Stop:
    """One block of a row: its distance from the zero, and the place on the recess wall beside it."""

    distance: float
    wall: Point


@dataclass(frozen=True, slots=True)
class Row:
    """The row of one edge: its zero, the direction it runs in, which way is out, and the blocks."""

    edge: str
    zero: Point
    direction: Point
    outward: Point
    stops: tuple[Stop, ...]


def rows_of(detail: Detail) -> tuple[Row, ...]:
    """The straight rows, those that are told twice once: sill and left jamb are kept."""
    outward = {side.name: side.outward for side in sides_of(detail.curves.glass)}
    found = [_row(detail, row, outward[row.edge]) for row in block_rows(detail) if row.straight]
    found.sort(key=lambda row: (round(max(row.outward.x, row.outward.y), 3) > 0.5, row.edge))
    alike = SURVEYED if surveyed(detail) else ALIKE
    kept: list[Row] = []
    for row in found:
        if not any(_told(row, other, alike) for other in kept):
            kept.append(row)
    return tuple(kept)


def _row(detail: Detail, row: BlockRow, outward: Point) -> Row:
    stops: list[Stop] = []
    for entry in row.entries:
        if not stops or entry.distance - stops[-1].distance > ALIKE:
            out = ray_length(detail.curves.recess, entry.at, outward) or 0.0
            stops.append(Stop(entry.distance, Point(entry.at.x + out * outward.x, entry.at.y + out * outward.y)))
    return Row(row.edge, row.zero, row.direction, outward, tuple(stops))


def curved_figures(detail: Detail) -> tuple[RowEntry, ...]:
    """The blocks of round edges with their distances along the wall, those at one place once."""
    found: list[RowEntry] = []
    for row in block_rows(detail):
        if not row.straight:
            found += [
                entry
                for index, entry in enumerate(row.entries)
                if not index or entry.distance - row.entries[index - 1].distance > ONE_PLACE
            ]
    return tuple(found)


def _told(row: Row, other: Row, alike: float) -> bool:
    """Whether another row, on the opposite edge, has every figure of this one from the same wall."""
    same_way = row.direction.x * other.direction.x + row.direction.y * other.direction.y > 1 - 1e-9
    if not same_way:
        return False
    ahead = (row.zero.x - other.zero.x) * row.direction.x + (row.zero.y - other.zero.y) * row.direction.y
    figures = [stop.distance for stop in other.stops]
    return abs(ahead) < alike and all(any(abs(stop.distance - each) < alike for each in figures) for stop in row.stops)


def row_marks(row: Row, pencil: Pencil, *, first: float | None = None, aside: float = 0.0) -> list[Mark]:
    """A row as running dimensions; ``first`` is the distance of its line from the recess, ``aside`` that of its 0 from the zero."""
    style, out, way = pencil.style, row.outward, row.direction
    reach = max(_out(place, row) for place in (row.zero, *(stop.wall for stop in row.stops)))
    level = reach + pencil.paper(style.first_row if first is None else first)
    angle = upright(math.degrees(math.atan2(way.y, way.x)))

    def on_line(along: float, more: float = 0.0) -> Place:
        lift = level + pencil.paper(more) - _out(row.zero, row)
        return row.zero.x + along * way.x + lift * out.x, row.zero.y + along * way.y + lift * out.y

    marks: list[Mark] = [circle("DIMENSIONS", on_line(0.0), pencil.paper(ZERO))]
    behind = style.extension_past + BEHIND * style.text / 2.5
    gap = pencil.paper(style.extension_gap)
    at_wall = (row.zero.x + gap * out.x, row.zero.y + gap * out.y)
    figures = ["0", *(number(in_halves(stop.distance)) for stop in row.stops)]
    middles = spread_apart(
        [-pencil.paper(aside), *(stop.distance for stop in row.stops)],
        [pencil.width(each) for each in figures],
        pencil.paper(APART),
    )
    marks += [line("DIMENSIONS", at_wall, on_line(0.0, -ZERO)), _figure("0", on_line(middles[0], behind), row, angle, pencil)]
    before = 0.0
    heading = math.degrees(math.atan2(way.y, way.x))
    for stop, printed, middle in zip(row.stops, figures[1:], middles[1:], strict=True):
        text = _figure(printed, on_line(middle, behind), row, angle, pencil)
        parts: list[Path | Fill | Text] = [
            line(
                "DIMENSIONS",
                (stop.wall.x + gap * out.x, stop.wall.y + gap * out.y),
                on_line(stop.distance, style.extension_past),
            ),
            line("DIMENSIONS", on_line(before + (pencil.paper(ZERO) if before == 0.0 else 0.0)), on_line(stop.distance)),
            pencil.arrow("DIMENSIONS", on_line(stop.distance), heading),
            text,
        ]
        start, end = (row.zero.x, row.zero.y), (stop.wall.x, stop.wall.y)
        marks.append(
            Dimension(
                "DIMENSIONS", "linear", start, end, on_line(0.0), angle, stop.distance, printed, (text.x, text.y), tuple(parts)
            )
        )
        before = stop.distance
    return marks


def row_reads(marks: Sequence[Mark], pencil: Pencil) -> bool:
    """Whether no line of a row runs through a figure of the same row, each figure looked at as it is turned."""
    import numpy as np

    x, y = np.array(straights_of(marks)).reshape(-1, 2, 2).transpose(2, 1, 0)  # of both ends of each stroke
    for text in texts_of(marks):
        turn = math.radians(-text.rotation)
        along, up = math.cos(turn), math.sin(turn)
        left, bottom, right, top = box_of_text(replace(text, rotation=0.0), pencil.scale)
        across, over = x - text.x, y - text.y
        u, v = text.x + across * along - over * up, text.y + across * up + over * along
        beside = (u < left).all(0) | (u > right).all(0) | (v < bottom).all(0) | (v > top).all(0)
        for stroke in np.flatnonzero(~beside).tolist():
            (u1, u2), (v1, v2) = u[:, stroke].tolist(), v[:, stroke].tolist()
            if crosses((left, bottom, right, top), (u1, v1, u2, v2)):
                return False
    return True


def spread_apart(places: Sequence[float], widths: Sequence[float], clear: float) -> list[float]:
    """Middles of figures of these widths at rising places, moved as little as can be so that they stand clear of one another.

    >>> spread_apart([0.0, 10.0, 11.0], [2.0, 4.0, 4.0], 1.0)
    [0.0, 8.0, 13.0]
    """
    offsets = [0.0]
    for one, other in pairwise(widths):
        offsets.append(offsets[-1] + (one + other) / 2 + clear)
    return [
        place + offset
        for place, offset in zip(pooled([p - o for p, o in zip(places, offsets, strict=True)], 0.0), offsets, strict=True)
    ]


def _out(place: Point, row: Row) -> float:
    return place.x * row.outward.x + place.y * row.outward.y


def _figure(string: str, foot: Place, row: Row, angle: float, pencil: Pencil) -> Text:
    """A figure behind the line: its edge that looks to the line stands at ``foot``, it reads from below or from the right."""
    middle = pencil.paper(pencil.style.text / 2)
    at = (foot[0] + middle * row.outward.x, foot[1] + middle * row.outward.y)
    return pencil.text("DIMENSIONS", at, string, align="middle", rotation=angle, centred=True)


def is_rectangular(detail: Detail) -> bool:
    """Whether the pane is a rectangle, its corners round or sharp."""
    found = detail.corners
    return (
        len(found) == 4
        and all(abs(corner.interior_angle - 90.0) < 1e-6 for corner in found)
        and len(edges_of(detail.curves.glass)) == 4
    )


__all__ = ["ONE_PLACE", "Row", "Stop", "curved_figures", "is_rectangular", "row_marks", "row_reads", "rows_of", "spread_apart"]
