"""What the bisector of a corner meets, and the sums that the findings on corners share.

Terms
-----
on the bisector
    Along the line that halves a corner's angle, from the sharp glass corner inwards: where a rounded curve lies farthest from
    where the straights would meet, so where joint, landing and cover are won or lost.
unbonded corner
    Glass beyond the outer edge of the bead in a corner, bonded to nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from geometry.detail.edges import ROUND
from geometry.detail.worst_corner import corner_joints
from geometry.ledger.figure import plain
from geometry.outline import Arc, Corner, Outline, Point, corners, ray_length, segments
from geometry.rules.fit import section

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from geometry.detail.parts import Curves
    from geometry.ledger.figure import Figure, Ledger
    from geometry.workings.subject import Subject

CLEAN = 9  # decimals of a drawn figure; what lies behind is the noise of the last bits
AGREES = 1e-6  # mm within which a formula and the drawn curves are the same figure


@dataclass(frozen=True, slots=True)
class CornerSight:
    """One corner with what its bisector meets, mm from the sharp glass corner inwards; None where it meets nothing."""

    corner: Corner
    joint: float
    unbonded: float
    bead_inner: float | None
    landing: float | None
    frit_inner: float | None

    @property
    def name(self) -> str:
        """V1, V2 ..."""
        return f"V{self.corner.number}"

    @property
    def place(self) -> Point:
        """Where the bisector meets the glass edge."""
        return self.corner.on_glass


def sights_of(curves: Curves, faded: bool) -> tuple[CornerSight, ...]:
    """``faded``: the drawn edge of the solid frit counts; a print with an outline of its own has its fade taken off later."""
    solid = curves.frit_fade if curves.frit_fade is not None and faded else curves.frit_inner

    def reach(outline: Outline, at: Corner) -> float | None:
        found = ray_length(outline, at.theoretical, at.bisector)
        return None if found is None else round(found, CLEAN)

    return tuple(
        CornerSight(
            at,
            round(joint, CLEAN),
            round(unbonded, CLEAN),
            reach(curves.bead_inner, at),
            reach(curves.sight_line, at),
            reach(solid, at),
        )
        for at, joint, unbonded in corner_joints(curves)
    )


def tightest(glass: Outline) -> tuple[float | None, str, Point | None]:
    """Least convex radius of the glass, where it is and the middle of its arc; None on an outline that turns nowhere outwards."""
    convex = [(at.radius, f"V{at.number}", at.on_glass) for at in corners(glass) if at.convex]
    known = {at.tangent_before for at in corners(glass)}
    convex += [
        (part.radius, ROUND, part.point_at(0.5))
        for part in segments(glass)
        if isinstance(part, Arc) and part.bulge > 0 and part.start not in known
    ]
    if not convex:
        return None, "", None
    return min(convex, key=lambda each: round(each[0], 6))


def bead_centre(subject: Subject, ledger: Ledger) -> Figure:
    """Bead centre from the glass edge, mm."""
    sizes = subject.sizes
    return ledger.work(
        "bead centre from the glass edge",
        section.bead_centre,
        set_back=sizes.set_back,
        bond_width=sizes.bond_width,
    )


def inside_bead(sights: Iterable[CornerSight], curve: str) -> Iterator[tuple[float, CornerSight]]:
    """How far a curve lies inside the bead on each bisector, mm; a bisector that does not meet both has nothing to lose."""
    for sight in sights:
        reach: float | None = getattr(sight, curve)
        if reach is not None and sight.bead_inner is not None:
            yield reach - sight.bead_inner, sight


def also_at(worst: CornerSight, sights: Iterable[CornerSight]) -> str:
    """The other corners that fall short as well, in words."""
    names = [sight.name for sight in sights if sight is not worst]
    return f"; also at {', '.join(names)}" if names else ""


def agreeing(ledger: Ledger, what: str, rule: Callable[..., Any], value: float, inputs: dict[str, Any]) -> Figure | None:
    """The figure of a formula where it gives what the drawn curves give; None where a corner is not of the formula's kind."""
    if abs(rule(**{name: plain(each) for name, each in inputs.items()}) - value) > AGREES:
        return None
    return ledger.work(what, rule, **inputs)


__all__ = ["CornerSight", "agreeing", "also_at", "bead_centre", "inside_bead", "sights_of", "tightest"]
