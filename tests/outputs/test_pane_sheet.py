"""The pane sheet: true sizes, widths measured by another library, real ink that keeps clear, and nothing that is not the supplier's."""

from __future__ import annotations

import io
import math
import re
import runpy
import subprocess
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import ezdxf
import pypdf
import pytest
import shapely

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import Job, Pane, read_job
from geometry.job.reading import job_of
from geometry.outline import bounding_box
from geometry.outline.regions import to_polygon
from geometry.sizing.tolerances import PaneTolerances
from geometry.workings.frit_places import COUNT, frit_places
from outputs.documents import document_files
from outputs.files.carried import carried_by
from outputs.files.dxf import dxf_bytes
from outputs.files.svg import svg_bytes
from outputs.sheet.boxes import box_of_text, grown, overlap, texts_of
from outputs.sheet.entities import Dimension, Fill, Hatch, Mark, Sheet, Text, View
from outputs.sheet.entities import Path as Run
from outputs.sheet.keep_clear import crosses, facets, straights_of
from outputs.sheet.lettering import text_box
from outputs.sheet.outcomes import Fate
from outputs.sheets.contents import Contents
from outputs.sheets.pane_sheet import pane_sheet
from outputs.sheets.pane_words import supplier_flags

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

    from geometry.detail.parts import Detail

ROOT = Path(__file__).parents[2]
random_job = runpy.run_path(str(ROOT / "tests" / "random_panes.py"))["random_job"]
SAMPLES = sorted(path for path in (ROOT / "samples").glob("*.toml") if path.name not in ("office.toml", "schedule.toml"))
FRAME = 'frame = "aluminium"\nglass = { plies = [10] }\n'
ODD = {
    "L": "{ polygon = [[0, 0], [900, 0], [900, 500], [500, 500], [500, 700], [0, 700]], radius = 20 }",
    "TRIANGLE": "{ polygon = [[0, 0], [700, 0], [250, 400]], radius = 12 }",
    "KITE": "{ polygon = [[400, 0], [800, 300], [400, 900], [0, 300]], radius = 30 }",
    "ROUND": "{ circle = 180 }",
    "STRIP": "{ rectangle = [3000, 250], radius = 20 }",
    "OVAL": "{ ellipse = [500, 900] }",
    "PATH": "{ path = [[0, 0, 0.1], [900, 0], [900, 500, 0.2], [0, 500]] }",
    "NOTCH": "{ polygon = [[0, 0], [1487, 0], [1487, 465], [1001, 465], [1001, 667], [0, 667]], radius = 20 }",
    "SLOT": "{ path = [[200, 0], [800, 0, 1], [800, 300], [200, 300, 1]] }",
    "SEVEN": "{ polygon = [[0, 0], [900, -40], [1200, 200], [1250, 600], [800, 900], [200, 820], [-100, 400]], radius = 30 }",
}
TEXT = "".join(f'[[pane]]\ncode = "{code}"\n{FRAME}outline = {outline}\nfrit = {{ fade = 6 }}\n' for code, outline in ODD.items())
TEXT += (
    '[[pane]]\ncode = "THICK"\nframe = "grp"\nrake = 90\nglass = { plies = [12, 12, 12, 12], interlayers = [1.52, 1.52, 3.04] }\n'
)
TEXT += "outline = { rectangle = [900, 700], radius = 40 }\n"
TEXT += '[[pane]]\ncode = "OUTER"\nframe = "grp"\nglass = { plies = [6, 6], interlayers = [0.76], printed_face = 1 }\n'
TEXT += "frit = { start = 0, width = 40 }\noutline = { rectangle = [400, 500], radius = 25 }\n"
JOBS: dict[str, Job] = {path.stem: read_job(path) for path in SAMPLES} | {"odd": job_of(TEXT)}
PANES = [(name, pane.code) for name, job in JOBS.items() for pane in job.panes]


@cache
def contents_of(name: str, code: str) -> Contents:
    job = JOBS[name]
    pane = next(pane for pane in job.panes if pane.code == code)
    detail = build_detail(job, pane)
    return Contents(job, pane, detail, check_pane(job, pane, detail, plate=False))


@cache
def sheet_of(name: str, code: str) -> Sheet:
    return pane_sheet(contents_of(name, code))


every = pytest.mark.parametrize(("name", "code"), PANES)


def paper(view: View, x: float, y: float) -> tuple[float, float]:
    (left, bottom), (at_x, at_y), k = view.window[:2], view.paper, view.scale
    return at_x + (x - left) * k, at_y + (y - bottom) * k


def strings(sheet: Sheet) -> list[Text]:
    found: list[Text] = []
    for marks in (sheet.marks, *(view.marks for view in sheet.views)):
        for mark in marks:
            found += [mark] if isinstance(mark, Text) else []
            found += [part for part in mark.parts if isinstance(part, Text)] if isinstance(mark, Dimension) else []
    return found


