"""Sizes that are worked out and places of blocks follow the keys that govern them; figures by hand."""

from __future__ import annotations

import math

import pytest

from geometry.detail.build import build_detail
from geometry.job.reading import job_of

PLATE = "rectangle = [1600, 800], radius = 60"


def detail(outline=PLATE, glass="plies = [10]", rake=0, **tables):
    """An invented pane with every size left out; ``tables`` are key = value by table of the job file."""
    rows = ['[[pane]]\ncode = "P1"\nframe = "grp"', f"rake = {rake}", f"glass = {{ {glass} }}", f"outline = {{ {outline} }}"]
    for name, keys in tables.items():
        rows += [f"{name}.{key} = {value}" for key, value in keys.items()]
    job = job_of("\n".join(rows))
    return build_detail(job, job.panes[0])


def limits(key, value, **more):
    return detail(**more, limits={key: value}).sizes


def test_the_backer_is_oversized_as_the_key_says():
    assert limits("backer_oversize", 1.25).backer_diameter.value == 1.25 * detail().sizes.joint_width.value
    assert limits("backer_oversize", 1.3).backer_diameter.value == pytest.approx(1.3 * detail().sizes.joint_width.value)


def test_the_depth_of_a_wide_backfill():
    """Joint of 24: half of it, 12; never over the greatest depth; as deep as wide up to the width that is set."""
    wide = {"joint": {"width": 24}, "glass": "plies = [19]"}
    assert detail(**wide).sizes.backfill_depth.value == 12
    assert limits("backfill_full_to", 10, **wide).backfill_depth.value == 12
    assert detail(**wide, limits={"backfill_full_to": 8, "backfill_most": 9}).sizes.backfill_depth.value == 9
    assert detail(**wide, limits={"backfill_full_to": 30, "backfill_most": 30}).sizes.backfill_depth.value == 17  # 19 - 2


def test_the_bond_thickness_by_the_length_of_the_pane():
    """1.6 m: 1.6 × 1 + 3 = 4.6, under the 5 of the least thickness; 1.6 × 3 + 3 = 7.8; 1.6 × 1 + 6 = 7.6; both to 0.5 up."""
    assert limits("bond_thickness_per_metre", 3).bond_thickness.value == 8
    assert limits("bond_thickness_base", 6).bond_thickness.value == 8
    assert detail().sizes.bond_thickness.value < 8


def test_the_bond_thickness_for_the_bow_that_stays():
    """Spacers 0.5, hollow 1, 2 left, bow 5 mm/m of 1.6 m = 8.

    Spacers 1500 apart, (1500 / 1600)² = 0.88: half of the bow stays, 7.5 in all, or three quarters, 9.5. Spacers 960 apart:
    (960 / 1600)² = 0.36, less than three quarters, so 2.88 and 6.38 in all, to 0.5 up 6.5.
    """
    job = '[[pane]]\ncode = "P1"\nframe = "grp"\nbow = 5\nglass = {{ plies = [10] }}\noutline = {{ {} }}\nlimits = {{ bow_share = {} }}'
    found = []
    for share, pitch in ((50, 1500), (75, 1500), (75, 960)):
        read = job_of(job.format(PLATE, share) + f"\nspacers = {{ pitch = {pitch} }}")
        found.append(build_detail(read, read.panes[0]).sizes.bond_thickness.value)
    assert found == [7.5, 9.5, 6.5]


def test_the_notch_keeps_its_section_whatever_its_height():
    """Bond 15 × 6: three thicknesses high 18 and 2/3 × 15 = 10 wide; 2.75 times: 16.5 and 2 × 15 / 2.75; the section 90 each."""
    small = {"outline": "rectangle = [300, 300], radius = 20", "bond": {"width": 15, "thickness": 6}}
    usual, low = detail(**small).sizes, limits("notch_height_to_thickness", 2.75, **small)
    section = 15 * 6
    assert (usual.notch_height.value, usual.notch_width.value) == (18, 10)
    for sizes in (usual, low):
        assert sizes.notch_width.value * sizes.notch_height.value / 2 == pytest.approx(section, rel=1e-6)
    assert low.notch_height.value == 16.5 and low.notch_width.value == pytest.approx(2 * 15 / 2.75)
    assert "2.75 times the bond thickness" in low.notch_height.reason


