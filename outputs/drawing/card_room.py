"""Room on the fitter's card: what stands already, and the first place where a text is clear of it.

All in paper millimetres. A text keeps 1.5 mm from every other text and 0.7 mm from every line; its box is the ink's.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from outputs.drawing.card_hand import APART, HEIGHT, LAYERS, MARGIN, OFF_LINE, WIDTH
from outputs.sheet.boxes import box_of_text, grown, overlap
from outputs.sheet.entities import Fill, Hatch, Path, Text
from outputs.sheet.keep_clear import crosses, facets, meet

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Mark
    from outputs.sheet.keep_clear import Straight

_HALF = {layer.name: layer.width / 2 for layer in LAYERS}
PAGE: Box = (MARGIN, MARGIN, WIDTH - MARGIN, HEIGHT - MARGIN)


@dataclass
class Room:
    """An account of the ink of one side; it grows as marks are added."""

    page: Box = PAGE
    lines: list[tuple[float, Straight]] = field(default_factory=list)  # half the width of the line, and the line
    texts: list[Box] = field(default_factory=list)

    def add(self, marks: Iterable[Mark]) -> None:
        """Take what is drawn into the account; white marks lie on black ones that count already."""
        for mark in marks:
            if mark.layer in ("ON_PLATES", "OVER", "LIGHT", "TOP"):
                continue
            if isinstance(mark, Text):
                self.texts.append(box_of_text(mark, 1.0))
            elif isinstance(mark, Path | Fill):
                self._run(mark.layer, mark.nodes, closed=mark.closed if isinstance(mark, Path) else True)
            elif isinstance(mark, Hatch):
                for nodes in mark.boundaries:
                    self._run(mark.layer, nodes, closed=True)

    def _run(self, layer: str, nodes: tuple[tuple[float, float, float], ...], *, closed: bool) -> None:
        self.lines += [(_HALF[layer], each) for each in facets(nodes, closed=closed)]

    def copy(self) -> Room:
        """The same account, to try something in."""
        return Room(self.page, list(self.lines), list(self.texts))

    def block(self, box: Box) -> None:
        """Keep a rectangle free of texts."""
        self.texts.append(box)

    def free(self, box: Box, *, apart: float = APART) -> bool:
        """Whether a text with this box of ink would be clear of everything, and on the card."""
        left, bottom, right, top = self.page
        if box[0] < left or box[1] < bottom or box[2] > right or box[3] > top:
            return False
        wide = grown(box, apart)
        if any(overlap(wide, other) for other in self.texts):
            return False
        return not any(crosses(grown(box, OFF_LINE + half), straight) for half, straight in self.lines)

    def clear_of_texts(self, marks: Iterable[Mark]) -> bool:
        """Whether lines would run clear of every text."""
        trial = Room()
        trial.add(marks)
        return not any(crosses(grown(box, OFF_LINE + half), straight) for half, straight in trial.lines for box in self.texts)

    def clear_of_lines(self, marks: Iterable[Mark]) -> bool:
        """Whether straight lines would cross no other line; where they begin does not count."""
        for mark in marks:
            if isinstance(mark, Path):
                (x1, y1, _), (x2, y2, _) = mark.nodes[0], mark.nodes[-1]
                begun = (x1 + 0.1 * (x2 - x1), y1 + 0.1 * (y2 - y1), x2, y2)
                if any(meet(begun, straight) for _, straight in self.lines):
                    return False
        return True

    def first(self, candidates: Iterable[Sequence[Text]]) -> Sequence[Text] | None:
        """The first group of texts that is free; the account does not change."""
        for group in candidates:
            if all(self.free(box_of_text(text, 1.0)) for text in group):
                return group
        return None


__all__ = ["PAGE", "Room"]
