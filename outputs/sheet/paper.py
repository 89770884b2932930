"""Trimmed sheets, their frame, grid and title block.

Sizes A4 to A0, lying or standing; borders (20 mm left, 10 mm elsewhere), 50 mm grid fields counted from the middle, letters without I and
O: ISO 5457, second hand.
Fields of the title block, 180 mm wide, on an A4 that stands the whole width: ISO 7200, second hand. A field without a value stays
blank.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from outputs.sheet.entities import Fill, Mark, Path, Text
from outputs.sheet.lettering import text_width
from outputs.sheet.runs import box, line

if TYPE_CHECKING:
    from outputs.sheet.drafting import DraftingStyle

SIZES = {"A4": (297.0, 210.0), "A3": (420.0, 297.0), "A2": (594.0, 420.0), "A1": (841.0, 594.0), "A0": (1189.0, 841.0)}
"""Width and height of each size as it lies, mm (ISO 216)."""
LEFT, OTHER, GRID = 20.0, 10.0, 5.0
TITLE_WIDTH = 180.0
TITLE_HEIGHT = 50.0
BAR = 100.0  # mm, the bar to measure on the print
BAR_WORDS = ("100 mm on the print at 100 %. Do not scale the drawing.", "100 mm at 100 %. Do not scale.")
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


@dataclass(frozen=True, slots=True)
class TitleFields:
    """What is lettered in the title block; blank where nothing was given."""

    owner: str
    title: str
    supplementary: str
    document_type: str
    number: str
    revision: str
    date: str
    drawn_by: str
    checked_by: str
    approved_by: str
    status: str
    scale: str
    frame: str
    language: str = "en"


@dataclass(frozen=True, slots=True)
class Paper:
    """One sheet of paper: its size by name, whether it stands (portrait), and which sheet of how many it is.

    Raises ``ValueError`` for a size that is not there and for a sheet that is not one of its set.
    """

    size: str
    portrait: bool = False
    number: int = 1
    of: int = 1

    def __post_init__(self) -> None:
        if self.size not in SIZES:
            raise ValueError(f"there is no paper {self.size!r}; there is {', '.join(SIZES)}")
        if not 1 <= self.number <= self.of:
            raise ValueError(f"sheet {self.number} of {self.of}: a sheet is one of its set, counted from 1")

    @property
    def width(self) -> float:
        """Trimmed width, mm."""
        return SIZES[self.size][1 if self.portrait else 0]

    @property
    def height(self) -> float:
        """Trimmed height, mm."""
        return SIZES[self.size][0 if self.portrait else 1]

    @property
    def space(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of the frame, mm."""
        return LEFT, OTHER, self.width - OTHER, self.height - OTHER

    @property
    def title_width(self) -> float:
        """Width of the title block, mm: 180, which is the whole width of an A4 that stands."""
        left, _, right, _ = self.space
        return min(TITLE_WIDTH, right - left)

    @property
    def whole_width(self) -> bool:
        """Whether the title block leaves no room beside it."""
        left, _, right, _ = self.space
        return right - left < 2 * self.title_width - 80.0

    @property
    def count(self) -> str:
        """Which sheet of how many, as the title block has it."""
        return f"{self.number}/{self.of}"


def frame_marks(paper: Paper) -> list[Mark]:
    """Frame, grid border with its letters and figures, centring marks, trimming marks and the size's name."""
    width, height = paper.width, paper.height
    left, bottom, right, top = paper.space
    marks: list[Mark] = [box("SHEET", left, bottom, right, top)]
    grid = (left - GRID, bottom - GRID, right + GRID, top + GRID)
    marks.append(box("TABLES", *grid))
    columns = _fields(left, right, width / 2)
    rows = _fields(bottom, top, height / 2)
    for x in columns[1:-1]:
        marks += [line("TABLES", (x, top), (x, top + GRID)), line("TABLES", (x, bottom - GRID), (x, bottom))]
    for y in rows[1:-1]:
        marks += [line("TABLES", (left - GRID, y), (left, y)), line("TABLES", (right, y), (right + GRID, y))]
    for index, (a, b) in enumerate(pairwise(columns), start=1):
        for y in (top + GRID / 2, bottom - GRID / 2):
            designation = index == len(columns) - 1 and y < bottom
            if not designation:
                marks.append(Text("SHEET", (a + b) / 2, y - 1.75 / 2 - 0.4, str(index), 2.5, "middle"))
    for index, (a, b) in enumerate(pairwise(rows[::-1])):
        for x in (left - GRID / 2, right + GRID / 2):
            marks.append(Text("SHEET", x, (a + b) / 2 - 1.25, LETTERS[index], 2.5, "middle"))
    marks += [
        line("SHEET", (width / 2, top + GRID), (width / 2, top - 5)),
        # into the frame by 5 as at the other sides, but never into a title block
        line("SHEET", (width / 2, bottom - GRID), (width / 2, bottom + (0 if paper.whole_width else 5))),
        line("SHEET", (left - GRID, height / 2), (left + 5, height / 2)),
        line("SHEET", (right + GRID, height / 2), (right - 5, height / 2)),
    ]
    for x, sx in ((0.0, 1.0), (width, -1.0)):
        for y, sy in ((0.0, 1.0), (height, -1.0)):
            corner = ((0.0, 0.0), (10.0, 0.0), (10.0, 2.5), (2.5, 2.5), (2.5, 10.0), (0.0, 10.0))
            marks.append(Fill("SHEET", tuple((x + sx * dx * 0.5, y + sy * dy * 0.5, 0.0) for dx, dy in corner)))
    marks.append(Text("SHEET", (columns[-2] + columns[-1]) / 2, bottom - GRID / 2 - 1.25, paper.size, 2.5, "middle"))
    return marks


