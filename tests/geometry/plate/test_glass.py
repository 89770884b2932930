"""Effective thickness of laminates: limits from the mechanics of sections, and bad build-ups."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.plate.glass import GlassBuildUp, PlateInputError, bending_stiffness, effective_thickness

ply = st.floats(2, 25)
film = st.floats(0.38, 6)


@given(st.lists(ply, min_size=1, max_size=4), film)
def test_without_coupling_the_plies_add_their_own_stiffness(plies, interlayer):
    """First principles: plies that slide share the load by their own cubes."""
    build_up = GlassBuildUp(tuple(plies), (interlayer,) * (len(plies) - 1))
    assert effective_thickness(build_up).deflection ** 3 == pytest.approx(math.fsum(h**3 for h in plies))


@given(st.lists(ply, min_size=2, max_size=4), film)
def test_full_coupling_is_the_parallel_axis_theorem(plies, interlayer):
    """First principles: second moment of the plies about their common middle, the interlayer without stiffness of its own."""
    levels, level = [], 0.0
    for h in plies:
        levels.append((level, level + h))
        level += h + interlayer
    middle = sum((top**2 - bottom**2) / 2 for bottom, top in levels) / sum(plies)
    second = sum(((top - middle) ** 3 - (bottom - middle) ** 3) / 3 for bottom, top in levels)
    build_up = GlassBuildUp(tuple(plies), (interlayer,) * (len(plies) - 1), shear_coupling=1.0)
    thickness = effective_thickness(build_up)
    assert thickness.deflection**3 / 12 == pytest.approx(second)
    # stress of the outermost fibre, by the section: M y / I; the formula of a ply: 6 M / h2
    outermost = max(middle - levels[0][0], levels[-1][1] - middle)
    assert max(6 / h**2 for h in thickness.stress) == pytest.approx(outermost / second)


@pytest.mark.parametrize(
    ("coupling", "deflection", "stress"),
    [(0, 7.560, 8.485), (0.3, 10.140, 11.238), (0.5, 11.318, 12.188), (0.7, 12.292, 12.840), (1, 13.514, 13.510)],
)
def test_laminate_of_two_six_millimetre_plies(coupling, deflection, stress):
    """6 + 1.52 + 6 mm worked by hand with the formula in the form of EN 16612 (from memory)."""
    thickness = effective_thickness(GlassBuildUp((6.0, 6.0), (1.52,), shear_coupling=coupling))
    assert thickness.deflection == pytest.approx(deflection, abs=6e-4)
    assert thickness.stress == pytest.approx((stress, stress), abs=6e-4)


def test_stiffness_of_ten_millimetres():
    """E t3/(12 (1 - nu2)) = 6.15915e6 N mm for 10 mm, E 70 000 MPa, nu 0.23 (Timoshenko and Woinowsky-Krieger, art. 3)."""
    assert bending_stiffness(GlassBuildUp((10.0,))) == pytest.approx(70_000 * 1000 / (12 * (1 - 0.0529)))


@pytest.mark.parametrize(
    ("build_up", "words"),
    [
        ({"plies": ()}, "at least one ply"),
        ({"plies": (6.0, 6.0)}, "2 plies need 1 interlayers; 0 were given"),
        ({"plies": (6.0, -6.0), "interlayers": (1.52,)}, "thickness of a ply is -6 mm"),
        ({"plies": (6.0, 6.0), "interlayers": (0.0,)}, "thickness of an interlayer is 0 mm"),
        ({"plies": (math.nan,)}, "thickness of a ply is nan mm"),
        ({"plies": (6.0, 6.0), "interlayers": (1.52,), "shear_coupling": 1.2}, "shear coupling is 1.2"),
        ({"plies": (6.0,), "poisson": 0.5}, "Poisson's ratio is 0.5"),
        ({"plies": (6.0,), "young_modulus": 0.0}, "Young's modulus of the glass is 0 MPa"),
    ],
)
def test_bad_build_up_is_refused_in_words(build_up, words):
    with pytest.raises(PlateInputError, match=words.replace("(", r"\(")):
        GlassBuildUp(**build_up)
