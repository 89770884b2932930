"""Outlines as a job file writes them, and where they lie.

Terms
-----
form
    How an outline is given: rectangle, polygon, circle, ellipse or path. Exactly one stands in the braces.
box
    The upright rectangle round the glass as it is cut, roundings and all: what a square and a tape find on the pane.
origin
    The one point from which X and Y count, in keys, findings and on every document: the (0, 0) in which the office typed its points.
    Where that lies away from everything typed (a survey in the vessel's coordinates) it is the first point as typed. A rectangle counts from
    its lower left sharp corner, a circle and an ellipse from their lowest point.
of its own
    A recess or print edge with its own outline. A polygon or path of its own is typed in the same coordinates as the
    pane and is moved with it; a rectangle, circle or ellipse of its own stands concentric with the pane's box.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import ConfigDict, model_validator

from geometry.job import fields as f  # noqa: TC001 - pydantic reads the annotations
from geometry.job.fields import PANE_SIZE, PLACE, ListOf, Reads, Schema, Table, setting
from geometry.job.refusal import refuse
from geometry.job.units import shown

if TYPE_CHECKING:
    from geometry.outline.loop import Outline

MOST_POINTS = 500
MOST_BULGE = 100
NEAR = 0.1
"""How far (0, 0) may lie outside what is typed and still be the origin, as a share of its longer side (own default)."""
FORMS = ("rectangle", "polygon", "circle", "ellipse", "path")
ROUND_FORMS = ("circle", "ellipse", "path")
"""Forms that take no corner radius."""
OUTLINES = (
    "one of { rectangle = [900, 450], radius = 50 }, { polygon = [[0, 0], [900, 0], [900, 400]] }, { circle = 400 }, "
    "{ ellipse = [700, 400] }, { path = [[x, y], [x, y, bulge], ...] }; or recess.outline together with joint.width"
)


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


Pair = Annotated[tuple[float, ...], Reads(ListOf(PANE_SIZE, least=2, most=2), "mm")]
CORNERS = _Points((2,), "[[0, 0], [900, 0], [900, 400]]")
VERTICES = _Points((2, 3), "[[x, y], [x, y, bulge]]")
Corners = Annotated[tuple[tuple[float, ...], ...], Reads(CORNERS, "mm")]
Vertices = Annotated[tuple[tuple[float, ...], ...], Reads(VERTICES, "mm")]


class OutlineForm(Table):
    """One outline, in exactly one form, seen from outside."""

    model_config = ConfigDict(
        json_schema_extra={
            "oneOf": [{"required": [form]} for form in FORMS],
            "dependentSchemas": {"radius": {"anyOf": [{"required": ["rectangle"]}, {"required": ["polygon"]}]}},
        }
    )

    rectangle: Pair | None = setting(None, "[width, height]")
    polygon: Corners | None = setting(None, "[[x, y], ...] corners before rounding")
    circle: Annotated[float, PANE_SIZE] | None = setting(None, "diameter")
    ellipse: Pair | None = setting(None, "[width, height], the full axes")
    path: Vertices | None = setting(
        None,
        "[[x, y], [x, y, bulge], ...]; bulge of the side that leaves the point: tangent of a quarter of its angle, "
        "+ where it turns left, 1 is half a circle",
    )
    radius: f.Radii | None = setting(
        None,
        "corner radius of a rectangle or polygon: one, or a list (rectangle: from the lower left counter-clockwise; polygon: as typed)",
        absent="default",
        shown_default="0",
    )
    mirrored: f.Flag = setting(
        False,
        "true: the other hand of what is typed. x runs to the left (a rectangle, circle or ellipse stays in its box); radii stay with "
        "their corners",
    )

    @model_validator(mode="before")
    @classmethod
    def _supported(cls, value: Any) -> Any:
        if isinstance(value, dict) and ("drawing" in value or "survey" in value):
            what = "drawing" if "drawing" in value else "survey"
            raise refuse(
                f"reading an outline from a {what} is not yet supported: give rectangle, polygon, circle, ellipse or path",
                key=what,
            )
        return value

    @model_validator(mode="after")
    def _sound(self) -> OutlineForm:
        given = [form for form in FORMS if getattr(self, form) is not None]
        if len(given) != 1:
            raise refuse(f"found {' and '.join(given) if given else 'no form of outline'}", "exactly one of " + ", ".join(FORMS))
        if self.radius is not None and given[0] not in ("rectangle", "polygon"):
            raise refuse(f"found radius beside {given[0]}", "radius only with rectangle or polygon", key="radius")
        if isinstance(self.radius, tuple) and len(self.radius) != self.corner_count:
            raise refuse(
                f"found {len(self.radius)} radii for {self.corner_count} corners",
                "one radius for all, or one for each corner",
                key="radius",
            )
        try:
            _ = self.as_typed
        except ValueError as error:  # an outline that cannot be says so in a sentence for the user
            raise refuse(str(error), key=given[0]) from None
        return self

    @property
    def form(self) -> str:
        """Which form was given."""
        return next(form for form in FORMS if getattr(self, form) is not None)

    @property
    def corner_count(self) -> int:
        """How many corners take a radius; 0 for a form without."""
        return 4 if self.rectangle is not None else len(self.polygon) if self.polygon is not None else 0

    @cached_property
    def as_typed(self) -> Outline:
        """The outline in the coordinates of the file; rectangle, circle and ellipse have their box's lower left at (0, 0).

        The same shape gives the same outline, whichever form it is given in. The other hand keeps the names of corners and edges.
        """
        if not self.mirrored:
            return self.one_hand
        from geometry.outline import other_hand

        return other_hand(self.one_hand, across=self.across)

    @property
    def across(self) -> float:
        """What x and the x of its mirror image add up to, mm: the width of a form that stays in its box, else 0."""
        if self.circle is not None:
            return self.circle
        pair = self.rectangle or self.ellipse
        return 0.0 if pair is None else pair[0]

    @cached_property
    def one_hand(self) -> Outline:
        """The outline as typed, before it is mirrored."""
        from geometry.outline.settle import full_circle, settled
        from geometry.outline.soundness import sound

        if self.ellipse is not None:  # its arcs stand as they were fitted, with both axes
            return full_circle(self._as_given) or self._as_given
        whole = settled(self._as_given)
        return whole if whole is self._as_given else sound(whole.vertices)

    @cached_property
    def drawn_straight(self) -> tuple[int, ...]:
        """Points of a path, counted from 1, whose bulge rises too little to be cut: their sides are drawn as straight lines."""
        from geometry.outline.settle import flat_arcs
        from geometry.outline.soundness import NO_BULGE

        if self.path is None:
            return ()
        places = set(flat_arcs(self._as_given))
        turned = (
            self._as_given.vertices[1][:2] != self.path[1][:2]
        )  # a clockwise path: its sides begin where they were typed to end
        found = []
        for number, point in enumerate(self.path, start=1):
            bulge = point[2] if len(point) == 3 else 0.0
            start = self.path[number % len(self.path)] if turned else point
            if bulge and (abs(bulge) < NO_BULGE or start[:2] in places):
                found.append(number)
        return tuple(found)

    @cached_property
    def _as_given(self) -> Outline:
        from geometry.outline import shapes

        radius = 0.0 if self.radius is None else self.radius
        if self.rectangle is not None:
            width, height = self.rectangle
            if isinstance(radius, tuple):
                return shapes.polygon([(0, 0), (width, 0), (width, height), (0, height)], radii=radius)
            return shapes.rectangle(width, height, radius=radius)
        if self.polygon is not None:
            return shapes.polygon(self.polygon, radii=radius)
        if self.circle is not None:
            return shapes.circle(self.circle)
        if self.ellipse is not None:
            return shapes.ellipse(*self.ellipse)
        if self.path is not None:
            return shapes.path(self.path)
        raise AssertionError("an outline has one form")  # _sound has seen to it

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of the box, in the coordinates of the file, mm."""
        from geometry.outline.measure import bounding_box

        box = bounding_box(self.as_typed)
        return box.left, box.bottom, box.right, box.top

    @property
    def places(self) -> tuple[tuple[float, float], ...]:
        """The points of a polygon or path in the coordinates of the file, mm, in the order typed; () for other forms."""
        sign = -1.0 if self.mirrored else 1.0
        return tuple((sign * point[0], point[1]) for point in self.polygon or self.path or ())

    @property
    def round_throughout(self) -> bool:
        """Whether the outline is a circle, in whatever form it was typed, or an ellipse."""
        if self.circle is not None or self.ellipse is not None:
            return True
        vertices = self.as_typed.vertices if self.path is not None else ()
        return len(vertices) == 2 and all(vertex.bulge == 1.0 for vertex in vertices)


