"""The opaque ceramic band that keeps daylight off the bead.

Terms
-----
frit width
    From the glass edge to the inner edge of the print, fade included.
fade
    Dots that thin out inside the band. They protect nothing.
solid frit
    Frit width less fade.
print depth
    Distance of the print from the bond face: 0 where the print lies on it.
parallax
    Sideways travel of a ray inside the glass: it can pass beside a print and still strike the bead behind.

Lengths are mm, angles degrees.
"""

from __future__ import annotations

import math

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.units import Degrees, Millimetres, Ratio

GRAZING = 90.0
"""Incidence of light that just strikes in along the face, °: the worst there is."""


@calculation(
    title="Parallax of a ray in glass",
    formula="depth × tan(asin(sin(angle of incidence) / refractive index))",
    unit="mm",
    source="law of refraction; refractive index 1.52 of soda-lime glass from memory, unless the job gives it",
    status=Status.DERIVED,
)
def parallax(*, depth: Millimetres, incidence: Degrees, refractive_index: Ratio) -> float:
    """Sideways travel, mm, of a ray through ``depth`` mm of glass; ``incidence`` from the normal, 90° is grazing."""
    require.not_negative(depth=depth)
    require.between(0, 90, incidence=incidence)
    require.inside(1, 4, refractive_index=refractive_index)
    return depth * math.tan(math.asin(math.sin(math.radians(incidence)) / refractive_index))


@calculation(
    title="Frit needed for twice the bond",
    formula="factor × bond width",
    unit="mm",
    source="rule of the fitting shop",
    status=Status.COMMON_PRACTICE,
)
def frit_for_twice_the_bond(*, bond_width: Millimetres, factor: Ratio) -> float:
    """Solid frit, mm from the glass edge, by the rule of twice the bond width; ``factor`` is an office's own in place of 2."""
    require.positive(bond_width=bond_width, factor=factor)
    return factor * bond_width


@calculation(
    title="Frit needed to cover the bead",
    formula="set-back + bond width + squeeze out + margin + parallax of the print: print depth × tan(asin(1 / refractive index))",
    unit="mm",
    source="the inner flank of the bead stays in shade at grazing light",
    status=Status.DERIVED,
)
def frit_for_cover(
    *,
    set_back: Millimetres,
    bond_width: Millimetres,
    squeeze_out: Millimetres,
    print_depth: Millimetres = 0.0,
    margin: Millimetres,
    refractive_index: Ratio,
) -> float:
    """Solid frit, mm from the glass edge, that covers the bead and its squeeze-out. ``margin`` inside it is common practice."""
    require.not_negative(set_back=set_back, squeeze_out=squeeze_out, print_depth=print_depth, margin=margin)
    require.positive(bond_width=bond_width)
    return (
        set_back
        + bond_width
        + squeeze_out
        + parallax(depth=print_depth, incidence=GRAZING, refractive_index=refractive_index)
        + margin
    )


@calculation(
    title="Frit wanted inside the squeeze-out",
    formula="margin + parallax of the print: print depth × tan(asin(1 / refractive index))",
    unit="mm",
    source="law of refraction at grazing light; the margin is common practice",
    status=Status.DERIVED,
)
def cover_margin(*, print_depth: Millimetres = 0.0, margin: Millimetres, refractive_index: Ratio) -> float:
    """Solid frit that has to lie inside the squeeze-out, mm, so that no ray strikes the bead behind it."""
    require.not_negative(print_depth=print_depth, margin=margin)
    return parallax(depth=print_depth, incidence=GRAZING, refractive_index=refractive_index) + margin


@calculation(
    title="Solid frit",
    formula="frit width - fade",
    unit="mm",
    source="a thinning pattern of dots protects nothing",
    status=Status.COMMON_PRACTICE,
)
def solid_frit(*, frit_width: Millimetres, fade: Millimetres = 0.0) -> float:
    """Part of the frit that counts, mm from the glass edge."""
    require.not_negative(frit_width=frit_width, fade=fade)
    if fade > frit_width:
        raise ValueError(f"fade: found {fade:g}, allowed: 0 to the frit width {frit_width:g}")
    return frit_width - fade


@calculation(
    title="Solid frit at the worst print",
    formula="solid frit - print tolerance",
    unit="mm",
    source="worst case of the place of the print",
    status=Status.DERIVED,
)
def solid_at_worst_print(*, solid: Millimetres, print_tolerance: Millimetres) -> float:
    """What of the solid frit is left, mm from the glass edge, where the print lies as far out as it may."""
    require.not_negative(solid=solid, print_tolerance=print_tolerance)
    return solid - print_tolerance


