"""The standing words of a detail sheet: notes and cautions. What is for the hands of the fitter stands on his card."""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING

from geometry.incoming.surveyed import Surveyed
from outputs.sheet.drafting import number, on_paper

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from geometry.job import Pane
    from geometry.outline import Corner

LONGEST = 40
"""Signs of a word in a note."""
FRAMES = {
    "stainless": "stainless steel",
    "grp": "glass-reinforced plastic (GRP)",
    "cfrp": "carbon-fibre laminate (CFRP)",
    "timber along": "timber, along the grain",
    "timber across": "timber, across the grain",
    "frame": "material not named",
}
IN_SHORT = {"grp": "GRP", "cfrp": "CFRP", "timber along": "timber", "timber across": "timber", "frame": "not named"}

GLASS_FROM_RECESS = "Outline of the glass worked out: the outline of the recess as given, less the joint width all round."
AS_MADE = "Glass drawn as made, where its best fit in the recess puts it on its chocks."
GLASS_FROM_DAYLIGHT = (
    "Outline of the glass worked out: the daylight opening as given, wider all round by the landing less the joint width."
)
AS_MEASURED = "recess as measured"
FIRST = "Aid only, not an approval: local codes, class, flag and licensed practice come first."
APPROVAL = "Load-bearing or watertight bond: licensed engineer and class or flag approve. Ref.: {approval}"
PLACEHOLDERS = "Stress limits are placeholders unless typed in."
HAZARDS = (
    "CAUTION: isocyanates, flammable solvent vapour: air, gloves, no flame. Glass is heavy and sharp; "
    "the uncured bead does not hold it: prop, strap."
)
"""For everybody who reads the sheet; they stand at its head."""
NOTES = (
    "One proven adhesive system; test adhesion.",
    "Frit, paint or tape is the UV cover, primer is not.",
    "{chocks} Sections: weather side up.",
    "X, Y from O, {origin}. Frame: {tolerances}.",
)
CHOCKS_STAY, CHOCKS_GO = "Chocks stay in.", "Chocks come out: engineer confirms."
NOT_COVERED = "Not covered: plastics, fire-rated, underwater, pool and bulwark panes, deadlights, hull-girder deformation."

UP_TO_24_M = "Hull {length} m: ISO 12216 speaks of small craft up to 24 m; the office names the rule."
OVER_24_M = "Hull {length} m: over 24 m ISO 11336 speaks of glazed openings; the office names the rule."

DECK_LIGHT = "Deck light: outside ISO 11336-1; foot load to be designed. Keep off until released."
REVERSE_RAKE = "Reverse rake: strap or prop before letting go; fall zone clear until the bead carries."
IN_HULL = "Light in the hull: size and deadlight as the governing rule requires; deadlight not shown."


def frame_words(frame: str) -> str:
    """The frame in words a reader of the sheet knows."""
    return FRAMES.get(frame, frame)


def frame_in_short(frame: str) -> str:
    """The frame in a word, for a narrow column."""
    return IN_SHORT.get(frame, frame)


def outline_notes(detail: Detail, *, on_sheet: bool = False) -> tuple[str, ...]:
    """How the outline of the glass came about, where it is not as it was typed: sheet, record and terminal say the same.

    ``on_sheet``: with the sheets' decimal comma; record and terminal set their own sign.
    """
    notes = [GLASS_FROM_RECESS] if detail.glass_from_recess else [GLASS_FROM_DAYLIGHT] if detail.glass_from_daylight else []
    if detail.placed is not None:
        notes.append(AS_MADE)
    figure = on_paper if on_sheet else str
    notes += [figure(_tight(corner, detail.sizes.joint_width.value)) for corner in detail.tight_corners]
    if detail.daylight_radius is not None:
        notes.append(
            figure(
                f"The daylight opening has sharp corners: the glass has R {_figure(detail.daylight_radius)} there, the landing stays as wide."
            )
        )
    for what, incoming in detail.incoming:
        done = [*incoming.mended]
        if isinstance(incoming, Surveyed):
            done.append(f"points up to {_figure(round(incoming.deviation, 2))} mm off the lines and arcs fitted")
        elif incoming.deviation > 0:
            done.append(f"arcs within {_figure(_up(incoming.deviation))} mm of the curves drawn")
        source, mended = incoming.source, "; ".join(done)
        if on_sheet:
            source, mended = _on_sheet(source), on_paper(mended)
        notes.append(f"Outline of the {what} from {_fitting(source)}{': ' if done else ''}{_fitting(mended)}.")
    if detail.drawn_straight:
        points = ", ".join(str(number) for number in detail.drawn_straight)
        notes.append(figure(f"Outline: the sides from points {points} of the path rise under 0.001 mm and are drawn straight."))
    return tuple(notes)


