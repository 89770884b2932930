"""Pages of the invented vessel's panes and of odd ones, made once for all tests."""

from __future__ import annotations

from functools import cache
from pathlib import Path as File

from geometry.findings.check import check_pane
from geometry.job import read_job
from geometry.job.reading import job_of
from outputs.page.card_page import card_page
from outputs.sheets.contents import Contents

SAMPLES = File(__file__).parents[3] / "samples"
TEXT = (SAMPLES / "sallow-wren.toml").read_text("utf-8")
JOB = read_job(SAMPLES / "sallow-wren.toml")
CODES = [pane.code for pane in JOB.panes]
PANE = '[[pane]]\ncode = "P1"\nframe = "aluminium"\nglass = {{ plies = {plies} }}\noutline = {outline}\n'
ODD = {
    "L": ("[8]", "{ polygon = [[0, 0], [900, 0], [900, 400], [400, 400], [400, 900], [0, 900]], radius = 30 }"),
    "triangle": ("[8]", "{ polygon = [[0, 0], [700, 0], [200, 600]], radius = 25 }"),
    "strip of 3000": ("[10]", "{ rectangle = [3000, 300], radius = 40 }"),
    "oval": ("[8]", "{ ellipse = [1300, 460] }"),
    "thick laminate": ("[12, 12, 12], interlayers = [1.52, 1.52]", "{ rectangle = [1400, 900], radius = 60 }"),
    "very long": ("[10]", "{ rectangle = [9000, 700], radius = 40 }"),
}
MARKUP = PANE.format(plies="[8]", outline="{ rectangle = [700, 400], radius = 40 }") + (
    "name = '<b>bold</b> & </script><script>alert(1)</script>'\n"
)


def contents_from(text: str, code: str | None = None) -> Contents:
    """The contents of one pane of a job's text, its first where no code is given."""
    job = job_of(text)
    pane = next(each for each in job.panes if code in (None, each.code))
    check = check_pane(job, pane)
    return Contents(job, pane, check.subject.detail, check)


@cache
def contents_of(name: str) -> Contents:
    """The contents of a pane of the vessel, of an odd one or of one with markup in its name."""
    if name in CODES:
        pane = JOB.panes[CODES.index(name)]
        check = check_pane(JOB, pane)
        return Contents(JOB, pane, check.subject.detail, check)
    if name == "markup":
        return contents_from(MARKUP)
    plies, outline = ODD[name]
    return contents_from(PANE.format(plies=plies, outline=outline))


@cache
def page_of(name: str) -> bytes:
    """The page of such a pane."""
    return card_page(contents_of(name))


def with_work(text: str, **values: str) -> str:
    """The vessel's job with other keys of the shared table of the work."""
    return text.replace(
        "[climate]", "[work]\n" + "".join(f"{key} = {value}\n" for key, value in values.items()) + "\n[climate]", 1
    )
