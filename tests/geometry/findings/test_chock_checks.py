"""Chocks held against their limits: every finding on both sides of its limit, forces by balance of moments, every remedy tried.

The sample's panes are worked examples of an invented vessel, by hand.
"""

import math
from pathlib import Path

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.findings.holding import chock_checks
from geometry.findings.holding.chock_checks import BEARS, COVERED, PRESSED, ROLLS, SHARES, SQUASH, STRESS
from geometry.findings.holding.chock_places import CLEAR, CURVED, HEIGHT, LEVEL
from geometry.findings.proving import changed_subject, cured
from geometry.job import job_of, read_job, with_changes
from geometry.ledger.figure import Ledger
from geometry.ledger.finding import Change, Verdict
from geometry.rules.holding import chocks
from geometry.workings.subject import Subject

PASS, LOOK, FAIL = Verdict.PASS, Verdict.LOOK, Verdict.FAIL
SAMPLE = read_job(Path(__file__).resolve().parents[3] / "samples" / "sallow-wren.toml")
ALL_PANES = [pane.code for pane in SAMPLE.panes]
BASE = job_of(
    """
[[pane]]
code = "A"
frame = "aluminium"
glass = { plies = [10] }
outline = { rectangle = [1000, 800], radius = 50 }
recess = { depth = 16, landing = 44 }
joint = { width = 6 }
bond = { width = 12, thickness = 6, set_back = 8, corner_radius = 30 }
chocks = { backfill_over = 5, length = 60 }
"""
)
AREA = 1000 * 800 - (4 - math.pi) * 50**2
WEIGHT = AREA * 10 * 2500e-9 * 9.81  # N


def subject_of(changes=None, *, job=BASE, code="A"):
    changed = with_changes(job, code, changes or {})
    pane = next(pane for pane in changed.panes if pane.code == code)
    return Subject(changed, pane, build_detail(changed, pane))


def found(subject):
    return {finding.name: finding for finding in chock_checks.findings(subject, Ledger())}


def finding(name, changes=None, **where):
    return found(subject_of(changes, **where))[name]


# Bearing: glass less backfill over the chock, 10 - 5 = 5, at least 4.


@pytest.mark.parametrize(
    ("changes", "bears", "verdict"),
    [
        ({}, 5, PASS),
        ({"chocks.backfill_over": 6}, 4, PASS),
        ({"chocks.backfill_over": 6.5}, 3.5, FAIL),
        ({"limits.chock_bearing": 5.5}, 5, FAIL),
        ({"chocks.backfill_over": 6.5, "chocks.permanent": False}, 3.5, PASS),
        ({"chocks.backfill_over": 11, "chocks.permanent": False}, -1, FAIL),
        # 6 mm of glass cannot keep 3 of backfill and bear on 4: chocks for the cure only
        ({"glass.plies": [6], "chocks.backfill_over": 3}, 3, LOOK),
        # 6 / 1.52 / 6: inner ply, interlayer and half of the outer ply, 10.52, out of 13.52
        ({"glass": {"plies": [6, 6], "interlayers": [1.52]}, "chocks.backfill_over": 3}, 10.52, PASS),
        ({"glass": {"plies": [6, 6], "interlayers": [1.52]}, "chocks.backfill_over": 4}, 9.52, FAIL),
    ],
)
def test_glass_bears_on_its_chocks(changes, bears, verdict):
    got = finding(BEARS.name, changes)
    assert got.value == pytest.approx(bears) and got.verdict is verdict


def test_what_is_said_of_a_laminate_and_of_chocks_that_come_out():
    assert "hangs on the interlayer" in finding(BEARS.name, job=SAMPLE, code="SW-02").says
    assert "taken out after the cure" in finding(BEARS.name, {"chocks.permanent": False}).says


@pytest.mark.parametrize(
    ("changes", "verdict"),
    [({"chocks.backfill_over": 3}, PASS), ({"chocks.backfill_over": 2.5}, FAIL), ({"limits.chock_backfill_least": 6}, FAIL)],
)
def test_backfill_over_the_chocks(changes, verdict):
    assert finding(COVERED.name, changes).verdict is verdict


# Shares: moments about the centroid at X 500.


