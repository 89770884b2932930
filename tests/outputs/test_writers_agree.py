"""The DXF, the SVG, the PDF and the flattened form of one sheet hold the same marks at the same places, whichever kind of sheet it is.

Each file is read back by a reader that is not ours (ezdxf, the standard library's XML parser, pypdf) and every mark is brought to paper
millimetres, y upwards; the flattened sheet, from which further writers draw, is held against what ezdxf reads as well. The marks of each
layer must then pair off, one to one, within 0,001 mm.
"""

from __future__ import annotations

import io
import math
import re
import runpy
from functools import cached_property
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import ezdxf
import pytest
from ezdxf.math import bulge_to_arc
from ezdxf.render import hatching

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import read_job
from outputs.files.dxf import dxf_bytes
from outputs.files.pdf import pdf_bytes
from outputs.files.svg import svg_bytes
from outputs.sheet.flattening import flattened
from outputs.sheet.lettering import DXF_BOLD_STYLE, text_width
from outputs.sheets.card import card_sheets
from outputs.sheets.contents import Contents
from outputs.sheets.detail_sheet import detail_of
from outputs.sheets.exploded_sheet import exploded_sheet
from outputs.sheets.label import label_sheets
from outputs.sheets.pane_sheet import pane_sheet
from outputs.sheets.template import template_sheets

pypdf = pytest.importorskip("pypdf", reason="comes with the extra `test`")
TOLERANCE = 1e-3  # paper mm
SVG = "{http://www.w3.org/2000/svg}"
FRACTIONS = [k / 16 for k in range(17)]


class Run:
    """Lines and arcs one after the other, paper mm; each as (start, end, centre or None, sweep)."""

    def __init__(self):
        self.pieces = []

    def line(self, start, end):
        if math.dist(start, end) > 1e-9:
            self.pieces.append((start, end, None, 0.0))

    def arc(self, start, end, centre, sweep):
        self.pieces.append((start, end, centre, sweep))

    def lengths(self):
        return [math.dist(c, a) * abs(sweep) if c else math.dist(a, b) for a, b, c, sweep in self.pieces]

    def at(self, fraction):
        """The place at a fraction of the whole length."""
        lengths = self.lengths()
        left = fraction * sum(lengths)
        for (start, end, centre, sweep), length in zip(self.pieces, lengths, strict=True):
            if left <= length + 1e-9:
                share = min(1.0, left / length)
                if centre is None:
                    return tuple(a + (b - a) * share for a, b in zip(start, end, strict=True))
                turn = math.atan2(start[1] - centre[1], start[0] - centre[0]) + sweep * share
                radius = math.dist(centre, start)
                return centre[0] + radius * math.cos(turn), centre[1] + radius * math.sin(turn)
            left -= length
        return self.pieces[-1][1]

    @cached_property
    def start(self):
        return self.at(0.0)

    @cached_property
    def points(self):
        return [self.at(fraction) for fraction in FRACTIONS]


def svg_runs(data, height):
    """The runs of the path data of an SVG."""
    runs, run, here, first = [], None, None, None
    for letter, figures in re.findall(r"([MLAZ])([^MLAZ]*)", data):
        numbers = [float(n) for n in figures.split()]
        if letter == "Z":
            run.line(here, first)
            continue
        there = (numbers[-2], height - numbers[-1])
        if letter == "M":
            run, first = Run(), there
            runs.append(run)
        elif letter == "L":
            run.line(here, there)
        else:
            radius, large, sweep_flag = numbers[0], numbers[3], numbers[4]
            assert large == 0, "an arc of more than half a turn"
            chord = math.dist(here, there)
            half = math.asin(min(1.0, chord / 2 / radius))
            sweep = 2 * half * (-1 if sweep_flag else 1)  # y is turned upwards
            lift = math.sqrt(max(0.0, radius**2 - (chord / 2) ** 2)) * (1 if sweep > 0 else -1)
            ux, uy = (there[0] - here[0]) / chord, (there[1] - here[1]) / chord
            centre = ((here[0] + there[0]) / 2 - uy * lift, (here[1] + there[1]) / 2 + ux * lift)
            run.arc(here, there, centre, sweep)
        here = there
    return runs


