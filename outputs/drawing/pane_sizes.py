"""The sizes of a pane on the supplier's view: sides in rows or along themselves, diagonals, angles, radii, axes.

Terms
-----
row
    A dimension line beyond the pane. Sides that look down or up stand in rows under or over it, those that look left or right beside
    it; every other side is measured along itself.
over all
    Width or height of the whole pane, where no single side has it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

from geometry.outline import Arc, Point, corners, nearest_station, segments
from outputs.drawing.pane_figures import nearest, radius_words, toleranced
from outputs.drawing.pane_ink import NO_ROOM, angle_of, note, ring, set_text
from outputs.drawing.pane_shape import diagonals, extremes
from outputs.sheet.drafting import number
from outputs.sheet.entities import Dimension, Mark, Path, Text
from outputs.sheet.keep_clear import distance_of
from outputs.sheet.pencil import upright
from outputs.sheet.runs import polar

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.outline import Outline
    from outputs.drawing.pane_shape import Shape, ShapeSide
    from outputs.sheet.entities import Place
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.pencil import Pencil

LEVEL = 1e-6  # share of a side's length by which it may rise and still be level
SQUARE = 0.05  # degrees from 90 within which an angle is not written
FIGURE_CLEAR = 0.75  # paper mm that the figure of a diagonal keeps from lines, and from the air round lettering
FIGURE_AT = (0.36, 0.64, 0.3, 0.7, 0.25, 0.75, 0.42, 0.58, 0.2, 0.8, 0.33, 0.67, 0.39, 0.61, 0.45, 0.55)  # shares of a diagonal
ANGLE_AT = 12.0  # paper mm, radius of the arc of an angle
ARC_SHARES = (1.0, 0.85, 1.2, 0.7, 1.45, 0.55, 1.75)  # of that radius, the first at which the arc runs through no text
TURNS = (0.0, 15.0, -15.0, 30.0, -30.0, 45.0, -45.0, 60.0, -60.0, 80.0, -80.0, 100.0, -100.0, 130.0, -130.0, 160.0, 180.0, -160.0)


OFF_MIDDLE = (0.78, 0.22)  # shares of an arc where its radius is told: clear of the diagonal and the sharp corner at its middle
OFF_CIRCLE = 1.2  # paper mm from the leader of a radius to the middle of the circle at a sharp corner
STEEP_RISE = 2.5  # paper mm that such a leader rises or falls, where it may
STEEP = 7  # of the turns of a leader, those up to 40 degrees
SQUARE_ON = (0.0, 12.0, -12.0, 25.0, -25.0, 40.0, -40.0, 55.0, -55.0, 70.0, -70.0)
ASIDE = (25.0, -25.0, 40.0, -40.0, 55.0, -55.0, 10.0, -10.0, 70.0, -70.0, 90.0, -90.0)


@dataclass(frozen=True, slots=True)
class Sizing:
    """What sizes are drawn with: the outline, its shape and tolerance, the hand and the account of room."""

    glass: Outline
    shape: Shape
    tolerance: float
    pencil: Pencil
    room: KeepClear

    def add(self, what: str, marks: list[Mark]) -> list[Mark]:
        """Count marks as drawn, or as left out where there are none."""
        if marks:
            self.room.drawn(what)
        else:
            self.room.left_out(what, NO_ROOM)
        return marks


def row_sizes(given: Sizing, *, over_all: bool = False) -> list[Mark]:
    """Sides in rows and over-all sizes, or ``over_all`` only; of a round pane its axes. Drawn first: the rest keeps clear of them."""
    left, bottom, right, top = extremes(given.glass)
    marks: list[Mark] = []
    if given.shape.round:
        sign = "" if given.shape.diameter is None else "Ø"
        marks += _row(given, [(left, right)], "down", {}, sign=sign)
        if given.shape.diameter is None:
            marks += _row(given, [(bottom, top)], "left", {})
        return marks
    if over_all:
        marks += _row(given, [_whole(given, "x")], "down", _feet(given.shape, "x", "down"))
        return [*marks, *_row(given, [_whole(given, "y")], "left", _feet(given.shape, "y", "left"))]
    known: dict[str, list[tuple[float, float]]] = {"x": [], "y": []}
    for way in ("down", "left", "up", "right"):
        axis = "x" if way in ("down", "up") else "y"
        sides = [_ends(side, axis) for side in given.shape.sides if _looks(side) == way]
        spans = sorted({span for span in sides if not _among(span, known[axis])})
        known[axis] += spans
        whole = _whole(given, axis)
        wanted = bool(spans) or any(side.arc for side in given.shape.sides)
        over = way in ("down", "left") and wanted and not _among(whole, known[axis])
        if over:
            known[axis].append(whole)
        feet = _feet(given.shape, axis, way)
        marks += _row(given, spans, way, feet, whole=whole if over else None)
    return marks


def _whole(given: Sizing, axis: str) -> tuple[float, float]:
    """From where to where the pane runs: its sharp corners, or its edge where an arc reaches farther."""
    left, bottom, right, top = extremes(given.glass)
    ends = (left, right) if axis == "x" else (bottom, top)
    if any(side.arc for side in given.shape.sides):
        return ends
    places = [point.at.x if axis == "x" else point.at.y for point in given.shape.points]
    return min(places), max(places)


def _looks(side: ShapeSide) -> str | None:
    """Which way a level or upright straight side looks; None of any other."""
    if side.arc is not None:
        return None
    dx, dy = side.last.at.x - side.first.at.x, side.last.at.y - side.first.at.y
    if abs(dy) <= LEVEL * abs(dx):
        return "down" if dx > 0 else "up"
    if abs(dx) <= LEVEL * abs(dy):
        return "right" if dy > 0 else "left"
    return None


def _ends(side: ShapeSide, axis: str) -> tuple[float, float]:
    ends = (side.first.at.x, side.last.at.x) if axis == "x" else (side.first.at.y, side.last.at.y)
    return round(min(ends), 6), round(max(ends), 6)


def _among(span: tuple[float, float], known: list[tuple[float, float]]) -> bool:
    return any(abs(span[0] - low) < 1e-3 and abs(span[1] - high) < 1e-3 for low, high in known)


def _feet(shape: Shape, axis: str, way: str) -> dict[float, float]:
    """For each place along an axis the point of the outline that is nearest to the row."""
    feet: dict[float, float] = {}
    for point in shape.points:
        along, across = (point.at.x, point.at.y) if axis == "x" else (point.at.y, point.at.x)
        nearer = min if way in ("down", "left") else max
        key = round(along, 6)
        feet[key] = nearer(feet.get(key, across), across)
    return feet


def _row(
    given: Sizing,
    spans: list[tuple[float, float]],
    way: str,
    feet: dict[float, float],
    *,
    whole: tuple[float, float] | None = None,
    sign: str = "",
) -> list[Mark]:
    """Sizes in rows on one side, the short ones nearest; sizes that overlap stand in rows of their own."""
    left, bottom, right, top = extremes(given.glass)
    pencil, style = given.pencil, given.pencil.style
    rows: list[list[tuple[float, float]]] = []

    def end(span: tuple[float, float]) -> float:
        """Where a size ends in its row: one too short for its figure has it behind its second end."""
        words, long = toleranced(span[1] - span[0], given.tolerance), span[1] - span[0]
        wide = pencil.width(words)
        return span[1] if wide + pencil.paper(0.6) <= long else span[1] + wide + pencil.paper(4 * style.arrow)

    for span in sorted(spans, key=lambda each: (each[1] - each[0], each[0])):
        free = next((row for row in rows if all(end(span) <= one[0] + 1e-6 or span[0] >= end(one) - 1e-6 for one in row)), None)
        if free is None:
            rows.append([span])
        else:
            free.append(span)
    if whole is not None:
        rows.append([whole])
    marks: list[Mark] = []
    for index, row in enumerate(rows):
        reach = pencil.paper(style.first_row + index * style.row)
        level = {"down": bottom - reach, "up": top + reach, "left": left - reach, "right": right + reach}[way]
        for low, high in row:
            across = {"down": bottom, "up": top, "left": left, "right": right}[way]
            a, b = feet.get(round(low, 6), across), feet.get(round(high, 6), across)
            if not feet:  # a round pane: from the ends of its axes
                middle = (bottom + top) / 2 if way in ("down", "up") else (left + right) / 2
                a = b = middle
            upright_row = way in ("left", "right")
            first, last = ((a, low), (b, high)) if upright_row else ((low, a), (high, b))
            size = pencil.linear(
                first,
                last,
                line_at=level,
                angle=90.0 if upright_row else 0.0,
                text=sign + toleranced(high - low, given.tolerance),
                outside="second",
            )
            given.room.add([size])
            marks += given.add(f"size {size.text}", [size])
    return marks


def side_sizes(given: Sizing) -> list[Mark]:
    """Sides that are neither level nor upright, each along itself; radius and rise of those that are arcs."""
    marks: list[Mark] = []
    for side in given.shape.sides:
        if side.arc is not None:
            marks += _arc_size(given, side)
        elif _looks(side) is None:
            marks.append(
                _along(given, side.first.at, side.last.at, given.pencil.style.first_row, toleranced(side.length, given.tolerance))
            )
            given.room.add(marks[-1:])
            given.room.drawn(f"size of {side.first.name}{side.last.name}")
    return marks


def _along(given: Sizing, first: Place, last: Place, away: float, text: str, *, share: float = 0.5) -> Dimension:
    """A size along the way from a place to another, its line ``away`` (paper mm) to the right of that way, outside the glass."""
    angle = upright(angle_of((last[0] - first[0], last[1] - first[1])))
    across = (-math.sin(math.radians(angle)), math.cos(math.radians(angle)))
    length = math.dist(first, last)
    outward = ((last[1] - first[1]) / length, (first[0] - last[0]) / length)
    level = first[0] * across[0] + first[1] * across[1]
    level += given.pencil.paper(away) * (outward[0] * across[0] + outward[1] * across[1])
    return given.pencil.linear(first, last, line_at=-level if angle == 90.0 else level, angle=angle, text=text, text_share=share)


def _arc_size(given: Sizing, side: ShapeSide) -> list[Mark]:
    arc = side.arc
    if arc is None:
        return []
    tip, tangent = arc.point_at(0.5), arc.tangent_at(0.5)
    words = f"{radius_words(arc.radius)}, rise {nearest(side.rise, given.tolerance)}"
    out = angle_of((tangent.y, -tangent.x))
    found: list[Mark] = []
    for way, within in ((out, None), (out + 180.0, given.glass)):
        for reach in (8, 11, 15, 20, 26, 33):
            elbows = ring(tip, [given.pencil.paper(reach)], way, turns=TURNS[:11])
            found = found or note(words, tip, elbows, given.pencil, given.room, within=within)
    return given.add(f"radius of {side.first.name}{side.last.name}", found)


def diagonal_sizes(given: Sizing) -> list[Mark]:
    """Both diagonals, from sharp corner to sharp corner, the figure of each where it meets nothing."""
    marks: list[Mark] = []
    for first, last in diagonals(given.glass, given.shape):
        words = nearest(math.dist(first.at, last.at), given.tolerance)
        tried = [_along(given, first.at, last.at, 0.0, words, share=share) for share in FIGURE_AT]
        free = next((each for each in tried if _figure_free(given, each)), None)
        if free is not None:
            given.room.add([free])
            marks.append(free)
        given.add(f"diagonal {first.name}{last.name}", [] if free is None else [free])
    return marks


def _figure_free(given: Sizing, size: Dimension) -> bool:
    from outputs.sheet.boxes import box_of_text

    figure = next(part for part in size.parts if isinstance(part, Text))
    others = [(a.at, b.at) for a, b in diagonals(given.glass, given.shape)]
    steps = max(1, math.ceil(given.pencil.width(figure.string) / given.pencil.paper(1.5)))
    angle = math.radians(figure.rotation)
    half = given.pencil.width(figure.string) / 2
    high = given.pencil.paper(given.pencil.style.text / 2)
    for index in range(steps + 1):
        along = -half + 2 * half * index / steps
        x = figure.x + along * math.cos(angle) - high * math.sin(angle)
        y = figure.y + along * math.sin(angle) + high * math.cos(angle)
        reach = given.pencil.paper(1.3)
        if not given.room.free((x - reach, y - reach, x + reach, y + reach), clear=given.pencil.paper(FIGURE_CLEAR)):
            return False
        for a, b in others:
            if (
                math.dist(a, size.first) + math.dist(b, size.second) > 1e-6
                and math.dist(a, size.second) + math.dist(b, size.first) > 1e-6
            ) and _off_line((x, y), a, b) < reach + given.pencil.paper(0.7):
                return False
    return bool(box_of_text(figure, given.pencil.scale))


def _off_line(place: Place, a: Place, b: Place) -> float:
    return abs((b[0] - a[0]) * (place[1] - a[1]) - (b[1] - a[1]) * (place[0] - a[0])) / math.dist(a, b)


def angle_sizes(given: Sizing) -> list[Mark]:
    """Every angle that is not square, on its arc inside the glass; its figure there, at the end of a leader where the corner is too sharp, or
    outside.
    """
    marks: list[Mark] = []
    for point in given.shape.points:
        corner = point.corner
        if corner is None or abs(corner.interior_angle - 90.0) < SQUARE or abs(corner.interior_angle - 270.0) < SQUARE:
            continue
        middle = angle_of(corner.bisector)
        half = corner.interior_angle / 2
        beside = [each.length for each in given.shape.sides if point in (each.first, each.last)]
        radius = min(given.pencil.paper(ANGLE_AT if half > 25 else 22.0), 0.45 * min(beside))
        tried = [(share * radius, _angle_arc(given, point.at, middle, half, share * radius)) for share in ARC_SHARES]
        free = next(((far, arc) for far, arc in tried if given.room.takes(arc)), None)
        words = f"{number(corner.interior_angle, decimals=1)}°"
        outside = list(
            ring(point.at, [given.pencil.paper(step) for step in (7, 9, 12, 15, 18)], middle + 180.0, turns=TURNS[:11])
        )
        if free is None:  # no room for its arc
            marks += given.add(f"angle at {point.name}", note(words, point.at, outside, given.pencil, given.room))
            continue
        radius, own = free
        given.room.add(own)
        reaches = [radius + given.pencil.paper(step) for step in (4.5, 6, 7.5, 9, 11)]
        spread = [turn for turn in (0.0, 8.0, -8.0, 16.0, -16.0, 25.0, -25.0, 33.0, -33.0) if abs(turn) < half]
        text = set_text(words, ring(point.at, reaches, middle, turns=spread), given.pencil, given.room, within=given.glass)
        told: list[Mark] = [text] if text else _angle_note(given, words, point.at, middle, radius)
        for turn in (0.5 * half, -0.5 * half, 0.0):
            tip = polar(point.at, middle + turn, radius)
            elbows = [each for each in outside if not turn or _off_corners(given, tip, each)]
            told = told or note(words, tip, elbows, given.pencil, given.room)
        marks += given.add(f"angle at {point.name}", [*own, *told] if told else [])
    return marks


def _angle_note(given: Sizing, words: str, corner: Place, middle: float, radius: float) -> list[Mark]:
    """The figure of an angle off its arc, with a leader to it: within the glass, so that nobody takes it for the next corner's."""
    tip = polar(corner, middle, radius)
    elbows = ring(tip, [given.pencil.paper(reach) for reach in (9, 12, 16, 20, 25, 31, 38)], middle, turns=TURNS[:13])
    return note(words, tip, elbows, given.pencil, given.room, within=given.glass)


