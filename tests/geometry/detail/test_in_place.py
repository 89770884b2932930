"""Bead and backfill in place by formulas: against Steiner's and Guldin's rules written out for a rectangle with round corners.

That they are the volumes and centres of the bodies is held in ``tests/geometry/solids``.
"""

from __future__ import annotations

import math

import pytest
from pane_set import subject_of

from geometry.detail.in_place import backfill_in_place, bead_in_place
from geometry.workings.fill_masses import fill_masses

JOINT, RADIUS, DEEP, WIDE, HIGH = 6.0, 60.0, 6.0, 1200.0, 600.0


def taken(detail, bottom: float) -> float:
    """What the blocks take of the backfill, mm³."""
    return sum(chock.length * chock.height * (chock.depth - bottom) for chock in detail.chocks)


def test_backfill_flush_with_the_skin():
    # Steiner: between a convex outline and its parallel curve lie perimeter × j + π j²
    detail = subject_of("odd plain").detail
    found = backfill_in_place(detail)
    perimeter = 2 * (WIDE + HIGH) - (8 - 2 * math.pi) * RADIUS
    whole = (perimeter * JOINT + math.pi * JOINT**2) * DEEP
    assert found.volume == pytest.approx(whole - taken(detail, 15 - DEEP), rel=1e-12)
    assert found.about == ""


def test_backfill_of_a_proud_pane():
    # Guldin's second rule: the section's area along the straight sides, and once round at its centroid about the corners
    detail = subject_of("odd proud of the skin").detail
    low, high = DEEP, DEEP + 2.0  # at the wall and at the glass, which stands 2 mm proud
    section = JOINT * (low + high) / 2
    from_glass = (JOINT * low * JOINT / 2 + JOINT * (high - low) / 2 * JOINT / 3) / section
    whole = section * (2 * (WIDE + HIGH - 4 * RADIUS) + 2 * math.pi * (RADIUS + from_glass))
    assert backfill_in_place(detail).volume == pytest.approx(whole - taken(detail, 13 - DEEP), rel=1e-12)


def test_bead_is_its_section_along_its_centre_line_in_the_middle_of_the_pane():
    detail = subject_of("odd plain").detail
    found = bead_in_place(detail)
    centre_line = 2 * (WIDE + HIGH) - (8 - 2 * math.pi) * RADIUS - 2 * math.pi * (8 + 15 / 2)  # a parallel curve, 15.5 mm within
    assert found.volume == pytest.approx(15 * 5 * centre_line, rel=1e-12)
    assert found.centre == pytest.approx((WIDE / 2, HIGH / 2, 2.5), abs=1e-9)


def test_what_is_near_says_so():
    assert fill_masses(subject_of("odd wall of its own, askew")).sealant.about.startswith("taken as deep everywhere as in a joint of")
    assert "fillet under it" in fill_masses(subject_of("odd fillet under the bead")).adhesive.about
    assert fill_masses(subject_of("every-key.toml K-1")).adhesive.about.startswith("as laid, which would press to")
    assert backfill_in_place(subject_of("odd glass greater than its recess").detail) is None