def svg_marks(text):
    """Layer to {"line", "fill", "hatch": runs, "text": (string, both ends, size, rotation)}."""
    root = ElementTree.fromstring(text)
    height = float(root.get("viewBox").split()[3])
    layers = {}
    for group in root.findall(f"{SVG}g"):
        found = layers.setdefault(group.get("id"), {"line": [], "fill": [], "hatch": [], "text": []})
        for element in group.iter(f"{SVG}path"):
            runs = svg_runs(element.get("d"), height)
            kind = "hatch" if element.get("class") == "hatch" else "line" if element.get("fill") in (None, "none") else "fill"
            found[kind] += [runs] if kind == "hatch" else runs
        for element in group.iter(f"{SVG}text"):
            x, y = float(element.get("x")), height - float(element.get("y"))
            turn = re.match(r"rotate\(([-\d.]+) ", element.get("transform", ""))
            anchor = {None: 0, "middle": 1, "end": 2}[element.get("text-anchor")]
            size = float(element.get("font-size")) * 731 / 1000  # the face's capitals, from its own table
            angle, length = -float(turn[1]) if turn else 0.0, float(element.get("textLength"))
            found["text"].append((element.text, *ends(x, y, angle, length, anchor), size, angle))
    return layers


def flat_marks(flat):
    """The same from the flattened sheet."""
    layers = {pen.name: {"line": [], "fill": [], "hatch": [], "text": []} for pen in flat.pens}

    def runs(stroke, closed):
        return [dxf_runs(run, closed, lambda x, y: (x, y), 1.0) for run in stroke.runs]

    for inked in flat.inked:
        found = layers[inked.layer.name]
        assert inked.clip is None
        for stroke in inked.strokes:
            found["line"] += runs(stroke, stroke.closed)
        for area in inked.areas:
            found["fill"] += runs(area, True)
        found["hatch"] += [runs(hatching, hatching.closed) for hatching in inked.hatchings]
        for text in inked.letterings:
            align = ("left", "middle", "right").index(text.align)
            found["text"].append(
                (text.string, *ends(text.x, text.y, text.rotation, text.length, align), text.height, text.rotation)
            )
    return layers


def pdf_marks(data):
    """Layer to {"stroke", "fill": runs, "text": (string, start of its base line, height, rotation)} of the first page."""
    reader = pypdf.PdfReader(io.BytesIO(data))
    page = reader.pages[0]
    names = {key: value.get_object()["/Name"] for key, value in page["/Resources"]["/Properties"].items()}
    letters = {name: _letters(font.get_object()) for name, font in page["/Resources"]["/Font"].items()}
    layers, layer, path, font, size = {}, None, [], None, 0.0
    for operands, operator in pypdf.generic.ContentStream(page.get_contents(), reader).operations:
        numbers = [float(each) for each in operands] if operator in (b"m", b"l", b"c", b"Tm", b"re", b"cm") else []
        if operator == b"BDC":
            layer = layers.setdefault(names[operands[1]], {"stroke": [], "fill": [], "text": []})
        elif operator == b"cm":
            assert numbers == pytest.approx([72 / 25.4, 0, 0, 72 / 25.4, 0, 0]) or layer is None, "millimetres all over the page"
        elif operator == b"m":
            run, here, first = Run(), tuple(numbers), tuple(numbers)
            path.append(run)
        elif operator == b"l":
            run.line(here, tuple(numbers))
            here = tuple(numbers)
        elif operator == b"c":
            here = _curve(run, here, numbers)
        elif operator == b"h":
            run.line(here, first)
        elif operator in (b"S", b"f*"):
            layer["stroke" if operator == b"S" else "fill"] += path
            path = []
        elif operator == b"Tf":
            font, size = letters[operands[0]], float(operands[1])
        elif operator == b"Tm":
            turn = math.degrees(math.atan2(numbers[1], numbers[0]))
            layer["text"].append(("", *numbers[4:], size, turn))
        elif operator == b"Tj":
            raw = operands[0].original_bytes
            string, x, y, _, turn = layer["text"][-1]
            layer["text"][-1] = (string + "".join(font[each] for each in raw), x, y, size * 731 / 1000, turn)
        else:
            assert operator in (b"EMC", b"q", b"Q", b"w", b"d", b"J", b"j", b"G", b"g", b"RG", b"rg", b"BT", b"ET"), operator
    return layers


