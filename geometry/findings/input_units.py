"""Units of what goes into a figure, so that a reader can do the sum again.

Terms
-----
standing unit
    The unit a bare number of the job file has; each key has one.
unit by the rule
    What a rule asks for under the name of one of its inputs: the rules work in mm, N, degrees and minutes and say so.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from geometry.ledger.figure import Figure, Input
    from geometry.workings.subject import Subject

_MM = (
    "backfill_depth",
    "bead_corner_radius",
    "bead_length",
    "bead_radius",
    "bond_thickness",
    "bond_width",
    "cover",
    "frit_radius",
    "frit_width",
    "glass_corner_radius",
    "glass_radius",
    "inscribed_radius",
    "joint_width",
    "landing",
    "landing_corner_radius",
    "landing_from_glass",
    "least_width",
    "long_side",
    "movement",
    "movement_along",
    "notch",
    "opening",
    "pane",
    "perimeter",
    "print_depth",
    "radius",
    "recess_radius",
    "short_side",
    "thickness",
)
_MINUTES = ("frame_ready", "glass_ready", "work_begins")
BY_NAME: dict[str, str] = {
    **dict.fromkeys(_MM, "mm"),
    **dict.fromkeys(_MINUTES, "min"),
    "area": "mm²",
    "bead_area": "mm²",
    "force": "N",
    "interior_angle": "°",
    "mass": "kg",
    "pull_off": "N",
    "turning": "N mm",
    "weight_along": "N",
}
"""Unit of an input by its name in the rules, where every rule means the same by it."""
BY_RULE: dict[tuple[str, str], str] = {
    ("bead.landing_left_in_corner", "margin"): "mm",
    ("bond.band_tension", "reaction"): "N/mm",
    ("bond.dead_load_shear_on_sides", "height"): "mm",
    ("bond.deflection_share", "deflection"): "mm",
    ("bond.edge_strain", "mean"): "MPa",
    ("bond.edge_strain", "peak"): "MPa",
    ("chocks.block_forces", "centroid"): "mm",
    ("chocks.block_forces", "weight"): "N",
    ("chocks.chock_squash", "height"): "mm",
    ("chocks.least_share", "forces"): "N",
    ("chocks.sill_rise", "sill_slope"): "°",
    ("shear_bed.shear_bed", "centroid"): "mm",
    ("shear_bed.shear_bed", "differential_strain"): "mm/mm",
    ("shear_bed.shear_bed", "weight"): "N",
}
"""Unit of an input by the rule's record and the input's name."""


def unit_of(subject: Subject, figure: Figure, each: Input) -> str:
    """The unit of one input of a figure, "" for a bare number.

    As it was handed on; else the standing unit of its key, where the rule took the value as it stands in the file; else the
    unit by the rule.
    """
    if each.unit or isinstance(each.value, (bool, str)) or each.value is None:
        return each.unit
    if each.key:
        found = standing(subject, each.key)
        if found is not None:
            return found[1] if found[0] == each.value else ""
    name = each.name.replace(" ", "_")
    return BY_RULE.get((figure.record.name, name), BY_NAME.get(name, ""))


def standing(subject: Subject, key: str) -> tuple[Any, str] | None:
    """The value that the job file holds at a key, given or default, with its unit; None for what is no key of it."""
    try:
        value = subject.asked(key).value
    except (KeyError, AttributeError):  # a size in words, or a temperature case
        return None
    return value, unit_of_key(key)


def unit_of_key(key: str) -> str:
    """The standing unit of a key of the job file, "" for a key without one and for what is no key.

    >>> unit_of_key("limits.joint_least"), unit_of_key("adhesive.pack"), unit_of_key("bond.width"), unit_of_key("no such key")
    ('mm', 'ml', 'mm', '')
    """
    return _units().get(key, "").replace("degC", "°C").replace("deg", "°").replace("m2", "m²")


@lru_cache(maxsize=1)
def _units() -> dict[str, str]:
    from geometry.job.keys import all_keys

    return {key.name.removeprefix("pane."): key.unit for key in reversed(all_keys())}
