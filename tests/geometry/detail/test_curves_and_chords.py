"""A curve gets its blocks where its shape says, whichever way it was written: as an arc, as several, or as many short sides."""

from __future__ import annotations

import itertools
import math

import pytest

from geometry.detail.build import build_detail
from geometry.job import job_of

PANE = """
[[pane]]
code = "A"
frame = "aluminium"
glass = {{ plies = [8] }}
outline = {outline}
spacers = {spacers}
"""


def detail_of(outline: str, spacers: str = "{ }"):
    job = job_of(PANE.format(outline=outline, spacers=spacers))
    return build_detail(job, job.panes[0])


def polygon(points) -> str:
    return f"{{ polygon = {[[round(x, 6), round(y, 6)] for x, y in points]} }}"


def regular(sides: int, radius: float, high: float = 1.0, turned: float = 0.0):
    turns = [2 * math.pi * (i + turned) / sides for i in range(sides)]
    return [(radius * math.cos(turn), radius * high * (1 + math.sin(turn))) for turn in turns]


def fillet(x: float, y: float, radius: float, first: float, count: int):
    return [
        (x + radius * math.cos(first + math.pi / 2 * i / count), y + radius * math.sin(first + math.pi / 2 * i / count))
        for i in range(count + 1)
    ]


def far_apart(one, other) -> float:
    """Greatest distance of a block of one detail from the nearest of the other, either way."""
    ours, theirs = ([(place.x, place.y) for place in each] for each in (one, other))
    return max(min(math.dist(a, b) for b in second) for first, second in ((ours, theirs), (theirs, ours)) for a in first)


def setting(detail):
    return [chock.foot for chock in detail.chocks if chock.kind == "setting chock"]


ROUNDED = "[[100,0],[800,0,{q}],[900,100],[900,350,{q}],[800,450],[100,450,{q}],[0,350],[0,100,{q}]]".format(
    q=math.tan(math.pi / 8)
)
HALVES = "[{}]".format(
    ",".join(
        f"[{ex},{ey}],[{x + 100 * math.cos(a)},{y + 100 * math.sin(a)},{math.tan(math.pi / 16)}],"
        f"[{x + 100 * math.cos(a + math.pi / 4)},{y + 100 * math.sin(a + math.pi / 4)},{math.tan(math.pi / 16)}]"
        for (ex, ey), (x, y), a in (
            ((100, 0), (800, 100), -math.pi / 2), ((900, 100), (800, 350), 0.0), ((800, 450), (100, 350), math.pi / 2), ((0, 350), (100, 100), math.pi),
        )
    )
)  # fmt: skip
CHORDS = polygon(
    [
        *fillet(800, 100, 100, -math.pi / 2, 40), *fillet(800, 350, 100, 0.0, 40),
        *fillet(100, 350, 100, math.pi / 2, 40), *fillet(100, 100, 100, math.pi, 40),
    ]
)  # fmt: skip


def test_spacers_over_a_corner_arc_stand_in_equal_spaces_from_those_of_the_edges():
    """157,08 mm of arc between spacers 50 mm inside both of its ends: 257,08 mm in three spaces of 85,69; they were 52,36 apart."""
    found = detail_of("{ rectangle = [900, 450], radius = 100 }", "{ pitch = 100 }").spacers
    arc = [spacer.distance for spacer in found if spacer.edge == "corner arc"][:2]
    space = (2 * 50 + math.pi / 2 * 100) / 3
    assert arc == pytest.approx([space - 50, 2 * space - 50])


@pytest.mark.parametrize(
    "outline", [f"{{ path = {ROUNDED} }}", f"{{ path = {HALVES} }}", CHORDS], ids=["arcs", "half arcs", "chords"]
)
@pytest.mark.parametrize("pitch", [60, 100, 150, 300])
def test_the_same_shape_in_another_form_has_the_same_blocks(outline: str, pitch: int):
    whole, other = (detail_of(each, f"{{ pitch = {pitch} }}") for each in ("{ rectangle = [900, 450], radius = 100 }", outline))
    assert far_apart([spacer.centre for spacer in whole.spacers], [spacer.centre for spacer in other.spacers]) < 0.5
    assert len(whole.spacers) == len(other.spacers)
    assert far_apart(setting(whole), setting(other)) < 0.5
    gaps = [
        math.dist((a.centre.x, a.centre.y), (b.centre.x, b.centre.y))
        for a, b in itertools.pairwise([*whole.spacers, whole.spacers[0]])
    ]
    assert max(gaps) <= pitch + 1e-6  # a chord is no longer than the way along the edge


