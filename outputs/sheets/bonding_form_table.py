"""The bonding form as a table to type into from paper: box number, id, value, unit, limits and words, in the decimal sign of the job."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.recorded.record_fields import record_fields
from outputs.files.table_files import Column, TableFile, csv_bytes

if TYPE_CHECKING:
    from outputs.files.table_files import Cell
    from outputs.sheets.contents import Contents

COLUMNS = (
    Column("field"),
    Column("value"),
    Column("unit"),
    Column("least", decimals=2),
    Column("most", decimals=2),
    Column("box"),
    Column("words"),
)


def form_csv(contents: Contents) -> bytes:
    """The table; code, revision and mark of the paper stand first, filled in. Raises ``ValueError`` without the checks of the pane."""
    if contents.check is None:
        raise ValueError("a bonding form is made from the checks of its pane; none were made")
    pane = contents.pane
    rows: list[tuple[Cell, ...]] = [
        (name, value, "", None, None, None, words)
        for name, value, words in (
            ("code", pane.code, "pane"),
            ("revision", pane.revision, "revision of the paper"),
            ("mark", contents.mark, "mark of the job"),
        )
    ]
    for number, field in enumerate(record_fields(contents.check), start=1):
        words = f"{field.words} ({', '.join(field.choices)})" if field.choices else field.words
        rows.append((field.id, "", field.unit, field.least, field.most, number, words))
    return csv_bytes(TableFile("bonding form", COLUMNS, tuple(rows)), decimal=contents.job.lists.decimal)


__all__ = ["COLUMNS", "form_csv"]
