"""Every number of a rule has its unit where the rule is written, and the figures of the ten panes have it too."""

from __future__ import annotations

import inspect
import re
from pathlib import Path

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import read_job
from geometry.ledger.figure import Ledger, Sourced
from geometry.ledger.size import Origin
from geometry.rules.day import lifting, quantities
from geometry.rules.fit import section
from geometry.rules.holding import chocks
from geometry.rules.register import RULES
from geometry.rules.units import units_of
from geometry.workings.standing import standing, unit_of_key
from geometry.workings.subject import Subject

VESSEL = Path(__file__).resolve().parents[3] / "samples" / "sallow-wren.toml"


@pytest.fixture(scope="module")
def subject() -> Subject:
    job = read_job(VESSEL)
    return Subject(job, job.panes[0], build_detail(job, job.panes[0]))


def test_every_number_of_every_rule_has_a_unit():
    """A bare ``float`` or ``int`` in a signature says nothing of what it counts."""
    bare = [
        (rule.__name__, name)
        for rule in RULES
        for name, parameter in inspect.signature(rule).parameters.items()
        if re.search(r"\b(float|int)\b", str(parameter.annotation)) or name not in units_of(rule)
    ]
    assert bare == []


def test_units_as_the_rules_say():
    ledger = Ledger()
    bead = ledger.work("a", quantities.bead_volume, bead_area=75.0, bead_length=3400.0)
    rating = Sourced(25.0, Origin.GIVEN, "work.cup_rating")
    cups = ledger.work("b", lifting.cups_needed, mass=20.0, rating=rating, derating=0.5, least=2)
    tilt = ledger.work("c", chocks.weight_offset, turning=500.0, weight_along=100.0)
    assert [each.unit for each in bead.inputs] == ["mm²", "mm"]
    assert [each.unit for each in cups.inputs] == ["kg", "kg", "", ""]
    assert [each.unit for each in tilt.inputs] == ["N mm", "N"]


def test_a_share_taken_from_a_percentage_is_a_bare_number(subject):
    """The key stands at 12 %, the rule works with 0.12."""
    waste = subject.asked("adhesive.waste", scale=0.01)
    figure = Ledger().work("a", quantities.adhesive_to_buy, volume=255.0, waste=waste, purge=30.0)
    assert figure.inputs[1].value == pytest.approx(0.12)
    assert [each.unit for each in figure.inputs] == ["ml", "", "ml"]
    assert standing(subject, "adhesive.waste") == (12.0, "%")


def test_a_unit_that_was_handed_on_stands():
    figure = Ledger().work("a", section.bead_centre, set_back=Sourced(8.0, Origin.GIVEN, "", "mm"), bond_width=15.0)
    assert [each.unit for each in figure.inputs] == ["mm", "mm"]


def test_units_of_keys_and_of_what_is_no_key(subject):
    assert unit_of_key("climate.air") == "°C"
    assert unit_of_key("rake") == "°"
    assert unit_of_key("work.large_pane") == "m²"
    assert standing(subject, "no.such.key") is None


def test_what_is_handed_on_and_what_the_rule_states_agree_on_the_ten_panes():
    """A figure or a key that goes into a rule has the unit that the rule works in: no length for a stress, no kPa for MPa."""
    job = read_job(VESSEL)
    rules = {rule.__calculation__.name: rule for rule in RULES}
    apart = set()
    for pane in job.panes:
        for figure in check_pane(job, pane).figures:
            stated = units_of(rules[figure.record.name])
            for each in figure.inputs:
                unit = stated[each.name.replace(" ", "_")]
                if unit is not None and each.value is not None and each.unit != unit:
                    apart.add((figure.record.name, each.name, each.unit, unit))
    assert sorted(apart) == []
