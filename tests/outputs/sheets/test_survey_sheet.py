"""The survey sheet: its limits are those of the findings, its blank table filled in is read back by station, and no text meets another.

All readings are invented.
"""

from __future__ import annotations

import math
import random
import re
import shutil
import subprocess
from itertools import pairwise

import pytest
from forms import HEAD, PANES, contents_of, nothing_lies_on_a_text, texts_of_page

from geometry.findings.check import check_pane
from geometry.findings.fit.survey_limits import survey_limits
from geometry.incoming.survey import read_survey
from geometry.incoming.survey_faults import SurveyError
from geometry.job import read_job
from geometry.ledger.finding import Verdict
from geometry.outline import Point, moved, nearest_station
from geometry.workings.survey_stations import corner_radii, survey_plan
from geometry.workings.surveyed_recess import STATIONS_APART
from outputs.documents import document_files
from outputs.drawing.card_hand import HEIGHT
from outputs.sheets.survey_sheet import FOOT, ROW, survey_csv, survey_sheets

VESSEL = [code for name, code in PANES if name == "sallow-wren"]


def filled(contents, *, inside: bool, seed: int = 1, off: float = 0.0, depth: float = 16.0, landing: float = 60.0) -> bytes:
    """The blank table as somebody fills it in: what the recess as drawn would read, up to ``off`` mm beside it, its rows in any order."""
    by_chance = random.Random(seed)
    plan = {each.number: each for each in survey_plan(contents.check.subject, inside=inside).places}
    lines = survey_csv(contents, inside=inside).decode().splitlines()
    head = next(at for at, line in enumerate(lines) if not line.startswith("#"))
    rows = []
    for line in lines[head + 1 :]:
        number, edge, x, y, _, _ = line.split(";")
        read = f"{plan[int(number)].wanted + by_chance.uniform(-off, off):.3f}"
        rows.append(";".join((number, edge, x or read, y or read, f"{depth}", f"{landing}")))
    by_chance.shuffle(rows)
    return "\n".join((*lines[: head + 1], *rows)).encode()


def radii(contents) -> list[float] | None:
    return list(corner_radii(survey_plan(contents.check.subject, inside=False).recess)) or None


@pytest.mark.parametrize(("name", "code"), PANES)
def test_no_text_meets_another_and_every_station_stands(name, code):
    contents = contents_of(name, code)
    sheets = survey_sheets(contents)
    for sheet in sheets:
        nothing_lies_on_a_text(sheet)
    for side, inside in (("OUTSIDE", False), ("INSIDE", True)):
        pages = [sheet for sheet in sheets if f"seen from {side}" in {text.string for text in texts_of_page(sheet)}]
        told = [text.string for sheet in pages for text in texts_of_page(sheet)]
        for place in survey_plan(contents.check.subject, inside=inside).places:
            assert told.count(str(place.number)) >= 2, (side, place.number)  # in the picture and in its row
            assert f"{'Y' if place.reads == 'x' else 'X'} {place.set_out:.0f}" in told
        assert any("over the arcs" in each for each in told) == ("V1 to V3" in told), "a diagonal box says what it runs over"
        assert "HOW TO MEASURE, mm" in told, "what is set out has its unit where it is read first"