def origin_of(form: OutlineForm, *beside: OutlineForm | None) -> tuple[float, float]:
    """The origin of a pane in the coordinates of the file, mm; ``beside`` are other outlines typed in the same coordinates.

    >>> origin_of(OutlineForm(polygon=[[0, 0], [900, 40], [900, 500]])), origin_of(OutlineForm(circle=400))
    ((0.0, 0.0), (200.0, 0.0))
    >>> origin_of(OutlineForm(polygon=[[5000, 70], [5900, 70], [5900, 500]]))
    (5000.0, 70.0)
    """
    if form.round_throughout:  # the same shape in every form counts from the same point
        left, bottom, right, _ = form.box
        return (left + right) / 2, bottom
    typed = form.places
    left, bottom, right, top = form.box
    places = [(left, bottom), (right, top), *typed]
    places += [point for each in beside if each is not None for point in each.places]
    spans = [(min(along), max(along)) for along in zip(*places, strict=True)]
    off = NEAR * max(high - low for low, high in spans)
    if all(low - off <= 0.0 <= high + off for low, high in spans):
        return 0.0, 0.0
    return typed[0]


def outline_of(form: OutlineForm, origin: tuple[float, float] | None = None) -> Outline:
    """The outline of a pane with its origin at (0, 0), mm, counter-clockwise, seen from outside."""
    x, y = origin_of(form) if origin is None else origin
    return _shifted(form.as_typed, -x, -y)


