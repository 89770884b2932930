"""The standing words of a detail sheet: notes and cautions."""

from __future__ import annotations

GENERAL_NOTES = (
    "Viewed from OUTSIDE. Sections are seen with the weather side up and the recess wall on the left.",
    "Sizes in mm. Size the recess and the pane to the figures, never by scaling. Check on site before manufacture.",
    "General tolerances where none is stated: ISO 2768-m for the metal frame; glass and bond as tabled here.",
    "The fitter's view of the glass, inner face up, is the mirror image of this plan.",
    (
        "Setting chocks, side and centring blocks stand in the joint; their distances run along the edge from its first sharp corner, "
        "on a round pane along the edge from its lowest point, positive counter-clockwise."
    ),
    "The calculation record holds every sum behind the findings, movement, quantities and the time plan.",
    "Sizes marked worked out or default are not from a data sheet. They are proposals until the office confirms them.",
)

UP_TO_24_M = "Hull length {length} m: ISO 12216 speaks of windows of small craft up to 24 m; the rule that governs is the office's to name."
OVER_24_M = (
    "Hull length {length} m: over 24 m ISO 11336 speaks of glazed openings; the rule that governs is the office's to name."
)

CAUTIONS = (
    (
        "Bonded glazing that is load-bearing or critical to watertightness needs design, thickness and bond approval by a licensed engineer "
        "and, where it applies, the class society or flag administration. This sheet is a fit-up detail, not an approval. Approval ref.: {approval}"
    ),
    "Bond figures are comparisons with placeholder values unless an approved design value has been entered.",
    (
        "Not covered: panes that take hull-girder deformation, fire-rated, underwater, bulwark or pool glazing. Horizontal glazing: foot load to be "
        "designed. Escape windows, deadlights and storm covers are not shown."
    ),
    "Adhesive, activator, primer and sealant: one maker's proven system on this substrate and this frit; adhesion test first.",
    "Frit, paint or tape is the UV protection. Black primer alone is not.",
    "Isocyanates: one-part polyurethane, primers and activators may cause allergy or asthma. Trained persons only; gloves, goggles, air.",
    "Solvents and activators: highly flammable vapour. No flame, no sparks, forced air in cabins.",
    "Glass is heavy and sharp: cut gloves, wrist guards, safety shoes. Fresh adhesive does not hold glass: strap a reverse rake before letting go.",
    "Local codes, class and flag rules and licensed practice come before this sheet. It is a calculated aid.",
)