@calculation(
    title="Solid frit of a print that comes out small",
    formula="at worst (solid frit at the worst print) - size tolerance (of the print) / 2",
    unit="mm",
    source="worst case, sum: one edge strays by half of what the whole print may lack",
    status=Status.DERIVED,
)
def solid_of_small_print(*, at_worst: Millimetres, size_tolerance: Millimetres) -> float:
    """Solid frit, mm, where the print stands at its worst place and its size is against it as well."""
    require.not_negative(size_tolerance=size_tolerance)
    return at_worst - size_tolerance / 2


@calculation(
    title="Frit needed to hide the landing",
    formula="landing - joint width + bond thickness",
    unit="mm",
    source="seen at 45° the edge of the landing lies one bond thickness further in",
    status=Status.DERIVED,
)
def frit_to_hide_landing(*, landing: Millimetres, joint_width: Millimetres, bond_thickness: Millimetres) -> float:
    """Frit width, mm from the glass edge, that hides the edge of the landing from a viewer at 45°.

    A joint below zero is glass that overlaps the wall of a recess too small for it.
    """
    require.positive(landing=landing, bond_thickness=bond_thickness)
    require.finite(joint_width=joint_width)
    return landing - joint_width + bond_thickness


@calculation(
    title="Protection needed on the outer face",
    formula="largest of factor × bond width and set-back + bond width + placing error + parallax of the whole glass: "
    "glass thickness × tan(asin(1 / refractive index))",
    unit="mm",
    source="a tape or paint on the weather face is a glass thickness away from the bead",
    status=Status.DERIVED,
)
def outer_protection_needed(
    *,
    set_back: Millimetres,
    bond_width: Millimetres,
    glass_thickness: Millimetres,
    placing_error: Millimetres,
    factor: Ratio,
    refractive_index: Ratio,
) -> float:
    """How far in from the glass edge a tape or paint on the outer face must reach, mm; ``factor`` times the bond at least."""
    require.not_negative(set_back=set_back, placing_error=placing_error)
    require.positive(bond_width=bond_width, glass_thickness=glass_thickness, factor=factor)
    sideways = parallax(depth=glass_thickness, incidence=GRAZING, refractive_index=refractive_index)
    return max(factor * bond_width, set_back + bond_width + sideways + placing_error)


@calculation(
    title="Frit corner radius",
    formula="bead corner radius - (frit width - bead centre), but at least the least radius",
    unit="mm",
    source="parallel to the bead; under 5 mm a print looks ragged",
    status=Status.COMMON_PRACTICE,
)
def frit_corner_radius(
    *, bead_corner_radius: Millimetres, frit_width: Millimetres, bead_centre: Millimetres, least: Millimetres
) -> float:
    """Radius of the frit's inner edge in a corner, mm."""
    require.not_negative(bead_corner_radius=bead_corner_radius, frit_width=frit_width, bead_centre=bead_centre, least=least)
    return max(least, bead_corner_radius - (frit_width - bead_centre))


@calculation(
    title="Reach of a protection on the outer face",
    formula="width - width lost at the glass edge",
    unit="mm",
    source="paint begins at the glass edge; a tape loses what is trimmed or lifts at the edge",
    status=Status.COMMON_PRACTICE,
)
def outer_protection_reach(*, width: Millimetres, lost: Millimetres = 0.0) -> float:
    """How far in from the glass edge a paint or tape on the outer face reaches, mm; compare with what is needed there."""
    require.positive(width=width)
    require.not_negative(lost=lost)
    return width - lost


@calculation(
    title="Protection on the outer face that hides the landing",
    formula="landing - joint width + bond thickness + parallax of the whole glass at 45°: "
    "glass thickness × tan(asin(sin 45° / refractive index))",
    unit="mm",
    source="seen at 45° through the glass, law of refraction; refractive index 1.52 of soda-lime glass from memory",
    status=Status.DERIVED,
)
def outer_protection_to_hide_landing(
    *,
    landing: Millimetres,
    joint_width: Millimetres,
    bond_thickness: Millimetres,
    glass_thickness: Millimetres,
    refractive_index: Ratio,
) -> float:
    """Width, mm from the glass edge, of a paint or tape on the outer face that hides the edge of the landing at 45°."""
    hidden = frit_to_hide_landing(landing=landing, joint_width=joint_width, bond_thickness=bond_thickness)
    return hidden + parallax(depth=glass_thickness, incidence=45.0, refractive_index=refractive_index)


__all__ = [
    "GRAZING",
    "cover_margin",
    "frit_corner_radius",
    "frit_for_cover",
    "frit_for_twice_the_bond",
    "frit_to_hide_landing",
    "outer_protection_needed",
    "outer_protection_reach",
    "outer_protection_to_hide_landing",
    "parallax",
    "solid_at_worst_print",
    "solid_frit",
    "solid_of_small_print",
]
