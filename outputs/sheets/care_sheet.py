"""The care and re-glazing sheet of a fitted pane for its owner: one A4 with figures of its as-fitted revision alone.

Terms
-----
may be written
    Only of a pane whose record is whole, keeps its limits and is of the paper as it is, and whose own checks do not fail; else it is told why not.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from geometry.outline import bounding_box
from geometry.recorded.outcomes import Outcome
from geometry.recorded.record_fields import PRODUCTS, FieldGroup
from geometry.recorded.record_findings import RecordState
from outputs.drawing.card_hand import HEIGHT, LEFT, PLAIN, RIGHT, SMALL, dot, down, plate, width_of, words
from outputs.drawing.card_head import head_plain
from outputs.drawing.card_readings import PRODUCT_NAMES
from outputs.drawing.form_page import HEADING, FormPage
from outputs.record.as_fitted import as_fitted_name
from outputs.sheet.drafting import number
from outputs.sheet.tables import fitted as shortened
from outputs.sheet.tables import wrapped
from outputs.sheets import care_words
from outputs.sheets.bonding_form_parts import places_picture
from outputs.sheets.contents import Contents
from outputs.sheets.hand_sheet import hand_sheet
from outputs.sheets.pane_words import face_words, make_up, printed_face, standards
from outputs.sheets.words import frame_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.recorded.record_findings import JudgedRecord
    from outputs.sheet.entities import Mark, Sheet

LINE = 4.5
TEXT = SMALL
COLUMN = 92.5
SECOND = RIGHT - COLUMN
LABEL = 27.0
MOST_LINES = 32
"""Lines of figures that the left column holds between picture and readings."""
CUT_FIRST = ("cleaner", "activator")
"""Rows that are cut to one line first where all together find no room; the as-fitted revision has them whole."""


def why_no_care_sheet(judged: JudgedRecord) -> str:
    """Why a pane has no care sheet yet; "" where it may be written."""
    if judged.state in (RecordState.WRONG_PAPER, RecordState.OUTSIDE):
        return f"{judged.state.value}: {len(judged.of(Outcome.FAIL))} of its readings fail"
    if judged.state is RecordState.NOT_FULLY:
        return f"{judged.state.value}: {len(judged.of(Outcome.NOT_RECORDED))} entries are missing"
    against = judged.check.state.not_for_manufacture
    return f"the pane must not be made as drawn: {', '.join(against)}" if against else ""


@dataclass(slots=True)
class _Column:
    """A column of the sheet while it is written down from ``y``, from the head."""

    left: float
    y: float
    width: float = COLUMN
    marks: list[Mark] = field(default_factory=list)

    def heading(self, string: str) -> None:
        self.marks.append(plate(self.left, down(self.y + HEADING), self.left + self.width, down(self.y)))
        self.marks.append(words(self.left + 1.6, down(self.y + 4.35), string, PLAIN, bold=True, white=True))
        self.y += HEADING + 0.6

    def points(self, told: Sequence[str], *, bold: bool = False) -> None:
        for each in told:
            for index, part in enumerate(_broken(each, self.width - 4.0, bold=bold)):
                self.y += LINE
                if index == 0:
                    self.marks.append(dot("DETAIL", (self.left + 1.2, down(self.y) + TEXT / 2), 0.5))
                self.marks.append(words(self.left + 3.2, down(self.y), part, TEXT, bold=bold))
        self.y += 2.2

    def row(self, name: str, value: str, *, most: int) -> None:
        parts = _broken(value, COLUMN - LABEL, bold=True) if most > 1 else (value,)
        told = parts[:2] if len(parts) <= 2 else (parts[0], " ".join(parts[1:]))
        for index, part in enumerate(told or ("",)):
            self.y += LINE
            if index == 0:
                self.marks.append(words(self.left, down(self.y), name, TEXT))
            self.marks.append(words(self.left + LABEL, down(self.y), _cut(part, COLUMN - LABEL), TEXT, bold=True))


def _broken(string: str, room: float, *, bold: bool) -> tuple[str, ...]:
    """A text in lines that find room; bold letters are wider."""
    wider = max(width_of(string, TEXT, bold=bold) / max(width_of(string, TEXT), 1e-9), 1.0)
    return wrapped(string, room / wider * 0.985, TEXT)


def _cut(string: str, room: float) -> str:
    """A bold text cut with an ellipsis where it is longer than its room."""
    while string and width_of(string, TEXT, bold=True) > room:
        string = string.rstrip("…")[:-1].rstrip() + "…" if len(string) > 2 else ""
    return string


def care_sheet(judged: JudgedRecord) -> Sheet:
    """The sheet. Raises ``ValueError`` where it may not be written yet, ``LetteringError`` for a sign of the record that has no letter."""
    why = why_no_care_sheet(judged)
    if why:
        raise ValueError(why)
    check = judged.check
    contents = Contents(check.subject.job, check.subject.pane, check.subject.detail, check)
    first, second = _Column(LEFT, 77.0), _Column(SECOND, 31.5)
    page = FormPage({})
    _head(contents, judged, page)
    page.marks.append(plate(LEFT, down(31.5 + HEADING), LEFT + COLUMN, down(31.5)))
    page.marks.append(words(LEFT + 1.6, down(31.5 + 4.35), "THE PANE, FROM OUTSIDE", PLAIN, bold=True, white=True))
    _picture(contents, judged, page)
    _figures(contents, judged, first)
    first.y += 2.6
    _readings(judged, first)
    second.heading("CLEAN")
    second.points(care_words.CLEAN)
    second.points(care_words.NEVER, bold=True)
    second.heading("EACH YEAR LOOK AT")
    second.points(care_words.YEARLY)
    second.heading("RE-GLAZING, IN PRINCIPLE")
    second.points(care_words.RENEW)
    foot = _Column(LEFT, HEIGHT - 39.0, RIGHT - LEFT)
    foot.heading("CAUTIONS")
    foot.points(care_words.CAUTIONS, bold=True)
    page.say(
        LEFT,
        HEIGHT - 11.2,
        "Figures of the as-fitted revision; words are common practice. Ask the makers of glass, adhesive and sealant.",
        TEXT,
    )
    says = f"Care and re-glazing sheet of pane {contents.detail.code}, {as_fitted_name(judged)}."
    return hand_sheet(contents, "care and re-glazing", says, (*page.marks, *first.marks, *second.marks, *foot.marks))


def _head(contents: Contents, judged: JudgedRecord, page: FormPage) -> None:
    pane, vessel = contents.pane, contents.job.vessel
    page.marks += head_plain(pane, contents.mark)
    page.say(RIGHT, 15.4, "CARE AND RE-GLAZING", 5.0, bold=True, align="right")
    several = f"pane {judged.record.piece} of {pane.quantity}" if pane.quantity > 1 else ""
    names = ", ".join(part for part in (vessel.title, pane.name, pane.location, several) if part)
    state = f"{judged.state.value}, {judged.record.bonded}"
    page.say(RIGHT, 27.0, state, SMALL, bold=True, align="right")
    page.say(LEFT, 27.0, shortened(names, RIGHT - LEFT - width_of(state, SMALL, bold=True) - 5.0, SMALL))


def _picture(contents: Contents, judged: JudgedRecord, page: FormPage) -> None:
    """The glass with the places at which gap and flush were read."""
    gaps = [each for each in judged.fields if each.id.startswith("gap.")]
    places_picture(page, contents.detail.curves.glass, gaps, (LEFT, 38.5, LEFT + COLUMN, 75.5))


def _span(judged: JudgedRecord, start: str) -> str:
    """Least and greatest of the readings whose ids begin so."""
    values = [value for name, value in judged.record.entries.items() if name.startswith(start) and isinstance(value, float)]
    if not values:  # a print of its own may have no place at which its width can be measured
        return ""
    low, high = min(values), max(values)
    return number(low) if low == high else f"{number(low)} to {number(high)}"


def _width_of_print(judged: JudgedRecord) -> str:
    told = _span(judged, "frit.")
    return f"{told} wide, measured" if told else "width not measured"


def _sizes(judged: JudgedRecord) -> str:
    """Width and height as they were measured."""
    wide = _span(judged, "goods_in.width")
    return f"{wide} × {_span(judged, 'goods_in.height')}, {_span(judged, 'goods_in.thickness')} thick, measured"


def _figures(contents: Contents, judged: JudgedRecord, column: _Column) -> None:
    """What the pane is and what holds it, every figure of the as-fitted revision."""
    record, sizes, pane = judged.record, contents.detail.sizes, contents.pane
    box = bounding_box(contents.detail.curves.glass)
    mass = number(contents.detail.glass.mass, decimals=1)
    air, humidity = (number(record.number(f"climate.2.{name}") or 0.0) for name in ("air", "humidity"))
    ordered = [
        ("glass", f"{make_up(contents)}; {standards(contents)}"),
        ("size, mm", _sizes(judged)),
        ("as drawn", f"{number(box.width, decimals=1)} × {number(box.height, decimals=1)} over all, {mass} kg"),
        ("outline", f"{pane.file_stem}-glass.dxf, mark {contents.mark}"),
        ("print", f"{face_words(*printed_face(contents))}, {_width_of_print(judged)}"),
        ("rake, frame", f"{number(pane.rake)}°, {frame_words(contents.detail.frame)}"),
    ]
    bond = f"{number(sizes.bond_width.value)} wide, {number(sizes.bond_thickness.value)} thick, {number(sizes.set_back.value)} from the edge"
    holding = [
        ("bond", f"{bond}, drawn"),
        ("joint", f"{_span(judged, 'gap.')} wide, read; backfill {number(sizes.backfill_depth.value)} deep"),
        *((PRODUCT_NAMES[key], _product(judged, key)) for key, _ in PRODUCTS),
        ("bonded", f"{record.bonded} by {record.text('name.bonded')}, {air} °C, {humidity} %"),
        ("backfilled", f"{record.date('backfill.date')}; checked by {record.text('name.checked')}"),
        ("deviations", "; ".join(f"{each.name}: {each.says}" for each in judged.deviations) or "none"),
    ]
    short: set[str] = set()
    for name in (*CUT_FIRST, *(name for name, _ in (*holding, *ordered))):
        second = [
            each
            for each, value in (*ordered, *holding)
            if each not in short and len(_broken(value, COLUMN - LABEL, bold=True)) > 1
        ]
        if len(ordered) + len(holding) + len(second) <= MOST_LINES:
            break
        short.add(name)
    column.heading("ORDER DATA OF A NEW PANE")
    for name, value in ordered:
        column.row(name, value, most=1 if name in short else 2)
    column.y += 2.2
    column.heading("WHAT HOLDS IT")
    for name, value in holding:
        column.row(name, value, most=1 if name in short else 2)


def _product(judged: JudgedRecord, key: str) -> str:
    product, lot = (judged.record.text(f"{key}.{part}") for part in ("product", "lot"))
    return f"{product}, lot {lot}" if product else lot


def _readings(judged: JudgedRecord, column: _Column) -> None:
    """Gap and flush at the eight places: what to compare with."""
    column.heading("GAP AND FLUSH AS READ, mm")
    step = (COLUMN - 12.0) / 8
    gaps = [each for each in judged.fields if each.group is FieldGroup.GAPS and each.id.startswith("gap.")]
    rows = (
        ("", [each.sign for each in gaps]),
        ("gap", [number(judged.record.number(each.id) or 0.0) for each in gaps]),
        ("flush", [number(judged.record.number(each.id.replace("gap", "flush")) or 0.0) for each in gaps]),
    )
    for name, cells in rows:
        column.y += LINE + 0.4
        column.marks.append(words(column.left, down(column.y), name, TEXT))
        for index, cell in enumerate(cells):
            x = column.left + 12.0 + step * (index + 0.5)
            column.marks.append(words(x, down(column.y), cell, TEXT, bold=True, align="middle"))


__all__ = ["care_sheet", "why_no_care_sheet"]
