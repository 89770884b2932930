"""A pane with its parts pulled apart along its normal, seen from outside, above and to the right: strokes, tones and trace lines.

The axonometric representation is the isometric one of ISO 5456-3: the three axes stand 120° apart and are drawn at one scale, at which
sizes along them are true. Gaps between the parts are no sizes.

Terms
-----
tone
    Faces by the light that falls on them from above and outside: what looks up is bright, what looks outboard less, what looks aside
    least. The bead is darker than the rest, as it is; the print is seen through the pane.
outline, edge
    Strokes along which a part ends on the picture are wide, those between two of its faces narrow.
trace line
    Along the normal, from a part to the next one: they lie over one another there.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from geometry.outline import Point
from geometry.outline.loop import segment_between
from geometry.solids.areas import area_of, common, polygons_of, together
from outputs.drawing.exploded_parts import anchors, lifts
from outputs.sheet.entities import Fill, Hatch, Layer, Path
from outputs.sheet.layers import CONTINUOUS
from outputs.sheet.runs import line

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.detail.parts import Detail
    from geometry.outline.loop import Segment
    from geometry.solids.kernel import Shape
    from geometry.solids.seen import Sight, Stroke
    from geometry.solids.seen_faces import Region
    from outputs.drawing.exploded_parts import Part, Piece
    from outputs.sheet.entities import Mark, Node, Place

ON_PAPER = 0.01
"""Paper mm that an arc may lie from the true curve."""
LAMP, STEPS_OF_LIGHT = (0.2, 0.85, 0.4873), (0.7, 0.4)
PLAIN, DARK = ("", "SHADE_LIGHT", "SHADE_MIDDLE"), ("SHADE_BEAD_BRIGHT", "SHADE_BEAD_LIGHT", "SHADE_BEAD_DARK")
PRINT, FINE, EDGE, OUTLINE, TRACE = "SHADE_PRINT", "SOLID_FINE", "SOLID_EDGE", "SOLID_OUTLINE", "TRACE_LINES"
TINTS: tuple[Layer, ...] = (
    Layer("SHADE_LIGHT", 0.13, CONTINUOUS, 254, "faces that look outboard, shaded", ink="#e6e6e6"),
    Layer("SHADE_MIDDLE", 0.13, CONTINUOUS, 253, "faces that look aside, shaded", ink="#c6c6c6"),
    Layer("SHADE_PRINT", 0.13, CONTINUOUS, 252, "print seen through the pane, shaded", ink="#b2b2b2"),
    Layer("SHADE_BEAD_BRIGHT", 0.13, CONTINUOUS, 252, "faces of the bead that look up, shaded", ink="#a8a8a8"),
    Layer("SHADE_BEAD_LIGHT", 0.13, CONTINUOUS, 251, "faces of the bead that look outboard, shaded", ink="#8c8c8c"),
    Layer("SHADE_BEAD_DARK", 0.13, CONTINUOUS, 251, "faces of the bead that look aside, shaded", ink="#6e6e6e"),
)
LINES: tuple[Layer, ...] = (
    Layer("SOLID_FINE", 0.13, CONTINUOUS, 8, "visible edges of bodies that are shown small"),
    Layer("SOLID_EDGE", 0.25, CONTINUOUS, 8, "visible edges of bodies, and outlines of those that are shown small"),
    Layer("SOLID_OUTLINE", 0.50, CONTINUOUS, 7, "visible outlines of bodies"),
    Layer("TRACE_LINES", 0.25, "LONG_DASH_DOT_025", 8, "along which parts are pulled apart"),
)
LOOKS, HALVINGS = 12, 30  # places of a segment at which it is looked whether it is in a window, and how closely its edge is found
EDGE_OF_WINDOW = 1e-3  # mm over the edge of a window that are in it yet
BESIDE = 0.05  # paper mm beside a stroke at which it is looked whether its part goes on
CLOSE = 3.0  # paper mm beside another trace line, within which that of a block is left out
LEAST_TRACE = 1.0  # paper mm of a trace line that is worth drawing


@dataclass(frozen=True, eq=False)
class ExplodedView:
    """The parts of a pane pulled apart at a scale; ``reach`` is how far the last one lies off the frame, paper mm.

    Coordinates of marks are mm of the picture, at which sizes along the axes are true.
    """

    detail: Detail
    parts: Sequence[Part]  # the frame first
    piece: Piece | None  # that is shown; None: the whole pane
    scale: float
    reach: float
    large: bool = True  # outlines wide; where the whole is shown small, all is narrower

    @cached_property
    def _lifts(self) -> dict[int, float]:
        whole = self.piece is None
        return {level: lift * self.reach / self.scale for level, lift in lifts(self.parts, whole=whole).items()}

    @cached_property
    def _shapes(self) -> list[Shape]:
        from geometry.solids.seen import pulled

        return [pulled(part.shape, (0.0, 0.0, self._lifts[part.level])) for part in self.parts]

    @cached_property
    def _sight(self) -> Sight:
        from geometry.solids.seen import isometric

        return isometric()

    @cached_property
    def _through(self) -> tuple[list[int], list[int]]:
        """The parts that are seen as they are, and those by which the print is seen through the pane."""
        every = range(len(self.parts))
        opaque = [number for number in every if self.parts[number].material != "frit"]
        before = min((self.parts[number].level for number in every if self.parts[number].material == "frit"), default=0)
        nearer = [number for number in every if self.parts[number].level >= before]
        return opaque, [number for number in nearer if self.parts[number].material not in ("glass", "interlayer")]

    @cached_property
    def strokes(self) -> tuple[tuple[Stroke, ...], ...]:
        """The visible strokes of each part, mm of the kernel's picture."""
        from geometry.solids.seen import strokes_seen

        within = ON_PAPER / self.scale * self._times
        opaque, through = self._through
        found: dict[int, tuple[Stroke, ...]] = {}
        for numbers, wanted in ((opaque, opaque), (through, [each for each in through if each not in opaque])):
            if wanted:
                seen = strokes_seen([self._shapes[number] for number in numbers], self._sight, within=within)
                found |= {number: each for number, each in zip(numbers, seen, strict=True) if number in wanted}
        return tuple(found[number] for number in range(len(self.parts)))

    @cached_property
    def regions(self) -> tuple[tuple[Region, ...], ...]:
        """The visible regions of each part, mm of the kernel's picture."""
        from geometry.solids.seen_faces import Lamp, regions_seen

        lamp, within = Lamp(LAMP, STEPS_OF_LIGHT), ON_PAPER / self.scale * self._times
        opaque, through = self._through
        found: dict[int, tuple[Region, ...]] = {}
        for numbers, wanted in ((opaque, opaque), (through, [each for each in through if each not in opaque])):
            if wanted:
                seen = regions_seen([self._shapes[number] for number in numbers], self._sight, lamp, within=within)
                found |= {number: each for number, each in zip(numbers, seen, strict=True) if number in wanted}
        return tuple(found[number] for number in range(len(self.parts)))

    @property
    def _times(self) -> float:
        from geometry.solids.seen import FORESHORTENED

        return FORESHORTENED

    def at(self, place: Point | Place) -> Place:
        """A place of the kernel's picture on this one, where sizes along the axes are true."""
        return place[0] / self._times, place[1] / self._times

    def _run(self, nodes: Sequence[Node]) -> tuple[Node, ...]:
        return tuple((*self.at((x, y)), bulge) for x, y, bulge in nodes)

    @cached_property
    def silhouettes(self) -> tuple[Any, ...]:
        """What each part covers of the picture, as far as it is seen."""
        found = []
        for part, regions in zip(self.parts, self.regions, strict=True):
            whole = together(map(self._area, regions), self._hair / 8)
            found.append(common(whole, self._front_of_glass, self._hair / 8) if part.material == "frit" else whole)
        return tuple(found)

    @property
    def _hair(self) -> float:
        return 2 * ON_PAPER / self.scale

    def marks(self) -> Iterator[Mark]:
        """Tones, trace lines and strokes."""
        yield from self._tones()
        yield from self._lines()
        yield from self.traces

    def _tones(self) -> Iterator[Mark]:
        front = self._front_of_glass
        for part, regions in zip(self.parts, self.regions, strict=True):
            for each in regions:
                if part.material == "frit":
                    yield from _shaded(PRINT, self._clipped(each, front))
                    continue
                layer = (DARK if part.material == "adhesive" else PLAIN)[each.tone]
                if layer:
                    yield from _shaded(layer, [(self._places(each.outer), *map(self._places, each.holes))])

    def _places(self, run: Sequence[Place]) -> tuple[Place, ...]:
        return tuple(map(self.at, run))

    @cached_property
    def _front_of_glass(self) -> Any:
        from geometry.solids.seen_faces import Lamp

        tone = Lamp(LAMP, STEPS_OF_LIGHT).tone(LAMP[2])
        panes = [regions for part, regions in zip(self.parts, self.regions, strict=True) if part.material == "glass"]
        faces = [self._area(each) for regions in panes for each in regions if each.tone == tone]
        return together(faces, self._hair / 8)

    def _area(self, region: Region) -> Any:
        return area_of(self._places(region.outer), map(self._places, region.holes))

    def _clipped(self, region: Region, window: Any) -> list[tuple[tuple[Place, ...], ...]]:
        found = []
        for part in (each.normalize() for each in polygons_of(common(self._area(region), window, self._hair / 8))):
            if part.area > self._hair**2:
                found.append(tuple(tuple(run.coords[:-1]) for run in (part.exterior, *part.interiors)))
        return found

    def _lines(self) -> Iterator[Mark]:
        from shapely import Point as Spot

        beside, front = BESIDE / self.scale, self._front_of_glass
        outline, edge = (OUTLINE, EDGE) if self.large else (EDGE, FINE)
        items: dict[tuple[int, str], Any] = {}  # plies lie on one another: between them there is no outline
        for part, covered in zip(self.parts, self.silhouettes, strict=True):
            key = (part.level, part.item)
            items[key] = covered if key not in items else together((items[key], covered), self._hair / 8)
        for part, strokes in zip(self.parts, self.strokes, strict=True):
            covered = items[part.level, part.item]
            for stroke in strokes:
                nodes = self._run(stroke.nodes)
                if part.material == "frit":
                    yield from (Path(edge, each) for each in _clipped(nodes, front))
                else:
                    yield Path(edge if _within(nodes, covered, beside, Spot) else outline, nodes)

    @cached_property
    def traces(self) -> tuple[Mark, ...]:
        """Trace lines between neighbours, as far as nothing before them hides them."""
        curves = self.detail.curves
        spots = [(spot, *pair) for spot in anchors(curves.bead_centre, self.piece) for pair in self._neighbours(("adhesive",))]
        spots += [(spot, *pair) for spot in anchors(curves.glass, self.piece) for pair in self._neighbours(("backer", "sealant"))]
        marks = [mark for spot, behind, before in spots for mark in self._trace(spot, behind, before)]
        if self.piece is not None:
            aside = [self._aside(spot) for spot, *_ in spots]
            for part in self.parts:
                own = None if part.middle is None else self._aside(part.middle)
                if part.middle is not None and own is not None and all(abs(own - each) > CLOSE / self.scale for each in aside):
                    marks += self._trace(part.middle, self.parts[0], part)
        return tuple(marks)

    def _aside(self, spot: Point) -> float:
        """How far aside the trace line of a spot runs: those at one distance cover one another."""
        x, y = self.at(self._sight.at((spot.x, spot.y, 0.0)))
        along = self.at(self._sight.at((0.0, 0.0, 1.0)))
        return (x * along[1] - y * along[0]) / math.hypot(*along)

    def _neighbours(self, materials: Sequence[str]) -> list[tuple[Part, Part]]:
        """The parts that such materials lie on or before which they lie, each with the next one."""
        of = {part.material: part for part in reversed(self.parts)}
        order = [of[name] for name in ("frame", "adhesive", "glass", "backer", "sealant") if name in of]
        pairs = list(pairwise(order))
        if "adhesive" in materials:
            return [pair for pair in pairs if pair[1].material in ("adhesive", "glass")]
        return [pair for pair in pairs if pair[1].material in materials]

    def _trace(self, spot: Point, behind: Part, before: Part) -> Iterator[Mark]:
        from shapely import LineString

        low = 0.0 if behind.material == "frame" else behind.heights[1]
        high = before.heights[0]
        ends = [
            self.at(self._sight.at((spot.x, spot.y, self._lifts[part.level] + height)))
            for part, height in ((behind, low), (before, high))
        ]
        hides = [each for part, each in zip(self.parts, self.silhouettes, strict=True) if part.level >= before.level]
        run = LineString(ends).difference(together(hides, self._hair / 8))
        for each in getattr(run, "geoms", (run,)):
            if each.length * self.scale >= LEAST_TRACE:
                first, last = each.coords[0], each.coords[-1]
                yield line(TRACE, (first[0], first[1]), (last[0], last[1]))


