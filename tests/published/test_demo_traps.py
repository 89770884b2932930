"""What is wrong with the ten invented panes, figure by figure; worked by hand from the formulas."""

import math

import closed_forms
import pytest

from geometry.job.limits import Limits
from geometry.rules import tolerance
from geometry.rules.day import climate, cure, lifting, quantities, time_plan
from geometry.rules.fit import bead, corner, frit, section
from geometry.rules.holding import bond, chocks, gravity, green, thermal

pytestmark = pytest.mark.worked_example


@pytest.mark.parametrize(("gap", "width"), [(3, 25), (4, 18.8), (5, 15), (6, 12.5), (7.5, 10), (9, 6.7), (12, 2.5), (15, 0)])
def test_contact_width_of_a_10_by_15_notch(gap, width):
    assert section.contact_width(gap=gap, notch_width=10, notch_height=15) == pytest.approx(width, abs=0.051)


@pytest.mark.parametrize(
    ("frame", "soak", "sun", "frost"),
    [
        ("aluminium", 630, -105, -350),
        ("steel", 135, -270, -75),
        ("grp", 720, -75, -400),
        ("timber_along", -180, -375, 100),
        ("cfrp", -315, -420, 175),
    ],
)
def test_strain_of_the_three_cases(frame, soak, sun, frost):
    strains = [
        thermal.differential_strain(
            frame_expansion=thermal_expansion(frame),
            glass_expansion=9e-6,
            frame=case.frame,
            glass=case.glass,
            frame_bonded=15.0,
            glass_bonded=15.0,
        )
        for case in closed_forms.HAND_CASES
    ]
    assert [strain * 1e6 for strain in strains] == pytest.approx([soak, sun, frost], abs=1e-6)


def thermal_expansion(frame):
    return {"aluminium": 23e-6, "steel": 12e-6, "grp": 25e-6, "timber_along": 5e-6, "cfrp": 2e-6}[frame]


def test_saloon_light_chocks_and_spacers():
    weight = gravity.weight_in_pane(mass=17.92)
    assert chocks.level_reactions(weight_along=weight.along, left=300, right=900, centroid=600) == pytest.approx(
        (87.9, 87.9), abs=0.05
    )
    level = [60 + place for place in bead.spacer_places(straight=1080, pitch=450, end_distance=50)]
    upright = [60 + place for place in bead.spacer_places(straight=480, pitch=450, end_distance=50)]
    assert [round(place) for place in level] == [110, 437, 763, 1090]
    assert upright == [110, 490]
    assert 2 * len(level) + 2 * len(upright) == 12


def test_saloon_light_by_the_clock():
    """Two fitters from 08:00; the bead waits for the full quarter. The hand plan drops the seconds, a document rounds what is planned up."""
    steps = time_plan.making_ready(bead_length=3400, area=716_900)
    frame, glass = ([step for step in steps if step.chain == chain] for chain in ("frame", "glass"))
    # by hand: 5.1 + 1.7 + 15 + 2.38 + 20 to the primed frame, 4 for spacers; 5 + 3 + 4.08 + 1.7 + 15 + 2.38 + 20 for the glass
    assert frame[-1].end == pytest.approx(48.18)
    assert glass[-1].end == pytest.approx(51.16, abs=0.01)
    ready = {"frame_ready": frame[-1].end, "glass_ready": glass[-1].end}
    bead = time_plan.bead_start(**ready, climate_check=0, work_begins=8 * 60, clock_step=15)
    laying = time_plan.bead_time(volume=255, packs=1, rate=60.0, guns=1, pack_change=1.5)
    steps += time_plan.placing(ready=glass[-1].end, climate_check=0, bead_start=bead, bead_time=laying, lift=3, align=4, press=3)
    at = {(step.chain, step.what): time_plan.clock(step.start, limit=True) for step in steps}
    assert at["frame", "vacuum, activator wipe"] == "08:05"
    assert at["glass", "solvent clean"] == "08:05"
    assert at["glass", "mask two lines"] == "08:08"
    assert at["glass", "activator on the bond line"] == "08:12"
    assert at["both", "bead"] == "09:00"
    assert at["both", "lift"] == "09:04"
    assert at["both", "align"] == "09:07"
    assert at["both", "press"] == "09:11"
    assert time_plan.clock(steps[-1].end, limit=True) == "09:14" and time_plan.clock(steps[-1].end) == "09:15"
    assert time_plan.clock(bead + time_plan.time_limit(open_time=30, share=0.8), limit=True) == "09:24"


