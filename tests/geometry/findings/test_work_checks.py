"""Can it be done: every finding once on each side of its limit, every remedy tried, every limit moved.

The panes are the invented ones of the sample; the figures in the comments are worked by hand.
"""

import datetime
from pathlib import Path

import pytest

from geometry.detail.build import build_detail
from geometry.findings.day import approval_checks, climate_checks, cure_checks, lifting_checks, work_checks
from geometry.findings.proving import changed_subject, cured, made, proven
from geometry.job import job_of, read_job, with_changes
from geometry.ledger.figure import Ledger
from geometry.ledger.finding import Verdict
from geometry.workings.subject import Subject
from geometry.workings.watched import SharingLedger

JOB = read_job(Path(__file__).parents[3] / "samples" / "sallow-wren.toml")
PASS, LOOK, FAIL, OPEN = Verdict.PASS, Verdict.LOOK, Verdict.FAIL, Verdict.NOT_CHECKED
IN_STANDARD_AIR = {"climate__air": 23.0, "climate__humidity": 50.0, "climate__surface": 23.0}


def subject_of(code="SW-01", **changes):
    job = with_changes(JOB, code, {key.replace("__", "."): value for key, value in changes.items()})
    pane = next(pane for pane in job.panes if pane.code == code)
    return Subject(job, pane, build_detail(job, pane))


def check(subject):
    return work_checks.findings(subject, Ledger())


def found_in(subject, name):
    same = [finding for finding in check(subject) if finding.name == name]
    return same[0] if same else None


def finding(name, code="SW-01", **changes):
    return found_in(subject_of(code, **changes), name)


# The ten panes.


def test_what_must_fail_fails_and_nothing_else():
    failing = {(pane.code, each.name) for pane in JOB.panes for each in check(subject_of(pane.code)) if each.verdict is FAIL}
    assert failing == {
        ("SW-03", approval_checks.APPROVED.name),
        ("SW-05", cure_checks.FIRST_DAYS.name),
        ("SW-06", work_checks.IN_TIME.name),
    }


def test_one_finding_of_a_name_and_figures_behind_it():
    for pane in JOB.panes:
        names = [each.name for each in check(subject_of(pane.code))]
        assert len(names) == len(set(names))
        for each in check(subject_of(pane.code)):
            assert each.says and (each.verdict is OPEN or (each.source and each.value is not None and each.limit is not None))


SPOILED = [
    ("SW-06", {}),
    ("SW-06", IN_STANDARD_AIR),
    ("SW-06", {"work__people": 3, "work__lifting_gear": False, "work__cups": 4}),
    ("SW-02", {"work__people": 1}),
    ("SW-02", {"work__cups": 2}),
    ("SW-02", {"work__people": 1, "work__lifting_gear": False}),
    ("SW-05", {}),
    ("SW-01", {"backfill_after": 0.5}),
    ("SW-01", {"backfill_after": 3.0}),
    ("SW-01", {"inner_face_open": False}),
    ("SW-01", {"inner_face_open": False, "backfill_after": 3.0}),
    ("SW-01", {"vessel__launch": datetime.date(2026, 3, 5)}),
    ("SW-01", {"vessel__launch": datetime.date(2026, 3, 12), "backfill_after": 1.0}),
    ("SW-01", {"vessel__launch": datetime.date(2026, 3, 3)}),
    ("SW-01", {"climate__surface": 12.0}),
    ("SW-01", {"climate__surface": 12.0, "climate__frame_surface": 11.0}),
    ("SW-01", {"climate__air": 2.0, "climate__surface": 2.0}),
    ("SW-01", {"climate__air": 40.0, "climate__surface": 45.0, "climate__frame_surface": 50.0, "climate__humidity": 20.0}),
    ("SW-01", {"climate__humidity": 92.0}),
    ("SW-01", {"work__frame_primer_longest": 45.0}),
    ("SW-01", {"adhesive__design_tension": 0.01}),
    ("SW-01", {"adhesive__design_tension": 0.019}),
]


