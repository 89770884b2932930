"""Temperature cases that follow from the frame's colour and the air, and the temperatures of the bonding day.

Figures by hand beside each case. EN 1991-1-5 table 5.2, ASTM C1472 and the difference of ETAG 002-1 are from memory or at second hand:
see the rules.
"""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.detail.build import build_detail
from geometry.findings.check import quick_findings
from geometry.job import JobError, job_of, with_changes
from geometry.ledger.figure import Ledger
from geometry.ledger.finding import Verdict
from geometry.sizing.temperatures import bonded, cases_of
from geometry.workings.bead_movement import bead_cases
from geometry.workings.subject import Subject

PANE = """
[[pane]]
code = "A"
frame = "{frame}"
glass = {{ plies = [10] }}
outline = {{ rectangle = [1200, 600], radius = 60 }}
joint = {{ width = 8 }}
bond = {{ width = 15, thickness = 6, set_back = 8 }}
recess = {{ landing = 60 }}
frit = {{ width = 60 }}
tolerances = {{ recess = 2, pane = 1.5, placing = 1 }}
pressure = {{ outward = 3 }}
"""
STRAIN, SHEAR = "sealant strain within its movement class", "shear of the bead from heat"


def job_with(changes=None, *, frame="aluminium"):
    return with_changes(job_of(PANE.format(frame=frame)), "A", changes or {})


def subject_of(changes=None, **what):
    job = job_with(changes, **what)
    return Subject(job, job.panes[0], build_detail(job, job.panes[0]))


def cases(changes=None):
    return {case.name: (case.frame, case.glass) for case in cases_of(job_with(changes).panes[0])}


@pytest.mark.parametrize(
    ("changes", "hot", "sun", "frost"),
    [
        ({}, (82, 57), (30, 90.4), (-20, -20)),
        ({"temperatures.frame_colour": "light"}, (70, 45), (30, 90.4), (-20, -20)),
        ({"temperatures.frame_colour": "bright"}, (58, 33), (30, 90.4), (-20, -20)),
        ({"temperatures.hottest_air": 30, "temperatures.coldest_air": -5}, (72, 47), (30, 80.4), (-5, -5)),
        ({"temperatures.print_absorptance": 50, "temperatures.sun_gain": 42}, (82, 57), (30, 61), (-20, -20)),
        ({"temperatures.glass_behind_frame": 0, "temperatures.frame_in_shade": 20}, (82, 82), (20, 90.4), (-20, -20)),
    ],
)
def test_cases_follow_from_colour_and_air(changes, hot, sun, frost):
    expected = {"hot soak": hot, "sun on glass": sun, "frost night": frost}
    assert cases(changes) == {name: pytest.approx(both) for name, both in expected.items()}


def test_given_cases_stand_alone():
    assert cases({"temperatures.cases": {"dock": {"frame": 50, "glass": 40}}}) == {"dock": (50, 40)}


@pytest.mark.parametrize(
    ("climate", "frame", "glass"),
    [
        ({}, 23, 23),
        ({"climate.air": 12}, 12, 12),
        ({"climate.air": 12, "climate.surface": 9}, 9, 9),
        ({"climate.air": 12, "climate.frame_surface": 6}, 6, 12),
        ({"climate.air": 12, "climate.surface": 9, "temperatures.bonding": 15}, 15, 15),
    ],
)
def test_the_bonding_day_is_that_of_the_climate(climate, frame, glass):
    """Strain of the frost by hand: 23e-6 × (-20 - frame) - 9e-6 × (-20 - glass)."""
    job = job_with(climate)
    assert bonded(job.panes[0])[:2] == (frame, glass)
    frost = next(each for each in bead_cases(subject_of(climate), Ledger()) if each[0].name == "frost night")[0]
    assert frost.strain.value == pytest.approx(23e-6 * (-20 - frame) - 9e-6 * (-20 - glass), rel=1e-12)


def test_the_record_names_what_was_left_out():
    hot = next(each for each in bead_cases(subject_of(), Ledger()) if each[0].name == "hot soak")[0]
    assert {"temperatures.hottest_air", "temperatures.frame_colour", "temperatures.glass_behind_frame"} <= set(hot.defaults)
    given = {"temperatures.hottest_air": 35, "temperatures.frame_colour": "light"}
    hot = next(each for each in bead_cases(subject_of(given), Ledger()) if each[0].name == "hot soak")[0]
    assert not {"temperatures.hottest_air", "temperatures.frame_colour"} & set(hot.defaults)


def test_a_colour_that_is_none_and_air_the_wrong_way_round_are_refused():
    with pytest.raises(JobError, match="bright, light, dark"):
        job_with({"temperatures.frame_colour": "blue"})
    with pytest.raises(JobError, match="coldest_air 45 °C is more than hottest_air 40 °C"):
        job_with({"temperatures.coldest_air": 45})


@settings(max_examples=12, deadline=None)
@given(
    frame=st.sampled_from(["aluminium", "steel", "grp", "timber_along", "cfrp"]),
    bonding=st.integers(5, 30),
    hot=st.integers(30, 50),
    cold=st.integers(-35, 0),
    hotter=st.integers(0, 10),
    colder=st.integers(0, 10),
)
def test_a_wider_temperature_never_passes_more(frame, bonding, hot, cold, hotter, colder):
    """Hotter air, colder air, a darker frame: no strain falls and no verdict improves."""
    order = [Verdict.PASS, Verdict.LOOK, Verdict.FAIL]
    found = []
    for colour, add, less in (("bright", 0, 0), ("light", 0, 0), ("dark", 0, 0), ("dark", hotter, colder)):
        changes = {
            "temperatures.bonding": bonding,
            "temperatures.frame_colour": colour,
            "temperatures.hottest_air": hot + add,
            "temperatures.coldest_air": cold - less,
        }
        every = {each.name: each for each in quick_findings(subject_of(changes, frame=frame))}
        found.append([(every[name].value, order.index(every[name].verdict)) for name in (STRAIN, SHEAR)])
    for milder, wider in itertools.pairwise(found):
        for (value, verdict), (more, worse) in zip(milder, wider, strict=True):
            assert more >= value - 1e-9 and worse >= verdict
