"""Sizes that were left out: what governs each, worked by hand beside it. Inputs are invented."""

from __future__ import annotations

import math
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from geometry.job import read_job
from geometry.job.reading import job_of
from geometry.ledger.size import Origin
from geometry.sizing.sizer import Sizer

if TYPE_CHECKING:
    from geometry.sizing.sizes import Sizes

ROOT = Path(__file__).parents[3]
HEAT = """[temperatures]
bonding = 15
cases = { "hot soak" = { frame = 60, glass = 60 }, "sun on glass" = { frame = 30, glass = 65 }, frost = { frame = -10, glass = -10 } }
"""
RECTANGLE = "rectangle = [900, 450], radius = 50"


def sizer_of(
    outline: str = RECTANGLE,
    *,
    plies: str = "[8]",
    interlayers: str = "[]",
    frame: str = "aluminium",
    glass: str = "",
    pane: str = "pressure = { outward = 3 }",
    shared: str = "",
) -> Sizer:
    job = job_of(
        f'{HEAT}{shared}\n[[pane]]\ncode = "X"\nframe = "{frame}"\n'
        f"glass = {{ plies = {plies}, interlayers = {interlayers}{glass} }}\noutline = {{ {outline} }}\n{pane}\n"
    )
    return Sizer(job, job.panes[0], job.panes[0].glass_outline)


def sizes_of(outline: str = RECTANGLE, **what: str) -> Sizes:
    return sizer_of(outline, **what).sizes()


def outside(sizer: Sizer) -> set[str]:
    return {size.name for size in sizer.sizes().all() if size.outside}


# Bond width, thickness and notch.


def test_a_bead_that_stands_up_governs_on_a_light_load() -> None:
    """900 × 450, 3 kPa. Thickness 5 (least). Widest gap 5 + 0.5 + 1 + 0.5 × 1.5 × 0.9 = 7.175, so the notch is 14.35 high at least.

    It stands up to 1.9 times its width 2 × width × 5 / height: width 14.35² / (2 × 1.9 × 5) = 10.84, next nozzle 12.
    Pressure: 0.003 × 225 / 0.14 = 4.82 wet, at the widest gap 4.82 × 7.175 / 5 = 6.9.
    """
    sizes = sizes_of()
    assert (sizes.bond_width.value, sizes.bond_thickness.value) == (12, 5)
    assert "stands up" in sizes.bond_width.reason and "(10.8)" in sizes.bond_width.reason
    assert (sizes.notch_width.value, sizes.notch_height.value) == (8, 15)


def test_outward_pressure_at_the_widest_gap() -> None:
    """1400 × 700, 4 kPa: 0.004 × 350 / 0.14 = 10 mm wet; half the bow is 1.05.

    15 wide: 5 thick, gap 5 + 1.5 + 1.05 = 7.55: 10 × 7.55 / 5 = 15.1, too much. 16 wide: 16 / 3 makes 5.5 thick, gap 8.05:
    10 × 8.05 / 5.5 = 14.64.
    """
    sizes = sizes_of("rectangle = [1400, 700], radius = 60", plies="[10]", frame="steel", pane="pressure = { outward = 4 }")
    assert (sizes.bond_width.value, sizes.bond_thickness.value) == (16, 5.5)
    assert sizes.bond_width.reason.startswith("16 mm: outward pressure at the widest gap (14.6)")
    assert "a third of the bond width (5.3)" in sizes.bond_thickness.reason


def test_permanent_load_where_no_chock_stays() -> None:
    """1200 × 800 × 15 mm: 36 kg, 353.2 N; bead centre 7 + 7 = 14, sharp corners turned with 14:

    4000 - 8 × 14 - 4 × 14 × (2 - π/2) = 3863.96 mm; 353.16 / (0.007 × 3863.96) = 13.06, next nozzle 14.
    """
    loose = {"plies": "[15]", "pane": "chocks = { permanent = false }"}
    sizes = sizes_of("rectangle = [1200, 800]", **loose)
    assert sizes.bond_width.value == 14
    assert "the permanent load (13.1)" in sizes.bond_width.reason and "no outward pressure is given" in sizes.bond_width.reason
    assert sizer_of("rectangle = [1200, 800]", **loose).bead_length(14.0, 14.0) == pytest.approx(3863.96, abs=0.01)
    # on chocks that stay the bond carries none of it
    assert "permanent load" not in sizes_of("rectangle = [1200, 800]", plies="[15]", pane="rake = 10").bond_width.reason