@pytest.mark.parametrize(("code", "changes"), SPOILED)
def test_every_remedy_cures(code, changes):
    """A remedy that changes the job makes its finding pass; nothing is offered that would be thrown out when it is tried."""
    subject = subject_of(code, **changes)
    bad = [each for each in check(subject) if each.verdict in (FAIL, LOOK)]
    assert bad
    for each in bad:
        assert each.remedies
        for remedy in each.remedies:
            assert any(sign.isdigit() for sign in remedy.sentence) or not remedy.changes
            if remedy.changes:
                after = changed_subject(subject, remedy)
                assert after is not None, remedy
                now = check(after)
                lookers = {FAIL: (PASS, LOOK), LOOK: (PASS,)}[each.verdict]
                assert all(other.verdict in lookers for other in now if other.name == each.name), remedy
                assert cured(each, now), remedy


def test_remedies_survive_the_proof():
    subject = subject_of("SW-06")
    late = next(
        each
        for each in proven(made(work_checks.CHECKS, subject, SharingLedger()), subject)
        if each.name == work_checks.IN_TIME.name
    )
    changes = [{change.key: change.value for change in remedy.changes} for remedy in late.remedies]
    # at 60 % 25 min at 23 °C, 20 of them; 18.72 min with two powered guns: 23 - 10 log2(18.72 / 20) = 23.95. Less gear takes longer
    # than 20, and no colder hour helps it
    assert {"work.bead_rate": 120, "work.guns": 2, "climate.air": 23, "climate.surface": 23} in changes
    assert not [each for each in changes if "climate.air" in each and len(each) < 4]
    # 28.38 / 0.8 × √2 × 60 / 50 = 60.2
    assert {"adhesive.open_time": 61} in changes


# Open time.


def test_open_time_at_the_wheelhouse_front():
    """Worked example by hand: 28.4 min against 17.0 at 28 °C and against 24 at 23 °C, at 50 %; at 60 % a sixth less, 14.1.

    At 15 °C no more than at 23, unless the sheet says so: 52 min there make 0.8 × 52 × 50 / 60 = 34.7.
    """
    late = finding(work_checks.IN_TIME.name, "SW-06")
    assert (late.verdict, late.value, late.limit) == (FAIL, pytest.approx(28.4, abs=0.05), pytest.approx(14.1, abs=0.05))
    assert late.unit == "min" and late.margin == pytest.approx(14.1 - 28.4, abs=0.1)
    assert finding(work_checks.IN_TIME.name, "SW-06", **IN_STANDARD_AIR).verdict is FAIL
    cold = {"climate__air": 15.0, "climate__surface": 15.0}
    assert finding(work_checks.IN_TIME.name, "SW-06", **cold).limit == pytest.approx(20)
    second = {"adhesive__open_time_cold": 52.0, "adhesive__open_time_cold_air": 15.0}
    early = finding(work_checks.IN_TIME.name, "SW-06", **cold, **second)
    assert early.verdict is PASS and early.limit == pytest.approx(34.7, abs=0.05)
    assert finding(work_checks.IN_TIME.name, "SW-06", work__bead_rate=120.0, **IN_STANDARD_AIR).verdict is PASS
    assert finding(work_checks.IN_TIME.name, "SW-06", work__bead_rate=120.0, work__guns=2).verdict is FAIL  # 18.7 against 14.1


def test_a_powered_gun_is_offered_first_where_it_does():
    late = finding(work_checks.IN_TIME.name, "SW-06", **IN_STANDARD_AIR)
    assert [(change.key, change.value) for change in late.remedies[0].changes] == [("work.bead_rate", 120.0)]
    assert "22.9 min" in late.remedies[0].sentence


