"""Side 1 of the fitter's card, second picture: the glass as it lies on the bench, inner face up, with the path of the bead.

The outline is turned over, never the lettering: left and right, the corners' places and the way round of the bead turn with it.
Counter-clockwise on the detail sheet, which shows the pane from outside, is clockwise here.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline import Point, distance_from, nearest_station, perimeter, point_in, station_at
from outputs.drawing.card_corners import corner_numbers
from outputs.drawing.card_fit import drawn, parallel
from outputs.drawing.card_hand import SOLID, STRONG, TITLE, head, polygon, turned, upward_triangle, width_of, words
from outputs.drawing.card_room import led_text, standing
from outputs.sheet.boxes import box_of_text
from outputs.sheet.entities import Hatch
from outputs.sheet.runs import line

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.detail.parts import Detail
    from geometry.outline import Outline
    from outputs.drawing.card_facts import CardFacts
    from outputs.drawing.card_fit import Fit
    from outputs.sheet.entities import Mark, Place, Text
    from outputs.sheet.keep_clear import KeepClear

BAND = (2.5, 4.0, 5.5)  # inside the glass edge: outer edge, middle and inner edge of the bead
MASKS = (1.4, 6.6)
BAR_IN, WORD_IN, GAP, ARROW, SHORT_ARROW = (
    12.6,
    10.8,
    1.2,
    12.0,
    6.0,
)  # reach of the bar at the start; white joint before it; length of its arrow
POINTER = 9.2  # inside the glass edge: the triangle at a pack change
TRIANGLES, CLEAR_SHARE = 6, 0.04  # arrows in the band, and the least share of the path from one to a mark


def glass_picture(detail: Detail, facts: CardFacts, fit: Fit, room: KeepClear) -> list[Mark]:
    """Glass edge, masking lines, bead with its start, way round, pack changes and gun starts, corner numbers."""
    glass = fit.outline(detail.curves.glass)
    marks: list[Mark] = [drawn("GLASS", glass)]
    marks += [drawn("MASK_LINES", curve) for curve in (parallel(glass, -away) for away in MASKS) if curve is not None]
    outer, middle, inner = (parallel(glass, -away) for away in BAND)
    if outer is not None and inner is not None:
        marks.append(Hatch("BEAD_EDGE", SOLID, tuple(drawn("BEAD_EDGE", curve).nodes for curve in (outer, inner))))
    room.add(standing(marks))
    if middle is None:
        room.left_out("path of the bead", "the glass is drawn too narrow for it")
        return marks
    path = _Path(middle, fit)
    start = path.length_of((detail.bead_start.place.x, detail.bead_start.place.y))
    packs = [path.length_of(place) for _, place in facts.pack_changes]
    guns = [path.length_of(place) for place in facts.gun_starts]
    marks += path.triangles([start, *packs, *guns])
    names = [(along, f"PACK {number + 1}") for along, (number, _) in zip(packs, facts.pack_changes, strict=True)]
    names += [(along, f"GUN {number}") for number, along in enumerate(guns, start=2)]
    for along, _ in names:
        pointed = _pointer(path, along)
        room.add(standing(pointed))
        marks += pointed
    marks += _start(path, start, room)
    for along, name in names:
        marks += _name(path, along, name, room)
    marks += corner_numbers(detail, fit, glass, room, first=12.0)
    return marks


class _Path:
    """The middle of the band on the paper. The outline there is counter-clockwise; the bead runs the other way, as it is turned over."""

    def __init__(self, middle: Outline, fit: Fit) -> None:
        self.middle, self.fit, self.whole = middle, fit, perimeter(middle)

    def length_of(self, place: Place) -> float:
        """Length along the middle of the band at a place of the pane."""
        return nearest_station(self.middle, Point(*self.fit.at(place))).length_along

    def at(self, along: float) -> tuple[Place, Place, Place]:
        """Place, direction of travel and direction inwards."""
        station = station_at(self.middle, along)
        return (
            (station.point.x, station.point.y),
            (-station.tangent.x, -station.tangent.y),
            (-station.outward.x, -station.outward.y),
        )

    def triangles(self, taken: Sequence[float]) -> Iterator[Mark]:
        """White arrowheads in the band that tell the way round, clear of start and packs and of the corners."""
        for number in range(TRIANGLES):
            wanted = taken[0] - self.whole * (number + 0.5) / TRIANGLES
            for shift in (0.0, 0.01, -0.01, 0.02, -0.02, 0.03, -0.03, 0.05, -0.05, 0.07, -0.07):
                along = wanted + shift * self.whole
                if all(self._apart(along, other) >= max(CLEAR_SHARE * self.whole, 6.0) for other in taken) and self._straight(
                    along
                ):
                    place, way, _ = self.at(along)
                    yield polygon("ON_PLATES", turned(((2.1, 0.0), (-1.5, 0.95), (-1.5, -0.95)), place, way))
                    break

    def well_inside(self, place: Place) -> bool:
        """Whether a place lies inside the inner masking line, clear of it."""
        at = Point(*place)
        return point_in(self.middle, at) and distance_from(self.middle, at) >= MASKS[1] - BAND[1] + 1.0

    def holds(self, text: Text) -> bool:
        """Whether a text lies inside the band."""
        left, low, right, high = box_of_text(text, 1.0)
        return all(point_in(self.middle, Point(x, y)) for x in (left, right) for y in (low, high))

    def _apart(self, one: float, other: float) -> float:
        apart = abs(one - other) % self.whole
        return min(apart, self.whole - apart)

    def _straight(self, along: float) -> bool:
        (_, one, _), (_, other, _) = self.at(along - 2.2), self.at(along + 2.2)
        return one[0] * other[0] + one[1] * other[1] > math.cos(math.radians(25.0))


def _start(path: _Path, along: float, room: KeepClear) -> list[Mark]:
    """A bar across the band, a white joint before it, the word and an arrow the way the bead goes."""
    place, way, inward = path.at(along)

    def beside(forward: float, into: float) -> Place:
        """A place so far along the travel and so far inside the glass edge."""
        into -= BAND[1]
        return place[0] + forward * way[0] + into * inward[0], place[1] + forward * way[1] + into * inward[1]

    joint = [beside(-GAP, 1.9), beside(0.0, 1.9), beside(0.0, 6.1), beside(-GAP, 6.1)]
    marks: list[Mark] = [polygon("ON_PLATES", joint), line("TICKS", beside(0.0, 1.9), beside(0.0, BAR_IN))]
    half = width_of("START", TITLE, bold=True) / 2
    level = abs(way[1]) < 0.25
    if level:  # the word, then its arrow, behind the bar
        text = _upright(beside(math.copysign(1.6 + half, 1.0), WORD_IN), "START", TITLE)
        tail = beside(2 * half + 4.0, WORD_IN)
        tip = beside(2 * half + 4.0 + ARROW, WORD_IN)
        line_: list[Mark] = [line("TICKS", tail, tip), head("DIMENSIONS", tip, way, 4.2, 1.9)]
        beyond = beside(2 * half + 4.0 + ARROW + 3.0, WORD_IN)
        if room.free(box_of_text(text, 1.0)) and room.clear_of_texts(line_) and path.well_inside(beyond):
            room.add(standing([*marks, text, *line_]))
            room.drawn("START")
            return [*marks, text, *line_]
    for side, long in ((1.0, ARROW), (1.0, SHORT_ARROW), (-1.0, ARROW)):  # inside the glass, else outside
        reach = BAR_IN if side > 0 else -4.5
        if side > 0 and not path.well_inside(beside(long + 3.0, reach)):
            continue
        arrow: list[Mark] = [line("TICKS", beside(0.0, reach), beside(long, reach))]
        arrow.append(head("DIMENSIONS", beside(long + 2.0, reach), way, 4.2, 1.9))
        bar = [line("TICKS", beside(0.0, 1.9 if side > 0 else 6.1), beside(0.0, reach))]
        trial = room.copy()
        trial.add(standing([*bar, *arrow]))
        for into in range(20):
            for forward in (long / 2, 0.0, long, long + 6.0, -long / 2, -long):
                away = reach + side * (1.4 + into + abs(inward[0]) * half + abs(inward[1]) * TITLE / 2)
                text = _upright(beside(forward, away), "START", TITLE)
                if trial.free(box_of_text(text, 1.0)) and (side < 0 or path.holds(text)):
                    found = [marks[0], *bar, *arrow, text]
                    room.add(standing(found))
                    room.drawn("START")
                    return found
    return _led_start(path, marks[0], beside(0.0, 1.9), beside(0.0, 6.1), room)


def _led_start(path: _Path, joint: Mark, outer: Place, inner: Place, room: KeepClear) -> list[Mark]:
    """The word led to a bar across the band where it finds no room beside it; the white arrows in the band tell the way."""
    bar = line("TICKS", outer, inner)
    text = words(0.0, 0.0, "START", TITLE, bold=True)
    for start, inside in ((inner, path.well_inside), (outer, None)):
        found = led_text(text, start, room, inside=inside)
        if found:
            room.add(standing([bar, *found]))
            room.drawn("START")
            return [joint, bar, *found]
    room.left_out("START", "no place beside the bead's start is clear")
    return [joint, bar]


def _upright(centre: Place, string: str, height: float) -> Text:
    return words(centre[0], centre[1] - height / 2, string, height, bold=True, align="middle")


def _pointer(path: _Path, along: float) -> list[Mark]:
    """A white line across the band and a triangle that points at it from inside."""
    joint = [_beside(path, along, reach, aside) for reach, aside in ((1.9, -0.45), (1.9, 0.45), (6.1, 0.45), (6.1, -0.45))]
    _, _, inward = path.at(along)
    return [polygon("ON_PLATES", joint), upward_triangle(_beside(path, along, POINTER), (-inward[0], -inward[1]), 2.6)]


def _beside(path: _Path, along: float, reach: float, aside: float = 0.0) -> Place:
    """A place so far inside the glass edge and so far along the travel from a place of the band."""
    (x, y), way, inward = path.at(along)
    reach -= BAND[1]
    return x + reach * inward[0] + aside * way[0], y + reach * inward[1] + aside * way[1]


def _name(path: _Path, along: float, name: str, room: KeepClear) -> list[Mark]:
    """The name of a pack or gun beside its triangle, else led to it."""
    _, _, inward = path.at(along)
    half = width_of(name, STRONG, bold=True) / 2
    tried = (
        _upright(_beside(path, along, POINTER + reach * 1.2 + abs(inward[0]) * half, aside * (1 - abs(inward[0]))), name, STRONG)
        for reach in range(14)
        for aside in (half + 3.2, -half - 3.2, half + 6.0, -half - 6.0, 0.0)
    )
    text = next((each for each in tried if room.free(box_of_text(each, 1.0))), None)
    found = (
        [text]
        if text is not None
        else led_text(words(0.0, 0.0, name, STRONG, bold=True), _beside(path, along, POINTER + 1.6), room)
    )
    if found:
        room.add(standing(found))
        room.drawn(name)
    else:
        room.left_out(name, "no place beside its mark is clear")
    return list(found)


__all__ = ["glass_picture"]