def test_saloon_light_sensitivity():
    heat = thermal.extremes(
        frame_expansion=23e-6, cases=closed_forms.HAND_CASES, frame_bonded=15.0, glass_bonded=15.0, glass_expansion=9e-06
    )
    change = closed_forms.jamb_change(strain=heat.opening, width=1200)
    assert [round(100 * change / (width - 2.75), 1) for width in (6, 7)] == [11.6, 8.9]
    moved = 0.519
    found = [thermal.shear_strain(movement=moved, bond_thickness=thickness) for thickness in (5, 6)]
    assert found == pytest.approx([0.104, 0.087], abs=0.0006)
    assert cure.days_both_open(bond_width=16, rate=3) == pytest.approx(7.1, abs=0.05)


def test_wheelhouse_side_needs_outer_protection():
    needed = frit.outer_protection_needed(
        set_back=7, bond_width=15, glass_thickness=13.52, placing_error=2, factor=2, refractive_index=1.52
    )
    assert needed == pytest.approx(35.8, abs=0.05)
    assert closed_forms.tape_protects(tape_width=25, glass_thickness=13.52) < 30 < 50
    assert closed_forms.frit_needed(set_back=7, bond_width=15, squeeze_out=0.83) == 32


def test_wheelhouse_side_chocks_on_the_sloping_sill():
    """Sill from (0, 0) to (1300, 120), 5.27°: 159 and 132 N under the sill, 27 N at the side chock 150 above the lower corner."""
    sill = (1300 / math.hypot(1300, 120), 120 / math.hypot(1300, 120))
    side = (60 / math.hypot(60, 820), 820 / math.hypot(60, 820))
    contacts = (
        chocks.Contact(326 * sill[0], 326 * sill[1], -sill[1], sill[0]),
        chocks.Contact(979 * sill[0], 979 * sill[1], -sill[1], sill[0]),
        chocks.Contact(150 * side[0], 150 * side[1], side[1], -side[0]),
    )
    weight = gravity.weight_in_pane(mass=29.41, rake=4)
    forces = closed_forms.three_contacts(contacts=contacts, weight=(weight.right, weight.up), centroid=(614.5, 438.7))
    assert forces == pytest.approx((159, 132, 27), abs=0.6)
    assert chocks.sill_rise(sill_slope=5.27) < Limits().sill_slope  # no side block, if the boat lies still


def test_wheelhouse_side_bearing():
    """Backfill 6 over the chock leaves 7.52; inner ply, interlayer and half of the outer ply are 10.52, so 3 it must be."""
    assert chocks.bearing_depth(glass_thickness=13.52, backfill_over=6) == pytest.approx(7.52)
    assert chocks.bearing_depth_needed(plies=(6, 6), interlayers=(1.52,), single=4, outer_share=0.5) == pytest.approx(10.52)
    assert chocks.bearing_depth(glass_thickness=13.52, backfill_over=3) == pytest.approx(10.52)


def test_wheelhouse_side_people_and_cups():
    assert lifting.people_needed(mass=29.4, most=4, one=25, two=2 / 3, more=0.5, reach_share=1) == 2
    assert lifting.cups_needed(mass=29.4, rating=25, derating=0.5, least=2) == 3


