"""What is asked of the solid kernel (OCP): faces and prisms of outlines, profiles swept round them, what is common, cut off and measured.

Terms
-----
shape
    A value of the kernel, mm; its type is the kernel's own.
prism
    Outlines of the plan between two heights.
profile
    A closed run of nodes (d, z, bulge): d from the spine outwards in its plane, z outboard.
spine
    The outline of the plan round which a profile is swept: extruded along lines, turned about the centres of arcs. Where two segments of a
    spine meet at a sharp convex corner, the profile is turned about that corner.

Lines stay planes, arcs stay cylinders, cones and tori: nothing is faceted. The kernel is imported inside, and only when this is called.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any, NamedTuple

from geometry.outline.loop import Arc, Outline, Point, Segment, segment_between, segments
from geometry.outline.turning import TANGENT, turn_between

Node = tuple[float, float, float]
Shape = Any
SEWN = 1e-6
"""mm within which the edges of swept faces are one."""


class SolidError(ValueError):
    """A body that cannot be made: the sentence says which and why."""


@contextmanager
def explained(what: str) -> Iterator[None]:
    """Tell a failure of the kernel as a ``SolidError`` of ``what`` was being made."""
    try:
        yield
    except Exception as error:
        if not type(error).__module__.startswith("OCP"):
            raise
        raise SolidError(f"{what} cannot be made: the geometry kernel gave up ({type(error).__name__})") from error


class Measures(NamedTuple):
    """Volume (mm³) or area (mm²) and its centre, mm."""

    value: float
    centre: tuple[float, float, float]


def _edge(part: Segment, place: Any) -> Any:
    """One edge of the kernel; ``place`` puts a point of the plane into space."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge
    from OCP.GC import GC_MakeArcOfCircle

    if isinstance(part, Arc):
        arc = GC_MakeArcOfCircle(place(part.start), place(part.point_at(0.5)), place(part.end))
        return BRepBuilderAPI_MakeEdge(arc.Value()).Edge()
    return BRepBuilderAPI_MakeEdge(place(part.start), place(part.end)).Edge()


def _wire(outline: Outline, height: float) -> Any:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeWire
    from OCP.gp import gp_Pnt
    from OCP.TopTools import TopTools_ListOfShape

    edges = TopTools_ListOfShape()
    for part in segments(outline):
        edges.Append(_edge(part, lambda at: gp_Pnt(at.x, at.y, height)))
    made = BRepBuilderAPI_MakeWire()
    made.Add(edges)
    return made.Wire()


def flat(outline: Outline, height: float, *, hole: Outline | None = None) -> Shape:
    """The face of an outline, with a hole in it, at a height."""
    return floor(_wire(outline, height), height, hole=None if hole is None else _wire(hole, height))


class Wall(NamedTuple):
    """The faces that stand on an outline, and the wires of their foot and head: a floor made of these shares their edges."""

    faces: Shape
    foot: Shape
    head: Shape


def wall(outline: Outline, low: float, high: float) -> Wall:
    """The faces that stand on an outline from one height to another."""
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Vec
    from OCP.TopoDS import TopoDS

    made = BRepPrimAPI_MakePrism(_wire(outline, low), gp_Vec(0, 0, high - low))
    return Wall(made.Shape(), TopoDS.Wire_s(made.FirstShape()), TopoDS.Wire_s(made.LastShape()))


def floor(outer: Shape, height: float, *, hole: Shape | None = None) -> Shape:
    """The face within a wire at a height, seen from above, without what lies within another."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.gp import gp_Dir, gp_Pln, gp_Pnt
    from OCP.TopoDS import TopoDS

    face = BRepBuilderAPI_MakeFace(gp_Pln(gp_Pnt(0, 0, height), gp_Dir(0, 0, 1)), outer, True)
    if hole is not None:
        face.Add(TopoDS.Wire_s(hole.Reversed()))
    return face.Face()


def enclosed(
    outer: Sequence[Wall], inner: Sequence[Wall], upwards: Sequence[Shape], downwards: Sequence[Shape], what: str
) -> Shape:
    """The solid between walls (``outer`` have it inside, ``inner`` outside) and floors that look up or down, all of shared edges.

    Nothing is sewn: what shares its edges is one shell already. Raises ``SolidError`` where it does not close.
    """
    from OCP.BRep import BRep_Builder, BRep_Tool
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeSolid
    from OCP.TopoDS import TopoDS_Shell

    builder, shell = BRep_Builder(), TopoDS_Shell()
    builder.MakeShell(shell)
    seen = [face.Reversed() for each in outer for face in faces_of(each.faces)]
    seen += [face for each in inner for face in faces_of(each.faces)]
    for face in (*seen, *upwards, *(face.Reversed() for face in downwards)):
        builder.Add(shell, face)
    if not BRep_Tool.IsClosed_s(shell):
        raise SolidError(f"{what} does not close: an edge belongs to one face only")
    shell.Closed(True)
    return BRepBuilderAPI_MakeSolid(shell).Solid()


def prism(outline: Outline, low: float, high: float, *, hole: Outline | None = None) -> Shape:
    """An outline, with a hole in it, from one height to another."""
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Vec

    return BRepPrimAPI_MakePrism(flat(outline, low, hole=hole), gp_Vec(0, 0, high - low)).Shape()


def bar(profile: Sequence[Node], length: float) -> Shape:
    """A straight bar: its profile in y and z, its length along x, half of it to either side of the origin."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Pnt, gp_Vec

    made = BRepBuilderAPI_MakeWire()
    for part in _parts(profile):
        made.Add(_edge(part, lambda at: gp_Pnt(-length / 2, at.x, at.y)))
    return BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(made.Wire()).Face(), gp_Vec(length, 0, 0)).Shape()


