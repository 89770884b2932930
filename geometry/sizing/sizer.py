"""Sizes of the detail: kept where the job gives them, worked out by ``geometry.sizing.section_sizes`` where it does not.

Terms
-----
worst tolerances
    Every tolerance on its bad side at once. A size that is worked out is the smallest that passes every check there.
outside
    No size of the trade passes every check: the nearest honest one stands and its reason says so.

The order: the joint (it hangs on nothing else), then bond width, thickness, notch and set-back together in one small bounded loop
(``geometry.sizing.bead_fitting``), then landing, frit, recess, backfill and chocks. Lengths mm.
"""

from __future__ import annotations

import math
from dataclasses import replace

from geometry.ledger.size import Origin, Size
from geometry.rules.fit import section
from geometry.rules.holding import bond, chocks, joint
from geometry.rules.rounding import mm
from geometry.rules.tolerance import frit_beyond_landing_tolerance
from geometry.sizing import section_sizes as sizing
from geometry.sizing.bead_fitting import Bead, fit_bead
from geometry.sizing.bead_sizes import BeadTask
from geometry.sizing.corner_needs import CornerNeeds, set_back_for_unbonded_corners
from geometry.sizing.governing import Candidate, Sized
from geometry.sizing.pane_facts import PaneFacts
from geometry.sizing.sizes import KEYS, Sizes

__all__ = ["Sizer", "bead_volume", "print_depth"]


