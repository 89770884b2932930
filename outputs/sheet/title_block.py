"""The title block of a sheet and the box over it that says when the sheet is not released.

Fields of ISO 7200, 180 mm wide, in the lower right corner, on an A4 that stands the whole width: second hand. What the fields hold is
the business of the kind of sheet. A field without a value stays blank.

Terms
-----
row
    Fields side by side, ten millimetres high; the first row is the upper one.

Warning:
    Words over the title block, five millimetres high, in a frame as heavy as the sheet's. The room for them is always kept free.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from outputs.sheet.entities import Mark, Path, Text
from outputs.sheet.lettering import text_width
from outputs.sheet.runs import box

if TYPE_CHECKING:
    from outputs.sheet.paper import Paper

ROW = 10.0
WARNING = 11.0
"""Height of the room over the title block that is kept for the warning, paper mm."""
PROJECTION = "Projection"
LABEL, PLAIN, KEY, LOUD = 1.8, 2.5, 3.5, 5.0
_SMALLER = {LOUD: KEY, KEY: PLAIN, PLAIN: LABEL}
_EDGE = 1.2  # from the edge of a field to its words


@dataclass(frozen=True, slots=True)
class Field:
    """One field: its name, its value, its width and the height of its capitals, paper mm."""

    name: str
    value: str
    width: float
    tall: float = PLAIN


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """The rows of fields; ``warning`` with ``reason`` stands over them where there is one."""

    rows: tuple[tuple[Field, ...], ...]
    warning: str = ""
    reason: str = ""

    @property
    def height(self) -> float:
        """Height with the room for the warning, paper mm."""
        return ROW * len(self.rows) + WARNING


def title_block(paper: Paper, block: TitleBlock) -> list[Mark]:
    """The marks of a title block in its corner. A value too long for its field is lettered smaller, down to the name of the field."""
    _, bottom, right, _ = paper.space
    left = right - paper.title_width
    marks: list[Mark] = []
    for count, row in enumerate(reversed(block.rows)):
        x, y = left, bottom + count * ROW
        for each in row:
            marks += _field(each, x, y)
            x += each.width
    if block.warning:
        low = bottom + ROW * len(block.rows) + 0.5
        marks.append(box("SHEET", left, low, right, bottom + block.height))
        marks.append(Text("SHEET", left + 3.0, low + 2.75, block.warning, LOUD))
        room = paper.title_width - 9.0 - text_width(block.warning, LOUD)
        if block.reason and text_width(block.reason, PLAIN) <= room:
            marks.append(Text("SHEET", right - 3.0, low + 2.75, block.reason, PLAIN, "right"))
    return marks


def _field(field: Field, x: float, y: float) -> list[Mark]:
    marks: list[Mark] = [box("TITLE", x, y, x + field.width, y + ROW), Text("TITLE", x + _EDGE, y + ROW - 3.1, field.name, LABEL)]
    if field.name == PROJECTION:
        marks += _projection(x + field.width / 2.0, y + 3.4)
    elif field.value:
        tall = field.tall
        while tall > LABEL and text_width(field.value, tall) > field.width - 2 * _EDGE:
            tall = _SMALLER[tall]
        marks.append(Text("TITLE", x + _EDGE, y + 1.6, field.value, tall))
    return marks


def _projection(x: float, y: float) -> list[Mark]:
    """The first angle symbol of ISO 5456-2 at half size: frustum with its small end left, circles right."""
    cone = ((x - 8.0, y - 1.25, 0.0), (x - 3.0, y - 2.5, 0.0), (x - 3.0, y + 2.5, 0.0), (x - 8.0, y + 1.25, 0.0))
    marks: list[Mark] = [Path("SEEN_OUTLINE", cone, True)]
    for radius in (1.25, 2.5):
        marks.append(Path("SEEN_OUTLINE", ((x + 4.0 - radius, y, 1.0), (x + 4.0 + radius, y, 1.0)), True))
    return marks


__all__ = ["KEY", "LABEL", "LOUD", "PLAIN", "PROJECTION", "ROW", "WARNING", "Field", "TitleBlock", "title_block"]
