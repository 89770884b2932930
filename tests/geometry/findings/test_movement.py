"""Movement of bead and joint all round: closed forms of the supported and the free pane, round panes, swell, surveys."""

import math
from pathlib import Path

import pytest

from geometry.detail.build import build_detail
from geometry.job import job_of, read_job, with_changes
from geometry.ledger.figure import Ledger
from geometry.outline import Point, circle, distance_from, perimeter, rectangle
from geometry.rules.holding import joint
from geometry.workings.bead_movement import bead_cases, bead_stations, contacts_of
from geometry.workings.movement import movement_of, side_tolerance
from geometry.workings.subject import Subject

SAMPLE = Path(__file__).resolve().parents[3] / "samples" / "sallow-wren.toml"
PANE = """
[[pane]]
code = "P"
frame = "aluminium"
glass = {{ plies = [8] }}
outline = {outline}
bond = {{ width = 12, thickness = 6, set_back = 8, corner_radius = 12 }}
joint = {{ width = 8 }}
temperatures = {{ bonding = 20, cases = {{ the_case = {{ frame = {frame}, glass = {glass} }} }} }}
"""


def subject_of(outline="{ rectangle = [1000, 2000] }", *, hot=80, panes=80, **changes):
    """A pane in a frame at ``hot`` with its glass at ``panes`` °C; a key of the job file with __ for the dot."""
    job = job_of(PANE.format(outline=outline, frame=hot, glass=panes))
    job = with_changes(job, "P", {key.replace("__", "."): value for key, value in changes.items()})
    return Subject(job, job.panes[0], build_detail(job, job.panes[0]))


def sample(code, **changes):
    job = with_changes(read_job(SAMPLE), code, {key.replace("__", "."): value for key, value in changes.items()})
    pane = next(pane for pane in job.panes if pane.code == code)
    return Subject(job, pane, build_detail(job, pane))


def the_case(subject):
    return movement_of(subject, Ledger()).cases[0]


def largest_at_the_edge(case):
    return max(math.hypot(place.opening, place.along) for place in case.joints)


def at(case, x, y):
    return min(case.joints, key=lambda place: math.hypot(place.point.x - x, place.point.y - y))


# A pane 1000 wide and 2000 high, bonded at 20 °C. Movement of its corner in the form of ETAG 002-1 Annex 2 (from memory):
# |strain| × √((width / 2)² + height²) on chocks, |strain| × √((width / 2)² + (height / 2)²) free. Free: a deck light, whose
# weight does not hang on the bead. By hand: √(500² + 2000²) = 2061.553, √(500² + 1000²) = 1118.034.
@pytest.mark.parametrize(
    ("expansion", "frame", "glass", "strain", "chocked", "free"),
    [
        (24e-6, 80, 80, 9.00e-4, 1.8554, 1.0062),
        (23e-6, 80, 80, 8.40e-4, 1.7317, 0.9391),
        (12e-6, 80, 80, 1.80e-4, 0.3711, 0.2012),
        (23e-6, -20, -20, -5.60e-4, 1.1545, 0.6261),
        (23e-6, 80, 55, 1.065e-3, 2.1956, 1.1907),
    ],
)
def test_the_corner_of_a_supported_and_of_a_free_pane(expansion, frame, glass, strain, chocked, free):
    of_its_own = {"expansion": expansion}
    stands = the_case(subject_of(hot=frame, panes=glass, frame=of_its_own))
    lies = the_case(subject_of(hot=frame, panes=glass, frame=of_its_own, rake=90))
    assert stands.differential_strain == pytest.approx(strain, rel=1e-9)
    assert largest_at_the_edge(stands) == pytest.approx(chocked, abs=5e-5)
    assert largest_at_the_edge(lies) == pytest.approx(free, abs=5e-5)
    assert stands.shear.largest < largest_at_the_edge(stands)  # the bead lies inside the edge
    assert lies.other is None and not lies.lifted


def test_bond_thickness_for_that_movement():
    """Shear stress of ETAG 002-1 Annex 2, from memory: modulus 1.4 / 3, movement 1.8554, design shear 0.105: 8.246 mm by hand."""
    moved = largest_at_the_edge(the_case(subject_of(frame={"expansion": 24e-6})))
    assert moved * 1.4 / 3 / 0.105 == pytest.approx(8.246, abs=5e-4)


