"""What of a returned drawing is the pane and what its print: found by the names of layers, by nesting, and by how like the request it is.

Terms
-----
issued
    What was asked for: the glass of the job, its solid print and the end of its fade.
resembles
    A loop of nearly the issued shape and, in one of the units that drawings have, of nearly its size.
rim
    A loop so near to the glass edge that it is the arris or the outer edge of the print, not its inner one.
dots
    Small loops, many of them: the fade of a print. They protect nothing.

Nothing is guessed: where two loops could be the pane, they are listed and the drawing is refused; where two could be the edge of the print,
the print is not checked.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from geometry.compare.alignment import Alignment, align, likeness
from geometry.compare.move import unit_of
from geometry.compare.near import nearest
from geometry.incoming.incoming import IncomingError
from geometry.incoming.picking import plain
from geometry.outline.loop import Outline, OutlineError, Vertex, number
from geometry.outline.measure import area, bounding_box
from geometry.outline.soundness import signed_area
from geometry.returned.layer_words import Role, role_of

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from geometry.compare.near import Floats
    from geometry.incoming.whole import Whole

ALIKE = 0.08
"""Likeness up to which a loop resembles the pane (a square to a circle: 0.12)."""
SMALL = 0.05
"""Share of the largest loop under which nothing is a pane: a drawing shows its pane larger than its dots."""
MOST = 40
"""Loops that are laid on the pane, the likest first."""
FAR = 0.03
"""Share of the pane's diagonal by which a laid loop may lie off, as the root of the mean square, and still be this pane."""
NO_BETTER = 1.0
"""mm by which one loop must lie nearer than another to be the one that is meant."""
RIM = 6.0
"""mm from the glass edge within which a loop is its rim."""
DOT = 30.0
"""mm: greater loops are no dots."""
FEW = 12
"""Dots from which they are a fade."""
ROUND = 0.2
"""Share of the glass that an edge of the print encloses at least."""
SURE = 5.0
"""mm by which the edge of a print may lie off the issued one and be told from other loops by that alone."""


@dataclass(frozen=True, slots=True)
class Issued:
    """What was asked for, mm: edge of the glass, edge of the solid print, end of the fade (None without one)."""

    code: str
    glass: Outline
    solid: Outline
    fade_end: Outline | None


@dataclass(frozen=True, slots=True)
class Returned:
    """What was found, laid on the pane, mm.

    ``glass`` is None in a drawing of the print alone; ``solid`` is None where no print is drawn, or where ``unsure`` lists what could be
    its edge. ``dots_at`` is how near to the glass edge the first dot of a fade comes, where that is nearer than the edge found.
    """

    alignment: Alignment
    glass: Outline | None
    solid: Outline | None
    fade_end: Outline | None
    dots: int
    dots_at: float | None
    notes: tuple[str, ...]
    unsure: tuple[str, ...]
    bare: bool  # the drawing holds the outline of the glass and nothing else: a file to cut from
    print_tells: bool = False  # the outline is its own mirror image, the issued print is not: it tells the side


@dataclass(frozen=True, slots=True)
class _Loop:
    """A loop of the drawing that may be the pane: its number, its role, and how it lies on the pane."""

    index: int
    role: Role
    alignment: Alignment
    laid: Outline


@dataclass(frozen=True)
class Search:
    """A drawing with what is asked of it; ``at`` is a place of the drawing inside the outline that is meant."""

    whole: Whole
    issued: Issued
    names: Mapping[str, str]
    others: Sequence[str]
    limit: float
    print_limit: float
    at: tuple[float, float] | None = None

    def role(self, index: int) -> Role:
        """What its layers say of a loop."""
        return role_of(self.whole.loops[index].layers, self.names, self.others)


def resembles(search: Search) -> float | None:
    """How far the likest loop lies off the pane, mm, as the root of the mean square; None where none resembles it."""
    found = _resembling(search, search.issued.glass, lambda role: role not in (Role.SOLID, Role.PRINT, Role.FADE))
    return min((each.alignment.root_mean_square for each in found), default=None)


def found_in(search: Search) -> Returned:
    """The pane and its print in a returned drawing. Raises ``IncomingError`` where no loop or more than one may be the pane."""
    glasses = _resembling(search, search.issued.glass, lambda role: role not in (Role.SOLID, Role.PRINT, Role.FADE))
    if not glasses:
        prints = _resembling(search, search.issued.solid, lambda role: role in (Role.SOLID, Role.PRINT))
        if not prints:
            raise _none(search)
        chosen, notes = _chosen(search, prints)
        return _with_print(
            search, chosen, (*notes, "the drawing shows the print alone: the edge of the glass is not checked"), glass=False
        )
    chosen, notes = _chosen(search, glasses)
    return _with_print(search, chosen, notes, glass=True)


