"""The cutting planes on the plan: nothing runs through their letters."""

from __future__ import annotations

from itertools import combinations

import pytest
from shapely import LineString

from geometry.detail.build import build_detail
from geometry.job.reading import job_of
from outputs.sheet.boxes import box_of_text, texts_of
from outputs.sheet.entities import Text
from outputs.sheet.keep_clear import crosses, straights_of
from outputs.sheets.contents import Contents
from outputs.sheets.detail_sheet import detail_of

PANES = {
    "oval, jamb cut beside a spacer": """
frame = "steel"
glass = { plies = [8, 8], interlayers = [1.52] }
outline = { ellipse = [1757, 585] }
pressure = { outward = 1.5, inward = 15 }
""",
    "stadium, jamb cut beside a spacer": """
frame = "grp"
rake = 35
glass = { plies = [12] }
outline = { path = [[0, 0], [606, 0, 1], [606, 302], [0, 302, 1]] }
pressure = { outward = 3, inward = 15 }
""",
    "upright in a recess of its own, head cut beside the frame of the enlarged corner": """
frame = "grp"
rake = 35
glass = { plies = [6] }
outline = { rectangle = [312, 908], radius = 80 }
pressure = { outward = 5, inward = 10 }
recess = { outline = { rectangle = [324, 920], radius = 30 } }
""",
    "seven corners, bead start beside the head's plane": """
frame = "steel"
rake = 15
glass = { plies = [10] }
outline = { polygon = [[899.8, -131.7], [416.9, 488.9], [-154.6, 639.1], [-715.3, 389.3], [-766.8, -203.8], [-290.1, -483.2], [743.0, -513.3]] }
pressure = { outward = 1.5, inward = 10 }
""",
}


@pytest.mark.parametrize("name", PANES)
def test_letters_of_cutting_planes_stand_clear_of_every_line(name):
    """Both letters of each plane stand on the plan, and no stroke of it, dimensions included, enters the box of one."""
    job = job_of(f'[[pane]]\ncode = "X"{PANES[name]}')
    detail = build_detail(job, job.panes[0])
    views = detail_of(Contents(job, job.panes[0], detail)).views
    plan = next(view for view in views if view.name == "PLAN")
    names = [view.name[-1] for view in views if "SECTION" in view.name]
    letters = [text for text in texts_of(plan.marks) if text.string in names]
    assert sorted(text.string for text in letters) == sorted(2 * names)
    strokes = straights_of(mark for mark in plan.marks if not isinstance(mark, Text))
    struck = {text.string for text in letters for stroke in strokes if crosses(box_of_text(text, plan.scale), stroke)}
    assert not struck


CLOSE = {
    "triangle, jamb and head cut beside the sharp corner": """
frame = "aluminium"
rake = -10
glass = { plies = [8] }
outline = { polygon = [[540.7, -52.3], [-315.3, 234.4], [-311.0, -220.6]], radius = 15 }
""",
    "bowed jamb, cut beside a spacer": """
frame = "steel"
glass = { plies = [6] }
outline = { path = [[0, 0, 0.05], [653, 0, 0.2], [653, 516, 0.15], [0, 516]] }
pressure = { outward = 3, inward = 10 }
""",
}


@pytest.mark.parametrize("name", [*PANES, *CLOSE])
def test_ends_of_cutting_planes_stand_clear_of_one_another(name):
    """No stroke and no arrow of one plane meets that of another: beside a sharp corner an end stands farther along its own line."""
    job = job_of(f'[[pane]]\ncode = "X"{(PANES | CLOSE)[name]}')
    detail = build_detail(job, job.panes[0])
    views = detail_of(Contents(job, job.panes[0], detail)).views
    plan = next(view for view in views if view.name == "PLAN")
    ends = [
        LineString([node[:2] for node in mark.nodes])
        for mark in plan.marks
        if mark.layer == "SECTION_MARKS" and not isinstance(mark, Text)
    ]
    assert len(ends) >= 4 * sum("SECTION" in view.name for view in views)  # two ends of stroke and arrow each
    assert not [(one.wkt, other.wkt) for one, other in combinations(ends, 2) if one.intersects(other)]
