"""Outlines as a job file writes them, and where they lie.

Terms
-----
form
    How an outline is given: rectangle, polygon, circle, ellipse or path, or in a file: drawing, survey or solid. Exactly one stands in the braces.
box
    The upright rectangle round the glass as it is cut, roundings and all: what a square and a tape find on the pane.
origin
    The one point from which X and Y count, in keys, findings and on every document: the (0, 0) in which the office typed its points.
    Where that lies away from everything typed (a survey in the vessel's coordinates) it is the first point as typed. A rectangle counts from
    its lower left sharp corner, a circle and an ellipse from their lowest point.
of its own
    A recess or print edge with its own outline. A polygon or path of its own is typed in the same coordinates as the
    pane and is moved with it, and so is one that was drawn or surveyed beside a pane with coordinates; any other stands concentric with
    the pane's box.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING, Annotated, Literal

from pydantic import ConfigDict, PrivateAttr, ValidationInfo, model_validator

from geometry.job import fields as f  # noqa: TC001 - pydantic reads the annotations
from geometry.job.fields import PANE_SIZE, Choice, ListOf, Measure, Reads, Table, setting
from geometry.job.opened import Opened
from geometry.job.outline_files import FILES, ONLY_WITH, nothing_astray, read_from
from geometry.job.points import CORNERS, VERTICES
from geometry.job.refusal import refuse

if TYPE_CHECKING:
    from geometry.incoming import Incoming
    from geometry.incoming.surveyed import Surveyed
    from geometry.outline.loop import Outline

NEAR = 0.1
"""How far (0, 0) may lie outside what is typed and still be the origin, as a share of its longer side (own default)."""
FORMS = ("rectangle", "polygon", "circle", "ellipse", "path", "drawing", "survey", "solid")
ROUND_FORMS = ("circle", "ellipse", "path", "drawing", "solid")
"""Forms that take no corner radius."""
OUTLINES = (
    "one of { rectangle = [900, 450], radius = 50 }, { polygon = [[0, 0], [900, 0], [900, 400]] }, { circle = 400 }, "
    '{ ellipse = [700, 400] }, { path = [[x, y], [x, y, bulge], ...] }, { drawing = "deck.dxf", layer = "GLASS" }, '
    '{ solid = "frame.step", face = "GLASS" }; '
    "or recess.outline together with joint.width"
)
PLACED_FORMS = ("polygon", "path", "drawing", "survey", "solid")
"""Forms with coordinates of their own."""
FAR_PLACE = Measure("length", "mm", at_least=-1e9, at_most=1e9)
"""Of a drawing, which may stand in the coordinates of a country."""


Pair = Annotated[tuple[float, ...], Reads(ListOf(PANE_SIZE, least=2, most=2), "mm")]
Corners = Annotated[tuple[tuple[float, ...], ...], Reads(CORNERS, "mm")]
Vertices = Annotated[tuple[tuple[float, ...], ...], Reads(VERTICES, "mm")]


Line = Annotated[Literal["glass", "recess", "daylight"], Choice()]
DrawingUnit = Annotated[Literal["mm", "cm", "m", "in", "ft"], Choice()]
SeenFrom = Annotated[Literal["outside", "inside", "+x", "-x", "+y", "-y", "+z", "-z"], Choice()]
Spot = Annotated[tuple[float, ...], Reads(ListOf(FAR_PLACE, least=2, most=3), "mm")]
Up = Annotated[Literal["+x", "-x", "+y", "-y", "+z", "-z"], Choice()]
Gap = Annotated[float, Measure("length", "mm", at_least=0, at_most=10)]
Within = Annotated[float, Measure("length", "mm", at_least=0.0001, at_most=5)]


class OutlineForm(Table):
    """One outline, in exactly one form, seen from outside."""

    model_config = ConfigDict(
        json_schema_extra={
            "oneOf": [{"required": [form]} for form in FORMS],
            "dependentSchemas": {
                "radius": {"anyOf": [{"required": ["rectangle"]}, {"required": ["polygon"]}, {"required": ["survey"]}]},
                **{key: {"anyOf": [{"required": [form]} for form in forms]} for key, forms in ONLY_WITH.items()},
            },
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
        "corner radius of a rectangle or polygon: one, or a list (rectangle: from the lower left counter-clockwise; polygon: as typed); of a "
        "survey (from the lower left counter-clockwise) in place of what its points show",
        absent="default",
        shown_default="0",
    )
    mirrored: f.Flag = setting(
        False,
        "true: the other hand of what is typed. x runs to the left (a rectangle, circle or ellipse stays in its box); radii stay with "
        "their corners",
    )

    drawing: f.Text | None = setting(None, "a DXF file, by its name from the job file: the outline is read from it")
    survey: f.Text | None = setting(
        None,
        "a CSV file of surveyed points, by its name from the job file: a first row x;y with z, edge, station, depth or landing where they "
        "were taken, then a row for each point (samples/deckhouse-aft.csv)",
    )
    solid: f.Text | None = setting(
        None,
        "a STEP file (.step, .stp), by its name from the job file: the outline is the line round a flat face of it, holes left out; "
        "X and Y of the plan count from the foot of the file's origin on the plane of the face, Y upwards",
    )
    face: f.TextOrNumber | None = setting(
        None,
        "of a STEP file: the name of the face, or of a part with one clearly largest flat face; or the number of a flat face in the list "
        "that a refusal gives, the largest first; left out: the largest flat face of the file, if it is at least twice the next",
    )
    up: Up = setting("+z", "of a STEP file: the way of its axes that is upwards on the vessel")
    of: Line = setting(
        "glass",
        "which line it is: glass; recess (the glass follows, less joint.width); daylight (the glass follows, plus recess.landing less "
        "joint.width)",
    )
    layer: f.Text | None = setting(None, "of a drawing: only what is on this layer, whatever its case; left out: every layer")
    units: DrawingUnit | None = setting(
        None,
        "unit of the drawing, survey or STEP file: mm, cm, m, in or ft; it wins over what the file states, and that is told",
        absent="worked out",
    )
    at: Spot | None = setting(
        None,
        "of a drawing: [x, y] in its own coordinates (mm): the innermost outline round that place; [x, y, z] of one upright in space",
    )
    label: f.Text | None = setting(None, "of a drawing: a text of it; the outline that it stands in or is nearest to")
    block: f.Text | None = setting(None, "of a drawing: the block in which the outline stands")
    layout: f.Text | None = setting(
        None, "of a drawing: the layout (paper sheet) on which the outline stands; left out: the model"
    )
    seen_from: SeenFrom = setting(
        "outside",
        "of a drawing or survey: outside or inside; of an outline in space +x, -x, +y, -y, +z or -z: where the viewer outside "
        "stands; of a drawing in space needed where it leans no more than 45 deg from upright; of a STEP file outside is the side to which "
        "the face looks, inside the other one",
    )
    gap: Gap = setting(0.05, "of a drawing: how far loose ends may lie apart and still be joined; it is told")
    arcs_within: Within = setting(0.01, "of a drawing or STEP file: how far arcs may lie off its splines and ellipses")

    _incoming: Incoming | None = PrivateAttr(default=None)

    @model_validator(mode="after")
    def _sound(self, info: ValidationInfo) -> OutlineForm:
        given = [form for form in FORMS if getattr(self, form) is not None]
        if len(given) != 1:
            raise refuse(f"found {' and '.join(given) if given else 'no form of outline'}", "exactly one of " + ", ".join(FORMS))
        if self.radius is not None and given[0] in ROUND_FORMS:
            raise refuse(f"found radius beside {given[0]}", "radius only with rectangle, polygon or survey", key="radius")
        if isinstance(self.radius, tuple) and given[0] != "survey" and len(self.radius) != self.corner_count:
            raise refuse(
                f"found {len(self.radius)} radii for {self.corner_count} corners",
                "one radius for all, or one for each corner",
                key="radius",
            )
        nothing_astray(self, given[0])
        if given[0] in FILES:
            opened = info.context.get("opened") if isinstance(info.context, dict) else None
            self._incoming = read_from(self, opened or Opened())
        try:
            _ = self.as_typed
        except ValueError as error:  # an outline that cannot be says so in a sentence for the user
            raise refuse(str(error), key=given[0]) from None
        return self

    @property
    def incoming(self) -> Incoming | None:
        """What came out of the file that the outline is in; None where it was typed."""
        return self._incoming

    @property
    def surveyed(self) -> Surveyed | None:
        """The survey that the outline was fitted to; None where it is none."""
        from geometry.incoming.surveyed import Surveyed

        return self._incoming if self.survey is not None and isinstance(self._incoming, Surveyed) else None

    @property
    def measured(self) -> Outline:
        """The outline as it stands in the frame: of a survey the measured wall, else as typed; in the coordinates of the file."""
        if self.surveyed is None:
            return self.as_typed
        from geometry.outline import other_hand

        return other_hand(self.surveyed.wall) if self.mirrored else self.surveyed.wall

    def with_outline(self, outline: Outline) -> OutlineForm:
        """Another line of the same file: worked out from this one, in the same coordinates."""
        assert self._incoming is not None, "only what came in a file"
        found = OutlineForm.model_construct(
            _fields_set={self.form}, drawing=self.drawing, survey=self.survey, solid=self.solid, mirrored=self.mirrored
        )
        found._incoming = replace(self._incoming, outline=outline, shape="")
        return found

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
        """The outline as typed or read, before it is mirrored."""
        from geometry.outline.settle import full_circle, settled
        from geometry.outline.soundness import sound

        if self._incoming is not None:
            return self._incoming.outline
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

    @property
    def shape(self) -> str:
        """Whether the outline is a "circle" or an "ellipse", in whatever form it was given; else ""."""
        if self.circle is not None:
            return "circle"
        vertices = self.as_typed.vertices
        if len(vertices) == 2 and all(vertex.bulge == 1.0 for vertex in vertices):
            return "circle"
        drawn = self._incoming.shape if self._incoming is not None else ""
        return "ellipse" if self.ellipse is not None or drawn == "ellipse" else ""

    @property
    def fitted_deviation(self) -> float:
        """How far the arcs lie from the curve that they stand for, mm: 0 where lines and arcs were given."""
        from geometry.outline.ellipse import ellipse_deviation

        if self._incoming is not None:
            return self._incoming.deviation
        return ellipse_deviation(self.one_hand, *self.ellipse) if self.ellipse is not None and self.shape == "ellipse" else 0.0

    @cached_property
    def shift(self) -> tuple[float, float]:
        """Whole millimetres from the coordinates of the file to near the one hand; (0, 0) where it lies near them already."""
        from geometry.incoming.units import whole_shift
        from geometry.outline.measure import bounding_box

        left, bottom, _, _ = bounding_box(self.one_hand)
        return (0.0, 0.0) if self._incoming is None else whole_shift(left, bottom)

    @property
    def local(self) -> Outline:
        """The one hand less its shift: what is worked on keeps its figures though it was drawn thousands of kilometres off."""
        return _shifted(self.one_hand, -self.shift[0], -self.shift[1])

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of the box, in the coordinates of the file, mm."""
        from geometry.outline.measure import bounding_box

        box = bounding_box(self.as_typed)
        return box.left, box.bottom, box.right, box.top

    @property
    def round_throughout(self) -> bool:
        """Whether the outline is a circle or an ellipse, in whatever form it was given."""
        return bool(self.shape)

    @property
    def places(self) -> tuple[tuple[float, float], ...]:
        """The points with coordinates of their own, mm: those of a polygon or path as typed, or the sharp corners of what came in a file."""
        if self._incoming is not None:
            from geometry.outline.corners import corners

            named = sorted(corners(self.as_typed), key=lambda each: each.number)
            sharp = tuple((each.theoretical.x, each.theoretical.y) for each in named)
            return sharp or tuple((vertex.x, vertex.y) for vertex in self.as_typed.vertices)
        sign = -1.0 if self.mirrored else 1.0
        return tuple((sign * point[0], point[1]) for point in self.polygon or self.path or ())


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
    if not typed:  # a form without coordinates beside one that was drawn
        return 0.0, 0.0
    return typed[0]


