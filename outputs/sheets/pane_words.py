"""What the supplier's sheet says in words: make-up, standards, print, edge, findings on glass and print, questions, what must come back.

The supplier reads nothing of what holds the pane or of where it goes: a finding is told by what it asks of the glass or of the print.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.findings import odd_sizes
from geometry.findings.corners import corner_checks, cut_out_checks
from geometry.findings.fit import frit_checks
from geometry.findings.holding import joint_checks
from geometry.ledger.finding import Verdict
from geometry.outline import corners
from outputs.drawing.pane_figures import TENTHS, at_least, nearest
from outputs.drawing.pane_flags import ROUND, WHOLE, PaneFlag
from outputs.sheet.drafting import number

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.findings.state import Flag
    from geometry.job import Job, Pane
    from geometry.ledger.finding import Finding
    from outputs.sheets.contents import Contents

TOUGHENED = "toughened"
"""The one treatment after which glass is heat soaked."""
STANDARDS = {
    TOUGHENED: "EN 12150-1",
    "heat_strengthened": "EN 1863-1",
    "chemically_strengthened": "EN 12337-1",
    "annealed": "EN 572-2",
}
"""Standards of the kinds of glass (titles of the catalogue); of laminated glass EN ISO 12543 beside them."""
SOAKED = "EN 14179-1"  # heat soaked thermally toughened glass (title of the catalogue)
LAMINATED = "EN ISO 12543"
MOST_RADII = 2  # of the inner edge of the print that are told one by one; of more the least and the greatest
INTERLAYERS = {"pvb": "PVB", "ionoplast": "ionoplast", "eva": "EVA"}


def make_up(contents: Contents) -> str:
    """Plies and interlayers from outside in, and how the plies are treated; which is first is said where it matters."""
    glass = contents.pane.glass
    treated = glass.treatment.replace("_", " ")
    if glass.heat_soaked is not None:
        treated += ", heat soaked" if glass.heat_soaked else ", not heat soaked"
    words = number(glass.plies[0])
    if len(glass.plies) == 1:
        return f"{words} {treated}"
    for ply, layer in zip(glass.plies[1:], glass.interlayers, strict=True):
        words += f" + {number(layer)} {INTERLAYERS[glass.interlayer_material]} + {number(ply)}"
    alike = (glass.plies, glass.interlayers) == (glass.plies[::-1], glass.interlayers[::-1])
    return f"{words} {treated}" if alike else f"{words} {treated}, outside first"


def standards(contents: Contents) -> str:
    """As given in the job, else by the kind of glass."""
    return standard_words(contents.job, contents.pane)


def standard_words(job: Job, pane: Pane) -> str:
    """The standards of a pane's glass: as given in the job, else by its kind."""
    given = job.supplier.standard
    if given:
        return given
    glass = pane.glass
    own = SOAKED if glass.heat_soaked and glass.treatment == TOUGHENED else STANDARDS[glass.treatment]
    return own if len(glass.plies) == 1 else f"{own}; {LAMINATED}"


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
    radii = sorted({round(corner.radius, 3) for corner in corners(contents.detail.curves.frit_inner)})
    printed = [f"R{number(radius, decimals=1)}" for radius in radii]
    told = (
        f", corners {(' ' if len(printed) <= MOST_RADII else ' to ').join(dict.fromkeys((printed[0], printed[-1])))}"
        if printed
        else ""
    )
    solid = (
        f"solid {number(start)} to {number(width - fade)}"
        if fade or not contents.detail.frit_as_drawn
        else f"solid from {number(start)}"
    )
    if contents.detail.frit_as_drawn:
        end = f"{', dots' if fade else ''} to an inner edge of its own"
    else:
        end = f"{f', dots to {number(width)}' if fade else ''}{'' if fade and told else ' from the edge'}"
    band = f"{solid}{end}{told}"
    opacity = contents.pane.frit.opacity
    held = "opaque as on the order" if opacity is None else f"opacity {number(opacity)} % at least"
    return f"black, {held}, {face_words(*printed_face(contents))}", band


