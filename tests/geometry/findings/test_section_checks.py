"""The section held against its limits: each finding on both sides of its limit, figures by hand, every remedy tried.

The base is one invented pane; each sum stands beside its case. Worked examples of ten invented panes, by hand, follow it.
"""

from pathlib import Path

import pytest

from geometry.detail.build import build_detail
from geometry.findings.fit import section_checks
from geometry.findings.proving import changed_subject, cured
from geometry.job import job_of, read_job, with_changes
from geometry.ledger.figure import Ledger
from geometry.ledger.finding import Verdict
from geometry.workings.subject import Subject

PASS, LOOK, FAIL, OPEN = Verdict.PASS, Verdict.LOOK, Verdict.FAIL, Verdict.NOT_CHECKED
JOB = read_job(Path(__file__).parents[3] / "samples" / "sallow-wren.toml")
ALL_PANES = [pane.code for pane in JOB.panes]
BASE = job_of(
    """
[[pane]]
code = "A"
frame = "aluminium"
glass = { plies = [10] }
outline = { rectangle = [1200, 600], radius = 60 }
recess = { depth = 15, landing = 40, radius = 66, fillet = 2 }
joint = { width = 6, backfill_depth = 6 }
bond = { width = 15, thickness = 5, set_back = 8, notch_width = 10, notch_height = 15 }
frit = { width = 40, start = 1 }
spacers = { width = 5, hardness = 50 }
tolerances = { bond_thickness = 0.5, glass_thickness = 0.3, recess_depth = 1, flatness = 1, print = 2 }
bow = 1.5
"""
)

LANDING = "bead and its squeeze-out on the landing"
SPACER = "spacer clear of the bead"
RIM = "bead clear of the unprinted edge"
FILLET = "fillet clear of spacer and bead"
PROUD = "glass not too proud at the worst tolerances"
SUNK = "glass not too sunk at the worst tolerances"
DECK = "deck light flush as drawn"
WIDE = "bond wide enough to be laid"
THICK = "bond thick enough"
THIN = "bond thin enough for one pass"
TIGHTEST = "bond left at the tightest place"
PROPORTION = "bond width in proportion to its thickness"
CONTACT = "bead wets the landing at the widest gap"
STANDS = "uncured bead stands on its base"
LOW = "uncured bead low enough for one pass"
NOZZLE = "nozzle wide enough for the V-notch"
HARDNESS = "spacers not much harder than the bond"
TOOL = "joint wide enough for nozzle and tool"
DEEP = "backfill deep enough"
HELD = "backfill held by the glass edge"
BACKER = "room for the backer"


def subject_of(changes=None, *, job=BASE, code="A"):
    changed = with_changes(job, code, changes or {})
    pane = next(pane for pane in changed.panes if pane.code == code)
    return Subject(changed, pane, build_detail(changed, pane))


def check(subject):
    return section_checks.findings(subject, Ledger())


def finding(name, changes=None, **where):
    same = [found for found in check(subject_of(changes, **where)) if found.name == name]
    assert len(same) == 1, name
    return same[0]


