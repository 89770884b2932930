"""Drawings made for the tests by ezdxf, and outlines held against each other."""

from __future__ import annotations

import io
import math

import ezdxf

from geometry.incoming.drawing import Pick, drawing_of, read_drawing
from geometry.outline.loop import Arc, Outline, Point, Vertex, segments
from geometry.outline.stations import distance_from


def new(version="R2010", units=4):
    doc = ezdxf.new(version, units=units)
    return doc, doc.modelspace()


def data_of(doc, fmt="asc"):
    if fmt == "bin":
        stream = io.BytesIO()
        doc.write(stream, fmt="bin")
        return stream.getvalue()
    stream = io.StringIO()
    doc.write(stream)
    return stream.getvalue().encode("utf-8" if doc.dxfversion >= "AC1021" else "cp1252", "dxfreplace")


def read(doc, **pick):
    data = doc if isinstance(doc, bytes) else data_of(doc)
    return read_drawing(drawing_of(data, "made.dxf"), Pick(**pick))


def farthest(one, two):
    """The greatest distance of ends and middles of each outline from the other, mm."""
    worst = 0.0
    for a, b in ((one, two), (two, one)):
        for part in segments(a):
            for share in (0.0, 0.25, 0.5, 0.75):
                worst = max(worst, distance_from(b, part.point_at(share)))
    return worst


def mapped(outline, *, scale=1.0, turn=0.0, mirror=False, shift=(0.0, 0.0)):
    """An outline mirrored about the Y axis, scaled, turned (degrees) and shifted, in this order; counter-clockwise again."""
    cosine, sine = math.cos(math.radians(turn)), math.sin(math.radians(turn))

    def place(x, y):
        x, y = scale * (-x if mirror else x), scale * y
        return x * cosine - y * sine + shift[0], x * sine + y * cosine + shift[1]

    found = [Vertex(*place(v.x, v.y), -v.bulge if mirror else v.bulge) for v in outline.vertices]
    if mirror:
        count = len(found)
        found = [Vertex(found[-i].x, found[-i].y, -found[(-i - 1) % count].bulge) for i in range(count)]
    return Outline(tuple(found))


def exploded(space, outline, *, layer="0", order=None, turned=(), flip=False):
    """Lines and arcs of an outline in a space; ``order`` shuffles them, ``turned`` are lines written backwards, ``flip`` draws arcs from -Z."""
    parts = segments(outline)
    for index in order or range(len(parts)):
        part = parts[index]
        if isinstance(part, Arc):
            start, end = (_angle(part.centre, spot) for spot in (part.start, part.end))
            if part.bulge < 0:
                start, end = end, start
            if flip:
                space.add_arc(
                    (-part.centre.x, part.centre.y),
                    part.radius,
                    180 - end,
                    180 - start,
                    dxfattribs={"layer": layer, "extrusion": (0, 0, -1)},
                )
            else:
                space.add_arc(part.centre, part.radius, start, end, dxfattribs={"layer": layer})
        else:
            ends = (part.end, part.start) if index in turned else (part.start, part.end)
            space.add_line(*ends, dxfattribs={"layer": layer})


def _angle(centre, spot):
    return math.degrees(math.atan2(spot.y - centre.y, spot.x - centre.x))


def bulged(outline, *, backwards=False):
    """The vertices of an outline for a polyline, the other way round where asked for."""
    vertices = list(outline.vertices)
    if backwards:
        count = len(vertices)
        vertices = [Vertex(vertices[-i].x, vertices[-i].y, -vertices[(-i - 1) % count].bulge) for i in range(count)]
    return [(v.x, v.y, v.bulge) for v in vertices]


__all__ = ["Outline", "Point", "Vertex", "bulged", "data_of", "exploded", "farthest", "mapped", "new", "read"]
