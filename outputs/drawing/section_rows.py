"""The sizes of a section along the landing, in two chains: from the recess wall and from the glass edge.

Terms
-----
chain
    Dimensions in one direction from one datum, the shortest nearest to the section, each row with its name beside it.
row
    One level of a chain: a dimension from the datum, and where it has room the next size behind it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from outputs.sheet.boxes import box_of_text
from outputs.sheet.drafting import toleranced
from outputs.sheet.entities import Dimension, Fill, Mark, Path, Text

if TYPE_CHECKING:
    from geometry.detail.parts import Detail, Section
    from outputs.sheet.pencil import Pencil

NAME_GAP = 3.0  # paper mm between the longest dimension of a chain and the names of its rows
ALIKE = 1e-6  # mm: two sizes are the same, or one is nothing


@dataclass(frozen=True, slots=True)
class Span:
    """What one dimension of a row measures: from and to (x), where its extension lines begin (z) and its tolerance."""

    first: float
    second: float
    start: float
    tolerance: float | None = None
    start_first: float | None = None
    text_share: float = 0.5


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a chain."""

    name: str
    spans: tuple[Span, ...]


def _spacer_faces(section: Section) -> tuple[float, float] | None:
    face = next((face for face in section.faces if face.material == "spacer"), None)
    return None if face is None else (min(x for x, _, _ in face.nodes), max(x for x, _, _ in face.nodes))


def rows_from_wall(section: Section, detail: Detail) -> tuple[Row, ...]:
    """Distances from the foot of the recess wall, the shortest first."""
    x, sizes, levels = section.crossing, detail.sizes, section.levels
    below = min(z for face in section.faces for _, z, _ in face.nodes)
    spacer = _spacer_faces(section)
    rows: list[tuple[str, float, float, float | None]] = [
        ("joint width", x.glass_edge, levels.bond_face, sizes.joint_width.tolerance),
        ("bead, outer edge", x.bead_outer, 0.0, None),
        ("bead, inner edge", x.bead_inner, 0.0, None),
        ("landing", x.landing, below, sizes.landing.tolerance),
        ("frit, inner edge", x.frit_inner, levels.bond_face, None),
    ]
    if spacer is not None:
        rows += [("spacer, outer face", spacer[0], 0.0, None), ("spacer, inner face", spacer[1], 0.0, None)]
    else:
        rows.append(("bead, centre line", x.bead_centre, 0.0, None))
        if x.frit_start - x.glass_edge > ALIKE:
            rows.append(("frit, outer edge", x.frit_start, levels.bond_face, None))
    if x.frit_fade is not None:
        rows.append(("frit, end of the solid", x.frit_fade, levels.bond_face, None))
    return tuple(
        Row(name, (Span(0.0, end, start, tolerance),))
        for name, end, start, tolerance in sorted(rows, key=lambda row: row[1])
        if end > ALIKE
    )


