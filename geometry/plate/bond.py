"""Bond stress of a pane on its bead, computed over the true outline of the glass and the true band of the bead.

Terms
-----
bead
    The band between its outer and its inner edge, taken as springs across its thickness that act in tension and compression:
    stress = effective modulus x movement / bond thickness. It holds the glass against turning only by its width, and against moving
    in its plane by its shear.
effective modulus
    Modulus of the bead across its thickness, MPa. A wide thin bead cannot spread sideways and is stiffer than Young's modulus of
    the adhesive; the value belongs to the adhesive and the bead and is an input.
linear theory
    Kirchhoff's plate: no stretch of the glass. Good to 3 % up to a deflection of about half the thickness; larger ones are told too great.
large deflection
    Von Karman's plate, worked out where the linear deflection is over 0.3 of the effective thickness.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING, Literal

import numpy as np

from geometry.plate.bead import Bead, mean_width
from geometry.plate.curve import Curve
from geometry.plate.fields import Fields, Places, corrected, linear_fields, places_before, pull_at
from geometry.plate.glass import GlassBuildUp, PlateInputError, bending_stiffness, effective_thickness, positive
from geometry.plate.glass_peak import GlassPeak, glass_peak
from geometry.plate.large import LargeDeflection
from geometry.plate.membrane import Membrane, Sheet
from geometry.plate.mesh import coarse_and_fine
from geometry.plate.nodes import Sizes
from geometry.plate.patch import Patch, check_within, patch_load
from geometry.plate.pressure import Pane, bonded_arm, pressure_result
from geometry.plate.results import BondStress, ErrorEstimate, PressureResult, StressMap
from geometry.plate.solve import Equations, PlateSolution, solution, times
from geometry.plate.system import AreaBed, Plate, PlateSystem, system_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from geometry.outline.loop import Outline
    from geometry.plate.mesh import PlateMesh

    Floats = NDArray[np.float64]
    Direction = Literal["outward", "inward"]

KPA = 1e-3
"""One kPa in MPa."""

LARGE_FROM = 0.3
"""Linear deflection over effective thickness beyond which large deflection is worked out."""

UNBALANCED = 1e-3
"""Share of the load by which the bead may miss it where arcs of the coarse mesh are laid on the fine one; what is left is scaled away."""

LINEAR = "Linear thin plate theory; stiff frame; the bead acts in tension and compression. An aid, not an approval."
THIN = "Thin plate theory; stiff frame; the bead acts in tension and compression. An aid, not an approval."


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
    shear_modulus: float | None = None,
    printed_inside: Outline | None = None,
    patch: Patch | None = None,
    stations: int | None = None,
) -> BondStress:
    """Stress in the bead of a pane under uniform pressure on the whole glass, from either side, and under a load on a part of it.

    Outlines mm; ``bond_thickness`` mm; ``effective_modulus`` MPa of the bead across its thickness; ``outward`` and ``inward``
    pressures kPa, 0 or more; ``shear_modulus`` MPa of the adhesive, by default that of which a strip held on both faces has the effective
    modulus, ``E / (4 (1 + (w / 2t)2))``; ``printed_inside`` the inner edge of the frit; ``patch`` a load of its own, without the
    pressures; ``stations`` round the bead, by default one for each bond width of its length (24 to 720).

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
    _check_pressures(outward, inward)
    if shear_modulus is not None:
        positive(shear_modulus, "shear modulus of the bead", "MPa")
    if stations is not None and not 4 <= stations <= 5000:
        raise PlateInputError(f"{stations} stations round the bead; allowed are 4 to 5000")
    bed = AreaBed(effective_modulus / bond_thickness)
    plate = Plate(bending_stiffness(build_up), build_up.poisson)
    sizes = sizes_for(glass, bead_outer, bead_inner, plate, bed)
    if patch is not None:
        check_within(patch, Curve(glass))
    coarse, fine = (system_of(mesh, plate, bed) for mesh in _meshes(glass, bead_outer, bead_inner, sizes))
    bead = Bead(fine.mesh, fine.bed_factor, bed.stiffness, stations)
    if shear_modulus is None:
        shear_modulus = effective_modulus / (4 * (1 + (bead.width / (2 * bond_thickness)) ** 2))
    pairs = _Pair(coarse, fine, bead, build_up, bond_thickness, shear_modulus / bond_thickness, printed_inside)
    even = _Load(pairs, lambda system: system.load, bead.mesh.curves[0].area)
    results = (even.result("outward", outward), even.result("inward", inward))
    load = patched = None
    if patch is not None:
        load = _Load(pairs, lambda system: patch_load(system, patch), patch.area)
        patched = load.result(patch.direction, patch.pressure)
    return BondStress(
        results[0],
        results[1],
        patched,
        max(each.balance for each in (even, load) if each is not None),
        _worst([each.error for each in (even, load) if each is not None]),
        even.stress_map(),
        bead.width,
        bead.whole,
        bed.stiffness,
        effective_thickness(build_up).deflection,
        _notes([each for each in (*results, patched) if each is not None], effective_thickness(build_up).deflection),
    )


