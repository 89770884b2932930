"""How the lists of a vessel are written: what a spreadsheet of another country or office expects. No figure depends on it."""

from __future__ import annotations

from typing import Annotated, Literal

from geometry.job.fields import Choice, Table, setting

DecimalSign = Annotated[Literal["point", "comma"], Choice()]


class Lists(Table):
    """How the lists are written."""

    decimal: DecimalSign = setting(
        "point", "decimal sign of the lists as CSV: point, with a comma between columns; or comma, with a semicolon"
    )


__all__ = ["DecimalSign", "Lists"]
