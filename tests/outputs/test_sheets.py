"""Whole sheets: every sample pane and random jobs, as a checker looks at them, and read back by independent readers."""

from __future__ import annotations

import ast
import io
import itertools
import math
import os
import re
import subprocess
import sys
from collections import Counter
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
from geometry.outline import area, bounding_box, perimeter
from outputs.files.dxf import dxf_bytes
from outputs.files.svg import svg_bytes
from outputs.sheet.boxes import Box, box_of_text, overlap, texts_of
from outputs.sheet.drafting import number
from outputs.sheet.entities import Dimension, Insert, Sheet, View
from outputs.sheet.paper import Paper
from outputs.sheets.contents import Contents
from outputs.sheets.detail_sheet import detail_of

if TYPE_CHECKING:
    from geometry.detail.parts import Detail

ROOT = Path(__file__).parents[2]
JOB = read_job(ROOT / "samples" / "sallow-wren.toml")
CODES = [pane.code for pane in JOB.panes]
PLATED = ("SW-06", "SW-08")  # with the diagram of the tension in the bead


def made(code: str) -> tuple[Detail, Sheet]:
    pane = next(pane for pane in JOB.panes if pane.code == code)
    detail = build_detail(JOB, pane)
    return detail, detail_of(Contents(JOB, pane, detail, check_pane(JOB, pane, detail, plate=code in PLATED)))


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


def test_every_section_on_the_sheet_is_cut_on_the_plan_and_none_else(drawn: tuple[Detail, Sheet]) -> None:
    """Both ends of a plane have its letter, or the sheet itself says which has no room; no letter without its section."""
    detail, sheet = drawn
    plan = sheet.views[0]
    letters = [text.string for text in texts_of(plan.marks) if text.layer == "SECTION_MARKS"]
    told = [view.name[-1] for view in sheet.views if view.name != "PLAN"]
    sections = [view.name[-1] for view in sheet.views if view.name.startswith("SECTION ")]
    assert len(sections) >= 2
    notes = " ".join(text.string for text in texts_of(sheet.marks))
    lost = re.findall(r"letter (\w) of a cutting plane", notes[notes.find("No room on the views") :])
    assert sorted([*letters, *lost]) == sorted([*told, *sections])  # an enlarged corner has its letter once
    assert set(sections) <= set(letters)
    assert (
        not lost or bounding_box(detail.curves.frit_inner).height * plan.scale < 35.0
    )  # a plane has room in any but a narrow pane


def figure_of(words: str) -> tuple[float, float | None]:
    """The figure of a printed size and the tolerance behind it."""
    figure, _, tolerance = words.strip("(ØR").partition(" ±")
    numbers = [float(each.split(" ")[0].rstrip(")").replace(",", ".")) for each in (figure, tolerance) if each]
    return numbers[0], numbers[1] if len(numbers) == 2 else None


def grain(words: str, view: str) -> float:
    """How finely a size is printed (own default): in halves from 1 mm of tolerance on, in tenths from 0,1 mm on and without one.

    Running sizes of blocks, figures alone on the plan, are in halves: they are set out with a tape. The width of the print is in tenths
    whatever its tolerance, as the supplier's sheet has it: two sheets of one pane do not tell two widths.
    """
    tolerance = figure_of(words)[1]
    if words.endswith((" frit", " frit with fade")):
        return 0.1
    if tolerance is None:
        return 0.5 if view == "PLAN" and " " not in words else 0.1
    return 0.5 if tolerance >= 1.0 else 0.1 if tolerance >= 0.1 else 0.01


def test_printed_dimension_is_the_geometry(drawn: tuple[Detail, Sheet]) -> None:
    """A figure is the length it stands on, rounded as finely as it deserves; limits are that length with the tolerance of the joint, the least
    rounded up and the greatest down to a tenth.
    """
    detail, sheet = drawn
    for view in sheet.views:
        for mark in view.marks:
            if isinstance(mark, Dimension):
                away = math.radians(mark.angle)
                (x1, y1), (x2, y2) = mark.first, mark.second
                between = abs((x2 - x1) * math.cos(away) + (y2 - y1) * math.sin(away))
                assert between == pytest.approx(mark.measured, abs=1e-6), mark.text
                if " to " in mark.text:
                    low, high = (float(each.replace(",", ".")) for each in mark.text.split(" to "))
                    off = detail.sizes.joint_width.tolerance
                    assert off is not None
                    assert -1e-6 < low - (mark.measured - off) < 0.1
                    assert -1e-6 < (mark.measured + off) - high < 0.1
                    assert all(10 * each == pytest.approx(round(10 * each)) for each in (low, high))
                    continue
                figure, fine = figure_of(mark.text)[0], grain(mark.text, view.name)
                assert abs(figure - mark.measured) <= fine / 2 + 1e-6, (view.name, mark.text, mark.measured)
                assert figure / fine == pytest.approx(round(figure / fine), abs=1e-6), mark.text