def _resembling(search: Search, issued: Outline, wanted: object) -> list[_Loop]:
    """The loops that resemble an outline, the nearest first."""
    assert callable(wanted)
    whole = search.whole
    spans = [math.hypot(right - left, top - bottom) for left, bottom, right, top in whole.boxes]
    least = SMALL * max(spans, default=0.0)
    rough: list[tuple[float, int, float]] = []
    for index, span in enumerate(spans):
        if span < least or not wanted(search.role(index)):
            continue
        ring = _ring(whole.ring(index))
        unit = None if ring is None else unit_of(math.sqrt(area(issued) / area(ring)))
        if ring is None or unit is None:
            continue
        far = likeness(issued, ring)
        if far <= ALIKE:
            rough.append((far, index, unit.scale))
    found = []
    for _, index, scale in sorted(rough)[:MOST]:
        loop = _laid(search, issued, index, scale)
        if loop is not None:
            found.append(loop)
    return sorted(found, key=lambda loop: (round(loop.alignment.root_mean_square, 6), loop.index))


def _laid(search: Search, issued: Outline, index: int, scale: float) -> _Loop | None:
    try:
        drawn = search.whole.outline(index, factor=scale)
    except IncomingError:
        return None
    found = align(issued, drawn, limit=search.limit)
    box = bounding_box(issued)
    if found.root_mean_square > FAR * math.hypot(box.width, box.height):
        return None
    # laid from millimetres; the drawing's own unit is what it was read with
    move = replace(found.move, scale=scale)
    there = replace(found, move=move, unit=unit_of(scale), size=found.size * scale)
    return _Loop(index, search.role(index), there, found.move.outline(drawn))


def _span(ring: Sequence[tuple[float, float]]) -> float:
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return math.hypot(max(xs) - min(xs), max(ys) - min(ys)) if ring else 0.0


def _ring(places: Sequence[tuple[float, float]]) -> Outline | None:
    """Places along a loop as a counter-clockwise outline of lines; None where they have no area."""
    kept = [place for place, other in zip(places, (*places[1:], *places[:1]), strict=True) if place != other]
    vertices = [Vertex(*place) for place in kept]
    if len(vertices) < 3 or not all(map(math.isfinite, (value for place in kept for value in place))):
        return None
    try:
        surface = signed_area(vertices)
    except (OutlineError, ArithmeticError):
        return None
    if abs(surface) < 1e-12 * _span(kept) ** 2 or surface == 0.0:
        return None
    return Outline(tuple(vertices if surface > 0 else vertices[::-1]))


def _chosen(search: Search, loops: list[_Loop]) -> tuple[_Loop, tuple[str, ...]]:
    """The one loop that is meant, and what has to be said of the others. Raises ``IncomingError`` with the list where it is not clear."""
    if search.at is not None:
        inside = set(search.whole.candidates.at(*search.at))
        loops = [loop for loop in loops if loop.index in inside]
        if not loops:
            at = ", ".join(map(number, search.at))
            raise IncomingError(
                f"no outline round ({at}) of {search.whole.name} resembles pane {search.issued.code}", _list(search)
            )
    named = [loop for loop in loops if loop.role in (Role.GLASS, Role.SOLID)]
    pool = named or [loop for loop in loops if loop.role is not Role.OTHER] or loops
    nearest_off = pool[0].alignment.root_mean_square
    rivals = [loop for loop in pool if loop.alignment.root_mean_square <= max(nearest_off + NO_BETTER, 2 * nearest_off)]
    rivals = _at_scale(rivals, search)
    labelled = [loop for loop in rivals if _bears(search, loop)]
    rivals = labelled if len(labelled) == 1 else rivals
    straight = [loop for loop in rivals if not loop.alignment.move.mirrored]
    if len(rivals) > 1 and len(straight) == 1 and not straight[0].alignment.symmetry.mirrored:
        others = ", ".join(_row(search, each) for each in rivals if each is not straight[0])
        note = f"a mirrored view of it was not compared: {others}"
        return straight[0], (note,)
    if len(rivals) > 1:
        rows = "; ".join(_row(search, loop) for loop in rivals)
        raise IncomingError(
            f"{len(rivals)} outlines of {search.whole.name} could be pane {search.issued.code}: {rows}",
            "one: its layer named for the glass, its code inside it, or --at X,Y for a place inside it",
        )
    return rivals[0], ()


