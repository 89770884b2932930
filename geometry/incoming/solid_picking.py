"""Which face of a STEP file is meant: by its name, by its number in the list, or the one that is clearly the largest; never by a guess.

Terms
-----
candidate
    One flat face in one place of the file; a part that is used twice has its faces twice.
number
    Of a candidate: its place in the list of all of them, the largest first, equal ones as the file has them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from geometry.incoming.incoming import IncomingError, plain
from geometry.incoming.plane import plane_seen
from geometry.incoming.shaping import shaped
from geometry.incoming.solid_faces import FaceLoops, aspects_of, label_of, loops_of, moved, rough, rough_area, surface_of
from geometry.incoming.spaces import near_miss
from geometry.outline.loop import number
from geometry.outline.measure import area, bounding_box

if TYPE_CHECKING:
    from geometry.incoming.moves import Move
    from geometry.incoming.pieces import Place
    from geometry.incoming.solid_parts import Part, Parts

CLEARLY = 2.0
"""The largest face is picked without a name where the next one has no more than half its area (own default)."""
MOST_LISTED = 12
MOST_FACES = 20_000
"""Flat faces, places counted, of which one can be picked without a name."""


@dataclass(frozen=True, eq=False)
class Candidate:
    """A flat face where it stands: ``rough`` about the area within its outer loop, mm², 0 where its edges cannot be read (``fault`` says why)."""

    face: int
    label: str
    part: Part
    move: Move
    uses: tuple[str, ...]
    factor: float
    normal: Place  # in the whole file
    loops: FaceLoops | None = field(repr=False)
    rough: float
    fault: IncomingError | None = None
    place: int = 0  # of the part: which of its places this is, for two may have the same axes

    @property
    def key(self) -> tuple[int, int, int]:
        """By which it is known again among those of one file."""
        return id(self.part), self.face, self.place  # a part is made once, and is long to compare

    @property
    def words(self) -> str:
        """What it is called: its own name, and the part that it belongs to."""
        part = next((name for name in (*reversed(self.uses), *self.part.names)), "")
        own = f"face {plain(self.label)}" if self.label else "face without a name"
        return f"{own} of {plain(part)}" if part else own

    @property
    def middle(self) -> Place:
        """The middle of the box round its outer loop, in the whole file, mm."""
        assert self.loops is not None
        places = [self.move.place(at) for at in rough(self.loops.loops[0])]
        spans = [(min(along) + max(along)) / 2 for along in zip(*places, strict=True)]
        return spans[0], spans[1], spans[2]


class Faces:
    """The faces of a file in all their places."""

    def __init__(self, parts: Parts) -> None:
        self.parts, self.step = parts, parts.step
        self._loops: dict[tuple[int, float], tuple[Place | None, str, FaceLoops | None, float, IncomingError | None]] = {}

    def label(self, face: int) -> str:
        """The name of a face: its own, else that of the feature that it is."""
        return label_of(self.step, face) or self._aspects.get(face, "")

    @cached_property
    def _aspects(self) -> dict[int, str]:
        return aspects_of(self.step)

    def of_part(self, part: Part, only: Sequence[int] | None = None) -> list[Candidate]:
        """The flat faces of a part, or those of some of its faces, in all its places."""
        factor = _factor(part)
        found = []
        for place, (move, uses) in enumerate(self.parts.places(part)):
            for face in part.faces if only is None else only:
                normal, _, loops, size, fault = self._shape(face, factor)
                if normal is not None:
                    x, y, z = move.way(normal)
                    way = (-x + 0.0, -y + 0.0, -z + 0.0) if face in part.turned else (x, y, z)
                    found.append(Candidate(face, self.label(face), part, move, uses, factor, way, loops, size, fault, place))
        return found

    def _shape(self, face: int, factor: float) -> tuple[Place | None, str, FaceLoops | None, float, IncomingError | None]:
        if (face, factor) not in self._loops:
            normal, words = surface_of(self.step, face, factor)
            loops, size, fault = None, 0.0, None
            if normal is not None:
                try:
                    loops = loops_of(self.step, face, normal, factor)
                    size = rough_area(loops.loops[0], normal)
                except IncomingError as error:
                    fault = error
            self._loops[face, factor] = (normal, words, loops, size, fault)
        return self._loops[face, factor]

    @cached_property
    def flat(self) -> tuple[Candidate, ...]:
        """All candidates, the largest first."""
        found: list[Candidate] = []
        for part in self.parts.all:
            found += self.of_part(part)
            if len(found) > MOST_FACES:
                raise IncomingError(
                    f"{self.step.name} shows more than {MOST_FACES} flat faces",
                    "the name of the one that is meant: face",
                    "or save the part of the pane to a file",
                    key="face",
                )
        return tuple(sorted(found, key=lambda each: -round(each.rough, 3)))  # keeps the order of equal ones

    @cached_property
    def curved(self) -> int:
        """How many faces are not flat."""
        return sum(1 for part in self.parts.all for face in part.faces if self._shape(face, _factor(part))[0] is None)

    def meant(self, wanted: str | int | None) -> Candidate:
        """The face of a name or number; None: the one that is clearly the largest. Raises ``IncomingError`` where it is not one alone."""
        if wanted is None:
            return self.largest()
        return self.numbered(wanted) if isinstance(wanted, int) else self.named(wanted)

    def named(self, wanted: str) -> Candidate:
        """The face of a name, or the one face that a part of this name shows. Raises ``IncomingError`` where it is not one alone."""
        word = _folded(wanted)
        labels = {
            face: label
            for part in self.parts.all
            for face in part.faces
            if (label := self.label(face)) and _folded(label) == word
        }
        if labels:
            hits = [
                each for part in self.parts.all for each in self.of_part(part, [face for face in part.faces if face in labels])
            ]
            if not hits:
                raise self._curved(wanted, list(labels))
            return self._one(hits, f"the name {wanted!r} stands at {len(hits)} flat faces of {self.step.name}")
        hits = []
        known = False
        for part in self.parts.all:
            own = any(_folded(name) == word for name in part.names)
            used = any(_folded(name) == word for _, uses in self.parts.places(part) for name in uses)
            known = known or own or used
            if own or used:
                hits += [each for each in self.of_part(part) if own or any(_folded(name) == word for name in each.uses)]
        if not hits and not known:
            raise self._unknown(wanted)
        if not hits:
            found = f"the part {wanted!r} of {self.step.name} has no flat face"
            raise IncomingError("; ".join(filter(None, (found, self.parts.left_out))), "a flat face", key="face")
        hits.sort(key=lambda each: -round(each.rough, 3))
        return self._clearly(
            hits, f"no face of {self.step.name} is called {wanted!r}, and the part of this name has {len(hits)} flat faces"
        )

    def numbered(self, wanted: int) -> Candidate:
        """The face of a number in the list of all."""
        if not 1 <= wanted <= len(self.flat):
            raise IncomingError(
                f"found face = {wanted}; {self.step.name} shows {self._count()}: {self.listed(self.flat)}",
                f"1 to {len(self.flat)}, or a name" if self.flat else "a flat face",
                key="face",
            )
        candidate = self.flat[wanted - 1]
        called = {
            label for part in self.parts.all for face in part.faces if face != candidate.face and (label := self.label(face))
        }
        if str(wanted) in called:
            raise IncomingError(
                f"found face = {wanted}, the number of {candidate.words} in the list; another face of {self.step.name} is called so",
                f'face = "{wanted}" in quotes for the one of this name, or the name of the other',
                key="face",
            )
        return self._readable(candidate)

    def largest(self) -> Candidate:
        """The face that is clearly the largest of all."""
        if not self.flat:
            raise IncomingError(f"{self.step.name} shows {self._count()}", "a flat face")
        return self._clearly(list(self.flat), f"{self.step.name} shows {self._count()}, and none is clearly the largest")

    def _clearly(self, hits: list[Candidate], found: str) -> Candidate:
        if len(hits) == 1 or (hits[0].rough >= CLEARLY * hits[1].rough and not any(each.fault for each in hits)):
            return self._readable(hits[0])
        raise self._several(hits, found)

    def _one(self, hits: list[Candidate], found: str) -> Candidate:
        if len(hits) == 1:
            return self._readable(hits[0])
        raise self._several(hits, found)

    def _several(self, hits: Sequence[Candidate], found: str) -> IncomingError:
        return IncomingError(
            f"{found}: {self.listed(hits)}", "the one that is meant: face = a name or number of the list", key="face"
        )

    def _readable(self, candidate: Candidate) -> Candidate:
        if candidate.fault is not None:
            raise candidate.fault
        return candidate

    def _curved(self, wanted: str, faces: list[int]) -> IncomingError:
        factors = {face: _factor(part) for part in self.parts.all for face in part.faces}
        shapes = [self._shape(face, factors[face]) for face in faces]
        if any(normal is not None for normal, *_ in shapes):
            found = f"the face {wanted!r} of {self.step.name} stands in no place that is read; {self.parts.left_out}"
            return IncomingError(found, "a part that is placed as it is", key="face")
        words = dict.fromkeys(shape[1] for shape in shapes)
        return IncomingError(
            f"the face {wanted!r} of {self.step.name} is not flat: it lies on {' and '.join(words)}",
            "a flat face: these panes are flat",
            key="face",
        )

    def _unknown(self, wanted: str) -> IncomingError:
        labels = {label for part in self.parts.all for face in part.faces if (label := self.label(face))}
        names = sorted(labels | {name for part in self.parts.all for name in part.names}, key=str.casefold)
        found = f"{self.step.name} has no face and no part {wanted!r}"
        if not names:
            return IncomingError(
                f"{found}: nothing in it has a name; {self.listed(self.flat)}", "face = a number of the list", key="face"
            )
        shown = ", ".join(map(plain, names[:20])) + (f" and {len(names) - 20} more" if len(names) > 20 else "")
        return IncomingError(found, f"one of {shown}, or the number of a flat face", near_miss(wanted, names), key="face")

    def _count(self) -> str:
        flat = f"{len(self.flat)} flat face{'s' if len(self.flat) != 1 else ''}"
        flat += f" and {self.curved} curved" if self.curved else ""
        return "; ".join(filter(None, (flat, self.parts.left_out)))

    def listed(self, hits: Sequence[Candidate]) -> str:
        """Some candidates in one sentence with their numbers, the largest first."""
        numbers = {each.key: place for place, each in enumerate(self.flat, start=1)}
        rows = [(numbers[each.key], each) for each in hits]
        rows.sort(key=lambda row: row[0])
        words = [f"({place}) {self.row(each)}" for place, each in rows[:MOST_LISTED]]
        more = len(rows) - MOST_LISTED
        return "; ".join([*words, *([f"and {more} smaller ones"] if more > 0 else [])])

    def row(self, candidate: Candidate) -> str:
        """One candidate for a list: what it is called, its area, its size, and where its middle lies."""
        if candidate.fault is not None:
            return f"{candidate.words}, not read: {candidate.fault.found}"
        wide, high, size = size_of(candidate)
        count = len(candidate.loops.loops) - 1 if candidate.loops is not None else 0
        holes = f" with {count} hole{'s' if count > 1 else ''}" if count else ""
        middle = ", ".join(number(round(value, 1) + 0.0) for value in candidate.middle)
        looks = ", ".join(number(round(value, 3) + 0.0) for value in candidate.normal)
        return f"{candidate.words}, {number(wide)} × {number(high)} mm, {size / 1e6:.4g} m2{holes}, middle at ({middle}), looks to ({looks})"


def size_of(candidate: Candidate) -> tuple[float, float, float]:
    """Width and height of a face as seen on the plan with z upwards, mm, and the area within its outer loop, mm²."""
    assert candidate.loops is not None
    plane = plane_seen(candidate.normal, "+z")
    loop = candidate.loops.loops[0]
    try:
        outline = shaped(moved(loop, candidate.move), plane, factor=1.0, within=0.05).outline
    except IncomingError:  # it can be listed, and is refused where it is picked
        places = [plane.flat(candidate.move.place(at)) for at in rough(loop)]
        wide, high = (max(along) - min(along) for along in zip(*places, strict=True))
        return wide, high, candidate.rough
    box = bounding_box(outline)
    return box.width, box.height, area(outline)


def _factor(part: Part) -> float:
    """Millimetres in the unit of a part; 1 where the file states none, which is refused once a face is picked."""
    return part.unit.factor if part.unit is not None else 1.0


def _folded(name: str) -> str:
    return " ".join(name.split()).casefold()


__all__ = ["CLEARLY", "Candidate", "Faces", "size_of"]