@lru_cache(maxsize=1)
def _meshes(glass: Outline, bead_outer: Outline, bead_inner: Outline, sizes: Sizes) -> tuple[PlateMesh, PlateMesh]:
    """The coarse mesh and the fine one, kept: a pane that is tried with a thicker bond has those of before."""
    return coarse_and_fine(glass, (bead_outer, bead_inner), sizes)


def _check_pressures(outward: float, inward: float) -> None:
    for pressure, name in ((outward, "outward pressure"), (inward, "inward pressure")):
        if not (math.isfinite(pressure) and pressure >= 0.0):
            raise PlateInputError(f"{name} is {pressure:g} kPa; it must be a finite number, 0 or more")


def _worst(errors: list[ErrorEstimate]) -> ErrorEstimate:
    """The greatest of each."""
    return ErrorEstimate(
        max(each.bond_stress for each in errors),
        max(each.deflection for each in errors),
        max(each.glass_stress for each in errors),
        all(each.glass_holds for each in errors),
    )


def _notes(results: list[PressureResult], thickness: float) -> tuple[str, ...]:
    """The sentences that stand with the figures."""
    notes = [LINEAR if all(each.large is None for each in results) else THIN]
    for each in results:
        said = f"At {each.pressure:g} kPa {each.direction} the deflection"
        if each.large is not None:
            notes.append(
                f"{said} is {each.large.deflection:.1f} mm by large deflection (von Karman) and {each.linear.deflection:.1f} mm by linear "
                f"theory, at an effective thickness of {thickness:.1f} mm: the figures are those of large deflection."
            )
        elif each.beyond_linear:
            notes.append(
                f"{said} of {each.deflection.value:.1f} mm is over half the effective thickness of {thickness:.1f} mm: the true deflection "
                "is smaller and the stress differs; no balance by large deflection was found."
            )
    return tuple(notes)


def sizes_for(glass: Outline, bead_outer: Outline, bead_inner: Outline, plate: Plate, bed: AreaBed) -> Sizes:
    """Sizes of the coarse mesh: two rows across the bead (four once refined), fine enough for the plate on its bed.

    The deflection changes over ``(D / k)^(1/4)``, the length of a plate on an area bed.
    """
    edge, outer, inner = Curve(glass), Curve(bead_outer), Curve(bead_inner)
    width = mean_width(outer, inner)
    if width <= 0.0:
        raise PlateInputError("the inner edge of the bead encloses no less than its outer edge; the bead must have a width")
    length = (plate.bending_stiffness / bed.stiffness) ** 0.25
    rows = min(12, max(2, math.ceil(width / (0.7 * length))))
    across = 4 * edge.area / edge.total
    along = min(max(1.5 * width / rows, outer.total / 300), 3 * width / rows, 0.8 * length, across / 8)
    along = max(along, outer.total / 1500)
    return Sizes(along, rows, max(along, across / 16))


class _Pair:
    """The pane on both meshes, and its equations for large deflection on the coarse one."""

    def __init__(
        self,
        coarse: PlateSystem,
        fine: PlateSystem,
        bead: Bead,
        build_up: GlassBuildUp,
        bond_thickness: float,
        shear_bed: float,
        printed_inside: Outline | None,
    ) -> None:
        self.coarse, self.fine, self.bead, self.build_up = coarse, fine, bead, build_up
        self.equations = Equations(coarse)
        self.bond_thickness, self.shear_bed = bond_thickness, shear_bed
        self.printed_inside = printed_inside
        self.before: Places = places_before(bead.places, coarse.mesh)
        self.centre = _centroid(bead.mesh.curves[0])
        self.thickness = effective_thickness(build_up).deflection

    @cached_property
    def large(self) -> LargeDeflection:
        """The equations for large deflection; worked out where they are asked for."""
        sheet = Sheet(
            self.build_up.young_modulus,
            self.build_up.poisson,
            math.fsum(self.build_up.plies),
            self.thickness,
            self.coarse.plate.bending_stiffness,
            self.shear_bed,
        )
        return LargeDeflection(Membrane(self.coarse, sheet), self.equations)

    def pane(self, points: Floats) -> Pane:
        """What the figures share, the glass stressed at points (p, 2)."""
        printed = None
        if self.printed_inside is not None:
            import shapely

            curve = Curve(self.printed_inside)
            clear = shapely.Polygon(curve.point(curve.divided(curve.total / 400, greatest_turn=math.radians(3))))
            printed = ~shapely.contains_xy(clear, points[:, 0], points[:, 1])
        return Pane(self.bead, self.build_up, self.bond_thickness, points, printed, bonded_arm(self.build_up))