def test_share_of_the_open_time_moves_the_verdict():
    # 14.25 min of 30 at 23 °C are 47.5 %
    assert finding(work_checks.IN_TIME.name, work__open_time_share=48.0, **IN_STANDARD_AIR).verdict is PASS
    assert finding(work_checks.IN_TIME.name, work__open_time_share=47.0, **IN_STANDARD_AIR).verdict is FAIL


def test_defaults_behind_the_open_time_are_marked():
    assert "work.open_time_share" in finding(work_checks.IN_TIME.name).defaults
    assert "adhesive.open_time" not in finding(work_checks.IN_TIME.name).defaults  # the sample gives it
    assert "work.open_time_share" not in finding(work_checks.IN_TIME.name, work__open_time_share=80.0).defaults


def test_primed_faces():
    """Last press at 74.25 min; the landing is primed at 24.18, the glass at 31.16: 50.07 and 43.09 min of waiting."""
    assert finding(work_checks.PRIMED.name).verdict is OPEN
    assert finding(work_checks.PRIMED.name, work__frame_primer_longest=51.0).verdict is PASS
    short = finding(work_checks.PRIMED.name, work__frame_primer_longest=50.0, work__glass_primer_longest=480.0)
    assert (short.verdict, short.where, short.value) == (FAIL, "frame", pytest.approx(50.07, abs=0.01))
    glass = finding(work_checks.PRIMED.name, work__frame_primer_longest=480.0, work__glass_primer_longest=43.0)
    assert (glass.verdict, glass.where, glass.value) == (FAIL, "glass", pytest.approx(43.09, abs=0.01))
    assert "glass not checked" in finding(work_checks.PRIMED.name, work__frame_primer_longest=51.0).says


# Climate.


def test_dew_point_of_the_glass():
    """Published: 20 °C and 70 % have a dew point of 14.4 °C and ask for 17.4 °C (article on ISO 8502-4, seen at second hand)."""
    air = {"climate__air": 20.0, "climate__humidity": 70.0}
    cold = finding(climate_checks.DRY.name, climate__surface=17.3, **air)
    assert (cold.verdict, cold.where) == (FAIL, "glass")
    assert cold.limit == pytest.approx(17.4, abs=0.05)
    assert finding(climate_checks.DRY.name, climate__surface=17.5, **air).verdict is PASS
    frame = finding(climate_checks.DRY.name, climate__surface=20.0, climate__frame_surface=16.0, **air)
    assert (frame.verdict, frame.where) == (FAIL, "frame")


def test_frost_point_below_zero():
    """2 °C and 50 %: frost point -6.6 °C (German dew point table), -7.35 over water: the least surface is -3.6 °C."""
    found = finding(climate_checks.DRY.name, climate__air=2.0, climate__humidity=50.0, climate__surface=2.0)
    assert found.limit == pytest.approx(-3.6, abs=0.15)
    assert found.limit > -4.2


def test_warm_up_is_told():
    """10 mm of glass from 12 °C: time constant 2500 × 840 × 0.010 / 16 = 1312 s = 21.9 min; to 18 °C in air of 20 °C:
    21.9 × ln(8 / 2) = 30.3 min.
    """
    air = {"climate__air": 20.0, "climate__humidity": 70.0}
    cold = finding(climate_checks.DRY.name, climate__surface=12.0, **air)
    assert "warm the glass to 18 °C" in cold.remedies[0].sentence and "about 30 minutes" in cold.remedies[0].sentence
    # 85 % at 18 °C asks for 18.5: 19 °C, which air of 18 °C never gives
    damp = finding(climate_checks.DRY.name, climate__air=18.0, climate__humidity=85.0, climate__surface=12.0)
    assert "alone does not do it" in damp.remedies[0].sentence


def test_drying_the_air_is_told_in_whole_per_cents():
    """Glass at 15 °C: dew point at most 12 °C, 1402 Pa over 2337 Pa at 20 °C are 60 % (formula of ISO 13788, from memory)."""
    cold = finding(climate_checks.DRY.name, climate__air=20.0, climate__humidity=70.0, climate__surface=15.0)
    dry = next(remedy for remedy in cold.remedies if "dry the air" in remedy.sentence)
    assert dry.changes[0].value in (59.0, 60.0)


