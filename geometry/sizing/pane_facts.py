"""What one pane brings to its sizes: tolerances, movements, weight, area, the circle inside it and the length of its bead.

Terms
-----
stated
    A tolerance, plus and minus, mm, and whether the job gives it; else it is a default of the register.
chocked
    Chocks stay under the pane and carry it for good, so that it is fixed at the sill.
permanent load
    What the bond carries for good: the weight where no chock stays, and the pull-off of a reverse rake.
"""

from __future__ import annotations

import math
from functools import cached_property
from typing import TYPE_CHECKING

from geometry.outline import area, bounding_box, corners, distance_from, perimeter, straight_runs
from geometry.outline.between import widths_round
from geometry.outline.corners import run_names
from geometry.rules.holding import bond, chocks, gravity
from geometry.rules.materials import GLASS_DENSITY, GLASS_REFRACTIVE_INDEX, INTERLAYER_DENSITIES, mass
from geometry.rules.rounding import mm, number
from geometry.sizing import section_sizes as sizing
from geometry.sizing.governing import Sized
from geometry.sizing.movement_needs import PaneMovement
from geometry.sizing.tolerances import PaneTolerances, Stated

if TYPE_CHECKING:
    from geometry.job import Job, Pane
    from geometry.outline import Outline

__all__ = ["INSCRIBED_WITHIN", "PaneFacts"]

INSCRIBED_WITHIN = 0.2  # mm; finer takes a hundred times as long on panes with parallel sides and moves no size


