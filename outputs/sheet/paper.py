"""Trimmed sheets, their frame and centring marks.

Sizes A4 to A0, lying or standing; borders (20 mm left, 10 mm elsewhere) and centring marks: ISO 5457, second hand. The grid of the border
is left out: nothing on these sheets is called by it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from outputs.sheet.entities import Mark, Text
from outputs.sheet.runs import box, line

if TYPE_CHECKING:
    from outputs.sheet.drafting import DraftingStyle

SIZES = {"A4": (297.0, 210.0), "A3": (420.0, 297.0), "A2": (594.0, 420.0), "A1": (841.0, 594.0), "A0": (1189.0, 841.0)}
"""Width and height of each size as it lies, mm (ISO 216)."""
LEFT, OTHER, CENTRING = 20.0, 10.0, 5.0
TITLE_WIDTH = 180.0
BAR = 100.0  # mm, the bar to measure on the print
BAR_WORDS = "100 mm at 100 %. Do not scale."


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
    def count(self) -> str:
        """Which sheet of how many, as the title block has it."""
        return f"{self.number} of {self.of}"


def frame_marks(paper: Paper) -> list[Mark]:
    """Frame and centring marks; the marks stand outside the frame, so that they meet nothing inside it."""
    left, bottom, right, top = paper.space
    across, up = paper.width / 2.0, paper.height / 2.0
    return [
        box("SHEET", left, bottom, right, top),
        line("SHEET", (across, top), (across, top + CENTRING)),
        line("SHEET", (across, bottom), (across, bottom - CENTRING)),
        line("SHEET", (left, up), (left - CENTRING, up)),
        line("SHEET", (right, up), (right + CENTRING, up)),
    ]


def margin_bar(paper: Paper, style: DraftingStyle) -> list[Mark]:
    """A bar of 100 mm to measure on the print, upright in the margin for filing, under the centring mark, where nothing of any sheet stands."""
    left, bottom, _, _ = paper.space
    x, y, up = left - 7.0, bottom / 2.0, BAR_WORDS
    marks: list[Mark] = [line("SEEN_OUTLINE", (x, y), (x, y + BAR))]
    marks += [line("SEEN_OUTLINE", (x - 1.5, y + place), (x + 1.5, y + place)) for place in (0.0, BAR)]
    marks.append(Text("TEXT", x - 2.0, y + BAR / 2.0, up, style.text, "middle", 90.0))
    return marks


__all__ = ["SIZES", "TITLE_WIDTH", "Paper", "frame_marks", "margin_bar"]