def files_outside(detail: Detail) -> tuple[str, ...]:
    """That the office's defaults lie outside the job's folder; of drawings and surveys the notes on the outline say it."""
    name = detail.defaults_outside
    return (f"Office's defaults: reads {_fitting(name)}, outside the job's folder.",) if name else ()


def _tight(corner: Corner, joint: float) -> str:
    at = f"V{corner.number} of the recess has R {_figure(corner.radius)}"
    return f"{at}, less than the joint of {_figure(joint)}: the glass is sharp there and the joint wider."


def _fitting(text: str) -> str:
    """A sentence whose words fit the narrowest column: of a longer file name the middle is left out, the data of the record have it whole."""
    return " ".join(
        word if len(word) <= LONGEST else f"{word[: LONGEST // 2 - 2]}...{word[2 - LONGEST // 2 :]}" for word in text.split(" ")
    )


def _up(deviation: float) -> float:
    """A deviation to a ten-thousandth of a millimetre, upwards: what is told is never less than it is."""
    return math.ceil(deviation * 1e4 - 1e-9) / 1e4


def _figure(value: float) -> str:
    return f"{value:.4f}".rstrip("0").rstrip(".")


def _on_sheet(note: str) -> str:
    """A note with the sheets' decimal comma; its source may name a layer 1.2 or a text 3.1, and only its sizes are figures.

    >>> _on_sheet("Outline of the glass from v1.2.dxf, text 3.1: beside, leans 30.5 deg")
    'Outline of the glass from v1.2.dxf, text 3.1: beside, leans 30,5 deg'
    """
    return re.sub(r"(?<![\w.])(\d+)\.(\d+)(?= (?:deg|mm)\b)", r"\1,\2", note)


def cautions(detail: Detail, pane: Pane, *, approval: str) -> tuple[str, ...]:
    """What stands on every sheet, the gravest first; what this pane needs of its own stands third."""
    own = [
        caution
        for caution, needed in (
            (DECK_LIGHT, detail.deck_light),
            (REVERSE_RAKE, detail.rake < 0),
            (IN_HULL, pane.in_hull),
        )
        if needed
    ]
    return (FIRST, APPROVAL.format(approval=approval), *own, PLACEHOLDERS, NOT_COVERED)


def notes(detail: Detail, *, origin: str) -> tuple[str, ...]:
    """The notes that follow the cautions."""
    chocks = CHOCKS_STAY if detail.chocks_permanent else CHOCKS_GO
    standing = (note.format(chocks=chocks, origin=origin, tolerances=_frame_tolerances(detail)) for note in NOTES)
    return (*standing, *outline_notes(detail, on_sheet=True), *files_outside(detail))


def _frame_tolerances(detail: Detail) -> str:
    """The class that the job names for the frame, and how the size of its recess holds, as on the plan: by that class or without one."""
    held = f"recess ±{number(detail.recess_tolerance, decimals=4)}" if detail.recess_tolerance else AS_MEASURED
    return f"{detail.recess_standard}, {held}" if detail.recess_standard else held


def governing_note(hull_length: float | None) -> tuple[str, ...]:
    """Of which craft the standards speak: on the sheet where there is room, and in the calculation record always."""
    if hull_length is None:
        return ()
    governing = UP_TO_24_M if hull_length <= 24.0 else OVER_24_M
    return (governing.format(length=f"{hull_length:g}".replace(".", ",")),)


__all__ = [
    "HAZARDS",
    "OVER_24_M",
    "UP_TO_24_M",
    "cautions",
    "files_outside",
    "frame_in_short",
    "frame_words",
    "governing_note",
    "notes",
    "outline_notes",
]
