"""Where the views of a sheet stand: groups of views with their tops in line, packed with as much air as the sheet gives.

Terms
-----
group
    Views that belong together (the sections), set in a grid: columns of one width, tops of a row in line.
air
    Room between two groups, paper mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from math import fsum
from typing import TYPE_CHECKING

from outputs.sheet.arrangement import Steps, arrange

if TYPE_CHECKING:
    from collections.abc import Iterator

    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Place

Size = tuple[float, float]
ALL_OF_IT = 1.0  # paper mm squared by which boxes may be taken for larger than the space that holds them, by rounding
AIRS = (30.0, 22.0, 15.0, 9.0, 5.0, 0.0)


@dataclass(frozen=True, slots=True)
class Grid:
    """A group in its grid: overall size, and the lower left corner of each member from the group's lower left corner."""

    width: float
    height: float
    places: tuple[Place, ...]


def grid(sizes: Sequence[Size], columns: int) -> Grid:
    """Members in rows of ``columns``, left aligned, their tops in line.

    >>> grid([(4, 2), (3, 3), (5, 1)], 2)
    Grid(width=8.0, height=4.0, places=((0.0, 2.0), (5.0, 1.0), (0.0, 0.0)))
    """
    if len(sizes) == 1:
        return Grid(float(sizes[0][0]), float(sizes[0][1]), ((0.0, 0.0),))
    rows = [list(range(start, min(start + columns, len(sizes)))) for start in range(0, len(sizes), columns)]
    widths = [max(float(sizes[row[column]][0]) for row in rows if column < len(row)) for column in range(len(rows[0]))]
    heights = [max(float(sizes[index][1]) for index in row) for row in rows]
    places: list[Place] = []
    top = fsum(heights)
    for row, high in zip(rows, heights, strict=True):
        for column, index in enumerate(row):
            places.append((float(fsum(widths[:column])), top - sizes[index][1]))
        top -= high
    return Grid(fsum(widths), fsum(heights), tuple(places))


def set_in_groups(
    groups: Sequence[Sequence[Size]], *, space: Box, beside: Sequence[int] = (), known: Steps | None = None
) -> list[list[Place]] | None:
    """Lower left corners of all members, group by group, or None where the space does not hold them.

    Every grid that each group allows is tried, in the order given and by height, width and area, with the groups ``beside`` (tables) at the
    right or among the rest; the one with the most air wins, and of those the one that comes first. ``known`` as in ``arrange``.
    """
    steps: Steps = {} if known is None else known
    trials = list(_trials(groups, space, beside, steps))
    for air in AIRS:
        for chosen, order, right in trials:
            places = _packed(chosen, order, right, air, space, steps)
            if places is not None:
                return [
                    [(x + air / 2 + dx, y + air / 2 + dy) for dx, dy in g.places]
                    for (x, y), g in zip(places, chosen, strict=True)
                ]
    return None


def find_room(groups: Sequence[Sequence[Size]], *, space: Box, beside: Sequence[int] = (), known: Steps) -> bool:
    """Whether the space holds all members, as ``set_in_groups`` would set them; ``known`` as there."""
    return next(_trials(groups, space, beside, known), None) is not None


def _trials(
    groups: Sequence[Sequence[Size]], space: Box, beside: Sequence[int], steps: Steps
) -> Iterator[tuple[tuple[Grid, ...], tuple[int, ...], tuple[int, ...]]]:
    """Every grid of each group, order of the groups, and those of them at the right, with which the space holds all of them."""
    grids = [_grids(group) for group in groups]
    if fsum(min(g.width * g.height for g in each) for each in grids) > _area(space) + ALL_OF_IT:
        return
    for chosen in product(*grids):
        for right in (tuple(beside), ()) if beside else ((),):
            for order in _orders(chosen, right):
                if _packed(chosen, order, right, 0.0, space, steps) is not None:
                    yield chosen, order, right


def _area(space: Box) -> float:
    return (space[2] - space[0]) * (space[3] - space[1])


def _packed(
    grids: Sequence[Grid], order: Sequence[int], right: Sequence[int], air: float, space: Box, steps: Steps
) -> list[Place] | None:
    """Lower left corners in the order of the grids, placed one after another in ``order``."""
    sizes = [(grids[index].width + air, grids[index].height + air) for index in order]
    if fsum([width * height for width, height in sizes]) > _area(space) + ALL_OF_IT:
        return None
    places = arrange(sizes, space=space, to_right=[at for at, index in enumerate(order) if index in right], known=steps)
    if places is None:
        return None
    found = dict(zip(order, places, strict=True))
    return [found[index] for index in range(len(grids))]


def _orders(grids: Sequence[Grid], first: Sequence[int]) -> list[tuple[int, ...]]:
    """Orders to place the groups in: the plan (group 0) comes first and so stands at the upper left, then the groups ``first``."""
    rest = [index for index in range(1, len(grids)) if index not in first]
    heights, widths, areas = [-g.height for g in grids], [-g.width for g in grids], [-g.width * g.height for g in grids]
    orders = [(0, *first, *rest), *((0, *first, *sorted(rest, key=by.__getitem__)) for by in (heights, widths, areas))]
    return list(dict.fromkeys(orders))


def _grids(sizes: Sequence[Size]) -> list[Grid]:
    """The grids of a group: squarest first."""
    count = len(sizes)
    wanted = {1: (1,), 2: (2, 1), 3: (3, 1, 2), 4: (2, 4, 1)}.get(count, (3, 2, 4, 1))
    return [grid(sizes, columns) for columns in wanted]


__all__ = ["Grid", "find_room", "grid", "set_in_groups"]