def _parts(profile: Sequence[Node]) -> list[Segment]:
    return [
        segment_between(Point(x, z), Point(u, w), bulge)
        for (x, z, bulge), (u, w, _) in zip(profile, (*profile[1:], profile[0]), strict=True)
    ]


def _swept_faces(spine: Outline, run: Sequence[Segment]) -> Iterable[Shape]:
    """The faces that a run of profile segments (d, z) leaves round a spine."""
    from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism
    from OCP.gp import gp_Vec

    parts = segments(spine)
    for part, after in zip(parts, (*parts[1:], parts[0]), strict=True):
        if isinstance(part, Arc):
            yield from _turned(run, part.start, part.tangent_at(0.0), part.centre, part.radius, part.sweep)
        else:
            along = gp_Vec(part.end.x - part.start.x, part.end.y - part.start.y, 0)
            for piece in run:
                yield BRepPrimAPI_MakePrism(_edge(piece, _standing(part.start, part.tangent_at(0.0))), along).Shape()
        turn = turn_between(part, after)
        if turn > TANGENT:
            yield from _turned(run, part.end, part.tangent_at(1.0), part.end, 0.0, turn)


def _turned(run: Sequence[Segment], start: Point, tangent: Point, centre: Point, radius: float, sweep: float) -> Iterable[Shape]:
    """The faces of a run that stands where a spine passes ``start`` and turns about a centre by ``sweep`` (left positive)."""
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeRevol
    from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt

    side = math.copysign(1.0, sweep)  # a spine that turns right has its centre outwards
    axis = gp_Ax1(gp_Pnt(centre.x, centre.y, 0), gp_Dir(0, 0, side))
    for piece in run:
        if _on_axis(piece, -side * radius):
            continue
        if isinstance(piece, Arc) and radius + side * piece.centre.x > SEWN:
            yield _torus(piece, tangent, centre, radius, sweep)
        else:
            yield BRepPrimAPI_MakeRevol(_edge(piece, _standing(start, tangent)), axis, abs(sweep)).Shape()


def _torus(piece: Arc, tangent: Point, centre: Point, radius: float, sweep: float) -> Shape:
    """The face that an arc of a profile leaves about a centre.

    Made of its own figures: turned by the kernel its centre is off in the last digit, and no plane through it finds a true circle.
    """
    at = settled(centre)
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.Geom import Geom_ToroidalSurface
    from OCP.gp import gp_Ax3, gp_Dir, gp_Pnt

    side = math.copysign(1.0, sweep)
    begins = math.atan2(-side * tangent.x, side * tangent.y) + min(sweep, 0.0)
    place = gp_Ax3(gp_Pnt(at.x, at.y, piece.centre.y), gp_Dir(0, 0, 1), gp_Dir(math.cos(begins), math.sin(begins), 0))
    surface = Geom_ToroidalSurface(place, radius + side * piece.centre.x, piece.radius)
    first = math.atan2(piece.start.y - piece.centre.y, side * (piece.start.x - piece.centre.x))
    low, high = sorted((first, first + side * piece.sweep))
    return BRepBuilderAPI_MakeFace(surface, 0.0, abs(sweep), low, high, SEWN).Face()


def settled(centre: Point) -> Point:
    """A centre without its last digits, so that those of parallel arcs are one and the kernel sees that they are."""
    return Point(round(centre.x, 9) + 0.0, round(centre.y, 9) + 0.0)


def _on_axis(piece: Segment, distance: float) -> bool:
    return not isinstance(piece, Arc) and max(abs(piece.start.x - distance), abs(piece.end.x - distance)) < 1e-9


