"""The order list of the blocks: spacers, setting chocks and the others in heights that can be bought, with shims and spares."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from math import fsum
from typing import TYPE_CHECKING

from geometry.rules.fit.section import spacer_height
from geometry.workings.stock_blocks import (
    EXACT,
    NEAR,
    SPACER,
    Article,
    MadeUp,
    Wanted,
    articles_of,
    bonds_left,
    made_up,
    wanted_of,
)
from outputs.files.table_files import Cell, Column, TableFile
from outputs.vessel.list_files import in_words, issue_words, list_files, missing_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.job import Job
    from outputs.vessel.documents import Files, VesselContents
    from outputs.vessel.facts import PaneFacts

NAME = "blocks"
COLUMNS = (
    Column("article", width=18),
    Column("length", "mm", 1, 9),
    Column("width", "mm", 2, 9),
    Column("height", "mm", 2, 9),
    Column("hardness", "Shore A", 0, 9),
    Column("from", width=14),
    Column("in place", width=9),
    Column("spare", width=8),
    Column("to buy", width=8),
)
WHERE = (
    Column("code", width=10),
    Column("pieces of pane", width=9),
    Column("marks", width=22),
    Column("article", width=18),
    Column("length", "mm", 1, 9),
    Column("width", "mm", 2, 9),
    Column("height wanted", "mm", 2, 9),
    Column("made up of", "mm", 0, 26),
    Column("off", "mm", 2, 8),
    Column("blocks of one pane", width=10),
)


def wanted_in(facts: PaneFacts) -> tuple[tuple[Wanted, tuple[str, ...]], ...]:
    """The blocks of one pane, equal ones together, with their marks."""
    marks: dict[Wanted, list[str]] = {}
    for each in facts.blocks:
        spacer = each.kind == SPACER
        stock, shims = (facts.spacer_stock, ()) if spacer else (facts.chock_stock, facts.shims)
        size = (round(each.length, 2), round(each.width, 2), round(each.height, 2))
        marks.setdefault(Wanted(each.kind, *size, each.hardness, 1, stock, shims), []).append(each.mark)
    counted = wanted_of([one for one, names in marks.items() for _ in names])
    return tuple((each, tuple(names)) for each, names in zip(counted, marks.values(), strict=True))


def block_tables(contents: VesselContents) -> tuple[TableFile, TableFile]:
    """What to buy for the vessel, and what stands where."""
    rows: list[tuple[Cell, ...]] = []
    all_made: list[MadeUp] = []
    for facts in contents.facts:
        for wanted, marks in wanted_in(facts):
            made = made_up(wanted)
            rows.append(_where(contents.job, facts, made, marks))
            all_made += [made] * facts.quantity
    articles = articles_of(all_made, spare=contents.job.consumables.spare_blocks)
    told, lacking = issue_words(contents.job), missing_words(contents)
    near, exact = in_words(contents.job, NEAR), in_words(contents.job, EXACT)
    below = (
        f"{contents.job.consumables.spare_blocks} spare of each article (consumables.spare_blocks).",
        "From stock: the height is; length and width are cut. A size in place is of all panes together, which pane has which: table where.",
        "Heights of the chocks from chocks.stock with chocks.shims, of the spacers from spacers.stock; left out: as they are drawn.",
        f"To be cut: nothing of the stock comes within {near} mm (a spacer {exact} mm) of the height wanted.",
        "A spacer of another height sets another bond thickness: change the bond in the job, not the spacer.",
        *_spacers_words(contents),
    )
    buy = TableFile(
        "blocks",
        COLUMNS,
        (*map(_article, articles), *_missing(contents)),
        ("Order list: blocks", told, *lacking),
        below,
        _sums(articles),
    )
    return buy, TableFile("where", WHERE, tuple(rows), ("Blocks pane by pane", told, *lacking))


def _spacers_words(contents: VesselContents) -> Iterator[str]:
    """Why spacers of the stock do not fit, and for which thickness of the bond they would."""
    found: dict[tuple[Wanted, float, float], list[str]] = {}
    for facts in contents.facts:
        nominal = round(spacer_height(bond_thickness=facts.bond_thickness, squeeze=facts.spacer_squeeze / 100), 2)
        for wanted, _ in wanted_in(facts):
            if wanted.kind == SPACER and wanted.height == nominal and made_up(wanted).cut:
                alike = replace(wanted, length=0.0, width=0.0, hardness=0.0, count=1)
                found.setdefault((alike, facts.bond_thickness, facts.spacer_squeeze), []).append(facts.code)
    for (wanted, bond, squeeze), codes in found.items():
        told = partial(in_words, contents.job)
        left = bonds_left(wanted, squeeze / 100)
        stock = ", ".join(f"{told(height)} mm high leaves {told(thickness)}" for height, thickness in left)
        keys = " or ".join(told(thickness, 3) for _, thickness in left)
        yield (
            f"Spacers of {', '.join(codes)} are to be cut: pressed home they give {told(squeeze)} % of their height (spacers.squeeze), and "
            f"{told(wanted.height)} mm leaves the bond of {told(bond)} mm. Of the stock, {stock} mm: with bond.thickness = {keys} in the "
            "job they fit."
        )


def _article(each: Article) -> tuple[Cell, ...]:
    origin = "to be cut" if each.cut else "stock"
    return (
        each.kind,
        each.length,
        each.width,
        each.height,
        each.hardness,
        origin,
        each.in_place,
        each.spare,
        each.to_buy,
    )


def _missing(contents: VesselContents) -> Iterator[tuple[Cell, ...]]:
    """A row for each pane that the list lacks."""
    for each in contents.left_out:
        told: dict[str, Cell] = {"article": f"{each.code}: {each.what.upper()}", "from": "not known"}
        yield tuple(told.get(column.head) for column in COLUMNS)


def _sums(articles: tuple[Article, ...]) -> tuple[Cell, ...]:
    told: dict[str, Cell] = {
        "article": "together",
        "in place": int(fsum(each.in_place for each in articles)),
        "spare": int(fsum(each.spare for each in articles)),
        "to buy": int(fsum(each.to_buy for each in articles)),
    }
    return tuple(told.get(column.head) for column in COLUMNS)


def _where(job: Job, facts: PaneFacts, made: MadeUp, marks: tuple[str, ...]) -> tuple[Cell, ...]:
    wanted = made.wanted
    pieces = " + ".join(in_words(job, each) for each in made.pieces)
    pieces = f"to be cut; nearest {pieces}" if made.cut else pieces
    size = (wanted.length, wanted.width, wanted.height)
    return (facts.code, facts.quantity, marks_words(marks), wanted.kind, *size, pieces, made.off, wanted.count)


def marks_words(marks: tuple[str, ...]) -> str:
    """Marks in few words; only those that follow one another without a gap are told by the first and the last.

    >>> marks_words(("S1", "S2", "S3", "S4", "S6", "S8"))
    'S1 to S4, S6, S8'
    """
    runs: list[list[str]] = []
    for mark in marks:
        if runs and _after(runs[-1][-1]) == mark:
            runs[-1].append(mark)
        else:
            runs.append([mark])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(run) for run in runs)


def _after(mark: str) -> str:
    """The mark that follows: S3 after S2."""
    letters = mark.rstrip("0123456789")
    return f"{letters}{int(mark[len(letters) :]) + 1}" if mark != letters else ""


def block_list(contents: VesselContents) -> Files:
    """The list as XLSX and CSV."""
    return list_files(contents, NAME, block_tables(contents), title="Order list: blocks")


__all__ = ["NAME", "block_list", "block_tables", "marks_words", "wanted_in"]
