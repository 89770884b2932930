"""The bond stress of a pane under pressure, outward and inward: its diagram, the map of the local stress, the figures."""

from __future__ import annotations

import math
from dataclasses import replace
from math import fsum
from typing import TYPE_CHECKING

from geometry.ledger.size import in_words
from geometry.outline import bounding_box
from outputs.drawing.stress_map import bands_for, legend_marks, map_layers, map_marks, peak_mark, regions_of
from outputs.drawing.stress_view import diagram_marks, theory_in_words
from outputs.record.findings_part import default_mark
from outputs.record.markup import AsItIs, Html, items, join, section, tag
from outputs.record.numbers import fixed, number, signed
from outputs.record.parts import in_columns
from outputs.record.pictures import (
    STYLE,
    WIDTH,
    Laid,
    cut_out,
    figure,
    height_of,
    in_the_middle,
    ratio,
    scale_for,
    true_scale,
    width_of,
)
from outputs.record.words import NO_PLATE
from outputs.sheet.moving import shifted
from outputs.sheet.pencil import Pencil
from outputs.sheet.runs import box

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Detail
    from geometry.findings.check import PaneCheck
    from geometry.outline import Point
    from geometry.plate.results import BondStress, FaceStress, PressureResult, ValueAt
    from outputs.drawing.stress_map import Band
    from outputs.sheet.entities import Mark, View

INSET = 28.0  # paper mm, side of an enlarged part
GAP = 4.0  # paper mm between two parts of a picture
SHOWN = 3.0  # bond widths that an enlarged part shows at least
PLAN, PLAN_OF_TWO = (76.0, 46.0), (76.0, 32.0)  # paper mm that the pane may take on its map; where two stand one under another


def stress_section(check: PaneCheck) -> Html:
    """The maps of both pressures with their figures, or why there are none."""
    plate = check.plate
    pressure = check.subject.pane.pressure
    if plate is None:
        given = pressure.outward is not None or pressure.inward is not None
        why = "the plate was left out of this run" if given else "no pressure given"
        return section("Bond stress under pressure", tag("p", NO_PLATE.format(why=why)), id_="stress")
    diagrams, missing = [], []
    for result, pressed in ((plate.outward, pressure.outward), (plate.inward, pressure.inward)):
        if pressed is None:
            missing.append(
                tag(
                    "p",
                    tag("b", result.direction.capitalize()),
                    f": {NO_PLATE.format(why=f'no {result.direction} pressure given')}",
                )
            )
        else:
            diagrams.append(_diagram(check.subject.detail, plate, result))
    shown = [each for each, given in ((plate.outward, pressure.outward), (plate.inward, pressure.inward)) if given is not None]
    if plate.patch is not None:
        shown.append(plate.patch)
    return section(
        "Bond stress under pressure",
        items(plate.notes) if plate.notes else None,
        *missing,
        _figures(plate, shown, _design(check), check.subject.detail.origin.name),
        tag("div", diagrams, class_="pictures"),
        _map(check.subject.detail, plate, [each for each in shown if each is not plate.patch]),
        id_="stress",
    )


def _design(check: PaneCheck) -> Html:
    """The adhesive's design stress beside which the peaks are read."""
    design = check.subject.asked("adhesive.design_tension")
    origin = (
        default_mark("adhesive.design_tension")
        if design.origin.value == "default"
        else join(in_words(design.origin, check.subject.given_by(design.key)), ": ", AsItIs(design.key))
    )
    told = f"Design stress of the adhesive in tension, short term: {number(design.value)} MPa ("
    return tag("p", told, origin, "). It is an input; this picture judges nothing, the findings do.")