class _Load:
    """One distribution of load: its linear solutions for 1 MPa and the figures of any amount of it."""

    def __init__(self, pair: _Pair, load: Callable[[PlateSystem], Floats], area: float) -> None:
        self.pair, self.load = pair, load
        self.rough: PlateSolution = pair.equations.solution(load(pair.coarse), area)
        self.unit: PlateSolution = solution(pair.fine, load(pair.fine), area)
        self.peak: GlassPeak = glass_peak(self.rough, self.unit, load)
        self.pane = pair.pane(self.peak.points)
        self.shown: dict[str, Floats] = {}
        bead = pair.bead
        force = float(bead.stiffness * self.unit.at(bead.places.triangle, bead.places.shares) @ bead.area)
        self.balance = abs(force - area) / area
        self.error = self._error()

    def result(self, direction: Direction, pressure: float) -> PressureResult:
        """The figures at a pressure in kPa on the loaded area; by large deflection where the linear one is over its limit."""
        pair, amount = self.pair, pressure * KPA
        beyond = float(np.max(self.unit.deflection)) * amount > LARGE_FROM * pair.thickness
        linear = self.linear(pull=amount > 0.0 and not beyond).scaled(amount)
        large = self._large(linear, amount) if beyond else None
        sign = pair.bead.stiffness * (1.0 if direction == "outward" else -1.0)
        fields = linear if large is None else large
        self.shown[direction] = sign * fields.deflection[pair.bead.nodes]
        return pressure_result(self.pane, direction, pressure, linear, large)

    def linear(self, *, pull: bool) -> Fields:
        """Linear fields for 1 MPa; with ``pull`` that of the middle plane that comes with them."""
        return self._pulled if pull else self._unpulled

    @cached_property
    def _unpulled(self) -> Fields:
        places = self.pair.bead.places
        centre = self.unit.at_place(*self.pair.centre)
        return linear_fields(self.unit, places, centre, self.peak.moment, np.zeros((len(places.triangle), 2)))

    @cached_property
    def _pulled(self) -> Fields:
        followed = self.pair.large.followed(self.rough.unknown, self.rough.load)
        return replace(self._unpulled, pull=pull_at(followed, self.pair.before))

    def _large(self, linear: Fields, amount: float) -> Fields | None:
        """Fields of large deflection at an amount, MPa; None where no balance was found."""
        pair = self.pair
        rough = times(self.rough, amount)
        found = pair.large.solved(self.load(pair.coarse) * amount, rough.unknown, rough.load)
        if found is None:
            return None
        fields = corrected(linear, rough, found, pair.before, self.peak.parents, pair.centre)
        carried = float(pair.bead.stiffness * fields.at_places @ pair.bead.area) / fields.load
        if abs(carried - 1.0) > UNBALANCED:
            return None
        return replace(fields, at_places=fields.at_places / carried)

    def stress_map(self) -> StressMap:
        """The bead's own points and triangles, with the stress at both pressures."""
        bead = self.pair.bead
        number = np.full(len(bead.mesh.points), -1, dtype=np.int64)
        number[bead.nodes] = np.arange(len(bead.nodes))
        arrays = (
            bead.mesh.points[bead.nodes],
            number[bead.mesh.triangles[bead.band]],
            self.shown["outward"],
            self.shown["inward"],
        )
        for array in arrays:
            array.flags.writeable = False
        return StressMap(*arrays)

    def _error(self) -> ErrorEstimate:
        """A third of the change from the coarse to the fine mesh, over the peak; of the glass what its own mesh tells."""
        nodes = [np.unique(each.mesh.triangles[each.mesh.band]) for each in (self.rough, self.unit)]
        rough, fine = self.rough.deflection[nodes[0]], self.unit.deflection[nodes[1]]
        peak = max(float(np.max(fine)), -float(np.min(fine)))
        change = max(abs(float(np.max(fine) - np.max(rough))), abs(float(np.min(fine) - np.min(rough))))
        most, before = float(np.max(self.unit.deflection)), float(np.max(self.rough.deflection))
        return ErrorEstimate(change / peak / 3, abs(most - before) / most / 3, self.peak.error, self.peak.holds)


def _centroid(edge: Curve) -> tuple[float, float]:
    """Centre of area of the glass, from a polygon of fine chords."""
    ring = edge.point(edge.divided(edge.total / 2000, greatest_turn=math.radians(1)))
    following = np.roll(ring, -1, axis=0)
    crossed = ring[:, 0] * following[:, 1] - following[:, 0] * ring[:, 1]
    x, y = ((ring + following) * crossed[:, None]).sum(axis=0) / (3 * crossed.sum())
    return float(x), float(y)


__all__ = ["bond_stress", "sizes_for"]
