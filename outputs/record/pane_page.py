"""The calculation record of one pane: one page that needs nothing else."""

from __future__ import annotations

from typing import TYPE_CHECKING

from outputs.record.day_part import day_section
from outputs.record.figures_part import Numbered, figures_list
from outputs.record.findings_part import defaults_table, findings_table, not_decided, outcome, sizes_table
from outputs.record.laminate_part import laminate_table
from outputs.record.markup import Html, items, join, page, section, tag
from outputs.record.movement_part import movement_section
from outputs.record.places_part import places_tables
from outputs.record.plan_part import plan_section
from outputs.record.proven_part import proven_section
from outputs.record.quantities_part import quantities_table
from outputs.record.sensitivity_part import sensitivity_section
from outputs.record.stress_part import stress_section
from outputs.record.words import AN_AID, CAUTIONS, SUMS
from outputs.version import PROGRAM

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.findings.check import PaneCheck
    from geometry.findings.sensitivity import Trial
    from geometry.job import Job


def pane_page(job: Job, check: PaneCheck, trials: Sequence[Trial]) -> bytes:
    """The whole page, UTF-8; the same check gives the same bytes."""
    pane = check.subject.pane
    figures = Numbered((*check.figures, *(finding.figure for finding in check.findings if finding.figure is not None)))
    title = f"Calculation record {pane.code}{f', revision {pane.revision}' if pane.revision else ''}"
    return page(
        title,
        tag("header", tag("h1", title), tag("p", tag("b", pane.name)) if pane.name else None, issue_line(job), tag("p", AN_AID)),
        "\n",
        tag(
            "main",
            not_decided(check),
            "\n",
            outcome(check),
            "\n",
            (plan_section(check.plan), "\n") if check.plan is not None else None,
            section(
                "The pane",
                _pane_lines(check),
                sizes_table(check.subject.sizes.all()),
                places_tables(check.subject.detail),
                id_="pane",
            ),
            "\n",
            section(
                "Findings",
                findings_table(check.findings, figures.number_of) if check.findings else tag("p", "No finding was made."),
                defaults_table(check),
                id_="findings",
            ),
            "\n",
            section(
                "Every sum",
                tag("p", SUMS),
                figures_list(check.subject, figures, check.findings) if figures.topics else tag("p", "No sum was worked out."),
                id_="sums",
            ),
            "\n",
            sensitivity_section(trials, check.stacks),
            "\n",
            stress_section(check),
            laminate_table(check.laminate),
            "\n",
            movement_section(check),
            "\n",
            day_section(check),
            "\n",
            section("To buy for this pane", quantities_table(check.quantities, caption="For one pane"), id_="quantities"),
            "\n",
            proven_section(),
            "\n",
            cautions(),
        ),
        tag("footer", tag("p", f"{PROGRAM}. {AN_AID}", class_="small")),
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
    return section("Cautions", tag("div", items(CAUTIONS), class_="warn"), id_="cautions")


def _pane_lines(check: PaneCheck) -> Html:
    detail, pane = check.subject.detail, check.subject.pane
    plies = " / ".join(f"{ply.thickness:g}" for ply in detail.glass.plies)
    approval = pane.approval_reference or "none given"
    return items(
        (
            (
                f"Glass {plies} mm from the weather side inwards, {detail.glass.treatment}; {detail.area / 1e6:.4f} m², {detail.glass.mass:.1f} kg; "
                f"quantity {pane.quantity}"
            ),
            f"Frame {detail.frame}; rake {detail.rake:g}° (0 upright, + leans back, − reverse, 90 deck light)",
            join("Approval reference: ", approval),
        )
    )


__all__ = ["cautions", "issue_line", "pane_page"]
