"""An outline out of a DXF drawing: read once, taken apart exactly, joined, picked, and told how.

Terms
-----
pick
    What of the drawing is meant, in which unit, and from which side it was drawn.
space
    Where the lines stand: the model, a layout (a paper sheet), or a block.

Nothing is guessed: a drawing that leaves the unit, the outline or the side open is refused with what it holds.
"""

from __future__ import annotations

import difflib
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from geometry.incoming.dxf_entities import LINES, drawn_in
from geometry.incoming.dxf_reading import LARGEST, Document, document_of
from geometry.incoming.incoming import Incoming, IncomingError
from geometry.incoming.joining import ROUNDING, Joined, Loop, Strand, joined
from geometry.incoming.opening import bytes_of
from geometry.incoming.picking import Candidates, labelled, open_words, plain, spot
from geometry.incoming.plane import TOWARDS, Plane, plane_of
from geometry.incoming.shaping import Shaped, shaped
from geometry.incoming.units import LEAST, MILLIMETRES, MOST, likely, usual
from geometry.outline.loop import number
from geometry.outline.measure import bounding_box, mirrored

if TYPE_CHECKING:
    from geometry.incoming.pieces import Chain, Drawn, Place

GAP = 0.05
"""mm between two loose ends that are joined, where nothing else is asked for (own default)."""
WITHIN = 0.01
"""mm that arcs may lie off a drawn curve, where nothing else is asked for."""
SEEN_FROM = ("outside", "inside", *TOWARDS)


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


def open_drawing(path: Path, name: str) -> Drawing:
    """The drawing of a DXF file; ``name`` is how sentences call it. Raises ``IncomingError``."""
    return drawing_of(bytes_of(path, name, most=LARGEST, what="a DXF file"), name)


def drawing_of(data: bytes, name: str) -> Drawing:
    """The drawing of a DXF file's bytes. Raises ``IncomingError``."""
    return Drawing(name, document_of(data, name))


def read_drawing(drawing: Drawing, pick: Pick) -> Incoming:
    """The one outline that is asked for, counter-clockwise, seen from outside, mm. Raises ``IncomingError`` with all there is to choose."""
    try:
        return _read(drawing, pick)
    except IncomingError:
        raise
    except MemoryError:
        raise
    except RecursionError:
        raise IncomingError(f"{drawing.name} cannot be read: its parts stand too deep in each other", "a DXF file") from None
    except (
        ArithmeticError,
        ValueError,
        LookupError,
        TypeError,
        AttributeError,
    ) as error:  # a damaged part of the library's document
        raise IncomingError(f"{drawing.name} cannot be read: {type(error).__name__} in its lines", "a whole DXF file") from None


def _read(drawing: Drawing, pick: Pick) -> Incoming:
    shown = _shown(drawing, pick)
    unit, factor, notes = _unit(drawing, pick)
    layer = _layer(drawing, shown, pick)
    k = factor or 1.0
    found = _joined(drawing, shown, pick, layer, k)
    if layer:
        loops = [loop for loop in found.loops if any(each.casefold() == layer for each in loop.layers)]
        strands = [each for each in found.strands if any(one.casefold() == layer for one in each.layers)]
    else:
        loops, strands = found.loops, found.strands
    candidates = Candidates(loops, strands, shown.texts, factor, drawing.name, shown.left_out)
    if factor is None:
        raise _no_unit(drawing, candidates)
    loop, how = _picked(candidates, pick)
    plane = plane_of(_places(loop), level=pick.gap / factor, factor=factor, seen_from=pick.seen_from)
    outline = shaped(loop, plane, factor=factor, within=pick.within)
    _usual(drawing, pick, outline, unit, factor)
    told = [*notes, *_mended(found, loop, shown, factor, pick), *outline.said]
    return _told(drawing, pick, loop, plane, outline, unit, how, told)


