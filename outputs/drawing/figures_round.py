"""Figures lettered round a closed line, each beside its place, clear of one another and of the lines.

Terms
-----
lettered place
    A place of the line, the direction in which its figure stands from it, the figure, and how much it weighs: where two would
    meet, the one that weighs less gives way.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from outputs.sheet.keep_clear import KeepClear

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from outputs.sheet.entities import Mark, Place, Text
    from outputs.sheet.pencil import Pencil

APART = 15.0  # paper mm along the line from one figure to the next
CLEAR = 0.5  # paper mm between figures and to lines
REACHES = (1.0, 2.5, 4.5, 7.0)  # paper mm from place to figure, tried in turn


@dataclass(frozen=True, slots=True)
class Lettered:
    """A place (model mm), the unit vector from it to its figure, the figure, and its weight."""

    place: Place
    outward: Place
    figure: str
    weight: float


def figures_round(entries: Sequence[Lettered], standing: Sequence[Mark], pencil: Pencil, *, apart: float = APART) -> list[Text]:
    """The figures of the places that lie ``apart`` (paper mm) from one another; one without room is left out."""
    clear = KeepClear(scale=pencil.scale, clear=CLEAR)
    clear.add(standing)
    chosen = [entries[index] for index in spread([entry.place for entry in entries], pencil.paper(apart))]
    texts = []
    for entry in sorted(chosen, key=lambda entry: -round(entry.weight, 9)):
        text = clear.first_free(_beside(entry, pencil, reach) for reach in REACHES)
        if text is not None:
            texts.append(text)
    return texts


def _beside(entry: Lettered, pencil: Pencil, reach: float) -> Text:
    """The figure with its box ``reach`` paper mm from the place: beside it left or right, above or below it in the middle."""
    x, y = entry.outward
    half = pencil.width(entry.figure) / 2.0
    away = pencil.paper(reach) + half * abs(x) + pencil.paper(pencil.style.text / 2.0) * abs(y)
    middle = (entry.place[0] + x * away, entry.place[1] + y * away)
    return pencil.text("TEXT", middle, entry.figure, align="middle", centred=True)


def spread(places: Sequence[Place], apart: float) -> Iterator[int]:
    """Numbers of the places round a closed line that lie about ``apart`` mm from one another along it, the first included."""
    if not places:
        return
    steps = [math.dist(a, b) for a, b in zip(places, (*places[1:], places[0]), strict=True)]
    total = math.fsum(steps)
    wanted = max(1, math.floor(total / apart + 1e-9))
    along, number = 0.0, 0
    for index, step in enumerate(steps):
        if along >= number * total / wanted - 1e-9 * total and number < wanted:
            yield index
            number += 1
        along += step


__all__ = ["Lettered", "figures_round", "spread"]
