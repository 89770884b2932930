"""Remedies proven: what is kept of the checks that a change does not touch is what would be found if all were made anew."""

from __future__ import annotations

from pathlib import Path

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import CHECKS, quick_findings
from geometry.findings.checks import judged_by
from geometry.findings.fit import section_checks
from geometry.findings.proving import _all_after, changed_subject, found_after, made
from geometry.job import job_of, read_job, with_changes
from geometry.ledger.figure import Ledger
from geometry.ledger.finding import WRONG, Change, Remedy
from geometry.workings.section_sums import squeeze_out, tightest_gap
from geometry.workings.subject import Subject
from geometry.workings.watched import SharingLedger, WatchedSubject, _Watched, differences

SAMPLES = Path(__file__).parents[3] / "samples"
JOBS = [SAMPLES / f"{name}.toml" for name in ("sallow-wren", "own-recess", "deck-light", "every-key", "polygon")]
ONE_BY_ONE = [
    {"bond.width": 10.0},
    {"frit.width": 20.0},
    {"climate.air": 33.0},
    {"joint.width": 4.5},
    {"rake": 30.0},
    {"bow": 6.0},
    {"chocks.permanent": False},
    {"recess.fillet": 2.0},
    {"inner_face_open": False},
    {"adhesive.design_tension": 0.01},
    {"glass.plies": [12.0]},
    {"limits.joint_least": 5.5},
    {"materials.glass.density": 2600.0},
    {"temperatures.bonding": 5.0},
]


def told(findings):
    return [(each.name, each.verdict, each.where, each.value, each.limit, each.says) for each in findings]


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_a_trial_finds_what_checking_anew_finds(path):
    job = read_job(path)
    for pane in job.panes[:2]:
        subject = Subject(job, pane, build_detail(job, pane))
        every = made(CHECKS, subject, SharingLedger())
        proposed = [remedy for each in every for finding in each.findings for remedy in finding.remedies if remedy.changes]
        tried = [Remedy("", tuple(Change(key, value) for key, value in changes.items())) for changes in ONE_BY_ONE]
        for remedy in (*proposed, *tried):
            changed = changed_subject(subject, remedy)
            if changed is None:
                continue
            anew = Subject(changed.job, changed.pane, changed.detail)  # knows nothing of the pane before
            found = quick_findings(anew)
            assert told(_all_after(every, changed)) == told(found), remedy.changes
            thought_of = [each.with_remedies() for each in found_after(every, changed)]
            assert told(thought_of) == told(found)
            wrong = [[each.remedies for each in some if each.verdict in WRONG] for some in (thought_of, found)]
            assert wrong[0] == wrong[1], remedy.changes


BASE = """
[[pane]]
code = "W1"
frame = "timber_along"
glass = { plies = [8] }
outline = { rectangle = [600, 400], radius = 40 }
timber = { stile_width = 60, moisture_change = 4 }
[[pane]]
code = "W2"
frame = "timber_along"
glass = { plies = [8] }
outline = { rectangle = [600, 400], radius = 40 }
rake = 10
timber = { stile_width = 60, moisture_change = 4 }
"""
JOB = job_of(BASE)


def subject_of(changes=None, code="W1"):
    job = with_changes(JOB, code, changes or {})
    pane = next(each for each in job.panes if each.code == code)
    return Subject(job, pane, build_detail(job, pane))