@pytest.mark.parametrize(("name", "code"), PANES)
def test_stations_are_spread_evenly_over_as_few_pages_as_hold_them(name, code):
    """Rows counted on the paper; only the first page, with the picture, may hold fewer, and then it is full. SW-04 once ended with a few rows."""
    sheets = survey_sheets(contents_of(name, code))
    for side in ("OUTSIDE", "INSIDE"):
        pages = [sheet for sheet in sheets if f"seen from {side}" in {text.string for text in texts_of_page(sheet)}]
        lows = [sorted({text.y for text in texts_of_page(sheet) if re.fullmatch(r"[XY] -?\d+", text.string)}) for sheet in pages]
        first, *more = (len(each) for each in lows)
        pitch = min(over - under for each in lows for under, over in pairwise(each))
        assert pitch >= ROW - 1e-9
        if not more:
            continue
        assert max(more) - min(more) <= 1
        assert first <= max(more) + 1
        left = lows[0][0] - (HEIGHT - FOOT)  # under the last row's line of print on the first page
        assert first >= min(more) - 1 or left < 2 * ROW, (first, more)
        top = max(max(each) for each in lows[1:]) + ROW
        assert first + sum(more) > first_full(lows) + (len(more) - 1) * int((top - (HEIGHT - FOOT)) // ROW)


def first_full(lows) -> int:
    """How many rows the first page holds at their least height, from its first row down."""
    return int((lows[0][-1] + ROW - (HEIGHT - FOOT)) // ROW)


@pytest.mark.parametrize(
    ("code", "inside"), [*((code, False) for code in VESSEL), ("SW-02", True), ("SW-03", True), ("SW-08", True)]
)
def test_a_table_filled_in_is_the_recess_whatever_its_order(code, inside):
    """Readings within 0.3 mm give the wall within half a millimetre, seen from either side: the file itself says from which."""
    contents = contents_of("sallow-wren", code)
    plan = survey_plan(contents.check.subject, inside=inside)
    found = read_survey(filled(contents, inside=inside, off=0.3), name="blank", radius=radii(contents))
    assert any(f"on the survey sheet of pane {code}" in note for note in found.mended)  # whose recess it is, is never lost
    assert len(found.points) == len(plan.places)
    assert {point.station for point in found.points} == {str(place.number) for place in plan.places}
    shifted = [moved(each, plan.datum.x, plan.datum.y) for each in (found.wall, found.outline)]
    for place in plan.places:
        for outline, most in zip(shifted, (0.31, 0.5 if radii(contents) or found.shape else 2.5), strict=True):
            assert math.dist(nearest_station(outline, place.at).point, place.at) < most, place.number


@pytest.mark.parametrize(("name", "code"), [each for each in PANES if each[0] != "sallow-wren"])
def test_stations_of_odd_panes_are_read_too(name, code):
    contents = contents_of(name, code)
    plan = survey_plan(contents.check.subject, inside=False)
    found = read_survey(filled(contents, inside=False), name="blank", radius=radii(contents))
    wall = moved(found.wall, plan.datum.x, plan.datum.y)
    for place in plan.places:
        assert math.dist(nearest_station(wall, place.at).point, place.at) < 0.01, place.number
    assert found.deviation < (0.1 if radii(contents) else 2.5)


def test_a_blank_is_told_by_its_station_and_is_no_figure():
    contents = contents_of("sallow-wren", "SW-01")
    with pytest.raises(SurveyError) as caught:
        read_survey(survey_csv(contents, inside=False), name="blank")
    assert "station 1: no y" in str(caught.value) and "station 16: no x" in str(caught.value)
    rows = filled(contents, inside=False).decode().splitlines()
    at = next(index for index, row in enumerate(rows) if row.startswith("5;"))
    cells = rows[at].split(";")
    rows[at] = ";".join((*cells[:4], "", cells[5]))
    found = read_survey("\n".join(rows).encode(), name="blank")
    assert "station 5: no depth" in found.mended
    assert next(point for point in found.points if point.station == "5").depth is None
    rows[at] = ";".join((*cells[:2], cells[2], "", *cells[4:]))
    with pytest.raises(SurveyError, match="station 5: no y"):
        read_survey("\n".join(rows).encode(), name="blank")


def test_a_file_and_a_job_that_name_two_sides_are_refused():
    contents = contents_of("sallow-wren", "SW-01")
    with pytest.raises(SurveyError, match="inside"):
        read_survey(filled(contents, inside=True), name="blank", seen_from="outside")
    with pytest.raises(SurveyError, match="seen from"):
        read_survey(filled(contents, inside=True).replace(b"seen from: inside", b"seen from: above"), name="blank")


def surveyed(tmp_path, contents, made="", **readings) -> dict:
    """The findings of the same pane in a recess that was read as the sheet was filled in; ``made`` is what was read on the pane."""
    (tmp_path / "read.csv").write_bytes(filled(contents, inside=False, **readings))
    job = tmp_path / "job.toml"
    job.write_text(
        HEAD + 'recess = { outline = { survey = "read.csv", radius = 20 }, depth = 14, landing = 40 }\n'
        "outline = { rectangle = [900, 600], radius = 20 }\njoint = { width = 8 }\nbond = { thickness = 5, width = 14, set_back = 8 }\n"
        + made
    )
    read = read_job(job)
    return {finding.name: finding for finding in check_pane(read, read.panes[0]).findings}


@pytest.mark.parametrize("made", ["", "made = { thickness = 9.4 }\n"])
def test_the_limits_beside_the_boxes_are_those_of_the_findings(tmp_path, made):
    """A reading on a limit passes, one a hair beyond does not: depth both ways, the landing, by the findings of the survey itself.

    So it is of a pane whose thickness was read: the findings take the glass that lies there, not the one that was ordered.
    """
    job = tmp_path / "drawn.toml"
    job.write_text(
        HEAD + "recess = { depth = 14, landing = 40 }\noutline = { rectangle = [900, 600], radius = 20 }\njoint = { width = 8 }\n"
        "bond = { thickness = 5, width = 14, set_back = 8 }\n" + made
    )
    read = read_job(job)
    check = check_pane(read, read.panes[0])
    from outputs.sheets.contents import Contents

    contents = Contents(read, read.panes[0], check.subject.detail, check)
    limits = survey_limits(check.subject)
    deep = ("glass not too proud at any surveyed station", "bond left where the surveyed recess is shallowest")
    for readings, names, passes in (
        ({"depth": limits.depth_least + 0.001}, deep, True),
        ({"depth": limits.depth_least - 0.05}, deep, False),
        ({"depth": limits.depth_most - 0.001}, ("glass not too sunk at any surveyed station",), True),
        ({"depth": limits.depth_most + 0.05}, ("glass not too sunk at any surveyed station",), False),
        ({"landing": limits.landing + 0.01}, ("bead and its squeeze-out on the landing at every surveyed station",), True),
        ({"landing": limits.landing - 0.05}, ("bead and its squeeze-out on the landing at every surveyed station",), False),
    ):
        found = surveyed(tmp_path, contents, made, **{"depth": 14.0, "landing": 60.0, **readings})
        assert all(found[name].verdict is Verdict.PASS for name in names) is passes, (readings, names)
    close = surveyed(tmp_path, contents, depth=14.0)["stations of the survey close enough"]
    assert close.verdict is Verdict.PASS and close.limit == STATIONS_APART


@pytest.mark.parametrize("code", VESSEL)
def test_the_wall_on_a_limit_leaves_the_joint_that_the_limit_says(code):
    """By the distance from the glass edge alone: what is read on its least or greatest is 3 or 15 mm off it."""
    contents = contents_of("sallow-wren", code)
    subject = contents.check.subject
    limits = survey_limits(subject)
    for inside in (False, True):
        plan = survey_plan(subject, inside=inside)
        side = -1.0 if inside else 1.0
        for place in plan.places:
            if place.least is None or place.most is None:
                continue
            joints = []
            for read in (place.least, place.most):
                x, y = (read, place.set_out) if place.reads == "x" else (place.set_out, read)
                at = Point(plan.datum.x + side * x, plan.datum.y + y)
                joints.append(math.dist(nearest_station(subject.detail.curves.glass, at).point, at))
            assert sorted(joints) == pytest.approx([limits.joint_least, limits.joint_most], abs=1e-6), place.number


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="no pdftotext stands here to read the print")
def test_a_recess_without_corners_has_no_string_from_corner_to_corner():
    for code, wanted in (("SW-04", "side to side"), ("SW-01", "corner to corner")):
        words = " ".join(text.string for text in texts_of_page(survey_sheets(contents_of("sallow-wren", code))[0]))
        assert wanted in words, code


def test_files_of_the_survey_sheet(tmp_path):
    contents = contents_of("sallow-wren", "SW-02")
    files = document_files(contents, ["survey"], ["pdf", "svg", "dxf"])
    stem = contents.pane.file_stem
    assert set(files) == {f"{stem}-survey{end}" for end in (".dxf", "-1.svg", "-2.svg", ".pdf", ".csv", "-inside.csv")}
    (tmp_path / "sheet.pdf").write_bytes(files[f"{stem}-survey.pdf"])
    told = subprocess.run(["pdftotext", tmp_path / "sheet.pdf", "-"], capture_output=True, text=True, check=True).stdout
    for words in ("seen from OUTSIDE", "seen from INSIDE", "SURVEY SHEET", "X 349", f"{stem}-survey-inside.csv"):
        assert words in told
