"""The supplier's view of a pane: glass and print alone, seen from outside, with every size, and small, seen from inside.

Terms
-----
band
    The print on the view: solid and fade each in a tint of its own between their edges.
place
    Where the print is measured: a short line across the band and a number within the glass.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from geometry.outline import Point, bounding_box, nearest_station
from outputs.drawing.broken_lines import dimension_lines
from outputs.drawing.pane_figures import TENTHS, nearest, radius_words, toleranced_width
from outputs.drawing.pane_flags import LEANING, flags_all_round, flags_with_places
from outputs.drawing.pane_ink import NO_ROOM, PaneRoom, angle_of, balloon, directions, note, ring, set_text
from outputs.drawing.pane_points import axes, names, origin_marks
from outputs.drawing.pane_print import turned_over
from outputs.drawing.pane_shape import extremes, shape_of
from outputs.drawing.pane_sizes import (
    TURNS,
    Sizing,
    angle_sizes,
    diagonal_sizes,
    frit_radius_sizes,
    radius_sizes,
    row_sizes,
    side_sizes,
)
from outputs.drawing.plan_arrows import TURNS as WAYS
from outputs.drawing.plan_arrows import bow_words
from outputs.drawing.plan_outlines import nodes_of
from outputs.sheet.boxes import box_round, grown
from outputs.sheet.entities import Dimension, Hatch, Mark, Path
from outputs.sheet.pencil import Pencil
from outputs.sheet.runs import line, polar

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.detail.parts import Detail
    from geometry.workings.frit_places import FritPlace
    from outputs.drawing.pane_flags import PaneFlag
    from outputs.sheet.entities import Place
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.outcomes import Outcome

CLOSEST = 0.7  # paper mm between two curves side by side
BALLOON_AT = (4.6, 5.6, 7.0, 9.0, 11.0, 14.0, 18.0, 23.0)  # paper mm inside the print
POINTED = 3  # least corners of a pane that has names
TABLED_FROM = 7  # corners from which they stand in a table


@dataclass(frozen=True, slots=True)
class PanePlan:
    """The finished view: its marks in the model, what became of everything planned, and whether its print is as wide at all places."""

    marks: tuple[Mark, ...]
    outcomes: tuple[Outcome, ...]
    even: bool


def pane_plan(
    detail: Detail,
    pencil: Pencil,
    *,
    places: tuple[FritPlace, ...],
    print_tolerance: float,
    flags: tuple[PaneFlag, ...],
    size: tuple[float, float],
) -> PanePlan | None:
    """The pane from outside, no larger than ``size`` (width and height on paper, mm); None where its sizes alone are larger.

    ``flags`` are those of glass and print. Where flags that hold all round have no air between the glass and its sizes, the sizes stand
    farther out, as far as there is room.
    """
    usual = _planned(detail, pencil, places, print_tolerance, flags, size)
    if usual is None or usual[1]:
        return usual[0] if usual is not None else None
    for more in FARTHER:
        style = replace(pencil.style, first_row=pencil.style.first_row + more)
        farther = _planned(detail, Pencil(style, pencil.scale), places, print_tolerance, flags, size)
        if farther is not None and farther[1]:
            return farther[0]
    return usual[0]


def _planned(
    detail: Detail,
    pencil: Pencil,
    places: tuple[FritPlace, ...],
    print_tolerance: float,
    flags: tuple[PaneFlag, ...],
    size: tuple[float, float],
) -> tuple[PanePlan, bool] | None:
    """The plan with a first row of sizes as the pencil has it, and whether the flags that hold all round stand in air."""
    shape = shape_of(detail.curves.glass)
    room = PaneRoom(scale=pencil.scale)
    given = Sizing(detail.curves.glass, shape, detail.pane_tolerance, pencil, room)
    marks = _band(detail, pencil)
    room.add([mark for mark in marks if isinstance(mark, Path)])
    marks += axes(given)
    tabled = len(shape.points) >= TABLED_FROM
    marks += row_sizes(given, over_all=tabled)
    if tabled:
        marks += origin_marks(given)
    if not tabled:
        marks += side_sizes(given)
    sizes = [mark for mark in marks if isinstance(mark, Dimension)]
    if not _kept_within(marks, pencil, room, size):
        return None
    for mark in sizes:
        for start, end in dimension_lines(mark):
            room.lead(line("DIMENSIONS", start, end))
    marks += _ticks(given, places)
    if not tabled:
        marks += diagonal_sizes(given)
    marks += flags_with_places(given, detail, flags)
    in_corners = [_in_corner(detail, place) for place in places]
    marks += _places(given, detail, [place for place, sharp in zip(places, in_corners, strict=True) if not sharp])
    if not tabled:
        marks += angle_sizes(given)
    marks += _places(given, detail, [place for place, sharp in zip(places, in_corners, strict=True) if sharp])
    if not tabled:
        marks += radius_sizes(given)
    marks += names(given)
    if shape.round and shape.diameter is None:
        marks += _least_and_greatest(given)
    marks += _widths(given, detail, places, print_tolerance)
    if not shape.round:
        marks += frit_radius_sizes(given, detail.curves.frit_inner)
    marks += _directions(given, detail)
    for each in (part for size_ in sizes for part in size_.parts if isinstance(part, Path) and not part.closed):
        room.lead(each)
    flagged, airy = flags_all_round(given, detail, flags)
    return PanePlan((*marks, *flagged), tuple(room.outcomes), _even(places)), airy


def _kept_within(marks: list[Mark], pencil: Pencil, room: KeepClear, size: tuple[float, float]) -> bool:
    """Count as taken what lies beyond the room of the view, its sizes in the middle of it; False where they are larger."""
    left, bottom, right, top = box_round(marks, pencil.scale)
    air = [(pencil.paper(most) - used) / 2 for most, used in zip(size, (right - left, top - bottom), strict=True)]
    if min(air) < 0.0:
        return False
    left, bottom, right, top = left - air[0], bottom - air[1], right + air[0], top + air[1]
    far = pencil.paper(1000.0)
    for box in (
        (left - far, bottom - far, left, top + far),
        (right, bottom - far, right + far, top + far),
        (left - far, bottom - far, right + far, bottom),
        (left - far, top, right + far, top + far),
    ):
        room.block(grown(box, -room.clear))
    return True


def _band(detail: Detail, pencil: Pencil) -> list[Mark]:
    curves = detail.curves
    solid = curves.frit_inner if curves.frit_fade is None else curves.frit_fade
    marks: list[Mark] = [Hatch("FRIT_TINT", "frit", (nodes_of(curves.frit_outer), nodes_of(solid)))]
    if curves.frit_fade is not None:
        marks.append(Hatch("FADE_TINT", "frit", (nodes_of(curves.frit_fade), nodes_of(curves.frit_inner))))
        marks.append(Path("FRIT_FADE", nodes_of(curves.frit_fade), True))
    if detail.sizes.frit_start.value * pencil.scale >= CLOSEST:
        marks.append(Path("FRIT_OUTER", nodes_of(curves.frit_outer), True))
    return [*marks, Path("FRIT_INNER", nodes_of(curves.frit_inner), True), Path("GLASS", nodes_of(curves.glass), True)]


def _even(places: tuple[FritPlace, ...]) -> bool:
    widths = [place.width for place in places]
    return bool(widths) and max(widths) - min(widths) < 0.05


def _ticks(given: Sizing, places: tuple[FritPlace, ...]) -> list[Mark]:
    """A short line across the print at each place."""
    marks: list[Mark] = [line("DIMENSIONS", place.point, _along(place.point, place.inward, place.width)) for place in places]
    given.room.add(marks)
    return marks


def _places(given: Sizing, detail: Detail, places: Sequence[FritPlace]) -> list[Mark]:
    """The number of each place within the glass; one that stands off has a leader."""
    marks: list[Mark] = []
    for place in places:
        inner = _along(place.point, place.inward, place.width)
        reaches = [given.pencil.paper(reach) for reach in BALLOON_AT]
        turns = (0.0, 20.0, -20.0, 40.0, -40.0, 60.0, -60.0, 75.0, -75.0)
        spots = ring(inner, reaches, angle_of(place.inward), turns=turns)
        number = balloon(place.number, inner, spots, given.pencil, given.room, detail.curves.frit_inner)
        if not number:  # no room on the clear glass: outside
            beyond = ring(place.point, reaches, angle_of(place.inward) + 180.0, turns=turns)
            number = balloon(place.number, place.point, beyond, given.pencil, given.room, None)
        if not number:
            far = ring(place.point, [2 * reach for reach in reaches], angle_of(place.inward) + 180.0, turns=range(0, 360, 10))
            number = balloon(place.number, place.point, far, given.pencil, given.room, None)
        marks += given.add(f"place {place.number}", number)
    return marks


def _along(place: Place, way: Place, length: float) -> Place:
    return place[0] + length * way[0], place[1] + length * way[1]


def _widths(given: Sizing, detail: Detail, places: tuple[FritPlace, ...], tolerance: float) -> list[Mark]:
    """How wide the print is: told once where it is as wide everywhere along the sides, else for each width."""
    if not places:
        return []
    groups: dict[tuple[float, float], list[FritPlace]] = {}
    corner = {each.number for each in places if _in_corner(detail, each)}
    for place in places:
        if place.number not in corner:
            groups.setdefault((round(place.width, 1), round(place.solid, 1)), []).append(place)
    marks: list[Mark] = []
    for (width, solid), alike in sorted(groups.items(), key=lambda each: each[1][0].number):
        words = f"print {toleranced_width(width, tolerance)}"
        if solid < width - 0.05:
            words += f": {nearest(solid, TENTHS)} solid, {nearest(width - solid, TENTHS)} fade"
        elif len(groups) == 1 and not detail.frit_as_drawn:
            words += ", every side" if given.shape.points else " all round"
        elif len(groups) > 1:
            words += f" at {', '.join(str(each.number) for each in alike)}"
        found: list[Mark] = []
        for place in sorted(alike, key=lambda each: (abs(each.inward.x), -each.inward.y)):
            if found:
                break
            for aside in BESIDE if len(groups) == 1 else CLOSE_BESIDE:
                tip = _beside(detail, place, aside)
                elbows = ring(
                    tip,
                    [given.pencil.paper(reach) for reach in (7, 9, 12, 16, 21, 27, 34)],
                    angle_of(place.inward),
                    turns=LEANING,
                )
                found = found or note(words, tip, elbows, given.pencil, given.room, within=detail.curves.frit_inner)
        for place in alike:
            if not found:
                tip = _beside(detail, place, BESIDE[0] if len(groups) == 1 else CLOSE_BESIDE[0])
                out = angle_of((-place.inward.x, -place.inward.y))
                reaches = [(place.width + given.pencil.paper(reach)) for reach in (6, 8, 11, 14, 18)]
                found = note(words, tip, ring(tip, reaches, out, turns=LEANING), given.pencil, given.room)
        if found:
            given.room.drawn(words)
        else:
            given.room.tabled(words, NO_ROOM)
        marks += found
    return marks


FARTHER = (4.0, 7.0)  # paper mm by which the sizes give way to flags
BESIDE = (0.12, -0.12, 0.2, -0.2, 0.28, -0.28, 0.34, -0.34)
CLOSE_BESIDE = (0.03, -0.03, 0.045, -0.045)
"""Where a width is told, from its place, in shares of the longer side: near it where widths differ."""


def _beside(detail: Detail, place: FritPlace, share: float) -> Place:
    """A point of the inner edge of the print beside a place, by a share of the pane's longer side."""
    box = bounding_box(detail.curves.glass)
    step = share * max(box.width, box.height)
    tangent = (place.inward.y, -place.inward.x)
    inner = _along(place.point, place.inward, place.width)
    found = nearest_station(detail.curves.frit_inner, Point(inner[0] + step * tangent[0], inner[1] + step * tangent[1]))
    return found.point


