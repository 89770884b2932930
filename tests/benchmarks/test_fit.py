"""The best fit of a pane in a recess of 200 stations next to one linear programme of that size."""

from __future__ import annotations

import random

import numpy as np
from scipy.optimize import linprog

from geometry.compare.best_fit import best_fit
from geometry.outline import polygon, rectangle

STATIONS = 200
PANE = rectangle(1200, 700, radius=40)


def surveyed(seed):
    """A recess with 50 stations on each side, each up to a millimetre off."""
    draw, points = random.Random(seed), []
    corners = [(-8, -8), (1208, -8), (1208, 708), (-8, 708)]
    for (x, y), (ahead_x, ahead_y) in zip(corners, (*corners[1:], corners[0]), strict=True):
        for i in range(STATIONS // 4):
            share = 4 * i / STATIONS
            points.append((x + share * (ahead_x - x) + draw.uniform(-1, 1), y + share * (ahead_y - y) + draw.uniform(-1, 1)))
    return polygon(points)


def programme():
    """Shift, turn and least gap of 200 stations."""
    draw = np.random.default_rng(1)
    rows = np.column_stack((draw.normal(size=(STATIONS, 3)), np.ones(STATIONS)))
    return linprog([0, 0, 0, -1], A_ub=rows, b_ub=draw.uniform(3, 9, STATIONS), bounds=[(-50, 50)] * 3 + [(None, None)])


def test_a_fit(compare):
    recess = surveyed(1)
    compare(
        f"best fit in {STATIONS} stations",
        lambda: best_fit(PANE, recess, prove=False),
        "one linear programme of that size",
        programme,
        target=15,
    )


def test_a_fit_with_its_proof(compare):
    recess = surveyed(1)
    compare(
        f"best fit in {STATIONS} stations, proved over every turn",
        lambda: best_fit(PANE, recess),
        "one linear programme of that size",
        programme,
        target=300,
    )
