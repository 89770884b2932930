"""From a job and one of its panes to the complete detail."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING, TypeVar

from geometry.detail import blocks, curves
from geometry.detail.edges import LEFT, RIGHT, UP, Edge, Site, edge_towards, edges_of, site_facing, site_on_edge, site_round
from geometry.detail.parts import (
    BeadStart,
    BlockKind,
    Chock,
    Curves,
    Detail,
    Glass,
    PlanOrigin,
    Ply,
    Section,
    Spacer,
    UncuredBead,
)
from geometry.detail.placing import drawn_glass, recess_of
from geometry.detail.recess_profile import RecessProfile
from geometry.detail.sections import SectionError, crossing_at, joint_width_at, section_at
from geometry.outline import Outline, OutlineError, Point, area, centroid, corners, nearest_station, offset, perimeter, point_in
from geometry.outline.offset import try_offset
from geometry.outline.stations import distance_from, places_along
from geometry.rules.fit import section as section_rules
from geometry.rules.holding.chocks import chock_depth
from geometry.rules.materials import GLASS_DENSITY, INTERLAYER_DENSITIES, mass
from geometry.sizing.sizer import Sizer, bead_volume

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.compare.best_fit import Fit
    from geometry.job import Job, Pane
    from geometry.sizing.sizes import Sizes


TOUCHES = 1e-6  # mm within which a corner lies at the origin
LOCAL, FAR = 2.0, 80.0  # bead, landing and frit of one edge end within so many times the bead's reach, and so many mm


Block = TypeVar("Block", Chock, Spacer)


class DetailError(ValueError):
    """A pane whose detail cannot be built: the sentence says what, where and what would do."""


def build_detail(job: Job, pane: Pane, *, cut: bool = True) -> Detail:
    """The complete detail of one pane; without ``cut`` it has no sections, which no finding asks for.

    Raises
    ------
    DetailError
        When a curve of the detail cannot exist, or a section misses one.
    """
    try:
        return _build(job, pane, cut)
    except (OutlineError, SectionError) as error:
        raise DetailError(str(error)) from error


def _build(job: Job, pane: Pane, cut: bool) -> Detail:
    sizer = Sizer(job, pane, pane.glass_outline)
    sizes = sizer.sizes()
    glass_outline, lies = drawn_glass(pane, sizes)
    lines = _curves(pane, sizes, glass_outline, lies)
    middle = centroid(glass_outline)
    glass = _glass(job, pane, area(glass_outline))
    chock_sites = _chock_sites(pane, sizes, glass_outline, middle)
    deep = chock_depth(
        bond_thickness=sizes.bond_thickness.value,
        glass_thickness=glass.thickness,
        backfill_over=sizes.chock_backfill_over.value,
    )
    chocks = blocks.place_chocks(
        chock_sites,
        length=sizes.chock_length.value,
        depth=min(deep, sizes.recess_depth.value),
        joint_at=lambda site: joint_width_at(lines.recess, site.station),
    )
    out = pane.setting_out
    spacer_sites = _spacer_sites(
        glass_outline,
        pitch=sizes.spacer_pitch.value,
        length=sizes.spacer_length.value,
        from_corner=pane.spacers.from_corner,
        out=out,
    )
    spacers = blocks.place_spacers(
        glass_outline, spacer_sites, chock_sites, inset=sizes.set_back.value / 2, near_chock=out.spacer_by_chock
    )
    start = blocks.bead_start_site(
        glass_outline,
        spacer_sites,
        chock_sites,
        clear=sizes.spacer_length.value / 2 + out.start_from_block,
        from_corner=out.start_from_corner,
    )
    edges = edges_of(glass_outline)
    profile = RecessProfile(draft=pane.recess.draft, fillet=pane.recess.fillet)
    laid = section_rules.uncured_bead_area(notch_width=sizes.notch_width.value, notch_height=sizes.notch_height.value)
    length = perimeter(lines.bead_centre)
    return Detail(
        code=pane.code,
        frit_as_drawn=pane.frit_outline is not None,
        glass_from_recess=pane.follows_from == "recess",
        glass_from_daylight=pane.follows_from == "daylight",
        tight_corners=pane.tight_corners,
        daylight_radius=pane.daylight_radius,
        incoming=pane.incoming,
        defaults_outside=job.defaults_outside,
        drawn_straight=() if pane.outline is None else pane.outline.drawn_straight,
        name=pane.name,
        revision=pane.revision,
        frame=pane.frame.name,
        rake=pane.rake,
        quantity=pane.quantity,
        glass=glass,
        sizes=sizes,
        curves=lines,
        origin=_origin(pane, lines),
        corners=corners(glass_outline),
        area=area(glass_outline),
        perimeter=perimeter(glass_outline),
        centroid=middle,
        spacers=spacers,
        chocks=chocks,
        bead_start=_bead_start(start, sizes),
        uncured_bead=UncuredBead(
            notch_width=sizes.notch_width.value,
            notch_height=sizes.notch_height.value,
            area=laid,
            pressed_width=laid / sizes.bond_thickness.value,
            length=length,
            volume=bead_volume(area_laid=laid, length=length),
        ),
        sections=_sections(
            glass_outline, edges, lines, sizes, glass, chocks, spacers, pane.rake >= pane.limits.deck_light_rake, profile
        )
        if cut
        else (),
        glass_cuts_recess=_cuts_recess(glass_outline, lines.recess),
        edge_middles=tuple((edge.name, edge.at(edge.middle), _degrees(edge.direction)) for edge in edges),
        pane_tolerance=0.0 if lies is not None and pane.tolerances.pane is None else sizer.pane_tolerance(),
        recess_tolerance=sizer.recess_tolerance(),
        recess_standard=pane.tolerances.recess_standard or "",
        chocks_permanent=pane.chocks.permanent,
        forward=pane.forward_on_plan,
        deck_light=pane.rake >= pane.limits.deck_light_rake,
        placed=lies,
    )


_spacer_sites = lru_cache(maxsize=128)(blocks.spacer_sites)  # most remedies move no block
_sites_of_chocks = lru_cache(maxsize=128)(blocks.chock_sites)


@lru_cache(maxsize=64)
def _cuts_recess(glass: Outline, recess: Outline) -> bool:
    return any(not point_in(recess, place) for place in places_along(glass, spacing=20.0))


def _origin(pane: Pane, lines: Curves) -> PlanOrigin:
    """The origin with its name: a corner where it is one, sharp where it is rounded."""
    at = Point(0.0, 0.0)
    for outline, of in ((lines.glass, ""), (lines.recess, " of the recess")):
        for corner in corners(outline):
            if math.dist(corner.theoretical, at) < TOUCHES:
                return PlanOrigin(f"{'sharp corner' if corner.radius > 0 else 'corner'} V{corner.number}{of}", at)
    if pane.outline.round_throughout:
        return PlanOrigin("lowest point of the glass", at)
    first, how = pane.origin != (0.0, 0.0), "as typed" if pane.outline.incoming is None else "as drawn"
    return PlanOrigin(f"first point of the outline {how}" if first else f"point (0, 0) of the outline {how}", at)


def _degrees(direction: Point) -> float:
    return math.degrees(math.atan2(direction.y, direction.x))


def _curves(pane: Pane, sizes: Sizes, glass: Outline, lies: Fit | None) -> Curves:
    recess = recess_of(pane, sizes)
    outer, centre, inner = curves.bead_curves(
        glass, set_back=sizes.set_back.value, bond_width=sizes.bond_width.value, corner_radius=sizes.bead_corner_radius.value
    )
    frit_inner = pane.frit_outline
    if frit_inner is not None and lies is not None:
        frit_inner = lies.placed(frit_inner)
    if frit_inner is None:
        frit_inner = curves.frit_inner_edge(glass, width=sizes.frit_width.value, corner_radius=sizes.frit_corner_radius.value)
    fade = sizes.frit_fade.value
    frit_fade = None
    if fade > 0 and pane.frit_outline is not None:
        frit_fade = try_offset(frit_inner, fade)  # the fade of a print as drawn runs along its own inner edge
    if fade > 0 and frit_fade is None:
        frit_fade = curves.frit_inner_edge(
            glass, width=sizes.frit_width.value - fade, corner_radius=sizes.frit_corner_radius.value
        )
    start = sizes.frit_start.value
    return Curves(
        recess=recess,
        glass=glass,
        frit_outer=offset(glass, -start, what="the outer edge of the frit") if start > 0 else glass,
        frit_inner=frit_inner,
        frit_fade=frit_fade,
        bead_outer=outer,
        bead_centre=centre,
        bead_inner=inner,
        sight_line=curves.sight_line(recess, landing=sizes.landing.value),
    )


def _glass(job: Job, pane: Pane, pane_area: float) -> Glass:
    plies: list[Ply] = []
    for index, ply in enumerate(pane.glass.plies):
        plies.append(Ply("glass", ply))
        if index < len(pane.glass.interlayers):
            plies.append(Ply("interlayer", pane.glass.interlayers[index]))
    return Glass(
        plies=tuple(plies),
        treatment=pane.glass.treatment.replace("_", " "),
        thickness=pane.glass.thickness,
        mass=mass(
            area=pane_area,
            glass=math.fsum(pane.glass.plies),
            interlayer=math.fsum(pane.glass.interlayers),
            glass_density=job.materials.glass.density or GLASS_DENSITY,
            interlayer_density=job.materials.interlayer.density or INTERLAYER_DENSITIES[pane.glass.interlayer_material].value,
        ),
    )


def _chock_sites(pane: Pane, sizes: Sizes, glass: Outline, middle: Point) -> tuple[tuple[BlockKind, Site], ...]:
    return _sites_of_chocks(
        glass,
        middle,
        rake=pane.rake,
        length=sizes.chock_length.value,
        out=pane.setting_out,
        limits=pane.limits,
        at=pane.chocks.at or (),
    )


def _bead_start(site: Site, sizes: Sizes) -> BeadStart:
    inset = sizes.set_back.value + sizes.bond_width.value / 2
    station = site.station
    return BeadStart(
        place=Point(station.point.x - inset * station.outward.x, station.point.y - inset * station.outward.y),
        angle=_degrees(station.tangent),
        edge=site.edge,
        distance=site.distance,
    )


ASIDE_OF_CHOCK = (-0.3, 0.3, -0.15, 0.15, 0.0)
"""Shares of a chock's length from its middle at which it may be cut, the first that passes by every spacer."""
CLEAR_OF_BLOCK = 0.5
"""mm by which a cut passes by a block that it does not draw."""


