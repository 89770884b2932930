"""The code that a camera reads: pane, revision and mark of the job as a QR code (ISO/IEC 18004), drawn as one filled area.

Terms
-----
module
    One square of the code, paper mm.
quiet zone
    The white margin round the code, four modules wide as the standard asks: nothing may stand in it.
comb
    One closed run over all dark modules: along the foot of each row and over each run of dark modules, back along the foot, up the left
    side to the next row. Its ways forth and back lie on one another and fill nothing, so the dark modules of neighbouring rows are
    one area without a seam.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from outputs.sheet.entities import Fill

if TYPE_CHECKING:
    from outputs.sheet.entities import Node

MODULE = 0.5
"""Least width of a module, paper mm: a print at 150 dpi has three dots across it."""
QUIET = 4
"""Width of the quiet zone in modules."""


def code_text(code: str, revision: str, mark: str) -> str:
    """What the code says: code of the pane, revision and the mark without its hyphen, a space between them.

    >>> code_text("SW-01", "A", "K7PA-3MXD")
    'SW-01 A K7PA3MXD'
    """
    return " ".join(part for part in (code, revision, mark.replace("-", "")) if part)


def code_size(text: str, module: float = MODULE) -> float:
    """Width and height of the code with its quiet zone, paper mm."""
    return (len(_rows(text)) + 2 * QUIET) * module


def code_marks(text: str, x: float, y: float, module: float = MODULE, *, layer: str = "TITLE") -> list[Fill]:
    """The code as one filled area; ``x``, ``y`` is the lower left corner of its quiet zone, paper mm.

    Raises ``ValueError`` where a module would be narrower than :data:`MODULE`.
    """
    if module < MODULE:
        raise ValueError(f"a module is {module} mm wide; allowed are {MODULE} mm and more")
    rows = _rows(text)
    left, low = x + QUIET * module, y + QUIET * module
    nodes: list[Node] = []

    def to(across: int, up: int) -> None:
        node = (left + across * module, low + up * module, 0.0)
        if not nodes or nodes[-1] != node:
            nodes.append(node)

    for up, row in enumerate(reversed(rows)):
        to(0, up)
        for start, end in _dark(row):
            for across, level in ((start, up), (start, up + 1), (end, up + 1), (end, up)):
                to(across, level)
        to(0, up)
    to(0, 0)
    return [Fill(layer, tuple(nodes[:-1]))]


def _dark(row: str) -> list[tuple[int, int]]:
    """Where runs of dark modules start and end in a row of 0 and 1."""
    edges = [place for place, (one, other) in enumerate(zip(f"0{row}", f"{row}0", strict=True)) if one != other]
    return list(zip(edges[::2], edges[1::2], strict=True))


@lru_cache(maxsize=64)
def _rows(text: str) -> tuple[str, ...]:
    """The modules from above, 1 is dark; error correction M: a seventh of the code may be lost."""
    import segno

    code = segno.make(text, micro=False, error="m", boost_error=False)
    return tuple("".join("1" if dark else "0" for dark in row) for row in code.matrix)


__all__ = ["MODULE", "QUIET", "code_marks", "code_size", "code_text"]
