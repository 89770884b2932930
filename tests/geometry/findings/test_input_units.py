"""Units of the inputs of a figure: every name in the table is an input of a rule, and none is missing on the ten panes."""

from __future__ import annotations

import inspect
from pathlib import Path

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.findings.input_units import BY_NAME, BY_RULE, standing, unit_of, unit_of_key
from geometry.job import read_job
from geometry.ledger.figure import Ledger, Sourced
from geometry.ledger.size import Origin
from geometry.rules.calculation import record_of
from geometry.rules.day import lifting, quantities
from geometry.rules.fit import section
from geometry.rules.holding import chocks
from geometry.rules.register import RULES
from geometry.workings.subject import Subject

VESSEL = Path(__file__).resolve().parents[3] / "samples" / "sallow-wren.toml"
BARE = ("number", "packs", "most", "aspect", "movement_class", "shear_strain")
"""Inputs that have no unit: counts, ratios and shares."""


@pytest.fixture(scope="module")
def subject() -> Subject:
    job = read_job(VESSEL)
    return Subject(job, job.panes[0], build_detail(job, job.panes[0]))


def test_every_name_is_an_input_of_a_rule():
    names = {name for rule in RULES for name in inspect.signature(rule).parameters}
    assert set(BY_NAME) <= names
    by_record = {record_of(rule).name: inspect.signature(rule).parameters for rule in RULES}
    assert all(name in by_record[record] for record, name in BY_RULE)


def test_units_as_the_rules_say(subject):
    """Mass kg, force N and area mm² are what the docstrings of the rules ask for."""
    ledger = Ledger()
    bead = ledger.work("a", quantities.bead_volume, bead_area=75.0, bead_length=3400.0)
    cups = ledger.work(
        "b", lifting.cups_needed, mass=20.0, rating=Sourced(25.0, Origin.GIVEN, "work.cup_rating"), derating=0.5, least=2
    )
    tilt = ledger.work("c", chocks.weight_offset, turning=500.0, weight_along=100.0)
    assert [unit_of(subject, bead, each) for each in bead.inputs] == ["mm²", "mm"]
    assert [unit_of(subject, cups, each) for each in cups.inputs] == ["kg", "kg"]
    assert [unit_of(subject, tilt, each) for each in tilt.inputs] == ["N mm", "N"]


def test_a_share_taken_from_a_percentage_is_a_bare_number(subject):
    """The key stands at 12 %, the rule works with 0.12."""
    figure = Ledger().work(
        "a", quantities.adhesive_to_buy, volume=255.0, waste=subject.asked("adhesive.waste", scale=0.01), purge=30
    )
    assert figure.inputs[1].value == pytest.approx(0.12)
    assert unit_of(subject, figure, figure.inputs[1]) == ""
    assert standing(subject, "adhesive.waste") == (12.0, "%")


def test_a_unit_that_was_handed_on_stands(subject):
    figure = Ledger().work("a", section.bead_centre, set_back=Sourced(8.0, Origin.GIVEN, "", "mm"), bond_width=15.0)
    assert [unit_of(subject, figure, each) for each in figure.inputs] == ["mm", "mm"]


def test_units_of_keys_and_of_what_is_no_key(subject):
    assert unit_of_key("climate.air") == "°C"
    assert unit_of_key("rake") == "°"
    assert unit_of_key("work.large_pane") == "m²"
    assert standing(subject, "no.such.key") is None


def test_no_number_on_the_ten_panes_lacks_its_unit():
    job = read_job(VESSEL)
    missing = set()
    for pane in job.panes:
        check = check_pane(job, pane)
        for figure in check.figures:
            for each in figure.inputs:
                number = isinstance(each.value, (int, float)) and not isinstance(each.value, bool)
                name = each.name.replace(" ", "_")
                if number and not each.key and not unit_of(check.subject, figure, each) and name not in BARE:
                    missing.add((figure.record.name, name))
    assert sorted(missing) == []
