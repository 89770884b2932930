"""The edge of a pane in section, as the supplier makes it: plies with the numbers of their faces, arris, print.

x runs from the glass edge inwards, z from the inner face outwards: the weather face is up. The print is drawn as a strip of its own, one
millimetre on paper, because it has no thickness to scale.
"""

from __future__ import annotations

from dataclasses import replace
from math import fsum
from typing import TYPE_CHECKING

from outputs.drawing.pane_figures import TENTHS, nearest, toleranced_width
from outputs.sheet.drafting import number
from outputs.sheet.entities import Dimension, Fill, Hatch, Mark, Path, Text
from outputs.sheet.runs import box_nodes, circle_nodes, run

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from outputs.sheet.pencil import Pencil

STRIP = 1.0  # paper mm of the print
UNDER = 0.1  # paper mm between glass and print
BEYOND = 9.0  # paper mm of glass beyond the print
FACES_AT, FACES_APART = 6.0, 4.05  # paper mm from the break to the numbers of the faces, and from number to number
FACE_LINE = 1.2  # paper mm that the line to a number prolongs its face
ROW_AT, ROW_NEAR = 8.0, 6.2  # paper mm from the glass to the sizes of the print
LEAST_PLY = 4.3  # paper mm of a ply at whose arris a note stands
FIGURE_OFF, PAST = 1.9, 0.8  # paper mm from the line of the thickness to its figure, and of the extension lines beyond it
NOTE_AT = 4.0  # paper mm from the arris to the elbow of its note
LEAST_ARRIS = 0.5  # paper mm
DOTS = 5


def edge_marks(
    detail: Detail,
    pencil: Pencil,
    *,
    face: int,
    print_tolerance: float,
    thickness_tolerance: float,
    arris_ordered: float | None = None,
    noted: bool = True,
    row: float = ROW_AT,
) -> list[Mark]:
    """The section; ``face`` is the one that is printed; an arris that is ordered (mm along each face) is drawn so.

    ``noted`` with a note at the arris; its sizes stand ``row`` under it.
    """
    paper = pencil.paper
    sizes, plies = detail.sizes, detail.glass.plies
    width, fade, start = sizes.frit_width.value, sizes.frit_fade.value, sizes.frit_start.value
    thickness = detail.glass.thickness
    thinnest = min(ply.thickness for ply in plies if ply.material == "glass")
    words = arris_words(arris_ordered, start)
    arris = _arris_drawn(arris_ordered, start, thinnest, paper(LEAST_ARRIS))
    noted = noted and arris > 0.0 and thinnest >= paper(LEAST_PLY)  # no note at the arris of a thin ply: the table tells it
    note_end = arris / 2 + paper(NOTE_AT + 1.0) + pencil.width(words) if noted else 0.0
    end = max(width + paper(BEYOND), note_end)
    marks: list[Mark] = []
    level = thickness
    faces: list[tuple[float, bool]] = []  # height and whether the glass lies under it
    for ply in plies:
        low = level - ply.thickness
        if ply.material == "glass":
            outline = _ply(low, level, end, arris)
            marks += [*_strokes(pencil, low, level, end), Path("CUT_OUTLINE", (*outline[1:], outline[0]), False)]
            faces += [(level, True), (low, False)]
        else:
            marks += [Hatch("MATERIAL_INTERLAYER", "interlayer", (box_nodes(0.0, low, end, level),))]
        level = low
    marks.append(_break(pencil, end, thickness, [height for height, _ in faces]))
    marks += _face_numbers(pencil, end, [height for height, _ in faces])
    height, under = faces[face - 1]
    marks += _print(pencil, height, under, start, width - fade, width)
    deepest = -paper(UNDER + STRIP) if (not under and height < 1e-9) else 0.0
    level = deepest - paper(row)
    solid = nearest(width - fade, TENTHS) if detail.frit_as_drawn else toleranced_width(width - fade, print_tolerance)
    solid += " solid" + (", on the axes" if detail.frit_as_drawn and not detail.corners else "")
    marks.append(pencil.linear((0.0, 0.0), (width - fade, 0.0), line_at=level, text=solid, gap_first=2.0, gap_second=2.0))
    if fade:
        last = f"{nearest(fade, TENTHS)} fade"
        marks.append(
            pencil.linear(
                (width - fade, 0.0), (width, 0.0), line_at=level, text=last, outside="second", gap_first=2.0, gap_second=2.0
            )
        )
    marks.append(_thickness(pencil, thickness, _thickness_words(thickness, thickness_tolerance)))
    if noted:
        marks += _arris_note(pencil, arris, thickness, words)
    return marks


def _face_numbers(pencil: Pencil, end: float, heights: list[float]) -> list[Mark]:
    """The numbers of the faces one under the other beyond the break, each on a line that prolongs its own face."""
    paper = pencil.paper
    marks: list[Mark] = []
    for number_of, (height, level) in enumerate(zip(heights, _spread(heights, paper(FACES_APART)), strict=True), start=1):
        places = ((end, height), (end + paper(FACE_LINE), height), (end + paper(FACES_AT - 1.2), level))
        marks.append(run("ITEM_LEADERS", places))
        text = pencil.text("TEXT", (end + paper(FACES_AT + 0.6), level), str(number_of), align="middle", centred=True)
        marks.append(text)
    return marks


def _spread(heights: list[float], apart: float) -> list[float]:
    """The levels nearest to falling heights (least squares) that are ``apart`` from each other: neighbours too close share their middle."""
    pools: list[list[float]] = []
    for index, height in enumerate(heights):
        pools.append([height + index * apart])
        while len(pools) > 1 and fsum(pools[-1]) / len(pools[-1]) > fsum(pools[-2]) / len(pools[-2]):
            last = pools.pop()
            pools[-1] += last
    levels = [fsum(pool) / len(pool) for pool in pools for _ in pool]
    return [level - index * apart for index, level in enumerate(levels)]


