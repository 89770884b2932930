"""Loads that the engineer gives: a load on a part of the pane, an elliptical pane, heat at the edge, wind, a moving vessel.

Texts: Roark's Formulas for Stress and Strain, table 11.4 case 1b and the elliptical plate, from memory; the velocity pressure of ASCE 7.
The double sine series (Navier) and the Ritz series of the ellipse are computed here from first principles.
"""

import math

import numpy as np
import pytest
from scipy.optimize import minimize

from geometry.rules.holding import gravity, loads, pane_bending, shear_bed

computed, from_memory = pytest.mark.computed, pytest.mark.from_memory
ODD_M, ODD_N = np.arange(1, 600, 2)[:, None].astype(float), np.arange(1, 600, 2)[None, :].astype(float)


def navier(aspect, patch, nu):
    """Factors of a load of 1 on a square patch (its side over the short side) in the middle, by Navier's series.

    Deflection: w E t³ / (W b²) and stress: σ t² / W, on a plate of short side 1.
    """
    sines = [np.sin(k * math.pi / 2) * np.sinc(k * side / 2) for k, side in ((ODD_M, patch), (ODD_N, patch / aspect))]
    bend = ODD_M**2 + (ODD_N / aspect) ** 2
    both = np.sin(ODD_M * math.pi / 2) * np.sin(ODD_N * math.pi / 2) * sines[0] * sines[1]
    deflection = 4 / (aspect * math.pi**4) * (both / bend**2).sum() * 12 * (1 - nu**2)
    moment = 4 / (aspect * math.pi**2) * (both * (ODD_M**2 + nu * (ODD_N / aspect) ** 2) / bend**2).sum()
    return deflection, 6 * moment


@computed
@pytest.mark.parametrize("aspect", [1.0, 1.1, 1.2, 1.4, 1.6, 1.8, 2.0, 2.5, 4.0])
def test_a_load_on_a_part_against_the_double_sine_series(aspect):
    """Deflection of a load at a point within 1 %, 2 % between the rows; stress under a square patch of a tenth, as a circle of its area: 2 %."""
    sides = {"force": 1000.0, "short_side": 500.0, "long_side": 500.0 * aspect}
    point, _ = navier(aspect, 1e-6, 0.3)
    found = pane_bending.patch_deflection(**sides, stiffness=70_000 * 10**3 / (12 * (1 - 0.3**2)))
    on_a_row = aspect in (1.0, 1.2, 1.4, 1.6, 1.8, 2.0)
    assert found == pytest.approx(point * 1000 * 500**2 / (70_000 * 1000), rel=0.01 if on_a_row else 0.02)
    _, stress = navier(aspect, 0.1, 0.3)
    radius = 50 / math.sqrt(math.pi)
    found = pane_bending.patch_stress(**sides, thickness=10.0, poisson=0.3, radius=radius)
    assert found == pytest.approx(stress * 1000 / 100, rel=0.02)


@from_memory
def test_a_small_radius_counts_as_a_larger_one():
    """Westergaard: below half the thickness √(1.6 r² + t²) - 0.675 t; at a point 0.325 t."""
    plate = {"force": 1000.0, "short_side": 500.0, "long_side": 1000.0, "thickness": 10.0, "poisson": 0.3}
    point = 1.5 * 1000 / (math.pi * 100) * (1.3 * math.log(1000 / (3.25 * math.pi)) + 0.958)
    assert pane_bending.patch_stress(**plate, radius=1e-9) == pytest.approx(point, rel=1e-6)


def ellipse_factor(aspect, nu, order=6):
    """σ t² / (q (2b)²) at the middle of a simply supported ellipse with half axes aspect and 1, by a Ritz series.

    Deflection (1 - x² / a² - y² / b²) × even powers; the edge may turn freely, its moment vanishes by itself.
    """
    radii, weights = np.polynomial.legendre.leggauss(40)
    radii, weights = (radii + 1) / 2, weights / 2
    angles = 2 * math.pi * (np.arange(64) + 0.5) / 64
    x = aspect * np.outer(radii, np.cos(angles)).ravel()
    y = np.outer(radii, np.sin(angles)).ravel()
    share = aspect * np.outer(weights * radii, np.full(64, 2 * math.pi / 64)).ravel()
    bowl = {(0, 0): 1.0, (2, 0): -1 / aspect**2, (0, 2): -1.0}

    def at(powers, over_x, over_y, px, py):
        found = np.zeros_like(px)
        for (m, n), factor in powers.items():
            if m >= over_x and n >= over_y:
                lost = math.perm(m, over_x) * math.perm(n, over_y)
                found += factor * lost * px ** (m - over_x) * py ** (n - over_y)
        return found

    shapes = [
        {(m + i, n + j): factor for (m, n), factor in bowl.items()}
        for i in range(0, 2 * order, 2)
        for j in range(0, 2 * order - i, 2)
    ]
    xx, yy, xy, w = (np.array([at(s, *way, x, y) for s in shapes]) for way in ((2, 0), (0, 2), (1, 1), (0, 0)))
    both = (xx + yy) * share @ (xx + yy).T
    gauss = (xx * share) @ yy.T + (yy * share) @ xx.T - 2 * (xy * share) @ xy.T
    free = np.linalg.lstsq(both - (1 - nu) * gauss, w @ share, rcond=1e-12)[0]
    middle = np.zeros(1)
    bent_x, bent_y = (
        sum(c * at(s, *way, middle, middle)[0] for c, s in zip(free, shapes, strict=True)) for way in ((2, 0), (0, 2))
    )
    return -6 * (bent_y + nu * bent_x) / 4


