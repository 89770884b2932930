"""What a detail sheet shows of a pane: which corners are enlarged, which sections are cut, and on which view each flag stands.

Terms
-----
alike
    Corners of one angle and the same radii of glass, recess, bead and frit; they are drawn once.
worst section
    A cut where a finding fails at one place and the profile is another than the typical one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.detail.edges import site_round
from geometry.detail.parts import BlockKind
from geometry.detail.sections import SectionError, crossing_at, section_at
from geometry.ledger.finding import Verdict
from geometry.outline import Corner, Point, bounding_box, nearest_station, perimeter
from outputs.drawing.corner_view import place_on, radii_of
from outputs.drawing.flags import Flagged
from outputs.drawing.plan_sizes import surveyed
from outputs.drawing.section_view import CutBack
from outputs.sheet.drafting import as_fine_as, coordinate, number
from outputs.sheets.flag_words import FEATURES

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from geometry.detail.parts import Crossing, Detail, Section, Spacer
    from geometry.findings.state import Flag
    from geometry.outline import Station
    from outputs.drawing.plan_basis import PlanBasis
    from outputs.sheet.entities import Place
    from outputs.sheet.pencil import Pencil

PLANES_APART = 15.0  # paper mm between two cutting planes
OFF_EXTENSION = 1.0  # paper mm from a cutting plane to an extension line beside it
OFF_MIDDLE = (-0.25, 0.25, -0.4, 0.4)  # shares of a spacer's length by which its section stands off its middle
NARROW = 18.0  # paper mm of daylight, in which the inner end of a plane may find no room: then it runs on through the pane
ALONG = 0.999  # cosine of the angle up to which a plane and an extension line run side by side
MOST_NAMES = 6  # of corners alike that a title lists
SAME = 0.26  # mm between profiles that are drawn once
MOST_KINDS = 4  # of corners; those that the plan shows as large are not enlarged
AT_ONE_PLACE = 1.0  # mm


@dataclass(frozen=True, slots=True)
class ShownCorner:
    """An enlarged corner, what is said of it, and by their names all that are alike."""

    corner: Corner
    says: str
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Shown:
    """Corners in the order in which they are enlarged, with what is said of each and the names of those alike; the worst section if any."""

    corners: tuple[ShownCorner, ...]
    worst: Section | None
    worst_flags: tuple[Flag, ...]
    worst_says: str


def shown_of(detail: Detail, flags: Sequence[Flag]) -> Shown:
    """What the flags and the pane itself ask for."""
    worst, own, says = _worst(detail, flags)
    return Shown(tuple(_corners(detail, flags)), worst, own, says)


def _corners(detail: Detail, flags: Sequence[Flag]) -> list[ShownCorner]:
    """Kinds of corners, first that of one that fails, else of the one that decides; of each kind the one at the upper right.

    In a recess as it was measured no two corners are alike in what fails there: then the flagged one itself is shown.
    """
    by_name = {f"V{corner.number}": corner for corner in detail.corners}
    asked = [by_name[flag.finding.part] for flag in flags if flag.finding.part in by_name]
    if detail.worst_corner is not None:
        asked.append(detail.worst_corner.corner)
    kinds = {corner.number: _kind(detail, corner) for corner in detail.corners}
    if not detail.corners:
        return [ShownCorner(on_curve(detail), "at the upper right", ())]
    found: list[ShownCorner] = []
    shown: list[object] = []
    for corner in (*asked, *detail.corners):
        kind = kinds[corner.number]
        if len(found) == MOST_KINDS or kind in shown:
            continue
        same = [each for each in detail.corners if kinds[each.number] == kind]
        own = [each for each in asked if each in same] if surveyed(detail) else same
        side = -1.0 if detail.curves.glass.clockwise_names else 1.0  # the other hand shows the mirror of the corner of its fellow
        best = max(own or same, key=lambda each: round(side * each.theoretical.x + each.theoretical.y, 6))
        shown.append(kind)
        found.append(ShownCorner(best, _says(detail, best, same), tuple(f"V{each.number}" for each in same)))
    return found


def on_curve(detail: Detail) -> Corner:
    """A place of a round pane that is enlarged as a corner is: at the upper right, looked at along its normal."""
    box = bounding_box(detail.curves.glass)
    far = max(box.width, box.height)
    station = nearest_station(detail.curves.glass, Point(box.middle.x + far, box.middle.y + far))
    inward = Point(-station.outward.x, -station.outward.y)
    return Corner(0, station.point, 180.0 - 1e-9, 0.0, station.point, station.point, inward)


def place_at(detail: Detail, shown: ShownCorner, flag: Flag) -> Place:
    """Where the flag of a corner stands at the enlarged one, which may be another that is alike."""
    if flag.finding.part == f"V{shown.corner.number}" and flag.finding.at is not None:
        return flag.finding.at
    point = place_on(detail.curves.glass, shown.corner)
    return point.x, point.y


def _kind(detail: Detail, corner: Corner) -> object:
    return round(corner.interior_angle), tuple(radius for radius, _, _ in radii_of(detail, corner))


def _says(detail: Detail, corner: Corner, same: Sequence[Corner]) -> str:
    angle = "" if abs(corner.interior_angle - 90.0) < 0.05 else f", {number(corner.interior_angle, decimals=1)}°"
    if surveyed(detail) and len(same) > 1:  # no two corners of a recess as measured are
        return f"V{corner.number}{angle}; glass of {f'all {len(same)}' if len(same) == len(detail.corners) else _names(same, corner)} alike"
    if len(same) == len(detail.corners) > 1:
        return f"V{corner.number}, all {len(same)} corners alike"
    others = "" if len(same) == 1 else f"; {_names(same, corner)} alike"
    return f"V{corner.number}{angle}{others}"


def _names(same: Sequence[Corner], less: Corner) -> str:
    if len(same) - 1 > MOST_NAMES:
        return f"{len(same) - 1} more"
    return f"V{', V'.join(str(each.number) for each in same if each is not less)}"


def _worst(detail: Detail, flags: Sequence[Flag]) -> tuple[Section | None, tuple[Flag, ...], str]:
    """The section at the first failing place whose profile is not that of the typical section."""
    typical = detail.sections[0]
    glass = detail.curves.glass
    for flag in flags:
        finding = flag.finding
        if finding.verdict is not Verdict.FAIL or finding.at is None or finding.name not in FEATURES:
            continue
        station = nearest_station(glass, Point(*finding.at))
        site = site_round(glass, station.length_along)
        try:
            crossing = crossing_at(detail.curves, site.station)
            if not differs(crossing, typical.crossing):
                continue
            section = section_at("W", "", site, detail.curves, detail.sizes, detail.glass, typical.profile)
        except SectionError:
            continue
        own = tuple(
            each for each in flags if each.finding.at is not None and math.dist(each.finding.at, finding.at) < AT_ONE_PLACE
        )
        return section, own, _place(finding.part, station.outward, finding.at)
    return None, (), ""


def _place(part: str, outward: Point, at: Place) -> str:
    """Where the worst section is cut: along its edge, or by both coordinates on a curve."""
    if part.startswith("e"):
        upright = abs(outward.x) > abs(outward.y)
        return f"worst, {part}, Y {coordinate(at[1])}" if upright else f"worst, {part}, X {coordinate(at[0])}"
    return f"at X {coordinate(at[0])}, Y {coordinate(at[1])}"


def differs(one: Crossing, other: Crossing) -> bool:
    """Whether two profiles are to be drawn apart."""
    pairs = (
        (one.glass_edge, other.glass_edge),
        (one.frit_inner - one.glass_edge, other.frit_inner - other.glass_edge),
        (one.landing, other.landing),
        (one.bead_outer - one.glass_edge, other.bead_outer - other.glass_edge),
    )
    return any(abs(a - b) > SAME for a, b in pairs)


def first_title(detail: Detail) -> str:
    """Where the first section is cut, in two or three words."""
    section = detail.sections[0]
    edge = (
        "edge" if detail.deck_light else "jamb" if section.chock is not None and section.chock.kind == BlockKind.SIDE else "sill"
    )
    return edge if section.chock is None else f"{edge} at {section.chock.mark}"


def spacer_section(detail: Detail, scale: float, others: Iterable[Section], basis: PlanBasis) -> Section | None:
    """The section through a spacer, clear of the other planes, of extension lines, of corner arcs and of ends; the head first. None where none
    can be cut.
    """
    glass = detail.curves.glass
    stations = [nearest_station(glass, other.station.point) for other in others]
    profile = detail.sections[0].profile
    is_round = not detail.corners

    def order(spacer: Spacer, station: Station) -> tuple[float, float, str]:
        near = min((math.dist(station.point, other.point) for other in stations), default=math.inf)
        ends = min((math.dist(station.point, corner.theoretical) for corner in detail.corners), default=math.inf)
        start = math.dist(station.point, detail.bead_start.place)
        room = min(near, ends, start) * scale
        return (-round(min(room, 2 * PLANES_APART)), -round(station.outward.y, 1), spacer.mark)

    lines = list(_extension_lines(detail, basis))
    light = bounding_box(detail.curves.frit_inner)
    through = min(light.width, light.height) * scale < NARROW
    long = detail.sizes.spacer_length.value
    placed = [(spacer, nearest_station(glass, spacer.centre)) for spacer in detail.spacers]
    placed.sort(key=lambda each: order(*each))
    for shares, clear in (((0.0,), OFF_EXTENSION), (OFF_MIDDLE, OFF_EXTENSION), ((0.0, *OFF_MIDDLE), 0.0)):
        for spacer, own in placed:
            for share in shares:
                if any(_apart(own, share * long, *each, through=through) * scale < clear for each in lines):
                    continue
                site = site_round(glass, (own.length_along + share * long) % perimeter(glass))
                if not is_round and abs(site.station.curvature) > 1e-9:
                    continue
                if any(math.dist(site.station.point, other.point) * scale < PLANES_APART for other in stations):
                    continue
                try:
                    return section_at("B", spacer.mark, site, detail.curves, detail.sizes, detail.glass, profile, spacer=spacer)
                except SectionError:
                    continue
    return None


def _extension_lines(detail: Detail, basis: PlanBasis) -> Iterator[tuple[Point, Point]]:
    """Where the extension lines of the running sizes begin on the plan, and which way they run; the lines to figures of round edges too."""
    for row in basis.rows:
        yield row.zero, row.outward
        yield from ((stop.wall, row.outward) for stop in row.stops)
    for entry in basis.round_entries:
        yield entry.at, nearest_station(detail.curves.glass, entry.at).outward


def _apart(station: Station, aside: float, place: Point, way: Point, *, through: bool) -> float:
    """How far a cutting plane, so far ``aside`` of a station, lies from an extension line, mm; far where they run apart, or on two sides of a
    pane that the plane does not run ``through``.
    """
    alike = station.outward.x * way.x + station.outward.y * way.y
    if (abs(alike) if through else alike) < ALONG:
        return math.inf
    x, y = station.point.x + aside * station.tangent.x, station.point.y + aside * station.tangent.y
    return abs((place.x - x) * way.y - (place.y - y) * way.x)


def typical_words(detail: Detail) -> str:
    """Whether jamb and head are as the section through a spacer."""
    first, *_ = detail.sections
    if any(differs(other.crossing, first.crossing) for other in detail.sections[1:]):
        return "Jamb and head: joint as on the plan."
    return "Side and far edge as B-B, no spacer." if detail.deck_light else "Jamb and head as B-B, no spacer."


def worst_words(worst: Section, typical: Section) -> tuple[str, ...]:
    """How much of the landing shows at the worst section, where that is otherwise than in the typical one."""
    shows = worst.crossing.landing - worst.crossing.frit_inner
    usual = typical.crossing.landing - typical.crossing.frit_inner
    if abs(shows - usual) < SAME or shows <= 0:
        return ()
    return (f"Landing shows {as_fine_as(shows, None)} inside the frit.",)


def section_flags(flags: Sequence[Flag], section: Section, pencil: Pencil, *, all_round: bool) -> list[Flagged]:
    """The flags of a section with the places they speak of there; of the typical section those that hold all round."""
    found = []
    for flag in flags:
        feature = FEATURES.get(flag.finding.name)
        if feature is None:
            if all_round:
                continue
            feature = "joint"
        found.append(Flagged(flag.number, flag.finding.verdict is Verdict.FAIL, _feature(feature, section, pencil)))
    return found


def _feature(name: str, section: Section, pencil: Pencil) -> Place:
    x, levels, ends = section.crossing, section.levels, CutBack.of(section, pencil)
    high = min(levels.glass_face, levels.skin)
    chock = levels.chock if levels.chock is not None else levels.backfill
    return {
        "frit": (x.frit_inner if x.frit_fade is None else x.frit_fade, levels.bond_face - pencil.paper(0.6)),
        "frit start": (x.frit_start, levels.bond_face - pencil.paper(0.6)),
        "landing": (x.landing, -pencil.paper(0.3)),
        "joint": (x.glass_edge / 2, (levels.backfill + high) / 2),
        "chock": (x.glass_edge / 2, chock * 0.9),
        "bead": (x.bead_inner - 0.15 * (x.bead_inner - x.bead_outer), levels.bond_face * 0.4),
        "foot": (section.profile.tangent_length / 2, section.profile.floor_at(section.profile.tangent_length / 2)),
        "glass": (ends.right - pencil.paper(4.0), levels.glass_face),
        "glass edge": (x.glass_edge, levels.bond_face + 0.6 * (levels.glass_face - levels.bond_face)),
    }[name]


__all__ = [
    "Shown",
    "ShownCorner",
    "differs",
    "first_title",
    "on_curve",
    "place_at",
    "section_flags",
    "shown_of",
    "spacer_section",
    "typical_words",
    "worst_words",
]
