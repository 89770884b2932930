"""A returned drawing compared with the pane that was issued: everything that is told of it, worked out once.

Terms
-----
issued
    The pane of the job as its sheets and files show it.
finding
    As of a pane: what must hold, the value, its limit, the verdict. What lines cannot tell is not checked, never passed.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from geometry.incoming.units import MILLIMETRES
from geometry.ledger.figure import Ledger
from geometry.ledger.finding import Constraint, Finding, Side, Verdict, outcome_of
from geometry.outline import Point, point_in
from geometry.outline.loop import number
from geometry.returned import print_findings
from geometry.returned.differences import Deviation, Differences, differences
from geometry.returned.named_sizes import CornerMove, NamedSize, corner_moves, named_sizes
from geometry.returned.search import Issued, Returned, Search, found_in
from geometry.returned.words import Asked, Quoted, Says, quoted
from geometry.rules.calculation import Status
from geometry.rules.rounding import mm
from geometry.workings.section_sums import spot

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from geometry.incoming.whole import Whole
    from geometry.returned.print_findings import SolidFrit
    from geometry.workings.subject import Subject

NOTHING = 5e-4
"""mm under which a deviation is the rounding of a file."""
FEW_WORDS = 3
"""Words of a text that may be the mark itself; a longer one speaks of it."""
PRACTICE = "common practice, no source"
MIRRORED = Constraint(
    "drawn from the side that was issued", source="the issued drawing is seen from outside", status=Status.GIVEN, unit=""
)
SIZES = Constraint(
    "sizes as issued", side=Side.AT_MOST, source=PRACTICE, status=Status.COMMON_PRACTICE, limit_key="limits.outline_difference"
)
OUTLINE = Constraint(
    "outline as issued", side=Side.AT_MOST, source=PRACTICE, status=Status.COMMON_PRACTICE, limit_key="limits.outline_difference"
)
PRINT = Constraint(
    "print as issued", side=Side.AT_MOST, source=PRACTICE, status=Status.COMMON_PRACTICE, limit_key="limits.print_difference"
)
FACE = Constraint("words of the printed face as asked", source="words on the returned drawing", status=Status.GIVEN, unit="")
MARK = Constraint("words of the permanent mark as asked", source="words on the returned drawing", status=Status.GIVEN, unit="")


@dataclass(frozen=True)
class Comparison:
    """A returned drawing and the pane: how it was laid, sizes first, then deviations, the solid print, words, and what holds."""

    subject: Subject
    file: str
    issued: Issued
    returned: Returned
    sizes: tuple[NamedSize, ...]
    corners: tuple[CornerMove, ...]
    outline: Differences | None
    solid: SolidFrit | None
    print_edge: Differences | None
    fade_end: Differences | None
    words: tuple[Quoted, ...]
    findings: tuple[Finding, ...]
    notes: tuple[str, ...]

    @property
    def verdict(self) -> Verdict:
        """What the drawing comes to, as of a pane."""
        return outcome_of(self.findings)

    @property
    def laid(self) -> str:
        """How the drawing was laid on the pane, in words: unit, mirror, turn, shift and how much of it agrees."""
        alignment, move = self.returned.alignment, self.returned.alignment.move
        unit = alignment.unit.told if alignment.unit else f"{number(alignment.size)} mm for one unit"
        origin = move.back(Point(0.0, 0.0))
        parts = [
            unit,
            "mirrored" if move.mirrored else "not mirrored",
            f"turned by {number(round(move.turned, 3))}°",
            f"the pane's origin at ({number(origin.x)}, {number(origin.y)}) of the drawing",
            f"{100 * alignment.agreeing:.0f} % of its line within {mm(self.outline.limit if self.outline else self.limit)}",
        ]
        return ", ".join(parts)

    @property
    def limit(self) -> float:
        """Of the outline, mm."""
        return float(self.subject.limit("outline_difference").value)


def issued_of(subject: Subject) -> Issued:
    """What was asked for of a pane."""
    curves = subject.detail.curves
    solid = curves.frit_fade or curves.frit_inner
    return Issued(subject.pane.code, curves.glass, solid, curves.frit_inner if curves.frit_fade is not None else None)


def search_of(
    subject: Subject, whole: Whole, *, names: Mapping[str, str], others: Sequence[str], at: tuple[float, float] | None = None
) -> Search:
    """What a drawing is looked through for; ``names`` are the office's names of our layers, ``others`` our layers of other things."""
    outline, edge = (float(subject.limit(name).value) for name in ("outline_difference", "print_difference"))
    return Search(whole, issued_of(subject), names, others, outline, edge, at)