def ink(sheet: Sheet) -> tuple[list[tuple[Text, BaseGeometry]], list[BaseGeometry]]:
    """Every text as the box of its ink and every stroke, both on paper, mm; tints and the title block's own lines are none."""
    texts: list[tuple[Text, BaseGeometry]] = []
    strokes: list[BaseGeometry] = []

    def take(mark: Mark, view: View | None) -> None:
        k = 1.0 if view is None else view.scale
        if isinstance(mark, Text):
            corners = text_box(mark, k)
            texts.append((mark, shapely.Polygon([place if view is None else paper(view, *place) for place in corners])))
        elif isinstance(mark, Dimension):
            for part in mark.parts:
                take(part, view)
        elif isinstance(mark, Run | Fill) and mark.layer not in ("TITLE", "FLAGS"):
            for a, b, c, d in straights_of((mark,)):
                ends = ((a, b), (c, d)) if view is None else (paper(view, a, b), paper(view, c, d))
                strokes.append(shapely.LineString(ends))

    for mark in sheet.marks:
        take(mark, None)
    for view in sheet.views:
        for mark in view.marks:
            take(mark, view)
    return texts, strokes


def crowded(sheet: Sheet) -> list[str]:
    """Lettering nearer than 1,5 to other lettering or than 0,7 to a line; a flag's own figure stands within its triangle, and no line runs
    through it.
    """
    texts, strokes = ink(sheet)
    figures = shapely.STRtree([box for text, box in texts if text.layer in ("FLAGS", "FLAG_FIGURES")])
    found = [
        f"a line runs through the figure of a flag: {strokes[line]}"
        for line, _ in figures.query(strokes, predicate="intersects").T
    ]
    texts = [(text, box) for text, box in texts if text.layer not in ("TITLE", "FLAGS", "FLAG_FIGURES")]
    tree = shapely.STRtree([box for _, box in texts])
    for one, other in tree.query([box for _, box in texts], predicate="dwithin", distance=1.49).T:
        if one < other:
            (a, first), (b, second) = texts[one], texts[other]
            same_note = a.x == b.x and abs(abs(a.y - b.y) - 4.0) < 0.3 and a.align == b.align
            found += [] if same_note else [f"{a.string!r} and {b.string!r} are {first.distance(second):.2f} apart"]
    for index, line in tree.query(strokes, predicate="dwithin", distance=0.69).T[:, ::-1]:
        text, box = texts[index]
        found.append(f"{text.string!r} is {box.distance(strokes[line]):.2f} from a line {strokes[line]}")
    return found


@every
def test_lettering_keeps_clear_of_lettering_and_of_lines(name: str, code: str) -> None:
    sheet = sheet_of(name, code)
    for text, box in ink(sheet)[0]:
        if text.layer not in ("TITLE", "FLAGS", "FLAG_FIGURES"):
            assert text.height >= 2.5, text.string
            left, bottom, right, top = box.bounds
            assert left > 20, text.string
            assert bottom > 10, text.string
            assert right < sheet.width - 10, text.string
            assert top < sheet.height - 10, text.string
    assert crowded(sheet) == []


# of a hundred panes: those on which a figure of a diagonal stood 0,3 from the print, an angle's arc ran through a number, the radius of an
# oval or a flag found no room; and one of every form beside them
RANDOM = [100006, 100036, 100053, 100067, 100080, *range(100011, 100019)]


@pytest.mark.parametrize("seed", RANDOM)
def test_random_panes_keep_clear_and_lose_nothing(seed: int) -> None:
    job = job_of(random_job(seed)[1])
    (pane,) = job.panes
    detail = build_detail(job, pane)
    sheet = pane_sheet(Contents(job, pane, detail, check_pane(job, pane, detail, plate=False)))
    assert crowded(sheet) == []
    assert [
        each.what for _, each in sheet.outcomes if each.fate is Fate.LEFT_OUT or (each.what.startswith("flag ") and each.reason)
    ] == []


@every
def test_it_is_proven_and_the_same_twice(name: str, code: str) -> None:
    sheet = sheet_of(name, code)
    assert svg_bytes(sheet) == svg_bytes(pane_sheet(contents_of(name, code)))
    document = ezdxf.read(io.StringIO(dxf_bytes(sheet).decode("utf-8")))
    assert not document.audit().errors
    model = document.modelspace()
    office = dict(JOBS[name].layers)
    loops = [entity for entity in model if entity.dxf.layer == office.get("GLASS", "GLASS")]
    assert [entity.dxftype() for entity in loops] == ["LWPOLYLINE"]
    glass = contents_of(name, code).detail.curves.glass
    assert len(loops[0]) == len(glass.vertices)
    used = {entity.dxf.layer for layout in document.layouts for entity in layout} | {"VIEWPORTS"}
    own = {layer.dxf.name for layer in document.layers} - {"0", "Defpoints"}
    assert own <= used | {office.get("VIEWPORTS", "VIEWPORTS")}


