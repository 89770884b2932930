"""The proof of a sheet before it is written: what a file must not hold and no reader would complain of.

A reader that meets a coordinate that is not a number, a name that is not defined or a line width that is not in the list
draws something else and says nothing. So nothing is written that has one.
"""

from __future__ import annotations

from itertools import chain, combinations, pairwise
from math import cos, hypot, inf, isfinite, radians, sin
from typing import TYPE_CHECKING

import numpy as np

from outputs.sheet.boxes import box_of, box_of_text, grown, joined, overlap
from outputs.sheet.entities import Dimension, Fill, Hatch, Insert, Path, Text
from outputs.sheet.keep_clear import crosses, straights_of
from outputs.sheet.layers import LINETYPES
from outputs.sheet.lettering import LetteringError, printed
from outputs.sheet.patterns import PATTERNS, REGIONS
from outputs.sheet.refusal import SheetError
from outputs.sheet.runs import segments
from outputs.sheet.spaces import spaces

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Block, Mark, Node, Place, Sheet, View
    from outputs.sheet.spaces import Space

LINE_WEIGHTS = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211)
"""Line weights that DXF knows, 1/100 mm."""

_SHORTEST = 1e-5  # paper mm: no printer shows it and CAD seats stumble over it
_LONG_ENOUGH = 4.0 * _SHORTEST * _SHORTEST  # paper mm², of a length that is beyond doubt
_MEASURED = 1e-3  # mm between the figure of a dimension and what a seat measures
_OUTSIDE = 0.01  # paper mm that a mark may reach past the window of its view


def prove(sheet: Sheet) -> None:
    """Prove that a sheet can be written. Raises :class:`SheetError` with every fault found (the first twenty)."""
    faults = list(_faults(sheet))
    if faults:
        more = f"; and {len(faults) - 20} more" if len(faults) > 20 else ""
        raise SheetError(f"sheet {sheet.title!r} cannot be written: " + "; ".join(faults[:20]) + more)


def _faults(sheet: Sheet) -> Iterator[str]:
    if not _finite(sheet.width, sheet.height) or sheet.width <= 0.0 or sheet.height <= 0.0:
        yield f"its size is {sheet.width} × {sheet.height} mm; both must be greater than 0"
    yield from _layer_faults(sheet)
    blocks = {block.name: block for block in sheet.blocks}
    if len(blocks) < len(sheet.blocks):
        yield "two blocks have the same name"
    names = {layer.name for layer in sheet.layers}
    for block in sheet.blocks:
        yield from _block_faults(block)
    for view in sheet.views:
        yield from _view_faults(view, sheet)
    yield from _overlap_faults(sheet.views)
    told: list[str] = []
    faultless: list[Mark] = []  # on the paper
    for space in spaces(sheet):
        if _sound(space, names, blocks):
            faultless += space.marks if space.view is None else ()
            continue
        for number, mark in enumerate(space.marks, start=1):
            faults = _mark_faults(mark, space, names, blocks)
            told += [f"mark {number} of {space.name} ({type(mark).__name__} on {mark.layer!r}): {fault}" for fault in faults]
            if space.view is None and not faults:
                faultless.append(mark)
    yield from _paper_faults(sheet, faultless)
    yield from told


def _layer_faults(sheet: Sheet) -> Iterator[str]:
    seen: set[str] = set()
    for layer in sheet.layers:
        if layer.name.upper() in seen:
            yield f"layer {layer.name!r} is defined twice"
        seen.add(layer.name.upper())
        if not _finite(layer.width) or round(layer.width * 100) not in LINE_WEIGHTS:
            allowed = ", ".join(f"{weight / 100:.2f}" for weight in LINE_WEIGHTS)
            yield f"layer {layer.name!r} is {layer.width} mm wide; allowed are {allowed}"
        if layer.linetype not in LINETYPES:
            yield f"layer {layer.name!r} has the line type {layer.linetype!r}; allowed are {', '.join(LINETYPES)}"
        if not 1 <= layer.colour <= 255:
            yield f"layer {layer.name!r} has the colour {layer.colour}; allowed are 1 to 255"


def _block_faults(block: Block) -> Iterator[str]:
    if not block.name or any(sign in '<>/\\":;?*|=`' for sign in block.name):
        yield f'the block name {block.name!r} is not allowed: 1 or more characters without <>/\\":;?*|=`'
    for number, mark in enumerate(block.marks, start=1):
        where = f"mark {number} of block {block.name!r}"
        if mark.layer != "0":
            yield f"{where} stands on layer {mark.layer!r}; marks of a block stand on layer '0'"
        for fault in _shape_faults(mark, 1.0):
            yield f"{where}: {fault}"


