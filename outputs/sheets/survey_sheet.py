"""The survey sheet of one pane: A4, the stations at which its recess is measured, seen from outside and, on pages of their own, from inside.

Each station has one coordinate that is set out and boxes for what is read: wall, depth of the recess, width of the landing, with the pane's own
limits beside them. What is read is typed into the blank table beside it, station by station, which the reader of surveys takes as it is.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from geometry.findings.fit.survey_limits import survey_limits
from geometry.outline import bounding_box, corners, over_the_arcs
from geometry.workings.survey_stations import DATUM, corner_radii, survey_plan
from outputs.drawing import card_hand as hand
from outputs.drawing.card_hand import HEIGHT, LEFT, PLAIN, RIGHT, SMALL, down, width_of
from outputs.drawing.form_head import HEAD_FOOT, blank, form_head
from outputs.drawing.form_page import HEADING, FormPage
from outputs.drawing.survey_view import survey_marks
from outputs.sheet.drafting import number
from outputs.sheet.tables import wrapped
from outputs.sheets.hand_sheet import hand_sheet
from outputs.sheets.letters import SURVEY
from outputs.sheets.title import identification

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.findings.fit.survey_limits import SurveyLimits
    from geometry.workings.survey_stations import SurveyPlace, SurveyPlan
    from outputs.sheet.entities import Sheet
    from outputs.sheets.contents import Contents

SIDES = (("outside", False), ("inside", True))
ROW, MOST_ROW, HEAD_ROWS, FOOT = 6.3, 8.6, 10.2, 279.5  # paper mm of the table, and down to where it ends
WIDE, GAP = 93.5, 3.0
SET_OUT, READ, BOX, DEPTH, LANDING = 7.5, 20.6, 49.6, 65.0, 80.2  # from the left of a table to its columns
PICTURE = (LEFT, 43.0, 128.0, 134.0)  # left, top, right, foot, down from the head
TOP, TOP_MORE = 161.0, 46.0  # of the table, on the first page and on those that go on
CAUTION = (
    "Edges of frames cut: gloves, glasses. No glass stands in the recess while it is measured. From a ladder or over water: secured.",
    "Limits are this pane's own; a reading outside them is told by the checks. An aid, not an approval.",
)


def survey_sheets(contents: Contents) -> tuple[Sheet, ...]:
    """Every page. Raises ``ValueError`` where the pane was not checked: its limits come from the checks."""
    if contents.check is None:
        raise ValueError("a survey sheet is drawn from the checks of its pane; none were made")
    subject = contents.check.subject
    limits = survey_limits(subject)
    pages: list[FormPage] = []
    for side, inside in SIDES:
        plan = survey_plan(subject, inside=inside)
        first, rest = _split(plan.places)
        count = 1 + len(rest)
        pages.append(_first_page(contents, plan, limits, side, first, count))
        pages += [_more(contents, limits, side, rows, (number_, count)) for number_, rows in enumerate(rest, start=2)]
    return tuple(_sheet(contents, page, count, len(pages)) for count, page in enumerate(pages, start=1))


def _split(places: Sequence[SurveyPlace]) -> tuple[Sequence[SurveyPlace], list[Sequence[SurveyPlace]]]:
    """The stations on the first page, and those on each that goes on: on as few pages as hold them, spread evenly.

    The first page, with the picture, holds fewer: where it is full all others share the rest. Rows of two stations differ by one at most.
    """
    here, there = (int((FOOT - top - HEADING - HEAD_ROWS) // ROW) for top in (TOP, TOP_MORE))
    rows = math.ceil(len(places) / 2)
    more = math.ceil(max(0, rows - here) / there)
    first = min(here, math.ceil(rows / (1 + more)))
    ends = [first + math.ceil((rows - first) * count / more) if more else first for count in range(more + 1)]
    return places[: 2 * first], [places[2 * start : 2 * end] for start, end in pairwise(ends)]


def _sheet(contents: Contents, page: FormPage, count: int, of: int) -> Sheet:
    told = "stations of the recess to be measured, with the limits of this pane."
    says = f"Survey sheet of pane {contents.detail.code}, page {count} of {of}: {told}"
    return hand_sheet(contents, f"survey sheet, page {count} of {of}", says, page.marks)


def _head(contents: Contents, side: str, count: int, of: int) -> FormPage:
    page, pane = FormPage({}), contents.pane
    title = "SURVEY SHEET" + (f" {count} of {of}" if of > 1 else "")
    form_head(
        page,
        pane,
        title=title,
        identity=identification(contents, SURVEY),
        vessel=contents.job.vessel.name,
        mark=contents.mark,
        state=contents.state,
    )
    page.marks.append(hand.plate(LEFT, down(HEAD_FOOT + 11.4), RIGHT, down(HEAD_FOOT + 1.6)))
    told = f"seen from {side.upper()}"
    page.marks.append(hand.words(LEFT + 3.0, down(HEAD_FOOT + 10.0), told, 7.0, bold=True, white=True))
    stand = (
        "stand before the opening and look at it" if side == "outside" else "stand within and look out; numbers as from outside"
    )
    page.marks.append(hand.words(RIGHT - 3.0, down(HEAD_FOOT + 8.2), stand, PLAIN, align="right", white=True))
    return page


def _first_page(
    contents: Contents, plan: SurveyPlan, limits: SurveyLimits, side: str, places: Sequence[SurveyPlace], of: int
) -> FormPage:
    page = _head(contents, side, 1, of)
    left, top, right, foot = PICTURE
    page.marks += survey_marks(plan, (left, down(foot), right, down(top)), _names(plan))
    _how(page, contents, plan, side, (right + 4.0, top))
    _boxes(page, plan, limits, foot + 2.0)
    _table(page, limits, places, TOP)
    _foot(page)
    return page


def _more(
    contents: Contents, limits: SurveyLimits, side: str, places: Sequence[SurveyPlace], page_of: tuple[int, int]
) -> FormPage:
    page = _head(contents, side, *page_of)
    _table(page, limits, places, TOP_MORE)
    _foot(page)
    return page


def _names(plan: SurveyPlan) -> tuple[str, ...]:
    return tuple(f"V{corner.number}" for corner in corners(plan.recess))


def _how(page: FormPage, contents: Contents, plan: SurveyPlan, side: str, at: tuple[float, float]) -> None:
    """How the datum lines are laid and what is measured from them."""
    up, aside = "along the first edge" if contents.detail.deck_light else "level", number(DATUM)
    across = "V1 to V3: over the arcs. " if len(corners(plan.recess)) == 4 else ""
    ends = "corner to corner" if corners(plan.recess) else "side to side"
    lines = (
        f"1. Stretch datum line X {up}, {aside} under the lowest place of the recess, and Y square to it, {aside} left of its left end: O.",
        "2. Square? The places 600 along X and 800 up Y are 1000 apart.",
        "3. At each station set out the figure printed, read the other: from its datum line to the recess wall at the skin, to 0,5.",
        "4. Depth: under a straight-edge on the skin to the landing. Landing: wall to end.",
        f"5. {across}Flat: the most that a string from {ends} stands off the landing.",
        "6. Not measured: strike the row out. A blank is not a nought.",
        f"7. Type the rows into {contents.pane.file_stem}{table_ending(inside=plan.inside)}, in any order.",
    )
    left, top = at
    y = top + PLAIN
    page.say(left, y, "HOW TO MEASURE, mm", PLAIN, bold=True)
    y += 2.0
    for each in lines:
        for part in wrapped(each, RIGHT - left, SMALL):
            y += 4.0
            page.say(left, y, part)
        y += 0.8


def _boxes(page: FormPage, plan: SurveyPlan, limits: SurveyLimits, top: float) -> None:
    """Diagonals, radii of the corners, out of plane; who, when, with what."""
    sharp, tall = corners(plan.recess), 9.8
    cells: list[tuple[str, str]] = []
    if len(sharp) == 4:
        cells += [
            (f"V{a.number} to V{b.number}", number(over_the_arcs(a.rounding, b.rounding), decimals=0))
            for a, b in (sharp[::2], sharp[1::2])
        ]
    else:
        box = bounding_box(plan.recess)
        cells += [("width", number(box.width, decimals=0)), ("height", number(box.height, decimals=0))]
    cells += [(f"R V{corner.number}", f"{number(corner.radius, decimals=1)}") for corner in sharp[:6]]
    cells.append(("flat", f"≤ {_down(limits.flat)}"))
    y = top
    step = (RIGHT - LEFT + 2.0) / len(cells)
    for index, (name, beside) in enumerate(cells):
        blank(page, name, LEFT + step * index, y, LEFT + step * (index + 1) - 2.0, y + tall, beside)
    y += tall + 1.6
    people = ("measured by", "day, year-month-day", "instrument", "checked by")
    step = (RIGHT - LEFT + 2.0) / len(people)
    for index, name in enumerate(people):
        blank(page, name, LEFT + step * index, y, LEFT + step * (index + 1) - 2.0, y + tall)


def _table(page: FormPage, limits: SurveyLimits, places: Sequence[SurveyPlace], top: float) -> None:
    joint = f"{number(limits.joint_least)} to {number(limits.joint_most)}"
    page.heading("STATIONS", top, beside=f"mm; wall: there the joint is {joint} round the glass as ordered")
    half = math.ceil(len(places) / 2)
    high = min(MOST_ROW, (FOOT - top - HEADING - HEAD_ROWS) / max(half, 1))
    for column, rows in enumerate((places[:half], places[half:])):
        left, y = LEFT + column * (WIDE + GAP), top + HEADING
        if not rows:
            continue
        _table_head(page, limits, left, y)
        y += HEAD_ROWS
        for place in rows:
            _row(page, place, left, y, high)
            y += high


def _table_head(page: FormPage, limits: SurveyLimits, left: float, top: float) -> None:
    for x, name in ((0.0, "no."), (SET_OUT, "set out"), (READ, "wall"), (BOX, "read"), (DEPTH, "depth"), (LANDING, "landing")):
        page.say(left + x + 0.2, top + 4.2, name, bold=True)
    page.say(left + DEPTH + 0.2, top + 8.6, f"{_up(limits.depth_least)} to {_down(limits.depth_most)}", 2.5)
    page.say(left + WIDE - 0.6, top + 8.6, f"≥ {_up(limits.landing)}", 2.5, align="right")


def _row(page: FormPage, place: SurveyPlace, left: float, top: float, high: float) -> None:
    other = "Y" if place.reads == "x" else "X"
    base = top + (high + SMALL) / 2 - 0.1
    page.say(left, base, str(place.number), PLAIN, bold=True)
    page.say(left + SET_OUT, base, f"{other} {number(place.set_out, decimals=0)}")
    read = place.reads.upper()
    if place.least is not None and place.most is not None:
        told = f"{read} {_up(place.least)} to {_down(place.most)}"
        height = next((each for each in (SMALL, 2.5) if width_of(told, each) <= BOX - READ - 0.8), 2.5)
        page.say(left + READ, base, told, height)
    else:
        page.say(left + READ, base, f"{read}, drawn {number(place.wanted, decimals=0)}")
    for first, last in ((BOX, DEPTH), (DEPTH, LANDING), (LANDING, WIDE)):
        page.marks.append(hand.field(left + first, down(top + high - 0.5), left + last - 0.6, down(top + 0.4)))


def _up(value: float) -> str:
    """A least reading, up to the next tenth."""
    return number(math.ceil(value * 10.0 - 1e-5) / 10.0, decimals=1)


def _down(value: float) -> str:
    """A greatest reading, down to the next tenth."""
    return number(math.floor(value * 10.0 + 1e-5) / 10.0, decimals=1)


def _foot(page: FormPage) -> None:
    for at, each in enumerate(CAUTION):
        page.say(LEFT, HEIGHT - 14.2 + 3.9 * at, each, 2.5)


def table_ending(*, inside: bool) -> str:
    """The end of the name of the blank table of a side."""
    return f"-survey{'-inside' if inside else ''}.csv"


def survey_csv(contents: Contents, *, inside: bool) -> bytes:
    """The blank table to type into: a row for each station, what is set out there already, the rest left blank. UTF-8."""
    assert contents.check is not None, "drawn from the checks"
    plan, pane = survey_plan(contents.check.subject, inside=inside), contents.pane
    side = "inside" if inside else "outside"
    name = f"{pane.file_stem}{table_ending(inside=inside)}"
    radii = [f"{round(radius, 1):g}" for radius in corner_radii(plan.recess)]
    each_its_own = f"[{','.join(radii)}]"
    radius = f", radius = {radii[0] if len(set(radii)) == 1 else each_its_own}" if radii else ""
    lines = [
        f"# recess of pane {pane.code}{f', revision {pane.revision}' if pane.revision else ''}, mark {contents.mark}: the survey sheet",
        f"# seen from: {side}",
        "# units: mm",
        "# measured by: , day: , instrument: ",
        f'# in the job: outline = {{ survey = "{name}", of = "recess"{radius} }}  (radii as drawn: type those that were read)',
        "# a station that was not measured: take its row out",
        "station;edge;x;y;depth;landing",
    ]
    for each in plan.places:
        told = str(round(each.set_out))
        x, y = (told, "") if each.reads == "y" else ("", told)
        lines.append(f"{each.number};{each.edge};{x};{y};;")
    return ("\r\n".join(lines) + "\r\n").encode("utf-8")


__all__ = ["SIDES", "survey_csv", "survey_sheets", "table_ending"]