# name, changes of the base, value, limit, verdict; the sum beside it
CASES = [
    # landing 40 - joint 6 - set-back 8 - bond 15 = 11; tightest 5 - 0.5 - 1 - 1.8 × (450 / 1200)² = 3.2469;
    # squeeze-out (75 / 3.2469 - 15) / 2 = 4.0496, and 2
    (LANDING, {}, 11, 6.0496, PASS),
    (LANDING, {"recess.landing": 35.0}, 6, 6.0496, FAIL),
    (LANDING, {"recess.landing": 35.1}, 6.1, 6.0496, PASS),
    # a tighter spread of the spacers spills less: (75 / 3.6469 - 15) / 2 = 2.7828
    (LANDING, {"recess.landing": 34.0, "tolerances.bond_thickness": 0.1}, 5, 4.7828, PASS),
    # 8 - 5 and 8 - 6.5 against 2
    (SPACER, {}, 3, 2, PASS),
    (SPACER, {"spacers.width": 6.5}, 1.5, 2, FAIL),
    # 8 - 1 and 8 - 6 against 3
    (RIM, {}, 7, 3, PASS),
    (RIM, {"frit.start": 6.0}, 2, 3, FAIL),
    # the spacer begins at 6 + (8 - 5) / 2 = 7.5 from the wall
    (FILLET, {}, 5.5, 0, PASS),
    (FILLET, {"recess.fillet": 8.0}, -0.5, 0, FAIL),
    # leaning back by 3°, the fillet ends 8 / tan 46.5° = 7.5917 from the foot
    (FILLET, {"recess.fillet": 8.0, "recess.draft": 3.0}, -0.0917, 0, FAIL),
    # 5 + 10 - 15 = 0 with 0.5 + 0.3 + 1 = 1.8; 5 + 10 - 13 = 2 proud; 15 - 18 = 3 sunk
    (PROUD, {}, 1.8, 3, PASS),
    (PROUD, {"recess.depth": 13.0}, 3.8, 3, LOOK),
    (SUNK, {}, 1.8, 4, PASS),
    (SUNK, {"recess.depth": 18.0}, 4.8, 4, LOOK),
    (DECK, {"rake": 90.0}, 0, 0.5, PASS),
    (DECK, {"rake": 90.0, "recess.depth": 15.6}, 0.6, 0.5, LOOK),
    (DECK, {"rake": 90.0, "recess.depth": 14.4}, 0.6, 0.5, LOOK),
    (WIDE, {}, 15, 10, PASS),
    (WIDE, {"bond.width": 9.0}, 9, 10, LOOK),
    # a pane of 1200 is large, one of 500 small, one of 501 not
    (THICK, {}, 5, 5, PASS),
    (THICK, {"bond.thickness": 4.5}, 4.5, 5, LOOK),
    (THICK, {"bond.thickness": 4.5, "outline.rectangle": [500, 400]}, 4.5, 3, PASS),
    (THICK, {"bond.thickness": 4.5, "outline.rectangle": [501, 400]}, 4.5, 5, LOOK),
    (THICK, {"bond.thickness": 2.5, "outline.rectangle": [500, 400]}, 2.5, 3, LOOK),
    (THIN, {}, 5, 10, PASS),
    (THIN, {"bond.thickness": 11.0}, 11, 10, LOOK),
    # 5 - 0.5 - 1 - 1.5 × 1.2 / 2 = 2.6; bow 3: 1.7
    (TIGHTEST, {}, 3.246875, 2, PASS),
    (TIGHTEST, {"bow": 3.0}, 2.99375, 2, PASS),  # 3.6 × 0.140625 of the bow
    (TIGHTEST, {"tolerances.flatness": 2.5}, 1.746875, 2, LOOK),
    (TIGHTEST, {"spacers.pitch": 1200, "bow": 3.0}, 1.7, 2, LOOK),  # half of the bow: 1.8
    # 15 / 5; 16 / 5; 6 / 7
    (PROPORTION, {}, 3, 3, PASS),
    (PROPORTION, {"bond.width": 16.0}, 3.2, 3, LOOK),
    (PROPORTION, {"bond.width": 6.0, "bond.thickness": 7.0}, 0.85714, 1, LOOK),
    # gap 5 + 0.5 + 1 + 1.5 × 1.2 / 2 = 7.4, full contact from 14.8
    (CONTACT, {}, 15, 14.8, PASS),
    # bow 3: gap 8.3, full contact from 16.6
    (CONTACT, {"bow": 3.0}, 15, 16.6, LOOK),
    # no contact at all: a bead of 9 against 7.4 + 2
    (CONTACT, {"bond.notch_height": 9.0}, 9, 9.4, FAIL),
    (CONTACT, {"bond.notch_height": 9.5}, 9.5, 14.8, LOOK),
    # 15 / 10 and 20 / 10 against 1.9
    (STANDS, {}, 1.5, 1.9, PASS),
    (STANDS, {"bond.notch_height": 20.0}, 2, 1.9, LOOK),
    (LOW, {}, 15, 22, PASS),
    (LOW, {"bond.notch_height": 22.5, "bond.notch_width": 13.0}, 22.5, 22, LOOK),
    # 10 + 2 and 18.5 + 2 against a bore of 20
    (NOZZLE, {}, 12, 20, PASS),
    (NOZZLE, {"bond.notch_width": 18.5}, 20.5, 20, LOOK),
    (HARDNESS, {"adhesive.hardness": 45.0}, 5, 10, PASS),
    (HARDNESS, {"adhesive.hardness": 39.0}, 11, 10, LOOK),
    (TOOL, {}, 6, 6, PASS),
    (TOOL, {"joint.width": 5.0, "recess.radius": 65.0}, 5, 6, LOOK),
    (DEEP, {}, 6, 6, PASS),
    (DEEP, {"joint.backfill_depth": 5.0}, 5, 6, LOOK),
    # 10 - 6 and 10 - 9 against 2; 1.5 proud of the skin, the backfill begins that much lower
    (HELD, {}, 4, 2, PASS),
    (HELD, {"joint.backfill_depth": 9.0}, 1, 2, LOOK),
    (HELD, {"joint.backfill_depth": 7.0, "recess.depth": 13.5}, 1.5, 2, LOOK),
    # 5 + 10 - 6 - 0.8 × 7.5 = 3; 5 + 10 - 9.5 - 6 = -0.5
    (BACKER, {}, 3, 0, PASS),
    (BACKER, {"joint.backfill_depth": 9.5}, -0.5, 0, LOOK),
]