def test_chocks_that_do_not_bear_leave_the_weight_to_the_bond() -> None:
    """12 / 1.52 / 12 wants 12 + 1.52 + 6 = 19.52 of bearing: 25.52 - 4 has it, 25.52 - 12 has not."""
    heavy = {"outline": "rectangle = [1800, 1500]", "plies": "[12, 12]", "interlayers": "[1.52]"}
    good = sizer_of(**heavy, pane="chocks = { backfill_over = 4 }").sizes().bond_width
    bad = sizer_of(**heavy, pane="chocks = { backfill_over = 12 }").sizes().bond_width
    weight = 1.8 * 1.5 * (24 * 2.5 + 1.52 * 1.07) * 9.81
    assert "permanent load" not in good.reason and good.value <= 20
    # the bead is shorter than the edge of 6600: it needs more than 35.3 mm
    assert "the permanent load" in bad.reason and bad.value > weight / (0.007 * 6600)


def test_reverse_rake_pulls_for_good() -> None:
    """Chocks carry the part along the pane, never the pull-off: weight × sin 12°.

    2250 × 980 × 16 mm glass: 2.205 m² × 40 = 88.2 kg, × 9.81 × sin 12° = 179.9 N. It pulls, so it is held against the permanent
    tension, 0.001 MPa. 29 wide, set back 7, its centre at 21.5 turned with 29: 6460 - 8 × 21.5 - 4 × 29 × (2 - π/2) = 6238 long, so
    28.8 mm; 28 wide it is 6244 long and asks for 28.8 too. The permanent shear, 0.0001 MPa here, is that of the weight along the pane.
    """
    shared = "[adhesive]\ndesign_permanent_tension = 0.001\ndesign_permanent_shear = 0.0001"
    sizer = sizer_of("rectangle = [2250, 980]", plies="[16]", pane="rake = -12", shared=shared)
    sizes = sizer.sizes()
    assert sizer.permanent_load() == pytest.approx(2.25 * 0.98 * 16 * 2.5 * 9.81 * math.sin(math.radians(12)))
    assert "the permanent load (28.8)" in sizes.bond_width.reason and "over the widest nozzle" in sizes.bond_width.reason
    assert (sizes.bond_width.value, sizes.set_back.value) == (29, 7)
    assert "bond width" in outside(sizer)


def test_no_pressure_is_not_no_load() -> None:
    sizes = sizes_of("circle = 400", pane="")
    assert sizes.bond_width.value == 10
    assert "no outward pressure is given, so the least width stands" in sizes.bond_width.reason
    light = sizes_of("circle = 400", pane="pressure = { outward = 0.1 }")
    assert light.bond_width.value == 10 and "no outward" not in light.bond_width.reason


def test_a_round_pane_pulls_half_as_hard() -> None:
    """Circle 1000, 5 kPa: 0.005 × 250 / 0.14 = 8.93 wet; even all round 0.005 × π 500² / (0.14 × 2π (500 - 14)) = 9.19.

    14 wide: 5 thick, gap 5 + 1.5 + 0.75 = 7.25: 9.19 × 7.25 / 5 = 13.3. The square of the same size asks for 17.9 wet.
    """
    round_one = sizes_of("circle = 1000", pane="pressure = { outward = 5 }").bond_width
    assert round_one.value == 14 and "even all round at the widest gap (13.3)" in round_one.reason
    assert sizes_of("rectangle = [1000, 1000]", pane="pressure = { outward = 5 }").bond_width.value > 20


