"""A face of a STEP file: on which surface it lies, which of its sides looks outwards, and the loops round it (ISO 10303-42).

Terms
-----
flat face
    One on a plane, or on a spline surface whose control points lie in a plane.
normal
    The direction in which a face looks: of a solid away from its material, of a sheet as its author turned it.
outer loop
    The line round the face; the others are holes in it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from geometry.incoming.joining import Loop
from geometry.incoming.moves import Move, cross, dot, unit
from geometry.incoming.picking import NEXT_TO_STRAIGHT
from geometry.incoming.pieces import Piece, Place
from geometry.incoming.solid_edges import OFF, Edge, edge_of
from geometry.incoming.solid_parts import FACES, axes_of, place_of, says
from geometry.incoming.solid_text import Reference, StepText

STEP_OF_ARC = math.radians(4.0)
SHARES = 12
"""Places of a span of a curve where a face is looked at roughly."""
IN_PLANE = 1e-3
"""mm that the control points of a flat spline surface may lie off their plane."""
ROUND_SURFACES = {
    "CYLINDRICAL_SURFACE": "a cylinder",
    "CONICAL_SURFACE": "a cone",
    "SPHERICAL_SURFACE": "a sphere",
    "TOROIDAL_SURFACE": "a torus",
    "DEGENERATE_TOROIDAL_SURFACE": "a torus",
    "SURFACE_OF_REVOLUTION": "a turned surface",
    "SURFACE_OF_LINEAR_EXTRUSION": "a drawn-out curve",
    "OFFSET_SURFACE": "a surface beside another one",
}


@dataclass(frozen=True, slots=True)
class FaceLoops:
    """The loops of a flat face in its part, mm: the outer one first.

    ``off`` is how far an end of the outer one lies off its curve, ``off_plane`` how far that loop lies off the plane of the face, mm.
    """

    loops: tuple[Loop, ...]
    off: float = 0.0
    off_plane: float = 0.0


def label_of(step: StepText, number: int) -> str:
    """The name that a face has of its own; "" where it has none."""
    return next(
        (" ".join(args[0].split()) for args in step.at(number).values() if args and isinstance(args[0], str) and says(args[0])),
        "",
    )


def aspects_of(step: StepText) -> dict[int, str]:
    """Names that are given to faces as features of their part (ISO 10303-1101, geometric_item_specific_usage of a shape aspect)."""
    found: dict[int, str] = {}
    for number in step.numbers("GEOMETRIC_ITEM_SPECIFIC_USAGE"):
        args = step.of(Reference(number), "GEOMETRIC_ITEM_SPECIFIC_USAGE", 5)
        aspect = step.at(args[2]) if isinstance(args[2], Reference) else {}
        names = [told[0] for told in (*aspect.values(), args) if told and isinstance(told[0], str) and says(told[0])]
        for item in args[4] if isinstance(args[4], tuple) else (args[4],):
            if names and isinstance(item, Reference):
                found.setdefault(int(item), " ".join(names[0].split()))
    return found


def _attributes(step: StepText, number: int) -> tuple[Any, ...]:
    """Name, bounds, surface and sense of a face."""
    return next((args for kind, args in step.at(number).items() if kind in FACES), ())


def surface_of(step: StepText, number: int, factor: float) -> tuple[Place | None, str]:
    """The normal of a face, None where it is not flat, and its surface in words."""
    args = _attributes(step, number)
    if len(args) < 4 or not isinstance(args[2], Reference):
        raise step.damaged(f"the face #{number} has no surface")
    kinds = step.at(args[2])
    turned = -1.0 if args[3] == "F" else 1.0
    if "PLANE" in kinds:
        axis = axes_of(step, step.of(args[2], "PLANE", 2)[1], factor).rows[2]
        return (turned * axis[0], turned * axis[1], turned * axis[2]), "a plane"
    if any("B_SPLINE_SURFACE" in kind for kind in kinds) or "BEZIER_SURFACE" in kinds:
        normal = _normal_of_net(step, kinds, factor)
        if normal is not None:
            return (turned * normal[0], turned * normal[1], turned * normal[2]), "a flat spline surface"
        return None, "a spline surface"
    kind = next(iter(kinds))
    words = ROUND_SURFACES.get(kind, kind.lower().replace("_", " "))
    surface = kinds[kind]
    if kind == "CYLINDRICAL_SURFACE" and len(surface) > 2 and isinstance(surface[2], float):
        words += f" of radius {surface[2] * factor:.6g} mm"
    return None, words


def _normal_of_net(step: StepText, kinds: dict[str, tuple[Any, ...]], factor: float) -> Place | None:
    """The normal of a spline surface whose control points lie in a plane; None where they do not."""
    nets = [each for args in kinds.values() for each in args if isinstance(each, tuple) and each and isinstance(each[0], tuple)]
    rows = [[place_of(step, point, factor) for point in row] for row in nets[0] if isinstance(row, tuple)] if nets else []
    if len(rows) < 2 or any(len(row) < 2 for row in rows):
        return None
    corner = rows[0][0]
    along = _minus(rows[-1][0], corner)
    across = _minus(rows[0][-1], corner)
    normal = unit(cross(along, across))
    if not math.hypot(*normal) > 0:
        return None
    off = max(abs(dot(normal, _minus(point, corner))) for row in rows for point in row)
    return normal if off <= IN_PLANE else None


def loops_of(step: StepText, number: int, normal: Place, factor: float) -> FaceLoops:
    """The loops of a flat face. Raises ``IncomingError`` where an edge cannot be read, or the face has none."""
    args = _attributes(step, number)
    found: list[tuple[bool, float, Loop, float]] = []
    for bound in args[1] if isinstance(args[1], tuple) else ():
        for kind, told in step.at(bound).items() if isinstance(bound, Reference) else ():
            if kind in ("FACE_OUTER_BOUND", "FACE_BOUND") and len(told) >= 2:
                loop, off = _loop(step, told[1], factor)
                if loop is not None:
                    found.append((kind == "FACE_OUTER_BOUND", rough_area(loop, normal), loop, off))
    if not found:
        raise step.damaged(f"the face #{number} has no edges round it")
    named = [each for each in found if each[0]]
    outer = named[0] if len(named) == 1 else max(found, key=lambda each: each[1])
    return FaceLoops(
        (outer[2], *(each[2] for each in found if each is not outer)), outer[3], _off_plane(step, args[2], outer[2], factor)
    )


def _off_plane(step: StepText, surface: Any, loop: Loop, factor: float) -> float:
    """How far a loop lies off the plane that is written for its face, mm."""
    kinds = step.at(surface)
    if "PLANE" not in kinds:
        return 0.0
    rows = axes_of(step, step.of(surface, "PLANE", 2)[1], factor).rows
    return max(abs(dot(rows[2], _minus(at, rows[3]))) for at in rough(loop))


def _loop(step: StepText, number: Any, factor: float) -> tuple[Loop | None, float]:
    """One loop, None where it is a single point or nothing, and how far an end of an edge lies off its curve or the next edge."""
    kinds = step.at(number) if isinstance(number, Reference) else {}
    if "POLY_LOOP" in kinds:
        places = [place_of(step, each, factor) for each in step.of(number, "POLY_LOOP", 2)[1]]
        pieces = [Piece(a, b) for a, b in zip(places, (*places[1:], places[0]), strict=True) if a != b]
        return Loop(tuple(pieces), (), frozenset()), 0.0
    if "VERTEX_LOOP" in kinds:
        return None, 0.0
    edges = [edge_of(step, each, factor) for each in step.of(number, "EDGE_LOOP", 2)[1]]
    edges = _without_doubled(edges)
    off = max((edge.off for edge in edges), default=0.0)
    if len(edges) == 1 and edges[0].shape:
        return Loop(edges[0].pieces, (), frozenset(), edges[0].shape, edges[0].axes), off
    pieces = [piece for edge in edges for piece in edge.pieces]
    if not pieces:
        return None, off
    for one, two in zip(pieces, (*pieces[1:], pieces[0]), strict=True):
        apart = math.dist(one.end, two.start)
        off = max(off, apart)
        if apart > OFF:
            x, y, z = one.end
            raise step.damaged(f"the loop #{number} is open by {apart:.3g} mm at ({x:.3f}, {y:.3f}, {z:.3f}) mm in its part")
    return Loop(tuple(pieces), (), frozenset()), off


def _without_doubled(edges: list[Edge]) -> list[Edge]:
    """The edges without those that run there and back again at once (a slit in the face, which bounds nothing)."""
    found: list[Edge] = []
    for edge in edges:
        if found and _back(found[-1], edge):
            found.pop()
        else:
            found.append(edge)
    while len(found) > 2 and _back(found[-1], found[0]):
        found = found[1:-1]
    return found


def _back(one: Edge, two: Edge) -> bool:
    if len(one.pieces) != len(two.pieces) or not one.pieces:
        return False
    there, back = one.pieces, two.reversed().pieces
    return all(
        a.start == b.start and a.end == b.end and math.dist(a.middle(), b.middle()) < 1e-9
        for a, b in zip(there, back, strict=True)
    )


def _minus(a: Place, b: Place) -> Place:
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]


def rough(loop: Loop) -> list[Place]:
    """Places along a loop in space, near enough to weigh faces against each other."""
    found: list[Place] = []
    for piece in loop.pieces:
        found.append(piece.start)
        if abs(piece.bulge) > NEXT_TO_STRAIGHT:
            found += _along(piece)
        for span in piece.spans:
            for share in (k / SHARES for k in range(1, SHARES)):
                rows = span
                while len(rows) > 1:
                    rows = rows[:-1] + share * (rows[1:] - rows[:-1])
                found.append((float(rows[0][0] / rows[0][3]), float(rows[0][1] / rows[0][3]), float(rows[0][2] / rows[0][3])))
            last = span[-1]
            found.append((float(last[0] / last[3]), float(last[1] / last[3]), float(last[2] / last[3])))
    return found


def _along(piece: Piece) -> list[Place]:
    """Places on an arc between its ends."""
    sweep = 4 * math.atan(piece.bulge)
    count = max(2, math.ceil(abs(sweep) / STEP_OF_ARC))
    middle = tuple((a + b) / 2 for a, b in zip(piece.start, piece.end, strict=True))
    half = tuple((b - a) / 2 for a, b in zip(piece.start, piece.end, strict=True))
    rise = tuple(a - b for a, b in zip(piece.middle(), middle, strict=True))
    found = []
    for index in range(1, count):
        angle = sweep * (index / count - 0.5)
        along = math.sin(angle) / math.sin(sweep / 2)
        up = (math.cos(angle) - math.cos(sweep / 2)) / (1 - math.cos(sweep / 2))
        x, y, z = (m + along * h + up * r for m, h, r in zip(middle, half, rise, strict=True))
        found.append((x, y, z))
    return found


def rough_area(loop: Loop, normal: Place) -> float:
    """The area inside a loop, mm²: exact of lines and arcs, about that of curves."""
    places, rounds = [], 0.0
    for piece in loop.pieces:
        places += rough(Loop((piece,), (), frozenset())) if piece.spans else [piece.start]
        if piece.bulge:
            sweep = 4 * math.atan(piece.bulge)
            radius = piece.length / (2 * math.sin(abs(sweep) / 2))
            facing = math.copysign(1.0, dot(piece.normal, normal))
            rounds += facing * radius * radius * (sweep - math.sin(sweep))
    origin = places[0]
    twice = math.fsum(
        dot(normal, cross(_minus(a, origin), _minus(b, origin))) for a, b in zip(places, (*places[1:], places[0]), strict=True)
    )
    return abs(twice + rounds) / 2


def moved(loop: Loop, move: Move) -> Loop:
    """A loop in the axes of the whole file; the move keeps lengths."""
    pieces = tuple(
        Piece(move.place(p.start), move.place(p.end), p.bulge, move.way(p.normal), move.spans(p.spans)) for p in loop.pieces
    )
    axes = (move.place(loop.axes[0]), *(move.way(each) for each in loop.axes[1:])) if loop.axes else ()
    return Loop(pieces, loop.layers, loop.inserts, loop.shape, axes)


__all__ = ["FaceLoops", "aspects_of", "label_of", "loops_of", "moved", "rough", "rough_area", "surface_of"]