@pytest.mark.parametrize(("name", "changes", "value", "limit", "verdict"), CASES)
def test_the_figure_and_the_verdict(name, changes, value, limit, verdict):
    found = finding(name, changes)
    assert found.value == pytest.approx(value, abs=1e-4)
    assert found.limit == pytest.approx(limit, abs=1e-4)
    assert found.verdict is verdict
    assert (found.margin < 0) == (verdict is not PASS)
    assert bool(found.remedies) == (verdict is not PASS)


@pytest.mark.parametrize("name", dict.fromkeys(case[0] for case in CASES))
def test_every_finding_is_seen_to_pass_and_not_to_pass(name):
    verdicts = {case[4] for case in CASES if case[0] == name}
    assert PASS in verdicts and len(verdicts) > 1


@pytest.mark.parametrize(("name", "changes"), [(case[0], case[1]) for case in CASES if case[4] is not PASS])
def test_every_remedy_cures(name, changes):
    subject = subject_of(changes)
    found = next(each for each in check(subject) if each.name == name)
    for remedy in found.remedies:
        assert any(letter.isdigit() for letter in remedy.sentence), remedy.sentence
        if remedy.changes:
            after = changed_subject(subject, remedy)
            assert after is not None and cured(found, check(after)), remedy.sentence
    # what a change of the job file can cure has such a remedy
    assert any(remedy.changes for remedy in found.remedies)


# a limit of the office's own turns the verdict of the case
OWN_LIMITS = [
    (LANDING, {"recess.landing": 35.0}, {"limits.landing_inside": 1.5}, FAIL, PASS),
    (SPACER, {}, {"limits.spacer_clearance": 3.5}, PASS, FAIL),
    (RIM, {}, {"limits.rim_clearance": 7.5}, PASS, FAIL),
    (PROUD, {}, {"limits.proud_most": 1.5}, PASS, LOOK),
    (SUNK, {}, {"limits.sunk_most": 1.5}, PASS, LOOK),
    (DECK, {"rake": 90.0, "recess.depth": 15.6}, {"limits.flush_deck": 0.7}, LOOK, PASS),
    (WIDE, {}, {"limits.bond_width_least": 16.0}, PASS, LOOK),
    (THICK, {}, {"limits.bond_thickness_least": 6.0}, PASS, LOOK),
    (THICK, {"outline.rectangle": [500, 400]}, {"limits.bond_thickness_least_small": 6.0}, PASS, LOOK),
    (THICK, {"bond.thickness": 4.5}, {"limits.small_pane": 1200.0}, LOOK, PASS),
    (THIN, {}, {"limits.bond_thickness_most": 4.0, "limits.bond_thickness_least": 3.0}, PASS, LOOK),
    (TIGHTEST, {}, {"limits.bond_thickness_anywhere": 3.3}, PASS, LOOK),
    (PROPORTION, {}, {"limits.bond_width_to_thickness": 2.5}, PASS, LOOK),
    (PROPORTION, {"bond.width": 6.0, "bond.thickness": 7.0}, {"limits.bond_width_over_thickness": 0.8}, LOOK, PASS),
    (CONTACT, {"bond.notch_height": 9.0}, {"limits.contact_over_gap": 1.0}, FAIL, LOOK),
    (STANDS, {}, {"limits.notch_slenderness": 1.4}, PASS, LOOK),
    (LOW, {}, {"limits.notch_height_most": 14.0}, PASS, LOOK),
    (NOZZLE, {}, {"limits.nozzle_bore": 11.0}, PASS, LOOK),
    (NOZZLE, {}, {"limits.nozzle_wall": 11.0}, PASS, LOOK),
    (HARDNESS, {"adhesive.hardness": 45.0}, {"limits.hardness_over_bond": 4.0}, PASS, LOOK),
    (TOOL, {}, {"limits.joint_for_tool": 7.0}, PASS, LOOK),
    (DEEP, {}, {"limits.backfill_least": 7.0}, PASS, LOOK),
    (HELD, {}, {"limits.glass_edge_left": 4.5}, PASS, LOOK),
    (BACKER, {}, {"limits.backer_room": 1.3}, PASS, LOOK),
]


