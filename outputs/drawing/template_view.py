"""What a template shows, full size: outlines, blocks, the start of the bead, and the name of every line.

Terms
-----
template
    The pane at 1:1 on pages that are laid together: to mark the glass, and to hold against glass and recess what comes into the yard.
name of a line
    What the line is, lettered along it on every tile on which there is room: nobody has to turn back to the key.
"""

from __future__ import annotations

from math import acos, atan2, cos, degrees, fsum, hypot, radians, sin
from typing import TYPE_CHECKING

from geometry.detail.parts import Chock
from outputs.drawing.plan_outlines import chock_symbol, nodes_of, spacer_symbol
from outputs.sheet.boxes import box_of_text, grown, overlap
from outputs.sheet.drafting import number
from outputs.sheet.entities import Insert, Mark, Path
from outputs.sheet.keep_clear import crosses
from outputs.sheet.pencil import upright
from outputs.sheet.runs import arc_between, box, circle, line, polar, segments, shorter_arcs

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from geometry.detail.parts import Detail, Spacer
    from geometry.outline import Corner
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Node, Place, Text
    from outputs.sheet.pencil import Pencil

Straight = tuple[float, float, float, float]
Curve = tuple[str, str, "tuple[Node, ...]"]
"""Layer, name and nodes of an outline."""
CHORD = 0.1
"""How far a chord that stands for an arc may leave it, mm; for keeping clear, never for drawing."""
CROSS, RING = 5.0, 2.5
"""Half the length of a registration cross and the radius of its ring, mm."""
_NAME = 3.5  # mm, capitals of the names of blocks
_CLEAR = 1.5  # mm between two names
_OFF = 0.75  # mm between a name and a line
_WHOLE = 0.7  # mm that any lettering keeps from the edge of its tile
_FARTHER, _ASIDE = 40, (0.0, 6.0, -6.0, 12.0, -12.0)
"""How much farther in than its nearest place a name may stand, and how far aside of its line, mm."""
_ROOM = 3.0  # mm that a name keeps from the edge of its tile


def curves_shown(detail: Detail) -> list[Curve]:
    """The outlines of a template, the glass first."""
    curves = detail.curves
    named = (
        ("GLASS", "glass edge", curves.glass),
        ("BEAD_EDGE", "bead, outer edge", curves.bead_outer),
        ("BEAD_CENTRE", "bead centre", curves.bead_centre),
        ("BEAD_EDGE", "bead, inner edge", curves.bead_inner),
        ("FRIT_FADE", "end of the solid frit", curves.frit_fade),
        ("FRIT_INNER", "frit edge", curves.frit_inner),
    )
    return [(layer, name, nodes_of(outline)) for layer, name, outline in named if outline is not None]


def blocks_shown(detail: Detail) -> tuple[Chock | Spacer, ...]:
    """Spacers and chocks."""
    return (*detail.spacers, *detail.chocks)


def block_outline(block: Chock | Spacer, detail: Detail) -> tuple[Node, ...]:
    """The four corners of a block in the plan."""
    at, length, low, high = _block_box(block, detail)
    along, up = cos(radians(block.angle)), sin(radians(block.angle))
    corners = ((-length / 2, low), (length / 2, low), (length / 2, high), (-length / 2, high))
    return tuple((at[0] + a * along - b * up, at[1] + a * up + b * along, 0.0) for a, b in corners)


def _block_box(block: Chock | Spacer, detail: Detail) -> tuple[Place, float, float, float]:
    """Where a block is inserted, its length, and from where to where it lies across the edge (inwards is positive)."""
    if isinstance(block, Chock):
        return (block.foot.x, block.foot.y), block.length, -max(block.height, 0.1), 0.0
    half = detail.sizes.spacer_width.value / 2.0
    return (block.centre.x, block.centre.y), detail.sizes.spacer_length.value, -half, half


def template_marks(detail: Detail, pencil: Pencil, windows: Sequence[Box], *, inside: bool = False) -> list[Mark]:
    """Outlines, blocks with their names, corners and the start of the bead; the same on every tile. ``inside``: the detail is turned over.

    Each name stands whole within one of ``windows``, what the tiles show: where none is cut that shows the thing named.
    """
    marks: list[Mark] = [Path(layer, nodes, True) for layer, _, nodes in curves_shown(detail)]
    for spacer in detail.spacers:
        marks.append(Insert("SPACERS", spacer_symbol(detail), spacer.centre.x, spacer.centre.y, spacer.angle))
    for chock in detail.chocks:
        marks.append(Insert("CHOCKS", chock_symbol(chock), chock.foot.x, chock.foot.y, chock.angle))
    start = detail.bead_start
    place, across = (start.place.x, start.place.y), start.angle + (-90.0 if inside else 90.0)
    marks.append(line("SECTION_MARKS", polar(place, across, -10.0), polar(place, across, 10.0)))
    marks.append(pencil.arrow("SECTION_MARKS", polar(place, start.angle, 9.0), start.angle, size=5.0))
    names = _Names(detail, pencil, windows)
    for corner in detail.corners:
        names.corner(corner)
    names.inwards(place, across, "START")
    for block in blocks_shown(detail):
        middle = _middle(block_outline(block, detail))
        reach = names.inwards(middle, block.angle + 90.0, block.mark)
        marks.append(
            line("CENTRE_LINES", polar(middle, block.angle + 90.0, -9.0), polar(middle, block.angle + 90.0, reach - 1.2))
        )
    return [*marks, *names.found]