def test_the_length_of_the_chocks():
    """1.28 m² less the corners 4 × (1 - π/4) × 60² = 3090 mm²: 27 × 1.2769 = 34.5, so the least of 50; 100 × 1.2769 = 127.7."""
    short = {"chocks": {"backfill_over": 3}}
    load = {"chock_stress": 50, "chock_squash": 50}  # so that the load asks for nothing
    assert detail(**short, limits=load).sizes.chock_length.value == 50
    assert detail(**short, limits={**load, "chock_length_least": 80}).sizes.chock_length.value == 80
    long = {**load, "chock_length_per_area": 100, "chock_length_usual": 200}
    assert detail(**short, limits=long).sizes.chock_length.value == 128


def test_a_long_chock_takes_backfill_away_until_it_is_usual():
    """Heavy on a soft chock: the length falls with the depth of glass that bears."""
    heavy = {"chock_stress": 0.15, "chock_squash": 50}
    usual = detail(limits=heavy).sizes
    longer = detail(limits={**heavy, "chock_length_usual": 1000}).sizes
    assert usual.chock_backfill_over.value < longer.chock_backfill_over.value
    assert usual.chock_length.value < longer.chock_length.value


def test_the_share_on_a_sloping_sill():
    """Length for the bearing stress grows as the share of the weight: 90 to 60 is half as much again."""
    sloping = "polygon = [[0, 0], [1200, 200], [1200, 900], [0, 900]], radius = 40"
    load = {"chock_stress": 0.1, "chock_squash": 50, "chock_length_usual": 5000}
    less, more = (detail(sloping, limits={**load, "chock_share_sloping": share}).sizes.chock_length.value for share in (60, 90))
    assert more == pytest.approx(1.5 * less, abs=1)  # each to a whole millimetre up


def test_the_set_back():
    """Spacer 3 + 2 = 5 and frit start 0 + print tolerance 2 or rim 3: then the squeeze-out governs, one more for each millimetre."""
    thin = {"spacers": {"width": 3}, "frit": {"start": 0}}
    near, far = (detail(**thin, limits={"set_back_beyond_squeeze_out": value}).sizes.set_back.value for value in (10, 13))
    assert far - near == 3


def test_the_set_back_taken_for_a_unbonded():
    """A sharp tip asks for more set-back than the rest; where that is over the limit it is left out."""
    tip = "polygon = [[0, 0], [900, 0], [900, 620]], radius = 10"
    free, held = (limits("set_back_most", most, outline=tip).set_back.value for most in (60, 1))
    assert free > held


def test_the_radius_that_a_print_shows():
    assert detail().sizes.frit_corner_radius.value == 5
    assert limits("frit_radius_least", 9).frit_corner_radius.value == 9


def test_a_deck_light_from_the_rake_that_is_set():
    for least, kinds in ((75, {"setting chock"}), (60, {"location block"})):
        found = detail(rake=70, limits={"deck_light_rake": least})
        assert {chock.kind for chock in found.chocks} == kinds
        assert found.deck_light is (least == 60)
        assert any("sill" in section.title for section in found.sections) is (least == 75)


def chock_middles(**tables):
    return [chock.distance for chock in detail(**tables).chocks]


def test_chocks_stand_by_the_share_of_the_sill():
    """Sill of 1600, centroid over its middle: a quarter to either side is 400 and 1200, 40 % is 160 and 1440."""
    assert chock_middles() == pytest.approx([400, 1200])
    assert chock_middles(setting_out={"chocks_on_sill": 40}) == pytest.approx([160, 1440])
    # never nearer to the rounding (60 from the corner) than the limits of the check: 50 to the middle
    wide = {"setting_out": {"chocks_on_sill": 50}, "chocks": {"length": 50}}
    assert chock_middles(**wide) == pytest.approx([110, 1490])
    assert chock_middles(**wide, limits={"chock_from_corner": 90}) == pytest.approx([150, 1450])
    # end of a chock of 100: 50 + 60 from the rounding
    ends = {"setting_out": {"chocks_on_sill": 50}, "chocks": {"length": 100}, "limits": {"chock_end_from_corner": 60}}
    assert chock_middles(**ends) == pytest.approx([170, 1430])