def test_portlight_chocks():
    force = closed_forms.angled_chock_force(weight_along=4.156 * 9.81, angle=30)
    assert force == pytest.approx(23.5, abs=0.05)
    assert 210 * math.radians(30) == pytest.approx(110, abs=0.1)
    place = closed_forms.angled_chock_place(half_width=210, half_height=210, angle=30)
    assert place == pytest.approx((105, -210 * math.cos(math.radians(30))))


@pytest.mark.parametrize(("angle", "share"), [(30, 0.577), (35, 0.610), (45, 0.707)])
def test_share_of_an_angled_chock(angle, share):
    assert closed_forms.angled_chock_force(weight_along=1, angle=angle) == pytest.approx(share, abs=0.0006)


def test_oval_chocks():
    assert closed_forms.angled_chock_place(half_width=350, half_height=200, angle=20) == pytest.approx((188, -169), abs=0.5)
    assert closed_forms.angled_chock_force(weight_along=4.398 * 9.81, angle=20) == pytest.approx(22.9, abs=0.06)


@pytest.mark.parametrize(("after", "days"), [(0, 44.4), (3, 24.4), (7, 16.2), (14, 11.1)])
def test_deck_light_backfilled_early(after, days):
    assert cure.days_backfilled(bond_width=20, backfilled_after=after, rate=3) == pytest.approx(days, abs=0.06)


@pytest.mark.parametrize(("after", "days"), [(0, 25), (1, 16), (3, 10.7), (6.25, 6.25)])
def test_backfill_of_a_15_mm_bead(after, days):
    assert cure.days_backfilled(bond_width=15, backfilled_after=after, rate=3) == pytest.approx(days, abs=0.05)


@pytest.mark.parametrize(("rate", "guns", "packs", "elapsed"), [(60, 1, 2, 28.4), (120, 1, 2, 22.9), (120, 2, 2, 18.7)])
def test_wheelhouse_front_against_the_open_time(rate, guns, packs, elapsed):
    laying = time_plan.bead_time(volume=652.8, packs=packs, rate=rate, guns=guns, pack_change=1.5)
    found = time_plan.elapsed_time(bead_time=laying, lift=6, align=6, press=4)
    assert found == pytest.approx(elapsed, abs=0.051)
    at_23, at_28 = (
        time_plan.time_limit(open_time=climate.open_time(air=air, humidity=50, open_time_at_23=30, halving=10), share=0.8)
        for air in (23, 28)
    )
    assert (at_23, at_28) == pytest.approx((24, 17), abs=0.05)
    assert (found <= at_23) is (elapsed < 24)
    assert found > at_28


@pytest.mark.parametrize(("air", "minutes"), [(15, 30), (23, 30), (28, 21), (32, 16)])
def test_open_time(air, minutes):
    """The hand table had 52 at 15 °C by halving the other way; a sheet that says 30 at 23 °C does not promise more in the cold."""
    assert climate.open_time(air=air, humidity=50, open_time_at_23=30, halving=10) == pytest.approx(minutes, abs=0.5)


def test_wheelhouse_front_hangs_out():
    weight = gravity.weight_in_pane(mass=90.5, rake=-12)
    assert weight.pull_off == pytest.approx(185, abs=0.5)
    assert weight.along / 2 == pytest.approx(434, abs=0.5)
    assert 1000 * bond.dead_load_tension(pull_off=weight.pull_off, bond_width=18, bead_length=6044) == pytest.approx(
        1.7, abs=0.05
    )
    shear = bond.dead_load_shear(load=weight.along, bond_width=18, bead_length=6044)
    assert shear == pytest.approx(0.00798, abs=0.00001)
    assert green.green_use(stress=shear, yield_stress=0.001, share=0.5) == pytest.approx(16, abs=0.1)
    assert chocks.bearing_stress(force=434, length=70, bearing_depth=13.52, dynamic_factor=1) == pytest.approx(0.46, abs=0.005)
    assert lifting.people_needed(mass=90.5, most=4, one=25, two=2 / 3, more=0.5, reach_share=1) is None
    assert lifting.cups_needed(mass=90.5, rating=25, derating=0.5, least=2) == 8
    assert lifting.wind_force(wind=8, area=2.1741e6, drag=1.2) == pytest.approx(102, abs=0.5)
    assert thermal.shear_strain(movement=1.003, bond_thickness=2) == pytest.approx(0.50, abs=0.005)


