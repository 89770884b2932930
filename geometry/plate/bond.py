"""Bond stress of a pane on its bead, computed over the true outline of the glass and the true band of the bead.

Terms
-----
bead
    The band between its outer and its inner edge, taken as springs across its thickness that act in tension and compression:
    stress = effective modulus x movement / bond thickness. It holds the glass against turning only by its width.
effective modulus
    Modulus of the bead across its thickness, MPa. A wide thin bead cannot spread sideways and is stiffer than Young's modulus of
    the adhesive; the value belongs to the adhesive and the bead and is an input.
linear theory
    Kirchhoff's plate: no stretch of the glass. Beyond a deflection of half the thickness the true deflection is smaller.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal

import numpy as np

from geometry.outline.loop import Point
from geometry.plate.curve import Curve
from geometry.plate.glass import GlassBuildUp, PlateInputError, bending_stiffness, effective_thickness, positive
from geometry.plate.mesh import coarse_and_fine
from geometry.plate.nodes import Sizes
from geometry.plate.results import BondStress, ErrorEstimate, PressureResult, StationReaction, StressMap, ValueAt
from geometry.plate.solve import AreaBed, Plate, PlateSolution, solve

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from geometry.outline.loop import Outline

    Floats = NDArray[np.float64]

KPA = 1e-3
"""One kPa in MPa."""

LINEAR = "Linear thin plate theory; stiff frame; the bead acts in tension and compression. An aid, not an approval."


def bond_stress(
    glass: Outline,
    bead_outer: Outline,
    bead_inner: Outline,
    *,
    build_up: GlassBuildUp,
    bond_thickness: float,
    effective_modulus: float,
    outward: float,
    inward: float,
    stations: int | None = None,
) -> BondStress:
    """Stress in the bead of a pane under uniform pressure on the whole glass, from either side.

    Outlines mm; ``bond_thickness`` mm; ``effective_modulus`` MPa of the bead across its thickness; ``outward`` and ``inward``
    pressures kPa, 0 or more; ``stations`` round the bead, by default one for each bond width of its length (24 to 720).

    Raises PlateInputError for a value that cannot be, PlateMeshError where the bead does not lie within the glass.

    The load is carried as it must be: the mean stress is pressure x area over the area of the bead.

    >>> from geometry.outline.shapes import circle
    >>> from geometry.outline.measure import moved
    >>> disc, outer, inner = circle(400), moved(circle(384), 8, 8), moved(circle(360), 20, 20)
    >>> pane = GlassBuildUp((8.0,))
    >>> result = bond_stress(disc, outer, inner, build_up=pane, bond_thickness=5, effective_modulus=2, outward=3, inward=15)
    >>> round(result.outward.mean, 5), round(0.003 * 200**2 / (192**2 - 180**2), 5)
    (0.02688, 0.02688)
    """
    positive(bond_thickness, "bond thickness", "mm")
    positive(effective_modulus, "effective modulus of the bead", "MPa")
    for pressure, name in ((outward, "outward pressure"), (inward, "inward pressure")):
        if not (math.isfinite(pressure) and pressure >= 0.0):
            raise PlateInputError(f"{name} is {pressure:g} kPa; it must be a finite number, 0 or more")
    if stations is not None and not 4 <= stations <= 5000:
        raise PlateInputError(f"{stations} stations round the bead; allowed are 4 to 5000")
    bed = AreaBed(effective_modulus / bond_thickness)
    plate = Plate(bending_stiffness(build_up), build_up.poisson)
    sizes = sizes_for(glass, bead_outer, bead_inner, plate, bed)
    coarse, fine = coarse_and_fine(glass, (bead_outer, bead_inner), sizes)
    rough = _Unit(solve(coarse, plate, bed), bed, None)
    unit = _Unit(solve(fine, plate, bed), bed, stations or 0)
    notes = [LINEAR]
    results = [_pressure_result(unit, build_up, "outward", outward), _pressure_result(unit, build_up, "inward", inward)]
    thickness = effective_thickness(build_up).deflection
    notes += [
        f"At {r.pressure:g} kPa {r.direction} the deflection of {r.deflection.value:.1f} mm is over half the effective thickness "
        f"of {thickness:.1f} mm: the true deflection is smaller and the stress differs."
        for r in results
        if r.beyond_linear
    ]
    return BondStress(
        results[0],
        results[1],
        unit.load_balance,
        _error(rough, unit),
        unit.stress_map(),
        unit.bond_width,
        unit.bond_area,
        bed.stiffness,
        thickness,
        tuple(notes),
    )


def sizes_for(glass: Outline, bead_outer: Outline, bead_inner: Outline, plate: Plate, bed: AreaBed) -> Sizes:
    """Sizes of the coarse mesh: two rows across the bead (four once refined), fine enough for the plate on its bed.

    The deflection changes over ``(D / k)^(1/4)``, the length of a plate on an area bed.
    """
    edge, outer, inner = Curve(glass), Curve(bead_outer), Curve(bead_inner)
    width = _mean_width(outer, inner)
    if width <= 0.0:
        raise PlateInputError("the inner edge of the bead encloses no less than its outer edge; the bead must have a width")
    length = (plate.bending_stiffness / bed.stiffness) ** 0.25
    rows = min(12, max(2, math.ceil(width / (0.7 * length))))
    across = 4 * edge.area / edge.total
    along = min(max(1.5 * width / rows, outer.total / 300), 3 * width / rows, 0.8 * length, across / 8)
    along = max(along, outer.total / 1500)
    return Sizes(along, rows, max(along, across / 16))


def _mean_width(outer: Curve, inner: Curve) -> float:
    """Area of the bead over the mean of the lengths of its edges: the exact width of a band between parallel curves."""
    return 2 * (outer.area - inner.area) / (outer.total + inner.total)


class _Unit:
    """The solution for 1 MPa outward, with the stress at the integration points of the bead."""

    def __init__(self, solution: PlateSolution, bed: AreaBed, stations: int | None) -> None:
        self.solution = solution
        mesh = solution.mesh
        self.edge, self.outer, self.inner = mesh.curves[0], mesh.curves[-2], mesh.curves[-1]
        self.bond_width = _mean_width(self.outer, self.inner)
        self.bond_area = self.outer.area - self.inner.area
        band = np.flatnonzero(mesh.band)
        self.band = band
        self.nodes = np.unique(mesh.triangles[band])
        self.stress = bed.stiffness * solution.deflection
        # Three points of equal weight integrate the quadratic of the element exactly.
        shares = np.array([[4, 1, 1], [1, 4, 1], [1, 1, 4]]) / 6
        at = np.repeat(band, 3)
        share = np.tile(shares, (len(band), 1))
        self.quadrature_stress: Floats = bed.stiffness * solution.at(at, share)
        self.quadrature_area: Floats = np.repeat(mesh.areas()[band], 3) / 3 * solution.bed_factor
        corners = mesh.points[mesh.triangles[at]]
        self.quadrature_point: Floats = np.sum(share[:, :, None] * corners, axis=1)
        force = float(self.quadrature_stress @ self.quadrature_area)
        self.load_balance = abs(force - solution.load) / solution.load
        self.reactions = () if stations is None else self._reactions(stations)

    def _reactions(self, stations: int) -> tuple[StationReaction, ...]:
        from scipy.spatial import cKDTree

        centre_line = (self.outer.total + self.inner.total) / 2
        count = stations or min(720, max(24, round(centre_line / self.bond_width)))
        step = self.outer.total / count
        fine = self.outer.point((np.arange(24.0 * count) + 0.5) * step / 24)
        station = cKDTree(fine).query(self.quadrature_point)[1] // 24
        force = np.bincount(station, self.quadrature_stress * self.quadrature_area, count)
        area = np.bincount(station, self.quadrature_area, count)
        middle: Floats = (np.arange(float(count)) + 0.5) * step
        outside = self.outer.point(middle)
        inside = self.inner.point(self.inner.nearest(outside)[0])
        return tuple(
            StationReaction(
                _point((outside[i] + inside[i]) / 2),
                float(middle[i]),
                float(area[i] / self.bond_width),
                float(force[i] / area[i] * self.bond_width),
            )
            for i in range(count)
            if area[i] > 0.0
        )

    def highest(self) -> int:
        """Node of the bead with the greatest stress in the direction of the pressure."""
        return int(self.nodes[np.argmax(self.stress[self.nodes])])

    def lowest(self) -> int:
        """Node of the bead with the least stress, negative where it acts against the rest."""
        return int(self.nodes[np.argmin(self.stress[self.nodes])])

    def greatest_moment(self) -> float:
        """Greatest principal moment by amount, N mm per mm."""
        moment = self.solution.point_moments()
        mean = (moment[:, 0] + moment[:, 1]) / 2
        radius = np.hypot((moment[:, 0] - moment[:, 1]) / 2, moment[:, 2])
        return float(np.max(np.abs(mean) + radius))

    def stress_map(self) -> StressMap:
        """The bead's own points and triangles, at 1 kPa."""
        mesh = self.solution.mesh
        number = np.full(len(mesh.points), -1, dtype=np.int64)
        number[self.nodes] = np.arange(len(self.nodes))
        arrays = (mesh.points[self.nodes], number[mesh.triangles[self.band]], self.stress[self.nodes] * KPA)
        for array in arrays:
            array.flags.writeable = False
        return StressMap(*arrays)


