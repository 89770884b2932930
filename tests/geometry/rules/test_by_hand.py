"""Single figures worked by hand; the working stands beside each."""

import pytest

from geometry.job.limits import Limits
from geometry.rules import glass
from geometry.rules.fit import bead, frit, section
from geometry.rules.holding import bond, chocks, joint, pane_bending, thermal
from geometry.sizing import section_sizes as sizing

near = pytest.approx


def test_glass():
    assert glass.weight(mass=20) == near(196.2)
    # 10 and 4 mm plies, 1 mm between: middles at 5 and 13, centroid (50 + 52) / 14 = 7.2857; away 2.2857 and 5.7143
    # 1000 + 64 + 12 × (10 × 5.2245 + 4 × 32.653) = 3258.3, cube root 14.826
    assert glass.effective_thickness(plies=(10, 4), interlayers=(1,), coupling=1) == near(14.826, abs=0.001)


def test_section():
    assert section.tightest_gap(bond_thickness=5, spacer_tolerance=0.5, landing_flatness=1, bow_between_spacers=0.25) == 3.25
    # 75 / 4.5 = 16.667, less 15, halved
    assert section.squeeze_out(bead_area=75, least_gap=4.5, bond_width=15) == near(0.8333, abs=1e-4)
    assert section.squeeze_out(bead_area=60, least_gap=4.5, bond_width=15) == 0
    assert section.spacer_height(bond_thickness=4.75, squeeze=0.05) == near(5)
    gap = section.largest_gap(bond_thickness=5, spacer_tolerance=0.4, landing_flatness=0.7, bow=3, bow_share=0.25)
    assert gap == near(6.85)


def test_bead():
    assert bead.least_corner_radius(bond_width=15, least=12) == 15
    assert bead.least_corner_radius(bond_width=10, least=12) == 12
    counts = [
        bead.round_spacer_count(least_width=size, perimeter=3 * size, pitch=400, three_up_to=250, four_up_to=500)
        for size in (250, 251, 500, 501, 1000)
    ]
    assert counts == [3, 4, 4, 4, 8]
    # square corner: landing √2 × 34 + 0.4142 × 10 = 52.225; line √2 × 15.5 + 0.4142 × 20 = 30.204; less 7.5 and 2
    left = bead.landing_left_in_corner(
        bead_centre=15.5,
        bead_corner_radius=20,
        bond_width=15,
        landing_from_glass=34,
        landing_corner_radius=10,
        interior_angle=90,
        margin=2,
    )
    assert left == near(12.52, abs=0.01)
    assert bead.spacer_places(straight=80, pitch=450, end_distance=50) == (40,)
    assert bead.spacer_places(straight=1000, pitch=450, end_distance=50) == near((50, 500, 950))


def test_heat():
    assert thermal.shear_stress(shear_modulus=0.8, shear_strain=0.25) == near(0.2)


def test_bond():
    # 5 kPa × 138 544 mm² / (0.14 × 1238 mm)
    assert bond.width_for_mean_pressure(outward_pressure=5, area=138544, bead_length=1238, design_tension=0.14) == near(
        3.9967, abs=1e-3
    )
    assert bond.permanent_load(weight_along=400, pull_off=300, chocked=False) == 500
    assert bond.permanent_load(weight_along=400, pull_off=300, chocked=True) == 300
    assert bond.permanent_load(weight_along=400, pull_off=-300, chocked=False) == 400
    assert bond.thickness_for_movement(movement=1.2, shear_strain=0.4) == near(3)
    assert bond.thickness_for_flatness(bow_between_spacers=1, spacer_tolerance=0.5, landing_flatness=1, least_anywhere=2) == 4.5
    assert bond.thickness_for_length(longest_side=2500, per_metre=1, base=3) == 5.5
    # a round pane pulls its edge half as hard: both from 4 kPa over 300 mm on 12 mm
    load = {"outward_pressure": 4, "inscribed_radius": 300, "bond_width": 12, "area": 1.0, "bead_length": 1000}
    assert bond.governing_tension(**load) == near(0.1)
    assert bond.governing_tension(**load, round_pane=True) == near(0.05)


