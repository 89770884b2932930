"""Exploded views of odd and random panes: none ends in a fault, and what is drawn of the nearest part is what a second way finds of it.

The nearest part is the backfill: it is pulled off farthest along the normal, and along the sight every place of another part lies behind
it. The second way takes the edges of its body, tells the sharp ones by the normals of their faces, and asks a ray towards the eye from
place to place whether the body itself hides them.
"""

from __future__ import annotations

import math
import sys
from functools import cache
from itertools import pairwise
from pathlib import Path as File
from typing import TYPE_CHECKING, Any

import pytest
import shapely

sys.path.append(str(File(__file__).parents[2] / "geometry" / "solids"))
from pane_set import SEED, random_text

from geometry.detail.build import build_detail
from geometry.job.reading import job_of
from geometry.outline import Point, Vertex
from geometry.outline.loop import Outline, segment_between
from geometry.solids import kernel
from geometry.solids.areas import area_of, common, together, without
from geometry.solids.bodies import bodies_of
from geometry.solids.seen import isometric, strokes_seen
from geometry.solids.seen_faces import Lamp, regions_seen
from outputs.files.svg import svg_bytes
from outputs.sheets.contents import Contents
from outputs.sheets.exploded_sheet import exploded_sheet

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Detail
    from geometry.solids.seen import Stroke

ASKED = "[sheet]\nexploded = true\n"
HEAD = '[[pane]]\ncode = "P1"\nframe = "aluminium"\n'
PLY, LAMINATE = "glass = { plies = [8] }\n", "glass = { plies = [12, 12, 12], interlayers = [1.52, 1.52] }\n"
ODD = {
    "triangle": PLY
    + "outline = { polygon = [[0, 0], [900, 0], [300, 700]], radius = 30 }\npressure = { outward = 3, inward = 12 }",
    "triangle, sharp": PLY + "outline = { polygon = [[0, 0], [900, 0], [300, 700]] }",
    "sides along the sight": PLY + "outline = { polygon = [[0, 0], [600, -600], [900, -300], [300, 300]], radius = 30 }",
    "hexagon": PLY
    + "outline = { polygon = [[300, 0], [600, 173.2], [600, 519.6], [300, 692.8], [0, 519.6], [0, 173.2]], radius = 10 }",
    "kite": PLY + "outline = { polygon = [[400, 0], [800, 500], [400, 800], [0, 500]], radius = 30 }",
    "L": PLY + "outline = { polygon = [[0, 0], [1200, 0], [1200, 400], [700, 400], [700, 900], [0, 900]], radius = 40 }",
    "strip 3000": PLY + "outline = { rectangle = [3000, 300], radius = 20 }",
    "round 180": PLY + "outline = { circle = 180 }",
    "oval": PLY + "outline = { ellipse = [900, 500] }",
    "thick laminate": LAMINATE + "outline = { rectangle = [1000, 600], radius = 50 }",
    "reverse rake": PLY + "rake = -20\noutline = { rectangle = [1000, 600], radius = 50 }",
    "path with arcs": PLY + "outline = { path = [[0, 0], [800, 0, 0.3], [800, 500], [200, 500, -0.2], [0, 500]] }",
}
RANDOM = [f"random {SEED + number}" for number in (1, 2, 5, 7, 14, 20)]
WITHIN, SAMPLES = 0.02, 100
START = 1e-3  # mm from an edge to where a ray begins: a wall that a straight block leaves beside curved glass is as thin
SIGHT, LAMP = isometric(), Lamp((0.2, 0.85, 0.4873), (0.7, 0.4))


@cache
def detail_named(name: str) -> tuple[Any, Detail]:
    text = HEAD + ODD[name] if name in ODD else random_text(int(name.split()[1]))
    job = job_of(ASKED + text + "\n")
    return job, build_detail(job, job.panes[0])


