"""The plan: the pane in its recess, seen from outside, with everything that is set out on it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline import Point, bounding_box, point_in
from outputs.drawing.balloons import RADIUS, Item, balloon
from outputs.drawing.flags import moved_mark, placed_flags, round_about
from outputs.drawing.plan_arrows import PlanArrows
from outputs.drawing.plan_basis import plan_basis
from outputs.drawing.plan_bead import bead_arrow, bead_words
from outputs.drawing.plan_cuts import CuttingPlanes
from outputs.drawing.plan_ink import PlanInk
from outputs.drawing.plan_names import PlanNames
from outputs.drawing.plan_options import PlanShows
from outputs.drawing.plan_outlines import chock_symbol, spacer_symbol
from outputs.drawing.plan_setting_out import SettingOut
from outputs.drawing.plan_stations import StationMarks
from outputs.sheet.boxes import box_round, joined
from outputs.sheet.drafting import number
from outputs.sheet.entities import Attribute, Fill, Insert, Mark, Path
from outputs.sheet.keep_clear import KeepClear
from outputs.sheet.outcomes import Fate, ItemNumber
from outputs.sheet.runs import circle, line, polar

if TYPE_CHECKING:
    from geometry.detail.parts import Chock, Detail, Spacer
    from outputs.drawing.plan_basis import PlanBasis
    from outputs.drawing.plan_options import EnlargedCorner
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Place
    from outputs.sheet.outcomes import Outcome
    from outputs.sheet.pencil import Pencil

AXIS_PAST, CLOSE_PAST = 3.0, 1.0  # paper mm that an axis runs past the recess, and where the plan has little room
MOST_CIRCLE, CLOSE_CIRCLE = (
    9.0,
    4.5,
)  # paper mm, radius of the circle round an enlarged corner, and where the plan has little room
MUCH_BESIDE = 60.0  # paper mm
WITHIN = 0.95  # of its radius, how far its middle lies inside the corner of the recess
ITEM_LED, ITEM_TURNS = (9.0, 11.0, 14.0, 18.0, 23.0), (0, 20, -20, 40, -40, 60, -60, 180, 160, -160, 140, -140)  # of a balloon
MOST_MOVED = 8  # places marked as moved since an older state
EMPTY: Box = (math.inf, math.inf, -math.inf, -math.inf)  # round nothing


class PlanView:
    """Composes the plan at one scale; ``marks`` is the result.

    ``untold`` are the edges and blocks whose running sizes found no room on it, ``told`` is what the notes have to say of it.
    A plan that is larger than its room once its sizes and planes stand is not composed to its end: it is ``outgrown``. ``basis`` is
    what it has in common with others of the pane at this scale, where that is known.
    """

    def __init__(self, detail: Detail, pencil: Pencil, shows: PlanShows | None = None, *, basis: PlanBasis | None = None) -> None:
        self.detail, self.pencil = detail, pencil
        self.shows = shows = PlanShows() if shows is None else shows
        style = pencil.style
        self.placer = KeepClear(scale=pencil.scale, clear=style.off_lines + 0.05, apart=style.clear + 0.05)
        self.ink = PlanInk(detail, pencil, self.placer)
        basis = plan_basis(detail, pencil.scale) if basis is None else basis
        self.ink.put(basis.lines)
        self.untold: tuple[str, ...] = ()
        self.told: tuple[str, ...] = ()
        self._measured, self._reach = 0, EMPTY
        glass, recess = bounding_box(detail.curves.glass), bounding_box(detail.curves.recess)
        self.box: Box = (
            min(recess.left, glass.left),
            min(recess.bottom, glass.bottom),
            max(recess.right, glass.right),
            max(recess.top, glass.top),
        )
        self._axes()
        self._inserts()
        setting_out = SettingOut(self.ink, shows, basis)
        setting_out.place()
        setting_out.round_figures()
        bead_arrow(self.ink)
        self.outgrown = self._outgrows()
        if not self.outgrown:
            self._complete(setting_out)

    def _complete(self, setting_out: SettingOut) -> None:
        """What stands on the plan once its sizes do; not the names where they would stand on a plan that is too large."""
        shows = self.shows
        cuts = CuttingPlanes(self.ink)
        letters = [each for section in shows.sections for each in cuts.ends(section)]
        for letter, spots in letters:
            cuts.letter(letter, spots)
        for corner in shows.corners:
            self._corner(corner)
        self._origin()
        setting_out.late_figures()
        self.untold = tuple(setting_out.untold)
        self._origin_letter()
        stations = StationMarks(self.ink, shows.stations, shows.joint_least)
        stations.place()
        self.outgrown = self._outgrows()
        if self.outgrown:
            return
        self._letter()
        self._items()
        arrows = PlanArrows(self.detail, self.pencil, self.placer, self.box, beside=self._much_beside())
        arrows.place()
        self.ink.marks += arrows.marks
        self.told = stations.say()
        self._keep_to_room()
        self._flags()
        self._moved()

    @property
    def marks(self) -> list[Mark]:
        """All marks of the plan."""
        return self.ink.marks

    @property
    def outcomes(self) -> list[Outcome]:
        """What became of everything that was planned for the plan."""
        return self.placer.outcomes

    def extent(self) -> Box:
        """The box round all marks so far, mm of the plan; what was measured once is not measured again."""
        fresh = self.marks[self._measured :]
        if fresh:
            self._measured, self._reach = len(self.marks), joined((self._reach, box_round(fresh, self.pencil.scale)))
        return self._reach

    def _outgrows(self) -> bool:
        """Whether the plan is larger than the room that it may have: nothing that is still to come makes it smaller."""
        if self.shows.room is None:
            return False
        left, bottom, right, top = self.extent()
        wide, high = self.shows.room
        return (right - left) * self.pencil.scale > wide or (top - bottom) * self.pencil.scale > high

    def _much_beside(self) -> bool:
        """Whether the box of the plan is so much wider than the plan that the arrows part what stays white beside it."""
        left, _, right, _ = self.extent()
        return self.shows.room is not None and self.shows.room[0] - (right - left) * self.pencil.scale > MUCH_BESIDE

    def _letter(self) -> None:
        """Names of blocks, corners and edges, then the words of the bead; those first where they find no room else."""
        ink, standing = self.ink, [*self.ink.marks]
        before = self.placer.copy()
        before.outcomes = [*self.placer.outcomes]
        self._names()
        bead_words(ink)
        lost = _lost(self.placer)
        if not any(each.what == "bead start" and each.fate is not Fate.DRAWN for each in self.placer.outcomes):
            return
        after, lettered = self.placer, ink.marks
        self.placer, ink.placer, ink.marks = before, before, standing
        bead_words(ink)
        self._names()
        if _lost(self.placer) >= lost:
            self.placer, ink.placer, ink.marks = after, after, lettered

    def _names(self) -> None:
        names = PlanNames(self.ink)
        names.blocks()
        names.corners()
        names.edges()

    def _items(self) -> None:
        """The numbers of parts that no section shows, each in a balloon beside one of them: in the daylight, or beside the recess."""
        centre, pencil = self.detail.centroid, self.pencil
        for number_, places in self.shows.items:
            spots = (
                (place, spot)
                for reach in ITEM_LED
                for place in places
                for turn in ITEM_TURNS
                for spot in (
                    polar(
                        (place.x, place.y),
                        math.degrees(math.atan2(centre.y - place.y, centre.x - place.x)) + turn,
                        pencil.paper(reach),
                    ),
                )
            )
            marks = next((found for place, spot in spots if (found := self._item(Item(number_, (place.x, place.y)), spot))), ())
            if not marks:
                self.ink.no_room(ItemNumber(number_))
                continue
            self.ink.put(marks)
            self.placer.drawn(ItemNumber(number_))

    def _item(self, item: Item, spot: Place) -> tuple[Mark, ...]:
        """One balloon at a spot; nothing where it has no room there."""
        radius = self.pencil.paper(RADIUS * self.pencil.style.text / 2.5)
        box = (spot[0] - radius, spot[1] - radius, spot[0] + radius, spot[1] + radius)
        if not self.placer.free(box):
            return ()
        marks = balloon(item, spot, self.pencil)
        leader = next(mark for mark in marks if isinstance(mark, Path) and not mark.closed)
        if not (self.placer.clear_of_texts((leader,)) and self.placer.leads(leader)):
            return ()
        self.placer.lead(leader)
        self.placer.block(box)
        return marks

    def _axes(self) -> None:
        """The axes of a pane that is alike on both sides of them."""
        glass, past = bounding_box(self.detail.curves.glass), self.pencil.paper(CLOSE_PAST if self.shows.close else AXIS_PAST)
        middle = glass.middle
        left, bottom, right, top = self.box
        places = [(v.x - middle.x, v.y - middle.y) for v in self.detail.curves.glass.vertices]
        if _alike(places, [(-x, y) for x, y in places]):
            self.ink.put([line("CENTRE_LINES", (middle.x, bottom - past), (middle.x, top + past))])
        if _alike(places, [(x, -y) for x, y in places]):
            self.ink.put([line("CENTRE_LINES", (left - past, middle.y), (right + past, middle.y))])

    def _origin(self) -> None:
        """The origin of X and Y: a quartered circle."""
        pencil, at = self.pencil, self.detail.origin.at
        radius = pencil.paper(1.0)
        self.ink.put([circle("DIMENSIONS", at, radius)])
        for first in (0.0, 180.0):
            start, end = polar(at, first, radius), polar(at, first + 90.0, radius)
            self.ink.marks.append(Fill("DIMENSIONS", ((*at, 0.0), (*start, math.tan(math.radians(90.0) / 4)), (*end, 0.0))))

    def _origin_letter(self) -> None:
        """O, once the letters of the cutting planes stand: they are larger and have fewer places."""
        pencil, at = self.pencil, self.detail.origin.at
        radius = pencil.paper(1.0)
        for reach in (7.0, 5.0, 9.0, 11.0):
            for turn in (128.0, 142.0, 112.0, 158.0, 215.0, 235.0, 255.0, 60.0, 40.0, -45.0):
                spot = polar(at, turn, pencil.paper(reach))
                text = pencil.text("DIMENSIONS", spot, "O", align="middle", centred=True)
                leader = line(
                    "DIMENSIONS", polar(at, turn, radius), polar(at, turn, pencil.paper(reach - 2.6 * pencil.style.text / 2.5))
                )
                if self.placer.takes((text, leader)) and not point_in(self.detail.curves.recess, Point(*spot)):
                    self.ink.put([text, leader])
                    self.placer.drawn("origin")
                    return
        self.ink.no_room("origin")

    def _corner(self, corner: EnlargedCorner) -> None:
        """The circle round an enlarged corner, as large as its window where it may be, and its letter."""
        pencil, way = self.pencil, corner.inward
        most = min(max(corner.side * 0.62, pencil.paper(5.0)), pencil.paper(CLOSE_CIRCLE if self.shows.close else MOST_CIRCLE))

        def ring(radius: float) -> tuple[Place, Path]:
            middle = (corner.place.x + WITHIN * radius * way.x, corner.place.y + WITHIN * radius * way.y)
            return middle, circle("DIMENSIONS", middle, radius)

        rings = [(most * share, *ring(most * share)) for share in (1.0, 0.85, 0.7, 0.55, 0.4, 0.3)]
        radius, middle, drawn = next((each for each in rings if self.placer.clear_of_texts((each[2],))), rings[0])
        self.ink.put([drawn])
        half = pencil.paper(pencil.style.title / 2)
        inside = math.degrees(math.atan2(self.detail.centroid.y - middle[1], self.detail.centroid.x - middle[0]))
        spots = [
            polar(middle, inside + turn, radius + half + pencil.paper(more))
            for more in (1.5, 3.0, 5.0, 8.0)
            for turn in (0, 20, -20, 40, -40, 180, 160, 200, 90, -90, 120, -120)
        ]
        texts = (
            pencil.text("SECTION_MARKS", spot, corner.letter, height=pencil.style.title, align="middle", centred=True)
            for spot in spots
        )
        if not self.ink.name(texts, f"detail letter {corner.letter}"):
            self.ink.no_room(f"detail letter {corner.letter}")

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
        self.ink.marks += marks

    def _insert(self, symbol: str, layer: str, block: Chock | Spacer, at: Point, kind: str, size: str) -> Insert:
        values = (
            ("MARK", block.mark),
            ("KIND", kind),
            ("SIZE", size),
            ("EDGE", block.edge),
            ("DISTANCE", number(block.distance)),
        )
        return Insert(layer, symbol, at.x, at.y, block.angle, tuple(Attribute(*value) for value in values))

    def _keep_to_room(self) -> None:
        """What follows stays within the box of the plan: a flag never makes the plan larger than it may be."""
        if self.shows.room is None:
            return
        left, bottom, right, top = self.extent()
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
        self.ink.marks += placed_flags(wanted, self.pencil, self.placer)

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
                self.ink.no_room(what)
                continue
            self.ink.put(marks)
            self.placer.drawn(what)


def _lost(placer: KeepClear) -> int:
    return sum(1 for each in placer.outcomes if each.fate is not Fate.DRAWN)


def _alike(places: list[Place], others: list[Place]) -> bool:
    """Whether two lists hold the same places, whatever their order (to 0,001 mm)."""
    return sorted((round(x, 3) + 0.0, round(y, 3) + 0.0) for x, y in places) == sorted(
        (round(x, 3) + 0.0, round(y, 3) + 0.0) for x, y in others
    )


def _sizes(*values: float) -> str:
    return " × ".join(number(value) for value in values)


__all__ = ["PlanView"]