class Sizer(PaneFacts):
    """Works out the sizes of one pane, in the order in which they depend on one another.

    Tolerances, movements and loads are those of ``PaneFacts``.
    """

    def sizes(self) -> Sizes:
        """Every size of the section; ``outside`` marks those that no size of the trade would satisfy."""
        pane, spacer = self.pane, self.pane.spacers
        joint_width = self._size("joint width", pane.joint.width, self._joint_width(), self.joint_tolerance())
        bead = self._bead(joint_width.value)
        width = self._size("bond width", pane.bond.width, bead.width)
        thickness = self._size("bond thickness", pane.bond.thickness, bead.thickness, self.bond_thickness_tolerance().value)
        notch_width = self._size("notch width", pane.bond.notch_width, bead.notch_width)
        notch_height = self._size("notch height", pane.bond.notch_height, bead.notch_height)
        set_back = self._size("set-back", pane.bond.set_back, bead.set_back)
        corner = self._size("bead corner radius", pane.bond.corner_radius, self.bead_corner(width.value))
        needs = CornerNeeds(
            corners=self.corners,
            bead_centre=section.bead_centre(set_back=set_back.value, bond_width=width.value),
            bond_width=width.value,
            bead_corner_radius=corner.value,
            squeeze_out=bead.squeeze_out,
        )
        landing = self._size(
            "landing", pane.recess.landing, self._landing(joint_width.value, bead, needs), self.landing_tolerance().value
        )
        frit_width = self._size(
            "frit width",
            pane.frit.width,
            self._frit_width(joint_width.value, landing.value, bead, needs),
            self.print_tolerance().value,
        )
        frit_corner = self._size(
            "frit corner radius",
            pane.frit.corner_radius,
            sizing.frit_corner_radius(
                bead_corner_radius=corner.value,
                frit_width=frit_width.value,
                bead_centre=needs.bead_centre,
                least=pane.limits.frit_radius_least,
            ),
        )
        depth = self._size(
            "recess depth",
            pane.recess.depth,
            self.surveyed_depth() or sizing.recess_depth(bond_thickness=thickness.value, glass_thickness=self.thickness),
            self.recess_depth_tolerance().value,
        )
        backfill = self._size("backfill depth", pane.joint.backfill_depth, self._backfill(joint_width.value))
        over_sized, length_sized = self._chocks(joint_width.value, backfill.value)
        over = self._size("backfill over chocks", pane.chocks.backfill_over, over_sized)
        chock_length = self._size("chock length", pane.chocks.length, length_sized)
        found = Sizes(
            joint_width=joint_width,
            backfill_depth=backfill,
            backer_diameter=self._size("backer diameter", None, self._backer(joint_width.value, backfill.value, thickness.value)),
            bond_width=width,
            bond_thickness=thickness,
            set_back=set_back,
            bead_corner_radius=corner,
            notch_width=notch_width,
            notch_height=notch_height,
            recess_depth=depth,
            landing=landing,
            frit_start=_kept("frit start", pane.frit.start, "start" in pane.frit.model_fields_set),
            frit_width=frit_width,
            frit_fade=_kept("frit fade", pane.frit.fade, "fade" in pane.frit.model_fields_set),
            frit_corner_radius=frit_corner,
            spacer_thickness=self._size(
                "spacer height, free",
                None,
                sizing.spacer_thickness(bond_thickness=thickness.value, squeeze=spacer.squeeze / 100),
                places=2,
            ),
            spacer_width=_kept("spacer width", spacer.width, "width" in spacer.model_fields_set),
            spacer_length=_kept("spacer length", spacer.length, "length" in spacer.model_fields_set),
            spacer_pitch=_kept("spacer pitch, greatest", spacer.pitch, "pitch" in spacer.model_fields_set),
            chock_length=chock_length,
            chock_backfill_over=over,
            glass_thickness=Size(
                "glass thickness", self.thickness, Origin.GIVEN, tolerance=self.glass_thickness_tolerance().value
            ),
            proud=Size(
                "glass proud of the skin",
                section.proud(bond_thickness=thickness.value, glass_thickness=self.thickness, recess_depth=depth.value),
                Origin.WORKED_OUT,
                "negative: sunk",
            ),
        )
        return self._placed(found)

    def _placed(self, sizes: Sizes) -> Sizes:
        """The sizes with the places of those that the office's defaults gave, and the joint's part in a glass worked out from it."""
        if not self.pane.office_places and not self.pane.outline_worked_out:
            return sizes
        places = {name: self.pane.given_by(key) for name, key in KEYS.items() if getattr(sizes, name).origin is Origin.GIVEN}
        changed = {name: replace(getattr(sizes, name), given_by=place) for name, place in places.items() if place}
        if self.pane.outline_worked_out:
            joint_width = changed.get("joint_width", sizes.joint_width)
            changed["joint_width"] = replace(
                joint_width, reason=f"the glass is worked out from the {self.pane.follows_from} and this joint"
            )
        return replace(sizes, **changed) if changed else sizes

    def _size(self, name: str, given: float | None, sized: Sized, tolerance: float | None = None, *, places: int = 9) -> Size:
        """The given value untouched, else the one worked out; ``places`` decimals are kept."""
        if given is not None:
            return Size(name, given, Origin.GIVEN, tolerance=tolerance)
        value = round(sized.value, places)
        return Size(name, value, Origin.WORKED_OUT, sized.reason, tolerance, outside=sized.outside)

    def _joint_width(self) -> Sized:
        pane, limits, stack = self.pane, self.pane.limits, self.joint_tolerance()
        movement_class, share = self.job.sealant.movement_class / 100, limits.sealant_look / 100
        opening, closing, along = self.moves.worst_side(movement_class=movement_class * share)
        chocked = [("the least height of a chock", limits.chock_height_least)] if not self.flat else []
        found = sizing.joint_width(
            opening=opening,
            closing=closing,
            along=along,
            tolerance=stack,
            movement_class=movement_class,
            limits=limits,
            more=[*chocked, *self._joint_in_corners(limits.joint_least + stack)],
        )
        if pane.recess_outline is None or pane.joint.width is not None:
            return found
        from geometry.outline import distance_between

        there = math.floor(distance_between(pane.recess_outline, self.glass) * 100) / 100
        if there <= 0:
            return found.remarked("the glass as drawn touches the recess as drawn", outside=True)
        named = Sized(there, f"{mm(there)}: the tightest place between the glass and the recess as drawn")
        if there < found.value - 1e-6:
            return named.remarked(f"the rules ask for {found.reason}", outside=True)
        return named

    def _joint_in_corners(self, least_gap: float) -> list[Candidate]:
        """Joint width that leaves ``least_gap`` in every corner of a recess whose radii are given."""
        radii = self.pane.recess.radius
        if radii is None or self.pane.recess.outline is not None:
            return []
        found: list[Candidate] = []
        for corner in self.corners:
            recess = float(radii if isinstance(radii, int | float) else radii[corner.number - 1])
            half = math.sin(math.radians(min(corner.interior_angle, 360 - corner.interior_angle)) / 2)
            tighter = (recess - corner.radius) if corner.convex else (corner.radius - recess)
            found.append((f"the recess radius of {recess:g} in corner V{corner.number}", least_gap * half + tighter * (1 - half)))
        return sorted(found, key=lambda need: -need[1])[:1]

    def _bead(self, joint_width: float) -> Bead:
        pane, limits, adhesive = self.pane, self.pane.limits, self.job.adhesive
        outward = pane.pressure.outward
        chocks_bear = self._chocks_bear(joint_width)
        asked = outward and (pane.bond.width is None or pane.bond.thickness is None)
        task = BeadTask(
            outward_pressure=outward,
            inscribed_radius=self.inscribed_radius() if asked else self.longest / 2,
            area=self.area,
            longest_side=self.longest,
            set_back=lambda squeeze_out, width: self._set_back(squeeze_out, width, joint_width),
            bead_length=self.bead_length,
            round_pane=pane.outline.shape == "circle",
            permanent_load=self.permanent_load(chocks_bear=chocks_bear),
            design_tension=adhesive.design_tension,
            permanent_stress=bond.permanent_limit(
                weight_along=self.weight.along,
                pull_off=self.weight.pull_off,
                chocked=pane.chocks.permanent and chocks_bear,
                permanent_shear=adhesive.design_permanent_shear,
                permanent_tension=adhesive.design_permanent_tension,
            ),
            movement=self.moves.of_the_bead,
            shear_strain=adhesive.design_shear_strain / 100,
            bow=pane.bow * self.longest * 1e-3,
            bow_between_spacers=section.bow_between_spacers(
                bow=pane.bow * self.longest * 1e-3,
                pitch=pane.spacers.pitch,
                length=self.longest,
                bow_share=pane.limits.bow_share / 100,
            ),
            spacer_tolerance=self.bond_thickness_tolerance().value,
            landing_flatness=self.flatness().value,
            given_width=pane.bond.width,
            given_thickness=pane.bond.thickness,
            given_notch_width=pane.bond.notch_width,
            given_notch_height=pane.bond.notch_height,
            limits=limits,
        )
        return fit_bead(task)

    def _set_back(self, squeeze_out: float, bond_width: float, joint_width: float) -> Sized:
        pane, limits = self.pane, self.pane.limits
        if pane.bond.set_back is not None:
            return Sized(pane.bond.set_back, "given")
        more = set_back_for_unbonded_corners(
            self.corners,
            bond_width=bond_width,
            bead_corner_radius=self.bead_corner(bond_width).value,
            unbonded_corner_to_set_back=limits.unbonded_corner_to_set_back,
            most=limits.set_back_most,
        )
        if pane.recess.fillet > 0:
            # the spacer stands in the middle of the set-back; at the tightest joint it must stay off the fillet
            inside = pane.recess.fillet + self.joint_tolerance() - self.narrowest_joint(joint_width)
            more.append(("the spacers stay off the fillet", pane.spacers.width + 2 * inside))
        return sizing.set_back(
            spacer_width=pane.spacers.width,
            frit_start=pane.frit.start,
            squeeze_out=squeeze_out,
            beside_spacer=limits.spacer_clearance,
            beyond_squeeze_out=limits.set_back_beyond_squeeze_out,
            step=limits.size_step,
            inside_frit_start=max(limits.rim_clearance, self.print_tolerance().value),
            more=more,
        )

    def _landing(self, joint_width: float, bead: Bead, needs: CornerNeeds) -> Sized:
        limits, own, stack = self.pane.limits, self.landing_tolerance().value, self.joint_tolerance()
        if (measured := self.surveyed_landing()) is not None:
            return measured[0]
        recess, widest = self.pane.recess_outline, self.widest_joint(joint_width)
        if recess is None:
            clear = needs.landing(joint_width=joint_width, recess_radius=self.pane.recess.radius, margin=limits.landing_inside)
            more = [(name, joint_width + offset + own + stack) for name, offset in clear]
        else:
            clear = needs.landing_beside(recess, margin=limits.landing_inside)
            more = [(name, wide + own + stack) for name, wide in clear]
        return sizing.landing(
            joint_width=widest,
            widest=recess is not None,
            set_back=bead.set_back.value,
            bond_width=bead.width.value,
            squeeze_out=bead.squeeze_out,
            beyond_squeeze_out=limits.landing_inside,
            least_margin=0.0,
            tolerance=own,
            joint_tolerance=stack,
            step=limits.size_step,
            more=more,
        )

    def _frit_width(self, joint_width: float, landing: float, bead: Bead, needs: CornerNeeds) -> Sized:
        pane, limits, shift = self.pane, self.pane.limits, self.print_tolerance().value
        face = pane.glass.printed_face or pane.glass.bond_face
        depth = print_depth(pane.glass.plies, pane.glass.interlayers, face)
        stack = frit_beyond_landing_tolerance(
            print_position=shift, joint=self.joint_tolerance(), landing=self.landing_tolerance().value
        )
        measured = self.surveyed_landing() if pane.recess.landing is None else None
        wide = landing if measured is None else measured[1]
        return sizing.frit_width(
            sizing.Laid(bead.set_back.value, bead.width.value, bead.thickness.value, bead.squeeze_out),
            sizing.Print(depth, shift, pane.frit.fade, self.refractive_index),
            sizing.Hidden(wide, self.narrowest_joint(joint_width), stack),
            limits=limits,
            more=needs.frit(
                print_depth=depth,
                margin=limits.frit_margin,
                frit_corner_radius=pane.frit.corner_radius,
                least_radius=limits.frit_radius_least,
                refractive_index=self.refractive_index,
            ),
        )

    def _backer(self, joint_width: float, backfill: float, thickness: float) -> Sized:
        wide, narrow = self.widest_joint(joint_width), self.narrowest_joint(joint_width)
        found = sizing.backer_diameter(
            joint_width=wide if wide > 0 else joint_width, oversize=self.pane.limits.backer_oversize, narrowest=narrow
        )
        room = joint.backer_room(
            bond_thickness=thickness,
            glass_thickness=self.thickness,
            backfill_depth=backfill,
            backer_diameter=found.value,
            share=self.pane.limits.backer_room,
        )
        return found if room >= -1e-9 else found.remarked("it finds no depth below the backfill: bond-breaker tape", outside=True)

    def _backfill(self, joint_width: float) -> Sized:
        return sizing.backfill_depth(
            joint_width=joint_width,
            glass_thickness=self.thickness,
            edge_left=self.pane.limits.glass_edge_left,
            least=self.pane.limits.backfill_least,
            full_to=self.pane.limits.backfill_full_to,
            most=self.pane.limits.backfill_most,
        )

    def _chocks_bear(self, joint_width: float) -> bool:
        """Whether enough glass bears on the chocks; it hangs on joint and backfill alone, so it is known before the bead."""
        pane, given = self.pane, self.pane.joint.backfill_depth
        over, _ = self._chocks(joint_width, self._backfill(joint_width).value if given is None else given)
        needed = chocks.bearing_depth_needed(
            plies=pane.glass.plies,
            interlayers=pane.glass.interlayers,
            single=pane.limits.chock_bearing,
            outer_share=pane.limits.chock_bearing_outer / 100,
        )
        return chocks.bearing_depth(glass_thickness=self.thickness, backfill_over=over.value) >= needed - 1e-9

    def _chocks(self, joint_width: float, backfill: float) -> tuple[Sized, Sized]:
        """Backfill over the chocks and their length: the backfill is made shallower where the chocks would be unusually long."""
        pane, limits = self.pane, self.pane.limits
        if pane.chocks.backfill_over is not None:
            over = Sized(pane.chocks.backfill_over, "given")
            return over, self._chock_length(joint_width, over.value)
        over = sizing.chock_backfill_over(
            backfill_depth=backfill,
            plies=pane.glass.plies,
            interlayers=pane.glass.interlayers,
            least=limits.chock_backfill_least,
            single=limits.chock_bearing,
            outer_share=limits.chock_bearing_outer / 100,
        )
        usual = limits.chock_length_usual if pane.chocks.length is None else pane.chocks.length
        length, first = self._chock_length(joint_width, over.value), over.value
        while length.value > usual and over.value - 1.0 >= limits.chock_backfill_least:
            value = over.value - 1.0
            shallower = f"less than {mm(first)}, so that the chocks need not be over {mm(usual)} long"
            over = Sized(value, f"{mm(value)}: {shallower}", over.outside)
            length = self._chock_length(joint_width, value)
        return over, length

    def _chock_length(self, joint_width: float, backfill_over: float) -> Sized:
        return sizing.chock_length(
            area=self.area,
            force=0.0 if self.flat else self.chock_share() * self.weight.along,
            bearing_depth=chocks.bearing_depth(glass_thickness=self.thickness, backfill_over=backfill_over),
            height=self.highest_chock(joint_width),
            limits=self.pane.limits,
        )


def print_depth(plies: tuple[float, ...], interlayers: tuple[float, ...], face: int) -> float:
    """Glass and interlayer between the printed face and the bond face, mm.

    >>> print_depth((6.0, 6.0), (1.52,), 2), print_depth((6.0, 6.0), (1.52,), 4)
    (7.52, 0.0)
    """
    layers: list[float] = []
    for index, ply in enumerate(plies):
        layers.append(ply)
        if index < len(interlayers):
            layers.append(interlayers[index])
    # Face 1 lies before the first layer, face 2 after it, face 3 after the interlayer ...
    return math.fsum(layers[face - 1 :])


def _kept(name: str, value: float, given: bool) -> Size:
    return Size(name, value, Origin.GIVEN if given else Origin.DEFAULT)


def bead_volume(*, area_laid: float, length: float) -> float:
    """Adhesive in the bead, ml."""
    return area_laid * length * 1e-3
