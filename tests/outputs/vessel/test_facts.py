"""The facts of a pane: what its check says, in plain values that come back the same from a file and from another process."""

from __future__ import annotations

import json
import pickle
from pathlib import Path

import pytest

from geometry.findings.check import check_pane
from geometry.job import read_job
from geometry.ledger.finding import Verdict
from outputs.vessel.facts import PaneFacts
from outputs.vessel.facts_data import as_data, from_data
from outputs.vessel.facts_gathered import facts_of

SAMPLES = Path(__file__).resolve().parents[3] / "samples"


@pytest.fixture(
    scope="module", params=[("sallow-wren", "SW-02"), ("from-survey", ""), ("as-made", ""), ("deck-light", "")], ids=str
)
def check(request):
    name, code = request.param
    job = read_job(SAMPLES / f"{name}.toml")
    return check_pane(job, next(pane for pane in job.panes if code in ("", pane.code)))


def test_facts_come_back_the_same_from_a_file_and_from_a_process(check):
    facts = facts_of(check)
    told = json.loads(json.dumps(as_data(facts), allow_nan=False))
    assert from_data(PaneFacts, told) == facts == pickle.loads(pickle.dumps(facts))


def test_facts_say_what_the_check_says(check):
    facts, detail = facts_of(check), check.subject.detail
    assert (facts.mark, facts.state, facts.told) == (check.mark, check.state.words, check.state.told)
    assert facts.fail + facts.look + facts.not_checked + facts.passed == len(check.findings)
    assert [each.name for each in facts.open_findings if each.flag] == [flag.finding.name for flag in check.state.flags]
    still_open = [each.name for each in check.findings if each.verdict is not Verdict.PASS]
    assert sorted(each.name for each in facts.open_findings) == sorted(still_open)
    assert [each.mark for each in facts.blocks] == [each.mark for each in (*detail.spacers, *detail.chocks)]
    assert facts.area_m2 * 1e6 == pytest.approx(detail.area, rel=1e-11) and facts.mass_kg == pytest.approx(
        detail.glass.mass, rel=1e-11
    )
    assert [each.what for each in facts.quantities] == [row.what for row in check.quantities.rows]


@pytest.mark.parametrize(
    "harm",
    [
        lambda told: told.pop("mark"),
        lambda told: told.update(more=1),
        lambda told: told.update(fail="2"),
        lambda told: told.update(centroid=[1.0]),
        lambda told: told["glass"].update(plies=3.0),
        lambda told: told.update(documents=[{"name": "a"}]),
    ],
)
def test_what_are_no_facts_is_refused(harm):
    job = read_job(SAMPLES / "circle.toml")
    told = json.loads(json.dumps(as_data(facts_of(check_pane(job, job.panes[0])))))
    harm(told)
    with pytest.raises(ValueError):
        from_data(PaneFacts, told)
