"""Loads that the engineer gives: figures by hand, silence is not checked, a heavier load never passes more, remedies are tried."""

import itertools
import math
from functools import cache

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.findings.checks import found_by
from geometry.findings.holding import acceleration_checks, glass_load_checks, patch_checks, plate_checks
from geometry.findings.holding.acceleration_checks import CHOCKS, STRAPS
from geometry.findings.holding.glass_load_checks import EDGE, PATCH, THICKNESS, WIND
from geometry.findings.proving import changed_subject, cured
from geometry.job import JobError, job_of, with_changes
from geometry.ledger.figure import Ledger
from geometry.ledger.finding import Verdict
from geometry.outline import perimeter
from geometry.workings.bead_movement import setting_chocks
from geometry.workings.subject import Subject
from outputs.record.stress_part import stress_section

PASS, LOOK, FAIL, OPEN = Verdict.PASS, Verdict.LOOK, Verdict.FAIL, Verdict.NOT_CHECKED
RANK = (PASS, LOOK, FAIL)
BASE = job_of(
    """
[[pane]]
code = "A"
frame = "aluminium"
glass = { plies = [10] }
outline = { rectangle = [1200, 600], radius = 60 }
bond = { width = 15, thickness = 6 }
pressure = { outward = 6, inward = 12 }
"""
)
CHECKS = (*acceleration_checks.CHECKS, *glass_load_checks.CHECKS)
AREA = 1200 * 600 - (4 - math.pi) * 60**2
MASS = AREA * 10 * 2500e-9
AFLOAT = {"vessel.afloat": True}
DECK = {"rake": 90}
SMALL_FOOT = {"loads.patch": {"force": 600, "x": 250, "y": 200, "width": 80}}
PATCHED = {"loads.patch": {"force": 900, "x": 600, "y": 300, "width": 100}}


class Frozen(dict):
    """A table that may stand in the memory of what was bent."""

    def __hash__(self):
        return hash(repr(self))


def subject_of(changes=None):
    job = with_changes(BASE, "A", changes or {})
    return Subject(job, job.panes[0], build_detail(job, job.panes[0]))


def found(changes=None):
    return {each.name: each for each in found_by(CHECKS, subject_of(changes), Ledger())}


def accelerations(vertical, horizontal):
    return {"loads.vertical_acceleration": vertical, "loads.horizontal_acceleration": horizontal}


@pytest.mark.parametrize(
    ("changes", "must", "missing"),
    [
        ({}, CHOCKS, "no loads.vertical_acceleration and no loads.horizontal_acceleration"),
        ({"loads.vertical_acceleration": 3}, CHOCKS, "no loads.horizontal_acceleration"),
        (accelerations(3, 3), STRAPS, "no vessel.afloat"),
        (AFLOAT, STRAPS, "no loads.vertical_acceleration"),
        ({}, WIND, "no loads.wind and no loads.wind_suction"),
        ({"loads.wind": 40}, WIND, "no loads.wind_suction"),
        ({}, THICKNESS, "no allowed stress of the glass (glass.allowed_stress)"),
        (DECK, PATCH, "no load on a part of the glass"),
        ({**DECK, **PATCHED}, PATCH, "no allowed stress of the glass"),
        ({"glass.treatment": "annealed"}, EDGE, "no difference of temperature"),
    ],
)
def test_silence_is_not_checked(changes, must, missing):
    each = found(changes)[must.name]
    assert each.verdict is OPEN and each.value is None and missing in each.says


def test_each_is_told_in_the_whole_check():
    """What was not given stands among the findings of the pane, and alone it never decides the pane."""
    job = with_changes(BASE, "A", {"glass.treatment": "annealed", **DECK})
    every = {each.name: each for each in check_pane(job, job.panes[0]).findings}
    for must in (STRAPS, WIND, THICKNESS, PATCH, EDGE):
        assert every[must.name].verdict is OPEN and not every[must.name].decides


