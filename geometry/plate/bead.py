"""The bead as the figures need it: its places, its stations and what a field comes to at each of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from geometry.outline.loop import Point
from geometry.plate.fields import places_of
from geometry.plate.results import StationReaction, StationShear

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from geometry.plate.curve import Curve
    from geometry.plate.fields import Fields
    from geometry.plate.mesh import PlateMesh

    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]


def mean_width(outer: Curve, inner: Curve) -> float:
    """Area of the bead over the mean of the lengths of its edges: the exact width of a band between parallel curves."""
    return 2 * (outer.area - inner.area) / (outer.total + inner.total)


def point_of(row: Floats) -> Point:
    """A row (2,) as a point."""
    return Point(float(row[0]), float(row[1]))


class Bead:
    """The bead on the fine mesh: ``nodes`` of its triangles, ``places`` in them with their true ``area`` (k,) mm2, ``station`` (k,) of each."""

    def __init__(self, mesh: PlateMesh, bed_factor: float, stiffness: float, stations: int | None) -> None:
        self.mesh, self.stiffness = mesh, stiffness
        self.outer, self.inner = mesh.curves[-2], mesh.curves[-1]
        self.width = mean_width(self.outer, self.inner)
        self.whole = self.outer.area - self.inner.area
        self.band: Integers = np.flatnonzero(mesh.band)
        self.nodes: Integers = np.unique(mesh.triangles[self.band])
        self.places = places_of(mesh)
        self.area: Floats = np.repeat(mesh.areas()[self.band], 3) / 3 * bed_factor
        corners = mesh.points[mesh.triangles[self.places.triangle]]
        self._stations(np.sum(self.places.shares[:, :, None] * corners, axis=1), stations)

    def _stations(self, points: Floats, stations: int | None) -> None:
        from scipy.spatial import cKDTree

        centre_line = (self.outer.total + self.inner.total) / 2
        self.count = stations or min(720, max(24, round(centre_line / self.width)))
        step = self.outer.total / self.count
        fine = self.outer.point((np.arange(24.0 * self.count) + 0.5) * step / 24)
        self.station: Integers = cKDTree(fine).query(points)[1] // 24
        self.covered: Floats = np.asarray(np.bincount(self.station, self.area, self.count), dtype=float)
        self.distance: Floats = (np.arange(float(self.count)) + 0.5) * step
        outside = self.outer.point(self.distance)
        self.middle: Floats = (outside + self.inner.point(self.inner.nearest(outside)[0])) / 2
        self.used: list[int] = np.flatnonzero(self.covered > 0.0).tolist()

    def mean_across(self, values: Floats) -> Floats:
        """Means (count,) over the stations of values (k,) at the places."""
        found: Floats = np.bincount(self.station, values * self.area, self.count) / np.maximum(self.covered, 1e-300)
        return found

    def reactions(self, stress: Floats) -> tuple[StationReaction, ...]:
        """Reaction of each station from the stress (k,) at the places, MPa, tension positive."""
        mean = self.mean_across(stress)
        return tuple(
            StationReaction(
                point_of(self.middle[i]),
                float(self.distance[i]),
                float(self.covered[i] / self.width),
                float(mean[i] * self.width),
            )
            for i in self.used
        )

    def shear(self, fields: Fields, arm: float, thickness: float) -> tuple[StationShear, ...]:
        """Shear of each station; ``arm`` mm the slope moves the bonded face by, positive where it moves up the slope of the deflection."""
        slope = np.column_stack([self.mean_across(fields.slope[:, way]) for way in (0, 1)]) * arm
        pull = np.column_stack([self.mean_across(fields.pull[:, way]) for way in (0, 1)])
        strain = np.hypot(*(slope + pull).T) / thickness
        bound = (np.hypot(*slope.T) + np.hypot(*pull.T)) / thickness
        return tuple(
            StationShear(
                point_of(self.middle[i]),
                float(self.distance[i]),
                float(self.covered[i] / self.width),
                (float(slope[i, 0]), float(slope[i, 1])),
                (float(pull[i, 0]), float(pull[i, 1])),
                float(strain[i]),
                float(bound[i]),
            )
            for i in self.used
        )


__all__ = ["Bead", "mean_width", "point_of"]
