"""The greatest bending of the glass on a mesh that is made finer round it until the figure holds.

Terms
-----
hold
    The greatest principal moment changed by no more than 3 % when the triangles round it were halved in size.
round
    One halving of the triangles near the greatest moment. Round a corner without a radius the moment grows without end and no round
    helps: the error is told instead.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from geometry.plate.local import refined_where, sides_of
from geometry.plate.mesh import FoldedMeshError
from geometry.plate.recovery import greatest_amount
from geometry.plate.solve import solution
from geometry.plate.system import system_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from geometry.plate.solve import PlateSolution
    from geometry.plate.system import PlateSystem

    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]

HOLDS = 0.03
"""Change of the greatest moment, as a share, within which it holds."""

ROUNDS = 4
"""Most rounds; each costs one linear solution."""

REACH = 6.0
"""How far round the greatest moment the triangles are cut, in lengths of their sides there."""


@dataclass(frozen=True, slots=True, eq=False)
class GlassPeak:
    """``points`` (p, 2) mm and ``moment`` (p, 3) N there for the load; ``parents`` of the points after those of the coarse mesh, one array
    for each refinement; ``error`` the last change of the greatest moment as a share, ``holds`` within 3 %.
    """

    points: Floats
    moment: Floats
    parents: tuple[Integers, ...]
    error: float
    holds: bool


def glass_peak(coarse: PlateSolution, fine: PlateSolution, load: Callable[[PlateSystem], Floats]) -> GlassPeak:
    """The moments of the fine solution, or of further ones round the greatest of them; ``load`` makes the load on another mesh."""
    moment = fine.point_moments()
    parents = [sides_of(coarse.mesh)[0]]
    before = float(np.max(greatest_amount(coarse.point_moments())))
    system = fine.system
    mesh = fine.mesh
    for turn in range(ROUNDS + 1):
        sizes = greatest_amount(moment)
        at = int(np.argmax(sizes))
        now = float(sizes[at])
        error = abs(now - before) / now if now > 0.0 else 0.0
        if error <= HOLDS or turn == ROUNDS:
            break
        touching = np.any(mesh.triangles == at, axis=1)
        reach = REACH * float(np.sqrt(np.max(mesh.areas()[touching])))
        middle = np.mean(mesh.points[mesh.triangles], axis=1)
        near = np.hypot(*(middle - mesh.points[at]).T) <= reach
        try:
            mesh, new = refined_where(mesh, near | touching)
        except FoldedMeshError:
            break
        system = system_of(mesh, system.plate, system.bed)
        found = solution(system, load(system), fine.load)
        moment, before = found.point_moments(), now
        parents.append(new)
    return GlassPeak(mesh.points, moment, tuple(parents), error, error <= HOLDS)


__all__ = ["GlassPeak", "glass_peak"]
