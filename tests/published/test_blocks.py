"""Setting blocks.

Texts: a glazing-manual rule quoted in a glass trade magazine (2008) and a Canadian installer's sheet (0.1 inch for each square foot,
quarter points, out to the eighth points or 6 inches from the corner); a rubber-block supplier's notes (27 mm/m², at least 3 mm).
"""

import pytest

from geometry.detail.blocks import chock_sites
from geometry.job.limits import Limits
from geometry.job.setting_out import SettingOut
from geometry.outline import Point, rectangle
from geometry.rules.holding import chocks

published, second_hand, computed = pytest.mark.published, pytest.mark.second_hand, pytest.mark.computed
INCH_PER_SQUARE_FOOT = 2.54 / (0.3048**2)


def chocks_on_the_sill(width, *, foot, length):
    """Middles of the chocks of a rectangular pane, mm along its sill, with the office's distances left as they are."""
    sites = chock_sites(rectangle(width, 800), Point(foot, 400), rake=0, length=length, out=SettingOut(), limits=Limits())
    return [site.distance for kind, site in sites if kind == "setting chock"]


@published
def test_length_by_area_in_metric():
    """0.1 inch for each square foot is 27.340 mm for each m²; the supplier's notes say 27."""
    assert pytest.approx(27.340, abs=0.0005) == INCH_PER_SQUARE_FOOT
    assert chocks.chock_length(area=6e6, least=0, per_square_metre=27) / 6 == pytest.approx(INCH_PER_SQUARE_FOOT, rel=0.013)


@computed
@pytest.mark.parametrize("thickness", [4, 8, 12, 25])
@pytest.mark.parametrize("area", [0.3e6, 2e6, 9e6])
def test_bearing_is_the_same_for_every_pane(thickness, area):
    """Two full-thickness blocks by the area rule: density × g / (2 × 27.34 mm/m²) = 0.4485 MPa whatever the pane."""
    weight = area * 1e-6 * thickness * 2.5 * 9.81
    length = chocks.chock_length(area=area, per_square_metre=INCH_PER_SQUARE_FOOT, least=0)
    assert chocks.bearing_stress(force=weight / 2, length=length, bearing_depth=thickness, dynamic_factor=1) == pytest.approx(
        0.4485, abs=0.00005
    )


@computed
@pytest.mark.parametrize(
    ("width", "height", "thickness", "length", "stress"),
    [(1200, 800, 10, 100, 0.1177), (2000, 1500, 12, 100, 0.3679), (3000, 2000, 20, 164.04, 0.4485)],
)
def test_bearing_of_a_pane(width, height, thickness, length, stress):
    weight = width * height * 1e-6 * thickness * 2.5 * 9.81
    found = chocks.chock_length(area=width * height, per_square_metre=INCH_PER_SQUARE_FOOT, least=100)
    assert found == pytest.approx(length, abs=0.005)
    left, right = chocks.level_reactions(weight_along=weight, left=width / 4, right=3 * width / 4, centroid=width / 2)
    assert left == pytest.approx(right) == pytest.approx(weight / 2)
    assert chocks.bearing_stress(force=left, length=found, bearing_depth=thickness, dynamic_factor=1) == pytest.approx(
        stress, abs=0.00006
    )


@published
@pytest.mark.parametrize(("width", "places"), [(2000, (500, 1500)), (1200, (300, 900))])
def test_quarter_points(width, places):
    """Quarter points on a rectangle."""
    assert chocks_on_the_sill(width, foot=width / 2, length=100) == pytest.approx(places)


@second_hand
def test_least_block_height():
    """Supplier's notes: at least 3 mm."""
    assert Limits().chock_height_least == 3


@published
@pytest.mark.parametrize("length", [50, 80, 100])
@pytest.mark.parametrize("width", [420, 640, 900, 1500, 2400])
@pytest.mark.parametrize("off_centre", [-0.08, 0.0, 0.05])
def test_blocks_keep_clear_of_the_corner(width, length, off_centre):
    """A page of a construction atlas (European practice): a block's end at least 20 mm from the corner."""
    foot = width * (0.5 + off_centre)
    found = chocks_on_the_sill(width, foot=foot, length=length)
    assert min(found) - length / 2 >= 20 and max(found) + length / 2 <= width - 20
    assert sum(found) / 2 == pytest.approx(foot)