def test_a_thicker_bond_at_the_widest_nozzle() -> None:
    """2250 × 980, 4 kPa: 14 wet; bow 1.6875. 20 wide and 7 thick: gap 10.1875, 14 × 10.1875 / 7 = 20.4: too much.

    7.5 thick: gap 10.6875, 14 × 10.6875 / 7.5 = 19.95: enough, and twice the gap is 21.4 high, under the 22 that stand up.
    """
    sizes = sizes_of("rectangle = [2250, 980]", plies="[16]", pane="pressure = { outward = 4 }")
    assert (sizes.bond_width.value, sizes.bond_thickness.value) == (20, 7.5)
    assert "wet width at the widest gap" in sizes.bond_thickness.reason
    assert 21.375 <= sizes.notch_height.value <= 22
    assert sizes.notch_width.value * sizes.notch_height.value / 2 == pytest.approx(150)


@pytest.mark.parametrize(
    ("outline", "pane", "thickness", "word"),
    [
        # spacers 1200 apart: (1200 / 1500)² is over the half of the bow that stays: 0.5 + 1 + 0.5 × 3 × 1.5 + 2 = 5.75
        ("rectangle = [1500, 400]", "bow = 3\nbond = { width = 12 }\nspacers = { pitch = 1200 }", 6.0, "bow and flatness"),
        # small: 0.5 + 1 + 0.5 × 0.3 + 2 = 3.65
        ("rectangle = [200, 160]", "", 4.0, "bow and flatness"),
        # 3 + 2.6; bow of 0.5 mm/m between spacers: 0.5 + 1 + 1.3 × (450 / 2600)² + 2 = 3.54
        ("rectangle = [2600, 400]", "bow = 0.5", 6.0, "the length of the pane"),
        # aluminium, hot soak 14e-6 × 45 = 630e-6; corner √(1300² + 1300²) = 1838: 1.158 / 0.25 + 0.5 = 5.13
        ("rectangle = [2600, 1300]", "bow = 0.5", 6.0, "the length of the pane"),
    ],
)
def test_what_governs_the_thickness(outline: str, pane: str, thickness: float, word: str) -> None:
    size = sizes_of(outline, pane=pane).bond_thickness
    assert size.value == thickness and word in size.reason.split(";")[0]


def test_heat_governs_the_thickness_of_a_stiff_adhesive() -> None:
    """Aluminium: 630e-6 × √(650² + 600²) = 0.557 mm; strain 10 % at the tightest place: 5.57 + 0.5 = 6.07."""
    size = sizes_of("rectangle = [1300, 600]", shared="[adhesive]\ndesign_shear_strain = 10").bond_thickness
    assert size.value == 6.5 and "heat movement (6.1)" in size.reason


def test_a_notch_higher_than_three_bond_thicknesses() -> None:
    """18 × 6, pane of 2250: gap 6 + 0.5 + 1 + 1.6875 = 9.1875, twice that 18.375, in half millimetres 18.5; 216 / 18.5 wide."""
    given = "bond = { width = 18, thickness = 6 }"
    sizes = sizes_of("rectangle = [2250, 980]", plies="[8]", pane=given)
    assert sizes.notch_height.value == 18.5
    assert sizes.notch_width.value == pytest.approx(216 / 18.5)
    # a flatter pane needs none of it: 6 + 1.5 + 1.125 = 8.625
    flat = sizes_of("rectangle = [2250, 980]", plies="[8]", pane=given + "\nbow = 1")
    assert (flat.notch_width.value, flat.notch_height.value) == (12, 18)


def test_a_notch_that_cannot_stand_says_so() -> None:
    """10 × 5 on 900: at least 14.35 high, but √(2 × 1.9 × 50) = 13.8 stands up."""
    sizer = sizer_of(pane="bond = { width = 10, thickness = 5 }")
    sizes = sizer.sizes()
    assert sizes.notch_height.value == pytest.approx(14.35)
    assert "13.8" in sizes.notch_height.reason and "two beads" in sizes.notch_height.reason
    assert {"notch width", "notch height"} <= outside(sizer)


def test_one_of_the_notch_given() -> None:
    sizes = sizes_of(pane="bond = { width = 15, thickness = 5, notch_width = 9 }")
    assert sizes.notch_width.origin is Origin.GIVEN and sizes.notch_height.value == pytest.approx(150 / 9)


