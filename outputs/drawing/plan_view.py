"""The plan: the pane in its recess, seen from outside, with everything that is set out on it.

Terms
-----
ring
    The strip of joint, landing and frit round the pane; the daylight inside it is kept for lettering.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline import Point, bounding_box, corners, ray_length
from outputs.drawing.boxes import Box, box_of_text
from outputs.drawing.pencil import Pencil, box, circle, line, polar, run
from outputs.drawing.placer import Placer
from outputs.sheet.entities import Attribute, Block, Dimension, Hatch, Insert, Mark, Path, Text

if TYPE_CHECKING:
    from geometry.detail.parts import Chock, Detail, Section, Spacer
    from geometry.outline import Outline
    from outputs.sheet.entities import Place

MARK_REACH = 3.0  # paper mm between the recess and the outer end of a cutting line
MARK_END = 5.0  # paper mm, length of the wide ends of a cutting line
ROW_BELOW_MARKS = 17.0  # paper mm from the recess to the first dimension line where cutting lines stand


def nodes_of(outline: Outline) -> tuple[tuple[float, float, float], ...]:
    """An outline as the nodes of a path."""
    return tuple((v.x, v.y, v.bulge) for v in outline.vertices)


def outline_marks(detail: Detail) -> list[Mark]:
    """One closed path for each outline of the plan, on its own layer, and the hatch of the joint."""
    curves = detail.curves
    named = (
        ("RECESS", curves.recess),
        ("GLASS", curves.glass),
        ("FRIT_OUTER", curves.frit_outer),
        ("FRIT_INNER", curves.frit_inner),
        ("FRIT_FADE", curves.frit_fade),
        ("BEAD_EDGE", curves.bead_outer),
        ("BEAD_CENTRE", curves.bead_centre),
        ("BEAD_EDGE", curves.bead_inner),
        ("SIGHT_LINE", curves.sight_line),
    )
    marks: list[Mark] = [Path(layer, nodes_of(outline), True) for layer, outline in named if outline is not None]
    if not detail.glass_cuts_recess:
        # Where the glass cuts into the recess there is no joint to hatch all round; the corner detail shows the clash.
        marks.append(Hatch("BACKFILL", "sealant", (nodes_of(curves.recess), nodes_of(curves.glass))))
    return marks


def block_name(kind: str, length: float, width: float) -> str:
    """Name of a block's symbol: kind and size in whole hundredths of a millimetre, so that equal blocks share a symbol."""
    sizes = "x".join(f"{round(value * 100) / 100:g}".replace(".", "_") for value in (length, width))
    return f"{kind.upper().replace(' ', '_')}_{sizes}"


def _block(name: str, length: float, width: float, *, centred: bool) -> Block:
    """A rectangle with one diagonal cross: ``length`` along x, ``width`` up from the origin, or about it where ``centred``."""
    half = length / 2
    low, high = (-width / 2, width / 2) if centred else (-width, 0.0)
    frame = Path("0", ((-half, low, 0.0), (half, low, 0.0), (half, high, 0.0), (-half, high, 0.0)), True)
    tags = (
        ("MARK", "Mark"),
        ("KIND", "Kind"),
        ("SIZE", "Size, mm"),
        ("EDGE", "Edge"),
        ("DISTANCE", "Distance along the edge, mm"),
    )
    return Block(name, (frame, line("0", (-half, low), (half, high)), line("0", (-half, high), (half, low))), tags)


def spacer_symbol(detail: Detail) -> str:
    """Name of the symbol of the spacers."""
    return block_name("spacer", detail.sizes.spacer_length.value, detail.sizes.spacer_width.value)


def chock_symbol(chock: Chock) -> str:
    """Name of the symbol of a chock."""
    return block_name(chock.kind, chock.length, max(chock.height, 0.1))


def blocks_of(detail: Detail) -> tuple[Block, ...]:
    """The symbols of spacers and chocks, each drawn once."""
    found = {
        spacer_symbol(detail): _block(
            spacer_symbol(detail), detail.sizes.spacer_length.value, detail.sizes.spacer_width.value, centred=True
        )
    }
    for chock in detail.chocks:
        found[chock_symbol(chock)] = _block(chock_symbol(chock), chock.length, max(chock.height, 0.1), centred=False)
    return tuple(found[name] for name in sorted(found))