def test_parts_are_counted_from_the_inserts(drawn: tuple[Detail, Sheet]) -> None:
    detail, sheet = drawn
    inserts = [mark for mark in sheet.views[0].marks if isinstance(mark, Insert)]
    assert len(inserts) == len(detail.chocks) + len(detail.spacers)
    drawn_of = Counter(each.value for mark in inserts for each in mark.attributes if each.tag == "KIND")
    drawn_of["spacer"] = drawn_of.pop("spacer block")
    texts = [text.string for text in texts_of(sheet.marks)]
    listed = {string: int(before) for before, string in itertools.pairwise(texts) if string in drawn_of and before.isdigit()}
    assert listed == dict(drawn_of)


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
    assert_sizes_of(detail, [d.get_measurement() for d in doc.modelspace().query("DIMENSION") if d.dimtype in (0, 1)])


def assert_sizes_of(detail: Detail, measured: list[float]) -> None:
    """Every size of bead, print, landing and recess of the typical section is among those that a reader measures, to 0,001 mm."""
    crossing, sizes = detail.sections[0].crossing, detail.sizes
    for size in (
        sizes.bond_width.value,
        sizes.bond_thickness.value,
        sizes.landing.value,
        sizes.recess_depth.value,
        detail.glass.thickness,
        detail.sections[0].joint_width,
        crossing.frit_inner - crossing.glass_edge,
        crossing.bead_inner - crossing.glass_edge,
    ):
        assert any(abs(each - size) <= 0.001 for each in measured), size


def test_running_sizes_read_from_the_dxf_are_the_places_of_the_blocks(drawn: tuple[Detail, Sheet]) -> None:
    """From the zero of each row to a block that is inserted there, along the row: both read by ezdxf, to 0,001 mm."""
    detail, sheet = drawn
    model = ezdxf.read(io.StringIO(dxf_bytes(sheet).decode())).modelspace()
    places = [insert.dxf.insert for insert in model.query('INSERT[layer=="SPACERS"]')]
    places += [insert.dxf.insert for insert in model.query('INSERT[layer=="CHOCKS"]')]
    right = sheet.views[0].window[2]
    plan = [d for d in model.query("DIMENSION") if d.dimtype in (0, 1) and d.dxf.defpoint2.x <= right]
    running = [d for d in plan if not re.search("[a-z]", d.dxf.text)]  # overall sizes have words
    for each in running:
        along = math.radians(each.dxf.angle)
        zero = each.dxf.defpoint2
        reached = [abs((p.x - zero.x) * math.cos(along) + (p.y - zero.y) * math.sin(along)) for p in places]
        assert min(abs(one - each.get_measurement()) for one in reached) <= 0.001, each.dxf.text
        printed = (
            each.dxf.text if each.dxf.text not in ("", "<>") else number(each.get_measurement())
        )  # the seat prints it itself
        assert float(printed.replace(",", ".")) == pytest.approx(each.get_measurement(), abs=0.25 + 1e-6)
    straight = [name for name, _, _ in detail.edge_middles if any(block.edge == name for block in detail.spacers)]
    assert bool(running) is bool(straight)


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
        "from outputs.sheets.contents import Contents\nfrom outputs.sheets.detail_sheet import detail_of\nfrom outputs.files.dxf import dxf_bytes\nfrom outputs.files.svg import svg_bytes\n"
        "job = read_job('samples/sallow-wren.toml'); pane = job.panes[7]\nsheet = detail_of(Contents(job, pane, build_detail(job, pane)))\n"
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
    level = [image.getpixel((x, 600)) for x in range(image.width)]
    upright = [image.getpixel((800, y)) for y in range(image.height)]
    # ISO 5457: 20 mm of margin at the left, 10 at the other sides; the middles of the strokes of the frame, ten dots for a mm
    for strip, first, last in ((level, 200, image.width - 100), (upright, 100, image.height - 100)):
        ends = []
        for place in (first, last):
            dark = [at for at in range(place - 12, place + 12) if strip[at] < 128]
            assert 5 <= len(dark) <= 8  # 0,7 mm
            ends.append((dark[0] + dark[-1] + 1) / 2)
        assert ends == pytest.approx([first, last], abs=1)


def test_layer_names_of_the_office() -> None:
    text = (ROOT / "samples" / "minimal.toml").read_text() + '\n[layers]\nGLASS = "G-PANE"\n'
    job = job_of(text)
    sheet = detail_of(Contents(job, job.panes[0], build_detail(job, job.panes[0])))
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
    sheet = detail_of(Contents(job, job.panes[0], detail, check_pane(job, job.panes[0], detail)))
    assert_clear(sheet)
    svg_bytes(sheet)
