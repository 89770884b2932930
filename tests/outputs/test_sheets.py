"""Whole sheets: every sample pane and random jobs, as a checker looks at them, and read back by independent readers."""

from __future__ import annotations

import ast
import io
import itertools
import os
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import ezdxf
import pytest
from ezdxf import recover
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import read_job
from geometry.job.reading import job_of
from geometry.outline import area, perimeter
from outputs.files.dxf import dxf_bytes
from outputs.files.svg import svg_bytes
from outputs.sheet.boxes import Box, box_of_text, overlap, texts_of
from outputs.sheet.entities import Dimension, Insert, Sheet, View
from outputs.sheet.paper import Paper
from outputs.sheets.detail_sheet import detail_sheet

if TYPE_CHECKING:
    from geometry.detail.parts import Detail

ROOT = Path(__file__).parents[2]
JOB = read_job(ROOT / "samples" / "sallow-wren.toml")
CODES = [pane.code for pane in JOB.panes]
PLATED = ("SW-06", "SW-08")  # with the diagram of the tension in the bead


def made(code: str) -> tuple[Detail, Sheet]:
    pane = next(pane for pane in JOB.panes if pane.code == code)
    detail = build_detail(JOB, pane)
    return detail, detail_sheet(JOB, pane, detail, check_pane(JOB, pane, detail, plate=code in PLATED))


@pytest.fixture(scope="module", params=CODES)
def drawn(request: pytest.FixtureRequest) -> tuple[Detail, Sheet]:
    return made(request.param)


def on_paper(box: Box, view: View) -> Box:
    x, y = view.paper
    left, bottom = view.window[:2]
    k = view.scale
    return x + (box[0] - left) * k, y + (box[1] - bottom) * k, x + (box[2] - left) * k, y + (box[3] - bottom) * k


def lettered(sheet: Sheet) -> list[tuple[str, Box]]:
    found = [(text.string, box_of_text(text, 1.0)) for text in texts_of(sheet.marks)]
    for view in sheet.views:
        found += [(text.string, on_paper(box_of_text(text, view.scale), view)) for text in texts_of(view.marks)]
    return found


def assert_clear(sheet: Sheet) -> None:
    texts = lettered(sheet)
    width, height = sheet.width, sheet.height
    for string, box in texts:
        assert 0 < box[0] < box[2] < width, string
        assert 0 < box[1] < box[3] < height, string
    # Half a tenth of a millimetre: cell lines and rows are set to the tenth.
    clashes = [
        (one, other)
        for (one, a), (other, b) in itertools.combinations(texts, 2)
        if overlap((a[0] + 0.05, a[1] + 0.05, a[2] - 0.05, a[3] - 0.05), b)
    ]
    assert clashes == []
    left, bottom, right, top = Paper(sheet.size).space
    for view in sheet.views:
        x, y = view.paper
        wide, high = (view.window[2] - view.window[0]) * view.scale, (view.window[3] - view.window[1]) * view.scale
        assert left <= x
        assert bottom <= y
        assert x + wide <= right
        assert y + high <= top


def test_no_text_touches_another_and_nothing_lies_outside(drawn: tuple[Detail, Sheet]) -> None:
    assert_clear(drawn[1])


def test_every_section_letter_on_the_plan_has_its_section(drawn: tuple[Detail, Sheet]) -> None:
    detail, sheet = drawn
    plan = sheet.views[0]
    letters = [text.string for text in texts_of(plan.marks) if len(text.string) == 1 and text.string in "ABCD"]
    assert sorted(letters) == sorted(2 * [section.letter for section in detail.sections])
    names = {view.name for view in sheet.views}
    assert {f"SECTION {section.letter}" for section in detail.sections} <= names


def test_printed_dimension_is_the_geometry(drawn: tuple[Detail, Sheet]) -> None:
    for view in drawn[1].views:
        for mark in view.marks:
            if isinstance(mark, Dimension):
                figure = mark.text.split("±")[0].strip(" ØR").replace(",", ".").replace("−", "-")
                if view.name == "DETAIL Z":
                    figure = figure.lstrip("-")
                assert abs(float(figure)) == pytest.approx(abs(mark.measured), abs=0.00501)


def test_parts_are_counted_from_the_inserts(drawn: tuple[Detail, Sheet]) -> None:
    detail, sheet = drawn
    inserts = [mark for mark in sheet.views[0].marks if isinstance(mark, Insert)]
    assert len(inserts) == len(detail.chocks) + len(detail.spacers)
    texts = [text.string for text in texts_of(sheet.marks)]
    quantities = [before for before, string in itertools.pairwise(texts) if string == "spacer block" and before.isdigit()]
    assert quantities == [str(len(detail.spacers))]


def test_dxf_read_back_by_ezdxf(drawn: tuple[Detail, Sheet]) -> None:
    detail, sheet = drawn
    doc, auditor = recover.read(io.BytesIO(dxf_bytes(sheet)))
    assert not auditor.errors
    assert not auditor.fixes
    panes = doc.modelspace().query('LWPOLYLINE[layer=="GLASS"]')
    assert len(panes) == 1
    glass = panes[0]
    assert glass.closed
    from geometry.outline import Outline, Vertex

    read = Outline(tuple(Vertex(x, y, bulge) for x, y, bulge in glass.get_points("xyb")))
    assert area(read) == pytest.approx(detail.area, rel=1e-9)
    assert perimeter(read) == pytest.approx(detail.perimeter, rel=1e-9)
    assert doc.header["$INSUNITS"] == 4
    inserts = doc.modelspace().query('INSERT[layer=="SPACERS"]')
    assert len(inserts) == len(detail.spacers)
    for viewport in doc.layouts.get(doc.layouts.names_in_taborder()[1]).query("VIEWPORT"):
        if viewport.dxf.id > 1:
            scale = viewport.dxf.height / viewport.dxf.view_height
            assert any(abs(scale - view.scale) < 1e-9 for view in sheet.views)
    measured = {round(d.get_measurement(), 3) for d in doc.modelspace().query("DIMENSION") if d.dimtype in (0, 1)}
    assert round(detail.uncured_bead.notch_width, 3) in measured