def _at_scale(loops: list[_Loop], search: Search) -> list[_Loop]:
    """Of the same pane at several scales, the one in the unit of the header, else full size in millimetres."""
    scales = {loop.alignment.move.scale for loop in loops}
    if len(scales) < 2:
        return loops
    for scale in (_stated(search.whole), 1.0):
        same = [loop for loop in loops if loop.alignment.move.scale == scale]
        if same:
            return same
    return loops


def _stated(whole: Whole) -> float | None:
    """Millimetres in a unit as the header states it."""
    from geometry.incoming.units import MILLIMETRES

    return MILLIMETRES.get(whole.header.name)


def _bears(search: Search, loop: _Loop) -> bool:
    """Whether a text with the pane's code stands in a loop or in the block that it came with."""
    wanted = search.issued.code.casefold()
    own = search.whole.loops[loop.index].inserts
    inside = [label for label in search.whole.texts if wanted in label.text.casefold().split()]
    return any(label.insert in own or loop.index in search.whole.candidates.at(*label.at[:2]) for label in inside)


def _row(search: Search, loop: _Loop) -> str:
    """One loop in a list: its layer, size and place in the drawing's own coordinates."""
    drawn = search.whole.loops[loop.index]
    left, bottom, right, top = search.whole.boxes[loop.index]
    size = f"{number(right - left)} × {number(top - bottom)}"
    where = f"lower left at ({number(left)}, {number(bottom)})"
    return f"{size} on layer {plain(', '.join(drawn.layers))}, {where}{', mirrored' if loop.alignment.move.mirrored else ''}"


def _list(search: Search) -> str:
    return f"outlines: {search.whole.candidates.listed()}"


def _none(search: Search) -> IncomingError:
    box = bounding_box(search.issued.glass)
    asked = f"{number(box.width)} × {number(box.height)} mm"
    held = _list(search) if search.whole.loops else "it holds no closed outline"
    return IncomingError(
        f"no closed outline of {search.whole.name} resembles pane {search.issued.code} ({asked}); {held}",
        "a drawing of this pane, mirrored or turned as may be, in any usual unit",
    )


def _with_print(search: Search, chosen: _Loop, notes: tuple[str, ...], *, glass: bool) -> Returned:
    """The chosen loop with what stands within it."""
    if not glass:
        within = _Within((), 0, ())
        solid: Outline | None = chosen.laid
        edges = _Edges(solid, None, ())
    else:
        within = _within(search, chosen)
        edges = _edges(search, chosen, within)
    dots_at = None
    if edges.solid is not None and glass and within.places:
        dots_at = _first_dot(chosen.laid, edges.solid, within)
    bare = len(search.whole.loops) == 1 and not search.whole.texts and not search.whole.candidates.strands
    laid = chosen.laid if glass else None
    found = Returned(chosen.alignment, laid, edges.solid, edges.fade_end, within.dots, dots_at, notes, edges.unsure, bare)
    return _as_the_print_tells(search, found) if glass else found


def _as_the_print_tells(search: Search, found: Returned) -> Returned:
    """Of the ways in which a symmetric outline lies equally well the one in which the print does: not mirrored first, turned least."""
    symmetry, solid, issued = found.alignment.symmetry, found.solid, search.issued.solid
    if solid is None or found.glass is None or not symmetry.moves:
        return found
    tells = all(_off(issued, move.outline(issued)) > search.print_limit for move in symmetry.moves if move.mirrored)
    found = replace(found, print_tells=tells and symmetry.mirrored)
    if _off(issued, solid) <= search.print_limit:
        return found
    ways = sorted(symmetry.moves, key=lambda move: (move.mirrored, round(abs(move.turned), 3), move.turned))
    way = next((move for move in ways if _off(issued, move.outline(solid)) <= search.print_limit), None)
    if way is None:
        return found
    return replace(
        found,
        alignment=replace(found.alignment, move=way.after(found.alignment.move)),
        glass=way.outline(found.glass),
        solid=way.outline(solid),
        fade_end=None if found.fade_end is None else way.outline(found.fade_end),
        notes=(*found.notes, "how it stands is told by the edge of the print, which lies as issued in one way alone"),
    )


@dataclass(frozen=True, slots=True)
class _Within:
    """What lies inside the glass: loops that may be an edge of the print, how many dots, and the middles and radii of the dots."""

    loops: tuple[tuple[int, Role, Outline], ...]
    dots: int
    places: tuple[tuple[float, float, float], ...]


