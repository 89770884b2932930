"""Sections square to the glass edge: what lies at which distance from the recess wall, and the faces that are cut.

The section plane has x from the wall to the daylight and z from the landing outboard. Where the curves of the plan bend, the crossing is
still measured along the section line, so a section is always what a saw would show there. The wall of the plan is the foot of the recess:
a draft opens the joint above it, and what would stand on the fillet follows its arc.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.detail.parts import Chock, Crossing, Curves, CutFace, Glass, Levels, Section, Spacer
from geometry.detail.recess_profile import loop
from geometry.outline import Point, ray_length
from geometry.outline.between import joint_width_at

if TYPE_CHECKING:
    from geometry.detail.edges import Site
    from geometry.detail.recess_profile import RecessProfile
    from geometry.outline import Outline, Station
    from geometry.sizing.sizes import Sizes

FRAME_BEYOND = 10.0  # mm of frame drawn beyond wall and landing; its true thickness is the yard's
FRAME_BELOW = 7.0
GLASS_BEYOND = 12.0  # mm of glass drawn beyond the last thing dimensioned
LEAST_JOINT = 0.01  # mm; nothing fills a narrower one
LEAST_DEPTH = 0.6  # mm of a chock over the fillet, and of a backer over the landing
BACKER_FOOT, FLAT_FOOT = 0.5, 0.2  # bulges of the lower face of a pressed backer
MOST_PRESSED = 1.6  # times its diameter, the greatest depth of a pressed backer

Nodes = tuple[tuple[float, float, float], ...]


class SectionError(ValueError):
    """A section that cannot exist: its line misses a curve it must cross, or fillet, backfill or chock find no room."""


def crossing_at(curves: Curves, station: Station) -> Crossing:
    """Where the section line through a station meets every curve, measured from the recess wall.

    Raises
    ------
    SectionError
        When the line does not meet a curve.
    """
    inward = Point(-station.outward.x, -station.outward.y)
    joint = joint_width_at(curves.recess, station)

    def reach(outline: Outline, name: str) -> float:
        distance = ray_length(outline, station.point, inward)
        if distance is None:
            raise SectionError(
                f"the section at ({station.point.x:.0f}, {station.point.y:.0f}) does not meet {name}; allowed: a pane wide enough for "
                "set-back, bead, frit and landing to run beside one another somewhere round it"
            )
        return joint + distance

    start = 0.0 if curves.frit_outer == curves.glass else reach(curves.frit_outer, "the outer edge of the frit") - joint
    return Crossing(
        glass_edge=joint,
        frit_start=joint + start,
        bead_outer=reach(curves.bead_outer, "the outer edge of the bead"),
        bead_centre=reach(curves.bead_centre, "the bead's centre line"),
        bead_inner=reach(curves.bead_inner, "the inner edge of the bead"),
        landing=reach(curves.sight_line, "the edge of the landing"),
        frit_inner=reach(curves.frit_inner, "the inner edge of the frit"),
        frit_fade=None if curves.frit_fade is None else reach(curves.frit_fade, "the edge of the solid frit"),
    )


def _box(left: float, bottom: float, right: float, top: float) -> Nodes:
    return (left, bottom, 0.0), (right, bottom, 0.0), (right, top, 0.0), (left, top, 0.0)


def levels_at(crossing: Crossing, sizes: Sizes, glass: Glass, *, chock: Chock | None) -> Levels:
    """The heights of one section. A backfill begins its depth under the lower of skin and glass; over a chock it begins on the chock."""
    bond, skin = sizes.bond_thickness.value, sizes.recess_depth.value
    top = bond + glass.thickness
    cut = chock.depth if chock is not None and crossing.glass_edge > LEAST_JOINT else None
    backfill = min(top, skin) - sizes.backfill_depth.value if cut is None else cut
    return Levels(bond_face=bond, glass_face=top, skin=skin, backfill=backfill, chock=cut)


def check_profile(crossing: Crossing, levels: Levels, profile: RecessProfile) -> None:
    """Prove that fillet, glass, backfill and chock find room in one recess.

    Raises
    ------
    SectionError
        When the fillet does not fit between wall and landing, when it reaches into the glass, when the backfill is deeper than the joint,
        or when a chock would lie wholly in the fillet. Spacer and bead that stand on a fillet can exist: that is for a check to tell.
    """
    fillet = f"the fillet of {profile.fillet:g} mm between wall and landing"
    if profile.tangent_length > crossing.landing + 1e-9:
        raise SectionError(
            f"{fillet} takes {profile.tangent_length:.1f} mm of a landing of {crossing.landing:.1f} mm; a smaller recess.fillet is needed"
        )
    if profile.wall_end > levels.skin + 1e-9:
        raise SectionError(
            f"{fillet} reaches {profile.wall_end:.1f} mm up a wall of {levels.skin:.1f} mm; a smaller recess.fillet is needed"
        )
    joint = crossing.glass_edge
    if joint <= LEAST_JOINT:
        return  # the glass cuts into the recess, which is told elsewhere
    if profile.floor_at(joint) > levels.bond_face + 1e-9:
        most = profile.greatest_fillet(x=joint, z=levels.bond_face)
        raise SectionError(
            f"{fillet} reaches into the glass: it stands {profile.floor_at(joint):.1f} mm high at the glass edge, where the joint is "
            f"{joint:.1f} mm and the bond {levels.bond_face:.1f} mm; allowed is a recess.fillet up to {most:.1f} mm"
        )
    if levels.backfill < -1e-9:
        room = min(levels.skin, levels.glass_face)
        raise SectionError(
            f"the backfill of {room - levels.backfill:g} mm is deeper than the joint; allowed is a joint.backfill_depth up to {room:g} mm"
        )
    if levels.chock is not None and levels.chock <= profile.floor_at(joint) + LEAST_DEPTH:
        raise SectionError(
            f"the chock would be {levels.chock:.1f} mm deep and find no room over {fillet} and under its backfill; "
            "a smaller chocks.backfill_over is needed"
        )


def cut_faces(
    crossing: Crossing,
    sizes: Sizes,
    glass: Glass,
    levels: Levels,
    profile: RecessProfile,
    *,
    chock: Chock | None,
    spacer: Spacer | None,
) -> tuple[CutFace, ...]:
    """The faces that the section plane cuts, in the order in which they are drawn; the frit is thinner than a line and has none.

    Every face is counter-clockwise; frame, plies, bead, backfill, backer, chock and spacer touch and do not overlap, unless the sizes
    themselves collide (glass cutting into the recess, a spacer wider than the set-back).
    """
    x, bond = crossing, levels.bond_face
    end = max(x.landing, x.frit_inner) + GLASS_BEYOND
    left = min(0.0, profile.wall_at(levels.skin)) - FRAME_BEYOND
    frame = loop(
        (left, -FRAME_BELOW, 0.0),
        (x.landing, -FRAME_BELOW, 0.0),
        (x.landing, 0.0, 0.0),
        *profile.up(0.0, levels.skin),
        (left, levels.skin, 0.0),
    )
    faces = [CutFace("frame", frame)]
    level = levels.glass_face
    for ply in glass.plies:
        faces.append(CutFace(ply.material, _box(x.glass_edge, level - ply.thickness, end, level)))
        level -= ply.thickness
    faces.append(CutFace("adhesive", _standing(profile, x.bead_outer, x.bead_inner, bond)))
    if x.glass_edge > LEAST_JOINT:
        faces += joint_faces(x.glass_edge, levels, profile, backer_diameter=sizes.backer_diameter.value, fits=sizes.backer_fits)
    if spacer is not None:
        width = sizes.spacer_width.value
        first = x.glass_edge + (sizes.set_back.value - width) / 2
        faces.append(CutFace("spacer", _standing(profile, first, first + width, bond)))
    return tuple(faces)


def _standing(profile: RecessProfile, left: float, right: float, top: float) -> Nodes:
    """What stands on the landing between two distances from the foot, or on the fillet where that reaches under it."""
    return loop(*profile.along(left, right), (right, top, 0.0), (left, top, 0.0))


def joint_faces(joint: float, levels: Levels, profile: RecessProfile, *, backer_diameter: float, fits: bool) -> list[CutFace]:
    """Backfill over its backer, or over the chock where one stands; ``fits``: whether the backer finds its depth, else there is none.

    Without one nothing lies under the backfill: no tape hangs over a void, and how deep the joint is then filled is for the office to say.
    The outer face of the backfill runs from the skin to the glass. Backfill and chock follow the drafted wall; a chock clears the fillet.
    """
    floor = profile.floor_at(joint)
    bottom = max(levels.backfill, floor)
    backfill = loop((joint, bottom, 0.0), (joint, levels.glass_face, 0.0), *profile.down(levels.skin, bottom))
    faces = [CutFace("sealant", backfill)] if len(backfill) > 2 else []
    if levels.chock is not None:
        chock = loop((joint, floor, 0.0), (joint, levels.chock, 0.0), *profile.down(levels.chock, floor))
        return [CutFace("chock", chock), *faces]
    backer = backer_nodes(joint, bottom, backer_diameter, profile) if fits else ()
    return [*([CutFace("backer", backer)] if backer else []), *faces]


def backer_nodes(joint: float, top: float, diameter: float, profile: RecessProfile) -> Nodes:
    """A round backer under a backfill that begins at ``top``; empty where there is no room for anything.

    Wider than the joint, it is pressed between glass edge and wall, flat under the backfill and round below, its section keeping its area
    (up to 1,6 times its diameter in depth). Not wider than the joint there, it stays a circle. Where neither clears landing and fillet, it
    fills what there is down to the landing, its foam pressed together.
    """
    radius = diameter / 2
    turn = math.radians(profile.draft)
    middle = (joint - radius, top - radius)
    roundest = math.tan((math.pi / 2 - turn) / 2)  # leaves the wall along the wall: a rounder one would go through it
    feet = (BACKER_FOOT, roundest, FLAT_FOOT)  # tried in turn
    pressed = next(filter(None, (_pressed_backer(joint, top, diameter, profile, foot) for foot in feet)), None)
    if middle[0] * math.cos(turn) + middle[1] * math.sin(turn) >= radius:
        circle = (middle[0] - radius, middle[1], 1.0), (joint, middle[1], 1.0)
        if top >= diameter and _clear_of_fillet(profile, *middle, radius):
            return circle
    elif pressed:
        return pressed
    floor = profile.floor_at(joint)
    if top - floor <= LEAST_DEPTH:
        return ()
    level = FLAT_FOOT * joint / 2
    if profile.wall_end <= level < top:
        left = profile.wall_at(level)
        return (left, level, FLAT_FOOT), (joint, level, 0.0), (joint, top, 0.0), (profile.wall_at(top), top, 0.0)
    return loop((joint, floor, 0.0), (joint, top, 0.0), *profile.down(top, floor))


def _pressed_backer(joint: float, top: float, diameter: float, profile: RecessProfile, foot: float) -> Nodes:
    """The backer pressed between glass edge and wall; empty where it does not clear landing and fillet.

    With w the joint at the level where the round lower face begins, the section is a trapezoid up to ``top`` and a segment of a circle
    under it (bulge ``foot``), k w²: both together equal the area of the rod, a quadratic in that level. A lower face that leaves the wall
    above the fillet, no steeper than the wall, and stays above the landing clears the fillet too: to reach into it, it would have to cross
    the fillet's circle three times.
    """
    slope = profile.slope
    sweep = 4 * math.atan(foot)
    radius_share = (1 + foot**2) / (4 * foot)  # of the chord
    segment = radius_share**2 * (sweep - math.sin(sweep)) / 2
    a = segment * slope * slope - slope / 2
    b = 2 * segment * joint * slope - joint
    c = joint * top + slope * top * top / 2 + segment * joint * joint - math.pi / 4 * diameter * diameter
    # The root that goes over into −c / b on a wall without draft.
    within = b * b - 4 * a * c
    if within < 0:
        return ()
    level = 2 * c / (-b + math.sqrt(within))
    least = top - MOST_PRESSED * diameter
    if level < least:
        level = least
    if level >= top:
        return ()
    left = profile.wall_at(level)
    if level < profile.wall_end or level - foot * (joint - left) / 2 < 0:
        return ()
    return (left, level, foot), (joint, level, 0.0), (joint, top, 0.0), (profile.wall_at(top), top, 0.0)


def _clear_of_fillet(profile: RecessProfile, x: float, z: float, radius: float) -> bool:
    """Whether an arc round (x, z), with both its ends clear, keeps clear of the fillet: its place farthest from the fillet's centre does."""
    away = math.hypot(x - profile.tangent_length, z - profile.fillet)
    if profile.fillet <= 0 or away < 1e-12:
        return profile.fillet <= 0 or radius <= profile.fillet
    farthest = (x + radius * (x - profile.tangent_length) / away, z + radius * (z - profile.fillet) / away)
    beside = farthest[0] < profile.tangent_length and farthest[1] < profile.wall_end
    return not beside or away + radius <= profile.fillet


def section_at(
    letter: str,
    title: str,
    site: Site,
    curves: Curves,
    sizes: Sizes,
    glass: Glass,
    profile: RecessProfile,
    *,
    chock: Chock | None = None,
    spacer: Spacer | None = None,
) -> Section:
    """One complete section.

    Raises
    ------
    SectionError
        When its line misses a curve or its parts find no room: see :func:`crossing_at` and :func:`check_profile`.
    """
    crossing = crossing_at(curves, site.station)
    levels = levels_at(crossing, sizes, glass, chock=chock)
    check_profile(crossing, levels, profile)
    return Section(
        letter=letter,
        title=title,
        station=site.station,
        crossing=crossing,
        levels=levels,
        profile=profile,
        faces=cut_faces(crossing, sizes, glass, levels, profile, chock=chock, spacer=spacer),
        joint_width=crossing.glass_edge,
        chock=chock,
        spacer=spacer,
    )


__all__ = [
    "FRAME_BELOW",
    "FRAME_BEYOND",
    "GLASS_BEYOND",
    "SectionError",
    "backer_nodes",
    "check_profile",
    "crossing_at",
    "cut_faces",
    "joint_faces",
    "joint_width_at",
    "levels_at",
    "section_at",
]