def _standing(at: Point, tangent: Point) -> Any:
    """Puts (d, z) of a profile into space where its spine passes a place."""
    from OCP.gp import gp_Pnt

    return lambda node: gp_Pnt(at.x + node.x * tangent.y, at.y - node.x * tangent.x, node.y)


def swept(spine: Outline, profile: Sequence[Node]) -> Shape:
    """A closed profile swept round a spine: one solid. Raises ``SolidError`` where it does not close."""
    return closed(_swept_faces(spine, _parts(profile)), "a profile swept round an outline")


def filled(spine: Outline, wall: Sequence[Node]) -> Shape:
    """What lies inside an open run (from its foot upwards) swept round a spine, flat at foot and top: one solid."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.ShapeAnalysis import ShapeAnalysis_FreeBounds
    from OCP.TopAbs import TopAbs_WIRE
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    sides = list(_swept_faces(spine, _parts(wall)[:-1]))
    bounds = ShapeAnalysis_FreeBounds(_sewn(sides)).GetClosedWires()
    caps, found = [], TopExp_Explorer(bounds, TopAbs_WIRE)
    while found.More():
        caps.append(BRepBuilderAPI_MakeFace(TopoDS.Wire_s(found.Current()), True).Face())
        found.Next()
    if len(caps) != 2:
        raise SolidError(f"a wall swept round an outline has {len(caps)} open ends; 2 are needed")
    return closed([*sides, *caps], "the room inside a wall")


def _sewn(faces: Iterable[Shape]) -> Shape:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_Sewing

    sewing = BRepBuilderAPI_Sewing(SEWN)
    for face in faces:
        sewing.Add(face)
    sewing.Perform()
    return sewing.SewedShape()


def closed(faces: Iterable[Shape], what: str) -> Shape:
    """The solid that faces enclose; ``what`` it is, for the sentence. Raises ``SolidError`` where they do not close."""
    from OCP.BRep import BRep_Tool
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeSolid
    from OCP.BRepLib import BRepLib
    from OCP.TopAbs import TopAbs_SHELL
    from OCP.TopoDS import TopoDS

    shells = _of_kind(_sewn(faces), TopAbs_SHELL)
    if len(shells) != 1 or not BRep_Tool.IsClosed_s(shells[0]):
        raise SolidError(f"{what} does not close: {len(shells)} shells; one closed shell is needed")
    solid = BRepBuilderAPI_MakeSolid(TopoDS.Shell_s(shells[0])).Solid()
    BRepLib.OrientClosedSolid_s(solid)
    return solid


def _of_kind(shape: Shape, kind: Any) -> list[Shape]:
    from OCP.TopExp import TopExp
    from OCP.TopTools import TopTools_IndexedMapOfShape

    found = TopTools_IndexedMapOfShape()
    TopExp.MapShapes_s(shape, kind, found)
    return [found.FindKey(index) for index in range(1, found.Extent() + 1)]


def solids_of(shape: Shape) -> list[Shape]:
    """The solids that a shape is made of."""
    from OCP.TopAbs import TopAbs_SOLID

    return _of_kind(shape, TopAbs_SOLID)


def faces_of(shape: Shape) -> list[Shape]:
    """The faces of a shape."""
    from OCP.TopAbs import TopAbs_FACE

    return _of_kind(shape, TopAbs_FACE)


def corners_of(shape: Shape) -> list[tuple[float, float, float]]:
    """Where the edges of a shape end, mm."""
    from OCP.BRep import BRep_Tool
    from OCP.TopAbs import TopAbs_VERTEX
    from OCP.TopoDS import TopoDS

    at = [BRep_Tool.Pnt_s(TopoDS.Vertex_s(each)) for each in _of_kind(shape, TopAbs_VERTEX)]
    return [(each.X(), each.Y(), each.Z()) for each in at]


def _worked(operation: Any, what: str) -> Shape:
    if not operation.IsDone() or operation.Shape().IsNull():
        raise SolidError(f"the kernel could not work out {what}")
    return operation.Shape()


def cut_off(shape: Shape, *tools: Shape) -> Shape:
    """A shape without what lies in others."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
    from OCP.TopTools import TopTools_ListOfShape

    if not tools:
        return shape
    cut, own, others = BRepAlgoAPI_Cut(), TopTools_ListOfShape(), TopTools_ListOfShape()
    own.Append(shape)
    for tool in tools:
        others.Append(tool)
    cut.SetArguments(own)
    cut.SetTools(others)
    cut.Build()
    return _worked(cut, "what is left of one body beside another")


