"""Spacers, chocks and blocks as bodies: straight, each kind and size one shape that stands in several places.

Under a drafted wall and over a fillet a block has the profile that its section shows. On a round edge a block is straight all the same:
it is as high as the joint over its whole length leaves, not as the joint is wide in its middle.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from geometry.detail.recess_profile import loop
from geometry.outline import Point, nearest_station, point_in, ray_length
from geometry.outline.between import joint_width_at
from geometry.solids import kernel

if TYPE_CHECKING:
    from geometry.detail.parts import Chock, Detail, Spacer
    from geometry.detail.recess_profile import RecessProfile
    from geometry.outline import Outline
    from geometry.solids.kernel import Node, Shape

SAME = 1e-6  # mm within which two heights are one
PLACES = 8  # along half a block, at which the joint is held against its middle


@dataclass(frozen=True)
class Block:
    """One block: its kind as the parts list calls it, and where its shape stands; along its x, y outwards negative."""

    kind: str
    mark: str
    made: Shape = field(repr=False)
    at: Point
    angle: float
    height: float  # of a chock across the joint, of a spacer over the landing, mm
    taken: str = ""


def blocks_of(detail: Detail) -> tuple[Block, ...]:
    """Every spacer and block of a detail."""
    made: dict[tuple[object, ...], Shape] = {}
    found = [_spacer(detail, each, made) for each in detail.spacers]
    found += [block for each in detail.chocks if (block := _chock(detail, each, made)) is not None]
    return tuple(found)


def _shared(made: dict[tuple[object, ...], Shape], kind: str, length: float, profile: tuple[Node, ...]) -> Shape:
    """The bar of a profile, made once; profiles that differ by less than ``SAME`` are one."""
    key = (kind, *(round(value / SAME) for node in profile for value in node))
    if key not in made:
        made[key] = kernel.bar(profile, length)
    return made[key]


def _spacer(detail: Detail, spacer: Spacer, made: dict[tuple[object, ...], Shape]) -> Block:
    sizes, profile = detail.sizes, detail.sections[0].profile
    width, top = sizes.spacer_width.value, sizes.bond_thickness.value
    nodes: tuple[Node, ...] = ((-width / 2, 0.0, 0.0), (width / 2, 0.0, 0.0), (width / 2, top, 0.0), (-width / 2, top, 0.0))
    if profile.fillet > 0:
        station = nearest_station(detail.curves.glass, spacer.centre)
        left = joint_width_at(detail.curves.recess, station) + (sizes.set_back.value - width) / 2
        if left < profile.tangent_length:
            run = profile.along(left, left + width)
            middle = left + width / 2
            nodes = tuple((x - middle, z, bulge) for x, z, bulge in loop(*run, (left + width, top, 0.0), (left, top, 0.0)))
    return Block(
        "spacer", spacer.mark, _shared(made, "spacer", sizes.spacer_length.value, nodes), spacer.centre, spacer.angle, top
    )


def _chock(detail: Detail, chock: Chock, made: dict[tuple[object, ...], Shape]) -> Block | None:
    """A block in the joint; None where the joint leaves it nothing."""
    profile: RecessProfile = detail.sections[0].profile
    tangent = Point(math.cos(math.radians(chock.angle)), math.sin(math.radians(chock.angle)))
    outward = Point(tangent.y, -tangent.x)
    low, high = _room(detail.curves.glass, detail.curves.recess, chock, tangent, outward)
    height = high - low
    floor = profile.floor_at(height)
    if height <= SAME or chock.depth <= floor:
        return None
    nodes = loop((height, floor, 0.0), (height, chock.depth, 0.0), *profile.down(chock.depth, floor))
    # x of the profile runs from the wall inwards, y of the bar inwards from the glass edge: the block stands outwards of it
    own = tuple((x - height, z, bulge) for x, z, bulge in nodes)
    at = Point(chock.foot.x + low * outward.x, chock.foot.y + low * outward.y)
    less = chock.height - height
    taken = (
        f"straight, {height:.2f} mm high: the edge, or the joint, runs out of line over its length by {less:.2f} mm"
        if less > SAME
        else ""
    )
    made_of = _shared(made, str(chock.kind), chock.length, own)
    return Block(str(chock.kind), chock.mark, made_of, at, chock.angle, height, taken)


def _room(glass: Outline, recess: Outline, chock: Chock, tangent: Point, outward: Point) -> tuple[float, float]:
    """From the tangent of the glass edge outwards, how far the glass rises over it and where the wall begins, over a block's length."""
    low, high = 0.0, chock.height
    for step in range(-PLACES, PLACES + 1):
        along = step / PLACES * chock.length / 2
        place = Point(chock.foot.x + along * tangent.x, chock.foot.y + along * tangent.y)
        # from far enough within, so that a wall just beside the tangent is met as well
        out = ray_length(recess, place, outward) if point_in(recess, place) else 0.0
        high = min(high, chock.height if out is None else out)
        if step and point_in(glass, place):
            low = max(low, ray_length(glass, place, outward) or 0.0)
    low = 0.0 if low < SAME else low
    return low, chock.height if chock.height - high < SAME else high


__all__ = ["Block", "blocks_of"]
