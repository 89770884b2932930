"""What a pane, or the vessel, takes to buy."""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.record.markup import Html, tag
from outputs.record.markup import table as table_of
from outputs.record.numbers import number

if TYPE_CHECKING:
    from geometry.workings.quantities import Quantities, Quantity


def quantities_table(quantities: Quantities | None, *, caption: str) -> Html:
    """The list with what to buy, or that there is none."""
    if quantities is None:
        return tag("p", "Not worked out in this run.")
    rows = ((_named(row), number(row.amount), row.unit, row.to_buy, row.basis) for row in quantities.rows)
    return table_of(caption, ("article", "amount", "unit", "to buy", "how it was worked out"), rows, numbers=(1,))


def _named(row: Quantity) -> str:
    sizes = " × ".join(number(size) for size in row.sizes)
    return f"{row.what} {sizes} mm" if sizes else row.what


__all__ = ["quantities_table"]
