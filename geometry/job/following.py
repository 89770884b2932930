"""The glass that follows from another line: from the recess less the joint, from the daylight opening plus landing less joint.

Terms
-----
line given
    What the outline of a pane stands for (key ``of``): the glass itself, the recess in the frame, or the daylight opening that the
    landing leaves free. An architect's line is seldom the glass.
parallel curve
    At one distance from the line all round: corner radii grow or shrink by it, and a rounding of no more than it leaves a sharp corner.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from geometry.job.outlines import OutlineForm
from geometry.job.refusal import refuse

if TYPE_CHECKING:
    from geometry.outline import Corner


def inside(recess: OutlineForm, joint: float) -> OutlineForm:
    """The glass of a recess: the parallel curve of its outline, ``joint`` mm inside, true lines and arcs.

    A rectangle stays a rectangle and a circle a circle; every other form becomes a path. Refuses where the joint leaves no glass.
    """
    try:
        return _parallel(recess, -joint)
    except ValueError as error:
        sentence = str(error) if type(error).__name__ == "OffsetError" else "nothing of the recess is left"
        raise refuse(
            f"a joint of {joint:g} mm inside the outline of the recess leaves no glass: {sentence}", key="joint.width"
        ) from None


def round_daylight(daylight: OutlineForm, landing: float, joint: float) -> OutlineForm:
    """The glass round a daylight opening: ``landing`` less ``joint`` mm outside it. Refuses where the glass would not cover the landing."""
    if landing <= joint:
        raise refuse(
            f"a landing of {landing:g} mm less a joint of {joint:g} mm leaves no glass on the landing",
            "a landing wider than the joint and the bead",
            key="recess.landing",
        )
    try:
        return _parallel(daylight, landing - joint)
    except ValueError as error:
        sentence = f"no glass goes {landing - joint:g} mm round the daylight opening: {error}"
        raise refuse(sentence, key="outline") from None


def _parallel(line: OutlineForm, by: float) -> OutlineForm:
    """The parallel curve ``by`` mm outside a line (inside where negative), in the form of the line where that has one."""
    given: dict[str, Any]
    if line.rectangle is not None:
        width, height = (round(size + 2 * by, 9) for size in line.rectangle)
        radii = line.radius if isinstance(line.radius, tuple) else (line.radius or 0.0,)
        found = [round(max(radius + by, 0.0), 9) for radius in radii]
        given = {"rectangle": [width, height], "radius": found if len(found) > 1 else found[0]}
    elif line.circle is not None:
        given = {"circle": round(line.circle + 2 * by, 9)}
    else:
        from geometry.outline import offset
        from geometry.outline.measure import moved

        outline = offset(line.local, by)
        if line.incoming is not None:
            return line.with_outline(moved(outline, *line.shift))
        given = {"path": [(v.x, v.y, v.bulge) for v in outline.vertices]}
    return OutlineForm.model_validate({**given, "mirrored": line.mirrored})


def tight_corners(line: OutlineForm, joint: float) -> tuple[Corner, ...]:
    """The corners of a recess whose radius is less than the joint: no parallel curve follows them, the glass is sharp there."""
    from geometry.outline.corners import corners

    return tuple(each for each in corners(line.as_typed) if each.convex and 0.0 < each.radius < joint - 1e-9)


__all__ = ["inside", "round_daylight", "tight_corners"]
