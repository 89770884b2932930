"""Tables beside the marked-up view: a row that finds no room is counted, never lost without a word."""

from __future__ import annotations

from outputs.sheet.entities import Text
from outputs.sheets.marked_up_tables import ROW, Block, Cell, Room, Row, set_blocks


def words(rows: int, tall: float) -> list[str]:
    block = Block("Demo", tuple(Row((Cell(0.0, f"row {number}"),)) for number in range(1, rows + 1)))
    marks = set_blocks([block], [Room(1, 0.0, tall, 0.0)], 80.0)[1]
    return [mark.string for mark in marks if isinstance(mark, Text)]


def test_rows_without_room_are_counted_in_the_last_line():
    for tall in (4 * ROW, 6 * ROW, 9.5 * ROW, 40 * ROW):
        for rows in (1, 3, 8, 30):
            said = words(rows, tall)
            shown = sum(1 for each in said if each.startswith("row "))
            lost = [each for each in said if each.startswith("and ")]
            assert (lost == []) == (shown == rows)
            assert not lost or lost == [f"and {rows - shown} more: see the list of the command"]
