"""The parts of a detail, as frozen values.

Terms
-----
size
    One measure of the detail with where it comes from: given in the job file, worked out by a rule, or a marked default.
spacer
    A block between landing and glass, outside the bead, that sets the bond thickness.
setting chock, side block, location block
    Blocks in the joint between recess wall and glass edge: under the sill, at the low end of a sloping sill, mid-side of a deck light.
section
    A cut square to the glass edge. x runs in the landing plane from the recess wall to the daylight, z from the landing outboard.
crossing
    The distances along one section line, from the glass edge inwards (negative: outwards), at which the curves of the plan are met.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from geometry.compare.best_fit import Fit
    from geometry.detail.recess_profile import RecessProfile
    from geometry.incoming import Incoming
    from geometry.outline import Corner, Outline, Point, Station
    from geometry.sizing.sizes import Sizes


class BlockKind(StrEnum):
    """What a block in the joint is for; the text is what a sheet prints."""

    SETTING = "setting chock"
    SIDE = "side block"
    LOCATION = "location block"


@dataclass(frozen=True, slots=True)
class Ply:
    """One ply of glass or one interlayer, from the weather face inwards."""

    material: str  # "glass" or "interlayer"
    thickness: float


@dataclass(frozen=True, slots=True)
class Glass:
    """The pane's make-up."""

    plies: tuple[Ply, ...]
    treatment: str
    thickness: float
    mass: float  # kg

    def make_up(self) -> str:
        """Thicknesses from the weather face inwards, with the decimal comma of the sheet: ``6 / 1,52 / 6``."""
        return " / ".join(f"{ply.thickness:g}".replace(".", ",") for ply in self.plies)


@dataclass(frozen=True, slots=True)
class Curves:
    """The curves of the plan, seen from outside, from the origin of the pane, mm."""

    recess: Outline
    glass: Outline
    frit_outer: Outline
    frit_inner: Outline
    frit_fade: Outline | None  # where the solid frit ends and the fade begins
    bead_outer: Outline
    bead_centre: Outline
    bead_inner: Outline
    sight_line: Outline


@dataclass(frozen=True, slots=True)
class PlanOrigin:
    """The point from which X and Y count everywhere; ``name`` says in words what it is, ``at`` is its place in the plan."""

    name: str
    at: Point


@dataclass(frozen=True, slots=True)
class Spacer:
    """A spacer block: its centre, the direction of the glass edge there and how far it stands from its corner."""

    mark: str
    centre: Point
    angle: float  # degrees, direction of the glass edge, counter-clockwise round the pane
    edge: str  # "e1", or "round" on an outline without straight edges
    distance: float  # along the edge from its first vertex; on a round outline along the edge from the lowest point


@dataclass(frozen=True, slots=True)
class Chock:
    """A block in the joint. ``foot`` lies on the glass edge, ``height`` is the joint width there, ``depth`` is along z from the landing."""

    mark: str
    kind: BlockKind
    foot: Point
    angle: float
    length: float
    height: float
    depth: float
    edge: str
    distance: float


@dataclass(frozen=True, slots=True)
class BeadStart:
    """Where the bead starts and stops, on its centre line; it runs counter-clockwise as seen from outside."""

    place: Point
    angle: float
    edge: str
    distance: float


@dataclass(frozen=True, slots=True)
class Crossing:
    """Distances from the recess wall along one section line, mm; the wall is 0."""

    glass_edge: float
    frit_start: float
    bead_outer: float
    bead_centre: float
    bead_inner: float
    landing: float
    frit_inner: float
    frit_fade: float | None


@dataclass(frozen=True, slots=True)
class Levels:
    """Heights above the landing along one section, mm."""

    bond_face: float
    glass_face: float  # the weather face
    skin: float
    backfill: float  # where the backfill begins
    chock: float | None  # top of the chock that is cut


@dataclass(frozen=True, slots=True)
class CutFace:
    """A face cut by the section plane: what it is made of and its closed run (x, z, bulge)."""

    material: str
    nodes: tuple[tuple[float, float, float], ...]