def _pressure_result(
    unit: _Unit, build_up: GlassBuildUp, direction: Literal["outward", "inward"], pressure: float
) -> PressureResult:
    """The figures at a pressure in kPa: the unit solution scaled and, for inward pressure, turned over."""
    load = pressure * KPA
    sign = 1.0 if direction == "outward" else -1.0
    points = unit.solution.mesh.points
    with_load = _amount(unit.stress[unit.highest()] * load, points[unit.highest()])
    against = _amount(-unit.stress[unit.lowest()] * load, points[unit.lowest()])
    stress, area = unit.quadrature_stress * load, unit.quadrature_area
    mean_with, share_with = _mean_of_part(stress, area)
    mean_against, share_against = _mean_of_part(-stress, area)
    moved = unit.solution.deflection
    most, least = int(np.argmax(moved)), int(np.argmin(moved))
    edge = unit.solution.mesh.edge_nodes()
    at_edge = int(edge[np.argmax(moved[edge])])
    middle = _centroid(unit.edge)
    centre = unit.solution.at_place(*middle)
    thickness = effective_thickness(build_up)
    moment = unit.greatest_moment() * load
    outward = direction == "outward"
    return PressureResult(
        direction="outward" if outward else "inward",
        pressure=pressure,
        peak_tension=with_load if outward else against,
        peak_compression=against if outward else with_load,
        mean_tension=mean_with if outward else mean_against,
        mean_compression=mean_against if outward else mean_with,
        mean=sign * unit.solution.load * load / unit.bond_area,
        tension_share=share_with if outward else share_against,
        reactions=tuple(StationReaction(r.point, r.distance, r.length, sign * load * r.reaction) for r in unit.reactions),
        deflection=ValueAt(float(moved[most]) * load, _point(points[most])),
        deflection_centre=None if centre is None else centre * load,
        deflection_edge=ValueAt(float(moved[at_edge]) * load, _point(points[at_edge])),
        uplift=_amount(-moved[least] * load, points[least]),
        glass_stress=tuple(6 * moment / h**2 for h in thickness.stress),
        beyond_linear=float(moved[most]) * load > thickness.deflection / 2,
    )