class PaneFacts:
    """What one pane brings to its sizes, before any of them is worked out."""

    def __init__(self, job: Job, pane: Pane, glass: Outline) -> None:
        self.job, self.pane, self.glass = job, pane, glass
        box = bounding_box(glass)
        self.width, self.height = box.width, box.height
        self.longest = max(self.width, self.height)
        self.thickness = pane.glass.thickness
        self.tolerances = PaneTolerances(pane, longest=self.longest)
        self.corners = corners(glass)

    # Tolerances, each plus and minus, mm.

    def pane_tolerance(self) -> float:
        """On the overall size of the pane."""
        return self.tolerances.pane().value

    def recess_tolerance(self) -> float:
        """On the overall size of the recess."""
        return self.tolerances.recess().value

    def joint_tolerance(self) -> float:
        """On the joint, one side."""
        return self.tolerances.joint().value

    def placing(self) -> Stated:
        """On the place of the pane in the recess."""
        return self.tolerances.placing()

    def print_tolerance(self) -> Stated:
        """On the place of the frit's edge."""
        return self.tolerances.print()

    def bond_thickness_tolerance(self) -> Stated:
        """On the bond thickness over the spacers."""
        return self.tolerances.bond_thickness()

    def glass_thickness_tolerance(self) -> Stated:
        """On the thickness of the whole make-up."""
        return self.tolerances.glass_thickness()

    def recess_depth_tolerance(self) -> Stated:
        """On the depth of the recess."""
        return self.tolerances.recess_depth()

    def landing_tolerance(self) -> Stated:
        """On the width of the landing."""
        return self.tolerances.landing()

    def flatness(self) -> Stated:
        """Hollows of the landing under a 1 m straight-edge."""
        return self.tolerances.flatness()

    # Movement and load.

    @property
    def chocked(self) -> bool:
        """Whether chocks carry the pane for good, so that it is fixed at the sill."""
        return self.pane.chocks.permanent and not self.flat

    @property
    def flat(self) -> bool:
        """Whether the pane is a deck light: it lies on its landing and no chock stands under it."""
        return self.pane.rake >= self.pane.limits.deck_light_rake

    @cached_property
    def moves(self) -> PaneMovement:
        """How far the frame moves against the glass."""
        rounded = any(corner.radius > 0 for corner in self.corners)
        return PaneMovement(self.job, self.pane, width=self.width, height=self.height, chocked=self.chocked, rounded=rounded)

    def frame_expansion(self) -> float:
        """Of the frame, 1/K."""
        return self.moves.frame_expansion

    def movement(self) -> tuple[float, float]:
        """Greatest movement of the joint by heat, and of the bead at the farthest corner, mm, over all temperature cases."""
        return self.moves.of_the_joint, self.moves.of_the_bead

    # The joint beside a recess with an outline of its own, by its place: what is worked out takes the worst of it.

    def _own_joint(self, *, under: bool = False) -> tuple[float, float] | None:
        """Least and largest joint as drawn, mm; ``under``: of the edges that may stand on chocks. None where the recess follows the pane."""
        recess = self.pane.recess_outline
        if recess is None:
            return None
        found = widths_round(self.glass, recess)
        if under:
            runs = zip(run_names(self.glass), straight_runs(self.glass), strict=True)
            heads = {name for name, run in runs if run.outward.y > 0.5}
            found = tuple(each for each in found if each.part not in heads) or found
        return min(each.value for each in found), max(each.value for each in found)

    def narrowest_joint(self, joint_width: float) -> float:
        """Joint at its tightest as drawn, mm; ``joint_width`` where it is the same all round."""
        own = self._own_joint()
        return joint_width if own is None else own[0]

    def widest_joint(self, joint_width: float) -> float:
        """Joint at its widest as drawn, mm; ``joint_width`` where it is the same all round."""
        own = self._own_joint()
        return joint_width if own is None else own[1]

    def highest_chock(self, joint_width: float) -> float:
        """Joint at its widest as drawn where chocks may stand, mm."""
        own = self._own_joint(under=True)
        return joint_width if own is None else max(own[1], 0.0)

    # What was measured round the recess stands in place of what would be worked out.

    def surveyed_depth(self) -> Sized | None:
        """Mean of the surveyed depths of the recess; None where none was taken."""
        survey = None if self.pane.recess.outline is None else self.pane.recess.outline.surveyed
        found = [point.depth for point in survey.points if point.depth is not None] if survey is not None else []
        if not found:
            return None
        mean = round(math.fsum(found) / len(found), 2)
        return Sized(mean, f"{mm(mean)}: the mean of {len(found)} surveyed, {number(min(found))} to {number(max(found))}")

    def surveyed_landing(self) -> tuple[Sized, float] | None:
        """The least of the surveyed landings, and the widest, mm; None where none was taken."""
        survey = None if self.pane.recess.outline is None else self.pane.recess.outline.surveyed
        found = [point.landing for point in survey.points if point.landing is not None] if survey is not None else []
        if not found:
            return None
        return Sized(min(found), f"{mm(min(found))}: the least of {len(found)} surveyed, the widest {number(max(found))}"), max(
            found
        )

    @cached_property
    def area(self) -> float:
        """Of the pane, mm²."""
        return area(self.glass)

    @cached_property
    def mass(self) -> float:
        """Of the pane, kg."""
        glass, materials = self.pane.glass, self.job.materials
        return mass(
            area=self.area,
            glass=math.fsum(glass.plies),
            interlayer=math.fsum(glass.interlayers),
            glass_density=materials.glass.density or GLASS_DENSITY,
            interlayer_density=materials.interlayer.density or INTERLAYER_DENSITIES[glass.interlayer_material].value,
        )

    @property
    def refractive_index(self) -> float:
        """Of the glass."""
        return self.job.materials.glass.refractive_index or GLASS_REFRACTIVE_INDEX

    @cached_property
    def weight(self) -> gravity.Weight:
        """The weight along the pane and off its landing, N."""
        return gravity.weight_in_pane(mass=self.mass, rake=self.pane.rake)

    def permanent_load(self, *, chocks_bear: bool = True) -> float:
        """What the bond carries for good, N: the weight where no chock stays, and the pull-off of a reverse rake.

        ``chocks_bear``: the glass bears well enough on its chocks; where it does not they are temporary, whatever the job says.
        """
        return bond.permanent_load(
            weight_along=self.weight.along,
            pull_off=self.weight.pull_off,
            chocked=self.pane.chocks.permanent and chocks_bear,
        )

    def inscribed_radius(self) -> float:
        """Of the largest circle inside the pane, mm: exact where it fits in the middle, else at most 0.2 mm too large."""
        most = min(self.width, self.height) / 2
        if self.pane.outline.shape == "ellipse" or distance_from(self.glass, bounding_box(self.glass).middle) >= most - 1e-9:
            return most
        from geometry.outline.regions import largest_inscribed_circle

        return min(most, largest_inscribed_circle(self.glass, tolerance=INSCRIBED_WITHIN)[1] + INSCRIBED_WITHIN)

    def bead_length(self, bead_centre: float, bond_width: float) -> float:
        """Length of the bead's centre line, mm, by closed form; 0 where it has no room.

        A smooth outline loses 2 π × distance; a corner too tight for the gun is cut by the rounding, and loses
        (radius - parallel radius) × (2 tan(turning / 2) - turning) more.
        """
        radius = self.bead_corner(bond_width).value
        length = self._perimeter - 2 * math.pi * bead_centre
        for corner in self.corners:
            turning = abs(math.pi - math.radians(corner.interior_angle))
            parallel = corner.radius - bead_centre if corner.convex else corner.radius + bead_centre
            length -= max(0.0, radius - parallel) * (2 * math.tan(turning / 2) - turning)
        return max(0.0, length)

    @cached_property
    def _perimeter(self) -> float:
        return perimeter(self.glass)

    def bead_corner(self, bond_width: float) -> Sized:
        """Least radius of the bead's centre line in a corner, mm."""
        given = self.pane.bond.corner_radius
        if given is not None:
            return Sized(given, "given")
        return sizing.bead_corner_radius(bond_width=bond_width, least=self.pane.limits.gun_radius)

    def chock_share(self) -> float:
        """Share of the weight on the heavier of two chocks: half on a level sill, where they stand even about the centroid."""
        from geometry.outline import centroid, straight_runs

        level = any(run.outward.y < -0.9999 for run in straight_runs(self.glass))
        places = self.pane.chocks.at or ()
        if not level:
            return self.pane.limits.chock_share_sloping / 100
        if len(places) < 2:
            return 0.5
        middle = centroid(self.glass).x
        left, right = min(places), max(places)
        if left == right:
            return 1.0
        return max(chocks.level_reactions(weight_along=1.0, left=left, right=right, centroid=middle))
