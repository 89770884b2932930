"""A job with other values, of which only the changed table is read again, is the job that a whole reading gives."""

from __future__ import annotations

import copy
from pathlib import Path

import pytest

from geometry.job import JobError, Pane, job_of, read_job, with_changes
from geometry.job.merging import Places
from geometry.job.reading import judged

ROOT = Path(__file__).resolve().parents[3]
JOBS = {
    path.name: read_job(path)
    for path in (ROOT / "samples" / name for name in ("every-key.toml", "refit.toml", "sallow-wren.toml"))
}

CHANGES = [
    {"frit.width": 47.0},
    {"frit.width": 47.0, "bond.width": 20.0},
    {"joint.width": 9.0},
    {"bond.thickness": 7.5},
    {"bow": 2.5},
    {"rake": 80.0},
    {"recess.landing": 48.0},
    {"recess.depth": 21.5},
    {"chocks.at": [150.0, 300.0]},
    {"chocks.length": 80},
    {"spacers.width": 6},
    {"tolerances.pane": 0.5},
    {"climate.air": 12.0, "temperatures.bonding": 12.0},
    {"temperatures.cases": {"sauna": {"frame": 80, "glass": 75}}},
    {"limits.joint_least": 2.0},
    {"work.guns": 2},
    {"work.lifting_gear": True},
    {"glass.plies": [8, 8], "glass.interlayers": [1.52]},
    {"glass.treatment": "heat_strengthened"},
    {"frit.outer_protection": {"kind": "tape", "width": 25}},
    {"frit.outer_protection.kind": "paint", "frit.outer_protection.width": 30.0},
    {"outline": {"circle": 420}},
    {"outline.radius": 61.0},
    {"outline": {"polygon": [[0, 0], [700, 0], [700, 400], [0, 400]], "radius": [60, 60, 60, 20]}},
    {"frame": "steel"},
    {"frame.expansion": 11e-6},
    {"pressure.outward": 4.0},
    {"held": True},
    {"backfill_after": 9},
    {"revision": "Z"},
    {"code": "NEW"},
    {"quantity": 3},
    {"timber": {"stile_width": 90, "moisture_change": 4}},
    {"adhesive.pack": 310.0},
    {"adhesive.design_tension": "0.2 N/mm2", "bond.width": 16.0},
    {"sealant.movement_class": 50.0},
    {"materials.glass.density": 2490.0},
    {"layers.GLASS": "X-PANE"},
    {"sheet.size": "A2"},
    # and what has to be refused
    {"bond.width": -1},
    {"bond.breadth": 3},
    {"limits.joint_most": 0.5},
    {"frit.width": 1.0},
    {"chocks.at": [1e4]},
    {"recess.radius": [1, 2]},
    {"adhesive.pack": "much"},
    {"glass.plies": [6, 6, 6]},
    {"nothing.at_all": 1},
]


def whole(job, code, changes):
    """The changes made in the tables as typed, and all of it read anew."""
    table = copy.deepcopy(job.document)
    pane = next(each for each in table["pane"] if each["code"] == code)
    for key, value in changes.items():
        *steps, last = key.split(".")
        place = pane if key.split(".")[0] in Pane.model_fields else table
        for step in steps:
            if step == "frame" and isinstance(place.get(step), str):
                place[step] = {"material": place[step]}
            place = place.setdefault(step, {})
        place[last] = value
    return judged(table, job.office, Places("the changed job"), [], opened=job.opened)


def outcome(make):
    try:
        return make()
    except JobError as error:
        return [(problem.key, problem.found, problem.allowed, problem.hint) for problem in error.problems]


def all_of(value):
    """Values and which of them were given, of a table and all tables in it."""
    if hasattr(value, "model_fields_set"):
        return {
            "given": sorted(value.model_fields_set),
            **{name: all_of(getattr(value, name)) for name in type(value).model_fields},
        }
    if isinstance(value, dict):
        return {name: all_of(inner) for name, inner in value.items()}
    if isinstance(value, tuple):
        return [all_of(inner) for inner in value]
    return value


@pytest.mark.parametrize("name", JOBS)
@pytest.mark.parametrize("changes", CHANGES, ids=lambda changes: ", ".join(changes))
def test_a_change_gives_what_a_whole_reading_gives(name, changes):
    job = JOBS[name]
    before = all_of(job)
    for pane in job.panes[:3]:
        quick = outcome(lambda pane=pane: with_changes(job, pane.code, changes))
        full = outcome(lambda pane=pane: whole(job, pane.code, changes))
        assert (all_of(quick) if not isinstance(quick, list) else quick) == (all_of(full) if not isinstance(full, list) else full)
        if not isinstance(quick, list):
            assert quick.document == full.document and quick.complete == full.complete
    assert all_of(job) == before  # nobody's job was altered


@pytest.mark.parametrize("name", JOBS)
def test_changes_on_changes_are_the_changes_together(name):
    job = JOBS[name]
    code = job.panes[0].code
    steps = [{"frit.width": 47.0}, {"bow": 2.0}, {"adhesive.pack": 310.0}, {"limits.joint_least": 1.5}, {"frit.width": 46.0}]
    one = job
    together = {}
    for step in steps:
        one = with_changes(one, code, step)
        together |= step
    assert all_of(one) == all_of(with_changes(job, code, together))


def test_what_did_not_change_is_shared_and_the_other_panes_are_the_same():
    job = JOBS["sallow-wren.toml"]
    changed = with_changes(job, "SW-02", {"frit.width": 47.0})
    assert changed.panes[1].limits is job.panes[1].limits and changed.panes[1].outline is job.panes[1].outline
    assert all(one is other for i, (one, other) in enumerate(zip(changed.panes, job.panes, strict=True)) if i != 1)
    assert changed.adhesive is job.adhesive


def test_a_pane_that_is_not_there():
    with pytest.raises(KeyError, match="no pane XX"):
        with_changes(JOBS["refit.toml"], "XX", {"bow": 1.0})


def test_a_job_of_a_text_can_be_changed_as_well():
    job = job_of('[[pane]]\ncode = "P1"\nframe = "grp"\nglass = { plies = [8] }\noutline = { circle = 400 }\n')
    assert with_changes(job, "P1", {"glass.plies": [10]}).panes[0].glass.plies == (10.0,)
