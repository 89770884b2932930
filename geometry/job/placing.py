"""Where a pane lies on the vessel: the point from which its plan counts, and the directions of the plan's X and Y.

Terms
-----
vessel's frame
    The axes of the ship model, mm: those of the STEP file where the place is taken from a face.
level
    Which plane of the pane the point and the directions are of: its weather face, its bond face, or the landing.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Annotated, Literal, NamedTuple

from pydantic import model_validator

from geometry.job.fields import Choice, ListOf, Measure, Reads, Table, setting
from geometry.job.refusal import refuse

if TYPE_CHECKING:
    from geometry.job.pane import Pane

Three = tuple[float, float, float]
NOT_SQUARE = 0.5
"""Degrees that two directions as typed may be off square: figures of three digits are (own bound). X holds, Y is made square to it."""
ON_VESSEL = Measure("length", "mm", at_least=-1e6, at_most=1e6)
ALONG = Measure("length", "mm", at_least=-1e6, at_most=1e6)
"""Of a direction, whose length does not count."""
PARALLEL = 1e-3
"""How far the directions of two faces may differ, radians, for their plans to be one."""

Spot = Annotated[tuple[float, ...], Reads(ListOf(ON_VESSEL, least=3, most=3), "mm")]
Way = Annotated[tuple[float, ...], Reads(ListOf(ALONG, least=3, most=3))]
TakenFrom = Annotated[Literal["face"], Choice()]
Level = Annotated[Literal["weather face", "bond face", "landing"], Choice()]


class OnVessel(NamedTuple):
    """The plan in the vessel's frame: where its origin lies, mm, and its X and Y, unit vectors square to each other."""

    origin: Three
    x: Three
    y: Three

    @property
    def outwards(self) -> Three:
        """The direction square to the plan, towards the viewer outside."""
        (a, b, c), (d, e, f) = self.x, self.y
        return b * f - c * e, c * d - a * f, a * e - b * d

    def at(self, x: float, y: float, z: float = 0.0) -> Three:
        """A place of the plan, z outwards from it, in the vessel's frame, mm.

        >>> OnVessel((5000.0, 0.0, 900.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)).at(100, 50, 7)
        (5100.0, -7.0, 950.0)
        """
        o, i, j, k = self.origin, self.x, self.y, self.outwards
        return (
            o[0] + x * i[0] + y * j[0] + z * k[0],
            o[1] + x * i[1] + y * j[1] + z * k[1],
            o[2] + x * i[2] + y * j[2] + z * k[2],
        )


class Placing(Table):
    """Where the pane lies on the vessel: typed, or as the face that its outline is read from."""

    taken_from: TakenFrom | None = setting(
        None,
        "face: the plan lies where the face of the STEP file lies that the outline is read from; in place of origin, x and y",
    )
    origin: Spot | None = setting(None, "[x, y, z] in the vessel's frame of the origin of the plan, from which its X and Y count")
    x: Way | None = setting(
        None, "[x, y, z], the direction in the vessel's frame of the plan's X, to the right as seen from outside"
    )
    y: Way | None = setting(
        None,
        "[x, y, z], the direction of the plan's Y, square to x within 0.5 deg: x holds, y is made square; x, y and the way outside "
        "are right-handed",
    )
    on: Level = setting(
        "weather face",
        "weather face, bond face or landing: what of the pane lies in the plane of origin, x and y, or of the face",
    )

    @model_validator(mode="after")
    def _whole(self) -> Placing:
        typed = [key for key in ("origin", "x", "y") if getattr(self, key) is not None]
        if self.taken_from is not None:
            if typed:
                raise refuse(f"found {typed[0]} beside taken_from", "taken_from, or origin, x and y", key=typed[0])
            return self
        missing = [key for key in ("origin", "x", "y") if key not in typed]
        if missing:
            raise refuse(
                f"{' and '.join(missing)} {'is' if len(missing) == 1 else 'are'} missing",
                'origin, x and y together, or taken_from = "face"',
                key=missing[0] if typed else "",
            )
        for key in ("x", "y"):
            if not math.hypot(*getattr(self, key)) > 1e-6:
                raise refuse("found a direction without a length", "[x, y, z] that are not all 0", key=key)
        angle = math.degrees(math.acos(max(-1.0, min(1.0, _dot(_unit(self.x), _unit(self.y))))))
        if abs(angle - 90.0) > NOT_SQUARE:
            stand = "are parallel" if min(angle, 180.0 - angle) < NOT_SQUARE else f"stand at {angle:.2f} deg to each other"
            raise refuse(f"x and y {stand}", f"directions square to each other within {NOT_SQUARE:g} deg", key="y")
        return self

    def typed(self) -> OnVessel:
        """The place as typed, y square to x."""
        assert self.origin is not None
        x = _unit(self.x)
        y = _unit(self.y)
        along = _dot(x, y)
        square = _unit((y[0] - along * x[0], y[1] - along * x[1], y[2] - along * x[2]))
        return OnVessel((self.origin[0], self.origin[1], self.origin[2]), x, square)


def on_vessel(pane: Pane) -> OnVessel | None:
    """Where the plan of a pane lies in the vessel's frame; None where the job does not say it."""
    placing = pane.placing
    if placing is None:
        return None
    if placing.taken_from is None:
        return placing.typed()
    came = pane.outline.incoming
    assert came is not None and came.in_space is not None, "seen to while the job was read"
    face = OnVessel(*came.in_space)
    return OnVessel(face.at(*pane.origin), face.x, face.y)


def sound_placing(pane: Pane) -> None:
    """Refuse a place that the pane cannot have, and faces of one pane that lie askew to each other."""
    came = pane.outline.incoming
    for key, own in (("recess.outline", pane.recess.outline), ("frit.outline", pane.frit.outline)):
        other = own.incoming if own is not None else None
        if came is None or other is None or came.in_space is None or other.in_space is None:
            continue
        askew = max(math.dist(came.in_space.x, other.in_space.x), math.dist(came.in_space.y, other.in_space.y))
        if askew > PARALLEL:
            raise refuse(
                f"found a face that lies askew to that of the glass, by {math.degrees(askew):.2f} deg",
                "faces in parallel planes that look the same way",
                key=key,
            )
    if pane.placing is None:
        return
    if pane.placing.taken_from is not None:
        allowed = 'taken_from = "face" with outline = { solid = "...", face = "..." }; else origin, x and y'
        if came is None or came.in_space is None:
            raise refuse(f"found face beside an outline of the form {pane.outline.form}", allowed, key="placing.taken_from")
        if pane.outline.mirrored:
            raise refuse(
                "found face beside mirrored: the other hand does not lie on it", "origin, x and y", key="placing.taken_from"
            )


def _dot(a: Three, b: Three) -> float:
    return math.fsum(p * q for p, q in zip(a, b, strict=True))


def _unit(way: tuple[float, ...] | None) -> Three:
    assert way is not None
    length = math.hypot(*way)
    return way[0] / length, way[1] / length, way[2] / length


__all__ = ["NOT_SQUARE", "OnVessel", "Placing", "on_vessel", "sound_placing"]