def _angle_arc(given: Sizing, corner: Place, middle: float, half: float, radius: float) -> list[Mark]:
    """The arc of an angle about the direction ``middle``, half of it to each side, with its arrowheads."""
    ends = [polar(corner, middle + turn, radius) for turn in (-half, half)]
    arc = Path("DIMENSIONS", ((*ends[0], math.tan(math.radians(2 * half) / 4.0)), (*ends[1], 0.0)))
    lean = math.degrees(given.pencil.paper(given.pencil.style.arrow) / radius) / 2
    return [
        arc,
        given.pencil.arrow("DIMENSIONS", ends[0], middle - half - 90.0 + lean),
        given.pencil.arrow("DIMENSIONS", ends[1], middle + half + 90.0 - lean),
    ]


def radius_sizes(given: Sizing) -> list[Mark]:
    """Radii of the corners of the glass, each size once with how many of them there are, on its arc, from outside."""
    groups: dict[float, list[int]] = {}
    for index, point in enumerate(given.shape.points):
        if point.corner is not None and point.corner.radius > 0.0:
            groups.setdefault(round(point.corner.radius, 3), []).append(index)
    marks: list[Mark] = []
    for radius, indices in groups.items():
        words = radius_words(radius, len(indices))
        found: list[Mark] = []
        for rise, index, share in product(
            (STEEP_RISE, 0.0, None), (*indices[2:], *indices[:2]), OFF_MIDDLE
        ):  # the upper right of a rectangle first
            corner = given.shape.points[index].corner
            if corner is None or found:
                continue
            tip = _on_arc(given.glass, corner.tangent_before, share)
            elbows = [
                each
                for each in _elbows(given, tip)
                if rise is None or (abs(each[1] - tip[1]) >= given.pencil.paper(rise) and _off_corners(given, tip, each))
            ]
            found = note(words, tip, elbows, given.pencil, given.room)
        marks += given.add(f"radius {words}", found)
    return marks


