"""The parts of the bonding form: tables of boxes, each with its limits beside it, set out from the head of the page in paper mm."""

from __future__ import annotations

from math import fsum
from typing import TYPE_CHECKING

from geometry.recorded.record_fields import PRODUCTS, READ_TIMES, FieldGroup, FieldKind
from outputs.drawing.card_fit import drawn, fitted, on_edge
from outputs.drawing.card_hand import LEFT, PLAIN, RIGHT, SMALL, dot, down, width_of, words
from outputs.drawing.card_readings import PRODUCT_NAMES
from outputs.drawing.card_room import card_room
from outputs.drawing.form_page import HEADING
from outputs.sheet.boxes import box_of_text
from outputs.sheet.drafting import number

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.findings.check import PaneCheck
    from geometry.outline import Outline
    from geometry.recorded.record_fields import RecordField
    from outputs.drawing.form_page import FormPage
    from outputs.sheet.entities import Mark

    Places = tuple[str, str, Sequence[RecordField]]  # a row of boxes: what is read, the word for what was wanted, the fields

ROW = 7.6
NAME = SMALL + 1.9
"""From the head of a row of boxes to the boxes, their names over them, paper mm."""
GAP = 1.6
"""Between two boxes side by side, paper mm."""


def limits(field: RecordField) -> str:
    """The limits of a box in few letters: ``598,5 to 601,5``, ``most 1,8``; of a figure without limits that none is given."""
    if field.least is None and field.most is None:
        return "not given" if field.kind is FieldKind.NUMBER else ""
    if field.least is None:
        return f"most {number(field.most or 0.0)}"
    if field.most is None:
        return f"least {number(field.least)}"
    return f"{number(field.least)} to {number(field.most)}"


def in_group(fields: Sequence[RecordField], group: FieldGroup) -> list[RecordField]:
    """The fields of one group, in their order."""
    return [field for field in fields if field.group is group]


def named_boxes(page: FormPage, fields: Sequence[tuple[RecordField, str, float]], top: float, *, high: float = 8.6) -> float:
    """Boxes in one row, each as wide as its share, with its name over it; where the row ends."""
    x = LEFT
    for field, name, wide in fields:
        page.say(x, top + SMALL, name)
        page.box(field, x, top + NAME, x + wide, top + NAME + high)
        x += wide + GAP
    return top + NAME + high


def lots_table(page: FormPage, fields: Sequence[RecordField], top: float) -> float:
    """A row for each product: name on the pack, lot, use by."""
    columns = (("name on the pack", 76.0), ("lot", 42.0), ("use by", 34.0))
    page.heading("LOTS AND EXPIRY", top, beside="use by as 2026-05-04 or 2026-05; of what was left out the lot is “not used”")
    by_id = {field.id: field for field in fields}
    x = RIGHT - fsum(wide for _, wide in columns) - GAP * (len(columns) - 1)
    for name, wide in columns:
        page.say(x + 0.4, top + HEADING + 4.0, name)
        x += wide + GAP
    y = top + HEADING + 5.9
    for key, _ in PRODUCTS:
        page.say(LEFT, y + 4.9, PRODUCT_NAMES[key], PLAIN)
        x = RIGHT - fsum(wide for _, wide in columns) - GAP * (len(columns) - 1)
        for part, (_, wide) in zip(("product", "lot", "expiry"), columns, strict=True):
            page.box(by_id[f"{key}.{part}"], x, y, x + wide, y + ROW - 0.8)
            x += wide + GAP
        y += ROW
    return y


def goods_table(page: FormPage, fields: Sequence[RecordField], top: float) -> float:
    """The pane on arrival: measures with their limits in two columns."""
    page.heading("GOODS IN", top, beside="mm; as ordered, outer face up; in a file: goods_in. and the name in the box")
    half = (len(fields) + 1) // 2
    wide, box = (RIGHT - LEFT - 6.0) / 2, 24.0
    y = top + HEADING + 1.6
    for index, field in enumerate(fields):
        left = LEFT + (wide + 6.0) * (index >= half)
        base = y + ROW * (index % half if half else 0)
        right = left + wide
        told = limits(field) or ("yes / no" if not field.choices else f"as ordered {field.choices[0]}")
        name, room = GOODS_WORDS.get(field.id, field.words), wide - box - 3.2 - width_of(told, SMALL, bold=bool(limits(field)))
        page.say(left, base + 4.9, name, SMALL if width_of(name, SMALL) <= room else 2.5)
        page.say(right - box - 1.6, base + 4.9, told, bold=bool(limits(field)), align="right")
        page.box(field, right - box, base, right, base + ROW - 0.8, name=field.id.removeprefix("goods_in."))
    return y + ROW * half


GOODS_WORDS = {
    "goods_in.diagonal_rising": "diagonal from lower left",
    "goods_in.diagonal_falling": "diagonal from upper left",
    "goods_in.edges": "no chips, arris all round",
    "goods_in.marking": "mark, side up, outer face told",
    "goods_in.printed_face": "number of the printed face",
}


