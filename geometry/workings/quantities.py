"""What a pane takes to buy: adhesive, joint sealant, backer, primers, cleaners, tapes, blocks, cloths and pads.

Terms
-----
amount
    What is needed, waste included, in the unit of the row.
to buy
    The amount in the form in which it is bought: whole packs, metres, millilitres or pieces.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from geometry.ledger.figure import Figure, Ledger, Sourced, plain, worked_once
from geometry.rules.day import quantities as rules
from geometry.rules.rounding import mm

if TYPE_CHECKING:
    from geometry.workings.subject import Subject

ADHESIVE = "bonding adhesive"
SEALANT = "joint sealant"
BACKER = "backer"
BREAKER = "bond-breaker tape"


@dataclass(frozen=True, slots=True)
class Quantity:
    """One line of the list. ``sizes`` are the measures by which the article is ordered, mm: a backer's diameter, a block's sides.

    ``packs`` counts those of what is bought in packs, else 0. ``in_hand`` come on top for the panes of a vessel: for each session that is given,
    and once for all panes that are in none.
    """

    what: str
    amount: float
    unit: str
    to_buy: str
    basis: str
    figure: Figure | None
    sizes: tuple[float, ...] = ()
    packs: int = 0
    in_hand: int = 0


@dataclass(frozen=True, slots=True)
class Quantities:
    """The list of one pane, or of a vessel."""

    rows: tuple[Quantity, ...]

    def row(self, what: str) -> Quantity:
        """The first line of an article. Raises ``KeyError`` where it is not on the list."""
        for row in self.rows:
            if row.what == what:
                return row
        raise KeyError(what)


@dataclass(frozen=True, slots=True)
class AdhesiveNeed:
    """The adhesive of one pane: volume of the bead, what to have at hand and in how many packs."""

    volume: Figure
    to_buy: Figure
    packs: Figure


def pack_yield(rest: Sourced) -> Sourced:
    """Share of a pack that leaves it, from the share in % that cannot be pressed out."""
    return Sourced((100 - rest.value) / 100, rest.origin, rest.key)


@worked_once
def adhesive_need(subject: Subject, ledger: Ledger) -> AdhesiveNeed:
    """How much adhesive one pane takes."""
    fresh = subject.detail.uncured_bead
    volume = ledger.work("adhesive in the bead", rules.bead_volume, bead_area=fresh.area, bead_length=fresh.length)
    to_buy = ledger.work(
        "adhesive to have at hand",
        rules.adhesive_to_buy,
        volume=volume,
        waste=subject.asked("adhesive.waste", scale=0.01),
        purge=subject.asked("adhesive.purge", unit="ml"),
    )
    packs = ledger.work(
        "packs of adhesive",
        rules.packs_needed,
        to_buy=to_buy,
        pack=subject.asked("adhesive.pack", unit="ml"),
        pack_yield=pack_yield(subject.asked("adhesive.pack_rest")),
        guns=subject.asked("work.guns"),
    )
    return AdhesiveNeed(volume, to_buy, packs)


def mean_joint_width(subject: Subject) -> float:
    """Joint between the outlines as drawn: the area between them by the length of the glass edge, mm.

    As nominal where the pane has no recess outline of its own, or lies over its edge.
    """
    from geometry.outline import area

    curves = subject.detail.curves
    nominal = subject.sizes.joint_width.value
    if not subject.surveyed:
        return nominal
    between = (area(curves.recess) - area(curves.glass)) / subject.detail.perimeter
    return between if between > 0 else nominal


def quantities_of(subject: Subject, ledger: Ledger) -> Quantities:
    """What one pane takes, in the order in which it is used."""
    return Quantities(
        (*_bonding(subject, ledger), *_joint(subject, ledger), *_surfaces(subject, ledger), *_blocks(subject, ledger))
    )


def _bonding(subject: Subject, ledger: Ledger) -> Iterable[Quantity]:
    need = adhesive_need(subject, ledger)
    pack = subject.asked("adhesive.pack").value
    yield Quantity(
        ADHESIVE,
        need.to_buy.value,
        "ml",
        packs_in_words(need.packs.value, pack) + in_hand(subject.pane.consumables.packs_in_hand),
        "volume of the bead, waste and purge",
        need.packs,
        packs=need.packs.value,
    )


def _joint(subject: Subject, ledger: Ledger) -> Iterable[Quantity]:
    sizes, around = subject.sizes, subject.detail.perimeter
    width = mean_joint_width(subject) if subject.surveyed else sizes.joint_width
    volume = ledger.work(
        "sealant for the joint",
        rules.backfill_volume,
        perimeter=around,
        joint_width=width,
        backfill_depth=sizes.backfill_depth,
        waste=subject.asked("sealant.waste", scale=0.01),
    )
    pack = subject.asked("sealant.pack", unit="ml")
    packs = ledger.work(
        "packs of sealant",
        rules.packs_needed,
        to_buy=volume,
        pack=pack,
        pack_yield=pack_yield(subject.asked("sealant.pack_rest")),
    )
    yield Quantity(
        SEALANT,
        volume.value,
        "ml",
        packs_in_words(packs.value, pack.value) + in_hand(subject.pane.consumables.packs_in_hand),
        "length × joint width × depth, and waste",
        packs,
        packs=packs.value,
    )
    waste = subject.asked("consumables.backer_waste", scale=0.01)
    spare = f"{subject.pane.consumables.backer_waste:g} % for the joints"
    if sizes.backer_fits:
        backer = ledger.work("backer", rules.backer_length, perimeter=around, waste=waste)
        basis = f"round the glass, and {spare}; or {BREAKER} {mm(plain(width))} wide"
        yield _length(BACKER, backer, basis, sizes=(sizes.backer_diameter.value,))
    else:
        tape = ledger.work("bond-breaker tape", rules.backer_length, perimeter=around, waste=waste)
        yield _length(BREAKER, tape, f"round the glass, and {spare}: no room for a backer", sizes=(round(plain(width), 2),))


def _surfaces(subject: Subject, ledger: Ledger) -> Iterable[Quantity]:
    detail, sizes = subject.detail, subject.sizes
    length, around = detail.uncured_bead.length, detail.perimeter
    width = sizes.bond_width
    rates = subject.pane.consumables
    beside = subject.asked("consumables.beside_bead", unit="mm")
    primer: dict[str, Any] = {
        "coat": subject.asked("consumables.primer_coat", unit="l/m²"),
        "times": subject.asked("consumables.primer_times"),
        "beside": beside,
    }
    pot = f"{_times(rates.primer_times)} for the pot"
    glass = ledger.work("primer for the glass", rules.glass_primer, bead_length=length, bond_width=width, **primer)
    yield _volume("glass primer", glass, f"bead and {mm(rates.beside_bead)} each side, {pot}")
    frame = ledger.work(
        "primer for the frame",
        rules.frame_primer,
        bead_length=length,
        bond_width=width,
        perimeter=around,
        joint_width=sizes.joint_width,
        **primer,
    )
    yield _volume("frame primer", frame, f"bead, {mm(rates.beside_bead)} each side and the wall of the joint, {pot}")
    wipe = ledger.work(
        "activator",
        rules.activator,
        bead_length=length,
        bond_width=width,
        coat=subject.asked("consumables.activator_coat", unit="l/m²"),
        times=subject.asked("consumables.activator_times"),
        beside=beside,
    )
    yield _volume("activator", wipe, f"one band on the glass, one on the landing, {_times(rates.activator_times)} for the cloth")
    solvent = ledger.work(
        "cleaner",
        rules.solvent,
        bead_length=length,
        frit_width=sizes.frit_width,
        landing=sizes.landing,
        coat=subject.asked("consumables.cleaner_coat", unit="l/m²"),
        times=subject.asked("consumables.cleaner_times"),
    )
    yield _volume("cleaner", solvent, f"printed band and landing, {_times(rates.cleaner_times)}")
    waste, more = subject.asked("consumables.tape_waste", scale=0.01), f"and {rates.tape_waste:g} %"
    lines = subject.asked("consumables.masking_lines")
    masking = ledger.work("masking tape", rules.masking_tape, perimeter=around, lines=lines, waste=waste)
    yield _length("masking tape", masking, f"{lines.value} lines on glass and frame, {more}")
    protection = subject.pane.frit.outer_protection
    if protection is not None and protection.kind == "tape":
        tape = ledger.work(
            "shielding tape",
            rules.shielding_tape,
            perimeter=around,
            tape_width=subject.asked("frit.outer_protection.width", unit="mm"),
            corners=len(detail.corners),
            waste=waste,
        )
        yield _length("shielding tape", tape, f"round the glass with mitred corners, {more}", sizes=(protection.width,))
    cloth = subject.asked("consumables.bead_per_cloth", unit="mm")
    cloths = ledger.work("cloths", rules.cloths, bead_length=length, passes=subject.asked("consumables.wipes"), each=cloth)
    yield _pieces("lint-free cloths", cloths, f"one for {cloth.value / 1000:g} m and each wipe, never turned twice")
    pad = subject.asked("consumables.landing_per_pad", unit="mm")
    pads = ledger.work("abrasive pads", rules.abrasive_pads, bead_length=length, each=pad)
    yield _pieces("abrasive pads", pads, f"one for {pad.value / 1000:g} m of landing")


def _blocks(subject: Subject, ledger: Ledger) -> Iterable[Quantity]:
    sizes = subject.sizes
    spare = subject.asked("consumables.spare_blocks")
    spacers = ledger.work("spacers to pack", rules.blocks_to_pack, number=len(subject.detail.spacers), spare=spare)
    sides = (sizes.spacer_length.value, sizes.spacer_width.value, sizes.spacer_thickness.value)
    yield _pieces("spacer", spacers, f"{len(subject.detail.spacers)} in place, {spare.value} spare", sizes=sides)
    groups = Counter(
        (chock.kind, (chock.length, round(chock.height, 2), round(chock.depth, 2))) for chock in subject.detail.chocks
    )
    for (kind, block), number in groups.items():
        figure = ledger.work(f"{kind}s to pack", rules.blocks_to_pack, number=number, spare=spare)
        yield _pieces(kind, figure, f"{number} in place, {spare.value} spare", sizes=block)


def whole_sum(numbers: Iterable[int]) -> int:
    """Whole numbers added."""
    return sum(numbers)


def packs_in_words(number: int, pack: float) -> str:
    """How many packs of which volume, ml: "2 packs of 600 ml"."""
    return f"{number} {'pack' if number == 1 else 'packs'} of {pack:g} ml"


def in_hand(number: int) -> str:
    """What is bought beyond the packs that are counted: ", and 1 in hand for each session"; "" for none."""
    return f", and {number} in hand for each session" if number else ""


def _times(factor: float) -> str:
    return "twice" if factor == 2 else f"{factor:g} times"


def in_whole(amount: float, unit: str) -> str:
    """An amount as it is bought, rounded up: "12 m"."""
    whole = math.ceil(amount - 1e-9)
    return f"{whole} {unit}" if unit else f"{whole}"


def _volume(what: str, figure: Figure, basis: str) -> Quantity:
    return Quantity(what, figure.value, "ml", in_whole(figure.value, "ml"), basis, figure)


def _length(what: str, figure: Figure, basis: str, *, sizes: tuple[float, ...] = ()) -> Quantity:
    metres = figure.value / 1000
    return Quantity(what, metres, "m", in_whole(metres, "m"), basis, figure, sizes)


def _pieces(what: str, figure: Figure, basis: str, *, sizes: tuple[float, ...] = ()) -> Quantity:
    return Quantity(what, float(figure.value), "", in_whole(figure.value, ""), basis, figure, sizes)


__all__ = [
    "ADHESIVE",
    "SEALANT",
    "AdhesiveNeed",
    "Quantities",
    "Quantity",
    "adhesive_need",
    "in_hand",
    "in_whole",
    "mean_joint_width",
    "pack_yield",
    "packs_in_words",
    "quantities_of",
    "whole_sum",
]
