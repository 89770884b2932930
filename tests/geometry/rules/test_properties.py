"""What must hold whatever the figures: more of the good never hurts, degenerate cases fall to the simple ones."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.rules.day import climate, cure
from geometry.rules.fit import bead, corner, frit, section
from geometry.rules.holding import bond, chocks, gravity, joint, thermal

sizes = st.floats(1, 60)


@given(pressure=st.floats(0, 50), radius=st.floats(20, 1500), narrow=sizes, more=st.floats(0, 30))
def test_more_width_never_raises_stress(pressure, radius, narrow, more):
    load = {"outward_pressure": pressure, "inscribed_radius": radius, "area": radius**2 * 4, "bead_length": radius * 8}
    for round_pane in (False, True):
        wide = bond.governing_tension(**load, bond_width=narrow + more, round_pane=round_pane)
        assert wide <= bond.governing_tension(**load, bond_width=narrow, round_pane=round_pane) * (1 + 1e-12)


@given(pressure=st.floats(0.1, 50), radius=st.floats(20, 1500), stress=st.floats(0.01, 1))
def test_width_asked_for_gives_the_stress_allowed(pressure, radius, stress):
    width = bond.width_for_pressure(outward_pressure=pressure, inscribed_radius=radius, design_tension=stress)
    assert bond.edge_tension(outward_pressure=pressure, inscribed_radius=radius, bond_width=width) == pytest.approx(stress)


@given(width=st.floats(2, 30), height=st.floats(3, 40), gap=st.floats(0.5, 60), more=st.floats(0, 20))
def test_contact_width_never_grows_with_the_gap(width, height, gap, more):
    narrow = section.contact_width(gap=gap + more, notch_width=width, notch_height=height)
    wide = section.contact_width(gap=gap, notch_width=width, notch_height=height)
    assert 0 <= narrow <= wide + 1e-12


@given(width=st.floats(2, 30), height=st.floats(3, 40), gap=st.floats(0.5, 60))
def test_the_bead_keeps_its_section(width, height, gap):
    """Below half the height it is a rectangle, between half and full height a trapezoid; always the area of the triangle."""
    contact = section.contact_width(gap=gap, notch_width=width, notch_height=height)
    if gap < height:
        on_glass = contact if gap <= height / 2 else width
        assert (on_glass + contact) / 2 * gap == pytest.approx(width * height / 2, rel=1e-9)
    else:
        assert contact == 0


TAKEN = ("spacer_tolerance", "landing_flatness", "bow_between_spacers")


@given(
    thickness=st.floats(1, 12),
    taken=st.tuples(*[st.floats(0, 15)] * 3),
    worse=st.floats(0, 15),
    which=st.sampled_from(TAKEN),
    area=st.floats(10, 400),
)
def test_a_worse_tolerance_never_passes_more(thickness, taken, worse, which, area):
    """The gap never grows with what may be out, nor does the squeeze-out shrink; also where it is as large as the bond."""
    out = dict(zip(TAKEN, taken, strict=True))
    gap = section.tightest_gap(bond_thickness=thickness, **out)
    tighter = section.tightest_gap(bond_thickness=thickness, **{**out, which: out[which] + worse})
    assert 0 < tighter <= gap <= thickness
    spilled = section.squeeze_out(bead_area=area, least_gap=gap, bond_width=10)
    assert section.squeeze_out(bead_area=area, least_gap=tighter, bond_width=10) >= spilled


@given(bow=st.floats(0, 20), length=st.floats(100, 5000), pitch=st.floats(20, 2000), share=st.floats(0, 1))
def test_no_more_bow_stands_between_two_spacers_than_stays_on_the_pane(bow, length, pitch, share):
    found = section.bow_between_spacers(bow=bow, pitch=pitch, length=length, bow_share=share)
    assert 0 <= found <= share * bow
    assert section.bow_between_spacers(bow=2 * bow, pitch=pitch, length=length, bow_share=share) == pytest.approx(2 * found)


@given(width=st.floats(6, 30), thickness=st.floats(2, 12))
def test_the_shop_rule_fills_the_bond(width, thickness):
    notch_width, notch_height = (
        section.notch_width(bond_width=width, times=3),
        section.notch_height(bond_thickness=thickness, times=3),
    )
    assert section.contact_width(gap=thickness, notch_width=notch_width, notch_height=notch_height) == pytest.approx(width)
    given_width = section.notch_height_for(bond_width=width, bond_thickness=thickness, notch_width=notch_width)
    assert given_width == pytest.approx(notch_height)


@given(offset=st.floats(0, 60), radius=st.floats(0, 200), angle=st.floats(5, 175))
def test_bisector_distance_against_the_circle_it_is(offset, radius, angle):
    """The centre of the rounding lies offset + radius from both edges, the curve one radius nearer to the corner."""
    centre = (offset + radius) / math.sin(math.radians(angle / 2))
    found = corner.bisector_distance(offset=offset, radius=radius, interior_angle=angle)
    assert found == pytest.approx(centre - radius, rel=1e-9, abs=1e-9)


@given(joint_width=st.floats(2, 20), radius=st.floats(0, 200), angle=st.floats(5, 175))
def test_concentric_corners_keep_the_joint_even(joint_width, radius, angle):
    gap = corner.corner_gap(
        joint_width=joint_width, glass_radius=radius, recess_radius=radius + joint_width, interior_angle=angle
    )
    assert gap == pytest.approx(joint_width, rel=1e-9)
    assert corner.even_gap_radius(recess_radius=radius + joint_width, joint_width=joint_width) == pytest.approx(radius, abs=1e-9)


@given(straight=st.floats(1, 5000), pitch=st.floats(100, 600))
def test_spacers_stand_inside_and_symmetric(straight, pitch):
    places = bead.spacer_places(straight=straight, pitch=pitch, end_distance=50)
    assert all(0 <= place <= straight for place in places)
    assert [straight - place for place in reversed(places)] == pytest.approx(list(places), abs=1e-6)
    assert all(b - a <= pitch * (1 + 1e-6) for a, b in itertools.pairwise(places))


@given(weight=st.floats(1, 3000), left=st.floats(0, 500), span=st.floats(50, 2000), share=st.floats(0, 1))
def test_level_chocks_carry_the_weight_and_mirror(weight, left, span, share):
    centroid = left + share * span
    first, second = chocks.level_reactions(weight_along=weight, left=left, right=left + span, centroid=centroid)
    assert first + second == pytest.approx(weight)
    mirrored = chocks.level_reactions(weight_along=weight, left=-left - span, right=-left, centroid=-centroid)
    assert mirrored == pytest.approx((second, first), abs=1e-9 * weight)


@given(slope=st.floats(0.5, 40), share=st.floats(0.3, 0.6), side=st.floats(0, 150))
def test_three_contacts_balance(slope, share, side):
    """Sum of forces and of moments is zero; turned as a whole, the forces stay."""
    lean = math.radians(slope)
    along, up = (math.cos(lean), math.sin(lean)), (-math.sin(lean), math.cos(lean))
    contacts = (
        chocks.Contact(200 * along[0], 200 * along[1], *up),
        chocks.Contact(800 * along[0], 800 * along[1], *up),
        chocks.Contact(side * up[0], side * up[1], *along),
    )
    centroid = (1000 * share * along[0] + 250 * up[0], 1000 * share * along[1] + 250 * up[1])
    forces = chocks.block_forces(contacts=contacts, weight=(0, -300), centroid=centroid).forces
    assert sum(f * c.push_x for f, c in zip(forces, contacts, strict=True)) == pytest.approx(0, abs=1e-6)
    assert sum(f * c.push_y for f, c in zip(forces, contacts, strict=True)) == pytest.approx(300)
    moment = sum(
        f * ((c.x - centroid[0]) * c.push_y - (c.y - centroid[1]) * c.push_x) for f, c in zip(forces, contacts, strict=True)
    )
    assert moment == pytest.approx(0, abs=1e-4)


@given(expansion=st.floats(0, 40e-6), same=st.floats(-40, 90))
def test_nothing_moves_at_the_bonding_temperature_or_in_a_glass_frame(expansion, same):
    assert (
        thermal.differential_strain(
            frame_expansion=expansion, frame=15, glass=15, glass_expansion=9e-06, frame_bonded=15.0, glass_bonded=15.0
        )
        == 0
    )
    assert thermal.differential_strain(
        frame_expansion=9e-6, frame=same, glass=same, glass_expansion=9e-06, frame_bonded=15.0, glass_bonded=15.0
    ) == pytest.approx(0, abs=1e-15)


@given(mass=st.floats(0.1, 500), rake=st.floats(-90, 90), heel=st.floats(-10, 10))
def test_weight_keeps_its_size(mass, rake, heel):
    weight = gravity.weight_in_pane(mass=mass, rake=rake, heel=heel)
    assert math.hypot(weight.along, weight.pull_off) == pytest.approx(9.81 * mass)
    assert (weight.pull_off > 1e-9) is (
        rake < 0 and -math.sin(math.radians(rake)) * 9.81 * mass * math.cos(math.radians(heel)) > 1e-9
    )
    mirrored = gravity.weight_in_pane(mass=mass, rake=rake, heel=-heel)
    assert mirrored == pytest.approx((-weight.right, weight.up, weight.pull_off), abs=1e-9)


@given(width=st.floats(0.5, 40), more=st.floats(0, 5))
def test_backfill_depth_never_jumps_or_falls(width, more):
    low, high = (
        joint.backfill_depth(joint_width=width, glass_thickness=math.inf, least=6, full_to=12, most=13, edge_left=2),
        joint.backfill_depth(joint_width=width + more, glass_thickness=math.inf, least=6, full_to=12, most=13, edge_left=2),
    )
    assert low <= high <= low + more + 1e-9


@given(opening=st.floats(0, 5), tolerance_=st.floats(0, 5), movement_class=st.floats(0.05, 0.5))
def test_joint_as_wide_as_asked_strains_by_its_class(opening, tolerance_, movement_class):
    width = joint.joint_width_for_movement(movement=opening, movement_class=movement_class, tolerance=tolerance_, least=1e-6)
    left = joint.least_width(joint_width=width, tolerance=tolerance_)
    if opening > 1e-5:
        assert joint.greatest_strain(opening=opening, movement_along=0, least_width=left) == pytest.approx(
            movement_class, rel=1e-6
        )


@given(air=st.floats(-20, 45), humidity=st.floats(5, 100))
def test_dew_point_lies_below_the_air_and_gives_back_the_vapour(air, humidity):
    dew = climate.dew_point(air=air, humidity=humidity, ice_below_zero=False)
    assert dew <= air + 1e-9
    if dew >= -45:
        assert climate.saturation_pressure(temperature=dew) == pytest.approx(climate.vapour_pressure(air=air, humidity=humidity))


@given(air=st.floats(-20, 45), humidity=st.floats(5, 100))
def test_frost_point_is_never_below_the_dew_point(air, humidity):
    frost, dew = (
        climate.dew_point(air=air, humidity=humidity),
        climate.dew_point(air=air, humidity=humidity, ice_below_zero=False),
    )
    assert frost >= dew - 1e-9
    assert frost == dew if dew >= 0 else frost < 1e-9


@given(width=st.floats(5, 40), early=st.floats(0, 60), later=st.floats(0, 30), rate=st.floats(1, 6))
def test_backfilling_later_never_delays_the_cure(width, early, later, rate):
    soon = cure.days_backfilled(bond_width=width, backfilled_after=early, rate=rate)
    late = cure.days_backfilled(bond_width=width, backfilled_after=early + later, rate=rate)
    both, one = cure.days_both_open(bond_width=width, rate=rate), cure.days_one_open(bond_width=width, rate=rate)
    assert both - 1e-9 <= late <= soon + 1e-9 <= one + 1e-6


@given(depth=st.floats(0, 40), flat=st.floats(0, 89), more=st.floats(0, 1))
def test_parallax_grows_with_the_angle(depth, flat, more):
    assert (
        frit.parallax(depth=depth, incidence=flat, refractive_index=1.52)
        <= frit.parallax(depth=depth, incidence=flat + more, refractive_index=1.52) + 1e-12
    )