def inside(recess: OutlineForm, joint: float) -> OutlineForm:
    """The glass of a recess: the parallel curve of its outline, ``joint`` mm inside, true lines and arcs.

    A rectangle stays a rectangle and a circle a circle; every other form becomes a path. Refuses where the joint leaves no glass.
    """
    try:
        if recess.rectangle is not None:
            width, height = (round(size - 2 * joint, 9) for size in recess.rectangle)
            radii = recess.radius if isinstance(recess.radius, tuple) else (recess.radius or 0.0,)
            less = [round(max(radius - joint, 0.0), 9) for radius in radii]
            given: dict[str, Any] = {"rectangle": [width, height], "radius": less if len(less) > 1 else less[0]}
        elif recess.circle is not None:
            given = {"circle": round(recess.circle - 2 * joint, 9)}
        else:
            from geometry.outline import offset

            given = {"path": [(v.x, v.y, v.bulge) for v in offset(recess.one_hand, -joint).vertices]}
        return OutlineForm.model_validate({**given, "mirrored": recess.mirrored})
    except ValueError as error:
        sentence = str(error) if type(error).__name__ == "OffsetError" else "nothing of the recess is left"
        raise refuse(
            f"a joint of {joint:g} mm inside the outline of the recess leaves no glass: {sentence}", key="joint.width"
        ) from None


def own_outline(form: OutlineForm, pane: OutlineForm, origin: tuple[float, float]) -> Outline:
    """A recess or print edge of its own, in the coordinates of the pane (see "of its own" above), mm."""
    x, y = origin
    if form.form in ("polygon", "path"):
        return _shifted(form.as_typed, -x, -y)
    left, bottom, right, top = pane.box
    own_left, own_bottom, own_right, own_top = form.box
    return _shifted(form.as_typed, (left + right - own_left - own_right) / 2 - x, (bottom + top - own_bottom - own_top) / 2 - y)


def _shifted(outline: Outline, dx: float, dy: float) -> Outline:
    from geometry.outline.measure import moved

    # a millionth of a thousandth of a millimetre is rounding of the box, and no reason to spoil the figures as typed
    return moved(outline, dx, dy) if abs(dx) > 1e-9 or abs(dy) > 1e-9 else outline


__all__ = [
    "CORNERS",
    "FORMS",
    "OUTLINES",
    "ROUND_FORMS",
    "VERTICES",
    "OutlineForm",
    "inside",
    "origin_of",
    "outline_of",
    "own_outline",
]