def outline_of(form: OutlineForm, origin: tuple[float, float] | None = None) -> Outline:
    """The outline of a pane with its origin at (0, 0), mm, counter-clockwise, seen from outside."""
    x, y = origin_of(form) if origin is None else origin
    return _shifted(form.as_typed, -x, -y)


def own_outline(form: OutlineForm, pane: OutlineForm, origin: tuple[float, float]) -> Outline:
    """A recess or print edge of its own, in the coordinates of the pane (see "of its own" above), mm."""
    x, y = origin
    if form.form in ("polygon", "path") or (form.form in PLACED_FORMS and pane.form in PLACED_FORMS):
        return _shifted(form.measured, -x + _turned_with(form, pane), -y)
    left, bottom, right, top = pane.box
    own_left, own_bottom, own_right, own_top = form.box
    return _shifted(form.measured, (left + right - own_left - own_right) / 2 - x, (bottom + top - own_bottom - own_top) / 2 - y)


def _turned_with(form: OutlineForm, pane: OutlineForm) -> float:
    """How far a line drawn from inside moves along X so that it was turned about the pane's middle and not about its own, mm."""
    own, other = form.incoming, pane.incoming
    if own is None or other is None or own.mirror is None or other.mirror is None:
        return 0.0
    return 2 * (other.mirror - own.mirror) * (-1.0 if form.mirrored else 1.0)


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
    "origin_of",
    "outline_of",
    "own_outline",
]
