"""What a survey gives: the wall as it was measured, the outline of lines and arcs fitted to it, and what was noted at each point.

Terms
-----
fitted outline
    Straight lines and arcs nearest to the points: what a pane is made after.
measured wall
    The points joined: what the joint is held against.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.incoming.incoming import Incoming

if TYPE_CHECKING:
    from geometry.incoming.survey_outline import SurveyedCorner, SurveyedEdge
    from geometry.incoming.survey_plane import SurveyPlane
    from geometry.outline.loop import Outline, Point


@dataclass(frozen=True, slots=True)
class MeasuredPoint:
    """One surveyed point of the wall.

    ``line`` of the file; ``raw`` as typed, mm; ``at`` in the plane of the opening as seen from outside, mm; ``edge`` its edge's name and
    ``station`` as typed, "" where none is; ``depth`` and ``landing`` as measured there, mm, None where they were not. ``out_of_plane`` is
    its distance from the plane, mm, positive outside, None of points typed in the plane; ``off_wall`` that from the fitted outline,
    positive inside the opening.
    """

    line: int
    raw: tuple[float, ...]
    at: Point
    edge: str
    station: str
    depth: float | None
    landing: float | None
    out_of_plane: float | None
    off_wall: float


@dataclass(frozen=True, slots=True)
class OutlyingPoint:
    """A point that stands off what its neighbours say: by how much, mm, and whether out of the plane or along it."""

    line: int
    off: float
    out_of_plane: bool


@dataclass(frozen=True, kw_only=True)
class Surveyed(Incoming):
    """A surveyed opening, from outside, counter-clockwise, mm.

    ``outline`` is the fitted outline and ``wall`` the measured wall; ``deviation`` the largest distance of a point that is no outlier from
    the fitted outline, mm; ``source`` the file; ``mended`` what was done with the points, in sentences; ``plane`` None of points typed in
    the plane; ``edges`` and ``corners`` of the fitted outline in order, none of a circle; ``radius_spread`` of a circle.
    """

    wall: Outline
    points: tuple[MeasuredPoint, ...]
    edges: tuple[SurveyedEdge, ...]
    corners: tuple[SurveyedCorner, ...]
    plane: SurveyPlane | None
    outliers: tuple[OutlyingPoint, ...]
    radius_spread: float | None = None


__all__ = ["MeasuredPoint", "OutlyingPoint", "Surveyed"]
