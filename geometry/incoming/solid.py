"""An outline out of a face of a STEP file (ISO 10303): read once, the face picked, its outer loop taken exactly, and told how.

Terms
-----
plan of a face
    The face as seen from outside: against its normal, which is the side that it looks to. Y runs upwards, as ``up`` laid into the plane;
    where the face lies within 5° of level, X runs along the file's X (its Y, where X is up). X and Y count from the foot of the file's
    origin on the plane, so that two faces in one plane stand in the same coordinates.
told
    The unit, the face, the side from which it is seen, and what of it was not read: it goes with the outline wherever that is told of.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from geometry.incoming.incoming import Incoming, IncomingError, InSpace
from geometry.incoming.moves import dot
from geometry.incoming.plane import EDGE_ON, NOT_FLAT, TOWARDS, Plane, plane_seen
from geometry.incoming.shaping import Shaped, shaped
from geometry.incoming.solid_faces import moved, rough
from geometry.incoming.solid_parts import Parts, Unit
from geometry.incoming.solid_picking import Candidate, Faces, size_of
from geometry.incoming.solid_text import LARGEST, WHAT, StepText, text_of_step
from geometry.incoming.spaces import WITHIN
from geometry.incoming.units import LEAST, MILLIMETRES, MOST, WORDS, likely, usual
from geometry.outline.loop import Outline, Vertex, number
from geometry.outline.measure import bounding_box

if TYPE_CHECKING:
    from geometry.incoming.joining import Loop
    from geometry.incoming.pieces import Place

OFF_PLANE = 1e-3
"""mm off its plane from which the edges of a face are told of."""
OFF_CURVE = 1e-3
"""mm off its curve from which the end of an edge is told of."""
MOST_HOLES = 4
"""Holes that are told one by one."""


@dataclass(frozen=True)
class SolidPick:
    """What is asked of a STEP file: a face by name or number, None: the one that is clearly the largest; ``within`` in mm."""

    face: str | int | None = None
    units: str = ""
    seen_from: str = "outside"
    up: str = "+z"
    within: float = WITHIN


@dataclass
class SolidFile:
    """One STEP file that was read; its parts and faces are gone through once for each unit."""

    name: str
    step: StepText
    _faces: dict[str, Faces] = field(default_factory=dict)

    def faces(self, units: str) -> Faces:
        """The faces, with the unit that the job gives in place of the file's own."""
        if units not in self._faces:
            self._faces[units] = Faces(Parts(self.step, Unit(units, MILLIMETRES[units]) if units else None))
        return self._faces[units]


def solid_of(data: bytes, name: str) -> SolidFile:
    """The STEP file of some bytes. Raises ``IncomingError``."""
    with _legible(name):
        return SolidFile(name, text_of_step(data, name))


def read_solid(solid: SolidFile, pick: SolidPick) -> Incoming:
    """The outline of the face that is asked for, counter-clockwise, seen from outside, mm.

    Raises ``IncomingError`` with all there is to choose where it is not one face alone.
    """
    with _legible(solid.name):
        return _read(solid, pick)


@contextmanager
def _legible(name: str) -> Iterator[None]:
    """While a file is gone through: what a damaged part of it throws becomes one ``IncomingError``."""
    import numpy as np

    try:
        with np.errstate(all="ignore"):
            yield
    except IncomingError:
        raise
    except RecursionError:
        raise IncomingError(f"{name} cannot be read: its parts stand too deep in each other", WHAT) from None
    except (ArithmeticError, ValueError, LookupError, TypeError, AttributeError) as error:
        raise IncomingError(f"{name} cannot be read: {type(error).__name__} in its lines", f"a whole {WHAT[2:]}") from None


def _read(solid: SolidFile, pick: SolidPick) -> Incoming:
    faces = solid.faces(pick.units)
    if not faces.parts.all:
        raise _nothing(solid.step)
    candidate = faces.meant(pick.face)
    if candidate.part.unit is None:
        raise _no_unit(solid, candidate)
    plane = _plane(candidate, pick)
    loops = [moved(each, candidate.move) for each in candidate.loops.loops] if candidate.loops is not None else []
    off = _off(loops[0], plane, candidate.loops.off_plane if candidate.loops is not None else 0.0)
    outline = shaped(loops[0], plane, factor=1.0, within=pick.within)
    _usual(solid, pick, outline, candidate)
    told = [*_unit_told(solid, pick, candidate), *_holes(loops[1:], plane)]
    if candidate.loops is not None and candidate.loops.off > OFF_CURVE:
        told.append(f"ends of its edges lie up to {candidate.loops.off:.2g} mm off their curves")
    if off > OFF_PLANE:
        told.append(f"its edges lie up to {off:.2g} mm off its plane")
    if faces.parts.left_out:
        told.append(faces.parts.left_out)
    return Incoming(
        Outline(tuple(Vertex(round(v.x, 9) + 0.0, round(v.y, 9) + 0.0, v.bulge) for v in outline.outline.vertices)),
        ", ".join(_source(solid, pick, candidate, plane)),
        (*told, *outline.said),
        outline.deviation,
        outline.shape,
        None,
        plane.lean,
        _in_space(plane, loops[0].pieces[0].start),
    )


def _nothing(step: StepText) -> IncomingError:
    """The refusal of a file without faces: what else it shows."""
    kinds = list(step.kinds())
    also = [
        words
        for words, known in (
            ("a mesh of triangles", any("TESSELLATED" in kind or "TRIANGULATED" in kind for kind in kinds)),
            ("lines and curves", any(kind in ("GEOMETRIC_CURVE_SET", "GEOMETRIC_SET") for kind in kinds)),
            ("faces that belong to no shape", "ADVANCED_FACE" in kinds),
        )
        if known
    ]
    found = f"{step.name} shows no solid and no sheet with faces" + (f", only {' and '.join(also)}" if also else "")
    return IncomingError(found, "solids or sheets with exact faces (ADVANCED_FACE)")


