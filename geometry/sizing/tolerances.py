"""The tolerances of one pane: as given in the job, else from the register of tolerances by kind and size.

Terms
-----
stated
    A tolerance, plus and minus, mm, and whether the job gives it; else it is a default of the register.
register
    The defaults in ``geometry.rules.tolerance``, each with its source there.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from geometry.job.standards import size_of_recess
from geometry.rules import general_tolerances, tolerance

if TYPE_CHECKING:
    from geometry.job import Pane

__all__ = ["STEELS", "PaneTolerances", "Stated"]

STEELS = ("steel", "stainless")


class Stated(NamedTuple):
    """A tolerance, plus and minus, mm, and where it comes from; ``by`` is the table that the job names for it."""

    value: float
    given: bool
    by: str = ""


class PaneTolerances:
    """Every tolerance of one pane; ``longest`` is the longest side of its upright box, mm."""

    def __init__(self, pane: Pane, *, longest: float) -> None:
        self._pane, self._longest = pane, longest

    def pane(self) -> Stated:
        """On the overall size of the pane: by longest side, thickness and kind of glass."""
        glass, by = self._pane.glass, self._pane.tolerances.pane_standard
        laminated = len(glass.plies) > 1 if by is None else by == "EN ISO 12543-5"
        if laminated:
            default = tolerance.laminated_pane(longest_side=self._longest, plies=glass.plies, interlayers=glass.interlayers)
        else:
            default = tolerance.toughened_pane(longest_side=self._longest, thickness=glass.thickness)
        return self._stated("pane", default, by or "")

    def ply_step(self) -> Stated:
        """How far one ply of a laminate may stand out beyond another: by longest side."""
        return self._stated("ply_step", tolerance.ply_step(longest_side=self._longest))

    def recess(self) -> Stated:
        """On the overall size of the recess: by how the frame is built, else by its material."""
        material = self._pane.frame.material or ""
        build: str = self._pane.frame_build or tolerance.BUILD_OF_FRAME.get(material, "welded")
        if build == "welded" and material in STEELS:
            build = "welded_steel"
        by = self._pane.tolerances.recess_standard
        default = tolerance.RECESS_BY_BUILD[build] if by is None else self._by_class(by)
        return self._stated("recess", default, by or "")

    def _by_class(self, named: str) -> float:
        standard, _, accuracy = named.rpartition("-")
        table = general_tolerances.welded_frame if standard == "ISO 13920" else general_tolerances.machined_frame
        return table(size=size_of_recess(self._pane), accuracy=accuracy)

    def placing(self) -> Stated:
        """On the place of the pane in the recess."""
        return self._stated("placing", tolerance.PLACING)

    def joint(self) -> Stated:
        """On the joint, one side, worst case; given only where all three that go into it are given."""
        parts = (self.recess(), self.pane(), self.placing())
        value = tolerance.joint_tolerance(recess=parts[0].value, pane=parts[1].value, placing=parts[2].value)
        return Stated(value, all(part.given for part in parts))

    def print(self) -> Stated:
        """On the place of the frit's edge."""
        return self._stated("print", tolerance.print_position(longest_side=self._longest))

    def print_size(self) -> Stated:
        """On the overall size of the print; one of its edges strays by half of it."""
        return self._stated("print_size", tolerance.print_size(longest_side=self._longest))

    def bond_thickness(self) -> Stated:
        """On the bond thickness over the spacers."""
        return self._stated("bond_thickness", tolerance.BOND_THICKNESS)

    def glass_thickness(self) -> Stated:
        """On the thickness of the whole make-up."""
        glass = self._pane.glass
        return self._stated("glass_thickness", tolerance.glass_thickness(glass.plies, glass.interlayers))

    def recess_depth(self) -> Stated:
        """On the depth of the recess."""
        return self._stated("recess_depth", tolerance.RECESS_DEPTH)

    def landing(self) -> Stated:
        """On the width of the landing."""
        return self._stated("landing", tolerance.LANDING)

    def flatness(self) -> Stated:
        """Hollows of the landing under a 1 m straight-edge."""
        return self._stated("flatness", tolerance.LANDING_FLATNESS)

    def _stated(self, name: str, default: float, by: str = "") -> Stated:
        given = getattr(self._pane.tolerances, name)
        return Stated(default, bool(by), by) if given is None else Stated(float(given), True)
