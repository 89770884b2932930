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
from outputs.sheet.runs import line, polar, run


def upright(angle: float) -> float:
    """The reading direction of a text along ``angle``: from below or from the right, never upside down.

    >>> upright(0), upright(90), upright(180), upright(-90)
    (0.0, 90.0, 0.0, 90.0)
    """
    turned = angle % 180.0
    return float(turned if turned <= 90.0 + 1e-9 else turned - 180.0)


@lru_cache(maxsize=4096)
def _towards(angle: float) -> Place:
    """The unit vector in a direction, degrees."""
    return math.cos(math.radians(angle)), math.sin(math.radians(angle))


@lru_cache(maxsize=4096)
def _flanks(angle: float) -> tuple[Place, Place, Place]:
    """The unit vectors from the tip of an arrow backwards, and from there to both flanks."""
    return _towards(angle + 180.0), _towards(angle + 90.0), _towards(angle - 90.0)


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
    ) -> Text:
        """One line of lettering with its base line at ``at``, or with ``centred`` the middle of its capitals there."""
        size = self.style.text if height is None else height
        x, y = at
        if centred:
            (down_x, down_y), half = _towards(rotation - 90.0), size / 2 / self.scale
            x, y = x + half * down_x, y + half * down_y
        return Text(layer, x, y, string, size, align, rotation)

    def width(self, string: str, height: float | None = None) -> float:
        """How long a text is in the model."""
        return self.paper(text_width(string, self.style.text if height is None else height))

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
        style = self.style
        along = (math.cos(math.radians(angle)), math.sin(math.radians(angle)))
        across = (-along[1], along[0])
        s1 = first[0] * along[0] + first[1] * along[1]
        s2 = second[0] * along[0] + second[1] * along[1]
        level = -line_at if angle == 90 else line_at
        if s2 < s1:
            first, second, s1, s2 = second, first, s2, s1
            outside = "second" if outside == "first" else "first"
            gap_first, gap_second = gap_second, gap_first

        def at(s: float, t: float) -> Place:
            return s * along[0] + t * across[0], s * along[1] + t * across[1]

        measured = s2 - s1
        printed = toleranced(measured, tolerance) if text is None else text
        parts: list[Path | Fill | Text] = []
        for (x, y), s, own_gap in ((first, s1, gap_first), (second, s2, gap_second)):
            start = x * across[0] + y * across[1]
            sign = 1.0 if level >= start else -1.0
            gap = self.paper(style.extension_gap if own_gap is None else own_gap)
            end = level + sign * self.paper(style.extension_past)
            if abs(level - start) > gap + 1e-9:  # a feature on the dimension line itself needs none
                parts.append(line(layer, at(s, start + sign * gap), at(s, end)))
        size = style.text
        text_length = self.width(printed)
        paper_span = measured * self.scale
        inside_arrows = paper_span >= 2 * style.arrow + 1.0
        text_inside = text_length * self.scale + 0.6 <= paper_span * 2 * min(text_share, 1 - text_share)
        tail = self.paper(style.arrow * 2)
        low, high = s1, s2
        if not inside_arrows:
            low, high = s1 - tail, s2 + tail
        beside = self.paper(text_beyond) + text_length / 2
        if text_inside:
            middle = s1 + (s2 - s1) * text_share
        elif outside == "first":
            middle = s1 - beside
            low = min(low, middle - text_length / 2)
        else:
            middle = s2 + beside
            high = max(high, middle + text_length / 2)
        parts.append(line(layer, at(low, level), at(high, level)))
        outward = 180.0 if inside_arrows else 0.0
        parts += [self.arrow(layer, at(s1, level), angle + outward), self.arrow(layer, at(s2, level), angle + 180.0 - outward)]
        text_base = at(middle, level + self.paper(style.text_gap))
        text_middle = at(middle, level + self.paper(style.text_gap + size / 2))
        parts.append(Text(layer, text_base[0], text_base[1], printed, size, "middle", angle))
        return Dimension(layer, "linear", first, second, at(s1, level), angle, measured, printed, text_middle, tuple(parts))

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