@pytest.mark.parametrize(("vertical", "horizontal"), [(0, 0), (4.905, 0), (4.905, 3), (0, 6)])
def test_the_chocks_by_hand(vertical, horizontal):
    """Half of m (g + a) each, and what tips the pane about its foot: m h × height of the centroid / distance of the chocks."""
    subject = subject_of(accelerations(vertical, horizontal))
    left, right = (chock.foot.x for chock in setting_chocks(subject))
    force = MASS * (9.81 + vertical) / 2 + MASS * horizontal * 300 / (right - left)
    length, bearing = subject.sizes.chock_length.value, 10 - subject.sizes.chock_backfill_over.value
    each = found(accelerations(vertical, horizontal))[CHOCKS.name]
    assert each.value == pytest.approx(force / (length * bearing), rel=1e-4)


def test_given_half_the_weight_more_is_the_dynamic_factor_of_the_quick_check():
    job = with_changes(BASE, "A", accelerations(9.81 / 2, 0))
    every = {each.name: each for each in check_pane(job, job.panes[0]).findings}
    assert every[CHOCKS.name].value == pytest.approx(every["bearing stress on the chocks"].value)
    assert every[CHOCKS.name].limit == every["bearing stress on the chocks"].limit


@pytest.mark.parametrize(("rake", "vertical", "horizontal"), [(0, 0, 1), (-20, 2, 1), (30, 2, 0), (30, 2, 8), (90, 12, 3)])
def test_the_uncured_bead_by_hand(rake, vertical, horizontal):
    lean = math.radians(rake)
    pull = MASS * max(-(9.81 + way * vertical) * math.sin(lean) for way in (1, -1)) + MASS * horizontal * math.cos(lean)
    subject = subject_of({**AFLOAT, "rake": rake, **accelerations(vertical, horizontal)})
    stress = max(0.0, pull) / (15 * perimeter(subject.detail.curves.bead_centre))
    each = found({**AFLOAT, "rake": rake, **accelerations(vertical, horizontal)})[STRAPS.name]
    assert each.value == pytest.approx(stress / (0.5 * 0.001), rel=1e-4)


def test_a_heel_stands_for_the_horizontal_acceleration():
    """Tan 10° of the weight; ashore nothing moves."""
    heeled = {**AFLOAT, "vessel.heel": 10, "loads.vertical_acceleration": 0}
    typed = {**AFLOAT, **accelerations(0, 9.81 * math.tan(math.radians(10)))}
    for must in (CHOCKS, STRAPS):
        assert found(heeled)[must.name].value == pytest.approx(found(typed)[must.name].value)
    assert found({**typed, "vessel.afloat": False})[STRAPS.name].verdict is PASS


@pytest.mark.parametrize(("wind", "verdict"), [(85, PASS), (95, LOOK)])
def test_a_wind_of_which_the_suction_is_known(wind, verdict):
    """0.5 × 1.225 × 95² × 1.2 / 1000 = 6.63 kPa beside 6 kPa given."""
    each = found({"loads.wind": wind, "loads.wind_suction": 1.2})[WIND.name]
    assert each.verdict is verdict and each.limit == pytest.approx(0.0006125 * wind**2 * 1.2)


@pytest.mark.parametrize(
    ("changes", "needed"),
    [
        ({}, 600 * math.sqrt(0.6102 * 12 / (1000 * 20))),
        ({"outline": {"circle": 600}}, 600 * math.sqrt(3 * 3.23 / 32 * 12 / (1000 * 20))),
        ({"pressure": {"outward": 6}}, 600 * math.sqrt(0.6102 * 6 / (1000 * 20))),
    ],
)
def test_thickness_for_the_allowed_stress(changes, needed):
    """T = b √(β p / (1000 σ)), Roark's 0.6102 at 2 : 1; a disc has 3 (3 + ν) / 32 of its diameter."""
    each = found({"glass.allowed_stress": 20, **changes})[THICKNESS.name]
    assert each.limit == pytest.approx(needed, rel=1e-6) and each.value == 10
    assert each.verdict is (PASS if needed <= 10 else FAIL)


