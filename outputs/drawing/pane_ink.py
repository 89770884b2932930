"""Small marks of the supplier's sheet, each set where there is room for it: names, leaders, places to measure, flags, directions.

Terms
-----
ring
    Places round a point, the nearest first, in the directions wanted first.

Note:
    A line of lettering on a shelf, with a leader and an arrow to what it tells of.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from geometry.outline import Point, point_in
from outputs.drawing.flags import SIDE, triangle
from outputs.drawing.plan_arrows import TURNS, bow_words
from outputs.sheet.boxes import box_of_text, grown, texts_of
from outputs.sheet.entities import Mark, Path, Text
from outputs.sheet.keep_clear import KeepClear, crosses
from outputs.sheet.pencil import towards
from outputs.sheet.runs import circle, circle_nodes, line, polar, run

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from geometry.outline import Outline
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Place
    from outputs.sheet.pencil import Pencil

NO_ROOM = "no room on the view"
SHELF = 1.65  # paper mm of lettering over its shelf
BALLOON = 2.3  # paper mm, radius
FLAG_STEP, OVER_SHELF = 8.6, 0.9  # paper mm from flag to flag on a shelf, and from the shelf to their feet
TO_LINES, TO_LETTERING = 0.8, 0.8  # paper mm that lettering keeps from lines, and beyond that from lettering
NEAR_TICK = 4.0  # paper mm from a place to its number beyond which a leader joins them
NEAR = 0.8  # paper mm that a balloon keeps from other ink
ARM = 10.0  # paper mm of an arrow of direction


class PaneRoom(KeepClear):
    """The account of room of the supplier's view: lettering keeps 0,8 from lines and, because every text counts larger, 1,6 from lettering."""

    def __init__(self, *, scale: float) -> None:
        super().__init__(scale=scale, clear=TO_LINES)

    def add(self, marks: Iterable[Mark]) -> None:
        """Count marks as standing, each text with the air that lettering wants round it."""
        given = tuple(marks)
        super().add(given)
        for text in texts_of(given):
            self.block(grown(box_of_text(text, self.scale), TO_LETTERING / self.scale))


def ring(centre: Place, reaches: Iterable[float], first: float, *, turns: Iterable[float]) -> Iterator[Place]:
    """Places at each of the distances (model mm), turned from the direction ``first`` by each of the turns, degrees."""
    spread = tuple(turns)
    for reach in reaches:
        for turn in spread:
            yield polar(centre, first + turn, reach)


def angle_of(direction: Place) -> float:
    """Direction of a vector, degrees."""
    return math.degrees(math.atan2(direction[1], direction[0]))


def text_beside(place: Place, string: str, pencil: Pencil, layer: str = "TEXT") -> Text:
    """A text whose middle stands at a place."""
    return pencil.text(layer, place, string, align="middle", centred=True)


def set_text(string: str, places: Iterable[Place], pencil: Pencil, room: KeepClear, within: Outline | None = None) -> Text | None:
    """The text at the first of the places that is free, and within an outline where one is given."""
    for place in places:
        text = text_beside(place, string, pencil)
        box = box_of_text(text, pencil.scale)
        if room.free(box) and _box_within(within, box):
            room.add([text])
            return text
    return None


def _box_within(outline: Outline | None, box: Box) -> bool:
    """Whether a box that no line enters lies within an outline that is drawn: its middle tells."""
    return outline is None or point_in(outline, Point((box[0] + box[2]) / 2, (box[1] + box[3]) / 2))


def shelf_size(string: str, flags: int, pencil: Pencil) -> tuple[float, float]:
    """Length of a shelf with a line of lettering behind so many flags, and how high what stands on it is."""
    wide = pencil.paper(FLAG_STEP * flags + 1.0) + pencil.width(string)
    return wide, pencil.paper(OVER_SHELF + 0.87 * SIDE if flags else pencil.style.text)


