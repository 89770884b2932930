"""The entities of a layout or block as exact pieces: inserts nested, scaled, mirrored and turned, whatever side they are drawn from.

Terms
-----
frame points
    Control points that a spline-fit polyline carries beside its line; they are no part of it.
hidden
    On a layer that is switched off or frozen, or marked invisible: nobody who looks at the drawing sees it.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from geometry.incoming.incoming import IncomingError, plain
from geometry.incoming.moves import NOWHERE, Move, cross, normal_of, on_circle, own_axes, padded, placed, scale_of, unit
from geometry.incoming.pieces import SIMILAR, Chain, Drawn, Label, Piece, Place, Span
from geometry.incoming.splines import ellipse_spans, spline_spans

if TYPE_CHECKING:
    from geometry.incoming.dxf_reading import Document

MOST_ENTITIES = 100_000
"""Entities with all inserts followed; a pane's outline is one of a few thousand."""
FARTHEST = 1e12
"""Drawing units from the origin; beyond them a figure is damaged."""
DEEPEST = 60
"""Inserts in each other."""
LINES = ("LINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE", "LWPOLYLINE", "POLYLINE")
UNREAD = (
    "HATCH", "MPOLYGON", "REGION", "BODY", "3DSOLID", "MLINE", "HELIX", "TRACE", "SOLID", "3DFACE", "MESH", "SURFACE", "WIPEOUT",
    "ACAD_PROXY_ENTITY",
)  # fmt: skip
"""What may show an outline and is not read as one: it is named with the outline that was found, and in a refusal. The boundary of a
hatch follows lines that stand in the drawing as well, or did when it was made: which of the two holds, nobody but its author knows."""


def drawn_in(document: Document, space: Any, name: str, *, shown: Sequence[str] = ()) -> Drawn:
    """Everything that a layout or block shows; ``shown`` are layers that are read although they are switched off.

    Raises ``IncomingError`` for a block in itself, and for more than a drawing of panes can hold.
    """
    walker = Walker(document, {layer.casefold() for layer in shown})
    try:
        walker.walk(space, NOWHERE, "0", 0, (name,))
    except IncomingError:
        raise
    except RecursionError:
        raise IncomingError(f"the inserts of {name} stand too deep in each other", f"at most {DEEPEST} deep") from None
    return walker.found


