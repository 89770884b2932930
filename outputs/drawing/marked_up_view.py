"""The pane as issued with the returned drawing laid over it, and everything that differs marked by number.

Terms
-----
issued, returned
    Wide lines are the job's, chain lines the returned drawing's: where both agree the wide line alone is seen.
marked
    A heavy line along what differs or is too narrow, and a numbered triangle that leads to the worst place of it; solid where it fails.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from geometry.detail.edges import sides_of
from geometry.outline import Point, corners, nearest_station, point_in
from outputs.drawing.flags import Flagged, placed_flag
from outputs.drawing.pane_figures import PANE_STYLE
from outputs.drawing.pane_ink import PaneRoom, angle_of, ring, set_text
from outputs.drawing.plan_outlines import nodes_of
from outputs.sheet.entities import Layer, Mark, Path
from outputs.sheet.layers import CONTINUOUS
from outputs.sheet.runs import polar

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.outline import Outline
    from geometry.returned.comparison import Comparison
    from outputs.sheet.pencil import Pencil

OWN_LAYERS = (
    Layer("RETURNED_GLASS", 0.25, "LONG_DASH_DOUBLE_DOT_025", 5, "edge of the glass as it was returned"),
    Layer("RETURNED_PRINT", 0.25, "LONG_DASH_DOUBLE_DOT_025", 30, "edges of the print as they were returned"),
    Layer("DIFFERENCES", 0.70, CONTINUOUS, 1, "what differs from the issued drawing by more than its limit"),
    Layer("SHORT_PRINT", 0.70, "DASHED_025", 6, "solid print too narrow for bond or bead"),
    Layer("DIFFERENCE_FLAGS", 0.50, CONTINUOUS, 1, "numbers of what differs"),
    Layer("DIFFERENCE_LEADERS", 0.25, CONTINUOUS, 1, "leaders to the worst place of what differs"),
)
"""What the returned drawing and its differences stand on, beside the layers of the pane."""
MOST = 40
"""Differences that are numbered on the view; a drawing with more is another pane."""
REACHES = (9.0, 12.0, 15.0, 19.0, 24.0, 30.0, 38.0, 48.0, 60.0)  # paper mm from a place to its number
TURNS = (0.0, 12.0, -12.0, 25.0, -25.0, 38.0, -38.0, 50.0, -50.0, 62.0, -62.0, 75.0, -75.0, 100.0, -100.0, 140.0, -140.0, 180.0)
NAME_AT = (5.0, 6.5, 8.0, 10.0, 13.0)  # paper mm inside the innermost edge of the print
TICK = 2.0
"""Paper mm: a run shorter than this is drawn so long, so that it is seen."""


@dataclass(frozen=True, slots=True)
class Marked:
    """One numbered difference: what it is, the part of the pane, its figure and limit, mm, its worst place, whether it fails.

    ``told`` is the place as every list tells it, ``at`` the place on the line that is marked.
    """

    number: int
    what: str
    part: str
    amount: float
    limit: float
    told: Point
    at: Point
    run: tuple[Point, ...]
    short: bool


@dataclass(frozen=True, slots=True)
class MarkedView:
    """The marks of the view in the model, and the numbers that found no room."""

    marks: tuple[Mark, ...]
    without_room: tuple[int, ...]


def marked_differences(found: Comparison) -> tuple[Marked, ...]:
    """What is numbered: stretches of the outline, of the print, and where the solid print is too narrow; the first ``MOST`` of them."""
    listed: list[tuple[str, str, float, float, Point, Point, tuple[Point, ...], bool]] = []
    for what, each in (("outline", found.outline), ("solid edge", found.print_edge), ("end of the fade", found.fade_end)):
        for stretch in each.stretches if each is not None else ():
            worst = stretch.worst
            listed.append((what, stretch.part, worst.amount, each.limit if each else 0.0, worst.at, worst.of, stretch.run, False))
    if found.solid is not None:
        for place, short in enumerate(found.solid.short):
            least = found.solid.least if place == 0 else short.least  # the narrowest of all is told where the list tells it
            listed.append(("solid print", short.part, least.value, found.solid.wanted, least.of, least.at, short.run, True))
    return tuple(Marked(number, *each) for number, each in enumerate(listed[:MOST], start=1))


def marked_view(found: Comparison, marked: tuple[Marked, ...], pencil: Pencil) -> MarkedView:
    """The view at the pencil's scale, in the coordinates of the pane."""
    room = PaneRoom(scale=pencil.scale)
    marks: list[Mark] = [*_issued(found), *_returned(found)]
    marks += [_stroke(each, pencil) for each in marked]
    room.add([mark for mark in marks if isinstance(mark, Path)])
    marks += _names(found, pencil, room)
    without: list[int] = []
    glass = found.issued.glass
    for each in marked:
        own = placed_flag(Flagged(each.number, True, (each.at.x, each.at.y)), _spots(glass, each.at, pencil), pencil, room)
        if own:
            marks += [_on_own_layer(mark) for mark in own]
        else:
            without.append(each.number)
    return MarkedView(tuple(marks), tuple(without))


