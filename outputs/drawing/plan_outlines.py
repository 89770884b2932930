"""What the plan shows of the detail itself: its outlines, the symbols of its blocks and the window of its deciding corner.

Terms
-----
symbol
    A block of the drawing that stands for a spacer or a chock, drawn once and inserted where each of them stands.
window
    The part of the plan that the enlarged corner shows.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline import ray_length
from outputs.drawing.plan_options import PlanOutline
from outputs.sheet.entities import Block, Hatch, Mark, Path
from outputs.sheet.runs import line

if TYPE_CHECKING:
    from collections.abc import Collection

    from geometry.detail.parts import Chock, Detail
    from geometry.outline import Outline
    from outputs.sheet.boxes import Box

BEYOND_CORNER, BEYOND_SHARP_CORNER = 6.0, 18.0  # mm outside the deciding corner: the figure of the joint stands there


def nodes_of(outline: Outline) -> tuple[tuple[float, float, float], ...]:
    """An outline as the nodes of a path."""
    return tuple((v.x, v.y, v.bulge) for v in outline.vertices)


def outline_marks(detail: Detail, shown: Collection[PlanOutline]) -> list[Mark]:
    """One closed path for each outline that is shown, on its own layer, and the hatch of the joint between recess and glass."""
    curves = detail.curves
    named = (
        (PlanOutline.RECESS, curves.recess),
        (PlanOutline.GLASS, curves.glass),
        (PlanOutline.FRIT_OUTER, curves.frit_outer),
        (PlanOutline.FRIT_INNER, curves.frit_inner),
        (PlanOutline.FRIT_FADE, curves.frit_fade),
        (PlanOutline.BEAD_EDGES, curves.bead_outer),
        (PlanOutline.BEAD_CENTRE, curves.bead_centre),
        (PlanOutline.BEAD_EDGES, curves.bead_inner),
        (PlanOutline.SIGHT_LINE, curves.sight_line),
    )
    marks: list[Mark] = [
        Path(which.value, nodes_of(outline), True) for which, outline in named if outline is not None and which in shown
    ]
    if not detail.glass_cuts_recess and {PlanOutline.RECESS, PlanOutline.GLASS} <= set(shown):
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


def corner_window(detail: Detail) -> Box:
    """The window of the enlarged corner: along the bisector from the recess to just inside the bead, frit and landing.

    On a long unbonded corner, where frit and landing turn far inside, it ends inside the bead.
    """
    worst = detail.worst_corner
    if worst is None:
        raise ValueError("a pane without corners has no corner detail")
    corner, curves = worst.corner, detail.curves

    def reach(outline: Outline) -> float:
        return ray_length(outline, corner.theoretical, corner.bisector) or 0.0

    outer = -max(worst.glass_on_bisector + worst.joint, worst.glass_on_bisector)
    inner = reach(curves.bead_inner) + 6.0
    whole = max(reach(curves.sight_line), reach(curves.frit_inner)) + 4.0
    if whole - outer <= 154.0:
        inner = max(inner, whole)
    outer -= BEYOND_SHARP_CORNER if inner - outer > 100.0 and corner.interior_angle < 60.0 else BEYOND_CORNER
    length = inner - outer
    half_angle = math.radians(corner.interior_angle / 2)
    unbonded = inner * math.tan(half_angle) + max(worst.joint, 0.0) + 6.0 if half_angle < 1.4 else math.inf
    half = max(12.0, min(0.2 * length + 6.0, unbonded))
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


__all__ = ["block_name", "blocks_of", "chock_symbol", "corner_window", "nodes_of", "outline_marks", "spacer_symbol"]