def _in_corner(detail: Detail, place: FritPlace) -> bool:
    return any(
        math.dist(place.point, nearest_station(detail.curves.glass, corner.theoretical).point) < 1e-6 for corner in detail.corners
    )


def _least_and_greatest(given: Sizing) -> list[Mark]:
    """Least and greatest radius of an oval, on its edge: those of the true ellipse at the ends of its axes, b²/a and a²/b."""
    left, bottom, right, top = extremes(given.glass)
    a, b = (right - left) / 2, (top - bottom) / 2
    marks: list[Mark] = []
    tall = b > a
    greatest, least = max(a, b) ** 2 / min(a, b), min(a, b) ** 2 / max(a, b)
    flat, pointed = (
        ((right, (top + bottom) / 2), ((left + right) / 2, top))
        if tall
        else (((left + right) / 2, top), (right, (top + bottom) / 2))
    )
    told = False  # that it is a true ellipse
    for name, radius, tip, out in (
        ("greatest", greatest, flat, 0.0 if tall else 90.0),
        ("least", least, pointed, 90.0 if tall else 0.0),
    ):
        words = f"{name} {radius_words(radius)}"
        full = [] if told else _radius_note(given, f"{words}; {ELLIPSE}", tip, out)
        told = told or bool(full)
        marks += given.add(f"{name} radius", full or _radius_note(given, words, tip, out))
    return marks


