"""Closed loops of true lines and arcs: making, measuring, offsetting."""

from geometry.outline.corners import Corner, StraightRun, corners, over_the_arcs, straight_runs
from geometry.outline.ellipse import ellipse_deviation
from geometry.outline.loop import Arc, Line, Outline, OutlineError, Point, Segment, Vertex, circle_of, segments
from geometry.outline.measure import (
    Box,
    SecondMoments,
    area,
    bounding_box,
    centroid,
    mirrored,
    moved,
    other_hand,
    perimeter,
    second_moments,
)
from geometry.outline.offset import OffsetError, offset
from geometry.outline.rounding import offset_rounded, rounded
from geometry.outline.shapes import circle, ellipse, path, polygon, rectangle
from geometry.outline.stations import (
    Station,
    comes_within,
    distance_between,
    distance_from,
    nearest_station,
    point_in,
    ray_hits,
    ray_length,
    station_at,
)

__all__ = [
    "Arc",
    "Box",
    "Corner",
    "Line",
    "OffsetError",
    "Outline",
    "OutlineError",
    "Point",
    "SecondMoments",
    "Segment",
    "Station",
    "StraightRun",
    "Vertex",
    "area",
    "bounding_box",
    "centroid",
    "circle",
    "circle_of",
    "comes_within",
    "corners",
    "distance_between",
    "distance_from",
    "ellipse",
    "ellipse_deviation",
    "mirrored",
    "moved",
    "nearest_station",
    "offset",
    "offset_rounded",
    "other_hand",
    "over_the_arcs",
    "path",
    "perimeter",
    "point_in",
    "polygon",
    "ray_hits",
    "ray_length",
    "rectangle",
    "rounded",
    "second_moments",
    "segments",
    "station_at",
    "straight_runs",
]
