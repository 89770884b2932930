"""What the job file holds at a key, with its unit, so that a reader can put a value of his own there.

Terms
-----
standing unit
    The unit a bare number of the job file has; each key has one.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from geometry.workings.subject import Subject


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
    return _units().get(key, "").replace("degC", "°C").replace("deg", "°").replace("m2", "m²").replace("/d^0.5", "/√day")


@lru_cache(maxsize=1)
def _units() -> dict[str, str]:
    from geometry.job.keys import all_keys

    return {key.name.removeprefix("pane."): key.unit for key in reversed(all_keys())}


__all__ = ["standing", "unit_of_key"]