class Walker:
    """Goes through a space with all that is inserted in it, and keeps what is drawn as exact pieces."""

    def __init__(self, document: Document, shown: set[str]) -> None:
        self.document, self.shown, self.found = document, shown, Drawn()
        self.seen = self.inserts = 0
        self._layers: dict[str, bool] = {}

    def walk(self, space: Any, move: Move, layer: str, insert: int, chain: tuple[str, ...]) -> None:
        """Take every entity of a space, moved into the drawing; ``layer`` is what layer 0 stands for, ``chain`` the blocks round it."""
        for entity in space:
            self.seen += 1
            if self.seen > MOST_ENTITIES:
                found = f"the drawing shows more than {MOST_ENTITIES} entities, inserts counted"
                raise IncomingError(found, f"at most {MOST_ENTITIES}", "save the outlines alone to a file")
            try:
                self._entity(entity, move, layer, insert, chain)
            except IncomingError:
                raise
            except RecursionError:
                raise
            except Exception as error:  # the library raises whatever a damaged entity makes it raise
                self._leave(f"damaged {entity.dxftype()} ({type(error).__name__})")

    def _leave(self, what: str) -> None:
        self.found.left_out[what] = self.found.left_out.get(what, 0) + 1

    def _say(self, what: str) -> None:
        self.found.said[what] = self.found.said.get(what, 0) + 1

    def _entity(self, entity: Any, move: Move, above: str, insert: int, chain: tuple[str, ...]) -> None:
        kind = entity.dxftype()
        layer = entity.dxf.get("layer", "0")
        if layer == "0":
            layer = above
        if kind == "INSERT":
            self._insert(entity, move, layer, insert, chain)
        elif kind in LINES or kind in UNREAD:
            if entity.dxf.get("invisible", 0) or self._hidden(layer):
                self.found.hidden[layer] = self.found.hidden.get(layer, 0) + 1
                return
            if kind in UNREAD:
                self._leave(kind)
                return
            self._line_work(entity, kind, move, layer, insert)
        elif kind in ("TEXT", "MTEXT", "ATTRIB"):
            self._text(entity, kind, move, insert)

    def _hidden(self, layer: str) -> bool:
        key = layer.casefold()
        if key not in self._layers:
            table = self.document.doc.layers
            known = table.get(layer) if table.has_entry(layer) else None
            off = known is not None and (known.is_off() or known.is_frozen())
            if off and key in self.shown:
                self.found.read_hidden.append(layer)
            self._layers[key] = off and key not in self.shown
        return self._layers[key]

    def _text(self, entity: Any, kind: str, move: Move, insert: int) -> None:
        text = entity.plain_text() if kind != "TEXT" or hasattr(entity, "plain_text") else entity.dxf.text
        plain = " ".join(_decoded(text).split())
        at = entity.dxf.get("insert", (0.0, 0.0, 0.0))
        if kind == "MTEXT":
            at = padded(at)
        else:
            if entity.dxf.get("halign", 0) or entity.dxf.get("valign", 0):
                at = entity.dxf.get("align_point", at)
            at = own_axes(padded(entity.dxf.get("extrusion", (0.0, 0.0, 1.0)))).place(padded(at))
        if plain:
            self.found.texts.append(Label(plain, move.place(at), insert))

    def _insert(self, entity: Any, move: Move, layer: str, insert: int, chain: tuple[str, ...]) -> None:
        name = str(entity.dxf.get("name", ""))
        if entity.dxf.get("invisible", 0) or (self._hidden(layer) and layer != "0"):
            self.found.hidden[layer] = self.found.hidden.get(layer, 0) + 1
            return
        block = self.document.doc.blocks.get(name)
        axes = own_axes(padded(entity.dxf.get("extrusion", (0.0, 0.0, 1.0))))
        spot = padded(entity.dxf.get("insert", (0.0, 0.0, 0.0)))
        at = move.place(axes.place(spot))
        if block is None:
            self._leave(f"INSERT of the missing block {plain(name)}")
            return
        if name.casefold() in (each.casefold() for each in chain[1:]) or len(chain) > DEEPEST:
            way = " in ".join(plain(each) for each in reversed((*chain[1:], name)))
            raise IncomingError(
                f"the block {plain(name)} stands in itself ({way}): its insert is at ({at[0]:.3f}, {at[1]:.3f})",
                "blocks that do not insert themselves",
            )
        if block.block is not None and block.block.dxf.get("flags", 0) & 0b1100:
            self._leave(f"INSERT of another file ({plain(name)})")
            return
        self.inserts += 1
        number = insert or self.inserts
        for attribute in entity.attribs:
            self._text(attribute, "ATTRIB", move, number)
        for inner in placed(entity, axes, spot, padded(block.block.dxf.get("base_point", (0.0, 0.0, 0.0)))):
            self.walk(block, move.after(inner), layer, number, (*chain, name))
            number = insert or number

    def _line_work(self, entity: Any, kind: str, move: Move, layer: str, insert: int) -> None:
        if kind == "LINE":
            dxf = entity.dxf
            start, end = move.place(padded(dxf.start)), move.place(padded(dxf.end))
            self._add((Piece(start, end),), layer, insert)
        elif kind in ("ARC", "CIRCLE"):
            self._round(entity, kind, move, layer, insert)
        elif kind == "ELLIPSE":
            self._ellipse(entity, move, layer, insert)
        elif kind == "SPLINE":
            self._spline(entity, move, layer, insert)
        else:
            self._polyline(entity, kind, move, layer, insert)

    def _add(self, pieces: tuple[Piece, ...], layer: str, insert: int, *, closed: bool = False, **more: Any) -> None:
        if not all(map(_sensible, pieces)):
            self._leave("damaged entities with figures that are no places")
            return
        chain = Chain(pieces, layer, insert, **more)
        (self.found.closed if closed else self.found.open_).append(chain)

    def _round(self, entity: Any, kind: str, move: Move, layer: str, insert: int) -> None:
        dxf = entity.dxf
        radius = float(dxf.radius)
        if not radius > 0:
            self._say("an arc or circle without a radius left out")
            return
        whole = move.after(own_axes(padded(dxf.get("extrusion", (0.0, 0.0, 1.0)))))
        x, y, z = padded(dxf.get("center", (0.0, 0.0, 0.0)))
        start = 0.0 if kind == "CIRCLE" else math.radians(dxf.start_angle)
        sweep = 2 * math.pi
        if kind == "ARC":
            sweep = math.radians((dxf.end_angle - dxf.start_angle) % 360.0)
            sweep = sweep or 2 * math.pi
        scale = scale_of(whole)
        if scale is None:
            axes = (whole.place((x, y, z)), whole.way((radius, 0.0, 0.0)), whole.way((0.0, radius, 0.0)))
            spans = tuple(ellipse_spans(*axes, start, sweep))
            ends = _ends(spans)
            closed = kind == "CIRCLE" or sweep >= 2 * math.pi
            self._add((Piece(*ends, spans=spans),), layer, insert, closed=closed, **_as_ellipse(*axes, closed))
            return
        normal = normal_of(whole)
        if sweep >= 2 * math.pi:  # a full circle: two halves
            left, right = whole.place((x - radius, y, z)), whole.place((x + radius, y, z))
            shape = {
                "shape": "circle",
                "axes": (whole.place((x, y, z)), whole.way((radius, 0.0, 0.0)), whole.way((0.0, radius, 0.0))),
            }
            self._add((Piece(right, left, 1.0, normal), Piece(left, right, 1.0, normal)), layer, insert, closed=True, **shape)
            return
        count = 2 if sweep > math.pi else 1  # no bulge runs away where an arc is nearly a circle
        spots = [on_circle(x, y, radius, start + sweep * index / count) for index in range(count + 1)]
        places = [whole.place((*spot, z)) for spot in spots]
        bulge = _bulge_of(sweep / count)
        pieces = tuple(Piece(a, b, bulge, normal) for a, b in itertools.pairwise(places))
        self._add(pieces, layer, insert)

    def _ellipse(self, entity: Any, move: Move, layer: str, insert: int) -> None:
        dxf = entity.dxf
        centre, major = padded(dxf.center), padded(dxf.major_axis)
        normal = unit(padded(dxf.get("extrusion", (0.0, 0.0, 1.0))))
        ratio = float(dxf.ratio)
        across = cross(normal, major)
        minor = (across[0] * ratio, across[1] * ratio, across[2] * ratio)
        if not math.hypot(*major) > 0 or not ratio:
            self._say("an ellipse without a size left out")
            return
        start, end = float(dxf.get("start_param", 0.0)), float(dxf.get("end_param", 2 * math.pi))
        sweep = (end - start) % (2 * math.pi)
        closed = sweep < 1e-9 or sweep > 2 * math.pi - 1e-9
        axes = (move.place(centre), move.way(major), move.way(minor))
        spans = tuple(ellipse_spans(*axes, start, 2 * math.pi if closed else sweep))
        start_at, end_at = _ends(spans)
        piece = Piece(start_at, start_at if closed else end_at, spans=spans)
        self._add((piece,), layer, insert, closed=closed, **_as_ellipse(*axes, closed))

    def _spline(self, entity: Any, move: Move, layer: str, insert: int) -> None:
        if not entity.control_point_count() and entity.fit_point_count() < 2:
            self._say("a spline without points left out")
            return
        try:
            spans = _spans_of(entity)
        except IncomingError as error:
            self._leave(f"damaged SPLINE: {error.found}")
            return
        if not entity.control_point_count():
            self._say("a spline is given by fit points alone: it is drawn as the cubic spline through them")
        moved = move.spans(spans)
        ends = _ends(moved)
        closed = math.dist(*ends) <= 1e-9 * max(1.0, *map(abs, ends[0]))
        if all(len(span) == 2 for span in moved):  # degree 1
            pieces = tuple(Piece(*_ends((span,))) for span in moved)
        else:
            pieces = (Piece(ends[0], ends[0] if closed else ends[1], spans=moved),)
        self._add(pieces, layer, insert, closed=closed)

    def _polyline(self, entity: Any, kind: str, move: Move, layer: str, insert: int) -> None:
        if kind == "POLYLINE" and not (entity.is_2d_polyline or entity.is_3d_polyline):
            self._leave("POLYLINE of a mesh")
            return
        vertices = list(_vertices(entity, kind))
        flat = kind == "LWPOLYLINE" or entity.is_2d_polyline
        axes = own_axes(padded(entity.dxf.get("extrusion", (0.0, 0.0, 1.0)))) if flat else NOWHERE
        whole = move.after(axes)
        closed = bool(entity.closed if kind == "LWPOLYLINE" else entity.is_closed)
        if len(vertices) < 2:
            self._say("a polyline of one point left out")
            return
        scale, normal = scale_of(whole), normal_of(whole)
        pieces: list[Piece] = []
        following = [*vertices[1:], vertices[0]] if closed else vertices[1:]
        for (one, bulge), (two, _) in zip(vertices, following, strict=False):
            if one == two:
                continue  # without length
            start, end = whole.place(one), whole.place(two)
            if bulge and scale is None:
                spans = whole.spans(bulged(one, two, bulge))
                pieces.append(Piece(start, end, spans=spans))
            else:
                pieces.append(Piece(start, end, bulge if scale is not None else 0.0, normal))
        if not pieces:
            self._say("a polyline without length left out")
            return
        closed = closed or (len(pieces) > 1 and pieces[0].start == pieces[-1].end)
        if closed and len(pieces) <= 2 and not any(piece.bulge or piece.spans for piece in pieces):
            closed, pieces = False, pieces[:1]  # there and back on one line
        self._add(tuple(pieces), layer, insert, closed=closed)