def rows_from_glass(section: Section, detail: Detail) -> tuple[Row, ...]:
    """Distances from the glass edge, the shortest first, with the bond width and what the frit covers beyond the landing."""
    x, sizes, levels = section.crossing, detail.sizes, section.levels
    edge, top = x.glass_edge, levels.glass_face
    spacer = _spacer_faces(section)
    # The bead's centre line runs through the middle of the bond width: the figure stands beside it.
    bond = Span(x.bead_outer, x.bead_inner, top, sizes.bond_width.tolerance, text_share=0.5 if spacer else 0.75)
    beyond = Span(min(x.landing, x.frit_inner), max(x.landing, x.frit_inner), top)
    shared: dict[str, tuple[str, Span]] = {"set-back": ("bond width", bond)}
    rows: list[tuple[str, float, float | None]] = [
        ("set-back", x.bead_outer, sizes.set_back.tolerance),
        ("bead, inner edge", x.bead_inner, None),
        ("landing, edge", x.landing, None),
        ("frit width", x.frit_inner, sizes.frit_width.tolerance),
    ]
    if spacer is not None:
        rows += [("spacer, outer face", spacer[0], None), ("spacer, inner face", spacer[1], None)]
    else:
        rows.append(("bead, centre line", x.bead_centre, None))
        if x.frit_start - edge > ALIKE:
            rows.append(("frit, outer edge", x.frit_start, None))
    if x.frit_fade is not None:
        rows.append(("solid frit", x.frit_fade, None))
    between = x.frit_fade is not None and beyond.first < x.frit_fade < beyond.second
    apart = beyond.second - beyond.first > ALIKE
    covers = x.frit_inner > x.landing
    word = "frit beyond it" if covers else "short of the landing"
    if apart and not between:
        shared["landing, edge" if covers else "frit width"] = (word, beyond)
    found: list[Row] = []
    if section.profile.draft > 0:
        skin = levels.skin
        joint = Span(section.profile.wall_at(skin), edge, top, None, skin)
        found.append(Row("joint at the skin", (joint,)))
    for name, end, tolerance in sorted(rows, key=lambda row: row[1]):
        if end - edge <= ALIKE:
            continue
        if apart and between and abs(end - beyond.second) < ALIKE:
            found.append(Row("frit beyond the landing" if covers else "frit short of the landing", (beyond,)))
        span = Span(edge, end, top, tolerance)
        if name in shared:
            found.append(Row(f"{name} / {shared[name][0]}", (span, shared[name][1])))
        else:
            found.append(Row(name, (span,)))
    return tuple(found)


def chain(rows: tuple[Row, ...], pencil: Pencil, *, level: float, sign: float) -> list[Mark]:
    """The rows of one chain, the first nearest to the section, the names in one line behind the longest.

    ``level`` is the z from which the rows are counted, ``sign`` +1 stacks them upwards, -1 downwards.
    """
    style = pencil.style
    dimensions: list[Dimension] = []
    names: list[tuple[str, float]] = []
    for index, row in enumerate(rows):
        z = level + sign * pencil.paper(style.first_row + index * style.row)
        for order, span in enumerate(row.spans):
            begin = span.start if span.start_first is None else span.start_first
            dimensions.append(
                pencil.linear(
                    (span.first, begin),
                    (span.second, span.start),
                    line_at=z,
                    tolerance=span.tolerance,
                    outside="second" if order else "first",
                    text_share=span.text_share,
                )
            )
        names.append((row.name, z))
    if not dimensions:
        return []
    reach = max(max(_reach(part, pencil.scale) for part in dimension.parts) for dimension in dimensions)
    at = reach + pencil.paper(NAME_GAP)
    return [*dimensions, *(pencil.text("TEXT", (at, z), name, centred=True) for name, z in names)]


def names_end(rows: tuple[Row, ...], pencil: Pencil) -> float:
    """The greatest x of a chain of one row or more, where the longest name ends: told from its sizes, without drawing it."""
    reach = max(
        _line_end(span, pencil, outside="second" if order else "first") for row in rows for order, span in enumerate(row.spans)
    )
    return reach + pencil.paper(NAME_GAP) + max(pencil.width(row.name) for row in rows)


def _line_end(span: Span, pencil: Pencil, *, outside: Literal["first", "second"]) -> float:
    """Where the line or the figure of a level dimension ends (x)."""
    low, high = sorted((span.first, span.second))
    printed = toleranced(high - low, span.tolerance)
    _, end, middle = pencil.line_and_figure(low, high, printed, outside=outside, text_share=span.text_share, text_beyond=1.0)
    return max(end, middle + pencil.width(printed) / 2)


def _reach(part: Path | Fill | Text, scale: float) -> float:
    """The greatest x of one part of a dimension."""
    return box_of_text(part, scale)[2] if isinstance(part, Text) else max(x for x, _, _ in part.nodes)


__all__ = ["Row", "Span", "chain", "names_end", "rows_from_glass", "rows_from_wall"]
