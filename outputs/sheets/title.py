"""What stands in the title blocks: the fields of each kind of sheet, filled from the contents.

Terms
-----
identification number
    Yard number, code of the pane and the letter of the document; the supplier's papers carry no yard number.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.findings.state import NOT_FOR_MANUFACTURE
from outputs.sheet.drafting import number
from outputs.sheet.title_block import KEY, PROJECTION, Field, TitleBlock
from outputs.sheets.letters import DETAIL, PANE, RECORD
from outputs.sheets.words import frame_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from outputs.sheet.paper import Paper
    from outputs.sheets.contents import Contents

NOT_CHECKED = "not checked"
AS_ORDERED = "as on the order"


def identification(contents: Contents, letter: str, *, yard: bool = True) -> str:
    """The identification number of a document of the pane: ``417-SW-01-D``."""
    parts = (contents.job.vessel.yard_number if yard else "", contents.detail.code, letter)
    return "-".join(part for part in parts if part)


def quantity_and_hand(contents: Contents) -> str:
    """How many panes, and of which side of the vessel where that is given."""
    return " ".join(part for part in (str(contents.pane.quantity), contents.pane.side or "") if part)


def state_words(contents: Contents) -> str:
    """The state of the checks, the same on every document."""
    return NOT_CHECKED if contents.state is None else contents.state.told


def detail_title(contents: Contents, scales: Sequence[str], paper: Paper) -> TitleBlock:
    """The title block of the detail sheet; ``scales`` are the scales on it, the plan's first."""
    job, pane, words = contents.job, contents.pane, contents.job.sheet
    vessel = job.vessel.title
    date = words.date.isoformat() if words.date else ""
    rows = (
        (
            Field("Legal owner", words.owner, 62.0),
            Field("Vessel, yard number", vessel, 60.0),
            Field("Identification number", identification(contents, DETAIL), 58.0, KEY),
        ),
        (
            Field("Title", contents.title, 92.0, KEY),
            Field("Supplementary title", pane.location, 30.0),
            Field("Revision", contents.detail.revision, 16.0),
            Field("Date of issue", date, 24.0),
            Field("Sheet", paper.count, 18.0),
        ),
        (
            Field("Created by", words.drawn_by, 31.0),
            Field("Checked by", words.checked_by, 31.0),
            Field("Approved by", words.approved_by, 30.0),
            Field("Document type", words.document_type, 30.0),
            Field("Scale", scales_words(scales), 36.0),
            Field("Size, lang.", f"{paper.size} {words.language}", 22.0),
        ),
        (
            Field("Quantity, hand", quantity_and_hand(contents), 42.0, KEY),
            Field("Frame", frame_words(contents.detail.frame), 50.0),
            Field("Rake", rake_words(pane.rake), 30.0),
            Field("Unit", "mm", 14.0),
            Field("Document status", words.status, 22.0),
            Field(PROJECTION, "", 22.0),
        ),
        (
            Field("State of the checks", state_words(contents), 92.0, KEY),
            Field("Record", _record(contents, date), 60.0),
            Field("Mark of the job", contents.mark, 28.0),
        ),
    )
    return TitleBlock(rows, *warning(contents))


def pane_title(contents: Contents, scales: Sequence[str], paper: Paper) -> TitleBlock:
    """The title block of the pane sheet: nothing of vessel, yard and owner stands in it."""
    words = contents.job.sheet
    date = words.date.isoformat() if words.date else ""
    rows = (
        (
            Field("Legal owner", AS_ORDERED, 42.0),
            Field("Title", contents.detail.name, 90.0, KEY),
            Field("Identification number", identification(contents, PANE, yard=False), 48.0, KEY),
        ),
        (
            Field("Created by", words.drawn_by, 31.0),
            Field("Checked by", words.checked_by, 31.0),
            Field("Approved by", words.approved_by, 35.0),
            Field("Document type", "Pane sheet", 35.0),
            Field("Revision", contents.detail.revision, 20.0),
            Field("Date of issue", date, 28.0),
        ),
        (
            Field("Scale", scales_words(scales), 31.0),
            Field("Size, lang.", f"{paper.size} {words.language}", 31.0),
            Field("Quantity, hand", quantity_and_hand(contents), 35.0, KEY),
            Field("Mass of one", f"{number(contents.detail.glass.mass, decimals=1)} kg", 35.0),
            Field(PROJECTION, "", 28.0),
            Field("Sheet", paper.count, 20.0),
        ),
        (
            Field("Document status", words.status, 31.0),
            Field("State of the checks", state_words(contents), 66.0, KEY),
            Field("Record", identification(contents, RECORD, yard=False), 35.0),
            Field("Mark of the job", contents.mark, 28.0),
            Field("Unit", "mm", 20.0),
        ),
    )
    return TitleBlock(rows, *warning(contents))


def warning(contents: Contents) -> tuple[str, str]:
    """What stands over the title block, and why; empty where nothing is against making the pane."""
    reasons = () if contents.state is None else contents.state.not_for_manufacture
    return (NOT_FOR_MANUFACTURE, f"{', '.join(reasons)}: see the record") if reasons else ("", "")


def scales_words(scales: Sequence[str]) -> str:
    """The scales of a sheet: the first, the others in brackets: ``1:5 (1:1, 2:1)``."""
    first, *others = dict.fromkeys(scales)
    return f"{first} ({', '.join(others)})" if others else first


def rake_words(rake: float) -> str:
    """How the pane leans, in words: ``0° (upright)``."""
    lean = "upright" if rake == 0 else "level" if rake == 90 else "leans back" if rake > 0 else "leans out"
    return f"{number(rake, decimals=1)}° ({lean})"


def _record(contents: Contents, date: str) -> str:
    return ", ".join(part for part in (identification(contents, RECORD), date) if part)


__all__ = [
    "detail_title",
    "identification",
    "pane_title",
    "quantity_and_hand",
    "rake_words",
    "scales_words",
    "state_words",
    "warning",
]