def _letters(font):
    """The letter of each byte of a font, by its own table."""
    table = font["/ToUnicode"].get_object().get_data().decode()
    found = {}
    for first, last, to in re.findall(r"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>", table):
        for step in range(int(last, 16) - int(first, 16) + 1):
            found[int(first, 16) + step] = chr(int(to, 16) + step)
    for block in re.findall(r"<([0-9A-Fa-f]+)>\s*<[0-9A-Fa-f]+>\s*\[([^\]]*)\]", table):
        for step, to in enumerate(re.findall(r"<([0-9A-Fa-f]+)>", block[1])):
            found[int(block[0], 16) + step] = chr(int(to, 16))
    for body in re.findall(r"beginbfchar(.*?)endbfchar", table, re.DOTALL):
        for one, to in re.findall(r"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>", body):
            found[int(one, 16)] = chr(int(to, 16))
    return found


def _curve(run, start, numbers):
    """A cubic curve as the arc through its ends and its middle (Bernstein's form at a half)."""
    (a, b, c, d, x, y) = numbers
    end = (x, y)
    middle = ((start[0] + 3 * a + 3 * c + x) / 8, (start[1] + 3 * b + 3 * d + y) / 8)
    chord = math.dist(start, end)
    ux, uy = (x - start[0]) / chord, (y - start[1]) / chord
    rise = (middle[1] - start[1]) * ux - (middle[0] - start[0]) * uy  # to the left of the way
    bulge = -2 * rise / chord
    centre, _, _, _ = bulge_to_arc(start, end, bulge)
    run.arc(start, end, (centre.x, centre.y), 4 * math.atan(bulge))
    return end


def ends(x, y, angle, length, align):
    """Both ends of the base line of a text: aligned left (0), in the middle (1), right (2)."""
    along = (math.cos(math.radians(angle)) * length, math.sin(math.radians(angle)) * length)
    start = (x - along[0] * align / 2, y - along[1] * align / 2)
    return *start, start[0] + along[0], start[1] + along[1]


def dxf_runs(vertices, closed, to_paper, scale):
    run = Run()
    for (x1, y1, bulge), (x2, y2, _) in pairwise([*vertices, *(vertices[:1] if closed else [])]):
        start, end = to_paper(x1, y1), to_paper(x2, y2)
        if not bulge:
            run.line(start, end)
        else:
            centre, _, _, _ = bulge_to_arc((x1, y1), (x2, y2), bulge)
            run.arc(start, end, to_paper(centre.x, centre.y), 4 * math.atan(bulge))
    return run


