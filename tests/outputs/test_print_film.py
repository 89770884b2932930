"""The print film: its ink measured on a rendering at 600 dpi and on the DXF, against closed forms; true size, mirrored, the same bytes."""

from __future__ import annotations

import io
import math
import runpy
import subprocess
from itertools import combinations, pairwise
from pathlib import Path

import ezdxf
import numpy as np
import pyogrio
import pypdf
import pytest
import shapely
from scipy.special import ellipe

from geometry.detail.build import build_detail
from geometry.job import read_job
from geometry.job.reading import job_of
from geometry.outline import area, bounding_box
from outputs.drawing.pane_print import APART, PanePrint, print_of
from outputs.files.print_film import BAR, CROSS_AT, Film, film_of
from outputs.files.print_film_dxf import FADE, REGISTER, SOLID, film_dxf
from outputs.files.print_film_pages import film_pages
from outputs.files.print_film_pdf import film_pdf
from outputs.sheet.lettering import text_width

ROOT = Path(__file__).parents[2]
JOB = read_job(ROOT / "samples" / "sallow-wren.toml")
DPI = 600
POINT = 25.4 / 72
TILE = 4000  # pixels
TO_THE_EDGE = """
[[pane]]
code = "E1"
frame = "aluminium"
glass = { plies = [6] }
outline = { rectangle = [160, 120] }
frit = { width = 24, start = 0, fade = 6, outline = { rectangle = [112, 72] } }
"""


RANDOM = ("100002", "100004", "100006")
"""Seeds of random panes: a slotted one, an oval, a stadium."""
random_job = runpy.run_path(str(ROOT / "tests" / "random_panes.py"))["random_job"]
OVAL, RAKED = (150.0, 110.0), ((0.0, 0.0), (150.0, 8.0), (140.0, 110.0), (12.0, 96.0))
FORMS = f"""
[[pane]]
code = "OVAL"
frame = "aluminium"
glass = {{ plies = [6] }}
outline = {{ ellipse = [{OVAL[0]:g}, {OVAL[1]:g}] }}
frit = {{ width = 22, start = 1, fade = 4 }}
[[pane]]
code = "RAKED"
frame = "aluminium"
glass = {{ plies = [6] }}
outline = {{ polygon = {[list(place) for place in RAKED]}, radius = 12 }}
frit = {{ width = 20, start = 1, fade = 6, corner_radius = 4 }}
"""


def printed(code: str, *, bleed: float = 2.0, pitch: float = 2.0) -> PanePrint:
    job = job_of(TO_THE_EDGE) if code == "E1" else job_of(FORMS) if code in ("OVAL", "RAKED") else JOB
    if code in RANDOM:
        job, code = job_of(random_job(int(code))[1]), "R-1"
    pane = next(pane for pane in job.panes if pane.code == code)
    return print_of(build_detail(job, pane), bleed=bleed, dot_pitch=pitch)


def film(given: PanePrint) -> Film:
    return film_of(given, code="SW", revision="A", mark="K7PA-3MXD", face=2, faces=2)


def inked(data: bytes, made: Film, within: tuple[float, float, float, float], folder: Path) -> float:
    """mm² of ink that poppler puts into a rectangle of the film, tile by tile."""
    path = folder / "film.pdf"
    path.write_bytes(data)
    pixel = 25.4 / DPI
    left, _, _, top = made.page
    first_x, last_x = math.floor((within[0] - left) / pixel), math.ceil((within[2] - left) / pixel)
    first_y, last_y = math.floor((top - within[3]) / pixel), math.ceil((top - within[1]) / pixel)
    total = 0.0
    for x in range(first_x, last_x, TILE):
        for y in range(first_y, last_y, TILE):
            box = ["-x", x, "-y", y, "-W", min(TILE, last_x - x), "-H", min(TILE, last_y - y)]
            command = ["pdftoppm", "-r", DPI, "-gray", *box, "-singlefile", path, folder / "tile"]
            subprocess.run([str(word) for word in command], check=True, capture_output=True)
            header, pixels = (folder / "tile.pgm").read_bytes().split(b"\n255\n", 1)
            assert header.startswith(b"P5")
            total += float(np.sum(255 - np.frombuffer(pixels, dtype=np.uint8).astype(np.int64))) / 255.0
    return total * pixel * pixel


