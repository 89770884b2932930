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

from geometry.detail.edges import edges_of
from geometry.outline import Point, bounding_box, nearest_station, point_in, ray_length
from outputs.drawing.flags import moved_mark, placed_flags, round_about
from outputs.drawing.plan_arrows import PlanArrows
from outputs.drawing.plan_cuts import CuttingPlanes
from outputs.drawing.plan_options import NO_ROOM, PlanShows
from outputs.drawing.plan_outlines import chock_symbol, outline_marks, spacer_symbol
from outputs.drawing.plan_rows import curved_figures, is_rectangular, row_marks, row_reads, rows_of
from outputs.drawing.plan_sizes import Sides, overall_sizes
from outputs.sheet.boxes import box_of_text, box_round, grown
from outputs.sheet.drafting import as_fine_as, number
from outputs.sheet.entities import Attribute, Fill, Insert, Mark, Text
from outputs.sheet.keep_clear import KeepClear, crosses
from outputs.sheet.pencil import upright
from outputs.sheet.runs import circle, line, polar, run

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from geometry.detail.block_rows import RowEntry
    from geometry.detail.parts import Chock, Detail, Spacer
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Place
    from outputs.sheet.outcomes import Outcome
    from outputs.sheet.pencil import Pencil

AXIS_PAST = 3.0  # paper mm that an axis runs past the recess
MOST_CIRCLE = 14.0  # paper mm, radius of the circle round an enlarged corner
ZERO_ASIDE = 2.8  # paper mm
ROW_AWAY = (10.0, 14.0, 17.0, 21.0, 24.0, 7.0, 28.0)  # paper mm from the recess to a row, the first that runs clear of the others
MOST_MOVED = 8  # places marked as moved since an older state
SIZES_AWAY = (0.0, 3.0, 7.0)  # paper mm by which the overall sizes stand farther out


