"""Light past a print: law of refraction, worked from first principles with refractive index 1.52."""

import math

import closed_forms
import pytest

from geometry.rules.fit import frit

computed = pytest.mark.computed


@computed
@pytest.mark.parametrize(("angle", "travel"), [(30, 0.3483), (45, 0.5255), (60, 0.6933), (75, 0.8230), (90, 0.8736)])
def test_sideways_travel(angle, travel):
    assert frit.parallax(depth=1, incidence=angle, refractive_index=1.52) == pytest.approx(travel, abs=0.00005)


@computed
def test_grazing_light_is_bounded():
    """tan(asin(1/n)) is 1 / √(n² - 1): 0.8944 at 1.50; 7.52 mm of glass and interlayer give 6.57 mm at 1.52."""
    assert frit.parallax(depth=1, refractive_index=1.5, incidence=90) == pytest.approx(1 / math.sqrt(1.25), rel=1e-12)
    assert frit.parallax(depth=1, refractive_index=1.5, incidence=90) == pytest.approx(0.8944, abs=0.00005)
    assert frit.parallax(depth=7.52, incidence=90, refractive_index=1.52) == pytest.approx(6.57, abs=0.005)


@computed
def test_traced_rays():
    """Rays traced by Snell's law from just beside the print: none reaches further than the parallax."""
    for depth in (6.0, 13.52):
        reach = max(depth * math.tan(math.asin(math.sin(math.radians(tenth / 10)) / 1.52)) for tenth in range(901))
        assert frit.parallax(depth=depth, incidence=90, refractive_index=1.52) == pytest.approx(reach, rel=1e-12)


@computed
@pytest.mark.parametrize(
    ("thickness", "travel"), [(6, 5.2), (8, 7.0), (10, 8.7), (12, 10.5), (13.5, 11.8), (17.5, 15.3), (21.5, 18.8)]
)
def test_travel_through_usual_panes(thickness, travel):
    assert frit.parallax(depth=thickness, incidence=90, refractive_index=1.52) == pytest.approx(travel, abs=0.051)


@computed
@pytest.mark.parametrize(
    ("tape", "thickness", "shade"),
    [(25, 8, 16.0), (25, 12, 12.5), (25, 17.5, 7.7), (50, 8, 41.0), (50, 12, 37.5), (50, 17.5, 32.7)],
)
def test_shade_of_a_tape(tape, thickness, shade):
    assert closed_forms.tape_protects(tape_width=tape, glass_thickness=thickness) == pytest.approx(shade, abs=0.051)


@computed
def test_print_on_the_bond_face_needs_no_parallax():
    assert (
        frit.frit_for_cover(set_back=8, bond_width=15, squeeze_out=1, print_depth=0, margin=2, refractive_index=1.52)
        == 8 + 15 + 1 + 2
    )