@every
def test_paper_and_everything_planned(name: str, code: str) -> None:
    sheet = sheet_of(name, code)
    contents = contents_of(name, code)
    corners = len(contents.detail.corners)
    if corners >= 7:
        assert (sheet.size, sheet.width) == ("A3", 420.0)
    elif corners == 4:
        assert (sheet.size, sheet.width, sheet.height) == ("A4", 210.0, 297.0)
    lost = [outcome.what for _, outcome in sheet.outcomes if outcome.fate is Fate.LEFT_OUT]
    assert lost == []
    titles = {
        text.string.split(" ")[0]: (text.x, text.y) for text in sheet.marks if isinstance(text, Text) and text.height == 3.5
    }
    column = sheet.width - 190.0
    assert titles["PANE"] == (25.0, 280.0)
    assert titles["Edge"] == (column + 5.0, 159.5)
    assert titles["INSIDE"] == (column + 100.0, 159.5)
    assert titles["Glass"] == (column + 5.0, 117.9)


def test_sizes_of_a_pane_as_made_are_measured_ones() -> None:
    """The pane with deviations of its sizes put at 0: none stands at them, and the sheet says why."""
    told = " ".join(text.string for text in strings(sheet_of("sallow-wren", "SW-09")))
    assert "±0, " not in told
    assert "sizes as made, thickness" in told
    assert "; as made, measured" in told
    assert "as made, measured" not in " ".join(text.string for text in strings(sheet_of("sallow-wren", "SW-02")))


def figure(text: str) -> float:
    return float(re.sub(r"[^\d,]", "", text.split("±")[0]).replace(",", "."))


@every
def test_every_size_is_the_glass(name: str, code: str) -> None:
    """Rounded to half a millimetre from a tolerance of 1 mm on, else to a tenth; its points lie on corners or extremes of the glass."""
    contents = contents_of(name, code)
    plan = sheet_of(name, code).views[0]
    step = 0.25 if contents.detail.pane_tolerance >= 1.0 else 0.05
    sizes = [mark for mark in plan.marks if isinstance(mark, Dimension)]
    assert len(sizes) >= 1
    for size in sizes:
        assert figure(size.text) == pytest.approx(size.measured, abs=step + 1e-6)


def test_the_sizes_of_a_raked_quadrilateral() -> None:
    """The pane with corners (0, 0), (1300, 120), (1120, 870), (60, 820): sides, diagonals and angles by analytic geometry."""
    places = [(0, 0), (1300, 120), (1120, 870), (60, 820)]
    sides = [math.dist(a, b) for a, b in zip(places, places[1:] + places[:1], strict=True)]
    across = [math.dist(places[0], places[2]), math.dist(places[1], places[3])]
    plan = sheet_of("sallow-wren", "SW-02").views[0]
    measured = sorted(mark.measured for mark in plan.marks if isinstance(mark, Dimension))
    assert measured == pytest.approx(sorted((*sides, *across)), abs=1e-6)
    told = {text.string for text in strings(sheet_of("sallow-wren", "SW-02"))}
    for index, (x, y) in enumerate(places):
        (ax, ay), (bx, by) = places[index - 1], places[(index + 1) % 4]
        angle = abs(math.degrees(math.atan2(ay - y, ax - x) - math.atan2(by - y, bx - x))) % 360
        assert f"{min(angle, 360 - angle):.1f}°".replace(".", ",") in told
    assert {"4 × R40", "4 × R16 print", "1305,5 ±2", "771,5 ±2", "1061 ±2", "822 ±2", "print 24 ±2, every side"} <= told


@pytest.mark.parametrize("code", ["SW-01", "SW-02", "SW-06"])
def test_arrowheads_of_radii_keep_clear_of_diagonals_and_of_corners(code: str) -> None:
    """The tip of a radius of the glass lies on its arc, no nearer to a diagonal or to a sharp corner than an arrowhead is wide."""
    contents = contents_of("sallow-wren", code)
    plan = sheet_of("sallow-wren", code).views[0]
    corners = contents.detail.corners
    places = [shapely.Point(corner.theoretical) for corner in corners]
    across = [shapely.LineString([a, b]) for index, a in enumerate(places) for b in places[index + 2 :]]
    edge = to_polygon(contents.detail.curves.glass).exterior
    shelves = [text for text in plan.marks if isinstance(text, Text) and re.fullmatch(r"(\d × )?R[\d,]+", text.string)]
    assert shelves
    for text in shelves:
        leader = min(
            (mark for mark in plan.marks if isinstance(mark, Run) and mark.layer == "DIMENSIONS" and len(mark.nodes) == 3),
            key=lambda mark: math.dist(mark.nodes[1][:2], (text.x, text.y)),
        )
        tip = shapely.Point(leader.nodes[0][:2])
        assert edge.distance(tip) < 2e-2
        assert min(tip.distance(line) for line in across) * plan.scale > 0.8
        assert min(tip.distance(place) for place in places) * plan.scale > 1.5


