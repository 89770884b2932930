"""Every body of a detail, exact: frame, plies, frit, bead, blocks, backer and backfill.

The frame of reference is the plan's: X and Y as drawn, seen from outside, Z from the landing outboard; mm.

Terms
-----
body
    One part as a shape of the kernel where it was made, and where it stands: blocks of one kind and size share one shape.
taken
    What a body is taken to be where the drawing leaves it open: told in words, so that nobody takes it for a dimension.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from geometry.outline import Point
from geometry.solids import kernel
from geometry.solids.blocks import Block, blocks_of
from geometry.solids.joint import joint_bodies
from geometry.solids.recess import cavity_of, frame_of

if TYPE_CHECKING:
    from geometry.detail.parts import Curves, Detail
    from geometry.solids.kernel import Measures, Shape

ORIGIN = Point(0.0, 0.0)
ENAMEL = 0.02
"""mm, thickness of the print fired into the bond face: common practice, no source; the drawing shows none."""


@dataclass(frozen=True)
class Body:
    """One body: ``part`` as the parts list calls it, ``material`` as the sections do, ``name`` of its own among equals."""

    part: str
    material: str
    name: str
    made: Shape = field(repr=False)
    at: Point = ORIGIN
    angle: float = 0.0  # degrees
    taken: str = ""

    @property
    def shape(self) -> Shape:
        """The shape where it stands."""
        return kernel.placed(self.made, self.at, self.angle) if (self.at, self.angle) != (ORIGIN, 0.0) else self.made

    @property
    def volume(self) -> Measures:
        """Volume, mm³, and centre of gravity, mm."""
        return kernel.volume(self.shape)


def bodies_of(detail: Detail) -> tuple[Body, ...]:
    """The bodies of a detail, from the frame outwards and inwards again, in the order of the parts list.

    Raises
    ------
    SolidError
        Where a body cannot be made; the sentence says which.
    """
    with kernel.explained("the bodies of the pane"):
        return _bodies(detail)


def _bodies(detail: Detail) -> tuple[Body, ...]:
    curves, sizes = detail.curves, detail.sizes
    cavity = cavity_of(detail)
    blocks = blocks_of(detail)
    bond = sizes.bond_thickness.value
    bead = kernel.prism(curves.bead_outer, 0.0, bond, hole=curves.bead_inner)
    if cavity.reaches(curves.bead_outer):
        bead = kernel.common(bead, cavity.room)
    found = [Body("frame", "frame", "frame", frame_of(detail, cavity))]
    joint = joint_bodies(detail, cavity, [block for block in blocks if block.kind != "spacer"])
    found += [Body("backer", "backer", "backer", joint.backer, taken=joint.backer_taken)] if joint.backer is not None else []
    found += [_standing(block) for block in blocks if block.kind == "spacer"]
    found.append(Body("bead", "adhesive", "bead", bead))
    found += _glass(detail)
    found += (
        [Body("backfill", "sealant", "backfill", joint.sealant, taken=joint.sealant_taken)] if joint.sealant is not None else []
    )
    found += [_standing(block) for block in blocks if block.kind != "spacer"]
    return tuple(found)


def _standing(block: Block) -> Body:
    material = "spacer" if block.kind == "spacer" else "chock"
    return Body(block.kind, material, f"{block.kind} {block.mark}", block.made, block.at, block.angle, block.taken)


def _glass(detail: Detail) -> list[Body]:
    """The frit and the plies; the print is fired into the face of the innermost ply, whose volume is that of the glass without it."""
    curves = detail.curves
    bond = detail.sizes.bond_thickness.value
    level = bond + detail.glass.thickness
    frit = kernel.prism(curves.frit_outer, bond, bond + ENAMEL, hole=curves.frit_inner)
    taken = f"the print is taken as {ENAMEL:g} mm thick, fired into the bond face"
    found = [Body("frit", "frit", "frit", frit, taken=taken)]
    counted = {"glass": 0, "interlayer": 0}
    several = len(detail.glass.plies) > 1
    for index, ply in enumerate(detail.glass.plies, start=1):
        counted[ply.material] += 1
        name = f"{ply.material} {counted[ply.material]}" if several else ply.material
        last = index == len(detail.glass.plies)
        made = _printed(curves, bond, level) if last else kernel.prism(curves.glass, level - ply.thickness, level)
        found.append(Body("glass", ply.material, name, made))
        level -= ply.thickness
    return found


def _printed(curves: Curves, low: float, high: float) -> Shape:
    """The ply that carries the print, without it."""
    glass, outer, inner, print_face = curves.glass, curves.frit_outer, curves.frit_inner, low + ENAMEL
    begins = outer != glass  # a bare rim outside the print
    around = kernel.wall(glass, low if begins else print_face, high)
    within = kernel.wall(inner, low, print_face)
    over, clear = kernel.floor(around.head, high), kernel.floor(within.foot, low)
    if not begins:
        printed = kernel.floor(around.foot, print_face, hole=within.head)
        return kernel.enclosed([around, within], [], [over], [printed, clear], "the ply under the print")
    rim = kernel.wall(outer, low, print_face)
    bare, printed = kernel.floor(around.foot, low, hole=rim.foot), kernel.floor(rim.head, print_face, hole=within.head)
    return kernel.enclosed([around, within], [rim], [over], [bare, printed, clear], "the ply under the print")


__all__ = ["ENAMEL", "Body", "bodies_of"]
