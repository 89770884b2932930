"""How cut materials are hatched, and the hatch lines of one face.

Terms
-----
line family
    Parallel lines at one angle and one spacing, continuous or broken; a pattern is one family or several.
broken line
    Dashes and gaps in turn, first dash first. Each next line may start later along itself (``stagger``), like brickwork.
stroke
    One piece of a hatch line between the boundaries of the face.
even-odd
    A point is inside where a ray from it crosses the boundaries an odd number of times: the outside boundary and its holes.

The standards give no signs for single materials, only the general hatch (ISO 128-3), so every sheet prints a legend. All
sizes are paper mm; lines that stand side by side are never closer than 0.7 mm, the least gap of ISO 128-2. The patterns are
anchored at the origin of the model: the same part has the same hatch in every face.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from math import atan, atan2, ceil, cos, floor, fsum, hypot, pi, radians, sin, sqrt
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from outputs.sheet.entities import Hatch, Node, Place

Segment = tuple["Place", "Place"]


@dataclass(frozen=True, slots=True)
class LineFamily:
    """Parallel lines, paper mm. ``angle`` in degrees, counter-clockwise from the right.

    ``offset`` is how far the first line lies to the left of the origin, ``phase`` where on it the first dash starts;
    ``stagger`` is how much later along itself each next line (one ``spacing`` further left) starts.
    """

    angle: float
    spacing: float
    dashes: tuple[float, ...] = ()
    offset: float = 0.0
    phase: float = 0.0
    stagger: float = 0.0


PATTERNS: dict[str, tuple[LineFamily, ...]] = {
    "frame": (LineFamily(45.0, 3.2),),
    "glass": (  # strokes in threes, long, short, long, each group half a period on from the last
        LineFamily(45.0, 6.0, (6.0, 4.0), 0.0, 0.0, 5.0),
        LineFamily(45.0, 6.0, (3.0, 7.0), 0.9, 1.5, 5.0),
        LineFamily(45.0, 6.0, (6.0, 4.0), 1.8, 0.0, 5.0),
    ),
    "interlayer": (),  # grey of its layer
    "adhesive": (LineFamily(45.0, 1.6), LineFamily(135.0, 1.6)),
    "sealant": (LineFamily(135.0, 1.2),),
    "backer": (LineFamily(0.0, 1.0, (0.7, 1.7), 0.0, 0.0, 1.2),),
    "spacer": (LineFamily(150.0, 1.2),),
    "chock": (),  # dark grey of its layer
    "frit": (),  # too thin for lines: solid
}
"""The line families of each material, paper mm. A material without lines is filled solid."""

REGIONS: dict[str, tuple[LineFamily, ...]] = {
    "shade": (),  # told apart by the ink of its layer
    "band": (),  # the tint of the bead on a plan
    "compression": (LineFamily(45.0, 1.0),),  # over a shade, so that it is told from tension without colour
}
"""How the regions of a diagram, which are no materials, are filled."""

_LEAST = 0.01  # paper mm: a shorter stroke would print as nothing


class PatternError(ValueError):
    """A hatch asks for a material that has no pattern."""


def is_solid(material: str) -> bool:
    """Tell whether the material is filled solid. Raises :class:`PatternError`."""
    return not _pattern(material)


def _pattern(material: str) -> tuple[LineFamily, ...]:
    if material in REGIONS:
        return REGIONS[material]
    if material not in PATTERNS:
        raise PatternError(f"there is no hatch for the material {material!r}; there is one for {', '.join(PATTERNS)}")
    return PATTERNS[material]


def families_for(hatch: Hatch, scale: float) -> tuple[LineFamily, ...]:
    """Line families, paper mm, that hatch this face at ``scale`` (paper / model).

    They are the material's own, unless the face is so small that none of their lines shows: then the first family is moved
    so that one stroke crosses the middle of the face. Both writers hatch with these, so they draw the same lines.
    """
    return _hatched(hatch, scale)[0]


def hatch_segments(hatch: Hatch, scale: float) -> list[Segment]:
    """Strokes of a hatch, model mm, clipped at the true lines and arcs of its boundaries (even-odd).

    ``scale`` is paper / model: a pattern keeps its size on paper. Strokes come family by family, line by line, each from its
    lower end along the family's angle. A solid material has none. Raises :class:`PatternError`.
    """
    return [((x1, y1), (x2, y2)) for x1, y1, x2, y2 in hatch_lines(hatch, scale).T.tolist()]


def hatch_lines(hatch: Hatch, scale: float) -> NDArray[np.float64]:
    """The strokes of :func:`hatch_segments` in four rows: x and y of their starts and of their ends."""
    return _hatched(hatch, scale)[1]


@lru_cache(maxsize=256)  # each writer asks for the faces of a sheet in its turn
def _hatched(hatch: Hatch, scale: float) -> tuple[tuple[LineFamily, ...], NDArray[np.float64]]:
    families = _pattern(hatch.material)
    strokes = [stroke for family in families for stroke in _strokes(hatch.boundaries, family, scale)]
    for share in (0.5, 0.25, 0.75) if families else ():
        if strokes:
            break
        moved = _moved_into(hatch.boundaries, _pattern(hatch.material)[0], scale, share)
        if moved is not None:
            strokes = _strokes(hatch.boundaries, moved, scale)
            families = (moved,) if strokes else families
    left, right, along, across, height = np.array(strokes).reshape(-1, 5).T
    aside, up = height * across, height * along
    return families, np.array((left * along - aside, left * across + up, right * along - aside, right * across + up)) / scale


def _strokes(
    boundaries: Sequence[Sequence[Node]], family: LineFamily, scale: float
) -> list[tuple[float, float, float, float, float]]:
    """Strokes of one family, paper mm: left and right end along its lines, cosine and sine of their angle, and how far off they lie."""
    along, across = cos(radians(family.angle)), sin(radians(family.angle))
    rows: dict[int, list[float]] = {}
    for piece in _pieces(boundaries, along, across, scale):
        _cross(piece, family, rows)
    strokes: list[tuple[float, float, float, float, float]] = []
    period = fsum(family.dashes)
    for row in sorted(rows):
        height = family.offset + row * family.spacing
        crossings = rows[row]
        crossings.sort()
        runs: Iterable[tuple[float, float]] = zip(crossings[::2], crossings[1::2], strict=True)
        if period:
            runs = _dashed(runs, family.dashes, period, family.phase + row * family.stagger)
        strokes += [(left, right, along, across, height) for left, right in runs if right - left > _LEAST]
    return strokes


class _Piece(NamedTuple):
    """Part of a boundary that only rises or only falls, in the family's own axes, paper mm.

    A line from (u0, v0) to (u1, v1), or, where ``radius`` is not 0, an arc round (centre_u, centre_v) on its ``side``:
    +1 to the right of the centre, -1 to the left.
    """

    u0: float
    v0: float
    u1: float
    v1: float
    centre_u: float = 0.0
    centre_v: float = 0.0
    radius: float = 0.0
    side: int = 0


def _pieces(boundaries: Sequence[Sequence[Node]], along: float, across: float, scale: float) -> list[_Piece]:
    """Cut the boundaries at the highest and lowest points of their arcs."""
    pieces: list[_Piece] = []
    for nodes in boundaries:
        turned = [((x * along + y * across) * scale, (y * along - x * across) * scale, bulge) for x, y, bulge in nodes]
        for (u0, v0, bulge), (u1, v1, _) in zip(turned, [*turned[1:], *turned[:1]], strict=True):
            if abs(bulge) < 1e-12:
                pieces.append(_Piece(u0, v0, u1, v1))
            else:
                pieces.extend(_arc_pieces(u0, v0, u1, v1, bulge))
    return pieces


def _arc_pieces(u0: float, v0: float, u1: float, v1: float, bulge: float) -> list[_Piece]:
    """Cut an arc where it turns over, so that each piece rises or falls throughout."""
    chord_u, chord_v = u1 - u0, v1 - v0
    lift = (1.0 - bulge * bulge) / (4.0 * bulge)  # of the centre, to the left of the chord, in chord lengths
    centre_u, centre_v = (u0 + u1) / 2.0 - chord_v * lift, (v0 + v1) / 2.0 + chord_u * lift
    radius = hypot(chord_u, chord_v) * (1.0 + bulge * bulge) / (4.0 * abs(bulge))
    if radius == 0.0:
        return []
    turns: list[tuple[float, float, float]] = []  # how far round the arc, and where
    for sign in (1.0, -1.0):
        top_u, top_v = centre_u, centre_v + sign * radius
        share = _share(u0 - centre_u, v0 - centre_v, 0.0, sign * radius, bulge)
        if share is not None:
            turns.append((share, top_u, top_v))
    stops = [(u0, v0), *((u, v) for _, u, v in sorted(turns)), (u1, v1)]
    pieces = []
    for (a_u, a_v), (b_u, b_v) in pairwise(stops):
        # rising on the right or falling on the left when it turns left, and the other way round
        side = (1 if b_v > a_v else -1) * (1 if bulge > 0.0 else -1)
        pieces.append(_Piece(a_u, a_v, b_u, b_v, centre_u, centre_v, radius, side))
    return pieces


def _share(from_u: float, from_v: float, to_u: float, to_v: float, bulge: float) -> float | None:
    """Angle from one radius to another in the arc's own direction, or None where that is outside its sweep (radians)."""
    turn = atan2(from_u * to_v - from_v * to_u, from_u * to_u + from_v * to_v)
    if bulge < 0.0:
        turn = -turn
    if turn < 0.0:
        turn += 2.0 * pi
    return turn if 1e-12 < turn < 4.0 * atan(abs(bulge)) - 1e-12 else None