def dxf_marks(data):
    """The same from the DXF: each entity of the model through the viewport whose window it stands in."""
    document = ezdxf.read(io.StringIO(data.decode("utf-8")))
    windows = []
    for port in document.paperspace().query("VIEWPORT"):
        if port.dxf.id == 1:
            continue
        scale = port.dxf.height / port.dxf.view_height
        centre, middle = port.dxf.center, port.dxf.view_center_point
        half = port.dxf.width / 2 / scale
        windows.append((middle.x - half, middle.x + half, scale, centre.x - middle.x * scale, centre.y - middle.y * scale))
    layers = {}

    def add(entity, to_paper, scale, inherited):
        layer = inherited if entity.dxf.layer == "0" else entity.dxf.layer
        found = layers.setdefault(layer, {"line": [], "fill": [], "hatch": [], "text": []})
        kind = entity.dxftype()
        if kind == "LINE":
            run = Run()
            run.line(to_paper(*entity.dxf.start.vec2), to_paper(*entity.dxf.end.vec2))
            found["line"].append(run)
        elif kind == "LWPOLYLINE":
            found["line"].append(dxf_runs(entity.get_points("xyb"), entity.closed, to_paper, scale))
        elif kind == "SOLID":
            corners = [entity.dxf.get(f"vtx{k}") for k in (0, 1, 3, 2)]
            corners = [c for k, c in enumerate(corners) if k == 0 or c != corners[k - 1]]
            found["fill"].append(dxf_runs([(c.x, c.y, 0.0) for c in corners], True, to_paper, scale))
        elif kind == "HATCH" and entity.dxf.solid_fill:
            found["fill"] += [dxf_runs(path.vertices, True, to_paper, scale) for path in entity.paths]
        elif kind == "HATCH":
            strokes = hatching.hatch_entity(entity, jiggle_origin=False)
            arcs = any(bulge for path in entity.paths for _, _, bulge in path.vertices)
            found["hatch"].append((arcs, [_run(to_paper, start, end) for start, end in strokes]))
        elif kind in ("TEXT", "ATTRIB"):
            start, align, size = entity.dxf.insert, entity.dxf.halign, entity.dxf.height * scale
            if align == 5:  # fitted between two points
                spot = (*to_paper(start.x, start.y), *to_paper(*entity.dxf.align_point.vec2))
            else:
                place = entity.dxf.align_point if align else start
                wide = text_width(entity.plain_text(), size, bold=entity.dxf.style == DXF_BOLD_STYLE)
                spot = ends(*to_paper(place.x, place.y), entity.dxf.rotation, wide, align)
                assert len(entity.plain_text()) == 1 or kind == "ATTRIB"
            found["text"].append((entity.plain_text(), *spot, size, entity.dxf.rotation))
        elif kind == "DIMENSION":
            for part in document.blocks.get(entity.dxf.geometry):
                add(part, to_paper, scale, layer)
        elif kind == "INSERT":
            for part in entity.virtual_entities():
                add(part, to_paper, scale, layer)
            for attribute in entity.attribs:
                if not attribute.is_invisible:
                    add(attribute, to_paper, scale, layer)
        else:
            assert kind == "VIEWPORT", f"{kind} is not drawn in the SVG"

    for entity in document.paperspace():
        add(entity, lambda x, y: (x, y), 1.0, None)
    for entity in document.modelspace():
        x = _some_x(entity)
        _, _, scale, right, up = next(window for window in windows if window[0] <= x <= window[1])
        add(entity, lambda x, y, s=scale, r=right, u=up: (x * s + r, y * s + u), scale, None)
    return layers


def _run(to_paper, start, end):
    run = Run()
    run.line(to_paper(start.x, start.y), to_paper(end.x, end.y))
    return run


def _some_x(entity):
    kind = entity.dxftype()
    if kind == "LWPOLYLINE":
        return entity[0][0]
    if kind == "HATCH":
        return entity.paths[0].vertices[0][0]
    return entity.dxf.get({"LINE": "start", "SOLID": "vtx0", "DIMENSION": "defpoint"}.get(kind, "insert")).x


def distance(one, other):
    """How far two runs lie apart at most; where they begin far apart, as far as they do there."""
    apart = math.dist(one.start, other.start)
    return apart if apart > TOLERANCE else max(math.dist(a, b) for a, b in zip(one.points, other.points, strict=True))


