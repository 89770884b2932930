"""The record of all the panes of a job: their verdicts, what fails where, and what to buy for all of them together."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.ledger.finding import WRONG, Verdict
from outputs.record.findings_part import verdict_mark
from outputs.record.markup import Html, items, join, page, section, table, tag
from outputs.record.pane_page import cautions, issue_line
from outputs.record.quantities_part import quantities_table
from outputs.record.sessions import HEADINGS, heading_of, notes_of, rows_of
from outputs.record.words import AN_AID, NOT_DECIDED
from outputs.version import PROGRAM

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from geometry.job import Job
    from geometry.workings.quantities import Quantities
    from geometry.workings.session_plan import SessionPlan
    from outputs.record.vessel_rows import PaneRow


def vessel_page(
    job: Job,
    rows: Sequence[PaneRow],
    plans: Sequence[SessionPlan],
    *,
    together: Quantities | None,
    pages: Mapping[str, str],
    lacking: Sequence[str] = (),
) -> bytes:
    """The whole page. ``together`` is the pooled list; ``pages`` gives the page of each pane by its code, ``lacking`` says what it lacks."""
    title = f"Calculation records{f', {job.vessel.name}' if job.vessel.name else ''}"
    whole = len(rows) == len(job.panes)
    return page(
        title,
        tag("header", tag("h1", title), issue_line(job), tag("p", AN_AID), *(tag("p", each, class_="warn") for each in lacking)),
        "\n",
        tag(
            "main",
            section("What is not decided here", items(NOT_DECIDED), id_="not-decided"),
            "\n",
            section("The panes", _panes(rows, pages), id_="panes"),
            "\n",
            *_sessions(plans, rows),
            section("What does not pass", _wrong(rows), id_="wrong"),
            "\n",
            section("Not checked", _open(rows), id_="not-checked"),
            "\n",
            section("Default values that went in", _defaults(rows), id_="defaults"),
            "\n",
            section(
                "To buy for these panes together",
                None if whole else tag("p", f"Only {len(rows)} of the {len(job.panes)} panes of the job are in this record."),
                quantities_table(together, caption="The panes together: packs by session where a session is given"),
                id_="quantities",
            ),
            "\n",
            cautions(),
        ),
        tag("footer", tag("p", f"{PROGRAM}. {AN_AID}", class_="small")),
    )


def _panes(panes: Sequence[PaneRow], pages: Mapping[str, str]) -> Html:
    rows = [
        (
            tag("a", pane.code, href=pages[pane.code], class_="code"),
            pane.name,
            pane.revision,
            str(pane.quantity),
            f"{pane.mass_kg:.1f}",
            verdict_mark(pane.verdict),
            *(str(pane.counts[verdict]) for verdict in (Verdict.FAIL, Verdict.LOOK, Verdict.PASS, Verdict.NOT_CHECKED)),
        )
        for pane in panes
    ]
    headings = ("pane", "name", "revision", "quantity", "kg each", "verdict", "fail", "look", "pass", "not checked")
    return table("Verdict of each pane", headings, rows, numbers=(3, 4, 6, 7, 8, 9))


def _sessions(plans: Sequence[SessionPlan], rows: Sequence[PaneRow]) -> tuple[Html | str, ...]:
    """Who does what when; nothing where the job names no session."""
    if not plans:
        return ()
    known = {row.code for row in rows}
    without = [[code for code in plan.panes if code not in known] for plan in plans]
    parts = [
        join(
            tag("h3", heading_of(plan)),
            items(notes_of(plan)),
            tag("p", f"Planned, packs as well, with panes that are not in this record: {', '.join(codes)}.", class_="warn") if codes else None,
            table("Person by person, starts and ends rounded up to the minute", HEADINGS, rows_of(plan)),
        )
        for plan, codes in zip(plans, without, strict=True)
    ]
    return section("Bonding sessions", *parts, id_="sessions"), "\n"


def _wrong(panes: Sequence[PaneRow]) -> Html:
    rows = [
        (
            tag("span", pane.code, class_="code"),
            verdict_mark(finding.verdict),
            finding.name,
            finding.relation,
            finding.where,
            finding.says,
            items(finding.remedies) if finding.remedies else "",
        )
        for verdict in WRONG
        for pane in panes
        for finding in pane.findings
        if finding.verdict is verdict
    ]
    if not rows:
        return tag("p", "No finding fails and none asks for a look.")
    headings = ("pane", "verdict", "what must hold", "value and limit", "where", "outcome", "what to do")
    return table("What fails first, then what to look at", headings, rows)


def _open(panes: Sequence[PaneRow]) -> Html:
    missing: dict[tuple[str, str], list[str]] = {}
    for pane in panes:
        for finding in pane.findings:
            if finding.verdict is Verdict.NOT_CHECKED:
                missing.setdefault((finding.name, finding.says), []).append(pane.code)
    if not missing:
        return tag("p", "Nothing that this program checks was left out for want of a value.")
    return items(join(tag("b", name), f": {says} ({', '.join(codes)})") for (name, says), codes in missing.items())


def _defaults(panes: Sequence[PaneRow]) -> Html:
    used: dict[str, list[str]] = {}
    for pane in panes:
        for key in pane.defaults:
            used.setdefault(key, []).append(pane.code)
    if not used:
        return tag("p", "Every value that went into the findings was given in the job file or worked out from it.")
    rows = ((key, "all" if len(codes) == len(panes) > 1 else ", ".join(codes)) for key, codes in used.items())
    return table("Keys whose default value went in: replace them", ("key", "panes"), rows)


__all__ = ["vessel_page"]
