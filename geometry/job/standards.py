"""Classes of general tolerances that a job may name, and how large a recess they reach.

Terms
-----
size of the recess
    Its longest side. Where the joint is still to be worked out it counts with the widest joint there may be.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal

from geometry.job.fields import Choice
from geometry.job.refusal import refuse

if TYPE_CHECKING:
    from geometry.job.pane import Pane

PaneStandard = Annotated[Literal["EN 12150-1", "EN ISO 12543-5"], Choice()]
RecessStandard = Annotated[
    Literal["ISO 13920-A", "ISO 13920-B", "ISO 13920-C", "ISO 13920-D", "ISO 2768-f", "ISO 2768-m", "ISO 2768-c", "ISO 2768-v"],
    Choice(),
]
LARGEST = {"ISO 2768-f": 2000.0, "ISO 2768-m": 4000.0, "ISO 2768-c": 4000.0, "ISO 2768-v": 4000.0}
"""mm, the end of the last row of a class; the others have no end (ISO 2768-1 as transcribed)."""


def size_of_recess(pane: Pane) -> float:
    """The longest side of the recess, mm."""
    own = pane.recess.outline
    left, bottom, right, top = (pane.outline if own is None else own).box
    longest = max(right - left, top - bottom)
    return longest if own is not None else longest + 2 * (pane.joint.width or pane.limits.joint_most)


def reached_by_its_standard(pane: Pane) -> None:
    """Refuse a class without a row for the recess."""
    named = pane.tolerances.recess_standard
    size, most = size_of_recess(pane), LARGEST.get(named or "")
    if most is not None and size > most and pane.tolerances.recess is None:
        raise refuse(
            f"found {named} for a recess of {size:g} mm, and its last row ends at {most:g} mm",
            "another class, or tolerances.recess as a figure",
            key="tolerances.recess_standard",
        )


__all__ = ["LARGEST", "PaneStandard", "RecessStandard", "reached_by_its_standard", "size_of_recess"]
