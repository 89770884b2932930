"""Where everything stands on the detail sheet: fixed boxes, the same on every sheet of one size.

Terms
-----
column
    The strip at the right: enlarged corner, key of lines, flags, parts, title block.
strip
    The lower strip: the sections, and the notes beside the title block.

All are paper millimetres; ``down`` counts from the upper edge of the paper.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from outputs.sheet.drafting import DraftingStyle, larger

if TYPE_CHECKING:
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Place
    from outputs.sheet.paper import Paper

LARGE = 1.4
"""How much larger everything is on A1 and A0 than on A4 to A2."""
WINDOW = 52.0
"""Side of the window of an enlarged corner on A4 to A2, paper mm."""
TITLE_BLOCK, WARNING = 50.0, 60.8  # paper mm over the frame: the title block, and with the warning over it


@dataclass(frozen=True, slots=True)
class Places:
    """The boxes of one paper."""

    paper: Paper
    times: float

    @classmethod
    def of(cls, paper: Paper) -> Places:
        """The boxes of a paper."""
        return cls(paper, LARGE if paper.size in ("A1", "A0") else 1.0)

    @property
    def style(self) -> DraftingStyle:
        """The hand of this paper."""
        return DraftingStyle() if self.times == 1.0 else larger(DraftingStyle(), self.times)

    def _up(self, down: float) -> float:
        return self.paper.height - down

    @property
    def column(self) -> tuple[float, float]:
        """Left and right of the column."""
        right = self.paper.width - 13.0
        return right - 103.0 * self.times, right

    @property
    def strip(self) -> float:
        """The upper edge of the strip."""
        return 10.0 + 100.0 * self.times

    @property
    def plan(self) -> Box:
        """The box of the plan."""
        return 23.5, self.strip, self.column[0] - 3.0, self._up(11.0)

    @property
    def plan_title(self) -> Place:
        """Base line of the plan's title."""
        return 25.0, self._up(10.0 + 10.0 * self.times)

    @property
    def window_side(self) -> float:
        """Side of the window of an enlarged corner."""
        return WINDOW * self.times

    @property
    def hazards(self) -> Box:
        """The box of the cautions at the head of the sheet, between the title of the plan and that of a second corner."""
        return 20.0 + 74.0 * self.times, self.plan_title[1] - 0.8, self.window(1)[0] - 4.0, self._up(11.5)

    def window(self, order: int) -> Box:
        """The window of the first or the second enlarged corner."""
        left = self.column[0] + 1.0 - order * 89.0 * self.times
        top = self._up(10.0 + 15.0 * self.times)
        side = self.window_side
        return left, top - side, left + side, top

    @property
    def under_second(self) -> Place:
        """Upper left corner of the table of corners under the second window."""
        left, bottom, _, _ = self.window(1)
        return left, bottom - 9.0 * self.times

    @property
    def lines_title(self) -> Place:
        """Base line of the key of lines."""
        return self.column[0], self._up(10.0 + (24.0 + WINDOW) * self.times)

    @property
    def flags_title(self) -> Place:
        """Base line of the title of the flags."""
        return self.column[0], self._up(10.0 + (42.5 + WINDOW) * self.times)

    @property
    def parts_foot(self) -> float:
        """The foot of the parts list, over the room of the warning."""
        return 10.0 + WARNING + 3.2

    def section(self, order: int, scale: float) -> tuple[Place, Place]:
        """Base line of the title of the first, second ... section, and where its wall meets the landing."""
        title = self._strip_down(7.0)
        landing = 10.0 + 28.0 * self.times
        if order == 0:
            return (25.0, title), (20.0 + 32.0 * self.times if scale >= 2.0 else 20.0 + 27.0 * self.times, landing)
        left = 20.0 + 150.0 * self.times + (order - 1) * 78.0 * self.times
        wall = left + (4.5 if scale >= 2.0 else 4.0) * self.times
        return (left - (3.0 if scale >= 2.0 else 0.0), title), (wall, landing)

    def _strip_down(self, down: float) -> float:
        return self.strip - down * self.times

    @property
    def notes(self) -> Box:
        """The box of notes and cautions, its title included, left of the column and over the title block."""
        right = self.column[0] - 3.0
        left = max(self.paper.width - 10.0 - 180.0 + 1.0, right - 70.0 * self.times)
        return left, 10.0 + WARNING + 0.8, right, self._strip_down(2.0)


__all__ = ["LARGE", "WINDOW", "Places"]
