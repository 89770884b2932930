"""Room among ink: several boxes asked about at once are told what each is told by itself, and by shapely (a general-purpose library)."""

from __future__ import annotations

import random

import pytest
import shapely

from outputs.sheet.entities import Path, Text
from outputs.sheet.keep_clear import AT_ONCE, KeepClear


def some_box(chance):
    x, y = chance.uniform(0, 200), chance.uniform(0, 200)
    return x, y, x + chance.uniform(1, 25), y + chance.uniform(1, 12)


@pytest.mark.parametrize("seed", range(6))
def test_boxes_together_are_told_what_each_is_told_alone(seed):
    chance = random.Random(seed)
    room = KeepClear(scale=0.5, clear=0.3, apart=0.8, within=(0.0, 0.0, 210.0, 210.0))
    lines = [[(chance.uniform(0, 200), chance.uniform(0, 200)) for _ in range(2)] for _ in range(12)]
    room.add([Path("GLASS", tuple((x, y, 0.0) for x, y in line)) for line in lines])
    room.add([Text("TEXT", chance.uniform(0, 200), chance.uniform(0, 200), "S12", 2.5) for _ in range(8)])
    boxes = [some_box(chance) for _ in range(3 * AT_ONCE + 5)]
    together = list(room.each_free(boxes))
    assert together == [room.free(box) for box in boxes]
    assert any(together) and not all(together)
    ink = shapely.MultiLineString(lines)
    named = {f"at {number}": box for number, box in enumerate(boxes)}
    assert list(room.those_free(named, lambda name: named[name])) == [each for each in named.items() if room.free(each[1])]
    for box, free in zip(boxes, together, strict=True):
        near = shapely.box(box[0] - 0.6, box[1] - 0.6, box[2] + 0.6, box[3] + 0.6)  # 0,3 on paper at 1:2
        assert not (free and near.intersects(ink))


def test_candidates_are_thought_of_only_as_far_as_they_are_looked_at():
    thought: list[float] = []
    room = KeepClear(scale=1.0)
    first, box = next(room.those_free((thought.append(x) or x for x in range(1000)), lambda x: (x, 0.0, x + 1.0, 1.0)))
    assert (first, box) == (0, (0, 0.0, 1.0, 1.0)) and len(thought) <= AT_ONCE


def test_of_an_empty_view_every_box_is_free():
    room = KeepClear(scale=1.0)
    assert list(room.each_free([(0.0, 0.0, 1.0, 1.0)] * 20)) == [True] * 20 and list(room.each_free([])) == []