def test_chocks_on_a_short_sill():
    """Straight of 150 between radii of 20: two chocks of 50 stand 25 and the room of 5 from the rounding; 12: 25 + 12."""
    short = {"outline": "rectangle = [190, 500], radius = 20", "chocks": {"length": 50}}
    assert chock_middles(**short) == pytest.approx([50, 140])
    assert chock_middles(**short, setting_out={"chock_end_room": 12}) == pytest.approx([57, 133])


def turns(outline, **out):
    found = detail(outline, setting_out=out)
    middle = found.centroid
    return [math.degrees(math.atan2(abs(c.foot.x - middle.x), middle.y - c.foot.y)) for c in found.chocks]


def test_chocks_round_a_circle_and_an_oval():
    assert turns("circle = 600") == pytest.approx([30, 30], abs=1e-6)
    assert turns("circle = 600", chocks_on_round=45) == pytest.approx([45, 45], abs=1e-6)
    # on an ellipse the normal stands at the angle: the foot is where tan(turn) = (x / a²) / (y / b²)
    oval = detail("ellipse = [700, 400]", setting_out={"chocks_on_oval": 25})
    for chock in oval.chocks:
        x, y = abs(chock.foot.x), 200 - chock.foot.y
        assert math.degrees(math.atan2(x / 350**2, y / 200**2)) == pytest.approx(25, abs=0.5)
    # 1.75 times as wide as high: with the bound above it is no oval and stands as a circle does
    wide = detail("ellipse = [700, 400]", setting_out={"oval_from": 2, "chocks_on_oval": 25})
    for chock in wide.chocks:
        x, y = abs(chock.foot.x), 200 - chock.foot.y
        assert math.degrees(math.atan2(x / 350**2, y / 200**2)) == pytest.approx(30, abs=0.5)


def side_blocks(outline, **out):
    return [chock for chock in detail(outline, setting_out=out).chocks if chock.kind == "side block"]


def test_the_side_block_of_a_sloping_sill():
    """A sill that rises 60 on 1200 slopes 2.86°: its low end is on the left, the block 150 up from there, or 90."""
    sloping = "polygon = [[0, 0], [1200, 60], [1200, 900], [0, 900]], radius = 40"
    for up in (150, 90):
        (block,) = side_blocks(sloping, side_block_up=up)
        assert 900 - block.distance == pytest.approx(up)  # counted from the upper corner
    assert not side_blocks(sloping, side_block_slope=3)


def test_spacers_of_a_round_pane():
    for across, count in ((250, 3), (251, 4), (500, 4)):
        assert len(detail(f"circle = {across}", setting_out={"spacer_by_chock": 5000}).spacers) == count
    alone = {"spacer_by_chock": 5000}
    assert len(detail("circle = 251", setting_out={**alone, "round_three_spacers": 300}).spacers) == 3
    assert len(detail("circle = 400", setting_out={**alone, "round_four_spacers": 300}).spacers) == 4  # 1257 / 400 = 3.1
    assert len(detail("circle = 400", setting_out={**alone, "round_four_spacers": 300, "round_pitch": 200}).spacers) == 7
    assert len(detail("circle = 800", setting_out=alone).spacers) == 7  # 2513 / 400 = 6.3


def test_a_spacer_by_every_chock():
    """Chocks at 400 and 1200 of the sill, four spaces of 345 from 110 on: 55 to the nearest spacer, so 50 adds two and 100 none."""
    base = [spacer.distance for spacer in detail().spacers if spacer.edge == "e1"]
    more = [spacer.distance for spacer in detail(setting_out={"spacer_by_chock": 50}).spacers if spacer.edge == "e1"]
    assert base == pytest.approx([110, 455, 800, 1145, 1490])
    assert more == pytest.approx([110, 400, 455, 800, 1145, 1200, 1490])


