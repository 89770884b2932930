"""Room in the section, in corners and at the frit: single figures by hand; the working stands beside each."""

import math

import pytest

from geometry.rules.fit import bead, corner, frit, section, section_room

near = pytest.approx


def test_bead():
    assert section_room.width_to_thickness(bond_width=15, bond_thickness=6) == 2.5
    assert section_room.slenderness(notch_width=10, notch_height=16) == 1.6
    assert section_room.bore_needed(notch_width=12, wall=3) == 15
    assert section_room.height_for_any_contact(largest_gap=7.5, squeeze=1.5) == 9


def test_tightest_place():
    # 4 mm of bow over 2000: between spacers 500 apart a sixteenth, 0.25; 6 - 0.5 - 0.8 - 0.25. A pane of 500 keeps half of its bow
    between = section.bow_between_spacers(bow=4, pitch=500, length=2000, bow_share=0.5)
    assert between == near(0.25)
    assert section.bow_between_spacers(bow=4, pitch=500, length=500, bow_share=0.5) == near(2)
    out = {"spacer_tolerance": 0.5, "landing_flatness": 0.8, "bow_between_spacers": between}
    assert section.tightest_gap(bond_thickness=6, **out) == near(4.45)


def test_full_contact_begins_at_half_the_fresh_height():
    """The contact rule itself: a bead as high as full contact asks keeps its section, one a little lower no longer does."""
    high = section_room.height_for_full_contact(largest_gap=7.5)
    assert high == 15
    assert section.contact_width(gap=7.5, notch_width=10, notch_height=high) == near(10 * high / 2 / 7.5)
    lower = high - 0.5
    assert section.contact_width(gap=7.5, notch_width=10, notch_height=lower) < 10 * lower / 2 / 7.5 - 0.01


def test_landing():
    assert section_room.landing_inside_needed(squeeze_out=0.8, margin=2) == 2.8
    assert section_room.room_beside_spacer(set_back=7, spacer_width=8) == -1
    assert section_room.inside_unprinted_edge(set_back=7, frit_start=1.5) == 5.5


def test_the_fillet_ends_where_its_circle_touches_the_landing():
    assert section_room.fillet_reach(fillet=6) == near(6)
    # a wall leaning back by 30° meets the landing at 120°: tangent length 6 / tan 60°
    assert section_room.fillet_reach(fillet=6, draft=30) == near(6 / math.sqrt(3))
    # the centre of the circle stands over that place, its radius from the wall: distance from (reach, 6) to the leaning wall
    reach, lean = section_room.fillet_reach(fillet=6, draft=12), math.radians(12)
    assert reach * math.cos(lean) + 6 * math.sin(lean) == near(6)


def test_first_part_beyond_the_fillet():
    # spacer of 5 midway in a set-back of 8: 1.5 from the glass edge
    assert section_room.clear_of_fillet(joint_width=6, set_back=8, spacer_width=5, reach=4) == 3.5
    # a spacer wider than the set-back reaches back over the joint by half of what is over
    assert section_room.clear_of_fillet(joint_width=6, set_back=4, spacer_width=6, reach=4) == 1


def test_flush():
    assert section_room.proud_at_worst(proud=-0.5, tolerance=2) == 1.5
    assert section_room.sunk_at_worst(proud=-0.5, tolerance=2) == 2.5
    assert section_room.off_flush(proud=-0.5) == 0.5


def test_glass_edge():
    assert section_room.glass_edge_left(glass_thickness=10, backfill_depth=6) == 4
    assert section_room.glass_edge_left(glass_thickness=10, backfill_depth=6, proud=1.5) == 2.5
    assert section_room.glass_edge_left(glass_thickness=10, backfill_depth=6, proud=-1.5) == 4  # filled to the glass


def test_hardness():
    assert section_room.harder_than_bond(spacer=55, adhesive=40) == 15
    assert section_room.harder_than_bond(spacer=35, adhesive=40) == -5


def test_corner():
    assert corner.re_entrant_radius_needed(glass_thickness=12, least=10) == 12
    assert corner.re_entrant_radius_needed(glass_thickness=8, least=10) == 10
    assert corner.cut_out_share(cut_out=300, pane=800) == 37.5
    assert corner.frit_cover_at_worst(cover=5.5, print_tolerance=2) == 3.5
    assert bead.radius_left(glass_corner_radius=10, bead_centre=15) == -5
    assert bead.unbonded_limit(set_back=6, factor=4) == 24


def test_frit():
    assert frit.frit_for_twice_the_bond(bond_width=15, factor=2.5) == 37.5
    assert (
        frit.outer_protection_needed(
            set_back=0, bond_width=15, glass_thickness=1, factor=4, placing_error=2, refractive_index=1.52
        )
        == 60
    )
    assert frit.solid_at_worst_print(solid=24, print_tolerance=2) == 22
    assert frit.cover_margin(margin=2, refractive_index=1.52) == 2
    # grazing light in 6 mm of glass, index 1.52: tan(asin(1 / 1.52)) = 0.8736
    assert frit.cover_margin(print_depth=6, margin=2, refractive_index=1.52) == near(7.2414, abs=1e-3)
    assert frit.outer_protection_reach(width=50, lost=2) == 48


def test_paint_that_hides_the_landing_stands_on_the_line_of_sight():
    """Traced: from the landing's edge up 5 mm of air at 45°, then 10 mm of glass at asin(sin 45° / 1.52), to the outer face."""
    wide = frit.outer_protection_to_hide_landing(
        landing=40, joint_width=6, bond_thickness=5, glass_thickness=10, refractive_index=1.52
    )
    inside = math.asin(math.sin(math.pi / 4) / 1.52)
    assert wide == near((40 - 6) + 5 * math.tan(math.pi / 4) + 10 * math.tan(inside))


@pytest.mark.parametrize(
    ("rule", "figures", "words"),
    [
        (section_room.slenderness, {"notch_width": 0, "notch_height": 5}, "notch width: found 0"),
        (section_room.fillet_reach, {"fillet": -1}, "fillet: found -1"),
        (section_room.fillet_reach, {"fillet": 4, "draft": 50}, "draft: found 50"),
        (corner.cut_out_share, {"cut_out": 10, "pane": 0}, "pane: found 0"),
        (frit.outer_protection_reach, {"width": 0}, "width: found 0"),
        (frit.frit_for_twice_the_bond, {"bond_width": 15, "factor": 0}, "factor: found 0"),
    ],
)
def test_figures_without_sense_are_refused(rule, figures, words):
    with pytest.raises(ValueError, match=words):
        rule(**figures)
