"""The detail sheet of one pane: views composed, the sheet size chosen, everything set in its place.

The smallest sheet is taken on which plan, sections, corner, bead and tables find room, with the largest scales of ISO 5455 that do.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.outline import bounding_box
from outputs.drawing import words
from outputs.drawing.bead_view import bead_marks, notch_marks
from outputs.drawing.boxes import Box, box_of, joined
from outputs.drawing.corner_view import corner_marks
from outputs.drawing.materials import LAYER_OF, LEGEND_OF
from outputs.drawing.pencil import Pencil
from outputs.drawing.plan_view import PlanView, blocks_of
from outputs.drawing.section_view import section_marks
from outputs.drawing.sheet_tables import block_rows, glass_rows, part_rows, size_rows, vertex_rows
from outputs.files.proof import SheetError
from outputs.sheet.arrangement import arrange
from outputs.sheet.drafting import DraftingStyle, number, scale_designation
from outputs.sheet.entities import Mark, Place, Sheet, View
from outputs.sheet.layers import LAYERS, with_layer_names
from outputs.sheet.moving import shifted
from outputs.sheet.paper import SIZES, TITLE_WIDTH, TitleFields, check_bar, drawing_space, frame_marks, title_block
from outputs.sheet.tables import legend, notes, table

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from geometry.job import Job, Pane

PLAN_SCALES = (1.0, 0.5, 0.2, 0.1, 0.05, 0.02)
APART_IN_MODEL = 100.0  # mm between views in the model
GUTTER = 6.0  # paper mm between views and the column of tables
HALF = (TITLE_WIDTH - 4.0) / 2


@dataclass(frozen=True, slots=True)
class Picture:
    """One composed view before it has its place: its marks, their box in the model and its scale."""

    name: str
    title: str
    scale: float
    marks: tuple[Mark, ...]
    box: Box

    def paper_size(self, style: DraftingStyle) -> tuple[float, float]:
        """Width and height on paper, margins included."""
        return (
            (self.box[2] - self.box[0]) * self.scale + 2 * style.margin,
            (self.box[3] - self.box[1]) * self.scale + 2 * style.margin,
        )


def _picture(name: str, title: str, scale: float, marks: tuple[Mark, ...], style: DraftingStyle) -> Picture:
    """A view with its title over it, left aligned."""
    box = joined(box_of(mark, scale) for mark in marks)
    pencil = Pencil(style, scale)
    heading = pencil.text("TEXT", (box[0], box[3] + pencil.paper(4.0)), title, height=style.title)
    return Picture(name, title, scale, (*marks, heading), joined([box, box_of(heading, scale)]))


def plan_picture(detail: Detail, scale: float, style: DraftingStyle) -> tuple[Picture, tuple[str, ...]]:
    """The plan at a scale, and the names that found no room on it."""
    view = PlanView(detail, Pencil(style, scale), corner_letter="Z" if detail.worst_corner is not None else None)
    title = f"PLAN {scale_designation(scale)}, viewed from outside"
    return _picture("PLAN", title, scale, tuple(view.marks), style), tuple(view.unplaced)


def section_pictures(detail: Detail, scale: float, style: DraftingStyle) -> list[Picture]:
    """All sections at one scale."""
    pencil = Pencil(style, scale)
    return [
        _picture(
            f"SECTION {section.letter}",
            f"{section.letter}-{section.letter} {scale_designation(scale)}  {section.title}",
            scale,
            section_marks(section, detail, pencil),
            style,
        )
        for section in detail.sections
    ]


def enlarged_pictures(detail: Detail, style: DraftingStyle) -> list[Picture]:
    """Corner, bead and notch template."""
    found: list[Picture] = []
    if detail.worst_corner is not None:
        from outputs.drawing.plan_view import corner_window

        half = corner_window(detail)[1]
        scale = 2.0 if half <= 50 else 1.0 if half <= 90 else 0.5
        marks = corner_marks(detail, detail.worst_corner, Pencil(style, scale))
        found.append(
            _picture(
                "DETAIL Z", f"Z {scale_designation(scale)}  corner V{detail.worst_corner.corner.number}", scale, marks, style
            )
        )
    found.append(_picture("BEAD", "BEAD 5:1", 5.0, bead_marks(detail, Pencil(style, 5.0)), style))
    found.append(_picture("NOTCH", "NOTCH TEMPLATE 1:1", 1.0, notch_marks(detail, Pencil(style, 1.0)), style))
    return found


def detail_sheet(job: Job, pane: Pane, detail: Detail) -> Sheet:
    """The finished sheet of one pane.

    Raises
    ------
    SheetError
        When no sheet size holds the drawing.
    """
    style = DraftingStyle()
    thin = detail.glass.thickness < 10
    sections = {scale: section_pictures(detail, scale, style) for scale in (2.0, 1.0)}
    enlarged = enlarged_pictures(detail, style)
    plans: dict[float, tuple[Picture, tuple[str, ...]]] = {}
    wanted = pane_size(job)
    for size in (wanted,) if wanted else tuple(SIZES):
        for section_scale, cuts in sections.items():
            if section_scale == 2.0 and size in ("A3", "A2") and not thin:
                continue  # thick glass reads well at 1:1; a small sheet is worth more
            for scale in PLAN_SCALES:
                if not _worth_trying(detail, scale, size):
                    continue
                if scale not in plans:
                    plans[scale] = plan_picture(detail, scale, style)
                plan, unplaced = plans[scale]
                if unplaced and scale < 0.5 and _larger_fits(detail, scale, size):
                    continue
                sheet = _set_out(job, pane, detail, size, [plan, *cuts, *enlarged], unplaced, style)
                if sheet is not None:
                    return with_layer_names(sheet, dict(job.layers))
    sizes = wanted or ", ".join(SIZES)
    raise SheetError(f"the drawing of pane {detail.code} does not fit on a sheet {sizes}")


def _not_lettered(unplaced: tuple[str, ...]) -> tuple[str, ...]:
    """The note that names what found no room on the plan, or nothing."""
    if not unplaced:
        return ()
    return (f"Not lettered on the plan for want of room: {', '.join(unplaced)}. Their places stand in the tables.",)


def pane_size(job: Job) -> str | None:
    """The sheet size that the job asks for."""
    return job.sheet.size if job.sheet.size in SIZES else None


def _worth_trying(detail: Detail, scale: float, size: str) -> bool:
    """Whether the pane itself, at this scale, leaves room for the rest of the sheet."""
    box = bounding_box(detail.curves.recess)
    left, bottom, right, top = drawing_space(size)
    wide, high = (box.right - box.left) * scale, (box.top - box.bottom) * scale
    return wide + 70 <= right - left - TITLE_WIDTH and high + 75 <= 0.62 * (top - bottom)


def _larger_fits(detail: Detail, scale: float, size: str) -> bool:
    larger = [other for other in PLAN_SCALES if other > scale]
    return bool(larger) and _worth_trying(detail, larger[-1], size)


def _set_out(
    job: Job, pane: Pane, detail: Detail, size: str, pictures: list[Picture], unplaced: tuple[str, ...], style: DraftingStyle
) -> Sheet | None:
    """The sheet at one size, or None where it does not hold everything."""
    left, bottom, right, top = drawing_space(size)
    column = right - TITLE_WIDTH
    tables = _column(job, pane, detail, size, pictures[0], unplaced, style, bottom_limit=bottom, top=top - 3.0, left=column)
    if tables is None:
        return None
    space = (left + 2.0, bottom + 12.0, column - GUTTER, top - 2.0)
    places = _spread([picture.paper_size(style) for picture in pictures], space)
    if places is None:
        return None
    views: list[View] = []
    offset_x, base = 0.0, 0.0
    for index, (picture, place) in enumerate(zip(pictures, places, strict=True)):
        dx = dy = 0.0
        if index > 0:
            # The plan keeps the pane's own origin; every other view stands to the right of what is there.
            dx, dy = offset_x - picture.box[0], base - picture.box[1]
        edge = style.margin / picture.scale
        window = (picture.box[0] + dx - edge, picture.box[1] + dy - edge, picture.box[2] + dx + edge, picture.box[3] + dy + edge)
        marks = tuple(shifted(mark, dx, dy) for mark in picture.marks) if index > 0 else picture.marks
        views.append(View(picture.name, picture.scale, window, place, marks))
        offset_x = window[2] + APART_IN_MODEL
    title = " ".join(part for part in (detail.code, detail.name) if part)
    return Sheet(
        size=size,
        width=SIZES[size][0],
        height=SIZES[size][1],
        title=f"{title}: fit-up detail",
        description=_description(detail),
        layers=LAYERS,
        blocks=blocks_of(detail),
        views=tuple(views),
        marks=(*frame_marks(size), *tables, *check_bar(size, style)),
    )


def _spread(sizes: list[tuple[float, float]], space: Box) -> list[Place] | None:
    """Places of the views with as much air between them as the sheet gives."""
    for air in (36.0, 28.0, 20.0, 14.0, 9.0, 5.0, 0.0):
        places = arrange([(width + air, height + air) for width, height in sizes], space=space)
        if places is not None:
            return [(x + air / 2, y + air / 2) for x, y in places]
    return None


def _description(detail: Detail) -> str:
    sizes = detail.sizes
    return (
        f"Plan seen from outside, sections, corner and bead of pane {detail.code}: glass {detail.glass.make_up()} mm {detail.glass.treatment}, "
        f"bead {number(sizes.bond_width.value)} by {number(sizes.bond_thickness.value)} mm, set-back {number(sizes.set_back.value)} mm, "
        f"joint {number(sizes.joint_width.value)} mm, frit {number(sizes.frit_width.value)} mm, in {detail.frame}. A fit-up detail, not an approval."
    )


def _column(
    job: Job,
    pane: Pane,
    detail: Detail,
    size: str,
    plan: Picture,
    unplaced: tuple[str, ...],
    style: DraftingStyle,
    *,
    bottom_limit: float,
    top: float,
    left: float,
) -> list[Mark] | None:
    """Tables, notes and title block in the right-hand column, from the top down and from the title block up; None where they meet."""
    fields = _title_fields(job, pane, detail, plan)
    marks, floor = title_block(size, fields, style)
    parts = part_rows(detail, plan.marks)
    height = (len(parts) + 1) * 4.6
    listed, _ = table(
        "",
        (("Item", 12.0), ("Qty", 20.0), ("Part", 48.0), ("Material, size", 100.0)),
        parts,
        left=left,
        top=floor + height,
        style=style,
        heading_below=True,
    )
    marks += listed
    ceiling = floor + height + 4.0
    first, left_end = table(
        "Sizes", (("Size", 44.0), ("mm", 24.0), ("Origin", 20.0)), size_rows(detail), left=left, top=top, style=style
    )
    marks += first
    x = left + HALF + 4.0
    second, y = table("Glass and bead", (("", 32.0), ("", HALF - 32.0)), glass_rows(detail), left=x, top=top, style=style)
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
        (("", 9.0), ("Block", 25.0), ("Edge", 11.0), ("Distance", 15.0), ("Size", HALF - 60.0)),
        block_rows(detail),
        left=x,
        top=y,
        style=style,
    )
    marks += fourth
    y = min(left_end, y)
    entries = [
        (LAYER_OF[name], name, words_)
        for name, words_ in LEGEND_OF.items()
        if name != "interlayer" or len(detail.glass.plies) > 1
    ]
    fifth, y = legend(entries, left=left, top=y, width=TITLE_WIDTH, style=style)
    marks += fifth
    approval = pane.approval_reference or job.sheet.approval_reference or "________"
    cautions = [caution.format(approval=approval) for caution in words.CAUTIONS]
    for heading, entries_ in (("Notes", (*words.GENERAL_NOTES, *_not_lettered(unplaced))), ("Cautions", tuple(cautions))):
        written, y = notes(heading, entries_, left=left, top=y, width=TITLE_WIDTH - 4.0, style=style)
        marks += written
    return marks if y >= ceiling and y >= bottom_limit else None


def _title_fields(job: Job, pane: Pane, detail: Detail, plan: Picture) -> TitleFields:
    words_ = job.sheet
    yard = job.vessel.yard_number
    return TitleFields(
        owner=words_.owner,
        title=" ".join(part for part in (detail.code, detail.name) if part),
        supplementary=" ".join(part for part in (job.vessel.name, f"yard no. {yard}" if yard else "") if part),
        document_type=words_.document_type,
        number="-".join(part for part in (yard, detail.code) if part),
        revision=detail.revision,
        date=words_.date.isoformat() if words_.date else "",
        drawn_by=words_.drawn_by,
        checked_by=words_.checked_by,
        approved_by=words_.approved_by,
        status=words_.status,
        scale=scale_designation(plan.scale),
        frame=detail.frame,
    )