ELLIPSE = "true ellipse"


def _radius_note(given: Sizing, words: str, tip: Place, out: float) -> list[Mark]:
    """A note on an oval's edge near the end of an axis, which looks ``out`` (degrees): outside, or within where there is no room."""
    places = [_off_axis(given, tip, out, share) for share in (-0.12, 0.12, -0.2, 0.2)]
    for turns, reaches, way, within in (
        ((30.0, -30.0, 50.0, -50.0, 70.0, -70.0), (8, 11, 14, 18), out, None),
        (LEANING, (10, 14, 18, 23, 29, 36), out + 180.0, given.glass),
    ):
        for place in places:
            elbows = ring(place, [given.pencil.paper(reach) for reach in reaches], way, turns=turns)
            found = note(words, place, elbows, given.pencil, given.room, within=within)
            if found:
                return found
    return []


def _off_axis(given: Sizing, tip: Place, out: float, share: float) -> Place:
    left, bottom, right, top = extremes(given.glass)
    size = (top - bottom) if out == 0.0 else (right - left)
    aside = polar(tip, out + 90.0, share * size)
    return nearest_station(given.glass, Point(*aside)).point


def _directions(given: Sizing, detail: Detail) -> list[Mark]:
    """UP and FWD where there is room for them, within the pane or beside it; words apart from the arrow where both together have none."""
    for worded in (True, False):
        for place in _grid(detail):
            marks = directions(place, detail.forward, given.pencil, level=detail.deck_light, worded=worded)
            if not given.room.free(box_round(marks, given.pencil.scale)):
                continue
            given.room.add(marks)
            if not worded and detail.forward not in WAYS:
                words = set_text(bow_words(detail.forward), _grid(detail), given.pencil, given.room)
                if words is None:
                    break
                marks.append(words)
            return given.add("directions", marks)
    given.room.left_out("directions", NO_ROOM)
    return []