@every
def test_every_face_has_its_number_on_a_line_from_it(name: str, code: str) -> None:
    """Numbered from outside in (common practice, no source); numbers stand one under the other in that order."""
    detail = contents_of(name, code).detail
    edge = sheet_of(name, code).views[1]
    heights, level = [], detail.glass.thickness
    for ply in detail.glass.plies:
        heights += [level, level - ply.thickness] if ply.material == "glass" else []
        level -= ply.thickness
    lines = [mark.nodes for mark in edge.marks if isinstance(mark, Run) and mark.layer == "ITEM_LEADERS"]
    numbers = [mark for mark in edge.marks if isinstance(mark, Text) and mark.string.isdigit()]
    assert [text.string for text in numbers] == [str(index + 1) for index in range(len(heights))]
    assert len(lines) == len(heights)
    for height, nodes, text in zip(heights, lines, numbers, strict=True):
        assert nodes[0][1] == pytest.approx(height, abs=1e-6)
        box = shapely.Polygon(text_box(text, edge.scale))
        assert box.distance(shapely.Point(nodes[-1][:2])) * edge.scale < 2.0
        others = [shapely.Polygon(text_box(other, edge.scale)) for other in numbers if other is not text]
        assert all(other.distance(shapely.Point(nodes[-1][:2])) > box.distance(shapely.Point(nodes[-1][:2])) for other in others)


def test_true_radii_and_axes() -> None:
    assert "4 × R20 print" in {
        text.string for text in strings(sheet_of("sallow-wren", "SW-01"))
    }  # R60 less 40, not the least radius
    oval = {text.string for text in strings(sheet_of("sallow-wren", "SW-04"))}
    assert {"700 ±1", "400 ±1", "greatest R612,5; true ellipse", "least R114,3"} <= oval  # a²/b and b²/a
    bowed = {text.string for text in strings(sheet_of("odd", "PATH"))}
    for bulge, chord in ((0.1, 900.0), (0.2, 900.0)):
        radius, rise = chord * (1 + bulge**2) / (4 * bulge), bulge * chord / 2
        assert f"R{radius:.1f}, rise {rise:.0f}".replace(".0,", ",").replace(".", ",") in bowed


@every
def test_the_print_is_measured_at_eight_places(name: str, code: str) -> None:
    """Widths against lines cut by shapely; the narrowest width all round is among them, to the step of the samples."""
    contents = contents_of(name, code)
    curves = contents.detail.curves
    places = frit_places(curves)
    assert [place.number for place in places] == list(range(1, COUNT + 1))
    glass, inner = to_polygon(curves.glass), to_polygon(curves.frit_inner)
    for place in places:
        assert glass.exterior.distance(shapely.Point(place.point)) < 2e-3
        far = (place.point.x + 3 * place.width * place.inward.x, place.point.y + 3 * place.width * place.inward.y)
        ray = shapely.LineString([place.point, far]).intersection(inner.exterior)
        assert ray.distance(shapely.Point(place.point)) == pytest.approx(place.width, abs=5e-3)
        assert place.solid <= place.width
    least = min(inner.exterior.distance(shapely.Point(point)) for point in shapely.segmentize(glass.exterior, 5.0).coords)
    assert min(place.width for place in places) <= least + 0.06


def row_of(sheet: Sheet, name: str) -> list[str]:
    head = next(text for text in sheet.marks if isinstance(text, Text) and text.string == name and text.layer == "TEXT")
    row = [
        text
        for text in sheet.marks
        if isinstance(text, Text) and text.y == head.y and text.x > head.x + 5 and text.align == "middle"
    ]
    return [text.string for text in sorted(row, key=lambda text: text.x)]


@every
def test_least_and_greatest_are_never_looser_than_the_tolerance(name: str, code: str) -> None:
    contents = contents_of(name, code)
    sheet = sheet_of(name, code)
    box = bounding_box(contents.detail.curves.glass)
    held = PaneTolerances(contents.pane, longest=max(box.width, box.height)).print().value
    places = frit_places(contents.detail.curves)
    assert row_of(sheet, "place") == [str(number) for number in range(1, 9)]
    assert "limits rounded inward" in [text.string for text in strings(sheet)]
    for place, drawn, least, most in zip(
        places, row_of(sheet, "drawn"), row_of(sheet, "least"), row_of(sheet, "greatest"), strict=True
    ):
        step = 0.1
        assert figure(drawn) - held - 1e-6 <= figure(least) <= figure(drawn) - held + step + 1e-6  # the row agrees with itself
        assert figure(drawn) + held - step - 1e-6 <= figure(most) <= figure(drawn) + held + 1e-6
        assert figure(drawn) == pytest.approx(place.width, abs=step / 2 + 1e-6)
        assert place.width - held - 1e-6 <= figure(least) < place.width - held + step
        assert place.width + held - step < figure(most) <= place.width + held + 1e-6
    balloons = [text.string for text in strings(sheet) if text.string in "12345678" and text.align == "middle"]
    assert set("12345678") <= set(balloons)


