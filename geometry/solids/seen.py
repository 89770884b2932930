"""What is seen of bodies from one side: the visible strokes of each, exact, with what lies behind another left out.

Terms
-----
sight
    The direction in which bodies are seen, square to the picture: no vanishing points. The picture's x runs to the right, its y upwards, mm.
stroke
    One visible stretch of an edge or of an outline, as nodes (x, y, bulge) of lines and arcs.
sharp
    An edge at which two faces meet at an angle. Where they go on smoothly into each other, no stroke is drawn.
contour
    Where a round face turns away from the eye.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from geometry.incoming.moves import cross, dot
from geometry.outline import Point, Vertex
from geometry.outline.ellipse import pair_of_arcs
from geometry.outline.loop import segment_between
from geometry.outline.meet import distance_to
from geometry.solids import kernel

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from geometry.solids.kernel import Node, Shape

Way = tuple[float, float, float]
SHORTEST = 1e-6
"""mm; a shorter stretch has no direction."""
DOT = 6.0
"""Times the tolerance up to which a curved stretch is drawn straight: it cannot rise more than a part of the tolerance."""
STRAIGHT_ON = 0.5
"""Cosine of the turn over which a curve is tried as one pair of arcs."""
PLACES = 12
"""Stretches of a curve at whose ends a pair of arcs is held against it; half the tolerance is left for what lies between."""
SAME = 1e-4
"""mm within which two strokes of one body are one."""


@dataclass(frozen=True, slots=True)
class Sight:
    """A direction of sight: ``towards`` from the bodies to the eye and ``right`` on the picture, unit vectors square to each other."""

    towards: Way
    right: Way

    @property
    def up(self) -> Way:
        """What is upwards on the picture."""
        return cross(self.towards, self.right)

    def at(self, place: Way) -> Point:
        """Where a place of the bodies stands on the picture."""
        return Point(dot(place, self.right), dot(place, self.up))

    def nearness(self, place: Way) -> float:
        """How far a place stands towards the eye, mm."""
        return dot(place, self.towards)


def isometric() -> Sight:
    """Sight along the diagonal of a cube: all three axes are foreshortened alike, and 120° apart on the picture.

    ISO 5456-3, 5.1, as transcribed: Y upwards, X and Z at 30° to the level line. X runs down to the right and Z down to the left, so that
    what looks upwards, outboard and to the right is seen.
    """
    third, half = 1 / math.sqrt(3.0), 1 / math.sqrt(2.0)
    return Sight((third, third, third), (half, 0.0, -half))


FORESHORTENED = math.sqrt(2.0 / 3.0)
"""How long a unit of each axis of an isometric sight is on the picture."""


def pulled(shape: Shape, by: Way) -> Shape:
    """The same shape moved by so much along X, Y and Z, mm; it shares its geometry."""
    from OCP.gp import gp_Trsf, gp_Vec
    from OCP.TopLoc import TopLoc_Location

    move = gp_Trsf()
    move.SetTranslation(gp_Vec(*by))
    return shape.Moved(TopLoc_Location(move))


def bounds(shapes: Iterable[Shape]) -> tuple[Way, Way]:
    """The least and the greatest X, Y and Z of several shapes, mm."""
    from OCP.Bnd import Bnd_Box
    from OCP.BRepBndLib import BRepBndLib

    box = Bnd_Box()
    for shape in shapes:
        BRepBndLib.Add_s(shape, box, False)
    low, high = box.CornerMin(), box.CornerMax()
    return (low.X(), low.Y(), low.Z()), (high.X(), high.Y(), high.Z())


@dataclass(frozen=True, slots=True)
class Stroke:
    """One visible stretch; ``contour`` tells it from a sharp edge."""

    nodes: tuple[Node, ...]
    contour: bool = False


def strokes_seen(shapes: Sequence[Shape], sight: Sight, *, within: float) -> tuple[tuple[Stroke, ...], ...]:
    """The visible strokes of each of several shapes that hide one another; curves as arcs at most ``within`` mm from the true ones.

    What is no longer than ``within`` is left out.

    Raises
    ------
    SolidError
        Where the kernel gives up.
    """
    with kernel.explained("the view of the bodies"):
        folded = [_without_touching_lines(shape) for shape in shapes]
        algorithm = _hidden_removed(folded, sight)
        return tuple(_strokes(algorithm, shape, within) for shape in folded)


def _without_touching_lines(shape: Shape) -> Shape:
    """A shape without edges that lie within a face: what was cut off it only touches the face there, and nothing of it is folded.

    A straight block in the joint of a round pane touches the glass along a line: the kernel keeps that line in the face of the backfill
    that lies on the glass, and parts the side of the cut at it.
    """
    from OCP.BRep import BRep_Builder
    from OCP.BRepTools import BRepTools_ReShape
    from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain
    from OCP.TopAbs import TopAbs_FORWARD, TopAbs_INTERNAL

    builder, changed, found = BRep_Builder(), BRepTools_ReShape(), False
    for face in kernel.faces_of(shape):
        own = face.Oriented(TopAbs_FORWARD)
        wires = [(wire, list(_parts_of(wire))) for wire in _parts_of(own)]
        if not any(edge.Orientation() == TopAbs_INTERNAL for _, edges in wires for edge in edges):
            continue
        found, bare = True, own.EmptyCopied()
        for wire, edges in wires:
            kept = [edge for edge in edges if edge.Orientation() != TopAbs_INTERNAL]
            if len(kept) == len(edges):
                builder.Add(bare, wire)
            elif kept:
                less = wire.EmptyCopied()
                for edge in kept:
                    builder.Add(less, edge)
                builder.Add(bare, less)
        changed.Replace(face, bare.Oriented(face.Orientation()))
    if not found:
        return shape
    unified = ShapeUpgrade_UnifySameDomain(changed.Apply(shape), True, True, False)
    unified.Build()
    return unified.Shape()


def _parts_of(shape: Shape) -> Iterator[Shape]:
    from OCP.TopoDS import TopoDS_Iterator

    found = TopoDS_Iterator(shape)
    while found.More():
        yield found.Value()
        found.Next()


def _hidden_removed(shapes: Sequence[Shape], sight: Sight) -> Any:
    """The kernel's exact removal of hidden lines, done."""
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
    from OCP.HLRAlgo import HLRAlgo_Projector
    from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape

    algorithm = HLRBRep_Algo()
    for shape in shapes:
        algorithm.Add(shape, 0)
    algorithm.Projector(HLRAlgo_Projector(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(*sight.towards), gp_Dir(*sight.right))))
    algorithm.Update()
    algorithm.Hide()
    return HLRBRep_HLRToShape(algorithm)


