"""The bond stress of a pane under pressure, drawn over the true outline, outward and inward.

Terms
-----
band of stress
    A step of the legend. Each has a letter, a shade that darkens with the stress, and hatching where it is compression.
local stress, mean across
    The shades show the stress of each small triangle of the bead; the labels round the pane give the mean across its width.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.ledger.size import in_words
from geometry.outline.loop import Point
from outputs.record.findings_part import default_mark
from outputs.record.labels import Labels
from outputs.record.markup import Html, items, join, section, table, tag
from outputs.record.numbers import fixed, number, signed
from outputs.record.pictures import BORDER, LETTER, Frame, curve, frame_round, mm, outside_of, picture, spread, stroke, words
from outputs.record.words import NO_PLATE

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from geometry.detail.parts import Detail
    from geometry.findings.check import PaneCheck
    from geometry.plate.results import BondStress, PressureResult, StressMap, ValueAt

MOST_STEPS = 5
TENSION = ("#fdeadb", "#f9c59b", "#f0954f", "#c95a12", "#7f2f04", "#4a1a00")
COMPRESSION = ("#e3edf7", "#b5cfe6", "#7ba7cf", "#41759f", "#1d4568", "#0b2237")
APART = 15.0  # paper mm between two labels
INSET = 54.0  # side of an enlarged part


@dataclass(frozen=True, slots=True)
class Band:
    """Stress from ``low`` to ``high`` MPa, tension positive, with its letter and its shade."""

    letter: str
    low: float
    high: float
    shade: str

    @property
    def compressed(self) -> bool:
        """Whether it is a band of compression."""
        return self.high <= 0.0


def bands_for(least: float, most: float) -> tuple[Band, ...]:
    """Bands from the least to the greatest stress, MPa, in steps of 1, 2 or 5, with 0 as a limit between two.

    >>> [(band.letter, round(band.low, 3), round(band.high, 3)) for band in bands_for(-0.011, 0.038)]
    [('A', -0.02, -0.01), ('B', -0.01, 0.0), ('C', 0.0, 0.01), ('D', 0.01, 0.02), ('E', 0.02, 0.03), ('F', 0.03, 0.04)]
    """
    greatest = max(abs(least), abs(most))
    if greatest == 0.0:
        return (Band("A", 0.0, 0.0, TENSION[0]),)
    power = 10.0 ** math.floor(math.log10(greatest / MOST_STEPS))
    step = next(power * factor for factor in (1, 2, 5, 10) if greatest / (power * factor) <= MOST_STEPS + 1e-9)
    low, high = math.floor(min(least, 0.0) / step + 1e-9), math.ceil(max(most, 0.0) / step - 1e-9)
    found: list[Band] = []
    for index in range(low, high):
        shade = TENSION[min(index, len(TENSION) - 1)] if index >= 0 else COMPRESSION[min(-index - 1, len(COMPRESSION) - 1)]
        found.append(Band(chr(ord("A") + len(found)), index * step, (index + 1) * step, shade))
    return tuple(found)


def stress_section(check: PaneCheck) -> Html:
    """The maps of both pressures with their figures, or why there are none."""
    plate = check.plate
    pressure = check.subject.pane.pressure
    if plate is None:
        given = pressure.outward is not None or pressure.inward is not None
        why = "the plate was left out of this run" if given else "no pressure given"
        return section("Bond stress under pressure", tag("p", NO_PLATE.format(why=why)), id_="stress")
    parts = []
    for result, pressed in ((plate.outward, pressure.outward), (plate.inward, pressure.inward)):
        if pressed is None:
            parts.append(
                tag(
                    "p",
                    tag("b", result.direction.capitalize()),
                    f": {NO_PLATE.format(why=f'no {result.direction} pressure given')}",
                )
            )
        else:
            parts.append(_map(check.subject.detail, plate, result))
    shown = [each for each, given in ((plate.outward, pressure.outward), (plate.inward, pressure.inward)) if given is not None]
    return section("Bond stress under pressure", items(plate.notes), *parts, _figures(plate, shown, _design(check)), id_="stress")


def _design(check: PaneCheck) -> Html:
    """The adhesive's design stress beside which the peaks are read."""
    design = check.subject.asked("adhesive.design_tension")
    origin = (
        default_mark("adhesive.design_tension")
        if design.origin.value == "default"
        else join(in_words(design.origin, check.subject.given_by(design.key)))
    )
    told = f"Design stress of the adhesive in tension, short term: {number(design.value)} MPa ("
    return tag("p", told, origin, "). It is an input; this picture judges nothing, the findings do.")


