"""Every recorded rule, in the order in which a calculation sheet lists them."""

from __future__ import annotations

from collections.abc import Callable
from types import ModuleType
from typing import Any

from geometry.rules import general_tolerances, glass, materials, tolerance
from geometry.rules.calculation import Calculation, has_record, record_of
from geometry.rules.day import climate, cure, lifting, quantities, time_plan
from geometry.rules.fit import bead, corner, frit, section, section_room
from geometry.rules.holding import (
    bent_pane,
    bond,
    chocks,
    gravity,
    green,
    joint,
    loads,
    pane_bending,
    shear_bed,
    thermal,
    together,
)  # fmt: skip

_MODULES: tuple[ModuleType, ...] = (
    materials,
    glass,
    gravity,
    loads,
    section,
    section_room,
    corner,
    bead,
    thermal,
    shear_bed,
    bond,
    pane_bending,
    together,
    bent_pane,
    joint,
    frit,
    chocks,
    tolerance,
    general_tolerances,
    quantities,
    climate,
    cure,
    green,
    time_plan,
    lifting,
)


def _rules_of(module: ModuleType) -> tuple[Callable[..., Any], ...]:
    """Rules written in a module, in the order of its text; what it only imports is listed where it is written."""
    return tuple(thing for thing in vars(module).values() if has_record(thing) and thing.__module__ == module.__name__)


RULES: tuple[Callable[..., Any], ...] = tuple(rule for module in _MODULES for rule in _rules_of(module))
"""Every rule of the trade, as functions."""

CALCULATIONS: tuple[Calculation, ...] = tuple(record_of(rule) for rule in RULES)
"""Their records, in the same order."""


__all__ = ["CALCULATIONS", "RULES"]
