"""Lines and circles through noisy points, against a general optimiser and against Kåsa's fit, which is why it is not used.

Kåsa's fit (I. Kåsa, IEEE Transactions on Instrumentation and Measurement 25, 1976) is written out here once more: the linear system
x² + y² = 2 a x + 2 b y + c. On short arcs it is biased to small radii: N. Chernov, Circular and Linear Regression, 2010, chapter 5.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.incoming.curve_fits import fit_circle, fit_line, taubin_circle


def arc(radius, chord, count, noise, *, seed=0, centre=(120.0, -40.0), turned=0.7):
    generator = np.random.default_rng(seed)
    half = math.pi if chord is None else math.asin(chord / 2 / radius)
    angles = turned + np.linspace(-half, half, count, endpoint=chord is not None)
    reach = radius + generator.normal(0.0, noise, count)
    return np.column_stack((centre[0] + reach * np.cos(angles), centre[1] + reach * np.sin(angles)))


def kasa(points):
    off = points - points.mean(axis=0)
    a, b, c = np.linalg.lstsq(np.column_stack((2 * off, np.ones(len(off)))), (off**2).sum(axis=1), rcond=None)[0]
    return math.sqrt(c + a * a + b * b)


@pytest.mark.parametrize(
    ("radius", "chord", "count", "noise"),
    [
        (60, 80, 9, 0.3),
        (210, None, 24, 0.5),
        (2000, 1150, 40, 0.5),
        (6000, 800, 17, 0.5),
        (24000, 800, 60, 0.3),
        (60, 80, 4, 0.2),
    ],
)
def test_no_circle_lies_nearer(radius, chord, count, noise):
    """The sum of squared distances is that of scipy's general least squares, started at the truth."""
    from scipy.optimize import least_squares

    points = arc(radius, chord, count, noise)
    middle = points.mean(axis=0)

    def distances(unknown):  # curvature, and the centre from the middle of the points: well scaled
        reach = radius * unknown[0]
        x, y = middle + radius * unknown[1:]
        return np.hypot(points[:, 0] - x, points[:, 1] - y) - reach

    start = [1.0, (120.0 - middle[0]) / radius, (-40.0 - middle[1]) / radius]
    other = least_squares(distances, start, xtol=1e-15, ftol=1e-15, gtol=1e-15, max_nfev=2000)
    found = fit_circle(points)
    mine = sum(value**2 for value in found.residuals)
    assert mine == pytest.approx(2 * other.cost, rel=1e-6)
    assert found.residuals == pytest.approx(tuple(np.hypot(*(points - np.array(found.centre)).T) - found.radius), abs=1e-6)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    radius=st.floats(20, 30000), share=st.floats(0.05, 0.9), x=st.floats(-5000, 5000), y=st.floats(-5000, 5000), turned=st.floats(-3, 3)
)  # fmt: skip
def test_points_on_a_circle_give_it_back(radius, share, x, y, turned):
    points = arc(radius, min(2 * radius * share, 1500), 12, 0.0, centre=(x, y), turned=turned)
    rise = radius - math.sqrt(radius**2 - min(radius * share, 750) ** 2)
    found = fit_circle(points)
    # coordinates carry about 1e-12 mm of rounding each: it is magnified by radius over rise
    assert found.radius == pytest.approx(radius, rel=1e-9 * max(1.0, 1.0 / rise))
    assert max(map(abs, found.residuals)) < 1e-8


def test_kasa_is_short_where_taubin_and_the_refinement_are_not():
    """R 6000, chord 800, scatter 0.5: the plain algebraic fit is about 1 % short in the mean of 400 surveys."""
    surveys = [arc(6000, 800, 41, 0.5, seed=seed) for seed in range(400)]
    plain = np.array([kasa(points) for points in surveys])
    algebraic = np.array([taubin_circle(points)[2] for points in surveys])
    refined = np.array([fit_circle(points).radius for points in surveys])
    error_of_mean = refined.std() / math.sqrt(len(surveys))
    assert plain.mean() < 6000 * 0.993
    assert abs(refined.mean() - 6000) < 6000 * 0.001 + 3 * error_of_mean
    assert abs(algebraic.mean() - 6000) < 6000 * 0.001 + 3 * error_of_mean


def test_the_spread_is_that_of_many_surveys():
    fits = [fit_circle(arc(6000, 800, 41, 0.5, seed=seed)) for seed in range(400)]
    seen = np.std([fit.radius for fit in fits])
    assert np.mean([fit.radius_spread for fit in fits]) == pytest.approx(seen, rel=0.1)
    inside = [abs(1 / fit.radius - 1 / 6000) <= 2 * fit.curvature_spread for fit in fits]
    assert np.mean(inside) == pytest.approx(0.95, abs=0.03)  # two standard deviations of a normal figure


def test_a_straight_row_is_told_from_no_curve():
    generator = np.random.default_rng(3)
    points = np.column_stack((np.linspace(0, 800, 30), generator.normal(0, 0.3, 30)))
    found = fit_circle(points, accuracy=0.3)
    assert found is None or not found.told_from_straight
    assert fit_circle(np.column_stack((np.arange(5.0), np.zeros(5)))) is None


def test_the_line_is_the_principal_axis():
    generator = np.random.default_rng(5)
    along = np.linspace(-300, 500, 25)
    points = np.column_stack((along * 0.6 + generator.normal(0, 0.4, 25), along * 0.8 + generator.normal(0, 0.4, 25)))
    found = fit_line(points)
    values, vectors = np.linalg.eigh(np.cov((points - points.mean(axis=0)).T))
    assert abs(float(np.dot(found.way, vectors[:, 1]))) == pytest.approx(1.0, abs=1e-12)
    assert sum(value**2 for value in found.residuals) == pytest.approx(values[0] * 24, rel=1e-9)
