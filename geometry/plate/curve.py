"""An outline as a curve of arc length, for placing the nodes of a mesh on its true lines and arcs.

Terms
-----
distance
    Length along the loop, mm, from its first vertex; counted on beyond one turn where a stretch runs over the first vertex.
canonical start
    The vertex with the least x, then the least y. The curve starts there whichever vertex the outline starts at, so that
    a mesh does not depend on the order in which the outline was written.
corner
    A joint where the direction turns by more than eight degrees: always a node of the mesh.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from geometry.outline.loop import Outline

    Floats = NDArray[np.float64]

CORNER = math.radians(8.0)
"""Least turn of direction, radians, that makes a joint a corner of the mesh."""


class Curve:
    """The loop of an outline as a function of the distance along it; arrays hold one row for each segment."""

    def __init__(self, outline: Outline) -> None:
        vertices = outline.vertices
        first = min(range(len(vertices)), key=lambda i: (vertices[i].x, vertices[i].y))
        ordered = vertices[first:] + vertices[:first]
        self.start: Floats = np.array([(v.x, v.y) for v in ordered], dtype=float)
        self.end: Floats = np.roll(self.start, -1, axis=0)
        bulge = np.array([v.bulge for v in ordered], dtype=float)
        chord = self.end - self.start
        chord_length = np.hypot(chord[:, 0], chord[:, 1])
        keep = chord_length > 0.0
        self.start, self.end = self.start[keep], self.end[keep]
        bulge, chord, chord_length = bulge[keep], chord[keep], chord_length[keep]
        self.sweep: Floats = 4.0 * np.arctan(bulge)
        self.is_arc = np.abs(self.sweep) > 1e-9
        safe = np.where(self.is_arc, bulge, 1.0)
        # From the middle of the chord to the centre, along the left normal of the chord.
        rise = chord_length * (1.0 - safe**2) / (4.0 * safe)
        left = np.column_stack((-chord[:, 1], chord[:, 0])) / chord_length[:, None]
        self.centre: Floats = np.where(self.is_arc[:, None], (self.start + self.end) / 2 + left * rise[:, None], 0.0)
        self.radius: Floats = np.where(self.is_arc, chord_length * (1.0 + safe**2) / (4.0 * np.abs(safe)), np.inf)
        self.length: Floats = np.where(self.is_arc, np.abs(self.sweep) * np.where(self.is_arc, self.radius, 1.0), chord_length)
        self.cumulative: Floats = np.concatenate(([0.0], np.cumsum(self.length)))
        self.total = float(self.cumulative[-1])
        self.start_angle: Floats = np.arctan2(self.start[:, 1] - self.centre[:, 1], self.start[:, 0] - self.centre[:, 0])
        crossed = self.start[:, 0] * self.end[:, 1] - self.start[:, 1] * self.end[:, 0]
        arcs_radius = np.where(self.is_arc, self.radius, 0.0)
        self.area = float(np.sum(crossed) / 2 + np.sum(arcs_radius**2 * (self.sweep - np.sin(self.sweep))) / 2)

        direction = np.arctan2(chord[:, 1], chord[:, 0])
        arriving = direction + self.sweep / 2
        leaving = np.roll(direction - self.sweep / 2, -1)
        turn = np.abs((leaving - arriving + math.pi) % (2 * math.pi) - math.pi)
        joint = np.roll(turn, 1) > CORNER
        self.corners: Floats = self.cumulative[:-1][joint]

    def point(self, distance: Floats) -> Floats:
        """Points, shape (n, 2), at distances along the loop, shape (n,), any number of turns."""
        along = np.mod(np.asarray(distance, dtype=float), self.total)
        k = np.clip(np.searchsorted(self.cumulative, along, side="right") - 1, 0, len(self.length) - 1)
        fraction = (along - self.cumulative[k]) / self.length[k]
        straight = self.start[k] + fraction[:, None] * (self.end[k] - self.start[k])
        angle = self.start_angle[k] + fraction * self.sweep[k]
        radius = np.where(self.is_arc[k], self.radius[k], 0.0)
        bent = self.centre[k] + radius[:, None] * np.column_stack((np.cos(angle), np.sin(angle)))
        found: Floats = np.where(self.is_arc[k][:, None], bent, straight)
        return found

    def nearest(self, points: Floats) -> tuple[Floats, Floats]:
        """Distance along the loop of the point nearest to each of ``points``, shape (n, 2), and how far away it is, mm."""
        along = np.empty(len(points))
        away = np.empty(len(points))
        step = max(1, 2_000_000 // len(self.length))
        for i in range(0, len(points), step):
            along[i : i + step], away[i : i + step] = self._nearest(points[i : i + step])
        return along, away

    def _nearest(self, points: Floats) -> tuple[Floats, Floats]:
        to_point = points[:, None, :] - self.start[None]
        chord = self.end - self.start
        on_line = np.clip(np.sum(to_point * chord, axis=2) / np.sum(chord**2, axis=1), 0.0, 1.0)
        angle = np.arctan2(points[:, None, 1] - self.centre[None, :, 1], points[:, None, 0] - self.centre[None, :, 0])
        sign = np.where(self.sweep < 0.0, -1.0, 1.0)
        swept = np.mod(sign * (angle - self.start_angle), 2 * math.pi)
        size = np.where(self.is_arc, np.abs(self.sweep), 1.0)
        # Beyond the end of an arc the nearer of its two ends is taken.
        beyond = swept > size
        nearer_start = (2 * math.pi - swept) < (swept - size)
        on_arc = np.where(beyond, np.where(nearer_start, 0.0, 1.0), swept / size)
        fraction = np.where(self.is_arc, on_arc, on_line)
        bent_angle = self.start_angle + fraction * self.sweep
        radius = np.where(self.is_arc, self.radius, 0.0)
        foot_x = np.where(self.is_arc, self.centre[:, 0] + radius * np.cos(bent_angle), self.start[:, 0] + fraction * chord[:, 0])
        foot_y = np.where(self.is_arc, self.centre[:, 1] + radius * np.sin(bent_angle), self.start[:, 1] + fraction * chord[:, 1])
        squared = (foot_x - points[:, None, 0]) ** 2 + (foot_y - points[:, None, 1]) ** 2
        best = np.argmin(squared, axis=1)
        rows = np.arange(len(points))
        return self.cumulative[best] + fraction[rows, best] * self.length[best], np.sqrt(squared[rows, best])

    def divided(self, spacing: float, *, greatest_turn: float = math.radians(30.0)) -> Floats:
        """Distances of nodes along the loop, corners included, at most ``spacing`` mm and ``greatest_turn`` radians apart."""
        return self._filled(self.corners, spacing, greatest_turn)

    def completed(self, wanted: Floats, spacing: float, *, greatest_turn: float = math.radians(30.0)) -> Floats:
        """Nodes at the wanted distances where they keep clear of corners and of each other, filled up where they are sparse.

        A wanted node nearer than 0.4 spacings to a corner or to the node before it is left out; a stretch of more than
        1.4 spacings is divided evenly.
        """
        clear = 0.4 * spacing
        ordered = np.unique(np.mod(wanted, self.total))
        taken: list[float] = []
        for value in ordered.tolist():
            if taken and value - taken[-1] < clear:
                continue
            if taken and taken[0] + self.total - value < clear:
                continue
            taken.append(value)
        kept = np.array(taken)
        if len(self.corners) and len(kept):
            apart = np.abs(kept[:, None] - self.corners[None])
            apart = np.minimum(apart, self.total - apart)
            kept = kept[np.min(apart, axis=1) >= clear]
        fixed = np.unique(np.concatenate((self.corners, kept)))
        return self._filled(fixed, spacing, greatest_turn, slack=1.4)

    def _filled(self, fixed: Floats, spacing: float, greatest_turn: float, slack: float = 1.0) -> Floats:
        density = np.maximum(1.0 / spacing, 1.0 / (np.where(self.is_arc, self.radius, np.inf) * greatest_turn))
        measure = np.concatenate(([0.0], np.cumsum(density * self.length)))
        at = np.sort(fixed) if len(fixed) else np.array([0.0])
        least = 3.0 if len(at) == 1 else 1.0
        nodes: list[Floats] = []
        marks = np.interp(at, self.cumulative, measure)
        after = np.append(marks[1:], marks[0] + measure[-1])
        for low, high in zip(marks, after, strict=True):
            count = int(max(least, math.ceil((high - low) / slack - 1e-9)))
            nodes.append(low + (high - low) * np.arange(count) / count)
        wrapped = np.mod(np.concatenate(nodes), measure[-1])
        found: Floats = np.unique(np.mod(np.interp(wrapped, measure, self.cumulative), self.total))
        return found


__all__ = ["Curve"]
