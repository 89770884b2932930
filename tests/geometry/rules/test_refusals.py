"""Figures that make no sense are refused with one sentence: which, what was found, what is allowed."""

import math

import pytest

from geometry.rules import glass, require, tolerance
from geometry.rules.day import climate, cure, lifting, time_plan
from geometry.rules.fit import corner, frit, section
from geometry.rules.holding import bond, chocks, gravity, joint, loads, pane_bending, thermal

CASES = [
    (
        lambda: bond.width_for_pressure(outward_pressure=-1, inscribed_radius=300, design_tension=0.14),
        "outward pressure: found -1",
    ),
    (lambda: bond.width_for_pressure(outward_pressure=1, inscribed_radius=0, design_tension=0.14), "inscribed radius: found 0"),
    (lambda: bond.edge_tension(outward_pressure=1, inscribed_radius=1, bond_width=math.nan), "bond width: found nan"),
    (lambda: section.contact_width(gap=0, notch_width=10, notch_height=15), "gap: found 0"),
    (
        lambda: section.tightest_gap(bond_thickness=4, spacer_tolerance=-1, landing_flatness=0, bow_between_spacers=0),
        "spacer tolerance: found -1",
    ),
    (lambda: section.spacer_height(bond_thickness=5, squeeze=0.9), "squeeze: found 0.9"),
    (lambda: corner.bisector_distance(offset=1, radius=1, interior_angle=180), "interior angle: found 180"),
    (lambda: corner.corner_gap(joint_width=6, glass_radius=-1, recess_radius=6, interior_angle=90), "glass radius: found -1"),
    (lambda: joint.greatest_strain(opening=1, movement_along=0, least_width=0), "least joint width: found 0"),
    (lambda: joint.joint_width_for_movement(movement=1, movement_class=0, least=6), "movement class: found 0"),
    (
        lambda: joint.backfill_depth(joint_width=6, glass_thickness=0, least=6, full_to=12, most=13, edge_left=2),
        "glass thickness: found 0",
    ),
    (lambda: frit.solid_frit(frit_width=30, fade=31), "fade: found 31"),
    (lambda: frit.parallax(depth=1, incidence=91, refractive_index=1.52), "incidence: found 91"),
    (lambda: chocks.level_reactions(weight_along=1, left=5, right=5, centroid=5), "left chock: found 5"),
    (lambda: chocks.bearing_stress(force=1, length=50, bearing_depth=0, dynamic_factor=1), "bearing depth: found 0"),
    (lambda: chocks.bearing_depth_needed(plies=(), single=4, outer_share=0.5), "plies: found none"),
    (lambda: climate.dew_point(air=20, humidity=0), "humidity: found 0"),
    (lambda: climate.dew_point(air=20, humidity=101), "humidity: found 101"),
    (lambda: climate.dew_point(air=80, humidity=50), "air: found 80"),
    (lambda: climate.warm_up_time(start=5, target=20, air=20, time_constant=22), "air: found 20"),
    (lambda: cure.days_one_open(bond_width=15, rate=0), "rate: found 0"),
    (lambda: cure.handling_days(width=15.1, bond_width=15, rate=3, least=1), "bond width: found 15"),
    (
        lambda: cure.days_backfilled(bond_width=15, backfilled_after=3, inner_face_open=False, rate=3),
        "backfill day: found 3, allowed: at least 25.0",
    ),
    (lambda: time_plan.time_limit(open_time=30, share=0), "share: found 0"),
    (lambda: climate.warmest_air(elapsed=0, humidity=50, open_time_at_23=30, share=0.8, halving=10), "elapsed: found 0"),
    (lambda: lifting.cups_needed(mass=1, derating=0, rating=25, least=2), "derating: found 0"),
    (lambda: glass.effective_thickness(plies=(6, 6), coupling=0), "interlayers: found 0"),
    (
        lambda: pane_bending.deflection(pressure=1, short_side=9, long_side=8, stiffness=1),
        "short side: found 9",
    ),
    (lambda: pane_bending.deflection_factor(aspect=0.5), "aspect: found 0.5"),
    (lambda: pane_bending.stress_factor(aspect=0.5), "aspect: found 0.5"),
    (
        lambda: pane_bending.thickness_for_pressure(pressure=5, short_side=500, stress_factor=0.6, allowed_stress=0),
        "allowed stress: found 0",
    ),
    (lambda: loads.wind_suction(wind=-1, coefficient=1), "wind: found -1"),
    (lambda: loads.heel_acceleration(heel=50), "heel: found 50"),
    (
        lambda: loads.moving_weight(mass=1, rake=0, vertical_acceleration=-1, horizontal_acceleration=0),
        "vertical acceleration: found -1",
    ),
    (
        lambda: glass.shear_transfer(
            plies=(5, 5, 5), interlayers=(1, 1), glass_modulus=7e4, interlayer_modulus=1, short_side=500
        ),
        "plies: found 3, allowed: 2",
    ),
    (lambda: gravity.weight_in_pane(mass=10, rake=120), "rake: found 120"),
    (lambda: lifting.people_limit(people=0, one=25, two=2 / 3, more=0.5, reach_share=1), "people: found 0"),
    (
        lambda: thermal.differential_strain(
            frame_expansion=23e-6, frame=600, glass=20, glass_expansion=9e-06, frame_bonded=15.0, glass_bonded=15.0
        ),
        "frame: found 600",
    ),
    (
        lambda: thermal.extremes(frame_expansion=23e-6, cases=(), frame_bonded=15.0, glass_bonded=15.0, glass_expansion=9e-06),
        "cases: found none",
    ),
    (lambda: time_plan.clock(5, start="8 o'clock"), "start: found"),
    (lambda: time_plan.bead_time(volume=100, packs=0, rate=60.0, guns=1, pack_change=1.5), "packs: found 0"),
    (lambda: tolerance.laminated_deviations(side=100, plies=()), "plies: found none"),
    (lambda: tolerance.worst_case(1, -1), "tolerance: found -1"),
    (lambda: require.inside(0, 1, share=1), "share: found 1, allowed: more than 0 and less than 1"),
]


@pytest.mark.parametrize(("call", "sentence"), CASES, ids=[sentence for _, sentence in CASES])
def test_refused(call, sentence):
    with pytest.raises(ValueError) as refusal:
        call()
    assert str(refusal.value).startswith(sentence)
    assert "allowed" in str(refusal.value)
    assert "\n" not in str(refusal.value)