def test_joints_of_a_pane_on_its_chocks():
    """Strain 14e-6 × 60 K = 8.4e-4: each jamb 500 mm of it, the head 2000 mm, the sill nothing."""
    case = the_case(subject_of())
    assert not case.lifted and case.other is not None
    assert at(case, 1000, 1000).opening == pytest.approx(0.42, rel=1e-9)
    assert at(case, 0, 1000).opening == pytest.approx(0.42, rel=1e-9)
    assert at(case, 500, 2000).opening == pytest.approx(1.68, rel=1e-9)
    assert at(case, 500, 0).opening == pytest.approx(0.0, abs=1e-12)
    assert at(case, 500, 2000).along == pytest.approx(0.0, abs=1e-9)
    assert at(case, 1000, 1000).along == pytest.approx(0.84, rel=1e-9)  # 8.4e-4 × 1000 mm above the sill


def test_a_light_pane_is_lifted_off_its_chocks_and_shares_the_movement():
    """Bead pull 0.8 × 12 / 6 × about 5.9 m × 8.4e-4 × 1000 mm = 7.9 kN against 0.4 kN of pane: it floats, sunk by its weight."""
    subject = subject_of()
    lifted = the_case(subject).other
    stiffness = 0.8 * 12 / 6 * perimeter(subject.detail.curves.bead_centre)
    sunk = subject.detail.glass.mass * 9.81 / stiffness
    assert lifted.lifted
    assert at(lifted, 500, 0).opening == pytest.approx(0.84 - sunk, rel=1e-4)
    assert at(lifted, 500, 2000).opening == pytest.approx(0.84 + sunk, rel=1e-4)


def test_a_pane_as_heavy_as_the_bead_pulls_stays_down():
    """A bead a thousand times softer pulls 8 N: both assumptions are one."""
    case = the_case(subject_of(adhesive__shear_modulus=0.001))
    assert not case.other.lifted
    assert at(case.other, 500, 2000).opening == pytest.approx(1.68, rel=1e-6)


def test_a_shrinking_frame_pushes_through_the_chocks():
    """-5.6e-4 × 2000 mm closes the head by 1.12 mm; there is only one assumption, and both chocks push alike."""
    case = the_case(subject_of(hot=-20, panes=-20))
    assert case.other is None
    assert at(case, 500, 2000).opening == pytest.approx(-1.12, rel=1e-9)
    first, second = case.shear.contact_forces
    assert first == pytest.approx(second, rel=1e-6) and first > 0


def test_a_round_pane_is_fixed_where_the_tangents_at_its_chocks_meet():
    """Chocks at 30° from straight down: tangents meet radius / cos 30° under the centre; the top closes by strain × (R + R / cos 30°)."""
    case = the_case(subject_of("{ circle = 600 }", hot=-20, panes=-20))
    closing = 5.6e-4 * (300 + 300 / math.cos(math.radians(30)))
    assert at(case, 0, 600).opening == pytest.approx(-closing, rel=1e-4)


def test_a_free_pane_hangs_on_its_bead():
    """Chocks taken out, no heat: weight over stiffness, all round alike."""
    subject = subject_of(hot=20, panes=20, chocks__permanent=False)
    case = the_case(subject)
    stiffness = 0.8 * 12 / 6 * perimeter(subject.detail.curves.bead_centre)
    assert not movement_of(subject, Ledger()).chocked
    assert at(case, 500, 2000).opening == pytest.approx(subject.detail.glass.mass * 9.81 / stiffness, rel=1e-4)
    assert at(case, 0, 1000).opening == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(
    ("frame", "hot"),  # expansions of the register less 9e-6, times 40 K
    [("aluminium", 560e-6), ("steel", 120e-6), ("grp", 640e-6), ("timber_along", -160e-6), ("cfrp", -280e-6)],
)
def test_every_frame_moves_by_its_own_expansion(frame, hot):
    case = the_case(subject_of("{ rectangle = [900, 500] }", hot=60, panes=60, frame=frame))
    assert case.differential_strain == pytest.approx(hot, rel=1e-9)


def test_own_expansions_of_the_office_come_before_the_register():
    """23e-6 becomes 20e-6, 9e-6 becomes 8e-6: 12e-6 × 60 K."""
    case = the_case(subject_of(materials__aluminium__expansion=20e-6, materials__glass__expansion=8e-6))
    assert case.differential_strain == pytest.approx(7.2e-4, rel=1e-9)


def test_the_swell_of_a_stile_closes_the_jambs_and_nothing_else():
    """90 mm × 0.25 % × 4 = 0.9 mm."""
    timber = {"stile_width": 90, "moisture_change": 4}
    case = the_case(subject_of("{ rectangle = [1000, 600] }", hot=20, panes=20, frame="timber_along", timber=timber))
    assert at(case, 0, 300).opening == pytest.approx(-0.9, abs=2e-3)  # the pane's weight turns nothing
    assert at(case, 1000, 300).opening == pytest.approx(-0.9, abs=2e-3)
    assert at(case, 500, 600).opening == pytest.approx(0.0, abs=1e-9)
    assert at(case, 500, 0).opening == pytest.approx(0.0, abs=1e-9)


