"""The heads of a schedule's columns: which key of a pane each of them gives, and in which unit.

Terms
-----
plain head
    A head that means one key and no other in any office: "Bond width". Capitals and signs between its words do not count.
made word
    What several keys follow from, or one that offices write in their own way: hand, shape, width, build-up ...
column
    A made word or the dotted key of a pane (``recess.depth``).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Annotated, NamedTuple

from geometry.job.fields import Reads
from geometry.job.refusal import near, refuse
from geometry.job.schedule_kinds import MEANT_AS, kind_of
from geometry.job.units import CAPITALS, SPELLINGS, UNITS, shown

NOT_READ = ""
MADE = (
    "hand", "drawn hand", "shape", "width", "height", "diameter", "radius", "daylight width", "daylight height", "outline file",
    "build-up",
)  # fmt: skip
PLAIN: dict[str, tuple[str, ...]] = {
    "code": ("code", "pane code", "window code", "mark", "pane mark", "window mark", "tag", "window no", "window number", "pane no",
             "pane number"),
    "name": ("name", "description", "designation", "pane name", "window name"),
    "hand": ("hand", "side", "handing", "p s", "hand p s", "side p s", "port starboard", "port stbd"),
    "drawn hand": ("drawn hand", "hand drawn", "side drawn", "drawn side"),
    "location": ("location", "place", "deck"),
    "frame": ("frame", "frame material"),
    "shape": ("shape", "form"),
    "width": ("width", "w", "glass width", "pane width"),
    "height": ("height", "h", "glass height", "pane height"),
    "diameter": ("diameter", "dia", "ø", "glass diameter", "pane diameter"),
    "radius": ("radius", "r", "corner radius", "glass radius", "pane radius"),
    "daylight width": ("daylight width", "daylight opening width"),
    "daylight height": ("daylight height", "daylight opening height"),
    "outline file": ("outline file", "outline", "file", "drawing", "drawing file", "dxf", "dxf file", "survey", "survey file",
                     "step", "step file"),
    "outline.layer": ("layer", "drawing layer"),
    "outline.label": ("drawing label", "label in drawing"),
    "outline.face": ("step face", "face in step file"),
    "build-up": ("build up", "buildup", "glass build up", "glass buildup", "make up", "glass make up", "glass", "glass thickness"),
    "glass.treatment": ("treatment", "glass treatment"),
    "glass.interlayer_material": ("interlayer", "interlayer material"),
    "recess.depth": ("recess depth", "depth of recess", "rebate depth"),
    "recess.landing": ("landing", "landing width", "recess landing"),
    "recess.radius": ("recess radius", "recess corner radius"),
    "joint.width": ("joint", "joint width"),
    "joint.backfill_depth": ("backfill depth", "depth of backfill"),
    "bond.width": ("bond width", "bead width"),
    "bond.thickness": ("bond thickness", "bead thickness"),
    "bond.set_back": ("set back",),
    "frit.width": ("frit", "frit width"),
    "frit.fade": ("frit fade", "dot fade"),
    "rake": ("rake", "rake angle"),
    "pressure.outward": ("outward pressure", "pressure outward", "pressure out", "design pressure outward"),
    "pressure.inward": ("inward pressure", "pressure inward", "pressure in", "design pressure inward"),
    "quantity": ("quantity", "qty", "no off", "number off", "pcs", "pieces"),
    "revision": ("revision", "rev"),
    "type": ("type", "detail type", "type of detail", "section type"),
}  # fmt: skip
REMARKS = (
    "remarks",
    "remark",
    "notes",
    "note",
    "comments",
    "comment",
    "pos",
    "item",
    "area",
    "mass",
    "weight",
    "drawn by",
    "date",
)
"""Heads of what is no key of a pane; such a column is not read, and that is told."""
_OF_PLAIN = {head: column for column, heads in PLAIN.items() for head in heads}
AMBIGUOUS = {
    "pressure": "outward pressure or inward pressure",
    "design pressure": "outward pressure or inward pressure",
    "thickness": "glass thickness or bond thickness",
    "depth": "recess depth or backfill depth",
    "size": "width and height, a column each",
    "dimensions": "width and height, a column each",
}
"""Heads that may mean one thing or another."""


class Head(NamedTuple):
    """What a head says: its column ("" for none), the unit in it ("" for none), and why it is not understood ("" where it is)."""

    column: str
    unit: str = ""
    fault: str = ""
    hint: str = ""
    remark: bool = False


def plain_words(text: str) -> str:
    """A head without capitals and signs.

    >>> plain_words(" Bond-width:"), plain_words("Set back*"), plain_words("P/S")
    ('bond width', 'set back', 'p s')
    """
    return " ".join(re.sub(r"[^\w]|_", " ", text.casefold()).split())


def unit_named(word: str) -> str:
    """The unit that a word stands for, as the job file writes it; "" for none.

    >>> unit_named("MM"), unit_named("inch"), unit_named("kN/m²"), unit_named("P/S")
    ('mm', 'in', 'kN/m2', '')
    """
    plain = word.strip().translate(str.maketrans("²³μ", "23µ"))
    plain = CAPITALS.get(plain, plain)
    known = {name for units in UNITS.values() for name in units}
    if plain in known:
        return plain
    return SPELLINGS.get(plain, SPELLINGS.get(plain.casefold(), ""))


_INSIDE = re.compile(r"^(.*?)\s*[\[(]\s*([^\[\]()]*?)\s*[\])]\s*$", re.DOTALL)
_BEHIND = re.compile(r"^(.*\w)[\s,/]+(?:in\s+)?(\S+)$", re.DOTALL)


def head_of(text: str, columns: Mapping[str, str], group: str = "") -> Head:
    """What a head says; ``columns`` is what the job says of the office's heads, ``group`` a merged head above it."""
    mapped = {plain_words(head): target for head, target in columns.items()}
    ways = ways_of(text)
    for words, unit in ways:
        for said in ([f"{group} {words}"] if group else []) + ([words] if not group or plain_words(words) in mapped else []):
            plain = plain_words(said)
            if plain in mapped:
                return Head(column_named(mapped[plain]), unit, remark=mapped[plain] == NOT_READ)
            if plain in _OF_PLAIN:
                return Head(_OF_PLAIN[plain], unit)
            if plain in REMARKS:
                return Head("", unit, remark=True)
    said = f"{group} {text}".strip()
    plain = plain_words(ways[-1][0])
    if plain in AMBIGUOUS:
        return Head("", fault=f"the head {shown(said)} may mean more than one thing", hint=AMBIGUOUS[plain])
    return Head("", fault=f"the head {shown(said)} is not known")