@pytest.mark.parametrize("name", [*ODD, *RANDOM])
def test_no_pane_ends_in_a_fault(name):
    job, detail = detail_named(name)
    sheet = exploded_sheet(Contents(job, job.panes[0], detail))
    assert svg_bytes(sheet)
    assert all(math.isfinite(x) for view in sheet.views for x in view.window)


@cache
def backfill_of(name: str) -> Any:
    (body,) = [body for body in bodies_of(detail_named(name)[1]) if body.material == "sealant"]
    return body.shape


@cache
def strokes_of(name: str) -> tuple[Stroke, ...]:
    (strokes,) = strokes_seen([backfill_of(name)], SIGHT, within=WITHIN)
    return strokes


def length_of(strokes: Sequence[Stroke]) -> float:
    return math.fsum(
        segment_between(Point(a[0], a[1]), Point(b[0], b[1]), a[2]).length
        for stroke in strokes
        for a, b in pairwise(stroke.nodes)
    )


def sharp_length_seen(shape: Any) -> float:
    """Length on the picture of the sharp edges of a body that no part of it hides."""
    from OCP.BRepAdaptor import BRepAdaptor_Curve
    from OCP.gp import gp_Dir, gp_Lin
    from OCP.IntCurvesFace import IntCurvesFace_ShapeIntersector
    from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE
    from OCP.TopExp import TopExp
    from OCP.TopoDS import TopoDS
    from OCP.TopTools import TopTools_IndexedDataMapOfShapeListOfShape

    edges, rays = TopTools_IndexedDataMapOfShapeListOfShape(), IntCurvesFace_ShapeIntersector()
    TopExp.MapShapesAndAncestors_s(shape, TopAbs_EDGE, TopAbs_FACE, edges)
    rays.Load(shape, 1e-7)
    found = []
    for number in range(1, edges.Extent() + 1):
        curve = BRepAdaptor_Curve(TopoDS.Edge_s(edges.FindKey(number)))
        first, last = curve.FirstParameter(), curve.LastParameter()
        middle = curve.Value(first + 0.437 * (last - first))
        normals = [normal_at(face, middle) for face in edges.FindFromIndex(number)]
        if all(abs(normals[0].Dot(other)) > 1 - 1e-6 for other in normals):
            continue  # a seam, or the faces go on smoothly
        length = curve.Value(first).Distance(middle) + middle.Distance(curve.Value(last))
        count = max(10, min(SAMPLES, int(length)))
        places = [curve.Value(first + (last - first) * step / (2 * count)) for step in range(2 * count + 1)]
        for one, at, other in zip(places[:-2:2], places[1:-1:2], places[2::2], strict=True):
            a, b = (SIGHT.at((each.X(), each.Y(), each.Z())) for each in (one, other))
            rays.Perform(gp_Lin(at, gp_Dir(*SIGHT.towards)), START, 1e5)
            if rays.NbPnt() == 0:
                found.append(math.dist(a, b))
    return math.fsum(found)


def normal_at(face: Any, at: Any) -> Any:
    from OCP.BRep import BRep_Tool
    from OCP.GeomAPI import GeomAPI_ProjectPointOnSurf
    from OCP.GeomLProp import GeomLProp_SLProps
    from OCP.TopoDS import TopoDS

    surface = BRep_Tool.Surface_s(TopoDS.Face_s(face))
    u, v = GeomAPI_ProjectPointOnSurf(at, surface).LowerDistanceParameters()
    return GeomLProp_SLProps(surface, u, v, 1, 1e-9).Normal()


@pytest.mark.parametrize("name", [*ODD, *RANDOM])
def test_sharp_strokes_of_the_nearest_part_are_as_long_as_its_edges_that_a_ray_finds_seen(name):
    true = sharp_length_seen(backfill_of(name))
    assert true > 100.0
    assert length_of([each for each in strokes_of(name) if not each.contour]) == pytest.approx(true, rel=4e-3)


