"""The joint of a pane that has been shifted and turned: shapely and a surveyed recess worked by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Point
from shapely.affinity import rotate, translate

from geometry.rules.fit.placing import joint_after_placing


@given(
    st.floats(-2000, 2000),
    st.floats(-2000, 2000),
    st.floats(-10, 10),
    st.floats(-10, 10),
    st.floats(-0.02, 0.02),
    st.floats(0, 6.28),
)
def test_against_shapely(x, y, right, up, turn, way):
    """The same movement and the distance to the long wall, by shapely."""
    normal = (math.cos(way), math.sin(way))
    wall = (100.0, -50.0)
    along = (-normal[1] * 1e5, normal[0] * 1e5)
    moved = translate(rotate(Point(x, y), turn, origin=(500, 300), use_radians=True), right, up)
    line = LineString([(wall[0] - along[0], wall[1] - along[1]), (wall[0] + along[0], wall[1] + along[1])])
    found = joint_after_placing(
        place=(x, y), pivot=(500, 300), shift=(right, up), turn=turn, wall_point=wall, inward_normal=normal
    )
    assert abs(found) == pytest.approx(moved.distance(line), abs=1e-6)


def test_a_surveyed_jamb_by_hand():
    """Worked example of an invented pane, by hand: pane 1002 × 701.5 in a recess 1013 wide, 1 mm/m counter-clockwise.

    Left jamb at X = 5.5 at the height 470; the pane's left edge stands at 6.8 after the shift; at 470 - 4.3 up the pane, 115 mm above the
    middle, 1 mm/m takes 0.115 mm to the left: 6.8 - 0.115 - 5.5 = 1.185 mm.
    """
    found = joint_after_placing(
        place=(0, 465.75), pivot=(501, 350.75), shift=(6.8, 4.3), turn=0.001, wall_point=(5.5, 470), inward_normal=(1, 0)
    )
    assert found == pytest.approx(6.8 - 0.115 - 5.5, abs=1e-3)


def test_glass_in_the_frame_is_negative():
    assert joint_after_placing(place=(0, 0), pivot=(0, 0), shift=(-8, 0), turn=0, wall_point=(-6, 0), inward_normal=(1, 0)) == -2


def test_a_normal_of_another_length_is_refused():
    with pytest.raises(ValueError, match="inward normal: found a length of 2, allowed: 1"):
        joint_after_placing(place=(0, 0), pivot=(0, 0), shift=(0, 0), turn=0, wall_point=(0, 0), inward_normal=(2, 0))
