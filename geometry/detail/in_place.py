"""Volume and centre of bead and backfill as they stand in the finished detail, in closed form: no body is made for them.

Terms
-----
in place
    What stays on the vessel: the bead as pressed and the filled joint, blocks taken off, without waste.
swept
    A section that runs round the glass at one distance: by Guldin's second rule along straight edges, about the centres of arcs and about
    sharp corners.
about
    Why a figure is near and not exact, in words; "" where it is exact.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import median
from typing import TYPE_CHECKING

from geometry.detail.recess_profile import loop
from geometry.detail.sections import LEAST_JOINT, levels_at
from geometry.detail.straight_blocks import SAME, outward_of, straight_room
from geometry.outline import Outline, Point, Vertex, area, centroid, distance_between, second_moments, segments
from geometry.outline.between import widths_round
from geometry.outline.loop import Arc
from geometry.outline.offset import try_offset
from geometry.outline.stations import distance_from
from geometry.outline.turning import TANGENT, sweeps, turn_between

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from geometry.detail.parts import Chock, Detail, Levels
    from geometry.detail.recess_profile import Node, RecessProfile

ONE_WIDTH = 1e-6  # mm within which two outlines are one


@dataclass(frozen=True, slots=True)
class InPlace:
    """Volume, mm³, and centre of gravity: X and Y of the plan, Z from the landing outboard, mm."""

    volume: float
    centre: tuple[float, float, float]
    about: str = ""


@dataclass(frozen=True, slots=True)
class _Part:
    """A volume and its first moments, mm³ and mm⁴."""

    volume: float
    x: float
    y: float
    z: float


def even_joint(glass: Outline, recess: Outline, joint: float) -> bool:
    """Whether the wall runs parallel to the glass all round, corners too, at the joint width."""
    wall = try_offset(glass, joint)
    if wall is None:
        return False
    return wall == recess or (
        all(distance_from(recess, at) < ONE_WIDTH for at in places_of(wall))
        and all(distance_from(wall, at) < ONE_WIDTH for at in places_of(recess))
    )


def places_of(outline: Outline) -> list[Point]:
    """The ends and the middle of every segment of an outline."""
    return [part.point_at(share) for part in segments(outline) for share in (0.0, 0.5)]


def bead_in_place(detail: Detail) -> InPlace:
    """The bead as pressed: the band between its outlines, as high as the bond."""
    curves, high = detail.curves, detail.sizes.bond_thickness.value
    profile = detail.sections[0].profile
    on_fillet = profile.fillet > 0 and distance_between(curves.recess, curves.bead_outer) < profile.tangent_length - 1e-9
    about = "what the fillet under it takes of the bead is not taken off" if on_fillet else ""
    return _together([*_prism(curves.bead_outer, 0.0, high), *_less(_prism(curves.bead_inner, 0.0, high))], about)


def backfill_in_place(detail: Detail) -> InPlace | None:
    """The filled joint; None where there is nothing to fill."""
    glass, recess, sizes = detail.curves.glass, detail.curves.recess, detail.sizes
    profile: RecessProfile = detail.sections[0].profile
    joint, even = sizes.joint_width.value, even_joint(glass, recess, sizes.joint_width.value)
    if max(width.value for width in widths_round(glass, recess)) <= LEAST_JOINT:
        return None
    if not even:
        joint = median(section.joint_width for section in detail.sections)
        if joint <= LEAST_JOINT:
            return None
    levels = levels_at(detail.sections[0].crossing, sizes, detail.glass, chock=None)
    bottom = max(levels.backfill, profile.floor_at(joint))
    low = min(levels.skin, levels.glass_face)
    if low - bottom <= 1e-9:
        return None
    clear = even or (not detail.glass_cuts_recess and distance_between(glass, recess) > 0)
    whole, about = _ring(glass, recess, profile, levels, joint, bottom, even)
    blocks = [part for chock in detail.chocks for part in _at_block(detail, chock, profile, bottom)]
    return _together([*whole, *blocks], about if clear else "the glass lies over the frame: the joint is taken as it is drawn")


def _ring(
    glass: Outline, recess: Outline, profile: RecessProfile, levels: Levels, joint: float, bottom: float, even: bool
) -> tuple[Sequence[_Part], str]:
    """The backfill round the glass without regard to blocks, and why it is about so."""
    upright = profile.draft == 0 and bottom >= profile.wall_end
    low = min(levels.skin, levels.glass_face)
    if upright and abs(levels.skin - levels.glass_face) < 1e-9:
        return [*_prism(recess, bottom, low), *_less(_prism(glass, bottom, low))], ""
    nodes = loop((joint, bottom, 0.0), (joint, levels.glass_face, 0.0), *profile.down(levels.skin, bottom))
    if even and sweeps(glass, 0.0, joint - profile.wall_at(levels.skin)):
        return list(_swept(glass, [(joint - x, z, -bulge) for x, z, bulge in nodes])), ""
    if even and upright and not sweeps(glass, 0.0, joint):
        return [*_prism(recess, bottom, low), *_less(_prism(glass, bottom, low))], ""
    # the plan between glass and wall, as deep as the mean of a section as drawn
    section = Outline(tuple(Vertex(*node) for node in nodes))
    deep, middle = area(section) / joint, centroid(section).y
    parts = [*_prism(recess, middle - deep / 2, middle + deep / 2), *_less(_prism(glass, middle - deep / 2, middle + deep / 2))]
    return parts, f"taken as deep everywhere as in a joint of {joint:.2f} mm"


def _prism(outline: Outline, low: float, high: float) -> list[_Part]:
    volume, at = area(outline) * (high - low), centroid(outline)
    return [_Part(volume, volume * at.x, volume * at.y, volume * (low + high) / 2)]


def _less(parts: Iterable[_Part]) -> list[_Part]:
    return [_Part(-each.volume, -each.x, -each.y, -each.z) for each in parts]


def _together(parts: Sequence[_Part], about: str) -> InPlace:
    volume = math.fsum(each.volume for each in parts)
    x, y, z = (math.fsum(getattr(each, axis) for each in parts) / volume for axis in "xyz")
    return InPlace(volume, (x, y, z), about)


def _swept(spine: Outline, profile: Sequence[Node]) -> Iterable[_Part]:
    """A closed profile (distance from the spine outwards, z, bulge) swept round it, piece by piece."""
    section = Outline(tuple(Vertex(*node) for node in profile))
    whole, at, second = area(section), centroid(section), second_moments(section)
    if whole < 0:
        whole, second = -whole, second._replace(about_y=-second.about_y, product=-second.product)
    out_out, out_up = second.about_y + whole * at.x**2, second.product + whole * at.x * at.y
    parts = segments(spine)
    for part, after in zip(parts, (*parts[1:], parts[0]), strict=True):
        if isinstance(part, Arc):
            side = math.copysign(1.0, part.sweep)
            begins, ends = (math.atan2(each.y - part.centre.y, each.x - part.centre.x) for each in (part.start, part.end))
            begins = begins if part.sweep > 0 else ends
            yield _turned(part.centre, begins, abs(part.sweep), part.radius, side, (whole, at, out_out, out_up))
        else:
            volume, middle, along = whole * part.length, part.point_at(0.5), part.tangent_at(0.0)
            yield _Part(volume, volume * (middle.x + at.x * along.y), volume * (middle.y - at.x * along.x), volume * at.y)
        turn, along = turn_between(part, after), part.tangent_at(1.0)
        if turn > TANGENT:
            yield _turned(part.end, math.atan2(-along.x, along.y), turn, 0.0, 1.0, (whole, at, out_out, out_up))


def _turned(
    centre: Point, begins: float, sweep: float, radius: float, side: float, section: tuple[float, Point, float, float]
) -> _Part:
    """A section turned about a centre: its distance there is the radius and, as ``side`` says, more or less the way out."""
    whole, at, out_out, out_up = section
    first = whole * (radius + side * at.x)
    squared = whole * radius**2 + 2 * side * radius * whole * at.x + out_out
    x, y = math.sin(begins + sweep) - math.sin(begins), math.cos(begins) - math.cos(begins + sweep)
    volume = first * sweep
    lifted = (radius * whole * at.y + side * out_up) * sweep
    return _Part(volume, volume * centre.x + squared * x, volume * centre.y + squared * y, lifted)


def _at_block(detail: Detail, chock: Chock, profile: RecessProfile, bottom: float) -> Iterable[_Part]:
    """What a straight block takes of the backfill, or lets it come down to where the block is lower than the backfill is deep."""
    low, high = straight_room(detail.curves, chock)
    height, out = high - low, outward_of(chock)
    floor = profile.floor_at(height)
    if height <= SAME or chock.depth <= floor or abs(chock.depth - bottom) <= 1e-9:
        return
    begins, ends = sorted((bottom, chock.depth))
    begins = max(begins, floor)
    if ends <= begins:
        return
    nodes = loop((height, begins, 0.0), (height, ends, 0.0), *profile.down(ends, begins))
    section = Outline(tuple(Vertex(*node) for node in nodes))
    at, volume = centroid(section), abs(area(section)) * chock.length * (-1 if chock.depth > bottom else 1)
    reach = high - at.x
    yield _Part(volume, volume * (chock.foot.x + reach * out.x), volume * (chock.foot.y + reach * out.y), volume * at.y)


__all__ = ["InPlace", "backfill_in_place", "bead_in_place", "even_joint", "places_of"]