class PlanView:
    """Composes the plan at one scale; ``marks`` is the result."""

    def __init__(self, detail: Detail, pencil: Pencil, *, corner_letter: str | None) -> None:
        self.detail = detail
        self.pencil = pencil
        self.placer = Placer(scale=pencil.scale, clear=0.9)
        self.marks: list[Mark] = outline_marks(detail)
        self.unplaced: list[str] = []
        self.placer.add(self.marks)
        box = bounding_box(detail.curves.recess)
        pane = bounding_box(detail.curves.glass)
        self.left, self.bottom = min(box.left, pane.left), min(box.bottom, pane.bottom)
        self.right, self.top = max(box.right, pane.right), max(box.top, pane.top)
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

    def _name(self, candidates: list[Text], what: str) -> Text | None:
        """Letter the first candidate that is free."""
        text = self.placer.first_free(candidates)
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
        left, bottom, right, top = corner_window(self.detail)
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
        below = self.bottom
        for chock in sill:
            origin = (chock.foot.x - chock.distance, chock.foot.y)
            rows.append(((origin[0], below), (chock.foot.x, below), None, None))
        round_pane = not sharp and detail.chocks and detail.chocks[0].edge == "round"
        marked = "Ø" if round_pane and abs((pane.right - pane.left) - (pane.top - pane.bottom)) < 1e-6 else ""
        rows.append(((pane.left, below), (pane.right, below), marked, tolerance))
        rows.append(((recess.left, below), (recess.right, below), marked, detail.recess_tolerance))
        level = self.bottom - pencil.paper(ROW_BELOW_MARKS)
        dimensions: list[Mark] = []
        for first, second, prefix, deviation in rows:
            dimensions.append(self._size(first, second, level, 0.0, prefix or "", deviation))
            level -= pencil.paper(style.row)
        if not marked:
            at = self.left - pencil.paper(style.first_row)
            side = self.left
            dimensions.append(self._size((side, pane.bottom), (side, pane.top), at, 90.0, "", tolerance))
            dimensions.append(
                self._size(
                    (side, recess.bottom), (side, recess.top), at - pencil.paper(style.row), 90.0, "", detail.recess_tolerance
                )
            )
        self._put(dimensions)

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
        candidates = []
        for more in (1.4, 4.4, 7.4):
            for shift in (0.0, 3.5, -3.5, 6.0, -6.0, 9.0, -9.0):
                spot = polar(at, block.angle + 90.0, reach + depth + pencil.paper(more))
                spot = polar(spot, block.angle, pencil.paper(shift))
                candidates.append(pencil.text("TEXT", spot, mark, align="middle", centred=True))
        text = self.placer.first_free(candidates)
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
            reach = self._inner(corner.theoretical, corner.bisector)
            candidates = [
                pencil.text(
                    "TEXT",
                    polar(corner.theoretical, inward + turn, reach + pencil.paper(more)),
                    f"V{corner.number}",
                    height=height,
                    align="middle",
                    centred=True,
                )
                for more in (3.5, 5.5, 8.0, 11.0, 15.0, 20.0)
                for turn in (0.0, 4.0, -4.0, 8.0, -8.0)
            ]
            self._name(candidates, f"V{corner.number}")

    def _edge_names(self) -> None:
        """e1, e2 ... inside the ring near the middle of each edge."""
        pencil = self.pencil
        for name, place, angle in self.detail.edge_middles:
            inward = Point(*polar((0.0, 0.0), angle + 90.0, 1.0))
            reach = self._inner(place, inward)
            candidates = []
            for more in (4.0, 7.0, 10.0):
                for shift in (6.0, -6.0, 12.0, -12.0, 18.0, -18.0, 0.0):
                    spot = polar(polar(place, angle + 90.0, reach + pencil.paper(more)), angle, pencil.paper(shift))
                    candidates.append(pencil.text("TEXT", spot, name, align="middle", centred=True))
            self._name(candidates, name)

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
        if not self._up_arrow():
            self.unplaced.append("up arrow")

    def _up_arrow(self) -> bool:
        """The arrow that points up the pane (none on a deck light) and, where it is known, the one that points to the bow."""
        found = True
        if not self.detail.deck_light:
            found = self._arrow(90.0, ("UP", "viewed from OUTSIDE"), ("UP",))
        else:
            self._arrow(None, ("viewed from OUTSIDE",), ("from OUTSIDE",))
        if self.detail.forward is not None:
            turn = {"right": 0.0, "up": 90.0, "left": 180.0, "down": 270.0}[self.detail.forward]
            if not self._arrow(turn, ("FWD",)):
                self.unplaced.append("forward arrow")
        return found

    def _arrow(self, angle: float | None, *wordings: tuple[str, ...]) -> bool:
        """An arrow in the daylight with words to its right; the fullest wording that finds room. No arrow where angle is None."""
        pencil, centre = self.pencil, self.detail.centroid
        for words, size in [(words, size) for words in wordings for size in (14.0, 8.0)]:
            along = (0.0, 0.0) if angle is None else polar((0.0, 0.0), angle, size)
            left, right = min(0.0, along[0]), max(0.0, along[0])
            low, high = min(0.0, along[1], -2.0 * len(words)), max(0.0, along[1], 2.0 * len(words))
            for dx, dy in _spiral(60):
                x, y = centre.x + pencil.paper(dx), centre.y + pencil.paper(dy)
                texts = [
                    pencil.text(
                        "TEXT",
                        (
                            x + pencil.paper(right + 3.0),
                            y + pencil.paper((low + high) / 2 + 2.3 * (len(words) - 1) - 4.6 * index),
                        ),
                        string,
                        centred=True,
                    )
                    for index, string in enumerate(words)
                ]
                box = (
                    x + pencil.paper(left - 2.0),
                    y + pencil.paper(low - 1.0),
                    max(box_of_text(text, pencil.scale)[2] for text in texts) + pencil.paper(1.0),
                    y + pencil.paper(high + 1.0),
                )
                if self._inside_daylight(box) and self.placer.free(box):
                    tip = (x + pencil.paper(along[0]), y + pencil.paper(along[1]))
                    arrow: list[Mark] = []
                    if angle is not None:
                        arrow = [line("SEEN_OUTLINE", (x, y), tip), pencil.arrow("SEEN_OUTLINE", tip, angle, size=4.0)]
                    self._put([*arrow, *texts])
                    return True
        return False

    def _inside_daylight(self, box: tuple[float, float, float, float]) -> bool:
        from geometry.outline import point_in

        curves = self.detail.curves
        return all(
            point_in(outline, Point(x, y))
            for outline in (curves.sight_line, curves.frit_inner)
            for x in (box[0], box[2])
            for y in (box[1], box[3])
        )


