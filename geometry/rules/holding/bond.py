"""Stress in the bond and the width and thickness that keep it low enough.

Terms
-----
outward pressure
    Suction, slam rebound or water inside: it pulls the pane off the landing. kPa, from the engineer or the rule that governs.
inscribed radius
    Radius of the largest circle inside the glass outline, mm. The pane pulls hardest at the mid-sides nearest to its centre.
design tension, permanent stress
    What the engineer lets the bond carry for a short time and for good, MPa.
permanent load
    Weight the bond carries for good, N: the pane's own weight along the pane where no chock carries it, and the pull-off of a
    reverse rake.

Lengths are mm, areas mm², pressures kPa, stresses MPa (N/mm²).
"""

from __future__ import annotations

import math

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.units import (
    Kilopascals,
    Megapascals,
    Millimetres,
    MillimetresPerMetre,
    Newtons,
    NewtonsPerMillimetre,
    Ratio,
    SquareMillimetres,
)

KILOPASCAL = 1e-3
"""One kPa in MPa."""


@calculation(
    title="Bond width for outward pressure",
    formula="outward pressure × inscribed radius / design tension",
    unit="mm",
    source="trapezoidal rule of structural glazing (ASTM C1401, ETAG 002-1 Annex 2): half the short side; "
    "taken over the inscribed circle for any outline",
    status=Status.SECOND_HAND,
)
def width_for_pressure(*, outward_pressure: Kilopascals, inscribed_radius: Millimetres, design_tension: Megapascals) -> float:
    """Least bond width, mm, for an outward pressure in kPa and a design tension in MPa. Unrounded."""
    require.not_negative(outward_pressure=outward_pressure)
    require.positive(inscribed_radius=inscribed_radius, design_tension=design_tension)
    return outward_pressure * KILOPASCAL * inscribed_radius / design_tension


@calculation(
    title="Bond width for outward pressure, mean over the bead",
    formula="outward pressure × pane area / (design tension × bead length)",
    unit="mm",
    source="equilibrium of the pane",
    status=Status.DERIVED,
)
def width_for_mean_pressure(
    *, outward_pressure: Kilopascals, area: SquareMillimetres, bead_length: Millimetres, design_tension: Megapascals
) -> float:
    """Least bond width, mm, if the pull were even all round. Governs only on round panes."""
    require.not_negative(outward_pressure=outward_pressure)
    require.positive(area=area, bead_length=bead_length, design_tension=design_tension)
    return outward_pressure * KILOPASCAL * area / (design_tension * bead_length)


@calculation(
    title="Bond width for permanent load",
    formula="permanent load / (permanent stress × bead length)",
    unit="mm",
    source="mean shear over the whole bead, the practice of ASTM C1401",
    status=Status.FROM_MEMORY,
)
def width_for_permanent_load(*, permanent_load: Newtons, permanent_stress: Megapascals, bead_length: Millimetres) -> float:
    """Least bond width, mm, for a load in N the bond carries for good."""
    require.not_negative(permanent_load=permanent_load)
    require.positive(permanent_stress=permanent_stress, bead_length=bead_length)
    return permanent_load / (permanent_stress * bead_length)


@calculation(
    title="Permanent load on the bond",
    formula="√(weight along² + pull-off²): weight along counts 0 where the pane is chocked, a negative pull-off (pressing on the landing) counts 0",
    unit="N",
    source="vector sum of the two parts",
    status=Status.DERIVED,
)
def permanent_load(*, weight_along: Newtons, pull_off: Newtons, chocked: bool) -> float:
    """Load the bond carries for good, N. ``pull_off`` positive takes the pane off the landing; pressing on counts nothing."""
    require.not_negative(weight_along=weight_along)
    require.finite(pull_off=pull_off)
    return math.hypot(0.0 if chocked else weight_along, max(0.0, pull_off))


@calculation(
    title="Permanent stress allowed",
    formula="pull-off alone: permanent tension; pull-off and weight along on a pane that is not chocked: the smaller; else permanent shear",
    unit="MPa",
    source="the engineer's values for each; together the smaller is on the safe side",
    status=Status.DERIVED,
)
def permanent_limit(
    *, weight_along: Newtons, pull_off: Newtons, chocked: bool, permanent_shear: Megapascals, permanent_tension: Megapascals
) -> float:
    """What the permanent load on the bond is held against, MPa; the load is that of ``permanent_load``."""
    require.not_negative(weight_along=weight_along)
    require.finite(pull_off=pull_off)
    require.positive(permanent_shear=permanent_shear, permanent_tension=permanent_tension)
    sheared, pulled = weight_along > 0 and not chocked, pull_off > 1e-9
    if pulled:
        return min(permanent_shear, permanent_tension) if sheared else permanent_tension
    return permanent_shear