# Joint to be left for a movement: method of ASTM C1472 (from memory), movement over class; along the joint movement /
# √((1 + class)² - 1). A pane 1000 (2000) high in aluminium (steel), 60 K: 0.84, 1.68 and 0.18 mm at the head.
@pytest.mark.parametrize(
    ("expansion", "height", "moved", "needed"), [(23e-6, 1000, 0.84, 3.36), (23e-6, 2000, 1.68, 6.72), (12e-6, 1000, 0.18, 0.72)]
)
def test_joint_at_the_head_for_the_movement_class(expansion, height, moved, needed):
    case = the_case(subject_of(f"{{ rectangle = [800, {height}] }}", frame={"expansion": expansion}))
    head = at(case, 400, height)
    assert head.opening == pytest.approx(moved, rel=1e-9)
    assert joint.least_width_for(opening=head.opening, movement_along=head.along, movement_class=0.25) == pytest.approx(
        needed, rel=1e-9
    )
    assert joint.greatest_strain(opening=head.opening, movement_along=0, least_width=needed) == pytest.approx(0.25, rel=1e-9)


@pytest.mark.parametrize(
    ("movement_class", "width"), [(0.075, 2.5349), (0.125, 1.9403), (0.2, 1.5076), (0.25, 1.3333), (0.5, 0.8944)]
)
def test_joint_for_one_millimetre_along_it(movement_class, width):
    found = joint.least_width_for(opening=0, movement_along=1, movement_class=movement_class)
    assert found == pytest.approx(width, abs=5e-5)


def test_greatest_strain_by_hand():
    """3-4-5: a joint of 3 that shifts 4 along is stretched to 5, 2/3; closing 1 of 4 is 1/4 and needs no shift to count."""
    assert joint.greatest_strain(opening=0, movement_along=4, least_width=3) == pytest.approx(2 / 3)
    assert joint.greatest_strain(opening=2, movement_along=3, least_width=2) == pytest.approx(1.5)
    assert joint.greatest_strain(opening=-1, movement_along=0, least_width=4) == pytest.approx(0.25)
    assert joint.greatest_strain(opening=0, movement_along=0, least_width=4) == 0
    with pytest.raises(ValueError, match="least joint width: found 0"):
        joint.greatest_strain(opening=0, movement_along=0, least_width=0)
    for opening, along, left in ((0.5, 0.3, 2.0), (-0.7, 0.2, 3.0), (0.1, 1.5, 4.0)):
        strain = joint.greatest_strain(opening=opening, movement_along=along, least_width=left)
        assert joint.least_width_for(opening=opening, movement_along=along, movement_class=strain) == pytest.approx(
            left, rel=1e-9
        )


# Stations, names, joint left.


@pytest.mark.parametrize("outline", [rectangle(900, 500, radius=60), circle(400)])
def test_stations_lie_on_the_bead_and_stand_for_all_of_it(outline):
    stations = bead_stations(outline)
    assert sum(each.length for each in stations) == pytest.approx(perimeter(outline), rel=1e-9)
    assert max(distance_from(outline, Point(each.x, each.y)) for each in stations) < 1e-9


def test_second_moment_of_a_rectangular_bead_is_exact():
    """∫ x² round a rectangle 1000 × 500 from its corner: 2 × 1000³ / 3 + 500 × 1000² = 1166.67e6 mm³."""
    stations = bead_stations(rectangle(1000, 500))
    assert sum(each.length * each.x**2 for each in stations) == pytest.approx(2e9 / 3 + 5e8, rel=1e-12)


def test_polar_moment_of_a_round_bead():
    """∫ r² round a circle about its centre is 2 π r³."""
    stations = bead_stations(circle(400))
    polar = sum(each.length * ((each.x - 200) ** 2 + (each.y - 200) ** 2) for each in stations)
    assert polar == pytest.approx(2 * math.pi * 200**3, rel=1e-9)


def test_stations_of_a_case_follow_the_bead_and_name_the_edge_beside():
    subject = sample("SW-01")
    case = the_case(subject)
    assert len(case.stations) == len(case.shear.shears)
    for station, shear in zip(case.stations, case.shear.shears, strict=True):
        assert distance_from(subject.detail.curves.bead_centre, station.point) < 1e-9
        assert (station.shear_x, station.shear_y) == shear
    assert {station.edge for station in case.stations} == {"e1", "e2", "e3", "e4", "V1", "V2", "V3", "V4"}
    worst = case.stations[case.worst_shear_index]
    assert math.hypot(worst.shear_x, worst.shear_y) == pytest.approx(case.shear.largest)