def _shown(drawing: Drawing, pick: Pick) -> Drawn:
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
                f"{drawing.name} has no block {pick.block!r}", _names(names), _near(pick.block, names), key="block"
            )
        return space, pick.block
    if pick.layout and pick.layout.casefold() != "model":
        names = [name for name in doc.layouts.names() if name.casefold() != "model"]
        named = next((name for name in names if name.casefold() == pick.layout.casefold()), None)
        if named is None:
            raise IncomingError(
                f"{drawing.name} has no layout {pick.layout!r}",
                _names(["Model", *names]),
                _near(pick.layout, names),
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


def _near(word: str, names: Sequence[str]) -> str:
    close = difflib.get_close_matches(word.casefold(), {name.casefold(): name for name in names}, n=1, cutoff=0.6)
    return f"did you mean {plain(next(name for name in names if name.casefold() == close[0]))}?" if close else ""


def _nothing(drawing: Drawing, pick: Pick, shown: Drawn) -> IncomingError:
    """The refusal of a space without lines: where else there are some."""
    doc = drawing.document.doc
    where = f"block {plain(pick.block)}" if pick.block else f"layout {plain(pick.layout)}" if pick.layout else "the model space"
    also = [f"{count} {plain(name)}" for name, count in sorted(shown.left_out.items())]
    also += [f"{count} entities on the hidden layer {plain(name)}" for name, count in sorted(shown.hidden.items())]
    found = f"{drawing.name} shows no lines, arcs or curves in {where}" + (f", only {', '.join(also[:6])}" if also else "")
    places = []
    for key, names in (("layout", list(doc.layouts.names())), ("block", _blocks(doc))):
        for name in names:
            if name.casefold() == (pick.block or pick.layout or "model").casefold():
                continue
            space = doc.layouts.get(name) if key == "layout" else doc.blocks.get(name)
            count = sum(entity.dxftype() in (*LINES, "INSERT") for entity in space)
            if count:
                places.append(f'{key} = "{plain(name)}" ({count} entities)')
    key = "block" if pick.block else "layout" if pick.layout else ""
    return IncomingError(found, " or ".join(places[:8]) or "a drawing with lines; this one holds none", key=key)


def _unit(drawing: Drawing, pick: Pick) -> tuple[str, float | None, list[str]]:
    """The unit by its name, mm in it (None: not known), and what has to be said."""
    header = drawing.document.header
    stated = header.name
    if pick.block:
        block = drawing.document.doc.blocks.get(pick.block)
        own = replace(header, unit=int(getattr(block, "units", 0) or 0)).name if block is not None else ""
        if own and stated and own != stated and not pick.units:
            raise IncomingError(
                f"the header of {drawing.name} states {stated}, its block {plain(pick.block)} {own}",
                'units = "..." says which',
                key="units",
            )
    if pick.units:
        notes = []
        if header.unit and stated != pick.units:
            notes.append(f"its header states {header.words}, the job {pick.units}: the job's unit holds")
        return pick.units, MILLIMETRES[pick.units], notes
    return stated, MILLIMETRES.get(stated), []


def _no_unit(drawing: Drawing, candidates: Candidates) -> IncomingError:
    """The question for the unit, with what each would make of the outlines."""
    header = drawing.document.header
    found = f"{drawing.name} states {header.words}"
    ways = []
    if len(candidates.loops) == 1:
        wide, high = candidates.size(0)
        found += f"; its outline measures {number(wide)} × {number(high)}"
        ways = likely(wide, high)
    elif candidates.loops:
        found += f"; outlines: {candidates.listed()}"
    else:
        found += f"; no line closes: {open_words(candidates.strands, 1.0)} in drawing units"
    hint = f"it would be a pane in {' or '.join(ways)}" if ways else ""
    return IncomingError(found, "units = " + " or ".join(f'"{name}"' for name in MILLIMETRES), hint, key="units")


def _layer(drawing: Drawing, shown: Drawn, pick: Pick) -> str:
    """The layer asked for, folded. Raises ``IncomingError`` where nothing is on it."""
    if not pick.layer:
        return ""
    wanted = pick.layer.casefold()
    count: dict[str, int] = {}
    for chain in (*shown.closed, *shown.open_):
        count[chain.layer] = count.get(chain.layer, 0) + 1
    if not any(name.casefold() == wanted for name in count):
        rows = [f"{plain(name)} ({number})" for name, number in sorted(count.items())]
        found = f"{drawing.name} shows no lines on a layer {pick.layer!r}"
        raise IncomingError(found, f"one of {', '.join(rows[:20])}", _near(pick.layer, list(count)), key="layer")
    return wanted


def _joined(drawing: Drawing, shown: Drawn, pick: Pick, layer: str, k: float) -> Joined:
    """The loops and strands of a space, layer by layer; what is left open on several layers is tried together."""
    key = (pick.block.casefold(), pick.layout.casefold(), pick.layer.casefold(), pick.gap, k)
    if key in drawing._joined:
        return drawing._joined[key]
    layers: dict[str, tuple[list[Chain], list[Chain]]] = {}
    for kind, chains in enumerate((shown.closed, shown.open_)):
        for chain in chains:
            folded = chain.layer.casefold()
            if not layer or folded == layer:
                layers.setdefault(folded, ([], []))[kind].append(chain)
    whole = Joined()
    for closed, open_ in layers.values():
        one = joined(closed, open_, gap=pick.gap / k, rounding=ROUNDING / k)
        whole.loops += one.loops
        whole.strands += one.strands
        whole.without_length += one.without_length
        whole.twice += one.twice
    if len({name.casefold() for strand in whole.strands for name in strand.layers}) > 1:
        again = joined(
            (), [chain for strand in whole.strands for chain in strand.chains], gap=pick.gap / k, rounding=ROUNDING / k
        )
        if again.loops:
            whole.loops += again.loops
            whole.strands = again.strands
    whole.loops, more = _without_twins(whole.loops, pick.gap / k)
    whole.twice += more
    drawing._joined[key] = whole
    return whole


def _without_twins(loops: Sequence[Loop], gap: float) -> tuple[list[Loop], int]:
    """The loops without those that lie on an earlier one all round, and how many those were."""
    boxes = []
    for loop in loops:
        places = _places(loop)
        boxes.append(tuple(extreme(at[i] for at in places) for i in range(3) for extreme in (min, max)))
    order = sorted(range(len(loops)), key=lambda i: boxes[i])
    twins: set[int] = set()
    for position, i in enumerate(order):
        for j in order[position + 1 :]:
            if boxes[j][0] - boxes[i][0] > gap:
                break
            if all(abs(a - b) <= gap for a, b in zip(boxes[i], boxes[j], strict=True)) and _same(loops[i], loops[j], gap):
                twins.add(max(i, j))
    return [loop for i, loop in enumerate(loops) if i not in twins], len(twins)


def _same(one: Loop, two: Loop, gap: float) -> bool:
    import shapely

    lines = [shapely.LinearRing(_rough_ring(loop)) for loop in (one, two)]
    return bool(shapely.hausdorff_distance(*lines) <= 2 * gap)


def _rough_ring(loop: Loop) -> list[tuple[float, float]]:
    from geometry.incoming.picking import _rough

    return _rough(loop)


def _places(loop: Loop) -> list[Place]:
    """Places of a loop that span it: ends, middles, and all control points of curves."""
    found: list[Place] = []
    for piece in loop.pieces:
        found.append(piece.start)
        if piece.bulge:
            found.append(piece.middle())
        for span in piece.spans:
            found += [(float(x / w), float(y / w), float(z / w)) for x, y, z, w in span]
    return found


def _picked(candidates: Candidates, pick: Pick) -> tuple[Loop, str]:
    """The loop that is meant, and how it was picked. Raises ``IncomingError`` with the list where it is not one alone."""
    loops = candidates.loops
    k = candidates.factor or 1.0
    if not loops:
        found = f"no line of {candidates.file} closes to an outline: {open_words(candidates.strands, k)}{candidates.unread}"
        allowed = f"ends no more than {number(pick.gap)} mm apart (gap), and two lines at each"
        raise IncomingError(found, allowed, "close it in the drawing, or give a larger gap")
    if pick.at is not None:
        place = tuple(value / k for value in pick.at)
        hits = candidates.at(place[0], place[1]) if len(place) == 2 else candidates.in_space(place)
        if not hits:
            at = ", ".join(map(number, pick.at))
            found = f"no outline of {candidates.file} lies round at = [{at}]; outlines: {candidates.listed()}"
            raise IncomingError(found, "a place inside one of them, mm", key="at")
        if pick.label:
            named = labelled(candidates, pick.label)[0]
            if named != hits[0]:
                raise IncomingError(
                    f"at and label pick two outlines: {candidates.row(hits[0])}; {candidates.row(named)}",
                    "one of the two keys",
                    key="label",
                )
        return loops[hits[0]], "round the place given" if len(
            hits
        ) == 1 else f"the innermost of {len(hits)} round the place given"
    if pick.label:
        index, how = labelled(candidates, pick.label)
        return loops[index], f"text {pick.label}: {how}"
    rest = (
        [each for each in candidates.strands if not _on_top(each, loops[0], pick.gap / k)]
        if len(loops) == 1
        else candidates.strands
    )
    if len(loops) == 1 and not rest:
        return loops[0], ""
    count = f"{len(loops)} outlines" if len(loops) > 1 else "one outline, and lines that close nothing"
    raise IncomingError(
        f"{candidates.file} shows {count}: {candidates.listed()}",
        "the one that is meant, by at = [x, y] inside it"
        + (", label" if candidates.texts else "")
        + ("" if pick.layer else " or layer"),
        key="drawing",
    )


def _on_top(strand: Strand, loop: Loop, gap: float) -> bool:
    """Whether an open strand lies on a loop from end to end: a line drawn over another one."""
    import shapely

    from geometry.incoming.picking import _rough

    ring = shapely.LinearRing(_rough(loop))
    places = [at for chain in strand.chains for piece in chain.pieces for at in (piece.start, piece.middle(), piece.end)]
    return all(float(ring.distance(shapely.Point(at[:2]))) <= gap for at in places)


def _usual(drawing: Drawing, pick: Pick, outline: Shaped, unit: str, factor: float) -> None:
    """Ask for the unit where a pane of this size is hardly one, and only the header says so."""
    box = bounding_box(outline.outline)
    if pick.units or usual(box.width, box.height):
        return
    ways = [way for way in likely(box.width / factor, box.height / factor) if not way.startswith(f"{unit} ")]
    raise IncomingError(
        f"units? the outline is {number(box.width)} × {number(box.height)} mm in the unit that the header of {drawing.name} states, {unit}",
        f'a pane of {LEAST:g} to {MOST:g} mm; units = "..." in the job says that it is right, or which unit is',
        f"it would be a pane in {' or '.join(ways)}" if ways else "",
        key="units",
    )


def _mended(found: Joined, loop: Loop, shown: Drawn, k: float, pick: Pick) -> list[str]:
    """What was put right, a sentence each."""
    told = []
    if loop.gaps:
        worst = max(loop.gaps, key=_apart)
        if _apart(worst) * k > ROUNDING:
            told.append(
                f"{len(loop.gaps)} gap{'s' if len(loop.gaps) > 1 else ''} closed, the widest {_size(_apart(worst) * k)} mm "
                f"between {spot(worst[0], k)} and {spot(worst[1], k)}"
            )
    if found.twice:
        told.append(f"{found.twice} line{'s' if found.twice > 1 else ''} drawn twice, the second left out")
    on_top = [each for each in found.strands if _on_top(each, loop, pick.gap / k)]
    if on_top:
        count = sum(each.pieces for each in on_top)
        told.append(f"{count} line{'s that lie' if count > 1 else ' that lies'} on the outline left out")
    if found.without_length:
        told.append(f"{found.without_length} piece{'s' if found.without_length > 1 else ''} without length left out")
    if len(loop.layers) > 1:
        told.append(f"joined over the layers {' and '.join(map(plain, loop.layers))}")
    hidden = sum(shown.hidden.values())
    if hidden:
        told.append(f"{hidden} entities on hidden layers or invisible not read")
    damaged = sum(count for name, count in shown.left_out.items() if name.startswith(("damaged", "entities with")))
    if damaged:
        told.append(f"{damaged} damaged entities not read")
    told += [f"{text}" + (f" ({count} of them)" if count > 1 else "") for text, count in sorted(shown.said.items())]
    return told


def _size(value: float) -> str:
    """A small size with two figures that count."""
    return f"{value:.2g}" if value < 0.1 else number(value)


def _apart(pair: tuple[Place, Place]) -> float:
    import math

    return math.dist(*pair)


def _told(
    drawing: Drawing, pick: Pick, loop: Loop, plane: Plane, outline: Shaped, unit: str, how: str, told: list[str]
) -> Incoming:
    """The outline with its source in words; turned to a view from outside where it was drawn from inside."""
    words = [drawing.name]
    words += [
        f"{name} {plain(value)}"
        for name, value in (("block", pick.block), ("layout", pick.layout), ("layer", pick.layer))
        if value
    ]
    words += [how] if how else []
    words.append(f"in {unit}" + ("" if pick.units else " by its header"))
    if plane.lean is not None:
        side = pick.seen_from if pick.seen_from in TOWARDS else "above"
        words.append(f"in space, its plane leans {number(round(plane.lean, 2))} deg from upright, its outer face looks {side}")
    found, mirror = outline.outline, None
    if pick.seen_from == "inside":
        box = bounding_box(found)
        found, mirror = mirrored(found), box.middle.x
        words.append("drawn from inside, turned to the view from outside")
    if drawing.document.repairs:
        told.insert(0, f"the file is damaged; {drawing.document.repairs} places were repaired while reading")
    return Incoming(found, ", ".join(words), tuple(told), outline.deviation, outline.shape, mirror, plane.lean)


__all__ = ["GAP", "SEEN_FROM", "WITHIN", "Drawing", "Pick", "drawing_of", "open_drawing", "read_drawing"]
