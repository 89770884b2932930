"""The right-hand column of a detail sheet: tables, legend, notes and cautions from the top, parts list over the title block."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import fsum
from typing import TYPE_CHECKING

from outputs.drawing.materials import LAYER_OF, LEGEND_OF
from outputs.sheet.drafting import number
from outputs.sheet.outcomes import Fate
from outputs.sheet.paper import TITLE_WIDTH, check_bar
from outputs.sheet.tables import UNDER, legend, legend_height, notes, notes_height, table, table_height
from outputs.sheet.title_block import ROW, WARNING, TitleBlock, title_block
from outputs.sheets import words
from outputs.sheets.recipe import Table, Words
from outputs.sheets.sheet_tables import block_rows, glass_rows, part_rows, revision_rows, size_rows, vertex_rows

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Detail
    from geometry.job import Job
    from outputs.sheet.drafting import DraftingStyle
    from outputs.sheet.entities import Mark
    from outputs.sheet.paper import Paper
    from outputs.sheet.picture import Picture
    from outputs.sheets.recipe import Contents

_BLOCK = 5 * ROW + WARNING  # height of the title block of the detail sheet, paper mm
HALF = (TITLE_WIDTH - 4.0) / 2
PLACES = PARTS, REVISIONS, SIZES, OTHERS = "parts", "revisions", "sizes", "others"  # of the tables in the column
OVER_LIST = 4.0  # paper mm over a table that stands on the title block
BEYOND_DOUBT = 1e-6  # paper mm, more than any rounding
PARTS_COLUMNS = (("Item", 12.0), ("Qty", 20.0), ("Part", 48.0), ("Material, size", 100.0))
REVISIONS_COLUMNS = (("Rev.", 12.0), ("Date", 24.0), ("What changed", 144.0))


def not_lettered(pictures: Sequence[Picture]) -> tuple[str, ...]:
    """The notes that name what found no room on the views, the plan first; nothing where everything did."""
    if not pictures:
        return ()
    plan, *others = pictures
    lost = {picture.title: [each.what for each in picture.outcomes if each.fate is not Fate.DRAWN] for picture in pictures}
    found = []
    if lost[plan.title]:
        names = ", ".join(lost[plan.title])
        found.append(f"Not lettered on the plan for want of room: {names}. {words.PLACES}")
    for picture in others:
        if lost[picture.title]:
            names = ", ".join(lost[picture.title])
            found.append(f"Not shown in {picture.title} for want of room: {names}. Sizes stand in the tables and in the record.")
    return tuple(found)


def _governing(job: Job) -> tuple[str, ...]:
    """Which standards speak of a vessel of this length, where the length is given."""
    length = job.vessel.hull_length
    if length is None:
        return ()
    standard = words.UP_TO_24_M if length <= 24.0 else words.OVER_24_M
    return (standard.format(length=number(length)),)


def column_tables(contents: Contents) -> tuple[Table, ...]:
    """Parts and revisions over the title block, sizes at the left from the top, the others at the right."""
    pane, detail = contents.pane, contents.detail
    where = [("location", pane.location)] if pane.location else []
    if pane.glass.interlayers:
        where.append(("interlayer", words.interlayer_words(pane.glass.interlayer_material)))
    made = (
        (PARTS, "", PARTS_COLUMNS, part_rows(detail)),
        (REVISIONS, "", REVISIONS_COLUMNS, revision_rows(pane)),
        (SIZES, "Sizes", (("Size", 44.0), ("mm", 24.0), ("Origin", 20.0)), size_rows(detail)),
        (OTHERS, "Glass and bead", (("", 32.0), ("", HALF - 32.0)), [*where, *glass_rows(detail)]),
        (
            OTHERS,
            "Vertices, sharp",
            (("", 10.0), ("X", 20.0), ("Y", 20.0), ("R", 16.0), ("Angle", HALF - 66.0)),
            vertex_rows(detail),
        ),
        (
            OTHERS,
            "Blocks",
            (("", 8.8), ("Block", 24.2), ("Edge", 13.0), ("Distance", 13.5), ("Size", HALF - 59.5)),
            block_rows(detail),
        ),
    )
    return tuple(Table(heading, columns, tuple(rows), place) for place, heading, columns, rows in made if rows)


def column_words(contents: Contents, pictures: Sequence[Picture]) -> tuple[Words, ...]:
    """Notes and cautions; the notes name what found no room on the views."""
    job, pane, detail = contents.job, contents.pane, contents.detail
    approval = pane.approval_reference or job.sheet.approval_reference or "________"
    return (
        Words("Notes", (*words.general_notes(detail), *_governing(job), *not_lettered(pictures))),
        Words("Cautions", words.cautions(detail, pane, approval=approval)),
    )


@dataclass(frozen=True, slots=True)
class LaidTables:
    """The tables of a column: their marks, where the words under them begin, and where the tables over the title block end (y)."""

    marks: tuple[Mark, ...]
    words_from: float
    ceiling: float


def laid_tables(
    detail: Detail, paper: Paper, tables: Sequence[Table], texts: Sequence[Words], style: DraftingStyle
) -> LaidTables | None:
    """The tables in the right-hand column, from the top down and from the title block up; None where they leave no room for the texts.

    ``texts`` are those that stand under the tables whatever the views look like.
    """
    _, bottom, right, top = paper.space
    left, top = right - paper.title_width, top - 3.0
    entries = _legend_entries(detail)
    under = legend_height(len(entries), paper.title_width)
    under += fsum(notes_height(each.entries, _words_width(paper), style) for each in texts)
    if _tables_height(tables, style) + under > top - bottom - _BLOCK + BEYOND_DOUBT:
        return None
    marks: list[Mark] = []
    ceiling = bottom + _BLOCK
    for each in (each for place in (PARTS, REVISIONS) for each in tables if each.place == place):
        height = table_height(each.columns, each.rows, style)
        listed, _ = table("", each.columns, each.rows, left=left, top=ceiling + height, style=style, heading_below=True)
        marks += listed
        ceiling += height + OVER_LIST
    ends = []
    for place, x in ((SIZES, left), (OTHERS, left + HALF + 4.0)):
        y = top
        for each in tables:
            if each.place == place:
                listed, y = table(each.heading, each.columns, each.rows, left=x, top=y, style=style)
                marks += listed
        ends.append(y)
    listed, y = legend(entries, left=left, top=min(ends), width=paper.title_width, style=style)
    return LaidTables((*marks, *listed), y, ceiling) if y >= ceiling else None


def _tables_height(tables: Sequence[Table], style: DraftingStyle) -> float:
    """The height that the tables take in the column, told from their rows."""
    high = {
        place: [table_height(t.columns, t.rows, style, heading=t.heading) for t in tables if t.place == place] for place in PLACES
    }
    over_block = fsum(each + OVER_LIST for place in (PARTS, REVISIONS) for each in high[place])
    return over_block + max(fsum(each + UNDER for each in high[place]) for place in (SIZES, OTHERS))


def shortened(given: Table, rows: int) -> Table:
    """A table of at most ``rows`` rows, the last of which says how many there are besides: the calculation record has them all."""
    if len(given.rows) <= rows:
        return given
    more = len(given.rows) - rows + 1
    last = ("…", f"{more} more", *("" for _ in given.columns[2:]))
    return replace(given, rows=(*given.rows[: rows - 1], last))


def column_marks(
    laid: LaidTables, paper: Paper, fields: TitleBlock, texts: Sequence[Words], style: DraftingStyle
) -> list[Mark] | None:
    """Title block, tables and, under them, notes; None where they meet."""
    _, bottom_limit, right, _ = paper.space
    block = title_block(paper, fields)
    marks, y = [*block, *laid.marks, *check_bar(paper, style)], laid.words_from
    for text in texts:
        if text.entries:
            left, width = right - paper.title_width, _words_width(paper)
            written, y = notes(text.heading, text.entries, left=left, top=y, width=width, style=style)
            marks += written
    return marks if y >= laid.ceiling and y >= bottom_limit else None


def _words_width(paper: Paper) -> float:
    return paper.title_width - 8.0


def _legend_entries(detail: Detail) -> list[tuple[str, str, str]]:
    """Layer, material and words of each hatch on the sheet; the blocks in the joint by the names they have on this pane."""
    blocks = ", ".join(dict.fromkeys(chock.kind for chock in detail.chocks))
    named = {**LEGEND_OF, "chock": blocks, "interlayer": LEGEND_OF["interlayer"] if len(detail.glass.plies) > 1 else ""}
    return [(LAYER_OF[name], name, words_) for name, words_ in named.items() if words_]


__all__ = [
    "LaidTables",
    "column_marks",
    "column_tables",
    "column_words",
    "laid_tables",
    "not_lettered",
    "shortened",
]