def test_dxf_read_back_by_gdal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    pyogrio = pytest.importorskip("pyogrio")
    monkeypatch.setenv("OGR_ARC_STEPSIZE", "0.5")
    detail, sheet = made("SW-01")
    file = tmp_path / "sheet.dxf"
    file.write_bytes(dxf_bytes(sheet))
    _, _, shapes, fields = pyogrio.raw.read(file)
    import shapely

    layers = list(fields[0])
    panes = [shapely.from_wkb(shape) for shape, layer in zip(shapes, layers, strict=True) if layer == "GLASS"]
    assert len(panes) == 1
    assert shapely.Polygon(panes[0].coords).area == pytest.approx(detail.area, rel=1e-4)


def test_same_bytes_in_two_processes_with_different_hash_seeds() -> None:
    script = (
        "import hashlib, sys; sys.path.insert(0, '.')\n"
        "from geometry.job import read_job\nfrom geometry.detail.build import build_detail\n"
        "from outputs.sheets.detail_sheet import detail_sheet\nfrom outputs.files.dxf import dxf_bytes\nfrom outputs.files.svg import svg_bytes\n"
        "job = read_job('samples/sallow-wren.toml'); pane = job.panes[7]\nsheet = detail_sheet(job, pane, build_detail(job, pane))\n"
        "print(hashlib.sha256(dxf_bytes(sheet)).hexdigest(), hashlib.sha256(svg_bytes(sheet)).hexdigest())\n"
    )
    found = [
        subprocess.run(
            [sys.executable, "-c", script],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "77")
    ]
    assert found[0] == found[1]


def test_svg_is_true_to_size() -> None:
    resvg_py = pytest.importorskip("resvg_py")
    from outputs.sheet.lettering import face_file

    _, sheet = made("SW-03")
    picture = bytes(
        resvg_py.svg_to_bytes(
            svg_string=svg_bytes(sheet).decode(), dpi=254, background="#ffffff", skip_system_fonts=True, font_files=[face_file()]
        )
    )
    from PIL import Image

    image = Image.open(io.BytesIO(picture)).convert("L")
    assert image.size == (round(sheet.width * 10), round(sheet.height * 10))
    left, bottom, _, _ = Paper(sheet.size).space
    row = round((sheet.height - bottom - 5.0 - 1.0) * 10)  # through the end strokes of the 100 mm bar, above its line
    dark = [x for x in range(round((left + 2) * 10), round((left + 110) * 10)) if image.getpixel((x, row)) < 128]
    runs = [x for x in dark if x - 1 not in dark]
    assert runs[-1] - runs[0] == pytest.approx(1000, abs=1)


def test_layer_names_of_the_office() -> None:
    text = (ROOT / "samples" / "minimal.toml").read_text() + '\n[layers]\nGLASS = "G-PANE"\n'
    job = job_of(text)
    sheet = detail_sheet(job, job.panes[0], build_detail(job, job.panes[0]))
    doc = ezdxf.read(io.StringIO(dxf_bytes(sheet).decode()))
    assert len(doc.modelspace().query('LWPOLYLINE[layer=="G-PANE"]')) == 1
    assert b'id="G-PANE"' in svg_bytes(sheet)


def test_outputs_import_geometry_and_never_the_reverse() -> None:
    for file in (ROOT / "geometry").rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            names = (
                [alias.name for alias in node.names]
                if isinstance(node, ast.Import)
                else [node.module or ""]
                if isinstance(node, ast.ImportFrom)
                else []
            )
            assert not any(name.split(".")[0] == "outputs" for name in names), file


OUTLINES = st.one_of(
    st.tuples(st.integers(200, 2600), st.integers(200, 1200), st.integers(0, 90)).map(
        lambda t: f"{{ rectangle = [{t[0]}, {t[1]}], radius = {t[2]} }}"
    ),
    st.integers(220, 900).map(lambda d: f"{{ circle = {d} }}"),
    st.tuples(st.integers(300, 1200), st.integers(250, 600)).map(lambda t: f"{{ ellipse = [{t[0]}, {t[1]}] }}"),
    st.tuples(st.integers(400, 1500), st.integers(300, 900), st.integers(0, 150), st.integers(5, 60)).map(
        lambda t: f"{{ polygon = [[0, 0], [{t[0]}, {t[2]}], [{t[0] - 60}, {t[1] + t[2]}], [40, {t[1]}]], radius = {t[3]} }}"
    ),
)


@settings(max_examples=50, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(OUTLINES, st.sampled_from([6, 8, 10, 12, 19]), st.sampled_from([0, 12, -10, 90]))
def test_fifty_random_jobs(outline: str, thickness: int, rake: int) -> None:
    job = job_of(
        f'[[pane]]\ncode = "X"\nframe = "aluminium"\nrake = {rake}\nglass = {{ plies = [{thickness}] }}\noutline = {outline}\npressure = {{ outward = 2 }}\n'
    )
    detail = build_detail(job, job.panes[0])
    sheet = detail_sheet(job, job.panes[0], detail, check_pane(job, job.panes[0], detail))
    assert_clear(sheet)
    svg_bytes(sheet)
