"""The bead worked out as a whole: each branch of its loop, worked by hand; corners and stretch against general geometry."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.job.limits import Limits
from geometry.sizing import section_sizes as sizing
from geometry.sizing.bead_fitting import fit_bead
from geometry.sizing.bead_sizes import BeadTask, bond_thickness, notch, told_width, width_needs
from geometry.sizing.governing import Sized, governed


def task(**what):
    plain = {
        "outward_pressure": 3.0,
        "inscribed_radius": 300.0,
        "area": 720_000.0,
        "longest_side": 1200.0,
        "set_back": lambda squeeze_out, width: Sized(7.0, "given"),
        "bead_length": lambda centre, width: 3600 - 8 * centre,
        "bow": 1.8,
        "bow_between_spacers": 1.8 * (450 / 1200) ** 2,
        "round_pane": False,
        "permanent_load": 0.0,
        "design_tension": 0.14,
        "permanent_stress": 0.007,
        "movement": 0.0,
        "shear_strain": 0.5,
        "spacer_tolerance": 0.5,
        "landing_flatness": 1.0,
        "limits": Limits(),
    }
    return BeadTask(**(plain | what))


def test_the_loop_takes_the_first_nozzle_that_passes():
    """1200 × 600 at 3 kPa: 6.43 wet. 5 thick: gap 7.4, 6.43 × 7.4 / 5 = 9.5. Notch 14.8 high stands on 14.8² / 19 = 11.5: nozzle 12."""
    bead = fit_bead(task())
    assert (bead.width.value, bead.thickness.value, bead.widest_gap) == (12, 5, pytest.approx(7.4))
    assert bead.squeeze_out == pytest.approx((60 / (5 - 0.5 - 1 - 1.8 * 0.375**2) - 12) / 2)
    assert "(11.5)" in bead.width.reason and not bead.width.outside


def test_the_loop_at_its_end_takes_whole_millimetres():
    """A disc of 2495 on a bead that is wet in full (no tolerance, no bow): 0.009 × 623.75 / 0.14 = 40.1 at the edge.

    Even all round the pressure on the disc is shared by its bead, whose length falls as the bead grows inwards: ``even``. So the
    need rises a little with the width: 41 mm asks for more than 41, and 42 is enough.
    """

    def even(width):
        return 0.009 * 1247.5**2 / (0.14 * 2 * (1247.5 - 7 - width / 2))

    bead = fit_bead(
        task(
            outward_pressure=9.0,
            inscribed_radius=1247.5,
            area=math.pi * 1247.5**2,
            longest_side=2495.0,
            bead_length=lambda centre, width: 2 * math.pi * (1247.5 - centre),
            round_pane=True,
            bow=0.0,
            spacer_tolerance=0.0,
            landing_flatness=0.0,
        )
    )
    assert even(41) > 41 and even(42) < 42
    assert bead.width.value == 42 and bead.width.outside and "one for the engineer" in bead.width.reason


def test_limits_are_the_office_s():
    bead = fit_bead(task(limits=Limits(bond_widths=(6.0, 8.0, 30.0), bond_width_least=6.0, notch_slenderness=4.0)))
    # 9.5 wanted, only 30 is there; 10 thick for a third of it
    assert (bead.width.value, bead.thickness.value) == (30, 10)


def test_what_is_given_is_never_changed():
    bead = fit_bead(task(given_width=11.0, given_thickness=4.2, given_notch_width=7.0, given_notch_height=13.0))
    assert (bead.width.value, bead.thickness.value, bead.notch_width.value, bead.notch_height.value) == (11, 4.2, 7, 13)
    # the squeeze-out is that of the notch as given, at 4.2 - 0.5 - 1 - 1.8 × (450 / 1200)² = 2.447
    assert bead.squeeze_out == pytest.approx((45.5 / 2.446875 - 11) / 2)


@pytest.mark.parametrize(
    ("width", "thickness", "gap", "height", "word"),
    [
        (15, 5, 7.0, 15.0, "three times"),
        (18, 6, 9.1875, 18.5, "wet at the widest gap"),
        # 10 × 5 stands up to the square root of 190, 13.8: in half millimetres 13.5; the gap of 6.5 asks for 13
        (10, 5, 6.5, 13.5, "the most that stands up"),
        (10, 5, 8.0, 16.0, "two beads"),
    ],
)
def test_notch(width, thickness, gap, height, word):
    wide, tall = notch(bond_width=width, bond_thickness=thickness, widest_gap=gap, limits=Limits())
    assert tall.value == height and word in tall.reason
    assert wide.value * tall.value / 2 == pytest.approx(width * thickness)
    assert tall.outside is (word == "two beads")


@settings(max_examples=100, deadline=None)
@given(st.floats(0, 3), st.floats(0, 3), st.sampled_from([0.125, 0.2, 0.25, 0.5]))
def test_stretch_of_the_joint_is_within_the_class(opening, along, movement_class):
    """The true slanted length, by Pythagoras, is never more than the two strains added."""
    width = sizing.width_for_stretch(opening=opening, along=along, movement_class=movement_class)
    if width > 1e-9:
        added = opening / width + math.hypot(width, along) / width - 1
        assert added == pytest.approx(movement_class, rel=1e-6, abs=1e-9)
        assert math.hypot(width + opening, along) / width - 1 <= movement_class + 1e-9


@settings(max_examples=60, deadline=None)
@given(st.floats(20, 170), st.floats(0, 80), st.floats(5, 60))
def test_offset_that_clears_a_corner(angle, radius, offset):
    """The parallel curve at an offset passes the bisector where a circle of its radius, tangent to both sides, does."""
    half = math.sin(math.radians(angle) / 2)
    inner = max(0.0, radius - offset)
    passes = (offset + inner) / half - inner  # centre of that circle less its radius, from the sharp corner
    found = sizing.offset_to_clear_corner(bisector_distance=passes, interior_angle=angle, radius=radius)
    assert found == pytest.approx(offset, abs=1e-6)


def test_joint_too_wide_at_its_widest_is_told():
    # 3 + 6 = 9, and 9 + 6 = 15 still passes; 6.5 of tolerance makes 10 and 16.5
    assert not sizing.joint_width(
        opening=0.1, closing=0.1, tolerance=6, movement_class=0.25, limits=Limits(sealant_look=100)
    ).outside
    wide = sizing.joint_width(opening=0.1, closing=0.1, tolerance=6.5, movement_class=0.25, limits=Limits(sealant_look=100))
    assert wide.value == 10 and wide.outside and "16.5 at the worst tolerance" in wide.reason


def test_joint_within_a_share_of_the_class():
    # 0.5 / 0.25 = 2, 0.5 / 0.2 = 2.5; with 5 of tolerance 7 and 7.5
    assert (
        sizing.joint_width(
            opening=0.5, closing=0, tolerance=5, movement_class=0.25, limits=Limits(sealant_look=100, joint_least=0)
        ).value
        == 7
    )
    shared = sizing.joint_width(
        opening=0.5, closing=0, tolerance=5, movement_class=0.25, limits=Limits(sealant_look=80, joint_least=0)
    )
    assert shared.value == 8 and "80 % of the sealant's class" in shared.reason


def test_backfill_over_a_chock_is_never_deeper_than_the_joint_s():
    # 3 mm of glass: 1 mm of backfill in the joint, so 1 over the chock, and 2 of the 4 wanted bear
    thin = sizing.chock_backfill_over(backfill_depth=1, plies=(3,), least=3, single=4, outer_share=0.5)
    assert thin.value == 1 and thin.outside


def test_chock_length_by_stress_and_squash():
    # 434 N, 13.52 of bearing: 434 × 1.5 / 13.52 = 48.2 for 1 MPa; 434 × 1.5 × 8 / (9 × 13.52 × 0.3) = 142.7 for 0.3 mm
    long = sizing.chock_length(area=2.1741e6, force=434, bearing_depth=13.52, height=8, limits=Limits())
    assert long.value == 143 and "squash (142.7)" in long.reason
    # harder chock, twice the weight: 434 × 2 / 13.52 = 64.2 for 1 MPa; 434 × 2 × 8 / (90 × 13.52 × 0.3) = 19 for 0.3 mm
    stressed = sizing.chock_length(
        area=2.1741e6, force=434, bearing_depth=13.52, height=8, limits=Limits(chock_modulus=90, dynamic_factor=2)
    )
    assert stressed.value == 65 and "1 MPa of bearing (64.2)" in stressed.reason


def test_the_sentence_names_the_first_and_the_next():
    told = governed([("a", 3.0), ("b", 14.2), ("c", 11.0)], 15.0)
    assert told.reason == "15 mm: b (14.2); c would need 11"
    assert told.remarked("look", outside=True) == Sized(15.0, "15 mm: b (14.2); c would need 11; look", True)


# What asks for the width of a bead that is wet in full, and for its thickness.


def bond_width(**what):
    """The narrowest nozzle for what asks, with its sentence."""
    given = task(area=0.0, **what)
    needs = width_needs(given, bead_length=5000)
    wanted = max(need for _, need in needs)
    fits = [width for width in given.limits.bond_widths if width >= wanted - 1e-9]
    return told_width(needs, fits[0], pressure_given=True)


@pytest.mark.parametrize(
    ("pressure", "radius", "permanent", "width", "words"),
    [
        (3, 300, 0, 10, ("least bond width", "outward pressure would need 6.4")),
        (6, 350, 393, 15, ("outward pressure", "the permanent load would need 11.2")),
        (3, 300, 500, 15, ("the permanent load", "least bond width would need 10")),
        (5.6, 490, 0, 20, ("outward pressure (19.6)",)),
    ],
)
def test_bond_width_names_what_governs(pressure, radius, permanent, width, words):
    sized = bond_width(outward_pressure=pressure, inscribed_radius=radius, permanent_load=permanent)
    assert sized.value == width
    for word in words:
        assert word in sized.reason


def test_a_round_pane_pulls_half_as_hard_at_its_edge():
    """10 kPa × 250 / 0.14 = 17.9; the round pane 8.9 at the edge and π 250² × 0.01 / (0.14 × 1480) = 9.48 over its bead."""
    load = {"outward_pressure": 10.0, "inscribed_radius": 250.0}
    square = dict(width_needs(task(area=0.0, **load), bead_length=1480))
    circle = dict(width_needs(task(area=math.pi * 250**2, round_pane=True, **load), bead_length=1480))
    assert square["outward pressure"] == pytest.approx(17.857, abs=1e-3)
    assert circle["outward pressure"] == pytest.approx(8.929, abs=1e-3)
    assert circle["outward pressure, even all round"] == pytest.approx(9.476, abs=1e-3)


@settings(max_examples=80, deadline=None)
@given(st.floats(0, 40), st.floats(50, 1200), st.floats(0, 10))
def test_the_bond_is_wide_enough_and_never_narrower_for_more_pressure(pressure, radius, more):
    low = fit_bead(task(outward_pressure=pressure, inscribed_radius=radius)).width
    high = fit_bead(task(outward_pressure=pressure + more, inscribed_radius=radius)).width
    assert low.value >= pressure * 1e-3 * radius / 0.14 - 1e-5
    assert high.value >= low.value
    assert low.outside is (low.value > 20)


@pytest.mark.parametrize(
    ("width", "longest", "movement", "thickness", "word"),
    [
        (15, 1200, 0.52, 5.0, "the least thickness"),
        (18, 2250, 1.0, 6.0, "a third of the bond width"),
        (10, 220, 0.14, 4.0, "bow and flatness"),
        (15, 1200, 3.1, 7.0, "heat movement"),  # 3.1 / 0.5 = 6.2 at the tightest place, 0.5 of spacer tolerance more: 6.7
        (12, 2900, 0.5, 6.0, "length of the pane"),
    ],
)
def test_bond_thickness(width, longest, movement, thickness, word):
    sized = bond_thickness(task(longest_side=longest, movement=movement, bow=1.5e-3 * longest), bond_width=width)
    assert sized.value == thickness
    assert word in sized.reason


def test_a_bond_too_thick_is_told():
    sized = bond_thickness(task(longest_side=1000, bow=1.5), bond_width=36)
    assert sized.value == 12 and sized.outside and "10 mm" in sized.reason
