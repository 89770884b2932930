"""The plan: the pane in its recess, seen from outside, with everything that is set out on it.

Terms
-----
ring
    The strip of joint, landing and frit round the pane; the daylight inside it is kept for lettering.
"""

from __future__ import annotations

import math
from functools import partial
from typing import TYPE_CHECKING

from geometry.outline import Point, bounding_box, nearest_station, ray_length
from outputs.drawing.plan_arrows import PlanArrows
from outputs.drawing.plan_cuts import CuttingLines
from outputs.drawing.plan_flags import flag_marks
from outputs.drawing.plan_options import NO_ROOM, PlanShows
from outputs.drawing.plan_outlines import chock_symbol, corner_window, outline_marks, spacer_symbol
from outputs.drawing.plan_sizes import PlanSizes
from outputs.sheet.entities import Attribute, Insert, Mark, Text
from outputs.sheet.keep_clear import KeepClear
from outputs.sheet.mirrored import before_mirror, mirrored
from outputs.sheet.runs import box as frame
from outputs.sheet.runs import circle, line, polar, run

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from geometry.detail.parts import Chock, Detail, Spacer
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Place
    from outputs.sheet.outcomes import Outcome
    from outputs.sheet.pencil import Pencil

ON_EDGE = 1e-3  # mm: a place lies on a straight edge


