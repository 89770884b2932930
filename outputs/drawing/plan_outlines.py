"""What the plan shows of the detail itself: its outlines, the tint of the bead and the symbols of its blocks.

Terms
-----
symbol
    A block of the drawing that stands for a spacer or a chock, drawn once and inserted where each of them stands.
band
    The bead between its edges, tinted; its edges are drawn where the band is wide enough on paper.
run together
    Two lines that lie nearer than 0,7 mm on paper: the less important of them is left out, piece by piece.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline import Arc, Point, comes_within, distance_from, segments
from outputs.sheet.entities import Block, Fill, Hatch, Mark, Path

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.detail.parts import Chock, Detail
    from geometry.outline import Outline, Segment
    from outputs.sheet.entities import Node

NEAREST = 0.7  # paper mm between lines that run side by side (ISO 128-2, second hand)
BAND_WITH_EDGES = 2.5  # paper mm, the narrowest band whose edges are drawn
STEP = 6.0  # paper mm, the pieces in which a line is left out
ALONG = (
    0.5,
    0.0,
    1.0,
    0.25,
    0.75,
)  # shares of a piece at which its distance is looked at: beside a sharp corner it falls along the piece


def nodes_of(outline: Outline) -> tuple[tuple[float, float, float], ...]:
    """An outline as the nodes of a path."""
    return tuple((v.x, v.y, v.bulge) for v in outline.vertices)


def band(detail: Detail) -> Hatch:
    """The tint of the bead."""
    return Hatch("BEAD_BAND", "band", (nodes_of(detail.curves.bead_outer), nodes_of(detail.curves.bead_inner)))


def edges_show(detail: Detail, scale: float) -> bool:
    """Whether the edges of the bead are drawn at a scale."""
    return detail.sizes.bond_width.value * scale >= BAND_WITH_EDGES


def outline_marks(detail: Detail, scale: float) -> list[Mark]:
    """The lines of the plan, each on its own layer, the least important left out where they run together."""
    curves = detail.curves
    marks: list[Mark] = [
        band(detail),
        Path("RECESS", nodes_of(curves.recess), True),
        Path("GLASS", nodes_of(curves.glass), True),
        Path("FRIT_INNER", nodes_of(curves.frit_inner), True),
        Path("BEAD_CENTRE", nodes_of(curves.bead_centre), True),
    ]
    standing = [curves.frit_inner]
    if edges_show(detail, scale):
        for edge in (curves.bead_outer, curves.bead_inner):
            marks += _apart("BEAD_EDGE", edge, (curves.glass, curves.frit_inner), scale)
            standing.append(edge)
    marks += _apart("SIGHT_LINE", curves.sight_line, tuple(standing), scale)
    if curves.frit_fade is not None:
        marks += _apart("FRIT_FADE", curves.frit_fade, (*standing, curves.sight_line), scale)
    if curves.frit_outer != curves.glass:
        marks += _apart("FRIT_OUTER", curves.frit_outer, (curves.glass, *standing), scale)
    return marks


def _apart(layer: str, outline: Outline, others: tuple[Outline, ...], scale: float) -> list[Mark]:
    """An outline less the pieces that run together with the others."""
    least = NEAREST / scale
    if not any(comes_within(outline, other, least) for other in others):
        return [Path(layer, nodes_of(outline), True)]
    pieces = [(part, a, b) for part in segments(outline) for a, b in _shares(part, STEP / scale)]
    kept = [all(_clear_of(others, part.point_at(a + (b - a) * share), least) for share in ALONG) for part, a, b in pieces]
    if not any(kept):
        return []
    first = kept.index(False) if not all(kept) else 0
    order = [*range(first, len(pieces)), *range(first)]
    marks: list[Mark] = []
    run: list[Node] = []
    for index in order:
        part, a, b = pieces[index]
        if not kept[index]:
            if run:
                marks.append(Path(layer, tuple(run)))
                run = []
            continue
        if run:
            run.pop()
        run += [_node(part.point_at(a), part, b - a), (*part.point_at(b), 0.0)]
    if run:
        marks.append(Path(layer, tuple(run)))
    return marks


def _clear_of(others: tuple[Outline, ...], place: Point, least: float) -> bool:
    return all(distance_from(other, place, within=least) >= least for other in others)


def _shares(part: Segment, step: float) -> Iterator[tuple[float, float]]:
    count = max(1, math.ceil(part.length / step - 1e-9))
    yield from ((index / count, (index + 1) / count) for index in range(count))


def _node(at: Point, part: Segment, share: float) -> Node:
    return at.x, at.y, math.tan(part.sweep * share / 4) if isinstance(part, Arc) else 0.0


def block_name(kind: str, length: float, width: float) -> str:
    """Name of a block's symbol: kind and size in whole hundredths of a millimetre, so that equal blocks share a symbol."""
    sizes = "x".join(f"{round(value * 100) / 100:g}".replace(".", "_") for value in (length, width))
    return f"{kind.upper().replace(' ', '_')}_{sizes}"


def _block(name: str, length: float, width: float, *, filled: bool) -> Block:
    """A rectangle: a spacer about the origin, a chock filled and up to the glass, its foot at the origin."""
    half = length / 2
    low, high = (-width, 0.0) if filled else (-width / 2, width / 2)
    nodes = ((-half, low, 0.0), (half, low, 0.0), (half, high, 0.0), (-half, high, 0.0))
    tags = (
        ("MARK", "Mark"),
        ("KIND", "Kind"),
        ("SIZE", "Size, mm"),
        ("EDGE", "Edge"),
        ("DISTANCE", "Distance along the edge, mm"),
    )
    return Block(name, (Path("0", nodes, True), *((Fill("0", nodes),) if filled else ())), tags)


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
            spacer_symbol(detail), detail.sizes.spacer_length.value, detail.sizes.spacer_width.value, filled=False
        )
    }
    for chock in detail.chocks:
        found[chock_symbol(chock)] = _block(chock_symbol(chock), chock.length, max(chock.height, 0.1), filled=True)
    return tuple(found[name] for name in sorted(found))


__all__ = ["band", "block_name", "blocks_of", "chock_symbol", "edges_show", "nodes_of", "outline_marks", "spacer_symbol"]
