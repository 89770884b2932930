"""What a template says: from which side it is seen, and how its pages go together."""

from __future__ import annotations

from dataclasses import dataclass
from math import dist
from typing import TYPE_CHECKING

from outputs.drawing.template_view import node_words
from outputs.sheet.drafting import number
from outputs.sheets.letters import TEMPLATE
from outputs.sheets.template_tiles import OVERLAP

if TYPE_CHECKING:
    from outputs.sheet.entities import Place
    from outputs.sheets.contents import Contents

BOUND = "Print at 100 %, without fitting to the page. Measure both bars: 100 mm each, or the print is not used."


@dataclass(frozen=True, slots=True)
class Side:
    """The side from which a template is seen: in its titles, beside its lines, and at the end of its tiles' names and of its file's."""

    inside: bool

    @property
    def seen(self) -> str:
        """In a title."""
        return "INNER FACE UP, mirrored" if self.inside else "seen from outside"

    @property
    def on_tile(self) -> str:
        """Behind the name of a tile: pages of both sides lie on one table."""
        return " mirrored" if self.inside else ""

    @property
    def letter(self) -> str:
        """The end of the identification number."""
        return f"{TEMPLATE}M" if self.inside else TEMPLATE

    @property
    def ending(self) -> str:
        """Of the file."""
        return "-template-mirrored.pdf" if self.inside else "-template.pdf"

    def notes(self, contents: Contents, first: Place, last: Place) -> tuple[str, ...]:
        """How the pages are printed, laid together and measured, and what they are for; ``first`` and ``last`` are the crosses farthest
        apart.
        """
        origin, stem = contents.detail.origin, contents.pane.file_stem
        at = (origin.at.x, origin.at.y)
        ends = " to ".join(node_words(each, at, inside=self.inside) for each in (first, last))
        other = f"{stem}{Side(not self.inside).ending}"
        return (
            BOUND,
            f"Neighbours show {number(OVERLAP)} mm twice. Lay cross on cross, X and Y are the same on both. Tape on a flat table.",
            f"Measure when it is together: {ends}: {number(dist(first, last), decimals=1)} mm from cross to cross.",
            f"X and Y count from: {origin.name}{'; X to the left.' if self.inside else '.'}",
            f"Mirrored: for the glass as it lies, inner face up, as on the card. Never for the recess: that is {other}."
            if self.inside
            else f"Seen from outside: print up it is for the recess. For the glass, inner face up: mirrored, {other}.",
            "Tiles on which nothing is drawn are not printed.",
            "The figures of the sheets decide, not the template: paper grows in damp air (common practice, no source).",
        )


__all__ = ["BOUND", "Side"]
