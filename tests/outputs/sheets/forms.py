"""What the forms to fill in are tried on: the ten panes of the sample vessel, other samples, and odd panes; and what a page must keep."""

from __future__ import annotations

import runpy
from functools import cache
from itertools import combinations
from pathlib import Path
from typing import TYPE_CHECKING

from geometry.findings.check import check_pane
from geometry.job import read_job
from geometry.job.reading import job_of
from outputs.sheet.boxes import box_of_text, grown
from outputs.sheet.entities import Path as Run
from outputs.sheet.entities import Text
from outputs.sheet.keep_clear import crosses, facets
from outputs.sheets.contents import Contents

if TYPE_CHECKING:
    from outputs.sheet.entities import Sheet

ROOT = Path(__file__).parents[3]
HEAD = '[[pane]]\ncode = "ODD"\nframe = "aluminium"\nglass = { plies = [8] }\n'
ODD = {
    "L": "{ polygon = [[0, 0], [900, 0], [900, 500], [500, 500], [500, 700], [0, 700]], radius = 20 }",
    "triangle": "{ polygon = [[0, 0], [700, 0], [250, 400]], radius = 12 }",
    "kite": "{ polygon = [[400, 0], [800, 300], [400, 900], [0, 300]], radius = 30 }",
    "round 180": "{ circle = 180 }",
    "strip 3000": "{ rectangle = [3000, 300], radius = 20 }",
    "path with arcs": "{ path = [[0, 0], [800, 0, 0.3], [800, 500], [200, 500, -0.2], [0, 500]] }",
    "oval": "{ ellipse = [900, 500] }",
    "slot": "{ path = [[200, 0], [800, 0, 1], [800, 300], [200, 300, 1]] }",
    "large": "{ rectangle = [5800, 2400], radius = 150 }",
}
# of a hundred random panes: a high recess of its own, whose readings ran into their boxes, and an oval with a mark of wide letters
SEEDS = (100_007, 100_022)
random_job = runpy.run_path(str(ROOT / "tests" / "random_panes.py"))["random_job"]
JOBS = {
    **{name: job_of(f"{HEAD}outline = {outline}\n") for name, outline in ODD.items()},
    "laminate": job_of(
        f"{HEAD}outline = {{ rectangle = [1000, 600], radius = 50 }}\n".replace("[8] }", "[12, 12], interlayers = [1.52] }")
    ),
    **{f"random {seed}": job_of(random_job(seed)[1]) for seed in SEEDS},
    **{
        name: read_job(ROOT / "samples" / f"{name}.toml")
        for name in ("sallow-wren", "pair", "own-recess", "deck-light", "every-key")
    },
}
PANES = [(name, pane.code) for name, job in JOBS.items() for pane in job.panes if name != "every-key" or pane.made is not None]
"""Of the job with every key the panes as made: what arrives is measured against the order."""


@cache
def contents_of(name: str, code: str) -> Contents:
    job = JOBS[name]
    pane = next(pane for pane in job.panes if pane.code == code)
    check = check_pane(job, pane)
    return Contents(job, pane, check.subject.detail, check)


def texts_of_page(sheet: Sheet) -> list[Text]:
    return [mark for mark in sheet.marks if isinstance(mark, Text)]


def nothing_lies_on_a_text(sheet: Sheet) -> None:
    """No text on another, none out of the margins, none run through by a line of a box or an outline."""
    texts = texts_of_page(sheet)
    boxes = [box_of_text(text, 1.0) for text in texts]
    for (one, a), (other, b) in combinations(zip(texts, boxes, strict=True), 2):
        apart = a[2] <= b[0] + 0.01 or b[2] <= a[0] + 0.01 or a[3] <= b[1] + 0.01 or b[3] <= a[1] + 0.01
        assert apart, (sheet.title, one.string, other.string)
    lines = [facet for mark in sheet.marks if isinstance(mark, Run) for facet in facets(mark.nodes, closed=mark.closed)]
    for text, box in zip(texts, boxes, strict=True):
        assert box[0] >= 9.5 and box[2] <= 200.5 and box[1] >= 9.5 and box[3] <= 287.5, (sheet.title, text.string, box)
        assert not any(crosses(grown(box, 0.1), facet) for facet in lines), (sheet.title, text.string)