def unpaired(ones, others, differ):
    """What is left of either list when each thing has been paired with the nearest of the other."""
    left = list(others)
    lonely = []
    for one in ones:
        nearest = min(left, key=lambda other: differ(one, other), default=None)
        if nearest is None or differ(one, nearest) > TOLERANCE:
            lonely.append(one)
        else:
            left.remove(nearest)
    return lonely, left


SHEETS = {
    "SW-02": ("detail", 0),
    "SW-08": ("detail", 0),
    "SW-01": ("exploded", 0),
    "SW-06": ("pane", 0),
    "SW-03": ("card", 0),
    "SW-07": ("card", 1),
    "SW-05": ("label", 0),
    "SW-10": ("template", 0),
}
"""The page of a document that is compared, by pane of the sample vessel."""


def _sheet_of(code):
    job = read_job(Path(__file__).parents[2] / "samples" / "sallow-wren.toml")
    pane = next(pane for pane in job.panes if pane.code == code)
    detail = build_detail(job, pane)
    contents = Contents(job, pane, detail, check_pane(job, pane, detail))
    kind, page = SHEETS[code]
    made = {
        "detail": lambda: (detail_of(contents),),
        "exploded": lambda: (exploded_sheet(contents),),
        "pane": lambda: (pane_sheet(contents),),
        "card": lambda: card_sheets(contents),
        "label": lambda: label_sheets(contents),
        "template": lambda: template_sheets(contents, size="A4"),
    }[kind]()
    return made[page]


@pytest.fixture(scope="module", params=["conftest.py", "rich_sheet.py", *SHEETS])
def drawn(request):
    """Two invented sheets, and a page of every kind of sheet of the sample vessel, findings and all."""
    if request.param.endswith(".py"):
        return runpy.run_path(str(Path(__file__).with_name(request.param)))["rich_sheet"]()
    return _sheet_of(request.param)


@pytest.fixture(scope="module")
def three(drawn):
    """The marks of SVG, flattened sheet and DXF; of each layer that holds any."""
    found = svg_marks(svg_bytes(drawn).decode("utf-8")), flat_marks(flattened(drawn)), dxf_marks(dxf_bytes(drawn))
    return tuple({name: marks for name, marks in each.items() if any(marks.values())} for each in found)


@pytest.fixture
def plenty(request):
    """Whether the sheet is one with marks of every kind, so that few of a kind would be a fault of the test."""
    return SHEETS.get(request.node.callspec.params["drawn"], ("detail",))[0] == "detail"


@pytest.fixture(params=["svg", "flat"])
def both(request, three):
    """The marks as they were drawn one way, and those of the DXF."""
    svg, flat, dxf = three
    return {"svg": svg, "flat": flat}[request.param], dxf


def test_the_same_layers_are_drawn_on(both, plenty):
    svg, dxf = both
    assert svg.keys() == dxf.keys()
    assert len(dxf) >= (14 if plenty else 2)


@pytest.mark.parametrize("kind", ["line", "fill"])
def test_lines_arcs_and_fills_pair_off(both, kind, plenty):
    svg, dxf = both
    counted = 0
    for name, marks in dxf.items():
        ones, others = marks[kind], svg[name][kind]
        assert unpaired(ones, others, distance) == ([], []), name
        counted += len(ones)
    assert counted >= ({"line": 40, "fill": 20}[kind] if plenty else 1)


def test_texts_pair_off(both):
    svg, dxf = both

    def differ(one, other):
        if one[0] != other[0] or abs((one[6] - other[6] + 180) % 360 - 180) > 1e-3:
            return math.inf
        return max(math.dist(one[1:3], other[1:3]), math.dist(one[3:5], other[3:5]), abs(one[5] - other[5]))

    for name, marks in dxf.items():
        assert unpaired(marks["text"], svg[name]["text"], differ) == ([], []), name
    assert sum(len(marks["text"]) for marks in dxf.values()) >= 15