def test_a_laminate_counts_by_its_coupling():
    """5 + 5: 0 coupled each ply bears half, √(250 / 5) = 7.07 mm; as one sheet with the interlayer counted 11.59 mm."""
    laminate = {"glass.allowed_stress": 20, "glass.plies": [5, 5], "glass.interlayers": [1.52]}
    apart = found(laminate)[THICKNESS.name].value
    whole = found({**laminate, "glass.shear_coupling": 100})[THICKNESS.name].value
    cubed = 2 * 5**3 + 12 * 2 * 5 * 3.26**2
    assert (apart, whole) == pytest.approx((math.sqrt(50), math.sqrt(cubed / (5 + 2 * 3.26))))


@pytest.mark.parametrize(("allowed", "verdict"), [(60, PASS), (5, LOOK)])
def test_a_foot_on_a_deck_light(allowed, verdict):
    """Roark 1b at 2 : 1: 1.5 × 900 / (π 10²) (1.23 ln(1200 / 50π) + 0.958) = 14.9 MPa."""
    each = found({**DECK, **PATCHED, "glass.allowed_stress": allowed})[PATCH.name]
    hand = 1.5 * 900 / (math.pi * 100) * (1.23 * math.log(1200 / (50 * math.pi)) + 0.958)
    assert each.value == pytest.approx(hand) and each.verdict is verdict


@cache
def bent(*changes):
    """A small pane bent on its bead, by the changes."""
    small = {"outline": {"rectangle": [500, 400], "radius": 30}, "glass.plies": [6], "pressure": {"inward": 4}}
    subject = subject_of({**small, **dict(changes)})
    return {each.name: each for each in plate_checks.findings(subject, Ledger(), plate_checks.plate_of(subject))}


def test_the_plate_bends_under_the_foot():
    """A foot in the middle of 500 × 400 × 6 mm: below the quick figure of a pane that turns freely at its edge, and above half of it."""
    patch = {"force": 600.0, "x": 250.0, "y": 200.0, "width": 80.0}
    every = bent(("loads.patch", Frozen(patch)), ("glass.allowed_stress", 30.0))
    quick = 1.5 * 600 / (math.pi * 36) * (1.23 * math.log(800 / (40 * math.pi)) + 0.65)
    assert quick / 2 < every[patch_checks.PATCHED.name].value < quick
    assert every[patch_checks.BEAD.name].value > 0.0
    assert every[patch_checks.PRESSED.name].verdict is PASS


def test_without_an_allowed_stress_the_plate_tells_and_does_not_judge():
    patch = {"force": 600.0, "x": 250.0, "y": 200.0, "width": 80.0}
    every = bent(("loads.patch", Frozen(patch)))
    for must in (patch_checks.PATCHED, patch_checks.PRESSED):
        assert (
            every[must.name].verdict is OPEN
            and "MPa" in every[must.name].says
            and "glass.allowed_stress" in every[must.name].says
        )


def test_a_heavier_foot_never_passes_more():
    steps = [200.0, 600.0, 1500.0]
    every = [
        bent(("loads.patch", Frozen({"force": f, "x": 250.0, "y": 200.0, "width": 80.0})), ("glass.allowed_stress", 30.0))
        for f in steps
    ]
    for must in (patch_checks.PATCHED, patch_checks.BEAD):
        values = [each[must.name].value for each in every]
        assert values == sorted(values)
    assert [each[patch_checks.PATCHED.name].verdict for each in every] == [PASS, PASS, FAIL]


def test_a_foot_without_the_plate_is_not_checked():
    job = with_changes(BASE, "A", PATCHED)
    every = {each.name: each for each in check_pane(job, job.panes[0]).findings}
    for must in (patch_checks.PATCHED, patch_checks.BEAD):
        assert every[must.name].verdict is OPEN and every[must.name].says == "not checked: the pane was not bent on its bead"


