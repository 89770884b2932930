"""Laminates as one sheet of glass.

Texts: ASTM E1300 appendix X9 (its structure seen as other texts restate it, the coupling from memory). The sandwich of two plies is worked
out here from first principles, by a sine series of Newmark's partial interaction.
"""

import math

import numpy as np
import pytest

from geometry.rules import glass

computed, from_memory = pytest.mark.computed, pytest.mark.from_memory
MAKE_UP = {"plies": (9.02, 9.02), "interlayers": (1.52,)}
WORKED = {**MAKE_UP, "glass_modulus": 71_700, "interlayer_modulus": 0.44, "short_side": 1000}


@from_memory
def test_worked_example_by_the_interlayers_modulus():
    """10 / 1.52 / 10 of least plies, G 0.44 MPa, 1000 mm: coupling 0.08529, 12.558 mm for deflection, 14.131 mm for stress."""
    assert glass.shear_transfer(**WORKED) == pytest.approx(0.08529, abs=5e-6)
    coupled = {**MAKE_UP, "coupling": 0.08529}
    assert glass.effective_thickness(**coupled) == pytest.approx(12.558, abs=5e-4)
    assert glass.effective_thickness_for_stress(**coupled) == pytest.approx(14.131, abs=5e-4)


def sandwich(*, plies, interlayers, glass_modulus, interlayer_modulus, short_side):
    """Thickness of the solid strip that bends as far in the middle of its span under even load, by 400 odd sines.

    The plies bend alike and stretch apart by a slip that the interlayer resists, so that each sine has a stiffness of its own:
    both plies alone, and Is / (1 + k² E (h1 h2 / (h1 + h2)) t / G) of the two together.
    """
    (one, two), (film,) = plies, interlayers
    apart, shared = (one + two) / 2 + film, one * two / (one + two)
    wave = math.pi * np.arange(1, 801, 2) / short_side
    together = shared * apart**2 / (1 + wave**2 * glass_modulus * shared * film / interlayer_modulus)
    sign = (-1.0) ** np.arange(len(wave))

    def bends(second):
        return (sign / wave**5 / (glass_modulus * second)).sum()

    solid = bends(np.full(len(wave), 1 / 12))
    return math.cbrt(solid / bends((one**3 + two**3) / 12 + together))


@computed
@pytest.mark.parametrize("modulus", [0.05, 0.44, 2.0, 20.0, 200.0])
@pytest.mark.parametrize("plies", [(6.0, 6.0), (4.0, 8.0)])
@pytest.mark.parametrize("side", [500.0, 1500.0])
def test_coupling_against_the_sandwich(plies, modulus, side):
    """9.6 for π²: within 0.5 % of the thickness for an even load."""
    make_up = {"plies": plies, "interlayers": (1.52,)}
    load = {**make_up, "glass_modulus": 70_000, "interlayer_modulus": modulus, "short_side": side}
    found = glass.effective_thickness(**make_up, coupling=glass.shear_transfer(**load))
    assert found == pytest.approx(sandwich(**load), rel=0.005)


@computed
@pytest.mark.parametrize("plies", [(6.0, 6.0), (4.0, 8.0), (5.0, 5.0, 5.0)])
def test_the_ends_of_the_coupling(plies):
    """Plies that slide share the moment as their stiffness; one sheet without film is as thick as the plies together."""
    film = (1e-9,) * (len(plies) - 1)
    apart = {"plies": plies, "interlayers": film, "coupling": 0}
    whole = {**apart, "coupling": 1}
    thickest = max(plies)
    moment = thickest**3 / sum(ply**3 for ply in plies)  # of the ply stressed most, of a moment of 1
    assert glass.effective_thickness_for_stress(**apart) == pytest.approx(math.sqrt(thickest**2 / moment))
    assert glass.effective_thickness(**whole) == pytest.approx(sum(plies))
    assert glass.effective_thickness_for_stress(**whole) == pytest.approx(sum(plies))
