"""Figures that can be but seldom are: told once each, with the slip that they look like, and never changed."""

from __future__ import annotations

import tomllib

import pytest

from geometry.findings.check import check_pane
from geometry.findings.odd_sizes import BANDS, LENGTH_SLIPS, PRESSURE_SLIPS, findings
from geometry.job import job_of
from geometry.ledger.figure import Ledger
from geometry.ledger.finding import Verdict
from geometry.workings.subject import Subject

PANE = '[[pane]]\ncode = "A"\nframe = "aluminium"\nglass = {{ plies = {plies} }}\noutline = {{ rectangle = {size} }}\n{more}'


def odd(*, plies="[8]", size="[900, 450]", more=""):
    """What is told of one pane whose detail nobody needs."""
    job = job_of(PANE.format(plies=plies, size=size, more=more))
    return list(findings(Subject(job, job.panes[0], None), Ledger()))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("given", "where", "slip"),
    [
        ({"size": "[90, 450]"}, "outline, width", "centimetres typed for millimetres (900 mm meant)"),
        ({"size": "[900, 35.5]"}, "outline, height", "inches typed for millimetres (901.7 mm meant)"),
        ({"size": "[9000, 900]"}, "outline, width", "a zero too many (900 mm meant)"),
        ({"plies": "[80]"}, "glass.plies, ply 1", "a zero too many (8 mm meant)"),
        ({"plies": "[0.8]"}, "glass.plies, ply 1", "centimetres typed for millimetres (8 mm meant)"),
        ({"plies": "[0.25]"}, "glass.plies, ply 1", "inches typed for millimetres (6.35 mm meant)"),
        ({"more": "recess = { depth = 200 }"}, "recess.depth", "a zero too many (20 mm meant)"),
        ({"more": "joint = { width = 80 }"}, "joint.width", "a zero too many (8 mm meant)"),
        ({"more": "bond = { width = 150 }"}, "bond.width", "a zero too many (15 mm meant)"),
        ({"more": "bond = { thickness = 60 }"}, "bond.thickness", "a zero too many (6 mm meant)"),
        ({"more": "frit = { width = 3.5 }"}, "frit.width", "centimetres typed for millimetres (35 mm meant)"),
        ({"more": "pressure = { outward = 300 }"}, "pressure.outward", "millibar typed for kilopascals, or a zero too many (30 kPa meant)"),
        ({"more": "pressure = { inward = 0.03 }"}, "pressure.inward", "bar typed for kilopascals (3 kPa meant)"),
        ({"more": "pressure = { inward = 0.003 }"}, "pressure.inward", "megapascals typed for kilopascals (3 kPa meant)"),
    ],
)  # fmt: skip
def test_an_odd_figure_is_told_with_its_likely_slip(given, where, slip):
    """By hand: 1 in is 25,4 mm and 1 bar is 100 kPa exactly (NIST SP 811, from memory)."""
    told = [finding for finding in odd(**given) if finding.where == where]
    assert len(told) == 1
    assert told[0].verdict is Verdict.LOOK
    assert slip in told[0].says
    assert all(not remedy.changes for remedy in told[0].remedies), "a quantity is never changed"


def test_usual_figures_are_not_told():
    """Among them each end of every band; a size that was worked out is none of the user's slips."""
    assert odd() == []
    assert odd(size="[6000, 100]") == []
    assert odd(more="pressure = { outward = 0.05, inward = 200 }\nrecess = { depth = 150 }") == []


def test_the_units_of_the_slips_by_hand():
    lengths, pressures = dict(LENGTH_SLIPS), dict(PRESSURE_SLIPS)
    assert lengths["inches typed for millimetres"] == 25.4
    assert lengths["metres typed for millimetres"] == 1000
    assert pressures["metres of water typed for kilopascals"] == pytest.approx(1000 * 9.80665 / 1000)
    assert pressures["pounds per square inch typed for kilopascals"] == pytest.approx(0.45359237 * 9.80665 / 0.0254**2 / 1000)


def test_every_band_holds_what_a_slip_leads_to():
    for band in BANDS:
        assert band.least < band.aimed[0] < band.aimed[1] < band.most


def test_the_pane_is_to_be_looked_at_and_the_job_stays_as_typed():
    text = PANE.format(plies="[8]", size="[900, 450]", more="joint = { width = 45 }")
    job = job_of(text)
    check = check_pane(job, job.panes[0])
    (told,) = [finding for finding in check.findings if finding.name == "joint of a usual size"]
    assert (told.value, told.limit, told.margin, told.unit) == (45, 40, -5, "mm")
    assert told.source == "this project's own default"
    assert check.subject.sizes.joint_width.value == tomllib.loads(text)["pane"][0]["joint"]["width"]