def within_ellipse(distance: float) -> float:
    """Area within the parallel of an ellipse (Steiner's formula: A - L d + pi d²; its length by the complete elliptic integral)."""
    a, b = OVAL[0] / 2, OVAL[1] / 2
    return math.pi * a * b - 4 * a * float(ellipe(1 - (b / a) ** 2)) * distance + math.pi * distance**2


def within_polygon(distance: float, radius: float) -> float:
    """Area within the sides of a polygon moved in by a distance, its corners rounded: each takes (cot(w/2) - (pi - w)/2) r² away."""
    inner = shapely.Polygon(RAKED).buffer(-distance, join_style="mitre", mitre_limit=99)
    places = list(inner.exterior.coords)[:-1]
    taken = 0.0
    for index, (x, y) in enumerate(places):
        (ax, ay), (bx, by) = places[index - 1], places[(index + 1) % len(places)]
        w = abs(math.remainder(math.atan2(ay - y, ax - x) - math.atan2(by - y, bx - x), math.tau))
        taken += (1 / math.tan(w / 2) - (math.pi - w) / 2) * radius**2
    return inner.area - taken


def closed_form(code: str) -> float:
    """mm² of solid print: of a rectangle with round corners w·h − (4 − π)·r², of a circle π·r²."""
    if code == "SW-10":  # 220 × 160 R10; from 1 within the edge to 20, the inner edge rounded by 5
        return 218 * 158 - (4 - math.pi) * 9**2 - (180 * 120 - (4 - math.pi) * 5**2)
    if code == "E1":  # 160 × 120, 2 of bleed, rounded about the corners; solid to 6 before the inner edge of 112 × 72
        return 164 * 124 - (4 - math.pi) * 2**2 - (124 * 84 - (4 - math.pi) * 6**2)
    if code == "OVAL":
        return within_ellipse(1.0) - within_ellipse(18.0)
    if code == "RAKED":
        return within_polygon(1.0, 11.0) - within_polygon(14.0, 4.0)
    return math.pi * (209**2 - 186**2)  # SW-03: Ø420, from 1 to 32 − 8


@pytest.mark.parametrize(
    ("code", "inside"), [("SW-10", False), ("SW-10", True), ("SW-03", True), ("E1", False), ("OVAL", False), ("RAKED", True)]
)
def test_ink_at_600_dpi_is_the_glass_less_its_clear_part(code: str, inside: bool, tmp_path: Path) -> None:
    given = printed(code)
    made = film(given.from_inside() if inside else given)
    box = bounding_box(given.glass)
    dots = math.fsum(len(row.dots) * math.pi * row.diameter**2 / 4 for row in given.rows)
    assert bool(given.rows) is (code != "SW-10")
    around = (box.left - 4.0, box.bottom - 4.0, box.right + 4.0, box.top + 4.0)
    wanted = closed_form(code)
    # an oval is drawn as arcs, true to a hundredth of a millimetre
    assert area(made.solid[0]) - area(made.solid[1]) == pytest.approx(wanted, rel=1e-9 if code != "OVAL" else 5e-4)
    assert inked(film_pdf(made), made, around, tmp_path) == pytest.approx(wanted + dots, rel=1e-3)


@pytest.mark.parametrize("code", ["SW-03", "SW-10", "SW-04", "SW-08", "E1"])
def test_the_dxf_holds_the_same_ink(code: str, tmp_path: Path) -> None:
    given = printed(code)
    made = film(given)
    data = film_dxf(made)
    document = ezdxf.read(io.StringIO(data.decode("utf-8")))
    auditor = document.audit()
    assert not auditor.errors
    assert not auditor.fixes
    assert document.header["$INSUNITS"] == 4
    model = document.modelspace()
    (solid,) = model.query(f'HATCH[layer=="{SOLID}"]')
    assert solid.dxf.solid_fill == 1
    loops = [sorted(path.vertices) for path in solid.paths]
    assert loops == [
        sorted((round(x, 9) + 0.0, round(y, 9) + 0.0, round(bulge, 12) + 0.0) for x, y, bulge in loop.vertices)
        for loop in given.solid
    ]
    assert len(model.query(f'INSERT[layer=="{FADE}"]')) == sum(len(row.dots) for row in given.rows)
    path = tmp_path / "print.dxf"
    path.write_bytes(data)
    _, _, shapes, (layers,) = pyogrio.raw.read(path, layer="entities", columns=["Layer"])
    read = [shapely.from_wkb(shape) for shape, layer in zip(shapes, layers, strict=True) if layer == SOLID]
    assert sum(shape.area for shape in read) == pytest.approx(area(given.solid[0]) - area(given.solid[1]), rel=5e-3)


