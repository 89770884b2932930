"""What the lists of a vessel have to know of one pane: plain values, gathered once, right after its check.

Terms
-----
facts
    Texts, numbers, yes or no, and tuples of those: they go from one process to another and into a file and come back the same. A number
    has the twelve digits that every data file has; one that is not finite is None.
open finding
    A finding that does not pass: it fails, a person has to look, or it was not checked.

No list holds the details or the checks of all panes: of a pane that is drawn only this stays.
"""

from __future__ import annotations

import dataclasses
import hashlib
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable


@dataclass(frozen=True, slots=True)
class FileFacts:
    """One file: its name in its folder, SHA-256 and length in bytes."""

    name: str
    sha256: str
    length: int


@dataclass(frozen=True, slots=True)
class DocumentFacts:
    """One document of a pane: its name in ``outputs.documents``, its identification number, who works from it, its files."""

    name: str
    number: str
    readers: tuple[str, ...]
    files: tuple[FileFacts, ...]


@dataclass(frozen=True, slots=True)
class FindingFacts:
    """A finding that does not pass. ``flag`` is its number on every document, 0 for none; ``decides`` as the finding says it.

    ``value`` and ``limit`` are in ``unit``, None where it was not checked, ``relation`` tells both as one expression; ``verdict`` is "fail",
    "look" or "not checked".
    """

    flag: int
    name: str
    verdict: str
    decides: bool
    value: float | None
    limit: float | None
    relation: str
    side: str
    unit: str
    where: str
    says: str
    missing: str
    source: str
    remedies: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class GlassFacts:
    """Make-up from the weather face inwards, mm: plies and the interlayers between them."""

    plies: tuple[float, ...]
    interlayers: tuple[float, ...]
    interlayer_material: str  # "" of one ply
    treatment: str
    heat_soaked: bool | None  # None: the job does not say it
    thickness: float
    standard: str  # as given, else by the kind of glass


@dataclass(frozen=True, slots=True)
class PrintFacts:
    """The printed band, mm: from ``start`` to ``width`` from the glass edge, ``fade`` of it dots; faces count from the weather side.

    ``as_drawn``: its inner edge has an outline of its own. ``opacity`` in % of the light, None: opaque, as on the order.
    """

    face: int
    bond_face: int
    start: float
    width: float
    fade: float
    as_drawn: bool
    printed: bool  # on the glass already
    opacity: float | None


@dataclass(frozen=True, slots=True)
class BlockFacts:
    """A spacer or a block in the joint: middle X and Y from the origin of the pane and sizes, mm.

    ``height`` is the free height of a spacer, the joint at a block; ``width`` is across the edge of the glass: of a block along the depth
    of the recess.
    """

    mark: str
    kind: str
    edge: str
    x: float
    y: float
    length: float
    width: float
    height: float
    hardness: float


@dataclass(frozen=True, slots=True)
class OrderedFacts:
    """The pane as it is ordered, whatever came back: box in mm, area in m², mass in kg."""

    width: float
    height: float
    area_m2: float
    mass_kg: float


@dataclass(frozen=True, slots=True)
class FillFacts:
    """Bead and backfill in place: volumes in ml, masses in kg, None where the job gives no density.

    Centres of gravity of glass, bead and backfill: X and Y of the plan, Z from the landing outboard, mm; () where there is nothing. What is
    near and not exact is said in words.
    """

    adhesive_ml: float
    sealant_ml: float
    adhesive_kg: float | None
    sealant_kg: float | None
    glass_at: tuple[float, ...]
    adhesive_at: tuple[float, ...]
    sealant_at: tuple[float, ...]
    adhesive_about: str
    sealant_about: str


@dataclass(frozen=True, slots=True)
class QuantityFacts:
    """One line of the list of quantities of one pane, as its record has it."""

    what: str
    amount: float
    unit: str
    to_buy: str
    basis: str
    sizes: tuple[float, ...]
    packs: int