def test_margin_over_the_dew_point_is_a_limit():
    air = {"climate__air": 20.0, "climate__humidity": 70.0, "climate__surface": 17.0}
    assert finding(climate_checks.DRY.name, **air).verdict is FAIL
    assert finding(climate_checks.DRY.name, limits__dew_margin=2.0, **air).verdict is PASS


def test_humidity():
    assert finding(climate_checks.HUMIDITY.name, climate__humidity=85.0).verdict is PASS
    assert finding(climate_checks.HUMIDITY.name, climate__humidity=86.0).verdict is FAIL
    assert finding(climate_checks.HUMIDITY.name, climate__humidity=86.0, limits__humidity_most=90.0).verdict is PASS


def test_cold_and_warm_surfaces():
    assert finding(climate_checks.COLD.name, climate__surface=5.0).verdict is PASS
    assert finding(climate_checks.COLD.name, climate__surface=4.9).verdict is FAIL
    assert finding(climate_checks.COLD.name, climate__surface=4.9, limits__bonding_coldest=0.0).verdict is PASS
    assert finding(climate_checks.WARM.name, climate__surface=35.0).verdict is PASS
    hot = finding(climate_checks.WARM.name, climate__frame_surface=36.0)
    assert (hot.verdict, hot.where) == (FAIL, "frame")
    assert finding(climate_checks.WARM.name, climate__frame_surface=36.0, limits__bonding_warmest=40.0).verdict is PASS
    assert finding(climate_checks.COLD.name, climate__frame_surface=4.0).where == "frame"


def test_surfaces_left_out_are_as_the_air():
    text = (Path(__file__).parents[3] / "samples" / "sallow-wren.toml").read_text().replace("surface = 19\n", "\n")
    job = job_of(text)
    pane = job.panes[0]
    found = found_in(Subject(job, pane, build_detail(job, pane)), climate_checks.DRY.name)
    assert found.value == 21


def test_go_says_all_that_speaks_against_it():
    day = climate_checks.day_climate(subject_of(climate__surface=4.0, climate__humidity=90.0), Ledger())
    assert not day.go
    assert [reason.split()[0] for reason in day.against] == ["humidity", "glass", "frame", "glass", "frame"]
    assert climate_checks.day_climate(subject_of(), Ledger()).go


# Cure.


def test_first_days_of_cure():
    early = finding(cure_checks.FIRST_DAYS.name, "SW-05", **IN_STANDARD_AIR)
    assert (early.verdict, early.value, early.limit) == (FAIL, 0, 1)
    assert "44.4" in early.says and "11.1" in early.says  # (20 / 3)² and (20 / 6)²
    assert (
        early.remedies[0].sentence == "backfill on day 25, when both faces have cured through"
    )  # 120 mm² at 4.035 mm: (29.7 / 6)² = 24.6
    assert finding(cure_checks.FIRST_DAYS.name, "SW-05", backfill_after=1.0).verdict is PASS
    assert finding(cure_checks.FIRST_DAYS.name, "SW-05", limits__backfill_first_day=0.0).verdict is PASS


def test_cured_before_the_backfill():
    """15 mm pressed to 23.1: 14.8 days. Earlier is for a person to decide; shut on both sides it never cures and fails."""
    name = cure_checks.CURED_BEFORE_BACKFILL.name
    assert finding(name, backfill_after=14.9, **IN_STANDARD_AIR).verdict is PASS
    early = finding(name, backfill_after=14.7, **IN_STANDARD_AIR)
    assert (early.verdict, early.limit) == (LOOK, pytest.approx((75 / 3.246875 / 6) ** 2))
    assert finding(name, **IN_STANDARD_AIR).value == 15  # worked out: the whole day after
    assert finding(name, inner_face_open=False, backfill_after=60.0, **IN_STANDARD_AIR).verdict is PASS
    assert finding(name, inner_face_open=False, backfill_after=25.0, **IN_STANDARD_AIR).verdict is LOOK
    shut = finding(name, inner_face_open=False, backfill_after=24.0, **IN_STANDARD_AIR)
    assert shut.verdict is FAIL and "never" in shut.says
    assert finding(name, adhesive__cure_depth=2.0, backfill_after=14.9, **IN_STANDARD_AIR).verdict is LOOK


