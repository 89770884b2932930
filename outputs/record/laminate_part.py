"""The laminate as one sheet of glass: a table of its effective thicknesses."""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.record.markup import Html, join, table, tag
from outputs.record.numbers import number

if TYPE_CHECKING:
    from geometry.workings.laminate import Laminate

TOLD = (
    "Information. Deflection, bead and glass stress of this record are worked out with the coupling in use; 0 is the safe end. Which coupling "
    "holds under the duration and temperature of a load is for the engineer."
)


def laminate_table(laminate: Laminate | None) -> Html:
    """Effective thicknesses by every coupling; nothing for a pane of one ply."""
    if laminate is None:
        return join()
    rows = [
        (
            each.method,
            number(100 * each.coupling),
            number(each.deflection),
            " / ".join(number(ply) for ply in each.stress),
            each.source,
        )
        for each in laminate.rows
    ]
    headings = ("coupling", "%", "for deflection, mm", "for stress, each ply from outside, mm", "source")
    said = f"{laminate.missing[:1].upper()}{laminate.missing[1:]}. " if laminate.missing else ""
    return join(
        table("Effective thickness of the laminate", headings, rows, numbers=(1, 2)),
        tag("p", f"{said}{TOLD}", class_="small"),
    )


__all__ = ["laminate_table"]
