"""Remedies in the corners: rounder glass, a tighter or wider bend of the bead, an unbonded corner cut square, a wider landing or frit.

Terms
-----
typed corner
    A corner as it stands in the job file, in the order in which its radii are typed.
cut square
    A sharp unbonded corner taken off square to its bisector, so that two blunt corners stand in its place.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from geometry.findings.fit.bead_remedies import down, frit_follows
from geometry.ledger.finding import Change, Remedy
from geometry.outline import Corner, corners
from geometry.rules.fit import corner as corner_rules
from geometry.rules.rounding import mm, up

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from geometry.workings.subject import Subject


def recess_radius(subject: Subject, at: Corner) -> float:
    """Radius of the recess at a corner as designed, mm: as given, else that of an even joint."""
    given, joint = subject.pane.recess.radius, subject.sizes.joint_width.value
    if given is None:
        return at.radius + joint if at.convex else max(0.0, at.radius - joint)
    return float(given[at.number - 1] if isinstance(given, tuple) else given)


def for_joint(subject: Subject, at: Iterable[Corner]) -> tuple[Remedy, ...]:
    """The glass rounded to keep the joint even in every corner, or the recess cut to it."""
    found, limit = list(at), float(subject.limit("joint_least").value)
    if subject.surveyed:
        return (Remedy(f"round or cut the pane's corner until {mm(limit)} of joint are left there"),)
    joint = subject.sizes.joint_width.value
    if joint < limit:
        return (_wider_joint(subject, up(limit, 0.5)),)
    glass, wall = {}, {}
    for each in found:
        radius = recess_radius(subject, each)
        even = corner_rules.even_gap_radius(recess_radius=radius, joint_width=joint, re_entrant=not each.convex)
        tight = radius > each.radius + joint if each.convex else each.radius > radius + joint
        if tight:
            glass[each.number] = up(even) if each.convex else down(even)
            wall[each.number] = each.radius + joint if each.convex else max(0.0, each.radius - joint)
    if not glass:
        return ()
    remedies = []
    changes = glass_radii(subject, glass)
    if changes:
        remedies.append(Remedy(f"round the corners of the glass to {_listed(glass.values())}", changes))
    remedies.append(Remedy(f"cut the corners of the recess to {_listed(wall.values())}", _recess_radii(subject, wall)))
    return tuple(remedies)


def _wider_joint(subject: Subject, wide: float) -> Remedy:
    """The joint itself widened, and the corners of the recess with it, where even straights have too little."""
    more = wide - subject.sizes.joint_width.value
    pane, changes = subject.pane, [Change("joint.width", wide)]
    if pane.recess.radius is not None:
        sharp = _by_number(subject)
        walls = [each.radius + wide if each.convex else max(0.0, each.radius - wide) for each in sharp]
        changes.append(Change("recess.radius", _plain(walls)))
    if pane.recess.landing is not None:
        changes.append(Change("recess.landing", pane.recess.landing + more))
    return Remedy(f"make the joint {mm(wide)} wide all round, its corners with it", tuple(changes))


def for_landing(subject: Subject, at: Corner, *, short: float) -> tuple[Remedy, ...]:
    """A bead that leaves the landing in a corner: turned tighter, the unbonded corner cut square, or a wider landing."""
    if not at.convex:
        return ()
    sine = _sine(at)
    remedies = [*_tighter_bead(subject, at, short)]
    remedies = [*cut_square(subject, at), *remedies]
    # inside a rounding the edge of the landing keeps its centre; where it has become sharp it gains on the bisector
    wall = recess_radius(subject, at) if not subject.surveyed else math.inf
    landing = up(subject.sizes.landing.value + _deeper(short, wall - subject.sizes.landing.value, sine))
    hidden = landing - subject.sizes.joint_width.value + subject.sizes.bond_thickness.value
    changes = (Change("recess.landing", landing), *frit_follows(subject, width=hidden))
    return (*remedies, Remedy(f"widen the landing to {mm(landing)}", changes))


def for_unbonded_corner(subject: Subject, at: Iterable[Corner], *, most: float) -> tuple[Remedy, ...]:
    """Glass that stands too far beyond the bead, the worst corner first: cut off square, rounded, or the bead turned tighter."""
    sizes, found = subject.sizes, list(at)
    centre = sizes.set_back.value + sizes.bond_width.value / 2
    wanted, tighter = {}, 0.0
    for each in found:
        sine = _sine(each)
        steep = 1 / sine - 1
        bend = max(each.radius - centre, sizes.bead_corner_radius.value)
        over = centre / sine + bend * steep - sizes.bond_width.value / 2 - each.radius * steep - most
        if steep > 1e-9 and over > 0:
            wanted[each.number] = up(each.radius + over / steep)
            tighter = max(tighter, over / steep)
    if not wanted:
        return ()
    remedies: list[Remedy] = []
    changes = glass_radii(subject, wanted)
    if changes:
        names = ", ".join(f"V{number}" for number in wanted)
        remedies.append(Remedy(f"round the glass at {names} to {_listed(wanted.values())}", changes))
    worst = found[0]
    remedies += _tighter_bead(subject, worst, tighter * (1 / _sine(worst) - 1))
    unbonded = cut_square(subject, worst) if len(wanted) == 1 else ()
    return (*unbonded, *remedies)


def for_frit(subject: Subject, at: Corner, *, short: float, to_margin: float) -> tuple[Remedy, ...]:
    """A bead that lies bare in a corner: a rounder print, a wider print, or a tighter bend of the bead.

    ``short`` of what the straights have, ``to_margin`` of the full margin, mm: a wider print raises what the straights have as well.
    """
    if not at.convex:
        return ()
    sizes, frit, sine = subject.sizes, subject.pane.frit, _sine(at)
    remedies: list[Remedy] = []
    if not frit.printed:
        solid = sizes.frit_width.value - frit.fade
        wide = up(sizes.frit_width.value + _deeper(to_margin, at.radius - solid - sizes.frit_corner_radius.value, sine))
        if frit.outline is not None:
            words = f"print the frit parallel to the glass edge, {mm(wide)} wide, in place of its own outline"
            remedies.append(Remedy(words, (Change("frit.outline", None), Change("frit.width", wide))))
        else:
            radius = up(max(at.radius - solid, sizes.frit_corner_radius.value) + short / (1 / sine - 1))
            words = f"round the inner corners of the frit to {mm(radius)}"
            remedies.append(Remedy(words, (Change("frit.corner_radius", radius),)))
            remedies.append(Remedy(f"widen the frit to {mm(wide)}", (Change("frit.width", wide),)))
    return (*remedies, *_tighter_bead(subject, at, short))


def for_radius(subject: Subject, radius: float) -> tuple[Remedy, ...]:
    """The glass rounded in every corner that is too tight for a parallel bead; a given recess keeps up with it."""
    wanted = up(radius)
    tight = [each for each in corners(subject.detail.curves.glass) if each.convex and each.radius < radius]
    changes = glass_radii(subject, {each.number: wanted for each in tight})
    if not tight or not changes:
        return ()
    if subject.pane.recess.radius is not None:
        joint = subject.sizes.joint_width.value
        wall = {each.number: max(wanted + joint, recess_radius(subject, each)) for each in tight}
        changes = (*changes, *_recess_radii(subject, wall))
    names = ", ".join(f"V{each.number}" for each in tight)
    return (Remedy(f"round the glass at {names} to {mm(wanted)}", changes),)


def _deeper(gain: float, rounded: float, sine: float) -> float:
    """How much wider a band must be, mm, for ``gain`` on the bisector: one to one while its edge is rounded, less once it is sharp."""
    even = min(gain, max(0.0, rounded))
    return even + (gain - even) * sine


def bead_radius(radius: float) -> tuple[Change, ...]:
    """The bead turned on another radius."""
    return (Change("bond.corner_radius", radius),)


def _tighter_bead(subject: Subject, at: Corner, short: float) -> tuple[Remedy, ...]:
    """The bead's bend drawn into the corner by ``short`` mm on the bisector, where a gun still turns it."""
    sizes = subject.sizes
    centre = sizes.set_back.value + sizes.bond_width.value / 2
    steep = 1 / _sine(at) - 1
    parallel = at.radius - centre
    bend = max(parallel, sizes.bead_corner_radius.value)
    if steep < 1e-9 or short <= 0:
        return ()
    radius = down(bend - short / steep, 0.5)
    if radius < max(sizes.bond_width.value, float(subject.limit("gun_radius").value), parallel) - 1e-9:
        return ()
    return (Remedy(f"turn the bead on {mm(radius)} in its corners", bead_radius(radius)),)


