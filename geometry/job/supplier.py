"""What the glass supplier is asked for, beside the glass and the print themselves: kinds of files, edge work, stamp.

What is left blank is asked on the pane sheet: nothing is invented.
"""

from __future__ import annotations

from typing import Annotated, Literal

from geometry.job import fields as f  # noqa: TC001 - pydantic reads the annotations
from geometry.job.fields import Choice, Measure, Table, setting

CutVersion = Annotated[Literal["R12", "R2010"], Choice()]
Bleed = Annotated[float, Measure("length", "mm", at_least=0, at_most=10)]
DotPitch = Annotated[float, Measure("length", "mm", at_least=0.5, at_most=20)]


class Supplier(Table):
    """What the supplier of the glass gets and is asked."""

    cut_dxf: CutVersion = setting("R12", "kind of DXF to cut the glass from: R12 or R2010")
    print_bleed: Bleed = setting(
        2.0, "print beyond the glass edge on the film, where the frit starts at the edge (common practice, no source)"
    )
    dot_pitch: DotPitch = setting(
        2.0, "pitch of the dots of the fade, along its rows and across them (common practice, no source)"
    )
    standard: f.Text = setting("", "standards that the glass is made to; left blank: by the kind of glass")
    edge_work: f.Text = setting("", "how the edge is worked; left blank: asked on the pane sheet")
    stamp: f.Text = setting("", "where the permanent mark stands; left blank: asked on the pane sheet")


__all__ = ["Supplier"]