@pytest.mark.parametrize(
    ("at", "share", "verdict"),
    [
        ([250, 750], 50, PASS),
        ([350, 950], 25, PASS),  # (500 - 350) / 600
        ([360, 940], 100 * 140 / 580, LOOK),
        ([400, 900], 20, LOOK),
        ([410, 900], 100 * 90 / 490, FAIL),
        ([600, 900], -100 / 3, FAIL),
        ([500], 0, FAIL),
        ([200, 500, 800], 0, FAIL),  # the one under the centroid takes it all from a stiff pane
        ([200, 300, 800], 40, PASS),  # 300 and 800 carry: (500 - 300) / 500 on the farther one
    ],
)
def test_share_of_each_chock(at, share, verdict):
    got = finding(SHARES.name, {"chocks.at": at})
    assert got.value == pytest.approx(share, abs=1e-6) and got.verdict is verdict
    assert (got.remedies == ()) == (verdict is PASS)


def test_shares_follow_their_limits():
    assert finding(SHARES.name, {"chocks.at": [360, 940], "limits.chock_share_look": 24}).verdict is PASS
    assert finding(SHARES.name, {"chocks.at": [400, 900], "limits.chock_share_fail": 21}).verdict is FAIL


def test_quarter_points_under_a_sliver_and_a_notch():
    """Centroid of the sliver 428 from its sharp corner: (480 - 428) / 320 = 16 %. Notched pane, centroid at X 600.9: (600.9 - 537.5) / 375 = 17 %."""
    left, _ = chocks.level_reactions(weight_along=100, left=160, right=480, centroid=428.0)
    assert left == pytest.approx(16.25, abs=0.01)
    with_cut_out = finding(SHARES.name, {"chocks.at": [537.5, 912.5]}, job=SAMPLE, code="SW-08")
    assert with_cut_out.value == pytest.approx(16.9, abs=0.05) and with_cut_out.verdict is FAIL
    assert "189 N" in with_cut_out.says and "39 N" in with_cut_out.says
    sliver = subject_of(job=SAMPLE, code="SW-07")
    centroid = sliver.detail.centroid.x
    # 160 and 480 from the sharp corner are 119 and 439 from the box of the glass, whose unbonded corner is rounded off
    quarter = found(subject_of({"chocks.at": [160 - 428 + centroid, 480 - 428 + centroid]}, job=SAMPLE, code="SW-07"))[
        SHARES.name
    ]
    assert quarter.value == pytest.approx(16.25, abs=0.01) and quarter.verdict is FAIL
    crowded = found(subject_of({"chocks.at": [centroid - 40, centroid + 150]}, job=SAMPLE, code="SW-07"))[SHARES.name]
    assert crowded.value == pytest.approx(100 * 40 / 190, abs=1e-6) and crowded.verdict is LOOK
    crowded = found(subject_of({"chocks.at": [centroid - 35, centroid + 150]}, job=SAMPLE, code="SW-07"))[SHARES.name]
    assert crowded.value == pytest.approx(100 * 35 / 185, abs=1e-6) and crowded.verdict is FAIL


def test_sloping_sill_with_its_side_block():
    """Raked trapezoid, sill rising 120 in 1300, 29.4 kg at rake 4: 159 and 132 N on the sill, 27 N on the side block, by hand."""
    got = finding(PRESSED.name, job=SAMPLE, code="SW-02")
    assert got.says == "K1 159 N, K2 132 N, K3 27 N"
    assert got.verdict is PASS and got.where == "K3"
    level = finding(LEVEL.name, job=SAMPLE, code="SW-02")
    assert level.value == 0 and "K3 holds the low end" in level.says


def test_three_frictionless_blocks_by_hand():
    """A square of 100 N, side 2, turned on a slope of 30°: the side block takes 50, the sill 86.6, its moment moves the shares apart."""
    weight = (-50.0, -100 * math.cos(math.radians(30)))  # in axes along the sill and square to it, low end to the left
    blocks = (chocks.Contact(0.5, 0, 0, 1), chocks.Contact(1.5, 0, 0, 1), chocks.Contact(0, 1, 1, 0))
    forces = chocks.block_forces(contacts=blocks, weight=weight, centroid=(1, 1)).forces
    assert forces == pytest.approx((43.301, 43.301, 50.0), abs=1e-3)
    high = (*blocks[:2], chocks.Contact(0, 1.5, 1, 0))  # half higher: 50 × 0.5 turns the pane onto the far chock
    assert chocks.block_forces(contacts=high, weight=weight, centroid=(1, 1)).forces == pytest.approx(
        (18.301, 68.301, 50.0), abs=1e-3
    )