def _clipped(nodes: Sequence[Node], window: Any) -> Iterator[tuple[Node, ...]]:
    """What of a stroke lies in a window, run by run."""
    from shapely import prepare

    near = window.buffer(EDGE_OF_WINDOW)
    prepare(near)
    run: list[Node] = []
    for (x, y, bulge), (u, w, _) in pairwise(nodes):
        part = segment_between(Point(x, y), Point(u, w), bulge)
        for first, last in _inside(part, near):
            start, end = part.point_at(first), part.point_at(last)
            if run and math.dist(run[-1][:2], start) > EDGE_OF_WINDOW:
                yield tuple(run)
                run = []
            own = math.tan(math.atan(bulge) * (last - first))
            run = [*run[:-1], (start.x, start.y, own), (end.x, end.y, 0.0)]
    if run:
        yield tuple(run)


def _inside(part: Segment, window: Any) -> Iterator[tuple[float, float]]:
    """From where to where a segment lies in a window, as shares of it."""
    from shapely import Point as Spot

    def within(share: float) -> bool:
        return bool(window.contains(Spot(*part.point_at(share))))

    def crossing(one: float, other: float) -> float:
        state = within(one)
        for _ in range(HALVINGS):
            middle = (one + other) / 2
            one, other = (middle, other) if within(middle) == state else (one, middle)
        return (one + other) / 2

    shares = [step / LOOKS for step in range(LOOKS + 1)]
    begins = 0.0 if within(0.0) else None
    for one, other in pairwise(shares):
        if within(one) != within(other):
            at = crossing(one, other)
            if begins is None:
                begins = at
            else:
                yield begins, at
                begins = None
    if begins is not None:
        yield begins, 1.0


def _within(nodes: Sequence[Node], covered: Any, beside: float, spot: Any) -> bool:
    """Whether a part goes on to both sides of a stroke of it."""
    middle = (len(nodes) - 1) // 2
    (x1, y1, bulge), (x2, y2, _) = nodes[middle], nodes[middle + 1]
    long = math.hypot(x2 - x1, y2 - y1)
    if not long:
        return True
    across = ((y1 - y2) / long, (x2 - x1) / long)
    x, y = (x1 + x2) / 2 - bulge * long / 2 * across[0], (y1 + y2) / 2 - bulge * long / 2 * across[1]
    return all(covered.contains(spot(x + side * across[0] * beside, y + side * across[1] * beside)) for side in (1, -1))


def _shaded(layer: str, faces: Sequence[tuple[tuple[Place, ...], ...]]) -> Iterator[Mark]:
    for outer, *holes in faces:
        runs = tuple(tuple((x, y, 0.0) for x, y in run) for run in (outer, *holes))
        yield Hatch(layer, "shade", runs) if holes else Fill(layer, runs[0])


__all__ = ["LINES", "TINTS", "ExplodedView"]
