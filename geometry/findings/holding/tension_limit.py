"""Beyond which tension along the bead the bent pane fails, and between which a person looks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.rules.holding import bent_pane
from geometry.rules.rounding import number

if TYPE_CHECKING:
    from geometry.ledger.figure import Figure, Ledger
    from geometry.workings.subject import Subject


def greatest_tension(subject: Subject, ledger: Ledger) -> Figure:
    """MPa: the adhesive's strength over its factor, or where none is given so many times the design stress."""
    strength = subject.asked("adhesive.strength", unit="MPa")
    if strength.value is not None:
        return ledger.work(
            "greatest tension along the bead",
            bent_pane.tension_by_strength,
            strength=strength,
            factor=subject.asked("adhesive.strength_factor"),
        )
    return ledger.work(
        "greatest tension along the bead",
        bent_pane.tension_by_design,
        design_tension=subject.asked("adhesive.design_tension", unit="MPa"),
        times=subject.limit("tension_to_design"),
    )


def limit_in_words(subject: Subject, greatest: Figure) -> str:
    """What stands behind the limit: "the limit 0.42 MPa is 3 times the design stress, for no strength is given"."""
    limit = f"the limit {number(greatest.value, 3)} MPa is"
    strength = subject.asked("adhesive.strength").value
    if strength is not None:
        return f"{limit} the strength {number(strength, 3)} over {number(subject.asked('adhesive.strength_factor').value)}"
    return f"{limit} {number(subject.limit('tension_to_design').value)} times the design stress, for no strength is given"


__all__ = ["greatest_tension", "limit_in_words"]