def test_two_blocks_that_lean_leave_what_turns_the_pane():
    lean = (chocks.Contact(-1, 0, 1, 1), chocks.Contact(1, 0, -1, 1))
    even = chocks.block_forces(contacts=lean, weight=(0, -100), centroid=(0, 2))
    assert even.forces == pytest.approx((70.711, 70.711), abs=1e-3) and even.turning == pytest.approx(0, abs=1e-9)
    aside = chocks.block_forces(contacts=lean, weight=(0, -100), centroid=(0.1, 2))
    assert aside.turning == pytest.approx(-10.0)  # 100 N a tenth beside where the pushes meet
    assert chocks.weight_offset(turning=aside.turning, weight_along=100) == pytest.approx(0.1)
    with pytest.raises(ValueError, match="one place"):
        chocks.block_forces(contacts=(lean[0], lean[0]), weight=(0, -1), centroid=(0, 0))
    with pytest.raises(ValueError, match="2 or 3"):
        chocks.block_forces(contacts=lean[:1], weight=(0, -1), centroid=(0, 0))


def test_a_block_that_would_have_to_pull():
    got = finding(PRESSED.name, {"chocks.at": [600, 900]})
    assert got.verdict is FAIL and got.value == pytest.approx(-WEIGHT / 3, rel=1e-6)
    assert finding(PRESSED.name).verdict is PASS


def test_round_pane_on_two_leaning_chocks():
    """30° from straight down: weight / (2 cos 30°) each, 57.7 %."""
    got = found(subject_of({"outline": {"circle": 600}}))
    assert got[SHARES.name].value == pytest.approx(100 / (2 * math.cos(math.radians(30))), rel=1e-9)
    assert got[ROLLS.name].verdict is PASS and got[ROLLS.name].value == pytest.approx(0, abs=1e-6)
    assert got[ROLLS.name].limit == pytest.approx(10)  # a sixth of 60
    assert LEVEL.name not in got and CLEAR.name not in got


def test_a_round_pane_heavier_on_one_side_rolls():
    """The pushes of both chocks meet in one point: the weight passes as far beside it as the centroid lies beside it."""
    egg = [[0, 300, 0.4142], [300, 0, 0.15], [900, 150, 0.6], [900, 350, 0.15], [300, 600, 0.4142]]
    subject = subject_of({"outline": {"path": egg}})
    got = found(subject)[ROLLS.name]
    first, second = subject.detail.chocks[:2]
    lean, other = (math.tan(math.radians(chock.angle)) for chock in (first, second))
    # a chock under an edge that runs at an angle pushes along x = foot.x - (y - foot.y) × tan(angle)
    level = (first.foot.x + first.foot.y * lean - second.foot.x - second.foot.y * other) / (lean - other)
    meets = first.foot.x - (level - first.foot.y) * lean
    assert got.value == pytest.approx(abs(meets - subject.detail.centroid.x), rel=1e-6)
    assert got.verdict is (FAIL if got.value > 10 else PASS)
    assert found(subject_of({"outline": {"path": egg}, "chocks.length": 6 * got.value + 3}))[ROLLS.name].verdict is PASS
    assert found(subject_of({"outline": {"path": egg}, "chocks.length": 6 * got.value - 3}))[ROLLS.name].verdict is FAIL


# Stress and squash: half the weight on 60 × 5.


def test_bearing_stress_by_hand():
    got = finding(STRESS.name)
    assert got.value == pytest.approx(1.5 * WEIGHT / 2 / (60 * 5), rel=1e-9) and got.verdict is PASS
    assert got.value == pytest.approx(0.489, abs=1e-3)


@pytest.mark.parametrize(
    ("changes", "verdict"),
    [
        ({"limits.chock_stress": 0.48}, LOOK),  # 0.325 at rest is under it
        ({"limits.chock_stress": 0.32}, FAIL),
        ({"limits.dynamic_factor": 1, "limits.chock_stress": 0.33}, PASS),
        ({"chocks.length": 25}, LOOK),  # 1.17, 0.78 at rest
    ],
)
def test_bearing_stress_and_its_limits(changes, verdict):
    assert finding(STRESS.name, changes).verdict is verdict


