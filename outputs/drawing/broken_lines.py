"""Extension lines that end on both sides of a dimension line which they would cross: no dimension line is run through.

Common practice, no source: the line measured on stands whole, the thinner one gives way.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from outputs.sheet.entities import Dimension, Path

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from outputs.sheet.entities import Fill, Mark, Place, Text
    from outputs.sheet.pencil import Pencil

AIR = 0.9  # paper mm from a dimension line to the ends of the extension line that it breaks
AT_END = 0.2  # paper mm; nearer to the end of a dimension line nothing is broken

Level = tuple[float, float]
Line = tuple["Place", "Place"]


def broken(marks: Sequence[Mark], pencil: Pencil) -> list[Mark]:
    """Marks with the extension lines of their dimensions broken where the lines of others run; of one row none breaks another's."""
    lines = [(_level(mark), line) for mark in marks if isinstance(mark, Dimension) for line in dimension_lines(mark)]
    return [_broken(mark, lines, pencil) if isinstance(mark, Dimension) else mark for mark in marks]


def dimension_lines(mark: Dimension) -> Iterator[Line]:
    """The parts of a dimension that lie along it: its line, and the tails of arrows from outside."""
    for part in mark.parts:
        if isinstance(part, Path) and not part.closed and len(part.nodes) == 2 and _along(part, mark):
            (x1, y1, _), (x2, y2, _) = part.nodes
            yield (x1, y1), (x2, y2)


def _level(mark: Dimension) -> Level:
    """The ray that a dimension lies on: its angle, and how far it is from the origin."""
    turn = math.radians(mark.angle)
    return round(mark.angle, 3), round(mark.on_line[1] * math.cos(turn) - mark.on_line[0] * math.sin(turn), 3)


def _along(part: Path, mark: Dimension) -> bool:
    (x1, y1, _), (x2, y2, _) = part.nodes
    turn = math.radians(mark.angle)
    return abs((x2 - x1) * math.sin(turn) - (y2 - y1) * math.cos(turn)) < 1e-6 * math.hypot(x2 - x1, y2 - y1)


def _broken(mark: Dimension, lines: Sequence[tuple[Level, Line]], pencil: Pencil) -> Dimension:
    own = _level(mark)
    others = [line for level, line in lines if level != own]
    parts: list[Path | Fill | Text] = []
    for part in mark.parts:
        if not isinstance(part, Path) or part.closed or len(part.nodes) != 2 or _along(part, mark):
            parts.append(part)
            continue
        start, end = part.nodes[0][:2], part.nodes[1][:2]
        long, air = math.dist(start, end), pencil.paper(AIR)
        meets = sorted(share for line in others if (share := _meets(start, end, line, pencil.paper(AT_END))) is not None)
        begin = 0.0
        for share in [*meets, None]:
            stop = 1.0 if share is None else share - air / long
            if stop - begin > 1e-6:
                ends = tuple((start[0] + s * (end[0] - start[0]), start[1] + s * (end[1] - start[1]), 0.0) for s in (begin, stop))
                parts.append(Path(part.layer, ends))
            begin = begin if share is None else max(begin, share + air / long)
    return replace(mark, parts=tuple(parts)) if len(parts) != len(mark.parts) or parts != list(mark.parts) else mark


def _meets(start: Place, end: Place, line: Line, least: float) -> float | None:
    """At which share of its way from ``start`` to ``end`` a stroke crosses a line; None where it does not, or at the very end of it."""
    (ax, ay), (bx, by) = line
    dx, dy, ex, ey = end[0] - start[0], end[1] - start[1], bx - ax, by - ay
    across = dx * ey - dy * ex
    if abs(across) < 1e-12:
        return None
    share = ((ax - start[0]) * ey - (ay - start[1]) * ex) / across
    on_line = ((ax - start[0]) * dy - (ay - start[1]) * dx) / across * math.hypot(ex, ey)
    return share if 0.0 < share < 1.0 and least < on_line < math.hypot(ex, ey) - least else None


__all__ = ["broken", "dimension_lines"]