def test_wheelhouse_front_flatter_glass_and_wider_bond():
    """Bow 1 mm/m: largest gap 8.6, worst tension 0.157; a 20 mm bond 0.141."""
    gap = section.largest_gap(bond_thickness=6, bow=2.25, spacer_tolerance=0.5, landing_flatness=1, bow_share=0.5)
    assert gap == pytest.approx(8.6, abs=0.03)
    for width, stress in ((18, 0.157), (20, 0.141)):
        contact = section.contact_width(gap=gap, notch_width=width * 2 / 3, notch_height=18)
        found = bond.edge_tension(outward_pressure=4, inscribed_radius=490, bond_width=contact)
        assert found == pytest.approx(stress, abs=0.0006)


def test_early_morning_is_damp():
    """15 °C and 80 %: dew point 11.6, glass at least 14.6, 0.4 K in hand on glass of 15 °C."""
    least = climate.least_surface_temperature(air=15, humidity=80, margin=3)
    assert least == pytest.approx(14.6, abs=0.05)
    assert climate.ready_to_bond(air=15, humidity=80, glass=15, frame=15, margin=3, most_humidity=85, coldest=5, warmest=35).go
    assert not climate.ready_to_bond(
        air=15, humidity=80, glass=14.5, frame=15, margin=3, most_humidity=85, coldest=5, warmest=35
    ).go


def test_quarter_light_unbonded():
    angle = math.degrees(math.atan2(215, 640))
    assert angle == pytest.approx(18.57, abs=0.005)
    assert corner.bisector_distance(offset=12, radius=20, interior_angle=angle) == pytest.approx(178.3, abs=0.3)
    unbonded = bead.unbonded_length(
        bead_centre=12, bead_corner_radius=20, bond_width=12, glass_corner_radius=8, interior_angle=angle
    )
    assert unbonded == pytest.approx(131, abs=0.5)
    assert unbonded > 4 * 6
    assert (
        bead.landing_left_in_corner(
            bead_centre=12,
            bead_corner_radius=20,
            bond_width=12,
            landing_from_glass=26,
            landing_corner_radius=0,
            interior_angle=angle,
            margin=2,
        )
        < 0
    )
    assert frit.frit_corner_radius(bead_corner_radius=20, frit_width=30, bead_centre=12, least=5) == 5
    cover = corner.frit_cover(
        frit_width=30, frit_radius=5, bead_centre=12, bead_radius=20, bond_width=12, squeeze_out=0, interior_angle=angle
    )
    assert cover == pytest.approx(28, abs=0.5)  # by hand without the squeeze-out of 0.7, which takes it to 27


def test_quarter_light_chocks():
    shares = [
        force / 1 * 100
        for pair in ((160, 480), (260, 580))
        for force in chocks.level_reactions(weight_along=1, left=pair[0], right=pair[1], centroid=428)
    ]
    assert shares == pytest.approx([16, 84, 47.5, 52.5], abs=0.5)


@pytest.mark.parametrize(("left", "right", "forces"), [(537.5, 912.5, (189, 39)), (420, 780, (113, 114)), (430, 772, (114, 114))])
def test_companion_light_chocks(left, right, forces):
    found = chocks.level_reactions(weight_along=23.22 * 9.81, left=left, right=right, centroid=600.9)
    assert found == pytest.approx(forces, abs=0.8)


def test_companion_light_wider_bond():
    gap = section.largest_gap(bond_thickness=5, bow=1.65, spacer_tolerance=0.5, landing_flatness=1, bow_share=0.5)
    contact = section.contact_width(gap=gap, notch_width=17 * 2 / 3, notch_height=15)
    assert bond.edge_tension(outward_pressure=4, inscribed_radius=384.9, bond_width=contact) == pytest.approx(0.133, abs=0.0006)
    assert corner.even_gap_radius(recess_radius=10, joint_width=6, re_entrant=True) == 16