class _Names:
    """Names in the daylight, each clear of those before it and of the outlines, and whole on a tile."""

    def __init__(self, detail: Detail, pencil: Pencil, windows: Sequence[Box]) -> None:
        self.found: list[Text] = []
        self._detail, self._pencil = detail, pencil
        self._windows = [grown(window, -_WHOLE) for window in windows]
        self._lines = [chord for _, _, nodes in curves_shown(detail) for chord in chords_of(nodes)]

    def corner(self, corner: Corner) -> None:
        """The number of a corner, on its bisector."""
        at, angle = (corner.theoretical.x, corner.theoretical.y), degrees(atan2(corner.bisector.y, corner.bisector.x))
        self._put(at, angle, _inwards(self._detail, at, angle) + 9.0, f"V{corner.number}", 5.0)

    def inwards(self, place: Place, angle: float, words: str) -> float:
        """A name on the line that leaves a place inwards, beyond what stands there already; how far in the line to it may run."""
        reach = _inwards(self._detail, place, angle) + 4.0
        across, up = abs(cos(radians(angle))), abs(sin(radians(angle)))
        self._put(place, angle, reach + self._pencil.width(words, _NAME) / 2.0 * across + _NAME / 2.0 * up, words, _NAME)
        return reach

    def _put(self, place: Place, angle: float, reach: float, words: str, tall: float) -> None:
        """The nearest place at ``reach`` or beyond, on the line or a little aside of it."""
        tried = [
            self._pencil.text(
                "TEXT",
                polar(polar(place, angle, reach + more), angle + 90.0, aside),
                words,
                height=tall,
                align="middle",
                centred=True,
            )
            for more in range(0, _FARTHER, 2)
            for aside in _ASIDE
        ]
        clear = [text for text in tried if self._is_clear(text)]
        whole = [text for text in clear if self._is_whole(text)]
        here = [
            text
            for text in whole
            if any(_inside(box_of_text(text, 1.0), window) for window in self._windows if _holds(window, place))
        ]
        self.found.append((here or whole or clear or tried)[0])

    def _is_clear(self, text: Text) -> bool:
        own = box_of_text(text, 1.0)
        near = any(overlap(grown(own, _CLEAR), box_of_text(other, 1.0)) for other in self.found)
        return not near and not any(crosses(grown(own, _OFF), chord) for chord in self._lines)

    def _is_whole(self, text: Text) -> bool:
        return any(_inside(box_of_text(text, 1.0), window) for window in self._windows)


def is_whole(text: Text, window: Box) -> bool:
    """Whether a tile shows the whole of a text, not a part of it.

    >>> from outputs.sheet.entities import Text
    >>> is_whole(Text("TEXT", 5.0, 5.0, "S1", 3.5), (0, 0, 50, 50)), is_whole(Text("TEXT", 48.0, 5.0, "S1", 3.5), (0, 0, 50, 50))
    (True, False)
    """
    return _inside(box_of_text(text, 1.0), grown(window, -_WHOLE))


def _holds(window: Box, place: Place) -> bool:
    return window[0] <= place[0] <= window[2] and window[1] <= place[1] <= window[3]


def _middle(nodes: Sequence[Node]) -> Place:
    return fsum(x for x, _, _ in nodes) / len(nodes), fsum(y for _, y, _ in nodes) / len(nodes)


def _inwards(detail: Detail, place: Place, angle: float) -> float:
    """How far it is from a place near the edge to beyond the frit and the bead, square to the edge."""
    from geometry.outline import Point, ray_length

    at, towards = Point(*place), Point(cos(radians(angle)), sin(radians(angle)))
    lengths = [ray_length(outline, at, towards) or 0.0 for outline in (detail.curves.frit_inner, detail.curves.bead_inner)]
    return max(lengths)


def register_marks(places: Sequence[Place]) -> list[Mark]:
    """Registration crosses."""
    marks: list[Mark] = []
    for x, y in places:
        marks += [line("DETAIL", (x - CROSS, y), (x + CROSS, y)), line("DETAIL", (x, y - CROSS), (x, y + CROSS))]
        marks.append(circle("SEEN_OUTLINE", (x, y), RING))
    return marks


def key_sample(layer: str, left: float, middle: float, long: float) -> list[Mark]:
    """What the key shows of a layer, ``long`` mm wide: a line, but of a block, the start or a cross the thing itself, small."""
    x, right = left + long / 2, left + long
    if layer == "SPACERS":
        return [box(layer, left + long / 4, middle - 1.2, right - long / 4, middle + 1.2)]
    if layer == "SECTION_MARKS":
        tip = x - 4.0
        shaft = [line(layer, (x, middle - 1.8), (x, middle + 1.8)), line(layer, (x, middle), (tip, middle))]
        return [*shaft, *(line(layer, (tip, middle), (tip + 1.5, middle + side)) for side in (0.6, -0.6))]
    if layer == "DETAIL":
        cross = [line(layer, (x - 1.9, middle), (x + 1.9, middle)), line(layer, (x, middle - 1.9), (x, middle + 1.9))]
        return [*cross, circle(layer, (x, middle), 1.0)]
    return [line(layer, (left, middle), (right, middle))]


