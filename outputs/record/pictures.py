"""Pictures that stand in a page: the plan of a pane to scale, seen from outside, with labels round it.

Terms
-----
frame
    The mapping of the plan (mm, y up) to the picture (paper mm, y down).
picture
    An inline drawing with a title and a description in words for those who cannot see it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.outline import bounding_box
from geometry.outline.loop import Arc, Outline, Point, segments, unit
from outputs.record.markup import Content, Html, tag

if TYPE_CHECKING:
    from collections.abc import Iterator

WIDTH = 180.0  # paper mm, the text of an A4 page
TALLEST = 118.0
BORDER = 21.0  # round the plan, for labels
LETTER = 2.7  # height of the letters on paper, mm


@dataclass(frozen=True, slots=True)
class Frame:
    """``scale`` is paper mm for 1 mm of the plan; ``left`` and ``top`` are the plan's at the inside of the border."""

    left: float
    top: float
    scale: float
    width: float
    height: float

    def at(self, x: float, y: float) -> Point:
        """A place of the plan on the picture."""
        return Point(BORDER + (x - self.left) * self.scale, BORDER + (self.top - y) * self.scale)

    @property
    def ratio(self) -> str:
        """The scale in words, such as ``1:6.8``."""
        ratio = 1.0 / self.scale
        return f"1:{ratio:.1f}" if ratio >= 1 else f"{self.scale:.1f}:1"


def frame_round(outline: Outline) -> Frame:
    """The largest frame in which an outline fits the page."""
    box = bounding_box(outline)
    scale = min((WIDTH - 2 * BORDER) / box.width, (TALLEST - 2 * BORDER) / box.height)
    return Frame(box.left, box.top, scale, WIDTH, box.height * scale + 2 * BORDER)


def mm(value: float) -> str:
    """A length on the paper, to a hundredth.

    >>> mm(12.3456), mm(-0.001), mm(3.0)
    ('12.35', '0', '3')
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def path_of(outline: Outline, frame: Frame) -> str:
    """The run of an outline with true arcs."""
    steps = []
    for index, part in enumerate(segments(outline)):
        if index == 0:
            start = frame.at(*part.start)
            steps.append(f"M{mm(start.x)} {mm(start.y)}")
        pieces: Iterable[tuple[Point, Arc | None]] = ((part.end, None),)
        if isinstance(part, Arc):  # in two halves: no arc then ends where it began
            pieces = ((part.point_at(0.5), part), (part.end, part))
        for end, arc in pieces:
            place = frame.at(*end)
            if arc is None:
                steps.append(f"L{mm(place.x)} {mm(place.y)}")
            else:
                radius = mm(arc.radius * frame.scale)
                steps.append(f"A{radius} {radius} 0 0 {0 if arc.bulge > 0 else 1} {mm(place.x)} {mm(place.y)}")
    return "".join(steps) + "Z"


def curve(
    outline: Outline, frame: Frame, *, width: float = 0.25, stroke: str = "#1a1a1a", fill: str = "none", **more: str
) -> Html:
    """One outline as a line; ``width`` in paper mm."""
    return tag("path", d=path_of(outline, frame), fill=fill, stroke=stroke, stroke_width=width, **more)


def words(text: str, place: Point, *, anchor: str = "middle", size: float = LETTER, bold: bool = False) -> Html:
    """A short text on the picture."""
    return tag(
        "text",
        text,
        x=mm(place.x),
        y=mm(place.y),
        font_size=size,
        text_anchor=anchor,
        font_weight="bold" if bold else None,
        fill="#1a1a1a",
    )


def stroke(start: Point, end: Point, *, width: float = 0.18, colour: str = "#1a1a1a", dash: str | None = None) -> Html:
    """A straight line on the picture."""
    return tag(
        "line",
        x1=mm(start.x),
        y1=mm(start.y),
        x2=mm(end.x),
        y2=mm(end.y),
        stroke=colour,
        stroke_width=width,
        stroke_dasharray=dash,
    )


def arrow(start: Point, end: Point, *, width: float = 0.3, head: float = 1.6) -> Html:
    """A line with a filled head at its end; shorter than its head it is a dot."""
    length = math.dist(start, end)
    if length < 0.2:
        return tag("circle", cx=mm(end.x), cy=mm(end.y), r=0.3, fill="#1a1a1a")
    along = unit(end.x - start.x, end.y - start.y)
    size = min(head, length)
    foot = Point(end.x - along.x * size, end.y - along.y * size)
    half = size * 0.3
    head_path = (
        f"M{mm(end.x)} {mm(end.y)}L{mm(foot.x - along.y * half)} {mm(foot.y + along.x * half)}"
        f"L{mm(foot.x + along.y * half)} {mm(foot.y - along.x * half)}Z"
    )
    return tag("g", stroke_line(start, foot, width), tag("path", d=head_path, fill="#1a1a1a"))


def stroke_line(start: Point, end: Point, width: float) -> Html:
    """A plain black line."""
    return stroke(start, end, width=width)


def outside_of(point: Point, before: Point, after: Point, frame: Frame, *, away: float) -> tuple[Point, str]:
    """A place for a label ``away`` paper mm outside a closed line at ``point``, and how its text is anchored there."""
    along = unit(after.x - before.x, after.y - before.y)
    normal = Point(along.y, -along.x)
    foot = frame.at(*point)
    place = Point(foot.x + normal.x * away, foot.y - normal.y * away)
    anchor = "start" if normal.x > 0.5 else "end" if normal.x < -0.5 else "middle"
    return Point(place.x, place.y + LETTER * (0.36 + 0.36 * -normal.y)), anchor


def spread(places: Sequence[Point], frame: Frame, *, apart: float) -> Iterator[int]:
    """Numbers of the places round a closed line that lie ``apart`` paper mm from one another along it, the first included."""
    if not places:
        return
    steps = [math.dist(a, b) * frame.scale for a, b in zip(places, (*places[1:], places[0]), strict=True)]
    total = math.fsum(steps)
    wanted = max(1, math.floor(total / apart))
    along, number = 0.0, 0
    for index, step in enumerate(steps):
        if along >= number * total / wanted - 1e-9 and number < wanted:
            yield index
            number += 1
        along += step


def picture(name: str, title: str, description: str, *content: Content, width: float, height: float) -> Html:
    """An inline drawing; ``name`` makes its marks unique on the page."""
    return tag(
        "svg",
        tag("title", title, id=f"{name}-title"),
        tag("desc", description, id=f"{name}-description"),
        *content,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {mm(width)} {mm(height)}",
        width=f"{mm(width)}mm",
        height=f"{mm(height)}mm",
        role="img",
        aria_labelledby=f"{name}-title {name}-description",
        font_family="Roboto, Arial, Liberation Sans, DejaVu Sans, sans-serif",
    )