@every
def test_what_flags_ask_of_the_print_agrees_with_its_widths(name: str, code: str) -> None:
    """The least solid print of a flag is a least of the table; what a wider print is for stands with it, so that two rows never ask differently."""
    sheet = sheet_of(name, code)
    told = [text.string for text in strings(sheet)]
    names = set(told)
    leasts = [figure(each) for each in row_of(sheet, "solid least" if "solid least" in names else "least")]
    asked = [re.match(r"solid print ([\d,]+) at its least", each) for each in told]
    for each in asked:
        assert each is None or figure(each[1]) in leasts
    assert not any(re.fullmatch(r"print wider by [\d,]+ wanted", each) for each in told)


@every
def test_every_flag_stands_on_the_view_and_leads_to_its_place(name: str, code: str) -> None:
    """One triangle for each flag; from it, or from the shelf it stands on, a leader to the place of its finding, else to the edge."""
    contents = contents_of(name, code)
    sheet = sheet_of(name, code)
    plan = sheet.views[0]
    curves = contents.detail.curves
    figures = {
        mark.string: shapely.Polygon(text_box(mark, plan.scale)).centroid
        for mark in plan.marks
        if isinstance(mark, Text) and mark.layer in ("FLAGS", "FLAG_FIGURES")
    }
    flags = supplier_flags(contents)
    assert sorted(figures) == sorted(str(flag.number) for flag in flags)
    assert all(each.fate is Fate.DRAWN for _, each in sheet.outcomes if each.what.startswith("flag "))
    leaders = [
        mark for mark in plan.marks if isinstance(mark, Run) and mark.layer in ("ITEM_LEADERS", "DIMENSIONS") and not mark.closed
    ]
    edges = shapely.union_all([to_polygon(curves.glass).exterior, to_polygon(curves.frit_inner).exterior])
    words = {text.string for text in plan.marks if isinstance(text, Text)}
    for flag in flags:
        at = figures[str(flag.number)]
        near = [
            mark for mark in leaders if shapely.LineString([node[:2] for node in mark.nodes]).distance(at) * plan.scale < 9.0 * 4
        ]
        if flag.finding.at is not None:
            assert any(math.dist(node[:2], flag.finding.at) < 1e-6 for mark in leaders for node in mark.nodes), flag.number
        else:
            shelves = [mark for mark in near if len(mark.nodes) == 3 and abs(mark.nodes[1][1] - mark.nodes[2][1]) < 1e-9]
            assert any(edges.distance(shapely.Point(mark.nodes[0][:2])) < 2e-2 for mark in shelves), flag.number
            assert words & {"all round", "whole pane"}


@every
def test_flags_are_those_of_every_document(name: str, code: str) -> None:
    contents = contents_of(name, code)
    sheet = sheet_of(name, code)
    wanted = {flag.number for flag in supplier_flags(contents)}
    assert contents.state is not None
    assert wanted <= {flag.number for flag in contents.state.flags}
    drawn = {outcome.what for _, outcome in sheet.outcomes if outcome.what.startswith("flag ")}
    assert drawn == {f"flag {number}" for number in wanted}
    about = re.compile(r"frit|re-entrant|cut-out|toughen|plies|pane of a usual|ply of glass|^glass of a usual")
    for flag in contents.state.flags:
        if flag.number in wanted:
            assert about.search(flag.finding.name)


def test_the_view_from_inside_is_the_mirror_and_its_lettering_is_not() -> None:
    sheet = sheet_of("sallow-wren", "SW-08")
    plan, _, inside = sheet.views
    outer = next(mark for mark in plan.marks if isinstance(mark, Run) and mark.layer == "GLASS")
    turned = [mark for mark in inside.marks if isinstance(mark, Run) and mark.layer == "INSIDE_OUTLINE"][-1]
    (a, b), (c, d) = ((min(n[0] for n in mark.nodes), max(n[0] for n in mark.nodes)) for mark in (outer, turned))
    assert b - a == pytest.approx(d - c)
    mirrored = sorted((round(c + b - x, 6), round(y, 6)) for x, y, _ in outer.nodes)
    assert mirrored == sorted((round(x, 6), round(y, 6)) for x, y, _ in turned.nodes)
    at = {text.string: text.x for text in inside.marks if isinstance(text, Text)}
    assert at["V2"] < at["V1"] < at["V5"]  # V2 is the right corner from outside
    heads = {text.string for text in sheet.marks if isinstance(text, Text)}
    assert {"INSIDE VIEW", "mirrored; not to scale"} <= heads


