"""Pictures that stand in a page: views of the drawing on a paper as wide as the text, written as the sheets are.

Terms
-----
picture
    An inline drawing with a title and a description in words for those who cannot see it.
room
    What a view may take of the paper: width and height, mm.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from outputs.files.svg import svg_inline
from outputs.record.markup import Html, tag
from outputs.record.numbers import printed
from outputs.sheet.boxes import box_of, joined
from outputs.sheet.drafting import DraftingStyle
from outputs.sheet.entities import Sheet, Text, View
from outputs.sheet.flattening import flattened
from outputs.sheet.layers import LAYERS

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from geometry.outline.measure import Box
    from outputs.sheet.entities import Layer, Mark, Place

WIDTH = 186.0  # paper mm, the text of an A4 page
ROOM = (50.0, 44.0)  # width and height of a pane: a diagram and figures stand round it
SCALES = (5.0, 2.0, 1.0, 0.5, 0.4, 0.2, 0.1, 0.05, 0.04, 0.02, 1.0 / 75.0, 0.01, 0.008, 0.005)
"""Scales that a rule has: those of ISO 5455, and the 1:25, 1:75 and 1:125 of the office's rule (common practice, no source)."""
BORDER = 1.5
STYLE = DraftingStyle(
    text=1.9, arrow=1.8, arrow_angle=35.0
)  # lettered as the page is; heads that tell on arrows of a few millimetres


@dataclass(frozen=True, slots=True)
class Laid:
    """A picture of a page before it is written: its views, the marks on its paper, its height in mm."""

    views: tuple[View, ...]
    height: float
    marks: tuple[Mark, ...] = ()
    layers: tuple[Layer, ...] = ()


def scale_for(box: Box) -> float:
    """The largest true scale at which a box of the model fits its :data:`ROOM`."""
    return true_scale(box.width, box.height, *ROOM)


def true_scale(width: float, height: float, room: float, high: float) -> float:
    """The largest true scale at which a model of a width and height fits a room on paper, mm.

    >>> true_scale(1200.0, 600.0, 60.0, 46.0), true_scale(420.0, 420.0, 50.0, 44.0)
    (0.05, 0.1)
    """
    return next((scale for scale in SCALES if width * scale <= room + 1e-9 and height * scale <= high + 1e-9), SCALES[-1])


def ratio(scale: float) -> str:
    """A scale in words.

    >>> ratio(0.2), ratio(0.05), ratio(2.0)
    ('1:5', '1:20', '2:1')
    """
    return f"{round(scale, 1):g}:1" if scale >= 1.0 else f"1:{round(1.0 / scale, 1):g}"


def in_the_middle(
    name: str, marks: Iterable[Mark], scale: float, *, outline: Box | None, below: float = 0.0, width: float | None = None
) -> View:
    """A view of marks, the outline they stand round in the middle of a width, ``below`` paper mm over the lower edge.

    Without an outline the marks themselves stand in the middle; without a width the view takes what it needs.
    """
    marks = tuple(marks)
    left, bottom, right, top = joined(box_of(mark, scale) for mark in marks)
    middle = (left + right) / 2.0 if outline is None else (outline.left + outline.right) / 2.0
    border = BORDER / scale
    half = max(middle - left, right - middle) + border
    window = (middle - half, bottom - border, middle + half, top + border)
    return View(name, scale, window, (0.0 if width is None else width / 2.0 - half * scale, below), marks)


def cut_out(name: str, marks: Iterable[Mark], middle: Place, *, reach: float, side: float, paper: Place) -> View:
    """A square of the drawing, ``reach`` mm to each side of its middle, shown with sides of ``side`` paper mm, cut off at its edges."""
    x, y = middle
    return View(name, side / (2.0 * reach), (x - reach, y - reach, x + reach, y + reach), paper, tuple(marks), clipped=True)


def height_of(view: View) -> float:
    """Height of a view on paper, mm."""
    return (view.window[3] - view.window[1]) * view.scale


def width_of(view: View) -> float:
    """Width of a view on paper, mm."""
    return (view.window[2] - view.window[0]) * view.scale


def figure(name: str, title: str, description: str, caption: str, laid: Laid, *, width: float) -> Html:
    """The picture with its caption; ``name`` makes its ids unique on the page."""
    views = tuple(replace(view, marks=tuple(map(_printed, view.marks))) for view in laid.views)
    marks = tuple(map(_printed, laid.marks))
    sheet = Sheet("", width, laid.height, title, printed(description), (*laid.layers, *_thin(LAYERS)), (), views, marks)
    return tag("figure", Html(svg_inline(flattened(sheet), name)), tag("figcaption", caption), style=f"width:{width:.4g}mm")


def _printed(mark: Mark) -> Mark:
    """A mark whose figures have the decimal sign of the page."""
    return replace(mark, string=printed(mark.string)) if isinstance(mark, Text) else mark


def _thin(layers: Sequence[Layer]) -> tuple[Layer, ...]:
    """The layers of the sheets with lines for a picture of half their size: 0,25 at most."""
    return tuple(replace(layer, width=min(layer.width, 0.18 if layer.width <= 0.25 else 0.25)) for layer in layers)


__all__ = [
    "STYLE",
    "WIDTH",
    "Laid",
    "cut_out",
    "figure",
    "height_of",
    "in_the_middle",
    "ratio",
    "scale_for",
    "true_scale",
    "width_of",
]