@pytest.mark.parametrize("name", [*ODD, *RANDOM])
def test_what_is_seen_of_the_nearest_part_covers_what_its_strokes_surround(name):
    """Its areas, made of facets, against the ends of its strokes, which are exact: none lies farther off than the facets are wide of the true face."""
    (regions,) = regions_seen([backfill_of(name)], SIGHT, LAMP, within=WITHIN)
    edge = together([area_of(each.outer, each.holes) for each in regions], WITHIN / 8).boundary
    outline = shapely.union_all([shapely.LineString(places_of(stroke)) for stroke in strokes_of(name)])
    assert edge.hausdorff_distance(edge.intersection(outline.buffer(6 * WITHIN))) < 0.5


def places_of(stroke: Stroke) -> list[tuple[float, float]]:
    found: list[tuple[float, float]] = []
    for a, b in pairwise(stroke.nodes):
        part = segment_between(Point(a[0], a[1]), Point(b[0], b[1]), a[2])
        found += [tuple(part.point_at(step / 8)) for step in range(9)]  # type: ignore[misc]
    return found


@pytest.mark.parametrize("name", ["round 180", "oval"])
def test_a_block_that_touches_the_glass_along_a_line_leaves_no_stroke_there(name):
    """A sharp stroke that runs along the normal stands where the face of the backfill is folded; on the glass of a round pane it is not."""
    _, detail = detail_named(name)
    feet = [SIGHT.at((each.foot.x, each.foot.y, each.depth)) for each in detail.chocks]
    assert feet
    for stroke in strokes_of(name):
        if len(stroke.nodes) == 2 and not stroke.contour:
            line = shapely.LineString([node[:2] for node in stroke.nodes])
            assert not any(line.distance(shapely.Point(at)) < 0.05 for at in feet), stroke


def test_areas_that_only_touch_have_nothing_in_common_and_a_run_over_itself_has_its_areas():
    """The fault that stopped the sheet of a triangle: a line among the areas."""
    one, two = area_of(((0, 0), (4, 0), (4, 4), (0, 4))), area_of(((4, 1), (8, 1), (8, 3), (4, 3)))
    assert common(one, two, 0.001).is_empty
    assert together([one, two], 0.001).area == pytest.approx(24.0)
    assert without(one, two, 0.001).area == pytest.approx(16.0)
    spike = area_of(((0, 0), (4, 0), (4, 4), (4, 9), (4, 4), (0, 4)))
    assert (spike.geom_type, spike.area) == ("Polygon", pytest.approx(16.0))
    crossed = area_of(((0, 0), (2, 2), (2, 0), (0, 2)))
    assert (crossed.geom_type, crossed.area) == ("MultiPolygon", pytest.approx(2.0))
    assert together([crossed, spike], 0.001).area == pytest.approx(16.0)
    assert area_of(((0, 0), (4, 0), (8, 0))).is_empty


def test_a_face_seen_edge_on_hides_nothing():
    """A plate whose broad face lies along the sight: its rim alone is seen, and the body behind it but for that."""
    tall = Outline(tuple(Vertex(x, y, 0.0) for x, y in ((0, 0), (300, -300), (300.01, -299.99), (0.01, 0.01))))
    behind = Outline(tuple(Vertex(x - 200, y - 200, 0.0) for x, y in ((0, -100), (200, -100), (200, 100), (0, 100))))
    shapes = [kernel.prism(tall, 0.0, 20.0), kernel.prism(behind, -200.0, -190.0)]
    hidden = regions_seen(shapes, SIGHT, LAMP, within=WITHIN)
    alone = regions_seen(shapes[1:], SIGHT, LAMP, within=WITHIN)
    whole, left = (math.fsum(area_of(each.outer, each.holes).area for each in found) for found in (alone[0], hidden[1]))
    rim = math.fsum(area_of(each.outer, each.holes).area for each in hidden[0])
    assert whole - left <= rim + WITHIN * 1000.0