def _figures(plate: BondStress, shown: Sequence[PressureResult], design: Html, origin: str) -> Html:
    def at(value: ValueAt) -> str:
        return f"{number(value.value)} at {_place(value.point)}" if value.value else "none"

    rows: list[tuple[str, ...]] = [
        ("pressure, kPa", *(number(each.pressure) for each in shown)),
        ("peak tension, MPa", *(at(each.peak_tension) for each in shown)),
        ("peak compression, MPa", *(at(each.peak_compression) for each in shown)),
        ("mean over the bead, tension +, MPa", *(signed(each.mean) for each in shown)),
        ("mean of the part in tension, MPa", *(number(each.mean_tension) for each in shown)),
        ("share of the bead in tension, %", *(number(100 * each.tension_share, digits=3) for each in shown)),
        ("greatest deflection, mm", *(at(each.deflection) for each in shown)),
        ("greatest deflection of the edge, mm", *(at(each.deflection_edge) for each in shown)),
        ("movement against the pressure, mm", *(at(each.uplift) for each in shown)),
        ("greatest tension of each ply, MPa, for information", *("; ".join(map(number, each.glass_stress)) for each in shown)),
        (
            "greatest tension of the glass in the printed band, MPa, for information",
            *(_in_the_band(each.faces) for each in shown),
        ),
        ("theory of these figures", *(each.theory for each in shown)),
        ("by linear theory: deflection, mm", *(number(each.linear.deflection) for each in shown)),
        ("by linear theory: greatest tension across the bead, MPa", *(number(each.linear.band_tension) for each in shown)),
        (
            "by linear theory: greatest tension of each ply, MPa",
            *("; ".join(map(number, each.linear.glass_stress)) for each in shown),
        ),
        ("shear strain of the bead from bending, %", *(number(100 * each.shear.greatest.value) for each in shown)),
        ("the same if slope and pull-in acted the same way, %", *(number(100 * each.shear.bound.value) for each in shown)),
    ]
    told = (
        f"Bead {number(plate.bond_width)} mm wide, {number(plate.bond_area)} mm² in all; stiffness of the bead {number(plate.bed_stiffness)} "
        f"N/mm³; thickness of glass that bends as far {number(plate.effective_thickness)} mm. Estimated error of the mesh: peak stress "
        f"{number(100 * plate.error.bond_stress, digits=2)} %, deflection {number(100 * plate.error.deflection, digits=2)} %, glass "
        f"{number(100 * plate.error.glass_stress, digits=2)} %"
        f"{'' if plate.error.glass_holds else ' (it does not hold within 3 %)'}. Sum of the "
        f"bead's forces against pressure × area: {_little(100 * plate.load_balance)} % apart. Places are X; Y in mm from the "
        f"{origin}, seen from outside. Deflections are positive in the direction of the pressure."
    )
    headings = ("figure", *("load on a part" if each is plate.patch else each.direction for each in shown))
    two = len(shown) == 2 and all(len(each.glass_stress) == 1 for each in shown)  # figures of several plies want the width
    figures = in_columns("Figures of the pane on its bead", headings, rows, 2 if two else 1, class_="pressed" if two else None)
    return join(figures, design, tag("p", told, class_="small"))


def _in_the_band(faces: Sequence[FaceStress]) -> str:
    told = [f"ply {each.ply} {each.face} {number(each.printed.value)}" for each in faces if each.printed is not None]
    return "; ".join(told) or "no frit"


def _little(share: float) -> str:
    return number(share, digits=2) if share >= 0.001 else "less than 0.001"


def _place(point: Point) -> str:
    return f"{number(round(point.x, 0))}; {number(round(point.y, 0))}"


def _diagram(detail: Detail, plate: BondStress, result: PressureResult) -> Html:
    outline = bounding_box(detail.curves.glass)
    scale = scale_for(outline)
    means = [each.reaction / plate.bond_width for each in result.reactions]
    decimals = max(0, 2 - math.floor(math.log10(max(map(abs, means)) or 1.0) + 1e-9))
    marks = diagram_marks(detail, plate, result, Pencil(STYLE, scale), figure=lambda value: fixed(value, decimals))
    view = in_the_middle("diagram", marks, scale, outline=outline)
    caption = (
        f"Tension in the bead at {number(result.pressure)} kPa {result.direction} by {theory_in_words(result)}, seen from outside, "
        f"{ratio(scale)}: mean across the bead's width, MPa, + tension (drawn outwards), − compression (inwards). "
        "Circle: peak tension at its edge."
    )
    title = f"Tension in the bead, {result.direction} pressure"
    return figure(
        f"tension-{result.direction}",
        title,
        f"{_described(result)} {caption}",
        caption,
        Laid((view,), height_of(view)),
        width=width_of(view),
    )