def _cross(piece: _Piece, family: LineFamily, rows: dict[int, list[float]]) -> None:
    """Add where the family's lines cross a piece. The lower end belongs to it and the upper does not: corners count once."""
    u0, v0, run, rise = piece.u0, piece.v0, piece.u1 - piece.u0, piece.v1 - piece.v0
    low, high = (v0, piece.v1) if v0 < piece.v1 else (piece.v1, v0)
    offset, spacing, radius = family.offset, family.spacing, piece.radius
    for row in range(ceil((low - offset) / spacing) - 1, floor((high - offset) / spacing) + 2):
        height = offset + row * spacing
        if not low <= height < high:
            continue
        if radius:
            over = height - piece.centre_v
            u = piece.centre_u + piece.side * sqrt(max(0.0, radius * radius - over * over))
        else:
            u = u0 + run * (height - v0) / rise
        if row in rows:
            rows[row].append(u)
        else:
            rows[row] = [u]


def _dashed(
    runs: Iterable[tuple[float, float]], lengths: tuple[float, ...], period: float, origin: float
) -> list[tuple[float, float]]:
    """Cut the runs of one line into its dashes; one begins at the origin."""
    dashes: list[tuple[float, float]] = []
    for start, end in runs:
        turn = floor((start - origin) / period)
        at = origin + turn * period
        while at < end:
            drawn = True
            for length in lengths:
                last = at + length
                if drawn and at < end and last > start:
                    dashes.append((at if at > start else start, last if last < end else end))
                at, drawn = last, not drawn
            turn += 1
            at = origin + turn * period
    return dashes


def _moved_into(boundaries: Sequence[Sequence[Node]], family: LineFamily, scale: float, share: float) -> LineFamily | None:
    """Move a family so that one of its lines crosses the face at ``share`` of its height and a dash starts at the edge."""
    along, across = cos(radians(family.angle)), sin(radians(family.angle))
    pieces = _pieces(boundaries, along, across, scale)
    levels = [level for piece in pieces for level in (piece.v0, piece.v1)]
    if not levels or max(levels) - min(levels) <= 0.0:
        return None
    height = min(levels) + share * (max(levels) - min(levels))
    # exactly one line: the spacing is widened past the face
    moved = replace(family, offset=height, stagger=0.0, spacing=max(family.spacing, 2.0 * (max(levels) - min(levels))))
    rows: dict[int, list[float]] = {}
    for piece in pieces:
        _cross(piece, moved, rows)
    crossings = sorted(rows.get(0, []))
    runs = list(zip(crossings[::2], crossings[1::2], strict=True))
    if not runs:
        return None
    start, _ = max(runs, key=lambda run: run[1] - run[0])
    return replace(moved, phase=start)


__all__ = ["PATTERNS", "LineFamily", "PatternError", "families_for", "hatch_lines", "hatch_segments", "is_solid"]
