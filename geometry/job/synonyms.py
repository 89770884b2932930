"""Words of the trade that mean a word of the job file, and materials that no word of it stands for.

Terms
-----
synonym
    Another word for the same thing; it becomes a hint, and is never taken silently.
not covered
    A material to which the rules of this tool do not apply; it is refused with the reason.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from geometry.job.refusal import near

_SAME = {
    "toughened": "tempered esg fully_tempered thermally_toughened safety_glass toughened_glass",
    "heat_strengthened": "tvg half_tempered semi_tempered heat_treated partially_tempered",
    "chemically_strengthened": "chemically_toughened chemically_tempered ion_exchanged cvg chemical",
    "annealed": "float float_glass plain ordinary untreated annealed_glass",
    "pvb": "polyvinyl_butyral standard_pvb butyral",
    "ionoplast": "ionomer stiff",
    "eva": "ethylene_vinyl_acetate",
    "aluminium": "aluminum alu al alloy light_alloy marine_aluminium",
    "steel": "mild_steel carbon_steel iron",
    "stainless": "stainless_steel inox niro a4 316 316l",
    "grp": "fiberglass fibreglass glass_fibre glassfibre frp polyester gfk laminate glass_reinforced_plastic",
    "cfrp": "carbon carbon_fibre carbon_fiber cfk",
    "timber_along": "wood timber teak oak mahogany wood_along",
    "timber_across": "wood_across across_the_grain",
    "plywood": "ply marine_plywood marine_ply",
    "starboard": "right stbd sb stb",
    "port": "left larboard pt",
    "centre": "center middle centreline centerline midships",
    "up": "top",
    "down": "bottom aft",
    "welded": "weld fabricated",
    "machined": "milled cnc",
    "moulded": "molded laminated_in",
    "joinery": "wooden carpentry joined",
    "paint": "painted lacquer",
    "tape": "taped foil",
}
_MEANS = {word: wanted for wanted, words in _SAME.items() for word in words.split()}

_PLASTICS = re.compile(
    r"acryl|pmma|poly-?carb|methacryl|plastic|pet-?g\b|polystyrene|polyester_sheet|\bpc\b|\bpvc\b|\bsan\b|organic", re.IGNORECASE
)
PLASTIC = (
    "plastics are not covered: acrylic and polycarbonate move about seven times as much with temperature as mineral glass "
    "(common figures: 65 to 70 against 9 um/(m K)), and need another adhesive and another design of the bead; mineral glass only"
)
LAMINATED = "a laminated pane is told by its plies and interlayers; treatment is that of each ply"
_FRAMES = {"aluminium", "grp"}


def meant(value: object, options: Sequence[str]) -> str:
    """A hint for a word that is none of the options: the option it is another word for, or the one that is spelled nearly so.

    >>> meant("tempered", ["toughened", "annealed"]), meant("anealed", ["toughened", "annealed"]), meant("acrylic", ["annealed"])[:8]
    ('did you mean toughened?', 'did you mean annealed?', 'plastics')
    """
    if not isinstance(value, str):
        return ""
    if is_plastic(value) and not _FRAMES & set(options):
        return PLASTIC
    word = value.strip().casefold().replace("-", "_").replace(" ", "_")
    if word in ("laminated", "lami", "vsg") and "toughened" in options:
        return LAMINATED
    wanted = _MEANS.get(word)
    return f"did you mean {wanted}?" if wanted in options else near(value, options)


def is_plastic(word: str) -> bool:
    """Whether a word names a plastic in place of glass."""
    return bool(_PLASTICS.search(word))


__all__ = ["PLASTIC", "is_plastic", "meant"]
