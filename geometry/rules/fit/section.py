"""The cross-section of the joint, cut square to the glass edge.

Terms
-----
landing
    The face of the frame the pane is bonded to; its width counts from the recess wall.
recess depth
    From the landing to the outer skin, square to the landing.
proud
    How far the outer face stands out of the skin; negative is sunk.
set-back
    From the glass edge to the outer edge of the bead.
inner margin
    From the inner edge of the bead to the edge of the landing.
bond width, bond thickness
    The bead after pressing, along the glass and square to it.
V-notch
    The V cut in the nozzle. The uncured bead is a triangle: base on the glass, apex towards the landing.
squeeze-out
    What the pressed bead flows beyond its nominal width, each side.

All lengths are mm, sections mm².
"""

from __future__ import annotations

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.units import Millimetres, MillimetresPerMetre, Ratio, SquareMillimetres

TIGHTEST_SHARE = 0.1
"""Of the bond thickness: no tolerance leaves less between glass and landing; this project's own."""


@calculation(
    title="Recess depth",
    formula="bond thickness + glass thickness - proud",
    unit="mm",
    source="geometry of the section",
    status=Status.DERIVED,
)
def recess_depth(*, bond_thickness: Millimetres, glass_thickness: Millimetres, proud: Millimetres = 0.0) -> float:
    """Depth of the recess, mm, that leaves the pane ``proud`` of the skin (negative: sunk)."""
    require.positive(bond_thickness=bond_thickness, glass_thickness=glass_thickness)
    require.finite(proud=proud)
    return bond_thickness + glass_thickness - proud


@calculation(
    title="Proud or sunk",
    formula="bond thickness + glass thickness - recess depth",
    unit="mm",
    source="geometry of the section",
    status=Status.DERIVED,
)
def proud(*, bond_thickness: Millimetres, glass_thickness: Millimetres, recess_depth: Millimetres) -> float:
    """How far the outer face stands out of the skin, mm; negative is sunk."""
    require.positive(bond_thickness=bond_thickness, glass_thickness=glass_thickness, recess_depth=recess_depth)
    return bond_thickness + glass_thickness - recess_depth


@calculation(
    title="Bead centre from the glass edge",
    formula="set-back + bond width / 2",
    unit="mm",
    source="geometry of the section",
    status=Status.DERIVED,
)
def bead_centre(*, set_back: Millimetres, bond_width: Millimetres) -> float:
    """From the glass edge to the centre line of the bead, mm: the fitter's gauge distance."""
    require.not_negative(set_back=set_back)
    require.positive(bond_width=bond_width)
    return set_back + bond_width / 2


@calculation(
    title="Inner margin of the landing",
    formula="landing - joint width - set-back - bond width",
    unit="mm",
    source="geometry of the section",
    status=Status.DERIVED,
)
def inner_margin(*, landing: Millimetres, joint_width: Millimetres, set_back: Millimetres, bond_width: Millimetres) -> float:
    """From the inner edge of the bead to the edge of the landing, mm; negative: the bead hangs over the edge."""
    require.finite(landing=landing, joint_width=joint_width, set_back=set_back, bond_width=bond_width)
    return landing - joint_width - set_back - bond_width


@calculation(
    title="Frit beyond the landing",
    formula="joint width + frit width - landing",
    unit="mm",
    source="geometry of the section",
    status=Status.DERIVED,
)
def frit_beyond_landing(*, joint_width: Millimetres, frit_width: Millimetres, landing: Millimetres) -> float:
    """How far the frit reaches past the edge of the landing, mm; negative: the landing is seen through the glass."""
    require.finite(joint_width=joint_width, frit_width=frit_width, landing=landing)
    return joint_width + frit_width - landing


@calculation(
    title="Section of the uncured bead",
    formula="notch width × notch height / 2",
    unit="mm²",
    source="area of a triangle",
    status=Status.DERIVED,
)
def uncured_bead_area(*, notch_width: Millimetres, notch_height: Millimetres) -> float:
    """Section of the triangular bead as it is laid, mm²."""
    require.positive(notch_width=notch_width, notch_height=notch_height)
    return notch_width * notch_height / 2


@calculation(
    title="Notch width",
    formula="2 × bond width / times, the times 3: two thirds of the bond width",
    unit="mm",
    source="shop rule; with the height of as many bond thicknesses it gives the pressed section exactly",
    status=Status.DERIVED,
)
def notch_width(*, bond_width: Millimetres, times: Ratio) -> float:
    """Width of the V notch, mm, equal to the base of an uncured bead ``times`` bond thicknesses high."""
    require.positive(bond_width=bond_width, times=times)
    return bond_width * 2 / times


@calculation(
    title="Notch height",
    formula="times × bond thickness, the times 3",
    unit="mm",
    source="shop rule; with the width that belongs to it it gives the pressed section exactly",
    status=Status.DERIVED,
)
def notch_height(*, bond_thickness: Millimetres, times: Ratio) -> float:
    """Height of the V notch, mm, equal to the height of the uncured bead."""
    require.positive(bond_thickness=bond_thickness, times=times)
    return times * bond_thickness


@calculation(
    title="Notch height for a given notch width",
    formula="2 × bond width × bond thickness / notch width",
    unit="mm",
    source="equal sections before and after pressing",
    status=Status.DERIVED,
)
def notch_height_for(*, bond_width: Millimetres, bond_thickness: Millimetres, notch_width: Millimetres) -> float:
    """Height of the notch, mm, that fills bond width × bond thickness from a notch of the given width."""
    require.positive(bond_width=bond_width, bond_thickness=bond_thickness, notch_width=notch_width)
    return 2 * bond_width * bond_thickness / notch_width


