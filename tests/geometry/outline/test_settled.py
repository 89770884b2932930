"""One shape, however it is given: joints and flat arcs go, figures and parallel curves stay the same.

The figures of circle, stadium and rectangle are the closed formulas of plane geometry; parallel curves are held against shapely.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.detail.build import build_detail
from geometry.job import job_of
from geometry.outline import Outline, Vertex, area, circle, moved, offset, path, perimeter, polygon, rectangle
from geometry.outline.regions import to_polygon
from geometry.outline.settle import FLAT, flat_arcs, settled
from geometry.outline.soundness import sound

PANE = """
[[pane]]
code = "A"
frame = "aluminium"
glass = {{ plies = [8] }}
outline = {outline}
pressure = {{ outward = 3 }}
"""


def job_with(outline: str):
    return job_of(PANE.format(outline=outline))


def detail_of(outline: str):
    job = job_with(outline)
    return build_detail(job, job.panes[0])


def arcs_of_circle(diameter: float, count: int, turn: float) -> str:
    """A path of so many arcs of one circle, from any place on it."""
    r = diameter / 2
    places = [
        (r + r * math.cos(turn + 2 * math.pi * i / count), r + r * math.sin(turn + 2 * math.pi * i / count)) for i in range(count)
    ]
    bulge = math.tan(math.pi / 2 / count)
    return f"{{ path = {[[x, y, bulge] for x, y in places]} }}"


@settings(max_examples=25, deadline=None)
@given(st.integers(300, 2400), st.integers(2, 12), st.floats(0, 6.2))
def test_a_circle_is_one_outline_in_every_form(diameter: int, count: int, turn: float) -> None:
    round_ = moved(circle(diameter), -diameter / 2, 0)  # counted from its lowest point
    for text in (arcs_of_circle(diameter, count, turn), f"{{ ellipse = [{diameter}, {diameter}] }}"):
        found = job_with(text).panes[0].glass_outline
        assert len(found.vertices) == 2
        for vertex, same in zip(found.vertices, round_.vertices, strict=True):
            assert vertex == pytest.approx(same, abs=2e-6)
        assert area(found) == pytest.approx(math.pi * diameter**2 / 4, rel=1e-8)


def test_the_tension_in_the_bond_of_a_circle_does_not_depend_on_its_form() -> None:
    from geometry.findings.holding.plate_checks import OUTWARD, findings, plate_of
    from geometry.ledger.figure import Ledger
    from geometry.workings.subject import Subject

    found = set()
    for text in ("{ circle = 500 }", "{ ellipse = [500, 500] }", arcs_of_circle(500, 2, 0.0), arcs_of_circle(500, 8, 0.3)):
        job = job_with(text)
        subject = Subject(job, job.panes[0], build_detail(job, job.panes[0]))
        found |= {round(each.value, 9) for each in findings(subject, Ledger(), plate_of(subject)) if each.name == OUTWARD.name}
    assert len(found) == 1


@pytest.mark.parametrize("bulge", [10.0**-power for power in range(4, 13)] + [-(10.0**-power) for power in range(4, 13)])
def test_a_side_that_hardly_bends_is_drawn(bulge: float) -> None:
    """The kernel died on 1e-9, and from 1e-7 to 1e-4 no parallel curve was proven."""
    outline = f"{{ path = [[0, 0, {bulge!r}], [900, 0], [900, 450], [0, 450]] }}"
    detail = detail_of(outline)
    rise = abs(bulge) * 450
    straight = job_with(outline).panes[0].outline.drawn_straight
    assert straight == ((1,) if rise < FLAT else ())
    assert len(detail.corners) == (4 if rise < FLAT else 2)
    # a flat segment of a circle: two thirds of chord times rise
    assert detail.area == pytest.approx(900 * 450 + (0 if rise < FLAT else math.copysign(2 / 3 * 900 * rise, bulge)), abs=1e-3)


def test_a_flat_side_of_a_clockwise_path_is_named_by_its_point() -> None:
    job = job_with("{ path = [[0, 0], [0, 450, 1e-8], [900, 450], [900, 0]] }")
    assert job.panes[0].outline.drawn_straight == (2,)


def test_what_is_straight_and_what_is_sharp_stays_as_it_is() -> None:
    for outline in (
        rectangle(900, 450, radius=50),
        polygon([(0, 0), (640, 0), (640, 215)]),
        circle(420),
        path([(0, 0), (100, 0, 1)]),
    ):
        assert settled(outline) is outline
        assert flat_arcs(outline) == ()


def test_points_on_a_side_and_arcs_in_pieces_go() -> None:
    quarter = math.tan(math.pi / 8)
    stadium = sound(
        [
            Vertex(100, 0),
            Vertex(250, 0),
            Vertex(400, 0, quarter),
            Vertex(500, 100, quarter),
            Vertex(400, 200),
            Vertex(100, 200, quarter),
            Vertex(0, 100, quarter),
        ]
    )
    found = settled(stadium)
    assert [tuple(vertex) for vertex in found.vertices] == [
        pytest.approx(vertex) for vertex in [(100, 0, 0), (400, 0, 1), (400, 200, 0), (100, 200, 1)]
    ]
    assert area(found) == pytest.approx(300 * 200 + math.pi * 100**2)
    assert perimeter(found) == pytest.approx(600 + 2 * math.pi * 100)


def test_an_arc_of_more_than_half_a_circle_is_two_halves_however_it_is_given() -> None:
    sweep = 1.5 * math.pi
    one = path([(0, 0), (0, -100), (100, -100, math.tan(sweep / 4))])
    three = path([(0, 0), (0, -100), *((*place, math.tan(sweep / 12)) for place in ((100, -100), (200, 0), (100, 100)))])
    for vertex, same in zip(settled(one).vertices, settled(three).vertices, strict=True):
        assert vertex == pytest.approx(same, abs=1e-9)


@pytest.mark.parametrize("distance", [-40.0, -25.0, -8.0, 12.0])
def test_a_rounding_between_a_side_and_a_flat_arc_is_used_up(distance: float) -> None:
    """The corner of 20 mm is gone at 25 mm inside: shapely's buffer is the outside judge."""
    whole = offset(sound([Vertex(0, 0, 0.001), Vertex(900, 0), Vertex(900, 450), Vertex(0, 450)]), 20.0)
    found = offset(whole, distance - 20.0)
    buffer = to_polygon(whole, sagitta=1e-4).buffer(distance - 20.0, quad_segs=512)
    assert area(found) == pytest.approx(buffer.area, abs=2.0)


def test_a_circle_of_flat_arcs_stays_round() -> None:
    count, r = 500, 40.0
    bulge = math.tan(math.pi / 2 / count)
    loop = [Vertex(r * math.cos(2 * math.pi * i / count), r * math.sin(2 * math.pi * i / count), bulge) for i in range(count)]
    assert abs(bulge) * 2 * math.pi * r / count / 2 < FLAT
    assert area(settled(Outline(tuple(loop)))) == pytest.approx(math.pi * r * r, rel=1e-9)