def cut_square(subject: Subject, at: Corner) -> tuple[Remedy, ...]:
    """The unbonded corner of a polygon taken off square to its bisector, so far back that the bead turns twice; () where it cannot be."""
    pane, sizes = subject.pane, subject.sizes
    typed = _typed(subject)
    if (
        pane.outline.polygon is None
        or at.interior_angle > subject.limit("cut_corner_angle").value
        or pane.outline_worked_out
        or subject.surveyed
        or pane.frit_outline is not None
    ):
        return ()
    centre = sizes.set_back.value + sizes.bond_width.value / 2
    quarter = math.radians(180.0 - at.interior_angle) / 4  # half the turn of each of the two new corners
    # the cut edge goes on inside bead, frit and landing, and none of their corners runs into the other
    deepest = max(
        centre + max(sizes.bead_corner_radius.value, sizes.bond_width.value),
        sizes.frit_width.value + sizes.frit_corner_radius.value,
        sizes.landing.value - sizes.joint_width.value,
    )
    edge = up(max(subject.limit("cut_corner_edge").value * sizes.bond_width.value, 2 * deepest * math.tan(quarter) + 1))
    back = edge / 2 / math.sin(math.radians(at.interior_angle) / 2)  # along both sides from the sharp corner
    index = typed[at.number]
    points = [tuple(point) for point in pane.outline.polygon]
    here, before, after = points[index], points[index - 1], points[(index + 1) % len(points)]
    if min(math.dist(here, before), math.dist(here, after)) <= back + edge:
        return ()
    cut = [_towards(here, before, back), _towards(here, after, back)]
    radii = _radii(pane.outline.radius, len(points))
    radii[index : index + 1] = [radii[index], radii[index]]
    points[index : index + 1] = cut
    value: dict[str, Any] = {"polygon": [[round(x, 3), round(y, 3)] for x, y in points], "radius": _plain(radii)}
    if pane.outline.mirrored:
        value["mirrored"] = True
    changes = [Change("outline", value)]
    if isinstance(pane.recess.radius, tuple):
        walls = list(pane.recess.radius)
        walls[at.number - 1 : at.number] = [walls[at.number - 1]] * 2
        changes.append(Change("recess.radius", walls))
    distance = edge / 2 / math.tan(math.radians(at.interior_angle) / 2)
    words = f"cut the unbonded corner at V{at.number} square, {mm(up(distance))} from its sharp corner: an edge of {mm(edge)}"
    return (Remedy(words, tuple(changes)),)


