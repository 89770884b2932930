"""The stations of a surveyed recess on sheet and card: what was measured stands there, and every spacer's own height.

Depths are those of the sample's survey. A spacer's free height by hand: the bond that a depth leaves under the glass as drawn is thinner or
thicker by the same as the recess is shallower or deeper; the free spacer is that bond over one less its squeeze.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import read_job
from geometry.workings.joint_round import joint_round_of
from geometry.workings.surveyed_recess import own_spacer_heights, surveyed_recess_of
from outputs.sheet.drafting import number
from outputs.sheet.entities import Text
from outputs.sheets.card import card_sheets
from outputs.sheets.contents import Contents
from outputs.sheets.detail_sheet import detail_of
from outputs.sheets.detail_stations import chosen_stations, stations_words

SAMPLES = Path(__file__).resolve().parents[3] / "samples"
MEASURED = [
    line.split(";") for line in (SAMPLES / "deckhouse-aft.csv").read_text(encoding="utf-8").splitlines() if line[:1] not in "#e"
]


@cache
def contents(name="from-survey.toml"):
    job = read_job(SAMPLES / name)
    pane = job.panes[0]
    detail = build_detail(job, pane)
    return Contents(job, pane, detail, check_pane(job, pane, detail, plate=False))


@cache
def sheet():
    return detail_of(contents())


def texts(marks):
    return [mark for mark in marks if isinstance(mark, Text)]


def test_every_station_has_its_row_with_depth_and_landing_as_measured():
    marks = texts(sheet().marks)
    (title,) = (each for each in marks if each.string == "Stations of the survey")
    for edge, station, _, _, depth, landing in MEASURED:
        (name,) = (each for each in marks if each.string == f"{edge} {station}" and each.y < title.y)
        row = [
            each.string
            for each in sorted(marks, key=lambda each: each.x)
            if each.y == name.y and title.x <= each.x < title.x + 115
        ]
        assert row[0] == station
        assert [row[3], row[-1]] == [number(float(each.replace(",", ".")), decimals=1) for each in (depth, landing)]


def test_the_numbers_of_the_table_stand_at_the_stations_of_the_plan():
    """Each number is that of the survey's row whose joint it tells."""
    recess = surveyed_recess_of(contents().check.subject)
    (plan,) = (view for view in sheet().views if view.name == "PLAN")
    told = [each.string.split(": ") for each in texts(plan.marks) if each.layer == "DIMENSIONS" and ": " in each.string]
    assert len(told) == 8  # two between the corners of each side
    for count, joint in told:
        assert joint == number(recess.stations[int(count) - 1].joint, decimals=1)


def test_every_spacer_has_the_height_of_the_depth_beside_it_on_sheet_and_card():
    subject = contents().check.subject
    heights = own_spacer_heights(subject)
    sizes, squeeze = subject.sizes, subject.pane.spacers.squeeze / 100
    for each in surveyed_recess_of(subject).spacers:
        bond = sizes.bond_thickness.value + each.depth - sizes.recess_depth.value
        assert heights[each.mark] == pytest.approx(bond / (1 - squeeze))
        assert 15.7 <= each.depth <= 16.5  # between the shallowest and the deepest station
    words = " ".join(each.string for each in texts(sheet().marks))
    assert all(f"{mark} {number(height, decimals=1)}" in words for mark, height in heights.items())
    assert (
        f"{number(min(heights.values()), decimals=1)} to {number(max(heights.values()), decimals=1)} free, each its own" in words
    )


def test_no_height_of_one_for_all_stands_on_the_card_where_each_spacer_has_its_own():
    sides = card_sheets(contents())
    heights = own_spacer_heights(contents().check.subject)
    assert "own heights" in " ".join(each.string for each in texts(sides[0].marks))
    placed = {
        what.removeprefix("height of ")
        for _, what, fate in _fates(sides[0])
        if what.startswith("height of S") and fate == "DRAWN"
    }
    listed = {
        what.removeprefix("height of ")
        for _, what, fate in _fates(sides[0])
        if what.startswith("height of S") and fate == "TABLED"
    }
    assert placed | listed == heights.keys()
    last = " ".join(each.string for each in texts(sides[-1].marks))
    assert not listed or all(f"({number(height, decimals=1)} high)" in last for height in heights.values())


def _fates(side):
    return [(view, outcome.what, outcome.fate.name) for view, outcome in side.outcomes]


def test_a_recess_that_follows_the_pane_has_no_stations_and_one_height():
    plain = contents("rectangle.toml")
    assert own_spacer_heights(plain.check.subject) == {} and stations_words(plain) == []
    words = " ".join(each.string for side in card_sheets(plain) for each in texts(side.marks))
    assert " high," in words and "own heights" not in words


def test_of_more_stations_than_have_room_the_extremes_are_kept():
    recess = surveyed_recess_of(contents().check.subject)
    chosen = dict(chosen_stations(recess, 6))
    assert len(chosen) == 6 and list(chosen) == sorted(chosen)
    every = dict(enumerate(recess.stations, start=1))
    for key in (lambda each: each.joint, lambda each: each.flush, lambda each: -each.flush, lambda each: each.landing_inside):
        assert min(map(key, every.values())) == min(map(key, chosen.values()))
    assert len(chosen_stations(recess, 12)) == 12


def test_a_recess_typed_with_an_outline_of_its_own_shows_its_joint_at_stations_and_the_least_with_its_place():
    """The recess is 8 wider at sill and jamb feet and 9 at the head's ends, so that its jambs run from 8 to 9: 8.3 and 8.7 at their quarters (by hand)."""
    own = contents("own-recess.toml")
    made = detail_of(own)
    (plan,) = (view for view in made.views if view.name == "PLAN")
    told = {each.string for each in texts(plan.marks) if each.layer == "DIMENSIONS"}
    assert {"8", "8,3", "8,7"} <= told
    words = " ".join(each.string for each in (*texts(plan.marks), *texts(made.marks)))
    least = joint_round_of(own.check.subject).least
    assert (
        f"Recess with an outline of its own: joint at 8 stations, least {number(least.width, decimals=1)} at {least.name}."
        in words
    )


def test_an_even_joint_has_no_stations():
    (plan,) = (view for view in detail_of(contents("rectangle.toml")).views if view.name == "PLAN")
    assert not any("stations" in each.string for each in texts(plan.marks))