@calculation(
    title="Edge tension from outward pressure",
    formula="outward pressure × inscribed radius / bond width",
    unit="MPa",
    source="trapezoidal rule of structural glazing (ASTM C1401, ETAG 002-1 Annex 2)",
    status=Status.SECOND_HAND,
)
def edge_tension(*, outward_pressure: Kilopascals, inscribed_radius: Millimetres, bond_width: Millimetres) -> float:
    """Tension at the hardest-pulled place, MPa; ``bond_width`` is the width in contact there, mm."""
    require.not_negative(outward_pressure=outward_pressure)
    require.positive(inscribed_radius=inscribed_radius, bond_width=bond_width)
    return outward_pressure * KILOPASCAL * inscribed_radius / bond_width


@calculation(
    title="Edge tension of a round pane",
    formula="outward pressure × radius / (2 × bond width)",
    unit="MPa",
    source="equilibrium of a circular plate: edge reaction is pressure × radius / 2",
    status=Status.PUBLISHED,
)
def round_edge_tension(*, outward_pressure: Kilopascals, radius: Millimetres, bond_width: Millimetres) -> float:
    """Mean tension along the edge of a round pane of the given radius, MPa."""
    require.not_negative(outward_pressure=outward_pressure)
    require.positive(radius=radius, bond_width=bond_width)
    return outward_pressure * KILOPASCAL * radius / (2 * bond_width)


@calculation(
    title="Mean tension from outward pressure",
    formula="outward pressure × pane area / (bond width × bead length)",
    unit="MPa",
    source="equilibrium of the pane",
    status=Status.DERIVED,
)
def mean_tension(
    *, outward_pressure: Kilopascals, area: SquareMillimetres, bond_width: Millimetres, bead_length: Millimetres
) -> float:
    """Tension in the bond if the pull were even all round, MPa."""
    require.not_negative(outward_pressure=outward_pressure)
    require.positive(area=area, bond_width=bond_width, bead_length=bead_length)
    return outward_pressure * KILOPASCAL * area / (bond_width * bead_length)


@calculation(
    title="Tension from outward pressure",
    formula="larger of edge tension, outward pressure × inscribed radius / bond width (round pane: half of it), "
    "and mean tension, outward pressure × area / (bond width × bead length)",
    unit="MPa",
    source="trapezoidal rule of structural glazing and equilibrium of the pane",
    status=Status.SECOND_HAND,
)
def governing_tension(
    *,
    outward_pressure: Kilopascals,
    inscribed_radius: Millimetres,
    area: SquareMillimetres,
    bond_width: Millimetres,
    bead_length: Millimetres,
    round_pane: bool = False,
) -> float:
    """Tension to compare with the design tension, MPa; for the worst case give the contact width at the largest gap."""
    if round_pane:
        edge = round_edge_tension(outward_pressure=outward_pressure, radius=inscribed_radius, bond_width=bond_width)
    else:
        edge = edge_tension(outward_pressure=outward_pressure, inscribed_radius=inscribed_radius, bond_width=bond_width)
    mean = mean_tension(outward_pressure=outward_pressure, area=area, bond_width=bond_width, bead_length=bead_length)
    return max(edge, mean)


@calculation(
    title="Stress of a lasting load, all round",
    formula="load / (bond width × bead length)",
    unit="MPa",
    source="mean over the whole bead",
    status=Status.DERIVED,
)
def dead_load_shear(*, load: Newtons, bond_width: Millimetres, bead_length: Millimetres) -> float:
    """Mean stress of a load, N, that the whole bead carries: of the bond for good, or of the uncured bead; MPa."""
    require.not_negative(load=load)
    require.positive(bond_width=bond_width, bead_length=bead_length)
    return load / (bond_width * bead_length)