def glass_radii(subject: Subject, wanted: Mapping[int, float]) -> tuple[Change, ...]:
    """Other radii of the glass by corner number; () for an outline that is not typed by corners."""
    form = subject.pane.outline
    if not form.corner_count or not wanted or subject.pane.outline_worked_out:
        return ()
    typed = _typed(subject)
    radii = _radii(form.radius, form.corner_count)
    for number, radius in wanted.items():
        radii[typed[number]] = radius
    return (Change("outline.radius", _plain(radii)),)


def _recess_radii(subject: Subject, wanted: Mapping[int, float]) -> tuple[Change, ...]:
    """Other radii of the recess by corner number, in the order of the pane's corners."""
    radii = [recess_radius(subject, each) for each in _by_number(subject)]
    for number, radius in wanted.items():
        radii[number - 1] = radius
    return (Change("recess.radius", _plain(radii)),)


def _by_number(subject: Subject) -> list[Corner]:
    """The corners of the glass in the order of their names, as radii are typed."""
    return sorted(corners(subject.detail.curves.glass), key=lambda corner: corner.number)


def _typed(subject: Subject) -> dict[int, int]:
    """The index of the typed corner for every corner number."""
    form = subject.pane.outline
    if form.rectangle is not None:
        wide, high = form.rectangle
        points = [(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)]
        if form.mirrored:
            points = [(wide - x, y) for x, y in points]
    else:
        points = list(form.places)
    left, bottom = subject.pane.origin
    return {
        at.number: min(
            range(len(points)),
            key=lambda index, at=at: math.dist(  # type: ignore[misc]
                (points[index][0] - left, points[index][1] - bottom), at.theoretical
            ),
        )
        for at in (corners(subject.detail.curves.glass) if points else ())
    }


def _radii(given: Any, count: int) -> list[float]:
    if given is None:
        return [0.0] * count
    return list(given) if isinstance(given, tuple) else [float(given)] * count


def _plain(radii: list[float]) -> float | list[float]:
    """One radius where all are the same, as a person would type it."""
    return radii[0] if len(set(radii)) == 1 else radii


def _listed(values: Iterable[float]) -> str:
    return " and ".join(mm(value) for value in sorted(set(values)))


def _towards(start: tuple[float, ...], end: tuple[float, ...], distance: float) -> tuple[float, float]:
    share = distance / math.dist(start, end)
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def _sine(at: Corner) -> float:
    return math.sin(math.radians(at.interior_angle) / 2)


__all__ = [
    "bead_radius",
    "cut_square",
    "for_frit",
    "for_joint",
    "for_landing",
    "for_radius",
    "for_unbonded_corner",
    "glass_radii",
    "recess_radius",
]
