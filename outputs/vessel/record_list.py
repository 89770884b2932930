"""The record of all the panes of a vessel: verdicts, what does not pass, default values, what to buy together. With each pane's own page.

It is the page that stands beside the records of a drawing, made of what was noted of each pane.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.ledger.finding import Verdict
from outputs.record.vessel_rows import OpenRow, PaneRow, counted
from outputs.version import IDENTITY
from outputs.vessel.list_files import missing_words

if TYPE_CHECKING:
    from outputs.vessel.documents import Files, VesselContents
    from outputs.vessel.facts import PaneFacts

NAME = "records"


def record_list(contents: VesselContents) -> Files:
    """The record as a page and as data; nothing where no pane has a record of its own."""
    from geometry.workings.session_plan import vessel_sessions
    from outputs.documents import RECORD
    from outputs.record.data import json_bytes, vessel_data
    from outputs.record.vessel_page import vessel_page
    from outputs.vessel.consumables_list import together_of

    job, facts = contents.job, contents.facts
    pages = {
        pane.code: f"{pane.code}/{file.name}"
        for pane in facts
        for document in pane.documents
        if document.name == RECORD
        for file in document.files
        if file.name.endswith(".html")
    }
    if not facts or len(pages) < len(facts):
        return {}
    rows, plans = tuple(map(pane_row_of, facts)), vessel_sessions(job)
    together = together_of(contents, plans) if all(pane.quantities for pane in facts) else None
    stem = f"{contents.stem}-{NAME}"
    lacking = missing_words(contents)
    return {
        f"{stem}.html": vessel_page(job, rows, plans, together=together, pages=pages, lacking=lacking),
        f"{stem}.json": json_bytes(
            {
                "program": IDENTITY,
                **vessel_data(job, rows, plans, together),
                "left_out": [
                    {"code": each.code, "revision": each.revision, "outcome": each.what, "reason": each.reason}
                    for each in contents.left_out
                ],
            }
        ),
    }


def pane_row_of(facts: PaneFacts) -> PaneRow:
    """What the record tells of a pane, out of its facts."""
    return PaneRow(
        code=facts.code,
        name=facts.name,
        revision=facts.revision,
        quantity=facts.quantity,
        mass_kg=facts.mass_kg,
        verdict=Verdict(facts.verdict),
        counts=counted(fail=facts.fail, look=facts.look, passed=facts.passed, not_checked=facts.not_checked),
        findings=tuple(
            OpenRow(each.name, Verdict(each.verdict), each.relation, each.where, each.says, each.remedies)
            for each in facts.open_findings
        ),
        defaults=facts.defaults,
    )


__all__ = ["NAME", "pane_row_of", "record_list"]