@pytest.mark.parametrize("sides", [24, 36, 120, 121])
@pytest.mark.parametrize("turned", [0.0, 0.25, 0.5])
@pytest.mark.parametrize("high", [1.0, 0.6])
def test_a_polygon_that_stands_for_a_curve_is_blocked_like_the_curve(sides: int, turned: float, high: float):
    """Its chocks stood side by side on one short side at the very bottom."""
    round_ = detail_of("{ circle = 1000 }" if high == 1.0 else "{ ellipse = [1000, 600] }")
    many = detail_of(polygon(regular(sides, 500.0, high, turned)))
    if high < 1 and sides < 36:
        assert far_apart(setting(many), setting(round_)) < 20  # its ends turn too sharply for a curve: they are sides
        return
    chord = 2 * math.pi * 500 / sides
    near = chord * 0.25 + 1.0 + min(y for _, y in regular(sides, 500.0, high, turned))
    assert far_apart(setting(many), setting(round_)) < near
    assert far_apart([each.centre for each in many.spacers], [each.centre for each in round_.spacers]) < near + 3.0
    assert {chock.edge for chock in many.chocks} == {"round"}


def test_a_bowed_sill_carries_the_pane_as_the_straight_one_does():
    """A quarter to either side of the centroid, whether straight, one arc or ten chords; on the arc they stood under the jambs."""
    bow = 18.0
    bulge = 2 * bow / 900
    radius = (450**2 + bow**2) / (2 * bow)
    below = [(x, radius - bow - math.sqrt(radius**2 - (x - 450) ** 2)) for x in range(0, 901, 90)]
    straight = detail_of("{ rectangle = [900, 500] }")
    arc = detail_of(f"{{ path = [[0, 0, {bulge}], [900, 0], [900, 500], [0, 500]] }}")
    chords = detail_of(polygon([*below, (900, 500), (0, 500)]))
    wanted = [place.x for place in setting(straight)]
    for detail in (arc, chords):
        assert [place.x for place in setting(detail)] == pytest.approx(wanted, abs=1.0)
    assert far_apart(setting(arc), setting(chords)) < 0.5
    assert len(arc.spacers) == len(chords.spacers)


@pytest.mark.parametrize("depth", [0.2, 5.0, 40.0])
def test_a_sill_with_a_slight_v_carries_one_chock_on_either_side(depth: float):
    detail = detail_of(polygon([(0, 0), (450, -depth), (900, 0), (900, 500), (0, 500)]))
    assert [chock.edge for chock in detail.chocks if chock.kind == "setting chock"] == ["e1", "e2"]
    assert [place.x for place in setting(detail)] == pytest.approx([225, 675], abs=2.0)


@pytest.mark.parametrize("radius", [224.9999, 224.99, 224.0])
def test_a_stadium_and_its_neighbours_stand_on_chocks_in_the_same_places(radius: float):
    """With 225 mm they stood at X 337,5 and 562,5, with 224,99 mm at 275 and 625."""
    whole, near = (detail_of(f"{{ rectangle = [900, 450], radius = {r} }}") for r in (225, radius))
    assert far_apart(setting(whole), setting(near)) < 2 * (225 - radius) + 0.01


def test_what_is_straight_for_less_than_can_be_cut_makes_no_corners():
    for size, radius in (("[900, 450]", 225), ("[600, 600]", 300)):
        whole, near = (detail_of(f"{{ rectangle = {size}, radius = {r} }}") for r in (radius, radius - 0.0001))
        assert len(whole.corners) == len(near.corners) == 0
        assert [(each.kind, each.edge) for each in near.chocks] == [(each.kind, each.edge) for each in whole.chocks]
        assert len(whole.spacers) == len(near.spacers)
        assert [name for name, *_ in near.edge_middles] == [name for name, *_ in whole.edge_middles]


@pytest.mark.parametrize("radius", [109.99, 105.0, 100.0])
def test_an_upright_pane_nearly_round_below_stands_like_the_round_one(radius: float):
    """On the straight of a few millimetres both chocks stood in the same place."""
    whole, near = (detail_of(f"{{ rectangle = [220, 600], radius = {r} }}") for r in (110, radius))
    assert far_apart(setting(whole), setting(near)) < 1.5 * (110 - radius) + 0.1