def _sections(
    glass: Outline,
    edges: tuple[Edge, ...],
    lines: Curves,
    sizes: Sizes,
    make_up: Glass,
    chocks: tuple[Chock, ...],
    spacers: tuple[Spacer, ...],
    flat: bool,
    profile: RecessProfile,
) -> tuple[Section, ...]:
    """Through a chock, through a spacer, at the jamb and at the head; letters in that order."""
    found: list[Section] = []
    feet = {each.mark: nearest_station(glass, each.foot).length_along for each in chocks}
    beside = {each.mark: nearest_station(glass, each.centre).length_along for each in spacers}
    taken = [*feet.values(), *beside.values()]
    whole = perimeter(glass)
    standing = [(place, sizes.spacer_length.value) for place in beside.values()]
    cuts = [(each, _beside(standing, [feet[each.mark] + share * each.length for share in ASIDE_OF_CHOCK], whole)) for each in chocks]
    # A chock in the unbonded corner of a sliver shows no bead, one close to a corner crowds the plan: the best one is cut.
    ends = [nearest_station(glass, corner.tangent_before).length_along for corner in corners(glass)]
    cuts.sort(key=lambda cut: -min((round(min(_round_gap(cut[1], end, whole), 150.0)) for end in ends), default=0))
    cuts.sort(key=lambda cut: cut[0].kind == BlockKind.SIDE)  # the sill is cut where any of its chocks can be
    chock, along, through = _cut_through(cuts, glass, lines)
    edge = "edge" if flat else "jamb" if chock.kind == BlockKind.SIDE else "sill"
    found.append(
        section_at(
            "A",
            f"{edge}, {'through' if through else 'near'} {chock.kind} {chock.mark}",
            site_round(glass, along),
            lines,
            sizes,
            make_up,
            profile,
            chock=chock if through else None,
        )
    )
    # a pane that ends in an unbonded corner on the right has no bead there to cut: its jamb is the left one
    jamb = _free_site(glass, edges, (RIGHT, LEFT), taken, lines)
    jamb_along = nearest_station(glass, jamb.station.point).length_along
    # The nearest spacer that leaves room on the plan between the marks of the sections.
    marked = (jamb_along, along)
    gaps = {mark: min(_round_gap(place, other, whole) for other in marked) for mark, place in beside.items()}
    clear = min(max(80.0, 0.04 * whole), max(gaps.values()))

    def wanted(spacer: Spacer) -> tuple[bool, float, str]:
        gap = _round_gap(beside[spacer.mark], jamb_along, whole)
        return gaps[spacer.mark] < clear - 1e-9, round(gap, 6), spacer.mark

    # Beside a sharp corner a wide frit or landing may lie wholly across the line of a spacer: the next one is cut.
    at = [
        (spacer, beside[spacer.mark] + share * sizes.spacer_length.value)
        for spacer in sorted(spacers, key=wanted)
        for share in (-0.2, 0.2)
    ]
    # a cut through a chock as well would have to draw both
    blocks = [(feet[each.mark], each.length) for each in chocks]
    near, place, through = _cut_through([cut for cut in at if _free_of(blocks, cut[1], whole)] or at, glass, lines)
    title = f"{'through' if through else 'near'} spacer {near.mark}"
    site = site_round(glass, place)
    found.append(section_at("B", title, site, lines, sizes, make_up, profile, spacer=near if through else None))
    found.append(section_at("C", "side edge" if flat else "jamb", jamb, lines, sizes, make_up, profile))
    others = (along, place, jamb_along)
    head = _free_site(glass, edges, (UP,), taken, lines, off_middle=True, others=others, apart=clear)
    found.append(section_at("D", "far edge" if flat else "head", head, lines, sizes, make_up, profile))
    return tuple(found)