@calculation(
    title="Dead-load shear, vertical sides only",
    formula="weight along the pane / (2 × height × bond width)",
    unit="MPa",
    source="ETAG 002-1 Annex 2, unsupported systems",
    status=Status.FROM_MEMORY,
)
def dead_load_shear_on_sides(*, weight_along: Newtons, height: Millimetres, bond_width: Millimetres) -> float:
    """Shear in the bond without chocks when only the upright sides are counted, MPa."""
    require.not_negative(weight_along=weight_along)
    require.positive(height=height, bond_width=bond_width)
    return weight_along / (2 * height * bond_width)


@calculation(
    title="Permanent tension from the pane's own weight",
    formula="pull-off / (bond width × bead length)",
    unit="MPa",
    source="mean tension over the whole bead",
    status=Status.DERIVED,
)
def dead_load_tension(*, pull_off: Newtons, bond_width: Millimetres, bead_length: Millimetres) -> float:
    """Tension in the bond, MPa, positive off the landing (reverse rake), negative pressing on it."""
    require.finite(pull_off=pull_off)
    require.positive(bond_width=bond_width, bead_length=bead_length)
    return pull_off / (bond_width * bead_length)


@calculation(
    title="Bond thickness for a movement",
    formula="movement / shear strain allowed",
    unit="mm",
    source="shear strain is movement over thickness; 0.5 stretches the bead's diagonal by about 12 %",
    status=Status.COMMON_PRACTICE,
)
def thickness_for_movement(*, movement: Millimetres, shear_strain: Ratio) -> float:
    """Least bond thickness, mm, that keeps the shear strain of a movement (mm) at or below ``shear_strain``."""
    require.not_negative(movement=movement)
    require.positive(shear_strain=shear_strain)
    return movement / shear_strain


@calculation(
    title="Bond thickness for proportion",
    formula="bond width / 3",
    unit="mm",
    source="ETAG 002-1 Annex 2: the width is between one and three times the thickness",
    status=Status.FROM_MEMORY,
)
def thickness_for_proportion(*, bond_width: Millimetres, widest: Ratio) -> float:
    """Least bond thickness, mm, for a bead at most ``widest`` times as wide as it is thick."""
    require.positive(bond_width=bond_width, widest=widest)
    return bond_width / widest


@calculation(
    title="Bond thickness for flatness",
    formula="spacer tolerance + landing flatness + bow between two spacers + least thickness anywhere",
    unit="mm",
    source="nowhere under 2 mm when landing and pane are as bad as they may be",
    status=Status.COMMON_PRACTICE,
)
def thickness_for_flatness(
    *,
    bow_between_spacers: Millimetres,
    spacer_tolerance: Millimetres,
    landing_flatness: Millimetres,
    least_anywhere: Millimetres,
) -> float:
    """Least bond thickness, mm, that leaves ``least_anywhere`` mm at the tightest place."""
    require.not_negative(bow_between_spacers=bow_between_spacers, spacer_tolerance=spacer_tolerance)
    require.not_negative(landing_flatness=landing_flatness, least_anywhere=least_anywhere)
    return spacer_tolerance + landing_flatness + bow_between_spacers + least_anywhere


@calculation(
    title="Bond thickness for the pane's length",
    formula="1 mm for each metre of the longest side + 3 mm",
    unit="mm",
    source="rule of thumb of the fitting shop",
    status=Status.COMMON_PRACTICE,
)
def thickness_for_length(*, longest_side: Millimetres, per_metre: MillimetresPerMetre, base: Millimetres) -> float:
    """Least bond thickness, mm, by the length of the longest side, mm."""
    require.positive(longest_side=longest_side)
    require.not_negative(per_metre=per_metre, base=base)
    return per_metre * longest_side / 1000 + base


@calculation(
    title="Contact width for a tension",
    formula="contact width × tension / design tension",
    unit="mm",
    source="the tension falls as the contact width grows",
    status=Status.DERIVED,
)
def contact_for_tension(*, contact_width: Millimetres, tension: Megapascals, design_tension: Megapascals) -> float:
    """Contact width, mm, that brings a tension found at one contact width down to the design tension (both MPa)."""
    require.positive(contact_width=contact_width, design_tension=design_tension)
    require.not_negative(tension=tension)
    return contact_width * tension / design_tension