def common(one: Shape, other: Shape) -> Shape:
    """What two shapes have in common."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Common

    return _worked(BRepAlgoAPI_Common(one, other), "what two bodies have in common")


def apart(one: Shape, other: Shape) -> bool:
    """Whether two shapes lie in boxes along the axes that do not meet, so that they have nothing in common; a box is never too small."""
    from OCP.Bnd import Bnd_Box
    from OCP.BRepBndLib import BRepBndLib

    boxes = Bnd_Box(), Bnd_Box()
    for box, shape in zip(boxes, (one, other), strict=True):
        BRepBndLib.Add_s(shape, box, False)
    return bool(boxes[0].IsOut(boxes[1]))


def upright(shape: Shape) -> bool:
    """Whether a shape has no faces but planes and cylinders about the vertical: an upright plane cuts it in lines wherever it stands."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface
    from OCP.GeomAbs import GeomAbs_SurfaceType
    from OCP.TopoDS import TopoDS

    for face in faces_of(shape):
        found = BRepAdaptor_Surface(TopoDS.Face_s(face), False)
        if found.GetType() == GeomAbs_SurfaceType.GeomAbs_Cylinder:
            if 1.0 - abs(found.Cylinder().Axis().Direction().Z()) > 1e-15:
                return False
        elif found.GetType() != GeomAbs_SurfaceType.GeomAbs_Plane:
            return False
    return True


def joined(one: Shape, other: Shape) -> Shape:
    """Two shapes as one, without the faces between them."""
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Fuse
    from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain

    both = _worked(BRepAlgoAPI_Fuse(one, other), "two bodies as one")
    unified = ShapeUpgrade_UnifySameDomain(both, True, True, False)
    unified.Build()
    return unified.Shape()


def placed(shape: Shape, at: Point, angle: float) -> Shape:
    """The same shape elsewhere: turned by ``angle`` (degrees, counter-clockwise) and moved; it shares its geometry."""
    return shape.Moved(location(at, angle))


def together(shapes: Iterable[Shape]) -> Shape:
    """Several shapes as one compound."""
    from OCP.BRep import BRep_Builder
    from OCP.TopoDS import TopoDS_Compound

    builder, found = BRep_Builder(), TopoDS_Compound()
    builder.MakeCompound(found)
    for shape in shapes:
        builder.Add(found, shape)
    return found


def seen_from(shape: Shape, at: Point, angle: float) -> Shape:
    """The same shape in a frame of reference with its origin at a place and its x turned by ``angle`` (degrees)."""
    return shape.Moved(location(at, angle).Inverted())


def location(at: Point, angle: float) -> Any:
    """A place of the kernel: a turn about the vertical through the origin, degrees, then a move to ``at``."""
    from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec
    from OCP.TopLoc import TopLoc_Location

    turn, move = gp_Trsf(), gp_Trsf()
    turn.SetRotation(gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1)), math.radians(angle))
    move.SetTranslation(gp_Vec(at.x, at.y, 0))
    return TopLoc_Location(move * turn)


def window(left: float, right: float, low: float, high: float) -> Shape:
    """A rectangle of the upright plane y = 0, to cut with, mm."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakePolygon
    from OCP.gp import gp_Pnt

    made = BRepBuilderAPI_MakePolygon()
    for x, z in ((left, low), (right, low), (right, high), (left, high)):
        made.Add(gp_Pnt(x, 0.0, z))
    made.Close()
    return BRepBuilderAPI_MakeFace(made.Wire()).Face()


def volume(shape: Shape) -> Measures:
    """Volume and centre of gravity of a shape."""
    return _measured(shape, "VolumeProperties_s")


def surface(shape: Shape) -> Measures:
    """Area of the faces of a shape, and its centre."""
    return _measured(shape, "SurfaceProperties_s")


def _measured(shape: Shape, how: str) -> Measures:
    from OCP.BRepGProp import BRepGProp
    from OCP.GProp import GProp_GProps

    found = GProp_GProps()
    getattr(BRepGProp, how)(shape, found)
    at = found.CentreOfMass()
    return Measures(found.Mass(), (at.X(), at.Y(), at.Z()))


def valid(shape: Shape) -> bool:
    """Whether the kernel finds nothing wrong with a shape."""
    from OCP.BRepCheck import BRepCheck_Analyzer

    return bool(BRepCheck_Analyzer(shape).IsValid())


__all__ = [
    "Measures",
    "Node",
    "Shape",
    "SolidError",
    "Wall",
    "apart",
    "bar",
    "closed",
    "common",
    "corners_of",
    "cut_off",
    "enclosed",
    "explained",
    "faces_of",
    "filled",
    "flat",
    "floor",
    "joined",
    "location",
    "placed",
    "prism",
    "seen_from",
    "settled",
    "solids_of",
    "surface",
    "swept",
    "together",
    "upright",
    "valid",
    "volume",
    "wall",
    "window",
]
