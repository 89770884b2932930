"""The standing words of the calculation record."""

from __future__ import annotations

AN_AID = "A calculated aid, not an approval: local codes, class and flag rules and licensed practice stand above it."

NOT_DECIDED = (
    (
        "This record approves nothing. Bonded glazing that bears load or keeps the water out needs its design, its glass thickness and its "
        "bond approved by a licensed engineer and, where it applies, by the class society or the flag administration."
    ),
    "Pressures are those that the office typed in. This program proposes none; the rule that governs the vessel sets them.",
    (
        "Values marked DEFAULT stand in for the adhesive's, the sealant's and the glass maker's own data sheets. The user replaces them. "
        "Bond stresses held against a default are comparisons with a placeholder, not proofs."
    ),
    (
        "Rules marked “from memory” or “common practice, no source” are not quotations of a standard; hold them against the text "
        "that governs before anything rests on them."
    ),
    (
        "Not covered at all: panes that take the deformation of the hull girder; fire-rated, underwater, bulwark or pool glazing; loads from "
        "people on horizontal glazing; the strength of the glass itself; escape windows, deadlights and storm covers."
    ),
)

CAUTIONS = (
    (
        "Isocyanates: one-part polyurethane, primers and activators may cause allergy or asthma. Trained persons only; gloves, goggles, air. "
        "Never heat or burn cured adhesive."
    ),
    "Solvents and activators: highly flammable vapour. No flame, no sparks; forced air in cabins; never enter a closed space alone.",
    (
        "Glass is heavy and sharp: cut gloves, wrist guards, safety shoes. Keep the fall zone clear. Lift only with the people and the gear "
        "that the weight asks for."
    ),
    (
        "Uncured adhesive does not hold glass: strap or prop a pane that leans outwards before letting go, and keep it so until the bead may "
        "carry it."
    ),
    "Adhesive, activator, primer and sealant: one maker's proven system on this substrate and this frit; adhesion test first.",
    "Frit, paint or tape is the protection from sunlight. Black primer alone is not.",
    (
        "No bonding in rain, on dew or below the dew point margin. Past the abort time do not place the pane: take the bead off while it is "
        "fresh, activate again, start again."
    ),
    "Local codes, class and flag rules and licensed practice come before this record. It is an aid, not an approval.",
)

SUMS = (
    "Every figure stands with its formula in words and each input as it went in, so that it can be worked by hand. An input marked "
    "worked out is the result of another figure or is measured on the true curves of the outline. Where a rule works on a whole list "
    "(stations round the bead) the list is in the data file of the same name."
)

SENSITIVITY = (
    "Each column changes one size of the job file and nothing else; sizes that the file leaves out are worked out again and may follow. "
    "A cell holds the change of the margin, in the unit of the finding: + is better, · is less than a thousandth of value and "
    "limit. A word says where the verdict changes."
)

NO_PLATE = "Not worked out: {why}."
