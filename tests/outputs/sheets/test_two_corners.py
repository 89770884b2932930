"""Two enlarged corners side by side: the names of the second end before the window of the first."""

from __future__ import annotations

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import job_of
from outputs.files.proof import prove
from outputs.sheet.entities import Text
from outputs.sheets.contents import Contents
from outputs.sheets.detail_sheet import detail_of

JOB = """
[[pane]]
code = "W1"
frame = "aluminium"
glass = {{ plies = [6, 6], interlayers = [1.52] }}
outline = {{ polygon = [[0, 0], [710, 0], [625, 610], [42, 610]], radius = {radius} }}
recess = {{ depth = 22 }}
bond = {{ width = 18, thickness = 6 }}
rake = 12
"""


@pytest.mark.parametrize("radius", ["80", "80.4", "[80, 60.5, 45.5, 100.5]"])
def test_long_names_of_radii_end_before_the_next_window(radius):
    """A trapezoid whose sheet was refused: "R37  frit, inner edge" reached 0.04 mm too far."""
    job = job_of(JOB.format(radius=radius))
    detail = build_detail(job, job.panes[0])
    sheet = detail_of(Contents(job, job.panes[0], detail, check_pane(job, job.panes[0], detail, plate=False)))
    prove(sheet)
    views = {view.name: view for view in sheet.views}
    first, second = views["DETAIL Z"], views["DETAIL Y"]
    right = second.paper[0] + (second.window[2] - second.window[0]) * second.scale
    assert right < first.paper[0]
    assert any("frit, inner edge" in mark.string for mark in second.marks if isinstance(mark, Text))
