"""The order list of the glass: a row for each pane as the supplier makes it, with the files that it is made from.

It goes to the supplier: nothing of bond, frame, vessel, yard or owner stands in it.
"""

from __future__ import annotations

from math import fsum
from typing import TYPE_CHECKING

from outputs.files.table_files import Cell, Column, TableFile
from outputs.vessel.list_files import in_words, issue_words, list_files, missing_words

if TYPE_CHECKING:
    from geometry.job import Job
    from outputs.vessel.documents import Files, LeftOut, VesselContents
    from outputs.vessel.facts import GlassFacts, PaneFacts, PrintFacts

NAME = "glass"
NOT_SAID = "not given"
NOT_YET = "NOT FOR MANUFACTURE"

COLUMNS = (
    Column("code", width=10),
    Column("revision", width=9),
    Column("mark", width=11),
    Column("hand", width=11),
    Column("pieces", width=8),
    Column("make-up", width=24),
    Column("heat soak", width=12),
    Column("standard", width=18),
    Column("thickness", "mm", 2, 10),
    Column("width", "mm", 1, 9),
    Column("height", "mm", 1, 9),
    Column("print", width=28),
    Column("area of one", "m2", 3, 9),
    Column("mass of one", "kg", 1, 9),
    Column("area together", "m2", 3, 10),
    Column("mass together", "kg", 1, 10),
    Column("state", width=18),
    Column("files", width=42),
)


def glass_table(contents: VesselContents) -> TableFile:
    """One row for each pane, and what the order comes to."""
    facts = contents.facts
    pieces = int(fsum(each.quantity for each in facts))
    return TableFile(
        "glass",
        COLUMNS,
        (*(_row(contents.job, each) for each in facts), *(_missing(each) for each in contents.left_out)),
        above=("Order list: glass", *_told(contents)),
        below=(
            *_held_back(contents),
            "Sums are of the whole figures, rounded once. An answer that is missing here stands among the questions of the pane sheet.",
            "Sizes are of the finished pane, seen from outside; the pane sheet and the file to cut from are what is made to.",
            "Glass is heavy and breaks: the usual cautions stand on the pane sheets.",
        ),
        sums=_sums(facts, pieces),
    )


def _told(contents: VesselContents) -> tuple[str, ...]:
    """Of which day and state the order is, and what holds for all its panes; what the job leaves blank is said to be."""
    job = contents.job
    return (
        f"{issue_words(job, vessel=False)}; status of the drawings: {job.sheet.status or NOT_SAID}",
        f"edge work: {job.supplier.edge_work or NOT_SAID}; stamp: {job.supplier.stamp or NOT_SAID}",
        *missing_words(contents),
    )


def _held_back(contents: VesselContents) -> tuple[str, ...]:
    """What of the sums is not to be made yet."""
    held = [each for each in contents.facts if each.not_for_manufacture]
    if not held:
        return ()
    pieces = int(fsum(each.quantity for each in held))
    area = in_words(contents.job, fsum(each.ordered.area_m2 * each.quantity for each in held), 3)
    mass = in_words(contents.job, fsum(each.ordered.mass_kg * each.quantity for each in held), 1)
    codes = ", ".join(each.code for each in held)
    return (
        f"{NOT_YET} as it stands: {codes}, in the sums with {pieces} {'piece' if pieces == 1 else 'pieces'}, {area} m2, {mass} kg.",
    )


def _missing(pane: LeftOut) -> tuple[Cell, ...]:
    told: dict[str, Cell] = {"code": pane.code, "revision": pane.revision, "state": f"{pane.what.upper()}: not in the sums"}
    return tuple(told.get(column.head) for column in COLUMNS)


def _sums(facts: tuple[PaneFacts, ...], pieces: int) -> tuple[Cell, ...]:
    area = fsum(each.ordered.area_m2 * each.quantity for each in facts)
    mass = fsum(each.ordered.mass_kg * each.quantity for each in facts)
    told: dict[str, Cell] = {"code": "together", "pieces": pieces, "area together": area, "mass together": mass}
    return tuple(told.get(column.head) for column in COLUMNS)


def _row(job: Job, facts: PaneFacts) -> tuple[Cell, ...]:
    glass, made = facts.glass, facts.ordered
    soak = {None: NOT_SAID, True: "yes", False: "no"}[glass.heat_soaked]
    files = ", ".join(file.name for each in facts.documents if "supplier" in each.readers for file in each.files)
    return (
        facts.code,
        facts.revision,
        facts.mark,
        facts.side,
        facts.quantity,
        glass_words(job, glass),
        soak,
        glass.standard,
        glass.thickness,
        made.width,
        made.height,
        print_words(job, facts.print),
        made.area_m2,
        made.mass_kg,
        made.area_m2 * facts.quantity,
        made.mass_kg * facts.quantity,
        NOT_YET if facts.not_for_manufacture else "",
        files,
    )


def glass_words(job: Job, glass: GlassFacts) -> str:
    """Plies and interlayers from the weather face inwards, treatment and kind of interlayer: "6 / 1.52 / 6 toughened, PVB"."""
    layers = [glass.plies[0]]
    for interlayer, ply in zip(glass.interlayers, glass.plies[1:], strict=True):
        layers += [interlayer, ply]
    words = f"{' / '.join(in_words(job, each) for each in layers)} {glass.treatment.replace('_', ' ')}"
    kind = glass.interlayer_material
    return f"{words}, {kind.upper() if len(kind) <= 3 else kind}" if kind else words


def print_words(job: Job, band: PrintFacts) -> str:
    """The print in words: face, from where to where, fade."""
    start, width = in_words(job, band.start), in_words(job, band.width)
    dense = "opaque" if band.opacity is None else f"opacity {in_words(job, band.opacity)} %"
    words = f"black, {dense}, face {band.face}, {start} to {width} mm from the edge"
    if band.as_drawn:
        words = f"black, {dense}, face {band.face}, {start} mm from the edge to its own outline"
    if band.fade:
        words += f", fade {in_words(job, band.fade)} of it"
    return f"{words}; on the glass already" if band.printed else words


def glass_list(contents: VesselContents) -> Files:
    """The list as XLSX and CSV."""
    return list_files(contents, NAME, (glass_table(contents),), title="Order list: glass")


__all__ = ["NAME", "glass_list", "glass_table", "glass_words", "print_words"]
