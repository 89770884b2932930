"""What all sheets on A4 for the hand have in common: the card, and the forms that are filled in beside the pane.

Terms
-----
office's names
    Layers are called as the job says (``[layers]``), as far as such a sheet has them and no other layer of it is called so already.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.drawing.card_hand import HEIGHT, LAYERS, WIDTH
from outputs.sheet.entities import Sheet
from outputs.sheet.layers import with_layer_names

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from outputs.sheet.entities import Mark
    from outputs.sheet.outcomes import Outcome
    from outputs.sheets.contents import Contents


def hand_sheet(
    contents: Contents, what: str, description: str, marks: Iterable[Mark], *, outcomes: tuple[tuple[str, Outcome], ...] = ()
) -> Sheet:
    """An A4 upright of one pane; ``what`` it is stands behind code and revision in its title."""
    code, revision = contents.detail.code, contents.detail.revision
    sheet = Sheet(
        size="A4",
        width=WIDTH,
        height=HEIGHT,
        title=f"{code}{f' rev {revision}' if revision else ''}, {what}",
        description=description,
        layers=LAYERS,
        blocks=(),
        views=(),
        marks=tuple(marks),
        outcomes=outcomes,
    )
    return with_layer_names(sheet, _office_names(contents.job.layers))


def _office_names(given: Mapping[str, str]) -> dict[str, str]:
    own = {layer.name for layer in LAYERS}
    kept = {name: wanted for name, wanted in given.items() if name in own}
    taken = {name.upper() for name in own - set(kept)}
    return {name: wanted for name, wanted in kept.items() if wanted.upper() not in taken}


__all__ = ["hand_sheet"]