def _issued(found: Comparison) -> Iterator[Mark]:
    curves = found.subject.detail.curves
    yield Path("GLASS", nodes_of(curves.glass), True)
    yield Path("FRIT_INNER", nodes_of(found.issued.solid), True)
    if found.issued.fade_end is not None:
        yield Path("FRIT_FADE", nodes_of(found.issued.fade_end), True)
    yield Path("BEAD_EDGE", nodes_of(curves.bead_inner), True)


def _returned(found: Comparison) -> Iterator[Mark]:
    if found.returned.glass is not None:
        yield Path("RETURNED_GLASS", nodes_of(found.returned.glass), True)
    for edge in (found.returned.solid, found.returned.fade_end):
        if edge is not None:
            yield Path("RETURNED_PRINT", nodes_of(edge), True)


def _stroke(marked: Marked, pencil: Pencil) -> Path:
    places = marked.run
    layer = "SHORT_PRINT" if marked.short else "DIFFERENCES"
    spots = [places[0]]
    step = pencil.paper(0.3)
    for place in places[1:-1]:
        if abs(place.x - spots[-1].x) + abs(place.y - spots[-1].y) >= step:
            spots.append(place)
    spots.append(places[-1])
    if max(abs(spots[-1].x - spots[0].x), abs(spots[-1].y - spots[0].y)) < pencil.paper(TICK) and len(spots) < 4:
        half = pencil.paper(TICK / 2)
        spots = [Point(places[0].x - half, places[0].y), Point(places[0].x + half, places[0].y)]
    return Path(layer, tuple((place.x, place.y, 0.0) for place in spots))


def _spots(glass: Outline, place: Point, pencil: Pencil) -> Iterator[tuple[float, float]]:
    """Where the number of a place may stand: within the pane, and beside it where there is no room in it."""
    inward, reaches = _inward(glass, place), [pencil.paper(reach) for reach in REACHES]
    for x, y in ring(place, reaches, inward, turns=TURNS):
        if point_in(glass, Point(x, y)):
            yield x, y
    yield from ring(place, reaches, inward + 180.0, turns=TURNS)


def _inward(glass: Outline, place: Point) -> float:
    outward = nearest_station(glass, place).outward
    return angle_of((-outward.x, -outward.y))


def _on_own_layer(mark: Mark) -> Mark:
    names = {"FLAGS": "DIFFERENCE_FLAGS", "ITEM_LEADERS": "DIFFERENCE_LEADERS"}
    return replace(mark, layer=names.get(mark.layer, mark.layer))


def _names(found: Comparison, pencil: Pencil, room: PaneRoom) -> Iterator[Mark]:
    """Corners and edges by their names, inside the print."""
    glass = found.issued.glass
    deep = found.subject.sizes.frit_width.value
    for corner in corners(glass):
        start = polar((corner.on_glass.x, corner.on_glass.y), angle_of(corner.bisector), 1.2 * deep)
        text = set_text(f"V{corner.number}", _inside(start, corner.bisector, pencil), pencil, room, glass)
        if text is not None:
            yield text
    for side in sides_of(glass):
        middle, way = side.at(side.middle), Point(-side.outward.x, -side.outward.y)
        start = polar((middle.x, middle.y), angle_of(way), deep)
        text = set_text(side.name, _inside(start, way, pencil), pencil, room, glass)
        if text is not None:
            yield text


def _inside(start: tuple[float, float], way: Point, pencil: Pencil) -> Iterator[tuple[float, float]]:
    for reach in NAME_AT:
        for turn in (0.0, 30.0, -30.0, 60.0, -60.0):
            yield polar(start, angle_of(way) + turn, pencil.paper(reach))


STYLE = PANE_STYLE


__all__ = ["OWN_LAYERS", "STYLE", "Marked", "MarkedView", "marked_differences", "marked_view"]