class PlanView:
    """Composes the plan at one scale; ``marks`` is the result."""

    def __init__(self, detail: Detail, pencil: Pencil, shows: PlanShows | None = None) -> None:
        self.detail, self.pencil = detail, pencil
        self.shows = shows = PlanShows() if shows is None else shows
        style = pencil.style
        self.placer = KeepClear(scale=pencil.scale, clear=style.off_lines + 0.05, apart=style.clear + 0.05)
        self.marks: list[Mark] = outline_marks(detail, pencil.scale)
        self.placer.add(self.marks)
        glass, recess = bounding_box(detail.curves.glass), bounding_box(detail.curves.recess)
        self.box: Box = (
            min(recess.left, glass.left),
            min(recess.bottom, glass.bottom),
            max(recess.right, glass.right),
            max(recess.top, glass.top),
        )
        self._axes()
        self._inserts()
        self._rows()
        cuts = CuttingPlanes(pencil, self.placer, (self._inner, self._outer), self._put)
        letters = [each for section in shows.sections for each in cuts.ends(section)]
        self._bead_arrow()
        for letter, window in shows.corners:
            self._corner(letter, window)
        self._origin()
        for letter, spots in letters:
            cuts.letter(letter, spots)
        self._origin_letter()
        self._block_names()
        self._corner_names()
        self._edge_names()
        self._bead_words()
        arrows = PlanArrows(detail, pencil, self.placer, self.box)
        arrows.place()
        self.marks += arrows.marks
        self._keep_to_room()
        self._flags()
        self._moved()

    @property
    def outcomes(self) -> list[Outcome]:
        """What became of everything that was planned for the plan."""
        return self.placer.outcomes

    def _put(self, marks: Iterable[Mark]) -> None:
        marks = list(marks)
        self.marks += marks
        self.placer.add(marks)

    def _name(self, candidates: Iterable[Text], what: str, owns: Callable[[Point], bool] | None = None) -> bool:
        """Letter the first candidate that is free and, where ``owns`` is given, whose middle is nearest to the thing it names."""
        text = self.placer.first_free(candidates, fits=None if owns is None else lambda box: owns(_middle_of(box)))
        if text is None:
            self.placer.tabled(what, NO_ROOM)
            return False
        self.placer.drawn(what)
        self.marks.append(text)
        return True

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

    def _axes(self) -> None:
        """The axes of a pane that is alike on both sides of them."""
        glass, past = bounding_box(self.detail.curves.glass), self.pencil.paper(AXIS_PAST)
        middle = glass.middle
        left, bottom, right, top = self.box
        places = [(v.x - middle.x, v.y - middle.y) for v in self.detail.curves.glass.vertices]
        if _alike(places, [(-x, y) for x, y in places]):
            self._put([line("CENTRE_LINES", (middle.x, bottom - past), (middle.x, top + past))])
        if _alike(places, [(x, -y) for x, y in places]):
            self._put([line("CENTRE_LINES", (left - past, middle.y), (right + past, middle.y))])

    def _origin(self) -> None:
        """The origin of X and Y: a quartered circle."""
        pencil, at = self.pencil, self.detail.origin.at
        radius = pencil.paper(1.0)
        self._put([circle("DIMENSIONS", at, radius)])
        for first in (0.0, 180.0):
            start, end = polar(at, first, radius), polar(at, first + 90.0, radius)
            self.marks.append(Fill("DIMENSIONS", ((*at, 0.0), (*start, math.tan(math.radians(90.0) / 4)), (*end, 0.0))))

    def _origin_letter(self) -> None:
        """O, once the letters of the cutting planes stand: they are larger and have fewer places."""
        pencil, at = self.pencil, self.detail.origin.at
        radius = pencil.paper(1.0)
        for reach in (7.0, 5.0, 9.0, 11.0):
            for turn in (128.0, 142.0, 112.0, 158.0, 215.0, 235.0, 255.0, 60.0, 40.0, -45.0):
                spot = polar(at, turn, pencil.paper(reach))
                text = pencil.text("DIMENSIONS", spot, "O", align="middle", centred=True)
                leader = line("DIMENSIONS", polar(at, turn, radius), polar(at, turn, pencil.paper(reach - 2.4)))
                if self.placer.takes((text,)) and not point_in(self.detail.curves.recess, Point(*spot)):
                    self._put([text, leader])
                    self.placer.drawn("origin")
                    return
        self.placer.tabled("origin", NO_ROOM)

    def _rows(self) -> None:
        """The running sizes of the blocks and the overall sizes."""
        detail, pencil = self.detail, self.pencil
        rows = rows_of(detail)
        oblique = bool(detail.corners) and any(
            abs(angle / 90.0 - round(angle / 90.0)) > 1e-6 for _, _, angle in detail.edge_middles
        )
        for row in rows:
            # over the plan and at its right the extension lines of the overall sizes run up through the zero
            aside = ZERO_ASIDE if not oblique and max(row.outward.x, row.outward.y) > 0.9 else 0.0
            tries = [row_marks(row, pencil, first=ROW_AWAY[0], aside=aside)]
            if not self.placer.takes(tries[0]):
                tries += [row_marks(row, pencil, first=away, aside=more) for away in ROW_AWAY for more in (aside, ZERO_ASIDE)]
            free = next((marks for marks in tries if self.placer.takes(marks) and row_reads(marks, pencil)), None)
            if free is None:
                self.placer.tabled(f"row of {row.edge}", NO_ROOM)
            else:
                self._put(free)
                self.placer.drawn(f"row of {row.edge}")
        if not oblique:
            under = any(row.outward.y < -0.9 for row in rows)
            over = any(row.outward.y > 0.9 for row in rows)
            beside = any(row.outward.x > 0.9 for row in rows)
            first, behind = pencil.style.first_row, pencil.style.first_row + 1.6 * pencil.style.row
            widths = (
                behind - 3.0 if under and not self.shows.widths_over else behind if over and self.shows.widths_over else first
            )
            heights = behind if beside else first
            tries_ = (
                overall_sizes(detail, pencil, Sides(self.shows.widths_over, widths + away, heights + away)) for away in SIZES_AWAY
            )
            sizes = next(tries_)
            if not self.placer.takes(sizes):
                sizes = next((each for each in tries_ if self.placer.takes(each)), sizes)
            lost = [] if self.placer.takes(sizes) else [each for each in sizes if not self.placer.takes((each,))]
            for size in lost:
                self.placer.tabled(f"size {size.text}", NO_ROOM)
            sizes = [each for each in sizes if each not in lost]
            self._put(sizes)
            for size in sizes:
                self.placer.drawn(f"size {size.text}")
        for entry in curved_figures(detail):
            self._round_figure(entry)

    def _round_figure(self, entry: RowEntry) -> None:
        """On a round edge a block has its length along the wall, from the zero of its row, beside it outside the recess."""
        pencil, detail = self.pencil, self.detail
        outward = nearest_station(detail.curves.glass, entry.at).outward
        angle = math.degrees(math.atan2(outward.y, outward.x))
        foot = polar(entry.at, angle, self._outer(entry.at, outward) + pencil.paper(pencil.style.extension_gap))
        end = polar(foot, angle, pencil.paper(4.0))
        printed = as_fine_as(entry.distance, 1.0)
        half = pencil.width(printed) / 2 * abs(outward.x) + pencil.paper(pencil.style.text / 2) * abs(outward.y)
        spots = [polar(end, angle, half + pencil.paper(more)) for more in (1.2, 3.0, 5.0)]
        text = self.placer.first_free(pencil.text("DIMENSIONS", spot, printed, align="middle", centred=True) for spot in spots)
        if text is None:
            self.placer.tabled(f"distance of {entry.mark}", NO_ROOM)
            return
        self._put([line("DIMENSIONS", foot, end)])
        self.marks.append(text)
        self.placer.drawn(f"distance of {entry.mark}")

    def _corner(self, letter: str, window: Box) -> None:
        """The circle round an enlarged corner and its letter."""
        pencil = self.pencil
        left, bottom, right, top = window
        middle = ((left + right) / 2, (bottom + top) / 2)
        radius = min(max((right - left) * 0.62, pencil.paper(5.0)), pencil.paper(MOST_CIRCLE))
        rings = [
            circle("DIMENSIONS", middle, each) for each in (radius, *(radius * share for share in (0.85, 0.7, 0.55, 0.4, 0.3)))
        ]
        self._put([next((ring for ring in rings if self.placer.clear_of_texts((ring,))), rings[0])])
        half = pencil.paper(pencil.style.title / 2)
        inside = math.degrees(math.atan2(self.detail.centroid.y - middle[1], self.detail.centroid.x - middle[0]))
        spots = [
            polar(middle, inside + turn, radius + half + pencil.paper(more))
            for more in (1.5, 3.0, 5.0, 8.0)
            for turn in (0, 20, -20, 40, -40, 180, 160, 200, 90, -90, 120, -120)
        ]
        texts = (
            pencil.text("SECTION_MARKS", spot, letter, height=pencil.style.title, align="middle", centred=True) for spot in spots
        )
        self._name(texts, f"detail letter {letter}")

    def _bead_arrow(self) -> None:
        """Where the bead starts and stops: a stroke across its centre line and an arrow in the direction of the run."""
        pencil, start = self.pencil, self.detail.bead_start
        size = pencil.paper(1.6)
        tip = polar(start.place, start.angle, pencil.paper(7.0))
        self._put(
            [
                line("DETAIL_WIDE", polar(start.place, start.angle + 90.0, size), polar(start.place, start.angle - 90.0, size)),
                line("DETAIL_WIDE", start.place, polar(tip, start.angle + 180.0, pencil.paper(2.0))),
                pencil.arrow("DETAIL_WIDE", tip, start.angle),
            ]
        )

    def _bead_words(self) -> None:
        """The note at the start of the bead, on a leader inside the ring."""
        pencil, start = self.pencil, self.detail.bead_start
        inward = Point(*polar((0.0, 0.0), start.angle + 90.0, 1.0))
        ring = self._inner(start.place, inward)
        for string in ("bead start, counter-clockwise", "bead start"):
            long = pencil.width(string)
            for more in (4.0, 7.0, 10.0, 13.0, 17.0, 22.0):
                for aside in (-6.0, 6.0, -12.0, 12.0, 0.0, -20.0, 20.0):
                    elbow = polar(
                        polar(start.place, start.angle + 90.0, ring + pencil.paper(more)), start.angle, pencil.paper(-aside)
                    )
                    for sign in (-1.0, 1.0):
                        end = (elbow[0] + sign * long, elbow[1])
                        foot = (min(elbow[0], end[0]), elbow[1] + pencil.paper(1.3))
                        text = pencil.text("TEXT", foot, string)
                        leader = run("ITEM_LEADERS", (start.place, elbow, end))
                        own = grown(box_of_text(text, pencil.scale), pencil.paper(0.3))
                        through = crosses(own, (*start.place, *elbow))
                        if through or not self.placer.takes((text, leader)):
                            continue
                        if all(  # asked last: it costs most
                            point_in(self.detail.curves.frit_inner, Point(x, y))
                            for x in (foot[0], foot[0] + long)
                            for y in (foot[1], foot[1] + pencil.paper(pencil.style.text))
                        ):
                            self._put([text, leader])
                            self.placer.lead(leader)
                            self.placer.drawn("bead start")
                            return
        self.placer.tabled("bead start", NO_ROOM)

    def _inserts(self) -> None:
        """The blocks themselves; their marks are lettered once all lines stand."""
        detail, sizes = self.detail, self.detail.sizes
        marks: list[Mark] = [
            self._insert(
                chock_symbol(chock), "CHOCKS", chock, chock.foot, str(chock.kind), _sizes(chock.length, chock.height, chock.depth)
            )
            for chock in detail.chocks
        ]
        size = _sizes(sizes.spacer_length.value, sizes.spacer_width.value, sizes.spacer_thickness.value)
        marks += [
            self._insert(spacer_symbol(detail), "SPACERS", spacer, spacer.centre, "spacer block", size)
            for spacer in detail.spacers
        ]
        self.marks += marks

    def _insert(self, symbol: str, layer: str, block: Chock | Spacer, at: Point, kind: str, size: str) -> Insert:
        values = (
            ("MARK", block.mark),
            ("KIND", kind),
            ("SIZE", size),
            ("EDGE", block.edge),
            ("DISTANCE", number(block.distance)),
        )
        return Insert(layer, symbol, at.x, at.y, block.angle, tuple(Attribute(*value) for value in values))

    def _block_names(self) -> None:
        """K and S marks inside the ring, a chock and a spacer at one place side by side; what is inside cannot meet a size."""
        blocks: list[tuple[Chock | Spacer, Point]] = [(each, each.foot) for each in self.detail.chocks]
        blocks += [(each, each.centre) for each in self.detail.spacers]
        near = self.pencil.paper(7.0)
        for block, at in blocks:
            twin = next(
                (other for other, place in blocks if other.mark[0] != block.mark[0] and math.dist(place, at) < near), None
            )
            self._block_name(
                block, at, twin, [place for other, place in blocks if other.mark[0] == block.mark[0] and other is not block]
            )

    def _block_name(self, block: Chock | Spacer, at: Point, twin: Chock | Spacer | None, others: list[Point]) -> None:
        pencil = self.pencil
        inward = Point(*polar((0.0, 0.0), block.angle + 90.0, 1.0))
        reach = self._inner(at, inward)
        half = pencil.width(block.mark) / 2
        depth = abs(inward.x) * half + abs(inward.y) * pencil.paper(pencil.style.text / 2)
        level = abs(inward.y) >= abs(inward.x)
        shifts: tuple[float, ...] = (0.0, 3.5, -3.5, 5.0, -5.0, 8.0, -8.0)
        if twin is not None:
            beside = (pencil.width(twin.mark) / 2 + half) * pencil.scale / 2 + 1.0 if level else pencil.style.text / 2 + 1.2
            left = polar((0.0, 0.0), block.angle, 1.0)
            sign = (1.0 if left[0] > 0 else -1.0) if level else (1.0 if left[1] < 0 else -1.0)
            own = -sign * beside if block.mark[0] == "K" else sign * beside
            shifts = (own, own * 1.6, *shifts)
        texts = (
            pencil.text("TEXT", polar(spot, block.angle, pencil.paper(shift)), block.mark, align="middle", centred=True)
            for more in (1.6, 4.4, 7.4)
            for shift in shifts
            for spot in (polar(at, block.angle + 90.0, reach + depth + pencil.paper(more)),)
        )
        self._name(texts, block.mark, partial(_nearer, at, others))

    def _corner_names(self) -> None:
        """V1, V2 ... outside the corners of a pane that is no rectangle."""
        if is_rectangular(self.detail):
            return
        pencil = self.pencil
        for corner in self.detail.corners:
            outward = math.degrees(math.atan2(-corner.bisector.y, -corner.bisector.x))
            back = Point(-corner.bisector.x, -corner.bisector.y)
            out, inside = self._outer(corner.theoretical, back), self._inner(corner.theoretical, corner.bisector)
            candidates = (
                pencil.text(
                    "TEXT",
                    polar(corner.theoretical, way + turn, reach + pencil.paper(more)),
                    f"V{corner.number}",
                    align="middle",
                    centred=True,
                )
                for way, reach, steps in (
                    (outward, out, (4.0, 6.0, 8.0, 10.0)),
                    (outward + 180.0, inside, (4.0, 6.0, 9.0)),
                    (outward, out, (13.0, 16.0)),
                )
                for more in steps
                for turn in (0.0, 15.0, -15.0, 35.0, -35.0, 55.0, -55.0)
            )
            others = [other.theoretical for other in self.detail.corners if other.number != corner.number]
            self._name(candidates, f"V{corner.number}", partial(_nearer, corner.theoretical, others))

    def _edge_names(self) -> None:
        """e1, e2 ... with their lengths between sharp corners, along the edges of a pane that is no rectangle."""
        if is_rectangular(self.detail):
            return
        pencil = self.pencil
        lengths = {edge.name: edge.end for edge in edges_of(self.detail.curves.glass)}
        for name, place, angle in self.detail.edge_middles:
            inward = Point(*polar((0.0, 0.0), angle + 90.0, 1.0))
            half = pencil.paper(pencil.style.text / 2)
            reach = self._inner(place, inward)
            strings = (f"{name} ({as_fine_as(lengths[name], 1.0)})", name) if name in lengths else (name,)
            candidates = (
                pencil.text(
                    "TEXT", polar(spot, angle, pencil.paper(shift)), string, align="middle", rotation=turned, centred=True
                )
                for string in strings
                for more in (2.5, 5.5, 8.5, 12.0)
                for shift in (0.0, 10.0, -10.0, 20.0, -20.0, 30.0, -30.0)
                for turned in (upright(angle),)
                for spot in (polar(place, angle + 90.0, reach + half + pencil.paper(more)),)
            )
            self._name(candidates, f"edge {name}")

    def _keep_to_room(self) -> None:
        """What follows stays within the box of the plan: a flag never makes the plan larger than it may be."""
        if self.shows.room is None:
            return
        left, bottom, right, top = box_round(self.marks, self.pencil.scale)
        wide, high = (self.pencil.paper(each) for each in self.shows.room)
        aside, above = max(0.0, (wide - (right - left)) / 2), max(0.0, (high - (top - bottom)) / 2)
        air = self.pencil.paper(0.01)
        self.placer.within = (left - aside + air, bottom - above + air, right + aside - air, top + above - air)

    def _flags(self) -> None:
        centre = self.detail.centroid
        wanted = []
        for flag in self.shows.flags:
            towards = math.degrees(math.atan2(centre.y - flag.place[1], centre.x - flag.place[0]))
            wanted.append((flag, round_about(flag.place, self.pencil, first=12.0, start=towards)))
        self.marks += placed_flags(wanted, self.pencil, self.placer)

    def _moved(self) -> None:
        """The letter of the revision in a circle, at the end of a leader, where something moved; the rest is in the list."""
        centre, pencil = self.detail.centroid, self.pencil
        for index, place in enumerate(self.shows.moved):
            what = f"{self.shows.revision} at a change {index + 1}"
            if index >= MOST_MOVED:
                self.placer.tabled(what, f"not more than {MOST_MOVED} changes are marked")
                continue
            towards = math.degrees(math.atan2(centre.y - place[1], centre.x - place[0]))
            marks = moved_mark(
                self.shows.revision, place, round_about(place, pencil, first=8.0, start=towards), pencil, self.placer
            )
            if not marks:
                self.placer.tabled(what, NO_ROOM)
                continue
            self._put(marks)
            self.placer.drawn(what)


def _alike(places: list[Place], others: list[Place]) -> bool:
    """Whether two lists hold the same places, whatever their order (to 0,001 mm)."""
    return sorted((round(x, 3) + 0.0, round(y, 3) + 0.0) for x, y in places) == sorted(
        (round(x, 3) + 0.0, round(y, 3) + 0.0) for x, y in others
    )


def _middle_of(box: Box) -> Point:
    return Point((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)


def _nearer(own: Point, others: list[Point], middle: Point) -> bool:
    """Whether a place is nearer to its own thing than to any other of its kind."""
    return all(math.dist(own, middle) <= math.dist(other, middle) for other in others)


def _sizes(*values: float) -> str:
    return " × ".join(number(value) for value in values)


__all__ = ["PlanView"]
