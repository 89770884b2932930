"""STEP files written out by hand (ISO 10303-21 and -42), and the small ship model of the samples: ``python tests/geometry/incoming/step_files.py``.

Nothing of the product and no geometry kernel is used: what is read back is held against what stands here in figures. Every file is invented
data and says so, and has the same bytes each time.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple

Three = tuple[float, float, float]
UNITS = {
    "mm": "(LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT(.MILLI.,.METRE.))",
    "m": "(LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT($,.METRE.))",
    "cm": "(LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT(.CENTI.,.METRE.))",
    "in": "(CONVERSION_BASED_UNIT('INCH',#{measure}) LENGTH_UNIT() NAMED_UNIT(#{sizes}))",
}
SAMPLE = Path(__file__).parents[3] / "samples" / "deckhouse.step"


class Seat(NamedTuple):
    """A plane in space: where its (0, 0) lies, and its X and Y, unit vectors square to each other."""

    origin: Three
    x: Three
    y: Three

    @property
    def normal(self) -> Three:
        (a, b, c), (d, e, f) = self.x, self.y
        return b * f - c * e, c * d - a * f, a * e - b * d

    def at(self, x: float, y: float, z: float = 0.0) -> Three:
        o, i, j, k = self.origin, self.x, self.y, self.normal
        found = [o[n] + x * i[n] + y * j[n] + z * k[n] for n in range(3)]
        return found[0], found[1], found[2]


PLAN = Seat((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))


def figure(value: float) -> str:
    """A real number as the format has it: always with a full stop."""
    text = f"{value + 0.0:.15g}"
    mantissa, sign, power = text.partition("e")
    return (mantissa if "." in mantissa else f"{mantissa}.") + (f"E{power}" if sign else "")


@dataclass
class StepFile:
    """A file that is being written: every method adds instances and gives the number of the last."""

    unit: str = "mm"
    lines: list[str] = field(default_factory=list)
    _context: int = 0
    _known: dict[str, int] = field(default_factory=dict)

    def add(self, body: str) -> int:
        self.lines.append(body)
        return len(self.lines)

    def once(self, body: str) -> int:
        """A point or direction that is written once however often it is used."""
        if body not in self._known:
            self._known[body] = self.add(body)
        return self._known[body]

    def point(self, at: Three) -> int:
        return self.once(f"CARTESIAN_POINT('',({','.join(map(figure, at))}))")

    def way(self, along: Three) -> int:
        return self.once(f"DIRECTION('',({','.join(map(figure, along))}))")

    def axes(self, at: Three, z: Three = (0.0, 0.0, 1.0), x: Three = (1.0, 0.0, 0.0)) -> int:
        return self.add(f"AXIS2_PLACEMENT_3D('',#{self.point(at)},#{self.way(z)},#{self.way(x)})")

    def vertex(self, at: Three) -> int:
        return self.once(f"VERTEX_POINT('',#{self.point(at)})")

    def edge(self, start: Three, end: Three, curve: int, *, same: bool = True, turned: bool = False) -> int:
        """An oriented edge that runs from start to end of its loop; ``turned``: the edge is written from end to start."""
        a, b = (end, start) if turned else (start, end)
        body = f"EDGE_CURVE('',#{self.vertex(a)},#{self.vertex(b)},#{curve},.{'T' if same else 'F'}.)"
        return self.add(f"ORIENTED_EDGE('',*,*,#{self.add(body)},.{'F' if turned else 'T'}.)")

    def line(self, start: Three, end: Three) -> int:
        length = math.dist(start, end)
        along = self.way(tuple((b - a) / length for a, b in zip(start, end, strict=True)))  # type: ignore[arg-type]
        vector = self.add(f"VECTOR('',#{along},1.)")
        return self.add(f"LINE('',#{self.point(start)},#{vector})")

    def loop(self, path: Sequence[tuple[float, ...]], seat: Seat = PLAN, *, turned: bool = False) -> int:
        """A loop of lines and arcs: (x, y) or (x, y, bulge) in a plane; ``turned``: every edge is written the other way round."""
        edges = []
        for one, two in zip(path, (*path[1:], path[0]), strict=True):
            start, end = seat.at(*one[:2]), seat.at(*two[:2])
            bulge = one[2] if len(one) > 2 else 0.0
            if not bulge:
                edges.append(self.edge(start, end, self.line(end, start) if turned else self.line(start, end), turned=turned))
                continue
            (x, y), (u, w) = one[:2], two[:2]
            away = (1 - bulge * bulge) / (4 * bulge)
            centre = ((x + u) / 2 - (w - y) * away, (y + w) / 2 + (u - x) * away)
            axes = self.axes(seat.at(*centre), seat.normal, seat.x)
            circle = self.add(f"CIRCLE('',#{axes},{figure(math.dist(centre, (x, y)))})")
            edges.append(self.edge(start, end, circle, same=(bulge > 0) != turned, turned=turned))
        return self.add(f"EDGE_LOOP('',({','.join(f'#{each}' for each in edges)}))")

    def ring(self, centre: tuple[float, float], radius: float, seat: Seat = PLAN, *, same: bool = True) -> int:
        """A loop of one full circle."""
        start = seat.at(centre[0] + radius, centre[1])
        circle = self.add(f"CIRCLE('',#{self.axes(seat.at(*centre), seat.normal, seat.x)},{figure(radius)})")
        return self.add(f"EDGE_LOOP('',(#{self.edge(start, start, circle, same=same)}))")

    def face(self, name: str, seat: Seat, loops: Sequence[int], *, turned: bool = False, outer: bool = True) -> int:
        """A flat face; ``turned``: it looks against the normal of its plane; ``outer``: its first loop is said to be the outer one."""
        plane = self.add(f"PLANE('',#{self.axes(seat.origin, seat.normal, seat.x)})")
        bounds = [
            self.add(f"FACE_{'OUTER_' if outer and not place else ''}BOUND('',#{loop},.T.)") for place, loop in enumerate(loops)
        ]
        return self.add(
            f"ADVANCED_FACE('{name}',({','.join(f'#{each}' for each in bounds)}),#{plane},.{'F' if turned else 'T'}.)"
        )

    def context(self) -> int:
        if not self._context:
            words = UNITS[self.unit]
            if self.unit == "in":
                sizes = self.add("DIMENSIONAL_EXPONENTS(1.,0.,0.,0.,0.,0.,0.)")
                measure = self.add(f"LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(25.4),#{self.add(UNITS['mm'])})")
                words = words.format(measure=measure, sizes=sizes)
            length = self.add(words)
            angle = self.add("(NAMED_UNIT(*) PLANE_ANGLE_UNIT() SI_UNIT($,.RADIAN.))")
            solid = self.add("(NAMED_UNIT(*) SI_UNIT($,.STERADIAN.) SOLID_ANGLE_UNIT())")
            near = self.add(f"UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-07),#{length},'distance_accuracy_value','')")
            self._context = self.add(
                f"(GEOMETRIC_REPRESENTATION_CONTEXT(3) GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((#{near})) "
                f"GLOBAL_UNIT_ASSIGNED_CONTEXT((#{length},#{angle},#{solid})) REPRESENTATION_CONTEXT('',''))"
            )
        return self._context

    def use(self, name: str, part: tuple[int, int], whole: tuple[int, int], transformation: int) -> None:
        """Put a part into an assembly, each told by its shape and the definition of its product."""
        related = self.add(
            f"(REPRESENTATION_RELATIONSHIP('','',#{part[0]},#{whole[0]}) "
            f"REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION(#{transformation}) SHAPE_REPRESENTATION_RELATIONSHIP())"
        )
        use = self.add(f"NEXT_ASSEMBLY_USAGE_OCCURRENCE('{name}','{name}','',#{whole[1]},#{part[1]},$)")
        told = self.add(f"PRODUCT_DEFINITION_SHAPE('','',#{use})")
        self.add(f"CONTEXT_DEPENDENT_SHAPE_REPRESENTATION(#{related},#{told})")

    def product(self, name: str, shape: int) -> int:
        """A product with a shape; gives its definition."""
        if "application" not in self._known:
            self._known["application"] = self.add("APPLICATION_CONTEXT('automotive design')")
            self.add(f"APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,#{len(self.lines)})")
        application = self._known["application"]
        context = self.add(f"PRODUCT_CONTEXT('',#{application},'mechanical')")
        product = self.add(f"PRODUCT('{name}','{name}','',(#{context}))")
        formation = self.add(f"PRODUCT_DEFINITION_FORMATION('','',#{product})")
        view = self.add(f"PRODUCT_DEFINITION_CONTEXT('part definition',#{application},'design')")
        definition = self.add(f"PRODUCT_DEFINITION('design','',#{formation},#{view})")
        told = self.add(f"PRODUCT_DEFINITION_SHAPE('','',#{definition})")
        self.add(f"SHAPE_DEFINITION_REPRESENTATION(#{told},#{shape})")
        return definition

    def sheet(self, name: str, faces: Sequence[int]) -> tuple[int, int]:
        """A part that is a sheet of some faces; gives its shape and its definition."""
        shell = self.add(f"OPEN_SHELL('',({','.join(f'#{each}' for each in faces)}))")
        model = self.add(f"SHELL_BASED_SURFACE_MODEL('',(#{shell}))")
        zero = self.axes((0.0, 0.0, 0.0))
        shape = self.add(f"MANIFOLD_SURFACE_SHAPE_REPRESENTATION('',(#{zero},#{model}),#{self.context()})")
        return shape, self.product(name, shape)

    def text(self, name: str = "invented.step") -> str:
        """The whole file."""
        body = "".join(f"#{number}={line};\n" for number, line in enumerate(self.lines, start=1))
        return (
            "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('Invented data: no vessel has these windows'),'2;1');\n"
            f"FILE_NAME('{name}','',(''),(''),'','','');\n"
            "FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'));\n"
            f"ENDSEC;\nDATA;\n{body}ENDSEC;\nEND-ISO-10303-21;\n"
        )


def rounded(wide: float, high: float, radius: float) -> list[tuple[float, ...]]:
    """A rectangle with its lower left at (0, 0) and a quarter of a circle at each corner."""
    b, r = math.tan(math.pi / 8), radius
    return [
        (r, 0), (wide - r, 0, b), (wide, r), (wide, high - r, b), (wide - r, high), (r, high, b), (0, high - r), (0, r, b),
    ]  # fmt: skip


def leaning(origin: Three, heading: float, lean: float) -> Seat:
    """The plane of a window that looks along a heading (degrees from X of the ship, counter-clockwise from above) and leans back."""
    h, tilt = math.radians(heading), math.radians(lean)
    right = (-math.sin(h), math.cos(h), 0.0)
    up = (-math.cos(h) * math.sin(tilt), -math.sin(h) * math.sin(tilt), math.cos(tilt))
    return Seat(origin, right, up)


FRONT = leaning((14_000.0, -600.0, 6_200.0), 0.0, 30.0)
"""X of the ship model runs forward, Y to port, Z up: seen from ahead the plan's X runs to port."""
SIDE = leaning((9_000.0, 2_400.0, 5_900.0), 90.0, 0.0)


def deckhouse() -> str:
    """The sample: the front window of a deckhouse with its landing, and a round light in its side."""
    made = StepFile()
    made.context()
    glass = made.face("GLASS", FRONT, [made.loop(rounded(1200, 700, 80), FRONT)])
    back = Seat(FRONT.at(0, 0, -24), FRONT.x, FRONT.y)
    inner = [(x + 40, y + 40, *bulge) for x, y, *bulge in rounded(1120, 620, 40)]
    hole = [
        (two[0], two[1], *([-one[2]] if len(one) > 2 else []))
        for two, one in zip(inner[::-1], [*inner[-2::-1], inner[-1]], strict=True)
    ]
    outer = [(x - 10, y - 10, *bulge) for x, y, *bulge in rounded(1220, 720, 90)]
    landing = made.face("LANDING", back, [made.loop(outer, back), made.loop(hole, back)])
    made.sheet("DECKHOUSE FRONT", [glass, landing])
    made.sheet("DECKHOUSE SIDE", [made.face("PORT LIGHT", SIDE, [made.ring((0.0, 0.0), 220.0, SIDE)])])
    return made.text(SAMPLE.name)


if __name__ == "__main__":
    SAMPLE.write_text(deckhouse(), encoding="ascii", newline="\n")