def compare(subject: Subject, search: Search) -> Comparison:
    """Compare a returned drawing with the pane. Raises ``IncomingError`` where no outline, or more than one, could be the pane."""
    issued, returned, ledger = search.issued, found_in(search), Ledger()
    limits = {name: float(subject.limit(name).value) for name in ("outline_difference", "print_difference")}
    sizes: tuple[NamedSize, ...] = ()
    corners: tuple[CornerMove, ...] = ()
    outline = None
    if returned.glass is not None:
        sizes = named_sizes(issued.glass, returned.glass, limit=limits["outline_difference"])
        corners = corner_moves(issued.glass, returned.glass)
        outline = differences(issued.glass, returned.glass, limit=limits["outline_difference"])
    print_edge = fade_end = None
    if returned.solid is not None:
        print_edge = differences(issued.solid, returned.solid, limit=limits["print_difference"], pane=issued.glass)
    if returned.fade_end is not None and issued.fade_end is not None:
        fade_end = differences(issued.fade_end, returned.fade_end, limit=limits["print_difference"], pane=issued.glass)
    solid = print_findings.solid_frit_of(subject, ledger, returned)
    glass = subject.pane.glass
    asked = Asked(glass.printed_face or glass.bond_face, glass.bond_face, subject.job.supplier.stamp)
    words = quoted(search.whole.texts, returned.alignment.move, asked)
    findings = (
        _mirrored(returned, words),
        *_of_outline(sizes, outline),
        *_of_print(print_edge, fade_end),
        *print_findings.findings(subject, ledger, returned, solid),
        _of_face(words),
        _of_mark(words, issued, returned, asked),
    )
    notes = (*_notes(search, returned), *returned.notes)
    return Comparison(
        subject, search.whole.name, issued, returned, sizes, corners, outline, solid, print_edge, fade_end, words, findings, notes
    )


def _mirrored(returned: Returned, words: tuple[Quoted, ...]) -> Finding:
    alignment = returned.alignment
    said = [each for each in words if each.topic == "view" and each.says is Says.LOOK]
    if alignment.move.mirrored:
        told = f"; its words: “{said[0].text}”" if said else ""
        return MIRRORED.judged(
            value=0.0,
            limit=1.0,
            says=f"the drawing is mirrored{told}; it was turned over to be compared, and it is wrong as it is",
        )
    if not alignment.symmetry.mirrored or returned.print_tells:
        if said:
            says = f"not mirrored, but its words say the other: “{said[0].text}”; one of the two is wrong"
            return MIRRORED.judged(value=0.5, limit=0.5, look=1.0, at=said[0].at, says=says)
        return MIRRORED.judged(value=1.0, limit=1.0, says="not mirrored")
    why = "the outline is its own mirror image, no line tells the outside from the inside"
    if said:
        return MIRRORED.judged(value=0.5, limit=0.5, look=1.0, at=said[0].at, says=f"{why}; its words: “{said[0].text}”")
    return print_findings.untold(MIRRORED, why)


def _of_outline(sizes: tuple[NamedSize, ...], outline: Differences | None) -> tuple[Finding, ...]:
    if outline is None:
        nothing = "the drawing shows no edge of the glass"
        return print_findings.untold(SIZES, nothing, decides=True), print_findings.untold(OUTLINE, nothing, decides=True)
    over = [size for size in sizes if size.over]
    worst = max(sizes, key=lambda size: abs(size.difference) if size.difference is not None else 1e9)
    if worst.difference is None:
        value, says = worst.issued, f"{worst.name}: {mm(worst.issued)} issued, not to be found in the drawing"
    else:
        value, says = abs(worst.difference), f"{worst.name}: {mm(worst.issued)} issued, {mm(worst.returned or 0.0)} returned"
    others = [size.name for size in over if size is not worst]
    says += f"; also {', '.join(others)}" if others else ""
    greatest = outline.greatest
    told = _away(greatest)
    return (
        SIZES.judged(value=value, limit=worst.limit, where=" to ".join(worst.parts), says=says),
        OUTLINE.judged(
            value=abs(greatest.amount), limit=outline.limit, where=greatest.part, at=greatest.at, part=greatest.part, says=told
        ),
    )