def node_words(place: Place, origin: Place, *, inside: bool = False) -> str:
    """X and Y of a node as they stand beside its cross; ``inside``: X counts to the left.

    >>> node_words((170.0, -5.0), (0.0, 0.0))
    'X 170  Y −5'
    """
    return f"X {number((place[0] - origin[0]) * (-1.0 if inside else 1.0))}  Y {number(place[1] - origin[1])}"


def named_lines(
    detail: Detail, window: Box, drawn: Sequence[Straight], taken: list[Box], pencil: Pencil, *, seen: str
) -> list[Text]:
    """The name of each outline along it, where a tile has room: clear of every line of ``drawn`` and of the boxes in ``taken``.

    ``taken`` grows by what is lettered; behind the name of the glass edge stands how it is ``seen``.
    """
    inner = grown(window, -_ROOM)
    names: list[Text] = []
    for _, name, nodes in curves_shown(detail):
        words = f"{name}, {seen}" if name == "glass edge" else name
        for text in _along(chords_of(nodes), words, inner, pencil):
            box = box_of_text(text, 1.0)
            free = _inside(box, inner) and not any(overlap(grown(box, _CLEAR), other) for other in taken)
            if free and not any(_cuts(text, straight, box, pencil) for straight in drawn):
                names.append(text)
                taken.append(box)
                break
    return names


def _cuts(text: Text, straight: Straight, box: Box, pencil: Pencil) -> bool:
    """Whether a line runs through a text, whichever way it is turned: both are brought to the text's own level."""
    if not text.rotation % 90.0:
        return crosses(grown(box, _OFF), straight)
    along, up = cos(radians(text.rotation)), sin(radians(text.rotation))
    turned = []
    for x, y in (straight[:2], straight[2:]):
        dx, dy = x - text.x, y - text.y
        turned += [dx * along + dy * up, dy * along - dx * up]
    half = pencil.width(text.string) / 2
    return crosses(
        (-half - _OFF, -0.3 * text.height - _OFF, half + _OFF, text.height + _OFF), (turned[0], turned[1], turned[2], turned[3])
    )


def _along(chords: Sequence[Straight], words: str, window: Box, pencil: Pencil) -> Iterator[Text]:
    """Places for a name along a run, above the line as one reads it: in the middle of long pieces first."""
    length = pencil.width(words)
    for x1, y1, x2, y2 in sorted(_pieces(chords, window), key=lambda each: -hypot(each[2] - each[0], each[3] - each[1])):
        long = hypot(x2 - x1, y2 - y1)
        angle = upright(degrees(atan2(y2 - y1, x2 - x1)))
        if long < length + 2.0 and long < 4.0:
            continue
        for share in (0.5, 0.3, 0.7, 0.15, 0.85):
            at = (x1 + (x2 - x1) * share, y1 + (y2 - y1) * share)
            for side in (1.8, -1.2 - pencil.style.text):
                yield pencil.text("TEXT", polar(at, angle + 90.0, side), words, align="middle", rotation=angle)


def _pieces(chords: Sequence[Straight], window: Box) -> Iterator[Straight]:
    """What of straight lines lies within a window."""
    left, bottom, right, top = window
    for x1, y1, x2, y2 in chords:
        first, last = 0.0, 1.0
        for start, run, low, high in ((x1, x2 - x1, left, right), (y1, y2 - y1, bottom, top)):
            if run:
                ends = sorted(((low - start) / run, (high - start) / run))
                first, last = max(first, ends[0]), min(last, ends[1])
            elif not low <= start <= high:
                last = -1.0
        if last > first:
            yield (x1 + first * (x2 - x1), y1 + first * (y2 - y1), x1 + last * (x2 - x1), y1 + last * (y2 - y1))


def _inside(box: Box, window: Box) -> bool:
    return box[0] >= window[0] and box[1] >= window[1] and box[2] <= window[2] and box[3] <= window[3]


def chords_of(nodes: tuple[Node, ...]) -> list[Straight]:
    """A closed run as straight lines that leave it by :data:`CHORD` at most."""
    found: list[Straight] = []
    for start, end in segments(nodes, closed=True):
        x, y = start[0], start[1]
        ends: list[Place] = [(end[0], end[1])]
        if start[2]:
            radius = arc_between(start, end).radius
            ends, _ = shorter_arcs(start, end, longest=2.0 * acos(max(0.0, 1.0 - CHORD / radius)))
        for place in ends:
            found.append((x, y, *place))
            x, y = place
    return found


__all__ = [
    "CHORD",
    "Straight",
    "block_outline",
    "blocks_shown",
    "chords_of",
    "curves_shown",
    "is_whole",
    "key_sample",
    "named_lines",
    "node_words",
    "register_marks",
    "template_marks",
]
