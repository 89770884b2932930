"""The record holds every place that the tables of the sheet leave out, and the note on the sheet says so."""

from __future__ import annotations

import math
import re

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import job_of
from outputs.record.data import pane_data
from outputs.record.pane_page import pane_page
from outputs.sheet.boxes import texts_of
from outputs.sheets.contents import Contents
from outputs.sheets.detail_sheet import detail_of

RADIUS = 500.0
MANY = [(RADIUS + RADIUS * math.cos(math.pi * i / 60), RADIUS + RADIUS * math.sin(math.pi * i / 60)) for i in range(120)]
JOB = f"""
[[pane]]
code = "A"
frame = "aluminium"
glass = {{ plies = [8] }}
outline = {{ polygon = {[[round(x, 4), round(y, 4)] for x, y in MANY]} }}
"""


def test_a_note_that_sends_the_reader_to_the_record_finds_every_vertex_edge_and_block_there():
    job = job_of(JOB)
    detail = build_detail(job, job.panes[0])
    check = check_pane(job, job.panes[0], detail)
    words = " ".join(text.string for text in texts_of(detail_of(Contents(job, job.panes[0], detail, check)).marks))
    assert re.search(r"edge e\d+, .*: see card and record\.", words)

    data, page = pane_data(check), pane_page(job, check, ()).decode("utf-8")
    assert len(data["vertices"]) == len(data["edges"]) == 120
    for vertex in data["vertices"]:
        assert min(math.dist((vertex["x"], vertex["y"]), place) for place in MANY) < 1e-3
    assert {each["mark"] for each in data["blocks"]} == {each.mark for each in (*detail.chocks, *detail.spacers)}
    for name in ("V1", "V120", "e1", "e120", *(each["mark"] for each in data["blocks"])):
        assert f'<th scope="row" class="first">{name}</th>' in page
