"""Balloons with the item numbers of the parts list beside the parts of an exploded view.

Terms
-----
spot
    A place well within what is seen of a part, at which its leader ends.
side
    The direction from a part to its balloon, degrees; a few that suit the slope of the view are tried, the same for all parts first.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from geometry.solids.areas import together
from outputs.drawing.balloons import RADIUS, Item, balloon
from outputs.sheet.outcomes import ItemNumber
from outputs.sheet.runs import line, polar

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Sequence

    from outputs.drawing.exploded_view import ExplodedView
    from outputs.sheet.entities import Mark, Place
    from outputs.sheet.keep_clear import KeepClear
    from outputs.sheet.pencil import Pencil

SIDES = (105.0, 120.0, 90.0, 135.0, 75.0, 150.0, -60.0, -75.0, -45.0, -90.0, 60.0, 45.0, 0.0, -30.0, -120.0, 180.0)
"""The first is wanted most: up and away from the slope."""
REACHES = (10.0, 13.0, 16.0, 20.0, 24.0, 29.0, 35.0, 42.0, 50.0, 60.0)  # paper mm from spot to balloon
SCANS = 14  # lines across a part, and as many upwards
WELL_WITHIN = (1.0, 0.45, 0.2)  # paper mm from the edge of a part to a spot
WELL_SEEN = 0.6  # of the largest piece that is seen of a part: a sliver of one that is mostly hidden is not led to
OVER_OTHERS, TURNED = 4.0, 0.35  # what a mm of a leader over another part counts, and each step of the sides
HIDDEN = "hidden behind other parts"
NO_PLACE = "no free place on the view"


def balloons(view: ExplodedView, items: Collection[str], pencil: Pencil, room: KeepClear) -> list[Mark]:
    """A balloon for each of the items; what becomes of each is told to ``room``."""
    covered: dict[str, Any] = {}
    for part, shape in zip(view.parts, view.silhouettes, strict=True):
        covered.setdefault(part.item, []).append(shape)
    grid = 0.001 / pencil.scale
    wholes = {item: together(shapes, grid) for item, shapes in covered.items()}
    every = together(wholes.values(), grid)
    marks: list[Mark] = []
    for item in sorted(items, key=lambda each: _from_left(wholes.get(each))):
        if item not in wholes or wholes[item].is_empty:
            room.tabled(ItemNumber(item), HIDDEN)
            continue
        found = _best(item, wholes, every, pencil, room)
        if found is None:
            room.tabled(ItemNumber(item), NO_PLACE)
            continue
        spot, centre = found
        drawn = balloon(Item(item, spot), centre, pencil)
        room.add(drawn)
        room.block(_round(centre, pencil.paper(RADIUS * pencil.style.text / 2.5)))
        room.lead(line("ITEM_LEADERS", centre, spot))
        room.drawn(ItemNumber(item))
        marks += drawn
    return marks


def _from_left(shape: Any) -> float:
    return math.inf if shape is None or shape.is_empty else round(shape.bounds[0], 6)


def _round(centre: Place, radius: float) -> tuple[float, float, float, float]:
    return centre[0] - radius, centre[1] - radius, centre[0] + radius, centre[1] + radius


def _best(item: str, wholes: dict[str, Any], every: Any, pencil: Pencil, room: KeepClear) -> tuple[Place, Place] | None:
    """The spot and the middle of the balloon that cost least: on a piece that is well seen, else on any."""
    whole = wholes[item]
    others = together([shape for name, shape in wholes.items() if name != item], 0.001 / pencil.scale)
    pieces = getattr(whole, "geoms", (whole,))
    least = WELL_SEEN * max(piece.area for piece in pieces)
    seen = type(whole)([piece for piece in pieces if piece.area >= least]) if len(pieces) > 1 else whole
    found = _least(_spots(seen, pencil), others, every, pencil, room)
    return found if found is not None or seen is whole else _least(_spots(whole, pencil), others, every, pencil, room)


def _least(spots: Sequence[Place], others: Any, every: Any, pencil: Pencil, room: KeepClear) -> tuple[Place, Place] | None:
    """The spot of these and the middle of its balloon that cost least."""
    from shapely import LineString, prepare
    from shapely import Point as Spot

    radius = pencil.paper(RADIUS * pencil.style.text / 2.5)
    prepare(every)
    best: tuple[float, Place, Place] | None = None
    for spot in spots:
        for step, side in enumerate(SIDES):
            for reach in REACHES:
                cost = reach + TURNED * step
                if best is not None and cost >= best[0]:
                    break
                centre = polar(spot, side, pencil.paper(reach))
                if not room.free(_round(centre, radius)) or every.distance(Spot(*centre)) < radius + pencil.paper(1.0):
                    continue
                leader = line("ITEM_LEADERS", polar(centre, side + 180.0, radius), spot)
                if not room.leads(leader) or not room.clear_of_texts((leader,)):
                    continue
                run = LineString([each[:2] for each in leader.nodes])
                cost += OVER_OTHERS * run.intersection(others).length * pencil.scale
                if best is None or cost < best[0]:
                    best = (cost, spot, centre)
    return None if best is None else best[1:]


def _spots(shape: Any, pencil: Pencil) -> Sequence[Place]:
    """Spots of a part, from its upper end downwards: in the middle of what lines across and upwards cut out of it."""
    hair = pencil.paper(0.05)
    whole = shape.buffer(hair)  # its faces in one
    for within in WELL_WITHIN:
        inner = whole.buffer(-hair - pencil.paper(within))
        if not inner.is_empty:
            middles = [*_middles(inner), *((each.x, each.y) for each in map(_within, getattr(inner, "geoms", (inner,))))]
            found = {(round(x, 6), round(y, 6)) for x, y in middles}
            return sorted(found, key=lambda at: (-at[1], at[0]))
    at = shape.representative_point()
    return [(at.x, at.y)]


def _within(shape: Any) -> Any:
    return shape.representative_point()


def _middles(shape: Any) -> Iterator[Place]:
    from shapely import LineString

    left, low, right, high = shape.bounds
    for step in range(SCANS):
        share = (step + 0.5) / SCANS
        x, y = left + share * (right - left), low + share * (high - low)
        for run in (LineString([(left - 1.0, y), (right + 1.0, y)]), LineString([(x, low - 1.0), (x, high + 1.0)])):
            cut = run.intersection(shape)
            for part in getattr(cut, "geoms", (cut,)):
                if part.geom_type == "LineString" and part.length > 0:
                    at = part.interpolate(0.5, normalized=True)
                    yield at.x, at.y


__all__ = ["balloons"]
