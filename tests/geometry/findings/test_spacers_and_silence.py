"""Spacer blocks that overlap, leave their edge or are too small; panes of which nobody said what pulls at them."""

from __future__ import annotations

import pytest

from geometry.findings.check import check_pane
from geometry.job.reading import job_of
from geometry.ledger.finding import Finding, Verdict

PANE = """
[[pane]]
code = "A"
outline = { rectangle = [900, 450], radius = 60 }
frame = { material = "aluminium" }
glass = { plies = [6] }
recess = { depth = 14 }
"""
CLEAR, STRAIGHT, STANDS = (
    "spacer blocks clear of one another",
    "spacer block within the straight of its edge",
    "spacer block large enough to stand",
)


def checked(extra: str = ""):
    job = job_of(PANE + extra)
    return check_pane(job, job.panes[0])


def finding(extra: str, name: str) -> Finding:
    return next(each for each in checked(extra).findings if each.name == name)


def test_spacers_longer_than_their_spacing_overlap_and_leave_the_straight():
    """By hand: the straight of 900 - 2 x 60 = 780 carries spacers at 50, 390 and 730; of 440 each they overlap by their whole
    width of 5 (along the edge by 440 - 340 = 100, which is more), and the first one begins 220 - 50 = 170 before the straight.
    """
    over = finding("spacers = { length = 440 }", CLEAR)
    assert (over.verdict, over.value) == (Verdict.FAIL, pytest.approx(-5.0))
    out = finding("spacers = { length = 440 }", STRAIGHT)
    assert (out.verdict, out.value) == (Verdict.FAIL, pytest.approx(-170.0))


def test_spacers_as_long_as_their_pitch_leave_no_room():
    """By hand: 680 in spaces not over 100 are seven of 97.14, so blocks of 100 overlap; on the sides 230 is three of 76.67."""
    close = finding("spacers = { length = 100, pitch = 100 }", CLEAR)
    assert close.verdict is Verdict.FAIL
    assert close.value < 0
    assert finding("spacers = { length = 25, pitch = 100 }", CLEAR).verdict is Verdict.PASS


def test_the_room_between_two_spacers_is_their_distance_less_their_length():
    """By hand: the straight of a side, 450 - 2 x 60 less 50 at each end, is 230: two spaces of 115, so 115 - 25 = 90 is clear."""
    near = finding("spacers = { pitch = 200 }", CLEAR)
    assert near.value == pytest.approx(115 - 25)
    assert near.where.count("S") == 2


def test_a_spacer_too_small_to_stand_fails_and_both_its_sizes_are_told():
    small = finding("spacers = { length = 0.1, width = 0.1 }", STANDS)
    assert (small.verdict, small.value, small.limit) == (Verdict.FAIL, 0.1, 3.0)
    assert [change.key for change in small.remedies[0].changes] == ["spacers.width", "spacers.length"]
    assert finding("spacers = { width = 2 }", STANDS).verdict is Verdict.FAIL
    assert finding("", STANDS).verdict is Verdict.PASS


def test_a_pane_without_pressure_is_not_checked_and_never_a_pass():
    without = checked()
    assert without.verdict is Verdict.NOT_CHECKED
    assert {each.name for each in without.findings if each.decides} >= {"bond tension at the widest gap"}
    assert all(each.missing for each in without.findings if each.verdict is Verdict.NOT_CHECKED)


def test_a_fault_comes_before_what_was_not_checked():
    assert checked("spacers = { length = 440 }").verdict is Verdict.FAIL


def test_what_decides_nothing_leaves_a_pass():
    given = checked("pressure = { outward = 1, inward = 1 }")
    assert [each.name for each in given.findings if each.verdict is Verdict.NOT_CHECKED]
    assert not [each.name for each in given.findings if each.verdict is Verdict.NOT_CHECKED and each.decides]
    assert given.verdict in (Verdict.PASS, Verdict.LOOK)


def test_glass_that_may_stand_wholly_out_of_its_recess_fails():
    """By hand: 6 mm of glass on 70 mm of bond in a recess 14 deep stands 62 proud; the tolerance adds to it."""
    proud = finding(
        "bond = { thickness = 70 }\ntolerances = { recess_depth = 60 }", "glass not too proud at the worst tolerances"
    )
    assert (proud.verdict, proud.limit) == (Verdict.FAIL, 6.0)
    assert proud.value > 62


def test_glass_a_little_proud_is_for_a_person_to_look_at():
    proud = finding("recess.depth = 11".replace("recess.depth", "bond.thickness"), "glass not too proud at the worst tolerances")
    assert proud.verdict is Verdict.LOOK
    assert proud.limit == 3.0
