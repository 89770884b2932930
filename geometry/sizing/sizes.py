"""Every size of one pane's section, together."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from geometry.ledger.size import Size

KEYS = {
    "joint_width": "joint.width",
    "backfill_depth": "joint.backfill_depth",
    "bond_width": "bond.width",
    "bond_thickness": "bond.thickness",
    "set_back": "bond.set_back",
    "bead_corner_radius": "bond.corner_radius",
    "notch_width": "bond.notch_width",
    "notch_height": "bond.notch_height",
    "recess_depth": "recess.depth",
    "landing": "recess.landing",
    "frit_start": "frit.start",
    "frit_width": "frit.width",
    "frit_fade": "frit.fade",
    "frit_corner_radius": "frit.corner_radius",
    "spacer_width": "spacers.width",
    "spacer_length": "spacers.length",
    "spacer_pitch": "spacers.pitch",
    "chock_length": "chocks.length",
    "chock_backfill_over": "chocks.backfill_over",
    "glass_thickness": "glass.plies",
}
"""Sizes that a key of the job file may give."""


__all__ = ["KEYS", "Sizes"]


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

    @property
    def backer_fits(self) -> bool:
        """Whether the pressed backer finds its depth below the backfill; else no document draws one, and bond-breaker tape is bought."""
        return not self.backer_diameter.outside

    def all(self) -> tuple[Size, ...]:
        """Every size in the order in which a sheet lists them."""
        return tuple(getattr(self, name) for name in self.__dataclass_fields__)
