"""What stands on a finished sheet, measured on paper: texts as they are turned, strokes, rulings, and the rectangles left empty.

All in paper millimetres from the lower left corner of the sheet, whatever the scale of the view.
"""

from __future__ import annotations

import math
import re
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import shapely

from geometry.detail.block_rows import block_rows
from geometry.outline import Point, nearest_station
from outputs.drawing.plan_sizes import surveyed
from outputs.sheet.boxes import box_of_text, box_round, texts_of
from outputs.sheet.drafting import as_fine_as, number
from outputs.sheet.entities import Dimension, Fill, Insert, Path
from outputs.sheet.keep_clear import facets
from outputs.sheet.lettering import text_box
from outputs.sheet.spaces import placed, spaces

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from geometry.detail.parts import Detail
    from geometry.outline import Station
    from outputs.sheet.entities import Mark, Sheet, Text, View

PAPER = "the paper"
FRAMES = {"SHEET", "VIEWPORTS"}


class Lettered(NamedTuple):
    """A text: the view it stands in, or the paper, itself, and its box as it is turned."""

    view: str
    text: Text
    box: shapely.Polygon


def lettered(sheet: Sheet) -> list[Lettered]:
    """Every text that is printed, those of blocks too."""
    blocks = {block.name: block for block in sheet.blocks}
    found = []
    for space in spaces(sheet):
        inserts = [mark for mark in space.marks if isinstance(mark, Insert)]
        of_blocks = [part for mark in inserts for part in placed(mark, blocks[mark.block]) if not isinstance(part, Path | Fill)]
        texts = [*texts_of(space.marks), *texts_of(of_blocks)]
        found += [
            Lettered(PAPER if space.view is None else space.view.name, text, _polygon(text, space.view, space.scale))
            for text in texts
            if text.string.strip()
        ]
    return found


def _polygon(text: Text, view: View | None, scale: float) -> shapely.Polygon:
    return shapely.Polygon([on_paper(place, view) for place in text_box(text, scale)])


def on_paper(place: tuple[float, float], view: View | None) -> tuple[float, float]:
    """A place of a view, or of the paper itself, on paper."""
    if view is None:
        return place[0], place[1]
    return (
        view.paper[0] + (place[0] - view.window[0]) * view.scale,
        view.paper[1] + (place[1] - view.window[1]) * view.scale,
    )


def strokes(view: View) -> list[tuple[str, shapely.LineString]]:
    """Every stroke of a view with its layer, arcs in pieces of six degrees; fills by their outline, hatch lines not."""
    found = []
    for mark in _parts(view.marks):
        closed = isinstance(mark, Fill) or mark.closed
        for x1, y1, x2, y2 in facets(mark.nodes, closed=closed):
            found.append((mark.layer, shapely.LineString([on_paper((x1, y1), view), on_paper((x2, y2), view)])))
    return found


def _parts(marks: Iterable[Mark]) -> Iterator[Path | Fill]:
    for mark in marks:
        if isinstance(mark, Path | Fill):
            yield mark
        elif isinstance(mark, Dimension):
            yield from _parts(mark.parts)


def text_near_text(sheet: Sheet, least: float) -> list[str]:
    """Pairs of texts of views, and of a view and the paper, that are nearer than ``least``; rows of tables stand closer."""
    texts = lettered(sheet)
    boxes = [each.box for each in texts]
    found = []
    for one, other in zip(*shapely.STRtree(boxes).query(boxes, predicate="dwithin", distance=least), strict=True):
        if one < other and not texts[one].view == texts[other].view == PAPER:
            far = boxes[one].distance(boxes[other])
            a, b = texts[one], texts[other]
            found.append(f"{a.text.string!r} of {a.view} and {b.text.string!r} of {b.view}: {far:.2f} mm")
    return found


def text_near_line(sheet: Sheet, least: float) -> list[str]:
    """Texts of views that a stroke of the same view comes nearer to than ``least``.

    A number in a balloon, a flag or the circle of a revision stands in it.
    """
    found = []
    for view in sheet.views:
        lines = [line for layer, line in strokes(view) if layer != "FLAGS"]
        balloons = [
            shapely.Point(on_paper(((m.nodes[0][0] + m.nodes[1][0]) / 2, m.nodes[0][1]), view))
            for m in view.marks
            if isinstance(m, Path) and m.layer == "ITEM_LEADERS" and m.closed and len(m.nodes) == 2
        ]
        tree = shapely.STRtree(lines)
        for each in lettered(sheet):
            if each.view != view.name or each.text.layer in ("FLAGS", "FLAG_FIGURES"):
                continue
            if any(each.box.contains(centre) for centre in balloons):
                continue
            near = tree.query(each.box, predicate="dwithin", distance=least)
            if len(near):
                far = min(each.box.distance(lines[index]) for index in near)
                found.append(f"{each.text.string!r} of {view.name}: {far:.2f} mm")
    return found


