"""Which of the loops of a drawing is meant: by layer, by a place, by a text. Where that is not certain, the refusal lists them all.

Terms
-----
candidate
    A loop that is left after layer, block and layout were asked for.
innermost
    Of the loops round a place the one that has no other of them inside it.
beside
    A text outside every loop, or in one that holds others as a sheet's border does, belongs to the loop that is clearly nearest.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Any

from geometry.incoming.incoming import IncomingError, plain
from geometry.incoming.units import usual
from geometry.outline.loop import number

if TYPE_CHECKING:
    from geometry.incoming.joining import Loop, Strand
    from geometry.incoming.pieces import Label, Place

MOST_LISTED = 12
"""Loops of a list, the largest first."""
CLEARLY = 1.25
"""A text is beside a loop where the next one is so much farther (own default)."""
IN_PLANE = 5.0
"""mm that a place may be off the plane of the loop that it picks."""
NEXT_TO_STRAIGHT = 1e-6
"""Bulge up to which an arc is looked at as a line, where a loop is looked at roughly."""
STEP = math.radians(4.0)
"""Of an arc, where a loop is looked at roughly."""


@dataclass
class Candidates:
    """The loops to choose from, in units of the drawing; ``factor`` is mm in one unit, None while the unit is not known."""

    loops: list[Loop]
    strands: list[Strand]
    texts: list[Label]
    factor: float | None
    file: str
    left_out: dict[str, int] = field(default_factory=dict)

    @cached_property
    def regions(self) -> Any:
        """Every loop as a rough polygon as seen from above (drawing units), for nesting and picking alone."""
        import numpy as np
        import shapely

        found = []
        for loop in self.loops:
            places = rough(loop)
            found.append(shapely.Polygon(places) if len(places) > 2 else shapely.Polygon())
        return np.array(found, dtype=object)

    @cached_property
    def round_(self) -> list[list[int]]:
        """For every loop the loops round it, the innermost first."""
        import numpy as np
        import shapely

        areas = self._areas
        points = np.array([shapely.Point(loop.pieces[0].middle()[:2]) for loop in self.loops], dtype=object)
        found: list[list[int]] = [[] for _ in self.loops]
        if len(points):
            for inner, outer in zip(*(each.tolist() for each in self._tree.query(points, predicate="within")), strict=True):
                if inner != outer and areas[outer] > areas[inner]:
                    found[inner].append(outer)
        for inner in found:
            inner.sort(key=lambda i: (areas[i], i))
        return found

    @cached_property
    def _tree(self) -> Any:
        import shapely

        return shapely.STRtree(self.regions)

    @cached_property
    def _areas(self) -> Any:
        import shapely

        return shapely.area(self.regions)

    @cached_property
    def _rings(self) -> Any:
        """The line of every loop as seen from above."""
        import shapely

        return shapely.get_exterior_ring(self.regions)

    @cached_property
    def _of_a_pane(self) -> set[int]:
        """The loops of a size that a pane may have: a ring round a mark and the border of a sheet bear no mark. All, where none has it."""
        sizes = [
            (region.bounds[2] - region.bounds[0], region.bounds[3] - region.bounds[1])
            for region in self.regions
            if not region.is_empty
        ]
        k = self.factor or 1.0
        found = (
            {i for i, (wide, high) in enumerate(sizes) if usual(wide * k, high * k)} if len(sizes) == len(self.loops) else set()
        )
        return found or set(range(len(self.loops)))

    @cached_property
    def _next_inside(self) -> dict[int | None, list[int]]:
        """The loops that a pane may have, by the one of them that they stand directly in; those in none under None."""
        found: dict[int | None, list[int]] = {}
        for i, outer in enumerate(self.round_):
            if i in self._of_a_pane:
                found.setdefault(next((each for each in outer if each in self._of_a_pane), None), []).append(i)
        return found

    @cached_property
    def _owners(self) -> dict[Label, tuple[int, str] | None]:
        return {}

    def at(self, x: float, y: float) -> list[int]:
        """The loops round a place (drawing units), the innermost first."""
        import shapely

        hits = self._tree.query(shapely.Point(x, y), predicate="within").tolist() if len(self.loops) else []
        return sorted(hits, key=lambda i: (self._areas[i], i))

    def in_space(self, at: tuple[float, ...]) -> list[int]:
        """The loops in whose plane a place in space (drawing units) lies, and round it; the innermost first."""
        import numpy as np
        import shapely

        found = []
        for i, loop in enumerate(self.loops):
            places = np.array([at for piece in loop.pieces for at in (piece.start, piece.middle())])
            middle = places.mean(axis=0)
            _, _, ways = np.linalg.svd(places - middle, full_matrices=False)
            spot = np.array(at) - middle
            if abs(spot @ ways[2]) * (self.factor or 1.0) > IN_PLANE:
                continue
            region = shapely.Polygon((places - middle) @ ways[:2].T)
            if region.contains(shapely.Point(spot @ ways[:2].T)):
                found.append((float(region.area), i))
        return [i for _, i in sorted(found)]

    def of_text(self, label: Label) -> tuple[int, str] | None:
        """The loop that a text belongs to, and how; None where it is not certain."""
        if label not in self._owners:
            self._owners[label] = self._owner(label)
        return self._owners[label]

    def _owner(self, label: Label) -> tuple[int, str] | None:
        import numpy as np
        import shapely

        own = [i for i, loop in enumerate(self.loops) if label.insert in loop.inserts] if label.insert else []
        if len(own) == 1:
            return own[0], "the block that bears it"
        inside = [i for i in self.at(*label.at[:2]) if i in self._of_a_pane]
        children = self._next_inside.get(inside[0] if inside else None, [])
        if inside and not children:
            return inside[0], "inside" if len(inside) == 1 else f"the innermost of {len(inside)} round it"
        if not children:
            return None
        spot = shapely.Point(label.at[:2])
        far = np.nan_to_num(shapely.distance(self._rings[children], spot), nan=np.inf)
        order = np.argsort(far, kind="stable")
        rivals = [float(far[order[1]])] if len(children) > 1 else []
        if inside:
            rivals.append(float(shapely.distance(self._rings[inside[0]], spot)))
        nearest = float(far[order[0]])
        if not math.isfinite(nearest) or (rivals and min(rivals) < CLEARLY * nearest):
            return None
        return children[int(order[0])], "beside"

    def _inside(self, index: int) -> tuple[float, ...]:
        """A place that picks a loop: inside it and in no other one within (drawing units); of an upright loop in space with its height."""
        import shapely

        region, loop = self.regions[index], self.loops[index]
        if not self._seen_from_above(index):
            starts = [piece.start for piece in loop.pieces]
            return tuple(math.fsum(at[i] for at in starts) / len(starts) for i in range(3))
        inner = [self.regions[i] for i, outer in enumerate(self.round_) if index in outer[:1]]
        free = region.difference(shapely.union_all(inner)) if inner and region.is_valid else region
        at = (region if free.is_empty else free).representative_point()
        return (float(at.x), float(at.y))

    def _seen_from_above(self, index: int) -> bool:
        """Whether a loop has an area as seen from above."""
        left, bottom, right, top = self.regions[index].bounds if not self.regions[index].is_empty else (0.0,) * 4
        return float(self.regions[index].area) > 1e-6 * max(right - left, top - bottom) ** 2 > 0

    def size(self, index: int) -> tuple[float, float]:
        """Width and height of a loop in its own plane (mm, or drawing units while the unit is not known)."""
        from geometry.incoming.plane import plane_of
        from geometry.incoming.shaping import shaped
        from geometry.outline.measure import bounding_box

        k = self.factor or 1.0
        loop = self.loops[index]
        places = [at for piece in loop.pieces for at in (piece.start, piece.middle())]
        try:
            for side in ("", "+x", "+y"):
                try:
                    plane = plane_of(places, level=0.05 / k, factor=k, seen_from=side)
                    break
                except IncomingError:
                    if side == "+y":
                        raise
            box = bounding_box(shaped(loop, plane, factor=k, within=0.05).outline)
            return box.width, box.height
        except IncomingError:
            left, bottom, right, top = self.regions[index].bounds
            return (right - left) * k, (top - bottom) * k

    def row(self, index: int) -> str:
        """One loop for a list: a place that picks it, its size, layer, text and what it lies inside."""
        k = self.factor or 1.0
        loop = self.loops[index]
        unit = "mm" if self.factor is not None else "drawing units"
        wide, high = self.size(index)
        words = f"at = [{', '.join(number(round(value * k, 1)) for value in self._inside(index))}]: "
        words += f"{number(wide)} × {number(high)} {unit}"
        words += f" on layer {' and '.join(plain(layer) for layer in loop.layers)}"
        texts = [
            plain(label.text) for label in self.texts if len(label.text) <= 20 and (self.of_text(label) or (None,))[0] == index
        ]
        if texts:
            words += f", text {' / '.join(texts[:2])}"
        if self.round_[index]:
            words += f", inside {len(self.round_[index])} other{'s' if len(self.round_[index]) > 1 else ''}"
        return words

    def listed(self) -> str:
        """All loops in one sentence, the largest first, and what closes no loop."""
        order = sorted(range(len(self.loops)), key=lambda i: (-float(self._areas[i]), i))
        rows = [f"({place}) {self.row(i)}" for place, i in enumerate(order[:MOST_LISTED], start=1)]
        more = len(order) - MOST_LISTED
        rows += [f"and {more} smaller ones"] if more > 0 else []
        if self.strands:
            rows.append(f"and {open_words(self.strands, self.factor or 1.0)}")
        return "; ".join(rows) + self.unread

    @property
    def unread(self) -> str:
        """What may show outlines and was not read, as the end of a sentence."""
        rows = [f"{count} {plain(name)}" for name, count in sorted(self.left_out.items())]
        return f"; not read: {', '.join(rows[:6])}" if rows else ""


def rough(loop: Loop) -> list[tuple[float, float]]:
    """Places along a loop as seen from above."""
    found: list[tuple[float, float]] = []
    for piece in loop.pieces:
        found.append(piece.start[:2])
        if abs(piece.bulge) > NEXT_TO_STRAIGHT:
            count = max(2, math.ceil(abs(4 * math.atan(piece.bulge)) / STEP))
            found += [_along(piece, index / count) for index in range(1, count)]
        for span in piece.spans:
            for share in (k / 12 for k in range(1, 12)):
                rows = span
                while len(rows) > 1:
                    rows = rows[:-1] + share * (rows[1:] - rows[:-1])
                found.append((float(rows[0][0] / rows[0][3]), float(rows[0][1] / rows[0][3])))
            last = span[-1]
            found.append((float(last[0] / last[3]), float(last[1] / last[3])))
    return found


def _along(piece: Any, share: float) -> tuple[float, float]:
    """A place on an arc, as seen from above."""
    sweep = 4 * math.atan(piece.bulge)
    # chord and rise as vectors: right of travel as seen along the normal
    mx, my, _ = piece.middle()
    cx, cy = (piece.start[0] + piece.end[0]) / 2, (piece.start[1] + piece.end[1]) / 2
    ax, ay = (piece.end[0] - piece.start[0]) / 2, (piece.end[1] - piece.start[1]) / 2
    rx, ry = mx - cx, my - cy
    angle = sweep * (share - 0.5)
    half = sweep / 2
    along = math.sin(angle) / math.sin(half) if math.sin(half) else 2 * share - 1
    rise = (math.cos(angle) - math.cos(half)) / (1 - math.cos(half))
    return cx + along * ax + rise * rx, cy + along * ay + rise * ry


def open_words(strands: Sequence[Strand], k: float, *, most: int = 4) -> str:
    """What closes no loop: how many pieces, and the places of its ends and junctions, mm."""
    words = []
    for strand in sorted(strands, key=lambda each: -each.pieces)[:most]:
        lines = f"{strand.pieces} line{'s' if strand.pieces > 1 else ''} on layer {' and '.join(map(plain, strand.layers))}"
        if strand.junctions:
            spots = ", ".join(f"{spot(at, k)} where {count} meet" for at, count in strand.junctions[:4])
            words.append(f"{lines} with a junction at {spots}" + _rest(len(strand.junctions) - 4))
        else:
            apart = math.dist(*strand.ends[:2]) * k if len(strand.ends) == 2 else 0.0
            ends = " and ".join(spot(at, k) for at in strand.ends[:2])
            words.append(f"{lines} open between {ends}, {number(apart)} mm apart")
    more = len(strands) - most
    return "; ".join(words) + (f"; and {more} more that close nothing" if more > 0 else "")


def _rest(count: int) -> str:
    return f" and {count} more" if count > 0 else ""


def spot(at: Place, k: float) -> str:
    """A place in mm; its height where it has one."""
    x, y, z = (value * k for value in at)
    return f"({number(x)}, {number(y)}{f', {number(z)}' if abs(z) > 5e-4 else ''})"


def labelled(candidates: Candidates, wanted: str) -> tuple[int, str]:
    """The loop of a text: its number and how the text belongs to it. Raises ``IncomingError`` where there is none or more than one."""
    word = " ".join(wanted.split()).casefold()
    exact = [label for label in candidates.texts if label.text.casefold() == word]
    hits = exact or [label for label in candidates.texts if word in label.text.casefold().replace(",", " ").split()]
    if not hits:
        known = list(dict.fromkeys(plain(label.text) for label in candidates.texts if len(label.text) <= 20))
        allowed = f"one of its texts: {', '.join(known[:20])}" if known else "at = [x, y]: the drawing shows no texts"
        raise IncomingError(f"{candidates.file} shows no text {wanted!r}", allowed, key="label")
    found = [candidates.of_text(label) for label in hits]
    owners = {each[0] for each in found if each is not None}
    if len(owners) == 1 and None not in found:
        first = found[0]
        assert first is not None
        return first
    k = candidates.factor or 1.0
    places = ", ".join(spot(label.at, k) for label in hits[:6])
    why = "stands more than once" if len(hits) > 1 else "stands nearest to no one outline"
    raise IncomingError(
        f"the text {wanted!r} {why}: at {places}; outlines: {candidates.listed()}",
        "a text inside one outline or clearly nearest to it, or at = [x, y]",
        key="label",
    )


__all__ = ["Candidates", "labelled", "open_words", "plain", "rough", "spot"]
