"""Outlines of hundreds of corners: the same answers as segment by segment, and refusals that do not look for ever.

Judges: shapely's buffer, and the same question asked of every segment in turn.
"""

from __future__ import annotations

import math
import random

import pytest

from geometry.outline import (
    Arc,
    OffsetError,
    Outline,
    Point,
    area,
    distance_between,
    offset,
    path,
    polygon,
    ray_hits,
    rectangle,
    refusal,
    segments,
    stations,
)
from geometry.outline.meet import distance_to
from geometry.outline.nearby import MANY, box_pairs
from geometry.outline.regions import to_polygon
from geometry.outline.stations import distance_from, point_in, segments_within


def star(count: int, *, arcs: bool) -> Outline:
    """A pane of many sides, wavy, each side straight or slightly bent."""
    dice, found = random.Random(7), []
    for i in range(count):
        turn = 2 * math.pi * (i + dice.uniform(-0.2, 0.2)) / count
        reach = 1500 * (1 + 0.06 * math.sin(3 * turn))
        found.append(
            (1.3 * reach * math.cos(turn), reach * math.sin(turn), dice.uniform(0.8, 1.2) * math.pi / 2 / count if arcs else 0.0)
        )
    return path(found)


@pytest.mark.parametrize("arcs", [False, True])
def test_many_segments_answer_as_one_by_one(arcs: bool) -> None:
    outline = star(300, arcs=arcs)
    parts = segments(outline)
    assert len(parts) >= MANY
    polygon_ = to_polygon(outline, sagitta=1e-4)
    dice = random.Random(3)
    for _ in range(200):
        spot = Point(dice.uniform(-2200, 2200), dice.uniform(-1700, 1700))
        each = [distance_to(part, *spot) for part in parts]
        assert distance_from(outline, spot) == pytest.approx(min(each), abs=1e-9)
        assert list(segments_within(outline, spot, 300.0)) == [
            part for part, far in zip(parts, each, strict=True) if far <= 300.0
        ]
        import shapely

        assert point_in(outline, spot) == polygon_.contains(shapely.Point(*spot))
        way = Point(math.cos(spot.x), math.sin(spot.x))
        ray = shapely.LineString([spot, (spot.x + 9000 * way.x, spot.y + 9000 * way.y)])
        crossed = ray.intersection(polygon_.exterior)
        assert len(ray_hits(outline, spot, way)) == len(getattr(crossed, "geoms", [] if crossed.is_empty else [crossed]))


@pytest.mark.parametrize("arcs", [False, True])
@pytest.mark.parametrize("distance", [-60.0, -15.0, 20.0])
def test_parallel_curve_of_many_corners(arcs: bool, distance: float) -> None:
    outline = star(250, arcs=arcs)
    found = offset(outline, distance)
    assert distance_between(outline, found) == pytest.approx(abs(distance), abs=2e-6)
    buffer = to_polygon(outline, sagitta=1e-4).buffer(distance, quad_segs=512)
    assert area(found) == pytest.approx(buffer.area, rel=1e-5)


def test_pairs_of_boxes_are_the_same_for_few_and_many(monkeypatch: pytest.MonkeyPatch) -> None:
    from geometry.outline import nearby

    parts = segments(star(200, arcs=True))
    many = box_pairs(parts)
    monkeypatch.setattr(nearby, "MANY", 10**9)
    assert box_pairs(parts) == many


@pytest.mark.parametrize("height", [0.01, 0.1, 1.0, 5.0])
def test_the_reason_of_a_refusal_is_found_in_few_steps(height: float, monkeypatch: pytest.MonkeyPatch) -> None:
    """A sliver of 468.2 × 0.01 mm was gone along for minutes: every step fitted, also far outside."""
    asked = 0

    def counted(outline: Outline, point: Point) -> float:
        nonlocal asked
        asked += 1
        assert asked < 3000
        return stations.distance_from(outline, point)

    monkeypatch.setattr(refusal, "distance_from", counted)
    with pytest.raises(OffsetError, match=rf"only {height:g} mm wide near \(234\.1, "):
        offset(rectangle(468.2, height), -11.75, what="the bead of a sliver")


def test_a_refusal_needs_no_kernel() -> None:
    """Cadquery takes seconds to import; no parallel curve waits for it."""
    import subprocess
    import sys

    code = (
        "import sys; from geometry.outline import *;"
        "print(offset(path([(0, 0, .2), (90, 0), (90, 45), (0, 45)]), -9) is not None)\n"
        "try: offset(rectangle(100, 50), -30)\n"
        "except OffsetError: print('cadquery' in sys.modules)"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.split() == ["True", "False"]


def test_sides_that_are_used_up_one_after_the_other() -> None:
    """A stair of small steps turns into arcs about those of its corners that still count."""
    steps = [(100 + 2 * (i // 2 + i % 2), 2 * (i // 2)) for i in range(20)]
    outline = polygon([(0, 0), *steps, (120, 100), (0, 100)])
    found = offset(outline, -30.0)
    buffer = to_polygon(outline).buffer(-30.0, quad_segs=2048)
    assert area(found) == pytest.approx(buffer.area, rel=1e-4)
    assert any(isinstance(part, Arc) for part in segments(found))  # about the re-entrant corners that are left
