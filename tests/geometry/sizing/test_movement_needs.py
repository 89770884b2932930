"""Movement of the sides of a pane by heat and moisture, worked by hand. Inputs are invented."""

from __future__ import annotations

import math

import pytest

from geometry.job import job_of
from geometry.sizing.movement_needs import PaneMovement

JOB = """
[materials.glass]
expansion = 9e-6
[[pane]]
code = "X"
frame = { material = "timber_along", expansion = 23e-6 }
glass = { plies = [10] }
outline = { rectangle = [1000, 600], radius = 40 }
temperatures = { bonding = 20, cases = { warm = { frame = 40, glass = 20 }, cold = { frame = -10, glass = 0 } } }
timber = { stile_width = 90, swell_percent = 0.25, moisture_change = 4 }
"""


@pytest.mark.parametrize("chocked", [True, False])
def test_sides_open_close_and_slide(chocked: bool) -> None:
    """Bonded at 20. Warm: 23e-6 × 20 = 4,6e-4 opens; cold: -23e-6 × 30 + 9e-6 × 20 = -5,1e-4 closes. From the fixed point 500 to the jamb,
    and to the head 600 on chocks, 300 without. The stile swells 90 × 0,0025 × 4 = 0,9 into the joint.
    """
    job = job_of(JOB)
    moves = PaneMovement(job, job.panes[0], width=1000, height=600, chocked=chocked, rounded=True)
    up = 600 if chocked else 300
    jamb, head, corner = moves.sides()
    assert jamb == pytest.approx((4.6e-4 * 500, 5.1e-4 * 500 + 0.9, 5.1e-4 * up))
    assert head == pytest.approx((4.6e-4 * up, 5.1e-4 * up + 0.9, 5.1e-4 * 500))
    far = math.hypot(500, up)
    assert corner == pytest.approx((4.6e-4 * far, 5.1e-4 * far + 0.9, 0))
    assert moves.of_the_joint == pytest.approx(5.1e-4 * max(500, up))
    assert moves.of_the_bead == pytest.approx(5.1e-4 * far)
    assert len(PaneMovement(job, job.panes[0], width=1000, height=600, chocked=chocked).sides()) == 2