@calculation(
    title="Notch height for a contact width",
    formula="contact wider than the notch: 2 × contact width × gap / notch width; else gap × (1 + contact width / notch width)",
    unit="mm",
    source="contact width on the landing at a gap, solved for the height of the notch",
    status=Status.DERIVED,
)
def notch_height_for_contact(*, contact_width: Millimetres, gap: Millimetres, notch_width: Millimetres) -> float:
    """Height of the uncured bead, mm, that wets ``contact_width`` mm where the faces stand ``gap`` mm apart. Unrounded."""
    require.positive(contact_width=contact_width, gap=gap, notch_width=notch_width)
    if contact_width >= notch_width:
        return 2 * contact_width * gap / notch_width
    return gap * (1 + contact_width / notch_width)


@calculation(
    title="Gap for a contact width",
    formula="contact wider than the notch: bead section / contact width; else notch height / (1 + contact width / notch width)",
    unit="mm",
    source="contact width on the landing at a gap, solved for the gap",
    status=Status.DERIVED,
)
def gap_for_contact(*, contact_width: Millimetres, notch_width: Millimetres, notch_height: Millimetres) -> float:
    """Widest gap, mm, at which the bead still wets ``contact_width`` mm."""
    require.positive(contact_width=contact_width, notch_width=notch_width, notch_height=notch_height)
    if contact_width >= notch_width:
        return notch_width * notch_height / 2 / contact_width
    return notch_height / (1 + contact_width / notch_width)


@calculation(
    title="Modulus of the bead across its thickness",
    formula="4 × shear modulus × (1 + (bond width / (2 × bond thickness))²)",
    unit="MPa",
    source="long strip of soft rubber held on both faces (Gent and Lindley): it keeps its volume and cannot spread, so that it is "
    "several times stiffer than Young's modulus; stiffer than the true bead where the pull changes within a bond width",
    status=Status.FROM_MEMORY,
)
def tension_modulus(*, shear_modulus: Megapascals, bond_width: Millimetres, bond_thickness: Millimetres) -> float:
    """Modulus across the thickness, MPa, of a bead whose adhesive gives the shear modulus only, MPa; lengths mm.

    On the safe side for tension: the stiffer the bead, the more of the load it gathers where the pane pulls hardest.
    """
    require.positive(shear_modulus=shear_modulus, bond_width=bond_width, bond_thickness=bond_thickness)
    return 4 * shear_modulus * (1 + (bond_width / (2 * bond_thickness)) ** 2)


@calculation(
    title="Tension across the bead at a place",
    formula="reaction / bond width",
    unit="MPa",
    source="mean across the width of the bead",
    status=Status.DERIVED,
)
def band_tension(*, reaction: NewtonsPerMillimetre, bond_width: Millimetres) -> float:
    """Mean stress across the bead, MPa, of a reaction in N for each mm of bead; tension positive."""
    require.finite(reaction=reaction)
    require.positive(bond_width=bond_width)
    return reaction / bond_width


@calculation(
    title="Extra strain at the edge of the bead",
    formula="(peak - mean across the bead, at least 0) / modulus across the thickness; peak: the greatest stress",
    unit="",
    source="elastic bead under the bent pane",
    status=Status.DERIVED,
)
def edge_strain(*, peak: Megapascals, mean: Megapascals, modulus: Megapascals) -> float:
    """Strain, as a share, that the bend of the pane adds at the edge of the bead; stresses and modulus in MPa."""
    require.finite(peak=peak, mean=mean)
    require.positive(modulus=modulus)
    return max(0.0, peak - mean) / modulus


@calculation(
    title="Deflection over thickness",
    formula="deflection / effective thickness",
    unit="",
    source="thin plates: beyond half the thickness the plate stretches and bends less than linear theory says",
    status=Status.PUBLISHED,
)
def deflection_share(*, deflection: Millimetres, thickness: Millimetres) -> float:
    """Deflection as a share of the effective thickness, both mm."""
    require.not_negative(deflection=deflection)
    require.positive(thickness=thickness)
    return deflection / thickness


__all__ = [
    "KILOPASCAL",
    "band_tension",
    "contact_for_tension",
    "dead_load_shear",
    "dead_load_shear_on_sides",
    "dead_load_tension",
    "deflection_share",
    "edge_strain",
    "edge_tension",
    "gap_for_contact",
    "governing_tension",
    "mean_tension",
    "notch_height_for_contact",
    "permanent_limit",
    "permanent_load",
    "round_edge_tension",
    "tension_modulus",
    "thickness_for_flatness",
    "thickness_for_length",
    "thickness_for_movement",
    "thickness_for_proportion",
    "width_for_mean_pressure",
    "width_for_permanent_load",
    "width_for_pressure",
]