@pytest.mark.parametrize(("name", "changes", "limit", "before", "after"), OWN_LIMITS)
def test_an_own_limit_moves_the_verdict(name, changes, limit, before, after):
    assert finding(name, changes).verdict is before
    moved = finding(name, {**changes, **limit})
    assert moved.verdict is after
    key = next(iter(limit))
    assert key not in moved.defaults


def test_a_default_that_went_in_is_named():
    assert {"limits.landing_inside"} <= set(finding(LANDING).defaults)
    assert "tolerances.bond_thickness" not in finding(LANDING).defaults
    left_out = job_of('[[pane]]\ncode = "A"\nframe = "steel"\nglass = { plies = [10] }\noutline = { rectangle = [900, 500] }\n')
    assert "tolerances.bond_thickness" in finding(LANDING, job=left_out).defaults
    assert all(found.name != FILLET for found in check(subject_of(job=left_out)))  # no fillet, nothing to hold clear of


def test_spacers_that_could_vanish_ask_for_no_less_landing_than_spacers_that_nearly_could():
    """A tolerance of 4.4 on a bond of 5 leaves a gap of 0.6: (75 / 0.6 - 15) / 2 + 2 = 57; of 5 and more, 0.5: 67.5 + 2 = 69.5."""
    flat = {"tolerances.flatness": 0, "bow": 0}
    asked = [finding(LANDING, {**flat, "tolerances.bond_thickness": spread}).limit for spread in (4.4, 5.0, 7.0)]
    assert asked == pytest.approx([57, 69.5, 69.5])


def test_without_the_hardness_of_the_bond_the_spacers_are_not_compared():
    found = finding(HARDNESS)
    assert found.verdict is OPEN and found.value is None
    assert found.says == "not checked: no hardness of the cured adhesive given"


def test_only_a_deck_light_is_asked_to_be_flush_as_drawn():
    assert DECK not in {found.name for found in check(subject_of({"rake": 74.0}))}


def test_a_remedy_takes_along_what_leans_on_it():
    """A landing widened from 31 to 36 mm shows inside a frit of 28: 6 + F - 36 must be 5, the bond, so F is 35."""
    found = finding(LANDING, {"recess.landing": 31.0, "frit.width": 28.0})
    changes = {change.key: change.value for change in found.remedies[0].changes}
    assert changes == {"recess.landing": 36, "frit.width": 35}


def test_a_printed_pane_is_not_printed_again():
    printed = {"frit.printed": True}
    for name, changes in ((LANDING, {"recess.landing": 31.0, "frit.width": 28.0}), (RIM, {"frit.start": 6.0})):
        for remedy in finding(name, {**changes, **printed}).remedies:
            assert not [change.key for change in remedy.changes if change.key.startswith("frit.")]


def test_thin_glass_gets_thicker_glass_or_a_cap():
    """6 mm of glass holds 4 of backfill; 6 want 8, the next thickness of float glass, and a recess of 5 + 8."""
    thin = {"glass.plies": [6.0], "recess.depth": 11.0, "joint.backfill_depth": 4.0}
    thicker, cap = finding(DEEP, thin).remedies
    assert {change.key: change.value for change in thicker.changes} == {
        "glass.plies": [8.0],
        "recess.depth": 13.0,
        "joint.backfill_depth": 6.0,
    }
    assert cap.changes == () and "cap the joint" in cap.sentence


