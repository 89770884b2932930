"""Cure of a one-part bead with the square root of time (Comyn, Int. J. Adhesion and Adhesives 1998, law from memory).

3 mm in the first day at 23 °C and 50 % is a generic value from memory; every figure here is arithmetic of it.
"""

import math

import closed_forms
import pytest

from geometry.rules.day import cure

published, computed, from_memory = pytest.mark.published, pytest.mark.computed, pytest.mark.from_memory


@from_memory
@pytest.mark.parametrize(
    ("days", "depth"), [(1, 3.00), (2, 4.24), (4, 6.00), (7, 7.94), (9, 9.00), (14, 11.22), (16, 12.00), (25, 15.00)]
)
def test_cured_depth(days, depth):
    assert cure.cured_depth(days=days, rate=3) == pytest.approx(depth, abs=0.006)


@from_memory
@pytest.mark.parametrize(("width", "one", "both"), [(15, 25, 6.25), (18, 36, 9), (20, 44.4, 11.1)])
def test_cured_through(width, one, both):
    assert cure.days_one_open(bond_width=width, rate=3) == pytest.approx(one, abs=0.05)
    assert cure.days_both_open(bond_width=width, rate=3) == pytest.approx(both, abs=0.05)


@computed
@pytest.mark.parametrize(
    ("air", "humidity", "factor"),
    [(10, 50, 0.661), (10, 80, 0.837), (5, 80, 0.705), (15, 60, 0.854), (30, 70, 1.454), (35, 30, 1.096), (23, 50, 1.0)],
)
def test_climate_by_vapour_pressure(air, humidity, factor):
    """Root of the vapour pressure over that of 23 °C and 50 % (1401.3 Pa)."""
    assert closed_forms.cure_rate_by_vapour(air=air, humidity=humidity, standard_rate=1) == pytest.approx(factor, abs=0.0006)


@computed
@pytest.mark.parametrize("backfilled", [0.0, 1.0, 3.0, 5.0])
def test_early_backfill_against_two_marching_fronts(backfilled):
    """Both fronts are marched in small steps: the outer one stops at the backfill, the inner goes on until they meet."""
    width, rate, step, day, inner, outer = 15.0, 3.0, 1e-3, 0.0, 0.0, 0.0
    while inner + outer < width:
        day += step
        inner = rate * math.sqrt(day)
        outer = inner if day <= backfilled else outer
    assert cure.days_backfilled(bond_width=width, backfilled_after=backfilled, rate=3) == pytest.approx(day, abs=0.02)


@computed
@pytest.mark.parametrize("backfilled", [6.25, 8.0, 40.0])
def test_backfill_after_the_cure_changes_nothing(backfilled):
    """A bead that met in the middle after 6.25 days is not cured later because the joint was filled on day 8."""
    assert cure.days_backfilled(bond_width=15, backfilled_after=backfilled, rate=3) == pytest.approx(6.25)


@published
def test_standard_climate():
    """ISO 291:2008 as test laboratories print it: 23 °C and 50 %; the rate of a data sheet is that of this climate."""
    assert (cure.STANDARD_AIR, cure.STANDARD_HUMIDITY) == (23.0, 50.0)
    assert cure.cure_rate(air=23, humidity=50, standard_rate=2.7, doubling=10) == pytest.approx(2.7)
    assert closed_forms.cure_rate_by_vapour(air=23, humidity=50, standard_rate=2.7) == pytest.approx(2.7)
