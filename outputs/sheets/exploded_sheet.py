"""The sheet of the exploded view: a corner of the pane large, the whole pane small beside it, parts list and title block.

It is drawn where the job asks for it. The corner tells what lies on what, the whole pane where the blocks stand. A pane that is small
enough is shown whole, large, and once.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from outputs.drawing.balloons import ITEM_OF
from outputs.drawing.exploded_balloons import balloons
from outputs.drawing.exploded_parts import parts_of
from outputs.drawing.exploded_view import LINES, TINTS, ExplodedView
from outputs.drawing.exploded_ways import untold_ways, ways
from outputs.sheet.boxes import box_round
from outputs.sheet.drafting import scale_designation
from outputs.sheet.entities import Sheet, Text, View
from outputs.sheet.keep_clear import KeepClear
from outputs.sheet.layers import LAYERS, with_layer_names
from outputs.sheet.paper import TITLE_WIDTH, Paper, frame_marks, margin_bar
from outputs.sheet.pencil import Pencil
from outputs.sheet.refusal import SheetError
from outputs.sheet.tables import wrapped
from outputs.sheet.title_block import title_block
from outputs.sheets.detail_places import Places
from outputs.sheets.detail_tables import parts_table
from outputs.sheets.exploded_fit import LIFT, LIFT_OF_RINGS, SCALES, extent_of, fitted_view, needed, piece_for
from outputs.sheets.pictures import SAYS_PITCH, Placed, title_marks
from outputs.sheets.title import detail_title

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.solids.bodies import Body
    from outputs.drawing.exploded_parts import Part
    from outputs.sheet.boxes import Box
    from outputs.sheet.entities import Mark
    from outputs.sheets.contents import Contents

SHARE = 0.32  # side of the piece by the width of its box
LEAST_LIFT = 45.0  # paper mm
LEFT = 7.0  # paper mm left of the parts
AROUND = 13.0  # paper mm round the parts for balloons
NOTES = 92.0  # paper mm, width of the notes
APART_IN_MODEL = 100.0


def exploded_sheet(contents: Contents) -> Sheet:
    """The finished sheet, the last of its pane. Raises ``SheetError`` where a body cannot be made."""
    from geometry.solids.bodies import bodies_of
    from geometry.solids.kernel import SolidError

    paper = Paper("A3", number=contents.sheets, of=contents.sheets)
    try:
        views, marks = _Composed(contents, paper, bodies_of(contents.detail)).composed()
    except SolidError as error:
        raise SheetError(f"the exploded view cannot be drawn: {error}") from error
    code = contents.detail.code
    sheet = Sheet(
        size=paper.size,
        width=paper.width,
        height=paper.height,
        title=f"{contents.title}: exploded view",
        description=f"Pane {code} with its parts pulled apart in the order of fitting, isometric. A fit-up detail, not an approval.",
        layers=(*TINTS, *LAYERS, *LINES),
        blocks=(),
        views=tuple(_in_model(views)),
        marks=tuple(marks),
        outcomes=tuple((view.name, outcome) for view in views for outcome in view.outcomes),
    )
    own = {layer.name for layer in LAYERS}
    return with_layer_names(sheet, {name: wanted for name, wanted in dict(contents.job.layers).items() if name in own})


class _Composed:
    """The views and what stands beside them on one paper."""

    def __init__(self, contents: Contents, paper: Paper, bodies: Sequence[Body]) -> None:
        self.contents, self.paper, self.bodies, self.detail = contents, paper, bodies, contents.detail
        self.places = Places.of(paper)
        self.style, self.times = self.places.style, self.places.times
        self.parts = parts_of(contents.detail, bodies, None)

    def composed(self) -> tuple[list[Placed], list[Mark]]:
        """The views, placed, and the marks of the paper."""
        contents, places = self.contents, self.places
        parts, over = parts_table(self.detail, places, contents.check)
        left, top = places.plan_title
        right = self.paper.width - 10.0 - TITLE_WIDTH - 3.0  # all the height beside the title block
        beside: Box = (right + 6.0, over + 6.0, places.column[1], top)
        main = self._main((left, 13.0, right, top - 3.0))
        small = None if main.piece is None else self._small(beside)
        first = {part.item for part in main.parts}
        every = {part.item for part in self.parts}
        notes = self._notes(main)
        views = [self._placed("EXPLODED VIEW", self._says(main), main, first, (left, 13.0, right, top), notes=notes)]
        if small is not None:
            views.append(self._placed("WHOLE PANE", "isometric", small, every - first, beside, notes=[]))
        scales = tuple(scale_designation(view.scale) for view in views)
        marks: list[Mark] = [*frame_marks(self.paper), *title_block(self.paper, detail_title(contents, scales, self.paper))]
        return views, [*marks, *margin_bar(self.paper, self.style), *parts]

    def _main(self, box: Box) -> ExplodedView:
        """The piece at the largest scale at which it tells and its parts come apart, or the whole pane where that is no larger."""
        wide, high = box[2] - box[0] - LEFT * self.times, box[3] - box[1] - 2 * AROUND * self.times
        side = SHARE * wide
        views = []
        for scale in (each for each in SCALES if side / each >= needed(self.detail)):
            piece = piece_for(self.detail, side, scale)
            view, apart = fitted_view(self.detail, self.bodies, piece, scale, (wide, high), side=side)
            views.append(view)
            if apart:
                break
        return max(views, key=lambda view: min(view.reach, LIFT * side))

    def _small(self, box: Box) -> ExplodedView:
        """The whole pane at the largest scale that leaves its parts apart."""
        extent, times = extent_of([body.shape for body in self.bodies]), self.times
        wide, high = box[2] - box[0], box[3] - box[1] - 4.0 * times
        for scale in SCALES:
            reach = extent.most(scale, wide, high)
            if reach >= LEAST_LIFT * times:
                break
        most = LIFT_OF_RINGS * extent.y * scale + 30.0 * times
        return ExplodedView(self.detail, self.parts, None, scale, min(reach, most), large=False)

    def _says(self, main: ExplodedView) -> str:
        return "isometric" if main.piece is None else "isometric, piece at the lower left"

    def _notes(self, main: ExplodedView) -> list[Text]:
        """What is to be known of the view, under its title."""
        style = self.style
        x, y = self.places.plan_title
        lines = [
            part
            for each in (
                *notes_of(self.parts, piece=main.piece is not None, others="on the whole pane"),
                untold_ways(self.detail),
            )
            for part in wrapped(each, NOTES * self.times, style.text)
        ]
        y -= 7.0 * self.times
        return [Text("TEXT", x, y - SAYS_PITCH * self.times * index, each, style.text) for index, each in enumerate(lines)]

    def _placed(self, name: str, says: str, view: ExplodedView, items: set[str], box: Box, *, notes: Sequence[Text]) -> Placed:
        """A view in its box, its title at the box's upper left corner, its balloons round it."""
        pencil = Pencil(self.style, view.scale)
        marks: list[Mark] = list(view.marks())
        extent = box_round(marks, view.scale)
        k = view.scale
        left, low, right, high = box
        wide, tall = (extent[2] - extent[0]) * k, (extent[3] - extent[1]) * k
        x = left + LEFT * self.times if notes else left + max(0.0, (right - left - wide) / 2)
        y = low + max(0.0, (high - 5.0 * self.times - low - tall) / (3 if notes else 2))
        home = (x - extent[0] * k, y - extent[1] * k)
        marks += title_marks(name, view.scale, says, (left, high), home, self.style)
        marks += [replace(each, x=(each.x - home[0]) / k, y=(each.y - home[1]) / k) for each in notes]
        within = tuple((edge - at) / k for edge, at in zip((left - 1.0, low, right, high + 4.0), (*home, *home), strict=True))
        room = KeepClear(scale=k, clear=self.style.off_lines, apart=self.style.clear, within=within)  # type: ignore[arg-type]
        room.add(marks)
        marks += balloons(view, items, pencil, room)
        if notes:
            marks += ways(view, pencil, room)
        room.drawn(name.lower())
        return Placed(name, k, home, tuple(marks), tuple(room.outcomes))


def notes_of(parts: Sequence[Part], *, piece: bool, others: str) -> list[str]:
    """What is to be known of an exploded view of these parts: the representation, the order, what is cut off, and where ``others`` are."""
    order: dict[int, set[str]] = {}
    for part in parts:
        order.setdefault(part.level, set()).add(part.item)
    steps = [_joined(sorted(each, key=int)) for _, each in sorted(order.items())]
    told = [
        "Isometric (ISO 5456-3): sizes along the axes are to scale, the gaps between the parts are not.",
        f"From the frame outboard in the order of fitting: {'; '.join(steps)}.",
    ]
    if piece:
        told.append(f"Parts that run on are cut off; blocks that stand farther off are {others}.")
    return [*told, f"The print, {ITEM_OF['frit']}, is seen through the pane."]


def _joined(words: Sequence[str]) -> str:
    return " and ".join(part for part in (", ".join(words[:-1]), words[-1]) if part)


def _in_model(views: Sequence[Placed]) -> list[View]:
    """Each view in the model, beside the one before it."""
    found, offset = [], 0.0
    for placed in views:
        found.append(placed.in_model(offset))
        offset = found[-1].window[2] + APART_IN_MODEL
    return found


__all__ = ["exploded_sheet", "notes_of"]