def _figures(plate: BondStress, shown: Sequence[PressureResult], design: Html) -> Html:
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
        ("bending stress of each ply, MPa, for information", *("; ".join(map(number, each.glass_stress)) for each in shown)),
    ]
    told = (
        f"Bead {number(plate.bond_width)} mm wide, {number(plate.bond_area)} mm² in all; stiffness of the bead {number(plate.bed_stiffness)} "
        f"N/mm³; thickness of glass that bends as far {number(plate.effective_thickness)} mm. Estimated error of the mesh: peak stress "
        f"{number(100 * plate.error.bond_stress, digits=2)} %, deflection {number(100 * plate.error.deflection, digits=2)} %. Sum of the "
        f"bead's forces against pressure × area: {_little(100 * plate.load_balance)} % apart. Places are X; Y in mm from the lower "
        "left of the pane, seen from outside. Deflections are positive in the direction of the pressure."
    )
    headings = ("figure", *(each.direction for each in shown))
    return join(table("Figures of the pane on its bead", headings, rows), design, tag("p", told, class_="small"))


def _little(share: float) -> str:
    return number(share, digits=2) if share >= 0.001 else "less than 0.001"


def _place(point: Point) -> str:
    return f"{number(round(point.x, 0))}; {number(round(point.y, 0))}"


def _map(detail: Detail, plate: BondStress, result: PressureResult) -> Html:
    sign = 1.0 if result.direction == "outward" else -1.0
    stress = [sign * result.pressure * value for value in plate.stress_map.stress.tolist()]
    bands = bands_for(min(stress), max(stress))
    frame = frame_round(detail.curves.glass)
    name = f"stress-{result.direction}"
    runs = regions(plate.stress_map, stress, bands, frame)
    present = [band for band in bands if band.letter in runs]
    content: list[Html] = [
        _hatch(f"{name}-hatch", 1.0),
        curve(detail.curves.glass, frame, width=0.35),
        tag("defs", (tag("path", d=run, id=f"{name}-{letter}", fill_rule="evenodd") for letter, run in runs.items())),
        tag("g", (_filled(band, f"{name}-{band.letter}", f"{name}-hatch") for band in present)),
        curve(detail.curves.bead_outer, frame, width=0.1),
        curve(detail.curves.bead_inner, frame, width=0.1),
        _labels(result, plate, bands, frame),
    ]
    top, left = frame.height + 3.0, 2.0
    for kind, peak in (("tension", result.peak_tension), ("compression", result.peak_compression)):
        if peak.value > 0.0:
            content.append(_peak(kind, frame.at(*peak.point), 2.2, 0.4))
            content.append(_inset(detail, plate, kind, peak, present, frame, name=name, left=left, top=top))
            left += INSET + 6.0
    content.append(_legend(bands, f"{name}-hatch", top=top, left=2.0 + 2 * (INSET + 6.0)))
    height = top + max(INSET + 6.0, 8.0 + 6.0 * (len(bands) + 2))
    description = (
        f"Plan of the pane seen from outside. Greatest tension of the bead {_said(result.peak_tension)}, greatest compression "
        f"{_said(result.peak_compression)}; {number(100 * result.tension_share, digits=3)} % of the bead is in tension."
    )
    caption = (
        f"Bond stress at {number(result.pressure)} kPa {result.direction}, seen from outside, scale {frame.ratio}. Labels: mean across the "
        "width of the bead, MPa, + tension, − compression. The shades are the local stress; hatched: compression."
    )
    title = f"Bond stress, {result.direction} pressure"
    return tag(
        "figure", picture(name, title, description, *content, width=frame.width, height=height), tag("figcaption", caption)
    )


