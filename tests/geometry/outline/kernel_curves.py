"""Parallel curves by cadquery's ``Wire.offset2D``: a second opinion that the program's own curves are held against; it draws without them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.outline.parallel import begun_at, normal_form
from geometry.outline.soundness import reversed_loop, signed_area
from geometry.outline.wires import loop_of, wire_of

if TYPE_CHECKING:
    from geometry.outline.loop import Outline

NO_AREA = 1e-6
"""mm2; at exactly half the width the kernel returns a closed wire of two edges that run over each other."""


def by_kernel(outline: Outline, distance: float) -> Outline | None:
    """The parallel curve ``distance`` mm outwards (positive) or inwards (negative); None unless it is exactly one closed
    wire of lines and arcs with an area.

    >>> from geometry.outline.shapes import rectangle
    >>> [vertex[:2] for vertex in by_kernel(rectangle(100, 50), -10).vertices]
    [(10.0, 10.0), (90.0, 10.0), (90.0, 40.0), (10.0, 40.0)]
    >>> by_kernel(rectangle(100, 50), -25) is by_kernel(rectangle(100, 50), -30) is None
    True
    """
    wire = wire_of(outline)
    try:
        wires = wire.offset2D(distance, "arc")
    except ValueError:
        return None  # "Null TopoDS_Shape": nothing is left at this distance
    loops = [loop_of(wire) for wire in wires]
    found = []
    for loop in loops:
        if loop is None:
            return None
        if abs(signed_area(loop)) > NO_AREA:
            found.append(loop if signed_area(loop) > 0 else reversed_loop(loop))
    if len(found) != 1:
        return None
    whole = normal_form(list(found[0]))
    return None if whole is None else begun_at(whole, outline.vertices[0])
