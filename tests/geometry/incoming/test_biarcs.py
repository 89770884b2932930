"""Curves as arcs: the proved deviation holds against a dense look at the curve, both ways, and is no loose bound."""

from __future__ import annotations

import itertools
import math
import random

import numpy as np
import pytest
import shapely

from geometry.incoming.bernstein import bound
from geometry.incoming.biarcs import as_arcs, chain_as_arcs
from geometry.incoming.splines import ellipse_spans, spline_spans
from geometry.outline.loop import Point, Vertex, segment_between
from geometry.outline.meet import distance_to


def flat(spans):
    return [span[:, [0, 1, 3]] for span in spans]


def evaluated(span, shares):
    """A rational span by its Bernstein sum."""
    n = len(span) - 1
    weights = np.array([math.comb(n, k) * shares**k * (1 - shares) ** (n - k) for k in range(n + 1)]).T
    rows = weights @ span
    return rows[:, :2] / rows[:, 2:]


def parts_of(vertices, end):
    whole = [*vertices, Vertex(*end)]
    return [segment_between(a, b, a.bulge) for a, b in itertools.pairwise(whole)]


def farthest_of(parts, places):
    """The greatest distance of places from true arcs, and of places on the arcs from the line of the places."""
    off = max(min(distance_to(part, *place) for part in parts) for place in places[::6].tolist())
    line = shapely.LineString(places)
    return off, max(line.distance(shapely.Point(part.point_at(k / 16))) for part in parts for k in range(17))


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("within", [0.01, 0.3])
def test_the_deviation_holds_both_ways(seed, within):
    rng = random.Random(seed)
    degree = rng.choice([2, 3, 3, 5])
    count = degree + rng.randint(2, 7)
    points = [(90.0 * i + rng.gauss(0, 10), rng.gauss(0, 70), 0.0) for i in range(count)]
    weights = [rng.uniform(0.4, 2.5) for _ in points] if seed % 2 else []
    knots = [0.0] * (degree + 1) + sorted(rng.uniform(0, 9) for _ in range(count - degree - 1)) + [9.0] * (degree + 1)
    spans = flat(spline_spans(points, weights, knots, degree))
    fitted = as_arcs(spans, within)
    curve = np.vstack([evaluated(span, np.linspace(0, 1, 1200)) for span in spans])
    off, back = farthest_of(parts_of(fitted.vertices, Point(*map(float, curve[-1]))), curve)
    assert off <= fitted.deviation + 1e-9 and fitted.deviation <= within
    assert back <= fitted.deviation + 1e-3  # beside the chords of the places on the curve
    assert off >= 0.9 * fitted.deviation


def test_a_circle_as_a_rational_curve_is_found_again():
    fitted = as_arcs(flat(ellipse_spans((0, 0, 0), (300, 0, 0), (0, 300, 0), 0, 2 * math.pi)), 0.01)
    assert fitted.deviation < 1e-9 and len(fitted.vertices) <= 8


def test_a_curve_that_runs_past_the_end_of_an_arc_is_not_passed():
    """A stretch that overshoots and comes back lies near the circle throughout, and yet not near the arc."""
    points = [(0, 0, 0), (150, 0, 0), (-40, 1, 0), (100, 0, 0)]
    (span,) = flat(spline_spans(points, [], [0, 0, 0, 0, 1, 1, 1, 1], 3))
    assert bound([span], Point(0, 0), Point(100, 0), 0.0, 5.0) is None


def test_a_corner_in_a_curve_stays_a_corner():
    points = [(0, 0, 0), (100, 80, 0), (200, 0, 0), (200, 0, 0), (200, 0, 0), (300, -90, 0), (400, 0, 0)]
    fitted = as_arcs(flat(spline_spans(points, [], [0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 2], 3)), 0.01)
    assert min(math.dist(vertex[:2], (200, 0)) for vertex in fitted.vertices) < 1e-9


def test_short_lines_of_a_curve():
    places = [Point(500 * math.cos(a), 300 * math.sin(a)) for a in np.linspace(0, math.pi, 1500).tolist()]
    fitted = chain_as_arcs(places, 0.01)
    assert len(fitted.vertices) < 80
    off, back = farthest_of(parts_of(fitted.vertices, places[-1]), np.array(places))
    assert max(off, back) <= fitted.deviation + 1e-9 <= 0.01 + 1e-9
