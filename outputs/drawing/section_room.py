"""How much paper a section takes at least, told from its sizes before it is drawn: a scale that finds no room need not be drawn."""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.drawing.balloons import LANE
from outputs.drawing.section_heights import LEFT_OF_FRAME, RIGHT_OF_GLASS, columns_needed, heights_on_left, heights_on_right
from outputs.drawing.section_rows import names_end, rows_from_glass, rows_from_wall

if TYPE_CHECKING:
    from geometry.detail.parts import Detail, Section
    from outputs.sheet.pencil import Pencil


def least_room(section: Section, detail: Detail, pencil: Pencil) -> tuple[float, float]:
    """Width and height, paper mm, of a section with its sizes round it, its title not included; the drawn one is never smaller.

    The rows of both chains stand as they will be drawn; of the heights it is only known how many columns they need.
    """
    style, scale = pencil.style, pencil.scale
    xs = [x for face in section.faces for x, _, _ in face.nodes]
    bottom = min(z for face in section.faces for _, z, _ in face.nodes)
    top = max(section.levels.skin, section.levels.glass_face)
    from_wall, from_glass = rows_from_wall(section, detail), rows_from_glass(section, detail)
    on_left, on_right = (columns_needed(heights(section, detail)) for heights in (heights_on_left, heights_on_right))
    left = min(xs) * scale - LEFT_OF_FRAME - (on_left - 1) * style.row - style.text_gap - style.text
    right = max(
        max(xs) * scale + RIGHT_OF_GLASS + (on_right - 1) * style.row,
        *(names_end(rows, pencil) * scale for rows in (from_wall, from_glass) if rows),
    )
    lane = LANE if section.spacer is not None else 0.0
    below = style.first_row + (len(from_wall) - 1) * style.row + style.extension_past if from_wall else 0.0
    figure = max(style.extension_past, style.text_gap + style.text)  # over the last dimension line
    above = style.first_row + (len(from_glass) - 1) * style.row + figure if from_glass else 0.0
    return right - left, (top - bottom) * scale + lane + below + above


__all__ = ["least_room"]