@computed
@pytest.mark.parametrize("nu", [0.23, 0.3])
@pytest.mark.parametrize("aspect", [1.0, 1.2, 1.5, 2.0, 3.0])
def test_the_elliptical_pane_against_a_ritz_series(aspect, nu):
    found = pane_bending.ellipse_stress_factor(aspect=aspect, poisson=nu)
    assert found == pytest.approx(ellipse_factor(aspect, nu), rel=0.03)


@computed
def test_a_ritz_series_of_the_disc():
    """3 (3 + ν) / 32 of the diameter: what the series itself is held against."""
    assert ellipse_factor(1.0, 0.23) == pytest.approx(3 * 3.23 / 32, rel=1e-6)
    assert pane_bending.ellipse_stress_factor(aspect=1, poisson=0.23) == pytest.approx(3 * 3.23 / 32, rel=1e-3)


@computed
@pytest.mark.parametrize("edge", [0.1, 0.01, 0.0001])
def test_heat_at_a_narrow_edge(edge):
    """A strip of which ``edge`` of the width is cool: bands that must stretch alike and balance; the bound is the edge of no width."""
    widths, warm = np.array([1 - edge, edge]), np.array([30.0, 0.0])
    strain = 9e-6 * (widths * warm).sum()
    stress = 70_000 * (strain - 9e-6 * warm)[1]
    found = loads.edge_heat_stress(modulus=70_000, expansion=9e-6, difference=30)
    assert found >= stress and found * (1 - edge) == pytest.approx(stress)


@computed
@pytest.mark.parametrize(("strain", "racking"), [(0.0, 0.004), (0.0008, 0.004), (-0.0005, -0.002), (0.0008, 0.0)])
@pytest.mark.parametrize(("width", "height"), [(600.0, 600.0), (1500.0, 400.0)])
def test_a_frame_that_stretches_and_racks(strain, racking, width, height):
    """Least energy of the bead of a free rectangular pane, sought by scipy over shift and turn: four sides, ten places of Gauss on each."""
    at, weight = np.polynomial.legendre.leggauss(10)
    sides = [
        *((width / 2 * at, np.full(10, y), weight * width / 2) for y in (-height / 2, height / 2)),
        *((np.full(10, x), height / 2 * at, weight * height / 2) for x in (-width / 2, width / 2)),
    ]
    x, y, length = (np.concatenate(each) for each in zip(*sides, strict=True))
    grows = np.array([[strain, racking / 2], [racking / 2, strain]])

    def moved(unknowns):
        right, up, turn = unknowns
        frame = grows @ np.array([x, y])
        return right - turn / 1000 * y - frame[0], up + turn / 1000 * x - frame[1]

    def energy(unknowns):
        across, along = moved(unknowns)
        return 0.8 * 15 / 6 / 2 * float(length @ (across**2 + along**2))

    least = minimize(energy, np.zeros(3), method="BFGS", options={"gtol": 1e-10}).x
    across, along = moved(least)
    found = shear_bed.shear_bed(
        stations=[shear_bed.Station(*each) for each in zip(x, y, length, strict=True)],
        differential_strain=strain,
        racking=racking,
        shear_modulus=0.8,
        bond_width=15.0,
        bond_thickness=6.0,
    )
    assert found.turn == pytest.approx(least[2] / 1000, abs=1e-7)
    assert found.largest == pytest.approx(float(np.hypot(across, along).max()), rel=1e-4)


@from_memory
@pytest.mark.parametrize("wind", [10.0, 44.704, 60.0])
def test_velocity_pressure(wind):
    """0.613 V² N/m² of ASCE 7; its 0.00256 for miles an hour and pounds on a square foot is the same thing."""
    assert loads.wind_suction(wind=wind, coefficient=1) == pytest.approx(0.613e-3 * wind**2, rel=0.001)
    assert loads.wind_suction(wind=wind, coefficient=1.4) == pytest.approx(1.4 * 0.613e-3 * wind**2, rel=0.001)


@computed
@pytest.mark.parametrize("heel", [0, 5, 20, 44])
@pytest.mark.parametrize("rake", [0, 15, -25])
def test_a_heel_is_an_acceleration(heel, rake):
    """The heeled weight over cos(heel) is the upright one with 9.81 tan(heel) to the side."""
    heeled = gravity.weight_in_pane(mass=30, rake=rake, heel=heel)
    side = loads.heel_acceleration(heel=heel)
    moved = loads.moving_weight(mass=30, rake=rake, vertical_acceleration=0, horizontal_acceleration=side)
    assert moved.right == pytest.approx(abs(heeled.right) / math.cos(math.radians(heel)))
    assert moved.up == pytest.approx(heeled.up / math.cos(math.radians(heel)))


@from_memory
def test_without_a_load_there_is_no_stress():
    """The formula is in proportion to the force."""
    plate = {"short_side": 500.0, "long_side": 1000.0, "thickness": 10.0, "poisson": 0.3, "radius": 50.0}
    assert pane_bending.patch_stress(force=0.0, **plate) == 0.0
    assert pane_bending.patch_stress(force=1e-3, **plate) == pytest.approx(pane_bending.patch_stress(force=1.0, **plate) / 1000)
