"""Masses and centres of the panes, for the naval architect: glass, bead and backfill in place, frame left out."""

from __future__ import annotations

from math import fsum
from typing import TYPE_CHECKING

from geometry.job.placing import OnVessel
from outputs.files.table_files import Cell, Column, TableFile
from outputs.vessel.list_files import issue_words, list_files, missing_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from outputs.vessel.documents import Files, LeftOut, VesselContents
    from outputs.vessel.facts import PaneFacts

NAME = "masses"
COLUMNS = (
    Column("code", width=10),
    Column("name", width=22),
    Column("hand", width=11),
    Column("location", width=24),
    Column("pieces", width=8),
    Column("rake", "°", 1, 8),
    Column("area of one", "m2", 3, 9),
    Column("glass of one", "kg", 1, 9),
    Column("bead of one", "kg", 2, 9),
    Column("backfill of one", "kg", 2, 9),
    Column("together of one", "kg", 1, 9),
    Column("together", "kg", 1, 9),
    *(Column(f"{part} {axis}", "mm", 1, 9) for part in ("glass", "bead", "backfill", "centre") for axis in "XYZ"),
    Column("from", width=26),
    *(Column(f"vessel {axis}", "mm", 1, 11) for axis in "XYZ"),
    Column("taken", width=40),
)


def mass_of_one(facts: PaneFacts) -> float:
    """Glass, bead and backfill of one piece as far as they are known, kg."""
    return fsum(mass for mass, _ in _weighed(facts))


def _weighed(facts: PaneFacts) -> list[tuple[float, tuple[float, ...]]]:
    """Masses, kg, and centres of what is weighed."""
    fill = facts.fill
    found = ((facts.mass_kg, fill.glass_at), (fill.adhesive_kg, fill.adhesive_at), (fill.sealant_kg, fill.sealant_at))
    return [(mass, at) for mass, at in found if mass is not None and at]


def centre_of_one(facts: PaneFacts) -> tuple[float, ...]:
    """Centre of gravity of what ``mass_of_one`` weighs: X and Y of the plan, Z from the landing outboard, mm."""
    parts, whole = _weighed(facts), mass_of_one(facts)
    return tuple(fsum(mass * at[axis] for mass, at in parts) / whole for axis in range(3))


def mass_table(contents: VesselContents) -> TableFile:
    """One row for each pane and what they weigh together."""
    facts, job = contents.facts, contents.job
    missing = [key for key, given in (("adhesive", job.adhesive.density), ("sealant", job.sealant.density)) if given is None]
    below = [
        "Frame, blocks and backer are not in it. X and Y lie in the plane of the pane, from the origin on the detail sheet.",
        "Z counts from the landing outboard. The centre is that of glass, bead and backfill together, as far as they are weighed.",
        *_where_they_lie(facts),
        *(f"{key}.density is not given: {key} is in no sum." for key in missing),
    ]
    told: dict[str, Cell] = {
        "code": "together",
        "pieces": int(fsum(each.quantity for each in facts)),
        "together": fsum(mass_of_one(each) * each.quantity for each in facts),
    }
    sums = tuple(told.get(column.head) for column in COLUMNS)
    above = ("Masses and centres", issue_words(job), *missing_words(contents))
    left_out = (tuple(_of_missing(each).get(column.head) for column in COLUMNS) for each in contents.left_out)
    return TableFile("masses", COLUMNS, (*map(_row, facts), *left_out), above, tuple(below), sums)


def _where_they_lie(facts: Sequence[PaneFacts]) -> list[str]:
    """In which frame the centres are told, and of which panes the job does not say where they lie."""
    silent = [each.code for each in facts if each.landing_on_vessel is None]
    if len(silent) == len(facts):
        return ["Where the pane lies on the vessel is for the naval architect: the job does not say it."]
    told = ["Vessel X, Y and Z: the same centre in the vessel's frame as pane.placing gives it; of several pieces that of the one placed."]
    if silent:
        told.append(f"The job does not say where these panes lie on the vessel: {', '.join(silent)}.")
    return told


def _of_missing(pane: LeftOut) -> dict[str, Cell]:
    return {"code": pane.code, "from": f"{pane.what.upper()}: not in the sums"}


def _row(facts: PaneFacts) -> tuple[Cell, ...]:
    own, fill = mass_of_one(facts), facts.fill
    return (
        facts.code,
        facts.name,
        facts.side,
        facts.location,
        facts.quantity,
        facts.rake,
        facts.area_m2,
        facts.mass_kg,
        facts.fill.adhesive_kg,
        facts.fill.sealant_kg,
        own,
        own * facts.quantity,
        *(at[axis] if at else None for at in _centres(facts) for axis in range(3)),
        facts.origin,
        *(_on_vessel(facts) or (None, None, None)),
        "; ".join(f"{name} {told}" for name, told in (("bead", fill.adhesive_about), ("backfill", fill.sealant_about)) if told),
    )


def _on_vessel(facts: PaneFacts) -> tuple[float, float, float] | None:
    """The centre of what is weighed in the vessel's frame, mm; None where the job does not say where the pane lies."""
    axes = facts.landing_on_vessel
    return None if axes is None else OnVessel(*axes).at(*centre_of_one(facts))


def _centres(facts: PaneFacts) -> tuple[tuple[float, ...], ...]:
    return facts.fill.glass_at, facts.fill.adhesive_at, facts.fill.sealant_at, centre_of_one(facts)


def mass_list(contents: VesselContents) -> Files:
    """The list as XLSX and CSV."""
    return list_files(contents, NAME, (mass_table(contents),), title="Masses and centres")


__all__ = ["NAME", "centre_of_one", "mass_list", "mass_of_one", "mass_table"]