def test_a_given_thickness_bounds_the_width() -> None:
    """4 thick and 2250 × 980 at 4 kPa: no width up to 12 is enough, so what is needed stands and the reason says so."""
    sizer = sizer_of("rectangle = [2250, 980]", plies="[16]", pane="bond = { thickness = 4 }\npressure = { outward = 4 }")
    size = sizer.sizes().bond_width
    # 14 × (4 + 1.5 + 1.6875) / 4 = 25.2
    assert size.value == 26 and "over 12, 3 times the given thickness" in size.reason
    assert "bond width" in outside(sizer)


def test_a_given_width_that_no_thickness_makes_enough() -> None:
    sizer = sizer_of("rectangle = [2250, 980]", plies="[16]", pane="bond = { width = 12 }\npressure = { outward = 4 }")
    sizes = sizer.sizes()
    assert sizes.bond_width.value == 12 and sizes.bond_width.origin is Origin.GIVEN
    assert "no thickness makes the given width of 12 enough" in sizes.bond_thickness.reason
    assert "bond thickness" in outside(sizer)


# Joint.


def test_what_governs_the_joint() -> None:
    """Machined recess ± 1, pane ± 1, placing ± 0.5: stack 1.5, so the tool governs; ± 2, ± 3 and 1: 3.5 and 3 left make 6.5."""
    close = sizes_of(pane="tolerances = { recess = 1, pane = 1, placing = 0.5 }").joint_width
    wide = sizes_of(pane="tolerances = { recess = 2, pane = 3, placing = 1 }").joint_width
    assert close.value == 6 and "room for nozzle and tool" in close.reason.split(";")[0]
    assert (wide.value, wide.tolerance) == (7, 3.5) and "3 mm left at the worst tolerance (6.5)" in wide.reason


def test_timber_swells_into_the_joint() -> None:
    """Along the grain: 5e-6 × 15 - 9e-6 × 50 = -375e-6 in sun on glass; rounded corner √(500² + 700²) = 860: 0.323 mm.

    Stile 90 × 0.0025 × 4 = 0.9. 1.223 / (0.8 × 0.25) = 6.11, + (1.5 + 3) / 2 + 1 = 9.36. Without the swell 1.61 + 3.25 < 6.25.
    """
    common = {"outline": "rectangle = [1000, 700], radius = 10", "plies": "[10]", "frame": "timber_along"}
    wet = sizes_of(**common, pane="timber = { stile_width = 90, moisture_change = 4, swell_percent = 0.25 }").joint_width
    dry = sizes_of(**common, pane="").joint_width
    assert wet.value == 10 and "(9.4)" in wet.reason and "movement" in wet.reason.split(";")[0]
    assert dry.value == 7 and "left at the worst tolerance" in dry.reason.split(";")[0]


def test_a_recess_radius_larger_than_the_glass_wants() -> None:
    """Glass 10 in recess 40: (3 + 3) × sin 45° + 30 × (1 - sin 45°) = 4.24 + 8.79 = 13.03; 14 + 3 is over 15."""
    sizer = sizer_of("rectangle = [220, 160], radius = 10", plies="[6]", frame="grp", pane="recess = { radius = 40 }")
    size = sizer.sizes().joint_width
    assert size.value == 14 and "the recess radius of 40 in corner V1 (13)" in size.reason
    assert "joint width" in outside(sizer) and "17 at the worst tolerance" in size.reason


def test_the_joint_of_a_recess_with_an_outline_of_its_own() -> None:
    """The recess is drawn 5 mm round the glass: 5 is what there is, and the reason says what is wanted."""
    sizer = sizer_of(
        "rectangle = [900, 450]", pane="recess = { outline = { polygon = [[-5, -5], [905, -5], [905, 455], [-5, 455]] } }"
    )
    size = sizer.sizes().joint_width
    assert size.value == 5 and "recess as drawn" in size.reason and "ask for 6 mm" in size.reason
    assert "joint width" in outside(sizer)


# Landing, set-back and frit.


