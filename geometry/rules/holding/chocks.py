"""Setting chocks: where they stand, what they carry, how hard they are pressed.

Terms
-----
chock height
    The joint width it fills, in the plane of the glass.
chock depth
    How far it reaches from the landing outwards, square to the landing.
bearing depth
    The part of its depth that touches the glass edge.
sill slope
    Angle of the sill from level, degrees.
contact
    A point on the glass edge and the direction the frame pushes there; without friction it is square to the edge.

Lengths are mm, forces N, stresses MPa, areas mm².
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.units import (
    Degrees,
    Megapascals,
    Millimetres,
    MillimetresPerSquareMetre,
    NewtonMillimetres,
    Newtons,
    Ratio,
    SquareMillimetres,
)


class Contact(NamedTuple):
    """A frictionless contact: place (mm) and direction of the push on the glass; the direction need not be of length 1."""

    x: Millimetres
    y: Millimetres
    push_x: Ratio
    push_y: Ratio


@calculation(
    title="Chock length",
    formula="27 mm for each m² of glass, but at least 50 mm",
    unit="mm",
    source="27 mm per m²: setting-block notes (0.1 inch per square foot); least 50 mm: common practice",
    status=Status.SECOND_HAND,
)
def chock_length(*, area: SquareMillimetres, per_square_metre: MillimetresPerSquareMetre, least: Millimetres) -> float:
    """Length of one chock of a pair along the edge, mm, for a pane of ``area`` mm²."""
    require.positive(area=area)
    require.not_negative(per_square_metre=per_square_metre, least=least)
    return max(least, per_square_metre * area * 1e-6)


@calculation(
    title="Chock depth",
    formula="bond thickness + glass thickness - backfill over the chock",
    unit="mm",
    source="geometry of the section",
    status=Status.DERIVED,
)
def chock_depth(*, bond_thickness: Millimetres, glass_thickness: Millimetres, backfill_over: Millimetres) -> float:
    """Depth of the chock from the landing outwards, mm."""
    require.positive(bond_thickness=bond_thickness, glass_thickness=glass_thickness)
    require.not_negative(backfill_over=backfill_over)
    return bond_thickness + glass_thickness - backfill_over


@calculation(
    title="Bearing depth of a chock",
    formula="glass thickness - backfill over the chock",
    unit="mm",
    source="geometry of the section",
    status=Status.DERIVED,
)
def bearing_depth(*, glass_thickness: Millimetres, backfill_over: Millimetres) -> float:
    """Depth of glass edge the chock touches, mm; 0 or less: it touches none."""
    require.positive(glass_thickness=glass_thickness)
    require.not_negative(backfill_over=backfill_over)
    return glass_thickness - backfill_over


@calculation(
    title="Bearing depth needed",
    formula="single glass: single; laminated: inner plies + interlayers + outer share × outer ply (the first)",
    unit="mm",
    source="the outer ply must not hang on the interlayer",
    status=Status.COMMON_PRACTICE,
)
def bearing_depth_needed(
    *, plies: Sequence[Millimetres], interlayers: Sequence[Millimetres] = (), single: Millimetres, outer_share: Ratio
) -> float:
    """Least bearing depth, mm; plies from the outside inwards; ``outer_share`` of the outer ply bears on the chock."""
    require.between(0, 1, outer_share=outer_share)
    if not plies:
        raise ValueError("plies: found none, allowed: one or more")
    for ply in plies:
        require.positive(ply=ply)
    for interlayer in interlayers:
        require.positive(interlayer=interlayer)
    if len(plies) == 1:
        return single
    return math.fsum(plies[1:]) + math.fsum(interlayers) + outer_share * plies[0]


@calculation(
    title="Chock reactions on a level sill",
    formula="weight along the pane × distance of the other chock from the centroid / distance between the chocks",
    unit="N",
    source="balance of forces and moments",
    status=Status.DERIVED,
)
def level_reactions(
    *, weight_along: Newtons, left: Millimetres, right: Millimetres, centroid: Millimetres
) -> tuple[float, float]:
    """Forces on the left and right chock, N; ``left`` < ``right``, places along the sill, mm.

    A negative force means that the centroid lies outside the chocks and the pane tips.
    """
    require.not_negative(weight_along=weight_along)
    require.finite(left=left, right=right, centroid=centroid)
    if left >= right:
        raise ValueError(f"left chock: found {left:g}, allowed: less than the right chock at {right:g}")
    span = right - left
    return weight_along * (right - centroid) / span, weight_along * (centroid - left) / span


class BlockForces(NamedTuple):
    """Forces of the blocks under a pane, N, in the order given; negative: it would have to pull.

    ``turning`` is the moment that no block takes, N mm, counter-clockwise, and ``sliding`` the force, N: two blocks alone leave
    them to the friction and the bead.
    """

    forces: tuple[Newtons, ...]
    turning: NewtonMillimetres
    sliding: Newtons

    def __str__(self) -> str:
        return ", ".join(f"{force:.1f}" for force in self.forces)


@calculation(
    title="Forces of the blocks under a pane",
    formula="Σ force × push + weight = 0 and Σ force × ((place - centroid) × push) = 0, over the contacts (the blocks), each push of length 1; "
    "two chocks on a level sill: weight × distance of the other from the centroid / distance apart",
    unit="N",
    source="balance of forces and moments; friction and bead ignored",
    status=Status.DERIVED,
)
def block_forces(
    *, contacts: Sequence[Contact], weight: tuple[Newtons, Newtons], centroid: tuple[Millimetres, Millimetres]
) -> BlockForces:
    """Force of each of two or three blocks, N; ``weight`` is its vector in the plane of the pane, N, at ``centroid``.

    Two blocks whose pushes are parallel (a level sill) balance the part of the weight along the push and its moment; two that
    lean against each other (a round pane) balance the weight, and what turns the pane is left over. Raises ``ValueError`` for
    three that cannot hold the pane and for other numbers of blocks.
    """
    if len(contacts) not in (2, 3):
        raise ValueError(f"contacts: found {len(contacts)}, allowed: 2 or 3")
    require.finite(weight_right=weight[0], weight_up=weight[1])
    columns = []
    for contact in contacts:
        size = math.hypot(contact.push_x, contact.push_y)
        require.positive(push=size)
        across, up = contact.push_x / size, contact.push_y / size
        columns.append((across, up, (contact.x - centroid[0]) * up - (contact.y - centroid[1]) * across))
    if len(columns) == 3:
        reach = max(math.hypot(contact.x - centroid[0], contact.y - centroid[1]) for contact in contacts)
        whole = _determinant(columns[0], columns[1], columns[2])
        if reach == 0 or abs(whole) <= 1e-9 * reach:
            raise ValueError(
                "contacts: found three pushes that are parallel or meet in one point, allowed: three that hold the pane"
            )
        load = (-weight[0], -weight[1], 0.0)
        return BlockForces(
            (
                _determinant(load, columns[1], columns[2]) / whole,
                _determinant(columns[0], load, columns[2]) / whole,
                _determinant(columns[0], columns[1], load) / whole,
            ),
            0.0,
            0.0,
        )
    (x1, y1, arm1), (x2, y2, arm2) = columns
    leaning = x1 * y2 - x2 * y1
    if abs(leaning) > 1e-9:
        first = (-weight[0] * y2 + weight[1] * x2) / leaning
        second = (-weight[1] * x1 + weight[0] * y1) / leaning
        return BlockForces((first, second), first * arm1 + second * arm2, 0.0)
    if abs(arm1 - arm2) <= 1e-9:
        raise ValueError("contacts: found two chocks at one place, allowed: two apart")
    carried = -(weight[0] * x1 + weight[1] * y1)
    second = carried * arm1 / (arm1 - arm2)
    return BlockForces((carried - second, second), 0.0, weight[0] * y1 - weight[1] * x1)


@calculation(
    title="Least share of the weight on a chock",
    formula="least of the chock forces / weight along the pane",
    unit="",
    source="ratio",
    status=Status.DERIVED,
)
def least_share(*, forces: Sequence[Newtons], weight_along: Newtons) -> float:
    """Share of the weight on the chock that carries least; negative: the centroid lies outside the chocks and the pane tips."""
    require.finite(**{f"force_{number}": force for number, force in enumerate(forces, start=1)})
    require.positive(weight_along=weight_along)
    return min(forces) / weight_along


@calculation(
    title="Rise of the sill",
    formula="tan(sill slope)",
    unit="",
    source="geometry",
    status=Status.DERIVED,
)
def sill_rise(*, sill_slope: Degrees) -> float:
    """Rise for 1 of run of a sill that slopes by an angle in degrees, either way."""
    require.inside(-90, 90, sill_slope=sill_slope)
    return abs(math.tan(math.radians(sill_slope)))


@calculation(
    title="Rise of the sill of the heeled boat",
    formula="larger of tan(sill slope + heel), 0 where a block holds the low end, and tan(heel - sill slope)",
    unit="",
    source="geometry; the boat heels either way",
    status=Status.DERIVED,
)
def heeled_sill_rise(*, sill_slope: Degrees, heel: Degrees, blocked: bool) -> float:
    """Rise for 1 of run of a sill that slopes by an angle either way, at a heel (both degrees) that no side block holds.

    >>> round(heeled_sill_rise(sill_slope=0, heel=12, blocked=False), 3)
    0.213
    """
    require.between(0, 44, heel=heel)
    slope = abs(sill_slope)
    require.between(0, 45, sill_slope=slope)
    low = 0.0 if blocked else math.tan(math.radians(slope + heel))
    return max(low, math.tan(math.radians(heel - slope)))


@calculation(
    title="How far the weight passes beside the chocks' pushes",
    formula="turning (moment that no chock takes, without its sign) / weight along the pane",
    unit="mm",
    source="balance of moments; two chocks on a round edge hold the weight only in a line through where their pushes meet",
    status=Status.DERIVED,
)
def weight_offset(*, turning: NewtonMillimetres, weight_along: Newtons) -> float:
    """Distance, mm, for a moment in N mm and a weight in N."""
    require.finite(turning=turning)
    require.positive(weight_along=weight_along)
    return abs(turning) / weight_along


@calculation(
    title="Length of a chock for its force",
    formula="force × dynamic factor / bearing depth × larger of 1 / bearing stress and height / (modulus × squash)",
    unit="mm",
    source="bearing stress and squash of a chock, solved for the length",
    status=Status.DERIVED,
)
def length_for_force(
    *,
    force: Newtons,
    bearing_depth: Millimetres,
    height: Millimetres,
    most_stress: Megapascals,
    most_squash: Millimetres,
    modulus: Megapascals,
    dynamic_factor: Ratio,
) -> float:
    """Least length of a chock, mm, that keeps its bearing stress (MPa) and squash (mm) within limits. Unrounded."""
    require.not_negative(force=force)
    require.positive(bearing_depth=bearing_depth, height=height, most_stress=most_stress, most_squash=most_squash)
    require.positive(modulus=modulus, dynamic_factor=dynamic_factor)
    return force * dynamic_factor / bearing_depth * max(1 / most_stress, height / (modulus * most_squash))


@calculation(
    title="Height left for a straight block on a curve",
    formula="joint width - (radius - √(radius² - (length / 2)²)), joint width - radius where the block is wider than the curve",
    unit="mm",
    source="sagitta of a chord",
    status=Status.DERIVED,
)
def height_on_curve(*, joint_width: Millimetres, radius: Millimetres, length: Millimetres) -> float:
    """What of the joint a straight block may fill, mm, whose ends stand on a wall that curves in towards the glass; negative: none.

    >>> round(height_on_curve(joint_width=5, radius=95, length=50), 3)
    1.652
    """
    require.positive(radius=radius, length=length)
    half = min(length / 2, radius)
    return joint_width - (radius - math.sqrt(radius**2 - half**2))


def length_on_curve(*, rise: Millimetres, radius: Millimetres) -> float:
    """Longest straight block, mm, over which a curve rises by no more than ``rise``; 0 where it may not rise at all.

    >>> length_on_curve(rise=1, radius=5)
    6.0
    """
    within = min(max(rise, 0.0), radius)
    return 2 * math.sqrt(within * (2 * radius - within))


def _determinant(a: tuple[float, float, float], b: tuple[float, float, float], c: tuple[float, float, float]) -> float:
    return a[0] * (b[1] * c[2] - b[2] * c[1]) - b[0] * (a[1] * c[2] - a[2] * c[1]) + c[0] * (a[1] * b[2] - a[2] * b[1])


@calculation(
    title="Bearing stress of a chock",
    formula="chock force × dynamic factor / (chock length × bearing depth)",
    unit="MPa",
    source="even pressure on the glass edge",
    status=Status.DERIVED,
)
def bearing_stress(*, force: Newtons, length: Millimetres, bearing_depth: Millimetres, dynamic_factor: Ratio) -> float:
    """Pressure on the glass edge, MPa. Small fast craft take a dynamic factor of 1.5 to 2 (common practice)."""
    require.not_negative(force=force)
    require.positive(length=length, bearing_depth=bearing_depth, dynamic_factor=dynamic_factor)
    return force * dynamic_factor / (length * bearing_depth)


@calculation(
    title="Squash of a chock",
    formula="chock force × dynamic factor × chock height / (modulus × chock length × bearing depth)",
    unit="mm",
    source="uniaxial compression; modulus about 9 MPa at 80 Shore A from memory",
    status=Status.FROM_MEMORY,
)
def chock_squash(
    *,
    force: Newtons,
    height: Millimetres,
    length: Millimetres,
    bearing_depth: Millimetres,
    modulus: Megapascals,
    dynamic_factor: Ratio,
) -> float:
    """How much a chock gives under its force when the boat moves, mm."""
    require.not_negative(force=force)
    require.positive(height=height, length=length, bearing_depth=bearing_depth, modulus=modulus, dynamic_factor=dynamic_factor)
    return force * dynamic_factor * height / (modulus * length * bearing_depth)


__all__ = [
    "BlockForces",
    "Contact",
    "bearing_depth",
    "bearing_depth_needed",
    "bearing_stress",
    "block_forces",
    "chock_depth",
    "chock_length",
    "chock_squash",
    "heeled_sill_rise",
    "height_on_curve",
    "least_share",
    "length_for_force",
    "length_on_curve",
    "level_reactions",
    "sill_rise",
    "weight_offset",
]