def _fields(low: float, high: float, middle: float) -> list[float]:
    """Borders of the 50 mm fields counted outwards from the middle, what is left over in the outer ones."""
    count = int((middle - low) // 50)
    inner = [middle + 50.0 * index for index in range(-count, count + 1)]
    inner = [place for place in inner if low + 12 < place < high - 12]
    return [low, *inner, high]


def title_block(paper: Paper, fields: TitleFields, style: DraftingStyle) -> tuple[list[Mark], float]:
    """The title block in the lower right corner and the height of its upper edge on the sheet."""
    _, bottom, right, _ = paper.space
    left = right - paper.title_width
    marks: list[Mark] = []

    def cell(x: float, y: float, width: float, height: float, name: str, value: str, value_height: float | None = None) -> None:
        marks.append(box("TITLE", left + x, bottom + y, left + x + width, bottom + y + height))
        marks.append(Text("TITLE", left + x + 1.2, bottom + y + height - 3.0, name, 1.8))
        if value:
            tall = style.text if value_height is None else value_height
            while tall > 1.8 and text_width(value, tall) > width - 2.4:
                tall = {5.0: 3.5, 3.5: 2.5, 2.5: 1.8}[tall]
            marks.append(Text("TITLE", left + x + 1.2, bottom + y + (2.0 if tall >= 5.0 else 1.5), value, tall))

    cell(0, 0, 60, 9, "Creator", fields.drawn_by)
    cell(60, 0, 60, 9, "Checked by", fields.checked_by)
    cell(120, 0, 60, 9, "Approved by", fields.approved_by)
    cell(0, 9, 60, 9, "Document type", fields.document_type)
    cell(60, 9, 60, 9, "Document status", fields.status)
    cell(120, 9, 26, 9, "Date of issue", fields.date)
    cell(146, 9, 10, 9, "Rev.", fields.revision)
    cell(156, 9, 10, 9, "Lang.", fields.language)
    cell(166, 9, 14, 9, "Sheet", paper.count)
    cell(0, 18, 120, 14, "Title", fields.title, 5.0)
    cell(120, 18, 60, 14, "Identification number", fields.number, 3.5)
    cell(0, 32, 60, 9, "Legal owner", fields.owner)
    cell(60, 32, 60, 9, "Vessel", fields.supplementary)
    cell(120, 32, 60, 9, "Frame", fields.frame)
    cell(0, 41, 60, 9, "Scale of the plan", fields.scale)
    cell(60, 41, 60, 9, "Unit", "mm")
    cell(120, 41, 60, 9, "Projection, first angle", "")
    marks += _projection(left + 158, bottom + 45.0)
    return marks, bottom + TITLE_HEIGHT


def _projection(x: float, y: float) -> list[Mark]:
    """The first angle symbol of ISO 5456-2 at half size: frustum with its small end left, circles right."""
    cone = ((x - 8.0, y - 1.25, 0.0), (x - 3.0, y - 2.5, 0.0), (x - 3.0, y + 2.5, 0.0), (x - 8.0, y + 1.25, 0.0))
    marks: list[Mark] = [Path("SEEN_OUTLINE", cone, True)]
    for radius in (1.25, 2.5):
        marks.append(Path("SEEN_OUTLINE", ((x + 4.0 - radius, y, 1.0), (x + 4.0 + radius, y, 1.0)), True))
    return marks


def check_bar(paper: Paper, style: DraftingStyle) -> list[Mark]:
    """A bar of 100 mm to measure on the print, in the lower left corner, over a title block that takes the whole width."""
    left, bottom, right, _ = paper.space
    x, y = left + 6.0, bottom + 5.0 + (TITLE_HEIGHT if paper.whole_width else 0.0)
    room = right - (0.0 if paper.whole_width else paper.title_width) - x - BAR - 8.0
    words = next((words for words in BAR_WORDS if text_width(words, style.text) <= room), BAR_WORDS[-1])
    marks: list[Mark] = [line("SEEN_OUTLINE", (x, y), (x + BAR, y))]
    marks += [line("SEEN_OUTLINE", (x + place, y - 1.5), (x + place, y + 1.5)) for place in (0.0, BAR)]
    marks.append(Text("TEXT", x + BAR + 4.0, y - style.text / 2, words, style.text))
    return marks


__all__ = ["SIZES", "TITLE_HEIGHT", "TITLE_WIDTH", "Paper", "TitleFields", "check_bar", "frame_marks", "title_block"]
