"""The best fit next to a blind search, under motions of both outlines, and its proofs checked by other means."""

from __future__ import annotations

import math
import random
from functools import cache

import numpy as np
import pytest
import shapely
from scipy.optimize import differential_evolution

from geometry.compare.best_fit import best_fit
from geometry.compare.between import least_between
from geometry.compare.curve import curve_of
from geometry.compare.gaps import Placing, gaps_at
from geometry.compare.largest import largest_of_two
from geometry.compare.parts import convex_parts
from geometry.compare.standing import heights_at, heights_of, stand
from geometry.outline import (
    Outline,
    Point,
    Vertex,
    bounding_box,
    circle,
    distance_between,
    ellipse,
    mirrored,
    moved,
    path,
    polygon,
    rectangle,
)
from geometry.outline.regions import to_polygon


def surveyed(width, height, seed, *, off=2.0, radius=0.0):
    """An upright recess whose sides were measured at two places each, every place a little off."""
    draw = random.Random(seed)
    corners = [(0, 0), (width, 0), (width, height), (0, height)]
    points = []
    for (x, y), (ahead_x, ahead_y) in zip(corners, (*corners[1:], corners[0]), strict=True):
        points += [(x + share * (ahead_x - x), y + share * (ahead_y - y)) for share in (0, 1 / 3, 2 / 3)]
    radii = [radius if i % 3 == 0 else 0 for i in range(len(points))]
    return polygon([(x + draw.uniform(-off, off), y + draw.uniform(-off, off)) for x, y in points], radii=radii)


L_PANE = polygon([(0, 0), (900, 0), (900, 300), (400, 300), (400, 700), (0, 700)], radii=[20, 20, 20, 18, 20, 20])
L_RECESS = polygon([(-8, -8), (908, -8), (908, 307), (407, 309), (408, 708), (-8, 708)], radii=[28, 28, 28, 10, 28, 28])
U_PANE = polygon([(0, 0), (900, 0), (900, 500), (650, 500), (650, 240), (250, 200), (250, 500), (0, 500)], radii=[12] * 8)
U_RECESS = polygon(
    [(-8, -7), (909, -8), (907, 508), (643, 507), (644, 249), (256, 207), (258, 508), (-7, 507)],
    radii=[20, 20, 20, 20, 6, 6, 20, 20],
)
PAIRS = {
    "U in a U": (U_PANE, U_RECESS),
    "survey 1": (rectangle(900, 450, radius=30), surveyed(916, 464, 1)),
    "survey 2": (rectangle(640, 380, radius=12), surveyed(650, 392, 2, radius=15)),
    "survey 3": (polygon([(0, 0), (800, 0), (700, 400), (60, 400)], radii=30), polygon([(-9, -7), (380, -8), (812, -9), (708, 408), (52, 406)])),
    "triangle in a rectangle": (polygon([(0, 0), (300, 0), (150, 240)]), rectangle(330, 270)),
    "L in an L": (L_PANE, L_RECESS),
    "L in a rectangle": (L_PANE, rectangle(915, 712, radius=40)),
    "oval": (ellipse(700, 400), ellipse(714, 418)),
    "curved head": (path([(0, 0), (900, 0), (900, 400, 0.05), (0, 400)]), path([(-8, -6), (908, -6), (908, 408, 0.04), (-8, 405)])),
    "hollow sill": (path([(0, 0, -0.03), (900, 0), (900, 400), (0, 400)]), path([(-8, -6, -0.02), (908, -6), (908, 408), (-8, 405)])),
}  # fmt: skip


SOON = ("survey 1", "U in a U", "survey 3", "triangle in a rectangle", "L in an L", "curved head", "hollow sill")
"""The pairs of few segments: a blind search takes thousands of distances."""


@cache
def fitted(name, *, given_away=0.02):
    return best_fit(*PAIRS[name], given_away=given_away)


@pytest.mark.parametrize("name", SOON)
def test_a_blind_search_finds_nothing_better(name):
    """differential_evolution of scipy on the distance of shapely, which know nothing of contacts and programmes."""
    pane, recess = PAIRS[name]
    fit = fitted(name)
    middle = bounding_box(pane).middle
    lying, wall = to_polygon(pane, sagitta=0.004), to_polygon(recess, sagitta=0.004)
    places = shapely.get_coordinates(lying) - middle
    room = max(fit.largest, 0) + 12

    def short(moves):
        x, y, turn = moves
        cosine, sine = math.cos(turn), math.sin(turn)
        ring = places @ np.array([[cosine, sine], [-sine, cosine]]) + (middle.x + x, middle.y + y)
        there = shapely.linearrings(ring)
        if shapely.contains_properly(wall, there):
            return -shapely.distance(there, wall.exterior)
        return shapely.hausdorff_distance(there, wall.exterior) + 100

    box, other = bounding_box(recess).middle, middle
    about = (box.x - other.x, box.y - other.y)
    shapely.prepare(wall)
    blind = differential_evolution(
        short,
        [(about[0] - room, about[0] + room), (about[1] - room, about[1] + room), (-0.3, 0.3)],
        seed=1,
        maxiter=60,
        popsize=8,
        tol=1e-8,
        polish=True,
        x0=[*about, 0.0],
    )
    assert fit.largest - 0.3 <= -blind.fun <= fit.largest + 0.01  # it comes near, so that it could have found more
    assert fit.largest <= fit.ceiling
    assert shapely.distance(to_polygon(fit.placed(pane)).exterior, wall.exterior) == pytest.approx(fit.least_gap, abs=0.01)


