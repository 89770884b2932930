"""The detail sheet of one pane: views composed, the sheet size chosen, everything set in its place.

The smallest sheet is taken on which plan, sections, corner, bead, findings and tables find room, with the largest scales of ISO 5455
that do.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import TYPE_CHECKING

from geometry.outline import bounding_box
from outputs.drawing.plan_outlines import blocks_of
from outputs.drawing.stress_view import stress_picture
from outputs.files.proof import SheetError
from outputs.sheet.drafting import DraftingStyle, number
from outputs.sheet.entities import Mark, Place, Sheet, View
from outputs.sheet.layers import LAYERS, with_layer_names
from outputs.sheet.layout import set_in_groups
from outputs.sheet.moving import shifted
from outputs.sheet.paper import SIZES, TITLE_WIDTH, check_bar, drawing_space, frame_marks
from outputs.sheet.picture import Panel, Picture
from outputs.sheets.column import column_marks
from outputs.sheets.figure_panels import figure_panels
from outputs.sheets.findings_panel import actions, actions_panel, findings_panel
from outputs.sheets.pictures import bead_pictures, corner_picture, corner_scales, plan_picture, section_pictures
from outputs.sheets.words import frame_words

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from geometry.findings.check import PaneCheck
    from geometry.job import Job, Pane

Group = list[Picture | Panel]
SIZES_BELOW_A0 = tuple(size for size in SIZES if size != "A0")
PLAN_SCALES = (1.0, 0.5, 0.2, 0.1, 0.05, 0.02)
APART_IN_MODEL = 100.0  # mm between views in the model
READABLE = 80.0  # paper mm, least longer side of a plan that reads well
TALL = 150.0  # paper mm from which a table stands best at the right, in line with the tables there
LARGE = 150.0  # paper mm, longer side of a plan that reads easily
SEARCH = (
    (SIZES_BELOW_A0, (0,), (2.0, 1.0)),
    (SIZES_BELOW_A0, (1,), (2.0, 1.0)),
    (("A0",), (0, 1), (2.0, 1.0)),
    (tuple(SIZES), (2,), (2.0, 1.0)),
    (("A1", "A0"), (0, 1, 2), (0.5, 0.2)),  # sections too large for 1:1
)
"""Sheet sizes, ranks of the plan and scales of the sections, in the order in which they are tried."""
GUTTER = 6.0  # paper mm between views and the column of tables


def detail_sheet(job: Job, pane: Pane, detail: Detail, check: PaneCheck | None = None) -> Sheet:
    """The finished sheet of one pane; with ``check`` its findings stand on it.

    Raises
    ------
    SheetError
        When no sheet size holds the drawing.
    """
    style = DraftingStyle()
    thin = detail.glass.thickness < 10
    sections: dict[float, list[Picture]] = {}
    corners: list[list[Group]] = [[[corner_picture(detail, scale, style)]] for scale in corner_scales(detail)]
    bead = bead_pictures(detail, style)
    found: list[Group] = []
    extras: list[Group] = []
    to_do: tuple[str, ...] = ()
    if check is not None:
        to_do = actions(check.findings)
        if check.plate is not None:
            found.append([stress_picture(detail, check.plate, style)])
        found.append([findings_panel(check.findings, style)])
        extras = [[panel] for panel in figure_panels(check, style)]
    plans: dict[float, tuple[Picture, tuple[str, ...]]] = {}
    wanted = job.sheet.size if job.sheet.size in SIZES else None
    for size, ranks, cut_scales in [(s, *rest) for sizes, *rest in SEARCH for s in sizes if wanted in (None, s)]:
        for section_scale, scale in _scales(detail, size, cut_scales, thin=thin):
            if _rank(detail, scale) not in ranks:
                continue
            if scale not in plans:
                plans[scale] = plan_picture(detail, scale, style)
            plan, unplaced = plans[scale]
            column = _column(job, pane, detail, size, plan, unplaced, to_do, style)
            if column is None:
                continue
            tables, over = column
            if section_scale not in sections:
                sections[section_scale] = section_pictures(detail, section_scale, style)
            views: list[Group] = [[plan], [*sections[section_scale]]]
            # The tables of figures stand on the sheet where they find room; the calculation record has them always.
            # The template of the notch stands beside the bead, or where there is room for it.
            beads: tuple[list[Group], ...] = ([[*bead]], [[piece] for piece in bead])
            choices = product(corners or [[]], range(len(extras), -1, -1), beads, (1, 2, 3) if over else (1,))
            for corner, count, laid, columns in choices:
                groups: list[Group] = [*views, *corner, *laid, *found, *extras[:count]]
                if over:
                    groups.append([actions_panel(over, style, columns=columns)])
                sheet = _set_out(detail, size, groups, tables, style)
                if sheet is not None:
                    return with_layer_names(sheet, dict(job.layers))
    allowed = "a larger sheet.size, or none" if wanted else "fewer blocks, or sizes of section and bead that the trade makes"
    raise SheetError(
        f"the drawing of pane {detail.code} does not fit on a sheet {wanted or ', '.join(SIZES)}; allowed: {allowed}"
    )


def _scales(detail: Detail, size: str, cut_scales: tuple[float, ...], *, thin: bool) -> Iterator[tuple[float, float]]:
    """Scales of sections and plan to try on a sheet, best first."""
    for section_scale in cut_scales:
        if section_scale == 2.0 and size in ("A3", "A2") and not thin:
            continue  # thick glass reads well at 1:1; a small sheet is worth more
        for scale in PLAN_SCALES:
            if _worth_trying(detail, scale, size):
                yield section_scale, scale


def _worth_trying(detail: Detail, scale: float, size: str) -> bool:
    """Whether the pane itself, at this scale, leaves room for the rest of the sheet."""
    box = bounding_box(detail.curves.recess)
    left, bottom, right, top = drawing_space(size)
    wide, high = (box.right - box.left) * scale, (box.top - box.bottom) * scale
    return wide + 70 <= right - left - TITLE_WIDTH and high + 75 <= 0.62 * (top - bottom)


def _rank(detail: Detail, scale: float) -> int:
    """How well a plan can be worked from: 0 large, 1 still to be read, 2 too small."""
    box = bounding_box(detail.curves.recess)
    longest = max(box.right - box.left, box.top - box.bottom) * scale
    return 0 if longest >= LARGE else 1 if longest >= READABLE else 2


def _column(
    job: Job,
    pane: Pane,
    detail: Detail,
    size: str,
    plan: Picture,
    unplaced: tuple[str, ...],
    to_do: tuple[str, ...],
    style: DraftingStyle,
) -> tuple[list[Mark], tuple[str, ...]] | None:
    """The column of tables, and the lines of what to do that found no room in it; None where the tables themselves do not fit."""
    _, bottom, right, top = drawing_space(size)
    choices: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...] = ((to_do, ()), ((), to_do))
    for inside, over in choices:
        tables = column_marks(
            job,
            pane,
            detail,
            size,
            plan,
            unplaced,
            style,
            to_do=inside,
            bottom_limit=bottom,
            top=top - 3.0,
            left=right - TITLE_WIDTH,
        )
        if tables is not None:
            return tables, over
    return None


def _set_out(detail: Detail, size: str, groups: list[Group], tables: list[Mark], style: DraftingStyle) -> Sheet | None:
    """The sheet at one size, or None where it does not hold everything."""
    left, bottom, right, top = drawing_space(size)
    column = right - TITLE_WIDTH
    space = (left + 2.0, bottom + 12.0, column - GUTTER, top - 2.0)
    sizes = [[piece.paper_size(style) for piece in group] for group in groups]
    tall = [index for index, group in enumerate(groups) if isinstance(group[0], Panel) and group[0].height > TALL]
    placed = set_in_groups(sizes, space=space, beside=tall)
    if placed is None:
        return None
    pieces = [
        (piece, place) for group, places in zip(groups, placed, strict=True) for piece, place in zip(group, places, strict=True)
    ]
    title = " ".join(part for part in (detail.code, detail.name) if part)
    return Sheet(
        size=size,
        width=SIZES[size][0],
        height=SIZES[size][1],
        title=f"{title}: fit-up detail",
        description=_description(detail),
        layers=LAYERS,
        blocks=blocks_of(detail),
        views=tuple(_views([(piece, place) for piece, place in pieces if isinstance(piece, Picture)], style)),
        marks=(
            *frame_marks(size),
            *tables,
            *(
                shifted(mark, place[0] + style.margin, place[1] + style.margin)
                for piece, place in pieces
                if isinstance(piece, Panel)
                for mark in piece.marks
            ),
            *check_bar(size, style),
        ),
    )


def _views(pictures: list[tuple[Picture, Place]], style: DraftingStyle) -> Iterator[View]:
    """Each picture as a view: the plan keeps the pane's own origin, every other stands to the right of what is there."""
    offset_x = 0.0
    for index, (picture, place) in enumerate(pictures):
        edge = style.margin / picture.scale
        dx, dy = (offset_x + edge - picture.box[0], -picture.box[1]) if index else (0.0, 0.0)
        window = (picture.box[0] + dx - edge, picture.box[1] + dy - edge, picture.box[2] + dx + edge, picture.box[3] + dy + edge)
        marks: tuple[Mark, ...] = tuple(shifted(mark, dx, dy) for mark in picture.marks) if index else picture.marks
        yield View(picture.name, picture.scale, window, place, marks)
        offset_x = window[2] + APART_IN_MODEL


def _description(detail: Detail) -> str:
    sizes = detail.sizes
    return (
        f"Plan seen from outside, sections, corner and bead of pane {detail.code}: glass {detail.glass.make_up()} mm {detail.glass.treatment}, "
        f"bead {number(sizes.bond_width.value)} by {number(sizes.bond_thickness.value)} mm, set-back {number(sizes.set_back.value)} mm, "
        f"joint {number(sizes.joint_width.value)} mm, frit {number(sizes.frit_width.value)} mm, in {frame_words(detail.frame)}. "
        "A fit-up detail, not an approval."
    )