def test_landing_and_frit_of_the_least_job() -> None:
    """Bonded at 23 °C, dark frame 82, glass 57: 23e-6 × 59 - 9e-6 × 34 = 1.051e-3, × √(450² + 450²) = 0.669; 0.669 / 0.2 + 3 = 6.3: joint 7.

    Set-back 5 + 2; bond 12 × 5. Tightest 5 - 0.5 - 1 - 1.35 × (450 / 900)² = 3.1625, squeeze-out (60 / 3.1625 - 12) / 2 = 3.486.
    Landing 7 + 7 + 12 + 3.486 + 2 + 1 + 3 = 35.49. Frit: 2 × 12 + 2 = 26; 7 + 12 + 3.486 + 2 + 2 = 26.5; seen at 45°
    36 - 7 + 5 = 34; at the worst of print 2, joint 3 and landing 1: 36 - 7 + 6 = 35.
    """
    job = read_job(ROOT / "samples" / "minimal.toml")
    sizes = Sizer(job, job.panes[0], job.panes[0].glass_outline).sizes()
    assert (sizes.joint_width.value, sizes.set_back.value, sizes.landing.value, sizes.frit_width.value) == (7, 7, 36, 35)
    assert "hiding the landing at the worst tolerances" in sizes.frit_width.reason.split(";")[0]
    assert sizes.landing.reason.endswith("squeeze-out and margin 5.5, tolerances 4")


@pytest.mark.parametrize(
    ("pane", "value", "word"),
    [
        ("", 7.0, "spacers"),
        ("spacers = { width = 4 }\nfrit = { start = 4 }", 7.0, "unprinted edge"),
        # 60 / 2.5 = 24: 6 each side, and 1
        (
            "spacers = { width = 3 }\nbow = 0\ntolerances = { bond_thickness = 1.5, flatness = 1 }\nbond = { width = 12, thickness = 5 }",
            7.0,
            "squeeze-out",
        ),
        # joint 9, stack 3: 6 are left of a fillet of 9, so the spacer stands 3 in: 5 + 2 × 3
        ("joint = { width = 9 }\nrecess = { fillet = 9 }", 11.0, "fillet"),
    ],
)
def test_what_governs_the_set_back(pane: str, value: float, word: str) -> None:
    size = sizes_of(pane=pane).set_back
    assert size.value == value and word in size.reason.split(";")[0]


def test_a_sharp_unbonded_needs_more_landing() -> None:
    """Unbonded corner of atan(215 / 640) = 18.57°, half sine 0.1613. Bead 12 × 5, centre at 12 (spacers 4: set-back 6), turned with 20:

    bisector distance 12 / 0.1613 + 20 × (1 / 0.1613 - 1) = 178.4, + 6 + 0.667 + 2 = 187.0; sharp landing: 187.0 × 0.1613 = 30.2
    from the glass edge, + joint 6 and tolerances 1 + 3 = 40.2. The straights would need 6 + 6 + 12 + 2.667 + 4 = 30.7.
    """
    sizes = sizes_of(
        "polygon = [[0, 0], [640, 0], [640, 215]], radius = [8, 15, 15]",
        pane="bond = { width = 12, thickness = 5, corner_radius = 20 }\nspacers = { width = 4 }\njoint = { width = 6 }\n"
        "bow = 0\ntolerances = { flatness = 0 }",
    )
    half = math.sin(math.atan2(215, 640) / 2)
    flank = 12 / half + 20 * (1 / half - 1) + 6 + 2 / 3 + 2
    sharp, rounded = flank * half, flank - 8 * (1 / half - 1)
    assert sizes.landing.value == math.ceil(6 + min(sharp, rounded) + 4) == 41
    assert "the bead round corner V1 governs, the straights would need 30.7" in sizes.landing.reason


