"""What fills the joint: backfill over its backer, both cut off where a chock stands.

Where the joint is of one width, the section as drawn is swept round the glass, corners too. Where it varies, the section of the nominal
joint is swept and cut by the wall; what it leaves of a wider joint, or cannot be swept, is told as taken.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from statistics import median
from typing import TYPE_CHECKING

from geometry.detail.in_place import even_joint, places_of
from geometry.detail.recess_profile import loop
from geometry.detail.sections import LEAST_JOINT, backer_nodes, levels_at
from geometry.outline import bounding_box, distance_between, offset
from geometry.outline.between import widths_round
from geometry.outline.stations import distance_from
from geometry.outline.turning import sweeps
from geometry.solids import kernel

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Detail, Levels
    from geometry.outline import Outline
    from geometry.solids.blocks import Block
    from geometry.solids.kernel import Node, Shape
    from geometry.solids.recess import Cavity


@dataclass(frozen=True)
class JointBodies:
    """Backfill and backer; None where there is none."""

    sealant: Shape | None = field(repr=False)
    backer: Shape | None = field(repr=False)
    sealant_taken: str = ""
    backer_taken: str = ""


def joint_bodies(detail: Detail, cavity: Cavity, chocks: Sequence[Block]) -> JointBodies:
    """Backfill and backer of a detail."""
    glass, recess, sizes = detail.curves.glass, detail.curves.recess, detail.sizes
    joint = sizes.joint_width.value
    even = even_joint(glass, recess, joint)
    found = [width.value for width in widths_round(glass, recess)]
    if max(found) <= LEAST_JOINT:
        return JointBodies(None, None)
    if not even:
        joint = median(section.joint_width for section in detail.sections)
        if joint <= LEAST_JOINT:
            return JointBodies(None, None)
    levels = levels_at(detail.sections[0].crossing, sizes, detail.glass, chock=None)
    bottom = max(levels.backfill, cavity.profile.floor_at(joint))
    clear = even or (not detail.glass_cuts_recess and distance_between(glass, recess) > 0)
    sealant, told = _backfill(glass, cavity, joint, even, bottom, levels, clear)
    backer, backer_told = None, ""
    if sizes.backer_fits:
        nodes = backer_nodes(joint, bottom, sizes.backer_diameter.value, cavity.profile)
        if nodes:
            backer, backer_told = _backer(glass, cavity, joint, even, nodes, bottom)
    sealant, backer = _beside(sealant, backer, chocks, detail, bottom)
    return JointBodies(sealant, backer, told, backer_told)


def _backfill(
    glass: Outline, cavity: Cavity, joint: float, even: bool, bottom: float, levels: Levels, clear: bool
) -> tuple[Shape | None, str]:
    if min(levels.skin, levels.glass_face) - bottom <= 1e-9:
        return None, ""
    profile = cavity.profile
    flush = abs(levels.skin - levels.glass_face) < 1e-9
    if flush and profile.draft == 0 and bottom >= profile.wall_end:
        if clear:
            return kernel.prism(cavity.foot, bottom, levels.skin, hole=glass), ""
        return kernel.cut_off(kernel.prism(cavity.foot, bottom, levels.skin), kernel.prism(glass, bottom, levels.skin)), ""
    nodes = loop((joint, bottom, 0.0), (joint, levels.glass_face, 0.0), *profile.down(levels.skin, bottom))
    reach = joint - profile.wall_at(levels.skin)
    if even and sweeps(glass, 0.0, reach):
        return kernel.swept(glass, _outwards(nodes, joint)), ""
    far = _farthest(glass, cavity)
    if sweeps(glass, 0.0, far):
        slope = (levels.skin - levels.glass_face) / reach
        high = max(min(levels.glass_face + slope * far, cavity.top), bottom + 1e-3)
        far = (high - levels.glass_face) / slope if abs(slope) > 1e-12 else far
        ring = kernel.swept(glass, ((0, bottom, 0.0), (far, bottom, 0.0), (far, high, 0.0), (0, levels.glass_face, 0.0)))
        told = (
            ""
            if even or flush
            else f"its outer face has the slope of a joint of {joint:.2f} mm; in a wider or narrower one it ends over or under the skin"
        )
        return kernel.common(ring, cavity.room), told
    low = min(levels.skin, levels.glass_face)
    told = "its outer face is flat, at the lower of skin and glass: the slope that is drawn cannot be followed round re-entrant corners"
    room = kernel.common(cavity.room, kernel.prism(_wide(cavity), bottom, low))
    return kernel.cut_off(room, kernel.prism(glass, bottom - 1.0, low + 1.0)), "" if flush else told


def _backer(
    glass: Outline, cavity: Cavity, joint: float, even: bool, nodes: tuple[Node, ...], bottom: float
) -> tuple[Shape, str]:
    reach = joint - min(x for x, _, _ in nodes)
    if sweeps(glass, 0.0, reach):
        ring = kernel.swept(glass, _outwards(nodes, joint))
        if even:
            return ring, ""
        return kernel.common(ring, cavity.room), f"pressed as in a joint of {joint:.2f} mm and cut by the wall"
    low = max(0.0, min(z for _, z, _ in nodes))
    room = kernel.common(cavity.room, kernel.prism(_wide(cavity), low, bottom))
    return kernel.cut_off(room, kernel.prism(glass, low - 1.0, bottom + 1.0)), (
        "its lower face is flat: the round one that is drawn cannot be followed round re-entrant corners"
    )


def _wide(cavity: Cavity) -> Outline:
    """An outline that the cavity lies within at every height."""
    return offset(cavity.foot, 1.0 - min(0.0, cavity.profile.wall_at(cavity.top)))


def _farthest(glass: Outline, cavity: Cavity) -> float:
    """How far any place of the cavity may lie from the glass, mm: what a swept ring has to reach over."""
    lean = -min(0.0, cavity.profile.wall_at(cavity.top))
    return 1.0 + lean + max(distance_from(glass, at) for at in places_of(cavity.foot))


def _outwards(nodes: Sequence[Node], joint: float) -> list[Node]:
    """A section's nodes, from the wall inwards, as a profile from the glass edge outwards."""
    return [(joint - x, z, -bulge) for x, z, bulge in nodes]


