"""How bead and joint move from heat and weight: where the glass goes against the frame, and where the joint opens or closes.

Terms
-----
worst case
    For the bead the temperature case with the largest shear; for the joint the cases in which its sealant is stretched and
    squeezed most.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline import bounding_box
from outputs.drawing.movement_view import LAYERS, exaggeration, joint_marks, shear_marks
from outputs.record.markup import Html, section, table, tag
from outputs.record.numbers import fixed, number
from outputs.record.pictures import STYLE, Laid, figure, height_of, in_the_middle, ratio, scale_for, width_of
from outputs.sheet.pencil import Pencil

BAND = 4.0  # the band of the joint is drawn this much narrower than an arrow of the bead is long

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Detail
    from geometry.findings.check import PaneCheck
    from geometry.workings.movement import CaseMovement


def movement_section(check: PaneCheck) -> Html:
    """Table of the cases, the shear of the bead in the worst case, the joint all round."""
    movement = check.movement
    if movement is None:
        return section("Movement from heat and weight", tag("p", "Not worked out in this run."), id_="movement")
    cases = list(movement.all_cases())
    sheared = max(cases, key=lambda case: case.shear.largest)
    parts = [_shear_picture(check.subject.detail, sheared)]
    opened = max(cases, key=lambda case: max((joint.opening for joint in case.joints), default=0.0))
    closed = min(cases, key=lambda case: min((joint.opening for joint in case.joints), default=0.0))
    for case in (opened,) if opened is closed else (opened, closed):
        parts.append(_joint_picture(check.subject.detail, case, len(parts)))
    stands = (
        "The pane stands on its chocks. Where the frame grows away it is worked out down on them and lifted off by the bead; the "
        "findings take the worse."
        if movement.chocked
        else "No chock carries the pane for good: it is free on its bead, which carries the weight."
    )
    return section(
        "Movement from heat and weight", tag("p", stands), _cases(cases), tag("div", parts, class_="pictures"), id_="movement"
    )


def case_name(case: CaseMovement) -> str:
    """The case with its assumption."""
    return f"{case.name}, lifted off its chocks" if case.lifted else case.name


def _cases(cases: Sequence[CaseMovement]) -> Html:
    rows = []
    for case in cases:
        worst = case.stations[case.worst_shear_index]
        openings = [joint.opening for joint in case.joints]
        strains = [joint.strain for joint in case.joints]
        rows.append(
            (
                case_name(case),
                number(case.frame),
                number(case.glass),
                number(1000 * case.differential_strain),
                number(case.shear.largest, digits=3),
                f"{worst.edge} ({number(round(worst.point.x, 0))}; {number(round(worst.point.y, 0))})",
                number(100 * case.shear.shear_strain, digits=3),
                f"{fixed(max(openings), 2)} / {fixed(min(openings), 2)}",
                f"{_percent(max(strains))} / {_percent(min(strains))}",
            )
        )
    headings = (
        "temperature case",
        "frame, °C",
        "glass, °C",
        "frame grows more than glass, mm/m",
        "bead shears at most, mm",
        "where (X; Y)",
        "shear strain, %",
        "joint opens / closes, mm",
        "sealant stretched / squeezed, %",
    )
    return table("Temperature cases", headings, rows, numbers=(1, 2, 3, 4, 6, 7, 8))


def _percent(strain: float) -> str:
    return fixed(100 * strain, 1) if math.isfinite(strain) else "no joint left"


def _shear_picture(detail: Detail, case: CaseMovement) -> Html:
    outline = bounding_box(detail.curves.recess)
    scale = scale_for(outline)
    factor = exaggeration(case.shear.largest * scale)
    view = in_the_middle("shear", shear_marks(detail, case, Pencil(STYLE, scale), factor), scale, outline=outline)
    worst = case.stations[case.worst_shear_index]
    told = (
        f"Movement of the glass against the frame at the bead, {case_name(case)}: frame {number(case.frame)} °C, glass "
        f"{number(case.glass)} °C. Arrows {factor} × exaggerated against the plan, {ratio(scale)}. Ring: the largest, "
        f"{number(case.shear.largest, digits=3)} mm, at {worst.edge}."
    )
    return figure(
        "shear", "Movement of the bead", told, told, Laid((view,), height_of(view), layers=LAYERS), width=width_of(view)
    )


def _joint_picture(detail: Detail, case: CaseMovement, part: int) -> Html:
    """The glass edge with a band as wide as the joint moves: outside the edge where it opens, inside where it closes."""
    outline = bounding_box(detail.curves.recess)
    scale = scale_for(outline)
    factor = exaggeration(BAND * max((abs(joint.opening) for joint in case.joints), default=0.0) * scale)
    marks = joint_marks(detail, case, Pencil(STYLE, scale), factor, lambda opening: fixed(opening, 2))
    view = in_the_middle("joint", marks, scale, outline=outline)
    told = (
        f"Joint in the case {case_name(case)}: shaded outside the glass edge where it opens, hatched inside where it closes, {factor} × "
        f"exaggerated against the plan, {ratio(scale)}. Labels: mm, + opens, − closes."
    )
    return figure(
        f"joint-{part}", "Movement of the joint", told, told, Laid((view,), height_of(view), layers=LAYERS), width=width_of(view)
    )


__all__ = ["case_name", "movement_section"]
