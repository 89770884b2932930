"""What the fitter marks, lays and reads, worked by hand."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import JobError, job_of, read_job
from geometry.outline import distance_from
from geometry.workings.fitting import fitting_of
from geometry.workings.subject import Subject

WREN = read_job(Path(__file__).parents[3] / "samples" / "sallow-wren.toml")


def subject_of(text="", shared="", outline="{ rectangle = [1200, 600], radius = 60 }"):
    job = job_of(
        f'{shared}\n[[pane]]\ncode = "F"\nframe = "aluminium"\nglass = {{ plies = [8] }}\noutline = {outline}\njoint = {{ width = 6 }}\n'
        f"bond = {{ width = 15, thickness = 5, set_back = 8, notch_width = 10, notch_height = 15 }}\n{text}\n"
    )
    return Subject(job, job.panes[0], build_detail(job, job.panes[0]))


def sample(code):
    pane = next(pane for pane in WREN.panes if pane.code == code)
    return Subject(WREN, pane, build_detail(WREN, pane))


def test_witness_marks_stand_in_the_middle_of_every_side():
    marks = fitting_of(subject_of()).witness_marks
    assert [each.edge for each in marks] == ["e1", "e2", "e3", "e4"]
    places = [((600, 0), (600, -6)), ((1200, 300), (1206, 300)), ((600, 600), (600, 606)), ((0, 300), (-6, 300))]
    for mark, (glass, wall) in zip(marks, places, strict=True):
        assert (*mark.glass, *mark.wall) == pytest.approx((*glass, *wall))
    round_ = fitting_of(subject_of(outline="{ circle = 420 }")).witness_marks
    wanted = [(0, -6), (216, 210), (0, 426), (-216, 210)]
    assert [tuple(each.wall) for each in round_] == [pytest.approx(place) for place in wanted]


def test_mask_lines_are_the_primed_band():
    """Bead from 8 to 23, 3 beside it on either side; a bead at the very edge leaves no masking outside."""
    lines = fitting_of(subject_of()).mask_lines
    assert (lines.outer, lines.inner) == (5, 26)
    assert fitting_of(subject_of("consumables = { beside_bead = 10 }")).mask_lines.outer == 0


def test_a_pack_is_changed_where_the_bead_has_used_it_up():
    """600 ml less 5 %, of a bead of 18 × 12 / 2 = 108 mm²: 5277.8 mm from the middle of the head, counter-clockwise.

    The centre line of SW-06 lies 17 inside 2250 × 980 with radii of 103 and 223 in its corners, its start off the middle by a few mm.
    """
    (change,) = fitting_of(sample("SW-06")).pack_changes
    assert (change.gun, change.number, change.edge) == (1, 1, "e3")
    assert change.distance == pytest.approx(570_000 / 108)
    detail = sample("SW-06").detail
    assert distance_from(detail.curves.bead_centre, change.place) < 1e-6
    whole = 2 * (2250 - 34 + 980 - 34) - (8 - 2 * math.pi) * (103 + 223) / 2
    assert detail.uncured_bead.length == pytest.approx(whole)
    # what is left of the way round brings it back to the start: the place lies that much right of it
    assert change.place.x - detail.bead_start.place.x == pytest.approx(whole - 570_000 / 108)


def test_each_gun_changes_in_its_own_stretch():
    """Packs of 100 ml give 95 of a bead of 75 mm²: 1266.7 mm; two guns lay half of the way round each, one change in either half."""
    shared = "[adhesive]\npack = 100\nwaste = 0\npurge = 0\n[work]\nguns = 2\n"
    subject = subject_of(shared=shared)
    half = subject.detail.uncured_bead.length / 2
    changes = fitting_of(subject).pack_changes
    assert [(each.gun, each.number) for each in changes] == [(1, 1), (2, 1)]
    assert [each.distance for each in changes] == pytest.approx([95_000 / 75, half + 95_000 / 75])


def test_gaps_are_read_at_eight_places_from_the_upper_left_clockwise():
    """Two on every side of 1200 × 600, R60: at a quarter of the straights of 1080 and 480; joint 6 as the job's tolerances allow.

    Recess ± 1 and pane ± 2 on the whole size, placing ± 0.5: (1 + 2) / 2 + 0.5 = 2. On the sill the chocks of 60 stand at 300 and 900:
    the places move off them by half a chock and 20, the next 5 mm.
    """
    tolerances = (
        "tolerances = { recess = 1, pane = 2, placing = 0.5, bond_thickness = 0.5, glass_thickness = 0.3, recess_depth = 1 }"
    )
    gaps = fitting_of(subject_of(tolerances + "\nrecess = { depth = 13 }\nchocks = { at = [330, 870], length = 60 }")).gaps
    assert "".join(each.letter for each in gaps) == "abcdefgh"
    assert [each.edge for each in gaps] == ["e3", "e3", "e2", "e2", "e1", "e1", "e4", "e4"]
    assert [tuple(each.place) for each in gaps] == [
        pytest.approx(place)
        for place in ((330, 600), (870, 600), (1200, 420), (1200, 180), (820, 0), (280, 0), (0, 180), (0, 420))
    ]
    for each in gaps:
        assert (each.gap, each.gap_least, each.gap_most) == pytest.approx((6, 4, 8))
        assert (each.flush, each.flush_least, each.flush_most) == pytest.approx((0, -1.8, 1.8))


def test_a_wide_pane_begins_at_the_upper_left_as_well():
    for code in ("SW-01", "SW-02", "SW-06", "SW-08"):
        first = fitting_of(sample(code)).gaps[0]
        assert first.place.x < sample(code).detail.centroid.x < first.place.x + 2000
        assert first.place.y > sample(code).detail.centroid.y
    assert tuple(fitting_of(subject_of(outline="{ circle = 420 }")).gaps[0].place) == pytest.approx((0, 420))


def test_beside_a_surveyed_recess_the_gap_is_the_one_there():
    """The right wall runs out by 2 over 600: at 180 and 420 up, 6.6 and 7.4 of joint; the job gives no tolerance to take off it.

    So a reading keeps to the limits of the checks alone, 3 and 15 unless the job has others; with a tolerance on placing it keeps to it too.
    """
    recess = "recess = { outline = { polygon = [[-6, -6], [1206, -6], [1206, 0], [1208, 600], [1208, 606], [-6, 606]] } }"
    gaps = {each.letter: each for each in fitting_of(subject_of(recess)).gaps}
    assert (gaps["c"].gap, gaps["d"].gap) == pytest.approx((6 + 2 * 420 / 600, 6 + 2 * 180 / 600))
    assert all((each.gap_least, each.gap_most, each.tightest) == (3, 15, each.gap) for each in gaps.values())
    others = fitting_of(subject_of(recess + "\nlimits = { joint_least = 3.25, joint_most = 14 }")).gaps
    assert all((each.gap_least, each.gap_most) == (3.25, 14) for each in others)
    placed = {each.letter: each for each in fitting_of(subject_of(recess + "\ntolerances = { placing = 0.55 }")).gaps}
    assert (placed["c"].gap_least, placed["c"].gap_most) == (6.9, 7.9)  # 7.4 less and more 0.55, inwards to a tenth
    as_ordered = fitting_of(subject_of(recess + "\ntolerances = { pane = 1 }")).gaps
    assert all((each.gap_least, each.gap_most) == (3, 15) for each in as_ordered)  # nobody said how exactly it is placed
    assert all(each.tightest == pytest.approx(each.gap - 0.5) for each in as_ordered)


def test_the_place_of_the_least_joint_is_one_of_those_that_are_read():
    """A right wall that bulges in by 3 at 275 up: 1203 less 1200 is 3; straight to 6 at 0 and 600 it is wider at 180 and 420.

    The place at 180 is nearer to it than that at 420, so it gives way: eight stay, in their order.
    """
    recess = (
        "recess = { outline = { polygon = [[-6, -6], [1206, -6], [1206, 0], [1203, 275], [1206, 600], [1206, 606], [-6, 606]] } }"
    )
    gaps = fitting_of(subject_of(recess)).gaps
    assert "".join(each.letter for each in gaps) == "abcdefgh"
    assert [each.edge for each in gaps] == ["e3", "e3", "e2", "e2", "e1", "e1", "e4", "e4"]
    tight = min(gaps, key=lambda each: each.gap)
    assert (tight.letter, tight.edge) == ("d", "e2")
    assert tuple(tight.place) == pytest.approx((1200, 275))
    assert tight.gap == pytest.approx(3)
    assert gaps[2].place.y == pytest.approx(420)


def test_the_least_joint_of_the_surveyed_sample_is_read_where_its_finding_lies():
    """SW-09: the finding of the least joint and the place to read are one: edge, height, figure, and the limit that it is held against."""
    pane = next(pane for pane in WREN.panes if pane.code == "SW-09")
    check = check_pane(WREN, pane)
    left = next(each for each in check.findings if each.name == "joint left at the worst tolerances")
    tight = min(check.fitting.gaps, key=lambda each: each.gap)
    widest = next(each for each in check.findings if each.name == "joint not too wide at the worst tolerances")
    assert tight.gap == pytest.approx(left.value, abs=0.01)
    assert (tight.gap_least, tight.gap_most) == (left.limit, widest.limit)
    assert (tight.edge, tuple(tight.place)) == (left.part, pytest.approx(tuple(left.at)))


def test_a_chock_on_a_sill_out_of_parallel_is_higher_at_one_end():
    """The recess's sill drops by 6 over 1200: 60 of chock at 300 has 6 + 270 / 200 at its left and 6 + 330 / 200 at its right."""
    recess = "recess = { outline = { polygon = [[-6, -6], [0, -6], [1200, -12], [1206, -12], [1206, 606], [-6, 606]] } }"
    first = fitting_of(subject_of(recess + "\nchocks = { at = [300, 900], length = 60 }")).chocks[0]
    assert (first.mark, first.named) == ("K1", ("left", "right"))
    assert (first.ends[0], first.height, first.ends[1]) == pytest.approx((7.35, 7.5, 7.65))