def note(
    string: str,
    tip: Place,
    elbows: Iterable[Place],
    pencil: Pencil,
    room: KeepClear,
    within: Outline | None = None,
    flags: Sequence[tuple[int, bool]] = (),
    air: float = 0.0,
) -> list[Mark]:
    """A note whose leader starts at the first elbow where shelf and lettering are free and no text is crossed; [] where there is none.

    ``flags`` (number, whether it fails) stand on the shelf before the lettering; ``air`` (paper mm) is kept round shelf and lettering.
    """
    air = pencil.paper(air)
    wide, high = shelf_size(string, len(flags), pencil)
    for elbow in elbows:
        away = 1.0 if elbow[0] >= tip[0] else -1.0
        for side in (away, -away):
            end = (elbow[0] + side * wide, elbow[1])
            text = Text(
                "TEXT", end[0] - pencil.paper(0.5) if side > 0 else elbow[0] - pencil.paper(0.5), elbow[1] + pencil.paper(SHELF), string,
                pencil.style.text, "right",
            )  # fmt: skip
            if not flags:
                text = replace(text, x=elbow[0] + side * pencil.paper(0.5), align="left" if side > 0 else "right")
            left = min(elbow[0], end[0])
            box = box_of_text(text, pencil.scale)
            shelf = (min(elbow[0], end[0]), elbow[1], max(elbow[0], end[0]), elbow[1] + high)
            leader = run("DIMENSIONS", (tip, elbow, end))
            whole: list[Mark] = [leader, pencil.arrow("DIMENSIONS", tip, angle_of((tip[0] - elbow[0], tip[1] - elbow[1]))), text]
            whole += _flags_on(left, elbow[1], flags, pencil)
            own = crosses(grown(box, pencil.paper(0.7)), (*tip, *elbow)) or (
                bool(flags) and crosses(_box_of_flags(left, elbow[1], len(flags), pencil), (*tip, *elbow))
            )
            if (
                not own
                and room.free(grown(box, air))
                and room.free(grown(shelf, air))
                and room.leads(leader)
                and room.takes([leader])
                and _box_within(within, box)
            ):
                room.lead(leader)
                room.add(whole)
                if flags:
                    room.block(shelf)
                return whole
    return []


def _flags_on(left: float, shelf: float, flags: Sequence[tuple[int, bool]], pencil: Pencil) -> list[Mark]:
    """Triangles on a shelf, from its left end on."""
    marks: list[Mark] = []
    for index, (number, fails) in enumerate(flags):
        middle = (left + pencil.paper(FLAG_STEP * (index + 0.5)), shelf + pencil.paper(OVER_SHELF + 0.289 * SIDE))
        marks += triangle(number, fails=fails, middle=middle, pencil=pencil)
    return marks


def _box_of_flags(left: float, shelf: float, count: int, pencil: Pencil) -> Box:
    """The box round the triangles on a shelf: no leader runs through it."""
    aside, foot = pencil.paper((FLAG_STEP - SIDE) / 2.0), shelf + pencil.paper(OVER_SHELF)
    return left + aside, foot, left + pencil.paper(FLAG_STEP * count) - aside, foot + pencil.paper(0.866 * SIDE)


def balloon(
    number: int, tick: Place, places: Iterable[Place], pencil: Pencil, room: KeepClear, within: Outline | None
) -> list[Mark]:
    """A number in a circle at the first free place within an outline, with a leader to its tick where it stands off; [] where there is none."""
    radius = pencil.paper(BALLOON)
    for place in places:
        box = (place[0] - radius, place[1] - radius, place[0] + radius, place[1] + radius)
        if not (room.free(box, clear=pencil.paper(NEAR)) and _box_within(within, box)):
            continue
        marks: list[Mark] = [circle("ITEM_LEADERS", place, radius), text_beside(place, str(number), pencil)]
        if math.dist(place, tick) - radius > pencil.paper(NEAR_TICK):
            way = angle_of((tick[0] - place[0], tick[1] - place[1]))
            leader = line("ITEM_LEADERS", polar(place, way, radius), tick)
            if not room.takes([leader]):
                continue
            marks.append(leader)
        room.add(marks)
        room.block(box)
        return marks
    return []


def directions(place: Place, forward: str | None, pencil: Pencil, *, level: bool, worded: bool = True) -> list[Mark]:
    """UP and FWD from a small circle; UP only where the pane is not level, words where no arrow can show the bow's direction."""
    ways = [] if level else [("UP", 90.0)]
    bow = TURNS.get(forward or "")
    if bow is not None:
        ways.append(("FWD", bow))
    small = pencil.paper(0.9)
    marks: list[Mark] = [Path("DIMENSIONS", circle_nodes(place, small), True)]
    if bow is None and worded:
        marks.append(pencil.text("TEXT", (place[0] + pencil.paper(2.2), place[1]), bow_words(forward), centred=True))
    for name, angle in ways:
        tip = polar(place, angle, pencil.paper(ARM))
        marks += [line("DIMENSIONS", polar(place, angle, small), tip), pencil.arrow("DIMENSIONS", tip, angle)]
        across, up = towards(angle)
        beyond = pencil.paper(1.5) + abs(across) * pencil.width(name) / 2 + abs(up) * pencil.paper(1.25)
        marks.append(text_beside(polar(tip, angle, beyond), name, pencil))
    return marks


__all__ = [
    "BALLOON",
    "NO_ROOM",
    "PaneRoom",
    "angle_of",
    "balloon",
    "directions",
    "note",
    "ring",
    "set_text",
    "shelf_size",
    "text_beside",
]  # fmt: skip
