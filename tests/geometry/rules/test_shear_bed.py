"""The pane on its shear bed: closed forms, equilibrium, mirror images, chocks that only push."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.rules.holding import thermal
from geometry.rules.holding.chocks import Contact
from geometry.rules.holding.shear_bed import Station, shear_bed

BOND = {"shear_modulus": 0.8, "bond_width": 15.0, "bond_thickness": 5.0}


def on_polygon(corners, step=10.0):
    """Stations at the middles of equal pieces of every side, and one short one on each corner."""
    stations = []
    for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1], strict=True):
        length = math.hypot(x1 - x0, y1 - y0)
        count = max(1, round(length / step))
        for k in range(count):
            share = (k + 0.5) / count
            stations.append(Station(x0 + share * (x1 - x0), y0 + share * (y1 - y0), length / count))
        stations.append(Station(x0, y0, 1e-6))
    return stations


def rectangle(width, height, **options):
    return on_polygon([(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)], **options)


def circle(radius, count=360):
    turns = [2 * math.pi * k / count for k in range(count)]
    return [Station(radius * math.cos(t), radius * math.sin(t), 2 * math.pi * radius / count) for t in turns]


@pytest.mark.parametrize("strain", [630e-6, -350e-6, 135e-6, 0.0])
def test_free_circle_moves_strain_times_radius_everywhere(strain):
    """By symmetry a free round pane neither shifts nor turns: movement is strain × radius, along the radius."""
    bed = shear_bed(stations=circle(500), differential_strain=strain, **BOND)
    for (x, y), station in zip(bed.shears, circle(500), strict=True):
        assert (x, y) == pytest.approx((-strain * station.x, -strain * station.y), abs=1e-12)
    assert bed.largest == pytest.approx(abs(strain) * 500, abs=1e-12)
    assert bed.turn == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize(("width", "height"), [(1000, 2000), (1200, 600), (600, 600)])
@pytest.mark.parametrize("strain", [-350e-6, -420e-6])
def test_chocked_rectangle_against_the_closed_form(width, height, strain):
    """Frame shrinking on chocks: the corner moves |strain| × √((width / 2)² + height²) (form of ETAG 002-1, from memory)."""
    chocks = [Contact(width / 4, 0, 0, 1), Contact(3 * width / 4, 0, 0, 1)]
    bed = shear_bed(stations=rectangle(width, height), differential_strain=strain, contacts=chocks, **BOND)
    closed = thermal.movement(strain=strain, distance=thermal.farthest_corner(width=width, height=height, chocked=True))
    assert bed.largest == pytest.approx(closed, rel=1e-9)
    assert all(force > 0 for force in bed.contact_forces)
    # spring force of the bed all pushed up by strain × height / 2
    stiffness = 0.8 * 15 / 5 * 2 * (width + height)
    assert sum(bed.contact_forces) == pytest.approx(stiffness * -strain * height / 2, rel=1e-5)


def test_free_rectangle_against_the_closed_form():
    bed = shear_bed(stations=rectangle(1000, 2000), differential_strain=9e-4, **BOND)
    assert bed.largest == pytest.approx(9e-4 * math.hypot(500, 1000), rel=1e-9)


def test_a_growing_frame_lifts_off_the_chocks_unless_weight_holds_the_pane_down():
    """The bead pulls the pane up with stiffness × strain × height / 2; a heavier pane stays down, a lighter one leaves the chocks."""
    strain, stations = 630e-6, rectangle(1200, 600)
    chocks = [Contact(300, 0, 0, 1), Contact(900, 0, 0, 1)]
    pull = 0.8 * 15 / 5 * 3600 * strain * 300
    light = shear_bed(stations=stations, differential_strain=strain, contacts=chocks, weight=(0, -0.5 * pull), **BOND)
    heavy = shear_bed(stations=stations, differential_strain=strain, contacts=chocks, weight=(0, -1.5 * pull), **BOND)
    assert light.contact_forces == (0, 0)
    assert sum(heavy.contact_forces) == pytest.approx(0.5 * pull, rel=1e-5)
    assert heavy.largest == pytest.approx(strain * math.hypot(600, 600), rel=1e-9)
    assert light.largest < heavy.largest


def test_weight_alone_sinks_the_pane_by_weight_over_stiffness():
    bed = shear_bed(stations=circle(300), differential_strain=0, weight=(0, -100), **BOND)
    assert bed.shift == pytest.approx((0, -100 / (0.8 * 15 / 5 * 2 * math.pi * 300)), abs=1e-12)
    assert bed.direction == pytest.approx(-90)
    assert bed.shear_stress == pytest.approx(100 / (15 * 2 * math.pi * 300), rel=1e-9)


def test_eccentric_weight_turns_the_pane():
    """Moment over polar stiffness of a ring: stiffness × radius²."""
    bed = shear_bed(stations=circle(300), differential_strain=0, weight=(0, -100), centroid=(50, 0), **BOND)
    assert bed.turn == pytest.approx(-100 * 50 / (0.8 * 15 / 5 * 2 * math.pi * 300 * 300**2), rel=1e-9)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(
    corners=st.lists(st.tuples(st.integers(0, 1500), st.integers(0, 1500)), min_size=3, max_size=6, unique=True),
    strain=st.floats(-8e-4, 8e-4),
    weight=st.tuples(st.floats(-500, 500), st.floats(-900, 0)),
    chock_places=st.lists(st.floats(0, 1500), max_size=3),
)
def test_forces_balance_and_mirror_images_agree(corners, strain, weight, chock_places):
    box = [(0.0, 0.0), (1500.0, 0.0), *[(float(x), 100.0 + float(y)) for x, y in corners]]
    stations = on_polygon(box, step=100)
    chocks = [Contact(x, 0.0, 0.0, 1.0) for x in chock_places]
    options = {"differential_strain": strain, **BOND}
    bed = shear_bed(stations=stations, contacts=chocks, weight=weight, centroid=(700.0, 300.0), **options)
    springs = [0.8 * 15 / 5 * station.length for station in stations]
    size = 1 + math.hypot(*weight) + sum(bed.contact_forces)
    for axis in (0, 1):
        held = sum(spring * shear[axis] for spring, shear in zip(springs, bed.shears, strict=True))
        assert held == pytest.approx(weight[axis] + (sum(bed.contact_forces) if axis else 0), abs=1e-6 * size)
    moment = sum(
        spring * (station.x * shear[1] - station.y * shear[0])
        for spring, station, shear in zip(springs, stations, bed.shears, strict=True)
    )
    loads = 700 * weight[1] - 300 * weight[0] + sum(f * c.x for f, c in zip(bed.contact_forces, chocks, strict=True))
    assert moment == pytest.approx(loads, abs=1e-3 * size)
    # no chock pulls and none is driven into: shear of the glass at the chock is upwards or 0
    middle = [sum(s.length * s[a] for s in stations) / sum(s.length for s in stations) for a in (0, 1)]
    for chock, force in zip(chocks, bed.contact_forces, strict=True):
        up = bed.shift[1] + bed.turn * (chock.x - middle[0]) - strain * (chock.y - middle[1])
        assert force >= 0 and up >= -1e-9
        assert force * up == pytest.approx(0, abs=1e-6 * size)
    other = shear_bed(
        stations=[Station(-s.x, s.y, s.length) for s in stations],
        contacts=[Contact(-c.x, c.y, 0.0, 1.0) for c in chocks],
        weight=(-weight[0], weight[1]),
        centroid=(-700.0, 300.0),
        **options,
    )
    assert other.largest == pytest.approx(bed.largest, rel=1e-6, abs=1e-9)
    for here, there in zip(bed.shears, other.shears, strict=True):
        assert (there[0], there[1]) == pytest.approx((-here[0], here[1]), abs=1e-6)


def test_superfluous_chocks_do_no_harm():
    """Three chocks on one sill are one too many for the equations; the pane still stands and they share the load."""
    chocks = [Contact(x, 0, 0, 1) for x in (200, 600, 1000)]
    bed = shear_bed(stations=rectangle(1200, 600), differential_strain=-350e-6, contacts=chocks, **BOND)
    assert bed.largest == pytest.approx(350e-6 * math.hypot(600, 600), rel=1e-9)


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"stations": []}, "stations"),
        ({"stations": [Station(1, 1, 5), Station(1, 1, 5)]}, "one point"),
        ({"stations": [Station(0, 0, -1), Station(1, 1, 5)]}, "stations"),
        ({"stations": [Station(float("nan"), 0, 1), Station(1, 1, 5)]}, "stations"),
        ({"shear_modulus": 0}, "shear modulus"),
        ({"differential_strain": float("inf")}, "differential strain"),
        ({"contacts": [Contact(0, 0, 0, 0)]}, "push"),
        ({"contacts": [Contact(0, 0, 0, 1)] * 9}, "contacts"),
    ],
)
def test_refusals(change, word):
    given_ = {"stations": circle(100), "differential_strain": 1e-4, **BOND} | change
    with pytest.raises(ValueError, match=word):
        shear_bed(**given_)