def _said(peak: ValueAt) -> str:
    return f"{number(peak.value)} MPa at X; Y = {_place(peak.point)} mm" if peak.value > 0.0 else "none"


Corner = tuple[int, int, float]
"""A node (its number twice), or where the stress of an edge between two nodes is that of a limit."""


def regions(stress_map: StressMap, stress: Sequence[float], bands: Sequence[Band], frame: Frame) -> dict[str, str]:
    """The region of each band that occurs, by letter, as the run of its edges.

    Triangles are cut where the stress, linear between nodes, passes a limit between two bands. An edge between two pieces of
    the same band is inside its region and left out.
    """
    limits = [band.high for band in bands[:-1]]
    edges: dict[str, dict[tuple[Corner, Corner], None]] = {}
    for triangle in stress_map.triangles.tolist():
        around: list[tuple[Corner, float]] = []
        for start, end in zip(triangle, (*triangle[1:], triangle[0]), strict=True):
            low, high = stress[start], stress[end]
            around.append(((start, start, 0.0), low))
            passed = [limit for limit in limits if min(low, high) < limit < max(low, high)]
            for limit in passed if low < high else reversed(passed):
                around.append(((min(start, end), max(start, end), limit), limit))
        for index, band in enumerate(bands):
            last = index == len(bands) - 1
            piece = [corner for corner, value in around if (index == 0 or value >= band.low) and (last or value <= band.high)]
            if len(piece) < 3:
                continue
            mine = edges.setdefault(band.letter, {})
            for edge in zip(piece, (*piece[1:], piece[0]), strict=True):
                if edge[::-1] in mine:
                    del mine[edge[::-1]]
                else:
                    mine[edge] = None
    points = stress_map.points.tolist()

    def written(corner: Corner) -> str:
        first, second, limit = corner
        (x, y), share = points[first], 0.0
        if second != first:
            share = (limit - stress[first]) / (stress[second] - stress[first])
            x, y = x + share * (points[second][0] - x), y + share * (points[second][1] - y)
        place = frame.at(x, y)
        return f"{mm(place.x)} {mm(place.y)}"

    return {
        letter: "".join(f"M{'L'.join(written(corner) for corner in loop)}Z" for loop in _loops(found))
        for letter, found in edges.items()
    }


def _loops(edges: Iterable[tuple[Corner, Corner]]) -> Iterator[list[Corner]]:
    """Directed edges put end to end."""
    leaving: dict[Corner, list[Corner]] = {}
    for start, end in edges:
        leaving.setdefault(start, []).append(end)
    while leaving:
        first = next(iter(leaving))
        loop, at = [first], first
        while True:
            ends = leaving[at]
            following = ends.pop(0)
            if not ends:
                del leaving[at]
            if following == first:
                break
            loop.append(following)
            at = following
        yield loop


def _hatch(name: str, pitch: float) -> Html:
    """Hatching by which compression is told from tension without colour; ``pitch`` in units of the picture."""
    line = tag("path", d=f"M0 {mm(pitch)}L{mm(pitch)} 0", stroke="#ffffff", stroke_width=mm(0.16 * pitch))
    return tag("defs", tag("pattern", line, id=name, width=mm(pitch), height=mm(pitch), patternUnits="userSpaceOnUse"))


def _filled(band: Band, region: str, hatch: str) -> Html:
    """The region of a band, which stands once in the page, in its shade."""
    shade = tag("use", href=f"#{region}", fill=band.shade)
    return join(shade, tag("use", href=f"#{region}", fill=f"url(#{hatch})")) if band.compressed else shade


