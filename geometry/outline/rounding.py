"""Corners rounded to a least radius, and parallel curves whose corners are.

Terms
-----
opening
    Moved in by a radius and out again: what is left is every place that a disc of that radius can reach inside, so every
    convex corner has at least that radius, and everything that was rounder stays as it was.
closing
    The same from outside: every re-entrant corner gets at least the radius.
"""

from __future__ import annotations

import math
from functools import lru_cache

from geometry.outline.loop import Outline, number, segments
from geometry.outline.offset import OffsetError, offset, reason, try_offset
from geometry.outline.soundness import checked_number, turn_at

SHARP = 1e-4
"""Turn at a joint, radians, above which it is a sharp corner."""
ENOUGH = 1e-6
"""mm by which a radius may fall short and still count."""


def rounded(outline: Outline, *, radius: float, concave_radius: float = 0.0, what: str = "the rounded outline") -> Outline:
    """The outline with every convex corner rounded to at least ``radius`` mm, every re-entrant one to ``concave_radius`` mm.

    Rounder corners, circles and ellipses stay as they are.

    >>> from geometry.outline.measure import area
    >>> from geometry.outline.shapes import circle, rectangle
    >>> round(area(rounded(rectangle(100, 50), radius=10)) - area(rectangle(100, 50, radius=10)), 9)
    0.0
    >>> rounded(circle(40), radius=20) == circle(40)
    True
    >>> rounded(rectangle(100, 50), radius=30)
    Traceback (most recent call last):
    geometry.outline.offset.OffsetError: the rounded outline cannot have corners of 30 mm radius: \
the outline is only 50 mm wide near (50, 25)

    Raises
    ------
    OffsetError
        When a disc of that radius does not pass everywhere.
    """
    return offset_rounded(outline, 0.0, radius=radius, concave_radius=concave_radius, what=what)


def offset_rounded(
    outline: Outline, distance: float, *, radius: float, concave_radius: float = 0.0, what: str = "the parallel curve"
) -> Outline:
    """The parallel curve at ``distance`` mm (negative inwards) with corners of at least ``radius`` (re-entrant: ``concave_radius``).

    Where all radii suffice already it is the plain parallel curve. Raises OffsetError as :func:`offset` does, and where there
    is no room for the radius.

    >>> from geometry.outline.shapes import rectangle
    >>> [round(part.length, 3) for part in segments(offset_rounded(rectangle(100, 60, radius=5), -10, radius=8))][:3]
    [12.566, 64.0, 12.566]
    >>> offset_rounded(rectangle(100, 60, radius=30), -10, radius=8) == offset(rectangle(100, 60, radius=30), -10)
    True
    >>> offset_rounded(rectangle(100, 60), -20, radius=15, what="the bead")
    Traceback (most recent call last):
    geometry.outline.offset.OffsetError: the bead cannot run 20 mm inside this outline with corners of 15 mm radius: \
the outline is only 60 mm wide near (50, 30)
    """
    at = checked_number(distance, f"the distance of {what}")
    least = checked_number(radius, f"the corner radius of {what}")
    hollow = checked_number(concave_radius, f"the radius of re-entrant corners of {what}")
    if least < 0 or hollow < 0:
        raise OffsetError(f"{what}: a corner radius is {number(min(least, hollow))} mm; it must be 0 or more")
    return _offset_rounded(outline, at, least, hollow, what)


@lru_cache(maxsize=512)
def _offset_rounded(outline: Outline, distance: float, radius: float, concave_radius: float, what: str) -> Outline:
    # Outwards, convex corners gain the distance; inwards they lose it, and re-entrant ones gain it.
    found = outline
    if radius > 0 and _tightest(outline, convex=True, distance=distance) < radius - ENOUGH:
        found = _there_and_back(outline, distance, -radius, what)
    elif distance != 0.0:
        found = offset(outline, distance, what=what)
    if concave_radius > 0 and _tightest(found, convex=False, distance=0.0) < concave_radius - ENOUGH:
        found = _there_and_back(found, 0.0, concave_radius, what)
        if radius > 0 and _tightest(found, convex=True, distance=0.0) < radius - ENOUGH:
            raise OffsetError(
                f"{what} cannot have corners of {number(radius)} mm radius and re-entrant corners of {number(concave_radius)} mm "
                "radius on this outline: rounding the one sharpens the other"
            )
    return found


def _there_and_back(outline: Outline, distance: float, beyond: float, what: str) -> Outline:
    """Moved to ``distance + beyond`` and back by ``beyond``; the error speaks of the distance and the radius that were asked for."""
    far = try_offset(outline, distance + beyond)
    found = None if far is None else try_offset(far, -beyond)
    if found is not None:
        return found
    kind = "corners" if beyond < 0 else "re-entrant corners"
    start = f"{what} cannot"
    if distance:
        start += f" run {number(abs(distance))} mm {'outside' if distance > 0 else 'inside'} this outline"
        start += f" with {kind} of {number(abs(beyond))} mm radius"
    else:
        start += f" have {kind} of {number(abs(beyond))} mm radius"
    why = reason(outline, distance + beyond, what) if far is None else reason(far, -beyond, what)
    cause = why.partition(": ")[2]
    if cause.startswith("it is only"):
        cause = cause.replace("it is", "the outline is", 1)
    return _refuse(f"{start}: {cause}")


def _refuse(sentence: str) -> Outline:
    raise OffsetError(sentence)


def _tightest(outline: Outline, *, convex: bool, distance: float) -> float:
    """Least convex (or re-entrant) radius, mm, of the parallel curve at a distance as far as neighbours decide it.

    Infinite where nothing turns that way; 0, or less, where a corner is or becomes sharp.
    """
    side = 1.0 if convex else -1.0
    gain = side * distance
    parts = segments(outline)
    radii = [1.0 / abs(part.curvature) for part in parts if part.curvature * side > 0]
    if any(turn_at(parts[i - 1], part) * side > SHARP for i, part in enumerate(parts)):
        radii.append(0.0)
    return min((radius + gain for radius in radii), default=math.inf)


__all__ = ["offset_rounded", "rounded"]
