"""A section square to the glass edge, with its sizes twice: from the recess wall below, from the glass edge above.

Terms
-----
chain
    A set of dimensions that all start from one datum, the shortest nearest to the section; each line carries its name beside it.
row
    One dimension line of a chain.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from outputs.drawing.materials import LAYER_OF
from outputs.drawing.pencil import Pencil, circle, circle_nodes, line, polar, run
from outputs.sheet.entities import Fill, Hatch, Mark, Path, Text

if TYPE_CHECKING:
    from geometry.detail.parts import CutFace, Detail, Section
    from outputs.sheet.entities import Place

Row = tuple[str, float, float | None]  # name, distance from the datum, tolerance


def section_marks(section: Section, detail: Detail, pencil: Pencil, *, dimensioned: bool = True) -> tuple[Mark, ...]:
    """The marks of one section, its origin at the foot of the recess wall, its title not included."""
    marks: list[Mark] = [*cut_marks(section.faces), *frit_marks(section, detail), *break_marks(section.faces, pencil)]
    skin = detail.sizes.recess_depth.value
    top = max(skin, detail.sizes.bond_thickness.value + detail.glass.thickness)
    bottom = min(z for face in section.faces for _, z, _ in face.nodes)
    if dimensioned:
        marks += chain(_rows_from_wall(section, detail), 0.0, pencil, level=bottom, sign=-1.0, start=0.0)
        if section.spacer is None:
            marks += chain(_rows_from_glass(section, detail), section.crossing.glass_edge, pencil, level=top, sign=1.0, start=top)
        else:
            marks += callouts(section, detail, pencil, level=top)
    marks += heights(section, detail, pencil)
    return tuple(marks)


def cut_marks(faces: tuple[CutFace, ...]) -> list[Mark]:
    """Hatch and outline of every cut face."""
    marks: list[Mark] = []
    for face in faces:
        marks.append(Hatch(LAYER_OF[face.material], face.material, (face.nodes,)))
        if face.material == "frame":
            marks.append(Path("CUT_OUTLINE", face.nodes[1:]))  # its far side is broken off
        elif face.material in ("glass", "interlayer"):
            (x1, z1, _), (x2, _, _), (_, z2, _), _ = face.nodes
            marks.append(run("CUT_OUTLINE", ((x2, z1), (x1, z1), (x1, z2), (x2, z2))))
        else:
            marks.append(Path("CUT_OUTLINE", face.nodes, True))
    return marks


def frit_marks(section: Section, detail: Detail) -> list[Mark]:
    """The frit as one wide line on the bond face, its fade as a broken continuation."""
    z = detail.sizes.bond_thickness.value
    x = section.crossing
    solid_end = x.frit_inner if x.frit_fade is None else x.frit_fade
    marks: list[Mark] = [line("MATERIAL_FRIT", (x.frit_start, z), (solid_end, z))]
    if x.frit_fade is not None:
        marks.append(line("FRIT_FADE", (x.frit_fade, z), (x.frit_inner, z)))
    return marks


def break_marks(faces: tuple[CutFace, ...], pencil: Pencil) -> list[Mark]:
    """Break lines where frame and glass go on beyond the section."""
    frame = next(face for face in faces if face.material == "frame")
    left, low = frame.nodes[0][0], frame.nodes[0][1]
    high = frame.nodes[-1][1]
    panes = [face for face in faces if face.material in ("glass", "interlayer")]
    right = panes[0].nodes[1][0]
    glass_low = min(node[1] for face in panes for node in face.nodes)
    glass_high = max(node[1] for face in panes for node in face.nodes)
    return [_zigzag((left, low), (left, high), pencil), _zigzag((right, glass_low), (right, glass_high), pencil)]


def _zigzag(low: Place, high: Place, pencil: Pencil) -> Path:
    """An upright break line that runs 1,5 mm past both ends, with one zigzag in its middle."""
    past, swing = pencil.paper(1.5), pencil.paper(1.2)
    x, middle = low[0], (low[1] + high[1]) / 2
    return run(
        "BREAK_LINES",
        (
            (x, low[1] - past),
            (x, middle - swing),
            (x - swing, middle - swing / 2),
            (x + swing, middle + swing / 2),
            (x, middle + swing),
            (x, high[1] + past),
        ),
    )


def callouts(section: Section, detail: Detail, pencil: Pencil, *, level: float) -> list[Mark]:
    """Item numbers of the parts list in a row over the section, each with a leader that ends in a dot on its part."""
    x, style = section.crossing, pencil.style
    bond = detail.sizes.bond_thickness.value
    fill = min(bond + detail.glass.thickness, detail.sizes.recess_depth.value) - detail.sizes.backfill_depth.value / 2
    spacer = next(face for face in section.faces if face.material == "spacer")
    backer = next((face for face in section.faces if face.material == "backer"), None)
    spots: list[tuple[str, Place]] = [
        ("1", (-4.0, bond)),
        ("5", (x.glass_edge / 2, fill)),
        ("7", (sum(n[0] for n in spacer.nodes) / 4, bond / 2)),
        ("3", (x.bead_centre, bond / 2)),
        ("4", (x.bead_inner + 0.6 * (x.frit_inner - x.bead_inner), bond)),
        ("2", (x.frit_inner + 4.0, bond + detail.glass.thickness / 2)),
    ]
    if backer is not None:
        spots.insert(2, ("6", (x.glass_edge / 2, sum(n[1] for n in backer.nodes) / len(backer.nodes))))
    radius, pitch = pencil.paper(3.5), pencil.paper(10.0)
    y = level + pencil.paper(18.0)
    first = sum(place[0] for _, place in spots) / len(spots) - pitch * (len(spots) - 1) / 2
    marks: list[Mark] = []
    for index, (item, place) in enumerate(spots):
        centre = (first + index * pitch, y)
        away = math.degrees(math.atan2(place[1] - centre[1], place[0] - centre[0]))
        marks += [
            circle("ITEM_LEADERS", centre, radius),
            pencil.text("TEXT", centre, item, height=style.label, align="middle", centred=True),
            line("ITEM_LEADERS", polar(centre, away, radius), place),
            Fill("ITEM_LEADERS", circle_nodes(place, pencil.paper(0.5))),
        ]
    return marks


def _rows_from_wall(section: Section, detail: Detail) -> list[Row]:
    x = section.crossing
    if section.spacer is not None:
        first = x.glass_edge + (detail.sizes.set_back.value - detail.sizes.spacer_width.value) / 2
        return [
            ("joint width", x.glass_edge, detail.sizes.joint_width.tolerance),
            ("spacer, outer face", first, None),
            ("spacer, inner face", first + detail.sizes.spacer_width.value, None),
            ("bead, outer edge", x.bead_outer, None),
        ]
    rows: list[Row] = [
        ("joint width", x.glass_edge, detail.sizes.joint_width.tolerance),
        ("bead, outer edge", x.bead_outer, None),
        ("bead, centre line", x.bead_centre, None),
        ("bead, inner edge", x.bead_inner, None),
        ("landing", x.landing, detail.sizes.landing.tolerance),
        ("frit, inner edge", x.frit_inner, None),
    ]
    return rows


def _rows_from_glass(section: Section, detail: Detail) -> list[Row]:
    x, edge = section.crossing, section.crossing.glass_edge
    rows: list[Row] = [
        ("set-back", x.bead_outer - edge, detail.sizes.set_back.tolerance),
        ("bead, centre line", x.bead_centre - edge, None),
        ("bead, inner edge", x.bead_inner - edge, None),
        ("landing, edge", x.landing - edge, None),
        ("frit width", x.frit_inner - edge, detail.sizes.frit_width.tolerance),
    ]
    if x.frit_fade is not None:
        rows.append(("solid frit", x.frit_fade - edge, None))
    return rows


def chain(rows: list[Row], datum: float, pencil: Pencil, *, level: float, sign: float, start: float) -> list[Mark]:
    """Dimensions from one datum, shortest nearest, each with its name to the right of the longest.

    ``level`` is the edge of the drawn section, ``sign`` +1 stacks the rows upwards, -1 downwards; ``start`` is the z from which the
    extension lines run.
    """
    style = pencil.style
    ordered = sorted((row for row in rows if row[1] > 1e-6), key=lambda row: row[1])
    marks: list[Mark] = []
    names_at = datum + max(row[1] for row in ordered) + pencil.paper(3.0)
    for index, (name, distance, tolerance) in enumerate(ordered):
        z = level + sign * pencil.paper(style.first_row + index * style.row)
        marks.append(pencil.linear((datum, start), (datum + distance, start), line_at=z, tolerance=tolerance, outside="first"))
        marks.append(pencil.text("TEXT", (names_at, z), name, centred=True))
    return marks


def heights(section: Section, detail: Detail, pencil: Pencil) -> list[Mark]:
    """Dimensions square to the landing: on the left from the skin, on the right from the landing."""
    style, sizes = pencil.style, detail.sizes
    frame = next(face for face in section.faces if face.material == "frame")
    left = frame.nodes[0][0]
    pane_end = max(x for face in section.faces for x, _, _ in face.nodes)
    bond, total, skin = sizes.bond_thickness.value, detail.glass.thickness, sizes.recess_depth.value
    over = sizes.chock_backfill_over if section.chock is not None else sizes.backfill_depth
    fill_top = min(bond + total, skin)
    marks: list[Mark] = [
        pencil.linear(
            (0.0, fill_top - over.value), (0.0, fill_top), line_at=left - pencil.paper(5.0), angle=90.0, outside="second"
        ),
        pencil.linear(
            (0.0, 0.0),
            (0.0, skin),
            line_at=left - pencil.paper(5.0 + style.row),
            angle=90.0,
            tolerance=sizes.recess_depth.tolerance,
            outside="second",
        ),
        pencil.linear(
            (section.crossing.bead_inner, 0.0),
            (pane_end, bond),
            line_at=pane_end + pencil.paper(7.0),
            angle=90.0,
            tolerance=sizes.bond_thickness.tolerance,
            outside="first",
        ),
        pencil.linear(
            (pane_end, bond), (pane_end, bond + total), line_at=pane_end + pencil.paper(7.0), angle=90.0, outside="second"
        ),
    ]
    return marks


def title(pencil: Pencil, at: Place, string: str) -> Text:
    """The title over a view."""
    return pencil.text("TEXT", at, string, height=pencil.style.title)
