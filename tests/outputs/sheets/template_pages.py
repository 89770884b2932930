"""Templates for the tests: their panes, their sheets, and what stands on the pages of their PDF files."""

from __future__ import annotations

import io
import math
import re
import runpy
from functools import cache
from pathlib import Path

import numpy as np
import pytest
import shapely
from ezdxf.math import bulge_to_arc

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import read_job
from geometry.job.reading import job_of
from outputs.files.pdf import pdf_bytes
from outputs.sheet.entities import Text
from outputs.sheets.contents import Contents
from outputs.sheets.template import template_sheets

pypdf = pytest.importorskip("pypdf", reason="comes with the extra `test`")
SAMPLES = Path(__file__).resolve().parents[3] / "samples"
PANE = '[[pane]]\ncode = "P1"\nframe = "aluminium"\nglass = { plies = [8] }\n'
STRIP = PANE + "outline = { rectangle = [3000, 180], radius = 40 }"
WIDE = PANE + "outline = { rectangle = [3000, 1200], radius = 90 }"
ROUND = PANE + "outline = { circle = 180 }"
CASES = [("SW-02", "A4"), ("SW-04", "A4"), ("SW-08", "A3"), ("strip", "A4"), ("wide", "A3"), ("round", "A4")]
# of a hundred random panes: one that fails its checks, and one on whose pages the figures of a cross stood at the letter of a block
SEEDS = (100_000, 100_073)
random_job = runpy.run_path(str(SAMPLES.parent / "tests" / "random_panes.py"))["random_job"]
WRITTEN = {"strip": STRIP, "wide": WIDE, "round": ROUND}


@cache
def contents_of(name):
    """Of a sample or a written job; of a seed, a random job and its checks."""
    if isinstance(name, int):
        job = job_of(random_job(name)[1])
        detail = build_detail(job, job.panes[0])
        return Contents(job, job.panes[0], detail, check_pane(job, job.panes[0], detail, plate=False))
    job = job_of(WRITTEN[name]) if name in WRITTEN else read_job(SAMPLES / "sallow-wren.toml")
    pane = next(pane for pane in job.panes if name in WRITTEN or pane.code == name)
    return Contents(job, pane, build_detail(job, pane))


@cache
def sheets_of(name, size, inside=False):
    return template_sheets(contents_of(name), size=size, inside=inside)


@cache
def pages_of(name, size, inside=False):
    """Each tile's page as (name, words, window, layer to curves); a curve is a row of places, paper mm."""
    reader = pypdf.PdfReader(io.BytesIO(pdf_bytes(sheets_of(name, size, inside))))
    return [read_page(reader, page) for page in reader.pages]


def bezier(start, a, b, end):
    t = np.linspace(0.0, 1.0, 25)[1:, None]
    return (1 - t) ** 3 * start + 3 * t * (1 - t) ** 2 * a + 3 * t * t * (1 - t) * b + t**3 * end


def read_page(reader, page):
    """The curves of a page by layer, brought to mm by the matrix that stands in the page itself."""
    names = {key: value.get_object()["/Name"] for key, value in page["/Resources"]["/Properties"].items()}
    found, layer, window, scale = {}, None, None, None
    run, box = [], None
    for operands, operator in pypdf.generic.ContentStream(page.get_contents(), reader).operations:
        figures = [float(each) for each in operands] if operator in (b"m", b"l", b"c", b"re", b"cm") else []
        if operator == b"cm":
            assert figures[0] == figures[3] and figures[1:3] == [0, 0] and figures[4:] == [0, 0]
            scale = figures[0] * 25.4 / 72
        elif operator == b"BDC":
            layer = names[operands[1]]
        elif operator == b"EMC":
            layer, box = None, None
        elif operator == b"re":
            box = window = (figures[0], figures[1], figures[0] + figures[2], figures[1] + figures[3])
        elif operator == b"Q":
            box = None
        elif operator == b"m":
            run = [np.array(figures)]
        elif operator == b"l":
            run.append(np.array(figures))
        elif operator == b"c":
            run += list(bezier(run[-1], *(np.array(figures[k : k + 2]) for k in (0, 2, 4))))
        elif operator == b"h":
            run.append(run[0])
        elif operator in (b"S", b"f*") and layer and box:  # only what lies in the window of the tile
            found.setdefault(layer, []).append(np.array(run) * scale)
    return page.extract_text(), window, found


def true_outline(outline):
    """An outline as a line string, its arcs in chords that leave them by a thousandth of a millimetre."""
    places = []
    nodes = [(v.x, v.y, v.bulge) for v in outline.vertices]
    for (x, y, bulge), (u, v, _) in zip(nodes, nodes[1:] + nodes[:1], strict=True):
        places.append((x, y))
        if bulge:
            centre, first, last, radius = bulge_to_arc((x, y), (u, v), bulge)
            count = max(2, math.ceil((last - first) % math.tau / (2 * math.acos(1 - 0.001 / radius))))
            turns = np.linspace(first, first + (last - first) % math.tau, count)[1:-1]
            arc = [(centre.x + radius * math.cos(turn), centre.y + radius * math.sin(turn)) for turn in turns]
            places += arc if bulge > 0 else arc[::-1]
    return shapely.LinearRing(places)


def crosses_of(words, curves):
    """The figures beside the crosses of a page, and the box between their middles, paper mm: as they are drawn and printed, from nothing else."""
    figures = [(float(x), float(y)) for x, y in re.findall(r"X (-?\d+)\s+Y (-?\d+)", words.replace("−", "-"))]
    assert len(figures) >= 2
    lines = [run for run in curves["DETAIL"] if len(run) == 2]
    middles = {(round(run[:, 0].mean(), 3), round(run[:, 1].mean(), 3)) for run in lines}
    assert len(middles) == 4
    left, low = min(x for x, _ in middles), min(y for _, y in middles)
    right, top = max(x for x, _ in middles), max(y for _, y in middles)
    assert max(x for x, _ in figures) - min(x for x, _ in figures) == pytest.approx(right - left, abs=1e-3)
    assert max(y for _, y in figures) - min(y for _, y in figures) == pytest.approx(top - low, abs=1e-3)
    return figures, (left, low, right, top)


def texts_on(sheet):
    return [mark.string for mark in sheet.marks if isinstance(mark, Text)]