def _within(search: Search, chosen: _Loop) -> _Within:
    whole, move = search.whole, chosen.alignment.move
    loops: list[tuple[int, Role, Outline]] = []
    dots: list[tuple[float, float, float]] = []
    surface = area(chosen.laid)
    for index in range(len(whole.loops)):
        if index == chosen.index:
            continue
        left, bottom, right, top = whole.boxes[index]
        size = max(right - left, top - bottom) * move.scale
        if not math.isfinite(size):
            continue
        if size <= DOT:
            dots.append((*move.place((left + right) / 2.0, (bottom + top) / 2.0), size / 2.0))
            continue
        places = np.array([move.place(x, y) for x, y in whole.ring(index)], dtype=float)
        if not _inside(chosen.laid, places):
            continue
        laid = _moved(search, chosen, index)
        if laid is not None and area(laid) >= ROUND * surface:
            loops.append((index, search.role(index), laid))
    inside = _dots_inside(chosen.laid, dots)
    return _Within(tuple(loops), len(inside), tuple(inside) if len(inside) >= FEW else ())


def _inside(glass: Outline, places: Floats) -> bool:
    """Whether places lie in the glass, or out of it by no more than a rim."""
    return float(nearest(glass, places).distance.max()) <= RIM


def _dots_inside(glass: Outline, dots: list[tuple[float, float, float]]) -> list[tuple[float, float, float]]:
    if not dots:
        return []
    near = nearest(glass, np.array([(x, y) for x, y, _ in dots]))
    return [dot for dot, distance in zip(dots, near.distance, strict=True) if distance < 0]


def _moved(search: Search, chosen: _Loop, index: int) -> Outline | None:
    """A loop as it lies on the pane; None where it is no outline."""
    move = chosen.alignment.move
    try:
        drawn = search.whole.outline(index, factor=move.scale)
    except IncomingError:
        return None
    return replace(move, scale=1.0).outline(drawn)


@dataclass(frozen=True, slots=True)
class _Edges:
    solid: Outline | None
    fade_end: Outline | None
    unsure: tuple[str, ...]


def _edges(search: Search, chosen: _Loop, within: _Within) -> _Edges:
    """The edge of the solid print and the end of its fade among the loops within the glass."""
    inner = [each for each in within.loops if not _rim(chosen.laid, each[2])]
    ours = [each for each in inner if each[1] is Role.SOLID]
    named = [each for each in inner if each[1] in (Role.SOLID, Role.PRINT, Role.FADE)]
    pool = ours or named
    if not pool:
        pool = [each for each in inner if each[1] in (Role.UNKNOWN, Role.GLASS)]
        if len(pool) > 1:
            near = [each for each in pool if _off(search.issued.solid, each[2]) <= SURE]
            if len(near) != 1:
                rows = tuple(_row_of(search, chosen, each) for each in pool)
                return _Edges(None, None, rows)
            return _Edges(near[0][2], None, ())
    if not pool:
        return _Edges(None, None, ())
    # the edge nearest to the glass is where the solid print ends; another one within it is the end of the fade
    ordered = sorted(pool, key=lambda each: -area(each[2]))
    solid = ordered[0][2]
    rest = [each for each in sorted(named, key=lambda each: -area(each[2])) if area(each[2]) < area(solid) - 1.0]
    return _Edges(solid, rest[-1][2] if rest else None, ())


def _rim(glass: Outline, loop: Outline) -> bool:
    places = np.array([(v.x, v.y) for v in loop.vertices], dtype=float)
    return float(np.abs(nearest(glass, places).distance).max()) <= RIM


def _off(issued: Outline, laid: Outline) -> float:
    places = np.array([(v.x, v.y) for v in laid.vertices], dtype=float)
    return float(np.abs(nearest(issued, places).distance).max())


def _row_of(search: Search, chosen: _Loop, loop: tuple[int, Role, Outline]) -> str:
    return _row(search, _Loop(loop[0], loop[1], chosen.alignment, loop[2]))


def _first_dot(glass: Outline, solid: Outline, within: _Within) -> float | None:
    """How far in from the glass edge the first dot begins; None where all dots lie within the solid edge."""
    middles = np.array([(x, y) for x, y, _ in within.places])
    radii = np.array([radius for _, _, radius in within.places])
    outside = nearest(solid, middles).distance > radii
    if int(outside.sum()) < FEW:
        return None
    depth = -nearest(glass, middles[outside]).distance - radii[outside]
    return float(depth.min())


__all__ = ["Issued", "Returned", "Search", "found_in", "resembles"]