def test_the_bead_pressed_widest_is_told():
    """75 mm² at 3.247 mm are 23.1 mm: (23.1 / 6)² = 14.8 days where 15 mm take 6.25."""
    name = cure_checks.CURED_BEFORE_BACKFILL.name
    assert "takes 14.8 days" in finding(name, backfill_after=7.0, **IN_STANDARD_AIR).says
    assert finding(name, backfill_after=15.0, **IN_STANDARD_AIR).verdict is PASS


def test_narrower_bead_is_offered():
    """20 mm takes 24.6 days where it is pressed widest; by day 9 one of 12 has cured: 6 / 4.035 times as wide, (17.8 / 6)² = 8.8."""
    early = finding(cure_checks.CURED_BEFORE_BACKFILL.name, "SW-05", backfill_after=9.0, **IN_STANDARD_AIR)
    narrower = next(remedy for remedy in early.remedies if "lay a bead of 12 mm" in remedy.sentence)
    assert "8.8 days" in narrower.sentence
    assert ("bond.width", 12.0) in [(change.key, change.value) for change in narrower.changes]


def test_inner_face():
    assert finding(cure_checks.INNER_FACE.name).verdict is PASS
    closed = finding(cure_checks.INNER_FACE.name, inner_face_open=False, **IN_STANDARD_AIR)
    assert closed.verdict is LOOK and "25.0 days in place of 6.2" in closed.says


def test_handling():
    """17.92 kg: 4 × 1.5 × 175.8 N / (0.14 MPa × 3400 mm) = 2.2 mm; with 0.02 MPa 15.5 mm, more than the bead."""
    carried = finding(cure_checks.CARRIES.name, **IN_STANDARD_AIR)
    assert (carried.verdict, carried.value, carried.limit) == (PASS, pytest.approx(2.216, abs=0.002), 15)
    assert "straps may come off on day 1" in carried.says
    assert finding(cure_checks.CARRIES.name, adhesive__design_tension=0.02).verdict is LOOK
    assert finding(cure_checks.CARRIES.name, adhesive__design_tension=0.022).verdict is PASS
    assert finding(cure_checks.CARRIES.name, adhesive__design_tension=0.02, limits__handling_safety=3.0).verdict is PASS
    assert finding(cure_checks.CARRIES.name, adhesive__design_tension=0.02, limits__dynamic_factor=1.0).verdict is PASS


def test_before_the_launch():
    """The sheet is of 2 March. 6.25 days to the cure, 1 day to the handling."""
    assert finding(cure_checks.LAUNCHED.name).verdict is OPEN
    assert finding(cure_checks.HANDLED.name).says == "not checked: no day of launch given"
    on = {"vessel__launch": datetime.date(2026, 3, 8), **IN_STANDARD_AIR}
    assert (finding(cure_checks.LAUNCHED.name, **on).verdict, finding(cure_checks.LAUNCHED.name, **on).limit) == (LOOK, 6)
    assert finding(cure_checks.HANDLED.name, **on).verdict is PASS
    assert finding(cure_checks.LAUNCHED.name, **{**on, "vessel__launch": datetime.date(2026, 3, 9)}).verdict is PASS
    assert finding(cure_checks.HANDLED.name, **{**on, "vessel__launch": datetime.date(2026, 3, 2)}).verdict is FAIL
    later = finding(cure_checks.LAUNCHED.name, **on).remedies[-1]
    assert later.sentence == "launch on 2026-03-09 or later"