def edge_words(contents: Contents) -> str:
    """Edge work and arris as given; where no arris is ordered it may not reach the print."""
    start, ordered = contents.detail.sizes.frit_start.value, contents.pane.glass.arris
    given = contents.job.supplier.edge_work
    if ordered is not None:
        arris = f"arris {number(ordered)} × 45°"
        where = f"print from {number(start)}" if start else "the print runs to it"
    else:
        arris = f"arris at most {number(start)}" if start else "the print runs to the arris"
        where = "the print begins there" if start else ""
    return f"{given}; {arris}" if given else f"{arris}: {where}" if where else arris


def diagonal_words(
    over: tuple[tuple[str, float], ...], ordered: float | None, tolerance: float, *, alike: bool
) -> tuple[str, ...]:
    """What a tape finds along the diagonals over the arcs of their corners (names and mm; none where all corners are sharp), and how much
    their difference may be off, where that is ordered: in several wordings, the fullest first. ``alike``: they are drawn as long as one another.
    """
    told = ", ".join(f"{name} {nearest(length, tolerance)}" for name, length in over)
    held = "" if ordered is None else f"may differ by {number(ordered)}" if alike else f"difference ±{number(ordered)}"
    if not (over and held):
        return (f"over the arcs {told}" if over else held,)
    short = f"both {nearest(over[0][1], tolerance)}" if alike else told
    return f"over the arcs {short}; {held}", f"{short} over arcs, {held}", held


def held_sizes(tolerance: float) -> str:
    """How the sizes of the pane hold; those of a pane that is made and measured bear no deviation."""
    return f"sizes ±{number(tolerance)}" if tolerance else "sizes as made"


def seen_words(contents: Contents) -> str:
    """From where the view is seen, where the print is, and whether the sizes are measured ones."""
    face, faces = printed_face(contents)
    seen = "seen through the glass" if face > 1 else "looks at you"
    made = "" if contents.detail.pane_tolerance else "; as made, measured"
    return f"from OUTSIDE; print on {face_words(face, faces)}, {seen}{made}"


def questions(contents: Contents, *, diagonals: bool) -> tuple[str, ...]:
    """What the supplier is asked, the most telling first: what the job left blank, then what he alone knows."""
    supplier, pane = contents.job.supplier, contents.pane
    glass, start = pane.glass, contents.detail.sizes.frit_start.value
    unclear = glass.heat_soaked is None if glass.treatment == TOUGHENED else bool(glass.heat_soaked)
    asked = (
        "" if supplier.edge_work else "edge work",
        "arris" if glass.arris is None else "print on the arris" if 0.0 < start < glass.arris else "",
        "heat soak" if unclear else "",
        "opacity" if pane.frit.opacity is None else "",
        "" if supplier.stamp else "stamp",
        "bow",
        "diagonals" if diagonals and pane.tolerances.diagonals is None else "",
        "step of plies" if len(glass.plies) > 1 else "",
        *KNOWS,
    )
    return tuple(each for each in asked if each)


KNOWS = ("least radii", "solvent on print", "coating")
"""What the supplier alone knows: of all questions these give way first."""


def returned(contents: Contents, *, round_pane: bool, diagonals: bool) -> str:
    """What must come back, before the glass is cut and with the pane."""
    sizes = "both axes" if round_pane else f"sides{', diagonals' if diagonals else ''}"
    step = ", step" if len(contents.pane.glass.plies) > 1 else ""
    return f"Return: this view drawn, before cutting; as made {sizes}, thickness, bow{step}, print at 1 to 8."


def files(contents: Contents) -> str:
    """The full-size files that go with the sheet; where a size and a file differ by rounding, the file holds."""
    stem = contents.pane.file_stem
    return f"Full size, these hold: {stem}-glass.dxf to cut; {stem}-print.dxf, .pdf; {stem}-print-mirrored.dxf, .pdf"


