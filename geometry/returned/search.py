"""What of a returned drawing is the pane and what its print: found by the names of layers, by nesting, and by how like the request it is.

Terms
-----
issued
    What was asked for: the glass of the job, its solid print and the end of its fade.
resembles
    A loop of nearly the issued shape and, in one of the units that drawings have, of nearly its size.

Nothing is guessed: where two loops could be the pane, they are listed and the drawing is refused; where two could be the edge of the print,
the print is not checked.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from geometry.compare.alignment import Alignment, align, likeness
from geometry.compare.move import unit_of
from geometry.incoming.incoming import IncomingError, plain
from geometry.incoming.picking import open_words
from geometry.outline.loop import Outline, OutlineError, Vertex, number
from geometry.outline.measure import area, bounding_box
from geometry.outline.soundness import signed_area
from geometry.returned.inside import edges_of, first_dot, off, within_glass
from geometry.returned.layer_words import Role, role_of

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from geometry.incoming.whole import Whole

ALIKE = 0.08
"""Likeness up to which a loop resembles the pane (a square to a circle: 0.12)."""
SMALL = 0.05
"""Share of the largest loop under which nothing is a pane: a drawing shows its pane larger than its dots."""
MOST = 40
"""Loops that are laid on the pane, the likest first."""
FAR, FAR_AT_SCALE = 0.012, 0.004
"""Share of the pane's diagonal by which a laid loop may lie off, as the root of the mean square, and still be this pane; drawn at a scale."""
NO_BETTER = 1.0
"""mm by which one loop must lie nearer than another to be the one that is meant."""
LISTED = 8
"""Loops that a refusal lists."""


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

    @cached_property
    def glasses(self) -> list[_Loop]:
        """The loops that resemble the glass, the nearest first."""
        return _resembling(self, self.issued.glass, lambda role: role not in (Role.SOLID, Role.PRINT, Role.FADE))


def resembles(search: Search) -> float | None:
    """How far the likest loop lies off the pane, mm, as the root of the mean square; None where none resembles it."""
    return min((each.alignment.root_mean_square for each in search.glasses), default=None)


def found_in(search: Search) -> Returned:
    """The pane and its print in a returned drawing. Raises ``IncomingError`` where no loop or more than one may be the pane."""
    if not search.glasses:
        prints = _resembling(search, search.issued.solid, lambda role: role in (Role.SOLID, Role.PRINT))
        if not prints:
            raise _none(search)
        chosen, notes = _chosen(search, prints)
        return _with_print(
            search, chosen, (*notes, "the drawing shows the print alone: the edge of the glass is not checked"), glass=False
        )
    chosen, notes = _chosen(search, search.glasses)
    return _with_print(search, chosen, notes, glass=True)


def _resembling(search: Search, issued: Outline, wanted: Callable[[Role], bool]) -> list[_Loop]:
    """The loops of wanted roles that resemble an outline, the nearest first."""
    whole = search.whole
    spans = [_diagonal(box) for box in whole.boxes]
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
    box, unit = bounding_box(issued), unit_of(scale)
    within = (FAR if unit is not None and unit.plain else FAR_AT_SCALE) * math.hypot(box.width, box.height)
    found = align(issued, drawn, limit=search.limit, within=within)
    if found.root_mean_square > within:
        return None
    # laid from millimetres; the drawing's own unit is what it was read with
    move = replace(found.move, scale=scale)
    there = replace(found, move=move, unit=unit, size=found.size * scale)
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
    """One loop in a list."""
    return f"{_box_words(search, loop.index)}{', mirrored' if loop.alignment.move.mirrored else ''}"


def _box_words(search: Search, index: int) -> str:
    """A loop by its size, layer and place in the drawing's own coordinates."""
    left, bottom, right, top = search.whole.boxes[index]
    size = f"{number(right - left)} × {number(top - bottom)}"
    layers = plain(", ".join(search.whole.loops[index].layers))
    return f"{size} on layer {layers}, lower left at ({number(left)}, {number(bottom)})"


def _list(search: Search) -> str:
    """What closed loops the drawing holds, the largest first; where none closes, where its lines end."""
    whole = search.whole
    if not whole.loops:
        ends = open_words(whole.candidates.strands, 1.0) if whole.candidates.strands else ""
        return f"it holds no closed outline{f': {ends}' if ends else ''}"
    order = sorted(range(len(whole.loops)), key=lambda index: -_diagonal(whole.boxes[index]))
    rows = [f"({place}) {_box_words(search, index)}" for place, index in enumerate(order[:LISTED], start=1)]
    more = len(order) - len(rows)
    unit = f"in units of the drawing, whose header states {whole.header.words}"
    return f"its largest outlines, {unit}: {'; '.join(rows)}{f' and {more} more' if more else ''}"


def _diagonal(box: tuple[float, float, float, float]) -> float:
    return math.hypot(box[2] - box[0], box[3] - box[1])


def _none(search: Search) -> IncomingError:
    box = bounding_box(search.issued.glass)
    asked = f"{number(box.width)} × {number(box.height)} mm"
    return IncomingError(
        f"no closed outline of {search.whole.name} resembles pane {search.issued.code} ({asked}); {_list(search)}",
        "a drawing of this pane, mirrored or turned as may be, in any usual unit",
    )


def _with_print(search: Search, chosen: _Loop, notes: tuple[str, ...], *, glass: bool) -> Returned:
    """The chosen loop with what stands within it."""
    bare = len(search.whole.loops) == 1 and not search.whole.texts and not search.whole.candidates.strands
    if not glass:
        return Returned(chosen.alignment, None, chosen.laid, None, 0, None, notes, (), bare)
    within = within_glass(search.whole, chosen.index, chosen.laid, chosen.alignment.move, search.role)
    edges = edges_of(within, chosen.laid, search.issued.solid)
    dots_at = None if edges.solid is None else first_dot(within, chosen.laid, edges.solid)
    unsure = tuple(_box_words(search, index) for index in edges.unsure)
    found = Returned(chosen.alignment, chosen.laid, edges.solid, edges.fade_end, len(within.dots), dots_at, notes, unsure, bare)
    return _as_the_print_tells(search, found)


def _as_the_print_tells(search: Search, found: Returned) -> Returned:
    """Of the ways in which a symmetric outline lies equally well the one in which the print does: not mirrored first, turned least."""
    symmetry, glass, solid, issued = found.alignment.symmetry, found.glass, found.solid, search.issued.solid
    if solid is None or glass is None or not symmetry.moves:
        return found
    tells = all(off(issued, move.outline(issued)) > search.print_limit for move in symmetry.moves if move.mirrored)
    found = replace(found, print_tells=tells and symmetry.mirrored)
    if off(issued, solid) <= search.print_limit:
        return found
    ways = sorted(symmetry.moves, key=lambda move: (move.mirrored, round(abs(move.turned), 3), move.turned))
    way = next((move for move in ways if off(issued, move.outline(solid)) <= search.print_limit), None)
    if way is None:
        return found
    return replace(
        found,
        alignment=replace(found.alignment, move=way.after(found.alignment.move)),
        glass=way.outline(glass),
        solid=way.outline(solid),
        fade_end=found.fade_end and way.outline(found.fade_end),
        notes=(*found.notes, "how it stands is told by the edge of the print, which lies as issued in one way alone"),
    )


__all__ = ["Issued", "Returned", "Search", "found_in", "resembles"]
