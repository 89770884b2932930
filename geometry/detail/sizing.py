"""Sizes of the detail: kept where the job gives them, worked out where it does not.

Each size that is left out has one function here that names its rule and says why; the rules themselves stand in ``geometry.rules``.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from geometry.detail.parts import Origin, Size, Sizes
from geometry.outline import area, bounding_box
from geometry.rules import bond, frit, joint, section, tolerance
from geometry.rules.materials import EXPANSION

if TYPE_CHECKING:
    from geometry.job import Job, Pane
    from geometry.outline import Outline

BEAD_SERIES = (10.0, 12.0, 14.0, 15.0, 16.0, 18.0, 20.0)  # nozzle widths, common practice, no source
LEAST_BEAD_CORNER = 12.0  # mm a hand gun can turn, common practice, no source
CHOCK_LENGTH_PER_AREA = 27.0  # mm per m² of pane, second hand: notes of a maker of rubber blocks


class Sizer:
    """Works out the sizes of one pane, in the order in which they depend on one another."""

    def __init__(self, job: Job, pane: Pane, glass: Outline) -> None:
        self.job, self.pane, self.glass = job, pane, glass
        box = bounding_box(glass)
        self.longest = max(box.right - box.left, box.top - box.bottom)
        self.width, self.height = box.right - box.left, box.top - box.bottom
        self.thickness = pane.glass.thickness

    # Tolerances, each plus and minus, mm.

    def pane_tolerance(self) -> float:
        """On the overall size of the pane."""
        given = self.pane.tolerances.pane
        if given is not None:
            return given
        plies = self.pane.glass.plies
        if len(plies) > 1:
            return tolerance.laminated_pane(longest_side=self.longest, plies=plies, interlayers=self.pane.glass.interlayers)
        return tolerance.toughened_pane(longest_side=self.longest, thickness=self.thickness)

    def recess_tolerance(self) -> float:
        """On the overall size of the recess."""
        given = self.pane.tolerances.recess
        if given is not None:
            return given
        build = self.pane.frame_build or tolerance.BUILD_OF_FRAME.get(self.pane.frame.material or "", "welded")
        return tolerance.RECESS_BY_BUILD[build]

    def joint_tolerance(self) -> float:
        """On the joint, one side."""
        placing = self.pane.tolerances.placing
        return joint.joint_tolerance(
            recess=self.recess_tolerance(), pane=self.pane_tolerance(), placing=tolerance.PLACING if placing is None else placing
        )

    def _tolerance(self, name: str, default: float) -> float:
        given = getattr(self.pane.tolerances, name)
        return default if given is None else float(given)

    # Movement.

    def frame_expansion(self) -> float:
        """Of the frame, 1/K."""
        frame = self.pane.frame
        if frame.expansion is not None:
            return float(frame.expansion)
        own = getattr(self.job.materials, frame.material or "aluminium").expansion
        return float(own if own is not None else EXPANSION[frame.material or "aluminium"])

    def movement(self) -> tuple[float, float]:
        """Greatest movement of the joint, and of the bead at the farthest corner, mm, over all temperature cases."""
        glass_expansion = self.job.materials.glass.expansion or EXPANSION["glass"]
        cases = self.pane.temperatures.cases.values()
        strain = max(
            abs(
                joint.differential_strain(
                    frame_expansion=self.frame_expansion(),
                    glass_expansion=glass_expansion,
                    frame=case.frame,
                    glass=case.glass,
                    bonding=self.pane.temperatures.bonding,
                )
            )
            for case in cases
        )
        free = self.pane.rake >= 75
        high = self.height / 2 if free else self.height
        return strain * max(self.width / 2, high), strain * math.hypot(self.width / 2, high)

    # Sizes.

    def sizes(self) -> Sizes:
        """Every size of the section."""
        pane = self.pane
        width = self._bond_width()
        thickness = self._bond_thickness(width.value)
        spacer = pane.spacers
        notch_width = _size(
            "notch width",
            pane.bond.notch_width,
            lambda: section.notch_width(bond_width=width.value),
            "two thirds of the bond width",
        )
        notch_height = _size(
            "notch height",
            pane.bond.notch_height,
            lambda: section.notch_height_for(
                bond_width=width.value, bond_thickness=thickness.value, notch_width=notch_width.value
            ),
            "its area is that of the pressed bead",
        )
        area_laid = section.fresh_bead_area(notch_width=notch_width.value, notch_height=notch_height.value)
        least_gap = max(0.5, thickness.value - self._tolerance("bond_thickness", tolerance.BOND_THICKNESS))
        spill = section.overspill(bead_area=area_laid, least_gap=least_gap, bond_width=width.value)
        joint_width = self._joint_width()
        set_back = _size(
            "set-back",
            pane.bond.set_back,
            lambda: _up(max(spacer.width + 2.0, pane.frit.start + 3.0, spill + 1.0)),
            "room for the spacer and the overspill",
        )
        corner = _size(
            "bead corner radius",
            pane.bond.corner_radius,
            lambda: max(width.value, LEAST_BEAD_CORNER),
            "the least that a gun can turn",
        )
        landing = _size(
            "landing",
            pane.recess.landing,
            lambda: _up(joint_width.value + set_back.value + width.value + spill + 2.0),
            "joint, set-back, bead, overspill and 2 mm",
            tolerance_=self._tolerance("landing", tolerance.LANDING),
        )
        print_tolerance = self._tolerance("print", tolerance.print_position(longest_side=self.longest))
        frit_width = _size(
            "frit width",
            pane.frit.width,
            lambda: self._frit_width(
                set_back.value, width.value, spill, print_tolerance, landing.value, joint_width.value, thickness.value
            ),
            "twice the bond, cover of the bead, edge of the landing hidden",
            tolerance_=print_tolerance,
        )
        frit_corner = _size(
            "frit corner radius",
            pane.frit.corner_radius,
            lambda: frit.frit_corner_radius(
                bead_corner_radius=corner.value, frit_width=frit_width.value, bead_centre=set_back.value + width.value / 2
            ),
            "parallel to the bead, at least 5 mm",
        )
        depth = _size(
            "recess depth",
            pane.recess.depth,
            lambda: section.recess_depth(bond_thickness=thickness.value, glass_thickness=self.thickness),
            "glass flush with the skin",
            tolerance_=self._tolerance("recess_depth", tolerance.RECESS_DEPTH),
        )
        backfill = _size(
            "backfill depth",
            pane.joint.backfill_depth,
            lambda: joint.backfill_depth(joint_width=joint_width.value, glass_thickness=self.thickness),
            "as deep as wide, on the glass edge",
        )
        over = _size(
            "backfill over chocks",
            pane.chocks.backfill_over,
            lambda: max(min(backfill.value, self.thickness - 4.0), min(3.0, self.thickness / 2)),
            "leaves 4 mm of glass on the chock",
        )
        chock_length = _size(
            "chock length",
            pane.chocks.length,
            lambda: _up(max(50.0, CHOCK_LENGTH_PER_AREA * area(self.glass) * 1e-6)),
            "at least 50 mm and 27 mm for each m²",
        )
        return Sizes(
            joint_width=joint_width,
            backfill_depth=backfill,
            backer_diameter=Size(
                "backer diameter", round(1.25 * joint_width.value, 1), Origin.WORKED_OUT, "a quarter wider than the joint"
            ),
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
            spacer_thickness=Size(
                "spacer height, free",
                round(thickness.value / (1 - spacer.squeeze / 100), 2),
                Origin.WORKED_OUT,
                "gives its squeeze when pressed",
            ),
            spacer_width=_kept("spacer width", spacer.width, "width" in spacer.model_fields_set),
            spacer_length=_kept("spacer length", spacer.length, "length" in spacer.model_fields_set),
            spacer_pitch=_kept("spacer pitch, greatest", spacer.pitch, "pitch" in spacer.model_fields_set),
            chock_length=chock_length,
            chock_backfill_over=over,
            glass_thickness=Size(
                "glass thickness",
                self.thickness,
                Origin.GIVEN,
                tolerance=self._tolerance("glass_thickness", tolerance.glass_thickness(pane.glass.plies, pane.glass.interlayers)),
            ),
            proud=Size(
                "glass proud of the skin",
                section.proud(bond_thickness=thickness.value, glass_thickness=self.thickness, recess_depth=depth.value),
                Origin.WORKED_OUT,
                "negative: sunk",
            ),
        )

    def _bond_width(self) -> Size:
        given = self.pane.bond.width
        if given is not None:
            return Size("bond width", given, Origin.GIVEN, tolerance=None)
        needs = {"least bead": 10.0}
        outward = self.pane.pressure.outward
        if outward is not None and outward > 0:
            from geometry.outline.regions import widest_place

            _, inscribed = widest_place(self.glass)
            needs["outward pressure"] = bond.width_for_pressure(
                outward_pressure=outward, inscribed_radius=inscribed, design_tension=self.job.adhesive.design_tension
            )
        reason, need = max(needs.items(), key=lambda item: item[1])
        value = next((width for width in BEAD_SERIES if width >= need - 1e-9), float(math.ceil(need)))
        return Size("bond width", value, Origin.WORKED_OUT, f"{reason}: {need:.1f} mm needed")

    def _bond_thickness(self, width: float) -> Size:
        given = self.pane.bond.thickness
        tolerance_ = self._tolerance("bond_thickness", tolerance.BOND_THICKNESS)
        if given is not None:
            return Size("bond thickness", given, Origin.GIVEN, tolerance=tolerance_)
        flatness = self._tolerance("flatness", tolerance.LANDING_FLATNESS)
        needs = {
            "movement": bond.thickness_for_movement(
                movement=self.movement()[1], shear_strain=self.job.adhesive.design_shear_strain / 100
            ),
            "a third of the bond width": bond.thickness_for_proportion(bond_width=width),
            "bow and flatness": bond.thickness_for_flatness(
                bow=self.pane.bow * self.longest * 1e-3, spacer_tolerance=tolerance_, landing_flatness=flatness
            ),
            "length of the pane": bond.thickness_for_length(longest_side=self.longest),
            "least bond": 3.0 if self.longest < 300 else 5.0,
        }
        reason, need = max(needs.items(), key=lambda item: item[1])
        return Size("bond thickness", _up(need), Origin.WORKED_OUT, f"{reason}: {need:.1f} mm needed", tolerance_)

    def _joint_width(self) -> Size:
        given, stack = self.pane.joint.width, self.joint_tolerance()
        if given is not None:
            return Size("joint width", given, Origin.GIVEN, tolerance=stack)
        need = joint.joint_width_for_movement(
            movement=self.movement()[0], movement_class=self.job.sealant.movement_class / 100, tolerance=stack
        )
        return Size("joint width", _up(need), Origin.WORKED_OUT, f"movement and tolerance: {need:.1f} mm needed", stack)

    def _frit_width(
        self,
        set_back: float,
        width: float,
        spill: float,
        print_tolerance: float,
        landing: float,
        joint_width: float,
        thickness: float,
    ) -> float:
        glass = self.pane.glass
        face = glass.printed_face or glass.bond_face
        depth = _print_depth(glass.plies, glass.interlayers, face)
        need = frit.frit_needed(
            set_back=set_back, bond_width=width, overspill=spill, print_depth=depth, print_tolerance=print_tolerance
        )
        hidden = frit.frit_to_hide_landing(landing=landing, joint_width=joint_width, bond_thickness=thickness)
        return _up(max(need, hidden) + self.pane.frit.fade)


def _print_depth(plies: tuple[float, ...], interlayers: tuple[float, ...], face: int) -> float:
    """Glass and interlayer between the printed face and the bond face, mm."""
    layers: list[float] = []
    for index, ply in enumerate(plies):
        layers.append(ply)
        if index < len(interlayers):
            layers.append(interlayers[index])
    # Face 1 lies before the first layer, face 2 after it, face 3 after the interlayer ...
    return sum(layers[face - 1 :])


def _up(value: float) -> float:
    """Rounded up to whole millimetres."""
    return float(math.ceil(value - 1e-9))


def _size(name: str, given: float | None, work_out, reason: str, *, tolerance_: float | None = None) -> Size:  # type: ignore[no-untyped-def]
    if given is not None:
        return Size(name, given, Origin.GIVEN, tolerance=tolerance_)
    return Size(name, round(work_out(), 6), Origin.WORKED_OUT, reason, tolerance_)


def _kept(name: str, value: float, given: bool) -> Size:
    return Size(name, value, Origin.GIVEN if given else Origin.DEFAULT)


def bead_volume(*, area_laid: float, length: float) -> float:
    """Adhesive in the bead, ml."""
    return area_laid * length * 1e-3
