"""Lists of points as a job file types them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from geometry.job.fields import PLACE, Schema
from geometry.job.refusal import refuse
from geometry.job.units import shown

MOST_POINTS = 500
MOST_BULGE = 100


@dataclass(frozen=True, slots=True)
class _Points:
    """A reader of points ``[x, y]``, or ``[x, y, bulge]`` where three entries are among the ``lengths``."""

    lengths: tuple[int, ...]
    example: str

    def __call__(self, value: Any) -> tuple[tuple[float, ...], ...]:
        if not isinstance(value, (list, tuple)):
            raise refuse(f"found {shown(value)}", f"a list of points such as {self.example}")
        if not 2 <= len(value) <= MOST_POINTS:
            raise refuse(f"found {len(value)} points", f"2 to {MOST_POINTS}")
        points = []
        for i, point in enumerate(value):
            if not isinstance(point, (list, tuple)) or len(point) not in self.lengths:
                raise refuse(f"found {shown(point)}", f"points such as {self.example}", key=str(i))
            points.append(tuple(_coordinate(entry, point=i, place=place) for place, entry in enumerate(point)))
        return tuple(points)

    def schema(self) -> Schema:
        """What may be typed: x and y as measures, the bulge as a bare number."""
        entries = [PLACE.schema(), PLACE.schema(), {"type": "number", "minimum": -MOST_BULGE, "maximum": MOST_BULGE}]
        count = max(self.lengths)
        point = {"type": "array", "prefixItems": entries[:count], "items": False, "minItems": min(self.lengths)}
        return {"type": "array", "items": point, "minItems": 2, "maxItems": MOST_POINTS}


def _coordinate(entry: Any, *, point: int, place: int) -> float:
    if place == 2:  # the bulge: a bare number
        if isinstance(entry, bool) or not isinstance(entry, (int, float)) or not -MOST_BULGE <= entry <= MOST_BULGE:
            allowed = "a number from -100 to 100; 0 is straight, 1 is half a circle"
            raise refuse(f"the bulge is {shown(entry)}", allowed, key=str(point))
        return float(entry)
    try:
        return PLACE.read(entry)
    except ValueError as error:
        context = getattr(error, "context", None) or {}
        raise refuse(f"{'xy'[place]}: {context.get('found', error)}", context.get("allowed", ""), key=str(point)) from None


CORNERS = _Points((2,), "[[0, 0], [900, 0], [900, 400]]")
VERTICES = _Points((2, 3), "[[x, y], [x, y, bulge]]")


__all__ = ["CORNERS", "VERTICES"]
