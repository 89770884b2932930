"""The bent pane's limits beside those of structural glazing practice, and the shear of its bead by the geometry of a rolled strip."""

import math

import pytest

from geometry.rules.holding import bent_pane

computed, from_memory = pytest.mark.computed, pytest.mark.from_memory

PSI = 6.894757e-3  # MPa


@from_memory
def test_the_least_factor_leads_from_strength_to_design_stress():
    """Least strength 50 psi (ASTM C1184), design stress 20 psi with a factor of 2.5 (ASTM C1401): from memory of both."""
    assert bent_pane.tension_by_strength(strength=50 * PSI, factor=2.5) == pytest.approx(0.1379, rel=1e-3)


@computed
@pytest.mark.parametrize(("radius", "face"), [(20_000.0, 5.0), (20_000.0, -5.0), (60_000.0, 8.0), (60_000.0, -8.0)])
def test_a_strip_rolled_into_an_arc(radius, face):
    """A strip 1000 long rolled to a radius keeps its middle line; its end on a face ``face`` mm farther from the centre lies at
    (radius + face) sin(500 / radius), where it lay at 500. Farther out: pressed inwards, the inner face lies on the outside of the bowl.
    """
    turn = 500 / radius
    moved = (radius + face) * math.sin(turn) - 500
    slope, pull = face * turn, -500 * turn**2 / 6  # the slope at the end, and half the integral of the slope squared
    found = bent_pane.bending_shear_strain(slope=(slope, 0.0), pull=(pull, 0.0), bond_thickness=5.0)
    on_the_way = slope**2 / (-4 * pull) if 0 < slope < -2 * pull else 0.0  # a strip less rolled, where both oppose each other
    assert 5 * found == pytest.approx(max(abs(moved), on_the_way), rel=2e-3)