def meant_head(text: str) -> str:
    """A hint for a head that is not known: the plain head that is spelled nearly so; "" for none.

    >>> meant_head("Bond wdth [mm]"), meant_head("Kettle")
    ('did you mean bond width?', '')
    """
    plain = plain_words(ways_of(text)[-1][0])
    return near(plain, _OF_PLAIN) if plain else ""


def ways_of(text: str) -> list[tuple[str, str]]:
    """A head as it stands, and its words with the unit that stands in it or behind it.

    >>> ways_of("Width [mm]"), ways_of("Hand")
    ([('Width [mm]', ''), ('Width', 'mm')], [('Hand', '')])
    """
    found = [(text, "")]
    for pattern in (_INSIDE, _BEHIND):
        match = pattern.match(text)
        unit = unit_named(match[2]) if match else ""
        if match and unit:
            found.append((match[1], unit))
    return found


def column_named(target: str) -> str:
    """The column that the job names for a head: a plain head, a made word or a key."""
    return _OF_PLAIN.get(plain_words(target), MEANT_AS.get(target, target))


def _target(value: object) -> str:
    """What stands behind a head in ``[columns]``, or a refusal."""
    if not isinstance(value, str) or len(value) > 100:
        raise refuse(
            f"found {shown(value)}", 'a text in quotes: a key of a pane, such as "recess.depth"; "" where it is not read'
        )
    if value == NOT_READ or column_named(value) in MADE or kind_of(column_named(value)) is not None:
        return value
    said = f"a key of a pane that holds one value, such as recess.depth or outline.rectangle.0; one of {', '.join(PLAIN)}; "
    raise refuse(f"found {shown(value)}", f'{said}"" where the column is not read', near(value, [*PLAIN]))


def _head(value: object) -> str:
    if not isinstance(value, str) or not plain_words(value) or len(value) > 200:
        raise refuse(f"found the head {shown(value)}", "the head of a column as the schedule has it")
    return value


ColumnNames = dict[
    Annotated[str, Reads(_head, schema={"type": "string"})],
    Annotated[str, Reads(_target, schema={"type": "string", "maxLength": 100})],
]


__all__ = [
    "MADE",
    "NOT_READ",
    "PLAIN",
    "REMARKS",
    "ColumnNames",
    "Head",
    "column_named",
    "head_of",
    "meant_head",
    "plain_words",
    "unit_named",
    "ways_of",
]
