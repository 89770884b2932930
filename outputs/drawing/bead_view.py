"""The template of the notch that the nozzle end is cut to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.sheet.entities import Mark, Path

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from outputs.sheet.entities import Node
    from outputs.sheet.pencil import Pencil


def notch_marks(detail: Detail, pencil: Pencil) -> tuple[Mark, ...]:
    """The notch template, full size: a plate with the V that the nozzle end is cut to, and that gauges the uncured bead."""
    width, height = detail.uncured_bead.notch_width, detail.uncured_bead.notch_height
    half, top = width / 2 + 8.0, height + 8.0
    plate: tuple[Node, ...] = (
        (-half, 0.0, 0.0),
        (-width / 2, 0.0, 0.0),
        (0.0, height, 0.0),
        (width / 2, 0.0, 0.0),
        (half, 0.0, 0.0),
        (half, top, 0.0),
        (-half, top, 0.0),
    )
    return (
        Path("SEEN_OUTLINE", plate, True),
        pencil.linear((-width / 2, 0.0), (width / 2, 0.0), line_at=-pencil.paper(7.0)),
        pencil.linear((half, 0.0), (0.0, height), line_at=half + pencil.paper(7.0), angle=90.0),
    )


__all__ = ["notch_marks"]