@pytest.mark.parametrize("name", PAIRS)
def test_the_ceiling_lies_over_every_placing_and_meets_the_best(name):
    pane, recess = PAIRS[name]
    fit = fitted(name)
    assert fit.proved and fit.largest <= fit.ceiling <= fit.largest + 0.00101
    draw, pivot = random.Random(7), fit.pivot
    one, other = curve_of(pane, pivot), curve_of(recess, pivot)
    for _ in range(400):
        spread = 10 ** draw.uniform(-4, 1.3)
        placing = Placing(
            fit.shift.x + draw.gauss(0, spread), fit.shift.y + draw.gauss(0, spread), math.radians(fit.turn) + draw.gauss(0, spread / 300)
        )  # fmt: skip
        assert gaps_at(one, other, placing).least <= fit.ceiling + 1e-9


@pytest.mark.parametrize("name", PAIRS)
def test_the_certificate_holds_by_itself(name):
    """Multipliers 0 or more, 1 in all, squares and moments in balance, at most four contacts; every contact measured with shapely."""
    pane, recess = PAIRS[name]
    fit = fitted(name, given_away=0.0)
    shares = [contact.multiplier for contact in fit.contacts]
    assert 2 <= len(shares) <= 4 and min(shares) > 0 and sum(shares) == pytest.approx(1, abs=1e-5)
    far = max(math.dist(fit.pivot, vertex[:2]) for vertex in pane.vertices)
    for axis in (0, 1):
        assert sum(c.multiplier * c.square[axis] for c in fit.contacts) == pytest.approx(0, abs=1e-5)
    at = Point(fit.pivot.x + fit.shift.x, fit.pivot.y + fit.shift.y)
    moments = []
    for contact in fit.contacts:
        pane_place, wall_place = np.array(contact.on_pane), np.array(contact.on_wall)
        assert np.linalg.norm(pane_place - wall_place) == pytest.approx(fit.largest, abs=2e-6)
        assert (pane_place - wall_place) / fit.largest == pytest.approx(contact.square, abs=1e-6)
        assert shapely.distance(shapely.Point(wall_place), to_polygon(recess).exterior) < 2e-3
        arm = pane_place - at
        moments.append(contact.multiplier * (arm[0] * contact.square.y - arm[1] * contact.square.x) / far)
    assert sum(moments) == pytest.approx(0, abs=1e-4)  # the pivot moves with the centring


def turned(outline: Outline, degrees: float, dx: float, dy: float) -> Outline:
    cosine, sine = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return Outline(
        tuple(Vertex(v.x * cosine - v.y * sine + dx, v.x * sine + v.y * cosine + dy, v.bulge) for v in outline.vertices)
    )


@pytest.mark.parametrize("name", ["survey 1", "survey 3", "L in an L", "curved head"])
@pytest.mark.parametrize(("degrees", "dx", "dy"), [(0.0, 4321.5, -987.25), (90.0, 12.0, 5.0), (33.0, -40.0, 77.0)])
def test_turning_and_shifting_both_changes_nothing(name, degrees, dx, dy):
    pane, recess = PAIRS[name]
    fit, other = fitted(name), best_fit(turned(pane, degrees, dx, dy), turned(recess, degrees, dx, dy))
    assert (other.largest, other.least_gap) == pytest.approx((fit.largest, fit.least_gap), abs=1e-5)
    assert other.turn == pytest.approx(fit.turn, abs=1e-4)


@pytest.mark.parametrize("name", ["survey 1", "survey 2", "L in an L"])
def test_the_other_hand_fits_alike(name):
    pane, recess = PAIRS[name]
    across = bounding_box(pane).left + bounding_box(pane).right - bounding_box(recess).left - bounding_box(recess).right
    fit, other = fitted(name), best_fit(mirrored(pane), moved(mirrored(recess), across, 0))
    assert other.largest == pytest.approx(fit.largest, abs=1e-6) and other.turn == pytest.approx(-fit.turn, abs=1e-4)
    assert other.shift == pytest.approx((-fit.shift.x, fit.shift.y), abs=1e-2)


