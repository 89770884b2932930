"""Deviations from a rule that the user names himself: told in the approval pack, never judged and never invented."""

from __future__ import annotations

from geometry.job import fields as f  # noqa: TC001 - pydantic reads the annotations
from geometry.job.fields import Table, setting

MOST_DEVIATIONS = 100


class Deviation(Table):
    """One deviation, in the words of who asks for it."""

    rule: f.Words = setting(..., "rule or standard and clause that is deviated from, as its reader calls it")
    what: f.Words = setting(..., "what is done instead, and why")
    panes: tuple[f.FileWord, ...] = setting((), "codes of the panes that it concerns; left out: all", shown_default="[]")
    reference: f.Text = setting("", "letter or minutes that agree to it; left blank: open")


__all__ = ["MOST_DEVIATIONS", "Deviation"]
