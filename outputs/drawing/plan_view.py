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

from geometry.outline import Point, bounding_box, corners, nearest_station, ray_hits, ray_length
from outputs.drawing.plan_arrows import PlanArrows
from outputs.drawing.plan_outlines import chock_symbol, corner_window, nodes_of, outline_marks, spacer_symbol
from outputs.sheet.boxes import box_of_text
from outputs.sheet.entities import Attribute, Dimension, Insert, Mark, Text
from outputs.sheet.keep_clear import KeepClear, facets
from outputs.sheet.runs import box, circle, line, polar, run

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from geometry.detail.parts import Chock, Detail, Section, Spacer
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Place
    from outputs.sheet.pencil import Pencil

MARK_REACH = 3.0  # paper mm between the recess and the outer end of a cutting line
MARK_END = 5.0  # paper mm, length of the wide ends of a cutting line
LONGEST_EXTENSION = 80.0  # paper mm that an extension line may run up beside the pane
DOWN = Point(0.0, -1.0)
ON_EDGE = 1e-3  # mm: a place lies on a straight edge
ROW_BELOW_MARKS = 17.0  # paper mm from the recess to the first dimension line where cutting lines stand


class PlanView:
    """Composes the plan at one scale; ``marks`` is the result."""

    def __init__(self, detail: Detail, pencil: Pencil, *, corner_letter: str | None) -> None:
        self.detail = detail
        self.pencil = pencil
        self.placer = KeepClear(scale=pencil.scale, clear=0.9)
        self.marks: list[Mark] = outline_marks(detail)
        self.unplaced: list[str] = []
        self.placer.add(self.marks)
        box = bounding_box(detail.curves.recess)
        pane = bounding_box(detail.curves.glass)
        self.left, self.bottom = min(box.left, pane.left), min(box.bottom, pane.bottom)
        self.right, self.top = max(box.right, pane.right), max(box.top, pane.top)
        self.framed = corner_window(detail) if corner_letter is not None else None
        self._section_marks()
        self._overall()
        if corner_letter is not None:
            self._corner_mark(corner_letter)
        self._bead_start()
        self._chocks_and_spacers()
        self._corner_names()
        self._edge_names()
        self._middle()

    def _put(self, marks: list[Mark]) -> None:
        self.marks += marks
        self.placer.add(marks)

    def _name(self, candidates: Iterable[Text], what: str, owns: Callable[[Point], bool] | None = None) -> Text | None:
        """Letter the first candidate that is free and, where ``owns`` is given, whose middle is nearest to the thing it names."""
        text = self.placer.first_free(candidates, fits=None if owns is None else lambda box: owns(_middle_of(box)))
        if text is None:
            self.unplaced.append(what)
        else:
            self.marks.append(text)
        return text

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

    def _section_marks(self) -> None:
        for section in self.detail.sections:
            self._section_mark(section)

    def _section_mark(self, section: Section) -> None:
        """A cutting line: wide ends outside the recess and inside the ring, arrows in the direction of view, the letter at both."""
        pencil, style = self.pencil, self.pencil.style
        station = section.station
        inward = Point(-station.outward.x, -station.outward.y)
        outer = section.joint_width + pencil.paper(MARK_REACH)
        inner = self._inner(station.point, inward) + pencil.paper(MARK_REACH)
        view = math.degrees(math.atan2(-station.tangent.y, -station.tangent.x))
        outwards = math.degrees(math.atan2(station.outward.y, station.outward.x))
        end, height = pencil.paper(MARK_END), style.title
        for reach, away in ((outer, outwards), (inner, outwards + 180.0)):
            near = polar(station.point, away, reach)
            far = polar(near, away, end)
            tip = polar(far, view, pencil.paper(2 * style.arrow))
            marks: list[Mark] = [
                line("SECTION_MARKS", near, far),
                line("DIMENSIONS", far, tip),
                pencil.arrow("SECTION_MARKS", tip, view),
            ]
            self._put(marks)
            clear = pencil.paper(height * 0.65 + 1.0)
            spots = (
                polar(tip, view, clear),
                polar(far, away, clear),
                polar(polar(tip, view, clear), away, clear),
                polar(far, view + 180.0, clear),
            )
            letters = [pencil.text("TEXT", spot, section.letter, height=height, align="middle", centred=True) for spot in spots]
            chosen = self.placer.first_free(letters)
            if chosen is None:
                self._put([letters[0]])
            else:
                self.marks.append(chosen)
        narrow = polar(station.point, outwards + 180.0, inner), polar(station.point, outwards, outer)
        self._put([line("CENTRE_LINES", *narrow)])

    def _corner_mark(self, letter: str) -> None:
        """The frame round the enlarged corner and its letter."""
        worst = self.detail.worst_corner
        if worst is None:
            return
        pencil = self.pencil
        left, bottom, right, top = self.framed or corner_window(self.detail)
        self._put([box("DIMENSIONS", left, bottom, right, top)])
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
        candidates = [
            pencil.text("TEXT", spot, letter, height=pencil.style.title, align="middle", centred=True) for spot in spots
        ]
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
                    if self.placer.free(box_of_text(text, pencil.scale)):
                        landing = (turn[0] + side * pencil.paper(1.2), turn[1])
                        self._put(
                            [
                                run("ITEM_LEADERS", (start.place, turn, landing)),
                                pencil.arrow("ITEM_LEADERS", start.place, start.angle - 90.0),
                                text,
                            ]
                        )
                        return
        self.unplaced.append("bead start")

    def _overall(self) -> None:
        """Overall sizes of glass and recess, and the chocks along a level sill, below and to the left of the recess."""
        pencil, style, detail = self.pencil, self.pencil.style, self.detail
        pane, recess = bounding_box(detail.curves.glass), bounding_box(detail.curves.recess)
        tolerance = detail.pane_tolerance
        rows: list[tuple[Place, Place, str | None, float | None]] = []
        sharp = corners(detail.curves.glass)
        sill = [
            chock
            for chock in detail.chocks
            if chock.kind == "setting chock" and abs(chock.angle) < 1e-6 and chock.edge.startswith("e")
        ]
        for chock in sill:
            rows.append((self._under(chock.foot.x - chock.distance), self._under(chock.foot.x), None, None))
        round_pane = not sharp and detail.chocks and detail.chocks[0].edge == "round"
        marked = "Ø" if round_pane and abs((pane.right - pane.left) - (pane.top - pane.bottom)) < 1e-6 else ""
        for whole, spread in ((pane, tolerance), (recess, detail.recess_tolerance)):
            # the widest places of a round pane are far up: its sizes stand under it
            ends = (
                ((whole.left, self.bottom), (whole.right, self.bottom))
                if marked
                else (self._under(whole.left), self._under(whole.right))
            )
            rows.append((*ends, marked, spread))
        level = self.bottom - pencil.paper(ROW_BELOW_MARKS)
        if self.framed is not None:
            level = min(level, self.framed[1] - pencil.paper(style.text + 3.0))
        dimensions: list[Mark] = []
        for first, second, prefix, deviation in rows:
            dimensions.append(self._size(first, second, level, 0.0, prefix or "", deviation))
            level -= pencil.paper(style.row)
        if not marked:
            side, at, row = self._side_of_heights()
            dimensions.append(self._size((side, pane.bottom), (side, pane.top), at, 90.0, "", tolerance))
            dimensions.append(self._size((side, recess.bottom), (side, recess.top), at + row, 90.0, "", detail.recess_tolerance))
        self._put(dimensions)

    def _under(self, x: float) -> Place:
        """Where an extension line to the rows below begins: at the lowest place of recess and pane there, unless that is far up."""
        from_top = Point(x, self.top + 1.0)
        hits = [
            hit for outline in (self.detail.curves.recess, self.detail.curves.glass) for hit in ray_hits(outline, from_top, DOWN)
        ]
        lowest = from_top.y - max(hits) if hits else self.bottom
        return x, lowest if lowest - self.bottom < self.pencil.paper(LONGEST_EXTENSION) else self.bottom

    def _side_of_heights(self) -> tuple[float, float, float]:
        """The side on which the heights stand, the place of their first row and the step to the next.

        They stand at the left, unless the highest and the lowest place of the pane both lie nearer to the right.
        """
        pencil, style, pane = self.pencil, self.pencil.style, bounding_box(self.detail.curves.glass)
        near = pencil.paper(0.5)
        places = [straight[:2] for straight in facets(nodes_of(self.detail.curves.glass), closed=True)]
        highest = [x for x, y in places if y > pane.top - near] or [pane.left]
        lowest = [x for x, y in places if y < pane.bottom + near] or [pane.left]
        from_left = min(highest) + min(lowest) - 2 * pane.left
        from_right = 2 * pane.right - max(highest) - max(lowest)
        if from_right < 0.5 * from_left:
            at = self.right + pencil.paper(ROW_BELOW_MARKS)
            if self.framed is not None:
                at = max(at, self.framed[2] + pencil.paper(style.text + 3.0))
            return self.right, at, pencil.paper(style.row)
        at = self.left - pencil.paper(style.first_row)
        if self.framed is not None:
            at = min(at, self.framed[0] - pencil.paper(2.0))
        return self.left, at, -pencil.paper(style.row)

    def _size(self, first: Place, second: Place, at: float, angle: float, prefix: str, tolerance: float | None) -> Dimension:
        from outputs.sheet.drafting import toleranced

        value = second[0] - first[0] if angle == 0.0 else second[1] - first[1]
        return self.pencil.linear(first, second, line_at=at, angle=angle, text=f"{prefix}{toleranced(value, tolerance)}")

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
        outer = self._outer(Point(*at), Point(-inward.x, -inward.y))
        candidates = [
            pencil.text("TEXT", polar(spot, block.angle, pencil.paper(shift)), mark, align="middle", centred=True)
            for away, far in ((90.0, reach), (-90.0, outer))
            for more in (1.4, 4.4, 7.4)
            for spot in (polar(at, block.angle + away, far + depth + pencil.paper(more)),)
            for shift in (0.0, 3.5, -3.5, 6.0, -6.0, 9.0, -9.0)
        ]
        others = [
            (place.x, place.y)
            for place in (
                *(chock.foot for chock in self.detail.chocks if chock.mark[0] == mark[0] and chock.mark != mark),
                *(spacer.centre for spacer in self.detail.spacers if spacer.mark[0] == mark[0] and spacer.mark != mark),
            )
        ]
        text = self.placer.first_free(candidates, fits=lambda box: _nearer(at, others, _middle_of(box)))
        if text is None:
            self.unplaced.append(mark)
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
            candidates = [
                pencil.text(
                    "TEXT",
                    polar(corner.theoretical, away + turn, reach + pencil.paper(more)),
                    f"V{corner.number}",
                    height=height,
                    align="middle",
                    centred=True,
                )
                for away, reach, steps in (
                    (inward, self._inner(corner.theoretical, corner.bisector), (3.5, 5.5, 8.0)),
                    (inward + 180.0, self._outer(corner.theoretical, back), (3.5, 5.5, 8.0)),
                    (inward, self._inner(corner.theoretical, corner.bisector), (11.0, 15.0, 20.0)),
                )
                for more in steps
                for turn in (0.0, 4.0, -4.0, 8.0, -8.0)
            ]
            others = [other.theoretical for other in self.detail.corners if other.number != corner.number]
            self._name(candidates, f"V{corner.number}", partial(_nearer, corner.theoretical, others))

    def _edge_names(self) -> None:
        """e1, e2 ... inside the ring near the middle of each edge."""
        pencil = self.pencil
        for name, place, angle in self.detail.edge_middles:
            inward = Point(*polar((0.0, 0.0), angle + 90.0, 1.0))
            sides = (
                (90.0, self._inner(place, inward), (4.0, 7.0, 10.0)),
                (-90.0, self._outer(place, Point(-inward.x, -inward.y)), (4.0, 5.5)),
            )
            candidates = [
                pencil.text("TEXT", polar(spot, angle, pencil.paper(shift)), name, align="middle", centred=True)
                for away, reach, steps in sides
                for more in steps
                for spot in (polar(place, angle + away, reach + pencil.paper(more)),)
                for shift in (6.0, -6.0, 12.0, -12.0, 18.0, -18.0, 0.0)
            ]
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
            [
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
            ],
            "centroid",
        )
        arrows = PlanArrows(detail, pencil, self.placer, (self.left, self.bottom, self.right, self.top))
        self.unplaced += arrows.place()
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
