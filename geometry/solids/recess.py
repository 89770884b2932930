"""The frame round the pane, and the room that the recess leaves: draft, fillet and landing.

Terms
-----
cavity
    What lies inside the wall, from the landing upwards past skin and glass; over the skin its wall goes on upright.
band
    The frame as the sections draw it: so much beyond the wall and under the landing. Its true size is the yard's.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.detail.sections import FRAME_BELOW, FRAME_BEYOND
from geometry.outline import distance_between, offset
from geometry.outline.turning import sweeps
from geometry.solids import kernel
from geometry.solids.kernel import SolidError

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from geometry.detail.recess_profile import RecessProfile
    from geometry.outline import Outline
    from geometry.solids.kernel import Node, Shape

HEADROOM = 1.0  # mm of the cavity over whatever stands highest in it


@dataclass(frozen=True)
class Cavity:
    """The room inside the recess wall, the outline of its foot and its profile."""

    room: Shape
    foot: Outline
    profile: RecessProfile
    top: float

    @property
    def plain(self) -> bool:
        """Whether the wall stands upright on the landing, without a fillet."""
        return self.profile.fillet <= 0 and self.profile.draft == 0

    def reaches(self, outline: Outline) -> bool:
        """Whether the fillet reaches under an outline that stands on the landing."""
        return self.profile.fillet > 0 and distance_between(self.foot, outline) < self.profile.tangent_length - 1e-9


def cavity_of(detail: Detail) -> Cavity:
    """The room inside the recess wall. Raises ``SolidError`` where draft or fillet cannot be followed round the recess."""
    recess, profile = detail.curves.recess, detail.sections[0].profile
    skin = detail.sizes.recess_depth.value
    top = max(skin, detail.sizes.bond_thickness.value + detail.glass.thickness) + HEADROOM
    if profile.fillet <= 0 and profile.draft == 0:
        return Cavity(kernel.prism(recess, 0.0, top), recess, profile, top)
    up: list[Node] = [(-x, z, -bulge) for x, z, bulge in profile.up(0.0, skin)]
    out = -profile.wall_at(skin)
    run = [*up, (out, top, 0.0)]
    if not sweeps(recess, -profile.tangent_length, max(out, 0.0)):
        raise SolidError(
            f"the recess wall with its draft of {profile.draft:g}° and its fillet of {profile.fillet:g} mm cannot be followed round the "
            f"recess as a solid: a corner of it is tighter than {profile.tangent_length:.1f} mm, or re-entrant and sharp"
        )
    return Cavity(kernel.filled(recess, run), recess, profile, top)


def frame_of(detail: Detail, cavity: Cavity) -> Shape:
    """The band of frame round the pane with its recess, its landing open to the daylight."""
    skin = detail.sizes.recess_depth.value
    beyond = FRAME_BEYOND - min(0.0, cavity.profile.wall_at(skin))
    outer = offset(cavity.foot, beyond, what="the outer edge of the frame's band")
    sight, foot = detail.curves.sight_line, cavity.foot
    if cavity.plain:
        around = kernel.wall(outer, -FRAME_BELOW, skin)
        through, recess = kernel.wall(sight, -FRAME_BELOW, 0.0), kernel.wall(foot, 0.0, skin)
        under = kernel.floor(around.foot, -FRAME_BELOW, hole=through.foot)
        landing = kernel.floor(recess.foot, 0.0, hole=through.head)
        over = kernel.floor(around.head, skin, hole=recess.head)
        return kernel.enclosed([around], [through, recess], [landing, over], [under], "the frame")
    band = kernel.prism(outer, -FRAME_BELOW, skin, hole=sight)
    return kernel.cut_off(band, cavity.room)


__all__ = ["Cavity", "cavity_of", "frame_of"]