def test_hatch_lines_of_the_pattern_are_the_strokes_of_the_svg(both, plenty):
    """Ezdxf draws the pattern that the DXF defines, from its numbers alone, and clips it at boundaries of short chords.

    Where a boundary has no arc every stroke agrees in both ends. Where it has, a stroke lies on the same line and the ends
    may differ by what a chord cuts off.
    """
    svg, dxf = both
    counted = straight = 0
    for name, marks in dxf.items():
        assert len(marks["hatch"]) == len(svg[name]["hatch"]), name
        left = [_shown(runs) for runs in svg[name]["hatch"]]
        for arcs, runs in marks["hatch"]:
            runs = _shown(runs)
            total = _total(runs)
            place = _place(runs)  # many faces of a sheet are alike: the one at the same place is meant
            nearest = min(left, key=lambda other, place=place: math.dist(_place(other), place))
            left.remove(nearest)
            # ezdxf loses what lies beyond a corner that a line meets exactly, so ours may be the longer by a few strokes
            assert -1e-3 * total <= _total(nearest) - total <= 1e-2 * total, name
            if not arcs:
                assert unpaired(runs, nearest, _ends) == ([], []), name
                straight += len(runs)
            assert [one.pieces for one in runs if not any(_same_line(one, other) for other in nearest)] == [], name
            counted += len(runs)
    assert counted > 100 or not plenty
    assert straight > 0 or not plenty


def _shown(runs):
    return [run for run in runs if run.pieces and sum(run.lengths()) > 0.05]


def _place(runs):
    """The middle of the strokes of a face."""
    places = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b, *_ in (run.pieces[0] for run in runs)]
    return sum(x for x, _ in places) / len(places), sum(y for _, y in places) / len(places)


def _total(runs):
    return sum(sum(run.lengths()) for run in runs)


def _ends(one, other):
    (a, b, *_), (c, d, *_) = one.pieces[0], other.pieces[0]
    return min(max(math.dist(a, c), math.dist(b, d)), max(math.dist(a, d), math.dist(b, c)))


def _same_line(one, other):
    """Whether a stroke lies on the line of the other and half of it or more on the other itself."""
    (a, b, *_), (c, d, *_) = one.pieces[0], other.pieces[0]
    length = math.dist(c, d)
    ux, uy = (d[0] - c[0]) / length, (d[1] - c[1]) / length
    along = sorted((x - c[0]) * ux + (y - c[1]) * uy for x, y in (a, b))
    beside = max(abs((y - c[1]) * ux - (x - c[0]) * uy) for x, y in (a, b))
    return beside <= TOLERANCE and min(along[1], length) - max(along[0], 0.0) >= 0.5 * math.dist(a, b)


def test_the_pdf_holds_the_same_marks(drawn):
    """Strokes, areas and lettering of each layer of the page, read by pypdf, against the flattened sheet that ezdxf's reading is held to."""
    plots = {pen.name for pen in flattened(drawn).pens if pen.plots}
    flat = {name: marks for name, marks in flat_marks(flattened(drawn)).items() if name in plots and any(marks.values())}
    pdf = pdf_marks(pdf_bytes([drawn]))
    assert pdf.keys() == flat.keys()

    def differ(one, other):
        if one[0] != other[0] or abs((one[4] - other[6] + 180) % 360 - 180) > 1e-3:
            return math.inf
        return max(math.dist(one[1:3], other[1:3]), abs(one[3] - other[5]))

    counted = 0
    for name, marks in flat.items():
        strokes = [*marks["line"], *(run for runs in marks["hatch"] for run in runs)]
        assert unpaired(pdf[name]["stroke"], strokes, distance) == ([], []), name
        assert unpaired(pdf[name]["fill"], marks["fill"], distance) == ([], []), name
        assert unpaired(pdf[name]["text"], marks["text"], differ) == ([], []), name
        counted += len(strokes) + len(marks["text"])
    assert counted >= 15