@dataclass(frozen=True, slots=True)
class Ask:
    """What one or several flags ask of the supplier, in words."""

    flags: tuple[Flag, ...]
    words: str


def supplier_asks(contents: Contents) -> tuple[Ask, ...]:
    """What the flags on glass and print ask, those that ask the same together, by the numbers that they have on every document."""
    grouped: dict[Callable[[Finding], str] | str, list[Flag]] = {}
    for flag in () if contents.state is None else contents.state.flags:
        finding = flag.finding
        usual = next((name for name in _USUAL if finding.name in odd_sizes.names_of(name)), None)
        asks = _ASKS.get(finding.name, usual)
        if asks is not None and finding.value is not None and finding.limit is not None:
            grouped.setdefault(asks, []).append(flag)
    found = []
    for asks, flags in grouped.items():
        worst = max((flag.finding for flag in flags), key=lambda each: abs(_limit(each) - _value(each)))
        words = asks(worst) if callable(asks) else f"{asks} {number(_value(worst))}: not a usual size"
        found.append(Ask(tuple(flags), words))
    return tuple(found)


def supplier_flags(contents: Contents) -> tuple[Flag, ...]:
    """The flags that concern glass and print."""
    return tuple(sorted((flag for ask in supplier_asks(contents) for flag in ask.flags), key=lambda flag: flag.number))


def pane_flags(contents: Contents) -> tuple[PaneFlag, ...]:
    """The flags that concern glass and print, as the view draws them."""
    found = []
    for flag in supplier_flags(contents):
        finding = flag.finding
        of_print = finding.name in _OF_PRINT or finding.name in odd_sizes.names_of("frit")
        holds = ROUND if of_print or finding.name == joint_checks.STEP.name else WHOLE
        at = None if finding.at is None else contents.on_the_pane(finding.at)
        found.append(PaneFlag(flag.number, failing(flag), at, of_print, holds))
    return tuple(found)


def failing(flag: Flag) -> bool:
    """Whether the finding of a flag fails."""
    return flag.finding.verdict is Verdict.FAIL


def _solid(finding: Finding) -> str:
    return f"solid print {at_least(_value(finding), TENTHS)} at its least; {at_least(_limit(finding), TENTHS)} wanted"


def _wider(finding: Finding) -> str:
    return f"print {at_least(_limit(finding) - _value(finding), TENTHS)} wider hides what lies behind it"


def _corner(finding: Finding) -> str:
    more = at_least(_limit(finding) - _value(finding), TENTHS)
    return f"print wider by {more} at {finding.part or 'the corners'} wanted"


def _radius(finding: Finding) -> str:
    return f"radius at {finding.part or 'the cut-out'} is {number(_value(finding))}; {number(_limit(finding))} at least wanted"


def _cut_out(finding: Finding) -> str:
    share, usual = number(_value(finding), decimals=1), number(_limit(finding), decimals=1)
    return f"cut-out {share} % of the side, usual {usual}: possible?"


def _least_pane(finding: Finding) -> str:
    return f"short side {number(_value(finding), decimals=1)}, usual least {number(_limit(finding))}: possible?"


def _step(finding: Finding) -> str:
    return f"step of plies up to {number(_limit(finding))}, pane ±{number(_value(finding))}: less?"


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
_OF_PRINT = {
    each.name for each in (frit_checks.TWICE, frit_checks.COVER, frit_checks.SMALL_PRINT, frit_checks.HIDDEN, corner_checks.FRIT)
}
_USUAL = ("pane", "ply of glass", "glass", "frit")


__all__ = [
    "KNOWS",
    "Ask",
    "diagonal_words",
    "edge_words",
    "face_words",
    "failing",
    "files",
    "held_sizes",
    "make_up",
    "pane_flags",
    "print_words",
    "printed_face",
    "questions",
    "returned",
    "seen_words",
    "standard_words",
    "standards",
    "supplier_asks",
    "supplier_flags",
]  # fmt: skip
