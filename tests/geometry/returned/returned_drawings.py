"""Drawings as a glass maker might send them back, invented from a pane of the samples: ``python tests/geometry/returned/returned_drawings.py`` writes those
of the samples folder anew.

Every drawing is made by ezdxf from outlines in memory: frame, title block, texts, and outline and print as polylines, as arcs or as
hundreds of lines, in any unit, turned, mirrored, shifted.
"""

from __future__ import annotations

import io
import random
import sys
from dataclasses import dataclass
from pathlib import Path

if __name__ == "__main__":
    sys.path[:0] = [str(Path(__file__).parents[3]), str(Path(__file__).parents[1] / "compare")]

from compared_outlines import chopped

from geometry.compare.move import Move
from geometry.detail.build import build_detail
from geometry.job import read_job
from geometry.outline import Outline, bounding_box, circle, moved, offset_rounded, polygon

SAMPLES = Path(__file__).parents[3] / "samples"
VESSEL = SAMPLES / "sallow-wren.toml"
STRAIGHT = Move()


@dataclass(frozen=True)
class Returned:
    """What a drawing shows and how: outlines in the pane's coordinates, mm, and the move that lays the pane into the drawing.

    ``lines``: into how many straight lines each outline is exploded, 0 for polylines with bulges. ``unit`` is the header's $INSUNITS.
    """

    glass: Outline
    solid: Outline | None = None
    dots: tuple[tuple[float, float, float], ...] = ()
    texts: tuple[tuple[str, float, float], ...] = ()
    move: Move = STRAIGHT
    lines: int = 0
    unit: int = 4
    glass_layer: str = "0"
    print_layer: str = "0"
    framed: bool = True
    version: str = "R2000"


def dxf_of(drawn: Returned) -> bytes:
    """The drawing as a DXF file."""
    import ezdxf

    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True  # the same drawing gives the same bytes
    try:
        return _dxf_of(drawn)
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def _dxf_of(drawn: Returned) -> bytes:
    import ezdxf

    document = ezdxf.new(drawn.version, setup=False)
    if drawn.version != "R12":
        document.header["$INSUNITS"] = drawn.unit
    for name in sorted({drawn.glass_layer, drawn.print_layer, "DOTS", "SHEET"} - {"0"}):
        document.layers.add(name)
    model = document.modelspace()
    for outline, layer in ((drawn.glass, drawn.glass_layer), (drawn.solid, drawn.print_layer)):
        if outline is not None:
            _outline(model, drawn, outline, layer)
    for x, y, radius in drawn.dots:
        at = drawn.move.place(x, y)
        model.add_circle(at, radius * drawn.move.scale, dxfattribs={"layer": "DOTS"})
    if drawn.framed:
        _frame(model, drawn)
    for text, x, y in drawn.texts:
        attributes = {"layer": "SHEET", "height": 12 * drawn.move.scale, "insert": drawn.move.place(x, y)}
        model.add_text(text, dxfattribs=attributes)
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode("cp1252" if drawn.version == "R12" else "utf-8")


def _outline(model: object, drawn: Returned, outline: Outline, layer: str) -> None:
    there = drawn.move.outline(chopped(outline, drawn.lines) if drawn.lines else outline)
    if not drawn.lines:
        nodes = [(v.x, v.y, v.bulge) for v in there.vertices]
        if drawn.version == "R12":
            model.add_polyline2d(nodes, format="xyb", close=True, dxfattribs={"layer": layer})
        else:
            model.add_lwpolyline(nodes, format="xyb", close=True, dxfattribs={"layer": layer})
        return
    ends = list(zip(there.vertices, (*there.vertices[1:], there.vertices[0]), strict=True))
    dice = random.Random(1)
    dice.shuffle(ends)
    for start, end in ends:
        one, other = (start, end) if dice.random() < 0.5 else (end, start)
        model.add_line((one.x, one.y), (other.x, other.y), dxfattribs={"layer": layer})


def _frame(model: object, drawn: Returned) -> None:
    """A frame round it and a title block of cells, as lines and rectangles of no pane's shape."""
    there = bounding_box(drawn.move.outline(drawn.glass))
    off = 0.15 * max(there.width, there.height)
    left, bottom, right, top = there.left - off, there.bottom - 2.2 * off, there.right + off, there.top + off
    box = [(left, bottom), (right, bottom), (right, top), (left, top)]
    model.add_lwpolyline(box, close=True, dxfattribs={"layer": "SHEET"}) if drawn.version != "R12" else model.add_polyline2d(
        box, close=True, dxfattribs={"layer": "SHEET"}
    )
    for share in (0.2, 0.4, 0.6):
        y = bottom + share * off
        model.add_line((right - 3 * off, y), (right, y), dxfattribs={"layer": "SHEET"})
    for x in (right - 3 * off, right - 1.4 * off):
        model.add_line((x, bottom), (x, bottom + 0.6 * off), dxfattribs={"layer": "SHEET"})


def dots_round(inner: Outline, *, rows: int, pitch: float, radius: float) -> tuple[tuple[float, float, float], ...]:
    """Rows of dots inside the edge of a solid print, each smaller than the one before."""
    from geometry.outline import perimeter, station_at

    found = []
    for row in range(rows):
        line = offset_rounded(inner, -(row + 0.5) * pitch, radius=0.0)
        count = int(perimeter(line) // pitch)
        for step in range(count):
            at = station_at(line, step * perimeter(line) / count).point
            found.append((at.x, at.y, radius * (1 - row / (rows + 1))))
    return tuple(found)


def sample_drawings() -> dict[str, bytes]:
    """The returned drawings of the samples folder, by name."""
    job = read_job(VESSEL)
    curves = {pane.code: build_detail(job, pane).curves for pane in job.panes if pane.code in ("SW-02", "SW-04")}
    corners = [(0, 0), (1300, 120), (1120, 870), (60, 820)]
    invented = "INVENTED, A SAMPLE OF FRITLINE: NO DRAWING OF ANY MAKER"
    # one radius changed, its screen 2 mm too near the edge on one side; in inches, a quarter turn to the left
    glass = polygon(corners, radii=[40, 40, 55, 40])
    inch = Move(1 / 25.4, False, 1.5707963267948966, 40.0, 12.0)
    words = (
        ("SW-02 CONFIRMATION DRAWING", 300.0, 420.0),
        ("SCREEN PRINT ON FACE 4, STAMP LOWER LEFT", 300.0, 380.0),
        (invented, 300.0, 340.0),
    )
    first = Returned(glass, moved(curves["SW-02"].frit_inner, -2.0, 0.0), texts=words, move=inch, unit=1, version="R12")
    # an ellipse for the parallel curve
    oval = (("SW-04", 300.0, 220.0), ("PRINT ON SURFACE 1", 250.0, 190.0), (invented, 120.0, 160.0))
    second = Returned(curves["SW-04"].glass, curves["SW-04"].frit_inner, texts=oval, print_layer="SCREEN PRINT", version="R12")
    return {"returned-SW-02.dxf": dxf_of(first), "returned-SW-04.dxf": dxf_of(second)}


def main() -> None:
    """Write the drawings of the samples folder."""
    for name, data in sample_drawings().items():
        (SAMPLES / name).write_bytes(data)
        print(f"{SAMPLES / name}: {len(data)} bytes")


if __name__ == "__main__":
    main()


__all__ = ["Returned", "circle", "dots_round", "dxf_of", "sample_drawings"]