def _thickness(pencil: Pencil, thickness: float, words: str) -> Dimension:
    """The thickness left of the edge, its figure beside the line and beyond both extension lines, so that it may be longer than the line."""
    at = -pencil.paper(9.0)
    plain = pencil.linear((0.0, 0.0), (0.0, thickness), line_at=at, angle=90.0, text="1")
    x = at - pencil.paper(FIGURE_OFF)
    parts = [
        replace(part, x=x, y=thickness / 2, string=words) if isinstance(part, Text) else _ended(part, at - pencil.paper(PAST))
        for part in plain.parts
    ]
    return replace(plain, text=words, text_at=(x - pencil.paper(1.25), thickness / 2), parts=tuple(parts))


def _ended(part: Path | Fill, least: float) -> Path | Fill:
    """An extension line that goes no farther left than ``least``."""
    if isinstance(part, Fill):
        return part
    return replace(part, nodes=tuple((max(x, least), y, bulge) for x, y, bulge in part.nodes))


def _thickness_words(thickness: float, tolerance: float) -> str:
    """A thickness as the sum of its plies has it, with its deviations: ``13,52 ±0,5``."""
    return f"{number(thickness)} ±{number(tolerance)}" if tolerance else number(thickness)


def _ply(low: float, high: float, end: float, arris: float) -> tuple[tuple[float, float, float], ...]:
    """A ply from its break round the edge and back, both arrises taken off."""
    if not arris:
        return (end, low, 0.0), (end, high, 0.0), (0.0, high, 0.0), (0.0, low, 0.0)
    return (
        (end, low, 0.0),
        (end, high, 0.0),
        (arris, high, 0.0),
        (0.0, high - arris, 0.0),
        (0.0, low + arris, 0.0),
        (arris, low, 0.0),
    )


def _strokes(pencil: Pencil, low: float, high: float, end: float) -> list[Mark]:
    """The sign of glass: groups of three short strokes, none at the break."""
    paper = pencil.paper
    tall = min(0.55 * (high - low), paper(4.0))
    y = (low + high - tall) / 2
    room = end - paper(4.0)
    count = max(1, int(room * pencil.scale // 20.0))
    marks: list[Mark] = []
    for group in range(count):
        x = room * (group + 0.5) / count - tall / 2
        for stroke in (-1.0, 0.0, 1.0):
            first = x + stroke * paper(1.3)
            marks.append(run("MATERIAL_GLASS", ((first, y), (first + tall, y + tall))))
    return marks


def _break(pencil: Pencil, end: float, thickness: float, heights: list[float]) -> Path:
    """The line where the glass is broken off, its jag in the thickest ply, clear of the lines from the faces."""
    over = pencil.paper(1.0)
    high, low = max(zip(heights[::2], heights[1::2], strict=True), key=lambda ply: ply[0] - ply[1])
    middle, jag = (high + low) / 2, min(pencil.paper(1.2), (high - low) / 4)
    places = (
        (end, -over),
        (end, middle - jag),
        (end - jag, middle - jag / 3),
        (end + jag, middle + jag / 3),
        (end, middle + jag),
    )
    return run("BREAK_LINES", (*places, (end, thickness + over)))


def _print(pencil: Pencil, height: float, under: bool, start: float, solid: float, width: float) -> list[Mark]:
    """The print as a black strip on its face, its fade as dots."""
    paper = pencil.paper
    low, high = (
        (height + paper(UNDER), height + paper(UNDER + STRIP))
        if under
        else (height - paper(UNDER + STRIP), height - paper(UNDER))
    )
    marks: list[Mark] = [Fill("MATERIAL_FRIT", box_nodes(start, low, solid, high))]
    fade = width - solid
    count = max(2, min(DOTS, int(fade * pencil.scale / 1.2))) if fade > 0.0 else 0
    for index in range(count):
        radius = paper(STRIP / 2) * (1.0 - 0.8 * (index + 0.5) / count)
        marks.append(Fill("MATERIAL_FRIT", circle_nodes((solid + fade * (index + 0.5) / count, (low + high) / 2), radius)))
    return marks


def _arris_drawn(ordered: float | None, start: float, thinnest: float, least: float) -> float:
    """The arris as it is drawn, mm: true where it is ordered, else of a size that shows; never so large that a ply comes to a point."""
    if ordered is not None:
        return min(ordered, 0.45 * thinnest)
    return min(max(start, least), 0.3 * thinnest) if start else 0.0


def arris_words(ordered: float | None, start: float) -> str:
    """The arris as ordered, ``arris 1,5 × 45°``; where it is not, as large as the print leaves room for."""
    return f"arris at most {number(start)}, every edge" if ordered is None else f"arris {number(ordered)} × 45°, every edge"


def _arris_note(pencil: Pencil, arris: float, thickness: float, words: str) -> list[Mark]:
    """A leader from the outer arris to what it may be."""
    paper = pencil.paper
    tip = (arris / 2, thickness - arris / 2)
    elbow = (tip[0] + paper(NOTE_AT), thickness + paper(1.0))
    end = (elbow[0] + pencil.width(words) + paper(1.0), elbow[1])
    return [
        run("DIMENSIONS", (tip, elbow, end)),
        Text("TEXT", elbow[0] + paper(0.5), elbow[1] + paper(1.65), words, pencil.style.text),
    ]


__all__ = ["ROW_AT", "ROW_NEAR", "arris_words", "edge_marks"]
