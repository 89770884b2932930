"""The overall sizes of the plan: glass and recess, over it and at its right, the glass nearer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.detail.edges import ROUND
from geometry.outline import bounding_box, corners
from outputs.sheet.boxes import box_of_text, grown, texts_of
from outputs.sheet.drafting import sized
from outputs.sheet.keep_clear import crosses, straights_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Detail
    from geometry.outline import Box
    from outputs.sheet.entities import Dimension
    from outputs.sheet.pencil import Pencil


OUTSIDE = 1.0  # paper mm from the end of a size that is too short for its figure to that figure
BESIDE_AXIS = 0.36  # of its line, where a figure stands: the axis of the pane runs through the middle


@dataclass(frozen=True, slots=True)
class Sides:
    """Where the rows stand: the widths over or under the plan, the heights at its right; paper mm to the first of each.

    ``share`` is the part of its line at which the figure of a size stands.
    """

    widths_over: bool
    widths: float
    heights: float
    share: float = BESIDE_AXIS


def surveyed(detail: Detail) -> bool:
    """Whether the recess is drawn as it was measured: its overall size says nothing then."""
    return (
        any(abs(corner.interior_angle - 90.0) > 0.01 for corner in corners(detail.curves.recess))
        and bool(detail.corners)
        and (len(corners(detail.curves.recess)) != len(detail.corners))
    )


def overall_sizes(detail: Detail, pencil: Pencil, sides: Sides) -> list[Dimension]:
    """Widths, then heights; of a circle its diameters alone."""
    glass, recess = bounding_box(detail.curves.glass), bounding_box(detail.curves.recess)
    whole = _joined(glass, recess)
    is_circle = not detail.corners and abs(glass.width - glass.height) < 1e-6 and detail.spacers[0].edge == ROUND
    mark = "Ø" if is_circle else ""
    found: list[Dimension] = []
    for row, (box, tolerance, name) in enumerate(_told(detail, glass, recess)):
        away = pencil.paper(sides.widths + row * pencil.style.row)
        words = f"{mark}{sized(box.width, tolerance)} {name}"
        y, line_at = (whole.top, whole.top + away) if sides.widths_over else (whole.bottom, whole.bottom - away)
        beyond = OUTSIDE + (box.left - whole.left) * pencil.scale  # clear of the extension line of the other size
        found.append(
            pencil.linear((box.left, y), (box.right, y), line_at=line_at, text=words, text_share=sides.share, text_beyond=beyond)
        )
    if is_circle:
        return found
    for row, (box, tolerance, name) in enumerate(_told(detail, glass, recess)):
        away = pencil.paper(sides.heights + row * pencil.style.row)
        words = f"{sized(box.height, tolerance)} {name}"
        x = whole.right
        beyond = OUTSIDE + (box.bottom - whole.bottom) * pencil.scale
        found.append(
            pencil.linear(
                (x, box.bottom),
                (x, box.top),
                line_at=x + away,
                angle=90.0,
                text=words,
                text_share=sides.share,
                text_beyond=beyond,
            )
        )
    return found


def figures_read(sizes: Sequence[Dimension], pencil: Pencil) -> bool:
    """Whether the figure of each size keeps clear of the size's own lines and arrows."""
    air = pencil.paper(pencil.style.off_lines)
    return not any(
        crosses(grown(box_of_text(text, pencil.scale), air), stroke)
        for size in sizes
        for text in texts_of((size,))
        for stroke in straights_of((size,))
    )


def _told(detail: Detail, glass: Box, recess: Box) -> list[tuple[Box, float | None, str]]:
    if surveyed(detail):
        return [(glass, detail.pane_tolerance, "glass, as made" if not detail.pane_tolerance else "glass")]
    return [(glass, detail.pane_tolerance, "glass"), (recess, detail.recess_tolerance, "recess")]


def _joined(one: Box, other: Box) -> Box:
    return type(one)(
        min(one.left, other.left), min(one.bottom, other.bottom), max(one.right, other.right), max(one.top, other.top)
    )


__all__ = ["BESIDE_AXIS", "Sides", "figures_read", "overall_sizes", "surveyed"]
