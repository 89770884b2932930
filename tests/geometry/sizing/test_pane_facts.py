"""What a pane brings to its sizes, worked by hand. Inputs are invented."""

from __future__ import annotations

import math

import pytest

from geometry.job import job_of
from geometry.sizing.pane_facts import PaneFacts

SLOPING = "polygon = [[0, 0], [1000, 100], [1000, 340], [0, 340]]"


def facts_of(outline: str, more: str = "") -> PaneFacts:
    job = job_of(
        f'[[pane]]\ncode = "X"\nframe = "aluminium"\nglass = {{ plies = [10] }}\noutline = {{ {outline} }}\n'
        f"limits = {{ chock_share_sloping = 70 }}\n{more}"
    )
    return PaneFacts(job, job.panes[0], job.panes[0].glass_outline)


@pytest.mark.parametrize(("size", "radius"), [((400, 900), 200), ((900, 400), 200), ((500, 500), 250)])
def test_the_largest_circle_of_a_rectangle_has_half_its_short_side(size: tuple[int, int], radius: float) -> None:
    assert facts_of(f"rectangle = {list(size)}").inscribed_radius() == radius


def test_the_largest_circle_of_an_equilateral_triangle() -> None:
    """Side / (2 √3), and at most 0,2 mm more: on the side of safety, and no more than the doc string says."""
    side, height = 600.0, 600.0 * math.sqrt(3) / 2
    found = facts_of(f"polygon = [[0, 0], [{side}, 0], [{side / 2}, {height}]]").inscribed_radius()
    true = side / (2 * math.sqrt(3))
    assert true <= found <= true + 0.2 + 1e-6


@pytest.mark.parametrize(
    ("outline", "at", "share"),
    [
        ("rectangle = [1000, 340]", "", 0.5),
        (SLOPING, "", 0.7),  # what the job says of a sloping sill
        ("rectangle = [1000, 340]", "[250, 850]", 350 / 600),  # lever of the centroid at 500 about the chock at 850
        ("rectangle = [1000, 340]", "[150, 750]", 350 / 600),
        ("rectangle = [1000, 340]", "[150, 300, 750]", 350 / 600),  # the outermost carry
    ],
)
def test_share_of_the_heavier_chock(outline: str, at: str, share: float) -> None:
    assert facts_of(outline, f"chocks = {{ at = {at} }}\n" if at else "").chock_share() == pytest.approx(share)


@pytest.mark.parametrize(("rake", "flat"), [(74.9, False), (75, True)])
def test_a_deck_light_has_no_chocks(rake: float, flat: bool) -> None:
    facts = facts_of("rectangle = [1000, 340]", f"rake = {rake}\n")
    assert (facts.flat, facts.chocked) == (flat, not flat)
