"""What stands beside the views of a detail sheet: flags, parts, key of lines, corners, notes, revisions."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.detail.parts import BlockKind
from geometry.findings.holding.chock_places import CURVED
from geometry.ledger.finding import Verdict
from geometry.workings.surveyed_recess import own_spacer_heights
from outputs.drawing.balloons import ITEM_OF, item_of_chock
from outputs.drawing.flags import SMALL, triangle
from outputs.record.moved import summary
from outputs.sheet.drafting import as_fine_as, number
from outputs.sheet.entities import Mark, Text
from outputs.sheet.lettering import text_width
from outputs.sheet.pencil import Pencil
from outputs.sheet.tables import Column, ruled, wrapped
from outputs.sheets import words
from outputs.sheets.flag_words import STATE_OF, figures, place_of, short_name

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Detail
    from geometry.findings.check import PaneCheck
    from geometry.findings.state import Flag, State
    from outputs.sheet.boxes import Box
    from outputs.sheet.drafting import DraftingStyle
    from outputs.sheets.contents import Contents
    from outputs.sheets.detail_places import Places

MOST_FLAGS = 8
MOST_OVER, MOST_OVER_FEW = 40.0, 46.0  # paper mm that stay free over notes beside the plan; where the column has the rest of them
LOWERED_MORE = 0.85  # under a table that is lowered itself
LOWERED_UNDER = 0.7  # of what is spare round notes under a flat plan
PARTED, PARTED_SMALL = 70.0, 26.0  # paper mm of an empty column that notes part; on A3
LOWERED, LOWERED_LESS, IN_COLUMN = 0.8, 0.7, 0.45  # on larger paper, of what is spare beside the plan and in the column
NOTES = "Notes and cautions"
NOTES_DOWN = 0.2  # paper mm from the top of their box to their title
TABLE_OVER = 2.12  # of their room, where nothing stands under the corners: so many parts to one over them
TABLE_DOWN = 0.21  # of the spare height beside a plan on larger paper, over the table of its corners
MOST_NAMED = 2  # blocks of own heights that are named in the parts list
MOST_REVISIONS, MOST_MOVED = 3, 4
REVISION_HEAD = 28.0  # paper mm, letter and date before what changed
HEAD_PITCH = 4.85  # paper mm from base line to base line of the cautions at the head
SUMMED = 48  # signs of a line of what moved


def heading(words_: str, at: tuple[float, float], style: DraftingStyle, *, says: str = "", room: float = 1e9) -> list[Mark]:
    """A title with a few words behind it, where they have room."""
    x, y = at
    marks: list[Mark] = [Text("TEXT", x, y, words_, style.label)]
    start = x + text_width(words_, style.label) + 4.0
    if says and text_width(says, style.text) <= room - (start - x):
        marks.append(Text("TEXT", start, y, says, style.text))
    return marks


def listed_flags(state: State, most: int = MOST_FLAGS) -> tuple[Flag, ...]:
    """The flags that have a row of their own: as many as have room, the gravest first."""
    return state.flags[:most]


def rows_for_flags(contents: Contents, places: Places, notes: float) -> int:
    """How many flags have room over parts, revisions and ``notes`` (paper mm)."""
    style, times = places.style, places.times
    revisions = len(revision_rows(contents, places))
    over = places.parts_foot + style.table_row * (len(part_rows(contents.detail)) + 1)
    over += (3.0 * times + style.table_row * (revisions + 1)) if revisions else 0.0
    room = places.flags_title[1] - 2.2 * times - 5.5 * times - over - notes
    return max(1, min(MOST_FLAGS, math.floor(room / style.table_row + 1e-6) - 1))


def flags_table(state: State | None, places: Places, most: int = MOST_FLAGS) -> tuple[list[Mark], float]:
    """The flags with their state, figures and places, and one line for all the rest; and the height at which it ends."""
    style, times = places.style, places.times
    left, top = places.flags_title
    width = places.column[1] - left
    marks = heading("Flags", (left, top), style, says="what does not pass, by its number on the views", room=width)
    level = top - 2.2 * times
    if state is None:
        marks.append(Text("TEXT", left, level - 4.0 * times, "Not checked.", style.text))
        return marks, level - 5.0 * times
    shown = listed_flags(state, most)
    if shown:
        spare = width - 103.0 * times
        columns = (
            Column("no.", 8.4 * times),
            Column("state", 9.0 * times),
            Column("finding", 35.5 * times + 0.4 * spare),
            Column("is", 17.2 * times + 0.2 * spare),
            Column("wants", 12.0 * times + 0.2 * spare),
            Column("unit", 7.0 * times + 0.2 * spare),
            Column("place", 13.9 * times),
        )
        rows = [
            (str(flag.number), STATE_OF[flag.finding.verdict], short_name(flag.finding), *figures(flag.finding), place_of(flag))
            for flag in shown
        ]
        marks += ruled(columns, rows, left=left, top=level, style=style)
        pencil = Pencil(style, 1.0)
        for index, flag in enumerate(shown):
            middle = (left + 6.2 * times, level - style.table_row * (index + 1.5) - 0.25 * times)
            fails = flag.finding.verdict is Verdict.FAIL
            marks += triangle(flag.number, fails=fails, middle=middle, pencil=pencil, side=SMALL * times * 0.9)
        level -= style.table_row * (len(rows) + 1)
    rest = [f"and {len(state.flags) - len(shown)} more"] if len(state.flags) > len(shown) else []
    rest.append(f"not checked {state.not_checked}, passed {state.passed}")
    told = ", ".join(rest)
    marks.append(Text("TEXT", left, level - 4.0 * times, f"{told[:1].upper()}{told[1:]}: see the record.", style.text))
    return marks, level - 5.5 * times


def part_rows(detail: Detail, check: PaneCheck | None = None) -> list[tuple[str, ...]]:
    """Item, quantity, part, size and material, ascending; blocks are counted in the detail.

    With its ``check``, straight blocks on a curved edge tell by how much the curve rises over them and what it leaves of the joint.
    """
    sizes = detail.sizes
    curved = next((each for each in check.findings if each.name == CURVED.name), None) if check is not None else None
    counted = Counter(chock.kind for chock in detail.chocks)
    metres = f"{number(detail.perimeter * 1e-3, decimals=1)} m"
    fade = f", {number(sizes.frit_fade.value)} fade" if sizes.frit_fade.value > 0 else ""
    face = 2 * sum(1 for ply in detail.glass.plies if ply.material == "glass")
    start = f", starts at {number(sizes.frit_start.value)}" if sizes.frit_start.value > 0 else ""
    rows = {
        "frame": ("1", "frame", f"{words.frame_in_short(detail.frame)}, landing {as_fine_as(sizes.landing.value, None)}"),
        "backer": (metres, "backer", f"Ø{number(sizes.backer_diameter.value)} closed cell, or tape")
        if sizes.backer_fits
        else ("0", "backer", "none fits: ask before backfill"),
        "spacer": (
            str(len(detail.spacers)),
            "spacer",
            f"{number(sizes.spacer_length.value)} × {number(sizes.spacer_width.value)} × {_spacer_height(detail, check)}",
        ),
        "adhesive": (
            f"{number(detail.uncured_bead.length * 1e-3, decimals=1)} m",
            "bead",
            f"{number(sizes.bond_width.value)} × {number(sizes.bond_thickness.value)}, {number(detail.uncured_bead.volume, decimals=0)} ml net",
        ),
        "frit": ("1", "frit", f"{number(sizes.frit_width.value - sizes.frit_fade.value)} solid{fade} on face {face}{start}"),
        "glass": ("1", "glass", f"{detail.glass.make_up()} {detail.glass.treatment}, {number(detail.glass.mass, decimals=1)} kg"),
        "sealant": (
            metres,
            "backfill",
            f"{as_fine_as(sizes.joint_width.value, None)} × {number(sizes.backfill_depth.value)} sealant",
        ),
    }
    found = [(ITEM_OF[name], *row) for name, row in rows.items()]
    for kind in BlockKind:
        if counted[kind]:
            own = [chock for chock in detail.chocks if chock.kind == kind]
            heights = [number(chock.height, decimals=1) for chock in own]
            if len(set(heights)) > 1 and len(own) <= MOST_NAMED:  # which is which
                heights = [f"{height} ({chock.mark})" for chock, height in zip(own, heights, strict=True)]
            heights = list(dict.fromkeys(heights))
            depths = sorted({number(chock.depth, decimals=1) for chock in own})
            size = f"{number(sizes.chock_length.value)} × {' / '.join(depths)} × {' / '.join(heights)}"
            on = next((chock for chock in own if curved is not None and chock.mark == curved.part), None)
            if on is not None and curved is not None and curved.value is not None:
                left = number(max(curved.value, 0.0), decimals=1)
                size += f", sagitta {number(on.height - curved.value, decimals=1)} leaves {left}"
            found.append((item_of_chock(detail, kind), str(counted[kind]), str(kind), size))
    return sorted(found, key=lambda row: int(row[0]))


def _spacer_height(detail: Detail, check: PaneCheck | None) -> str:
    """The free height of the spacers; where each has its own, from the least to the greatest."""
    own = own_spacer_heights(check.subject) if check is not None else {}
    if not own:
        return f"{number(detail.sizes.spacer_thickness.value)} free"
    low, high = (number(found, decimals=1) for found in (min(own.values()), max(own.values())))
    return f"{low} to {high} free, each its own"


def parts_table(detail: Detail, places: Places, check: PaneCheck | None = None) -> tuple[list[Mark], float]:
    """The parts list, upwards from its foot; and the height at which it ends."""
    style, times = places.style, places.times
    left, right = places.column
    room = right - left - 47.8 * times
    rows = [
        (*head, size if text_width(size, style.text) <= room else size.rpartition(", ")[0])
        for *head, size in part_rows(detail, check)
    ]
    top = places.parts_foot + style.table_row * (len(rows) + 1)
    columns = (
        Column("no.", 8.0 * times),
        Column("qty", 13.0 * times),
        Column("part", 26.0 * times),
        Column("size, material", right - left - 47.0 * times),
    )
    return ruled(columns, rows, left=left, top=top, style=style, upwards=True), top


def revision_rows(contents: Contents, places: Places) -> list[tuple[str, ...]]:
    """The last revisions, the newest first; where it is known what moved since an older state, that stands first."""
    style = places.style
    room = places.column[1] - places.column[0] - REVISION_HEAD * places.times - 3.0
    typed = {each.letter: (each.date.isoformat() if each.date else "", each.what) for each in contents.pane.revisions}
    rows: list[tuple[str, ...]] = []
    letter = contents.detail.revision
    if contents.moved is not None:
        date, what = typed.pop(letter, ("", ""))
        lines = [part for told in (what, *summary(contents.moved, SUMMED)) for part in wrapped(told, room, style.text)]
        if len(lines) > MOST_MOVED:
            count = len(contents.moved)
            lines = [*lines[: MOST_MOVED - 1], f"and more, {count} changes in all: see the list"]
        rows += [(letter if not index else "", date if not index else "", told) for index, told in enumerate(lines)]
    for each, (date, what) in reversed(typed.items()):
        if len(rows) < MOST_MOVED or contents.moved is None:
            rows.append((each, date, what))
    return rows[: MOST_REVISIONS if contents.moved is None else MOST_MOVED]


def revisions_table(contents: Contents, places: Places, foot: float) -> tuple[list[Mark], float]:
    """The revisions over the parts list; nothing where there are none."""
    rows = revision_rows(contents, places)
    if not rows:
        return [], foot
    style, times = places.style, places.times
    left, right = places.column
    columns = (
        Column("rev.", 8.0 * times),
        Column("date", 20.0 * times),
        Column("what changed", right - left - REVISION_HEAD * times),
    )
    top = foot + 3.0 * times + style.table_row * (len(rows) + 1)
    return ruled(columns, [tuple(row) for row in rows], left=left, top=top, style=style), top


def corners_table(
    detail: Detail, places: Places, radii: Sequence[tuple[str, str]], *, lower: bool = False, spare: float = 0.0
) -> tuple[list[Mark], float]:
    """Sharp corners of the glass from the origin, their angles and the radii of glass and recess; the pane sheet has them first.

    ``lower``: a little over the middle of their room, where no notes stand under them; else as much lower as parts the ``spare`` height over those.
    """
    style, times = places.style, places.times
    left, top = places.under_second
    high = style.label + 2.5 * times + style.table_row * (len(radii) + 1)
    if lower:
        top -= max(0.0, (top - places.notes[1] - high) / TABLE_OVER)
    elif places.roomy:
        top -= TABLE_DOWN * max(0.0, spare - high)
    columns = (
        Column("", 8.0 * times),
        Column("X", 18.0 * times, "right"),
        Column("Y", 18.0 * times, "right"),
        Column("angle", 15.0 * times, "right"),
        Column("glass", 11.0 * times, "right"),
        Column("recess", 13.0 * times, "right"),
    )
    rows = [
        (
            f"V{corner.number}",
            f"({_signed(corner.theoretical.x)})",
            f"({_signed(corner.theoretical.y)})",
            f"({number(corner.interior_angle, decimals=1)}°)",
            *radius,
        )
        for corner, radius in zip(detail.corners, radii, strict=True)
    ]
    marks = heading("Corners, sharp, from O", (left, top), style)
    marks += ruled(columns, rows, left=left, top=top - 2.5 * times, style=style)
    return marks, top - 2.5 * times - style.table_row * (len(rows) + 1)


def _signed(value: float) -> str:
    return as_fine_as(value, 1.0)


@dataclass(frozen=True, slots=True)
class NotesPart:
    """How notes and cautions part: lines of the first box, and the lines that follow between flags and parts."""

    box: Box
    first: tuple[str, ...]
    following: tuple[str, ...]

    def height(self, style: DraftingStyle) -> float:
        """What the lines that follow need, paper mm."""
        heading_ = 0.0 if self.first else style.label + 2.0
        return heading_ + style.line_pitch * len(self.following) + 1.5 if self.following else 0.0


def parted_notes(cautions: Sequence[str], notes: Sequence[str], places: Places, box: Box, *, apart: bool = False) -> NotesPart:
    """Cautions first, each beginning a line; what the first ``box`` does not hold runs on in one piece as wide as the column.

    With ``apart`` the box is for the cautions alone: where the column is empty.
    """
    style = places.style
    left, bottom, right, top = box
    most = math.floor((top - 2 * style.label - 0.8 - bottom) / style.line_pitch + 1e-6) + 1
    first: list[str] = []
    left_over = [*cautions, *notes]
    if places.roomy and box == places.notes:  # there the column has room for all
        return NotesPart(
            box,
            (),
            tuple(line_ for each in left_over for line_ in wrapped(each, places.column[1] - places.column[0], style.text)),
        )
    while left_over and not (apart and left_over[0] in notes):
        lines = wrapped(left_over[0], right - left, style.text)
        if len(first) + len(lines) > most:
            break
        first += lines
        left_over.pop(0)
    following = wrapped(" ".join(left_over), places.column[1] - places.column[0], style.text)
    return NotesPart(box, tuple(first), tuple(following))


def notes_marks(
    parted: NotesPart, told: Sequence[str], more: Sequence[str], places: Places, under: tuple[float, float], *, tabled: bool
) -> tuple[list[Mark], list[Mark], tuple[str, ...], bool]:
    """Notes and cautions, and between flags and parts (``under``: lower and upper end) what else must be ``told``, and what ``more`` has
    room, what of that has none; and whether all that must stand had room. ``tabled``: a table of corners stands over the box of the first.
    """
    style = places.style
    left, right = places.column
    lines = [*parted.following, *(part for each in told for part in wrapped(each, right - left, style.text))]
    y = under[1] - style.text - 1.0
    if not parted.first:
        y -= style.label + style.line_pitch + 0.6
    all_stand = not lines or y - style.line_pitch * (len(lines) - 1) >= under[0] - 1e-6
    lost = []
    for each in more:
        longer = [*lines, *wrapped(each, right - left, style.text)]
        if y - style.line_pitch * (len(longer) - 1) >= under[0]:
            lines = longer
        else:
            lost.append(each)
    spare = y - style.line_pitch * (len(lines) + 2) - under[0]
    empty = bool(parted.first and lines) and spare > (PARTED * places.times if places.roomy else PARTED_SMALL)
    boxed: list[Mark] = (
        _boxed(parted, places, lowered=LOWERED_MORE if tabled else LOWERED_LESS if empty else LOWERED) if parted.first else []
    )
    marks: list[Mark] = []
    if empty:  # in the middle of the column
        y -= IN_COLUMN * spare
        marks += heading("Notes", (left, y), style)
        y -= style.label + style.line_pitch + 0.6 - style.text
    elif not parted.first:
        marks += heading(NOTES, (left, under[1] - style.text - 1.0 - style.label), style)
    for index, each in enumerate(lines):
        marks.append(Text("TEXT", left, y - style.line_pitch * index, each, style.text))
    return boxed, marks, tuple(lost), all_stand


def notes_title(places: Places) -> tuple[float, float, float]:
    """Left, right and top of the title of the notes where they stand in their own box, paper mm."""
    left, _, _, top = places.notes
    return left, left + text_width(NOTES, places.style.label), top - NOTES_DOWN


def _boxed(parted: NotesPart, places: Places, *, lowered: float) -> list[Mark]:
    """The lines of the first box; beside the plan or under it low in their box, near to where they stand else."""
    style = places.style
    left, foot, _, top = parted.box
    if foot > places.strip:
        spare = top - foot - 2 * style.label - 0.8 - style.line_pitch * (len(parted.first) - 1)
        beside = left > places.plan_title[0]
        over = MOST_OVER_FEW if parted.following else MOST_OVER
        top -= max(0.0, lowered * spare if places.roomy else min(over, spare) if beside else LOWERED_UNDER * spare)
    y = top - style.label - NOTES_DOWN
    marks: list[Mark] = heading(NOTES, (left, y), style)
    y -= style.label + 0.6
    for index, each in enumerate(parted.first):
        marks.append(Text("TEXT", left, y - style.line_pitch * index, each, style.text))
    return marks


def hazard_marks(places: Places, home: tuple[float, float], scale: float) -> list[Mark]:
    """The cautions at the head of the sheet, as marks of the plan under them; they stand there whatever the pane."""
    style = places.style
    left, _, right, top = places.hazards
    x = (left - home[0]) / scale
    lines = wrapped(words.HAZARDS, right - left, style.text)
    return [
        Text("TEXT", x, (top - style.text - HEAD_PITCH * places.times * index - home[1]) / scale, each, style.text)
        for index, each in enumerate(lines)
    ]


__all__ = [
    "MOST_FLAGS",
    "NotesPart",
    "corners_table",
    "flags_table",
    "hazard_marks",
    "heading",
    "listed_flags",
    "notes_marks",
    "notes_title",
    "part_rows",
    "parted_notes",
    "parts_table",
    "revision_rows",
    "revisions_table",
    "rows_for_flags",
]