def _away(deviation: Deviation) -> str:
    if abs(deviation.amount) < NOTHING:
        return "no difference"
    side = "outside" if deviation.amount > 0 else "inside"
    return f"{mm(abs(deviation.amount))} {side} the issued line at {spot(deviation.at)}"


def _nearer(deviation: Deviation) -> str:
    """Of an inner edge of the print: what lies outside it is nearer to the glass edge."""
    if abs(deviation.amount) < NOTHING:
        return "no difference"
    way = "nearer to the glass edge" if deviation.amount > 0 else "further in"
    return f"{mm(abs(deviation.amount))} {way} than issued at {spot(deviation.at)}"


def _of_print(edge: Differences | None, fade_end: Differences | None) -> tuple[Finding, ...]:
    found = [(each, name) for each, name in ((edge, "solid edge"), (fade_end, "end of the fade")) if each is not None]
    if not found:
        return ()
    worst, name = max(found, key=lambda each: abs(each[0].greatest.amount))
    greatest = worst.greatest
    says = f"{name}: {_nearer(greatest)}"
    return (
        PRINT.judged(
            value=abs(greatest.amount), limit=worst.limit, where=greatest.part, at=greatest.at, part=greatest.part, says=says
        ),
    )


def _of_face(words: tuple[Quoted, ...]) -> Finding:
    return _of_words(FACE, [each for each in words if each.topic == "face"], "no words of the drawing say which face is printed")


def _of_words(must: Constraint, words: list[Quoted], missing: str) -> Finding:
    for says, value in ((Says.CONTRADICTS, 0.0), (Says.LOOK, 0.5), (Says.AGREES, 1.0)):
        said = next((each for each in words if each.says is says), None)
        if said is not None:
            look = None if says is Says.CONTRADICTS else 1.0
            limit = 1.0 if says is Says.CONTRADICTS else 0.5
            return must.judged(value=value, limit=limit, look=look, at=said.at, says=f"“{said.text}”; {said.why}")
    return print_findings.untold(must, missing if not words else f"{words[0].why}; the drawing says “{words[0].text}”")


def _of_mark(words: tuple[Quoted, ...], issued: Issued, returned: Returned, asked: Asked) -> Finding:
    marks = [each for each in words if each.topic == "mark"]
    missing = (
        f"no words of the drawing speak of it; asked for: {asked.mark}"
        if asked.mark
        else "neither the job nor the drawing says where it stands"
    )
    found = _of_words(MARK, marks, missing)
    clear = returned.solid or issued.solid
    inside = [each for each in marks if len(each.text.split()) <= FEW_WORDS and point_in(clear, each.at)]
    return replace(found, says=f"{found.says}; “{inside[0].text}” stands in the clear view") if inside else found


def _notes(search: Search, returned: Returned) -> tuple[str, ...]:
    notes = []
    unit, header = returned.alignment.unit, search.whole.header
    stated = MILLIMETRES.get(header.name)
    if unit is not None and stated is not None and abs(stated - unit.scale) > 1e-9 * stated:
        notes.append(f"the header states {header.words}, the sizes say {unit.name}")
    if unit is not None and stated is None:
        notes.append(f"the header states {header.words}; the sizes say {unit.name}")
    told = returned.alignment.turned_over()
    if told:
        notes.append(f"the issued outline is the same {told}: its lines do not tell how the drawing stands")
    if search.whole.repairs:
        notes.append("the file is damaged and was repaired to be read")
    if search.whole.space != "the model":
        notes.append(f"the model space is empty; compared is the layout {search.whole.space}")
    return tuple(notes)


__all__ = ["Comparison", "compare", "issued_of", "search_of"]
