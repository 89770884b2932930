"""What is proven: for every calculation its outside checks, their largest deviation, its source and status.

The checks are counted by running them (``tests/published/proven.py``); what came out is kept beside this module.

Terms
-----
outside check
    A test that holds a calculation against a value that the program did not work out.
"""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from geometry.rules.calculation import Status
from outputs.record.markup import Html, section, tag
from outputs.record.parts import in_columns
from outputs.record.words import PROVEN

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

DATA = Path(__file__).with_name("proven.json")
PLATE = "plate.solve"
HEADINGS = ("topic", "calculations", "outside checks", "with none", "largest deviation, %", "status of the rules")
SHORT = ("topic", "rules", "outside checks", "none", "deviation, %")
"""The same headings for narrow columns."""
_KINDS = {
    "published": "published",
    "second_hand": "second hand",
    "computed": "computed another way",
    "from_memory": "from memory",
    "worked_example": "worked by hand",
}

_TOPICS = {
    "materials": "Materials",
    "glass": "Glass",
    "gravity": "Weight",
    "loads": "Loads that are given",
    "section": "Section of the detail",
    "section_room": "Room in the section",
    "sizing": "Sizes that were left out",
    "corner": "Corners",
    "bead": "Bead",
    "bead_sizing": "Bead",
    "thermal": "Movement from heat",
    "shear_bed": "Pane on its bed of shear springs",
    "bond": "Bond",
    "pane_bending": "Bending of the pane",
    "joint": "Joint",
    "frit": "Frit",
    "chocks": "Chocks",
    "tolerance": "Tolerances",
    "quantities": "Quantities",
    "climate": "Climate",
    "cure": "Cure",
    "green": "Uncured bead",
    "time_plan": "Bonding day",
    "lifting": "Lifting",
    "plate": "Pane bent on its bead",
}


@dataclass(frozen=True, slots=True)
class Proof:
    """One calculation and how it is held against the outside world; ``deviation`` in percent, None without a check."""

    name: str
    title: str
    formula: str
    source: str
    status: str
    checks: Mapping[str, int]
    deviation: float | None

    @property
    def largest(self) -> str:
        """The largest deviation as it is printed, "" without a check."""
        return "" if self.deviation is None else f"{self.deviation:g}"


def topic_of(name: str) -> str:
    """The topic of a calculation by the name of its record."""
    module = name.split(".")[0]
    return _TOPICS.get(module, module.replace("_", " ").capitalize())


@cache
def kept() -> dict[str, Any]:
    """The counts as they were last written."""
    found: dict[str, Any] = json.loads(DATA.read_text(encoding="utf-8"))
    return found


def proofs(data: Mapping[str, Any]) -> tuple[Proof, ...]:
    """Every calculation of the program in the order of the register, then the plate."""
    from geometry.rules.register import CALCULATIONS

    found = data["calculations"]
    known = [(each.name, each.title, each.formula, each.source, each.status.value) for each in CALCULATIONS]
    known.append(
        (
            PLATE,
            "Pane bent on its bead",
            "plate on an elastic bed, by finite elements",
            "Kirchhoff plate, Morley elements; large deflection after von Karman",
            Status.DERIVED.value,
        )
    )
    return tuple(
        Proof(*each, found.get(each[0], {}).get("checks", {}), found.get(each[0], {}).get("deviation")) for each in known
    )


def said_of(checks: Mapping[str, int]) -> str:
    """Numbers of checks by kind: "3 published, 2 computed another way"; "none" where there is none."""
    return ", ".join(f"{count} {_KINDS[kind]}" for kind, count in checks.items()) or "none"


def rows(known: Sequence[Proof]) -> list[tuple[str, ...]]:
    """One row for each topic, in the order of the register."""
    topics: dict[str, list[Proof]] = {}
    for proof in known:
        topics.setdefault(topic_of(proof.name), []).append(proof)
    return [_row(topic, members) for topic, members in topics.items()]


def _row(topic: str, members: Sequence[Proof]) -> tuple[str, ...]:
    checks = Counter[str]()
    for proof in members:
        checks.update(proof.checks)
    status = Counter(proof.status for proof in members)
    deviation = max((proof.deviation for proof in members if proof.deviation is not None), default=None)
    return (
        topic,
        str(len(members)),
        said_of({kind: checks[kind] for kind in _KINDS if checks[kind]}),
        str(sum(1 for proof in members if not proof.checks)),
        "" if deviation is None else f"{deviation:g}",
        ", ".join(f"{count} {name}" for name, count in status.items()),
    )


def proven_section() -> Html:
    """What stands behind the sums of a record."""
    return section(
        "What is proven",
        (tag("p", each) for each in PROVEN),
        in_columns("Outside checks of the calculations", SHORT, list(_short(rows(proofs(kept())))), 2, class_="proven"),
        id_="proven",
    )


def _short(told: Iterable[tuple[str, ...]]) -> Iterator[tuple[str, ...]]:
    """The rows for narrow columns, without the basis, which stands beside every sum."""
    for row in told:
        yield tuple(each.replace(" another way", "").replace("worked by hand", "by hand") for each in row[:-1])


__all__ = ["DATA", "HEADINGS", "PLATE", "Proof", "kept", "proofs", "proven_section", "rows", "said_of", "topic_of"]
