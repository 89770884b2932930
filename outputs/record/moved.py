"""What moved since an older state of a pane: sizes, outlines and blocks in millimetres, and what else was stated otherwise.

Terms
-----
state of a pane
    Its sizes, outlines, blocks and stated make-up as plain data: worked out from a job, or read from an older calculation record. Both
    are compared in the same way.
moved
    One thing that is not what it was. A place that moved has its distance and where it is now.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING, Any

from outputs.record.places_part import places_data
from outputs.sheet.drafting import number

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from geometry.detail.parts import Detail
    from geometry.job import Pane
    from geometry.outline import Outline, Point

Data = dict[str, Any]
LEAST = 0.005
"""mm; what moved by less is the rounding of a figure that was written down."""
SPACING = 5.0
"""mm between the places of an outline that are held against the other one, beside all its nodes."""
NEEDED = ("code", "sizes", "blocks", "outlines", "stated")
"""What a state of a pane holds."""


@dataclass(frozen=True, slots=True)
class Moved:
    """One thing that changed: its name, as it was and as it is; ``by`` mm and ``at`` (mm, as the outline) where it has a place."""

    what: str
    was: str
    now: str
    by: float | None = None
    at: tuple[float, float] | None = None

    @property
    def line(self) -> str:
        """In one line: ``joint width 6 → 7``."""
        if not self.was:
            return f"{self.what} {self.now}".strip()
        return f"{self.what} {self.was} → {self.now}"


def state_of_pane(pane: Pane, detail: Detail) -> Data:
    """The state of a pane as plain data."""
    curves = detail.curves
    return {
        "code": pane.code,
        "sizes": [{"name": size.name, "value": size.value, "unit": size.unit} for size in detail.sizes.all()],
        **places_data(detail),
        "outlines": {
            name: [[vertex.x, vertex.y, vertex.bulge] for vertex in curve.vertices]
            for name, curve in (("glass", curves.glass), ("recess", curves.recess))
        },
        "stated": {
            "glass": f"{detail.glass.make_up()} {detail.glass.treatment}",
            "frame": detail.frame,
            "rake": f"{number(pane.rake)}°",
            "quantity": str(pane.quantity),
            "side": pane.side or "",
        },
    }


def moved_since(old: Mapping[str, Any], new: Mapping[str, Any]) -> tuple[Moved, ...]:
    """What is not what it was, in the order of a reader: make-up, outlines, sizes, blocks. Empty where nothing changed."""
    return (*_stated(old, new), *_outlines(old, new), *_sizes(old, new), *_blocks(old, new))


def _stated(old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[Moved]:
    for name, now in new["stated"].items():
        was = str(old["stated"].get(name, ""))
        if was != now:
            yield Moved(name, was or "not stated", now or "not stated")


def _outlines(old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[Moved]:
    for name, nodes in new["outlines"].items():
        if name not in old["outlines"]:
            continue
        was, now = _outline(old["outlines"][name]), _outline(nodes)
        by, at = _farthest(was, now)
        if by > LEAST:
            yield Moved(f"outline of the {name}", "", f"moved by {_length(by)} mm at most", by, at)


def _outline(nodes: Sequence[Sequence[float]]) -> Outline:
    from geometry.outline import Outline
    from geometry.outline.loop import Vertex

    return Outline(tuple(Vertex(float(x), float(y), float(bulge)) for x, y, bulge in nodes))


def _farthest(was: Outline, now: Outline) -> tuple[float, tuple[float, float]]:
    """How far one outline lies from the other at most, mm, and the place of it on the new one."""
    from geometry.outline import distance_from, nearest_station

    best, at = 0.0, (0.0, 0.0)
    for one, other, back in ((now, was, False), (was, now, True)):
        for place in _places(one):
            apart = distance_from(other, place)
            if apart > best:
                here = nearest_station(other, place).point if back else place
                best, at = apart, (here[0], here[1])
    return best, at


def _places(outline: Outline) -> tuple[Point, ...]:
    from geometry.outline import Point
    from geometry.outline.stations import places_along

    return (*(Point(vertex.x, vertex.y) for vertex in outline.vertices), *places_along(outline, spacing=SPACING))


def _sizes(old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[Moved]:
    before = {size["name"]: size for size in old["sizes"]}
    for size in new["sizes"]:
        was = before.get(size["name"])
        if was is None:
            yield Moved(size["name"], "none", f"{number(size['value'])} {size['unit']}")
        elif abs(was["value"] - size["value"]) > LEAST:
            by = size["value"] - was["value"] if size["unit"] == "mm" else None
            yield Moved(size["name"], number(was["value"]), f"{number(size['value'])} {size['unit']}", by)
    names = {size["name"] for size in new["sizes"]}
    yield from (Moved(name, f"{number(was['value'])} {was['unit']}", "none") for name, was in before.items() if name not in names)


def _blocks(old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterator[Moved]:
    before = {block["mark"]: block for block in old["blocks"]}
    now = {block["mark"]: block for block in new["blocks"]}
    for mark, block in now.items():
        at = (block["x"], block["y"])
        if mark not in before:
            yield Moved(f"{mark} ({block['kind']})", "", "added", at=at)
            continue
        was = before[mark]
        by = hypot(block["x"] - was["x"], block["y"] - was["y"])
        if by > LEAST:
            yield Moved(f"{mark} ({block['kind']})", "", f"moved by {_length(by)} mm", by, at)
    yield from (Moved(f"{mark} ({was['kind']})", "", "gone") for mark, was in before.items() if mark not in now)


def _length(by: float) -> str:
    return number(by, decimals=2 if by < 1.0 else 1)


def summary(moved: Sequence[Moved], longest: int = 60) -> tuple[str, ...]:
    """The lines of a revision block: as many changes in each as ``longest`` signs hold.

    >>> summary([Moved("joint width", "6", "7 mm", 1.0), Moved("S3 (spacer block)", "", "added")], 30)
    ('joint width 6 → 7 mm', 'S3 (spacer block) added')
    """
    lines: list[str] = []
    for each in moved:
        if lines and len(lines[-1]) + len(each.line) + 2 <= longest:
            lines[-1] += f"; {each.line}"
        else:
            lines.append(each.line)
    return tuple(lines) or ("nothing moved",)


__all__ = ["NEEDED", "Moved", "moved_since", "state_of_pane", "summary"]
