"""A sheet as a kind of thing: which views, tables and words of a pane stand on which paper.

Terms
-----
contents
    What a sheet is made of: the detail of a pane, its findings and the job they come from.
recipe
    The kind of sheet: views, tables, words and paper, and in which ways they may be set out.
way
    One manner of setting the contents out on one paper, the views at their scales; the first that finds room is taken.
group
    Pictures or panels that stand together; the first of a way stands at the upper left.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import chain
from math import fsum
from typing import TYPE_CHECKING

from geometry.job.mark import mark_of
from outputs.drawing.plan_outlines import blocks_of
from outputs.sheet.drafting import DraftingStyle
from outputs.sheet.entities import Mark, Place, Sheet, View
from outputs.sheet.layers import LAYERS, with_layer_names
from outputs.sheet.layout import set_in_groups
from outputs.sheet.moving import shifted
from outputs.sheet.outcomes import Fate
from outputs.sheet.paper import Paper, check_bar, frame_marks
from outputs.sheet.picture import Panel, Picture
from outputs.sheet.refusal import SheetError
from outputs.sheet.tables import notes, table
from outputs.sheet.title_block import TitleBlock, title_block

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from geometry.findings.check import PaneCheck
    from geometry.findings.state import State
    from geometry.job import Job, Pane
    from outputs.record.moved import Moved
    from outputs.sheet.arrangement import Steps
    from outputs.sheet.boxes import Box

Group = Sequence[Picture | Panel]
Views = Callable[["Contents", Paper], Iterable[tuple[Group, ...]]]
"""The ways to show a pane on a paper, the best first, each as groups that hold one picture at least."""
APART_IN_MODEL = 100.0  # mm between views in the model
TALL = 150.0  # paper mm from which a table stands best at the right, in line with the tables there
OVER_BAR = 12.0  # paper mm that the bar to measure takes over the frame


@dataclass(frozen=True, slots=True)
class Contents:
    """What a sheet is made of; ``check`` is None where nothing was judged."""

    job: Job
    pane: Pane
    detail: Detail
    check: PaneCheck | None = None
    style: DraftingStyle = field(default_factory=DraftingStyle)
    moved: tuple[Moved, ...] | None = None  # since an older state; None where there is none to compare with

    @property
    def mark(self) -> str:
        """The mark of the job: the same on every document of the pane."""
        return mark_of(self.job, self.pane)

    @property
    def state(self) -> State | None:
        """What every document says of the checks; None where nothing was judged."""
        return None if self.check is None else self.check.state

    @property
    def title(self) -> str:
        """Code and name of the pane."""
        return " ".join(part for part in (self.detail.code, self.detail.name) if part)


@dataclass(frozen=True, slots=True)
class Table:
    """A table before it has its place: heading, columns (name, width in mm), rows, and where a way that has places puts it."""

    heading: str
    columns: tuple[tuple[str, float], ...]
    rows: tuple[tuple[str, ...], ...]
    place: str = ""


@dataclass(frozen=True, slots=True)
class Words:
    """Numbered notes under a heading."""

    heading: str
    entries: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Way:
    """One manner of setting contents out.

    ``fixed`` are marks that stand already (title block, tables of a column), ``space`` is what they leave for the groups (left, bottom,
    right, top, paper mm), ``beside`` are the numbers of the groups that stand best at the right.
    """

    paper: Paper
    groups: tuple[Group, ...]
    fixed: tuple[Mark, ...]
    space: Box
    beside: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Recipe:
    """A kind of sheet. Each part is a function of the contents, so that a recipe says what stands on it and nothing of how.

    ``ways``: the views at their scales, on a paper, with the tables and words beside them, the best way first (``in_panels`` for views
    without a column of their own). ``tables``, ``words`` and ``title``: what stands beside the views; words may tell what found no room
    on them, the title names the scale of the first. ``refusal``: what to say where no paper holds it.
    """

    name: str
    describes: Callable[[Contents], tuple[str, str]]  # title and description of the sheet
    papers: Callable[[Contents], Iterable[Paper]]
    ways: Callable[[Recipe, Contents], Iterator[Way]]
    tables: Callable[[Contents], tuple[Table, ...]]
    words: Callable[[Contents, Sequence[Picture]], tuple[Words, ...]]
    title: Callable[[Contents, Picture, Paper], TitleBlock]
    refusal: Callable[[Contents], str] | None = None


def made(recipe: Recipe, contents: Contents) -> Sheet:
    """The finished sheet of a recipe. Raises ``SheetError`` where no paper holds it.

    A way on which something planned would be left out is taken only where no other finds room: a larger scale or paper comes first.
    """
    wanting: list[Way] = []
    steps: Steps = {}
    for way in chain(_whole(recipe.ways(recipe, contents), wanting), wanting):
        sheet = _set_out(recipe, contents, way, steps)
        if sheet is not None:
            return with_layer_names(sheet, dict(contents.job.layers))
    if recipe.refusal is not None:
        raise SheetError(recipe.refusal(contents))
    sizes = ", ".join(dict.fromkeys(paper.size for paper in recipe.papers(contents)))
    raise SheetError(f"the {recipe.name} sheet of pane {contents.detail.code} does not fit on {sizes}; allowed: a larger paper")


def _whole(ways: Iterator[Way], wanting: list[Way]) -> Iterator[Way]:
    """The ways on which nothing is left out; the others are put by."""
    for way in ways:
        pictures = [piece for group in way.groups for piece in group if isinstance(piece, Picture)]
        if any(outcome.fate is Fate.LEFT_OUT for picture in pictures for outcome in picture.outcomes):
            wanting.append(way)
        else:
            yield way


def in_panels(views: Views) -> Callable[[Recipe, Contents], Iterator[Way]]:
    """Ways that pack views, tables and words side by side over the title block; the first of the views' own ways that finds room."""

    def ways(recipe: Recipe, contents: Contents) -> Iterator[Way]:
        style = contents.style
        tables: list[Group] = [[_table_panel(each, style)] for each in recipe.tables(contents)]
        for paper in recipe.papers(contents):
            left, bottom, right, top = paper.space
            for groups in views(contents, paper):
                pictures = [piece for group in groups for piece in group if isinstance(piece, Picture)]
                width = right - left - 2 * style.margin
                words = [[_words_panel(each, style, width)] for each in recipe.words(contents, pictures) if each.entries]
                block = recipe.title(contents, pictures[0], paper)
                space = (left, bottom + block.height + OVER_BAR, right, top - 2.0)
                bar = check_bar(paper, style, over=block.height if paper.whole_width else 0.0)
                yield Way(paper, (*groups, *tables, *words), (*title_block(paper, block), *bar), space)

    return ways


