"""The width of the solid print all round against an independent way: both edges flattened, and places of the one measured to the other."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import shapely
from compared_outlines import NOTCHED, OVAL, TRAPEZOID, chopped

from geometry.detail.build import build_detail
from geometry.job import read_job
from geometry.outline import Outline, ellipse, moved, offset_rounded, polygon, rectangle
from geometry.outline.regions import to_polygon
from geometry.returned.solid_frit import least_cover, least_width, short_places

ROOT = Path(__file__).parents[3]
SAMPLES = sorted(path for path in (ROOT / "samples").glob("*.toml") if "[[pane]]" in path.read_text(encoding="utf-8"))


def by_dense_sampling(glass: Outline, solid: Outline) -> float:
    """Least distance by shapely, mm: the glass edge as chords within a thousandth, places of the solid edge 0,2 mm apart."""
    edge = to_polygon(glass, sagitta=0.001).exterior
    inner = to_polygon(solid, sagitta=0.001).exterior
    places = shapely.line_interpolate_point(inner, np.arange(0.0, inner.length, 0.2))
    return float(shapely.distance(shapely.points([*shapely.get_coordinates(places), *inner.coords]), edge).min())


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_the_frit_of_every_sample_pane(sample: Path):
    job = read_job(sample)
    for pane in job.panes:
        curves = build_detail(job, pane).curves
        for solid in {curves.frit_inner, curves.frit_fade or curves.frit_inner}:
            found = least_width(curves.glass, solid)
            assert found.value == pytest.approx(by_dense_sampling(curves.glass, solid), abs=0.01), pane.code
            assert np.hypot(*np.subtract(found.at, found.of)) == pytest.approx(found.value, abs=1e-4)


def test_an_ellipse_drawn_in_place_of_the_parallel_curve():
    """SW-04: 700 × 400 with 37 mm of frit drawn as the ellipse 626 × 326, which lies 35,4 mm inside the edge between the axes."""
    solid = moved(ellipse(626, 326), 37, 37)
    found = least_width(OVAL, solid)
    assert found.value == pytest.approx(35.37, abs=0.01)
    assert abs(abs(found.of.x - 350) - 280) < 3
    shorts = short_places(OVAL, solid, wanted=37 - 0.01)
    assert len(shorts) == 4  # between each two ends of the axes
    assert [short.least.value for short in shorts] == pytest.approx([found.value] * 4, abs=0.01)
    assert not short_places(OVAL, solid, wanted=35.3)


@pytest.mark.parametrize("glass", [TRAPEZOID, NOTCHED], ids=["trapezoid", "notched"])
def test_a_parallel_curve_is_as_wide_everywhere(glass: Outline):
    solid = offset_rounded(glass, -34, radius=10)
    assert least_width(glass, solid).value == pytest.approx(34, abs=1e-6)
    assert least_width(chopped(glass, 400), solid).value == pytest.approx(34, abs=0.4)
    # its rounding of 10, in place of 6, leaves a convex corner wider: each side is a stretch of its own, but for the two sides
    # of a re-entrant corner, which is as narrow as they are
    assert len(short_places(glass, solid, wanted=34.5)) == (4 if glass is TRAPEZOID else 5)
    assert [short.part for short in short_places(glass, solid, wanted=46)] == ["all round"]


def test_a_print_pushed_aside_is_narrow_on_one_side():
    glass, solid = rectangle(900, 500), moved(rectangle(832, 432), 38, 34)
    found = least_width(glass, solid)
    assert (found.value, found.part) == (pytest.approx(30), "e2")
    assert [short.part for short in short_places(glass, solid, wanted=33)] == ["e2"]


def test_a_print_that_leaves_the_glass_is_less_than_nothing():
    assert least_width(rectangle(900, 500), moved(rectangle(900, 400), 10, 50)).value == pytest.approx(-10)


def test_a_square_corner_of_the_print_over_a_round_bead():
    """The dangerous case: on the bisector the sharp corner lies (√2 − 1) (R − 0) nearer to the glass than the straights are."""
    glass = rectangle(900, 500, radius=80)
    bead, solid = moved(rectangle(844, 444, radius=52), 28, 28), moved(rectangle(832, 432), 34, 34)
    cover = least_cover(bead, solid, pane=glass)
    # from the middle of the bead's rounding (80, 80), radius 52: to the corner (34, 34) it is 46 √2
    assert cover.value == pytest.approx(52 - 46 * 2**0.5, abs=1e-3)
    assert cover.value < 0
    assert cover.part.startswith("V")
    rounded = polygon([(34, 34), (866, 34), (866, 466), (34, 466)], radii=46)
    assert least_cover(bead, rounded, pane=glass).value == pytest.approx(6.0)