@dataclass(frozen=True, slots=True)
class Section:
    """A cut square to the glass edge at ``station``; looked at against the counter-clockwise direction of the edge."""

    letter: str
    title: str
    station: Station
    crossing: Crossing
    levels: Levels
    profile: RecessProfile
    faces: tuple[CutFace, ...]
    joint_width: float
    chock: Chock | None = None
    spacer: Spacer | None = None


@dataclass(frozen=True, slots=True)
class WorstCorner:
    """The corner with the least joint, and what happens there, along its bisector from the sharp glass corner."""

    corner: Corner
    joint: float  # corner gap, negative where the glass would cut into the recess
    recess_radius: float | None
    bead_radius: float
    frit_radius: float | None
    unbonded: float  # glass beyond the bead's outer edge along the bisector
    glass_on_bisector: float  # from the sharp corner outwards along the bisector to the glass edge; negative: inside it


@dataclass(frozen=True, slots=True)
class UncuredBead:
    """The triangular bead as laid and what it becomes."""

    notch_width: float
    notch_height: float
    area: float  # mm², laid
    pressed_width: float  # what that area gives at the bond thickness
    length: float  # of the centre line
    volume: float  # ml


@dataclass(frozen=True)
class Detail:
    """One pane's fit-up, complete: all that is drawn is here, what follows from the curves alone as soon as it is looked at."""

    code: str
    name: str
    revision: str
    frame: str
    rake: float
    quantity: int
    glass: Glass
    sizes: Sizes
    curves: Curves
    origin: PlanOrigin
    corners: tuple[Corner, ...]
    area: float  # mm²
    perimeter: float
    centroid: Point
    spacers: tuple[Spacer, ...]
    chocks: tuple[Chock, ...]
    bead_start: BeadStart
    uncured_bead: UncuredBead
    sections: tuple[Section, ...]
    glass_cuts_recess: bool  # somewhere the glass, as drawn, lies outside the recess
    edge_middles: tuple[tuple[str, Point, float], ...]  # name, middle and direction (degrees) of every straight edge
    pane_tolerance: float  # ± on the overall size of the pane
    recess_tolerance: float  # ± on the overall size of the recess
    chocks_permanent: bool
    recess_standard: str = ""  # class of general tolerances that the job names for the recess; "": none
    forward: str | None = None  # where the bow lies: left, right, up or down on the plan, out of it or into it; None: not known
    frit_as_drawn: bool = False  # the inner edge of the frit has an outline of its own, not parallel to the glass edge
    glass_from_recess: bool = False  # the outline of the glass is worked out: the recess, the joint width inside
    glass_from_daylight: bool = False  # the outline of the glass is worked out: the daylight opening, landing less joint wider
    tight_corners: tuple[Corner, ...] = ()  # corners of a recess given, rounder than the joint is wide: the glass is sharp there
    daylight_radius: float | None = (
        None  # that the glass has where the daylight opening given has a sharp corner; None: no such corner
    )
    incoming: tuple[
        tuple[str, Incoming], ...
    ] = ()  # what came out of drawings and surveys: of which outline, and with what done to it
    defaults_outside: str = ""  # name of the office's defaults where they lie outside the job's folder
    drawn_straight: tuple[int, ...] = ()  # points of the path whose sides rise too little to be arcs
    deck_light: bool = False  # so near to level that it lies on its landing and no chock stands under it
    placed: Fit | None = None  # the glass is drawn as it was made, where it comes to lie in the recess

    @cached_property
    def daylight_area(self) -> float:
        """Clear area left by landing and frit, mm²."""
        from geometry.detail.curves import daylight_area

        return daylight_area(self.curves.sight_line, self.curves.frit_inner)

    @cached_property
    def worst_corner(self) -> WorstCorner | None:
        """The corner with the least joint; None on an outline without corners."""
        from geometry.detail.worst_corner import worst_corner

        return worst_corner(self.curves)


__all__ = [
    "BeadStart",
    "BlockKind",
    "Chock",
    "Crossing",
    "Curves",
    "CutFace",
    "Detail",
    "Glass",
    "Levels",
    "PlanOrigin",
    "Ply",
    "Section",
    "Spacer",
    "UncuredBead",
    "WorstCorner",
]
