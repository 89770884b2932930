"""An enlarged corner of the plan in a square window: its lines, and their radii at the ends of leaders beside it.

Terms
-----
window
    The square of the plan that is shown: the recess with some air outside, the inner edge of frit and landing inside.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.outline import Outline, Point, nearest_station, ray_length
from geometry.outline.clip import clip_path, clip_region
from outputs.drawing.flags import placed_flags
from outputs.drawing.plan_outlines import NEAREST, nodes_of
from outputs.sheet.drafting import ASIDE, OVER, number
from outputs.sheet.entities import Hatch, Mark, Path
from outputs.sheet.runs import box as frame
from outputs.sheet.runs import polar, run

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.detail.parts import Curves, Detail
    from geometry.outline import Corner
    from outputs.drawing.flags import Flagged
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Place
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.pencil import Pencil

AIR = 4.0  # paper mm outside the recess and inside the frit
SCALES = (2.0, 1.0, 0.5, 0.2, 0.1)
BESIDE = 5.0  # paper mm from the window to the names
OFF_NEXT = 2.5  # paper mm between the names and the next window, at least
SHELVES = (11.0, 21.5, 32.0, 53.0)  # paper mm from the top of the window of 65 mm to the shelf of each name
NEAR_SHARP = 12.0  # mm; a sharp corner that lies farther out than this is not shown
SPLAY = (17.0, 6.0, -6.0, -17.0)  # degrees from the bisector, where the leaders of the names end
SHARES = (1.0, 0.75, 0.5, 0.25, 0.0)  # of that splay: a leader with a radius ends on the arc, however short
PAST_TIP = 1.4  # paper mm beyond the tip of a leader that no other one runs through
STRAIGHT = 1e-9


@dataclass(frozen=True, slots=True)
class CornerWindow:
    """The window of one corner at a scale, mm of the plan."""

    corner: Corner
    box: Box
    scale: float


def corner_window(detail: Detail, corner: Corner, side: float) -> CornerWindow:
    """The window at the largest scale at which a square of ``side`` paper mm shows the corner."""
    curves = detail.curves
    inner = max(
        ray_length(outline, corner.theoretical, corner.bisector) or 0.0 for outline in (curves.frit_inner, curves.bead_inner)
    )
    back = Point(-corner.bisector.x, -corner.bisector.y)
    deep = _at(corner.theoretical, corner.bisector, inner)
    outer = max(ray_length(outline, deep, back) or inner for outline in (curves.recess, curves.glass)) - inner
    joint = detail.sizes.joint_width.value
    sharp = max(outer, joint / max(math.sin(math.radians(corner.interior_angle / 2)), 0.2)) if corner.convex else outer
    needed = [deep, _at(corner.theoretical, back, sharp if sharp - outer < NEAR_SHARP else outer)]
    if not corner.convex:
        needed += _beside(curves, corner)
    left, right = min(p.x for p in needed), max(p.x for p in needed)
    low, high = min(p.y for p in needed), max(p.y for p in needed)
    scale = next((s for s in SCALES if max(right - left, high - low) + 2 * AIR / s <= side / s), SCALES[-1])
    scale = min(scale, 1.0)
    whole, air = side / scale, AIR / scale
    side_in = 1.0 if corner.convex else -1.0  # the legs of a re-entrant corner run outwards
    x = _from(left, right, side_in * corner.bisector.x, whole, air)
    y = _from(low, high, side_in * corner.bisector.y, whole, air)
    return CornerWindow(corner, (x, y, x + whole, y + whole), scale)


def _beside(curves: Curves, corner: Corner) -> Iterator[Point]:
    """Where frit and bead end square to both legs of a re-entrant corner: there they reach farther than in its middle."""
    middle = math.degrees(math.atan2(corner.bisector.y, corner.bisector.x))
    for turn in (corner.interior_angle / 2 - 90.0, 90.0 - corner.interior_angle / 2):
        way = Point(*polar((0.0, 0.0), middle + turn, 1.0))
        far = max(ray_length(outline, corner.theoretical, way) or 0.0 for outline in (curves.frit_inner, curves.bead_inner))
        yield _at(corner.theoretical, way, far)


def _from(low: float, high: float, inward: float, whole: float, air: float) -> float:
    """Where the window begins: some air outside the corner, what is left over goes where its legs run."""
    if inward > 0.25:
        return low - air
    if inward < -0.25:
        return high + air - whole
    return (low + high - whole) / 2


def _at(place: Point, way: Point, far: float) -> Point:
    return Point(place.x + far * way.x, place.y + far * way.y)


def corner_marks(
    detail: Detail,
    shown: CornerWindow,
    pencil: Pencil,
    room: KeepClear,
    *,
    named: bool,
    beyond: Sequence[Mark] = (),
    beside: float = math.inf,
) -> list[Mark]:
    """The lines of the corner in their window, with what reaches over them; with ``named`` their radii beside it.

    ``beside`` is how far it is to the next window, paper mm.
    """
    curves, window = detail.curves, shown.box
    marks: list[Mark] = []
    tint = tuple(
        loop for outline in (curves.bead_outer, curves.bead_inner) for loop in clip_region(nodes_of(outline), window=window)
    )
    if tint:
        marks.append(Hatch("BEAD_BAND", "band", tint))
    lines: list[tuple[str, Outline | None]] = [
        ("DETAIL", curves.recess),
        ("DETAIL_WIDE", curves.glass),
        ("DETAIL_WIDE", curves.frit_inner),
        ("DETAIL_CHAIN", curves.bead_centre),
        ("DETAIL_DASHED", curves.bead_outer),
        ("DETAIL_DASHED", curves.bead_inner),
        ("DETAIL_PHANTOM", curves.sight_line),
        ("DETAIL_FADE", curves.frit_fade),
    ]
    for layer, outline in lines:
        if outline is None:
            continue
        pieces = [Path(layer, nodes, closed) for nodes, closed in clip_path(nodes_of(outline), closed=True, window=window)]
        if layer not in ("DETAIL_PHANTOM", "DETAIL_FADE") or not _runs_together(pieces, curves, pencil):
            marks += pieces
    marks += beyond
    marks.append(frame("DIMENSIONS", *window))
    room.add(marks)
    if named:
        marks += _names(detail, shown, pencil, room, beside)
    return marks


def _runs_together(pieces: Sequence[Path], curves: Curves, pencil: Pencil) -> bool:
    """Whether a line lies on the inner edge of the frit all through the window, in which it has these pieces."""
    near = pencil.paper(NEAREST)
    places = [Point(x, y) for piece in pieces for x, y, _ in piece.nodes]
    return bool(places) and all(math.dist(nearest_station(curves.frit_inner, p).point, p) < near for p in places)


def radii_of(detail: Detail, corner: Corner) -> tuple[tuple[str, str, Outline], ...]:
    """The lines that have a name, from the recess inwards: the radius as it is drawn there, what it is of, its outline."""
    curves = detail.curves
    named = (
        ("recess", curves.recess),
        ("glass", curves.glass),
        ("bead, centre", curves.bead_centre),
        ("frit, inner edge", curves.frit_inner),
    )
    return tuple((_radius(outline, corner), name, outline) for name, outline in named)


def _radius(outline: Outline, corner: Corner) -> str:
    """The radius of an outline on the bisector of a corner; no radius where it is sharp or straight there."""
    inside = nearest_station(outline, place_on(outline, corner))
    return "" if abs(inside.curvature) < STRAIGHT else f"R{number(1.0 / abs(inside.curvature), decimals=1)}"


def place_on(outline: Outline, corner: Corner) -> Point:
    """Where an outline meets the bisector of a corner, from inside."""
    deep = _at(corner.theoretical, corner.bisector, 1.0)
    reach = ray_length(outline, deep, corner.bisector)
    back = ray_length(outline, deep, Point(-corner.bisector.x, -corner.bisector.y))
    far = min(
        (each for each in ((reach, 1.0), (back, -1.0)) if each[0] is not None),
        key=lambda each: each[0] or 0.0,
        default=(0.0, 1.0),
    )
    return _at(deep, corner.bisector, (far[0] or 0.0) * far[1])


def _names(detail: Detail, shown: CornerWindow, pencil: Pencil, room: KeepClear, beside: float) -> list[Mark]:
    """The radii, each at the end of a leader to the right of the window, none across another; long ones nearer to it."""
    corner, window = shown.corner, shown.box
    named = radii_of(detail, corner)
    targets = _targets([outline for _, _, outline in named], shown)
    order = sorted(range(len(named)), key=lambda index: -targets[index][1])
    share = (window[3] - window[1]) / 65.0
    marks: list[Mark] = []
    texts = [f"{radius}  {name}" if radius else f"{name}, sharp" for radius, name, _ in named]
    times = pencil.style.text / 2.5
    longest = max(pencil.width(words) for words in texts) + pencil.paper(ASIDE * times)
    start = window[2] + min(pencil.paper(BESIDE), pencil.paper(beside - OFF_NEXT) - longest)
    for index, shelf in zip(order, SHELVES, strict=True):
        words = texts[index]
        level = window[3] - shelf * share
        foot = (start + pencil.paper(ASIDE * times), level + pencil.paper(OVER * times))
        tip = targets[index]
        leader = run("ITEM_LEADERS", (tip, (start, level), (foot[0] + pencil.width(words), level)))
        heading = math.degrees(math.atan2(tip[1] - level, tip[0] - start))
        drawn: list[Mark] = [leader, pencil.arrow("ITEM_LEADERS", tip, heading), pencil.text("TEXT", foot, words)]
        marks += drawn
        room.add(drawn)
        room.lead(run("ITEM_LEADERS", (polar(tip, heading, pencil.paper(PAST_TIP)), *(node[:2] for node in leader.nodes[1:]))))
        room.drawn(f"radius {words}")
    return marks


def _targets(outlines: Sequence[Outline], shown: CornerWindow) -> list[Place]:
    """Where the leaders end: on each line, splayed about the bisector, so that what stands higher is met higher."""
    corner, window = shown.corner, shown.box
    back = math.degrees(math.atan2(-corner.bisector.y, -corner.bisector.x))
    across, up = polar((0.0, 0.0), back, 1.0)
    upward = (across >= 0) is (
        up >= 0
    )  # turning on from the bisector leads what stands higher upwards, what stands lower downwards
    found = []
    for outline, splay in zip(outlines, SPLAY, strict=True):
        place = place_on(outline, corner)
        spots = [_splayed(outline, corner, back + share * (splay if upward else -splay), 25.0 / shown.scale) for share in SHARES]
        spot = next((each for each in spots if _curved(outline, each)), spots[0]) if _curved(outline, place) else spots[0]
        if not _within(spot, window) or math.dist(spot, place) > 30.0 / shown.scale:
            spot = place
        found.append((spot.x, spot.y))
    return found


def _splayed(outline: Outline, corner: Corner, turn: float, deep: float) -> Point:
    """Where an outline is met at ``turn`` degrees, from a point that lies ``deep`` mm inside it on the bisector of a corner."""
    place = place_on(outline, corner)
    centre = _at(place, corner.bisector, deep)
    way = Point(math.cos(math.radians(turn)), math.sin(math.radians(turn)))
    reach = ray_length(outline, centre, way)
    return place if reach is None else _at(centre, way, reach)


def _curved(outline: Outline, place: Point) -> bool:
    return abs(nearest_station(outline, place).curvature) >= STRAIGHT


def _within(place: Point, window: Box) -> bool:
    return window[0] < place.x < window[2] and window[1] < place.y < window[3]


def corner_flags(flags: Sequence[Flagged], shown: CornerWindow, pencil: Pencil, room: KeepClear) -> list[Mark]:
    """Flags of findings of this corner, inside the window, in the daylight where there is room."""
    left, bottom, right, top = shown.box
    step = pencil.paper(3.0)
    columns = int((right - left) / step)
    grid = [(left + step * (i + 0.5), bottom + step * (j + 0.5)) for i in range(columns) for j in range(columns)]
    way = shown.corner.bisector
    inward = sorted(
        (
            spot
            for spot in (grid if flags else ())
            if left + 1.4 * step < spot[0] < right - 1.4 * step and bottom + 1.2 * step < spot[1] < top - 1.6 * step
        ),
        key=lambda spot: (round(-((spot[0] - left) * way.x + (spot[1] - bottom) * way.y) / step), spot),
    )
    wanted = [(flag, _farther(inward, flag.place, pencil.paper(8.0))) for flag in flags]
    return placed_flags(wanted, pencil, room)


def _farther(spots: Sequence[Place], place: Place, least: float) -> Iterator[Place]:
    """The spots that lie farther than this from a place."""
    return (spot for spot in spots if math.dist(spot, place) > least)


def glass_and_recess(detail: Detail, corner: Corner) -> tuple[str, str]:
    """The radii of a corner in glass and recess, as they are printed."""
    recess, glass = (radius or "sharp" for radius, _, _ in radii_of(detail, corner)[:2])
    return glass, recess


__all__ = ["CornerWindow", "corner_flags", "corner_marks", "corner_window", "glass_and_recess", "place_on", "radii_of"]
