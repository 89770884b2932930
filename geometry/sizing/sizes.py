"""Every size of one pane's section, together."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from geometry.ledger.size import Size

__all__ = ["Sizes"]


@dataclass(frozen=True, slots=True)
class Sizes:
    """Every size of the section, in words."""

    joint_width: Size
    backfill_depth: Size
    backer_diameter: Size
    bond_width: Size
    bond_thickness: Size
    set_back: Size
    bead_corner_radius: Size
    notch_width: Size
    notch_height: Size
    recess_depth: Size
    landing: Size
    frit_start: Size
    frit_width: Size
    frit_fade: Size
    frit_corner_radius: Size
    spacer_thickness: Size
    spacer_width: Size
    spacer_length: Size
    spacer_pitch: Size
    chock_length: Size
    chock_backfill_over: Size
    glass_thickness: Size
    proud: Size

    def all(self) -> tuple[Size, ...]:
        """Every size in the order in which a sheet lists them."""
        return tuple(getattr(self, name) for name in self.__dataclass_fields__)
