"""Sizes that were left out, and the sentences that go with them."""

import pytest

from geometry.job.limits import Limits
from geometry.rules.holding import joint
from geometry.sizing import section_sizes as sizing


@pytest.mark.parametrize(
    ("opening", "closing", "stack", "width", "word"),
    [(0.38, 0.21, 2.75, 6, "nozzle"), (0.81, 0.45, 4.0, 8, "movement and tolerance"), (0.1, 0.2, 3.5, 7, "left at the worst")],
)
def test_joint_width(opening, closing, stack, width, word):
    sized = sizing.joint_width(
        opening=opening, closing=closing, tolerance=stack, movement_class=0.25, limits=Limits(sealant_look=100)
    )
    assert sized.value == width
    assert word in sized.reason
    left = joint.least_width(joint_width=width, tolerance=stack)
    assert joint.greatest_strain(opening=max(opening, closing), movement_along=0, least_width=left) <= 0.25


def test_joint_width_by_a_share_of_the_class():
    """2 mm by half of a class of 25 % are 16 mm of joint, and 1 of tolerance."""
    half = sizing.joint_width(opening=2, closing=1, tolerance=1, movement_class=0.25, limits=Limits(sealant_look=50))
    assert half.value == 17
    assert "movement in 50 % of the sealant's class and tolerance" in half.reason


@pytest.mark.parametrize(
    ("width", "glass", "depth"), [(5, None, 6), (8, None, 8), (8, 20, 8), (6, 6, 4), (14, None, 12), (26, None, 13)]
)
def test_backfill_depth(width, glass, depth):
    sized = sizing.backfill_depth(joint_width=width, glass_thickness=glass, edge_left=2, least=6, full_to=12, most=13)
    assert sized.value == depth
    assert sized.outside is (glass == 6)


@pytest.mark.parametrize(
    ("spacer", "start", "squeeze_out", "value", "word"),
    [(5, 1, 0.8, 7, "spacers"), (3, 4, 0.8, 7, "unprinted edge"), (3, 1, 6.5, 8, "squeeze-out")],
)
def test_set_back(spacer, start, squeeze_out, value, word):
    sized = sizing.set_back(
        spacer_width=spacer,
        frit_start=start,
        squeeze_out=squeeze_out,
        beside_spacer=2,
        inside_frit_start=3,
        beyond_squeeze_out=1,
        step=1,
    )
    assert sized.value == value and word in sized.reason.split(";")[0]


def test_landing_carries_everything():
    sized = sizing.landing(
        joint_width=6, set_back=7, bond_width=15, squeeze_out=5, beyond_squeeze_out=2, least_margin=5, tolerance=1, step=1
    )
    assert sized.value == 6 + 7 + 15 + 7 + 1
    assert "joint 6, set-back 7, bond 15" in sized.reason


@pytest.mark.parametrize(("proud", "depth", "word"), [(0, 15, "flush"), (1, 14, "1 proud"), (-0.5, 15.5, "0.5 sunk")])
def test_recess_depth(proud, depth, word):
    sized = sizing.recess_depth(bond_thickness=5, glass_thickness=10, proud=proud)
    assert sized.value == depth and word in sized.reason


def test_frit_width_counts_the_fade_and_hides_the_landing():
    bead, small, wide = sizing.Laid(7, 15, 5, 1), sizing.Hidden(30, 6, 0), sizing.Hidden(44, 6, 0)
    solid = sizing.frit_width(bead, sizing.Print(0, 2, 0, 1.52), small, limits=Limits())
    faded = sizing.frit_width(bead, sizing.Print(0, 2, 8, 1.52), small, limits=Limits())
    hiding = sizing.frit_width(bead, sizing.Print(0, 2, 0, 1.52), wide, limits=Limits())
    assert (solid.value, faded.value, hiding.value) == (32, 40, 43)
    assert "fade" in faded.reason and "hiding the landing" in hiding.reason


def test_frit_width_for_a_print_inside_the_laminate():
    """7.52 mm between print and bond face: 7 + 20 + 1 + 6.57 + 2 + 2 mm of print tolerance, against twice the bond and 2."""
    sized = sizing.frit_width(sizing.Laid(10, 14, 5, 1), sizing.Print(7.52, 2, 0, 1.52), sizing.Hidden(30, 6, 0), limits=Limits())
    assert sized.value == 36
    assert "cover of the bead" in sized.reason


def test_chocks():
    assert sizing.chock_length(area=0.7e6, force=0, bearing_depth=0, height=0, limits=Limits()).value == 50
    assert sizing.chock_length(area=2.1741e6, force=0, bearing_depth=0, height=0, limits=Limits()).value == 59
    laminated = sizing.chock_backfill_over(
        backfill_depth=7, plies=(6, 6), interlayers=(1.52,), least=3, single=4, outer_share=0.5
    )
    assert laminated.value == 3 and not laminated.outside
    thin = sizing.chock_backfill_over(backfill_depth=4, plies=(6,), least=3, single=4, outer_share=0.5)
    assert thin.value == 3 and thin.outside and "temporary" in thin.reason
    thick = sizing.chock_backfill_over(backfill_depth=6, plies=(12,), least=3, single=4, outer_share=0.5)
    assert thick.value == 6


@pytest.mark.parametrize(("width", "radius"), [(10, 12), (12, 12), (18, 18)])
def test_bead_corner_radius(width, radius):
    assert sizing.bead_corner_radius(bond_width=width, least=12).value == radius


def test_frit_corner_radius():
    parallel = sizing.frit_corner_radius(bead_corner_radius=44.5, frit_width=40, bead_centre=15.5, least=5)
    assert parallel.value == 20 and "parallel" in parallel.reason
    small = sizing.frit_corner_radius(bead_corner_radius=20, frit_width=30, bead_centre=12, least=5)  # 20 less the 18 between
    assert small.value == 5 and "parallel to the bead it would be 2" in small.reason
    sharp = sizing.frit_corner_radius(bead_corner_radius=12, frit_width=30, bead_centre=12, least=5)
    assert sharp.value == 5 and "parallel to the bead it would be sharp" in sharp.reason


def test_plain_ones():
    assert sizing.backer_diameter(joint_width=8, oversize=1.25).value == 10
    assert sizing.spacer_thickness(bond_thickness=5).value == 5
    assert sizing.spacer_thickness(bond_thickness=5.7, squeeze=0.05).value == pytest.approx(6)
