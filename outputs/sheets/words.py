"""The standing words of a detail sheet: notes and cautions."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from geometry.job import Pane

METALS = ("aluminium", "steel", "stainless")
FRAMES = {
    "stainless": "stainless steel",
    "grp": "glass-reinforced plastic (GRP)",
    "cfrp": "carbon-fibre laminate (CFRP)",
    "timber along": "timber, along the grain",
    "timber across": "timber, across the grain",
    "frame": "material not named",
}
INTERLAYERS = {"pvb": "polyvinyl butyral (PVB)", "eva": "ethylene-vinyl acetate (EVA)"}

METAL_TOLERANCES = "General tolerances where none is stated: ISO 2768-m for the metal frame; glass and bond as tabled here."
OTHER_TOLERANCES = "General tolerances where none is stated: of the frame as agreed with the yard; glass and bond as tabled here."
GLASS_FROM_RECESS = "Outline of the glass worked out: the outline of the recess as given, less the joint width all round."
GENERAL_NOTES = (
    "Viewed from OUTSIDE. Sections are seen with the weather side up and the recess wall on the left.",
    "Sizes in mm. Size the recess and the pane to the figures, never by scaling. Check on site before manufacture.",
    "On the plan: V vertices, e edges, K chocks and blocks in the joint, S spacer blocks; UP: up the pane, FWD: towards the bow.",
    "The fitter's view of the glass, inner face up, is the mirror image of this plan.",
    (
        "Setting chocks, side and location blocks stand in the joint; their distances run along the edge from its first sharp corner, "
        "on a round pane along the edge from its lowest point, positive counter-clockwise."
    ),
    "The calculation record holds every sum behind the findings, movement, quantities and the time plan.",
    "Sizes marked worked out or default are not from a data sheet. They are proposals until the office confirms them.",
)

PLACES = "Their places stand in the tables; where rows are left out there, and for every edge, in the calculation record."

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
        "Not covered: acrylic, polycarbonate and other plastics; panes that take hull-girder deformation, fire-rated, underwater, "
        "bulwark or pool glazing. Escape windows, deadlights and storm covers are not shown."
    ),
    "Adhesive, activator, primer and sealant: one maker's proven system on this substrate and this frit; adhesion test first.",
    "Frit, paint or tape is the UV protection. Black primer alone is not.",
    "Isocyanates: one-part polyurethane, primers and activators may cause allergy or asthma. Trained persons only; gloves, goggles, air.",
    "Solvents and activators: highly flammable vapour. No flame, no sparks, forced air in cabins.",
    "Glass is heavy and sharp: cut gloves, wrist guards, safety shoes. Uncured adhesive does not hold glass.",
    "Local codes, class and flag rules and licensed practice come before this sheet. It is a calculated aid.",
)

DECK_LIGHT = "Deck light: horizontal glazing is not covered by ISO 11336-1; the foot load is to be designed. Keep off the pane until it is released."
REVERSE_RAKE = "Reverse rake: strap or prop the pane before letting go and keep the fall zone clear until the bead may carry it."
IN_HULL = "Light in the hull: its size and its deadlight are as the rule that governs requires; the deadlight is not shown here."


def frame_words(frame: str) -> str:
    """The frame in words a reader of the sheet knows."""
    return FRAMES.get(frame, frame)


def interlayer_words(kind: str) -> str:
    """The interlayer spelled out, with its short name."""
    return INTERLAYERS.get(kind, kind)


def outline_notes(detail: Detail) -> tuple[str, ...]:
    """How the outline of the glass came about, where it is not as it was typed: sheet, record and terminal say the same."""
    notes = [GLASS_FROM_RECESS] if detail.glass_from_recess else []
    if detail.drawn_straight:
        points = ", ".join(str(number) for number in detail.drawn_straight)
        notes.append(f"Outline: the sides from points {points} of the path rise under 0.001 mm and are drawn straight.")
    return tuple(notes)


def general_notes(detail: Detail) -> tuple[str, ...]:
    """The notes that stand on every sheet, with the general tolerances that suit the frame."""
    tolerances = METAL_TOLERANCES if detail.frame in METALS else OTHER_TOLERANCES
    return (*outline_notes(detail), *GENERAL_NOTES[:2], tolerances, *GENERAL_NOTES[2:])


def cautions(detail: Detail, pane: Pane, *, approval: str) -> tuple[str, ...]:
    """The cautions that stand on every sheet, and after the first of them those this pane needs."""
    own = [
        caution
        for caution, needed in (
            (DECK_LIGHT, detail.deck_light),
            (REVERSE_RAKE, detail.rake < 0),
            (IN_HULL, pane.in_hull),
        )
        if needed
    ]
    first, *rest = CAUTIONS
    return (first.format(approval=approval), *own, *rest)


__all__ = ["OVER_24_M", "PLACES", "UP_TO_24_M", "cautions", "frame_words", "general_notes", "interlayer_words", "outline_notes"]
