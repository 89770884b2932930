"""Closed forms and rules of published texts that the program itself does not use: what the checks of this folder compare with.

Lengths mm, forces N, stresses and moduli MPa, pressures kPa, angles degrees, temperatures °C, areas mm², volumes ml.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from geometry.rules import require, tolerance
from geometry.rules.day.climate import vapour_pressure
from geometry.rules.day.cure import STANDARD_AIR, STANDARD_HUMIDITY
from geometry.rules.fit.frit import GRAZING, frit_for_cover, frit_for_twice_the_bond, parallax
from geometry.rules.holding.bond import KILOPASCAL
from geometry.rules.holding.chocks import Contact, block_forces
from geometry.rules.holding.pane_bending import aspect_of, between_aspects, stress_factor
from geometry.rules.holding.thermal import ThermalCase
from geometry.rules.materials import GLASS_POISSON
from geometry.rules.materials import GLASS_REFRACTIVE_INDEX as REFRACTIVE_INDEX

_EDGE = (0.420, 0.455, 0.478, 0.491, 0.499, 0.503, 0.505, 0.502, 0.501, 0.500)
HAND_CASES = (
    ThermalCase("hot soak", 60.0, 60.0),
    ThermalCase("sun on the glass", 30.0, 65.0),
    ThermalCase("frost night", -10.0, -10.0),
)
"""The cases in which the hand tables of the invented vessel were worked, bonded at 15 °C; common practice, no source."""


def cure_rate_by_vapour(*, air: float, humidity: float, standard_rate: float = 3.0) -> float:
    """Cured depth of the first day, mm, if only the moisture of the air counted.

    Source: Comyn, Moisture cure of adhesives and sealants (1998), from memory; effect of heat on the rubber left out.
    """
    require.positive(standard_rate=standard_rate)
    standard = vapour_pressure(air=STANDARD_AIR, humidity=STANDARD_HUMIDITY)
    return standard_rate * math.sqrt(vapour_pressure(air=air, humidity=humidity) / standard)


def bead_from_pack(*, bead_area: float, pack: float = 600.0, pack_yield: float = 0.95) -> float:
    """Length of bead one pack gives, mm: where the pack is changed.

    Source: 5 % stays in the pack (common practice, no source).
    """
    require.positive(bead_area=bead_area, pack=pack)
    require.between(0.1, 1, pack_yield=pack_yield)
    return pack * pack_yield / bead_area * 1000


def length_inside_smooth(*, perimeter: float, bead_centre: float) -> float:
    """Length of the centre line of a smooth convex pane, mm.

    Source: length of a parallel curve of a convex outline whose radii all exceed the distance.
    """
    require.positive(perimeter=perimeter)
    require.not_negative(bead_centre=bead_centre)
    length = perimeter - 2 * math.pi * bead_centre
    if length <= 0:
        raise ValueError(
            f"bead centre: found {bead_centre:g}, allowed: less than {perimeter / (2 * math.pi):g} on this perimeter"
        )
    return length


def length_inside_polygon(
    *, sharp_perimeter: float, bead_centre: float, interior_angles: Sequence[float], corner_radii: Sequence[float]
) -> float:
    """Length of the centre line of a polygon, mm; one interior angle (°) and one centre-line radius (mm) for each corner.

    Source: parallel polygon with rounded corners.
    """
    require.positive(sharp_perimeter=sharp_perimeter)
    require.not_negative(bead_centre=bead_centre)
    if len(interior_angles) != len(corner_radii):
        raise ValueError(f"corner radii: found {len(corner_radii)}, allowed: one for each of {len(interior_angles)} corners")
    length = sharp_perimeter
    for angle, radius in zip(interior_angles, corner_radii, strict=True):
        require.inside(0, 360, interior_angle=angle)
        require.not_negative(corner_radius=radius)
        turning = math.pi - math.radians(angle)
        length -= 2 * bead_centre * math.tan(turning / 2)
        length -= radius * (2 * math.tan(abs(turning) / 2) - abs(turning))
    return length


def frit_needed(
    *,
    set_back: float,
    bond_width: float,
    squeeze_out: float,
    print_depth: float = 0.0,
    print_tolerance: float = 2.0,
    margin: float = 2.0,
    factor: float = 2.0,
    refractive_index: float = REFRACTIVE_INDEX,
) -> float:
    """Solid frit to order, mm from the glass edge, print tolerance included; ``factor`` times the bond width at least.

    Source: both rules held at the worst position of the print (common practice, no source).
    """
    require.not_negative(print_tolerance=print_tolerance)
    cover = frit_for_cover(
        set_back=set_back,
        bond_width=bond_width,
        squeeze_out=squeeze_out,
        print_depth=print_depth,
        margin=margin,
        refractive_index=refractive_index,
    )
    return max(frit_for_twice_the_bond(bond_width=bond_width, factor=factor), cover) + print_tolerance


def tape_protects(
    *, tape_width: float, glass_thickness: float, inset: float = 2.0, refractive_index: float = REFRACTIVE_INDEX
) -> float:
    """How far in from the glass edge the bond face stays in shade, mm; ``inset`` is deducted as given.

    Source: law of refraction at grazing light.
    """
    require.positive(tape_width=tape_width, glass_thickness=glass_thickness)
    require.not_negative(inset=inset)
    return tape_width - inset - parallax(depth=glass_thickness, incidence=GRAZING, refractive_index=refractive_index)


def width_for_dead_load_on_sides(*, weight: float, height: float, permanent_stress: float) -> float:
    """Least bond width, mm, when only the two upright sides of length ``height`` are counted. On the safe side.

    Source: ETAG 002-1 Annex 2, unsupported systems, from memory.
    """
    require.not_negative(weight=weight)
    require.positive(height=height, permanent_stress=permanent_stress)
    return weight / (2 * height * permanent_stress)


def thickness_for_shear_stress(*, movement: float, shear_modulus: float, design_shear: float) -> float:
    """Least bond thickness, mm, that keeps the shear of a movement (mm) at or below ``design_shear`` MPa.

    Source: ETAG 002-1 Annex 2, thermal shear; shear modulus is a third of the tensile modulus, from memory.
    """
    require.not_negative(movement=movement)
    require.positive(shear_modulus=shear_modulus, design_shear=design_shear)
    return shear_modulus * movement / design_shear


def sample_test_pressure(*, bond_width: float, perimeter: float) -> float:
    """Inside pressure for a bonded sample plate, kPa.

    Source: ISO 12216, D.3.2.2 as quoted, bond area in m²; pushes the plate out.
    """
    require.positive(bond_width=bond_width, perimeter=perimeter)
    return 625 * bond_width * perimeter * 1e-6


def three_contacts(
    *, contacts: Sequence[Contact], weight: tuple[float, float], centroid: tuple[float, float]
) -> tuple[float, float, float]:
    """Forces of three frictionless contacts, N, in the order given; ``weight`` is its vector in the plane of the pane, N.

    Friction is ignored. Raises ``ValueError`` when the three cannot hold the pane: lines of push that all meet in one point
    or are parallel, or a force that would have to pull (the sentence names the contact).

    Source: balance of forces and moments; friction ignored.
    """
    if len(contacts) != 3:
        raise ValueError(f"contacts: found {len(contacts)}, allowed: 3")
    first, second, third = block_forces(contacts=contacts, weight=weight, centroid=centroid).forces
    forces = (first, second, third)
    slack = 1e-9 * math.hypot(*weight)
    for number, force in enumerate(forces, start=1):
        if force < -slack:
            raise ValueError(f"contact {number}: found a force of {force:.0f} N (it would have to pull), allowed: 0 or more")
    return forces


def angled_chock_force(*, weight_along: float, angle: float) -> float:
    """Force on each of two chocks whose push leans ``angle`` ° from upright, N.

    Source: balance of forces; friction ignored.
    """
    require.not_negative(weight_along=weight_along)
    require.inside(-90, 90, angle=angle)
    return weight_along / (2 * math.cos(math.radians(angle)))


def angled_chock_place(*, half_width: float, half_height: float, angle: float) -> tuple[float, float]:
    """Place of the right-hand chock from the centre of an ellipse or circle, mm, normal ``angle`` ° from straight down.

    Source: point of an ellipse with a given outward normal.
    """
    require.positive(half_width=half_width, half_height=half_height)
    require.between(-90, 90, angle=angle)
    across, down = math.sin(math.radians(angle)), math.cos(math.radians(angle))
    k = math.hypot(half_width * across, half_height * down)
    return half_width**2 * across / k, -(half_height**2) * down / k


def edge_factor(*, aspect: float) -> float:
    """Factor of the largest edge reaction, at the middle of the long side; ``aspect`` 1 or more.

    Source: Roark's Formulas for Stress and Strain, table 11.4 case 1a.
    """
    return between_aspects(aspect, _EDGE)


def bending_stress(*, pressure: float, short_side: float, long_side: float, thickness: float) -> float:
    """Largest bending stress, MPa, at a pressure in kPa.

    Source: Roark's Formulas for Stress and Strain, table 11.4 case 1a.
    """
    require.not_negative(pressure=pressure)
    require.positive(thickness=thickness)
    factor = stress_factor(aspect=aspect_of(short_side, long_side))
    return factor * pressure * KILOPASCAL * short_side**2 / thickness**2


def edge_reaction(*, pressure: float, short_side: float, long_side: float) -> float:
    """Reaction at the middle of the long side, N/mm.

    Source: Roark's Formulas for Stress and Strain, table 11.4 case 1a.
    """
    require.not_negative(pressure=pressure)
    return edge_factor(aspect=aspect_of(short_side, long_side)) * pressure * KILOPASCAL * short_side


def round_bending_stress(*, pressure: float, radius: float, thickness: float, poisson: float = GLASS_POISSON) -> float:
    """Bending stress at the centre, MPa.

    Source: circular plate, simply supported (Chen, Civil Engineering Handbook).
    """
    require.not_negative(pressure=pressure)
    require.positive(radius=radius, thickness=thickness)
    return 3 / 8 * (3 + poisson) * pressure * KILOPASCAL * radius**2 / thickness**2


def round_thickness_for_pressure(
    *, pressure: float, diameter: float, design_stress: float, poisson: float = GLASS_POISSON
) -> float:
    """Thickness of a round pane, mm, that keeps the bending stress at the design stress (MPa): for comparison only.

    Source: circular plate, simply supported, solved for the thickness.
    """
    require.not_negative(pressure=pressure)
    require.positive(diameter=diameter, design_stress=design_stress)
    return diameter * math.sqrt(3 / 32 * (3 + poisson) * pressure * KILOPASCAL / design_stress)


def jamb_change(*, strain: float, width: float) -> float:
    """Change of each jamb joint, mm; positive opens.

    Source: the pane is fixed at mid-width.
    """
    require.finite(strain=strain)
    require.positive(width=width)
    return strain * width / 2


def head_change(*, strain: float, height: float, chocked: bool) -> float:
    """Change of the head joint, mm; positive opens.

    Source: on chocks the whole height moves into the head.
    """
    require.finite(strain=strain)
    require.positive(height=height)
    return strain * height if chocked else strain * height / 2


def fibre_expansion(
    *, fibre_modulus: float, fibre_expansion: float, resin_modulus: float, resin_expansion: float, fibre_share: float
) -> float:
    """Expansion along the fibres, in the unit of the expansions given; moduli in one unit; ``fibre_share`` by volume.

    Source: Schapery's rule for one direction of fibres, from memory.
    """
    require.positive(fibre_modulus=fibre_modulus, resin_modulus=resin_modulus)
    require.finite(fibre_expansion=fibre_expansion, resin_expansion=resin_expansion)
    require.between(0, 1, fibre_share=fibre_share)
    resin_share = 1 - fibre_share
    pull = fibre_modulus * fibre_expansion * fibre_share + resin_modulus * resin_expansion * resin_share
    return pull / (fibre_modulus * fibre_share + resin_modulus * resin_share)


def joint_tolerance_likely(*, recess: float, pane: float, placing: float = tolerance.PLACING) -> float:
    """How far one side's joint is likely to stray, mm.

    Source: root of squares of independent deviations.
    """
    require.not_negative(recess=recess, pane=pane, placing=placing)
    return math.hypot(recess / 2, pane / 2, placing)
