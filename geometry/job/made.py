"""The pane as it was made: measured sizes, from which its outline follows, or an outline of its own.

Terms
-----
reading
    What tape and rule found on the finished pane. Two readings of one length agree within ``READ`` mm.
sides
    Of a rectangle: bottom, right, top and left, from sharp corner to sharp corner.
diagonal
    The greatest distance between two corners as they are rounded, as a tape finds it: first from the lower left to the upper right.
closing
    Four sides and one diagonal fix a pane; the other diagonal follows. Readings that no pane can have are refused.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import model_validator

from geometry.job import fields as f
from geometry.job.fields import PANE_SIZE, ListOf, Reads, Schema, Table, setting
from geometry.job.outlines import OutlineForm, own_outline
from geometry.job.refusal import refuse

if TYPE_CHECKING:
    from geometry.outline.loop import Outline

READ = 1.0
"""mm within which two readings of one length agree: each end of a tape read to half a millimetre (common practice, no source)."""
FRIT_READINGS = 8
FARTHEST = 0.1
"""How far a made size may lie from the one ordered, as a share of it, and still be this pane (own default)."""
ROUNDS = 30


@dataclass(frozen=True, slots=True)
class _OneOrTwo:
    """A reader of one size, or of two where opposite sides differ."""

    item: f.Measure

    def __call__(self, value: object) -> float | tuple[float, ...]:
        if isinstance(value, (list, tuple)):
            return f.list_of(value, self.item, least=2, most=2)
        return self.item.read(value)

    def schema(self) -> Schema:
        one = self.item.schema()
        return {"anyOf": [*one["anyOf"], ListOf(self.item, least=2, most=2).schema()]}


Sides = Annotated[float | tuple[float, ...], Reads(_OneOrTwo(PANE_SIZE), "mm")]
Diagonals = Annotated[tuple[float, ...], Reads(ListOf(PANE_SIZE, least=2, most=2), "mm")]
FritReadings = Annotated[
    tuple[float, ...],
    Reads(ListOf(f.Measure("length", "mm", at_least=0, at_most=1000), least=FRIT_READINGS, most=FRIT_READINGS), "mm"),
]


class Made(Table):
    """What was measured on the finished pane; what is left out is taken as ordered."""

    width: Sides | None = setting(None, "width as made: one, or [bottom, top]")
    height: Sides | None = setting(None, "height as made: one, or [left, right]")
    diagonals: Diagonals | None = setting(
        None,
        "[lower left to upper right, lower right to upper left], the greatest distance between the corners as they are rounded",
    )
    thickness: f.SectionSize | None = setting(None, "thickness of the whole pane as made")
    bow: f.SizeOrZero | None = setting(None, "bow as made, over the longest side, mm under a straight-edge")
    frit: FritReadings | None = setting(
        None,
        "solid frit from the glass edge at eight places: counter-clockwise from the lower left corner, two on each side, at a quarter of "
        "it from either end",
    )
    outline: OutlineForm | None = setting(
        None, "outline as made, in the coordinates of the pane's outline, in place of width, height and diagonals"
    )

    @model_validator(mode="after")
    def _one_way(self) -> Made:
        sizes = [name for name in ("width", "height", "diagonals") if getattr(self, name) is not None]
        if self.outline is not None and sizes:
            raise refuse(f"found {' and '.join(sizes)} beside an outline as made", "sizes or an outline", key=sizes[0])
        if (self.width is None) != (self.height is None):
            given = "width" if self.width is not None else "height"
            raise refuse(f"found {given} without {'height' if given == 'width' else 'width'}", "both or none", key=given)
        if self.diagonals is not None and self.width is None:
            raise refuse("found diagonals without width and height", "width, height and diagonals together", key="diagonals")
        if not self.model_fields_set:
            raise refuse("found an empty table", "at least one reading, such as { width = 1002, height = 701.5 }")
        return self

    @property
    def shape_given(self) -> bool:
        """Whether the outline as made is known."""
        return self.outline is not None or self.width is not None

    def against(self, ordered: OutlineForm) -> None:
        """Refuse readings that no pane of the form ordered can have."""
        if self.outline is not None:
            return
        if self.width is None or self.height is None:
            return
        if ordered.form not in ("rectangle", "circle", "ellipse"):
            raise refuse(
                f"found width and height of a pane ordered as a {ordered.form}",
                "made.outline, the outline as made; width and height only of a rectangle, circle or ellipse",
                key="made.width",
            )
        left, bottom, right, top = ordered.box
        for name, found, wanted in (("width", self.width, right - left), ("height", self.height, top - bottom)):
            for size in _two(found):
                if abs(size - wanted) > FARTHEST * wanted:
                    raise refuse(
                        f"found a made {name} of {size:g} mm for a pane ordered {wanted:g} mm",
                        f"{(1 - FARTHEST) * wanted:g} to {(1 + FARTHEST) * wanted:g} mm",
                        "a bare number is in mm",
                        key=f"made.{name}",
                    )
        if ordered.form == "rectangle":
            _closed(self, ordered)
            return
        if self.diagonals is not None or isinstance(self.width, tuple) or isinstance(self.height, tuple):
            what = "diagonals" if self.diagonals is not None else "two widths or heights"
            raise refuse(
                f"found {what} of a pane ordered as a {ordered.form}",
                "one width and one height, or made.outline",
                key="made.diagonals" if self.diagonals is not None else "made.width",
            )


def made_outline(made: Made, ordered: OutlineForm, origin: tuple[float, float]) -> Outline:
    """The pane as made, X and Y from the origin of the pane as ordered, its lower left corner and its sill where they were ordered."""
    # corners and edges bear the names of the order
    return replace(_outline(made, ordered, origin), clockwise_names=ordered.as_typed.clockwise_names)


def _outline(made: Made, ordered: OutlineForm, origin: tuple[float, float]) -> Outline:
    from geometry.outline import shapes
    from geometry.outline.measure import moved

    if made.outline is not None:
        return own_outline(made.outline, ordered, origin)
    left, bottom, right, top = ordered.box
    if made.width is None or made.height is None:
        return moved(ordered.as_typed, -origin[0], -origin[1])
    if ordered.form == "rectangle":
        corners = _closed(made, ordered)
        outline = shapes.polygon([tuple(corner) for corner in corners], radii=_radii(ordered))
        return moved(outline, left - origin[0], bottom - origin[1])
    width, height = _two(made.width)[0], _two(made.height)[0]
    outline = shapes.circle(width) if abs(width - height) < 1e-9 else shapes.ellipse(width, height)
    middle = (left + right - width) / 2, (bottom + top - height) / 2
    return moved(outline, middle[0] - origin[0], middle[1] - origin[1])


def _two(sizes: Any) -> tuple[float, float]:
    return (sizes[0], sizes[1]) if isinstance(sizes, tuple) else (sizes, sizes)


def _radii(ordered: OutlineForm) -> tuple[float, ...]:
    """From the lower left counter-clockwise; a mirrored order lists them of the hand that was typed."""
    radius = ordered.radius
    if not isinstance(radius, tuple):
        return (float(radius or 0.0),) * 4
    return (radius[1], radius[0], radius[3], radius[2]) if ordered.mirrored else radius


def _closed(made: Made, ordered: OutlineForm) -> tuple[tuple[float, float], ...]:
    """The four sharp corners, lower left at (0, 0), counter-clockwise, the sill level. Raises where the readings do not close."""
    bottom, top = _two(made.width)
    left, right = _two(made.height)
    radii = _radii(ordered)
    if made.diagonals is None:
        return _upright(bottom, right, top, left)
    first, second = made.diagonals
    corners = _corners(bottom, right, top, left, first, radii)
    if corners is None:
        low, high = _reach(bottom, right, top, left)
        raise refuse(
            f"found a diagonal of {first:g} mm with sides of {bottom:g}, {right:g}, {top:g} and {left:g} mm: the corners do not meet",
            f"diagonals between {low:.0f} and {high:.0f} mm with these sides",
            key="made.diagonals",
        )
    follows = _over_the_roundings(corners, radii)[1]
    if abs(follows - second) > 2 * READ:
        raise refuse(
            f"found diagonals of {first:g} and {second:g} mm with sides of {bottom:g}, {right:g}, {top:g} and {left:g} mm: "
            "no pane has them together",
            f"with the first diagonal the second follows, {follows:.1f} mm; it may differ by {2 * READ:g} mm (of a pane that does not "
            f"lean both are {_over_the_roundings(_upright(bottom, right, top, left), radii)[0]:.1f} mm)",
            key="made.diagonals",
        )
    # what the two readings miss the closing by is shared between them
    even = _corners(bottom, right, top, left, first + (follows - second) / 2, radii)
    return corners if even is None else even


def _upright(bottom: float, right: float, top: float, left: float) -> tuple[tuple[float, float], ...]:
    """Without diagonals the pane is taken as symmetric: no reading says to which side it leans."""
    low = (bottom - top) / 2
    return (0.0, 0.0), (bottom, 0.0), (bottom - low, _rise(right, low)), (low, _rise(left, low))


def _rise(side: float, aside: float) -> float:
    return math.sqrt(max(0.0, side * side - aside * aside))


def _reach(bottom: float, right: float, top: float, left: float) -> tuple[float, float]:
    """Between which lengths a diagonal can lie."""
    return max(abs(bottom - right), abs(top - left)), min(bottom + right, top + left)


def _corners(
    bottom: float, right: float, top: float, left: float, diagonal: float, radii: tuple[float, ...]
) -> tuple[tuple[float, float], ...] | None:
    """The corners with these sides and the first diagonal over its roundings; None where they do not meet."""
    sharp = diagonal
    corners = None
    for _ in range(ROUNDS):
        corners = _sharp(bottom, right, top, left, sharp)
        if corners is None:
            return None
        short = diagonal - _over_the_roundings(corners, radii)[0]
        sharp += short
        if abs(short) < 1e-10:
            break
    return corners


def _sharp(bottom: float, right: float, top: float, left: float, diagonal: float) -> tuple[tuple[float, float], ...] | None:
    """The corners with these sides and the sharp diagonal from the lower left to the upper right."""
    low, high = _reach(bottom, right, top, left)
    if not low < diagonal < high:
        return None
    far = _apex(bottom, diagonal, right)  # upper right, above the sill
    near = _apex(diagonal, left, top)  # upper left, seen along the diagonal
    cosine, sine = far[0] / diagonal, far[1] / diagonal
    return (0.0, 0.0), (bottom, 0.0), far, (near[0] * cosine - near[1] * sine, near[0] * sine + near[1] * cosine)


def _apex(base: float, from_start: float, from_end: float) -> tuple[float, float]:
    """The point left of a base along X at two distances from its ends."""
    x = (base * base + from_start * from_start - from_end * from_end) / (2 * base)
    return x, math.sqrt(max(0.0, from_start * from_start - x * x))


def _over_the_roundings(corners: tuple[tuple[float, float], ...], radii: tuple[float, ...]) -> tuple[float, float]:
    """Both diagonals as a tape finds them: from the middles of the roundings, and a radius at either end."""
    middles = []
    for i, (x, y) in enumerate(corners):
        ahead, behind = corners[(i + 1) % 4], corners[i - 1]
        one, other = _unit(ahead[0] - x, ahead[1] - y), _unit(behind[0] - x, behind[1] - y)
        across = one[0] * other[1] - one[1] * other[0]  # sine of the angle of the corner
        step = radii[i] / across if across > 1e-9 else 0.0
        middles.append((x + step * (one[0] + other[0]), y + step * (one[1] + other[1])))
    return math.dist(middles[0], middles[2]) + radii[0] + radii[2], math.dist(middles[1], middles[3]) + radii[1] + radii[3]


def _unit(dx: float, dy: float) -> tuple[float, float]:
    length = math.hypot(dx, dy) or 1.0
    return dx / length, dy / length


__all__ = ["FRIT_READINGS", "READ", "Made", "made_outline"]