def _grid(detail: Detail) -> Iterator[Place]:
    """Places all over the pane and round it, those within and left of the middle first."""
    box = bounding_box(detail.curves.glass)
    shares = [(index - 3.5) / 14 for index in range(22)]
    cells = [(x, y) for x in shares for y in shares]
    inside = {cell: 0.0 <= cell[0] <= 1.0 and 0.0 <= cell[1] <= 1.0 for cell in cells}
    cells.sort(key=lambda cell: (not inside[cell], round(max(abs(cell[0] - 0.35), abs(cell[1] - 0.45)), 6), cell))
    for x, y in cells:
        yield box.left + x * box.width, box.bottom + y * box.height


def inside_view(detail: Detail, pencil: Pencil) -> tuple[list[Mark], bool]:
    """The same pane seen from inside: outlines turned over, the band in a tint of its own, names in their corners or else beside them;
    and whether every name stands.
    """
    curves = detail.curves
    box = bounding_box(curves.glass)
    across = box.left + box.right

    glass, outer, inner = (turned_over(each, across) for each in (curves.glass, curves.frit_outer, curves.frit_inner))
    marks: list[Mark] = [
        Hatch("INSIDE_TINT", "frit", (nodes_of(outer), nodes_of(inner))),
        Path("INSIDE_OUTLINE", nodes_of(inner), True),
        Path("INSIDE_OUTLINE", nodes_of(glass), True),
    ]
    room = PaneRoom(scale=pencil.scale)
    room.add([mark for mark in marks if isinstance(mark, Path)])
    given = Sizing(glass, shape_of(glass), detail.pane_tolerance, pencil, room)
    own = shape_of(curves.glass)
    whole = True
    if POINTED <= len(own.points) < TABLED_FROM:
        for point in own.points:
            at = (across - point.at.x, point.at.y)
            inward = 90.0 if point.corner is None else angle_of((-point.corner.bisector.x, point.corner.bisector.y))
            reaches = [given.pencil.paper(reach) for reach in (4, 5, 6, 7, 8, 10, 12, 15, 18, 22, 26)]
            text = set_text(
                point.name,
                ring(at, reaches, inward, turns=(0.0, 15.0, -15.0, 30.0, -30.0, 45.0, -45.0)),
                pencil,
                room,
                within=inner,
            )
            if text is None:  # no room within the print: beside the glass
                beside = [given.pencil.paper(reach) for reach in (3.5, 4.5, 5.5, 7, 9)]
                edge = nearest_station(glass, Point(*at)).point
                text = set_text(point.name, ring(edge, beside, inward + 180.0, turns=TURNS), pencil, room)
            whole = whole and text is not None
            marks += [text] if text else []
    return marks, whole


__all__ = ["PanePlan", "inside_view", "pane_plan"]