def _view_faults(view: View, sheet: Sheet) -> Iterator[str]:
    left, bottom, right, top = view.window
    if not _finite(view.scale, *view.window, *view.paper) or view.scale <= 0.0 or right <= left or top <= bottom:
        yield f"view {view.name!r} has the window {view.window} at the scale {view.scale}; both must be greater than 0"
        return
    x, y = view.paper
    end_x, end_y = x + (right - left) * view.scale, y + (top - bottom) * view.scale
    if x < -_OUTSIDE or y < -_OUTSIDE or end_x > sheet.width + _OUTSIDE or end_y > sheet.height + _OUTSIDE:
        yield (
            f"view {view.name!r} runs from {x:.1f}, {y:.1f} to {end_x:.1f}, {end_y:.1f} mm, "
            f"off the sheet of {sheet.width:g} × {sheet.height:g} mm"
        )


def _overlap_faults(views: Sequence[View]) -> Iterator[str]:
    """A window shows all of the model behind it: two that overlap would show each other's marks."""
    for number, one in enumerate(views):
        for other in views[number + 1 :]:
            wide = min(one.window[2], other.window[2]) - max(one.window[0], other.window[0])
            high = min(one.window[3], other.window[3]) - max(one.window[1], other.window[1])
            if wide > 1e-6 and high > 1e-6:
                yield (
                    f"the windows of the views {one.name!r} {one.window} and {other.name!r} {other.window} overlap in the model: "
                    "each would show marks of the other"
                )


def _on_paper(view: View) -> Box:
    """The rectangle that a view takes on the sheet."""
    left, bottom, right, top = view.window
    x, y = view.paper
    return x, y, x + (right - left) * view.scale, y + (top - bottom) * view.scale


def _ink_of(view: View) -> Box | None:
    """The rectangle on the sheet round what a view really shows, or None where it shows nothing that can be drawn."""
    sound = [mark for mark in view.marks if not any(_shape_faults(part, view.scale) for part in (mark, *_parts_of(mark)))]
    if not sound:
        return None
    drawn = joined(box_of(mark, view.scale) for mark in sound)
    (x, y), (left, bottom) = view.paper, view.window[:2]
    low = (x + (drawn[0] - left) * view.scale, y + (drawn[1] - bottom) * view.scale)
    return (*low, low[0] + (drawn[2] - drawn[0]) * view.scale, low[1] + (drawn[3] - drawn[1]) * view.scale)


def _within(box: Box) -> Box:
    """A box less what may be passed unseen at each side; one that is flatter than that, such as a level line's, stays as it is."""
    left, bottom, right, top = box
    beside = _OUTSIDE if right - left > 2.0 * _OUTSIDE else 0.0
    over = _OUTSIDE if top - bottom > 2.0 * _OUTSIDE else 0.0
    return left + beside, bottom + over, right - beside, top - over


def _paper_faults(sheet: Sheet, faultless: Sequence[Mark]) -> Iterator[str]:
    """Views that lie on one another on the paper, and views over what stands on the paper itself: title block, tables, notes.

    ``faultless`` are the marks of the paper that can be drawn.
    """
    taken = [(view, grown(_on_paper(view), -_OUTSIDE)) for view in sheet.views if _finite(view.scale, *view.window, *view.paper)]
    for (one, mine), (other, theirs) in combinations(taken, 2):
        if overlap(mine, theirs):
            yield f"the views {one.name!r} and {other.name!r} lie on one another on the paper"
    sound = [mark for mark in faultless if not isinstance(mark, Dimension | Insert)]
    boxes = [box_of_text(mark, 1.0) if isinstance(mark, Text) else box_of(mark, 1.0) for mark in sound]
    lefts, bottoms, rights, tops = np.array(boxes).reshape(-1, 4).T
    for view, window in taken:
        left, bottom, right, top = grown(window, _OUTSIDE)
        near = np.flatnonzero((lefts < right) & (left < rights) & (bottoms < top) & (bottom < tops)).tolist()
        under = [sound[number] for number in near if _under(window, sound[number])]
        ink = _ink_of(view) if under else None
        hit = None if ink is None else next((mark for mark in under if _under(_within(ink), mark)), None)
        if hit is not None:
            what = f"the text {hit.string!r}" if isinstance(hit, Text) else f"a {type(hit).__name__.lower()} on {hit.layer!r}"
            yield f"the view {view.name!r} lies over {what} of the paper"


