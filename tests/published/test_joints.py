"""Movement joints: width, depth, class of sealant.

Texts: Cornell University, ARCH 262, assignment 2 (2002); a glass-management association's bulletin; Architectural Detailing (Allen
and Rand); Handbook of Adhesives and Sealants, joint design; ASTM C1472 and BS 6093 as far as quoted or remembered.
"""

import math

import pytest

from geometry.rules.holding import joint, thermal

published, second_hand = pytest.mark.published, pytest.mark.second_hand
computed, from_memory = pytest.mark.computed, pytest.mark.from_memory


@published
def test_university_worksheet():
    """Inputs and formula as printed, in inches and °F; the width follows by arithmetic: 0.63516 in (0.08208 of it thermal × 2)."""
    heat = thermal.movement(strain=3.6e-6 * 95, distance=240)
    assert heat == pytest.approx(0.08208, abs=1e-9)
    width = joint.joint_width_for_movement(movement=heat + 0.0002 * 240 + 0.125, movement_class=0.5, tolerance=0.125, least=0)
    assert width == pytest.approx(0.63516, abs=1e-9)


@published
def test_aluminium_over_twenty_feet():
    """The bulletin prints 0.44 in for 240 in of aluminium over 80 K."""
    assert round(thermal.movement(strain=23e-6 * 80, distance=240), 2) == 0.44


@computed
def test_metric_one_way_range():
    heat = thermal.movement(strain=23e-6 * 80, distance=3000)
    width = joint.joint_width_for_movement(movement=heat + 1, movement_class=0.25, tolerance=3, least=0)
    assert width == pytest.approx(29.08, abs=1e-9)


@from_memory
@pytest.mark.parametrize(
    ("expansion", "length", "warmer", "tolerance", "movement", "width"),
    [
        (23e-6, 3000, 60, 0, 4.14, 16.56),
        (14e-6, 1000, 60, 0, 0.84, 3.36),
        (14e-6, 1000, 60, 3, 0.84, 6.36),
        (14e-6, 2000, 60, 0, 1.68, 6.72),
        (14e-6, 2000, 60, 3, 1.68, 9.72),
        (3e-6, 1000, 60, 0, 0.18, 0.72),
    ],
)
def test_movement_over_class_and_tolerance(expansion, length, warmer, tolerance, movement, width):
    """ASTM C1472 from memory. The second to fifth rows are aluminium against glass, the last steel against glass."""
    moved = thermal.movement(strain=expansion * warmer, distance=length)
    assert moved == pytest.approx(movement, abs=1e-9)
    assert joint.joint_width_for_movement(movement=moved, tolerance=tolerance, least=0, movement_class=0.25) == pytest.approx(
        width, abs=1e-9
    )


@published
def test_least_width_for_nozzle_and_tool():
    """Both handbooks: not under a quarter of an inch or 6 mm, so the 0.72 mm of steel against glass is raised."""
    assert joint.joint_width_for_movement(movement=0.18, movement_class=0.25, least=6) == 6.0


@from_memory
@pytest.mark.parametrize(
    ("movement_class", "width"), [(0.075, 2.5349), (0.125, 1.9403), (0.20, 1.5076), (0.25, 1.3333), (0.50, 0.8944)]
)
def test_movement_along_the_joint(movement_class, width):
    """ASTM C1472 from memory; the figures for 1 mm along the joint are Pythagoras."""
    found = joint.least_width_for(opening=0, movement_along=1, movement_class=movement_class)
    assert found == pytest.approx(width, abs=0.00005)
    strain = joint.greatest_strain(opening=0, movement_along=1, least_width=found)
    assert strain == pytest.approx(movement_class, rel=1e-12)


@second_hand
def test_accommodation_factor():
    """BS 6093 as quoted: 4 mm at 30 % is 13.3 mm."""
    found = joint.joint_width_for_movement(movement=4, movement_class=0.30, tolerance=0, least=0)
    assert found == pytest.approx(13.3, abs=0.05)