def _amount(value: float, point: Floats) -> ValueAt:
    """The value, or 0 where it is negative."""
    return ValueAt(max(0.0, float(value)), _point(point))


def _point(row: Floats) -> Point:
    return Point(float(row[0]), float(row[1]))


def _mean_of_part(stress: Floats, area: Floats) -> tuple[float, float]:
    """Mean of the stress over the part of the bead where it is positive, and the share of the area of that part."""
    part = stress > 0.0
    covered = float(np.sum(area[part]))
    if covered == 0.0:
        return 0.0, 0.0
    return float(stress[part] @ area[part]) / covered, covered / float(np.sum(area))


def _centroid(edge: Curve) -> Point:
    """Centre of area of the glass, from a polygon of fine chords."""
    ring = edge.point(edge.divided(edge.total / 2000, greatest_turn=math.radians(1)))
    following = np.roll(ring, -1, axis=0)
    crossed = ring[:, 0] * following[:, 1] - following[:, 0] * ring[:, 1]
    return _point(((ring + following) * crossed[:, None]).sum(axis=0) / (3 * crossed.sum()))


def _error(rough: _Unit, unit: _Unit) -> ErrorEstimate:
    """A third of the change from the coarse to the refined mesh, over the peak."""
    peak = max(unit.stress[unit.highest()], -unit.stress[unit.lowest()])
    change = max(
        abs(unit.stress[unit.highest()] - rough.stress[rough.highest()]),
        abs(unit.stress[unit.lowest()] - rough.stress[rough.lowest()]),
    )
    most, before = float(np.max(unit.solution.deflection)), float(np.max(rough.solution.deflection))
    return ErrorEstimate(float(change / peak) / 3, abs(most - before) / most / 3)


__all__ = ["bond_stress", "sizes_for"]
