"""Every vertex, straight edge and block of a pane with its place: the sheet may leave rows out, the record never does."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from geometry.detail.edges import edges_of
from geometry.detail.on_vessel import landing_on_vessel, plan_on_vessel
from outputs.record.markup import Html, join, tag
from outputs.record.numbers import number
from outputs.record.parts import in_columns

if TYPE_CHECKING:
    from geometry.detail.parts import Chock, Detail, Spacer
    from geometry.job.pane import Pane
    from geometry.outline import Point

__all__ = ["place_on_vessel", "places_data", "places_tables"]

ACROSS = 3  # columns of the blocks
PLACE_DIGITS = 6
"""Digits that count of a place: a pane of 20 m to a tenth of a millimetre."""
VESSEL_DIGITS = 8
"""The same of a place on the vessel: a ship of 300 m to a hundredth."""


def places_data(detail: Detail) -> dict[str, Any]:
    """Places in mm from the origin of the outline, angles in degrees; ``distance`` of a block runs along its edge from the sharp corner."""
    blocks: list[tuple[Chock | Spacer, str, Point]] = [(chock, str(chock.kind), chock.foot) for chock in detail.chocks]
    blocks += [(spacer, "spacer block", spacer.centre) for spacer in detail.spacers]
    return {
        "vertices": [
            {
                "name": f"V{corner.number}",
                "x": corner.theoretical.x,
                "y": corner.theoretical.y,
                "radius": corner.radius,
                "interior_angle": corner.interior_angle,
            }
            for corner in detail.corners
        ],
        "edges": [
            {
                "name": edge.name,
                "from": list(edge.origin),
                "to": list(edge.at(edge.end)),
                "straight": [edge.first, edge.last],
            }
            for edge in edges_of(detail.curves.glass)
        ],
        "blocks": [
            {
                "mark": block.mark,
                "kind": kind,
                "edge": block.edge,
                "distance": block.distance,
                "x": place.x,
                "y": place.y,
                "angle": block.angle,
            }
            for block, kind, place in blocks
        ],
    }


def place_on_vessel(pane: Pane, detail: Detail) -> Html | None:
    """Where the plan lies on the vessel, in one sentence; None where the job does not say it."""
    found = plan_on_vessel(landing_on_vessel(pane, detail))
    if found is None or pane.placing is None:
        return None
    origin, x, y = ("; ".join(number(each, digits=VESSEL_DIGITS) for each in found[name]) for name in ("origin_mm", "x", "y"))
    where = "as the face of the ship model lies" if pane.placing.taken_from is not None else "as pane.placing gives it"
    return tag(
        "p",
        f"In the vessel's frame, {where}, the {pane.placing.on} in that plane: the origin of the plan, on the landing, lies at ({origin}) "
        f"mm; X of the plan runs along ({x}), Y along ({y}).",
    )


def places_tables(detail: Detail) -> Html:
    """The same as tables of the page; a kind of which there is none has no table."""
    places = places_data(detail)
    vertices = (
        (each["name"], *(number(each[key], digits=PLACE_DIGITS) for key in ("x", "y", "radius", "interior_angle")))
        for each in places["vertices"]
    )
    edges = (
        (each["name"], *(number(value, digits=PLACE_DIGITS) for key in ("from", "to", "straight") for value in each[key]))
        for each in places["edges"]
    )
    blocks = (
        (
            each["mark"],
            each["kind"].split(" ")[0],
            each["edge"],
            *(number(each[key], digits=PLACE_DIGITS) for key in ("distance", "x", "y", "angle")),
        )
        for each in places["blocks"]
    )
    of_vertices = ("", "X", "Y", "radius", "angle, °")
    of_edges = ("", "from X", "Y", "to X", "Y", "straight from", "to")
    of_blocks = ("", "kind", "edge", "distance", "X", "Y", "angle, °")
    small = (
        in_columns("Vertices of the glass, sharp, mm", of_vertices, list(vertices), 1) if places["vertices"] else None,
        in_columns("Straight edges of the glass, between sharp corners, mm", of_edges, list(edges), 1)
        if places["edges"]
        else None,
    )
    return join(
        tag("div", (each for each in small if each is not None), class_="places") if any(small) else None,
        in_columns(
            "Blocks, mm: distance along the edge from its first sharp corner", of_blocks, list(blocks), ACROSS, class_="blocks"
        )
        if places["blocks"]
        else None,
    )
