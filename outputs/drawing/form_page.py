"""A page of boxes to write in: each with its number, its place kept for the fields that a PDF lays over it.

Terms
-----
box number
    Where a box stands in the list of the record's fields, from 1: the same number stands beside its id in the form's CSV.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from geometry.recorded.record_fields import FieldKind
from geometry.recorded.record_values import LONGEST
from outputs.drawing import card_hand as hand
from outputs.sheet.entities import Mark, Text

if TYPE_CHECKING:
    from collections.abc import Mapping

    from geometry.recorded.record_fields import RecordField

NUMBER = 1.8
"""Height of a box's number, paper mm."""


@dataclass(frozen=True, slots=True)
class FormBox:
    """A field and its box on the page, paper mm from the lower left corner."""

    field: RecordField
    left: float
    bottom: float
    right: float
    top: float

    @property
    def tip(self) -> str:
        """What a reader of the PDF is told of the field: its words, its unit and its limits."""
        field = self.field
        bounds = [f"{name} {value:g}" for name, value in (("least", field.least), ("most", field.most)) if value is not None]
        kind = {FieldKind.DATE: "such as 2026-05-04", FieldKind.CLOCK: "such as 09:47", FieldKind.YES_NO: "yes or no"}.get(
            field.kind, ""
        )
        return ", ".join(part for part in (field.words, *bounds, field.unit, kind) if part)

    @property
    def choices(self) -> tuple[str, ...]:
        """The words to choose from; empty where anything may be typed."""
        return ("yes", "no") if self.field.kind is FieldKind.YES_NO else self.field.choices

    @property
    def most_signs(self) -> int:
        """How many signs the field takes."""
        return LONGEST if self.field.kind is FieldKind.TEXT else 40


@dataclass(slots=True)
class FormPage:
    """A page while it is set out from its head. ``numbers`` gives the number of each field's box."""

    numbers: Mapping[str, int]
    marks: list[Mark] = field(default_factory=list)
    boxes: list[FormBox] = field(default_factory=list)

    def box(self, of: RecordField, left: float, top: float, right: float, foot: float, *, name: str = "") -> None:
        """The box of a field between two distances from the left and from the head of the page; ``name`` stands behind its number."""
        low, high = hand.down(foot), hand.down(top)
        self.marks.append(hand.field(left, low, right, high))
        self.marks.append(Text("TEXT", left + 0.9, high - 0.9 - NUMBER, f"{self.numbers[of.id]} {name}".rstrip(), NUMBER))
        self.boxes.append(FormBox(of, left, low, right, high))

    def say(
        self, x: float, base: float, string: str, height: float = hand.SMALL, *, bold: bool = False, align: hand.Align = "left"
    ) -> None:
        """A line of words on a base line so far from the head."""
        self.marks.append(hand.words(x, hand.down(base), string, height, bold=bold, align=align))

    def heading(self, string: str, top: float, *, left: float = hand.LEFT, right: float = hand.RIGHT, beside: str = "") -> None:
        """A black plate with the name of a part, and in plain letters what to know of it."""
        self.marks.append(hand.plate(left, hand.down(top + HEADING), right, hand.down(top)))
        self.marks.append(hand.words(left + 1.6, hand.down(top + 4.35), string, hand.PLAIN, bold=True, white=True))
        if beside:
            self.marks.append(hand.words(right - 1.6, hand.down(top + 4.15), beside, hand.SMALL, align="right", white=True))


HEADING = 5.6
"""Height of a heading's plate, paper mm."""

__all__ = ["HEADING", "NUMBER", "FormBox", "FormPage"]