def test_the_joint_left_in_a_tight_corner_is_measured():
    """Glass corner of 10 in a mould's 40: 6 × √2 less (40 - 10) × (√2 - 1) leaves -3.941 mm less the tolerance."""
    subject = sample("SW-10")
    case = the_case(subject)
    tightest = min((place for place in case.joints if place.corner), key=lambda place: place.left)
    gap = 6 * math.sqrt(2) - 30 * (math.sqrt(2) - 1)
    assert tightest.left == pytest.approx(gap - side_tolerance(subject, Ledger()).value, abs=1e-6)
    assert all(
        place.left == pytest.approx(6 - side_tolerance(subject, Ledger()).value) for place in case.joints if not place.corner
    )


def test_a_surveyed_recess_is_measured_at_its_own_corners():
    """The wall bulges in to X 1003.12 at Y 475.2: 1.12 mm beside a pane 1002 wide, nothing taken off for a pane as made."""
    case = the_case(sample("SW-09", tolerances__pane=0))
    least = min(case.joints, key=lambda place: place.left)
    assert least.left == pytest.approx(1.12, abs=2e-3)
    assert (least.edge, least.point.y) == ("e2", pytest.approx(475.2, abs=2.0))


def test_tolerances_of_a_survey_are_those_the_job_gives():
    """(0 + 2.5) / 2 + 0 with the pane's alone; with placing 1 as well 2.25; none given: none."""
    assert side_tolerance(sample("SW-09", tolerances__pane=2.5), Ledger()).value == pytest.approx(1.25)
    assert side_tolerance(sample("SW-09", tolerances__pane=2.5, tolerances__placing=1), Ledger()).value == pytest.approx(2.25)
    designed = side_tolerance(sample("SW-01", tolerances__pane=1.5), Ledger())
    assert designed.value == pytest.approx((2 + 1.5) / 2 + 1)  # welded aluminium ± 2, placing ± 1: register
    assert {"tolerances.recess", "tolerances.placing"} <= set(designed.defaults)
    assert "tolerances.pane" not in designed.defaults


def test_what_is_worked_out_once_stays_in_the_ledger_once():
    subject, ledger = sample("SW-06"), Ledger()
    movement_of(subject, ledger)
    count = len(ledger.figures)
    movement_of(subject, ledger)
    assert len(ledger.figures) == count


def test_chocks_push_into_the_glass_and_centring_blocks_do_not_count():
    assert [(round(c.push_x, 9), round(c.push_y, 9)) for c in contacts_of(sample("SW-01"))] == [(0, 1), (0, 1)]
    assert contacts_of(sample("SW-05")) == ()


@pytest.mark.parametrize("hot", [80, -40])
@pytest.mark.parametrize("between", [(400,), range(230, 700, 30)])
def test_a_stiff_pane_stands_on_the_outermost_of_many_chocks(hot, between):
    """Those between them carry nothing of a pane that does not bend: what moves, and how far, is as with two."""
    places = (200, *between, 700)
    two, more = (the_case(subject_of(hot=hot, chocks__at=list(at))) for at in ((200, 700), places))
    assert len(contacts_of(subject_of(chocks__at=list(places)))) == len(places)
    assert [(place.opening, place.along) for place in more.joints] == [(place.opening, place.along) for place in two.joints]


@pytest.mark.parametrize("hot", [80, -40])
def test_shift_and_turn_of_every_assumption_give_its_shears(hot):
    """Sheared at a station: shift + turn × arm - strain × arm, arm from the middle of the bead (a stiff plate and a frame that stretches).

    On a sloping sill with a side block the pane moves sideways too.
    """
    subject = subject_of("{ polygon = [[0, 0], [1000, 100], [1000, 700], [200, 900]] }", hot=hot, chocks__at=[150, 500])
    (assumptions,) = bead_cases(subject, Ledger())
    for case in assumptions:
        whole = math.fsum(station.length for station in case.stations)
        x = math.fsum(station.x * station.length for station in case.stations) / whole
        y = math.fsum(station.y * station.length for station in case.stations) / whole
        for station, sheared in zip(case.stations, case.shear.shears, strict=True):
            arm, strain = (station.x - x, station.y - y), case.strain.value
            wanted = (
                case.shear.shift[0] - case.shear.turn * arm[1] - strain * arm[0],
                case.shear.shift[1] + case.shear.turn * arm[0] - strain * arm[1],
            )
            assert sheared == pytest.approx(wanted, abs=1e-9)
        assert (case.name, case.frame, case.glass) == ("the_case", hot, 80)
    assert max(abs(case.shear.shift[0]) for case in assumptions) > 0.01
    assert len(assumptions) == (2 if hot == 80 else 1)