def test_launch_without_a_date_of_the_sheet():
    text = (Path(__file__).parents[3] / "samples" / "sallow-wren.toml").read_text()
    job = job_of(text.replace("date = 2026-03-02\n", "").replace("hull_length = 23.6", "launch = 2026-06-01\nhull_length = 23.6"))
    pane = job.panes[0]
    found = found_in(Subject(job, pane, build_detail(job, pane)), cure_checks.LAUNCHED.name)
    assert found.says == "not checked: no date of the sheet given"


# Lifting.


def test_people():
    """Two people may carry 2/3 of 50 kg = 33.3 kg, one 25: the trapezoid of 29.4 kg takes two."""
    assert finding(lifting_checks.PEOPLE.name, "SW-02").verdict is PASS
    one = finding(lifting_checks.PEOPLE.name, "SW-02", work__people=1)
    assert (one.verdict, one.limit) == (LOOK, 25)  # gear is taken, a person sees that it is there
    assert one.value == pytest.approx(29.4, abs=0.05)
    assert [change.value for remedy in one.remedies for change in remedy.changes] == [2, True]
    assert finding(lifting_checks.PEOPLE.name, "SW-02", work__people=1, work__lifting_gear=False).verdict is FAIL
    assert finding(lifting_checks.PEOPLE.name, "SW-02", work__people=1, work__lifting_gear=True).verdict is PASS
    assert finding(lifting_checks.PEOPLE.name, "SW-02", work__people=1, limits__one_person=30.0).verdict is PASS
    assert finding(lifting_checks.PEOPLE.name, "SW-06").verdict is LOOK
    # 90.5 kg: no number of people up to four carries it, so only gear is offered
    assert len(finding(lifting_checks.PEOPLE.name, "SW-06", work__lifting_gear=False).remedies) == 1


def test_wind_is_told():
    """0.5 × 1.225 × 8² × 2.174 m² × 1.2 = 102 N; at 4 m/s a quarter."""
    assert "102 N" in finding(lifting_checks.PEOPLE.name, "SW-06").says
    assert "26 N" in finding(lifting_checks.PEOPLE.name, "SW-06", limits__wind=4.0).says


def test_cups():
    """29.4 kg over 12.5 kg a cup: 3; 90.5: 8."""
    assert finding(lifting_checks.CUPS.name, "SW-02").verdict is PASS
    assert finding(lifting_checks.CUPS.name, "SW-02", work__cups=3).verdict is PASS
    two = finding(lifting_checks.CUPS.name, "SW-02", work__cups=2)
    assert (two.verdict, two.value, two.limit) == (FAIL, 2, 3)
    assert finding(lifting_checks.CUPS.name, "SW-06", work__cups=7).verdict is FAIL
    assert finding(lifting_checks.CUPS.name, "SW-06", work__cups=8).verdict is PASS
    assert finding(lifting_checks.CUPS.name, "SW-02", work__cups=2, work__cup_rating=30.0).verdict is PASS
    assert finding(lifting_checks.CUPS.name, "SW-02", work__cups=2, limits__cup_share=60.0).verdict is PASS
    assert finding(lifting_checks.CUPS.name, "SW-10", work__cups=1).verdict is FAIL  # never fewer than two
    assert finding(lifting_checks.CUPS.name, "SW-10", work__cups=1, limits__cups_least=1).verdict is PASS


# Approval.


def test_approval_reference():
    missing = finding(approval_checks.APPROVED.name, "SW-03")
    assert missing.verdict is FAIL and "no release" in missing.says
    assert not missing.remedies[0].changes
    assert finding(approval_checks.APPROVED.name, "SW-03", approval_reference="invented 1").verdict is PASS
    assert finding(approval_checks.APPROVED.name, "SW-03", sheet__approval_reference="invented 2").verdict is PASS
    assert finding(approval_checks.APPROVED.name, "SW-01") is None
    assert finding(approval_checks.APPROVED.name, "SW-01", load_bearing=True).verdict is FAIL


