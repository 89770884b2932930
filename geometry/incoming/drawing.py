"""An outline out of a DXF drawing: read once, taken apart exactly, joined, picked, and told how.

Terms
-----
told
    What was picked and how, the unit, and what was mended: it goes with the outline wherever that is told of.

Nothing is guessed: a drawing that leaves the unit, the outline or the side open is refused with what it holds.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from geometry.incoming.dxf_reading import LARGEST, document_of
from geometry.incoming.incoming import Incoming, IncomingError, plain
from geometry.incoming.joining import ROUNDING, Joined, Loop, Strand, joined
from geometry.incoming.opening import bytes_of
from geometry.incoming.picking import Candidates, labelled, open_words, rough, spot
from geometry.incoming.plane import TOWARDS, Plane, plane_of
from geometry.incoming.shaping import Shaped, shaped
from geometry.incoming.spaces import GAP, WITHIN, Drawing, Pick, entities, near_miss, shown_in
from geometry.incoming.units import LEAST, MILLIMETRES, MOST, WORDS, likely, usual
from geometry.outline.loop import number
from geometry.outline.measure import bounding_box, mirrored

if TYPE_CHECKING:
    from geometry.incoming.pieces import Chain, Drawn, Place


def open_drawing(path: Path, name: str) -> Drawing:
    """The drawing of a DXF file; ``name`` is how sentences call it. Raises ``IncomingError``."""
    return drawing_of(bytes_of(path, name, most=LARGEST, what="a DXF file"), name)


def drawing_of(data: bytes, name: str) -> Drawing:
    """The drawing of a DXF file's bytes. Raises ``IncomingError``."""
    return Drawing(name, document_of(data, name))


def read_drawing(drawing: Drawing, pick: Pick) -> Incoming:
    """The one outline that is asked for, counter-clockwise, seen from outside, mm. Raises ``IncomingError`` with all there is to choose."""
    with legible(drawing.name):
        return _read(drawing, pick)


@contextmanager
def legible(name: str) -> Iterator[None]:
    """While the library's document of a drawing is gone through: what a damaged part of it throws becomes one ``IncomingError``."""
    import numpy as np

    try:
        with np.errstate(all="ignore"):  # a figure that overflows is judged, not warned of
            yield
    except IncomingError:
        raise
    except RecursionError:
        raise IncomingError(f"{name} cannot be read: its parts stand too deep in each other", "a DXF file") from None
    except (ArithmeticError, ValueError, LookupError, TypeError, AttributeError) as error:
        raise IncomingError(f"{name} cannot be read: {type(error).__name__} in its lines", "a whole DXF file") from None


def _read(drawing: Drawing, pick: Pick) -> Incoming:
    shown = shown_in(drawing, pick)
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
    plane = plane_of(places_of(loop), level=pick.gap / factor, factor=factor, seen_from=pick.seen_from)
    outline = shaped(loop, plane, factor=factor, within=pick.within)
    _usual(drawing, pick, outline, unit, factor)
    told = [*notes, *_mended(found, loop, shown, factor, pick), *outline.said]
    return _told(drawing, pick, loop, plane, outline, unit, how, told)


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
            words = WORDS.get(header.words, header.words)
            notes.append(f"its header states {words}, the job {WORDS.get(pick.units, pick.units)}: the job's unit holds")
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
        left = Candidates([], [], [], None, drawing.name, shown.left_out).unread
        found = f"{drawing.name} shows no lines on a layer {pick.layer!r}{left}"
        raise IncomingError(found, f"one of {', '.join(rows[:20])}", near_miss(pick.layer, list(count)), key="layer")
    return wanted


def _joined(drawing: Drawing, shown: Drawn, pick: Pick, layer: str, k: float) -> Joined:
    """The loops and strands of the space that is asked for; joined once for all panes that pick from it."""
    key = (pick.block.casefold(), pick.layout.casefold(), pick.layer.casefold(), pick.gap, k)
    if key not in drawing._joined:
        drawing._joined[key] = joined_by_layer(shown, layer=layer, gap=pick.gap / k, rounding=ROUNDING / k)
    return drawing._joined[key]