def test_deckhouse_timber_swells_shut():
    heat = thermal.extremes(
        frame_expansion=5e-6, cases=closed_forms.HAND_CASES, frame_bonded=15.0, glass_bonded=15.0, glass_expansion=9e-06
    )
    closing = closed_forms.jamb_change(strain=heat.closing, width=1002)
    swell = thermal.moisture_swell(stile_width=90, moisture_change=4, swell_per_percent=0.0025)
    assert closing == pytest.approx(0.19, abs=0.003)
    assert swell == pytest.approx(0.9)
    assert 1.16 - closing - swell == pytest.approx(0.07, abs=0.005)
    assert (closing + swell) / 1.16 == pytest.approx(0.94, abs=0.005)
    assert (closing + swell) / 4.66 == pytest.approx(0.23, abs=0.005)


def test_toilet_light_hits_the_mould_radius():
    assert corner.corner_gap(joint_width=6, glass_radius=10, recess_radius=40, interior_angle=90) == pytest.approx(-3.9, abs=0.06)
    assert corner.even_gap_radius(recess_radius=40, joint_width=6) == 34
    assert corner.corner_gap(joint_width=6, glass_radius=34, recess_radius=40, interior_angle=90) == pytest.approx(6.0)
    unbonded = bead.unbonded_length(
        bead_centre=10, bead_corner_radius=12, bond_width=10, glass_corner_radius=10, interior_angle=90
    )
    assert unbonded == pytest.approx(10, abs=0.1)
    assert closed_forms.frit_needed(set_back=5, bond_width=10, squeeze_out=0.7) == 22


@pytest.mark.parametrize(("angle", "by_offset", "by_radius"), [(90, 1.414, 0.414), (60, 2.0, 1.0), (20, 5.76, 4.76)])
def test_bisector_distance(angle, by_offset, by_radius):
    assert corner.bisector_distance(offset=1, radius=0, interior_angle=angle) == pytest.approx(by_offset, abs=0.0015)
    assert corner.bisector_distance(offset=0, radius=1, interior_angle=angle) == pytest.approx(by_radius, abs=0.0015)


@pytest.mark.parametrize(("bead_area", "metres"), [(75, (3.9, 5.1, 7.6)), (108, (2.7, 3.5, 5.3))])
def test_bead_from_a_pack(bead_area, metres):
    found = [closed_forms.bead_from_pack(bead_area=bead_area, pack=pack) / 1000 for pack in quantities.PACKS]
    assert found == pytest.approx(metres, abs=0.051)


def test_warm_up_of_a_pane():
    """10 mm glass: 22 minutes time constant; from 12 to 20.4 °C in air of 22: 40 minutes."""
    constant = climate.time_constant(thickness=10, density=2500.0, specific_heat=840.0, heat_transfer=8)
    assert constant == pytest.approx(22, abs=0.2)
    assert climate.warm_up_time(start=12, target=20.4, air=22, time_constant=22) == pytest.approx(40, abs=0.5)


@pytest.mark.parametrize(("people", "limit"), [(1, 25), (2, 33), (3, 37)])
def test_people(people, limit):
    assert lifting.people_limit(people=people, one=25, two=2 / 3, more=0.5, reach_share=1) == pytest.approx(limit, abs=0.51)


def test_wind():
    assert lifting.wind_force(wind=8, area=1e6, drag=1.2) == pytest.approx(47, abs=0.1)


@pytest.mark.parametrize(("recess", "pane", "stack"), [(2, 1.5, 2.75), (2, 2, 3.0)])
def test_stack(recess, pane, stack):
    assert tolerance.joint_tolerance(recess=recess, pane=pane, placing=1.0) == stack
    assert closed_forms.joint_tolerance_likely(recess=recess, pane=pane) < stack
