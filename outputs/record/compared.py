"""A comparison of a returned drawing as plain data for a machine; places in the pane's coordinates, mm."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from geometry.ledger.finding import Verdict, worst
from outputs.record.data import Data, finding_data, plain

if TYPE_CHECKING:
    from collections.abc import Iterator

    from geometry.outline import Point
    from geometry.returned.comparison import Comparison
    from geometry.returned.differences import Differences


def comparison_data(found: Comparison) -> Data:
    """Everything that a comparison tells."""
    alignment, move = found.returned.alignment, found.returned.alignment.move
    origin = move.back(_origin())
    return {
        "pane": found.issued.code,
        "returned": found.file,
        "verdict": found.verdict.value,
        "turned_deg": round(move.turned, 6) + 0.0,
        "mirrored": move.mirrored,
        "scale": move.scale,
        "unit": alignment.unit.name if alignment.unit else None,
        "shift_mm": [_rounded(origin.x * move.scale), _rounded(origin.y * move.scale)],
        "agreeing": plain(alignment.agreeing),
        "cannot_tell": {
            "turns_deg": list(alignment.symmetry.turns),
            "any_turn": alignment.symmetry.any_turn,
            "mirrored": alignment.symmetry.mirrored,
        },
        "differences": list(_differences(found)),
        "solid_frit": _solid_frit(found),
        "sizes": [
            {
                "name": size.name,
                "issued_mm": plain(size.issued),
                "returned_mm": plain(size.returned),
                "difference_mm": None if size.difference is None else _rounded(size.difference),
                "limit_mm": plain(size.limit),
                "over": size.over,
            }
            for size in found.sizes
        ],
        "corners": [
            {
                "name": each.name,
                "issued_mm": _place(each.issued),
                "returned_mm": None if each.returned is None else _place(each.returned),
            }
            for each in found.corners
        ],
        "deviations": {
            name: _deviation(each)
            for name, each in (("outline", found.outline), ("solid_edge", found.print_edge), ("end_of_fade", found.fade_end))
        },
        "words": [
            {"topic": each.topic, "text": each.text, "at_mm": _place(each.at), "says": each.says.value, "asked": each.why}
            for each in found.words
        ],
        "notes": list(found.notes),
        "findings": [finding_data(found.subject, finding) for finding in found.findings],
    }


def _origin() -> Point:
    from geometry.outline import Point

    return Point(0.0, 0.0)


def _rounded(value: float) -> float:
    """A difference to a millionth of a millimetre, without the last bits of a sum."""
    return round(value, 6) + 0.0


def _place(at: Point) -> list[float]:
    return [_rounded(at.x), _rounded(at.y)]


def _differences(found: Comparison) -> Iterator[dict[str, Any]]:
    """What differs by more than its limit: sizes first, then stretches of the outline, then those of the print."""
    for size in found.sizes:
        if size.over:
            yield {
                "kind": "size",
                "what": size.name,
                "issued_mm": plain(size.issued),
                "returned_mm": plain(size.returned),
                "difference_mm": None if size.difference is None else _rounded(size.difference),
                "limit_mm": plain(size.limit),
                "at": None,
            }
    for kind, each in (("outline", found.outline), ("print", found.print_edge), ("fade", found.fade_end)):
        for stretch in each.stretches if each is not None else ():
            yield {
                "kind": kind,
                "what": stretch.part,
                "issued_mm": None,
                "returned_mm": None,
                "difference_mm": _rounded(stretch.worst.amount),
                "limit_mm": plain(each.limit if each is not None else None),
                "length_mm": _rounded(stretch.length),
                "at": _place(stretch.worst.at),
            }


def _deviation(found: Differences | None) -> Data | None:
    if found is None:
        return None
    greatest = found.greatest
    amount = 0.0 if abs(greatest.amount) < 1e-6 else _rounded(greatest.amount)
    return {"greatest_mm": amount, "at": _place(greatest.at), "part": greatest.part, "limit_mm": plain(found.limit)}


def _solid_frit(found: Comparison) -> Data:
    """The least width of the solid print and what it is held against; 0 where none is drawn, null where it cannot be told."""
    frit = [finding for finding in found.findings if finding.name.startswith(("solid print", "frit "))]
    verdict = worst(finding.verdict for finding in frit)
    if found.solid is None:
        return {"least_mm": 0.0 if verdict is Verdict.FAIL else None, "at": None, "part": "", "verdict": verdict.value}
    solid = found.solid
    return {
        "least_mm": _rounded(solid.least.value),
        "at": _place(solid.least.of),
        "part": solid.least.part,
        "to_dots": solid.to_dots,
        "wanted_mm": plain(solid.wanted),
        "beyond_bead_mm": _rounded(solid.cover.value),
        "beyond_bead_at": _place(solid.cover.of),
        "short": [
            {"part": each.part, "least_mm": _rounded(each.least.value), "at": _place(each.least.of)} for each in solid.short
        ],
        "verdict": verdict.value,
    }


__all__ = ["comparison_data"]