def test_an_edge_too_short_for_two_spacers():
    """Straight of 32 at the side: 25 and 10 do not go in, 25 and 5 do."""
    low = {"outline": "rectangle = [900, 132], radius = 50"}
    for room, found in ((10, 0), (5, 1)):
        out = {"spacer_edge_room": room, "spacer_by_chock": 5000}
        assert sum(spacer.edge == "e2" for spacer in detail(**low, setting_out=out).spacers) == found


def test_the_bead_starts_clear_of_blocks_and_corners():
    """A spacer stands in the middle of a head of 720: the start is off it by half of 25 and the room, in steps of 5 mm."""
    head = {"outline": "rectangle = [840, 500], radius = 60", "spacers": {"pitch": 310}}
    middle = detail(**head)
    spots = [spacer.distance for spacer in middle.spacers if spacer.edge == "e3"]
    assert 420 in [round(spot, 6) for spot in spots]
    assert abs(middle.bead_start.distance - 420) == pytest.approx(35)  # 32.5 and up
    far = detail(**head, setting_out={"start_from_block": 60})
    assert abs(far.bead_start.distance - 420) == pytest.approx(75)  # 72.5 and up
    # spacers at 360 and 480: 12.5 and 120 from them is 195 from the middle, 165 from the rounding; from 170 on the middle stands
    head["spacers"] = {"from_corner": 300}
    for corner, off in ((50, 195), (170, 0)):
        found = detail(**head, setting_out={"start_from_block": 120, "start_from_corner": corner})
        assert abs(found.bead_start.distance - 420) == pytest.approx(off)


def test_steps_of_rounding():
    """1.6 × 3 + 3 = 7.8 of thickness: to 0.5 up 8, to 0.3 up 7.8, to 5 up 10. Joint, set-back, landing, frit and chocks to 5 mm."""
    for step, thickness in ((0.5, 8), (0.3, 7.8), (5, 10)):
        found = detail(limits={"bond_thickness_per_metre": 3, "bond_thickness_step": step}).sizes
        assert found.bond_thickness.value == pytest.approx(thickness)
    coarse, fine = detail(limits={"size_step": 5}).sizes, detail().sizes
    for name in ("joint_width", "set_back", "landing", "frit_width", "chock_length"):
        assert getattr(coarse, name).value % 5 == 0
        assert getattr(coarse, name).value >= getattr(fine, name).value
    assert fine.joint_width.value % 5 != 0


def test_how_much_of_the_outer_ply_bears():
    """6 + 1.52 + 6 = 13.52; half of the outer ply asks for 10.52 and leaves 3, a sixth of it 8.52 and leaves 5.

    1.277 m² × (12 × 2.5 + 1.52 × 1.07) = 40.4 kg, 198 N on each chock, 1.5 times as much when she slams. 7 high on 8.52 of glass:
    198 × 1.5 × 7 / (9 × 8.52 × 0.3) = 90 long, so a chock of 100 asks for no less backfill.
    """
    joint = {"width": 7, "backfill_depth": 8}
    laminate = {"glass": "plies = [6, 6], interlayers = [1.52]", "joint": joint, "chocks": {"length": 100}}
    assert detail(**laminate).sizes.chock_backfill_over.value == 3
    assert limits("chock_bearing_outer", 100 / 6, **laminate).chock_backfill_over.value == 5


def test_jamb_and_head_on_one_edge_are_cut_at_two_places():
    """An edge that looks up as much as sideways is jamb and head: the marks of two cuts must not lie on one another."""
    turned = "polygon = [[447.7, -135.6], [-53.3, 433.4], [-458.2, 81.1], [-46.7, -409.2]], radius = 15"
    along = {
        section.letter: section.station.length_along
        for section in detail(turned, "plies = [8, 8], interlayers = [1.52]").sections
    }
    assert all(abs(along["D"] - along[letter]) >= 80 for letter in "ABC"), along


def test_the_chocks_of_a_round_pane_stand_where_the_job_says():
    """X from the lowest point: 100 to either side of it the edge of radius 210 is 210 - √(210² - 100²) = 25.34 up."""
    found = detail("circle = 420", chocks={"at": [-100, 100]}).chocks
    assert [(chock.foot.x, chock.foot.y) for chock in found] == [
        pytest.approx((x, 210 - math.sqrt(210**2 - 100**2))) for x in (-100, 100)
    ]