def test_bending():
    # 0.02 × 16 / (2 × 5)
    assert pane_bending.peel_strain(slope=0.02, bond_width=16, bond_thickness=5) == near(0.032, abs=1e-6)
    # 70 000 × 1000 / (12 × 0.91) at ratio 0.3; a strip bends 5 q a⁴ / (384 D) and turns q a³ / (24 D) at its edge
    stiffness = pane_bending.plate_stiffness(modulus=70_000, thickness=10, poisson=0.3)
    assert stiffness == near(70e6 / 10.92)
    strip = {"pressure": 10, "short_side": 500, "long_side": 50_000, "stiffness": stiffness}
    assert pane_bending.deflection(**strip) == near(5 / 384 * 0.01 * 500**4 / stiffness)
    assert pane_bending.edge_slope(**strip) == near(0.01 * 500**3 / 24 / stiffness)
    # a disc of 250: slope q r³ / (8 (1 + ν) D)
    disc = {"pressure": 10, "radius": 250, "stiffness": stiffness, "poisson": 0.3}
    assert pane_bending.round_edge_slope(**disc) == near(0.01 * 250**3 / (8 * 1.3 * stiffness))


def test_joint():
    # 5 + 10 - 6 - 0.8 × 7.5
    assert joint.backer_room(bond_thickness=5, glass_thickness=10, backfill_depth=6, backer_diameter=7.5, share=0.8) == near(3)
    assert joint.backer_room(bond_thickness=4, glass_thickness=6, backfill_depth=4, backer_diameter=10, share=0.8) == near(-2)


def test_frit():
    assert frit.frit_for_twice_the_bond(bond_width=15, factor=2) == 30
    assert frit.solid_frit(frit_width=32, fade=8) == 24
    assert frit.frit_to_hide_landing(landing=40, joint_width=6, bond_thickness=5) == 39


def test_chocks():
    # 434 N × 8 mm / (9 MPa × 70 × 13.52 mm²)
    assert chocks.chock_squash(force=434, height=8, length=70, bearing_depth=13.52, modulus=9, dynamic_factor=1.5) == near(
        0.6114, abs=1e-4
    )
    assert chocks.bearing_stress(force=400, length=80, bearing_depth=5, dynamic_factor=1.5) == near(1.5)
    # three plies 6, 8, 10 outside to inside with two films: 8 + 10 + 3 + 3
    assert chocks.bearing_depth_needed(plies=(6, 8, 10), interlayers=(1.5, 1.5), single=4, outer_share=0.5) == near(24)


def test_three_contacts_in_any_units_and_place():
    """Small, large and far from the origin: the same pane, the same forces."""
    for scale, shift in ((1e-3, 0.0), (1.0, 0.0), (1.0, 1e5), (1e3, 0.0)):
        contacts = tuple(
            chocks.Contact(x * scale + shift, y * scale + shift, px, py)
            for x, y, px, py in ((200, 0, 0, 1), (800, 0, 0, 1), (0, 50, 1, 0))
        )
        centroid = (500 * scale + shift, 200 * scale + shift)
        forces = chocks.block_forces(contacts=contacts, weight=(-30, -300), centroid=centroid).forces
        # side block 30 N; its moment 30 × 150 about the centroid shifts 4500 / 600 = 7.5 N between the two
        assert forces == near((157.5, 142.5, 30), rel=1e-6)


def test_sentences_name_the_right_figures():
    landing = sizing.landing(
        joint_width=6, set_back=7, bond_width=15, squeeze_out=1, beyond_squeeze_out=2, least_margin=5, tolerance=1, step=1
    )
    assert landing.value == 34 and landing.reason.endswith("and 6 inside the bead")
    chock = sizing.chock_length(area=0.7e6, force=0, bearing_depth=0, height=0, limits=Limits())
    assert "would need 18.9" in chock.reason
