"""The fields of a bonding record: each id once, and limits that are the pane's own, worked by hand and held against card and pane sheet."""

from __future__ import annotations

import math

import pytest
from good_records import CODES, sample

from geometry.findings.check import check_pane
from geometry.job import job_of
from geometry.recorded.record_fields import FieldKind, record_fields, step_id
from geometry.rules.day.time_plan import StepKind


def fields_of(text="", outline="{ rectangle = [1200, 600], radius = 60 }"):
    job = job_of(
        f'[[pane]]\ncode = "F"\nframe = "aluminium"\nglass = {{ plies = [8] }}\noutline = {outline}\njoint = {{ width = 6 }}\n'
        f"bond = {{ width = 15, thickness = 5, set_back = 8 }}\n{text}\n"
    )
    return {field.id: field for field in record_fields(check_pane(job, job.panes[0]))}


@pytest.mark.parametrize("code", CODES)
def test_every_pane_has_each_field_once_and_its_limits_lie_within_the_world(code):
    check = sample(code)
    fields = record_fields(check)
    ids = [field.id for field in fields]
    assert len(set(ids)) == len(ids)
    assert {f"{part}.{number}" for part in ("gap", "flush", "frit") for number in range(1, 9)} <= set(ids)
    assert {f"climate.{n}.{what}" for n in (1, 2, 3) for what in ("time", "air", "humidity", "frame", "glass")} <= set(ids)
    steps = {step_id(step) for step in check.time_plan.steps if step.kind is not StepKind.WAIT_FOR_CLOCK}
    assert {field.step for field in fields if field.step} == {*steps, "last_press"}
    for field in fields:
        if field.kind is FieldKind.NUMBER:
            low, high = field.world
            assert low <= (low if field.least is None else field.least) <= (high if field.most is None else field.most) <= high


def test_gap_and_flush_are_those_of_the_card():
    """At the same places, under the same letters, with the same limits."""
    for code in CODES:
        check = sample(code)
        fields = {field.id: field for field in record_fields(check)}
        for number, each in enumerate(check.fitting.gaps, start=1):
            gap, flush = fields[f"gap.{number}"], fields[f"flush.{number}"]
            assert (gap.place, gap.sign) == (each.place, each.letter)
            assert (gap.least, gap.most) == (each.gap_least, each.gap_most)
            assert (gap.wanted is None) == (each.gap <= 0)
            assert (flush.least, flush.most) == (each.flush_least, each.flush_most)
    even = {field.id: field for field in record_fields(sample("SW-01"))}
    assert (even["gap.1"].least, even["gap.1"].most) == (3.3, 8.7)  # 6 less and more 2.75, to a tenth inwards, as the card's title has it


@pytest.mark.parametrize(("depth", "flush"), [(14.25, -1.3), (14.75, -1.8), (11.75, 1.3)])
def test_what_is_wanted_is_rounded_as_the_sheets_round(depth, flush):
    """8 mm of glass on a bond of 5 mm: half a tenth is rounded away from nought on either side."""
    assert fields_of(f"recess = {{ depth = {depth} }}")["flush.1"].wanted == flush


def test_sizes_of_the_glass_by_hand():
    """1200 × 600 with corners of 60 and ±1.5: a tape finds between the arcs the distance of their centres, 1080 × 480, and both radii."""
    fields = fields_of("tolerances = { pane = 1.5, glass_thickness = 0.3 }\nbow = 1.5")
    assert (fields["goods_in.width_top"].least, fields["goods_in.width_top"].most) == (1198.5, 1201.5)
    assert (fields["goods_in.height_left"].least, fields["goods_in.height_left"].most) == (598.5, 601.5)
    diagonal = math.hypot(1080, 480) + 120  # 1301.864
    for way in ("rising", "falling"):
        field = fields[f"goods_in.diagonal_{way}"]
        assert field.wanted == pytest.approx(diagonal, abs=0.005)
        assert (field.least, field.most) == (1300.4, 1303.3)  # 1300.364 up and 1303.364 down to a tenth
    assert (fields["goods_in.thickness"].least, fields["goods_in.thickness"].most) == (7.7, 8.3)
    assert fields["goods_in.bow"].most == 1.8  # 1.5 mm/m over 1.2 m
    assert fields["goods_in.printed_face"].choices == ("2", "1")


def test_a_pane_without_four_square_corners_is_measured_over_all():
    fields = fields_of("tolerances = { pane = 1 }", outline="{ circle = 420 }")
    assert (fields["goods_in.width"].least, fields["goods_in.height"].most) == (419, 421)
    assert "goods_in.diagonal_rising" not in fields


def test_of_several_panes_of_one_code_the_record_says_which():
    assert fields_of("quantity = 3")["piece.number"].world == (1.0, 3.0)
    assert "piece.number" not in fields_of()
