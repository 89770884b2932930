"""Where the bead starts and which way it runs, on the plan."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.outline import Point, point_in
from outputs.sheet.boxes import box_of_text, grown
from outputs.sheet.drafting import ASIDE, OVER
from outputs.sheet.keep_clear import crosses
from outputs.sheet.runs import line, polar, run

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.detail.parts import BeadStart
    from outputs.drawing.plan_ink import PlanInk
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Path, Text
    from outputs.sheet.pencil import Pencil

WORDS = ("bead start, counter-clockwise", "bead start")


def bead_arrow(ink: PlanInk) -> None:
    """Where the bead starts and stops: a stroke across its centre line and an arrow in the direction of the run."""
    pencil, start = ink.pencil, ink.detail.bead_start
    size = pencil.paper(1.6)
    tip = polar(start.place, start.angle, pencil.paper(7.0))
    ink.put(
        [
            line("DETAIL_WIDE", polar(start.place, start.angle + 90.0, size), polar(start.place, start.angle - 90.0, size)),
            line("DETAIL_WIDE", start.place, polar(tip, start.angle + 180.0, pencil.paper(2.0))),
            pencil.arrow("DETAIL_WIDE", tip, start.angle),
        ]
    )


def bead_words(ink: PlanInk) -> None:
    """The note at the start of the bead, on a leader inside the ring, or outside the recess where the daylight is too small."""
    start = ink.detail.bead_start
    for string in WORDS:
        for way, where in ((90.0, ink.inner), (-90.0, ink.outer)):
            reach = where(start.place, Point(*polar((0.0, 0.0), start.angle + way, 1.0)))
            candidates = _candidates(ink.pencil, start, string, way, reach)
            for (text, leader), box in ink.placer.those_free(candidates, lambda each: box_of_text(each[0], ink.pencil.scale)):
                own = grown(box, ink.pencil.paper(ink.pencil.style.off_lines))
                if crosses(own, (*leader.nodes[0][:2], *leader.nodes[1][:2])) or not ink.placer.clear_of_texts((text, leader)):
                    continue
                shelf = (box[0], leader.nodes[-1][1], box[2], box[1])
                if ink.placer.free(shelf) and ink.placer.leads(leader) and _clear_of_ring(ink, box, inside=way > 0):
                    ink.put([text, leader])
                    ink.placer.lead(leader)
                    ink.placer.drawn("bead start")
                    return
    ink.no_room("bead start")


def _candidates(pencil: Pencil, start: BeadStart, string: str, way: float, reach: float) -> Iterator[tuple[Text, Path]]:
    """The words on their shelf and the leader to the start, the nearest first."""
    long, times = pencil.width(string), pencil.style.text / 2.5
    clear, over = pencil.paper(ASIDE * times), pencil.paper(OVER * times)
    for more in (4.0, 7.0, 10.0, 13.0, 17.0, 22.0):
        for aside in (-6.0, 6.0, -12.0, 12.0, 0.0, -20.0, 20.0):
            out = polar(start.place, start.angle + way, reach + pencil.paper(more))
            elbow = polar(out, start.angle, pencil.paper(-aside))
            for sign in (-1.0, 1.0):
                end = (elbow[0] + sign * (long + clear), elbow[1])
                foot = (min(elbow[0] + sign * clear, end[0]), elbow[1] + over)
                yield pencil.text("TEXT", foot, string), run("ITEM_LEADERS", (start.place, elbow, end))


def _clear_of_ring(ink: PlanInk, box: Box, *, inside: bool) -> bool:
    """Whether words stand in the daylight, or outside the recess; asked last, it costs most."""
    outline = ink.detail.curves.frit_inner if inside else ink.detail.curves.recess
    return all(point_in(outline, Point(x, y)) is inside for x in (box[0], box[2]) for y in (box[1], box[3]))


__all__ = ["bead_arrow", "bead_words"]
