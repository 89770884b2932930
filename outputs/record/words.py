"""The standing words of the calculation record."""

from __future__ import annotations

AN_AID = "A calculated aid, not an approval: local codes, class and flag rules and licensed practice stand above it."

AFTER_ABORT = "Do not place the pane: take the bead off while it is fresh, activate again, start again."

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
        "people on horizontal glazing beyond a load that is given; approval of the glass (its stress is information); escape windows, "
        "deadlights and storm covers."
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
    (f"No bonding in rain, on dew or below the dew point margin. Past the abort time {AFTER_ABORT[0].lower()}{AFTER_ABORT[1:]}"),
    "Local codes, class and flag rules and licensed practice come before this record. It is an aid, not an approval.",
)

SUMS = (
    "A sum has the same number on the record of every pane. Under its title stand the formula, then the figures in it, then the result; "
    "millimetres, newtons, megapascals, days and minutes where no unit is told. Letters are those of the sketch. A small number beside an "
    "input is the sum it comes from, i1, i2 ... the value in the list of inputs. A result has four digits that count; it was worked out "
    "with all of them. max and min: the larger and the smaller; ⌈ ⌉: rounded up."
)

SENSITIVITY = (
    "Each column changes one size of the job file and nothing else; sizes that the file leaves out are worked out again and may follow. A "
    "cell holds the value that the finding would then have, its limit behind it where that moves too; · : less than a thousandth of change. "
    "A word says where the verdict changes. Rows: what does not pass, what turns, and what stands within a tenth of its limit."
)

STACKS = (
    "The findings judge by the worst case: every tolerance against the dimension at once. Likely is the root of squares; it holds only where the "
    "tolerances are independent, centred and alike; nobody has their distributions, so it stands here for information and no share of "
    "panes that come out right is told. A tenth buys what the sum loses when that tolerance alone is held a tenth closer."
)

NO_PLATE = "Not worked out: {why}."

PROVEN = (
    (
        "Each calculation is held against values that this program did not work out: printed tables and worked examples, general-purpose "
        "libraries, a second way of working it out, figures worked by hand. Only calculations that the program uses are listed."
    ),
    (
        "The largest deviation is that of all checks that call a calculation, beyond the rounding of the outside value; a temperature is "
        "compared in kelvins. A check proves "
        "the arithmetic; it does not prove that the rule is the right one for a vessel."
    ),
)

TO_DECIDE = (
    "Pressures, accelerations, heel and whatever else loads the pane: they are typed in, not worked out.",
    "Thickness, treatment and allowed stress of the glass; the plate's stress is information until the engineer gives what it may be.",
    "Design values and factors of adhesive and sealant, by the maker's data sheet and an adhesion test on this substrate and frit.",
    "Coupling of a laminate's interlayer under the duration and temperature of each load; 0 is the safe end for bond and bending.",
    "Temperatures of frame and glass in service and on the bonding day, where the defaults are not those of the vessel.",
    "Movement of the frame: this program takes the frame as stiff unless a racking is given.",
    "Which rules marked common practice or from memory may stand, and which the governing text replaces.",
)


__all__ = ["AFTER_ABORT", "AN_AID", "CAUTIONS", "NOT_DECIDED", "NO_PLATE", "PROVEN", "SENSITIVITY", "STACKS", "SUMS", "TO_DECIDE"]
