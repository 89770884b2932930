"""The bonding form of one pane: A4, two sides of boxes to fill in by hand or in the PDF, each with the pane's own limits beside it.

Side 1 is what is used and what arrived, side 2 the clock, the joint and who signs. Every field of the record has one box and each box a number,
by which it is found in the form's CSV.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.recorded.record_fields import LAST_PRESS, FieldGroup, RecordField, ordered_detail, record_fields
from geometry.rules.day.time_plan import whole_minutes
from outputs.drawing.card_facts import days_of, gaps_of
from outputs.drawing.card_gaps import job_limit_words
from outputs.drawing.card_hand import (
    HEIGHT,
    LEFT,
    PLAIN,
    RIGHT,
    SMALL,
    down,
    field,
    fitted,
    width_of,
)
from outputs.drawing.form_head import form_head
from outputs.drawing.form_page import HEADING as PLATE
from outputs.drawing.form_page import FormBox, FormPage
from outputs.sheet.drafting import number
from outputs.sheet.tables import wrapped
from outputs.sheets.bonding_form_parts import (
    GAP,
    NAME,
    ROW,
    climate_table,
    goods_table,
    in_group,
    lots_table,
    named_boxes,
    places_picture,
    places_table,
)
from outputs.sheets.hand_sheet import hand_sheet
from outputs.sheets.letters import FORM
from outputs.sheets.title import identification
from outputs.sheets.words import HAZARDS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.findings.check import PaneCheck
    from outputs.sheet.entities import Sheet
    from outputs.sheets.contents import Contents

STEP_ROW = 6.6
TICK = 19.0
FINE = 2.5
FOOT = 21.4
"""From the foot of the page up to where the form ends, paper mm: three lines of cautions stand below."""
NOT_APPROVED = "A record of what was done, not an approval. What is left empty is “not recorded”, which is never a pass."


@dataclass(frozen=True, slots=True)
class BondingForm:
    """Both sides, and the boxes on each."""

    sheets: tuple[Sheet, ...]
    boxes: tuple[tuple[FormBox, ...], ...]


def bonding_form(contents: Contents) -> BondingForm:
    """The form of a pane. Raises ``ValueError`` where the pane was not checked: its limits come from the checks."""
    if contents.check is None:
        raise ValueError("a bonding form is drawn from the checks of its pane; none were made")
    fields = record_fields(contents.check)
    numbers = {field.id: count for count, field in enumerate(fields, start=1)}
    pages = (
        _first_side(contents, contents.check, fields, FormPage(numbers)),
        _second_side(contents, contents.check, fields, FormPage(numbers)),
    )
    sheets = tuple(_sheet(contents, page, count, len(pages)) for count, page in enumerate(pages, start=1))
    return BondingForm(sheets, tuple(tuple(page.boxes) for page in pages))


def _sheet(contents: Contents, page: FormPage, count: int, of: int) -> Sheet:
    says = f"Bonding form of pane {contents.detail.code}, side {count} of {of}: boxes to fill in, with the limits of this pane."
    return hand_sheet(contents, f"bonding form, side {count} of {of}", says, page.marks)


def _head(contents: Contents, page: FormPage, count: int) -> None:
    """Code, hand, revision and mark; which paper this is; a pane that must not be made says so here as well."""
    form_head(
        page,
        contents.pane,
        title=f"BONDING RECORD {count} of 2",
        identity=identification(contents, FORM),
        vessel=contents.job.vessel.name,
        mark=contents.mark,
        state=contents.state,
    )


def _first_side(contents: Contents, check: PaneCheck, fields: Sequence[RecordField], page: FormPage) -> FormPage:
    _head(contents, page, 1)
    by_id = {field.id: field for field in fields}
    day = [(by_id["bonding.date"], "day of bonding, year-month-day", 56.0), (by_id["backfill.date"], _backfill(check), 70.0)]
    if "piece.number" in by_id:
        day.append((by_id["piece.number"], f"which of the {contents.pane.quantity} panes of this code", 60.0))
    y = named_boxes(page, day, 30.6) + 3.0
    y = lots_table(page, in_group(fields, FieldGroup.LOTS), y) + 2.4
    y = goods_table(page, in_group(fields, FieldGroup.GOODS_IN), y) + 2.4
    frit = in_group(fields, FieldGroup.FRIT)
    page.heading("WIDTH OF THE PRINT", y, beside="mm, fade included; places of the pane sheet, from outside")
    top = y + PLATE + 1.0
    foot = HEIGHT - FOOT - (PLATE + 10.2 + 3 * ROW)
    places_picture(page, ordered_detail(check.subject).curves.glass, frit, (LEFT, top, LEFT + 52.0, min(top + 46.0, foot)))
    places_table(page, [("width", "ordered", frit)], top, left=LEFT + 55.0, right=RIGHT)
    y = min(top + 47.5, foot + 1.5)
    climate_table(page, in_group(fields, FieldGroup.CLIMATE), check, y)
    _foot(page)
    return page


def _backfill(check: PaneCheck) -> str:
    """From which day on the joint may be closed, as card and label tell it."""
    assert check.time_plan is not None, "asked for with the fields"
    days = days_of(check, check.time_plan)
    if days.too_early:
        return "day of the backfill: as planned TOO EARLY, see record"
    date = days.dates[1]
    return (
        f"backfill, not before {date} (day {days.backfill})"
        if date
        else f"backfill, not before day {days.backfill} (bonded = day 0)"
    )


def _second_side(contents: Contents, check: PaneCheck, fields: Sequence[RecordField], page: FormPage) -> FormPage:
    _head(contents, page, 2)
    by_id = {field.id: field for field in fields}
    y = _clock(page, check, in_group(fields, FieldGroup.TIMES), 31.0) + 2.4
    gaps = in_group(fields, FieldGroup.GAPS)
    gap, flush = [each for each in gaps if each.id.startswith("gap")], [each for each in gaps if each.id.startswith("flush")]
    page.heading("GAP AND FLUSH", y, beside="mm, at the places of the card, from outside; flush: + proud, − sunk")
    top = y + PLATE + 1.0
    places_picture(page, check.subject.detail.curves.recess, gap, (LEFT, top, LEFT + 52.0, top + 38.0))
    end = places_table(page, [("gap", "drawn", gap), ("flush", "drawn", flush)], top, left=LEFT + 55.0, right=RIGHT)
    why = job_limit_words(gaps_of(check.fitting, check.subject.detail))
    if why:
        page.say(LEFT + 55.0, end + 3.1, why)
        end += 4.4
    y = max(top + 38.0, end) + 2.0
    page.heading("TEAR TEST", y, beside="a bead of the same pack on a primed offcut, torn off when it has cured")
    tear = [
        (by_id["tear_test.date"], "day", 40.0),
        (by_id["tear_test.result"], "cohesive, partly adhesive, adhesive, or not cured", 96.0),
        (by_id["tear_test.photo"], "photograph no.", 190.0 - 136.0 - 2 * GAP),
    ]
    y = named_boxes(page, tear, y + PLATE + 1.2, high=ROW) + 2.4
    page.heading("PHOTOGRAPHS", y, beside="numbers or names of files")
    wide = (190.0 - 5 * GAP) / 6
    photos = [(field, field.short, wide) for field in in_group(fields, FieldGroup.PHOTOS)]
    y = (
        named_boxes(page, [(field, PHOTO_WORDS.get(name, name), wide) for field, name, wide in photos], y + PLATE + 1.2, high=ROW)
        + 2.4
    )
    page.heading("NAMES", y, beside="who signs has read both sides")
    name = (190.0 - 3 * GAP) / 4
    people = [(by_id[each], told, name) for each, told in NAMES]
    y = named_boxes(page, people, y + PLATE + 1.2, high=ROW) + 1.6
    _signature(page, by_id["notes"], y, HEIGHT - FOOT - 1.5)
    _foot(page)
    return page


PHOTO_WORDS = {"bead before the lift": "bead before lift", "pane pressed home": "pressed home"}
NAMES = (
    ("name.bonded", "bonded by"),
    ("name.checked", "checked by"),
    ("signature.name", "signed by"),
    ("signature.date", "signed on"),
)


def _signature(page: FormPage, notes: RecordField, top: float, foot: float) -> None:
    """Notes, and room to sign: a signature on paper is kept with the paper."""
    left = RIGHT - 62.0
    page.say(LEFT, top + SMALL, "notes: straps at, repairs, what was otherwise than drawn")
    page.box(notes, LEFT, top + NAME, left - GAP, foot)
    page.say(left, top + SMALL, "signature, on paper")
    page.marks.append(field(left, down(foot), RIGHT, down(top + NAME), layer="FIELDS"))


def _foot(page: FormPage) -> None:
    """What can hurt those who fill it in, as on the detail sheet; and what the form is not."""
    for row, each in enumerate((NOT_APPROVED, *reversed(_even_lines(HAZARDS)))):
        page.say(LEFT, HEIGHT - 10.3 - 3.9 * row, each, FINE)


def _even_lines(string: str) -> tuple[str, ...]:
    """A text in as few lines as the page holds it in, none of them a word or two alone."""
    wide = RIGHT - LEFT
    lines = wrapped(string, wide, FINE)
    while len(narrower := wrapped(string, wide - 2.0, FINE)) == len(lines):
        lines, wide = narrower, wide - 2.0
    return lines


# The clock.


def _clock(page: FormPage, check: PaneCheck, fields: Sequence[RecordField], top: float) -> float:
    """Frame and both together on the left, glass and the limits of the intervals on the right."""
    wide = (RIGHT - LEFT - 4.0) / 2
    second = LEFT + wide + 4.0
    chains = {name: [each for each in fields if each.step.startswith(f"{name}_")] for name in ("frame", "glass", "both")}
    chains["both"] += [each for each in fields if each.step == "last_press"]
    y = _column(page, "FRAME", "time begun", chains["frame"], LEFT, top, wide)
    left_end = _column(page, "BOTH TOGETHER", "time begun", chains["both"], LEFT, y + 1.6, wide)
    y = _column(page, "GLASS", "time begun", chains["glass"], second, top, wide)
    _intervals(page, check, second, y + 2.0, wide)
    return left_end


def _column(page: FormPage, name: str, beside: str, fields: Sequence[RecordField], left: float, top: float, wide: float) -> float:
    page.heading(name, top, left=left, right=left + wide, beside=beside)
    y = top + PLATE + 0.6
    for each in fields:
        last = each.step == LAST_PRESS
        told = "LAST PRESS, done" if last else each.short
        page.say(left + 0.4, y + 4.4, told, fitted(told, wide - TICK - 2.0, (PLAIN, SMALL)), bold=last)
        page.box(each, left + wide - TICK, y, left + wide, y + STEP_ROW - 0.6)
        y += STEP_ROW
    return y


def _intervals(page: FormPage, check: PaneCheck, left: float, top: float, wide: float) -> None:
    """What is worked out from the times: flash-offs, longest waits, the abort in the climate of the plan."""
    work, plan = check.subject.pane.work, check.time_plan
    rows = [
        ("activator flashes off", f"least {number(work.frame_wipe_flash)} frame, {number(work.glass_wipe_flash)} glass min"),
        ("primer flashes off", f"least {number(work.frame_primer_flash)} frame, {number(work.glass_primer_flash)} glass min"),
        ("activated to primed", _longest(work.frame_wipe_longest, work.glass_wipe_longest)),
        ("primed to last press", _longest(work.frame_primer_longest, work.glass_primer_longest)),
    ]
    if plan is not None:
        rows.append(("bead to last press", f"most {whole_minutes(plan.limit, limit=True)} min in the air of the plan"))
    y = top
    for name, told in rows:
        y += 4.6
        page.say(left, y, name)
        page.say(left + wide, y, told, fitted(told, wide - width_of(name, SMALL) - 2.0, (SMALL, 2.5)), bold=True, align="right")


def _longest(frame: float | None, glass: float | None) -> str:
    told = [f"{number(value)} {name}" for name, value in (("frame", frame), ("glass", glass)) if value is not None]
    return f"most {', '.join(told)} min" if told else "the job gives no longest wait"


__all__ = ["BondingForm", "bonding_form"]
