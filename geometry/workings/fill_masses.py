"""What glass, bead and backfill of one pane weigh and where their centres lie, for the list of masses of the vessel.

Terms
-----
in place
    What stays on the vessel: the bead as pressed and the filled joint, without waste, purge and rests of packs.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from geometry.detail.in_place import backfill_in_place, bead_in_place

if TYPE_CHECKING:
    from geometry.detail.in_place import InPlace
    from geometry.detail.parts import Detail
    from geometry.job import Job, Pane
    from geometry.workings.subject import Subject


@dataclass(frozen=True, slots=True)
class Fill:
    """One of them in place: ml, kg (None where the job gives no density: nothing is taken for it) and centre of gravity.

    ``centre``: X and Y of the plan, Z from the landing outboard, mm; None where there is nothing. ``about``: why the figures are near and
    not exact, "" where they are exact.
    """

    ml: float
    kg: float | None
    centre: tuple[float, float, float] | None
    about: str = ""


@dataclass(frozen=True, slots=True)
class FillMasses:
    """Glass, bead and backfill in place."""

    glass: Fill
    adhesive: Fill
    sealant: Fill


def densities(job: Job, pane: Pane) -> dict[str, float | None]:
    """Density of each material, kg/m³; None where the job gives none: nothing is taken for it."""
    from geometry.rules.materials import GLASS_DENSITY, INTERLAYER_DENSITIES

    glass = job.materials.glass.density or GLASS_DENSITY
    interlayer = job.materials.interlayer.density or INTERLAYER_DENSITIES[pane.glass.interlayer_material].value
    return {
        "glass": glass,
        "frit": glass,
        "interlayer": interlayer,
        "adhesive": job.adhesive.density,
        "sealant": job.sealant.density,
    }


def fill_masses(subject: Subject) -> FillMasses:
    """Volumes, masses (density × volume) and centres of glass, bead and backfill in place."""
    job, detail = subject.job, subject.detail
    bead = bead_in_place(detail)
    return FillMasses(
        Fill(detail.area * detail.glass.thickness * 1e-3, detail.glass.mass, (*detail.centroid, _glass_height(subject))),
        _fill(bead, detail.uncured_bead.volume, job.adhesive.density, _laid(detail)),
        _fill(backfill_in_place(detail), None, job.sealant.density, ""),
    )


def _glass_height(subject: Subject) -> float:
    """Height of the centre of gravity of the plies over the landing, mm."""
    glass, known = subject.detail.glass, densities(subject.job, subject.pane)
    level, lifted, heavy = subject.sizes.bond_thickness.value + glass.thickness, [], []
    for ply in glass.plies:
        weight = (known[ply.material] or 0.0) * ply.thickness
        lifted.append(weight * (level - ply.thickness / 2))
        heavy.append(weight)
        level -= ply.thickness
    return math.fsum(lifted) / math.fsum(heavy)


def _laid(detail: Detail) -> str:
    """What is laid is what stays: pressing changes the form of a bead, not its volume. Where they differ, so it is said."""
    sizes, fresh = detail.sizes, detail.uncured_bead
    if abs(fresh.pressed_width - sizes.bond_width.value) <= 1e-6 * sizes.bond_width.value:
        return ""
    return f"as laid, which would press to {fresh.pressed_width:.2f} mm; drawn are {sizes.bond_width.value:g} mm"


def _fill(found: InPlace | None, laid: float | None, density: float | None, told: str) -> Fill:
    if found is None:
        return Fill(0.0, _mass(0.0, density), None)
    volume = found.volume * 1e-3 if laid is None else laid
    return Fill(volume, _mass(volume, density), found.centre, "; ".join(filter(None, (told, found.about))))


def _mass(volume: float, density: float | None) -> float | None:
    return None if density is None else volume * 1e-6 * density


__all__ = ["Fill", "FillMasses", "densities", "fill_masses"]
