"""The plane of a survey against numpy's own least squares and against surfaces whose twist and rise are known by construction."""

from __future__ import annotations

import math

import numpy as np
import pytest

from geometry.incoming.plane import TOWARDS
from geometry.incoming.survey_plane import PlaneError, fit_plane, on_plane


def round_the_box(count=24, width=1400.0, height=700.0):
    """Places at even lengths round a rectangle, from its middle."""
    found = []
    for at in np.linspace(0, 2 * (width + height), count, endpoint=False):
        if at < width:
            place = (at, 0)
        elif at < width + height:
            place = (width, at - width)
        elif at < 2 * width + height:
            place = (2 * width + height - at, height)
        else:
            place = (0, 2 * (width + height) - at)
        found.append((place[0] - width / 2, place[1] - height / 2))
    return np.array(found)


def noise(count, spread=0.3, seed=1):
    return np.random.default_rng(seed).normal(0.0, spread, count)


def upright(flat, out):
    """Seen from +y: x runs to the left there, so that the survey is a side of a hull to port."""
    return np.column_stack((-flat[:, 0], out, flat[:, 1] + 1500.0))


def turn(angles):
    a, b, c = angles
    x = np.array([[1, 0, 0], [0, math.cos(a), -math.sin(a)], [0, math.sin(a), math.cos(a)]])
    y = np.array([[math.cos(b), 0, math.sin(b)], [0, 1, 0], [-math.sin(b), 0, math.cos(b)]])
    z = np.array([[math.cos(c), -math.sin(c), 0], [math.sin(c), math.cos(c), 0], [0, 0, 1]])
    return x @ y @ z


def test_the_normal_is_the_least_eigenvector():
    flat = round_the_box()
    places = upright(flat, 0.1 * flat[:, 0] + 0.3 * flat[:, 1] + noise(24))
    plane = fit_plane(places, seen_from="+y")
    values, vectors = np.linalg.eigh(np.cov((places - places.mean(axis=0)).T))
    normal = vectors[:, 0] * math.copysign(1, vectors[1, 0])
    assert plane.normal == pytest.approx(tuple(normal), abs=1e-12)
    assert sum(value**2 for value in plane.residuals) == pytest.approx(values[0] * 23, rel=1e-9)


def test_the_view_is_upright_and_from_outside():
    """A right-handed view: right, up and the normal; up lies in the upright plane."""
    flat = round_the_box()
    for seen_from, left in (("+y", -1.0), ("-y", 1.0)):
        plane = fit_plane(upright(flat, 0.2 * flat[:, 1]), seen_from=seen_from)
        right, up, normal = (np.array(each) for each in (plane.right, plane.up, plane.normal))
        assert np.cross(right, up) == pytest.approx(normal, abs=1e-12)
        assert right == pytest.approx((left, 0.0, 0.0), abs=1e-9) and up[2] > 0.9
        assert normal @ np.array(TOWARDS[seen_from]) > 0
    port = on_plane(upright(flat, np.zeros(24)), fit_plane(upright(flat, np.zeros(24)), seen_from="+y"))
    assert port == pytest.approx(flat, abs=1e-9)


def test_a_curved_hull_is_curved_and_no_row_of_outliers():
    """13 mm of rise over 1400: a cylinder's chord and sagitta; the plane alone would call its middle 13 mm of scatter."""
    flat = round_the_box(120)
    radius = (700**2 + 13**2) / (2 * 13)
    out = np.sqrt(radius**2 - flat[:, 0] ** 2) - (radius - 13)  # bulging outwards, 0 at the ends, 13 in the middle
    plane = fit_plane(upright(flat, out + noise(120)), seen_from="+y")
    assert plane.rise_along == pytest.approx(-13.0, abs=0.5) and abs(plane.rise_up) < 0.5 and plane.twist < 1.0
    assert plane.warp == pytest.approx(13.0, abs=1.5)
    assert plane.outliers == () and plane.scatter == pytest.approx(0.3, abs=0.1)


def test_twist_is_the_fourth_corner():
    four = np.array([[0.0, 0.0, 0.0], [1000.0, 0.0, 0.0], [1000.0, 8.0, 700.0], [0.0, 0.0, 700.0]])
    plane = fit_plane(four, seen_from="-y")
    # three corners give a plane; the fourth lies 8 mm off it along y, and the normal leans too little to matter
    assert plane.twist == pytest.approx(8.0, abs=1e-2)
    assert plane.warp == pytest.approx(4.0, abs=1e-2)  # ± a quarter of the twist at each corner


def test_a_slip_of_the_survey_is_named_and_moves_nothing_else():
    flat = round_the_box()
    clean = upright(flat, noise(24))
    for place in (0, 5, 6, 17):
        slipped = clean.copy()
        slipped[place, 1] += 9.0
        plane = fit_plane(slipped, seen_from="+y")
        assert plane.outliers == (place,)
        assert plane.residuals[place] == pytest.approx(9.0, abs=1.5)
        assert plane.warp < 2.0
    two = clean.copy()
    two[3, 1] += 12.0
    two[16, 1] -= 8.0
    assert fit_plane(two, seen_from="+y").outliers == (3, 16)


@pytest.mark.parametrize("angles", [(0.3, 0.0, 0.0), (0.0, 0.0, 1.1), (0.4, -0.2, 2.5)])
def test_turned_and_shifted_in_space_it_has_the_same_figures(angles):
    flat = round_the_box(40)
    places = upright(flat, 6.0 * (flat[:, 0] / 700) ** 2 + 3.0 * flat[:, 0] * flat[:, 1] / (700 * 350) + noise(40))
    first = fit_plane(places, seen_from="+y")
    matrix = turn(angles)
    outside = places.mean(axis=0) + np.array([0.0, 900.0, 0.0])
    shift = np.array([-4e4, 1e5, 250.0])
    again = fit_plane(places @ matrix.T + shift, seen_from=None, sides=((1.0, matrix @ outside + shift),))
    assert again.residuals == pytest.approx(first.residuals, abs=1e-6)
    assert again.warp == pytest.approx(first.warp, abs=1e-6)
    assert again.scatter == pytest.approx(first.scatter, abs=1e-6)


def test_where_outside_lies_is_never_guessed():
    flat = round_the_box()
    places = upright(flat, np.zeros(24))
    for seen_from in (None, "outside", "inside", "+x", "-z", "port"):
        with pytest.raises(PlaneError, match=r"\+x, -x, \+y, -y, \+z or -z"):
            fit_plane(places, seen_from=seen_from)
    inside = ((-1.0, np.array([0.0, -800.0, 1500.0])),)
    assert fit_plane(places, seen_from=None, sides=inside).normal == pytest.approx((0.0, 1.0, 0.0), abs=1e-12)
    with pytest.raises(PlaneError, match="contradict"):
        fit_plane(places, seen_from="-y", sides=inside)
    with pytest.raises(PlaneError, match="20 mm or more"):
        fit_plane(places, seen_from="+y", sides=((1.0, np.array([0.0, 3.0, 1500.0])),))


def test_points_that_give_no_plane_are_refused():
    along = np.linspace(0, 900, 10)
    with pytest.raises(PlaneError, match="on one line"):
        fit_plane(np.column_stack((along, 2 * along, 0.5 * along)), seen_from="+y")
    with pytest.raises(PlaneError, match="on no plane"):
        fit_plane(np.random.default_rng(0).uniform(0, 900, (30, 3)), seen_from="+y")