class PlanView:
    """Composes the plan at one scale; ``marks`` is the result."""

    def __init__(self, detail: Detail, pencil: Pencil, *, corner_letter: str | None, shows: PlanShows | None = None) -> None:
        self.detail = detail
        self.pencil = pencil
        self.shows = shows = PlanShows() if shows is None else shows
        self.placer = KeepClear(scale=pencil.scale, clear=0.9)
        self.marks: list[Mark] = outline_marks(detail, shows.outlines)
        self.placer.add(self.marks)
        box = bounding_box(detail.curves.recess)
        pane = bounding_box(detail.curves.glass)
        self.left, self.bottom = min(box.left, pane.left), min(box.bottom, pane.bottom)
        self.right, self.top = max(box.right, pane.right), max(box.top, pane.top)
        self.framed = corner_window(detail) if corner_letter is not None and shows.corner else None
        cuts = CuttingLines(pencil, self.placer, self._inner, self._put)
        letters = [each for section in detail.sections for each in cuts.ends(section)] if shows.sections else []
        if shows.dimensions:
            self._sizes()
        if self.framed is not None and detail.worst_corner is not None:
            self._put([frame("DIMENSIONS", *self.framed)])
        for letter, spots in letters:  # last, clear of every end, extension line, size and frame
            cuts.letter(letter, spots)
        if corner_letter is not None and shows.corner:
            self._corner_mark(corner_letter)
        if shows.bead_start:
            self._bead_start()
        if shows.blocks:
            self._chocks_and_spacers()
        if shows.names:
            self._corner_names()
            self._edge_names()
        self._middle()
        for flag in shows.flags:
            self._put(flag_marks(flag, pencil, self.placer))
        if shows.mirrored:
            self.marks = [mirrored(mark, pencil.scale) for mark in self.marks]

    @property
    def outcomes(self) -> list[Outcome]:
        """What became of everything that was planned for the plan."""
        return self.placer.outcomes

    def _put(self, marks: list[Mark]) -> None:
        self.marks += marks
        self.placer.add(marks)

    def _name(self, candidates: Iterable[Text], what: str, owns: Callable[[Point], bool] | None = None) -> None:
        """Letter the first candidate that is free and, where ``owns`` is given, whose middle is nearest to the thing it names."""
        text = self.placer.first_free(candidates, fits=None if owns is None else lambda box: owns(_middle_of(box)))
        if text is None:
            self.placer.tabled(what, NO_ROOM)
        else:
            self.placer.drawn(what)
            self.marks.append(text)

    def _sizes(self) -> None:
        """The overall sizes, below and beside the recess."""
        room = (self.left, self.bottom, self.right, self.top)
        sizes = PlanSizes(self.detail, self.pencil, room, self.framed, mirrored=self.shows.mirrored)
        dimensions = sizes.marks()
        self.marks += dimensions
        self.placer.add([before_mirror(each, self.pencil.scale) for each in dimensions] if self.shows.mirrored else dimensions)
        for dimension in dimensions:
            self.placer.drawn(f"size {dimension.text}")

    def _inner(self, place: Point, inward: Point) -> float:
        """From a place on the glass edge inwards to the innermost line of the ring."""
        curves = self.detail.curves
        reaches = (ray_length(outline, place, inward) for outline in (curves.sight_line, curves.frit_inner, curves.bead_inner))
        return max(reach or 0.0 for reach in reaches)

    def _outer(self, place: Point, outward: Point) -> float:
        """From a place on the glass edge outwards to the outermost of glass edge and recess wall."""
        return max(
            0.0,
            *(ray_length(outline, place, outward) or 0.0 for outline in (self.detail.curves.recess, self.detail.curves.glass)),
        )

    def _corner_mark(self, letter: str) -> None:
        """The letter of the enlarged corner beside its frame."""
        worst = self.detail.worst_corner
        if worst is None:
            return
        pencil = self.pencil
        left, bottom, right, top = self.framed or corner_window(self.detail)
        spots: list[Place] = []
        for more in (0.0, 3.0, 6.0, 10.0):
            away = pencil.paper(pencil.style.title * 0.5 + 1.5)
            half = pencil.width(letter, pencil.style.title) / 2 + pencil.paper(1.5)
            aside, above = half + pencil.paper(more), away + pencil.paper(more)
            spots += [(x, y) for x in (right + aside, left - aside) for y in (top - away, bottom + away)]
            spots += [(x, y) for x in (right - half, left + half) for y in (top + above, bottom - above)]
        # The side of the frame that the corner points to comes first.
        towards = worst.corner.bisector
        corner = ((left + right) / 2, (bottom + top) / 2)
        spots.sort(
            key=lambda spot: (
                math.dist(spot, corner) + 0.5 * ((spot[0] - corner[0]) * towards.x + (spot[1] - corner[1]) * towards.y)
            )
        )
        candidates = (
            pencil.text("TEXT", spot, letter, height=pencil.style.title, align="middle", centred=True) for spot in spots
        )
        self._name(candidates, f"detail letter {letter}")

    def _bead_start(self) -> None:
        """Where the bead starts and stops: a cross stroke on its centre line, an arrow in the direction of the run, a note."""
        pencil, start = self.pencil, self.detail.bead_start
        size = pencil.paper(2.2)
        left, right = polar(start.place, start.angle + 90.0, size), polar(start.place, start.angle - 90.0, size)
        self._put([line("SECTION_MARKS", left, right)])
        inward = Point(*polar((0.0, 0.0), start.angle + 90.0, 1.0))
        reach = self._inner(start.place, inward) + pencil.paper(5.0)
        elbow = polar(start.place, start.angle + 90.0, reach)
        for string in ("bead start and stop", "bead start"):
            for side in (1.0, -1.0):
                for more in (0.0, 4.0, 8.0):
                    turn = polar(elbow, start.angle + 90.0, pencil.paper(more))
                    at = (turn[0] + side * pencil.paper(2.0), turn[1])
                    text = pencil.text("TEXT", at, string, align="left" if side > 0 else "right", centred=True)
                    landing = (turn[0] + side * pencil.paper(1.2), turn[1])
                    marks: list[Mark] = [
                        run("ITEM_LEADERS", (start.place, turn, landing)),
                        pencil.arrow("ITEM_LEADERS", start.place, start.angle - 90.0),
                        text,
                    ]
                    if self.placer.takes(marks):
                        self._put(marks)
                        self.placer.drawn("bead start")
                        return
        self.placer.tabled("bead start", NO_ROOM)

    def _chocks_and_spacers(self) -> None:
        detail = self.detail
        for chock in detail.chocks:
            self._insert(
                chock_symbol(chock),
                "CHOCKS",
                chock.mark,
                chock.kind,
                (chock.foot.x, chock.foot.y),
                chock,
                size=_sizes(chock.length, chock.height, chock.depth),
            )
        sizes = detail.sizes
        for spacer in detail.spacers:
            size = _sizes(sizes.spacer_length.value, sizes.spacer_width.value, sizes.spacer_thickness.value)
            self._insert(
                spacer_symbol(detail),
                "SPACERS",
                spacer.mark,
                "spacer block",
                (spacer.centre.x, spacer.centre.y),
                spacer,
                size=size,
            )

    def _insert(self, symbol: str, layer: str, mark: str, kind: str, at: Place, block: Chock | Spacer, *, size: str) -> None:
        """A block with its mark lettered in the daylight beside it."""
        from outputs.sheet.drafting import number

        pencil = self.pencil
        inward = Point(*polar((0.0, 0.0), block.angle + 90.0, 1.0))
        reach = self._inner(Point(*at), inward)
        height = pencil.style.text
        half = pencil.width(mark) / 2
        # Room square to the edge that the text takes, upright as it stands.
        depth = abs(inward.x) * half + abs(inward.y) * pencil.paper(height / 2)
        candidates = (
            pencil.text("TEXT", polar(spot, block.angle, pencil.paper(shift)), mark, align="middle", centred=True)
            for away in (90.0, -90.0)
            for far in (reach if away > 0.0 else self._outer(Point(*at), Point(-inward.x, -inward.y)),)
            for more in (1.4, 4.4, 7.4)
            for spot in (polar(at, block.angle + away, far + depth + pencil.paper(more)),)
            for shift in (0.0, 3.5, -3.5, 6.0, -6.0, 9.0, -9.0)
        )
        others = [
            (place.x, place.y)
            for place in (
                *(chock.foot for chock in self.detail.chocks if chock.mark[0] == mark[0] and chock.mark != mark),
                *(spacer.centre for spacer in self.detail.spacers if spacer.mark[0] == mark[0] and spacer.mark != mark),
            )
        ]
        text = self.placer.first_free(candidates, fits=lambda box: _nearer(at, others, _middle_of(box)))
        if text is None:
            self.placer.tabled(mark, NO_ROOM)
        else:
            self.placer.drawn(mark)
        values = (
            ("MARK", mark, text),
            ("KIND", kind, None),
            ("SIZE", size, None),
            ("EDGE", block.edge, None),
            ("DISTANCE", number(block.distance), None),
        )
        self.marks.append(Insert(layer, symbol, at[0], at[1], block.angle, tuple(Attribute(*value) for value in values)))

    def _corner_names(self) -> None:
        """V1, V2 ... on the bisectors, inside the ring."""
        pencil, height = self.pencil, self.pencil.style.text
        for corner in self.detail.corners:
            inward = math.degrees(math.atan2(corner.bisector.y, corner.bisector.x))
            back = Point(-corner.bisector.x, -corner.bisector.y)
            inside = self._inner(corner.theoretical, corner.bisector)
            candidates = (
                pencil.text(
                    "TEXT",
                    polar(corner.theoretical, away + turn, reach + pencil.paper(more)),
                    f"V{corner.number}",
                    height=height,
                    align="middle",
                    centred=True,
                )
                for away, outside, steps in (
                    (inward, False, (3.5, 5.5, 8.0)),
                    (inward + 180.0, True, (3.5, 5.5, 8.0)),
                    (inward, False, (11.0, 15.0, 20.0)),
                )
                for reach in (self._outer(corner.theoretical, back) if outside else inside,)
                for more in steps
                for turn in (0.0, 4.0, -4.0, 8.0, -8.0)
            )
            others = [other.theoretical for other in self.detail.corners if other.number != corner.number]
            self._name(candidates, f"V{corner.number}", partial(_nearer, corner.theoretical, others))

    def _edge_names(self) -> None:
        """e1, e2 ... inside the ring near the middle of each edge."""
        pencil = self.pencil
        for name, place, angle in self.detail.edge_middles:
            inward = Point(*polar((0.0, 0.0), angle + 90.0, 1.0))
            candidates = (
                pencil.text("TEXT", polar(spot, angle, pencil.paper(shift)), name, align="middle", centred=True)
                for away, steps in ((90.0, (4.0, 7.0, 10.0)), (-90.0, (4.0, 5.5)))
                for reach in (self._inner(place, inward) if away > 0.0 else self._outer(place, Point(-inward.x, -inward.y)),)
                for more in steps
                for spot in (polar(place, angle + away, reach + pencil.paper(more)),)
                for shift in (6.0, -6.0, 12.0, -12.0, 18.0, -18.0, 0.0)
            )
            self._name(candidates, name, partial(self._on_edge, place, inward))

    def _on_edge(self, place: Point, inward: Point, middle: Point) -> bool:
        """Whether the glass edge nearest to a text is the straight one through a place."""
        near = nearest_station(self.detail.curves.glass, middle)
        aside = (near.point.x - place.x) * inward.x + (near.point.y - place.y) * inward.y
        return abs(aside) < ON_EDGE and near.outward.x * inward.x + near.outward.y * inward.y < -0.99

    def _middle(self) -> None:
        """The centroid, the arrow that points up the pane and the side it is seen from, in the daylight."""
        pencil, detail = self.pencil, self.detail
        centre = detail.centroid
        size = pencil.paper(2.0)
        self._put(
            [
                circle("CENTRE_LINES", centre, size * 0.6),
                line("CENTRE_LINES", (centre.x - size, centre.y), (centre.x + size, centre.y)),
                line("CENTRE_LINES", (centre.x, centre.y - size), (centre.x, centre.y + size)),
            ]
        )
        self._name(
            (
                pencil.text(
                    "TEXT",
                    (centre.x + sx * pencil.paper(3.0), centre.y + sy * pencil.paper(3.0)),
                    string,
                    align="left" if sx > 0 else "right",
                    centred=True,
                )
                for string in ("centroid", "C")
                for sy in (-1.0, 1.0, -2.0, 2.0)
                for sx in (1.0, -1.0)
            ),
            "centroid",
        )
        if self.shows.arrows:
            arrows = PlanArrows(
                detail, pencil, self.placer, (self.left, self.bottom, self.right, self.top), seen_from=self.shows.seen_from
            )
            arrows.place()
            self.marks += arrows.marks


def _middle_of(box: Box) -> Point:
    return Point((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)


def _nearer(own: Place, others: Iterable[Place], middle: Point) -> bool:
    """Whether a place is nearer to its own thing than to any other of the kind."""
    mine = math.dist(middle, own)
    return all(mine <= math.dist(middle, other) for other in others)


def _sizes(*values: float) -> str:
    from outputs.sheet.drafting import number

    return " × ".join(number(value) for value in values)


__all__ = ["PlanView"]
