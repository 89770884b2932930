"""The joint beside a recess with an outline of its own, all round: diagram, stations; and what was surveyed, edge by edge and point by point.

Of a recess that follows the pane there is nothing to tell: its joint is the same all round.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from geometry.outline import bounding_box
from geometry.workings.joint_round import joint_round_of
from geometry.workings.surveyed_recess import survey_of, surveyed_recess_of
from outputs.drawing.joint_diagram import LAYERS, joint_diagram, joint_plan
from outputs.record.markup import Html, section, table, tag
from outputs.record.numbers import fixed, number
from outputs.record.parts import in_columns
from outputs.record.pictures import STYLE, WIDTH, Laid, figure, height_of, in_the_middle, ratio, scale_for, width_of
from outputs.sheet.pencil import Pencil

if TYPE_CHECKING:
    from geometry.findings.check import PaneCheck
    from geometry.incoming.surveyed import Surveyed
    from geometry.workings.joint_round import JointPlace, JointRound
    from geometry.workings.surveyed_recess import SurveyedRecess

MOST_ROWS = 200
ACROSS_STATIONS = 2  # columns of the stations, beside the plan
ACROSS, UP = WIDTH - 24.0, 23.0  # paper mm of the diagram's axes


def _mm(value: float, decimals: int) -> str:
    """A size with so many decimals, a plus sign left out."""
    return fixed(value, decimals).removeprefix("+")


def joint_section(check: PaneCheck) -> Html | None:
    """Diagram and tables; None where the recess follows the pane."""
    subject = check.subject
    if subject.pane.recess_outline is None:
        return None
    joint, survey, recess = joint_round_of(subject), survey_of(subject), surveyed_recess_of(subject)
    told = (
        f"The joint is narrowest at {joint.least.name}, {_mm(joint.least.width, 2)} mm, and widest on a straight at {joint.widest.name}, "
        f"{_mm(joint.widest.width, 2)} mm. Widths: true distances from glass edge to recess wall."
    )
    parts: list[Any] = [
        tag("p", told),
        _picture(check, joint),
        tag("div", _plan(check, joint), _stations(joint, float(subject.limit("backer_oversize").value)), class_="beside"),
    ]
    if survey is not None and recess is not None:
        parts += [*_survey(survey), *_points(recess)]
    return section("The joint all round", *parts, id_="joint-round")


def _picture(check: PaneCheck, joint: JointRound) -> Html:
    designed, least = check.subject.sizes.joint_width.value, float(check.subject.limit("joint_least").value)
    marks = joint_diagram(
        joint, Pencil(STYLE, 1.0), corner=(0.0, 0.0), width=ACROSS, height=UP, designed=designed, least_left=least
    )
    view = in_the_middle("joint-run", marks, 1.0, outline=None, width=WIDTH)
    told = (
        "Joint width, mm, along the glass edge rolled out counter-clockwise from its first vertex, seen from outside. Dashed: as designed, "
        f"{number(designed)} mm. Dash-dotted: what must be left, {number(least)} mm. Ring: the narrowest place."
    )
    return figure("joint-run", "Joint all round", told, told, Laid((view,), height_of(view), layers=LAYERS), width=WIDTH)


def _plan(check: PaneCheck, joint: JointRound) -> Html:
    detail = check.subject.detail
    outline = bounding_box(detail.curves.recess)
    scale = scale_for(outline)
    marks = joint_plan(detail, joint, Pencil(STYLE, scale), lambda width: _mm(width, 2))
    view = in_the_middle("joint-plan", marks, scale, outline=outline)
    told = (
        f"Recess and glass edge, seen from outside, {ratio(scale)}; the joint width, mm, at stations. Ring: the narrowest place, "
        f"{_mm(joint.least.width, 2)} mm at {joint.least.name}."
    )
    caption = f"Recess and glass edge, seen from outside, {ratio(scale)}; joint width, mm, at stations. Ring: narrowest."
    return figure(
        "joint-plan", "Joint at stations", told, caption, Laid((view,), height_of(view), layers=LAYERS), width=width_of(view)
    )


def _stations(joint: JointRound, oversize: float) -> Html:
    """The joint at every station, and the round backer that it would take there: none in a surveyed corner that the glass does not follow."""

    def backer(width: float) -> str:
        return _mm(width * oversize, 1) if 0.0 < width <= joint.widest.width + 0.05 else ""

    rows = [(each.name, _mm(each.at.x, 1), _mm(each.at.y, 1), _mm(each.width, 2), backer(each.width)) for each in joint.stations]
    return in_columns(
        "Joint at stations, mm", ("station", "X", "Y", "joint", "backer, Ø"), rows, ACROSS_STATIONS, class_="blocks"
    )


def _survey(survey: Surveyed) -> list[Html]:
    """The edges with what was fitted to them; the plane; what was done with the points."""
    rows = [
        (
            edge.name,
            "straight" if edge.radius is None else "curved",
            "" if edge.radius is None else _mm(edge.radius, 1),
            "" if edge.spread is None else _mm(edge.spread, 1),
            _mm(edge.off, 2),
            str(len(edge.points)),
        )
        for edge in survey.edges
    ]
    rows += [
        (
            f"corner {place}",
            "round",
            _mm(corner.radius, 1),
            "as given" if corner.spread is None else _mm(corner.spread, 1),
            "",
            "",
        )
        for place, corner in enumerate(survey.corners, start=1)
        if corner.radius > 0
    ]
    headings = ("edge", "line", "radius, mm", "spread (one standard deviation), mm", "farthest point off it, mm", "points")
    found = [tag("p", f"Surveyed: {survey.source}. " + "; ".join(survey.mended) + ".")]
    if survey.plane is not None:
        plane = survey.plane
        found.append(
            tag(
                "p",
                f"Out of the plane: warp {_mm(plane.warp, 2)} mm, twist {_mm(plane.twist, 2)} mm at the fourth corner, rise "
                f"{fixed(plane.rise_along, 2)} mm along {_mm(plane.width, 0)} and {fixed(plane.rise_up, 2)} mm up "
                f"{_mm(plane.height, 0)} mm (+ hollow from outside), scatter {_mm(plane.scatter, 2)} mm.",
            )
        )
    return [*found, *([table("Edges of the survey", headings, rows, numbers=(2, 3, 4, 5))] if rows else [])]


def _points(recess: SurveyedRecess) -> list[Html]:
    def shown(value: float | None) -> str:
        return "" if value is None else _mm(value, 2)

    every = math.ceil(len(recess.stations) / MOST_ROWS)
    narrow = min(recess.stations, key=lambda each: each.joint)
    shown_points = [each for place, each in enumerate(recess.stations) if place % every == 0 or each is narrow]
    rows = [
        (
            str(each.line),
            f"{each.edge} {each.name}".strip(),
            _mm(each.at.x, 1),
            _mm(each.at.y, 1),
            *map(shown, (each.joint, each.depth, each.flush, each.spacer, each.landing, each.landing_inside)),
        )
        for each in shown_points
    ]
    headings = (
        "line", "station", "X, mm", "Y, mm", "joint, mm", "depth, mm", "glass proud (+) on equal spacers, mm",
        "spacer for glass as drawn, mm", "landing, mm", "landing inside the bead, mm",
    )  # fmt: skip
    found = [table("Stations of the survey", headings, rows, numbers=(0, 2, 3, 4, 5, 6, 7, 8, 9))]
    if len(shown_points) < len(recess.stations):
        left = f"{len(shown_points)} of {len(recess.stations)} points, the one with the least joint among them; the data file has them all."
        found.append(tag("p", left))
    if recess.spacers:
        blocks = [(each.mark, _mm(each.depth, 2), _mm(each.height, 2)) for each in recess.spacers]
        found.append(
            table("Spacers of their own height", ("spacer", "depth of the recess, mm", "free height, mm"), blocks, numbers=(1, 2))
        )
    return found


def joint_data(check: PaneCheck) -> dict[str, Any] | None:
    """The same as plain data, mm; None where the recess follows the pane."""
    subject = check.subject
    if subject.pane.recess_outline is None:
        return None
    joint, survey, recess = joint_round_of(subject), survey_of(subject), surveyed_recess_of(subject)

    def place(each: JointPlace) -> dict[str, Any]:
        return {"name": each.name, "at": list(each.at), "width_mm": each.width}

    found: dict[str, Any] = {
        "least": place(joint.least),
        "widest": place(joint.widest),
        "stations": [place(each) for each in joint.stations],
    }
    if survey is not None and recess is not None:
        found["survey"] = {
            "source": survey.source,
            "edges": [
                {"name": edge.name, "radius_mm": edge.radius, "spread_mm": edge.spread, "off_mm": edge.off}
                for edge in survey.edges
            ],
            "corners": [{"radius_mm": corner.radius, "spread_mm": corner.spread} for corner in survey.corners],
            "plane": None
            if survey.plane is None
            else {
                "warp_mm": survey.plane.warp,
                "twist_mm": survey.plane.twist,
                "rise_along_mm": survey.plane.rise_along,
                "rise_up_mm": survey.plane.rise_up,
            },
            "outliers": [{"line": each.line, "off_mm": each.off} for each in survey.outliers],
            "stations": list(recess.stations),
            "spacers": list(recess.spacers),
        }
    return found


__all__ = ["joint_data", "joint_section"]