def _no_unit(solid: SolidFile, candidate: Candidate) -> IncomingError:
    wide, high, _ = size_of(candidate)
    ways = likely(wide, high)
    return IncomingError(
        f"{solid.name} states no unit of length; the {candidate.words} measures {number(wide)} × {number(high)}",
        "units = " + " or ".join(f'"{name}"' for name in MILLIMETRES),
        f"it would be a pane in {' or '.join(ways)}" if ways else "",
        key="units",
    )


def _plane(candidate: Candidate, pick: SolidPick) -> Plane:
    """The plane of a face as it is looked at from outside."""
    normal = candidate.normal
    if pick.seen_from in TOWARDS:
        side = dot(normal, TOWARDS[pick.seen_from])
        if abs(side) < math.sin(math.radians(EDGE_ON)):
            raise IncomingError(
                f"the {candidate.words} stands edge-on to {pick.seen_from}", "a side towards which it looks", key="seen_from"
            )
        turn = side < 0
    else:
        turn = pick.seen_from == "inside"
    return plane_seen((-normal[0], -normal[1], -normal[2]) if turn else normal, pick.up)


def _in_space(plane: Plane, at: Place) -> InSpace:
    """Where the plan of a face lies in the file: from the foot of its origin."""
    along = dot(plane.normal, at)
    x, y, z = (along * each + 0.0 for each in plane.normal)
    return InSpace((x, y, z), plane.x, plane.y)


def _off(loop: Loop, plane: Plane, written: float) -> float:
    """How far the edges lie off one plane, or off the one that is written for their face, mm. Raises where they do not lie in it."""
    heights = [dot(plane.normal, at) for at in rough(loop)]
    off = max(max(heights) - min(heights), written)
    if off > NOT_FLAT:
        raise IncomingError(f"the edges of the face lie {off:.3g} mm off its plane", f"at most {NOT_FLAT:g} mm", key="face")
    return off


def _usual(solid: SolidFile, pick: SolidPick, outline: Shaped, candidate: Candidate) -> None:
    """Ask for the unit where a pane of this size is hardly one, and only the file says so."""
    box, unit_ = bounding_box(outline.outline), candidate.part.unit
    if pick.units or unit_ is None or usual(box.width, box.height):
        return
    ways = [way for way in likely(box.width / unit_.factor, box.height / unit_.factor) if not way.startswith(f"{unit_.name} ")]
    raise IncomingError(
        f"units? the {candidate.words} is {number(box.width)} × {number(box.height)} mm in the unit that {solid.name} states, "
        f"{WORDS.get(unit_.name, unit_.name)}",
        f'a pane of {LEAST:g} to {MOST:g} mm; units = "..." in the job says that it is right, or which unit is',
        f"it would be a pane in {' or '.join(ways)}" if ways else "",
        key="units",
    )


def _unit_told(solid: SolidFile, pick: SolidPick, candidate: Candidate) -> list[str]:
    """Where the unit of the job holds: what the file says of it, if it is anything else."""
    if not pick.units:
        return []
    given = WORDS.get(pick.units, pick.units)
    try:
        stated = Parts(solid.step).unit_of(candidate.part.representation)
    except IncomingError:
        return [f"the file's unit of length cannot be read: the job's unit holds, {given}"]
    if stated is None:
        return [f"the file states no unit of length: the job's unit holds, {given}"]
    if stated.name == pick.units:
        return []
    return [f"the file states {WORDS.get(stated.name, stated.name)}, the job {given}: the job's unit holds"]


def _holes(loops: list[Loop], plane: Plane) -> list[str]:
    """What stands inside the outer loop and was not read."""
    rows = []
    for loop in loops:
        places = [plane.flat(at) for at in rough(loop)]
        (left, right), (bottom, top) = ((min(along), max(along)) for along in zip(*places, strict=True))
        size = f"{number(round(right - left, 1))} × {number(round(top - bottom, 1))} mm"
        rows.append(
            f"{size} round X {number(round((left + right) / 2, 1) + 0.0)}, Y {number(round((bottom + top) / 2, 1) + 0.0)}"
        )
    if not rows:
        return []
    more = f" and {len(rows) - MOST_HOLES} more" if len(rows) > MOST_HOLES else ""
    return [f"{len(rows)} hole{'s' if len(rows) > 1 else ''} in the face not read: {', '.join(rows[:MOST_HOLES])}{more}"]


def _source(solid: SolidFile, pick: SolidPick, candidate: Candidate, plane: Plane) -> list[str]:
    """The file, what was picked of it and how it is looked at, in words."""
    unit_ = candidate.part.unit
    assert unit_ is not None and plane.lean is not None
    how = candidate.words
    if pick.face is None:
        how += ", clearly the largest flat one" if len(solid.faces(pick.units).flat) > 1 else ", the only flat one"
    side = {"outside": "by the face's normal", "inside": "against the face's normal"}.get(
        pick.seen_from, f"where its outer face looks {pick.seen_from}"
    )
    words = [solid.name, how, f"in {WORDS.get(unit_.name, unit_.name)}" + ("" if pick.units else " by the file")]
    words += [f"seen from outside {side}", f"its plane leans {number(round(plane.lean, 2) + 0.0)} deg from upright"]
    return [*words, *([f"{pick.up} up"] if pick.up != "+z" else [])]


__all__ = ["LARGEST", "WHAT", "SolidFile", "SolidPick", "read_solid", "solid_of"]
