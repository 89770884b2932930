"""The best fit against closed forms, and against a worked survey.

The closed forms follow from the width of a regular figure across its sides: the least gap of a convex pane in a parallelogram is half
of what the recess is wider than the pane, in the direction where that is least; turning makes both directions alike.
"""

import math

import pytest

from geometry.compare.best_fit import best_fit
from geometry.compare.standing import heights_at, stand
from geometry.outline import Point, distance_from, polygon, rectangle

pytestmark = pytest.mark.worked_example

SIDE = 100.0
TILT = math.radians(15)


def regular(count, side):
    radius = side / (2 * math.sin(math.pi / count))
    return polygon(
        [(radius * math.cos(2 * math.pi * i / count), radius * math.sin(2 * math.pi * i / count)) for i in range(count)]
    )


CLOSED_FORMS = {
    # at 15° the triangle of side 1 is cos 15° wide both ways; upright it is 1 wide and the least gap only 0.1
    "triangle in a square": (regular(3, SIDE), rectangle(1.2 * SIDE, 1.2 * SIDE), (1.2 - math.cos(TILT)) / 2 * SIDE),
    # the hexagon of side 1 is 2 cos 15° wide both ways there; over corners it is 2 wide
    "hexagon in a square": (regular(6, SIDE), rectangle(2.2 * SIDE, 2.2 * SIDE), (2.2 - 2 * math.cos(TILT)) / 2 * SIDE),
    # the largest square in a hexagon of side 1 has the side 3 − √3; the unit square has less by the same scale
    "square in a hexagon": (
        rectangle(SIDE, SIDE),
        regular(6, SIDE),
        math.sqrt(3) / 2 * (1 - 1 / (3 - math.sqrt(3))) * SIDE,
    ),
    "rectangle, height decides": (rectangle(1000, 600), rectangle(1020, 616), 8.0),
    "rectangle, width decides": (rectangle(600, 1000), rectangle(616, 1020), 8.0),
}


@pytest.mark.parametrize("name", CLOSED_FORMS)
def test_closed_forms(name):
    pane, recess, least = CLOSED_FORMS[name]
    fit = best_fit(pane, recess)
    assert fit.largest == pytest.approx(least, abs=1e-6)
    assert fit.least_gap == pytest.approx(least, abs=1e-6)
    assert fit.proved and fit.balanced and least <= fit.ceiling + 1e-9 <= least + 1.1e-3


@pytest.mark.parametrize(("pane", "recess"), [((1000, 600), (1020, 616)), ((600, 1000), (616, 1020))])
def test_what_the_least_gap_leaves_is_centred(pane, recess):
    """8 mm between the nearer sides, then 10 mm between the others, from both ways."""
    fit = best_fit(rectangle(*pane), rectangle(*recess))
    lies = fit.placed(rectangle(*pane))
    left, bottom = min(v.x for v in lies.vertices), min(v.y for v in lies.vertices)
    assert (left, bottom) == pytest.approx(((recess[0] - pane[0]) / 2, (recess[1] - pane[1]) / 2), abs=1e-6)
    assert fit.turn == pytest.approx(0.0, abs=1e-6)


# A timber recess surveyed at its corners and two places of each side; the pane as made. Worked by a two-stage linear programme on these
# stations (all figures to two decimals): the jambs keep what they have within 0.02 while sill and head are made alike.
SURVEY = [
    (0, 0), (340, -0.5), (680, 0.5), (1013, 1.0), (1010.6, 240), (1009.8, 480),
    (1011, 714), (670, 711.0), (335, 709.5), (2.5, 711.0), (5.5, 470), (4.0, 235),
]  # fmt: skip
AS_MADE = rectangle(1002, 701.5, radius=10)
WORKED = {
    (5.5, 470): 1.16, (4.0, 235): 2.90, (1009.8, 480): 1.15, (1010.6, 240): 1.70,
    (340, -0.5): 4.65, (680, 0.5): 4.00, (335, 709.5): 3.85, (670, 711.0): 5.01,
}  # fmt: skip


@pytest.fixture(scope="module")
def surveyed():
    return best_fit(AS_MADE, polygon(SURVEY))


def test_a_surveyed_recess_station_by_station(surveyed):
    lies = surveyed.placed(AS_MADE)
    for station, gap in WORKED.items():
        assert distance_from(lies, Point(*station)) == pytest.approx(gap, abs=0.02), station
    assert surveyed.least_gap == pytest.approx(1.15, abs=0.02) and surveyed.largest == pytest.approx(1.16, abs=0.02)
    assert surveyed.shift == pytest.approx((6.8, 4.3), abs=0.05) and surveyed.per_metre == pytest.approx(1.0, abs=0.05)


def test_its_four_corners_alone_would_have_promised_three_millimetres(surveyed):
    corners = best_fit(AS_MADE, polygon([SURVEY[i] for i in (0, 3, 6, 9)]))
    assert corners.largest == pytest.approx(3.31, abs=0.02) and surveyed.largest < corners.largest - 2


def test_its_chocks_come_from_the_stock(surveyed):
    feet = [Point(250.5, 0), Point(751.5, 0)]
    recess = polygon(SURVEY)
    assert heights_at(AS_MADE, recess, surveyed, feet) == pytest.approx((4.45, 3.97), abs=0.02)
    stood = stand(AS_MADE, recess, surveyed, feet, stock=(3, 4, 5, 6), shims=(0.5, 1))
    assert [each.height for each in stood.chocks] == [4.5, 4.0]  # the worked example: 4.5 left, 4.0 right
    assert heights_at(AS_MADE, recess, stood.fit, feet) == pytest.approx((4.5, 4.0), abs=1e-6)
    assert stood.fit.least_gap > surveyed.largest - 0.05


def test_smaller_panes_of_the_same_recess():
    """The worked example's other two rows: as ordered 1000 × 700, and re-ordered 995 × 697."""
    for (width, height), jambs in (((1000, 700), (2.14, 2.17)), ((995, 697), (4.66, 4.65))):
        pane = rectangle(width, height, radius=10)
        fit = best_fit(pane, polygon(SURVEY))
        lies = fit.placed(pane)
        found = [distance_from(lies, Point(*place)) for place in ((5.5, 470), (1009.8, 480))]
        assert found == pytest.approx(jambs, abs=0.03)
