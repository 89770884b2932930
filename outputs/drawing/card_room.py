"""Room on the fitter's card: the account of the ink of one picture, its strokes as wide as they are drawn.

All in paper millimetres. A text keeps 1.5 mm from every other text and 0.7 mm from every line; its box is the ink's.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.drawing.card_hand import APART, HEIGHT, LAYERS, MARGIN, OFF_LINE, WIDTH
from outputs.sheet.entities import Hatch, Path
from outputs.sheet.keep_clear import KeepClear

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Mark

HALVES = {layer.name: layer.width / 2 for layer in LAYERS}
ON_BLACK = frozenset(("ON_PLATES", "OVER", "LIGHT", "TOP"))
"""Layers of what lies on black that counts already."""
PAGE: Box = (MARGIN, MARGIN, WIDTH - MARGIN, HEIGHT - MARGIN)


def card_room(page: Box = PAGE) -> KeepClear:
    """An empty account of a part of the card that no text may leave."""
    return KeepClear(scale=1.0, clear=OFF_LINE, apart=APART, within=page, halves=HALVES)


def standing(marks: Iterable[Mark]) -> Iterator[Mark]:
    """What counts of marks as ink: of a black area its edges, and nothing that lies on one."""
    for mark in marks:
        if mark.layer in ON_BLACK:
            continue
        if isinstance(mark, Hatch):
            yield from (Path(mark.layer, nodes, True) for nodes in mark.boundaries)
        else:
            yield mark


def beyond_its_start(mark: Path) -> Path:
    """A straight line without its first tenth: where it begins it may touch what it comes from."""
    (x1, y1, _), (x2, y2, _) = mark.nodes[0], mark.nodes[-1]
    return Path(mark.layer, ((x1 + 0.1 * (x2 - x1), y1 + 0.1 * (y2 - y1), 0.0), (x2, y2, 0.0)), False)


def leads_clear(leader: list[Mark], room: KeepClear) -> bool:
    """Whether a straight leader, if there is one, runs through no text and crosses no line but where it begins."""
    return room.clear_of_texts(leader) and room.clear_of_strokes(
        beyond_its_start(mark) for mark in leader if isinstance(mark, Path)
    )


__all__ = ["PAGE", "beyond_its_start", "card_room", "leads_clear", "standing"]