@dataclass(frozen=True, slots=True)
class DayFacts:
    """The bonding by the clock, minutes from the start of work, and days after it from which something is released; None: never."""

    start: str  # "08:00"
    bead_starts: float
    last_press: float
    latest_abort: float
    open_time: float
    in_time: bool
    packs: int
    backfill_day: float | None
    handling_day: float | None
    hose_day: float | None
    full_cure_day: float | None
    session: str  # title of the bonding session; "" for none
    bonded_on: str  # day of the bonding; "" where no session gives one
    releases: tuple[tuple[str, int | None], ...]  # what is released on which whole day after the bonding; None: never


@dataclass(frozen=True, slots=True)
class PaneFacts:
    """One pane as the lists of its vessel know it.

    ``state`` is the word of every document ("FAIL 2, LOOK 1"), ``told`` the same with what was not run; counts as the state has them, of
    which ``deciding`` are those not checked that decide. Lengths mm, ``rake`` degrees, pressures kPa; centroid from the pane's origin.
    """

    code: str
    name: str
    revision: str
    side: str  # port, starboard, centre; "" where the job says nothing
    quantity: int
    location: str
    mark: str
    date: str  # of issue, as the job gives it; "" where it gives none
    revision_date: str  # of the revision in the pane's own table; "" where it is not there
    revision_says: str
    verdict: str
    state: str
    told: str
    fail: int
    look: int
    not_checked: int
    deciding: int
    passed: int
    plate: str
    not_for_manufacture: tuple[str, ...]
    open_findings: tuple[FindingFacts, ...]
    defaults: tuple[str, ...]  # keys of the job whose default values went into the findings
    glass: GlassFacts
    print: PrintFacts
    frame: str
    rake: float
    load_bearing: bool | None  # None: the job does not say it
    in_hull: bool | None  # likewise
    approval_reference: str
    document_status: str
    pressure_outward: float | None
    pressure_inward: float | None
    pressure_reference: str
    as_made: bool
    glass_cuts_recess: bool  # as drawn it lies outside its recess somewhere: it cannot be fitted
    width: float
    height: float
    area_m2: float
    mass_kg: float
    ordered: OrderedFacts
    perimeter: float
    centroid: tuple[float, float]
    landing_on_vessel: tuple[tuple[float, float, float], ...] | None  # origin, X and Y of the landing's plane; None: not placed
    origin: str
    quantities: tuple[QuantityFacts, ...]
    blocks: tuple[BlockFacts, ...]
    chock_stock: tuple[float, ...]
    shims: tuple[float, ...]
    spacer_stock: tuple[float, ...]  # empty: as they are drawn
    bond_thickness: float
    spacer_squeeze: float  # % of its height that a spacer gives under the press
    fill: FillFacts
    day: DayFacts | None
    documents: tuple[DocumentFacts, ...] = ()

    @property
    def files(self) -> tuple[FileFacts, ...]:
        """The files of all its documents."""
        return tuple(file for each in self.documents for file in each.files)

    @property
    def file_stem(self) -> str:
        """The name of the pane's files, without ending."""
        from geometry.job.pane import file_stem

        return file_stem(self.code, self.revision)

    def with_documents(self, documents: Iterable[DocumentFacts]) -> PaneFacts:
        """The same with the documents that were made of it."""
        return dataclasses.replace(self, documents=tuple(documents))


def file_facts(name: str, data: bytes) -> FileFacts:
    """The facts of one file."""
    return FileFacts(name, hashlib.sha256(data).hexdigest(), len(data))


__all__ = [
    "BlockFacts",
    "DayFacts",
    "DocumentFacts",
    "FileFacts",
    "FillFacts",
    "FindingFacts",
    "GlassFacts",
    "OrderedFacts",
    "PaneFacts",
    "PrintFacts",
    "QuantityFacts",
    "file_facts",
]
