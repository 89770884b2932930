"""The bead enlarged: as the nozzle lays it on the glass, as it stands after pressing, and the notch that lays it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.sheet.drafting import number
from outputs.sheet.entities import Hatch, Mark, Path
from outputs.sheet.runs import line, run

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from outputs.sheet.entities import Node
    from outputs.sheet.pencil import Pencil

STRIP = 3.0  # mm of glass and landing drawn
BESIDE = 5.0  # mm of glass and landing drawn beyond the bead
APART = 34.0  # paper mm between the two pictures, room for the dimensions between


def bead_marks(detail: Detail, pencil: Pencil) -> tuple[Mark, ...]:
    """Uncured bead on the left (glass below, inner face up, as it lies), pressed bead on the right (landing below)."""
    fresh = detail.uncured_bead
    width, height = fresh.notch_width, fresh.notch_height
    marks: list[Mark] = []
    marks += _strip(-width / 2 - BESIDE, width / 2 + BESIDE, -STRIP, 0.0, "glass")
    bead: tuple[Node, ...] = ((-width / 2, 0.0, 0.0), (width / 2, 0.0, 0.0), (0.0, height, 0.0))
    marks += [Hatch("MATERIAL_ADHESIVE", "adhesive", (bead,)), Path("CUT_OUTLINE", bead, True)]
    marks.append(pencil.linear((-width / 2, -STRIP), (width / 2, -STRIP), line_at=-STRIP - pencil.paper(7.0)))
    marks.append(
        pencil.linear((0.0, height), (-width / 2 - BESIDE, 0.0), line_at=-width / 2 - BESIDE - pencil.paper(7.0), angle=90.0)
    )
    under = -STRIP - pencil.paper(14.0)
    marks.append(pencil.text("TEXT", (0.0, under), "as laid on the glass", align="middle"))
    marks.append(
        pencil.text("TEXT", (0.0, under - pencil.paper(4.2)), f"area {number(fresh.area, decimals=1)} mm²", align="middle")
    )
    left = width / 2 + BESIDE + pencil.paper(APART)
    marks += _pressed(detail, pencil, left)
    return tuple(marks)


def _pressed(detail: Detail, pencil: Pencil, left: float) -> list[Mark]:
    """The pressed bead between landing (below) and glass, frit on the bond face."""
    sizes = detail.sizes
    width, thickness = sizes.bond_width.value, sizes.bond_thickness.value
    low, high = left - BESIDE, left + width + BESIDE
    marks: list[Mark] = []
    marks += _strip(low, high, -STRIP, 0.0, "frame")
    marks += _strip(low, high, thickness, thickness + STRIP, "glass")
    bead: tuple[Node, ...] = ((left, 0.0, 0.0), (left + width, 0.0, 0.0), (left + width, thickness, 0.0), (left, thickness, 0.0))
    marks += [Hatch("MATERIAL_ADHESIVE", "adhesive", (bead,)), Path("CUT_OUTLINE", bead, True)]
    marks.append(line("MATERIAL_FRIT", (low, thickness), (high, thickness)))
    marks.append(
        pencil.linear(
            (left, -STRIP), (left + width, -STRIP), line_at=-STRIP - pencil.paper(7.0), tolerance=sizes.bond_width.tolerance
        )
    )
    marks.append(
        pencil.linear(
            (high, 0.0),
            (high, thickness),
            line_at=high + pencil.paper(7.0),
            angle=90.0,
            tolerance=sizes.bond_thickness.tolerance,
            outside="second",
        )
    )
    under = -STRIP - pencil.paper(14.0)
    middle = left + width / 2
    area = width * thickness
    marks.append(pencil.text("TEXT", (middle, under), "pressed to the spacers", align="middle"))
    marks.append(pencil.text("TEXT", (middle, under - pencil.paper(4.2)), f"area {number(area, decimals=1)} mm²", align="middle"))
    return marks


def _strip(left: float, right: float, low: float, high: float, material: str) -> list[Mark]:
    """A strip of glass or frame, broken off at both ends and on its far side."""
    layer = "MATERIAL_GLASS" if material == "glass" else "MATERIAL_FRAME"
    nodes: tuple[Node, ...] = ((left, low, 0.0), (right, low, 0.0), (right, high, 0.0), (left, high, 0.0))
    return [
        Hatch(layer, material, (nodes,)),
        run("CUT_OUTLINE", ((left, low), (right, low))),
        run("CUT_OUTLINE", ((left, high), (right, high))),
    ]


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


__all__ = ["bead_marks", "notch_marks"]
