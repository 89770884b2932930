"""Flags on the plan: a numbered triangle on a leader from the place that a finding speaks of."""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.drawing.plan_options import NO_ROOM
from outputs.sheet.runs import line, polar, run

if TYPE_CHECKING:
    from outputs.drawing.plan_options import Flag
    from outputs.sheet.entities import Mark
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.pencil import Pencil

SIDE = 7.0  # paper mm, of the triangle


def flag_marks(flag: Flag, pencil: Pencil, room: KeepClear) -> list[Mark]:
    """The flag where its triangle finds room, the nearest place first; nothing where there is none. The room is told, not yet taken."""
    side, number = pencil.paper(SIDE), str(flag.number)
    for reach in (8.0, 11.0, 14.0, 18.0, 24.0, 32.0):
        for turn in range(45, 405, 15):
            centre = polar(flag.place, turn, pencil.paper(reach))
            area = (centre[0] - side / 2, centre[1] - side * 0.29, centre[0] + side / 2, centre[1] + side * 0.577)
            if room.free(area):
                room.drawn(f"flag {number}")
                corners = [polar(centre, 90.0 + third, side * 0.577) for third in (0.0, 120.0, 240.0)]
                return [
                    run("ITEM_LEADERS", corners, closed=True),
                    line("ITEM_LEADERS", polar(centre, turn + 180.0, side * 0.32), flag.place),
                    pencil.text("TEXT", polar(centre, -90.0, side * 0.03), number, align="middle", centred=True),
                ]
    room.tabled(f"flag {number}", NO_ROOM)
    return []


__all__ = ["flag_marks"]