def _map(detail: Detail, plate: BondStress, pressed: Sequence[PressureResult]) -> Html:
    """The map of each direction with the neighbourhood of its peak, one under another, their shades in one legend."""
    stresses = [plate.stress_map.of(each.direction).tolist() for each in pressed]
    bands = bands_for(min(map(min, stresses)), max(map(max, stresses)))
    outline = bounding_box(detail.curves.glass)
    scale = true_scale(outline.width, outline.height, *(PLAN if len(pressed) == 1 else PLAN_OF_TWO))
    rows = [_mapped(detail, plate, *each, bands, scale) for each in zip(pressed, stresses, strict=True)]
    height = max(fsum(row.height for row in rows), 6.0 * (len(bands) + 3))
    views: list[View] = []
    paper: list[Mark] = []
    top = height
    for row in rows:
        top -= row.height
        views += [replace(view, paper=(view.paper[0], view.paper[1] + top)) for view in row.views]
        paper += [shifted(mark, 0.0, top) for mark in row.marks]
    pencil = Pencil(STYLE, 1.0)
    paper += legend_marks(
        bands, ["Local stress of the bead, MPa", *map(_said_of, bands)], pencil, (PLAN[0] + INSET + 4.0 * GAP, height - 1.0)
    )
    told = [f"{number(each.pressure)} kPa {each.direction} by {theory_in_words(each)}" for each in pressed]
    order = "" if len(pressed) == 1 else f" {pressed[0].direction.capitalize()} stands above, {pressed[1].direction} below."
    caption = (
        f"Local stress of the bead at {' and at '.join(told)}, seen from outside, "
        f"scale {ratio(scale)}.{order} The shades are told in the legend; hatched: compression."
    )
    name = "-".join(each.direction for each in pressed)
    title = f"Local stress of the bead, {' and '.join(each.direction for each in pressed)} pressure"
    described = " ".join(f"{each.direction.capitalize()}: {_described(each)}" for each in pressed)
    return figure(
        f"stress-{name}", title, described, caption, Laid(tuple(views), height, tuple(paper), map_layers(bands)), width=WIDTH
    )


def _mapped(
    detail: Detail, plate: BondStress, result: PressureResult, stress: list[float], bands: Sequence[Band], scale: float
) -> Laid:
    """One direction: the plan and the neighbourhood of its peak tension, else of its peak compression, with what they are."""
    drawn = map_marks(detail, regions_of(plate.stress_map, stress, bands), bands)
    peaks = [
        (kind, peak)
        for kind, peak in (("tension", result.peak_tension), ("compression", result.peak_compression))
        if peak.value > 0.0
    ]
    marks = [*drawn, *(peak_mark(kind, peak.point, Pencil(STYLE, scale)) for kind, peak in peaks)]
    plan = in_the_middle("map", marks, scale, outline=bounding_box(detail.curves.glass), width=PLAN[0] + GAP)
    height = max(height_of(plan) + 5.0, INSET + 2.0)
    name, told = result.direction, [f"{result.direction}, {number(result.pressure)} kPa"]
    views = [replace(plan, name=f"map-{name}", paper=(plan.paper[0], (height - 5.0 - height_of(plan)) / 2.0))]
    pencil = Pencil(STYLE, 1.0)
    paper: list[Mark] = []
    if peaks:
        kind, peak = peaks[0]
        left, bottom = PLAN[0] + 2.0 * GAP, height - INSET - 1.0
        enlarged = Pencil(STYLE, true_scale(SHOWN * plate.bond_width, SHOWN * plate.bond_width, INSET, INSET))
        own = [*drawn, peak_mark(kind, peak.point, enlarged)]
        reach = INSET / enlarged.scale / 2.0
        views.append(cut_out(f"{kind}-{name}", own, peak.point, reach=reach, side=INSET, paper=(left, bottom)))
        paper.append(box("SEEN_OUTLINE", left, bottom, left + INSET, bottom + INSET))
        told += [f"greatest {kind} {number(peak.value, digits=3)} MPa", f"beside it {ratio(enlarged.scale)}"]
    paper.append(pencil.text("TEXT", (1.0, height - 3.0), "; ".join(told)))
    return Laid(tuple(views), height, tuple(paper))


def _described(result: PressureResult) -> str:
    return (
        f"Plan of the pane seen from outside. Greatest tension of the bead {_said(result.peak_tension)}, greatest compression "
        f"{_said(result.peak_compression)}; {number(100 * result.tension_share, digits=3)} % of the bead is in tension."
    )


def _said_of(band: Band) -> str:
    low, high = sorted((abs(band.low), abs(band.high)))
    return f"{band.letter}  {'compression' if band.compressed else 'tension'} {number(low, digits=2)} to {number(high, digits=2)}"


def _said(peak: ValueAt) -> str:
    return f"{number(peak.value)} MPa at X; Y = {_place(peak.point)} mm" if peak.value > 0.0 else "none"


__all__ = ["stress_section"]
