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
NOTES = 70.0  # paper mm, width of the notes
NOTES_UNDER, LEAST_UNDER = 132.0, 50.0  # paper mm, width of the notes under a flat plan, and the least height for them
WARNING = 60.8  # paper mm over the frame: the title block with the warning over it
OVER_WARNING = 2.0  # paper mm that stay clear over it


@dataclass(frozen=True, slots=True)
class Sizes:
    """How large the boxes are, paper mm of A4 to A2.

    ``column`` is the width of the column, ``window`` the side of an enlarged corner, ``pitch`` from one of them to the next, ``strip`` the
    height of the strip, ``second`` where the second section begins and ``third`` how far on the third, ``landing`` the height of the
    landing in the strip, ``lines`` and ``flags`` from the top of a window's title to theirs, less the window.
    """

    column: float
    window: float
    pitch: float
    strip: float
    second: float
    third: float
    landing: float
    lines: float
    flags: float


CLOSE = Sizes(column=103.0, window=52.0, pitch=89.0, strip=100.0, second=150.0, third=78.0, landing=28.0, lines=24.0, flags=42.5)
"""On A3 and smaller."""
ROOMY = Sizes(
    column=120.0,
    window=80.0,
    pitch=118.0,
    strip=115.0,
    second=210.0,
    third=98.0,
    landing=32.0,
    lines=27.0,
    flags=55.0,
)
"""On A2 and larger: corners and sections larger and farther apart, the notes beside the column."""


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
    def roomy(self) -> bool:
        """Whether the paper is larger than A3."""
        return self.paper.size in ("A2", "A1", "A0")

    @property
    def sizes(self) -> Sizes:
        """How large the boxes of this paper are."""
        return ROOMY if self.roomy else CLOSE

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
        return right - self.sizes.column * self.times, right

    @property
    def strip(self) -> float:
        """The upper edge of the strip."""
        return 10.0 + self.sizes.strip * self.times

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
        return self.sizes.window * self.times

    @property
    def hazards(self) -> Box:
        """The box of the cautions at the head of the sheet, between the title of the plan and that of a second corner."""
        return 20.0 + 74.0 * self.times, self.plan_title[1] - 0.8, self.window(1)[0] - 4.0, self._up(11.5)

    def window(self, order: int) -> Box:
        """The window of the first or the second enlarged corner."""
        left = self.column[0] + 1.0 - order * self.sizes.pitch * self.times
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
        return self.column[0], self._up(10.0 + (self.sizes.lines + self.sizes.window) * self.times)

    @property
    def flags_title(self) -> Place:
        """Base line of the title of the flags."""
        return self.column[0], self._up(10.0 + (self.sizes.flags + self.sizes.window) * self.times)

    @property
    def parts_foot(self) -> float:
        """The foot of the parts list, over the room of the warning."""
        return 10.0 + WARNING + 3.2

    def section(self, order: int, scale: float) -> tuple[Place, Place]:
        """Base line of the title of the first, second ... section, and where its wall meets the landing."""
        title = self._strip_down(7.0)
        landing = 10.0 + self.sizes.landing * self.times
        if order == 0:
            return (25.0, title), (20.0 + 32.0 * self.times if scale >= 2.0 else 20.0 + 36.0 * self.times, landing)
        left = 20.0 + (self.sizes.second + (order - 1) * self.sizes.third) * self.times
        wall = left + (4.5 if scale >= 2.0 else 4.0) * self.times
        return (left - (3.0 if scale >= 2.0 else 0.0), title), (wall, landing)

    def _strip_down(self, down: float) -> float:
        return self.strip - down * self.times

    @property
    def notes(self) -> Box:
        """The box of notes and cautions, its title included, left of the column and over the title block."""
        right = self.column[0] - 3.0
        left = right - NOTES * self.times
        if not self.roomy:
            left = max(self.paper.width - 10.0 - 180.0 + 1.0, left)
        return left, 10.0 + WARNING + OVER_WARNING, right, self._strip_down(0.95)

    def under_plan(self, low: float) -> Box | None:
        """Their box under a flat plan that ends at ``low``; None where there is no room for them."""
        top, foot = low - 4.0, self.strip + 3.0
        return (25.0, foot, 25.0 + NOTES_UNDER, top) if not self.roomy and top - foot >= LEAST_UNDER else None

    def notes_under(self, foot: float) -> Box:
        """Their box where the plan leaves room for it beside: under corner and tables, which end at ``foot``, down to the strip."""
        left, right = self.window(1)[0] - 1.0, self.column[0] - 3.0
        return left, self.strip + 3.0 * self.times, right, foot - 5.0 * self.times


__all__ = ["LARGE", "Places", "Sizes"]
