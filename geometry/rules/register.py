"""Every recorded rule, in the order in which a calculation sheet lists them."""

from __future__ import annotations

from collections.abc import Callable
from types import ModuleType
from typing import Any

from geometry.rules import (
    bead,
    bond,
    chocks,
    climate,
    corner,
    cure,
    frame_tolerance,
    frit,
    glass,
    gravity,
    green,
    joint,
    lifting,
    materials,
    pane_bending,
    quantities,
    section,
    section_room,
    shear_bed,
    thermal,
    time_plan,
    tolerance,
)
from geometry.rules.calculation import Calculation, has_record, record_of

_MODULES: tuple[ModuleType, ...] = (
    materials,
    glass,
    gravity,
    section,
    section_room,
    corner,
    bead,
    thermal,
    shear_bed,
    bond,
    pane_bending,
    joint,
    frit,
    chocks,
    tolerance,
    frame_tolerance,
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
