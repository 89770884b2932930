"""The goods-in sheet of one pane: A4, what is measured and looked at when the supplier's pane arrives, with the limits of the order.

Its measures are those of the bonding record and bear the same names there; what is seen by eye stands under them.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.outline import corners, over_the_arcs
from geometry.recorded.record_fields import FieldGroup, FieldKind, face_words, ordered_detail, record_fields
from outputs.drawing import card_hand as hand
from outputs.drawing.card_hand import HEIGHT, LEFT, PLAIN, RIGHT, SMALL, down, width_of
from outputs.drawing.form_head import HEAD_FOOT, blank, form_head
from outputs.drawing.form_page import HEADING, FormPage
from outputs.drawing.pane_shape import shape_of
from outputs.sheet.drafting import number
from outputs.sheets.bonding_form_parts import in_group, places_picture
from outputs.sheets.hand_sheet import hand_sheet
from outputs.sheets.letters import GOODS_IN
from outputs.sheets.title import identification

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.outline import Outline
    from geometry.recorded.record_fields import RecordField
    from outputs.sheet.entities import Sheet
    from outputs.sheets.contents import Contents

BOW = "bow, under a straight-edge on the longest side"
IN_MADE = {
    "width_bottom": "made.width 1",
    "width_top": "made.width 2",
    "height_left": "made.height 1",
    "height_right": "made.height 2",
    "width": "made.width",
    "height": "made.height",
    "diagonal_rising": "made.diagonals 1",
    "diagonal_falling": "made.diagonals 2",
    "thickness": "made.thickness",
    "bow": "made.bow",
}
"""Where a measure stands in the job once the pane is taken as it was made."""
DRAWN, LEAST, MOST, READ, NAME = (
    82.0,
    98.0,
    114.0,
    118.0,
    147.0,
)  # down the middle: right ends of figures, left of box and of its name
SEEN, TICKS = 6.4, 167.0  # paper mm of a row that is ticked, and where its boxes begin
REMARKS_FOOT = HEIGHT - 19.4
CAUTIONS = (
    "Glass is heavy and its edges cut: gloves, sleeves, glasses, shoes; two people or cups, on edge on a padded rack.",
    "Outer face up. No pane that fails is bonded; what is left empty is “not recorded”, never a pass. An aid, not an approval.",
)


def goods_in_sheets(contents: Contents) -> tuple[Sheet, ...]:
    """The sheet. Raises ``ValueError`` where the pane was not checked: its limits come from the checks."""
    if contents.check is None:
        raise ValueError("a goods-in sheet is drawn from the checks of its pane; none were made")
    page, pane, subject = FormPage({}), contents.pane, contents.check.subject
    fields = record_fields(contents.check)
    form_head(
        page,
        pane,
        title="GOODS IN",
        identity=identification(contents, GOODS_IN),
        vessel=contents.job.vessel.name,
        mark=contents.mark,
        state=contents.state,
    )
    y = _arrival(page, contents, HEAD_FOOT + 1.6)
    measured = [each for each in in_group(fields, FieldGroup.GOODS_IN) if each.kind is FieldKind.NUMBER]
    square = any(each.id == "goods_in.diagonal_rising" for each in measured)
    y = _measures(page, measured, [] if square else _diagonals(ordered_detail(subject).curves.glass), y + 2.4)
    y = _print(page, contents, in_group(fields, FieldGroup.FRIT), y + 2.4)
    y = _corners(page, contents, y + 2.0)
    y = _seen(page, contents, face_words(subject), y + 2.4)
    _verdict(page, y + 2.0)
    for at, each in enumerate(CAUTIONS):
        page.say(LEFT, HEIGHT - 14.2 + 3.9 * at, each, 2.5)
    told = "what is measured and seen when the glass arrives, with the limits of the order."
    says = f"Goods-in sheet of pane {contents.detail.code}: {told}"
    return (hand_sheet(contents, "goods-in sheet", says, page.marks),)


def _arrival(page: FormPage, contents: Contents, top: float) -> float:
    """The mark on crate and pane, compared sign by sign; delivery note, day, and which of several panes."""
    page.heading("CRATE AND LABEL", top, beside="eight signs: write them down as they stand there, then compare")
    y = top + HEADING + 1.4
    page.say(LEFT, y + 5.4, "mark of this sheet", PLAIN)
    room = 84.0 - LEFT - 39.0 - 1.5  # to the next word; a mark of wide letters is lettered smaller
    high = next((each for each in (4.2, PLAIN) if width_of(contents.mark, each, bold=True) <= room), SMALL)
    page.say(LEFT + 39.0, y + 5.6, contents.mark, high, bold=True)
    for x, name in ((84.0, "crate"), (142.0, "pane")):
        page.say(x, y + 5.4, name, PLAIN)
        signs = x + (12.0 if name == "crate" else 11.0)
        for place in range(8):
            left = signs + place * 5.1 + (2.4 if place > 3 else 0.0)
            page.marks.append(hand.field(left, down(y + 7.8), left + 4.6, down(y + 0.6)))
    y += 9.6
    quantity = contents.pane.quantity
    cells = ["delivery note", "day of arrival", "stored at", f"piece, of {quantity}" if quantity > 1 else "pieces, 1 ordered"]
    step = (RIGHT - LEFT + 2.0) / len(cells)
    for index, name in enumerate(cells):
        blank(page, name, LEFT + step * index, y, LEFT + step * (index + 1) - 2.0, y + 10.4)
    return y + 10.4


def _measures(page: FormPage, fields: Sequence[RecordField], diagonals_told: Sequence[tuple[str, float]], top: float) -> float:
    """A row for each measure: as ordered, least, greatest, the box, and its name in record and job; then the diagonals that have none there."""
    page.heading("MEASURES", top, beside="mm; as ordered, outer face up; diagonals over the arcs of the corners")
    y = top + HEADING
    for x, name in ((DRAWN, "ordered"), (LEAST, "least"), (MOST, "most")):
        page.say(x, y + 4.4, name, bold=True, align="right")
    page.say(READ + 0.6, y + 4.4, "read", bold=True)
    page.say(NAME, y + 4.4, "in record (goods_in.) and job", 2.5)
    y += 5.6
    for each in fields:
        name = each.id.removeprefix("goods_in.")
        page.say(LEFT, y + 4.6, BOW if each.id == "goods_in.bow" else each.words)
        for x, value in ((DRAWN, each.wanted), (LEAST, each.least), (MOST, each.most)):
            if value is not None:
                page.say(x, y + 4.7, number(value, decimals=1), PLAIN, bold=x != DRAWN, align="right")
        page.marks.append(hand.field(READ, down(y + 6.2), NAME - 2.0, down(y + 0.4)))
        page.say(NAME, y + 4.5, ", ".join(filter(None, (name, IN_MADE.get(name)))), 2.5)
        y += 6.6
    for name, length in diagonals_told:
        page.say(LEFT, y + 4.6, f"diagonal, {name}, over the arcs")
        page.say(DRAWN, y + 4.7, number(length, decimals=1), PLAIN, align="right")
        page.marks.append(hand.field(READ, down(y + 6.2), NAME - 2.0, down(y + 0.4)))
        page.say(NAME, y + 4.5, "not in the record", 2.5)
        y += 6.6
    return y


def _diagonals(glass: Outline) -> list[tuple[str, float]]:
    """Both diagonals of a pane with four corners that is no rectangle, over the arcs, mm: the order names no tolerance of them."""
    shape = shape_of(glass)
    if len(shape.points) != 4 or shape.round:
        return []
    return [(f"{a.name} to {b.name}", over_the_arcs(a.rounding, b.rounding)) for a, b in (shape.points[::2], shape.points[1::2])]


def _print(page: FormPage, contents: Contents, fields: Sequence[RecordField], top: float) -> float:
    """The pane from outside with the places of the print, and beside it a row for each place."""
    page.heading(
        "WIDTH OF THE PRINT", top, beside="mm, fade included; places of the pane sheet, from outside; record: frit.1 to 8"
    )
    assert contents.check is not None, "checked before"
    y, picture = top + HEADING + 0.6, 62.0
    rows = max(1, (len(fields) + 1) // 2)
    high = 5.4 + 6.6 * rows
    places_picture(page, ordered_detail(contents.check.subject).curves.glass, fields, (LEFT, y, LEFT + picture, y + high))
    wide = (RIGHT - LEFT - picture - 8.0) / 2
    for column in range(2):
        left = LEFT + picture + 4.0 + column * (wide + 4.0)
        if fields[column * rows :]:
            for x, name in ((left + 15.0, "ordered"), (left + 27.0, "least"), (left + 39.0, "most")):
                page.say(x, y + 3.8, name, 2.5, align="right")
        base = y + 5.0
        for each in fields[column * rows : (column + 1) * rows]:
            page.say(left, base + 4.7, each.sign, PLAIN, bold=True)
            for x, value, bold in (
                (left + 15.0, each.wanted, False),
                (left + 27.0, each.least, True),
                (left + 39.0, each.most, True),
            ):
                if value is not None:
                    page.say(x, base + 4.6, number(value, decimals=1), bold=bold, align="right")
            page.marks.append(hand.field(left + 41.0, down(base + 6.2), left + wide, down(base + 0.4)))
            base += 6.6
    return y + high


def _corners(page: FormPage, contents: Contents, top: float) -> float:
    """Radii of the corners by a gauge, and the arris."""
    assert contents.check is not None, "checked before"
    detail, glass = ordered_detail(contents.check.subject), contents.pane.glass
    page.heading("CORNERS AND EDGES", top, beside="mm; radius by gauge, as ordered beside the box; no tolerance but the order's")
    y = top + HEADING + 1.0
    found = corners(detail.curves.glass)
    shown = found[:7]
    cells = [(f"R at V{each.number}", number(each.radius, decimals=1)) for each in shown]
    cells.append(("arris", f"≤ {number(glass.arris)}" if glass.arris is not None else "ordered"))
    if not found:
        cells.insert(0, ("round edge", "by sizes"))
    step = (RIGHT - LEFT + 2.0) / max(len(cells), 4)
    for index, (name, beside) in enumerate(cells):
        blank(page, name, LEFT + step * index, y, LEFT + step * (index + 1) - 2.0, y + 10.4, beside)
    return y + 10.4


def _seen(page: FormPage, contents: Contents, face: str, top: float) -> float:
    """What is seen by eye: yes or no."""
    page.heading("BY EYE", top, beside="tick yes or no; a name beside the boxes: so in the record (goods_in.)")
    glass, stamp = contents.pane.glass, contents.job.supplier.stamp
    build = f"{contents.detail.glass.make_up()} {glass.treatment}"
    rows = (
        (f"make-up as on the label: {build}", ""),
        (f"print on face {face}, 1 is outside; dense, no pinholes against a lamp", "printed_face"),
        (f"permanent stamp there: {stamp}" if stamp else "permanent stamp there, legible, where the order wants it", ""),
        ("edges and corners free of chips; arris all round", "edges"),
        ("no scratch that a nail feels, no inclusions in the daylight", ""),
        (
            "no delamination, no bubbles, interlayer sealed at the edge"
            if len(glass.plies) > 1
            else "film and spacers of the crate leave no mark",
            "",
        ),
        ("side up and outer face marked on the pane", "marking"),
    )
    for index, (row, called) in enumerate(rows):
        y = top + HEADING + 1.0 + SEEN * index
        beside = width_of(called, 2.5) + 2.0 if called else 0.0
        page.say(LEFT, y + 4.4, row, hand.fitted(row, TICKS - LEFT - 4.0 - beside, (PLAIN, SMALL, 2.5)))
        if called:
            page.say(TICKS - 2.0, y + 4.4, called, 2.5, align="right")
        for x, name in ((TICKS, "yes"), (TICKS + 17.0, "no")):
            page.marks.append(hand.field(x, down(y + 5.6), x + 5.0, down(y + 0.8)))
            page.say(x + 6.2, y + 4.6, name, PLAIN)
    return top + HEADING + 1.0 + SEEN * len(rows)


def _verdict(page: FormPage, top: float) -> None:
    """Accepted or not, who and when."""
    page.heading(
        "VERDICT", top, beside="tick one; a pane outside a limit, or not measured, goes to the office before it goes on board"
    )
    y = top + HEADING + 1.4
    for x, name in ((LEFT, "ACCEPTED"), (LEFT + 36.0, "REJECTED")):
        page.marks.append(hand.field(x, down(y + 8.6), x + 6.0, down(y + 2.6)))
        page.say(x + 7.6, y + 7.2, name, PLAIN, bold=True)
    left = LEFT + 72.0
    step = (RIGHT - left + 2.0) / 3
    for index, name in enumerate(("measured by", "signature", "date")):
        blank(page, name, left + step * index, y - 0.4, left + step * (index + 1) - 2.0, y + 10.0)
    y += 11.4
    if REMARKS_FOOT - y >= 11.0:
        blank(page, "chips, scratches: where and how large; photographs", LEFT, y, RIGHT, REMARKS_FOOT)


__all__ = ["goods_in_sheets"]