def test_the_tightest_and_the_widest_place_of_a_surveyed_recess():
    """Recess walls at X 1203.5 to 1207 and -6, at Y -6 and 606: joints of 3.5 to 7 at the right, 6 elsewhere.

    The bead is farthest from the wall where the joint is 7: 40 - 7 - 8 - 15 = 10. The fillet bites where it is 3.5.
    """
    survey = {
        "recess": {
            "depth": 15.0,
            "landing": 40.0,
            "fillet": 6.0,
            "outline": {"polygon": [[-6, -6], [1207, -6], [1203.5, 300], [1207, 606], [-6, 606]]},
        }
    }
    found = {each.name: each for each in check(subject_of(survey))}
    assert found[TOOL].value == pytest.approx(3.5, abs=1e-5) and found[TOOL].where == "e2"
    assert found[TOOL].verdict is LOOK
    # square to the edge at the end of its straight, 60 mm from the corner: 1203.5 + 3.5 × 240 / 306 = 1206.245
    assert found[LANDING].value == pytest.approx(40 - 6.245 - 23, abs=1e-3) and found[LANDING].where == "e2"
    # 3.5 + 1.5 - 6
    assert found[FILLET].value == pytest.approx(-1, abs=1e-5) and found[FILLET].verdict is FAIL


# Worked examples of invented panes, by hand: what must show, and nothing else may fail.
SHOWS = {
    "SW-03": {PROPORTION: 14 / 4, TOOL: 5},
    "SW-05": {PROPORTION: 20 / 6},
    "SW-06": {CONTACT: 18},  # of the shop's notch, against 2 × (6 + 0.5 + 1 + 1.5 × 2.25 / 2) = 18.375
    "SW-09": {TOOL: 1.12},
    "SW-10": {DEEP: 4},
}


@pytest.mark.parametrize("code", ALL_PANES)
def test_worked_examples(code):
    found = check(subject_of(job=JOB, code=code))
    # on the thin bonds of the portlight and the smallest light the squeeze-out at the tightest place runs off the landing:
    # 56 / (4 - 1.5 - 0.315) - 14 = 11.6, 5.8 each side and 2 of the 7; 40 / (4 - 1.5 - 0.165) - 10 = 7.1, 3.6 and 2 of the 5
    assert [each.name for each in found if each.verdict is FAIL] == [LANDING] * (code in ("SW-03", "SW-10"))
    looks = {each.name: each.value for each in found if each.verdict is LOOK}
    assert looks == pytest.approx(SHOWS.get(code, {}), abs=0.005)


@pytest.mark.parametrize("code", ALL_PANES)
def test_every_remedy_of_the_worked_examples_cures(code):
    subject = subject_of(job=JOB, code=code)
    for found in check(subject):
        for remedy in found.remedies:
            if remedy.changes:
                after = changed_subject(subject, remedy)
                assert after is not None and cured(found, check(after)), remedy.sentence


@pytest.mark.parametrize(
    ("code", "bow", "notch", "gap", "verdict"),
    [
        # thickness + 0.5 + 1 + half of the bow over the longest side; the notch of the shop: 2/3 of the bond, 3 thicknesses
        ("SW-01", 1.5, (10, 15), 7.4, PASS),
        ("SW-01", 3.0, (10, 15), 8.3, LOOK),
        ("SW-06", 1.5, (12, 18), 9.1875, LOOK),
        ("SW-06", 1.0, (12, 18), 8.625, PASS),
    ],
)
def test_bow_against_the_notch_of_the_shop(code, bow, notch, gap, verdict):
    changes = {"bow": bow, "bond.notch_width": float(notch[0]), "bond.notch_height": float(notch[1])}
    found = finding(CONTACT, changes, job=JOB, code=code)
    assert found.figure is not None and found.figure.value == pytest.approx(2 * gap)
    assert found.verdict is verdict
    subject = subject_of(changes, job=JOB, code=code)
    for remedy in found.remedies:
        after = changed_subject(subject, remedy)
        assert after is not None and cured(found, check(after)), remedy.sentence


def test_names_are_one_of_a_kind_and_sources_are_told():
    found = check(subject_of({"rake": 90.0, "adhesive.hardness": 45.0}))
    assert len({each.name for each in found}) == len(found) == 24
    for each in found:
        assert each.source and each.says
