"""What stands beside the views of a detail sheet: flags, parts, key of lines, corners, notes, revisions."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from geometry.detail.parts import BlockKind
from geometry.ledger.finding import Verdict
from outputs.drawing.balloons import ITEM_OF, item_of_chock
from outputs.drawing.flags import SMALL, triangle
from outputs.sheet.drafting import as_fine_as, number
from outputs.sheet.entities import Hatch, Mark, Text
from outputs.sheet.lettering import text_width
from outputs.sheet.pencil import Pencil
from outputs.sheet.runs import box_nodes, line
from outputs.sheet.tables import Column, fitted, ruled, wrapped
from outputs.sheets import words
from outputs.sheets.flag_words import STATE_OF, figures, place_of, short_name

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Detail
    from geometry.findings.state import Flag, State
    from outputs.sheet.drafting import DraftingStyle
    from outputs.sheets.detail_places import Places
    from outputs.sheets.recipe import Contents

MOST_FLAGS = 8
MOST_REVISIONS = 3
LINES = (
    ("DETAIL_WIDE", "glass edge"),
    ("DETAIL_WIDE", "frit, inner edge"),
    ("", "bead, edges"),
    ("DETAIL_CHAIN", "bead, centre"),
    ("DETAIL_PHANTOM", "landing, end"),
    ("DETAIL", "recess wall"),
)


def heading(words_: str, at: tuple[float, float], style: DraftingStyle, *, says: str = "", room: float = 1e9) -> list[Mark]:
    """A title with a few words behind it, where they have room."""
    x, y = at
    marks: list[Mark] = [Text("TEXT", x, y, words_, style.label)]
    start = x + text_width(words_, style.label) + 4.0
    if says and text_width(says, style.text) <= room - (start - x):
        marks.append(Text("TEXT", start, y, says, style.text))
    return marks


def line_key(places: Places) -> list[Mark]:
    """What each kind of line is: two rows of three."""
    style, times = places.style, places.times
    left, top = places.lines_title
    marks = heading("Lines", (left, top), style)
    pitch = (places.column[1] - left) / 3
    for index, (layer, name) in enumerate(LINES):
        x, y = left + pitch * (index % 3), top - (5.0 + 5.4 * (index // 3)) * times
        end, middle = x + 9.5 * times, y + style.text * 0.45
        if layer:
            marks.append(line(layer, (x, middle), (end, middle)))
        else:
            half = 1.25 * times
            marks.append(Hatch("BEAD_BAND", "band", (box_nodes(x, middle - half, end, middle + half),)))
            marks += [line("DETAIL_DASHED", (x, middle + side), (end, middle + side)) for side in (-half, half)]
        marks.append(Text("TEXT", end + 1.6 * times, y, name, style.text))
    return marks


def listed_flags(state: State) -> tuple[Flag, ...]:
    """The flags that have a row of their own."""
    return state.flags if len(state.flags) <= MOST_FLAGS else state.flags[:MOST_FLAGS]


def flags_table(state: State | None, places: Places) -> tuple[list[Mark], float]:
    """The flags with their state, figures and places, and one line for all the rest; and the height at which it ends."""
    style, times = places.style, places.times
    left, top = places.flags_title
    width = places.column[1] - left
    marks = heading("Flags", (left, top), style, says="what does not pass, by its number on the views", room=width)
    level = top - 2.2 * times
    if state is None:
        marks.append(Text("TEXT", left, level - 4.0 * times, "Not checked.", style.text))
        return marks, level - 5.0 * times
    shown = listed_flags(state)
    if shown:
        columns = (
            Column("no.", 9.2 * times),
            Column("state", 10.3 * times),
            Column("finding", width - 63.0 * times),
            Column("is / wants", 29.0 * times),
            Column("place", 14.5 * times),
        )
        rows = [
            (str(flag.number), STATE_OF[flag.finding.verdict], short_name(flag.finding), figures(flag.finding), place_of(flag))
            for flag in shown
        ]
        marks += ruled(columns, rows, left=left, top=level, style=style)
        pencil = Pencil(style, 1.0)
        for index, flag in enumerate(shown):
            middle = (left + 6.6 * times, level - style.table_row * (index + 1.5) - 0.25 * times)
            fails = flag.finding.verdict is Verdict.FAIL
            marks += triangle(flag.number, fails=fails, middle=middle, pencil=pencil, side=SMALL * times * 0.9)
        level -= style.table_row * (len(rows) + 1)
    rest = [f"and {len(state.flags) - len(shown)} more"] if len(state.flags) > len(shown) else []
    rest.append(f"not checked {state.not_checked}, passed {state.passed}")
    told = ", ".join(rest)
    marks.append(Text("TEXT", left, level - 4.0 * times, f"{told[:1].upper()}{told[1:]}: see the record.", style.text))
    return marks, level - 5.5 * times


def part_rows(detail: Detail) -> list[tuple[str, ...]]:
    """Item, quantity, part, size and material, ascending; blocks are counted in the detail."""
    sizes = detail.sizes
    counted = Counter(chock.kind for chock in detail.chocks)
    metres = f"{number(detail.perimeter * 1e-3, decimals=1)} m"
    fade = f", {number(sizes.frit_fade.value)} fade" if sizes.frit_fade.value > 0 else ""
    face = 2 * sum(ply.material == "glass" for ply in detail.glass.plies)
    start = f", starts at {number(sizes.frit_start.value)}" if sizes.frit_start.value > 0 else ""
    rows = {
        "frame": ("1", "frame", f"{words.frame_in_short(detail.frame)}, landing {as_fine_as(sizes.landing.value, None)}"),
        "backer": (metres, "backer", f"Ø{number(sizes.backer_diameter.value)} closed cell, or tape"),
        "spacer": (
            str(len(detail.spacers)),
            "spacer",
            f"{number(sizes.spacer_length.value)} × {number(sizes.spacer_width.value)} × {number(sizes.spacer_thickness.value)} free",
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
            heights = sorted({number(chock.height, decimals=1) for chock in own})
            depths = sorted({number(chock.depth, decimals=1) for chock in own})
            size = f"{number(sizes.chock_length.value)} × {' / '.join(depths)} × {' / '.join(heights)}"
            found.append((item_of_chock(detail, kind), str(counted[kind]), str(kind), size))
    return sorted(found, key=lambda row: int(row[0]))


def parts_table(detail: Detail, places: Places) -> tuple[list[Mark], float]:
    """The parts list, upwards from its foot; and the height at which it ends."""
    style, times = places.style, places.times
    left, right = places.column
    room = right - left - 47.8 * times
    rows = [
        (*head, size if text_width(size, style.text) <= room else size.rpartition(", ")[0]) for *head, size in part_rows(detail)
    ]
    top = places.parts_foot + style.table_row * (len(rows) + 1)
    columns = (
        Column("no.", 8.0 * times),
        Column("qty", 13.0 * times),
        Column("part", 26.0 * times),
        Column("size, material", right - left - 47.0 * times),
    )
    return ruled(columns, rows, left=left, top=top, style=style, upwards=True), top


def revision_rows(contents: Contents) -> list[tuple[str, ...]]:
    """The last revisions, the newest first."""
    rows: list[tuple[str, ...]] = [
        (each.letter, each.date.isoformat() if each.date else "", each.what) for each in reversed(contents.pane.revisions)
    ]
    return rows[:MOST_REVISIONS]


def revisions_table(contents: Contents, places: Places, foot: float) -> tuple[list[Mark], float]:
    """The revisions over the parts list; nothing where there are none."""
    rows = revision_rows(contents)
    if not rows:
        return [], foot
    style, times = places.style, places.times
    left, right = places.column
    columns = (Column("rev.", 8.0 * times), Column("date", 20.0 * times), Column("what changed", right - left - 28.0 * times))
    top = foot + 3.0 * times + style.table_row * (len(rows) + 1)
    return ruled(columns, [tuple(row) for row in rows], left=left, top=top, style=style), top


def corners_table(detail: Detail, places: Places, radii: Sequence[tuple[str, str]]) -> tuple[list[Mark], float]:
    """Sharp corners of the glass from the origin, their angles and the radii of glass and recess; the pane sheet has them first."""
    style, times = places.style, places.times
    left, top = places.under_second
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


def notes_marks(
    entries: Sequence[str], boxes: Sequence[tuple[float, float, float, float]], style: DraftingStyle
) -> list[Mark] | None:
    """Notes in a first box under their heading, what finds no room there in the next ones; None where none has room."""
    marks: list[Mark] = []
    left_over = list(entries)
    for number_, (left, bottom, right, top) in enumerate(boxes):
        y = top - style.label - 0.2
        if number_ == 0:
            marks += heading("Notes", (left, y), style)
            y -= style.label + 0.6
        elif left_over and top - bottom > 40.0:
            marks += heading("Notes, continued", (left, y), style)
            y -= style.label + 0.6
        else:
            y += style.label - style.text
        while left_over:
            lines = wrapped(left_over[0], right - left, style.text)
            if y - style.line_pitch * (len(lines) - 1) < bottom - 1e-6:
                break
            for each in lines:
                marks.append(Text("TEXT", left, y, fitted(each, right - left, style.text), style.text))
                y -= style.line_pitch
            left_over.pop(0)
        if not left_over:
            return marks
    return None


__all__ = [
    "MOST_FLAGS",
    "corners_table",
    "flags_table",
    "heading",
    "line_key",
    "listed_flags",
    "notes_marks",
    "part_rows",
    "parts_table",
    "revision_rows",
    "revisions_table",
]
