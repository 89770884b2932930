"""Where blocks stand and where the bead starts, where the job does not place them: every distance may be set in the job file.

Terms
-----
corner
    Here the place where a corner's rounding begins.
oval
    A pane without straight edges that is wider than high by at least ``oval_from``.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import model_validator

from geometry.job import fields as f
from geometry.job.fields import Table, setting
from geometry.job.refusal import refuse

Turn = Annotated[float, f.Measure("angle", "deg", above=0, at_most=80)]
Slope = Annotated[float, f.Measure("angle", "deg", at_least=0, at_most=60)]
Wider = Annotated[float, f.Measure("number", "", at_least=1, at_most=20)]
HalfOfSill = Annotated[float, f.Measure("share", "%", above=0, at_most=50)]


class SettingOut(Table):
    """Distances by which spacers, chocks and the start of the bead are set out (common practice, no source)."""

    spacer_by_chock: f.SizeOrZero = setting(100.0, "a spacer stands within this of every setting chock, along the edge")
    spacer_edge_room: f.SizeOrZero = setting(
        10.0, "straight beyond the spacer's length that an edge too short for two spacers needs to take one"
    )
    round_three_spacers: f.Size = setting(250.0, "least size of a round or oval pane up to which three spacers do")
    round_four_spacers: f.Size = setting(500.0, "least size of a round or oval pane up to which four spacers do")
    round_pitch: f.Pitch = setting(400.0, "greatest distance of spacers round a larger one; never over the pitch of the spacers")
    chocks_on_sill: HalfOfSill = setting(25.0, "each chock from the foot of the centroid, as a share of the sill")
    chock_end_room: f.SizeOrZero = setting(5.0, "chock end from the corner on a sill too short for the limits of chocks")
    chocks_on_round: Turn = setting(30.0, "each chock of a round pane from straight down")
    chocks_on_oval: Turn = setting(20.0, "each chock of an oval pane from straight down")
    oval_from: Wider = setting(1.25, "width for 1 of height from which a round outline counts as oval")
    side_block_slope: Slope = setting(1.0, "slope of the sill from which a side block stands at its low end")
    side_block_up: f.SizeOrZero = setting(150.0, "side block from the low corner, at most a third up the jamb")
    start_from_corner: f.SizeOrZero = setting(50.0, "start of the bead from the corners of the head, at least")
    start_from_block: f.SizeOrZero = setting(20.0, "start of the bead from spacers and chocks, beyond half a spacer's length")

    @model_validator(mode="after")
    def _in_order(self) -> SettingOut:
        if self.round_three_spacers > self.round_four_spacers:
            three, four = self.round_three_spacers, self.round_four_spacers
            key = "round_three_spacers" if "round_three_spacers" in self.model_fields_set else "round_four_spacers"
            raise refuse(
                f"round_three_spacers {three:g} is more than round_four_spacers {four:g}", "at most round_four_spacers", key=key
            )
        return self


__all__ = ["SettingOut"]