def test_a_foot_off_a_cut_corner_is_not_checked():
    """Within the pane's box, beyond its outline."""
    cut = [[0, 0], [500, 0], [500, 400], [200, 400], [0, 200]]
    patch = {"force": 600.0, "x": 60.0, "y": 340.0, "width": 80.0}
    every = bent(("outline", Frozen({"polygon": cut, "radius": 30})), ("loads.patch", Frozen(patch)))
    assert every[patch_checks.PATCHED.name].verdict is OPEN and "does not lie on it" in every[patch_checks.PATCHED.name].says


def test_a_patch_off_the_pane_is_refused():
    with pytest.raises(JobError, match=r"patch from 1160 to 1260 mm along X.*a patch within 0 and 1200 mm"):
        subject_of({"loads.patch": {"force": 900, "x": 1210, "y": 300, "width": 100}})


@pytest.mark.parametrize(("difference", "verdict"), [(17, PASS), (18, LOOK)])
def test_heat_at_the_edge_of_annealed_glass(difference, verdict):
    """0.63 MPa/K against a quarter of 45 MPa."""
    annealed = {"glass.treatment": "annealed", "loads.edge_temperature_difference": difference}
    each = found(annealed)[EDGE.name]
    assert each.value == pytest.approx(0.63 * difference) and each.verdict is verdict
    assert EDGE.name not in found({**annealed, "glass.treatment": "toughened"})


ROWS = {
    CHOCKS: [accelerations(a, a / 2) for a in (0, 2, 8, 30, 90)],
    STRAPS: [{**AFLOAT, **accelerations(a, a / 2)} for a in (0, 1, 4, 30)],
    WIND: [{"loads.wind": v, "loads.wind_suction": 1.2} for v in (5, 40, 90, 110)],
    THICKNESS: [{"glass.allowed_stress": 20, "pressure": {"inward": p}} for p in (1, 5, 20, 60)],
    PATCH: [
        {"glass.allowed_stress": 20, "loads.patch": {"force": f, "x": 600, "y": 300, "width": 80}} for f in (10, 500, 2000, 9000)
    ],
    EDGE: [{"glass.treatment": "annealed", "loads.edge_temperature_difference": k} for k in (0, 10, 20, 60)],
}


@pytest.mark.parametrize("must", ROWS, ids=lambda must: must.name)
def test_a_heavier_load_never_passes_more(must):
    every = [found(each)[must.name] for each in ROWS[must]]
    assert every[0].verdict is PASS and every[-1].verdict is not PASS
    for less, more in itertools.pairwise(every):
        assert RANK.index(more.verdict) >= RANK.index(less.verdict) and more.margin < less.margin


@pytest.mark.parametrize(
    ("must", "changes"),
    [
        (CHOCKS, accelerations(90, 10)),
        (STRAPS, {**AFLOAT, **accelerations(4, 4)}),
        (THICKNESS, {"glass.allowed_stress": 5}),
        (THICKNESS, {"glass.allowed_stress": 5, "glass.plies": [5, 5], "glass.interlayers": [1.52]}),
        (PATCH, {**PATCHED, "glass.allowed_stress": 5}),
    ],
)
def test_what_is_proposed_helps(must, changes):
    each = found(changes)[must.name].with_remedies()
    proposed = [remedy for remedy in each.remedies if remedy.changes]
    assert proposed
    for remedy in proposed:
        changed = changed_subject(subject_of(changes), remedy)
        assert changed is not None and cured(each, found_by(CHECKS, changed, Ledger())), str(remedy)


def test_the_record_has_a_column_for_the_foot():
    job = with_changes(
        BASE,
        "A",
        {"outline": {"rectangle": [500, 400], "radius": 30}, "glass.plies": [6], "pressure": {"inward": 4}, **SMALL_FOOT},
    )
    page = stress_section(check_pane(job, job.panes[0], plate=True))
    assert "load on a part</th>" in page and "119,4" in page  # 600 N on a disc of 80 mm, kPa
