"""What cannot matter does not: the hand of a pane, the vertex its outline starts at. What must go one way goes one way.

No outside figures: these are symmetries of mechanics and geometry, and signs that follow from a formula's form.
"""

import math
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane, quick_findings
from geometry.findings.holding.plate_checks import INWARD, OUTWARD, plate_of
from geometry.findings.holding.plate_checks import findings as plate_findings
from geometry.job import job_of, read_job, with_changes
from geometry.ledger.figure import Ledger
from geometry.ledger.finding import Verdict
from geometry.workings.subject import Subject

VESSEL = read_job(Path(__file__).parents[3] / "samples" / "sallow-wren.toml")
POLYGONS = [pane.code for pane in VESSEL.panes if pane.outline.polygon]


def subject_of(job, code):
    pane = next(pane for pane in job.panes if pane.code == code)
    return Subject(job, pane, build_detail(job, pane))


def figures(job, code):
    """Verdict, value and limit of every quick finding, by its name."""
    return {each.name: (each.verdict, each.value, each.limit) for each in quick_findings(subject_of(job, code))}


def redrawn(job, code, points, order):
    """The job with the pane's polygon of ``points`` in another order, radii with their corners."""
    pane = next(pane for pane in job.panes if pane.code == code)
    changes = {"outline": {"polygon": [list(points[i]) for i in order]}}
    radius, recess = pane.outline.radius, pane.recess.radius
    if radius is not None:
        changes["outline"]["radius"] = [radius[i] for i in order] if isinstance(radius, (list, tuple)) else radius
    if isinstance(recess, (list, tuple)):
        changes["recess.radius"] = [recess[i] for i in order]
    return with_changes(job, code, changes)


def mirrored(job, code):
    points = next(pane for pane in job.panes if pane.code == code).outline.polygon
    widest = max(x for x, _ in points)
    return redrawn(job, code, [(widest - x, y) for x, y in points], range(len(points) - 1, -1, -1))


def turned(job, code, by):
    points = next(pane for pane in job.panes if pane.code == code).outline.polygon
    return redrawn(job, code, points, [(i + by) % len(points) for i in range(len(points))])


def same(one, other):
    assert list(one) == list(other)
    for name, (verdict, value, limit) in one.items():
        assert other[name][0] is verdict, name
        assert other[name][1:] == (
            None if value is None else pytest.approx(value, rel=1e-6, abs=1e-7),
            None if limit is None else pytest.approx(limit, rel=1e-6, abs=1e-7),
        ), name


@pytest.mark.parametrize("code", POLYGONS)
def test_port_and_starboard_are_alike(code):
    same(figures(VESSEL, code), figures(mirrored(VESSEL, code), code))


@pytest.mark.parametrize(("code", "by"), [(c, by) for c in POLYGONS for by in (1, 2)])
def test_the_outline_may_start_at_any_vertex(code, by):
    same(figures(VESSEL, code), figures(turned(VESSEL, code, by), code))


def test_the_bent_pane_is_alike_on_either_hand():
    """Within 2 %: the meshes of the two are not mirror images."""
    tensions = []
    for job in (VESSEL, mirrored(VESSEL, "SW-08")):
        subject = subject_of(job, "SW-08")
        found = {each.name: each.value for each in plate_findings(subject, Ledger(), plate_of(subject))}
        tensions.append([found[OUTWARD.name], found[INWARD.name]])
    assert tensions[0] == pytest.approx(tensions[1], rel=0.02)


PANE = """
[[pane]]
code = "A"
frame = "aluminium"
rake = {rake}
glass = {{ plies = [{ply}] }}
outline = {{ polygon = [[0, {low}], [{width}, 0], [{width}, {height}], [{lean}, {height}]], radius = 30 }}
joint = {{ width = 8 }}
bond = {{ width = {bond}, thickness = 6, set_back = 8 }}
recess = {{ landing = 60 }}
frit = {{ width = 60 }}
bow = 1.5
pressure = {{ outward = 3, inward = 10 }}
"""
SHAPES = st.fixed_dictionaries(
    {
        "rake": st.integers(-20, 40),
        "ply": st.sampled_from([8, 10, 12]),
        "low": st.integers(0, 120),
        "width": st.integers(700, 1400),
        "height": st.integers(450, 900),
        "lean": st.integers(0, 150),
        "bond": st.sampled_from([12, 15, 18]),
    }
)


@settings(max_examples=12, deadline=None)
@given(SHAPES)
def test_any_four_sided_pane_is_alike_on_either_hand_and_from_any_vertex(shape):
    job = job_of(PANE.format(**shape))
    here = figures(job, "A")
    same(here, figures(mirrored(job, "A"), "A"))
    same(here, figures(turned(job, "A", 1), "A"))


@settings(max_examples=12, deadline=None)
@given(SHAPES)
def test_blocks_carry_the_weight_and_turn_nothing(shape):
    """Equilibrium of the figures of the record: pushes and weight cancel, and so do their moments about the centroid.

    Two chocks on a sill that slopes by less than 1° leave a force along it to friction, and the figure says how much.
    """
    subject = subject_of(job_of(PANE.format(**shape)), "A")
    ledger = Ledger()
    quick_findings(subject, ledger)
    forces = next(each for each in ledger.figures if each.record.name == "chocks.block_forces")
    given_ = {each.name: each.value for each in forces.inputs}
    across, up = given_["weight"]
    turning, weight, (x, y) = 0.0, abs(up), given_["centroid"]
    for contact, force in zip(given_["contacts"], forces.value.forces, strict=True):
        across, up = across + force * contact.push_x, up + force * contact.push_y
        turning += force * ((contact.x - x) * contact.push_y - (contact.y - y) * contact.push_x)
    assert math.hypot(across, up) == pytest.approx(abs(forces.value.sliding), abs=1e-6 * weight)
    assert abs(forces.value.sliding) <= math.tan(math.radians(1)) * weight
    assert turning == pytest.approx(0, abs=1e-4 * weight)


