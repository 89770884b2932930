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
from outputs.sheet.boxes import box_of, joined
from outputs.sheet.drafting import DraftingStyle
from outputs.sheet.entities import Sheet, View
from outputs.sheet.flattening import flattened
from outputs.sheet.layers import LAYERS

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from geometry.outline.measure import Box
    from outputs.sheet.entities import Layer, Mark, Place

WIDTH = 180.0  # paper mm, the text of an A4 page
ROOM = (126.0, 76.0)  # width and height of a pane: a diagram and figures stand round it
BORDER = 1.5
STYLE = DraftingStyle(arrow=1.8, arrow_angle=35.0)  # heads that tell on arrows of a few millimetres


@dataclass(frozen=True, slots=True)
class Laid:
    """A picture of a page before it is written: its views, the marks on its paper, its height in mm."""

    views: tuple[View, ...]
    height: float
    marks: tuple[Mark, ...] = ()
    layers: tuple[Layer, ...] = ()


def scale_for(box: Box) -> float:
    """The largest scale (paper / model) at which a box of the model fits its :data:`ROOM`."""
    return min(ROOM[0] / box.width, ROOM[1] / box.height)


def ratio(scale: float) -> str:
    """A scale in words.

    >>> ratio(0.2), ratio(1 / 6.84), ratio(2.0)
    ('1:5', '1:6.8', '2:1')
    """
    return f"{round(scale, 1):g}:1" if scale >= 1.0 else f"1:{round(1.0 / scale, 1):g}"


def in_the_middle(name: str, marks: Iterable[Mark], scale: float, *, outline: Box, below: float = 0.0) -> View:
    """A view of marks, the outline they stand round in the middle of the page's width, ``below`` paper mm over the lower edge."""
    marks = tuple(marks)
    left, bottom, right, top = joined(box_of(mark, scale) for mark in marks)
    middle, border = (outline.left + outline.right) / 2.0, BORDER / scale
    half = max(middle - left, right - middle) + border
    window = (middle - half, bottom - border, middle + half, top + border)
    return View(name, scale, window, (WIDTH / 2.0 - half * scale, below), marks)


def cut_out(name: str, marks: Iterable[Mark], middle: Place, *, reach: float, side: float, paper: Place) -> View:
    """A square of the drawing, ``reach`` mm to each side of its middle, shown with sides of ``side`` paper mm, cut off at its edges."""
    x, y = middle
    return View(name, side / (2.0 * reach), (x - reach, y - reach, x + reach, y + reach), paper, tuple(marks), clipped=True)


def height_of(view: View) -> float:
    """Height of a view on paper, mm."""
    return (view.window[3] - view.window[1]) * view.scale


def figure(name: str, title: str, description: str, caption: str, laid: Laid) -> Html:
    """The picture with its caption; ``name`` makes its ids unique on the page."""
    sheet = Sheet("", WIDTH, laid.height, title, description, (*laid.layers, *_thin(LAYERS)), (), laid.views, laid.marks)
    return tag("figure", Html(svg_inline(flattened(sheet), name)), tag("figcaption", caption))


def _thin(layers: Sequence[Layer]) -> tuple[Layer, ...]:
    """The layers of the sheets with lines for a picture of half their size: 0,25 at most."""
    return tuple(replace(layer, width=min(layer.width, 0.18 if layer.width <= 0.25 else 0.25)) for layer in layers)


__all__ = ["STYLE", "Laid", "cut_out", "figure", "height_of", "in_the_middle", "ratio", "scale_for"]
