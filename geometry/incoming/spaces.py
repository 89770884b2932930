"""Where in a drawing the lines stand: the model, a layout, a block; each is taken apart once.

Terms
-----
pick
    What of the drawing is meant, in which unit, and from which side it was drawn.
space
    Where the lines stand: the model, a layout (a paper sheet), or a block.
"""

from __future__ import annotations

import difflib
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from geometry.incoming.dxf_entities import LINES, drawn_in
from geometry.incoming.incoming import IncomingError, plain

if TYPE_CHECKING:
    from geometry.incoming.dxf_reading import Document
    from geometry.incoming.joining import Joined
    from geometry.incoming.pieces import Drawn

GAP = 0.05
"""mm between two loose ends that are joined, where nothing else is asked for (own default)."""
WITHIN = 0.01
"""mm that arcs may lie off a drawn curve, where nothing else is asked for."""


@dataclass(frozen=True)
class Pick:
    """What is asked of a drawing; "" and None leave it to the drawing. ``at``, ``gap`` and ``within`` in mm."""

    layer: str = ""
    units: str = ""
    at: tuple[float, ...] | None = None
    label: str = ""
    block: str = ""
    layout: str = ""
    seen_from: str = ""
    gap: float = GAP
    within: float = WITHIN


@dataclass
class Drawing:
    """One drawing that was read; what each space shows is taken apart once."""

    name: str
    document: Document
    _shown: dict[tuple[str, str, str], Drawn] = field(default_factory=dict)
    _joined: dict[tuple[str, str, str, float, float], Joined] = field(default_factory=dict)


def shown_in(drawing: Drawing, pick: Pick) -> Drawn:
    """What the space that is asked for shows. Raises ``IncomingError`` where it is not there or shows no lines."""
    key = (pick.block.casefold(), pick.layout.casefold(), pick.layer.casefold())
    if key not in drawing._shown:
        space, name = _space(drawing, pick)
        shown = drawn_in(drawing.document, space, name, shown=[pick.layer] if pick.layer else [])
        if not shown.count:
            raise _nothing(drawing, pick, shown)
        drawing._shown[key] = shown
    return drawing._shown[key]


def _space(drawing: Drawing, pick: Pick) -> tuple[Any, str]:
    doc = drawing.document.doc
    if pick.block and pick.layout:
        raise IncomingError("found block beside layout", "one of them", key="block")
    if pick.block:
        space = doc.blocks.get(pick.block)
        if space is None:
            names = _blocks(doc)
            raise IncomingError(
                f"{drawing.name} has no block {pick.block!r}", _names(names), near_miss(pick.block, names), key="block"
            )
        return space, pick.block
    if pick.layout and pick.layout.casefold() != "model":
        names = [name for name in doc.layouts.names() if name.casefold() != "model"]
        named = next((name for name in names if name.casefold() == pick.layout.casefold()), None)
        if named is None:
            raise IncomingError(
                f"{drawing.name} has no layout {pick.layout!r}",
                _names(["Model", *names]),
                near_miss(pick.layout, names),
                key="layout",
            )
        return doc.layouts.get(named), named
    return doc.modelspace(), "the model"


def _blocks(doc: Any) -> list[str]:
    return [block.name for block in doc.blocks if not block.name.startswith("*")]


def _names(names: Sequence[str]) -> str:
    if not names:
        return "it has none"
    return "one of " + ", ".join(map(plain, names[:20])) + (f" and {len(names) - 20} more" if len(names) > 20 else "")


def near_miss(word: str, names: Sequence[str]) -> str:
    """``did you mean ...?`` for a near miss, or nothing."""
    close = difflib.get_close_matches(word.casefold(), {name.casefold(): name for name in names}, n=1, cutoff=0.6)
    return f"did you mean {plain(next(name for name in names if name.casefold() == close[0]))}?" if close else ""


def _nothing(drawing: Drawing, pick: Pick, shown: Drawn) -> IncomingError:
    """The refusal of a space without lines: where else there are some."""
    doc = drawing.document.doc
    where = f"block {plain(pick.block)}" if pick.block else f"layout {plain(pick.layout)}" if pick.layout else "the model space"
    also = [f"{count} {plain(name)}" for name, count in sorted(shown.left_out.items())]
    also += [f"{entities(count)} on the hidden layer {plain(name)}" for name, count in sorted(shown.hidden.items())]
    found = f"{drawing.name} shows no lines, arcs or curves in {where}" + (f", only {', '.join(also[:6])}" if also else "")
    places = []
    for key, names in (("layout", list(doc.layouts.names())), ("block", _blocks(doc))):
        for name in names:
            if name.casefold() == (pick.block or pick.layout or "model").casefold():
                continue
            space = doc.layouts.get(name) if key == "layout" else doc.blocks.get(name)
            count = sum(1 for entity in space if entity.dxftype() in (*LINES, "INSERT"))
            if count:
                places.append(f'{key} = "{plain(name)}" ({entities(count)})')
    key = "block" if pick.block else "layout" if pick.layout else ""
    return IncomingError(found, " or ".join(places[:8]) or "a drawing with lines; this one holds none", key=key)


def entities(count: int) -> str:
    """A number of entities in words."""
    return "1 entity" if count == 1 else f"{count} entities"


__all__ = ["GAP", "WITHIN", "Drawing", "Pick", "entities", "near_miss", "shown_in"]