UP, DOWN = 1, -1
ONE_WAY = [
    # the change and what it can only do to the value of a finding
    ("bond.width", (12, 14, 16, 18, 20), "bond tension at the widest gap", DOWN),
    ("bond.width", (12, 14, 16, 18, 20), "permanent stress if the chocks were taken out", DOWN),
    ("bond.width", (12, 14, 16, 18, 20), "bead cured through before the joint is closed", UP),
    ("bond.thickness", (5, 6, 7, 8), "shear of the bead from heat", DOWN),
    ("bond.thickness", (5, 6, 7, 8), "peel of the bead's edge as the pane bends", DOWN),
    ("joint.width", (6, 8, 10, 12), "sealant strain within its movement class", DOWN),
    ("joint.width", (6, 8, 10, 12), "joint left at the worst tolerances", UP),
    ("frit.width", (40, 50, 60), "frit covers the bead and its squeeze-out", UP),
    ("pressure.outward", (1, 2, 4), "bond tension at the widest gap", UP),
    ("pressure.inward", (4, 8, 16), "peel of the bead's edge as the pane bends", UP),
    ("bow", (0, 1.5, 3), "bond tension at the widest gap", UP),
    ("bow", (0, 1.5, 3), "bond left at the tightest place", DOWN),
    ("tolerances.flatness", (0.5, 1, 2), "bond tension at the widest gap", UP),
    ("tolerances.pane", (0.5, 1, 2), "sealant strain within its movement class", UP),
    ("tolerances.print", (0, 1, 2), "frit at least twice the bond width", DOWN),
    ("chocks.length", (50, 70, 100), "bearing stress on the chocks", DOWN),
    ("limits.dynamic_factor", (1, 1.5, 2), "squash of the chocks", UP),
    ("tolerances.flatness", (0, 0.5, 1, 2, 6, 9), "bond left at the tightest place", DOWN),
    ("tolerances.bond_thickness", (0, 2.9, 3.0, 6, 9), "bond left at the tightest place", DOWN),
    ("tolerances.bond_thickness", (0, 1, 2.9, 3.0, 6, 9), "frit covers the bead and its squeeze-out", None),
    ("tolerances.flatness", (0, 1, 2.9, 3.0, 6, 9), "bead and its squeeze-out on the landing", None),
    ("spacers.pitch", (200, 450, 800, 1200), "bond left at the tightest place", DOWN),
    ("temperatures.hottest_air", (20, 30, 40, 50), "sealant strain within its movement class", UP),
    ("climate.humidity", (30, 50, 70, 85), "last press within its share of the open time", None),
    ("climate.air", (10, 20, 30), "last press within its share of the open time", None),
]


@pytest.mark.parametrize(("key", "values", "name", "way"), ONE_WAY)
def test_what_can_only_go_one_way_does(key, values, name, way):
    job = job_of(PANE.format(rake=0, ply=10, low=0, width=1200, height=600, lean=0, bond=15))
    job = with_changes(job, "A", {"chocks.length": 60, "chocks.backfill_over": 5})
    found = [figures(with_changes(job, "A", {key: value}), "A")[name] for value in values]
    if (
        way is None
    ):  # the limit moves, not the value: the warmer and damper, the shorter the open time; the worse, the more is asked
        limits = [round(limit, 6) for _, _, limit in found]
        shorter = name.startswith("last press")
        assert limits == sorted(limits, reverse=shorter) and limits[0] != limits[-1]
        return
    steps = [way * (after[1] - before[1]) for before, after in pairwise(found)]
    assert min(steps) >= 0 and max(steps) > 0


@pytest.mark.parametrize("rake", [0, 12, 30, 45])
def test_a_pane_that_leans_back_rests_on_its_landing_and_one_that_leans_out_hangs(rake):
    """Square to the pane ± W sin(rake): a pull only where the outer face looks down; along it W cos(rake) both ways."""
    shape = {"ply": 10, "low": 0, "width": 1200, "height": 600, "lean": 0, "bond": 15}
    back, out = (figures(job_of(PANE.format(rake=way * rake, **shape)), "A") for way in (1, -1))
    hangs = "uncured bead holds the pane"
    assert back[hangs][1] == 0
    assert (out[hangs][1] > 0) is (rake > 0)
    assert back["no block has to pull"][1] == pytest.approx(out["no block has to pull"][1])


def test_a_pressure_that_is_not_given_is_not_taken_as_zero():
    job = with_changes(VESSEL, "SW-01", {"pressure": {"inward": 15.0}})
    pane = next(pane for pane in job.panes if pane.code == "SW-01")
    found = {each.name: each for each in check_pane(job, pane).findings}
    tension = found["bond tension at the widest gap"]
    assert tension.verdict is Verdict.NOT_CHECKED and tension.value is None
    assert found["peel of the bead's edge as the pane bends"].verdict is not Verdict.NOT_CHECKED