@every
def test_the_view_from_inside_always_has_its_words(name: str, code: str) -> None:
    contents = contents_of(name, code)
    inside = sheet_of(name, code).views[2]
    told = [text.string for text in inside.marks if isinstance(text, Text)]
    glass = contents.pane.glass
    face = glass.printed_face or glass.bond_face
    words = f"printed face {face} faces you" if face == glass.bond_face else f"print on face {face}, through the glass"
    assert words in " ".join(told)
    points = {text for text in (mark.string for mark in strings(sheet_of(name, code))) if re.fullmatch(r"V\d+", text)}
    if 3 <= len(contents.detail.corners) < 7:
        assert points
        assert points <= set(told)


NEVER = (
    "adhesive", "sealant", "bead", "bond", "spacer", "chock", "backfill", "primer", "activator", "recess", "landing", "daylight",
    "mpa", "kpa", "pressure", "stress", "yard", "vessel", "cleaner", "joint", "rebate", "squeeze", "cure",
    "strain", "hull", "fitter", "survey", "shear", "peel", "load",
)  # fmt: skip


def words_of(name: str, data: bytes) -> str:
    """Everything that can be read in a file: of a PDF its words, meta data, bookmarks, layers and object names; of a DXF every value that is
    a word, header, names of layers and blocks and attributes too; of a picture the file. What it carries is unpacked.
    """
    if b"carried-job" in data or b"FRITLINE_JOB" in data or b"fritline-job" in data:
        carried = carried_by(data, name)
        assert carried.part == "order"
        told = "\n".join([str(carried), *(each.decode("utf-8") for each in carried.files.values())])
        return f"{told}\n{_shown(name, data)}"
    return _shown(name, data)


def _shown(name: str, data: bytes) -> str:
    if name.endswith(".dxf"):  # handles, which are hexadecimal, are no words
        lines = data.decode("utf-8").split("\n")
        pairs = [(int(code), value) for code, value in zip(lines[:-1:2], lines[1::2], strict=True)]
        wordy = [
            (code < 10 and code != 5) or 100 <= code < 105 or 300 <= code < 310 or 410 <= code < 420 or code >= 999
            for code, _ in pairs
        ]
        words = [value for (_, value), kept in zip(pairs, wordy, strict=True) if kept]
        return "\n".join(value for value in words if not re.fullmatch(r"[A-Za-z0-9+/]{40,}=*", value))  # what is carried
    if not name.endswith(".pdf"):
        text = data.decode("utf-8")
        text = re.sub(r'id="carried-job">[^<]*<', "", text)
        return re.sub(r"base64,[A-Za-z0-9+/=\s]+", "", text)  # the face
    reader = pypdf.PdfReader(io.BytesIO(data))
    outside = re.sub(rb"stream\r?\n.*?endstream", b"", data, flags=re.DOTALL).decode("latin-1")
    lettered = subprocess.run(["pdftotext", "-", "-"], input=data, check=True, capture_output=True).stdout.decode("utf-8")
    layers = reader.trailer["/Root"].get("/OCProperties", {}).get("/OCGs", [])
    named = [str(entry.get_object()["/Name"]) for entry in layers]
    return "\n".join([lettered, str(reader.metadata), *(str(each.title) for each in reader.outline), *named, outside])


def owned(job: Job, pane: Pane) -> list[str]:
    """What of a job the supplier must not read, word by word."""
    own = [job.vessel.name, job.vessel.yard_number, job.sheet.owner, job.adhesive.name, job.sealant.name, pane.location]
    own += [pane.approval_reference, job.sheet.approval_reference]
    others = [other for other in job.panes if other.code != pane.code]
    own += [word for other in others for word in (other.code, other.name, other.location)]
    own += [value for value in job.consumables.model_dump().values() if isinstance(value, str)]
    return [each for each in own if each]


SUPPLIED = [(name, pane.code) for name in ("sallow-wren", "every-key") for pane in JOBS[name].panes]


