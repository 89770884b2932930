"""Fields to fill in, laid over the boxes of a page of a PDF: text, one of some words, and what the file says of itself.

Terms
-----
field
    A text or a choice of the form of a PDF (ISO 32000: interactive form). Its name is the id by which it is read back.
told field
    A hidden field that nobody fills in: of which pane, revision and job the paper is.

A field lies in its box under the box's number. The same fields give the same bytes.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

POINTS = 72.0 / 25.4
UNDER_NUMBER = 2.4
"""mm from the upper edge of a box down to its field: the box's number stays in sight."""
INSET = 0.4
TALL_BOX = 14.0
"""mm from which a box holds several lines."""


@dataclass(frozen=True, slots=True)
class FormField:
    """One field: its name, what a reader is told of it, its box in mm from the lower left corner of the page."""

    name: str
    tip: str
    left: float
    bottom: float
    right: float
    top: float
    choices: tuple[str, ...] = ()
    most: int = 100  # signs


def add_fields(canvas: Any, fields: tuple[FormField, ...]) -> None:
    """Lay fields over the page that is being written."""
    for each in fields:
        wide, high = each.right - each.left - 2 * INSET, each.top - each.bottom - UNDER_NUMBER - INSET
        tall = high > TALL_BOX
        options = {
            "name": each.name,
            "tooltip": each.tip,
            "x": (each.left + INSET) * POINTS,
            "y": (each.bottom + INSET) * POINTS,
            "width": wide * POINTS,
            "height": high * POINTS,
            "fontName": "Helvetica",
            "fontSize": 9,
            "borderWidth": 0,
            "fillColor": None,
            "borderColor": None,
            "forceBorder": False,
        }
        if each.choices:
            canvas.acroForm.choice(value=" ", options=[" ", *each.choices], fieldFlags="combo", **options)
        else:
            canvas.acroForm.textfield(value="", maxlen=each.most, fieldFlags="multiline" if tall else "", **options)


def add_told(canvas: Any, told: tuple[tuple[str, str], ...]) -> None:
    """Hidden fields with what the paper says of itself."""
    for name, value in told:
        canvas.acroForm.textfield(
            name=name,
            tooltip=name,
            value=value,
            x=1,
            y=1,
            width=40,
            height=10,
            fontName="Helvetica",
            fontSize=6,
            borderWidth=0,
            fillColor=None,
            borderColor=None,
            forceBorder=False,
            annotationFlags="hidden",
            fieldFlags="readOnly",
            maxlen=max(60, len(value)),
        )


__all__ = ["FormField", "add_fields", "add_told"]