def joined_by_layer(shown: Drawn, *, layer: str = "", gap: float, rounding: float = ROUNDING) -> Joined:
    """The loops and strands of a space, layer by layer (or of one); what is left open on several layers is tried together.

    ``gap`` and ``rounding`` in units of the drawing.
    """
    layers: dict[str, tuple[list[Chain], list[Chain]]] = {}
    for kind, chains in enumerate((shown.closed, shown.open_)):
        for chain in chains:
            folded = chain.layer.casefold()
            if not layer or folded == layer:
                layers.setdefault(folded, ([], []))[kind].append(chain)
    whole = Joined()
    for closed, open_ in layers.values():
        one = joined(closed, open_, gap=gap, rounding=rounding)
        whole.loops += one.loops
        whole.strands += one.strands
        whole.without_length += one.without_length
        whole.twice += one.twice
    if len({name.casefold() for strand in whole.strands for name in strand.layers}) > 1:
        again = joined((), [chain for strand in whole.strands for chain in strand.chains], gap=gap, rounding=rounding)
        if again.loops:
            whole.loops += again.loops
            whole.strands = again.strands
    whole.loops, more = _without_twins(whole.loops, gap)
    whole.twice += more
    return whole


def _without_twins(loops: Sequence[Loop], gap: float) -> tuple[list[Loop], int]:
    """The loops without those that lie on an earlier one all round, and how many those were."""
    import numpy as np
    from scipy.spatial import cKDTree

    if len(loops) < 2:
        return list(loops), 0
    boxes = []
    for loop in loops:
        places = np.array(places_of(loop))
        boxes.append(np.concatenate((places.min(axis=0), places.max(axis=0))))
    pairs = cKDTree(np.array(boxes)).query_pairs(gap, p=math.inf, output_type="ndarray")
    twins = {int(max(i, j)) for i, j in pairs if _same(loops[i], loops[j], gap)}
    return [loop for i, loop in enumerate(loops) if i not in twins], len(twins)


def _same(one: Loop, two: Loop, gap: float) -> bool:
    import shapely

    lines = [shapely.LinearRing(rough(loop)) for loop in (one, two)]
    return bool(shapely.hausdorff_distance(*lines) <= 2 * gap)


def places_of(loop: Loop) -> list[Place]:
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
    rest = [*candidates.strands]
    if len(loops) == 1:
        on_top = set(map(id, _on_top(candidates.strands, loops[0], pick.gap / k)))
        rest = [each for each in rest if id(each) not in on_top]
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


def _on_top(strands: Sequence[Strand], loop: Loop, gap: float) -> list[Strand]:
    """The open strands that lie on a loop from end to end: lines drawn over its own."""
    import numpy as np
    import shapely

    if not strands or len(loop.pieces) < 2:
        return []
    ring = shapely.LinearRing(rough(loop))
    shapely.prepare(ring)
    found = []
    for strand in strands:
        places = [at[:2] for chain in strand.chains for piece in chain.pieces for at in (piece.start, piece.middle(), piece.end)]
        if bool((shapely.distance(ring, shapely.points(np.array(places))) <= gap).all()):
            found.append(strand)
    return found


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
    on_top = _on_top(found.strands, loop, pick.gap / k)
    if on_top:
        count = sum(each.pieces for each in on_top)
        told.append(f"{count} line{'s that lie' if count > 1 else ' that lies'} on the outline left out")
    if found.without_length:
        told.append(f"{found.without_length} piece{'s' if found.without_length > 1 else ''} without length left out")
    if len(loop.layers) > 1:
        told.append(f"joined over the layers {' and '.join(map(plain, loop.layers))}")
    told += [f"layer {plain(name)} is hidden in the drawing, and read as the job names it" for name in shown.read_hidden]
    hidden = sum(shown.hidden.values())
    if hidden:
        told.append(f"{entities(hidden)} on hidden layers or invisible not read")
    damaged = sum(count for name, count in shown.left_out.items() if name.startswith("damaged"))
    if damaged:
        told.append(f"{entities(damaged)} damaged and not read")
    rest = {name: count for name, count in shown.left_out.items() if not name.startswith("damaged")}
    if rest:
        told.append(f"not read: {', '.join(f'{count} {plain(name)}' for name, count in sorted(rest.items()))}")
    told += [f"{text}" + (f" ({count} of them)" if count > 1 else "") for text, count in sorted(shown.said.items())]
    return told


def _size(value: float) -> str:
    """A small size with two figures that count."""
    return f"{value:.2g}" if value < 0.1 else number(value)


def _apart(pair: tuple[Place, Place]) -> float:
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
    words.append(f"in {WORDS.get(unit, unit)}" + ("" if pick.units else " by its header"))
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


__all__ = [
    "GAP",
    "WITHIN",
    "Drawing",
    "Pick",
    "drawing_of",
    "joined_by_layer",
    "legible",
    "open_drawing",
    "places_of",
    "read_drawing",
]