def taken(sheet: Sheet) -> np.ndarray:
    """The paper in squares of a millimetre: where something stands, or outside the frame. A view counts as one with all it surrounds."""
    grid = np.zeros((round(sheet.height), round(sheet.width)), dtype=bool)

    def fill(left: float, bottom: float, right: float, top: float) -> None:
        grid[max(0, int(bottom)) : max(0, math.ceil(top)), max(0, int(left)) : max(0, math.ceil(right))] = True

    for view in sheet.views:
        body = [mark for mark in view.marks if not (getattr(mark, "string", "") and mark.layer == "TEXT")]
        for left, bottom, right, top in (
            box_round(body, view.scale),
            *(box_of_text(text, view.scale) for text in texts_of(view.marks)),
        ):
            fill(*on_paper((left, bottom), view), *on_paper((right, top), view))
    for mark in sheet.marks:
        left, bottom, right, top = box_of_text(mark, 1.0) if getattr(mark, "string", "") else box_round([mark], 1.0)
        if mark.layer not in FRAMES or right - left < sheet.width / 2:
            fill(left, bottom, right, top)
    grid[:10], grid[-10:], grid[:, :20], grid[:, -10:] = True, True, True, True
    return grid


def largest_empty(grid: np.ndarray) -> tuple[int, tuple[int, int, int, int]]:
    """The largest empty rectangle, mm², and its left, bottom, right and top."""
    best, where = 0, (0, 0, 0, 0)
    heights = np.zeros(grid.shape[1], dtype=int)
    for row, full in enumerate(grid):
        heights = np.where(full, 0, heights + 1)
        open_: list[tuple[int, int]] = []
        for column, height in enumerate([*heights.tolist(), 0]):
            start = column
            while open_ and open_[-1][1] >= height:
                start, high = open_.pop()
                if high * (column - start) > best:
                    best, where = high * (column - start), (start, row - high + 1, column, row + 1)
            open_.append((start, height))
    return best, where


def told_distances(detail: Detail, sheet: Sheet) -> dict[str, list[str]]:
    """Of every row of blocks by its edge, the marks whose distance from the row's zero is not on the sheet.

    On the plan a distance is a running dimension that begins at a wall, parallel to the edge, or a figure beside a round edge; else it
    stands in the table or in the notes beside the mark. A row of which the opposite edge has every figure is told there.
    """
    plan = next(view for view in sheet.views if view.name == "PLAN")
    running = [mark for mark in plan.marks if isinstance(mark, Dimension) and re.fullmatch(r"[\d,]+", mark.text)]
    figures = {text.string for text in texts_of(plan.marks) if text.layer == "DIMENSIONS"}
    words = " ".join(text.string for text in texts_of(sheet.marks))
    near = 5.0 if surveyed(detail) else 0.3
    missing: dict[str, list[str]] = {}
    for row in block_rows(detail):
        for entry in row.entries:
            figure = number(math.floor(entry.distance * 2.0 + 0.5 + 1e-9) / 2.0)
            in_words = re.search(rf"\b{entry.mark} {re.escape(figure)}(?![\d,]*\d)", words) is not None
            if row.straight:
                on_plan = any(
                    abs(mark.measured - entry.distance) < near
                    and abs(math.sin(math.radians(mark.angle) - math.atan2(row.direction.y, row.direction.x))) < 1e-3
                    and abs((mark.first[0] - row.zero.x) * row.direction.x + (mark.first[1] - row.zero.y) * row.direction.y)
                    < near
                    for mark in running
                )
            else:
                on_plan = number(round(entry.distance * 2) / 2) in figures or as_fine_as(entry.distance, 1.0) in figures
            if not on_plan and not in_words:
                missing.setdefault(row.edge, []).append(entry.mark)
    return missing