def test_squash_by_hand():
    """97.8 N × 6 / (9 × 60 × 5) = 0.217 mm at rest, 1.5 times as much when the boat slams: 0.326 of 0.3."""
    got = finding(SQUASH.name)
    assert got.value == pytest.approx(1.5 * WEIGHT / 2 * 6 / (9 * 60 * 5), rel=1e-9) and got.verdict is LOOK
    assert got.value == pytest.approx(0.326, abs=1e-3) and "0.22 mm at rest" in got.says
    assert finding(SQUASH.name, {"limits.dynamic_factor": 1}).verdict is PASS
    assert finding(SQUASH.name, {"limits.chock_squash": 0.33}).verdict is PASS
    assert finding(SQUASH.name, {"limits.chock_modulus": 10}).verdict is PASS


def test_no_stress_where_no_glass_bears():
    assert STRESS.name not in found(subject_of({"chocks.backfill_over": 10.5}))


# Places.


@pytest.mark.parametrize(
    ("changes", "verdict"), [({}, PASS), ({"joint.width": 2.9}, FAIL), ({"limits.chock_height_least": 6.5}, FAIL)]
)
def test_height_of_the_chocks(changes, verdict):
    assert finding(HEIGHT.name, changes).verdict is verdict


@pytest.mark.parametrize(
    ("at", "left", "verdict"),
    [
        (105, 25, PASS),  # 105 - 50 of rounding - 30; a middle 55 from it
        (100, 20, PASS),
        (99, 19, FAIL),
        (902, 18, FAIL),
    ],
)
def test_chocks_clear_of_the_corners(at, left, verdict):
    got = finding(CLEAR.name, {"chocks.at": [at, 1000 - at]})
    assert got.value == pytest.approx(left) and got.verdict is verdict


def test_a_short_chock_whose_middle_is_near_the_corner_is_looked_at():
    """40 long at 95: its end is 25 away, its middle 45 of 50."""
    got = finding(CLEAR.name, {"chocks.at": [95, 905], "chocks.length": 40})
    assert got.value == pytest.approx(25) and got.verdict is LOOK
    assert finding(CLEAR.name, {"chocks.at": [95, 905], "chocks.length": 40, "limits.chock_from_corner": 45}).verdict is PASS
    assert finding(CLEAR.name, {"chocks.at": [95, 905], "chocks.length": 40, "limits.chock_end_from_corner": 26}).verdict is FAIL


def test_a_sill_nearly_level_holds_by_friction():
    """Rises 12 in 1000: 0.69°, under the degree from which a side block is set; 0.012 of 0.2."""
    slope = {"outline": {"polygon": [[0, 0], [1000, 12], [1000, 800], [0, 800]], "radius": 50}}
    got = finding(LEVEL.name, slope)
    assert got.value == pytest.approx(0.012, rel=1e-6) and got.verdict is PASS
    assert finding(LEVEL.name, {**slope, "limits.sill_slope": 0.01}).verdict is FAIL


def test_a_deck_light_asks_nothing_of_its_blocks():
    assert chock_checks.findings(subject_of({"rake": 90}), Ledger()) == ()


# The sample and the remedies.


@pytest.mark.parametrize("code", ALL_PANES)
def test_what_the_sample_shows(code):
    got = found(subject_of({"chocks.backfill_over": 6} if code == "SW-06" else {}, job=SAMPLE, code=code))
    failing = {name for name, each in got.items() if each.verdict is FAIL}
    assert failing == ({BEARS.name} if code in ("SW-02", "SW-06") else set())
    assert (got[BEARS.name].verdict is LOOK) == (code == "SW-10") if got else code == "SW-05"


FAULTS = [
    {"chocks.backfill_over": 6.5},
    {"chocks.backfill_over": 2},
    {"glass.plies": [6], "chocks.backfill_over": 3},
    {"glass": {"plies": [6, 6], "interlayers": [1.52]}, "chocks.backfill_over": 4},
    {"chocks.at": [410, 900]},
    {"chocks.at": [600, 900]},
    {"chocks.at": [500]},
    {"chocks.at": [90, 910]},
    {"chocks.length": 25},
    {"chocks.length": 25, "limits.chock_stress": 0.5},
    {"joint.width": 2.5},
]


