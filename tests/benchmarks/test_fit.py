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


def bellied(seed):
    """A worked survey with 200 stations: jambs that come in by 2.5 mm at mid-height, sill and head with room to centre the rest in."""
    draw, points = random.Random(seed), []
    corners = [(-8, -8), (1208, -8), (1208, 711), (-8, 711)]
    for side, ((x, y), (ahead_x, ahead_y)) in enumerate(zip(corners, (*corners[1:], corners[0]), strict=True)):
        for i in range(STATIONS // 4):
            share = 4 * i / STATIONS
            belly = 2.5 * (1 - (2 * share - 1) ** 2) * (side % 2) * (-1 if side == 1 else 1)
            along_x, along_y = x + share * (ahead_x - x), y + share * (ahead_y - y)
            points.append((along_x + belly + draw.uniform(-0.3, 0.3), along_y + draw.uniform(-0.3, 0.3)))
    return polygon(points)


def test_a_fit_that_is_held_by_two_sides_and_centred_between_the_others(compare):
    """The jambs alone hold the least gap, as in the worked survey: what is left upright is centred step by step."""
    recess = bellied(1)
    fit = best_fit(PANE, recess, prove=False)
    assert all(abs(contact.square.x) > 0.9 for contact in fit.contacts)  # what the benchmark is about
    compare(
        f"best fit in {STATIONS} stations, held by the jambs and centred",
        lambda: best_fit(PANE, recess, prove=False),
        "one linear programme of that size",
        programme,
        target=15,
    )