def test_dots_lie_in_the_fade_apart_and_their_cover_is_told() -> None:
    given = printed("SW-03")
    assert [row.distance for row in given.rows] == [1.0, 3.0, 5.0, 7.0]
    middle = bounding_box(given.glass).middle
    for row in given.rows:
        # in a strip of 2 mm about its middle, closed form of a ring
        radius = 186.0 - row.distance
        strip = math.pi * ((radius + 1) ** 2 - (radius - 1) ** 2)
        assert len(row.dots) * math.pi * row.diameter**2 / 4 / strip == pytest.approx(row.cover, rel=1e-9)
        assert all(math.dist(dot, middle) == pytest.approx(radius) for dot in row.dots)
    covers = [row.cover for row in given.rows]
    assert covers == sorted(covers, reverse=True)
    assert covers[0] < 0.75
    text = " ".join(text.string for text in film(given).texts)
    for index, row in enumerate(given.rows, start=1):
        assert f"row {index}: {len(row.dots)} dots" in text
        assert f"cover {100 * row.cover:.1f}".replace(".", ",") in text
    tree = shapely.STRtree([shapely.Point(dot).buffer(row.diameter / 2) for row in given.rows for dot in row.dots])
    assert len(tree.query(tree.geometries, predicate="intersects")[0]) == len(tree.geometries)  # each meets itself only
    assert 186.0 - given.rows[0].distance + given.rows[0].diameter / 2 <= 186.0 - APART / 2 + 1e-9


def test_true_size_and_register() -> None:
    given = printed("SW-10")
    made = film(given)
    reader = pypdf.PdfReader(io.BytesIO(film_pdf(made)))
    (page,) = reader.pages
    left, bottom, right, top = made.page
    assert float(page.mediabox.width) * POINT == pytest.approx(right - left, abs=1e-3)
    assert float(page.mediabox.height) * POINT == pytest.approx(top - bottom, abs=1e-3)
    box = bounding_box(given.glass)
    crosses = {(x1, y1) for (x1, y1), (x2, y2) in made.strokes if y1 == y2 and x2 - x1 == 10.0}
    middles = {(x + 5.0, y) for x, y in crosses}
    assert {(box.left - CROSS_AT, box.bottom - CROSS_AT), (box.right + CROSS_AT, box.top + CROSS_AT)} <= middles
    assert len(middles) == 8
    for x, y in middles:  # outside the glass, arms and all
        assert x + 5 < box.left or x - 5 > box.right or y + 5 < box.bottom or y - 5 > box.top
    bars = [(x2 - x1, y2 - y1) for (x1, y1), (x2, y2) in made.strokes if max(x2 - x1, y2 - y1) == BAR]
    assert sorted(bars) == [(0.0, BAR), (BAR, 0.0)]
    document = ezdxf.read(io.StringIO(film_dxf(made).decode("utf-8")))
    assert len(document.modelspace().query(f'LINE[layer=="{REGISTER}"]')) == len(made.strokes)


@pytest.mark.parametrize("code", ["SW-02", "SW-08"])
def test_the_mirrored_film_turns_the_print_and_not_the_lettering(code: str) -> None:
    given = printed(code)
    turned = given.from_inside()
    box = bounding_box(given.glass)
    assert bounding_box(turned.glass) == pytest.approx(box)
    for one, other in zip(given.solid, turned.solid, strict=True):
        there = sorted((box.left + box.right - x, y) for x, y, _ in other.vertices)
        assert there == [pytest.approx(place, abs=1e-9) for place in sorted((x, y) for x, y, _ in one.vertices)]
        assert area(other) == pytest.approx(area(one))
    back = turned.from_inside()
    assert [sorted(loop.vertices) for loop in back.solid] == [
        [pytest.approx(vertex, abs=1e-9) for vertex in sorted(loop.vertices)] for loop in given.solid
    ]
    names = [film(each).texts[0].string for each in (given, turned)]
    assert names == ["PRINT FILM 1:1, seen from OUTSIDE", "MIRRORED PRINT FILM 1:1, seen from INSIDE"]
    text = pypdf.PdfReader(io.BytesIO(film_pdf(film(turned)))).pages[0].extract_text()
    assert "MIRRORED PRINT FILM 1:1, seen from INSIDE" in text
    assert "K7PA-3MXD" in text
    assert "mirrored print film" in film(turned).title