def test_frit_printed_inside_the_laminate() -> None:
    """Face 2 of 6 / 1.52 / 6: 7.52 mm off the bond face, × tan(asin(1 / 1.52)) = 6.57 mm more cover (law of refraction)."""
    common = {
        "plies": "[6, 6]",
        "interlayers": "[1.52]",
        "pane": "recess = { landing = 20 }\nbond = { width = 10, thickness = 4 }\nbow = 0\ntolerances = { flatness = 0 }",
    }
    on, within = sizes_of(**common), sizes_of(**common, glass=", printed_face = 2")
    # cover 7 + 10 + (40 / 3.5 - 10) / 2 + 2 + 2 of tolerance = 21.7, under twice the bond 22; with 6.57 it is 28.3
    assert (on.frit_width.value, within.frit_width.value) == (22, 29)
    assert (
        "twice the bond" in on.frit_width.reason.split(";")[0] and "cover of the bead" in within.frit_width.reason.split(";")[0]
    )


def test_fade_protects_nothing() -> None:
    common = "recess = { landing = 20 }\nbond = { width = 12, thickness = 5 }"
    assert sizes_of(pane=f"{common}\nfrit = {{ fade = 8 }}").frit_width.value == sizes_of(pane=common).frit_width.value + 8


# Chocks and backfill.


def test_the_laminate_bears_on_its_outer_ply_too() -> None:
    """8 / 1.52 / 8 wants 8 + 1.52 + 4 = 13.52 of bearing: 17.52 - 13.52 = 4 of backfill over the chock, not the joint's 8.

    1500 × 980 on a rake of -12°: 61 kg, 0.5 × weight × cos 12° = 294 N each, 1.5 times as much when she slams; 8 mm high:
    294 × 1.5 × 8 / (9 × 13.52 × 0.3) = 96.5 long.
    """
    sizer = sizer_of(
        "rectangle = [1500, 980]", plies="[8, 8]", interlayers="[1.52]", frame="grp", pane="rake = -12\njoint = { width = 8 }"
    )
    sizes = sizer.sizes()
    assert sizes.chock_backfill_over.value == 4
    mass = 1.5 * 0.98 * (16 * 2.5 + 1.52 * 1.07)
    force = mass * 9.81 * math.cos(math.radians(12)) / 2
    assert sizes.chock_length.value == math.ceil(force * 1.5 * 8 / (9 * 13.52 * 0.3)) == 97
    assert "squash" in sizes.chock_length.reason.split(";")[0]


def test_small_and_thin_panes_on_chocks() -> None:
    sizer = sizer_of("rectangle = [300, 200]", plies="[6]")
    sizes = sizer.sizes()
    assert sizes.chock_length.value == 50 and "the least chock length" in sizes.chock_length.reason
    # 6 mm of glass: 3 over the chock leaves 3 of the 4 wanted; the backfill is 4, not 6
    assert sizes.chock_backfill_over.value == 3 and "temporary" in sizes.chock_backfill_over.reason
    assert sizes.backfill_depth.value == 4
    assert {"backfill over chocks", "backfill depth"} <= outside(sizer)


def test_backfill_gives_way_before_the_chock_is_unusually_long() -> None:
    """2400 × 1400 × 12: 100.8 kg, 494 N each, 1.5 times as much when she slams; joint 7: 494 × 1.5 × 7 / (9 × 0.3 × bearing).

    7 over, bearing 5: 385 mm long; 3 over, bearing 9: 214.
    """
    sizes = sizes_of("rectangle = [2400, 1400]", plies="[12]", frame="cfrp", pane="joint = { width = 7 }")
    assert sizes.chock_backfill_over.value == 3
    assert sizes.chock_length.value == math.ceil(2.4 * 1.4 * 30 * 9.81 / 2 * 1.5 * 7 / (9 * 0.3 * 9)) == 214


# Tolerances.


def test_tolerances_tell_whether_they_were_given() -> None:
    given = sizer_of(pane="tolerances = { print = 1, flatness = 0.5 }")
    assert given.print_tolerance()[:2] == (1, True) and given.flatness()[:2] == (0.5, True)
    assert given.placing()[:2] == (1, False) and given.landing_tolerance()[:2] == (1, False)
    assert given.bond_thickness_tolerance()[:2] == (0.5, False) and given.recess_depth_tolerance()[:2] == (1, False)
    # 8 mm float: 0.3 (EN 572-2 as transcribed)
    assert given.glass_thickness_tolerance()[:2] == (0.3, False)
    assert given.joint_tolerance() == (given.recess_tolerance() + given.pane_tolerance()) / 2 + 1


