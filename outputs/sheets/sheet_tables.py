"""The tables of a detail sheet: sizes, blocks, vertices, glass, parts."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from geometry.detail.parts import BlockKind
from outputs.sheet.drafting import number, toleranced
from outputs.sheets.words import frame_words

if TYPE_CHECKING:
    from geometry.detail.parts import Detail
    from geometry.job import Pane

Rows = list[tuple[str, ...]]


def size_rows(detail: Detail) -> Rows:
    """Every size with its tolerance and where it comes from."""
    return [(size.name, toleranced(size.value, size.tolerance), size.origin_in_short) for size in detail.sizes.all()]


def block_rows(detail: Detail) -> Rows:
    """Chocks and spacers with edge and distance."""
    tapered = " tapered" if any(section.profile.draft > 0 for section in detail.sections) else ""
    chocks = [
        (
            chock.mark,
            chock.kind,
            chock.edge,
            number(chock.distance, decimals=1),
            f"{number(chock.length)} × {number(chock.height)} × {number(chock.depth)}{tapered}",
        )
        for chock in detail.chocks
    ]
    sizes = detail.sizes
    size = f"{number(sizes.spacer_length.value)} × {number(sizes.spacer_width.value)} × {number(sizes.spacer_thickness.value)}"
    spacers = [(spacer.mark, "spacer block", spacer.edge, number(spacer.distance, decimals=1), size) for spacer in detail.spacers]
    return [*chocks, *spacers]


def vertex_rows(detail: Detail) -> Rows:
    """Sharp corners of the glass from the lower left of its box."""
    return [
        (
            f"V{c.number}",
            number(c.theoretical.x),
            number(c.theoretical.y),
            number(c.radius),
            f"{number(c.interior_angle, decimals=1)}°",
        )
        for c in detail.corners
    ]


def glass_rows(detail: Detail) -> Rows:
    """Make-up, mass, area, centroid, bead."""
    rake = number(detail.rake)
    return [
        ("glass, from outside", f"{detail.glass.make_up()} {detail.glass.treatment}"),
        ("mass", f"{number(detail.glass.mass, decimals=1)} kg"),
        ("area, daylight", f"{number(detail.area * 1e-6, decimals=4)} m², {number(detail.daylight_area * 1e-6, decimals=4)} m²"),
        ("centroid X, Y", f"{number(detail.centroid.x, decimals=1)}; {number(detail.centroid.y, decimals=1)}"),
        (
            "rake",
            f"{rake}° {'upright' if detail.rake == 0 else 'deck light' if detail.deck_light else 'leans back' if detail.rake > 0 else 'reverse'}",
        ),
        (
            "bead, centre line",
            f"{number(detail.uncured_bead.length)} long, {number(detail.uncured_bead.volume, decimals=0)} ml net",
        ),
        (
            "bead starts and stops",
            f"{detail.bead_start.edge} at {number(detail.bead_start.distance, decimals=0)}, runs counter-clockwise",
        ),
        ("chocks", "permanent" if detail.chocks_permanent else "temporary: engineer to confirm the bond"),
    ]


def revision_rows(pane: Pane) -> Rows:
    """The revisions so far, the newest on top."""
    return [(each.letter, each.date.isoformat() if each.date else "", each.what) for each in reversed(pane.revisions)]


def part_rows(detail: Detail) -> Rows:
    """Item, quantity, part and material; blocks are counted in the detail."""
    counted = Counter(chock.kind for chock in detail.chocks)
    sizes = detail.sizes
    metres = f"{number(detail.perimeter * 1e-3, decimals=2)} m"
    rows: Rows = [
        ("1", "1", "frame with recess", f"{frame_words(detail.frame)}, by the yard"),
        ("2", "1", "glass pane", f"{detail.glass.make_up()} {detail.glass.treatment}"),
        (
            "3",
            f"{number(detail.uncured_bead.length * 1e-3, decimals=2)} m",
            "adhesive bead",
            f"{number(sizes.bond_width.value)} × {number(sizes.bond_thickness.value)}, elastic, to the yard's specification",
        ),
        (
            "4",
            metres,
            "UV frit band",
            f"{number(sizes.frit_width.value - sizes.frit_fade.value)} solid, opaque, on the bond face",
        ),
        ("5", metres, "backfill sealant", f"{number(sizes.joint_width.value)} × {number(sizes.backfill_depth.value)}"),
        ("6", metres, "backer", f"Ø{number(sizes.backer_diameter.value)} closed cell, or bond-breaker tape"),
        (
            "7",
            str(len(detail.spacers)),
            "spacer block",
            f"{number(sizes.spacer_length.value)} × {number(sizes.spacer_width.value)} × {number(sizes.spacer_thickness.value)}",
        ),
    ]
    for kind in BlockKind:
        if counted[kind]:
            heights = sorted({number(chock.height) for chock in detail.chocks if chock.kind == kind})
            rows.append(
                (
                    str(len(rows) + 1),
                    str(counted[kind]),
                    kind,
                    f"{number(sizes.chock_length.value)} long, {' / '.join(heights)} high",
                )
            )
    return rows


__all__ = ["block_rows", "glass_rows", "part_rows", "revision_rows", "size_rows", "vertex_rows"]