@pytest.mark.parametrize(("name", "code"), SUPPLIED)
def test_nothing_in_any_file_is_not_the_suppliers(name: str, code: str) -> None:
    contents = contents_of(name, code)
    files = document_files(contents, ("pane", "glass", "print"), ("dxf", "svg", "pdf"))
    stem = contents.pane.file_stem
    for path, data in files.items():
        assert words_of(path, data).strip(), path  # what is searched is there
        assert ("-pane." in path) is ("[pane.glass]" in words_of(path, data)), path  # so is what is carried
    assert set(files) == {
        f"{stem}{ending}"
        for ending in (
            "-pane.dxf", "-pane.svg", "-pane.pdf", "-glass.dxf", "-print.dxf", "-print.pdf", "-print-mirrored.dxf", "-print-mirrored.pdf",
        )
    }  # fmt: skip
    for path, data in files.items():
        words = words_of(path, data).replace(contents.pane.name or "-", "")  # the office named the pane
        office = " ".join(JOBS[name].layers.values())
        for word in NEVER:
            found = re.search(rf"\b{word}", words, flags=re.IGNORECASE)
            assert found is None or found.group(0) in office, (
                f"{word} stands in {path}: {words[max(0, found.start() - 60) : found.end() + 60]}"
            )
        for own in owned(JOBS[name], contents.pane):
            if own not in contents.pane.name:
                assert re.search(rf"(?<![\w.,-]){re.escape(own)}(?![\w.,])", words) is None, f"{own} stands in {path}"


def test_what_an_a4_does_not_hold_stands_on_an_a3() -> None:
    long = "ground, polished, washed, seamed, inspected under light, packed on edge with corks and interleaved " * 2
    job = job_of(f'[supplier]\nedge_work = "{long[:190].strip()}"\n' + TEXT)
    pane = next(pane for pane in job.panes if pane.code == "STRIP")
    detail = build_detail(job, pane)
    sheet = pane_sheet(Contents(job, pane, detail, check_pane(job, pane, detail, plate=False)))
    assert sheet.size == "A3"
    told = " ".join(text.string for text in strings(sheet))
    assert "interleaved" in told
    assert "bow 1,5 mm/m" in told


def test_the_detail_knows_a_print_as_drawn() -> None:
    detail: Detail = contents_of("sallow-wren", "SW-04").detail
    assert detail.frit_as_drawn
    assert not contents_of("sallow-wren", "SW-01").detail.frit_as_drawn


def test_a_hatch_of_the_sheet_is_a_tint() -> None:
    for view in sheet_of("sallow-wren", "SW-03").views:
        for mark in view.marks:
            if isinstance(mark, Hatch):
                assert mark.layer in ("FRIT_TINT", "FADE_TINT", "INSIDE_TINT", "MATERIAL_INTERLAYER")


ORDERED = """
[[pane]]
code = "O-1"
frame = "aluminium"
glass = {{ plies = [{plies}]{glass} }}
frit = {{ start = {start}{frit} }}
{held}
outline = {outline}
"""
BOX, RAKED = "{ rectangle = [900, 500], radius = 40 }", "{ polygon = [[0, 0], [900, 0], [850, 500], [40, 450]], radius = 40 }"


def ordered(*, plies: str = "10", glass: str = "", start: float = 1, frit: str = "", held: str = "", outline: str = BOX) -> Sheet:
    job = job_of(ORDERED.format(plies=plies, glass=glass, start=start, frit=frit, held=held, outline=outline))
    (pane,) = job.panes
    detail = build_detail(job, pane)
    return pane_sheet(Contents(job, pane, detail, check_pane(job, pane, detail, plate=False)))


def asked_of(sheet: Sheet) -> list[str]:
    """The questions to the supplier, over as many lines as they take."""
    lines = [text.string for text in sheet.marks if isinstance(text, Text)]
    told = " ".join(lines[next(index for index, line in enumerate(lines) if "Asked: " in line) :])
    return told[told.index("Asked: ") + 7 : told.index("?")].split(", ")


def test_the_arris_is_told_as_ordered_and_drawn_to_its_size_else_asked() -> None:
    left = ordered()
    assert "arris" in asked_of(left)
    assert {"arris at most 1: the print begins there", "arris at most 1, every edge"} <= {text.string for text in strings(left)}
    sheet = ordered(glass=", arris = 1.5", start=2)
    told = {text.string for text in strings(sheet)}
    assert {"arris 1,5 × 45°: print from 2", "arris 1,5 × 45°, every edge"} <= told
    assert "arris" not in " ".join(asked_of(sheet))
    edge = next(mark for mark in sheet.views[1].marks if isinstance(mark, Run) and mark.layer == "CUT_OUTLINE")
    slanted = [
        (abs(b[0] - a[0]), abs(b[1] - a[1]))
        for a, b in zip(edge.nodes, edge.nodes[1:], strict=False)
        if abs(b[0] - a[0]) > 1e-6 and abs(b[1] - a[1]) > 1e-6
    ]
    assert slanted == [pytest.approx((1.5, 1.5)), pytest.approx((1.5, 1.5))]
    assert "print on the arris" in asked_of(ordered(glass=", arris = 3", start=1))


