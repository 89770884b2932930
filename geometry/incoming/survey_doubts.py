"""What the points of a survey do not tell by themselves: a slip among them, a circle or a polygon, a chamfer or a rounding."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from geometry.incoming.curve_fits import fit_circle
from geometry.incoming.survey_cuts import STEP
from geometry.incoming.survey_faults import Fault, SurveyError

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from geometry.incoming.survey_outline import SurveyedEdge

    Points = NDArray[np.float64]
else:
    Points = Any

SPIKE, SPIKE_SHARE = 8.0, 0.2
"""A point off the line of its four neighbours by this many times the accuracy, they by no more than this share of it, stands out (own defaults)."""
CHAMFER = 0.3
"""Length of an edge of two points, over its neighbours', below which it may be a rounding (own default)."""


def spikes_of(ring: Points, accuracy: float) -> list[int]:
    """Places in the ring of points that stand off the straight line of their four neighbours."""
    import numpy as np

    if len(ring) < 8:
        return []
    beside = np.stack([np.roll(ring, shift, axis=0) for shift in (2, 1, -1, -2)])
    middle = beside.mean(axis=0)
    off = beside - middle
    xx, yy, xy = (off[..., 0] ** 2).sum(axis=0), (off[..., 1] ** 2).sum(axis=0), (off[..., 0] * off[..., 1]).sum(axis=0)
    angle = np.arctan2(2.0 * xy, xx - yy) / 2.0
    across = np.stack((-np.sin(angle), np.cos(angle)))
    apart = np.abs((ring[:, 0] - middle[:, 0]) * across[0] + (ring[:, 1] - middle[:, 1]) * across[1])
    others = np.abs(off[..., 0] * across[0] + off[..., 1] * across[1]).max(axis=0)
    return [
        int(at) for at in np.flatnonzero((apart > SPIKE * accuracy) & (others < np.maximum(SPIKE_SHARE * apart, 2.0 * accuracy)))
    ]


def refuse_corners_of_a_circle(called: str, ring: Points, names: Sequence[frozenset[str]], accuracy: float) -> None:
    """Six to eleven points at even distances on a circle are the corners of a polygon, or a round opening: not told by themselves."""
    import numpy as np

    if any(names) or not 6 <= len(ring) <= math.ceil(2 * math.pi / STEP):
        return
    found = fit_circle(ring, accuracy=accuracy)
    if found is None or max(abs(value) for value in found.residuals) > 2.0 * accuracy:
        return
    sides = np.hypot(*(np.roll(ring, -1, axis=0) - ring).T)
    if float(sides.max()) < 1.5 * float(sides.min()):
        fault = Fault(
            0, 0, f"{len(ring)} points on a circle of radius {found.radius:.0f} mm, which may be the corners of a polygon",
            "twelve points or more on a round opening, or one name of an edge for all of them; an edge's name for each side of a polygon",
        )  # fmt: skip
        raise SurveyError(called, [fault])


def chamfers_told(ring: Points, edges: Sequence[SurveyedEdge], lines: Sequence[int]) -> list[str]:
    """Short edges of two points between long ones: as likely a rounding of which too little was taken."""
    import numpy as np

    lengths = [float(np.hypot(*(ring[edge.points[-1]] - ring[edge.points[0]]))) for edge in edges]
    found = []
    for place, edge in enumerate(edges):
        beside = min(lengths[place - 1], lengths[(place + 1) % len(edges)])
        if len(edge.points) == 2 and lengths[place] < CHAMFER * beside:
            a, b = sorted(lines[at] for at in edge.points)
            found.append(
                f"straight between lines {a} and {b}, which may be a rounding: a third point there, or radius, would tell"
            )
    return found


__all__ = ["chamfers_told", "refuse_corners_of_a_circle", "spikes_of"]