@pytest.mark.parametrize("name", PAIRS)
def test_the_gap_is_the_distance_between_the_curves(name):
    """Against the pairwise distance of the segments, which is a way of its own."""
    pane, recess = PAIRS[name]
    draw, fit = random.Random(3), fitted(name)
    one, other = curve_of(pane, fit.pivot), curve_of(recess, fit.pivot)
    for _ in range(40):
        placing = Placing(
            fit.shift.x + draw.gauss(0, 3), fit.shift.y + draw.gauss(0, 3), math.radians(fit.turn) + draw.gauss(0, 0.004)
        )
        lies = turned(
            moved(pane, -fit.pivot.x, -fit.pivot.y), math.degrees(placing.turn), fit.pivot.x + placing.x, fit.pivot.y + placing.y
        )
        least, apart = gaps_at(one, other, placing).least, distance_between(lies, recess)
        assert least <= 1e-9 if apart == 0 else least == pytest.approx(apart, abs=1e-8)
        assert least_between(lies, recess).gap == pytest.approx(least, abs=1e-8)


def test_a_pane_too_large_says_by_how_much_and_proves_it():
    fit = best_fit(rectangle(1030, 600), rectangle(1020, 616))
    assert fit.largest == pytest.approx(-5, abs=1e-6) and fit.proved


def test_a_round_pane_is_not_turned():
    fit = best_fit(circle(500), circle(520))
    assert (fit.turn, fit.largest, fit.proved) == (0.0, pytest.approx(10), True)


@pytest.mark.parametrize(("pane", "fillets"), [(L_PANE, 1 - math.pi / 4), (U_PANE, None), (PAIRS["hollow sill"][0], None)])
def test_convex_parts_lie_in_the_pane_and_cover_it_but_for_the_fillets(pane, fillets):
    parts = convex_parts(pane)
    whole = to_polygon(pane)
    assert all(curve_of(part).convex and to_polygon(part).within(whole.buffer(0.01)) for part in parts)
    covered = shapely.union_all([to_polygon(part) for part in parts])
    left_out = whole.difference(covered.buffer(1e-6))
    if fillets is not None:
        assert left_out.area == pytest.approx(fillets * 18**2, rel=1e-2)
    # nothing but slivers behind arcs that turn inwards
    arcs = [v for v in pane.vertices if v.bulge < 0]
    for piece in getattr(left_out, "geoms", [left_out]):
        assert piece.area < 1e-3 or any(piece.distance(shapely.Point(v.x, v.y)) < 0.05 for v in arcs)


def test_heights_are_every_sum_of_a_chock_and_shims():
    every = {chock + under for chock in (3, 4, 5, 6) for under in (0, 0.5, 1, 1.5)}
    assert {each.height for each in heights_of((3, 4, 5, 6), (0.5, 1))} == every
    assert all(sum(each.pieces) == pytest.approx(each.height) for each in heights_of((3, 4, 5, 6), (0.5, 1)))


def test_the_chocks_are_the_best_of_the_stock():
    """Every pair of heights tried on a grid of shifts along the sill: none has a larger least gap by more than is called alike."""
    pane, recess = rectangle(900, 450), polygon([(-6, -5), (906, -3), (907, 456), (-7, 455)])
    feet, stock = [Point(225, 0), Point(675, 0)], (3.0, 4.0, 5.0)
    fit = best_fit(pane, recess)
    stood = stand(pane, recess, fit, feet, stock=stock)
    best = -math.inf
    for left in stock:
        for right in stock:
            slope = math.atan2(right - left, 450) + math.atan2(2, 912)
            for shift in np.linspace(-4, 4, 33):
                # upright over the chocks: the sill rises by 2 in 912, the pane by what the chocks add
                lies = turned(moved(pane, -225, 0), math.degrees(slope), 225 + shift, -5 + 231 * 2 / 912 + left)
                best = max(best, least_between(lies, recess).gap)
    assert stood.fit.least_gap >= best - 0.03
    assert heights_at(pane, recess, stood.fit, feet) == pytest.approx([each.height for each in stood.chocks], abs=1e-6)


@pytest.mark.parametrize("seed", [4])
def test_no_larger_pane_keeps_the_joint(seed):
    recess, joint = surveyed(900, 500, seed), 4.5

    def made(width, height):
        return rectangle(width, height, radius=10)

    found = largest_of_two(made, recess, start=(905, 505), joint=joint)
    width, height = found.sizes
    assert best_fit(made(width, height), recess).largest >= joint - 1e-6
    for more in ((1, 0), (0, 1), (2, -1)):
        larger = (width + more[0], height + more[1])
        if larger[0] * larger[1] > width * height:
            assert best_fit(made(*larger), recess).largest < joint