def _strokes(algorithm: Any, shape: Shape, within: float) -> tuple[Stroke, ...]:
    found: dict[tuple[tuple[int, int], ...], Stroke] = {}
    for contour, edges in ((False, algorithm.VCompound(shape)), (True, algorithm.OutLineVCompound(shape))):
        for nodes in _runs(edges, within):
            places = tuple((round(x / SAME), round(y / SAME)) for x, y, _ in nodes)
            found.setdefault(min(places, places[::-1]), Stroke(nodes, contour))
    return tuple(found.values())


def _runs(edges: Shape | None, within: float) -> Iterator[tuple[Node, ...]]:
    """The edges of a compound of the picture as nodes."""
    from OCP.BRepAdaptor import BRepAdaptor_Curve
    from OCP.BRepLib import BRepLib
    from OCP.GeomAbs import GeomAbs_Line
    from OCP.TopAbs import TopAbs_EDGE
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopoDS import TopoDS

    if edges is None or edges.IsNull():
        return
    BRepLib.BuildCurves3d_s(edges)
    found = TopExp_Explorer(edges, TopAbs_EDGE)
    while found.More():
        edge = TopoDS.Edge_s(found.Current())
        found.Next()
        curve = BRepAdaptor_Curve(edge)
        first, last = curve.Value(curve.FirstParameter()), curve.Value(curve.LastParameter())
        if curve.GetType() == GeomAbs_Line:
            if math.hypot(last.X() - first.X(), last.Y() - first.Y()) > within:
                yield (first.X(), first.Y(), 0.0), (last.X(), last.Y(), 0.0)
        else:
            yield from _as_arcs(edge, (last.X(), last.Y(), 0.0), within)


def _as_arcs(edge: Any, last: Node, within: float) -> Iterator[tuple[Node, ...]]:
    """A curved edge as arcs."""
    import numpy as np
    from OCP.BRep import BRep_Tool
    from OCP.Geom import Geom_TrimmedCurve
    from OCP.GeomConvert import GeomConvert, GeomConvert_BSplineCurveToBezierCurve

    from geometry.incoming.biarcs import as_arcs

    curve = BRep_Tool.Curve_s(edge, 0.0, 1.0)
    low, high = BRep_Tool.Range_s(edge)
    pieces = GeomConvert_BSplineCurveToBezierCurve(GeomConvert.CurveToBSplineCurve_s(Geom_TrimmedCurve(curve, low, high)))
    spans = []
    for number in range(1, pieces.NbArcs() + 1):
        piece = pieces.Arc(number)
        poles = [(piece.Pole(i), piece.Weight(i)) for i in range(1, piece.NbPoles() + 1)]
        spans.append(np.array([[at.X() * weight, at.Y() * weight, weight] for at, weight in poles]))
    places = np.vstack([span[:, :2] / span[:, 2:] for span in spans])
    reach = float(np.ptp(places, axis=0).max())
    if reach <= within:  # a dot
        return
    if reach <= DOT * within:
        yield (float(places[0][0]), float(places[0][1]), 0.0), last
    else:
        found = _one_pair(curve, low, high, within) or [(x, y, bulge) for x, y, bulge in as_arcs(spans, within).vertices]
        yield (*found, last)


def _one_pair(curve: Any, low: float, high: float, within: float) -> list[Node] | None:
    """Two tangent arcs in the place of a short stretch of a curve, held against it at places close to each other; None where they are too far."""
    from OCP.gp import gp_Pnt, gp_Vec

    places, ways = [], []
    for parameter in (low, high):
        at, way = gp_Pnt(), gp_Vec()
        curve.D1(parameter, at, way)
        long = math.hypot(way.X(), way.Y())
        if long < SHORTEST:
            return None
        places.append(Point(at.X(), at.Y()))
        ways.append(Point(way.X() / long, way.Y() / long))
    if ways[0].x * ways[1].x + ways[0].y * ways[1].y < STRAIGHT_ON or math.dist(*places) < SHORTEST:
        return None
    first, joint = pair_of_arcs(places[0], ways[0], places[1], ways[1])
    ends = [(first, joint), (joint, Vertex(*places[1], 0.0))]
    arcs = [segment_between(Point(a.x, a.y), Point(b.x, b.y), a.bulge) for a, b in ends]
    for step in range(1, PLACES):
        at = curve.Value(low + (high - low) * step / PLACES)
        if min(distance_to(arc, at.X(), at.Y()) for arc in arcs) > within / 2:
            return None
    return [(first.x, first.y, first.bulge), (joint.x, joint.y, joint.bulge)]


__all__ = ["FORESHORTENED", "Sight", "Stroke", "Way", "bounds", "isometric", "pulled", "strokes_seen"]
