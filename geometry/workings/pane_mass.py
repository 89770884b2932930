"""Mass of the pane with its pedigree, for everything that carries it."""

from __future__ import annotations

from math import fsum
from typing import TYPE_CHECKING, Any

from geometry.ledger.figure import Sourced, worked_once
from geometry.ledger.size import Origin
from geometry.rules import materials

if TYPE_CHECKING:
    from geometry.ledger.figure import Figure, Ledger
    from geometry.workings.subject import Subject


@worked_once
def mass_of(subject: Subject, ledger: Ledger) -> Figure:
    """Mass of one pane, kg. The density of an interlayer counts only where there is one."""
    make_up = subject.pane.glass
    inputs: dict[str, Any] = {
        "area": subject.detail.area,
        "glass": Sourced(fsum(make_up.plies), Origin.GIVEN, "glass.plies", "mm"),
        "glass_density": subject.glass("density", register="glass density", unit="kg/m³"),
    }
    if make_up.interlayers:
        own = subject.asked("materials.interlayer.density", unit="kg/m³")
        if own.value is None:
            own = Sourced(materials.INTERLAYER_DENSITIES[make_up.interlayer_material].value, Origin.DEFAULT, own.key, "kg/m³")
        inputs["interlayer"] = Sourced(fsum(make_up.interlayers), Origin.GIVEN, "glass.interlayers", "mm")
        inputs["interlayer_density"] = own
    return ledger.work("mass of the pane", materials.mass, **inputs)


__all__ = ["mass_of"]