def tried(subject):
    for each in chock_checks.findings(subject, Ledger()):
        assert each.verdict is not PASS or each.remedies == ()
        for remedy in each.remedies:
            if remedy.changes:
                after = changed_subject(subject, remedy)
                assert after is not None, remedy
                assert cured(each, chock_checks.findings(after, Ledger())), (each.name, remedy)
                yield each.name


@pytest.mark.parametrize("fault", FAULTS, ids=str)
def test_every_remedy_cures(fault):
    assert list(tried(subject_of(fault)))


@pytest.mark.parametrize("code", ALL_PANES)
def test_every_remedy_of_the_sample_cures(code):
    cures = list(tried(subject_of(job=SAMPLE, code=code)))
    assert (BEARS.name in cures) == (code in ("SW-02", "SW-10")) or code == "SW-06"


def test_remedies_say_what_will_do():
    """13.52 - 10.52 leaves 3 over the chock; 97.8 N × 1.5 on 5 mm at 1 MPa asks 29.3, the squash 1.5 × 97.8 × 6 / (9 × 0.3 × 5) = 65.2: 70 mm."""
    laminate = {"glass": {"plies": [6, 6], "interlayers": [1.52]}, "chocks.backfill_over": 4}
    assert finding(BEARS.name, laminate).remedies[0].sentence == "reduce the backfill over the chocks to 3 mm"
    assert finding(SQUASH.name, {"chocks.length": 25}).remedies[0].sentence == "make the chocks 70 mm long"


# ---------------------------------------------------------------- straight blocks on a curve


def curved(outline, more=""):
    job = job_of(f'[[pane]]\ncode = "C1"\nframe = "aluminium"\nglass = {{ plies = [8] }}\noutline = {outline}\n{more}\n')
    found = [each for each in check_pane(job, job.panes[0]).findings if each.name == CURVED.name]
    return found[0] if found else None


def test_a_straight_block_in_a_small_round_pane_cuts_into_the_frame():
    """Diameter 180, joint 5: the wall of radius 95 rises 95 - √(95² - 25²) = 3.348 over half of 50; 1.652 of 5 is left, 3 is needed.

    A block over which it rises by 2 is 2 √(2 (2 × 95 - 2)) = 38.78 long: 35 in steps of 5.
    """
    found = curved("{ circle = 180 }", "joint = { width = 5 }\nchocks = { length = 50 }")
    assert found.verdict is Verdict.FAIL
    assert found.value == pytest.approx(5 - 95 + math.sqrt(95**2 - 25**2))
    assert found.limit == 3
    assert found.part in ("K1", "K2")
    assert found.remedies[0].changes == (Change("chocks.length", 35.0),)
    assert curved("{ circle = 180 }", "joint = { width = 5 }\nchocks = { length = 35 }").verdict is Verdict.PASS


def test_the_block_of_a_large_round_pane_has_its_height():
    """Diameter 420, joint 5: 215 - √(215² - 25²) = 1.458 of 5."""
    found = curved("{ circle = 420 }", "joint = { width = 5 }\nchocks = { length = 50 }")
    assert (found.verdict, found.value) == (Verdict.PASS, pytest.approx(5 - 215 + math.sqrt(215**2 - 25**2)))


def test_a_block_on_a_straight_edge_is_not_asked():
    assert curved("{ rectangle = [900, 450], radius = 50 }") is None


def test_on_an_edge_that_bends_into_the_pane_the_glass_takes_the_height():
    """A camber of 40 over 900 upwards: the glass has radius (450² + 40²) / 80 = 2551.25 and rises 2551.25 - √(2551.25² - 60²) = 0.706.

    The chord of the three places measures as the arc of 120 to within a thousandth.
    """
    bulge = -2 * 40 / 900
    found = curved(
        f"{{ path = [[0, 0, {bulge}], [900, 0], [900, 500], [0, 500]] }}", "joint = { width = 6 }\nchocks = { length = 120 }"
    )
    assert found.value == pytest.approx(6 - (2551.25 - math.sqrt(2551.25**2 - 60**2)), abs=0.01)