def test_a_block_at_a_jamb_is_told_by_its_ends_below_and_above():
    """On a sill that rises by 3 in 100 a side block stands at the low end, upright; the setting chocks lie along the sill."""
    subject = subject_of(outline="{ polygon = [[0, 0], [1000, 30], [1000, 600], [0, 600]], radius = 60 }")
    named = {(chock.kind, ends.named) for chock, ends in zip(subject.detail.chocks, fitting_of(subject).chocks, strict=True)}
    assert named == {("setting chock", ("left", "right")), ("side block", ("below", "above"))}


def test_go_or_no_go_by_the_dew_point():
    """20 °C and 50 %: dew point 9.3 °C, so 12.3 °C at least; 80 %: 16.4, so 19.4 °C. Magnus with 17.62 and 243.12 (WMO No. 8)."""
    table = fitting_of(subject_of(shared="[climate]\nair = 20\nhumidity = 55\nsurface = 19\n")).climate
    assert table.air == 20 and table.humidities == (40, 50, 60, 70, 80, 90)

    def dew(humidity):
        gamma = math.log(humidity / 100) + 17.62 * 20 / (243.12 + 20)
        return 243.12 * gamma / (17.62 - gamma)

    assert table.dew_point == pytest.approx(dew(55))
    for surface, row in zip(table.surfaces, table.go, strict=True):
        for humidity, go in zip(table.humidities, row, strict=True):
            # of the limits, bonding stops at 80 % as well
            assert go == (surface >= dew(humidity) + 3 and humidity <= 80)
    assert [b - a for a, b in zip(table.surfaces, table.surfaces[1:], strict=False)] == [2.0] * (len(table.surfaces) - 1)
    row, column = table.planned
    assert (table.surfaces[row], table.humidities[column]) == (18, 60)  # the next lower surface, the next higher humidity


def test_straps_are_where_the_job_says():
    assert fitting_of(subject_of()).straps == ()
    given = fitting_of(subject_of('straps = [[300, 300], ["90 cm", 300]]')).straps
    assert [tuple(each) for each in given] == [(300, 300), (900, 300)]
    with pytest.raises(JobError, match="a strap at X = 1300"):
        subject_of("straps = [[300, 300], [1300, 300]]")


def test_the_check_of_a_pane_has_it():
    check = check_pane(WREN, WREN.panes[0])
    assert check.fitting == fitting_of(check.subject)
