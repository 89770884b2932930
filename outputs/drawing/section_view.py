"""A section square to the glass edge, with its sizes twice: along the landing from the recess wall below and from the glass edge above,
across it from the landing and from the outer faces at both sides. Parts are numbered as in the parts list.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.drawing.balloons import LANE, LANE_BESIDE, balloon_beside, balloon_row, item_on_chock, items_of, take
from outputs.drawing.materials import LAYER_OF
from outputs.drawing.recess_notes import draft_marks, fillet_marks
from outputs.drawing.section_heights import LEFT_OF_FRAME, RIGHT_OF_GLASS, columns, heights_on_left, heights_on_right
from outputs.drawing.section_rows import chain, rows_from_glass, rows_from_wall
from outputs.sheet.entities import Hatch, Mark, Path
from outputs.sheet.keep_clear import KeepClear
from outputs.sheet.runs import line, run

if TYPE_CHECKING:
    from geometry.detail.parts import CutFace, Detail, Section
    from outputs.sheet.entities import Place
    from outputs.sheet.pencil import Pencil


def section_marks(
    section: Section, detail: Detail, pencil: Pencil, *, dimensioned: bool = True, room: KeepClear | None = None
) -> tuple[Mark, ...]:
    """The marks of one section, its origin at the foot of the recess wall, its title not included.

    ``room`` keeps the account of the view: empty before, with every outcome in it afterwards.
    """
    marks: list[Mark] = [*cut_marks(section.faces), *frit_marks(section, detail), *break_marks(section.faces, pencil)]
    if dimensioned:
        room = KeepClear(scale=pencil.scale) if room is None else room
        room.add(marks)
        marks += dimension_marks(section, detail, pencil, room)
    return tuple(marks)


def dimension_marks(section: Section, detail: Detail, pencil: Pencil, room: KeepClear) -> list[Mark]:
    """Chains, heights, item numbers, fillet and draft of one section, in the room that its faces leave."""
    bottom = min(z for face in section.faces for _, z, _ in face.nodes)
    left = min(x for face in section.faces for x, _, _ in face.nodes)
    right = max(x for face in section.faces for x, _, _ in face.nodes)
    top = max(section.levels.skin, section.levels.glass_face)
    from_glass = rows_from_glass(section, detail)
    balloons: list[Mark] = []
    lane = pencil.paper(LANE) if section.spacer is not None else 0.0
    from_wall = rows_from_wall(section, detail)
    found = chain(from_wall, pencil, level=bottom, sign=-1.0)
    found += chain(from_glass, pencil, level=top + lane, sign=1.0)
    room.add(found)
    for row in (*from_wall, *from_glass):
        room.drawn(row.name)
    beside = room.copy()
    beside.outcomes = room.outcomes  # one account: only the lane is taken in this copy
    if lane:
        beside.block((left - pencil.paper(LANE_BESIDE), top + pencil.paper(1.0), section.crossing.glass_edge, top + lane))
    on_left = columns(heights_on_left(section, detail), pencil, beside, first=left - pencil.paper(LEFT_OF_FRAME), sign=-1.0)
    room.add(on_left)
    found += on_left
    found += columns(heights_on_right(section, detail), pencil, room, first=right + pencil.paper(RIGHT_OF_GLASS), sign=1.0)
    if section.spacer is not None:
        through = sorted({x for row in from_glass for span in row.spans for x in (span.first, span.second)})
        balloons = balloon_row(items_of(section, detail), tuple(through), pencil, room, top=top)
        take(balloons, room, pencil)
    chock = item_on_chock(section, detail)
    if chock is not None:
        found += balloon_beside(chock, pencil, room, top=top, right=section.crossing.glass_edge)
    found += draft_marks(section, pencil, room)
    found += fillet_marks(section, pencil, room)
    return [*found, *balloons]


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


__all__ = ["break_marks", "cut_marks", "dimension_marks", "frit_marks", "section_marks"]
