"""Room on the fitter's card: the account of the ink of one picture, its strokes as wide as they are drawn.

All in paper millimetres. A text keeps 1.5 mm from every other text and 0.7 mm from every line; its box is the ink's.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from outputs.drawing.card_hand import APART, HEIGHT, LAYERS, MARGIN, OFF_LINE, WIDTH
from outputs.sheet.boxes import box_of_text
from outputs.sheet.entities import Hatch, Path
from outputs.sheet.keep_clear import KeepClear
from outputs.sheet.moving import shifted
from outputs.sheet.runs import line

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Mark, Place, Text

HALVES = {layer.name: layer.width / 2 for layer in LAYERS}
ON_BLACK = frozenset(("ON_PLATES", "OVER", "LIGHT", "TOP"))
"""Layers of what lies on black that counts already."""
FARTHEST = 46  # paper mm to a text that is led to its place
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


def led_text(
    text: Text, start: Place, room: KeepClear, *, inside: Callable[[Place], bool] | None = None, farthest: int | None = None
) -> list[Mark]:
    """A text, given at any place, as near to ``start`` as it is clear, with a leader from there; empty where there is no place.

    The leader runs through no text; one that crosses no line either is taken first, and alone where ``farthest`` says how far it may
    reach. ``inside`` keeps the text to a part of the picture.
    """
    left, low, right, high = box_of_text(text, 1.0)
    for crossing in (False, True) if farthest is None else (False,):
        for x, y in round_about(start, FARTHEST if farthest is None else farthest):
            dx, dy = x - (left + right) / 2, y - (low + high) / 2
            moved = (left + dx, low + dy, right + dx, high + dy)
            if (inside is not None and not inside((x, y))) or not room.free(moved):
                continue
            end = (min(max(start[0], moved[0]), moved[2]), min(max(start[1], moved[1]), moved[3]))
            long = math.dist(start, end)
            if long < 2.5:
                continue
            share = 1.0 - 1.3 / long
            leader: list[Mark] = [
                line("DIMENSIONS", start, (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])))
            ]
            if room.clear_of_texts(leader) if crossing else leads_clear([line("DIMENSIONS", start, end)], room):
                return [shifted(text, dx, dy), *leader]
    return []


def round_about(place: Place, farthest: int = FARTHEST) -> Iterator[Place]:
    """Places all round, the nearest first, paper mm."""
    for reach in range(4, farthest):
        for turn in range(0, 360, 15):
            yield place[0] + reach * math.cos(math.radians(turn)), place[1] + reach * math.sin(math.radians(turn))


__all__ = ["PAGE", "beyond_its_start", "card_room", "leads_clear", "led_text", "round_about", "standing"]