def test_size_in_the_hull():
    """Clear opening of the round light: 420 + 2 × 5 - 2 × 32 = 366 mm, π/4 × 0.366² = 0.105 m²."""
    found = finding(approval_checks.HULL_SIZE.name, "SW-03")
    assert (found.verdict, found.value) == (LOOK, pytest.approx(366, abs=0.01))
    assert "a side scuttle: opening 0.105 m²" in found.says and "special consideration" in found.says
    assert finding(approval_checks.HULL_SIZE.name, "SW-03", outline={"circle": 300}).verdict is PASS  # 246
    assert finding(approval_checks.HULL_SIZE.name, "SW-03", outline={"circle": 305}).verdict is LOOK  # 251
    assert finding(approval_checks.HULL_SIZE.name, "SW-03", limits__hull_glazed_diameter=370.0).verdict is PASS
    assert "above the 400 mm" in finding(approval_checks.HULL_SIZE.name, "SW-03", outline={"circle": 460}).says
    assert "a window" in finding(approval_checks.HULL_SIZE.name, "SW-03", limits__side_scuttle=0.1).says
    assert "a window" in finding(approval_checks.HULL_SIZE.name, "SW-01", in_hull=True).says
    assert finding(approval_checks.HULL_SIZE.name, "SW-01") is None


def test_deck_light():
    found = finding(approval_checks.DECK.name, "SW-05")
    assert found.verdict is LOOK and "ISO 11336-1" in found.says
    assert finding(approval_checks.DECK.name, "SW-05", approval_reference="invented 3").verdict is PASS
    assert finding(approval_checks.DECK.name, "SW-01") is None


@pytest.mark.parametrize(
    "changes",
    [
        {"adhesive__pack_rest": 90.0},
        {"climate__surface": -45.0, "limits__dew_margin": 50.0},
        {"limits__humidity_most": 0.001},
        {"adhesive__cure_depth": 0.001, "vessel__launch": datetime.date(2026, 3, 5)},
        {"adhesive__cure_depth": 0.001, "inner_face_open": False, "backfill_after": 3650.0},
        {"climate__air": -45.0, "climate__humidity": 0.001},
        {"climate__air": 60.0, "climate__humidity": 100.0},
        {"limits__cup_share": 0.1, "work__cup_rating": 0.01, "work__cups": 1},
        {"work__open_time_share": 1.0, "work__bead_rate": 0.1},
        {"work__guns": 10, "adhesive__pack": 1.0},
    ],
)
def test_the_ends_of_what_a_job_may_say_are_judged_and_not_refused(changes):
    found = check(subject_of(**changes))
    assert all(each.remedies for each in found if each.verdict in (FAIL, LOOK))


def test_the_wait_of_an_activated_face_is_checked_where_it_is_given():
    """The landing is wiped until 6.8 and primed until 24.2 minutes: 17.4, on 3.4 m of bead."""
    assert not [each for each in check(subject_of()) if each.name == work_checks.ACTIVATED.name]
    name = work_checks.ACTIVATED.name
    late = finding(name, work__frame_wipe_longest=17.0)
    assert (late.verdict, late.value, late.where) == (FAIL, pytest.approx(15 + 2.38, abs=0.01), "frame")
    assert finding(name, work__frame_wipe_longest=18.0).verdict is PASS


def test_above_the_shoulder_fewer_kilograms_count():
    """One person: 25 kg at the waist, 12.5 above the shoulder; the pane has 17.9 kg. Two may carry 16.7 there, three 18.8."""
    name = lifting_checks.PEOPLE.name
    assert finding(name, work__people=1).verdict is PASS
    high = finding(name, work__people=1, work__height=1900.0, work__lifting_gear=False)
    assert (high.verdict, high.limit) == (FAIL, 12.5)
    assert high.remedies[0].sentence == "carry it with 3 people"
    assert "above the shoulder" in high.says
    assert "work.height" in finding(name).defaults  # a marked default
