"""Blocks in heights that can be bought, against trying every heap of a block and shims by hand."""

from __future__ import annotations

from dataclasses import replace
from itertools import chain, combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.rules.fit.section import spacer_height
from geometry.workings.stock_blocks import EXACT, NEAR, Article, MadeUp, Wanted, articles_of, bonds_left, made_up, wanted_of

STOCK, SHIMS = (3.0, 4.0, 5.0, 6.0), (0.5, 1.0)


def chock(height: float, count: int = 1, kind: str = "setting chock") -> Wanted:
    return Wanted(kind, 60.0, 12.0, height, 80.0, count, STOCK, SHIMS)


@given(st.floats(1, 12).map(lambda height: round(height, 2)))
def test_no_heap_of_the_stock_comes_nearer(height):
    heaps = [
        (block + sum(shims), block, shims)
        for block in STOCK
        for shims in chain.from_iterable(combinations(SHIMS, count) for count in range(3))
    ]
    nearest = min(abs(total - height) for total, _, _ in heaps)
    made = made_up(chock(height))
    assert abs(made.off) == pytest.approx(nearest, abs=1e-6)
    assert sum(made.pieces) == pytest.approx(height + made.off, abs=1e-6)
    assert made.cut is (nearest > NEAR + 1e-9)
    fewest = min(len(shims) for total, _, shims in heaps if abs(total - sum(made.pieces)) < 1e-9)
    assert len(made.pieces) == 1 + fewest


def test_of_two_as_near_the_lower_is_taken():
    """By hand: 5.25 lies between 5 and 5.5; the lower never wedges the glass."""
    assert made_up(chock(5.25)) == MadeUp(chock(5.25), (5.0,), -0.25, cut=False)


@pytest.mark.parametrize(("height", "stock", "cut"), [(6.0, (5.0, 6.0), False), (6.04, (6.0,), False), (6.32, (6.0,), True)])
def test_a_spacer_is_never_shimmed(height, stock, cut):
    made = made_up(Wanted("spacer", 25.0, 5.0, height, 50.0, 1, stock, SHIMS))
    assert len(made.pieces) == 1 and made.cut is cut and EXACT == 0.05


def test_without_a_stock_everything_is_bought_as_it_is_drawn():
    made = made_up(Wanted("spacer", 25.0, 5.0, 5.26, 50.0, 4))
    assert (made.pieces, made.off, made.cut) == ((5.26,), 0.0, False)


def test_articles_by_hand():
    """Two panes of two chocks 7 high (6 + 1 each), one block 9 that has to be cut (the highest heap is 7.5), two spare of each article."""
    made = [made_up(chock(7.0, 2)), made_up(chock(7.0, 2)), made_up(chock(9.0, kind="side block"))]
    assert articles_of(made, spare=2) == (
        Article("setting chock", 60.0, 12.0, 6.0, 80.0, False, 4, 2),
        Article("side block", 60.0, 12.0, 9.0, 80.0, True, 1, 2),
        Article("shim", 60.0, 12.0, 1.0, 80.0, False, 4, 2),
    )
    assert [each.to_buy for each in articles_of(made, spare=2)] == [6, 3, 6]


def test_equal_blocks_are_counted_together():
    assert wanted_of([chock(7.0), chock(6.0), chock(7.0, 2)]) == (chock(7.0, 3), chock(6.0))


@pytest.mark.parametrize("squeeze", [0.02, 0.05, 0.1])
def test_the_bond_that_a_spacer_of_the_stock_leaves_asks_for_that_spacer(squeeze):
    """There and back by the rule of the free height; a spacer of the bond's own thickness would leave a thinner bond."""
    stock = (3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0)
    for bond in (3.5, 5.0, 6.0, 9.0):
        height = spacer_height(bond_thickness=bond, squeeze=squeeze)
        wanted = Wanted("spacer", 25, 5, height, 50, 1, stock=stock)
        found = bonds_left(wanted, squeeze)
        assert [each for each, _ in found] == [max(h for h in stock if h < height), min(h for h in stock if h > height)]
        assert found[0][1] < bond < found[1][1]
        for of_stock, left in found:
            again = replace(wanted, height=spacer_height(bond_thickness=left, squeeze=squeeze))
            assert made_up(again).pieces == (of_stock,) and not made_up(again).cut
    assert made_up(Wanted("spacer", 25, 5, spacer_height(bond_thickness=6, squeeze=squeeze), 50, 1, stock=stock)).cut