def _label_width(rows: Sequence[Places], wide: float) -> float:
    """From the left of a table of places to its first box: the name of a row of limits keeps clear of the first of them, wide as it may be."""
    label = 15.0
    for name, wanted, fields in rows:
        if len({(field.least, field.most) for field in fields}) == 1:
            continue
        first = max(width_of(_figure(each), SMALL) for each in (fields[0].wanted, fields[0].least, fields[0].most))
        free = width_of(f"{name} {wanted}", SMALL) + 1.5 + first / 2.0  # where the middle of the first box may stand
        share = 0.5 / len(fields)
        label = max(label, (free - wide * share) / (1.0 - share))
    return label


def places_table(page: FormPage, rows: Sequence[Places], top: float, *, left: float, right: float) -> float:
    """Boxes by place: the signs of the places over them, limits over each row, once where they are the same at all places.

    Where they are not, what was wanted stands over them: it is why they differ.
    """
    y = top
    count = len(rows[0][2])
    label = _label_width(rows, right - left)
    step = (right - left - label) / max(count, 1)
    for index, field in enumerate(rows[0][2]):
        page.say(left + label + step * (index + 0.5), y + 3.8, field.sign, PLAIN, bold=True, align="middle")
    y += 5.2
    for name, wanted, fields in rows:
        same = len({(field.least, field.most) for field in fields}) == 1
        if same:
            page.say(left, y + 3.1, f"{name}: {limits(fields[0])} mm", bold=True)
            y += 4.4
        else:
            for word, values in (
                (f"{name} {wanted}", [field.wanted for field in fields]),
                ("least", [field.least for field in fields]),
                ("most", [field.most for field in fields]),
            ):
                page.say(left, y + 3.1, word)
                for index, value in enumerate(values):
                    page.say(left + label + step * (index + 0.5), y + 3.1, _figure(value), align="middle")
                y += 4.4
        page.say(left, y + 4.9, "read")
        for index, field in enumerate(fields):
            at = left + label + step * index
            page.box(field, at + 0.5, y, at + step - 0.5, y + ROW - 0.4)
        y += ROW + 0.6
    return y


def _figure(value: float | None) -> str:
    """A figure, or in words that there is none."""
    return "none" if value is None else number(value, decimals=1)


def places_picture(
    page: FormPage, outline: Outline, fields: Sequence[RecordField], room: tuple[float, float, float, float]
) -> None:
    """The outline seen from outside with the signs of its places; ``room`` is left, top, right and foot, down from the head."""
    left, top, right, foot = room
    fit = fitted(outline, (left + 6.0, down(foot - 6.0), right - 6.0, down(top + 6.0)), narrowest=12.0)
    edge = fit.outline(outline)
    account = card_room((left, down(foot), right, down(top)))
    shape = drawn("GLASS", edge)
    marks: list[Mark] = [
        shape,
        *(dot("TICKS", on_edge(edge, fit.at((field.place.x, field.place.y)))[0], 0.9) for field in fields if field.place),
    ]
    account.add(marks)
    page.marks += marks
    for field in fields:
        if field.place is None:
            continue
        (x, y), (dx, dy) = on_edge(edge, fit.at((field.place.x, field.place.y)))
        half = width_of(field.sign, PLAIN, bold=True) / 2
        reach = abs(dx) * half + abs(dy) * PLAIN / 2 + 2.2
        spots = (
            (x + side * dx * away - shift * dy, y + side * dy * away + shift * dx)
            for step in range(14)
            for side in (-1.0, 1.0)
            for away in (reach + 0.7 * step,)
            for shift in (0.0, 1.5, -1.5, 3.0, -3.0, 5.0, -5.0)
        )
        tried = (words(at, up - PLAIN / 2, field.sign, PLAIN, bold=True, align="middle") for at, up in spots)
        text = next((each for each in tried if account.free(box_of_text(each, 1.0))), None)
        if text is not None:
            page.marks.append(text)
            account.add([text])


def climate_table(page: FormPage, fields: Sequence[RecordField], check: PaneCheck, top: float) -> float:
    """Three readings in three rows: time, air, humidity, frame, glass."""
    margin = check.subject.pane.limits.dew_margin
    page.heading("CLIMATE", top, beside=f"frame and glass at least {number(margin)} K above the dew point")
    names, step = ("time", "air °C", "humidity %", "frame °C", "glass °C"), 29.2
    first = RIGHT - step * len(names)
    y = top + HEADING + 0.4
    readings = [fields[start : start + len(names)] for start in range(0, len(fields), len(names))]
    for index, (name, field) in enumerate(zip(names, readings[0], strict=True)):
        page.say(first + step * index + 1.6, y + 3.9, name, bold=True)
        page.say(first + step * index + 1.6, y + 8.2, limits(field))
    y += 9.8
    for when, reading in zip(READ_TIMES, readings, strict=True):
        page.say(LEFT, y + 4.9, when, PLAIN)
        for index, field in enumerate(reading):
            at = first + step * index
            page.box(field, at + 1.2, y, at + step - 0.4, y + ROW - 0.8)
        y += ROW
    return y


__all__ = [
    "GAP", "NAME", "ROW", "climate_table", "goods_table", "in_group", "limits", "lots_table", "named_boxes", "places_picture", "places_table",
]  # fmt: skip