def _table_panel(given: Table, style: DraftingStyle) -> Panel:
    marks, low = table(given.heading, given.columns, given.rows, left=0.0, top=0.0, style=style)
    return Panel(tuple(marks), fsum(width for _, width in given.columns), -low)


def _words_panel(given: Words, style: DraftingStyle, width: float) -> Panel:
    marks, low = notes(given.heading, given.entries, left=0.0, top=0.0, width=width, style=style)
    return Panel(tuple(marks), width, -low)


def _set_out(recipe: Recipe, contents: Contents, way: Way, steps: Steps) -> Sheet | None:
    """The sheet set out in one way, or None where its paper does not hold everything."""
    style, paper = contents.style, way.paper
    sizes = [[piece.paper_size(style) for piece in group] for group in way.groups]
    placed = set_in_groups(sizes, space=way.space, beside=way.beside, known=steps)
    if placed is None:
        return None
    pieces = [
        (piece, place)
        for group, places in zip(way.groups, placed, strict=True)
        for piece, place in zip(group, places, strict=True)
    ]
    pictures = [(piece, place) for piece, place in pieces if isinstance(piece, Picture)]
    title, description = recipe.describes(contents)
    return Sheet(
        size=paper.size,
        width=paper.width,
        height=paper.height,
        title=title,
        description=description,
        layers=LAYERS,
        blocks=blocks_of(contents.detail),
        views=tuple(_views(pictures, style)),
        marks=(
            *frame_marks(paper),
            *way.fixed,
            *(
                shifted(mark, place[0] + style.margin, place[1] + style.margin + piece.height)
                for piece, place in pieces
                if isinstance(piece, Panel)
                for mark in piece.marks
            ),
        ),
        outcomes=tuple((picture.name, outcome) for picture, _ in pictures for outcome in picture.outcomes),
    )


def _views(pictures: list[tuple[Picture, Place]], style: DraftingStyle) -> Iterator[View]:
    """Each picture as a view: the first keeps the pane's own origin, every other stands to the right of what is there."""
    offset_x = 0.0
    for index, (picture, place) in enumerate(pictures):
        edge = style.margin / picture.scale
        dx, dy = (offset_x + edge - picture.box[0], -picture.box[1]) if index else (0.0, 0.0)
        window = (picture.box[0] + dx - edge, picture.box[1] + dy - edge, picture.box[2] + dx + edge, picture.box[3] + dy + edge)
        marks: tuple[Mark, ...] = tuple(shifted(mark, dx, dy) for mark in picture.marks) if index else picture.marks
        yield View(picture.name, picture.scale, window, place, marks)
        offset_x = window[2] + APART_IN_MODEL


__all__ = ["TALL", "Contents", "Group", "Recipe", "Table", "Way", "Words", "in_panels", "made"]
