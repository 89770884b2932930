"""The bodies of a detail as parts of the parts list: their names, item numbers and colours, and what they weigh."""

from __future__ import annotations

from math import fsum
from typing import TYPE_CHECKING, Any

from geometry.workings.fill_masses import densities, fill_masses
from geometry.workings.subject import Subject
from outputs.drawing.balloons import ITEM_OF, item_of_chock
from outputs.files.step import SolidPart

if TYPE_CHECKING:
    from collections.abc import Sequence

    from geometry.detail.parts import Detail
    from geometry.job import Job, Pane
    from geometry.job.placing import OnVessel
    from geometry.solids.bodies import Body
    from outputs.files.step import Colour

COLOUR_OF: dict[str, Colour] = {
    "frame": (0.66, 0.69, 0.72),
    "backer": (0.85, 0.82, 0.70),
    "spacer": (0.25, 0.45, 0.30),
    "adhesive": (0.16, 0.16, 0.17),
    "frit": (0.05, 0.05, 0.06),
    "glass": (0.55, 0.78, 0.80),
    "interlayer": (0.93, 0.91, 0.75),
    "sealant": (0.35, 0.33, 0.31),
    "chock": (0.62, 0.36, 0.20),
}
"""Colours that tell the materials apart; none of them is one of those that the format knows by a word."""

ON_PLAN = "X and Y as on the plan, from its origin, seen from outside; Z from the landing outboard; mm"
ON_VESSEL = (
    "the vessel's, as pane.placing gives it; mm. plan_on_vessel is where the origin of the plan on the landing lies in it, and its "
    "X, Y and Z (outboard)"
)


def item_of(detail: Detail, body: Body) -> str:
    """The number of a body in the parts list; an interlayer is part of the glass."""
    if body.material == "chock":
        return item_of_chock(detail, next(chock.kind for chock in detail.chocks if str(chock.kind) == body.part))
    return ITEM_OF["glass" if body.material == "interlayer" else body.material]


def solid_parts(detail: Detail, bodies: Sequence[Body]) -> tuple[SolidPart, ...]:
    """The parts, named by pane, part and item number; blocks of one kind and size are one product."""
    found = []
    for body in bodies:
        own = f", item {item_of(detail, body)}"
        product = body.part if body.part != "glass" else body.name
        found.append(
            SolidPart(
                f"{detail.code} {product}{own}",
                f"{detail.code} {body.name}{own}",
                COLOUR_OF[body.material],
                body.made,
                body.at,
                body.angle,
            )
        )
    return tuple(found)


def solid_data(job: Job, pane: Pane, detail: Detail, bodies: Sequence[Body], on_vessel: OnVessel | None) -> dict[str, Any]:
    """Volumes, masses and centres of the bodies, in the vessel's frame of reference where it is known; the frame of the boat is in no sum."""
    from geometry.detail.on_vessel import plan_on_vessel

    known = densities(job, pane)
    rows: list[dict[str, Any]] = []
    for body in bodies:
        volume, density = body.volume, known.get(body.material)
        rows.append(
            {
                "name": body.name,
                "part": body.part,
                "item": item_of(detail, body),
                "material": body.material,
                "volume_ml": _plain(volume.value * 1e-3),
                "mass_kg": None if density is None else _plain(volume.value * 1e-9 * density),
                "centre_mm": _centre(volume.centre, on_vessel),
                "taken": body.taken,
            }
        )
    weighed = [row for row in rows if row["mass_kg"] is not None]
    whole = fsum(row["mass_kg"] for row in weighed)
    return {
        "code": detail.code,
        "revision": detail.revision,
        "frame_of_reference": ON_VESSEL if on_vessel else ON_PLAN,
        "plan_on_vessel": plan_on_vessel(on_vessel),
        "bodies": rows,
        "together": {
            "mass_kg": _plain(whole),
            "centre_mm": [_plain(fsum(row["mass_kg"] * row["centre_mm"][axis] for row in weighed) / whole) for axis in range(3)],
            "of": [row["name"] for row in weighed],
            "without": [row["name"] for row in rows if row["mass_kg"] is None],
        },
        "in_place": _in_place(Subject(job, pane, detail), on_vessel),
    }


def _in_place(subject: Subject, on_vessel: OnVessel | None) -> dict[str, Any]:
    """Glass, bead and backfill as the list of masses has them: by formulas, from no body; centres where those of the bodies are told."""
    fill = fill_masses(subject)
    return {
        name: {
            "volume_ml": _plain(found.ml),
            "mass_kg": None if found.kg is None else _plain(found.kg),
            "centre_mm": None if found.centre is None else _centre(found.centre, on_vessel),
            "about": found.about,
        }
        for name, found in (("glass", fill.glass), ("bead", fill.adhesive), ("backfill", fill.sealant))
    }


def _centre(at: tuple[float, float, float], on_vessel: OnVessel | None) -> list[float]:
    """A place of the pane in the frame of reference of the file."""
    return [_plain(each) for each in (on_vessel.at(*at) if on_vessel else at)]


def _plain(value: float) -> float:
    """Rounded to where the kernel's sums are the same on every machine."""
    return round(value, 6) + 0.0


__all__ = ["COLOUR_OF", "item_of", "solid_data", "solid_parts"]
