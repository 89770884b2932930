"""What a section tells of the recess beside its sizes: the fillet in its foot and the draft of its wall, each on a leader."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from outputs.sheet.drafting import number
from outputs.sheet.runs import line, polar, run

if TYPE_CHECKING:
    from geometry.detail.parts import Section
    from outputs.sheet.entities import Mark
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.pencil import Pencil


def fillet_marks(section: Section, pencil: Pencil, room: KeepClear) -> list[Mark]:
    """The fillet's radius on a leader, and the foot where landing and wall would meet; nothing on a sharp foot."""
    profile = section.profile
    if profile.fillet <= 0:
        return []
    past = pencil.paper(1.5)
    length = profile.tangent_length
    upper = (profile.wall_at(profile.wall_end), profile.wall_end)
    foot = past / length
    marks: list[Mark] = [
        line("DIMENSIONS", (length, 0.0), (-past, 0.0)),
        line("DIMENSIONS", upper, (-upper[0] * foot, -upper[1] * foot)),
    ]
    centre = (length, profile.fillet)
    bottom = min(z for face in section.faces for _, z, _ in face.nodes)
    middle = 225.0 + profile.draft / 2
    for drop in (5.5, 4.5, 7.5, 10.0, 13.0, 16.0, 20.0):
        for turn in (0.0, 8.0, -8.0, 16.0, -16.0, 24.0, -24.0):
            angle = middle + turn
            if not 180.0 + profile.draft < angle < 270.0:
                continue
            tip = polar(centre, angle, profile.fillet)
            fall = tip[1] - (bottom - pencil.paper(drop))
            reach = fall / -polar((0.0, 0.0), angle, 1.0)[1]
            dimension = pencil.radius(centre, profile.fillet, angle=angle, reach=reach)
            if room.takes((dimension,)):
                room.add((dimension,))
                return [*marks, dimension]
    return marks


def draft_marks(section: Section, pencil: Pencil, room: KeepClear) -> list[Mark]:
    """The draft of the wall on a leader, where the view has room for it; nothing on a wall square to the landing."""
    profile, levels = section.profile, section.levels
    if profile.draft <= 0:
        return []
    words = f"draft {number(profile.draft)}°"
    low = max(profile.wall_end, levels.backfill)
    z = levels.skin - min(pencil.paper(2.5), (levels.skin - low) / 2)
    tip = (profile.wall_at(z), z)
    for rise in (3.0, 4.5, 6.0, 8.0, 11.0, 14.0, 18.0, 22.0, 26.0):
        for back in (5.0, 8.0, 11.0, 3.0, 15.0, 19.0, 24.0):
            end = (profile.wall_at(levels.skin) - pencil.paper(back), levels.skin + pencil.paper(rise))
            text = pencil.text("DIMENSIONS", (end[0], end[1] + pencil.paper(pencil.style.text_gap)), words, align="right")
            leader = run("DIMENSIONS", ((end[0] - pencil.width(words), end[1]), end, tip))
            heading = math.degrees(math.atan2(tip[1] - end[1], tip[0] - end[0]))
            marks: list[Mark] = [leader, pencil.arrow("DIMENSIONS", tip, heading), text]
            if room.takes(marks) and room.leads(leader):
                room.add(marks)
                room.lead(leader)
                room.drawn("draft")
                return marks
    room.left_out("draft", "no room over the wall")
    return []


__all__ = ["draft_marks", "fillet_marks"]