@calculation(
    title="Contact width on the landing at a gap",
    formula="gap up to half the notch height: notch width × notch height / (2 × gap); up to the notch height: notch width × (notch height / gap - 1)",
    unit="mm",
    source="constant section; between half and full height the bead is a trapezoid whose tip is not yet flat",
    status=Status.DERIVED,
)
def contact_width(*, gap: Millimetres, notch_width: Millimetres, notch_height: Millimetres) -> float:
    """Width the bead wets on the second face, mm, where the faces stand ``gap`` mm apart. 0 means a leak."""
    require.positive(gap=gap, notch_width=notch_width, notch_height=notch_height)
    if gap <= notch_height / 2:
        return notch_width * notch_height / 2 / gap
    if gap < notch_height:
        return notch_width * (notch_height / gap - 1)
    return 0.0


@calculation(
    title="Largest bond gap",
    formula="bond thickness + spacer tolerance + landing flatness + bow share × bow",
    unit="mm",
    source="sum of the worst cases; the rest of the bow is pressed out by hand",
    status=Status.COMMON_PRACTICE,
)
def largest_gap(
    *,
    bond_thickness: Millimetres,
    spacer_tolerance: Millimetres,
    landing_flatness: Millimetres,
    bow: Millimetres,
    bow_share: Ratio,
) -> float:
    """Widest place between glass and landing, mm. ``bow`` is that of the pane over its bonded side, mm."""
    require.positive(bond_thickness=bond_thickness)
    require.not_negative(spacer_tolerance=spacer_tolerance, landing_flatness=landing_flatness, bow=bow, bow_share=bow_share)
    return bond_thickness + spacer_tolerance + landing_flatness + bow_share * bow


@calculation(
    title="Bow of the pane over its longest side",
    formula="bow (for each metre) × length",
    unit="mm",
    source="an even bow, told for each metre of the longest side",
    status=Status.DERIVED,
)
def bow_over_length(*, bow: MillimetresPerMetre, length: Millimetres) -> float:
    """How far a pane ``length`` mm long is off flat, mm."""
    require.not_negative(bow=bow)
    require.positive(length=length)
    return bow * length / 1000


@calculation(
    title="Bow of the pane between two spacers",
    formula="bow × smaller of (pitch / length)² and bow share",
    unit="mm",
    source="an even bow falls with the square of the length between two supports; on a pane no longer than the pitch the part of its "
    "bow that is not pressed out",
    status=Status.DERIVED,
)
def bow_between_spacers(*, bow: Millimetres, pitch: Millimetres, length: Millimetres, bow_share: Ratio) -> float:
    """How far a pane bowed by ``bow`` mm over ``length`` mm may stand nearer to the landing between spacers ``pitch`` mm apart."""
    require.positive(pitch=pitch, length=length)
    require.not_negative(bow=bow, bow_share=bow_share)
    return bow * min((pitch / length) ** 2, bow_share)


@calculation(
    title="Least bond gap",
    formula="bond thickness - spacer tolerance - landing flatness - bow between spacers, at least a tenth of the bond thickness",
    unit="mm",
    source="difference of the worst cases between the spacers, which hold the pane off; a tenth stands so that a tolerance as large as "
    "the bond still has a gap to flow from",
    status=Status.COMMON_PRACTICE,
)
def tightest_gap(
    *, bond_thickness: Millimetres, spacer_tolerance: Millimetres, landing_flatness: Millimetres, bow_between_spacers: Millimetres
) -> float:
    """Tightest place between glass and landing, mm. It never grows as a tolerance grows: a worse tolerance never passes more."""
    require.positive(bond_thickness=bond_thickness)
    require.not_negative(spacer_tolerance=spacer_tolerance, landing_flatness=landing_flatness)
    require.not_negative(bow_between_spacers=bow_between_spacers)
    left = bond_thickness - spacer_tolerance - landing_flatness - bow_between_spacers
    return max(bond_thickness * TIGHTEST_SHARE, left)


@calculation(
    title="Squeeze-out",
    formula="(bead area / least gap - bond width) / 2",
    unit="mm",
    source="constant section of the bead",
    status=Status.DERIVED,
)
def squeeze_out(*, bead_area: SquareMillimetres, least_gap: Millimetres, bond_width: Millimetres) -> float:
    """What the bead flows beyond its nominal width, each side, mm; 0 where it does not fill the width."""
    require.positive(bead_area=bead_area, least_gap=least_gap, bond_width=bond_width)
    return max(0.0, (bead_area / least_gap - bond_width) / 2)


@calculation(
    title="Free height of a spacer",
    formula="bond thickness / (1 - squeeze)",
    unit="mm",
    source="the spacer is squeezed to the bond thickness when the pane is pressed home",
    status=Status.DERIVED,
)
def spacer_height(*, bond_thickness: Millimetres, squeeze: Ratio) -> float:
    """Height of the spacer before pressing, mm. ``squeeze`` is the share of its height it gives, usually 0.05 to 0.10."""
    require.positive(bond_thickness=bond_thickness)
    require.between(0, 0.5, squeeze=squeeze)
    return bond_thickness / (1 - squeeze)


__all__ = [
    "bead_centre",
    "bow_between_spacers",
    "bow_over_length",
    "contact_width",
    "frit_beyond_landing",
    "inner_margin",
    "largest_gap",
    "notch_height",
    "notch_height_for",
    "notch_width",
    "proud",
    "recess_depth",
    "spacer_height",
    "squeeze_out",
    "tightest_gap",
    "uncured_bead_area",
]