@pytest.mark.parametrize(
    ("read", "changes"),
    [
        (lambda subject: subject.asked("frit.fade"), {"frit.fade": 3.0}),
        (lambda subject: subject.limit("joint_least"), {"limits.joint_least": 4.0}),
        (lambda subject: subject.asked("rake"), {"rake": 0.0}),  # the same value, but given now
        (lambda subject: subject.pane.rake, {"rake": 5.0}),
        (lambda subject: subject.pane.glass.thickness, {"glass.plies": [10.0]}),
        (lambda subject: subject.pane.timber is None, {"timber": None}),
        (lambda subject: subject.pane.was_given("bow"), {"bow": 2.5}),  # a method may look at anything
        (lambda subject: subject.detail.curves.frit_inner, {"frit.width": 70.0}),
        (lambda subject: subject.sizes.frit_width.origin, {"frit.width": 70.0}),
        (lambda subject: subject.sizer.inscribed_radius(), {"outline.rectangle": [600.0, 390.0]}),
        (lambda subject: subject.flat, {"rake": 90.0}),
        (lambda subject: subject.pane == 1, {"bow": 2.5}),
    ],
)
def test_whatever_is_read_is_noticed_when_it_changes(read, changes):
    before = subject_of()
    watched = WatchedSubject(before)
    for now in (subject_of(changes), subject_of()):
        assert WatchedSubject(before).same_in(now, differences(before, now))  # nothing read yet
    read(watched)
    now, other = subject_of(), subject_of(changes)
    assert watched.same_in(now, differences(before, now))
    assert not watched.same_in(other, differences(before, other))


def test_a_key_of_the_pane_itself_is_told_apart_in_the_same_job():
    one, other = (Subject(JOB, pane, build_detail(JOB, pane)) for pane in JOB.panes)
    watched = WatchedSubject(one)
    watched.asked("rake")
    assert not watched.same_in(other, differences(one, other))


def test_what_a_remedy_looks_at_decides_no_finding():
    subject = subject_of({"frit.width": 20.0})
    read = WatchedSubject(subject)
    found = judged_by(section_checks.CHECKS[0], read, Ledger())
    read.close()
    assert read.asked("frit.width").value == 20.0
    assert [each.remedies for each in found] == [() for _ in found]
    wider = subject_of({"frit.width": 21.0})
    assert read.same_in(wider, differences(subject, wider))


def test_a_stand_in_is_no_key_of_a_memory():
    with pytest.raises(TypeError):
        hash(WatchedSubject(subject_of()).pane)


def test_whoever_asks_for_a_shared_working_has_read_what_it_read():
    before, ledger = subject_of(), SharingLedger()
    first, second, third = (WatchedSubject(before) for _ in range(3))
    assert squeeze_out(first, ledger) is squeeze_out(second, ledger)  # with the gap inside it
    assert tightest_gap(third, ledger) is tightest_gap(before, ledger)
    thinner, bowed, printed = (
        subject_of({key: value}) for key, value in (("bond.thickness", 9.0), ("bow", 6.0), ("frit.width", 70.0))
    )
    for watched in (first, second, third):
        noticed = [not watched.same_in(other, differences(before, other)) for other in (thinner, bowed, printed)]
        assert noticed == [True, True, False]


def _parts(value, seen):
    """A value and all that it is made of."""
    if id(value) in seen or isinstance(value, str | float | int | bool | None):
        return
    seen[id(value)] = value
    yield value
    inside = (
        value
        if isinstance(value, tuple | list | frozenset | set)
        else [*value, *value.values()]
        if isinstance(value, dict)
        else ()
    )
    names = [*getattr(value, "__dict__", ()), *getattr(type(value), "__slots__", ())] if not callable(value) else ()
    for each in (*inside, *(getattr(value, name, None) for name in names if name != "__dict__")):
        yield from _parts(each, seen)


@pytest.mark.parametrize("path", JOBS[:3], ids=lambda path: path.stem)
def test_sharing_changes_no_figure_and_no_stand_in_gets_out(path):
    job = read_job(path)
    for pane in job.panes[:3]:
        subject = Subject(job, pane, build_detail(job, pane))
        ledger, plainly = SharingLedger(), Ledger()
        every = made(CHECKS, subject, ledger)
        found = [finding for each in every for finding in each.findings]
        assert told(found) == told(quick_findings(subject, plainly))
        assert ledger.figures == plainly.figures
        assert len(ledger._shared) > 10
        kept = [(ledger.figures, [result for result, _ in ledger._shared.values()]), [each.remedies for each in found]]
        assert not [each for each in _parts(kept, {}) if isinstance(each, _Watched | WatchedSubject)]