@published
@pytest.mark.parametrize(("inches", "depth_inches"), [(0.25, 0.25), (0.375, 0.375), (0.45, 0.45), (0.75, 0.5), (1.0, 0.5)])
def test_handbook_depth(inches, depth_inches):
    """Handbook of Adhesives and Sealants, p. 119: depth = width from 1/4 to 1/2 in, about 1/2 in from there to 1 in.

    "About" is read as within 1 mm.
    """
    assert joint.backfill_depth(
        joint_width=inches * 25.4, glass_thickness=math.inf, least=6, full_to=12, most=13, edge_left=2
    ) == pytest.approx(depth_inches * 25.4, abs=1.0)


@published
def test_depth_to_width_stays_between_one_and_a_half():
    """Building-science article on sealant joints and the handbook: never deeper than wide, never shallower than half (6 to 26 mm)."""
    for tenths in range(60, 261):
        width = tenths / 10
        assert (
            0.5
            <= joint.backfill_depth(joint_width=width, glass_thickness=math.inf, least=6, full_to=12, most=13, edge_left=2)
            / width
            <= 1.0
        )


@second_hand
def test_backer_is_a_quarter_wider():
    """Building-science article: backer squeezed by about 25 %."""
    assert joint.backer_diameter(joint_width=8, oversize=1.25) == 10


@published
def test_classes_of_sealants():
    """Trade association's guide to ISO 11600 (1999): classes 25, 20, 12.5 and 7.5."""
    assert sorted(joint.MOVEMENT_CLASSES) == [0.075, 0.125, 0.20, 0.25]


@computed
def test_opening_and_closing_about_the_day_of_bonding():
    """3000 mm of aluminium put in at 20 °C, from -20 to 80: 4.14 mm one way, 2.76 mm the other."""
    cases = (thermal.ThermalCase("hot", 80.0, 80.0), thermal.ThermalCase("cold", -20.0, -20.0))
    found = thermal.extremes(frame_expansion=23e-6, glass_expansion=0.0, cases=cases, frame_bonded=20, glass_bonded=20)
    assert (found.opening * 3000, found.closing * 3000) == pytest.approx((4.14, 2.76), abs=1e-9)


@second_hand
def test_stretch_along_the_joint_is_pythagoras():
    """A glass-management association's bulletin: the real extension in shear by Pythagoras; 3, 4, 5 is a quarter more."""
    assert joint.greatest_strain(opening=0, movement_along=3, least_width=4) == pytest.approx(0.25, rel=1e-12)


@computed
@pytest.mark.parametrize("facing", [0.0, 37.0, 90.0, 200.0, 311.0])
def test_a_joint_of_a_pane_that_is_shifted_turned_and_stretched_round(facing):
    """Both places moved by themselves, in the plane of complex numbers: the pane as a stiff body, the frame by its own map."""
    arm, shift, turn, strain, racking = 480 - 265j, 0.12 + 0.31j, 2e-6, 3e-4, -1.5e-4
    outward = complex(math.cos(math.radians(facing)), math.sin(math.radians(facing)))
    glass = shift + arm * complex(math.cos(turn), math.sin(turn))
    frame = arm + strain * arm + racking / 2 * complex(arm.imag, arm.real)  # stretched, and racked without a turn
    gap = (frame - glass) * outward.conjugate()  # along the outward direction, and square to it
    inputs = {
        "shift": (shift.real, shift.imag),
        "turn": turn,
        "arm": (arm.real, arm.imag),
        "outward": (outward.real, outward.imag),
        "differential_strain": strain,
        "racking": racking,
    }
    assert joint.opening_at(**inputs) == pytest.approx(gap.real, abs=1e-8)
    assert joint.movement_along_at(**inputs) == pytest.approx(abs(gap.imag), abs=1e-8)
    assert joint.opening_at(**inputs, swell=0.5) == pytest.approx(gap.real - 0.5 * abs(outward.real), abs=1e-8)