def _sensible(piece: Piece) -> bool:
    """Whether all figures of a piece are numbers that a drawing can have."""
    figures = [*piece.start, *piece.end, piece.bulge, *(float(value) for span in piece.spans for value in span.flat)]
    return all(abs(value) < FARTHEST for value in figures)  # not so for what is no number


def _spans_of(entity: Any) -> list[Span]:
    """The spans of a spline by control points, periodic or not, or by fit points alone."""
    if not entity.control_point_count():
        tool = entity.construction_tool()
        if entity.closed and math.dist(entity.fit_points[0], entity.fit_points[-1]) > 0:
            from ezdxf.math import fit_points_to_cad_cv

            tool = fit_points_to_cad_cv([*entity.fit_points, entity.fit_points[0]])
        return spline_spans(
            [padded(point) for point in tool.control_points], [], [float(k) for k in tool.knots()], tool.order - 1
        )
    points = [padded(point) for point in entity.control_points]
    knots, weights = [float(knot) for knot in entity.knots], [float(weight) for weight in entity.weights]
    degree = int(entity.dxf.get("degree", 3))
    if not entity.dxf.hasattr("degree") and len(knots) > len(points) + 1:
        degree = len(knots) - len(points) - 1  # a file before the year 2000, whose splines the library half reads
    if not knots:
        knots = _plain_knots(len(points), degree)
    elif entity.closed and len(knots) == len(points) + 1 > degree + 1:  # periodic: knots and points go round
        count, period = len(points), knots[-1] - knots[0]
        knots = [knots[i % count] + period * (i // count) for i in range(-degree, count + degree + 1)]
        points, weights = points + points[:degree], weights + weights[:degree]
    return spline_spans(points, weights, knots, degree)


def _decoded(text: str) -> str:
    r"""A text with its ``\\U+XXXX`` and ``%%`` signs read."""
    import re

    text = re.sub(r"\\[Uu]\+([0-9A-Fa-f]{4})", lambda sign: chr(int(sign.group(1), 16)), text)
    return text.replace("%%u", "").replace("%%U", "").replace("%%o", "").replace("%%O", "")


def _bulge_of(sweep: float) -> float:
    """The bulge of an arc; exact for a half and a quarter of a turn."""
    for exact, bulge in ((math.pi, 1.0), (math.pi / 2, 1.0 / (1.0 + math.hypot(1.0, 1.0)))):
        if abs(sweep - exact) < 1e-12:
            return bulge
    return math.tan(sweep / 4)


def _ends(spans: Sequence[Span]) -> tuple[Place, Place]:
    first, last = spans[0][0], spans[-1][-1]
    start = (float(first[0] / first[3]), float(first[1] / first[3]), float(first[2] / first[3]))
    return start, (float(last[0] / last[3]), float(last[1] / last[3]), float(last[2] / last[3]))


def _as_ellipse(centre: Place, one: Place, two: Place, closed: bool) -> dict[str, Any]:
    """What makes a chain known as an ellipse: its principal half axes, the longer one first (an affine image has others)."""
    if not closed:
        return {}
    import numpy as np

    left, sizes, _ = np.linalg.svd(np.array([one, two]).T, full_matrices=False)
    axes = [tuple(float(value) for value in left[:, i] * sizes[i]) for i in (0, 1)]
    if sizes[0] - sizes[1] <= SIMILAR * sizes[0]:
        return {"shape": "circle", "axes": (centre, one, two)}
    return {"shape": "ellipse", "axes": (centre, axes[0], axes[1])}


def bulged(one: Place, two: Place, bulge: float) -> list[Span]:
    """The arc of a polyline's side in its own axes as exact spans."""
    dx, dy = two[0] - one[0], two[1] - one[1]
    factor = (1 - bulge * bulge) / (4 * bulge)
    cx, cy = (one[0] + two[0]) / 2 - dy * factor, (one[1] + two[1]) / 2 + dx * factor
    radius = math.dist((cx, cy), one[:2])
    start = math.atan2(one[1] - cy, one[0] - cx)
    return ellipse_spans((cx, cy, one[2]), (radius, 0.0, 0.0), (0.0, radius, 0.0), start, 4 * math.atan(bulge))


def _vertices(entity: Any, kind: str) -> Iterator[tuple[Place, float]]:
    """The line's points with their bulges, in the entity's own axes; frame points are passed over."""
    if kind == "LWPOLYLINE":
        z = float(entity.dxf.get("elevation", 0.0))
        for x, y, bulge in entity.get_points("xyb"):
            yield (float(x), float(y), z), float(bulge)
        return
    spline_fit = bool(entity.dxf.get("flags", 0) & 4)
    elevation = padded(entity.dxf.get("elevation", (0.0, 0.0, 0.0)))[2] if entity.is_2d_polyline else 0.0
    for vertex in entity.vertices:
        if spline_fit and vertex.dxf.get("flags", 0) & 16:
            continue
        x, y, z = padded(vertex.dxf.location)
        flat = bool(entity.is_2d_polyline)
        yield (x, y, elevation or z if flat else z), float(vertex.dxf.get("bulge", 0.0)) if flat else 0.0


def _plain_knots(count: int, degree: int) -> list[float]:
    """Knots of a spline that is written without: open and evenly spaced."""
    inner = count - degree
    return [0.0] * degree + [float(value) for value in range(inner + 1)] + [float(inner)] * degree


__all__ = ["DEEPEST", "LINES", "MOST_ENTITIES", "Walker", "bulged", "drawn_in"]