def _under(window: Box, mark: Mark) -> bool:
    """Whether a text or a stroke of the paper lies in a rectangle."""
    if isinstance(mark, Text):
        return overlap(window, box_of_text(mark, 1.0))
    return any(crosses(window, straight) for straight in straights_of((mark,)))


def _sound(space: Space, layers: set[str], blocks: dict[str, Block]) -> bool:
    """A quick look at all marks of a space together: where it finds nothing, no closer look at one of them would."""
    if not 0.0 < space.scale < inf:
        return False
    runs: list[tuple[Node, ...]] = []
    texts: list[Text] = []
    for mark in space.marks:
        if mark.layer not in layers:
            return False
        if isinstance(mark, Hatch | Insert):
            if _mark_faults(mark, space, layers, blocks):
                return False
            continue
        parts = mark.parts if isinstance(mark, Dimension) else (mark,)
        if isinstance(mark, Dimension) and (_dimension_faults(mark) or {part.layer for part in parts} - {mark.layer, "0"}):
            return False
        for part in parts:
            if isinstance(part, Text):
                texts.append(part)
            elif len(part.nodes) < 2:
                return False
            elif isinstance(part, Path) and not part.closed:
                runs.append(part.nodes)
            elif len(part.nodes) == 2 and not (part.nodes[0][2] or part.nodes[1][2]):
                return False  # no inside
            else:
                runs.append((*part.nodes, part.nodes[0]))
    if any(_text_faults(text) for text in texts):
        return False
    nodes = np.fromiter(chain.from_iterable(chain.from_iterable(runs)), np.float64).reshape(-1, 3)
    across, up = (nodes[1:, :2] - nodes[:-1, :2]).T
    long = (across * across + up * up) * (space.scale * space.scale)
    between = np.cumsum([len(run) for run in runs], dtype=np.intp)[:-1] - 1  # from the end of a run to the start of the next
    good = (long > _LONG_ENOUGH) & (long < inf)
    good[between] = True
    if not good.all() or not np.isfinite(nodes).all():
        return False
    if space.view is None or space.view.clipped:
        return True
    left, bottom, right, top = grown(space.view.window, _OUTSIDE / space.view.scale)
    places = np.concatenate((nodes[:, :2], np.array([(text.x, text.y) for text in texts]).reshape(-1, 2)))
    return bool(((places >= (left, bottom)) & (places <= (right, top))).all())


def _mark_faults(mark: Mark, space: Space, layers: set[str], blocks: dict[str, Block]) -> list[str]:
    faults = [] if mark.layer in layers else [f"the layer {mark.layer!r} is not defined"]
    faults += _shape_faults(mark, space.scale)
    if isinstance(mark, Dimension):
        for part in mark.parts:
            if part.layer != mark.layer and part.layer != "0":
                faults.append(f"a part of it stands on the layer {part.layer!r}; it must stand on that of the dimension")
            faults += _shape_faults(part, space.scale)
    elif isinstance(mark, Insert):
        faults += _insert_faults(mark, space, layers, blocks)
    if space.view is not None and not space.view.clipped:
        faults += _window_faults(mark, space.view)
    return faults


def _insert_faults(mark: Insert, space: Space, layers: set[str], blocks: dict[str, Block]) -> Iterator[str]:
    if mark.block not in blocks:
        yield f"the block {mark.block!r} is not defined"
        return
    tags = [tag for tag, _ in blocks[mark.block].tags]
    for attribute in mark.attributes:
        if attribute.tag not in tags:
            yield f"the block {mark.block!r} has no tag {attribute.tag!r}; it has {', '.join(tags) or 'none'}"
        if attribute.text is not None:
            if attribute.text.layer not in layers:
                yield f"the layer {attribute.text.layer!r} of its tag {attribute.tag!r} is not defined"
            if attribute.text.string != attribute.value:
                yield f"its tag {attribute.tag!r} carries {attribute.value!r} and shows {attribute.text.string!r}"
            yield from _shape_faults(attribute.text, space.scale)


def _window_faults(mark: Mark, view: View) -> list[str]:
    slack = _OUTSIDE / view.scale
    left, bottom, right, top = grown(view.window, slack)
    for part in mark.parts if isinstance(mark, Dimension) else (mark,):
        for place in _places(part):
            x, y = place[0], place[1]
            if not (left <= x <= right and bottom <= y <= top):
                return [f"it reaches to {x:.3f}, {y:.3f}, outside the window {view.window} of its view"]
    return []