def test_no_lettering_on_the_print_or_on_other_lettering() -> None:
    for code in ("SW-10", "SW-03", "SW-02", "E1", *RANDOM):
        made = film(printed(code))
        box = bounding_box(made.solid[0])
        boxes = []
        for text in made.texts:
            wide = text_width(text.string, text.height)
            boxes.append(shapely.box(text.x, text.y - 0.3 * text.height, text.x + wide, text.y + text.height))
            assert made.page[0] < text.x
            assert text.x + wide < made.page[2]
            assert made.page[1] < text.y
        assert not any(one.intersects(shapely.box(*box)) for one in boxes)
        assert not any(one.intersects(other) for one, other in combinations(boxes, 2))


def test_pure_vector_one_ink_embedded_face_same_bytes() -> None:
    given = printed("SW-03")
    for write in (film_pdf, film_dxf):
        assert write(film(given)) == write(film(given))
    data = film_pdf(film(given))
    assert b"/FlateDecode" not in data
    reader = pypdf.PdfReader(io.BytesIO(data))
    resources = reader.pages[0]["/Resources"]
    assert not [name for name, form in resources["/XObject"].items() if form["/Subtype"] != "/Form"]
    fonts = [font.get_object() for font in resources["/Font"].values()]
    assert fonts
    assert all("/FontFile2" in font["/FontDescriptor"] for font in fonts)
    content = reader.pages[0].get_contents().get_data().decode("latin-1")
    assert content.count("f*") == 1
    inks = {line for line in content.replace(" n ", "\n").split("\n") if line.split(" ")[-1] in ("rg", "RG", "k", "K", "g", "G")}
    assert inks == {"0 g", "0 G"}


LONG = """
[[pane]]
code = "L1"
frame = "aluminium"
glass = {{ plies = [12] }}
outline = {{ rectangle = [{wide}, {high}], radius = 30 }}
frit = {{ width = 45, fade = {fade}, corner_radius = 10 }}
"""


def windows(data: bytes) -> list[tuple[float, float]]:
    """Width and height of each page, mm, as the standard reads them: in units of the page's own, where it has one."""
    pages = pypdf.PdfReader(io.BytesIO(data)).pages
    return [
        (float(page.mediabox.width) * POINT * page.user_unit, float(page.mediabox.height) * POINT * page.user_unit)
        for page in pages
    ]


@pytest.mark.parametrize(
    ("wide", "high", "count", "inside"),
    [(6000, 400, 2, False), (400, 6000, 2, True), (12000, 900, 3, True), (4900, 400, 1, False)],
)
def test_a_film_longer_than_a_page_may_be_is_cut_into_true_pages(wide: float, high: float, count: int, inside: bool) -> None:
    """No page is longer than the 14 400 units of ISO 32000-1, annex C, nor needs a unit of its own; pages share their crosses."""
    job = job_of(LONG.format(wide=wide, high=high, fade=0))
    given = print_of(build_detail(job, job.panes[0]), bleed=2.0, dot_pitch=2.0)
    made = film(given.from_inside() if inside else given)
    data = film_pdf(made)
    assert data == film_pdf(made)
    assert len(windows(data)) == count
    assert all(max(size) < 14400 * POINT for size in windows(data))
    assert all(page.user_unit == 1 for page in pypdf.PdfReader(io.BytesIO(data)).pages)
    pages = film_pages(made)
    assert windows(data) == [
        pytest.approx((right - left, top - bottom), abs=1e-3) for left, bottom, right, top in (page.page for page in pages)
    ]
    box = bounding_box(given.glass)
    for one, other in pairwise(pages):  # two crosses on both, far from one another, and none of them on the glass
        shared = set(crosses(one)) & set(crosses(other))
        assert len(shared) >= 2
        assert max(math.dist(a, b) for a, b in combinations(shared, 2)) >= min(wide, high) + 2 * CROSS_AT - 1e-6
        assert all(not (box.left - 5 < x < box.right + 5 and box.bottom - 5 < y < box.top + 5) for x, y in shared)
    assert set(made.strokes) <= {stroke for page in pages for stroke in page.strokes}
    assert {text.string for text in made.texts} <= {text.string for page in pages for text in page.texts}
    told = [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages]
    for index, words in enumerate(told, start=1):
        assert (f"page {index} of {count}" in " ".join(words.split())) is (count > 1)
        assert "PRINT FILM 1:1, seen from" in words
        assert "K7PA-3MXD" in words
    for page in pages:
        bars = [stroke for stroke in page.strokes if abs(math.dist(*stroke) - BAR) < 1e-9]
        assert bars
        glass = shapely.box(box.left - 2, box.bottom - 2, box.right + 2, box.top + 2)
        boxes = [
            shapely.box(text.x, text.y - 0.3 * text.height, text.x + text_width(text.string, text.height), text.y + text.height)
            for text in page.texts
        ]
        window = shapely.box(*page.page)
        assert all(window.contains(each) and not each.intersects(glass) for each in boxes)
        assert not any(one.intersects(other) for one, other in combinations(boxes, 2))
        lines = [shapely.LineString(stroke) for stroke in page.strokes]
        assert not any(each.intersects(line) for each in boxes for line in lines)


