"""What stands on every detail sheet whatever the pane: cautions, the bar to measure, its number in the set; and names that are not cut."""

from __future__ import annotations

import importlib
import pkgutil
from dataclasses import replace
from functools import cache
from pathlib import Path as File
from typing import TYPE_CHECKING

import pytest

import geometry
from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.findings.odd_sizes import BANDS, names_of
from geometry.job import read_job
from geometry.job.reading import job_of
from geometry.ledger.finding import Constraint, Verdict
from outputs.record.moved import Moved
from outputs.sheet.boxes import texts_of
from outputs.sheet.entities import Path
from outputs.sheet.lettering import text_width
from outputs.sheet.outcomes import Fate
from outputs.sheets.contents import Contents
from outputs.sheets.detail_sheet import detail_of
from outputs.sheets.flag_words import short_name

if TYPE_CHECKING:
    from outputs.sheet.entities import Sheet

ROOT = File(__file__).parents[3]
WREN = read_job(ROOT / "samples" / "sallow-wren.toml")
FULL = job_of(
    '[[pane]]\ncode = "P1"\nframe = "aluminium"\nin_hull = true\nrake = -12\nrevision = "C"\nglass = { plies = [8] }\n'
    "outline = { rectangle = [600, 400], radius = 40 }\n"
    + "".join(f'[[pane.revisions]]\nletter = "{letter}"\nwhat = "joint"\n' for letter in "ABC")
)
SHOWN = {
    **{pane.code: (WREN, pane) for pane in WREN.panes},
    "minimal": (job := read_job(ROOT / "samples" / "minimal.toml"), job.panes[0]),
    "full": (FULL, FULL.panes[0]),
}
CAUTIONS = (
    "isocyanates",
    "flammable solvent vapour",
    "heavy and sharp",
    "uncured bead does not hold",
    "not an approval",
    "local codes, class, flag and licensed practice come first",
    "Stress limits are placeholders",
    "Not covered: plastics, fire-rated",
    "Ref.:",
)
MOVED = tuple(Moved(f"S{n} (spacer block)", "", "moved by 4 mm", 4.0, (60.0 * n, 0.0)) for n in range(1, 12))


@cache
def made(name: str) -> Sheet:
    job, pane = SHOWN[name]
    detail = build_detail(job, pane)
    return detail_of(Contents(job, pane, detail, check_pane(job, pane, detail, plate=False)))


def words_on(sheet: Sheet) -> str:
    """All lettering, each line as it follows the one before."""
    return " ".join(text.string for marks in (*(view.marks for view in sheet.views), sheet.marks) for text in texts_of(marks))


@pytest.mark.parametrize("name", SHOWN)
@pytest.mark.parametrize("caution", CAUTIONS)
def test_the_cautions_stand_on_every_sheet(name, caution):
    assert caution in words_on(made(name))


@pytest.mark.parametrize("name", SHOWN)
def test_cautions_of_the_head_stand_at_one_place(name):
    sheet = made(name)
    (plan,) = (view for view in sheet.views if view.name == "PLAN")
    (text,) = (text for text in texts_of(plan.marks) if text.string.startswith("CAUTION"))
    (x, y), (left, bottom) = plan.paper, plan.window[:2]
    found = x + (text.x - left) * plan.scale, sheet.height - y - (text.y - bottom) * plan.scale
    assert found == pytest.approx((94.0, 14.0), abs=1e-6)


@pytest.mark.parametrize("name", SHOWN)
def test_a_bar_of_100_mm_stands_in_the_margin_and_says_so(name):
    sheet = made(name)
    assert "100 mm at 100 %. Do not scale." in words_on(sheet)
    margin = [m for m in sheet.marks if isinstance(m, Path) and m.layer == "SEEN_OUTLINE" and all(n[0] < 20.0 for n in m.nodes)]
    lengths = [abs(m.nodes[1][1] - m.nodes[0][1]) for m in margin]
    assert max(lengths) == pytest.approx(100.0, abs=1e-9)
    assert all(0.0 < node[1] < sheet.height / 2 - 5.0 for m in margin for node in m.nodes)  # under the centring mark


@pytest.mark.parametrize("name", SHOWN)
def test_the_detail_sheet_is_the_first_of_four(name):
    assert "1 of 4" in words_on(made(name)).split("Sheet")[-1]


def names() -> set[str]:
    found: set[str] = set()
    for module in pkgutil.walk_packages(geometry.__path__, "geometry."):
        for value in vars(importlib.import_module(module.name)).values():
            for each in value if isinstance(value, tuple) else (value,):
                if isinstance(each, Constraint):
                    found.add(each.name)
    return found | {name for band in BANDS for name in names_of(band.what)}


def test_every_name_of_a_finding_fits_its_column_or_has_a_short_one():
    found = names()
    assert len(found) > 90
    short = {name: short_name(Constraint(name).not_checked(what="figure")) for name in found}
    assert not [name for name, told in short.items() if text_width(told, 2.5) > 38.8]  # column of 40 less the inset of 1,2
    rows = {told: name for name, told in short.items()}
    assert "joint left in corners" in rows


def test_what_moved_stands_in_the_revisions_and_at_its_place():
    pane = FULL.panes[0]
    detail = build_detail(FULL, pane)
    sheet = detail_of(Contents(FULL, pane, detail, None, moved=MOVED))
    told = words_on(sheet)
    assert "S1 (spacer block) moved by 4 mm" in told
    assert "11 changes in all: see the list" in told
    assert "…" not in told
    marks = [outcome for name, outcome in sheet.outcomes if name == "PLAN" and outcome.what.startswith("C at a change")]
    assert len(marks) == len(MOVED)
    assert sum(outcome.fate is Fate.DRAWN for outcome in marks) >= 6
    (plan,) = (view for view in sheet.views if view.name == "PLAN")
    letters = [text for text in texts_of(plan.marks) if text.string == "C" and text.layer == "FLAGS"]
    assert len(letters) == sum(outcome.fate is Fate.DRAWN for outcome in marks)


def test_an_unchanged_pane_says_that_nothing_moved():
    pane = FULL.panes[0]
    assert "nothing moved" in words_on(detail_of(Contents(FULL, pane, build_detail(FULL, pane), None, moved=())))


@pytest.mark.parametrize("code", ["SW-01", "SW-03", "SW-04", "SW-05", "SW-07", "SW-10"])
def test_flags_of_the_plate_make_no_larger_paper(code):
    """Every place that the plate can flag is flagged: its findings at all corners and in the middle of the pane."""
    job, pane = SHOWN[code]
    detail = build_detail(job, pane)
    check = check_pane(job, pane, detail, plate=False)
    first = check.findings[0]
    more = tuple(
        replace(first, name=name, verdict=Verdict.LOOK, value=0.2, limit=0.14, unit="MPa", at=corner.theoretical, part=part)
        for corner, part in ((corner, f"V{corner.number}") for corner in detail.corners)
        for name in ("tension of the bead where inward pressure lifts the pane", "bending stress of the glass")
    )
    sheet = detail_of(Contents(job, pane, detail, replace(check, findings=(*check.findings, *more))))
    assert sheet.size == "A3"
