"""Spacers, chocks and blocks as bodies: straight, each kind and size one shape that stands in several places.

Under a drafted wall and over a fillet a block has the profile that its section shows. On a round edge a block is straight all the same:
it is as high as the joint over its whole length leaves, not as the joint is wide in its middle.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from geometry.detail.recess_profile import loop
from geometry.detail.straight_blocks import SAME, outward_of, straight_room
from geometry.outline import Point, nearest_station
from geometry.outline.between import joint_width_at
from geometry.solids import kernel

if TYPE_CHECKING:
    from geometry.detail.parts import Chock, Detail, Spacer
    from geometry.detail.recess_profile import RecessProfile
    from geometry.solids.kernel import Node, Shape


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
    outward = outward_of(chock)
    low, high = straight_room(detail.curves, chock)
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


__all__ = ["Block", "blocks_of"]
