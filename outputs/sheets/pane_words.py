"""What the supplier's sheet says in words: make-up, standards, print, edge, findings on glass and print, questions, what must come back.

The supplier reads nothing of what holds the pane or of where it goes: a finding is told by what it asks of the glass or of the print.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.findings.corners import corner_checks, cut_out_checks
from geometry.findings.fit import frit_checks
from geometry.findings.holding import joint_checks
from geometry.ledger.finding import Verdict
from outputs.drawing.pane_figures import at_least
from outputs.sheet.drafting import number

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.findings.state import Flag
    from geometry.ledger.finding import Finding
    from outputs.sheets.recipe import Contents

STANDARDS = {
    "toughened": "EN 12150-1",
    "heat_strengthened": "EN 1863-1",
    "chemically_strengthened": "EN 12337-1",
    "annealed": "EN 572-2",
}
"""Standards of the kinds of glass (titles of the catalogue); of laminated glass EN ISO 12543 beside them."""
LAMINATED = "EN ISO 12543"
INTERLAYERS = {"pvb": "PVB", "ionoplast": "ionoplast", "eva": "EVA"}


def make_up(contents: Contents) -> str:
    """Plies and interlayers from outside in, and how the plies are treated."""
    glass = contents.pane.glass
    treated = glass.treatment.replace("_", " ")
    if len(glass.plies) == 1:
        return f"{number(glass.plies[0])} {treated}"
    words = number(glass.plies[0])
    for ply, layer in zip(glass.plies[1:], glass.interlayers, strict=True):
        words += f" + {number(layer)} {INTERLAYERS[glass.interlayer_material]} + {number(ply)}"
    return f"{words}, each ply {treated}"


def standards(contents: Contents) -> str:
    """As given in the job, else by the kind of glass."""
    given = contents.job.supplier.standard
    if given:
        return given
    own = STANDARDS[contents.pane.glass.treatment]
    return own if len(contents.pane.glass.plies) == 1 else f"{own}; {LAMINATED}"


def printed_face(contents: Contents) -> tuple[int, int]:
    """The face that is printed and how many there are; face 1 is outside."""
    glass = contents.pane.glass
    return glass.printed_face or glass.bond_face, glass.bond_face


def face_words(face: int, faces: int) -> str:
    """The printed face in words: ``face 4 (inner)``."""
    where = "outer" if face == 1 else "inner" if face == faces else "within the laminate"
    return f"face {face} ({where})"


def print_words(contents: Contents) -> tuple[str, str]:
    """Two lines: what is printed on which face, and from where to where."""
    sizes = contents.detail.sizes
    start, width, fade = sizes.frit_start.value, sizes.frit_width.value, sizes.frit_fade.value
    own = "its own inner edge" if contents.detail.frit_as_drawn else number(width)
    band = f"solid from {number(start)} to {own}, no fade"
    if fade:
        band = f"solid from {number(start)} to {number(width - fade)}, fade of dots to {own}"
    return f"solid black, opaque, on {face_words(*printed_face(contents))}", band


def edge_words(contents: Contents) -> str:
    """Edge work as given; the arris may not reach the print."""
    start = contents.detail.sizes.frit_start.value
    arris = f"arris at most {number(start)}: the print begins there" if start else "the print runs to the arris"
    return "; ".join(part for part in (contents.job.supplier.edge_work, arris) if part)


def questions(contents: Contents) -> str:
    """What the supplier is asked, what the job left blank first."""
    supplier, glass = contents.job.supplier, contents.pane.glass
    asked = [
        "" if supplier.edge_work else "edge work?",
        "" if supplier.stamp else "place of the stamp?",
        "bow and diagonals held to?",
        "least radius in glass and print?",
        "print and edge proof against solvent?",
        "printed face free of coating?",
        "step of plies held to?" if len(glass.plies) > 1 else "",
    ]
    return " ".join(each for each in asked if each)


def returned(contents: Contents, *, round_pane: bool, diagonals: bool) -> str:
    """What must come back with the pane."""
    sizes = "both axes" if round_pane else f"sides{', diagonals' if diagonals else ''}"
    step = ", step of plies" if len(contents.pane.glass.plies) > 1 else ""
    return f"drawing in this view before cutting; as made: {sizes}, thickness, bow{step}, print at 1 to 8; certificate."


def supplier_flags(contents: Contents) -> tuple[tuple[Flag, str], ...]:
    """The flags that concern glass and print, by the numbers that they have on every document, with what they ask of the supplier."""
    if contents.state is None:
        return ()
    found = []
    for flag in contents.state.flags:
        words = _ASKS.get(flag.finding.name)
        usual = next((name for name in _USUAL if flag.finding.name.startswith(f"{name} of a usual")), None)
        if flag.finding.value is None or flag.finding.limit is None:
            continue
        if words is not None:
            found.append((flag, words(flag.finding)))
        elif usual is not None:
            found.append((flag, f"{usual} {number(flag.finding.value)}: not a usual size"))
    return tuple(found)


def failing(flag: Flag) -> bool:
    """Whether the finding of a flag fails."""
    return flag.finding.verdict is Verdict.FAIL


def _solid(finding: Finding) -> str:
    return f"solid print {number(_value(finding), decimals=1)} at its least; {at_least(_limit(finding), 0.0)} wanted"


def _wider(finding: Finding) -> str:
    return f"print wider by {at_least(_limit(finding) - _value(finding), 0.0)} wanted"


def _corner(finding: Finding) -> str:
    more = at_least(_limit(finding) - _value(finding), 0.0)
    return f"print at {finding.part or 'the corners'} wider by {more} wanted, or its corner tighter"


def _radius(finding: Finding) -> str:
    return f"radius at {finding.part or 'the cut-out'} {number(_value(finding))}; {number(_limit(finding))} at least wanted"


def _cut_out(finding: Finding) -> str:
    return f"cut-out {number(_value(finding), decimals=1)} % of the pane; usual at most {number(_limit(finding), decimals=1)} %: can it be made?"


def _least_pane(finding: Finding) -> str:
    return f"short side {number(_value(finding), decimals=1)}; usual least {number(_limit(finding))}: can it be toughened?"


def _step(finding: Finding) -> str:
    return f"step of plies {number(_limit(finding))} against ±{number(_value(finding))} of the pane: can it be less?"


def _value(finding: Finding) -> float:
    return 0.0 if finding.value is None else finding.value


def _limit(finding: Finding) -> float:
    return 0.0 if finding.limit is None else finding.limit


_ASKS: dict[str, Callable[[Finding], str]] = {
    frit_checks.TWICE.name: _solid,
    frit_checks.COVER.name: _solid,
    frit_checks.SMALL_PRINT.name: _solid,
    frit_checks.HIDDEN.name: _wider,
    corner_checks.FRIT.name: _corner,
    cut_out_checks.RADIUS.name: _radius,
    cut_out_checks.SHARE.name: _cut_out,
    cut_out_checks.LEAST.name: _least_pane,
    joint_checks.STEP.name: _step,
}
_USUAL = ("pane", "ply of glass", "glass", "frit")


__all__ = [
    "edge_words", "face_words", "failing", "make_up", "print_words", "printed_face", "questions", "returned", "standards",
    "supplier_flags",
]  # fmt: skip