def _spiral(steps: int) -> list[Place]:
    """Places round the origin, nearest first, paper mm: where a free mark may stand."""
    places = [(0.0, 6.0)]
    for ring in range(1, steps // 6 + 1):
        for turn in range(0, 360, 30):
            places.append(polar((0.0, 0.0), 90.0 + turn, 8.0 * ring))
    return places


def _sizes(*values: float) -> str:
    from outputs.sheet.drafting import number

    return " × ".join(number(value) for value in values)


def corner_window(detail: Detail) -> Box:
    """The window of the enlarged corner: along the bisector from the recess to just inside the bead, frit and landing.

    On a long nose, where frit and landing turn far inside, it ends inside the bead.
    """
    worst = detail.worst_corner
    if worst is None:
        raise ValueError("a pane without corners has no corner detail")
    corner, curves = worst.corner, detail.curves

    def reach(outline: Outline) -> float:
        return ray_length(outline, corner.theoretical, corner.bisector) or 0.0

    outer = -max(worst.glass_on_bisector + worst.joint, worst.glass_on_bisector) - 6.0
    inner = reach(curves.bead_inner) + 6.0
    whole = max(reach(curves.sight_line), reach(curves.frit_inner)) + 4.0
    if whole - outer <= 160.0:
        inner = max(inner, whole)
    length = inner - outer
    half_angle = math.radians(corner.interior_angle / 2)
    nose = inner * math.tan(half_angle) + max(worst.joint, 0.0) + 6.0 if half_angle < 1.4 else math.inf
    half = max(12.0, min(0.2 * length + 6.0, nose))
    along, across = corner.bisector, (-corner.bisector.y, corner.bisector.x)
    ends = [
        (
            corner.theoretical.x + at * along.x + side * half * across[0],
            corner.theoretical.y + at * along.y + side * half * across[1],
        )
        for at in (outer, inner)
        for side in (-1.0, 1.0)
    ]
    return min(x for x, _ in ends), min(y for _, y in ends), max(x for x, _ in ends), max(y for _, y in ends)
