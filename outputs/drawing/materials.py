"""Which layer, item name and legend each material of a detail has on a sheet."""

from __future__ import annotations

LAYER_OF = {
    "frame": "MATERIAL_FRAME",
    "glass": "MATERIAL_GLASS",
    "interlayer": "MATERIAL_INTERLAYER",
    "adhesive": "MATERIAL_ADHESIVE",
    "sealant": "BACKFILL",
    "backer": "MATERIAL_BACKER",
    "spacer": "MATERIAL_SPACER",
    "chock": "MATERIAL_CHOCK",
    "frit": "MATERIAL_FRIT",
}

__all__ = ["LAYER_OF"]
