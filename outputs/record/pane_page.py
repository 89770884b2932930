"""The calculation record of one pane: one page that needs nothing else, and prints on a few sheets of A4."""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.record.day_part import day_section
from outputs.record.findings_part import passed_table
from outputs.record.first_page import (
    contents_of,
    more_wrong,
    not_decided,
    parted,
    running_head,
    state_section,
    wrong_section,
)
from outputs.record.inputs_part import entries_tables, sizes_table
from outputs.record.joint_part import joint_section
from outputs.record.laminate_part import laminate_table
from outputs.record.markup import Html, items, join, page, section, tag
from outputs.record.movement_part import movement_section
from outputs.record.places_part import place_on_vessel, places_tables
from outputs.record.plan_part import plan_section
from outputs.record.proven_part import proven_section
from outputs.record.sensitivity_part import sensitivity_section
from outputs.record.sketch_part import sketch
from outputs.record.stress_part import stress_section
from outputs.record.sums_part import sums_chapters
from outputs.record.words import AN_AID, CAUTIONS, SUMS
from outputs.record.worked import Worked
from outputs.version import PROGRAM

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.findings.check import PaneCheck
    from geometry.findings.sensitivity import Trial
    from geometry.job import Job


def pane_page(job: Job, check: PaneCheck, trials: Sequence[Trial]) -> bytes:
    """The whole page, UTF-8; the same check gives the same bytes."""
    subject = check.subject
    contents = contents_of(job, check)
    figures = (*check.figures, *(finding.figure for finding in check.findings if finding.figure is not None))
    worked = Worked(figures, subject.sizes, subject.given_by)
    first, rest = parted(check)
    told = (
        section(
            "The section and its sizes",
            tag("div", sketch(subject.detail), sizes_table(subject.sizes.all(), worked, subject.detail.curves), class_="beside"),
            id_="section",
        ),
        section("What passes", passed_table(check.findings, worked), id_="passes"),
    )  # where flags go on behind the first page, the long table first: it fills the page that the sketch would leave open
    parts = (
        state_section(contents, check),
        wrong_section(first, check.state.flags, worked),
        not_decided(check),
        more_wrong(rest, worked),
        plan_section(check.plan) if check.plan is not None else None,
        *(reversed(told) if rest else told),
        section("What went in", entries_tables(check, worked), id_="inputs"),
        section(
            "The sums",
            tag("p", SUMS),
            sums_chapters(worked, check.findings) if worked.groups else tag("p", "No sum was worked out."),
            id_="sums",
        ),
        sensitivity_section(trials, check.stacks, {each.name: each.side for each in check.findings}),
        stress_section(check),
        laminate_table(check.laminate),
        joint_section(check),
        movement_section(check),
        section(
            "Places of vertices, edges and blocks",
            join(place_on_vessel(subject.pane, subject.detail), places_tables(subject.detail)),
            id_="places",
        ),
        day_section(check),
        proven_section(),
    )
    program = tag("footer", tag("p", f"{PROGRAM}. {AN_AID}", class_="small"))
    title = f"Calculation record {subject.pane.code}{f', revision {subject.pane.revision}' if subject.pane.revision else ''}"
    return page(
        title,
        tag("header", tag("h1", title), tag("p", AN_AID)),
        "\n",
        tag("main", ((each, "\n") for each in parts if each is not None), tag("div", cautions(), program, class_="end")),
        running=running_head(contents),
    )


def issue_line(job: Job) -> Html:
    """Vessel, owner, status and day as the job file gives them; what it leaves blank stays out."""
    sheet, vessel = job.sheet, job.vessel
    said = (
        ("vessel", vessel.name),
        ("yard number", vessel.yard_number),
        ("owner of the drawing", sheet.owner),
        ("drawn by", sheet.drawn_by),
        ("checked by", sheet.checked_by),
        ("approved by", sheet.approved_by),
        ("approval reference", sheet.approval_reference),
        ("status", sheet.status),
        ("date", sheet.date.isoformat() if sheet.date else ""),
    )
    return tag("p", "; ".join(f"{name}: {value}" for name, value in said if value))


def cautions() -> Html:
    """The cautions that go with every record."""
    return section("Cautions", tag("div", items(CAUTIONS), class_="warn small-columns"), id_="cautions")


__all__ = ["cautions", "issue_line", "pane_page"]