@pytest.mark.parametrize(
    ("frame", "build", "tolerance"),
    [
        ("aluminium", "", 2),
        ("steel", "", 3),
        ("steel", "welded", 3),
        ("steel", "machined", 1),
        ("grp", "", 2),
        ("plywood", "", 1.5),
    ],
)
def test_recess_tolerance_by_frame_and_build(frame: str, build: str, tolerance: float) -> None:
    """Common practice, no source: welded aluminium ± 2, welded steel ± 3, machined ± 1, moulded ± 2, joinery ± 1.5."""
    pane = f'frame_build = "{build}"' if build else ""
    assert sizer_of(frame=frame, pane=pane).recess_tolerance() == tolerance


# The job's own word.


def test_given_sizes_stay() -> None:
    job = read_job(ROOT / "samples" / "sallow-wren.toml")
    for pane in job.panes:
        sizes = Sizer(job, pane, pane.glass_outline).sizes()
        given = {
            "joint_width": pane.joint.width,
            "backfill_depth": pane.joint.backfill_depth,
            "bond_width": pane.bond.width,
            "bond_thickness": pane.bond.thickness,
            "set_back": pane.bond.set_back,
            "recess_depth": pane.recess.depth,
            "landing": pane.recess.landing,
            "frit_width": pane.frit.width,
        }
        for name, value in given.items():
            size = getattr(sizes, name)
            assert (size.value, size.origin, size.reason) == (value, Origin.GIVEN, ""), (pane.code, name)


def test_limits_of_the_office_count() -> None:
    office = "[limits]\nbond_widths = [13, 17]\nlanding_inside = 6\njoint_least = 4"
    sizes = sizes_of(shared=office)
    # next nozzle after 10.84; joint 4 + 3; squeeze-out at 13: 5 - 0.5 - 1 - 1.35 / 4 = 3.1625 and (65 / 3.1625 - 13) / 2 =
    # 3.78: 7 + 7 + 13 + 9.78 + 4 = 40.8
    assert (sizes.bond_width.value, sizes.joint_width.value, sizes.landing.value) == (13, 7, 41)


def test_every_reason_opens_with_its_figure() -> None:
    for size in sizes_of(pane="").all():
        if size.origin is Origin.WORKED_OUT and size.name != "glass proud of the skin":
            assert size.reason.split(" mm:")[0].replace(".", "").isdigit(), (size.name, size.reason)


def test_a_unbonded_may_ask_for_more_set_back() -> None:
    """Sharp corner of 60°: 1 / sin 30° = 2. Bead 12 × 5 turned with 12: (2 - 1) × (6 + 12 - 0) / (4 - 2) = 9 mm of set-back.

    Then the unbonded corner is (9 + 6) × 2 + 12 - 6 = 36 = 4 × 9. At 7 mm it would be 32 of 28 allowed.
    """
    triangle = f"polygon = [[0, 0], [800, 0], [400, {400 * math.sqrt(3)}]]"
    size = sizes_of(triangle, pane="bond = { width = 12, thickness = 5 }").set_back
    assert size.value == 9 and "the unbonded corner V" in size.reason.split(";")[0]


def test_a_unbonded_too_sharp_for_any_set_back_is_left_to_the_saw() -> None:
    size = sizes_of("polygon = [[0, 0], [640, 0], [640, 215]], radius = [8, 15, 15]").set_back
    assert size.value == 7 and "unbonded corner" not in size.reason


def test_a_bore_too_small_says_which_is_wanted() -> None:
    """20 × 6: 22 high at most, base 240 / 21.35 ... the square root of 2 × 1.9 × 120 = 21.35 stands up: base 11.24 and 2 of wall."""
    sizer = sizer_of(pane="bond = { width = 20, thickness = 6 }", shared="[limits]\nnozzle_bore = 10")
    sizes = sizer.sizes()
    assert sizes.notch_height.value == pytest.approx(math.sqrt(2 * 1.9 * 120)) and "a bore of 13.2" in sizes.notch_height.reason
    assert "notch height" in outside(sizer)
