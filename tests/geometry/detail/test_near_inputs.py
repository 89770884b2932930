"""Near inputs, near results: what differs by less than can be cut is set out alike."""

from __future__ import annotations

import pytest

from geometry.detail.build import build_detail
from geometry.job import job_of

PANE = """
[[pane]]
code = "A"
frame = "aluminium"
glass = {{ plies = [8] }}
outline = {outline}
pressure = {{ outward = 3 }}
"""


def detail_of(outline: str):
    job = job_of(PANE.format(outline=outline))
    return build_detail(job, job.panes[0])


@pytest.mark.parametrize("radius", [224.9999, 224.99, 224.0])
def test_a_stadium_and_its_neighbours_have_their_spacers_in_the_same_places(radius: float) -> None:
    """An end that is straight for less than a spacer is round: with 224.9999 mm eight spacers stood, with 225 mm six."""
    whole, near = (detail_of(f"{{ rectangle = [900, 450], radius = {r} }}") for r in (225, radius))
    assert len(whole.spacers) == len(near.spacers)
    for one in whole.spacers:
        assert min(abs(one.centre.x - other.centre.x) + abs(one.centre.y - other.centre.y) for other in near.spacers) < 3.0
    assert [chock.kind for chock in whole.chocks] == [chock.kind for chock in near.chocks]
    assert near.perimeter == pytest.approx(whole.perimeter, rel=1e-2)


def test_a_polygon_of_many_short_sides_has_spacers_like_the_round_it_is() -> None:
    """No side of it has room for a spacer, and none stood on it."""
    import math

    sides = [(500 + 500 * math.cos(math.pi * i / 60), 500 + 500 * math.sin(math.pi * i / 60)) for i in range(120)]
    many, round_ = detail_of(f"{{ polygon = {[list(place) for place in sides]} }}"), detail_of("{ circle = 1000 }")
    assert len(many.spacers) >= len(round_.spacers) > 0  # one more may stand beside a chock
