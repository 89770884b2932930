"""The detail sheet of one pane: views composed, the sheet size chosen, everything set in its place.

The smallest sheet is taken on which plan, sections, corner, bead, findings and tables find room, with the largest scales of ISO 5455
that do.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from typing import TYPE_CHECKING

from geometry.outline import bounding_box
from outputs.drawing.stress_view import stress_picture
from outputs.sheet.drafting import number, scale_designation
from outputs.sheet.layout import find_room
from outputs.sheet.outcomes import Fate
from outputs.sheet.paper import Paper
from outputs.sheet.picture import Panel, Picture
from outputs.sheets.column import LaidTables, column_marks, column_tables, column_words, laid_tables, shortened
from outputs.sheets.figure_panels import figure_panels
from outputs.sheets.findings_panel import TO_DO, actions, actions_panel, findings_panel
from outputs.sheets.pictures import bead_pictures, corner_picture, corner_scales, plan_picture, rough_sections, section_pictures
from outputs.sheets.recipe import TALL, Contents, Group, Recipe, Table, Way, Words, made
from outputs.sheets.title import detail_title
from outputs.sheets.words import frame_words

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from geometry.findings.check import PaneCheck
    from geometry.job import Job, Pane
    from outputs.sheet.arrangement import Steps
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Mark, Sheet
    from outputs.sheet.title_block import TitleBlock

SHEETS = ("A3", "A2", "A1", "A0")
SHEETS_BELOW_A0 = SHEETS[:-1]
PLAN_SCALES = (1.0, 0.5, 0.2, 0.1, 0.05, 0.02)
READABLE = 80.0  # paper mm, least longer side of a plan that reads well
LARGE = 150.0  # paper mm, longer side of a plan that reads easily
SEARCH = (
    (SHEETS_BELOW_A0, (0,), (2.0, 1.0)),
    (SHEETS_BELOW_A0, (1,), (2.0, 1.0)),
    (("A0",), (0, 1), (2.0, 1.0)),
    (SHEETS, (2,), (2.0, 1.0)),
    (("A1", "A0"), (0, 1, 2), (0.5, 0.2)),  # sections too large for 1:1
)
"""Sheet sizes, ranks of the plan and scales of the sections, in the order in which they are tried."""
LONGEST_TABLE = 24  # rows of a table where no paper holds all of them
GUTTER = 6.0  # paper mm between views and the column of tables


def detail_sheet(job: Job, pane: Pane, detail: Detail, check: PaneCheck | None = None) -> Sheet:
    """The finished sheet of one pane; with ``check`` its findings stand on it.

    Raises
    ------
    SheetError
        When no sheet size holds the drawing.
    """
    return made(DETAIL, Contents(job, pane, detail, check))


def _papers(contents: Contents) -> Iterator[Paper]:
    """The one that the office asks for, or every size from A3 on."""
    wanted = contents.job.sheet.size
    yield from (Paper(size) for size in SHEETS if wanted not in SHEETS or size == wanted)


def _ways(recipe: Recipe, contents: Contents) -> Iterator[Way]:
    """The smallest sheet with the largest scales first, the tables in a column at the right."""
    to_do = () if contents.check is None else actions(contents.check.findings)
    shown = _Shown(contents)
    whole = recipe.tables(contents)
    short = tuple(shortened(each, LONGEST_TABLE) for each in whole)
    for tables in (whole,) if short == whole else (whole, short):  # rows are left out only where no paper holds all of them
        yield from _ways_with(tables, recipe, contents, shown, to_do)


def _ways_with(
    given: tuple[Table, ...], recipe: Recipe, contents: Contents, shown: _Shown, to_do: tuple[str, ...]
) -> Iterator[Way]:
    """The ways with these tables in the column; they are laid once for each paper."""
    laid: dict[str, LaidTables | None] = {}
    detail = contents.detail
    thin = detail.glass.thickness < 10
    papers = {paper.size: paper for paper in recipe.papers(contents)}
    for paper, ranks, cut_scales in [(papers[s], *rest) for sizes, *rest in SEARCH for s in sizes if s in papers]:
        if paper.size not in laid:
            laid[paper.size] = laid_tables(detail, paper, given, recipe.words(contents, ()), contents.style)
        tables = laid[paper.size]
        if tables is None:
            continue
        for section_scale, scale in _scales(detail, paper, cut_scales, thin=thin):
            if _rank(detail, scale) not in ranks:
                continue
            column = _column(recipe, contents, paper, tables, [shown.plan(scale)], to_do)
            if column is None or not shown.finds_room(scale, section_scale, column[1], _beside_column(paper)):
                continue
            plan, sections = shown.plan(scale), shown.sections(section_scale)
            if any(outcome.fate is not Fate.DRAWN for section in sections for outcome in section.outcomes):
                column = _column(recipe, contents, paper, tables, [plan, *sections], to_do)
            if column is None:
                continue
            fixed, over = column
            for groups in shown.groups(plan, sections, over):
                yield Way(paper, groups, tuple(fixed), _beside_column(paper), _tall(groups))


def _beside_column(paper: Paper) -> Box:
    """What the column leaves of a paper: left, bottom, right, top."""
    left, bottom, right, top = paper.space
    return left + 2.0, bottom + 12.0, right - paper.title_width - GUTTER, top - 2.0


def _tall(groups: tuple[Group, ...]) -> tuple[int, ...]:
    """The numbers of the tables that stand best beside the column."""
    return tuple(index for index, group in enumerate(groups) if isinstance(group[0], Panel) and group[0].height > TALL)


class _Shown:
    """The pictures and panels of one pane, each composed when it is first asked for."""

    def __init__(self, contents: Contents) -> None:
        self.contents = contents
        detail, check, style = contents.detail, contents.check, contents.style
        self._plans: dict[float, Picture] = {}
        self._sections: dict[float, list[Picture]] = {}
        self._rough: dict[float, list[Picture]] = {}
        self._steps: Steps = {}
        self._corners: list[list[Group]] = [[[corner_picture(detail, scale, style)]] for scale in corner_scales(detail)] or [[]]
        self._beads = bead_pictures(detail, style)
        self._found: list[Group] = []
        self._extras: list[Group] = []
        if check is not None:
            if check.plate is not None:
                self._found.append([stress_picture(detail, check.plate, style)])
            self._found.append([findings_panel(check.findings, style)])
            self._extras = [[panel] for panel in figure_panels(check, style)]

    def plan(self, scale: float) -> Picture:
        """The plan at a scale."""
        if scale not in self._plans:
            self._plans[scale] = plan_picture(self.contents.detail, scale, self.contents.style)
        return self._plans[scale]

    def sections(self, scale: float) -> list[Picture]:
        """The sections at a scale."""
        if scale not in self._sections:
            self._sections[scale] = section_pictures(self.contents.detail, scale, self.contents.style)
        return self._sections[scale]

    def finds_room(self, scale: float, section_scale: float, over: tuple[str, ...], space: Box) -> bool:
        """Whether any choice finds room with the least that the sections take: only then are they drawn."""
        detail, style = self.contents.detail, self.contents.style
        if section_scale not in self._rough:
            self._rough[section_scale] = rough_sections(detail, section_scale, style)
        return any(
            find_room(
                [[piece.paper_size(style) for piece in group] for group in groups],
                space=space,
                beside=_tall(groups),
                known=self._steps,
            )
            for groups in self.groups(self.plan(scale), self._rough[section_scale], over)
        )

    def groups(self, plan: Picture, sections: Group, over: tuple[str, ...]) -> Iterator[tuple[Group, ...]]:
        """What stands beside the column, the fullest choice first; ``over`` are the lines of what to do that the column does not hold.

        The tables of figures stand on the sheet where they find room; the calculation record has them always. The template of the notch
        stands beside the bead, or where there is room for it.
        """
        beads: tuple[list[Group], ...] = ([[*self._beads]], [[piece] for piece in self._beads])
        told: list[list[Group]] = [[[actions_panel(over, self.contents.style, columns=n)]] for n in (1, 2, 3)] if over else [[]]
        for corner, count, laid, panels in product(self._corners, range(len(self._extras), -1, -1), beads, told):
            yield (
                [plan],
                sections,
                *corner,
                *laid,
                *self._found,
                *self._extras[:count],
                *panels,
            )


def _scales(detail: Detail, paper: Paper, cut_scales: Sequence[float], *, thin: bool) -> Iterator[tuple[float, float]]:
    """Scales of sections and plan to try on a sheet, best first."""
    for section_scale in cut_scales:
        if section_scale == 2.0 and paper.size in ("A3", "A2") and not thin:
            continue  # thick glass reads well at 1:1; a small sheet is worth more
        for scale in PLAN_SCALES:
            if _worth_trying(detail, scale, paper):
                yield section_scale, scale


def _worth_trying(detail: Detail, scale: float, paper: Paper) -> bool:
    """Whether the pane itself, at this scale, leaves room for the rest of the sheet."""
    box = bounding_box(detail.curves.recess)
    left, bottom, right, top = paper.space
    wide, high = (box.right - box.left) * scale, (box.top - box.bottom) * scale
    return wide + 70 <= right - left - paper.title_width and high + 75 <= 0.62 * (top - bottom)


def _rank(detail: Detail, scale: float) -> int:
    """How well a plan can be worked from: 0 large, 1 still to be read, 2 too small."""
    box = bounding_box(detail.curves.recess)
    longest = max(box.right - box.left, box.top - box.bottom) * scale
    return 0 if longest >= LARGE else 1 if longest >= READABLE else 2


def _column(
    recipe: Recipe, contents: Contents, paper: Paper, laid: LaidTables, pictures: list[Picture], to_do: tuple[str, ...]
) -> tuple[list[Mark], tuple[str, ...]] | None:
    """The column of tables, and the lines of what to do that found no room in it; None where the words themselves do not fit."""
    fields, texts = recipe.title(contents, pictures[0], paper), recipe.words(contents, pictures)
    for inside, over in ((to_do, ()), ((), to_do)):
        marks = column_marks(laid, paper, fields, (*texts, Words(TO_DO, inside)), contents.style)
        if marks is not None:
            return marks, over
    return None


def _refusal(contents: Contents) -> str:
    wanted = contents.job.sheet.size
    asked = wanted in SHEETS
    allowed = "a larger sheet.size, or none" if asked else "fewer blocks, or sizes of section and bead that the trade makes"
    sizes = wanted if asked else ", ".join(SHEETS)
    return f"the drawing of pane {contents.detail.code} does not fit on a sheet {sizes}; allowed: {allowed}"


def _describes(contents: Contents) -> tuple[str, str]:
    detail = contents.detail
    sizes = detail.sizes
    return f"{contents.title}: fit-up detail", (
        f"Plan seen from outside, sections, corner and bead of pane {detail.code}: glass {detail.glass.make_up()} mm {detail.glass.treatment}, "
        f"bead {number(sizes.bond_width.value)} by {number(sizes.bond_thickness.value)} mm, set-back {number(sizes.set_back.value)} mm, "
        f"joint {number(sizes.joint_width.value)} mm, frit {number(sizes.frit_width.value)} mm, in {frame_words(detail.frame)}. "
        "A fit-up detail, not an approval."
    )


def _title(contents: Contents, plan: Picture, paper: Paper) -> TitleBlock:
    return detail_title(contents, (scale_designation(plan.scale),), paper)


DETAIL = Recipe(
    name="detail",
    describes=_describes,
    papers=_papers,
    tables=column_tables,
    words=column_words,
    title=_title,
    ways=_ways,
    refusal=_refusal,
)
"""Everything of a pane for drawing office and yard, the tables in a column at the right."""


__all__ = ["detail_sheet"]
