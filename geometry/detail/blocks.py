"""Where spacers and chocks stand, and where the bead starts.

Common practice, no source: the first spacer some way inside the corner tangent, then equal spaces not over the pitch; a spacer
beside every chock, so that the pane cannot rock in over it; the bead starts in the middle of the head, clear of corners, spacers
and chocks. Every distance comes from the tables ``setting_out``, ``spacers`` and ``limits`` of the job file.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from geometry.detail.edges import (
    DOWN,
    LEFT,
    RIGHT,
    UP,
    Edge,
    Site,
    edge_towards,
    lowest_length,
    reach_of,
    sides_of,
    site_facing,
    site_on_edge,
    site_round,
    stretch_between,
)
from geometry.detail.parts import BlockKind, Chock, Spacer
from geometry.detail.sill import Run, sill_of
from geometry.outline import Outline, Point, bounding_box, corners, nearest_station, perimeter, ray_length
from geometry.rules.fit.bead import round_spacer_count, spacer_places

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.job.limits import Limits
    from geometry.job.setting_out import SettingOut


def spacer_sites(glass: Outline, *, pitch: float, length: float, from_corner: float, out: SettingOut) -> tuple[Site, ...]:
    """Sites of the spacers round a pane, before any is added beside a chock.

    Straight edges: first and last ``from_corner`` inside the corner tangent, between them equal spaces not over ``pitch``; an edge
    too short for two gets one in its middle. Round outlines: 3 up to a least width of ``round_three_spacers``, 4 up to
    ``round_four_spacers``, above that at not over ``round_pitch`` of arc, the first half a space from the top, where the bead
    starts. Corner arcs longer than a spacer get their own, in equal spaces between those of the edges beside them, so that no two stand
    farther apart than the pitch; an edge without room for a spacer is
    part of the round stretch that it lies in, and a pane of such edges alone is round.
    """
    found: list[Site] = []
    bearing: list[tuple[Edge, float, float]] = []  # edges with room for a spacer, with the places of their first and last
    for edge in sides_of(glass):
        room = edge.straight - 2 * from_corner
        if room >= length:
            along = spacer_places(straight=edge.straight, pitch=pitch, end_distance=from_corner)
            places = [edge.first + place for place in along]
        elif edge.straight >= length + out.spacer_edge_room:
            places = [edge.middle]
        else:
            continue
        bearing.append((edge, places[0], places[-1]))
        found += [site_on_edge(glass, edge, place) for place in places]
    if not bearing:
        return _round_spacers(glass, pitch=pitch, out=out)
    for before, after in zip(bearing, (*bearing[1:], bearing[0]), strict=True):
        found += _spacers_between(glass, before, after, pitch=pitch, length=length)
    return tuple(found)


def _spacers_between(
    glass: Outline, before: tuple[Edge, float, float], after: tuple[Edge, float, float], *, pitch: float, length: float
) -> list[Site]:
    """Spacers at equal spaces from the last one of an edge to the first one of the next, where a round stretch lies between them.

    A stretch shorter than a spacer is a corner, not an arc to stand on.
    """
    (edge, _, last), (following, first, _) = before, after
    stretch = stretch_between(glass, edge, following)
    if stretch < length:
        return []
    left, right = edge.last - last, first - following.first
    apart = left + stretch + right
    count = math.ceil(apart / pitch - 1e-9) - 1
    found = []
    for index in range(count):
        along = apart * (index + 1) / (count + 1) - left  # from where the stretch begins
        if along < 0:
            found.append(site_on_edge(glass, edge, edge.last + along))
        elif along > stretch:
            found.append(site_on_edge(glass, following, following.first + along - stretch))
        else:
            site = site_round(glass, edge.length_along + edge.straight + along)
            found.append(replace(site, edge="corner arc", distance=along))
    return found


def _round_spacers(glass: Outline, *, pitch: float, out: SettingOut) -> tuple[Site, ...]:
    whole = perimeter(glass)
    box = bounding_box(glass)
    width = min(box.right - box.left, box.top - box.bottom)
    count = round_spacer_count(
        least_width=width,
        perimeter=whole,
        pitch=min(out.round_pitch, pitch),
        three_up_to=out.round_three_spacers,
        four_up_to=out.round_four_spacers,
    )
    top = site_facing(glass, UP).distance
    bottom = lowest_length(glass)
    return tuple(site_round(glass, bottom + top + whole * (index + 0.5) / count) for index in range(count))


LEVEL = 0.02  # rise for 1 of run up to which an edge counts as level


def _two_levels(edges: tuple[Edge, ...], sill: Edge, centroid: Point, *, clear: float) -> tuple[tuple[Edge, float], ...] | None:
    """Edge and distance of two chocks on two level edges, to either side of a centroid that stands beyond the sill.

    A pane with a deep cut-out below would tip off its longest edge: it stands on the sill and on the ledge of the cut-out, as far from the
    centroid to one side as to the other where the edges allow. None where the sill alone carries the pane, or no other edge does.
    """
    foot = sill.distance_of(centroid)
    if sill.first + clear < foot < sill.last - clear or abs(sill.direction.y) > LEVEL:
        return None
    beyond = 1 if foot >= sill.middle else -1  # on which side of the sill the centroid stands
    others = [
        edge
        for edge in edges
        if edge is not sill
        and edge.outward.y < -0.5
        and abs(edge.direction.y) <= LEVEL
        and beyond * (edge.at(edge.middle).x - centroid.x) > 0
    ]
    if not others:
        return None
    other = max(others, key=lambda edge: edge.straight)
    reach = []  # least and greatest distance of a chock from the centroid, on either edge
    for edge, side in ((sill, -beyond), (other, beyond)):
        ends = sorted(side * (edge.at(place).x - centroid.x) for place in (edge.first + clear, edge.last - clear))
        reach.append((max(ends[0], 0.0), ends[1]))
    if any(low > high or edge.straight < 2 * clear for (low, high), edge in zip(reach, (sill, other), strict=True)):
        return None
    low, high = max(reach[0][0], reach[1][0]), min(reach[0][1], reach[1][1])
    apart = [min(max(high if low <= high else each[0], each[0]), each[1]) for each in reach]
    found = [
        (edge, edge.distance_of(Point(centroid.x + side * far, edge.origin.y)))
        for (edge, side), far in zip(((sill, -beyond), (other, beyond)), apart, strict=True)
    ]
    return tuple(sorted(found, key=lambda each: each[0].at(each[1]).x))


def chock_sites(
    glass: Outline,
    centroid: Point,
    *,
    rake: float,
    length: float,
    out: SettingOut,
    limits: Limits,
    at: tuple[float, ...] = (),
) -> tuple[tuple[BlockKind, Site], ...]:
    """Kind and site of every chock.

    A sill carries two, symmetric about the foot of the centroid, a quarter of the sill (``chocks_on_sill``) to either side of it, but
    inside the corner tangents by the limits ``chock_from_corner`` and ``chock_end_from_corner``. A pane that is round below carries
    two where its outward normal stands ``chocks_on_round`` (``chocks_on_oval``) from straight down. A sloping sill, a triangle and
    a pane with a cut-out get a side block; a deck light four location blocks. ``at`` gives the X of the places instead.
    On the other hand of a pane they stand in the order of the mirror image.
    """
    found = _chock_sites(glass, centroid, rake=rake, length=length, out=out, limits=limits, at=at)
    if at or not glass.clockwise_names:
        return found
    beside = [each for each in found if each[0] == BlockKind.SIDE]
    return (*(each for each in reversed(found) if each not in beside), *beside)


def _chock_sites(
    glass: Outline,
    centroid: Point,
    *,
    rake: float,
    length: float,
    out: SettingOut,
    limits: Limits,
    at: tuple[float, ...],
) -> tuple[tuple[BlockKind, Site], ...]:
    sides = sides_of(glass)
    if rake >= limits.deck_light_rake:
        return tuple((BlockKind.LOCATION, site) for site in _mid_sides(glass, sides))
    box = bounding_box(glass)
    oval = (box.right - box.left) > out.oval_from * (box.top - box.bottom)
    turn = math.radians(out.chocks_on_oval if oval else out.chocks_on_round)
    sill = sill_of(glass, slope=limits.sill_slope, turn=turn)
    if sill is None and at:
        return tuple((BlockKind.SETTING, _site_above(glass, x)) for x in at)
    if sill is None:
        return tuple((BlockKind.SETTING, site_facing(glass, (side * math.sin(turn), -math.cos(turn)))) for side in (-1, 1))
    clear = max(limits.chock_from_corner, length / 2 + limits.chock_end_from_corner)
    shared = None if at or isinstance(sill, Run) else _two_levels(sides, sill, centroid, clear=clear)
    if shared is not None:
        found = [site_on_edge(glass, edge, place) for edge, place in shared]
    elif isinstance(sill, Run):
        places = [sill.at_x(x) for x in at] or _even_places(
            0.0, sill.length, sill.at_x(centroid.x), reach=sill.length, clear=clear, length=length, out=out
        )
        found = [sill.site(place) for place in places]
    else:
        places = [(x - sill.origin.x) / sill.direction.x for x in at] or _even_places(
            sill.first,
            sill.last,
            sill.distance_of(centroid),
            reach=reach_of(glass, sill),
            clear=clear,
            length=length,
            out=out,
        )
        found = [site_on_edge(glass, sill, place) for place in places]
    blocks = [(BlockKind.SETTING, site) for site in found]
    side = _side_edge(glass, sides, sill.chord if isinstance(sill, Run) else sill, out)
    return (*blocks, (BlockKind.SIDE, side)) if side is not None else tuple(blocks)


def _site_above(glass: Outline, x: float) -> Site:
    """The lowest place of a round outline at an X; it lies on the pane."""
    bottom = bounding_box(glass).bottom - 1.0
    up = ray_length(glass, Point(x, bottom), Point(0.0, 1.0))
    return site_round(glass, nearest_station(glass, Point(x, bottom + (up or 0.0))).length_along)


def _even_places(
    first: float, last: float, foot: float, *, reach: float, clear: float, length: float, out: SettingOut
) -> list[float]:
    """Two places on a sill from ``first`` to ``last``, even about the foot of the centroid; ``reach`` is the sill with its corners."""
    half = min(reach * out.chocks_on_sill / 100, foot - first - clear, last - clear - foot)
    if half < length / 2 + out.chock_end_room:
        # The sill is too short, or the centroid stands beyond it: as far apart as the straight allows.
        clear = min(length / 2 + out.chock_end_room, (last - first) / 4)
        return [first + clear, last - clear]
    return [foot - half, foot + half]


def _mid_sides(glass: Outline, edges: tuple[Edge, ...]) -> tuple[Site, ...]:
    found = []
    for direction in (DOWN, RIGHT, UP, LEFT):
        edge = edge_towards(edges, direction)
        found.append(site_facing(glass, direction) if edge is None else site_on_edge(glass, edge, edge.middle))
    return tuple(found)


def _side_edge(glass: Outline, edges: tuple[Edge, ...], sill: Edge, out: SettingOut) -> Site | None:
    """The site of the side block: on the jamb at the low end of a sloping sill, on the steepest jamb of a triangle or a pane with a cut-out."""
    slope = math.degrees(math.atan2(sill.direction.y, sill.direction.x))
    sharp = corners(glass)
    if abs(slope) > out.side_block_slope:
        # Down the slope, not just to that side: a wall parallel to the sill would never stop the pane from sliding.
        down = (-sill.direction.x, -sill.direction.y) if slope > 0 else (sill.direction.x, sill.direction.y)
        jamb = edge_towards(edges, down)
        if jamb is None:
            return site_facing(glass, down)
        up = min(out.side_block_up, jamb.end / 3)
        # Edges run counter-clockwise: the left jamb runs down to the sill, the right one up from it.
        place = jamb.end - up if slope > 0 else up
        return site_on_edge(glass, jamb, min(max(place, jamb.first), jamb.last))
    if len(sharp) == 3 or any(not corner.convex for corner in sharp):
        jambs = [edge for edge in (edge_towards(edges, RIGHT), edge_towards(edges, LEFT)) if edge is not None]
        if jambs:
            steepest = max(jambs, key=lambda edge: (round(abs(edge.outward.x), 9), edge.straight))
            return site_on_edge(glass, steepest, steepest.middle)
    return None


def place_chocks(
    sites: tuple[tuple[BlockKind, Site], ...], *, length: float, depth: float, joint_at: Callable[[Site], float]
) -> tuple[Chock, ...]:
    """Chocks at their sites, K1, K2 ... in order; each as high as the joint is wide where it stands."""
    return tuple(
        Chock(
            mark=f"K{number}",
            kind=kind,
            foot=site.station.point,
            angle=_angle(site),
            length=length,
            height=joint_at(site),
            depth=depth,
            edge=site.edge,
            distance=site.distance,
        )
        for number, (kind, site) in enumerate(sites, start=1)
    )


def place_spacers(
    glass: Outline,
    sites: tuple[Site, ...],
    chocks: tuple[tuple[BlockKind, Site], ...],
    *,
    inset: float,
    near_chock: float,
) -> tuple[Spacer, ...]:
    """Spacers at their sites, ``inset`` from the glass edge to their centre; mm.

    One is added at every setting chock that has none within ``near_chock`` along the edge.
    """
    whole = perimeter(glass)
    standing = list(sites)
    for kind, chock in chocks:
        if kind == BlockKind.SETTING and all(_apart(site, chock, whole) > near_chock for site in standing):
            standing.append(chock)
    standing.sort(key=lambda site: site.station.length_along, reverse=glass.clockwise_names)  # a block keeps its name, too
    return tuple(
        Spacer(
            mark=f"S{number}",
            centre=Point(
                site.station.point.x - inset * site.station.outward.x,
                site.station.point.y - inset * site.station.outward.y,
            ),
            angle=_angle(site),
            edge=site.edge,
            distance=site.distance,
        )
        for number, site in enumerate(standing, start=1)
    )


def _apart(one: Site, other: Site, whole: float) -> float:
    gap = abs(one.station.length_along - other.station.length_along)
    return min(gap, whole - gap)


def _angle(site: Site) -> float:
    return math.degrees(math.atan2(site.station.tangent.y, site.station.tangent.x))


def bead_start_site(
    glass: Outline, spacers: tuple[Site, ...], chocks: tuple[tuple[BlockKind, Site], ...], *, clear: float, from_corner: float
) -> Site:
    """Where the bead starts and stops: in the middle of the head, or as near to it as stays ``clear`` of spacers and chocks."""
    head = edge_towards(sides_of(glass), UP)
    taken = [site.station.length_along for site in (*spacers, *(site for _, site in chocks))]
    whole = perimeter(glass)

    def free(length: float) -> bool:
        return all(min(abs(length - other), whole - abs(length - other)) >= clear for other in taken)

    if head is None:
        top = site_facing(glass, UP)
        middle = nearest_station(glass, top.station.point).length_along
        reach = whole / 8
    else:
        middle = head.length_along + head.straight / 2
        reach = head.straight / 2 - min(from_corner, head.straight / 4)
    step = 5.0
    for index in range(int(max(reach, 0.0) / step) + 1):
        for side in (1, -1):
            length = middle + side * index * step
            if free(length):
                return (
                    site_round(glass, length % whole)
                    if head is None
                    else site_on_edge(glass, head, length - head.length_along + head.first)
                )
    return site_round(glass, middle) if head is None else site_on_edge(glass, head, head.middle)


__all__ = ["bead_start_site", "chock_sites", "place_chocks", "place_spacers", "spacer_sites"]