def _beside(
    sealant: Shape | None, backer: Shape | None, chocks: Sequence[Block], detail: Detail, bottom: float
) -> tuple[Shape | None, Shape | None]:
    """Backfill and backer where chocks stand: the backfill begins on them, the backer stops at their ends."""
    length = detail.sizes.chock_length.value
    box = bounding_box(detail.curves.recess)
    reach = min(box.width, box.height) / 4
    profile = detail.sections[0].profile
    depths = {each.mark: each.depth for each in detail.chocks}
    across = ((-reach, -1.0, 0.0), (1.0, -1.0, 0.0), (1.0, bottom, 0.0), (-reach, bottom, 0.0))
    if backer is not None and chocks:
        bar = kernel.bar(across, length)
        backer = kernel.cut_off(backer, *(kernel.placed(bar, chock.at, chock.angle) for chock in chocks))
    if sealant is None:
        return sealant, backer
    over = [kernel.placed(each.made, each.at, each.angle) for each in chocks if depths[each.mark] > bottom + 1e-9]
    sealant = kernel.cut_off(sealant, *over)
    for chock in chocks:
        depth = depths[chock.mark]
        if depth < bottom - 1e-9:
            low, high = max(depth, profile.floor_at(chock.height)), bottom
            nodes = loop((chock.height, low, 0.0), (chock.height, high, 0.0), *profile.down(high, low))
            own = [(x - chock.height, z, bulge) for x, z, bulge in nodes]
            sealant = kernel.joined(sealant, kernel.placed(kernel.bar(own, length), chock.at, chock.angle))
    return sealant, backer


__all__ = ["JointBodies", "joint_bodies"]
