"""What a STEP file is made of: its parts, the unit of each, and where an assembly puts them.

Terms
-----
representation
    The shape of a part or of an assembly; its context states the unit of length.
part
    A body (solid or sheet) in a representation, with its own name, that of its product and those of its uses in assemblies.
place
    Where a part stands in the whole file, as a map from its own axes in mm; a part that is used several times has several.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any, NamedTuple

from geometry.incoming.incoming import IncomingError
from geometry.incoming.moves import NOWHERE, Move, cross, unit
from geometry.incoming.solid_text import Reference, StepText, Typed
from geometry.incoming.units import MILLIMETRES

if TYPE_CHECKING:
    from geometry.incoming.pieces import Place

DEEPEST = 60
"""Assemblies in each other."""
MOST_PLACES = 5_000
"""Places of one representation."""
FARTHEST = 1e9
"""mm from the origin; beyond them a figure is damaged."""
PREFIXES = {
    "EXA": 1e18, "PETA": 1e15, "TERA": 1e12, "GIGA": 1e9, "MEGA": 1e6, "KILO": 1e3, "HECTO": 1e2, "DECA": 1e1, "DECI": 1e-1,
    "CENTI": 1e-2, "MILLI": 1e-3, "MICRO": 1e-6, "NANO": 1e-9, "PICO": 1e-12, "FEMTO": 1e-15, "ATTO": 1e-18,
}  # fmt: skip
BODIES = {
    "MANIFOLD_SOLID_BREP": (1,),
    "FACETED_BREP": (1,),
    "BREP_WITH_VOIDS": (1, 2),
    "SHELL_BASED_SURFACE_MODEL": (1,),
    "FACE_BASED_SURFACE_MODEL": (1,),
}
"""Types of bodies, and which of their attributes name shells."""
SHELLS = ("CLOSED_SHELL", "OPEN_SHELL", "CONNECTED_FACE_SET", "CONNECTED_FACE_SUB_SET")
ORIENTED = ("ORIENTED_FACE", "ORIENTED_OPEN_SHELL", "ORIENTED_CLOSED_SHELL")
FACES = ("ADVANCED_FACE", "FACE_SURFACE")


class Unit(NamedTuple):
    """A unit of length by its name and its millimetres."""

    name: str
    factor: float


class Part(NamedTuple):
    """One body and the faces of it, by their instances; ``names`` are its own and its product's, ``unit`` None where the file states none.

    ``turned`` are the faces that the body takes the other way round, such as those of a hollow in it.
    """

    names: tuple[str, ...]
    representation: int
    unit: Unit | None
    faces: tuple[int, ...]
    turned: frozenset[int]


@dataclass
class Parts:
    """The parts of a file. ``units`` is the unit that the job gives, which holds for the whole file; None where it gives none."""

    step: StepText
    units: Unit | None = None
    moved: int = 0  # places that scale or mirror, which were left out

    @cached_property
    def all(self) -> tuple[Part, ...]:
        """Every body with faces, in the order of the file."""
        found = []
        known = set()  # a body may stand in several representations of one shape
        for number in self._representations:
            unit = self.unit_of(number)
            group = self._group(number)
            products = self._products.get(group, ())
            for item in self.items(number):
                faces = dict(self._faces_of(item))
                if faces and (group, item) not in known:
                    known.add((group, item))
                    kinds = self.step.at(item)
                    own = next((args[0] for kind, args in kinds.items() if kind in BODIES and args), "")
                    names = dict.fromkeys(each for each in (own, *products) if isinstance(each, str) and says(each))
                    turned = frozenset(face for face, other in faces.items() if other)
                    found.append(Part(tuple(names), number, unit, tuple(faces), turned))
        return tuple(found)

    @cached_property
    def _representations(self) -> tuple[int, ...]:
        kinds = [
            kind
            for kind in self.step.kinds()
            if kind.endswith(("SHAPE_REPRESENTATION", "SHAPE_REPRESENTATION_WITH_PARAMETERS")) and "DEPENDENT" not in kind
        ]
        found = {number for kind in kinds for number in self.step.numbers(kind)}
        return tuple(each for each in self.step.statements if each in found and len(self._of_representation(each)) >= 3)

    def _of_representation(self, number: int) -> tuple[Any, ...]:
        kinds = self.step.at(number)
        return next((args for args in kinds.values() if len(args) >= 3 and isinstance(args[1], tuple)), ())

    def items(self, number: int) -> tuple[Reference, ...]:
        """What a representation holds."""
        args = self._of_representation(number)
        return tuple(each for each in args[1] if isinstance(each, Reference)) if args else ()

    def unit_of(self, number: int) -> Unit | None:
        """The unit of length of a representation."""
        if self.units is not None:
            return self.units
        args = self._of_representation(number)
        if not args or not isinstance(args[2], Reference):
            return None
        for each in self.step.at(args[2]).get("GLOBAL_UNIT_ASSIGNED_CONTEXT", ((),))[0] or ():
            if isinstance(each, Reference) and "LENGTH_UNIT" in self.step.at(each):
                factor = self._millimetres(each, 0)
                name = next((name for name, known in MILLIMETRES.items() if math.isclose(known, factor, rel_tol=1e-9)), "")
                return Unit(name or f"units of {factor:.10g} mm", factor)
        return None

    def _millimetres(self, number: Any, depth: int) -> float:
        """Of a unit of length."""
        kinds = self.step.at(number) if isinstance(number, Reference) else {}
        if "SI_UNIT" in kinds and len(kinds["SI_UNIT"]) == 2 and kinds["SI_UNIT"][1] == "METRE":
            prefix = kinds["SI_UNIT"][0]
            if prefix is None or prefix in PREFIXES:
                return float(f"{1e3 * PREFIXES.get(prefix, 1.0):.12g}")
        if "CONVERSION_BASED_UNIT" in kinds and len(kinds["CONVERSION_BASED_UNIT"]) == 2 and depth < 5:
            measure = self.step.at(kinds["CONVERSION_BASED_UNIT"][1])
            args = next((each for each in measure.values() if len(each) == 2), (None, None))
            value = args[0].value if isinstance(args[0], Typed) else args[0]
            if isinstance(value, float):
                factor = value * self._millimetres(args[1], depth + 1)
                if 0 < factor < FARTHEST:
                    return factor
        raise self.step.damaged(f"the unit of length #{number} cannot be read")

    def _faces_of(self, item: Reference, depth: int = 0, turned: bool = False) -> Iterator[tuple[int, bool]]:
        """The faces of a body, a shell or a face, and whether each is taken the other way round."""
        kinds = self.step.at(item)
        if depth > 6:
            return
        for kind, args in kinds.items():
            if kind in FACES:
                yield item, turned
            elif kind in ORIENTED and len(args) >= 4 and isinstance(args[2], Reference):
                yield from self._faces_of(args[2], depth + 1, turned != (args[3] == "F"))
            elif kind in BODIES or kind in SHELLS:
                for place in BODIES.get(kind, (1,)):
                    inner = args[place] if len(args) > place else ()
                    for each in inner if isinstance(inner, tuple) else (inner,):
                        if isinstance(each, Reference):
                            yield from self._faces_of(each, depth + 1, turned)

    @cached_property
    def _products(self) -> dict[int, tuple[str, ...]]:
        """The names of products by the group of the representation of their shape."""
        found: dict[int, tuple[str, ...]] = {}
        for number in self.step.numbers("SHAPE_DEFINITION_REPRESENTATION"):
            args = self.step.of(Reference(number), "SHAPE_DEFINITION_REPRESENTATION", 2)
            name = self._name_of_product(args[0])
            if name and isinstance(args[1], Reference):
                group = self._group(args[1])
                found[group] = (*found.get(group, ()), name)
        return found

    def _definition(self, number: Any) -> Any:
        """The product definition of a shape, or the use in an assembly."""
        shape = self.step.at(number).get("PRODUCT_DEFINITION_SHAPE", ()) if isinstance(number, Reference) else ()
        return shape[2] if len(shape) >= 3 else None

    def _name_of_product(self, number: Any) -> str:
        definition = self._definition(number)
        for place, kind in ((2, "PRODUCT_DEFINITION"), (2, "PRODUCT_DEFINITION_FORMATION")):
            if not isinstance(definition, Reference):
                return ""
            args = next((args for name, args in self.step.at(definition).items() if name.startswith(kind)), ())
            definition = args[place] if len(args) > place else None
        args = self.step.at(definition).get("PRODUCT", ()) if isinstance(definition, Reference) else ()
        return next((each for each in (*args[1:2], *args[:1]) if isinstance(each, str) and says(each)), "")

    @cached_property
    def _groups(self) -> dict[int, int]:
        """Representations of one shape, joined without a move."""
        parent: dict[int, int] = {}

        def root(number: int) -> int:
            while parent.get(number, number) != number:
                number = parent[number]
            return number

        for each in self.step.numbers("SHAPE_REPRESENTATION_RELATIONSHIP"):
            kinds = self.step.at(each)
            args = kinds.get("REPRESENTATION_RELATIONSHIP") or kinds["SHAPE_REPRESENTATION_RELATIONSHIP"]
            if "REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION" not in kinds and len(args) >= 4:
                one, two = (root(int(args[i])) for i in (2, 3) if isinstance(args[i], Reference))
                parent[max(one, two)] = min(one, two)
        return {number: root(number) for number in parent}

    def _group(self, number: int) -> int:
        return self._groups.get(int(number), int(number))

    @cached_property
    def _uses(self) -> dict[int, list[tuple[int, Move, str]]]:
        """Of every group: in which others it stands, where, and under what name."""
        found: dict[int, list[tuple[int, Move, str]]] = {}
        for number in self.step.numbers("REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION"):
            kinds = self.step.at(number)
            args = kinds.get("REPRESENTATION_RELATIONSHIP", ())
            item = kinds["REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION"][:1]
            if len(args) < 4 or not item or not all(isinstance(each, Reference) for each in (*args[2:4], *item)):
                raise self.step.damaged(f"the place of a part in an assembly, #{number}, cannot be read")
            child, parent = args[2], args[3]
            move = self._transformation(item[0], child, parent)
            name, own = self._use_of(number)
            if own is not None and self._group(child) != own == self._group(parent):  # written the other way round
                child, parent, move = parent, child, None if move is None else _inverse(move)
            self._put(found, child, parent, move, name)
        for parent in self._representations:
            for each in self.items(parent):
                if "MAPPED_ITEM" in self.step.at(each):
                    args = self.step.of(each, "MAPPED_ITEM", 3)
                    origin, child = self.step.of(args[1], "REPRESENTATION_MAP", 2)[:2]
                    there, here = self._axes(args[2], parent), self._axes(origin, child)
                    move = None if there is None or here is None else there.after(_inverse(here))
                    self._put(found, child, parent, move, args[0] if isinstance(args[0], str) and says(args[0]) else "")
        return found

    def _put(self, found: dict[int, list[tuple[int, Move, str]]], child: int, parent: int, move: Move | None, name: str) -> None:
        uses = found.setdefault(self._group(child), [])  # with none that is read the part stands nowhere, not as it is by itself
        if move is None:
            self.moved += 1
        else:
            uses.append((self._group(parent), move, name))

    @property
    def left_out(self) -> str:
        """The places that were left out, in words; "" where there are none."""
        return f"{self.moved} place{'s' if self.moved > 1 else ''} of parts that scale or mirror not read" if self.moved else ""

    @cached_property
    def _used_by(self) -> dict[int, tuple[str, Any]]:
        """Of every placing of an assembly: the name of the use, and the group of the part that is used."""
        shapes: dict[int, int] = {}
        for each in self.step.numbers("SHAPE_DEFINITION_REPRESENTATION"):
            args = self.step.of(Reference(each), "SHAPE_DEFINITION_REPRESENTATION", 2)
            definition = self._definition(args[0])
            if isinstance(definition, Reference) and isinstance(args[1], Reference):
                shapes[int(definition)] = self._group(args[1])
        found: dict[int, tuple[str, Any]] = {}
        for each in self.step.numbers("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION"):
            args = self.step.of(Reference(each), "CONTEXT_DEPENDENT_SHAPE_REPRESENTATION", 2)
            use = self._definition(args[1])
            kinds = self.step.at(use) if isinstance(use, Reference) else {}
            told = kinds.get("NEXT_ASSEMBLY_USAGE_OCCURRENCE", ())
            if len(told) >= 5 and isinstance(args[0], Reference):
                name = told[1] if isinstance(told[1], str) and says(told[1]) else ""
                found[int(args[0])] = (name, shapes.get(int(told[4])) if isinstance(told[4], Reference) else None)
        return found

    def _use_of(self, number: int) -> tuple[str, Any]:
        return self._used_by.get(number, ("", None))

    def _transformation(self, number: Reference, child: int, parent: int) -> Move | None:
        """From the axes of one representation to those of another, mm; None where it is no mere move."""
        args = self.step.at(number).get("ITEM_DEFINED_TRANSFORMATION", ())
        if len(args) < 4:
            return None
        one, two = args[2:4]
        inner, outer = self.items(child), self.items(parent)
        if one not in inner and two not in outer and one in outer and two in inner:  # written the other way round
            one, two = two, one
        here, there = self._axes(one, child), self._axes(two, parent)
        return None if here is None or there is None else there.after(_inverse(here))

    def _axes(self, number: Any, representation: int) -> Move | None:
        """Axes that are given as a placement; None where they are given in another way."""
        if not isinstance(number, Reference) or "AXIS2_PLACEMENT_3D" not in self.step.at(number):
            return None
        unit = self.unit_of(representation)
        return axes_of(self.step, number, unit.factor if unit is not None else 1.0)

    def places(self, part: Part) -> tuple[tuple[Move, tuple[str, ...]], ...]:
        """Every place of a part in the whole file that is read, with the names of its uses from the inside outwards."""
        found: list[tuple[Move, tuple[str, ...]]] = []
        waiting: list[tuple[int, Move, tuple[str, ...], int]] = [(self._group(part.representation), NOWHERE, (), 0)]
        while waiting:
            group, move, names, depth = waiting.pop()
            if group not in self._uses:
                found.append((move, names))
            uses = self._uses.get(group, [])
            if depth > DEEPEST:
                raise self.step.damaged("an assembly stands in itself")
            for parent, inner, name in reversed(uses):
                waiting.append((parent, inner.after(move), (*names, name) if name else names, depth + 1))
            if len(found) + len(waiting) > MOST_PLACES:
                raise IncomingError(
                    f"{self.step.name} shows one part in more than {MOST_PLACES} places",
                    f"at most {MOST_PLACES}",
                    "save the part of the pane to a file",
                )
        return tuple(found)


def says(name: str) -> bool:
    """Whether a name is one: many programs write NONE where there is none."""
    return name.strip() not in ("", "NONE", "None")


def place_of(step: StepText, number: Any, factor: float) -> Place:
    """A point, mm."""
    return _three(step, step.figures(number, "CARTESIAN_POINT"), number, factor)


def way_of(step: StepText, number: Any) -> Place:
    """A direction of length 1."""
    found = unit(_three(step, step.figures(number, "DIRECTION"), number, 1.0))
    if not math.hypot(*found) > 0:
        raise step.damaged(f"the direction #{number} has no length")
    return found


def _three(step: StepText, values: tuple[Any, ...], number: Any, factor: float) -> Place:
    if len(values) != 3 or not all(isinstance(each, float) for each in values):
        raise step.damaged(f"#{number} has not three figures")
    if not all(abs(each * factor) < FARTHEST for each in values):  # not so for what is no number
        raise step.damaged(f"#{number} has figures that are no places")
    return values[0] * factor, values[1] * factor, values[2] * factor


def axes_of(step: StepText, number: Any, factor: float) -> Move:
    """The axes of a placement: the map from them, mm (ISO 10303-42, axis2_placement_3d: the second direction is made square to the axis)."""
    args = step.of(number, "AXIS2_PLACEMENT_3D", 4)
    z = way_of(step, args[2]) if args[2] is not None else (0.0, 0.0, 1.0)
    x = way_of(step, args[3]) if args[3] is not None else (1.0, 0.0, 0.0)
    y = cross(z, x)
    if math.hypot(*y) < 1e-9:
        if args[3] is not None:
            raise step.damaged(f"both directions of the placement #{number} are parallel")
        y = (0.0, 1.0, 0.0)  # of the norm: where the axis is x, the second direction is y
        y = unit(cross(z, y))
    y = unit(y)
    return Move((unit(cross(y, z)), y, z, place_of(step, args[1], factor)))


def _inverse(move: Move) -> Move:
    """Back again; of a map that keeps lengths."""
    x, y, z, o = move.rows
    rows = tuple(zip(x, y, z, strict=True))
    back = tuple(-(o[0] * axis[0] + o[1] * axis[1] + o[2] * axis[2]) for axis in (x, y, z))
    return Move(((*rows[0],), (*rows[1],), (*rows[2],), (back[0], back[1], back[2])))


__all__ = ["FACES", "Part", "Parts", "Unit", "axes_of", "place_of", "says", "way_of"]