def _free_of(blocks: Sequence[tuple[float, float]], place: float, whole: float) -> bool:
    """Whether a cut passes by all blocks, given by middle and length along an edge of the length ``whole``, mm."""
    return all(_round_gap(place, middle, whole) > 0.5 * length + CLEAR_OF_BLOCK for middle, length in blocks)


def _beside(blocks: Sequence[tuple[float, float]], places: Sequence[float], whole: float) -> float:
    """The first place whose cut passes by all blocks; else the first."""
    return next((place for place in places if _free_of(blocks, place, whole)), places[0])


def _cut_through(cuts: Sequence[tuple[Block, float]], glass: Outline, lines: Curves) -> tuple[Block, float, bool]:
    """The first block, with its place along the edge, that a section can be cut through; else the first, and the nearest place beside it."""
    for block, along in cuts:
        if _cuts_all(glass, lines, along):
            return block, along, True
    block, along = cuts[0]
    return block, _nearest_cut(glass, lines, along), False


def _round_gap(one: float, other: float, whole: float) -> float:
    gap = abs(one - other) % whole
    return min(gap, whole - gap)


def _free_site(
    glass: Outline,
    edges: tuple[Edge, ...],
    directions: tuple[tuple[float, float], ...],
    taken: list[float],
    lines: Curves,
    *,
    off_middle: bool = False,
    others: tuple[float, ...] = (),
    apart: float = 0.0,
) -> Site:
    """A site on the edge that looks in the first of the directions where a section can be cut, as far from blocks as may be.

    ``off_middle`` keeps off the middle of the head; from ``others``, places of sections, it stands ``apart`` where the edge is long enough
    (an edge that looks up and sideways is jamb and head). On a short edge beside sharp corners a wide frit or landing leaves only the
    middle part to cut through; where no edge asked for has such a place, the nearest one round the pane is taken.
    """
    whole = perimeter(glass)
    wanted: list[float] = []  # the middle of each edge asked for
    for direction in directions:
        edge = edge_towards(edges, direction)
        if edge is None:
            middle = nearest_station(glass, site_facing(glass, direction).station.point).length_along
            low, high = middle - whole / 20, middle + whole / 20
        else:
            low, high = edge.length_along + edge.straight * 0.15, edge.length_along + edge.straight * 0.85
        wanted.append((low + high) / 2)
        places = [low + (high - low) * index / 16 for index in range(17)]
        if off_middle:
            places = [place for place in places if abs(place - (low + high) / 2) > (high - low) * 0.2]
        gaps = {place: min((_round_gap(place, other, whole) for other in others), default=apart) for place in places}
        room = min(apart, max(gaps.values())) - 1e-9
        far = {place: round(min((_round_gap(place, other, whole) for other in taken), default=0.0), 3) for place in places}
        places.sort(key=lambda place: (gaps[place] < room, -far[place], place))
        best = next((place for place in places if _cuts_all(glass, lines, place)), None)
        if best is not None:
            return site_round(glass, best) if edge is None else site_on_edge(glass, edge, best - edge.length_along + edge.first)
    return site_round(glass, _nearest_cut(glass, lines, wanted[0]))


def _nearest_cut(glass: Outline, lines: Curves, along: float) -> float:
    """The place round the pane nearest to one where a section meets every curve; that one itself where there is none."""
    whole = perimeter(glass)
    places = sorted((whole * index / 96 for index in range(96)), key=lambda place: (_round_gap(place, along, whole), place))
    return next((place for place in places if _cuts_all(glass, lines, place)), along)


def _cuts_all(glass: Outline, lines: Curves, place: float) -> bool:
    """Whether a section there, and 1 mm to either side, meets every curve about where it runs along the edge.

    In an arm too narrow for its frit or landing the line meets the one of the other arm, far away.
    """
    corner = lines.bead_inner.vertices[0]
    bead = distance_from(glass, Point(corner.x, corner.y))
    try:
        for along in (place - 1.0, place + 1.0):
            crossing = crossing_at(lines, site_round(glass, along).station)
            reached = max(crossing.bead_outer, crossing.landing, crossing.frit_inner) - crossing.glass_edge
            if reached > LOCAL * bead + FAR:
                return False
    except SectionError:
        return False
    return True


__all__ = ["DetailError", "build_detail"]
