"""An enlarged place of the plan at a block in the joint: the block to its true shape, the spacers beside it, and the lines it stands by.

Terms
-----
block
    A setting or location chock; on a round edge it is straight all the same, and what the curve leaves of the joint is seen.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline import Corner, Point, nearest_station, ray_length
from geometry.outline.clip import clip_path, clip_region
from outputs.drawing.corner_view import AIR, BESIDE, CornerWindow, corner_marks
from outputs.sheet.drafting import ASIDE, OVER
from outputs.sheet.entities import Fill, Mark, Path
from outputs.sheet.runs import run

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from geometry.detail.parts import Chock, Detail, Section
    from geometry.outline import Outline
    from outputs.sheet.entities import Node, Place
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.pencil import Pencil

SCALES = (1.0, 0.5, 0.2, 0.1)
LEVELS = 9.0  # paper mm from the first name to the upper edge of the window, at least, and from name to name
SHIFTS = (0.3, 0.2, 0.4, 0.1, 0.0, -0.1, -0.2)  # of the window, sideways from the middle of the block to the tips of the leaders


def block_to_show(detail: Detail, sections: Iterable[Section]) -> Chock | None:
    """The block that lies farthest from every place that is cut; of several the first by its mark. None where there is none."""
    cut = [section.station.point for section in sections]
    return max(
        sorted(detail.chocks, key=lambda each: each.mark),
        key=lambda each: round(min((math.dist(each.foot, place) for place in cut), default=0.0)),
        default=None,
    )


def corner_at(detail: Detail, block: Chock) -> Corner:
    """The place of a block as a corner that is no corner: straight, looked at along the normal of the edge."""
    station = nearest_station(detail.curves.glass, block.foot)
    inward = Point(-station.outward.x, -station.outward.y)
    return Corner(0, station.point, 180.0 - 1e-9, 0.0, station.point, station.point, inward)


def block_window(detail: Detail, block: Chock, side: float) -> CornerWindow:
    """The window round a block at the largest scale at which a square of ``side`` paper mm shows all from recess to frit and landing."""
    corner, curves = corner_at(detail, block), detail.curves
    way, foot = corner.bisector, corner.theoretical
    back = Point(-way.x, -way.y)
    deep = max(ray_length(outline, foot, way) or 0.0 for outline in (curves.frit_inner, curves.bead_inner, curves.sight_line))
    out = ray_length(curves.recess, foot, back) or 0.0
    scale = next((each for each in SCALES if (deep + out) * each + 2 * AIR <= side), SCALES[-1])
    half, middle = side / scale / 2, (deep - out) / 2
    x, y = foot.x + middle * way.x, foot.y + middle * way.y
    return CornerWindow(corner, (x - half, y - half, x + half, y + half), scale)


def block_marks(detail: Detail, shown: CornerWindow, block: Chock, pencil: Pencil, room: KeepClear) -> list[Mark]:
    """The lines of the place in their window, the blocks among them, and their names beside it."""
    symbols: list[Mark] = []
    for loop in clip_region(_standing(block), window=shown.box):
        symbols += [Fill("MATERIAL_CHOCK", loop), Path("DETAIL", loop, True)]
    sizes = detail.sizes
    long, wide = sizes.spacer_length.value, sizes.spacer_width.value
    for spacer in detail.spacers:
        nodes = _turned(spacer.centre, spacer.angle, long, -wide / 2, wide)
        symbols += [Path("DETAIL", piece, closed) for piece, closed in clip_path(nodes, closed=True, window=shown.box)]
    marks = corner_marks(detail, shown, pencil, room, named=False, beyond=symbols)
    return marks + _names(detail, shown, block, pencil, room)


def _standing(block: Chock) -> tuple[Node, ...]:
    return _turned(block.foot, block.angle, block.length, -block.height, block.height)


def _turned(at: Point, angle: float, long: float, low: float, high: float) -> tuple[Node, ...]:
    """A rectangle about a place, from ``low`` to ``low + high`` across the direction ``angle``, degrees."""
    turn = math.radians(angle)
    c, s = math.cos(turn), math.sin(turn)
    ends = ((-long / 2, low), (long / 2, low), (long / 2, low + high), (-long / 2, low + high))
    return tuple((at.x + x * c - y * s, at.y + x * s + y * c, 0.0) for x, y in ends)


def _names(detail: Detail, shown: CornerWindow, block: Chock, pencil: Pencil, room: KeepClear) -> list[Mark]:
    """Block, recess wall, glass, bead and frit at the ends of leaders that do not cross; none where they find no such places."""
    for shift in SHIFTS:
        drawn = list(_named(detail, shown, block, pencil, shift))
        kept: list[Mark] = []
        trial = room.copy()
        for leader, marks in drawn:
            if not trial.leads(leader):
                break
            trial.lead(leader)
            kept += marks
        else:
            for leader, _ in drawn:
                room.lead(leader)
            room.add(kept)
            room.drawn(f"names beside {block.mark}")
            return kept
    room.tabled(f"names beside {block.mark}", "their leaders would cross")
    return []


def _named(detail: Detail, shown: CornerWindow, block: Chock, pencil: Pencil, shift: float) -> Iterator[tuple[Path, list[Mark]]]:
    curves, window = detail.curves, shown.box
    inward = shown.corner.bisector
    sideways = Point(-inward.y, inward.x) if inward.y < 0 else Point(inward.y, -inward.x)  # to the right, or downwards
    far = shift * (window[2] - window[0])
    start = Point(shown.corner.theoretical.x + far * sideways.x, shown.corner.theoretical.y + far * sideways.y)

    def on(outline: Outline, way: Point) -> Place:
        reach = ray_length(outline, start, way) or 0.0
        return start.x + reach * way.x, start.y + reach * way.y

    back = Point(-inward.x, -inward.y)
    half = block.height / 2
    foot = (block.foot.x - half * inward.x, block.foot.y - half * inward.y)
    tips = [
        (on(curves.recess, back), "recess wall"),
        (foot, f"{block.mark}, {block.kind}"),
        (on(curves.bead_centre, inward), "bead, centre"),
        (on(curves.frit_inner, inward), "frit, inner edge"),
    ]
    tips = [each for each in tips if window[0] < each[0][0] < window[2] and window[1] < each[0][1] < window[3]]
    tips.sort(key=lambda each: (-each[0][1], each[0][0]))
    times = pencil.style.text / 2.5
    first = window[2] + pencil.paper(BESIDE * times)
    top, low = window[3] - pencil.paper(LEVELS * times), window[1] + pencil.paper(LEVELS * times)
    step = min(pencil.paper(LEVELS * 1.4 * times), (top - low) / max(1, len(tips) - 1))
    middle = math.fsum(each[0][1] for each in tips) / max(1, len(tips)) + step * (len(tips) - 1) / 2
    level = max(low + step * (len(tips) - 1), min(top, middle))
    for tip, words in tips:
        at = (first + pencil.paper(ASIDE * times), level + pencil.paper(OVER * times))
        leader = run("ITEM_LEADERS", (tip, (first, level), (at[0] + pencil.width(words), level)))
        heading = math.degrees(math.atan2(tip[1] - level, tip[0] - first))
        yield leader, [leader, pencil.arrow("ITEM_LEADERS", tip, heading), pencil.text("TEXT", at, words)]
        level -= step


__all__ = ["block_marks", "block_to_show", "block_window", "corner_at"]
