"""Pencil: the small marks that views are composed of, laid out in the model at a view's scale.

A ``Pencil`` carries the drafting style and the scale of the view; every length it takes is full size unless its name says ``paper``.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from outputs.sheet.drafting import DraftingStyle, number, toleranced
from outputs.sheet.entities import Dimension, Fill, Path, Place, Text
from outputs.sheet.lettering import text_width
from outputs.sheet.runs import polar, run


def upright(angle: float) -> float:
    """The reading direction of a text along ``angle``: from below or from the right, never upside down.

    >>> upright(0), upright(90), upright(180), upright(-90)
    (0.0, 90.0, 0.0, 90.0)
    """
    turned = angle % 180.0
    return float(turned if turned <= 90.0 + 1e-9 else turned - 180.0)


@lru_cache(maxsize=4096)
def towards(angle: float) -> Place:
    """The unit vector in a direction, degrees."""
    return math.cos(math.radians(angle)), math.sin(math.radians(angle))


@lru_cache(maxsize=4096)
def _flanks(angle: float) -> tuple[Place, Place, Place]:
    """The unit vectors from the tip of an arrow backwards, and from there to both flanks."""
    return towards(angle + 180.0), towards(angle + 90.0), towards(angle - 90.0)


@lru_cache(maxsize=4096)
def _slope(angle: float) -> float:
    """Half the width of an arrow by its length, given the angle of both flanks together, degrees."""
    return math.tan(math.radians(angle / 2))


@dataclass(frozen=True, slots=True)
class Pencil:
    """The drafting style at the scale of one view."""

    style: DraftingStyle
    scale: float

    def paper(self, length: float) -> float:
        """A length on paper as a length in the model."""
        return length / self.scale

    def text(
        self,
        layer: str,
        at: Place,
        string: str,
        *,
        height: float | None = None,
        align: Literal["left", "middle", "right"] = "left",
        rotation: float = 0.0,
        centred: bool = False,
        bold: bool = False,
    ) -> Text:
        """One line of lettering with its base line at ``at``, or with ``centred`` the middle of its capitals there."""
        size = self.style.text if height is None else height
        x, y = at
        if centred:
            (down_x, down_y), half = towards(rotation - 90.0), size / 2 / self.scale
            x, y = x + half * down_x, y + half * down_y
        return Text(layer, x, y, string, size, align, rotation, bold)

    def width(self, string: str, height: float | None = None, *, bold: bool = False) -> float:
        """How long a text is in the model."""
        return self.paper(text_width(string, self.style.text if height is None else height, bold=bold))

    def arrow(self, layer: str, tip: Place, angle: float, *, size: float | None = None) -> Fill:
        """A closed filled arrowhead whose point looks in direction ``angle``."""
        length = (self.style.arrow if size is None else size) / self.scale
        (back_x, back_y), (left_x, left_y), (right_x, right_y) = _flanks(angle)
        half = length * _slope(self.style.arrow_angle)
        x, y = tip[0] + length * back_x, tip[1] + length * back_y
        left, right = (x + half * left_x, y + half * left_y, 0.0), (x + half * right_x, y + half * right_y, 0.0)
        return Fill(layer, ((tip[0], tip[1], 0.0), left, right))

    def linear(
        self,
        first: Place,
        second: Place,
        *,
        line_at: float,
        angle: float = 0.0,
        text: str | None = None,
        tolerance: float | None = None,
        outside: Literal["first", "second"] = "first",
        layer: str = "DIMENSIONS",
        gap_first: float | None = None,
        gap_second: float | None = None,
        text_share: float = 0.5,
        text_beyond: float = 1.0,
    ) -> Dimension:
        """A linear dimension measured along ``angle`` (degrees, reading direction: above −90, up to 90) between two places.

        ``line_at`` is the coordinate of the dimension line square to ``angle`` (y for 0, x for 90; for any other angle the distance to
        the left of the ray from the origin along it). The text stands above the line, its middle at ``text_share`` of it from the left or
        lower end (0,5: halfway), or, where it finds no room there, ``text_beyond`` (paper mm) beyond the end named by ``outside``.
        """
        style, scale = self.style, self.scale
        along_x, along_y = towards(angle)
        across_x, across_y = -along_y, along_x
        s1 = first[0] * along_x + first[1] * along_y
        s2 = second[0] * along_x + second[1] * along_y
        level = -line_at if angle == 90 else line_at
        if s2 < s1:
            first, second, s1, s2 = second, first, s2, s1
            outside = "second" if outside == "first" else "first"
            gap_first, gap_second = gap_second, gap_first
        measured = s2 - s1
        printed = toleranced(measured, tolerance) if text is None else text
        parts: list[Path | Fill | Text] = []
        for (x, y), s, own_gap in ((first, s1, gap_first), (second, s2, gap_second)):
            start = x * across_x + y * across_y
            sign = 1.0 if level >= start else -1.0
            gap = (style.extension_gap if own_gap is None else own_gap) / scale
            if abs(level - start) > gap + 1e-9:  # a feature on the dimension line itself needs none
                near, far = start + sign * gap, level + sign * (style.extension_past / scale)
                begin = (s * along_x + near * across_x, s * along_y + near * across_y, 0.0)
                parts.append(Path(layer, (begin, (s * along_x + far * across_x, s * along_y + far * across_y, 0.0))))
        low, high, middle = self.line_and_figure(s1, s2, printed, outside=outside, text_share=text_share, text_beyond=text_beyond)
        aside_x, aside_y = level * across_x, level * across_y
        ends = (
            (low * along_x + aside_x, low * along_y + aside_y, 0.0),
            (high * along_x + aside_x, high * along_y + aside_y, 0.0),
        )
        parts.append(Path(layer, ends))
        outward = 180.0 if self._arrows_inside(measured) else 0.0
        on_line = (s1 * along_x + aside_x, s1 * along_y + aside_y)
        parts.append(self.arrow(layer, on_line, angle + outward))
        parts.append(self.arrow(layer, (s2 * along_x + aside_x, s2 * along_y + aside_y), angle + 180.0 - outward))
        foot, centre = level + style.text_gap / scale, level + (style.text_gap + style.text / 2) / scale
        base_x, base_y = middle * along_x + foot * across_x, middle * along_y + foot * across_y
        parts.append(Text(layer, base_x, base_y, printed, style.text, "middle", angle))
        text_at = (middle * along_x + centre * across_x, middle * along_y + centre * across_y)
        return Dimension(layer, "linear", first, second, on_line, angle, measured, printed, text_at, tuple(parts))

    def _arrows_inside(self, measured: float) -> bool:
        """Whether the arrows of a linear dimension find room between its ends."""
        return measured * self.scale >= 2 * self.style.arrow + 1.0

    def line_and_figure(
        self, low: float, high: float, printed: str, *, outside: Literal["first", "second"], text_share: float, text_beyond: float
    ) -> tuple[float, float, float]:
        """From where to where the line of a linear dimension from ``low`` to ``high`` runs, tails and all, and the middle of its figure."""
        style, measured = self.style, high - low
        text_length = text_width(printed, style.text) / self.scale
        first, second = low, high
        if not self._arrows_inside(measured):
            tail = style.arrow * 2 / self.scale
            low, high = first - tail, second + tail
        if text_length * self.scale + 2 * style.off_lines <= measured * self.scale * 2 * min(text_share, 1 - text_share):
            return low, high, first + (second - first) * text_share
        beside = text_beyond / self.scale + text_length / 2
        if outside == "first":
            middle = first - beside
            return min(low, middle - text_length / 2), high, middle
        middle = second + beside
        return low, max(high, middle + text_length / 2), middle

    def radius(
        self, centre: Place, radius: float, *, angle: float, reach: float, prefix: str = "R", layer: str = "DIMENSIONS"
    ) -> Dimension:
        """A radius, its arrow on the arc in direction ``angle`` from the centre, its text ``reach`` beyond (negative: inside) the arc."""
        style = self.style
        tip = polar(centre, angle, radius)
        printed = f"{prefix}{number(radius)}"
        length = self.width(printed) + self.paper(1.0)
        # The bent leader: from the arc to the elbow, then level under the text.
        elbow = polar(centre, angle, radius + reach)
        rightwards = elbow[0] >= tip[0]
        end = (elbow[0] + (length if rightwards else -length), elbow[1])
        heading = angle + 180.0 if reach >= 0 else angle
        middle = ((elbow[0] + end[0]) / 2, elbow[1] + self.paper(style.text_gap))
        parts: tuple[Path | Fill | Text, ...] = (
            run(layer, (tip, elbow, end)),
            self.arrow(layer, tip, heading),
            Text(layer, middle[0], middle[1], printed, style.text, "middle", 0.0),
        )
        text_at = (middle[0], middle[1] + self.paper(style.text / 2))
        return Dimension(layer, "radius", centre, tip, elbow, angle, radius, printed, text_at, parts)


__all__ = ["Pencil", "towards", "upright"]
