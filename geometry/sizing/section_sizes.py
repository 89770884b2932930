"""Sizes that were left out, worked out by the rules, each with one sentence that says what governs.

Terms
-----
sized, candidate
    A size with its reason, and what one rule asks for: see ``geometry.sizing.governing``.
worst tolerances
    Every tolerance on its bad side at once. A size is the smallest that passes every check there.

The order in which a detail is worked out: joint width; bond width, bond thickness, notch and set-back together
(``geometry.sizing.bead_fitting``); landing, recess depth, frit, spacers, chocks, backfill, backer. All lengths mm unless a docstring
says otherwise.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.rules.fit import bead, frit, section
from geometry.rules.holding import chocks, joint
from geometry.rules.rounding import mm, number, up
from geometry.sizing.governing import Candidate, Sized, governed, largest

if TYPE_CHECKING:
    from geometry.job.limits import Limits

__all__ = [
    "Hidden",
    "Laid",
    "Print",
    "backer_diameter",
    "backfill_depth",
    "bead_corner_radius",
    "chock_backfill_over",
    "chock_length",
    "frit_corner_radius",
    "frit_width",
    "joint_width",
    "landing",
    "offset_to_clear_corner",
    "recess_depth",
    "set_back",
    "spacer_thickness",
    "width_for_stretch",
]


def width_for_stretch(*, opening: float, along: float, movement_class: float) -> float:
    """Least joint, mm, that an opening and a movement along the joint (mm) together stretch by no more than the class.

    The two strains are added, opening / width + (sqrt(width² + along²) / width - 1), which is on the safe side of the slanted
    length of the sealant.

    >>> width_for_stretch(opening=0.5, along=0.0, movement_class=0.25)
    2.0
    """
    grown = 1 + movement_class
    a, b, c = grown**2 - 1, opening * grown, opening**2 - along**2
    return (b + math.sqrt(max(0.0, b * b - a * c))) / a


def joint_width(
    *,
    opening: float,
    closing: float,
    along: float = 0.0,
    tolerance: float,
    movement_class: float,
    limits: Limits,
    more: Sequence[Candidate] = (),
) -> Sized:
    """Joint width from the largest opening, closing (mm, moisture swell included) and movement along it, and one side's tolerance.

    The share of the movement class that the limits allow may be used. Marked as outside where the joint is over their most at its
    widest, the tolerance added. ``more`` are further needs of the caller.
    """
    class_share, most, left = limits.sealant_look / 100, limits.joint_most, limits.joint_least
    used = movement_class * class_share
    moved = joint.joint_width_for_movement(movement=max(opening, closing), movement_class=used, tolerance=tolerance, least=0.0)
    stretched = width_for_stretch(opening=opening, along=along, movement_class=used) + tolerance
    share = "" if class_share == 1 else f" in {number(100 * class_share)} % of the sealant's class"
    candidates = [
        (f"movement{share} and tolerance", max(moved, stretched)),
        (f"{mm(left)} left at the worst tolerance", left + tolerance),
        ("room for nozzle and tool", limits.joint_for_tool),
        *more,
    ]
    found = governed(candidates, up(largest(candidates), limits.size_step))
    if found.value + tolerance > most + 1e-9:
        widest = f"{number(found.value + tolerance)} at the worst tolerance is over the {mm(most)} a joint usually has"
        return found.remarked(widest, outside=True)
    return found


def backfill_depth(
    *,
    joint_width: float,
    glass_thickness: float | None = None,
    edge_left: float,
    least: float,
    full_to: float,
    most: float,
) -> Sized:
    """Backfill depth from the joint width; on thin glass it stops ``edge_left`` short of the bond face, marked as outside."""
    depth = joint.backfill_depth(
        joint_width=joint_width, glass_thickness=math.inf, edge_left=0.0, least=least, full_to=full_to, most=most
    )
    shallow = depth
    if glass_thickness is not None:
        shallow = joint.backfill_depth(
            joint_width=joint_width,
            glass_thickness=glass_thickness,
            edge_left=edge_left,
            least=least,
            full_to=full_to,
            most=most,
        )
    if shallow < depth:
        return Sized(shallow, f"{mm(shallow)}: thin glass; the joint width would need {number(depth)}", outside=True)
    if depth == joint_width:
        return Sized(depth, f"{mm(depth)}: as deep as the joint is wide")
    if depth > joint_width:
        return Sized(depth, f"{mm(depth)}: the least backfill depth; the joint is {number(joint_width)} wide")
    return Sized(depth, f"{mm(depth)}: a wide joint is filled about half as deep as wide")


def set_back(
    *,
    spacer_width: float,
    frit_start: float,
    squeeze_out: float,
    beside_spacer: float,
    inside_frit_start: float,
    beyond_squeeze_out: float,
    step: float,
    more: Sequence[Candidate] = (),
) -> Sized:
    """From the glass edge to the bead: room for the spacers, for the print to begin and for the squeeze-out."""
    candidates = [
        ("the spacers stand outside the bead", spacer_width + beside_spacer),
        ("the unprinted edge before the frit", frit_start + inside_frit_start),
        ("the squeeze-out", squeeze_out + beyond_squeeze_out),
        *more,
    ]
    return governed(candidates, up(largest(candidates), step))


def offset_to_clear_corner(*, bisector_distance: float, interior_angle: float, radius: float, least_radius: float = 0.0) -> float:
    """Offset, mm, from which a parallel curve passes a corner ``bisector_distance`` mm inside the sharp corner.

    ``radius`` is that of the outline the curve runs parallel to; the curve's own radius is it less the offset, but at least
    ``least_radius``. ``interior_angle`` in degrees, less than 180.

    >>> round(offset_to_clear_corner(bisector_distance=14.142, interior_angle=90, radius=0), 3)
    10.0
    """
    half = math.sin(math.radians(interior_angle) / 2)
    unbonded = 1 / half - 1
    return min(half * (bisector_distance - least_radius * unbonded), bisector_distance - radius * unbonded)


def landing(
    *,
    joint_width: float,
    set_back: float,
    bond_width: float,
    squeeze_out: float,
    beyond_squeeze_out: float,
    least_margin: float,
    tolerance: float,
    joint_tolerance: float = 0.0,
    step: float,
    widest: bool = False,
    more: Sequence[Candidate] = (),
) -> Sized:
    """Landing that carries joint, set-back, bead and an inner margin with its own tolerance and that of the joint added.

    The bead lies on the glass, so where the pane sits at its worst it comes ``joint_tolerance`` nearer to the landing's edge.
    ``widest``: the joint is that of its widest place; ``more`` are further needs of the caller, counted from the recess wall.
    """
    margin = max(least_margin, squeeze_out + beyond_squeeze_out)
    straight = joint_width + set_back + bond_width + margin + tolerance + joint_tolerance
    named = largest(more) if more else 0.0
    value = up(max(straight, named), step)
    inside = value - joint_width - set_back - bond_width
    reason = (
        f"{mm(value)}: joint {number(joint_width)}{' at its widest' if widest else ''}, set-back {number(set_back)}, bond {number(bond_width)} "
        f"and {number(inside)} inside the bead"
    )
    if named > straight + 1e-9:
        reason += f"; {max(more, key=lambda need: need[1])[0]} governs, the straights would need {number(straight)}"
    elif joint_tolerance > 0:
        reason += f": squeeze-out and margin {number(margin)}, tolerances {number(tolerance + joint_tolerance)}"
    return Sized(value, reason)


def recess_depth(*, bond_thickness: float, glass_thickness: float, proud: float = 0.0) -> Sized:
    """Recess depth for a pane flush with the skin, or proud (positive) or sunk (negative)."""
    value = section.recess_depth(bond_thickness=bond_thickness, glass_thickness=glass_thickness, proud=proud)
    lie = "flush" if proud == 0 else f"{number(abs(proud))} {'proud' if proud > 0 else 'sunk'}"
    return Sized(value, f"{mm(value)}: bond {number(bond_thickness)} and glass {number(glass_thickness)}, {lie}")


@dataclass(frozen=True, slots=True)
class Laid:
    """The bead as it lies under the frit, mm; ``squeeze_out`` is that of the worst tolerances."""

    set_back: float
    bond_width: float
    bond_thickness: float
    squeeze_out: float


@dataclass(frozen=True, slots=True)
class Print:
    """How the frit is printed: ``depth`` of glass between print and bond face, ``tolerance`` of its place and ``fade``, mm."""

    depth: float
    tolerance: float
    fade: float
    refractive_index: float


@dataclass(frozen=True, slots=True)
class Hidden:
    """The landing that the frit is to hide, mm; ``stack``: print, joint and landing at their worst, together."""

    landing: float
    joint_width: float
    stack: float


def frit_width(bead: Laid, printed: Print, hidden: Hidden, *, limits: Limits, more: Sequence[Candidate] = ()) -> Sized:
    """Frit width from the glass edge, fade included, that covers the bead and hides the landing.

    Seen at 45° the landing is hidden as drawn; seen square on, also at the worst tolerances. ``more`` are further needs of solid
    frit, print tolerance not yet included.
    """
    times = limits.frit_to_bond
    cover = frit.frit_for_cover(
        set_back=bead.set_back,
        bond_width=bead.bond_width,
        squeeze_out=bead.squeeze_out,
        print_depth=printed.depth,
        margin=limits.frit_margin,
        refractive_index=printed.refractive_index,
    )
    name = "twice the bond" if times == 2 else f"{number(times)} times the bond"
    twice = frit.frit_for_twice_the_bond(bond_width=bead.bond_width, factor=times)
    tail = " and the print tolerance" + (f" with {number(printed.fade)} of fade" if printed.fade else "")
    solid = [(name, twice), ("cover of the bead", cover), *more]
    candidates = [(name + tail, size + printed.tolerance + printed.fade) for name, size in solid]
    landing, joint_width = hidden.landing, hidden.joint_width
    at_45 = frit.frit_to_hide_landing(landing=landing, joint_width=joint_width, bond_thickness=bead.bond_thickness)
    candidates.append(("hiding the landing", at_45))
    candidates.append(("hiding the landing at the worst tolerances", landing - joint_width + hidden.stack))
    return governed(candidates, up(largest(candidates), limits.size_step))


def spacer_thickness(*, bond_thickness: float, squeeze: float = 0.0) -> Sized:
    """Free height of the spacers; ``squeeze`` is the share they give under the press, 0 when it is not known."""
    value = section.spacer_height(bond_thickness=bond_thickness, squeeze=squeeze)
    if squeeze == 0:
        return Sized(value, f"{mm(value)}: the bond thickness")
    return Sized(value, f"{mm(value)}: bond thickness {number(bond_thickness)}, squeezed by {number(100 * squeeze)} %")


def chock_length(*, area: float, force: float, bearing_depth: float, height: float, limits: Limits) -> Sized:
    """Length of one chock for a pane of ``area`` mm².

    ``force`` (N, 0: none is known) on the heavier chock and the ``bearing_depth`` of glass on it add the bearing stress and, with the
    chock's ``height``, its squash, both with the dynamic factor.
    """
    per_area, most_stress, most_squash = limits.chock_length_per_area, limits.chock_stress, limits.chock_squash
    by_area = chocks.chock_length(area=area, per_square_metre=per_area, least=0.0)
    candidates = [
        (f"{number(per_area)} mm for each m² of glass", by_area),
        ("the least chock length", limits.chock_length_least),
    ]
    if force > 0 and bearing_depth > 0:
        # both checks fall with the length, so the stress and squash of a chock 1 mm long are the lengths they ask for
        stress = chocks.bearing_stress(force=force, length=1.0, bearing_depth=bearing_depth, dynamic_factor=limits.dynamic_factor)
        candidates.append((f"{number(most_stress)} MPa of bearing", stress / most_stress))
        if height > 0:
            squash = chocks.chock_squash(
                force=force,
                height=height,
                length=1.0,
                bearing_depth=bearing_depth,
                modulus=limits.chock_modulus,
                dynamic_factor=limits.dynamic_factor,
            )
            candidates.append((f"{number(most_squash)} mm of squash", squash / most_squash))
    return governed(candidates, up(largest(candidates), limits.size_step))


def chock_backfill_over(
    *,
    backfill_depth: float,
    plies: Sequence[float],
    interlayers: Sequence[float] = (),
    least: float,
    single: float,
    outer_share: float,
) -> Sized:
    """Backfill depth over a chock: reduced from the joint's until the glass bears well enough, not under ``least``.

    Plies from the outside inwards; ``single`` is the bearing wanted of a single ply,
    ``outer_share`` that of the outer ply of a laminate. Never deeper than the joint's own backfill.
    Marked as outside where even the least backfill leaves too little bearing: the chocks are then temporary.
    """
    glass = math.fsum(plies) + math.fsum(interlayers)
    needed = chocks.bearing_depth_needed(plies=plies, interlayers=interlayers, single=single, outer_share=outer_share)
    room = math.floor(glass - needed + 1e-9)
    value = min(backfill_depth, max(least, float(room)))
    bearing = chocks.bearing_depth(glass_thickness=glass, backfill_over=value)
    if bearing < needed - 1e-9:
        return Sized(
            value,
            f"{mm(value)}: bears {number(bearing)} and {number(needed)} is wanted, the chocks are temporary",
            outside=True,
        )
    if value < backfill_depth:
        return Sized(
            value,
            f"{mm(value)}: less than the backfill of {number(backfill_depth)}, so that the glass bears {number(bearing)}",
        )
    return Sized(value, f"{mm(value)}: the glass bears {number(bearing)}, {number(needed)} is wanted")


def backer_diameter(*, joint_width: float, oversize: float, narrowest: float | None = None) -> Sized:
    """Diameter of the round backer, unrounded: it serves the widest place; ``narrowest`` is the joint where it is least wide."""
    value = joint.backer_diameter(joint_width=joint_width, oversize=oversize)
    told = f"{mm(value)}: {number(oversize, 2)} times the joint width of {number(joint_width)}"
    if narrowest is None or narrowest > joint_width - 0.05:
        return Sized(value, told)
    least = f"where it is narrowest, {number(narrowest)}, " + (
        f"{mm(narrowest * oversize)} would do" if narrowest > 0 else "none has room"
    )
    return Sized(value, f"{told} at its widest; {least}")


def bead_corner_radius(*, bond_width: float, least: float) -> Sized:
    """Least radius of the bead's centre line in a corner."""
    candidates = [("the bond width", bond_width), ("the least a hand gun turns", least)]
    return governed(candidates, bead.least_corner_radius(bond_width=bond_width, least=least))


def frit_corner_radius(*, bead_corner_radius: float, frit_width: float, bead_centre: float, least: float) -> Sized:
    """Radius of the frit's inner edge in a corner."""
    value = frit.frit_corner_radius(
        bead_corner_radius=bead_corner_radius, frit_width=frit_width, bead_centre=bead_centre, least=least
    )
    parallel = bead_corner_radius - (frit_width - bead_centre)
    if parallel >= least:
        return Sized(value, f"{mm(value)}: parallel to the bead")
    would = f"it would be {number(parallel)}" if parallel > 0 else "it would be sharp"
    return Sized(value, f"{mm(value)}: the least a print shows cleanly; parallel to the bead {would}")