def test_heat_soak_is_told_as_ordered_with_its_standard_else_asked() -> None:
    """EN 14179-1 is the standard of heat soaked thermally toughened glass, EN 12150-1 that of toughened glass (titles of the catalogue)."""
    for glass, make_up, standard, open_ in (
        ("", "10 toughened", "EN 12150-1", True),
        (", heat_soaked = true", "10 toughened, heat soaked", "EN 14179-1", False),
        (", heat_soaked = false", "10 toughened, not heat soaked", "EN 12150-1", False),
        (', treatment = "annealed"', "10 annealed", "EN 572-2", False),
    ):
        sheet = ordered(glass=glass)
        assert {make_up, standard} <= {text.string for text in strings(sheet)}
        assert ("heat soak" in asked_of(sheet)) is open_
    laminated = ordered(plies="8, 6", glass=", interlayers = [1.52], heat_soaked = true")
    assert "8 + 1,52 PVB + 6 toughened, heat soaked, outside first" in " ".join(text.string for text in strings(laminated))


def test_opacity_is_told_as_ordered_else_asked() -> None:
    left, given = ordered(), ordered(frit=", opacity = 99.5")
    assert "black, opaque as on the order, face 2 (inner)" in {text.string for text in strings(left)}
    assert "opacity" in asked_of(left)
    assert "black, opacity 99,5 % at least, face 2 (inner)" in {text.string for text in strings(given)}
    assert "opacity" not in asked_of(given)


def test_the_difference_of_the_diagonals_is_told_as_ordered_else_asked() -> None:
    """Over the arcs of the rectangle: the diagonal between the centres of its roundings and twice the radius, 40."""
    held = "tolerances = { diagonals = 3 }"
    assert "diagonals" in asked_of(ordered())
    sheet = ordered(held=held)
    assert "diagonals" not in asked_of(sheet)
    over = math.hypot(820, 420) + 80
    assert f"over the arcs both {round(2 * over) / 2:.1f}; may differ by 3".replace(".", ",") in {
        t.string for t in strings(sheet)
    }
    raked = " ".join(text.string for text in strings(ordered(held=held, outline=RAKED)))
    assert "difference ±3" in raked
    assert "may differ by 3" in {t.string for t in strings(ordered(held=held, outline="{ rectangle = [900, 500] }"))}
    for outline in ("{ circle = 500 }", "{ polygon = [[0, 0], [700, 0], [250, 400]], radius = 12 }"):
        told = " ".join(text.string for text in strings(ordered(held=held, outline=outline)))
        assert "difference" not in told
        assert "may differ" not in told


@every
def test_all_that_the_job_left_blank_is_asked(name: str, code: str) -> None:
    contents = contents_of(name, code)
    asked = asked_of(sheet_of(name, code))
    glass, supplier = contents.pane.glass, contents.job.supplier
    for question, given in (
        ("edge work", bool(supplier.edge_work)),
        ("stamp", bool(supplier.stamp)),
        ("arris", glass.arris is not None),
        ("opacity", contents.pane.frit.opacity is not None),
        ("heat soak", glass.heat_soaked is not None or glass.treatment != "toughened"),
    ):
        assert (question in asked) is not given, question


@pytest.mark.parametrize("code", ["W3-P", "W3-S"])
def test_a_pane_of_four_different_radii_tells_its_diagonals_over_the_arcs(code):
    """Its sides meet at sharp corners that no tape can touch: the words of four radii of the print leave a row for what it can."""
    strings = [text.string for text in texts_of(sheet_of("pair", code).marks)]
    assert "Diagonals" in strings
    assert any(string.startswith("over the arcs V1V3 ") for string in strings)
    assert any("corners R5 to R34" in string for string in strings)


def test_flags_that_hold_all_round_stand_in_air():
    """1.4 mm on paper at least round triangle and words: SW-07's stood 2 mm over a line of sizes, SW-10's 0.8 beside a place to measure."""
    for code in ("SW-07", "SW-10"):
        (view,) = (each for each in sheet_of("sallow-wren", code).views if each.name == "PANE")
        words = [each for each in texts_of(view.marks) if each.string in ("all round", "whole pane")]
        assert words
        others = [each for each in texts_of(view.marks) if each not in words and each.layer != "FLAG_FIGURES"]
        sizes = [part for mark in view.marks if isinstance(mark, Dimension) for part in mark.parts if isinstance(part, Run)]
        for each in words:
            box = grown(box_of_text(each, view.scale), 1.4 / view.scale)
            assert not any(overlap(box, box_of_text(other, view.scale)) for other in others), (code, each.string)
            assert not any(crosses(box, facet) for part in sizes for facet in facets(part.nodes, closed=part.closed)), code


def test_a_bow_that_is_not_given_is_told():
    told = {code: {each.string for each in texts_of(sheet_of("sallow-wren", code).views[0].marks)} for code in ("SW-09", "SW-10")}
    assert "FWD not given" in told["SW-09"] and "FWD" not in told["SW-09"]
    assert "FWD" in told["SW-10"] and "FWD not given" not in told["SW-10"]