def crosses(film: Film) -> list[tuple[float, float]]:
    """Middles of the register crosses."""
    level = {((x1 + x2) / 2, y1) for (x1, y1), (x2, y2) in film.strokes if y1 == y2 and abs(x2 - x1 - 10.0) < 1e-9}
    return [(x, y) for x, y in level if any(math.dist((x, y - 5), a) + math.dist((x, y + 5), b) < 1e-6 for a, b in film.strokes)]


def test_every_dot_of_a_long_film_stands_on_a_page() -> None:
    job = job_of(LONG.format(wide=6000, high=400, fade=6))
    made = film(print_of(build_detail(job, job.panes[0]), bleed=2.0, dot_pitch=2.0))
    dots = {dot for row in made.rows for dot in row.dots}
    assert len(dots) > 10_000
    assert dots == {dot for page in film_pages(made) for row in page.rows for dot in row.dots}


def test_the_ink_of_the_pages_laid_together_is_that_of_the_film(tmp_path: Path) -> None:
    """At 100 dpi, the strip that two pages share counted once: closed form of rectangles with round corners."""
    job = job_of(LONG.format(wide=6000, high=400, fade=0))
    given = print_of(build_detail(job, job.panes[0]), bleed=2.0, dot_pitch=2.0)
    made = film(given)
    path = tmp_path / "film.pdf"
    path.write_bytes(film_pdf(made))
    pixel, total, reached = 25.4 / 100, 0.0, made.glass[0] - 4.0
    for index, page in enumerate(film_pages(made), start=1):
        left, _, right, top = page.page
        first, last = max(0, round((reached - left) / pixel)), round((min(right, made.glass[2] + 4.0) - left) / pixel)
        reached = left + last * pixel
        low, high = round((top - 404.0) / pixel), round((top + 4.0) / pixel)
        crop = ["-x", first, "-y", low, "-W", last - first, "-H", high - low]
        command = ["pdftoppm", "-r", 100, "-gray", "-f", index, "-l", index, *crop, "-singlefile", path, tmp_path / "page"]
        subprocess.run([str(word) for word in command], check=True, capture_output=True)
        _, pixels = (tmp_path / "page.pgm").read_bytes().split(b"\n255\n", 1)
        total += float(np.sum(255 - np.frombuffer(pixels, dtype=np.uint8).astype(np.int64))) / 255.0 * pixel * pixel
    band = 5998 * 398 - (4 - math.pi) * 29**2 - (6000 - 90) * (400 - 90) + (4 - math.pi) * 10**2
    assert area(given.solid[0]) - area(given.solid[1]) == pytest.approx(band, rel=1e-9)
    assert total == pytest.approx(band, rel=1e-3)


def test_a_print_that_leaves_the_glass_is_what_is_left_of_it() -> None:
    text = TO_THE_EDGE.replace("start = 0, fade = 6, outline = { rectangle = [112, 72] }", "outline = { rectangle = [170, 72] }")
    job = job_of(text)
    given = print_of(build_detail(job, job.panes[0]), bleed=2.0, dot_pitch=2.0)
    assert len(given.solid) == 2
    assert math.fsum(area(loop) for loop in given.solid) == pytest.approx(158 * 118 - 158 * 72, rel=1e-9)
