"""Areas of a picture: what of shapely's answers has an area, with corners on a grid, so that sums of areas that touch stay sound.

Areas that touch along an edge have a line in common, and a ring that runs over itself falls into areas and lines. A line covers nothing
of a picture, and shapely refuses to put lines and areas together: every answer here is areas alone.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    Run = Sequence[tuple[float, float]]


def area_of(outer: Run, holes: Iterable[Run] = ()) -> Any:
    """The area within a closed run, mm of the picture, less its holes; of a run that touches or crosses itself what it encloses."""
    from shapely import Polygon, make_valid

    return only_areas(make_valid(Polygon(outer, list(holes))))


def only_areas(shape: Any) -> Any:
    """What of a shape has an area: one polygon or several; an empty one where nothing has."""
    from shapely import MultiPolygon, Polygon

    found = polygons_of(shape)
    return found[0] if len(found) == 1 else MultiPolygon(found) if found else Polygon()


def polygons_of(shape: Any) -> list[Any]:
    """The polygons of a shape one by one; lines and points are left out."""
    if shape.geom_type == "Polygon":
        return [] if shape.is_empty else [shape]
    return [each for part in getattr(shape, "geoms", ()) for each in polygons_of(part)]


def together(areas: Iterable[Any], grid: float) -> Any:
    """The sum of areas with its corners on a grid of so many mm."""
    from shapely import union_all

    return only_areas(union_all(list(areas), grid_size=grid))


def common(one: Any, other: Any, grid: float) -> Any:
    """What two areas have in common, with its corners on a grid of so many mm."""
    return only_areas(one.intersection(other, grid_size=grid))


def without(one: Any, other: Any, grid: float) -> Any:
    """What of an area is left beside another one, with its corners on a grid of so many mm."""
    return only_areas(one.difference(other, grid_size=grid))


__all__ = ["area_of", "common", "only_areas", "polygons_of", "together", "without"]