def _places(mark: Mark) -> Sequence[Node | Place]:
    match mark:
        case Path(nodes=nodes) | Fill(nodes=nodes):
            return nodes
        case Text(x=x, y=y) | Insert(x=x, y=y):
            return ((x, y),)
        case Hatch(boundaries=boundaries):
            return [node for nodes in boundaries for node in nodes]
        case Dimension():
            return ()


def _parts_of(mark: Mark) -> Iterator[Path | Fill | Text]:
    """The marks that a mark carries: parts of a dimension, texts of an insert."""
    if isinstance(mark, Dimension):
        yield from mark.parts
    elif isinstance(mark, Insert):
        yield from (attribute.text for attribute in mark.attributes if attribute.text is not None)


def _shape_faults(mark: Mark, scale: float) -> list[str]:
    if isinstance(mark, Text):
        return _text_faults(mark)
    if isinstance(mark, Path):
        return _run_faults(mark.nodes, scale, closed=mark.closed)
    if isinstance(mark, Fill):
        return _run_faults(mark.nodes, scale, closed=True)
    if isinstance(mark, Dimension):
        return _dimension_faults(mark)
    if isinstance(mark, Insert):
        return [] if _finite(mark.x, mark.y, mark.rotation) else ["one of its figures is not a number"]
    faults = [] if mark.boundaries else ["it has no boundary"]
    if mark.material not in PATTERNS and mark.material not in REGIONS:
        known = ", ".join(PATTERNS)
        faults.insert(0, f"there is no hatch for the material {mark.material!r}; there is one for {known}")
    return faults + [fault for nodes in mark.boundaries for fault in _run_faults(nodes, scale, closed=True)]


def _dimension_faults(mark: Dimension) -> list[str]:
    faults: list[str] = []
    if not _finite(*mark.first, *mark.second, *mark.on_line, *mark.text_at, mark.angle, mark.measured):
        faults.append("one of its figures is not a number")
    elif abs(_between(mark) - mark.measured) > _MEASURED:
        faults.append(f"it says it measures {mark.measured:.4f} mm and its points are {_between(mark):.4f} mm apart")
    if mark.text not in [part.string for part in mark.parts if isinstance(part, Text)]:
        faults.append(f"its text {mark.text!r} is not among its parts")
    return faults


def _between(mark: Dimension) -> float:
    """Length between the points of a dimension: along its angle where it is linear, else straight."""
    x, y = mark.second[0] - mark.first[0], mark.second[1] - mark.first[1]
    if mark.kind == "linear":
        return abs(x * cos(radians(mark.angle)) + y * sin(radians(mark.angle)))
    return hypot(x, y)


def _run_faults(nodes: tuple[Node, ...], scale: float, *, closed: bool) -> list[str]:
    if len(nodes) < 2:
        return [f"it has {len(nodes)} nodes; a run has 2 or more"]
    square = scale * scale
    for (x, y, bulge), (end_x, end_y, _) in pairwise((*nodes, nodes[0]) if closed else nodes):
        across, up = end_x - x, end_y - y
        if not (_LONG_ENOUGH < (across * across + up * up) * square < inf and -inf < bulge < inf):
            break  # a closer look is needed: nearly no run of a sheet needs one
    else:
        if -inf < nodes[-1][2] < inf and (len(nodes) > 2 or not closed):
            return []
    if not all(isfinite(value) for node in nodes for value in node):
        return ["one of its coordinates is not a number"]
    faults: list[str] = []
    if closed and len(nodes) == 2 and not (nodes[0][2] or nodes[1][2]):
        faults.append("it is closed and has two nodes and no arc, so it has no inside")
    for start, end in segments(nodes, closed=closed):
        if hypot(end[0] - start[0], end[1] - start[1]) * scale < _SHORTEST:
            faults.append(f"its segment at {start[0]:.6f}, {start[1]:.6f} has no length")
    return faults


def _text_faults(mark: Text) -> list[str]:
    faults: list[str] = []
    placed = -inf < mark.x < inf and -inf < mark.y < inf and -inf < mark.rotation < inf
    if not placed or not 0.0 < mark.height < inf:
        faults.append(f"the text {mark.string!r} has a place or a height ({mark.height} mm) that cannot be drawn")
    try:
        printed(mark.string)
    except LetteringError as fault:
        faults.append(str(fault))
    return faults


def _finite(*values: float) -> bool:
    return all(map(isfinite, values))


def lettered(marks: Iterable[Mark]) -> bool:
    """Tell whether a text is among the marks."""
    return any(isinstance(mark, Text) for mark in marks)


__all__ = ["LINE_WEIGHTS", "lettered", "prove"]
