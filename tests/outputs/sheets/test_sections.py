"""The sections of the detail sheet: their figures are the geometry, their numbers end on their parts, and what was planned has an end."""

from __future__ import annotations

import math
import re
from functools import cache
from pathlib import Path as File

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import read_job
from geometry.job.reading import job_of
from outputs.drawing.balloons import ITEM_OF
from outputs.sheet.boxes import texts_of
from outputs.sheet.entities import Dimension, Fill
from outputs.sheet.outcomes import Fate, Outcome
from outputs.sheets.contents import Contents
from outputs.sheets.detail_sheet import detail_of
from outputs.sheets.detail_tables import part_rows
from outputs.sheets.flag_words import FEATURES, SHORT

ROOT = File(__file__).parents[3]
JOB = read_job(ROOT / "samples" / "sallow-wren.toml")
CODES = [pane.code for pane in JOB.panes]
DRAFTED = """
[[pane]]
code = "P1"
frame = "grp"
glass = { plies = [8] }
outline = { rectangle = [900, 450], radius = 60 }
recess = { draft = 3, fillet = 2 }
"""


@cache
def made(code: str):
    pane = next(pane for pane in JOB.panes if pane.code == code)
    detail = build_detail(JOB, pane)
    check = check_pane(JOB, pane, detail)
    return detail, check, detail_of(Contents(JOB, pane, detail, check))


def view(sheet, name: str):
    return next(each for each in sheet.views if each.name == name)


def leading(text: str) -> float:
    return float(text.strip("(").split(" ")[0].rstrip(")").replace(",", "."))


@pytest.mark.parametrize("code", CODES)
def test_every_figure_is_the_length_it_stands_on(code):
    """A figure is rounded as finely as its tolerance deserves: to a half from 1 mm of tolerance on, else to a tenth (own default)."""
    _, _, sheet = made(code)
    for name in ("SECTION A", "SECTION B", "SECTION W"):
        for each in sheet.views:
            if each.name == name:
                for mark in each.marks:
                    if isinstance(mark, Dimension) and " to " not in mark.text:
                        assert leading(mark.text) == pytest.approx(mark.measured, abs=0.26), mark.text


@pytest.mark.parametrize("code", CODES)
def test_the_sizes_of_the_pane_are_told_once_in_the_first_section(code):
    detail, _, sheet = made(code)
    crossing, levels = detail.sections[0].crossing, detail.sections[0].levels
    told = [mark.measured for mark in view(sheet, "SECTION A").marks if isinstance(mark, Dimension)]
    for value in (
        crossing.glass_edge,
        crossing.bead_inner - crossing.bead_outer,
        crossing.frit_inner - crossing.glass_edge,
        crossing.landing,
        levels.bond_face,
        levels.skin,
        detail.glass.thickness,
    ):
        assert any(math.isclose(value, each, abs_tol=1e-6) for each in told), value


@pytest.mark.parametrize("code", CODES)
def test_numbers_of_parts_stand_in_the_list_and_end_on_their_parts(code):
    detail, _, sheet = made(code)
    listed = [row[0] for row in part_rows(detail)]
    assert listed == [str(number) for number in range(1, len(listed) + 1)]
    shown = {
        text.string
        for each in sheet.views
        if "SECTION" in each.name
        for text in texts_of(each.marks)
        if text.layer == "TEXT" and text.string.isdigit()
    }
    assert shown <= set(listed)
    assert {ITEM_OF["frame"], ITEM_OF["adhesive"], ITEM_OF["glass"]} <= shown


def test_draft_and_fillet_are_told_where_there_are_any():
    job = job_of(DRAFTED)
    sheet = detail_of(Contents(job, job.panes[0], build_detail(job, job.panes[0])))
    strings = [text.string for text in texts_of(view(sheet, "SECTION A").marks)]
    assert "draft 3°" in strings
    assert "R2" in strings
    upright = [text.string for text in texts_of(view(made("SW-01")[2], "SECTION A").marks)]
    assert not [string for string in upright if "draft" in string]


def test_the_worst_place_of_a_failing_joint_is_cut():
    """SW-09 as surveyed: 7 mm of joint as designed, 1,12 mm at the tightest place of the right jamb (the job file's own figures)."""
    _, check, sheet = made("SW-09")
    worst = min(f.value for f in check.findings if f.name == "joint left at the worst tolerances" and f.value is not None)
    joints = [mark for mark in view(sheet, "SECTION W").marks if isinstance(mark, Dimension)]
    assert any(mark.measured == pytest.approx(worst, abs=0.01) for mark in joints)


def test_an_overlap_is_a_word_and_no_negative_figure():
    from outputs.drawing.section_figures import joint_words

    assert joint_words(-3.941, 2.5) == "overlap 3,94"
    assert joint_words(1.5, 2.0) == "overlap 0,5 to 3,5"


@pytest.mark.parametrize(
    ("width", "tolerance", "told"), [(6.0, 2.75, "3,3 to 8,7"), (4.37, 1.75, "2,7 to 6,1"), (5.0, 2.5, "2,5 to 7,5")]
)
def test_limits_of_a_joint_are_no_finer_than_its_tolerance_and_never_wider_than_it_allows(width, tolerance, told):
    """By hand: 6 less and more 2,75 is 3,25 and 8,75, to a tenth inwards 3,3 and 8,7; 4,37 ± 1,75 is 2,62 and 6,12."""
    from outputs.drawing.section_figures import joint_words

    assert joint_words(width, tolerance) == told


def test_the_joint_of_an_even_recess_has_the_limits_of_the_card():
    """On the section and where the fitter reads it, unless the limits of the checks cut what the tolerances allow."""
    compared = 0
    for code in CODES:
        _, check, sheet = made(code)
        gaps = check.fitting.gaps
        told = [t.string for t in texts_of(view(sheet, "SECTION A").marks) if re.fullmatch(r"[\d,]+ to [\d,]+", t.string)]
        if max(each.gap for each in gaps) - min(each.gap for each in gaps) < 0.04 and told:
            low, high = (float(part.replace(",", ".")) for part in told[0].split(" to "))
            least, most = (float(check.subject.limit(f"joint_{end}").value) for end in ("least", "most"))
            assert (gaps[0].gap_least, gaps[0].gap_most) == (max(low, least), min(high, most)), code
            compared += 1
    assert compared >= 3


def test_words_of_the_flags_are_of_findings_that_there_are():
    names = {f.name for code in CODES for f in made(code)[1].findings}
    source = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "geometry").rglob("*.py"))
    for name in (*SHORT, *FEATURES):
        assert name in names or name in source or name.replace("'", "\\'") in source, name


def test_a_chock_is_black_on_the_plan_and_a_spacer_an_outline():
    _, _, sheet = made("SW-01")
    filled = {block.name for block in sheet.blocks if any(isinstance(mark, Fill) for mark in block.marks)}
    assert filled
    assert all("SPACER" not in name for name in filled)


def test_no_reason_no_end():
    with pytest.raises(ValueError, match="no reason"):
        Outcome("S1", Fate.LEFT_OUT)
