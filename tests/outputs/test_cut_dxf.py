"""The file to cut from: one closed contour with true arcs, in the entities of DXF R12, read back by two independent libraries."""

from __future__ import annotations

import io
import math
from pathlib import Path

import ezdxf
import pyogrio
import pytest
import shapely
from ezdxf import bbox
from ezdxf.path import make_path

from geometry.job import read_job
from geometry.job.reading import job_of
from geometry.outline import Outline, area, bounding_box, perimeter, segments
from outputs.files.cut_dxf import LAYER, cut_dxf

ROOT = Path(__file__).parents[2]
JOB = read_job(ROOT / "samples" / "sallow-wren.toml")
GLASS = {pane.code: pane.glass_outline for pane in JOB.panes}
ODD = """
[[pane]]
code = "{code}"
frame = "aluminium"
glass = {{ plies = [8] }}
outline = {outline}
"""
OUTLINES = {
    "triangle": "{ polygon = [[0, 0], [700, 0], [250, 400]], radius = 12 }",
    "sharp kite": "{ polygon = [[400, 0], [800, 300], [400, 900], [0, 300]] }",
    "slot": "{ path = [[200, 0], [800, 0, 1], [800, 300], [200, 300, 1]] }",
    "bowed sides": "{ path = [[0, 0, 0.1], [900, 0], [900, 500, 0.2], [0, 500]] }",
    "re-entrant arc": "{ path = [[0, 0], [900, 0], [900, 500], [600, 500, -0.6], [300, 500], [0, 500]] }",
}
for name, outline in OUTLINES.items():
    odd = job_of(ODD.format(code=name.replace(" ", "-"), outline=outline))
    GLASS[name] = odd.panes[0].glass_outline


def nodes_of(data: bytes) -> list[tuple[float, float, float]]:
    """Vertices with their bulges of the one polyline, as they stand in the file."""
    document = ezdxf.read(io.StringIO(data.decode("ascii")))
    (line,) = document.modelspace()
    assert line.is_closed
    if line.dxftype() == "LWPOLYLINE":
        return [(x, y, bulge) for x, y, _, _, bulge in line.get_points()]
    return [(vertex.dxf.location.x, vertex.dxf.location.y, vertex.dxf.bulge) for vertex in line.vertices]


@pytest.mark.parametrize("version", ["R12", "R2010"])
@pytest.mark.parametrize("name", GLASS)
def test_one_closed_contour_with_its_true_arcs(name: str, version: str) -> None:
    glass: Outline = GLASS[name]
    data = cut_dxf(glass, version=version)
    document = ezdxf.read(io.StringIO(data.decode("utf-8")))
    assert document.dxfversion == {"R12": "AC1009", "R2010": "AC1024"}[version]
    assert document.header["$INSUNITS"] == 4
    auditor = document.audit()
    assert not auditor.errors
    assert not auditor.fixes
    (entity,) = document.modelspace()
    assert entity.dxf.layer == LAYER
    if entity.dxftype() == "CIRCLE":
        assert math.pi * entity.dxf.radius**2 == pytest.approx(area(glass), rel=1e-12)
        assert bounding_box(glass).middle == pytest.approx((entity.dxf.center.x, entity.dxf.center.y))
    else:
        found = nodes_of(data)
        assert len(found) == len(glass.vertices)
        for (x, y, bulge), vertex in zip(found, glass.vertices, strict=True):
            assert (x, y) == pytest.approx((vertex.x, vertex.y), abs=1e-9)
            assert bulge == pytest.approx(vertex.bulge, abs=1e-12)
        path = make_path(entity)
        flat = shapely.Polygon([(p.x, p.y) for p in path.flattening(0.001, segments=8)])
        assert flat.area == pytest.approx(area(glass), rel=1e-4)
        assert flat.exterior.length == pytest.approx(perimeter(glass), rel=1e-4)
    box = bbox.extents([entity], fast=False)
    own = bounding_box(glass)
    assert (box.extmin.x, box.extmin.y, box.extmax.x, box.extmax.y) == pytest.approx(tuple(own), abs=1e-3)


@pytest.mark.parametrize("version", ["R12", "R2010"])
@pytest.mark.parametrize("name", ["SW-02", "SW-03", "SW-08", "slot"])
def test_gdal_reads_one_feature_on_the_layer(name: str, version: str, tmp_path: Path) -> None:
    path = tmp_path / "glass.dxf"
    path.write_bytes(cut_dxf(GLASS[name], version=version))
    meta, _, shapes, fields = pyogrio.raw.read(path, layer="entities", columns=["Layer"])
    assert list(meta["fields"]) == ["Layer"]
    assert list(fields[0]) == [LAYER]
    (shape,) = shapely.from_wkb(shapes)
    # it cuts arcs into chords of 4 degrees, which take 0.08 % of a circle's area
    assert shapely.Polygon(shape.coords).area == pytest.approx(area(GLASS[name]), rel=1e-3)


def test_only_the_entities_of_the_subset_and_no_text() -> None:
    for glass in GLASS.values():
        lines = cut_dxf(glass).decode("ascii").split("\n")
        codes = [int(code) for code in lines[:-1:2]]
        entities = [value for code, value in zip(codes, lines[1::2], strict=True) if code == 0]
        known = {"SECTION", "ENDSEC", "TABLE", "LTYPE", "LAYER", "ENDTAB", "POLYLINE", "VERTEX", "SEQEND", "CIRCLE", "EOF"}
        assert set(entities) <= known
        assert entities.count("POLYLINE") + entities.count("CIRCLE") == 1
        assert len(lines) < 2 * (80 + 6 * len(glass.vertices))


def test_arcs_are_not_cut_into_chords() -> None:
    slot = GLASS["slot"]
    assert sum(1 for part in segments(slot) if type(part).__name__ == "Arc") >= 2
    assert sum(bulge != 0.0 for *_, bulge in nodes_of(cut_dxf(slot))) == sum(vertex.bulge != 0.0 for vertex in slot.vertices)


def test_the_same_bytes_and_no_other_version() -> None:
    for version in ("R12", "R2010"):
        assert cut_dxf(GLASS["SW-02"], version=version) == cut_dxf(GLASS["SW-02"], version=version)
    with pytest.raises(ValueError, match="allowed: R12, R2010"):
        cut_dxf(GLASS["SW-02"], version="R14")