def crossed_dimension_lines(sheet: Sheet, past: float) -> list[str]:
    """Dimension lines that an extension line of another size or row, or a leader, crosses farther than ``past`` (mm) from their ends."""
    found = []
    for view in sheet.views:
        lines, others = _dimension_lines(view)
        tree = shapely.STRtree([line for _, _, line in others])
        for name, level, line in lines:
            if line.length <= 2 * past:
                continue
            inner = shapely.LineString([line.interpolate(past), line.interpolate(line.length - past)])
            for index in tree.query(inner, predicate="crosses"):
                other, own, _ = others[index]
                if own is None or own != level:
                    found.append(f"{view.name}: {other} over the line of {name}")
    return found


def _dimension_lines(
    view: View,
) -> tuple[list[tuple[str, object, shapely.LineString]], list[tuple[str, object, shapely.LineString]]]:
    """Dimension lines with the ray that they lie on; and extension lines, with that of their own, and leaders, with none."""
    lines: list[tuple[str, object, shapely.LineString]] = []
    others: list[tuple[str, object, shapely.LineString]] = []
    for mark in view.marks:
        if isinstance(mark, Dimension):
            turn = math.radians(mark.angle)
            level = (round(mark.angle, 3), round(mark.on_line[1] * math.cos(turn) - mark.on_line[0] * math.sin(turn), 3))
            for part in mark.parts:
                if isinstance(part, Path) and len(part.nodes) == 2 and not part.closed:
                    (x1, y1, _), (x2, y2, _) = part.nodes
                    along = abs((x2 - x1) * math.sin(turn) - (y2 - y1) * math.cos(turn)) < 1e-6 * math.hypot(x2 - x1, y2 - y1)
                    line = shapely.LineString([on_paper((x1, y1), view), on_paper((x2, y2), view)])
                    (lines if along else others).append((mark.text, level, line))
        elif isinstance(mark, Path) and mark.layer == "ITEM_LEADERS" and not mark.closed:
            others += [
                ("a leader", None, shapely.LineString([on_paper(a[:2], view), on_paper(b[:2], view)]))
                for a, b in pairwise(mark.nodes)
            ]
    return lines, others


def run_together(detail: Detail, sheet: Sheet, least: float) -> list[str]:
    """Lines of the plan that may be left out and run beside one that counts for more, nearer than ``least`` on paper."""
    plan = next(view for view in sheet.views if view.name == "PLAN")
    ranks = {"GLASS": 0, "FRIT_INNER": 0, "BEAD_EDGE": 1, "SIGHT_LINE": 2, "FRIT_FADE": 3, "FRIT_OUTER": 4}
    pieces = [(layer, line) for layer, line in strokes(plan) if layer in ranks and line.length > 0.0]
    found = []
    for layer, line in pieces:
        if ranks[layer] == 0:
            continue
        for share in (0.02, 0.25, 0.5, 0.75, 0.98):
            place = line.interpolate(share, normalized=True)
            for other_layer, other in pieces:
                if ranks[other_layer] < ranks[layer] and place.distance(other) < least and _parallel(line, other):
                    found.append(f"{layer} beside {other_layer} at {place.x:.1f}; {place.y:.1f}: {place.distance(other):.2f} mm")
    return found


def _parallel(one: shapely.LineString, other: shapely.LineString) -> bool:
    (a, b), (c, d) = one.coords, other.coords
    across = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0])
    return abs(across) < math.sin(math.radians(8.0)) * one.length * other.length


def cut_stations(detail: Detail, sheet: Sheet) -> dict[str, Station]:
    """Where each section is cut on the edge of the glass, by its letter: on the line of the wide stroke outside it."""
    plan = next(view for view in sheet.views if view.name == "PLAN")
    ends = [mark for mark in plan.marks if isinstance(mark, Path) and mark.layer == "SECTION_MARKS"]
    letters = [view.name[-1] for view in sheet.views if "SECTION" in view.name]
    outer = ends[::2]
    return {
        letter: nearest_station(detail.curves.glass, Point(*end.nodes[0][:2])) for letter, end in zip(letters, outer, strict=True)
    }


__all__ = [
    "Lettered",
    "crossed_dimension_lines",
    "cut_stations",
    "largest_empty",
    "lettered",
    "on_paper",
    "run_together",
    "strokes",
    "taken",
    "text_near_line",
    "text_near_text",
    "told_distances",
]