def _elbows(given: Sizing, tip: Place) -> Iterator[Place]:
    """Where the leader of a radius turns, the steep and short ones first."""
    out = angle_of(nearest_station(given.glass, Point(*tip)).outward)
    for turns in (SQUARE_ON[:STEEP], SQUARE_ON[STEEP:]):
        yield from ring(tip, [given.pencil.paper(reach) for reach in (9, 7, 12, 15, 19, 24)], out, turns=turns)


def _off_corners(given: Sizing, tip: Place, elbow: Place) -> bool:
    """Whether a leader keeps off the circles at the sharp corners."""
    least, line_ = given.pencil.paper(OFF_CIRCLE), (*tip, *elbow)
    return all(distance_of(line_, (*point.at, *point.at)) >= least for point in given.shape.points)


def frit_radius_sizes(given: Sizing, inner: Outline) -> list[Mark]:
    """Radii of the inner edge of the print as they are drawn, each size once, from within."""
    groups: dict[float, list[Place]] = {}
    bisectors: dict[Place, float] = {}
    for corner in corners(inner):
        if corner.radius > 0.0:
            tip = _on_arc(inner, corner.tangent_before)
            groups.setdefault(round(corner.radius, 3), []).append(tip)
            bisectors[tip] = angle_of(corner.bisector) + (0.0 if corner.convex else 180.0)
    marks: list[Mark] = []
    for radius, tips in groups.items():
        words = f"{radius_words(radius, len(tips))} print"
        found: list[Mark] = []
        for tip in tips:
            if not found:
                elbows = ring(
                    tip,
                    [given.pencil.paper(reach) for reach in (7, 10, 13, 17, 22, 28, 35, 43)],
                    bisectors[tip],
                    turns=TURNS[:13],
                )
                found = note(words, tip, elbows, given.pencil, given.room, within=inner)
        for tip in tips:
            if not found:
                reaches = [given.pencil.paper(reach) for reach in (14, 18, 23, 29, 36)]
                found = note(words, tip, ring(tip, reaches, bisectors[tip] + 180.0, turns=ASIDE), given.pencil, given.room)
        if not found:
            given.room.tabled(f"radius {words}", NO_ROOM)
        else:
            given.room.drawn(f"radius {words}")
        marks += found
    return marks


def _on_arc(outline: Outline, start: Place, share: float = 0.5) -> Place:
    """A point of the arc that leaves a place, by its share of the arc: the middle, unless told."""
    part = next(part for part in segments(outline) if isinstance(part, Arc) and math.dist(part.start, start) < 1e-6)
    return part.point_at(share)


__all__ = [
    "TURNS", "Sizing", "angle_sizes", "diagonal_sizes", "frit_radius_sizes", "radius_sizes", "row_sizes", "side_sizes",
]  # fmt: skip
