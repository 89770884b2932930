"""Make the face of the sheets' lettering anew: ``python tests/make_face.py FILE`` (takes the package ``fontpkg-roboto``).

The face is one weight of the open variable face Roboto, chosen so that a stem is a tenth of the capital height, as ISO 3098 has it
for lettering of type B. It is carried by the program itself (``outputs/sheet/face``): no seat and no package index has a face of
that weight. A test holds the file against what this makes.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fontTools.ttLib import TTFont

WEIGHT = 332  # on the axis of the variable face: 300 is its Light, with a stem of h/11.8; 400 its Regular, with h/7.5
NAMES = {1: "Roboto Light", 2: "Regular", 4: "Roboto Light", 6: "Roboto-Light", 16: "Roboto", 17: "Light"}


def made_face() -> TTFont:
    """The face, made from the variable one."""
    import fontpkg_roboto
    from fontTools.subset import Options, Subsetter
    from fontTools.ttLib import TTFont
    from fontTools.varLib.instancer import instantiateVariableFont

    source = Path(fontpkg_roboto.__file__).parent / "files" / "Roboto[wdth,wght].ttf"
    font = instantiateVariableFont(TTFont(source, recalcTimestamp=False), {"wght": WEIGHT, "wdth": 100})
    keep = Options()
    keep.layout_features, keep.hinting, keep.name_IDs, keep.notdef_outline = [], False, ["*"], True
    keep.drop_tables += ["GSUB", "GPOS", "GDEF", "STAT", "gasp", "prep", "meta", "DSIG"]
    narrowed = Subsetter(keep)
    narrowed.populate(unicodes=list(font.getBestCmap()))
    narrowed.subset(font)
    font["OS/2"].usWeightClass = 300
    names = font["name"]
    names.names = [name for name in names.names if name.platformID == 3 and name.nameID in (0, 1, 2, 3, 4, 5, 6, 13, 14)]
    for number, string in NAMES.items():
        names.setName(string, number, 3, 1, 0x409)
    names.setName(f"{names.getDebugName(5)}; weight {WEIGHT} of the variable face", 5, 3, 1, 0x409)
    return font


if __name__ == "__main__":
    made_face().save(sys.argv[1], reorderTables=True)
