"""The sample panes: figures worked by hand formula, and relations that hold for every detail."""

from __future__ import annotations

import math
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.detail.build import DetailError, build_detail
from geometry.job import read_job
from geometry.job.reading import job_of
from geometry.ledger.size import Origin
from geometry.outline import area, distance_between, nearest_station, perimeter
from geometry.outline.regions import to_polygon
from geometry.outline.stations import places_along

if TYPE_CHECKING:
    from geometry.detail.parts import Detail

ROOT = Path(__file__).parents[3]
JOB = read_job(ROOT / "samples" / "sallow-wren.toml")
DETAILS = {pane.code: build_detail(JOB, pane) for pane in JOB.panes}

# Worked by hand formula from the invented sizes: mass kg, bead length m, laid area mm² (2/3 width × 3 thickness / 2).
WORKED = {
    "SW-01": (17.9, 3.400, 75),
    "SW-02": (29.4, 3.796, 75),
    "SW-03": (4.2, 1.238, 56),
    "SW-04": (4.4, 1.660, 108),
    "SW-05": (19.6, 2.230, 120),
    "SW-06": (90.5, 6.044, 108),
    "SW-07": (1.4, 1.111, 60),
    "SW-08": (23.2, 3.631, 75),
    "SW-09": (17.6, 3.253, 96),
    "SW-10": (0.53, 0.659, 40),
}


@pytest.mark.parametrize("code", list(WORKED))
def test_worked_figures(code: str) -> None:
    detail = DETAILS[code]
    mass, length, laid = WORKED[code]
    assert detail.glass.mass == pytest.approx(mass, abs=0.051)
    assert detail.uncured_bead.length / 1000 == pytest.approx(length, abs=0.0006)
    assert detail.uncured_bead.area == pytest.approx(laid)
    assert detail.uncured_bead.pressed_width == pytest.approx(detail.sizes.bond_width.value)


def test_round_pane_by_formula() -> None:
    detail = DETAILS["SW-03"]
    assert detail.area == pytest.approx(math.pi * 210**2)
    assert detail.uncured_bead.length == pytest.approx(2 * math.pi * (210 - 13))
    # Two chocks at 30 degrees from straight down: 210 × pi / 6 of arc to either side.
    assert [chock.distance for chock in detail.chocks] == pytest.approx([-210 * math.pi / 6, 210 * math.pi / 6])


def test_traps_of_the_corners() -> None:
    small, sliver = DETAILS["SW-10"].worst_corner, DETAILS["SW-07"].worst_corner
    assert small is not None
    assert small.joint == pytest.approx((6 + (10 - 40) * (1 - math.sqrt(0.5))) / math.sqrt(0.5))  # corner joint formula, derived
    assert DETAILS["SW-10"].glass_cuts_recess
    assert sliver is not None
    assert sliver.unbonded == pytest.approx(131, abs=0.5)


def test_chocks_share_the_weight_on_a_level_sill() -> None:
    for code in ("SW-01", "SW-06", "SW-08"):
        detail = DETAILS[code]
        feet = [chock.foot.x for chock in detail.chocks if chock.kind == "setting chock"]
        assert sum(feet) / 2 == pytest.approx(detail.centroid.x, abs=1e-6)


def test_oval_frit_drawn_as_an_ellipse_is_narrower_off_the_axes() -> None:
    detail = DETAILS["SW-04"]
    reach = [
        math.dist(nearest_station(detail.curves.glass, p).point, p) for p in places_along(detail.curves.frit_inner, spacing=4)
    ]
    assert min(reach) == pytest.approx(35.4, abs=0.05)


def test_deck_light_has_four_centring_blocks() -> None:
    assert [chock.kind for chock in DETAILS["SW-05"].chocks] == ["location block"] * 4


@pytest.mark.parametrize("code", list(WORKED))
def test_curves_stand_in_order_and_areas_agree_with_shapely(code: str) -> None:
    curves = DETAILS[code].curves
    ordered = (curves.glass, curves.bead_outer, curves.bead_centre, curves.bead_inner)
    for outer, inner in pairwise(ordered):
        assert area(outer) > area(inner)
        assert to_polygon(outer).contains(to_polygon(inner))
    for outline in (*ordered, curves.recess, curves.frit_inner, curves.sight_line):
        assert area(outline) == pytest.approx(to_polygon(outline, sagitta=1e-4).area, rel=1e-5)
    width = DETAILS[code].sizes.bond_width.value
    assert distance_between(curves.bead_outer, curves.bead_inner) == pytest.approx(width, abs=1e-6)


def test_pressed_and_uncured_bead_have_the_same_volume() -> None:
    for detail in DETAILS.values():
        laid = detail.uncured_bead.notch_width * detail.uncured_bead.notch_height / 2
        assert laid == pytest.approx(detail.sizes.bond_width.value * detail.sizes.bond_thickness.value)


def test_everything_left_out_is_worked_out() -> None:
    job = read_job(ROOT / "samples" / "minimal.toml")
    sizes = build_detail(job, job.panes[0]).sizes
    assert sizes.bond_width.origin is Origin.WORKED_OUT
    assert sizes.spacer_width.origin is Origin.DEFAULT
    # Twice the bond plus print tolerance is a floor; the landing holds joint, set-back and bead.
    assert sizes.frit_width.value >= 2 * sizes.bond_width.value + 2
    assert sizes.landing.value >= sizes.joint_width.value + sizes.set_back.value + sizes.bond_width.value + 2


def test_bead_that_cannot_run_is_told() -> None:
    text = (ROOT / "samples" / "minimal.toml").read_text().replace("[900, 450], radius = 50", "[60, 50]")
    job = job_of(text)
    with pytest.raises(DetailError, match="cannot run"):
        build_detail(job, job.panes[0])


def pane_of(outline: str) -> Detail:
    job = job_of(
        f'[[pane]]\ncode = "X"\nframe = "steel"\nglass = {{ plies = [10] }}\noutline = {outline}\npressure = {{ outward = 3 }}\n'
    )
    return build_detail(job, job.panes[0])


@settings(max_examples=25, deadline=None, derandomize=True)
@given(st.integers(250, 2400), st.integers(250, 1400), st.integers(0, 100))
def test_random_rectangles_keep_their_order(width: int, height: int, radius: int) -> None:
    detail = pane_of(f"{{ rectangle = [{width}, {height}], radius = {radius} }}")
    sizes, curves = detail.sizes, detail.curves
    assert perimeter(curves.glass) > perimeter(curves.bead_centre)
    assert distance_between(curves.glass, curves.bead_outer) == pytest.approx(sizes.set_back.value, abs=1e-6)
    assert distance_between(curves.recess, curves.glass) == pytest.approx(sizes.joint_width.value, abs=1e-6)
    for section in detail.sections:
        assert section.joint_width == pytest.approx(sizes.joint_width.value, abs=1e-6)
    assert len(detail.spacers) >= 8
