"""The right-hand column of a detail sheet: tables, legend, notes and cautions from the top, parts list over the title block."""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.drawing.materials import LAYER_OF, LEGEND_OF
from outputs.sheet.drafting import number, scale_designation
from outputs.sheet.paper import TITLE_WIDTH, TitleFields, title_block
from outputs.sheet.tables import legend, notes, table, table_height
from outputs.sheets import words
from outputs.sheets.findings_panel import TO_DO
from outputs.sheets.sheet_tables import block_rows, glass_rows, part_rows, revision_rows, size_rows, vertex_rows

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from geometry.job import Job, Pane
    from outputs.sheet.drafting import DraftingStyle
    from outputs.sheet.entities import Mark
    from outputs.sheet.picture import Picture

HALF = (TITLE_WIDTH - 4.0) / 2
PARTS = (("Item", 12.0), ("Qty", 20.0), ("Part", 48.0), ("Material, size", 100.0))
REVISIONS = (("Rev.", 12.0), ("Date", 24.0), ("What changed", 144.0))


def not_lettered(unplaced: tuple[str, ...]) -> tuple[str, ...]:
    """The note that names what found no room on the plan, or nothing."""
    if not unplaced:
        return ()
    return (f"Not lettered on the plan for want of room: {', '.join(unplaced)}. Their places stand in the tables.",)


def _governing(job: Job) -> tuple[str, ...]:
    """Which standards speak of a vessel of this length, where the length is given."""
    length = job.vessel.hull_length
    if length is None:
        return ()
    standard = words.UP_TO_24_M if length <= 24.0 else words.OVER_24_M
    return (standard.format(length=number(length)),)


def column_marks(
    job: Job,
    pane: Pane,
    detail: Detail,
    size: str,
    plan: Picture,
    unplaced: tuple[str, ...],
    style: DraftingStyle,
    *,
    to_do: tuple[str, ...] = (),
    bottom_limit: float,
    top: float,
    left: float,
) -> list[Mark] | None:
    """Tables, notes and title block in the right-hand column, from the top down and from the title block up; None where they meet."""
    fields = _title_fields(job, pane, detail, plan)
    marks, floor = title_block(size, fields, style)
    parts = part_rows(detail, plan.marks)
    height = table_height(PARTS, parts, style)
    listed, _ = table(
        "",
        PARTS,
        parts,
        left=left,
        top=floor + height,
        style=style,
        heading_below=True,
    )
    marks += listed
    ceiling = floor + height + 4.0
    revisions = revision_rows(pane)
    if revisions:
        high = table_height(REVISIONS, revisions, style)
        listed, _ = table("", REVISIONS, revisions, left=left, top=ceiling + high, style=style, heading_below=True)
        marks += listed
        ceiling += high + 4.0
    first, left_end = table(
        "Sizes", (("Size", 44.0), ("mm", 24.0), ("Origin", 20.0)), size_rows(detail), left=left, top=top, style=style
    )
    marks += first
    x = left + HALF + 4.0
    where = [("location", pane.location)] if pane.location else []
    if pane.glass.interlayers:
        where.append(("interlayer", words.interlayer_words(pane.glass.interlayer_material)))
    second, y = table(
        "Glass and bead", (("", 32.0), ("", HALF - 32.0)), [*where, *glass_rows(detail)], left=x, top=top, style=style
    )
    marks += second
    if detail.corners:
        third, y = table(
            "Vertices, sharp",
            (("", 10.0), ("X", 20.0), ("Y", 20.0), ("R", 16.0), ("Angle", HALF - 66.0)),
            vertex_rows(detail),
            left=x,
            top=y,
            style=style,
        )
        marks += third
    fourth, y = table(
        "Blocks",
        (("", 8.8), ("Block", 24.2), ("Edge", 13.0), ("Distance", 13.5), ("Size", HALF - 59.5)),
        block_rows(detail),
        left=x,
        top=y,
        style=style,
    )
    marks += fourth
    y = min(left_end, y)
    fifth, y = legend(_legend_entries(detail), left=left, top=y, width=TITLE_WIDTH, style=style)
    marks += fifth
    approval = pane.approval_reference or job.sheet.approval_reference or "________"
    texts = [
        ("Notes", (*words.general_notes(detail), *_governing(job), *not_lettered(unplaced))),
        ("Cautions", words.cautions(detail, pane, approval=approval)),
        (TO_DO, to_do),
    ]
    for heading, entries_ in texts:
        if not entries_:
            continue
        written, y = notes(heading, entries_, left=left, top=y, width=TITLE_WIDTH - 8.0, style=style)
        marks += written
    return marks if y >= ceiling and y >= bottom_limit else None


def _legend_entries(detail: Detail) -> list[tuple[str, str, str]]:
    """Layer, material and words of each hatch on the sheet; the blocks in the joint by the names they have on this pane."""
    blocks = ", ".join(dict.fromkeys(chock.kind for chock in detail.chocks))
    named = {**LEGEND_OF, "chock": blocks, "interlayer": LEGEND_OF["interlayer"] if len(detail.glass.plies) > 1 else ""}
    return [(LAYER_OF[name], name, words_) for name, words_ in named.items() if words_]


def _title_fields(job: Job, pane: Pane, detail: Detail, plan: Picture) -> TitleFields:
    words_ = job.sheet
    yard = job.vessel.yard_number
    return TitleFields(
        owner=words_.owner,
        title=" ".join(part for part in (detail.code, detail.name) if part),
        supplementary=", ".join(part for part in (job.vessel.name, f"yard no. {yard}" if yard else "") if part),
        document_type=words_.document_type,
        number="-".join(part for part in (yard, detail.code) if part),
        revision=detail.revision,
        date=words_.date.isoformat() if words_.date else "",
        drawn_by=words_.drawn_by,
        checked_by=words_.checked_by,
        approved_by=words_.approved_by,
        status=words_.status,
        scale=scale_designation(plan.scale),
        frame=words.frame_words(detail.frame),
        language=words_.language,
    )
