"""The tension in the bead drawn round the pane, as a diagram square to the bead: outwards where it pulls, inwards where it presses.

The height of the diagram at a station is the reaction there over the bond width: the mean stress across the bead. How far the
bead is stretched at its edge is lettered below, and by which theory.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline import Point, bounding_box, nearest_station
from outputs.drawing.figures_round import Lettered, figures_round
from outputs.drawing.plan_outlines import nodes_of
from outputs.sheet.drafting import number, scale_designation
from outputs.sheet.entities import Mark, Path
from outputs.sheet.pencil import Pencil
from outputs.sheet.picture import Picture, titled
from outputs.sheet.runs import circle, line, polar, run

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.detail.parts import Detail
    from geometry.plate.results import BondStress, PressureResult
    from outputs.sheet.drafting import DraftingStyle
    from outputs.sheet.entities import Place

TALLEST = 12.0  # paper mm, the greatest ordinate
APART = 1.2  # paper mm, least between two ordinates
WIDEST = 130.0  # paper mm the pane may take
SCALES = (0.5, 0.2, 0.1, 0.05, 0.02, 0.01)
BAR_STEPS = (0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0)  # MPa


def stress_picture(detail: Detail, stress: BondStress, style: DraftingStyle) -> Picture:
    """The diagram of the governing pressure: outward where one is given, else inward."""
    box = bounding_box(detail.curves.glass)
    longest = max(box.width, box.height)
    scale = next((s for s in SCALES if longest * s <= WIDEST), SCALES[-1])
    result = stress.outward if stress.outward.pressure > 0 else stress.inward
    pencil = Pencil(style, scale)
    marks = (*diagram_marks(detail, stress, result, pencil), *_told(detail, stress, result, pencil))
    title = f"TENSION IN THE BEAD {scale_designation(scale)}, {result.direction} pressure {number(result.pressure)} kPa"
    return titled("BOND STRESS", title, scale, marks, style)


def diagram_marks(
    detail: Detail,
    stress: BondStress,
    result: PressureResult,
    pencil: Pencil,
    *,
    figure: Callable[[float], str] | None = None,
) -> list[Mark]:
    """The diagram of one pressure over the pane, without words; with ``figure`` the mean across, MPa, is lettered round it."""
    feet, heads, outwards = _ordinates(detail, stress, result, pencil)
    marks: list[Mark] = [
        Path("DETAIL", nodes_of(detail.curves.glass), True),
        Path("BOND_STRESS", nodes_of(detail.curves.bead_centre), True),
        run("BOND_STRESS", heads, closed=True),
        *(
            line("BOND_STRESS", feet[index], heads[index])
            for index in _spaced(feet, pencil.paper(APART))
            if feet[index] != heads[index]
        ),
    ]
    peak = result.peak_tension
    marks.append(circle("BOND_STRESS", (peak.point.x, peak.point.y), pencil.paper(1.2)))
    if figure is not None:
        entries = [
            Lettered(
                head if station.reaction > 0.0 else foot,
                outward,
                figure(station.reaction / stress.bond_width),
                abs(station.reaction),
            )
            for station, foot, head, outward in zip(result.reactions, feet, heads, outwards, strict=True)
        ]
        marks += figures_round(entries, marks, pencil)
    return marks


def _ordinates(
    detail: Detail, stress: BondStress, result: PressureResult, pencil: Pencil
) -> tuple[list[Place], list[Place], list[Place]]:
    """Foot and head of the ordinate at each station, and the unit vector outwards there."""
    ordinate = _ordinate(result, pencil)
    feet: list[Place] = []
    heads: list[Place] = []
    outwards: list[Place] = []
    for station in result.reactions:
        foot = nearest_station(detail.curves.bead_centre, station.point)
        height = station.reaction * ordinate
        feet.append((foot.point.x, foot.point.y))
        heads.append((foot.point.x + height * foot.outward.x, foot.point.y + height * foot.outward.y))
        outwards.append((foot.outward.x, foot.outward.y))
    return feet, heads, outwards


def _ordinate(result: PressureResult, pencil: Pencil) -> float:
    """Model mm for 1 N/mm of reaction."""
    greatest = max(abs(station.reaction) for station in result.reactions)
    return pencil.paper(TALLEST) / greatest if greatest > 0 else 0.0


def _told(detail: Detail, stress: BondStress, result: PressureResult, pencil: Pencil) -> list[Mark]:
    """The bar that gives the scale of the diagram, and its chief figures, below it."""
    box = bounding_box(detail.curves.glass)
    heads = _ordinates(detail, stress, result, pencil)[1]
    below = min(box.bottom, *(y for _, y in heads)) - pencil.paper(7.0)
    marks = _bar(stress, _ordinate(result, pencil), pencil, (box.left, below))
    for index, words in enumerate(_words(detail, stress, result)):
        at = (box.left, below - pencil.paper(6.0 + index * pencil.style.line_pitch))
        marks.append(pencil.text("TEXT", at, words))
    return marks


def _spaced(places: list[Place], apart: float) -> list[int]:
    """Which of the places round the bead stand at least ``apart`` from the one before: lines nearer than that run together."""
    kept: list[int] = []
    for index, place in enumerate(places):
        if not kept or math.dist(place, places[kept[-1]]) >= apart:
            kept.append(index)
    return kept


def _bar(stress: BondStress, ordinate: float, pencil: Pencil, at: Place) -> list[Mark]:
    """A bar of a round stress in the scale of the diagram."""
    if ordinate <= 0:
        return []
    of_one = ordinate * stress.bond_width  # model mm for 1 MPa of mean stress
    step = next((s for s in BAR_STEPS if s * of_one >= pencil.paper(6.0)), BAR_STEPS[-1])
    end = (at[0] + step * of_one, at[1])
    tick = pencil.paper(1.0)
    return [
        line("BOND_STRESS", at, end),
        *(line("BOND_STRESS", polar(spot, 90.0, tick), polar(spot, -90.0, tick)) for spot in (at, end)),
        pencil.text(
            "TEXT", (end[0] + pencil.paper(2.0), at[1]), f"{number(step, decimals=3)} MPa, mean across the bead", centred=True
        ),
    ]


def _words(detail: Detail, stress: BondStress, result: PressureResult) -> list[str]:
    highest = max(station.reaction for station in result.reactions) / stress.bond_width
    lowest = min(station.reaction for station in result.reactions) / stress.bond_width
    where = _place(result.peak_tension.point)
    # the stress over the bed's stiffness is how far the bead is drawn out
    stretched = 100 * result.peak_tension.value / stress.bed_stiffness / detail.sizes.bond_thickness.value
    return [
        f"greatest {_stress(highest)}, least {_stress(lowest)} across the bead, mean {_stress(result.mean)}",
        f"bead stretched {number(stretched, decimals=1)} % at its edge at {where} (circle)",
        f"{theory_in_words(result)}; deflection {number(result.deflection.value)} mm",
        f"error of the calculation {number(100 * stress.error.bond_stress, decimals=1)} %",
    ]


def theory_in_words(result: PressureResult) -> str:
    """Which theory a diagram's figures are by."""
    return "linear theory" if result.theory == "linear" else "large deflection (von Karman)"


def _stress(value: float) -> str:
    return f"{number(value, decimals=3)} MPa"


def _place(point: Point) -> str:
    return f"X {number(point.x, decimals=0)}, Y {number(point.y, decimals=0)}"


__all__ = ["diagram_marks", "stress_picture", "theory_in_words"]
