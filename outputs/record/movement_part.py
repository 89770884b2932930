"""How bead and joint move from heat and weight: where the glass goes against the frame, and where the joint opens or closes.

Terms
-----
exaggerated
    Movements of tenths of a millimetre are drawn so many times larger; the factor stands under the picture.
worst case
    For the bead the temperature case with the largest shear; for the joint the cases in which its sealant is stretched and
    squeezed most.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline.loop import Point
from outputs.record.labels import Labels
from outputs.record.markup import Html, section, table, tag
from outputs.record.numbers import fixed, number
from outputs.record.pictures import BORDER, Frame, arrow, curve, frame_round, mm, outside_of, picture, spread

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Detail
    from geometry.findings.check import PaneCheck
    from geometry.workings.movement import CaseMovement, JointMovement

ARROW = 9.0  # paper mm of the longest arrow, about
APART = 12.0


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
        "The pane stands on its setting chocks. Where the frame grows away it is worked out twice, down on its chocks and lifted off "
        "them by the bead; the findings take the worse one."
        if movement.chocked
        else "No chock carries the pane for good: it is free on its bead, which carries the weight."
    )
    return section("Movement from heat and weight", tag("p", stands), _cases(cases), *parts, id_="movement")


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
    frame = frame_round(detail.curves.glass)
    factor = _factor(case.shear.largest * frame.scale)
    worst = case.stations[case.worst_shear_index]
    content = [
        curve(detail.curves.recess, frame, width=0.18),
        curve(detail.curves.glass, frame, width=0.35),
        curve(detail.curves.bead_centre, frame, width=0.1, stroke_dasharray="3 0.8 0.4 0.8"),
    ]
    points = [station.point for station in case.stations]
    chosen = dict.fromkeys((*spread(points, frame, apart=APART * 0.75), case.worst_shear_index))
    for index in chosen:
        station = case.stations[index]
        start = frame.at(*station.point)
        reach = frame.scale * factor
        end = Point(start.x + station.shear_x * reach, start.y - station.shear_y * reach)
        content.append(arrow(start, end, width=0.5 if index == case.worst_shear_index else 0.25))
    place = frame.at(*worst.point)
    content.append(tag("circle", cx=mm(place.x), cy=mm(place.y), r=1.4, fill="none", stroke="#1a1a1a", stroke_width=0.4))
    largest = f"{number(case.shear.largest, digits=3)} mm"
    told = (
        f"Movement of the glass against the frame at the bead, {case_name(case)}: frame {number(case.frame)} °C, glass "
        f"{number(case.glass)} °C. Arrows {factor} × exaggerated against the plan, which is {frame.ratio}. Ring: the largest, "
        f"{largest}, at {worst.edge}."
    )
    svg = picture("shear", "Movement of the bead", told, *content, width=frame.width, height=frame.height)
    return tag("figure", svg, tag("figcaption", told))


def _joint_picture(detail: Detail, case: CaseMovement, part: int) -> Html:
    """The glass edge with a band as wide as the joint moves: outside the edge where it opens, inside where it closes."""
    frame = frame_round(detail.curves.glass)
    largest = max((abs(joint.opening) for joint in case.joints), default=0.0)
    factor = _factor(largest * frame.scale)
    name = f"joint-{part}"
    line = tag("path", d="M0 1.4L1.4 0", stroke="#1d4568", stroke_width=0.25)
    content = [tag("defs", tag("pattern", line, id=f"{name}-hatch", width=1.4, height=1.4, patternUnits="userSpaceOnUse"))]
    points = [joint.point for joint in case.joints]
    labels = Labels()
    shown: list[Html] = []
    normals = [_normal(points, index) for index in range(len(points))]
    for opens, fill in ((True, "#f9c59b"), (False, f"url(#{name}-hatch)")):
        outer = [_beside(frame, joint, normal, factor, opens) for joint, normal in zip(case.joints, normals, strict=True)]
        inner = [frame.at(*point) for point in points]
        run = f"M{'L'.join(_xy(place) for place in outer)}ZM{'L'.join(_xy(place) for place in inner)}Z"
        content.append(tag("path", d=run, fill=fill, fill_rule="evenodd", stroke="#1a1a1a", stroke_width=0.12))
    content.append(curve(detail.curves.glass, frame, width=0.35))
    for index in spread(points, frame, apart=APART * 1.3):
        joint = case.joints[index]
        around = (points[index - 1], points[(index + 1) % len(points)])
        away = BORDER * 0.3 + max(0.0, joint.opening) * factor * frame.scale
        place, anchor = outside_of(points[index], *_apart(points[index], *around), frame, away=away)
        shown.append(labels.put(fixed(joint.opening, 2), place, anchor))
    told = (
        f"Joint in the case {case_name(case)}: shaded outside the glass edge where it opens, hatched inside where it closes, {factor} × "
        f"exaggerated against the plan, which is {frame.ratio}. Labels in mm, + opens, − closes."
    )
    svg = picture(name, "Movement of the joint", told, *content, tag("g", shown), width=frame.width, height=frame.height)
    return tag("figure", svg, tag("figcaption", told))


def _apart(point: Point, before: Point, after: Point) -> tuple[Point, Point]:
    """Two different places beside a point: at the ends of a straight side a place may stand twice."""
    first = before if math.dist(before, after) > 1e-6 else point
    return first, after


def _normal(points: Sequence[Point], index: int) -> Point:
    before, after = points[index - 1], points[(index + 1) % len(points)]
    length = math.dist(before, after)
    return Point(0.0, 0.0) if length < 1e-6 else Point((after.y - before.y) / length, -(after.x - before.x) / length)


def _beside(frame: Frame, joint: JointMovement, normal: Point, factor: float, opens: bool) -> Point:
    place = frame.at(*joint.point)
    moved = max(0.0, joint.opening) if opens else min(0.0, joint.opening)
    reach = moved * factor * frame.scale
    return Point(place.x + normal.x * reach, place.y - normal.y * reach)


def _xy(place: Point) -> str:
    return f"{mm(place.x)} {mm(place.y)}"


def _factor(largest: float) -> int:
    """A round factor (1, 2 or 5 with noughts) by which the largest movement, paper mm, becomes about ``ARROW``."""
    if largest <= 0.0:
        return 1
    wanted = ARROW / largest
    power = 10.0 ** math.floor(math.log10(wanted))
    return max(1, round(max(power * step for step in (1, 2, 5) if power * step <= wanted + 1e-9)))