def _labels(result: PressureResult, plate: BondStress, bands: Sequence[Band], frame: Frame) -> Html:
    decimals = max(0, 1 - math.floor(math.log10(bands[0].high - bands[0].low or 1.0) + 1e-9))
    points = [each.point for each in result.reactions]
    labels = Labels()
    found = []
    # the greatest first: where two labels would meet the lesser one gives way
    for index in sorted(spread(points, frame, apart=APART), key=lambda i: (-abs(result.reactions[i].reaction), i)):
        before, after = points[index - 1], points[(index + 1) % len(points)]
        place, anchor = outside_of(points[index], before, after, frame, away=BORDER * 0.42)
        told = fixed(result.reactions[index].reaction / plate.bond_width, decimals)
        if labels.free(told, place, anchor):
            tick, _ = outside_of(points[index], before, after, frame, away=BORDER * 0.34)
            found.append(stroke(frame.at(*points[index]), Point(tick.x, tick.y - LETTER * 0.36), width=0.12))
            found.append(labels.put(told, place, anchor))
    return tag("g", found)


def _peak(kind: str, place: Point, size: float, width: float) -> Html:
    """The mark of the greatest stress: a ring for tension, a square for compression."""
    look: dict[str, str | float] = {"fill": "none", "stroke": "#1a1a1a", "stroke_width": mm4(width)}
    if kind == "tension":
        return tag("circle", cx=mm(place.x), cy=mm(place.y), r=mm4(size), **look)
    side = mm4(2 * size)
    return tag("rect", x=mm(place.x - size), y=mm(place.y - size), width=side, height=side, **look)


def mm4(value: float) -> str:
    """A small length of a part that is shown larger."""
    return f"{value:.4f}".rstrip("0").rstrip(".")


def _inset(
    detail: Detail,
    plate: BondStress,
    kind: str,
    peak: ValueAt,
    present: Sequence[Band],
    frame: Frame,
    *,
    name: str,
    left: float,
    top: float,
) -> Html:
    """The neighbourhood of the greatest stress, larger."""
    place = frame.at(*peak.point)
    reach = 2.5 * plate.bond_width * frame.scale
    factor = INSET / (2 * reach)
    inside = tag(
        "svg",
        _hatch(f"{name}-{kind}-hatch", 1.4 / factor),
        (_filled(band, f"{name}-{band.letter}", f"{name}-{kind}-hatch") for band in present),
        curve(detail.curves.glass, frame, width=0.5 / factor),
        curve(detail.curves.bead_outer, frame, width=0.2 / factor),
        curve(detail.curves.bead_inner, frame, width=0.2 / factor),
        _peak(kind, place, 2.0 / factor, 0.4 / factor),
        x=left,
        y=top,
        width=INSET,
        height=INSET,
        viewBox=" ".join(map(mm4, (place.x - reach, place.y - reach, 2 * reach, 2 * reach))),
    )
    box = tag("rect", x=left, y=top, width=INSET, height=INSET, fill="none", stroke="#1a1a1a", stroke_width=0.2)
    told = f"greatest {kind} {number(peak.value, digits=3)} MPa, {number(factor, digits=2)} × the plan"
    return join(inside, box, words(told, Point(left, top + INSET + 3.8), anchor="start", size=2.4))


def _legend(bands: Sequence[Band], hatch: str, *, top: float, left: float) -> Html:
    found = [words("Local stress of the bead, MPa", Point(left, top + 3.0), anchor="start", bold=True)]
    for index, band in enumerate(reversed(bands)):
        y = top + 6.0 + 6.0 * index
        box = {"x": left, "y": y, "width": 9.0, "height": 4.6}
        found.append(tag("rect", fill=band.shade, stroke="#1a1a1a", stroke_width=0.15, **box))
        if band.compressed:
            found.append(tag("rect", fill=f"url(#{hatch})", **box))
        kind = "compression" if band.compressed else "tension"
        low, high = sorted((abs(band.low), abs(band.high)))
        told = f"{band.letter}   {kind} {number(low, digits=2)} to {number(high, digits=2)}"
        found.append(words(told, Point(left + 11.5, y + 3.4), anchor="start"))
    for kind in ("tension", "compression"):
        y = top + 6.0 + 6.0 * (len(bands) + (kind == "compression"))
        found.append(_peak(kind, Point(left + 4.5, y + 2.3), 2.0, 0.4))
        found.append(words(f"greatest {kind}", Point(left + 11.5, y + 3.4), anchor="start"))
    return tag("g", found)
