"""Remedies for a bead that the bent pane pulls too hard: rounder corners, a thicker or wider bond, thicker glass.

Terms
-----
way
    One kind of change with its sizes in rising order. How far each brings the tension down is guessed by a law of beams on elastic beds;
    the guess chooses the size, and the plate proves it.
gathered
    Where a corner is lifted the bead pulls the harder the stiffer it is beside the glass: with the square root of stiffness over bending
    stiffness.
Interlayers are left as they are: what couples plies in heat and over time is the engineer's figure.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from geometry.findings.corners.corner_remedies import for_radius
from geometry.findings.fit.bead_remedies import bead_changes
from geometry.findings.fit.fill_checks import FLOAT_THICKNESSES
from geometry.findings.holding.bond_remedies import wider_bead
from geometry.ledger.finding import Change, Remedy
from geometry.outline import bounding_box
from geometry.outline.corners import corners
from geometry.rules.holding import bond
from geometry.rules.rounding import mm, up

if TYPE_CHECKING:
    from geometry.outline import Point
    from geometry.outline.corners import Corner
    from geometry.workings.subject import Subject

STEP = 10.0  # mm, of the radius of a corner
GATHERED = 0.6  # power of the bead's stiffness, between a corner on a line (1/2) and one on an area (3/4)
THICKER = 1.35  # power of the thickness of the glass: gathered, bending stiffness with its cube
MOST = 2  # sizes of glass above today's


@dataclass(frozen=True)
class Way:
    """``sizes`` in rising order; ``share`` guesses the tension as a share of today's, ``made`` the remedy of a size, None where none is."""

    sizes: tuple[float, ...]
    share: Callable[[float], float]
    made: Callable[[float], Remedy | None]

    def size_for(self, share: float) -> float | None:
        """The least size guessed to bring the tension to a share of today's; the greatest where it nearly does, None where none does."""
        found = next((size for size in self.sizes if self.share(size) <= share), None)
        return self.sizes[-1] if found is None and self.sizes and self.share(self.sizes[-1]) <= 1.25 * share else found

    def after(self, size: float, share: float) -> Way:
        """The way with a law that agrees with what the plate found for a size."""
        guessed = math.log(self.share(size))
        power = math.log(share) / guessed if share < 1.0 and guessed < 0.0 else 0.0
        law = self.share
        return replace(self, sizes=tuple(each for each in self.sizes if each > size), share=lambda each: law(each) ** power)


def ways(subject: Subject, place: Point) -> Iterator[Way]:
    """The ways for a bead that is pulled hardest at a place, those first that change least."""
    near = _near(subject, place)
    lifted = [each.radius for each in near if each.convex]
    yield _thicker_bond(subject)
    if lifted:
        yield _rounder(subject, min(lifted))
    if not near:
        yield _wider(subject)
    yield _thicker_glass(subject)


def _near(subject: Subject, place: Point) -> list[Corner]:
    """The corners of the glass at which a place of the bead lies."""
    reach = 2 * (subject.sizes.set_back.value + subject.sizes.bond_width.value)
    return [each for each in corners(subject.detail.curves.glass) if math.dist(each.theoretical, place) <= reach + each.radius]


def _rounder(subject: Subject, radius: float) -> Way:
    """The tension goes about with the radius that the pane has beyond the middle of the bead's corner."""
    box, sizes = bounding_box(subject.detail.curves.glass), subject.sizes
    most, centre = min(box.width, box.height) / 4, sizes.set_back.value + sizes.bond_width.value / 2
    radii = [up(radius, STEP) + STEP * step for step in range(1 + int(max(0.0, most - radius) / STEP))]
    return Way(
        tuple(each for each in radii if radius < each <= most),
        lambda each: (radius + centre) / (each + centre),
        lambda each: next(iter(for_radius(subject, each)), None),
    )


def _stiffness(subject: Subject, thickness: float) -> float:
    """Of the bead over its area, N/mm³."""
    own = subject.asked("adhesive.tension_modulus").value
    if own is None:
        own = bond.tension_modulus(
            shear_modulus=subject.asked("adhesive.shear_modulus").value,
            bond_width=subject.sizes.bond_width.value,
            bond_thickness=thickness,
        )
    return float(own) / thickness


def _thicker_bond(subject: Subject) -> Way:
    now, most = subject.sizes.bond_thickness.value, float(subject.limit("bond_thickness_most").value)
    sizes = [up(now, 0.5) + 0.5 * step for step in range(1 + int(max(0.0, most - now) / 0.5))]

    def made(thickness: float) -> Remedy:
        depth = subject.pane.recess.depth
        deeper = () if depth is None else (Change("recess.depth", round(depth + thickness - now, 2)),)
        return Remedy(f"lay the bond {mm(thickness)} thick", (*bead_changes(subject, thickness=thickness), *deeper))

    return Way(
        tuple(each for each in sizes if now < each <= most),
        lambda each: (_stiffness(subject, each) / _stiffness(subject, now)) ** GATHERED,
        made,
    )


def _wider(subject: Subject) -> Way:
    now = subject.sizes.bond_width.value
    return Way(
        tuple(each for each in subject.limit("bond_widths").value if each > now),
        lambda each: now / each,
        lambda each: Remedy(f"lay a bead {mm(each)} wide", wider_bead(subject, each)),
    )


def _thicker_glass(subject: Subject) -> Way:
    """All plies by as many steps of the series; the size is the sum of the plies."""
    plies: list[float] = list(subject.pane.glass.plies)
    stacks: list[tuple[float, ...]] = []
    while len(stacks) < MOST:
        plies = [next((each for each in FLOAT_THICKNESSES if each > ply), math.inf) for ply in plies]
        if not all(map(math.isfinite, plies)):
            break
        stacks.append(tuple(plies))
    by_size = {math.fsum(each): each for each in stacks}
    now = math.fsum(subject.pane.glass.plies)

    def made(size: float) -> Remedy:
        thicker, depth = by_size[size], subject.pane.recess.depth
        deeper = () if depth is None else (Change("recess.depth", round(depth + size - now, 2)),)
        told = " / ".join(f"{each:g}" for each in thicker)
        return Remedy(f"take glass of {told} mm", (Change("glass.plies", list(thicker)), *deeper))

    return Way(tuple(by_size), lambda each: (now / each) ** THICKER, made)


__all__ = ["Way", "ways"]
