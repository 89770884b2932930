"""What may move on a detail sheet is spread: empty rectangles against a search by hand, moves within their room and clear of everything."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from measured import largest_empty

from outputs.sheet.boxes import grown, joined, overlap
from outputs.sheet.white_space import area_of, empties
from outputs.sheets.detail_spread import ENOUGH, HEM, Piece, spread, widest_room

SPACE = (0.0, 0.0, 40.0, 30.0)
ROOM = (-3.0, -3.0, 43.0, 33.0)


@st.composite
def boxes(draw: st.DrawFn) -> tuple[float, float, float, float]:
    left, bottom = draw(st.integers(-3, 38)), draw(st.integers(-3, 28))
    return float(left), float(bottom), float(left + draw(st.integers(1, 12))), float(bottom + draw(st.integers(1, 12)))


def grid_of(found: list[tuple[float, float, float, float]]) -> np.ndarray:
    grid = np.zeros((30, 40), dtype=bool)
    for a, b, c, d in found:
        grid[max(0, int(b)) : max(0, int(d)), max(0, int(a)) : max(0, int(c))] = True
    return grid


def largest_share(space, fixed, pieces, where):
    """The largest empty rectangle with the pieces where they are, in parts of the space."""
    taken = [*fixed, *(box for piece, own in zip(pieces, where, strict=True) for box in piece.surrounds(own))]
    return max((area_of(grown(box, -HEM)) for box in empties(space, taken)), default=0.0) / area_of(space)


@given(st.lists(boxes(), max_size=7))
@settings(max_examples=300, deadline=None)
def test_the_largest_empty_rectangle_is_that_of_a_search_square_by_square(found):
    area, _ = largest_empty(grid_of(found))
    assert max((area_of(box) for box in empties(SPACE, found)), default=0.0) == area


@given(st.lists(boxes(), max_size=5))
@settings(max_examples=150, deadline=None)
def test_every_empty_rectangle_is_empty_and_can_grow_in_no_direction(found):
    grid = grid_of(found)
    for a, b, c, d in (tuple(map(int, box)) for box in empties(SPACE, found)):
        assert not grid[b:d, a:c].any()
        for far in ((b - 1, d, a, c), (b, d + 1, a, c), (b, d, a - 1, c), (b, d, a, c + 1)):
            low, high, left, right = far
            assert low < 0 or high > 30 or left < 0 or right > 40 or grid[low:high, left:right].any()


@given(st.lists(boxes(), max_size=3), st.lists(boxes(), min_size=1, max_size=3))
@settings(max_examples=80, deadline=None)
def test_a_move_keeps_to_its_room_clear_of_everything_and_leaves_no_larger_rectangle(fixed, moving):
    pieces = [Piece((box,), joined((ROOM, box)), aside=bool(index % 2)) for index, box in enumerate(moving)]  # each begins in its room
    where, left_over = spread(SPACE, fixed, pieces)
    still = [(0.0, 0.0)] * len(pieces)
    before, after = largest_share(SPACE, fixed, pieces, still), largest_share(SPACE, fixed, pieces, where)
    assert after <= max(before, ENOUGH)
    assert left_over == pytest.approx(after)
    places = [piece.at(by)[0] for piece, by in zip(pieces, where, strict=True)]
    for piece, by, (a, b, c, d) in zip(pieces, where, places, strict=True):
        low_x, low_y, high_x, high_y = piece.room
        assert a >= low_x and b >= low_y and c <= high_x and d <= high_y
        assert piece.aside or by[0] == 0.0
    for one, other in combinations(range(len(pieces)), 2):
        if not overlap(moving[one], moving[other]):
            assert not overlap(places[one], places[other])
    for index, box in enumerate(moving):
        assert all(overlap(box, each) or not overlap(places[index], each) for each in fixed)


def test_one_bar_goes_to_the_middle_of_what_is_empty():
    """A bar across a space of 40 by 30 that stands at its foot: in the middle it leaves 40 by 13 or 14 on either side."""
    (move,), _ = spread(SPACE, [], [Piece(((0.0, 0.0, 40.0, 3.0),), SPACE)])
    assert 13.0 <= move[1] <= 14.0


def test_nothing_moves_where_no_large_rectangle_is_empty():
    fixed = [(0.0, float(2 * row), 40.0, float(2 * row + 1)) for row in range(15)]
    assert spread(SPACE, fixed, [Piece(((0.0, 0.0, 1.0, 1.0),), SPACE, aside=True)])[0] == [(0.0, 0.0)]


def test_what_is_tied_counts_with_all_that_lies_between():
    tied = Piece(((0.0, 0.0, 40.0, 3.0),), SPACE, tied=(0.0, 28.0, 5.0, 30.0))
    assert largest_share(SPACE, [], [tied], [(0.0, 10.0)]) == pytest.approx((10.0 - 2 * HEM) * (40.0 - 2 * HEM) / 1200.0)


def test_room_for_something_of_a_size_is_the_largest_that_holds_it():
    wall = [(18.0, 0.0, 20.0, 30.0)]
    assert widest_room(SPACE, wall, [], (5.0, 5.0)) == (20.0, 0.0, 40.0, 30.0)
    assert widest_room(SPACE, wall, [], (19.0, 5.0)) == (20.0, 0.0, 40.0, 30.0)
    assert widest_room(SPACE, wall, [], (21.0, 5.0)) is None
