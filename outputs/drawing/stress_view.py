"""The tension in the bead drawn round the pane, as a diagram square to the bead: outwards where it pulls, inwards where it presses.

The height of the diagram at a station is the reaction there over the bond width: the mean stress across the bead.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.outline import nearest_station
from outputs.drawing.figures_round import Lettered, figures_round
from outputs.drawing.plan_outlines import nodes_of
from outputs.sheet.entities import Mark, Path
from outputs.sheet.runs import circle, line, run

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.detail.parts import Detail
    from geometry.plate.results import BondStress, PressureResult
    from outputs.sheet.entities import Place
    from outputs.sheet.pencil import Pencil

TALLEST = 12.0  # paper mm, the greatest ordinate
APART = 1.2  # paper mm, least between two ordinates


def diagram_marks(
    detail: Detail,
    stress: BondStress,
    result: PressureResult,
    pencil: Pencil,
    *,
    figure: Callable[[float], str] | None = None,
) -> list[Mark]:
    """The diagram of one pressure over the pane, without words; with ``figure`` the mean across, MPa, is lettered round it."""
    feet, heads, outwards = _ordinates(detail, result, pencil)
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
    detail: Detail, result: PressureResult, pencil: Pencil
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


def _spaced(places: list[Place], apart: float) -> list[int]:
    """Which of the places round the bead stand at least ``apart`` from the one before: lines nearer than that run together."""
    kept: list[int] = []
    for index, place in enumerate(places):
        if not kept or math.dist(place, places[kept[-1]]) >= apart:
            kept.append(index)
    return kept


def theory_in_words(result: PressureResult) -> str:
    """Which theory a diagram's figures are by."""
    return "linear theory" if result.theory == "linear" else "large deflection (von Karman)"


__all__ = ["diagram_marks", "theory_in_words"]
