"""What the plan carries beside the pane itself."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from geometry.detail.parts import Section
    from geometry.outline import Point
    from outputs.drawing.flags import Flagged
    from outputs.sheet.entities import Place

NO_ROOM = "no room on the plan"
"""Why something planned is not lettered on it."""


@dataclass(frozen=True, slots=True)
class EnlargedCorner:
    """A corner that is shown enlarged: its letter, the place of the recess there, the way into the pane, and the side of its window, mm."""

    letter: str
    place: Point
    inward: Point
    side: float


@dataclass(frozen=True, slots=True)
class PlanShows:
    """The sections whose planes are marked, the enlarged corners, and the flags with a place on the plan.

    ``room``: width and height of its box, paper mm, which no flag leaves. ``moved`` are the places of what moved since an older
    state, each marked by the letter of the ``revision``. ``widths_over``: the overall widths stand over the plan, where its box is
    high enough; else under it, and ``close``: its axes run past it less than usual. ``stations``: numbers and places
    (pane's coordinates, mm) of a surveyed recess; ``joint_least``: the least joint all round and its place, in words. ``items``: the
    numbers of parts that no section shows, each with the places where such a part stands.
    """

    sections: tuple[Section, ...] = ()
    corners: tuple[EnlargedCorner, ...] = ()
    flags: tuple[Flagged, ...] = ()
    moved: tuple[Place, ...] = ()
    revision: str = ""
    room: tuple[float, float] | None = None
    widths_over: bool = True
    close: bool = False
    stations: tuple[tuple[int, Point], ...] = ()
    joint_least: str = ""
    items: tuple[tuple[str, tuple[Point, ...]], ...] = ()


__all__ = ["NO_ROOM", "EnlargedCorner", "PlanShows"]
