"""How much to buy: adhesive, backfill, backer, primers, cleaners, tapes.

Terms
-----
waste
    Share bought on top of the volume of the bead.
purge
    Adhesive pressed out before a bead starts, ml.
yield of a pack
    Share of a pack that leaves it.

Lengths mm, sections mm², volumes ml unless a docstring says otherwise.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from geometry.rules import require
from geometry.rules.calculation import Status, calculation
from geometry.rules.units import Count, LitresPerSquareMetre, Millilitres, Millimetres, Minutes, Ratio, SquareMillimetres

PACKS = (310.0, 400.0, 600.0)
"""Usual packs, ml."""


@calculation(
    title="Adhesive in the bead",
    formula="bead area × bead length",
    unit="ml",
    source="volume of the bead",
    status=Status.DERIVED,
)
def bead_volume(*, bead_area: SquareMillimetres, bead_length: Millimetres) -> float:
    """Volume of the bead, ml; section mm², length mm."""
    require.positive(bead_area=bead_area, bead_length=bead_length)
    return bead_area * bead_length * 1e-3


@calculation(
    title="Adhesive to buy",
    formula="volume × (1 + waste) + purge",
    unit="ml",
    source="what is smeared and pressed out, and what fills the nozzle",
    status=Status.COMMON_PRACTICE,
)
def adhesive_to_buy(*, volume: Millilitres, waste: Ratio, purge: Millilitres) -> float:
    """Adhesive to have at hand, ml."""
    require.positive(volume=volume)
    require.not_negative(waste=waste, purge=purge)
    return volume * (1 + waste) + purge


@calculation(
    title="Packs of adhesive or sealant",
    formula="to buy / (pack × pack yield), rounded up, at least one for each of the guns",
    unit="",
    source="some stays in the pack; one more in hand for each session",
    status=Status.COMMON_PRACTICE,
)
def packs_needed(*, to_buy: Millilitres, pack: Millilitres, pack_yield: Ratio, guns: Count = 0) -> int:
    """Number of packs, the reserve pack of the session not counted; ``guns`` are those that each want a pack of their own."""
    require.positive(to_buy=to_buy, pack=pack)
    require.not_negative(guns=guns)
    require.between(0.1, 1, pack_yield=pack_yield)
    return max(guns, math.ceil(to_buy / (pack * pack_yield) - 1e-9))


@calculation(
    title="Place of a pack change",
    formula="number × pack × pack yield × 1000 / bead area",
    unit="mm",
    source="the bead uses its section for each millimetre; purged adhesive is from the pack in hand",
    status=Status.DERIVED,
)
def pack_change_place(*, number: Count, pack: Millilitres, pack_yield: Ratio, bead_area: SquareMillimetres) -> float:
    """Distance along the bead's centre line, mm, at which pack ``number`` of a gun is used up; the section in mm²."""
    require.positive(number=number, pack=pack, pack_yield=pack_yield, bead_area=bead_area)
    return number * pack * pack_yield * 1000 / bead_area


@calculation(
    title="Backfill",
    formula="perimeter × joint width × backfill depth × (1 + waste)",
    unit="ml",
    source="volume of the joint and waste",
    status=Status.COMMON_PRACTICE,
)
def backfill_volume(*, perimeter: Millimetres, joint_width: Millimetres, backfill_depth: Millimetres, waste: Ratio) -> float:
    """Sealant for the joint, ml; ``perimeter`` of the glass, mm."""
    require.positive(perimeter=perimeter, joint_width=joint_width, backfill_depth=backfill_depth)
    require.not_negative(waste=waste)
    return perimeter * joint_width * backfill_depth * (1 + waste) * 1e-3


@calculation(
    title="Backer or bond-breaker tape",
    formula="perimeter × (1 + waste)",
    unit="mm",
    source="waste for joints",
    status=Status.COMMON_PRACTICE,
)
def backer_length(*, perimeter: Millimetres, waste: Ratio) -> float:
    """Length of backer or bond-breaker tape, mm."""
    require.positive(perimeter=perimeter)
    require.not_negative(waste=waste)
    return perimeter * (1 + waste)


@calculation(
    title="Primer on the glass",
    formula="bead length × (bond width + 2 × beside) × coat × times",
    unit="ml",
    source="a strip beside the bead each side; the times for what stays in the pot",
    status=Status.FROM_MEMORY,
)
def glass_primer(
    *, bead_length: Millimetres, bond_width: Millimetres, coat: LitresPerSquareMetre, times: Ratio, beside: Millimetres
) -> float:
    """Primer for the glass, ml; ``coat`` in l/m², ``beside`` the bead each side, mm."""
    require.positive(bead_length=bead_length, bond_width=bond_width, coat=coat, times=times)
    require.not_negative(beside=beside)
    return bead_length * (bond_width + 2 * beside) * coat * times * 1e-3


@calculation(
    title="Primer on the frame",
    formula="(bead length × (bond width + 2 × beside) + perimeter × joint width, if the wall is primed) × coat × times",
    unit="ml",
    source="as on the glass, with the wall of the joint",
    status=Status.FROM_MEMORY,
)
def frame_primer(
    *,
    bead_length: Millimetres,
    bond_width: Millimetres,
    perimeter: Millimetres = 0.0,
    joint_width: Millimetres = 0.0,
    coat: LitresPerSquareMetre,
    times: Ratio,
    beside: Millimetres,
) -> float:
    """Primer for the frame, ml; leave the perimeter at 0 where the wall is not primed."""
    require.positive(bead_length=bead_length, bond_width=bond_width, coat=coat, times=times)
    require.not_negative(perimeter=perimeter, joint_width=joint_width, beside=beside)
    return (bead_length * (bond_width + 2 * beside) + perimeter * joint_width) * coat * times * 1e-3


@calculation(
    title="Activator",
    formula="2 bands × bead length × (bond width + 2 × beside) × coat × times",
    unit="ml",
    source="one band on the glass, one on the frame; the times for what stays in the cloth",
    status=Status.FROM_MEMORY,
)
def activator(
    *, bead_length: Millimetres, bond_width: Millimetres, coat: LitresPerSquareMetre, times: Ratio, beside: Millimetres
) -> float:
    """Activator for glass and frame, ml."""
    require.positive(bead_length=bead_length, bond_width=bond_width, coat=coat, times=times)
    require.not_negative(beside=beside)
    return 2 * bead_length * (bond_width + 2 * beside) * coat * times * 1e-3


@calculation(
    title="Solvent",
    formula="bead length × (frit width + landing) × coat × times",
    unit="ml",
    source="the printed band of the glass and the landing of the frame",
    status=Status.FROM_MEMORY,
)
def solvent(
    *, bead_length: Millimetres, frit_width: Millimetres, landing: Millimetres, coat: LitresPerSquareMetre, times: Ratio
) -> float:
    """Solvent for glass band and landing, ml."""
    require.positive(bead_length=bead_length, frit_width=frit_width, landing=landing, coat=coat, times=times)
    return bead_length * (frit_width + landing) * coat * times * 1e-3


@calculation(
    title="Masking tape",
    formula="lines × perimeter × (1 + waste)",
    unit="mm",
    source="two lines on the glass and two at the backfill",
    status=Status.COMMON_PRACTICE,
)
def masking_tape(*, perimeter: Millimetres, lines: Count, waste: Ratio) -> float:
    """Length of masking tape, mm."""
    require.positive(perimeter=perimeter, lines=lines)
    require.not_negative(waste=waste)
    return perimeter * lines * (1 + waste)


@calculation(
    title="Shielding tape on the outer face",
    formula="(perimeter + corners × tape width) × (1 + waste)",
    unit="mm",
    source="mitred corners and waste",
    status=Status.COMMON_PRACTICE,
)
def shielding_tape(*, perimeter: Millimetres, tape_width: Millimetres, corners: Count, waste: Ratio) -> float:
    """Length of light-proof tape, mm."""
    require.positive(perimeter=perimeter, tape_width=tape_width)
    require.not_negative(corners=corners, waste=waste)
    return (perimeter + corners * tape_width) * (1 + waste)


@calculation(
    title="Lint-free cloths",
    formula="bead length / each, rounded up, × passes (wipes of glass and frame together)",
    unit="",
    source="a cloth is never turned twice",
    status=Status.COMMON_PRACTICE,
)
def cloths(*, bead_length: Millimetres, passes: Count, each: Millimetres) -> int:
    """Number of cloths; ``passes`` are the wipes of glass and frame together."""
    require.positive(bead_length=bead_length, passes=passes, each=each)
    return math.ceil(bead_length / each - 1e-9) * passes


@calculation(
    title="Abrasive pads",
    formula="bead length / each, rounded up",
    unit="",
    source="a pad is worn out after so much landing",
    status=Status.COMMON_PRACTICE,
)
def abrasive_pads(*, bead_length: Millimetres, each: Millimetres) -> int:
    """Number of abrasive pads."""
    require.positive(bead_length=bead_length, each=each)
    return math.ceil(bead_length / each - 1e-9)


@calculation(
    title="Spare blocks",
    formula="number + spare",
    unit="",
    source="some of each get lost",
    status=Status.COMMON_PRACTICE,
)
def blocks_to_pack(*, number: Count, spare: Count) -> int:
    """Spacers or chocks to pack, spares counted."""
    require.not_negative(number=number, spare=spare)
    return number + spare


@calculation(
    title="Packs opened in a session by one gun",
    formula="pane after pane in the order of the beads: what the open pack still holds goes on while (end of the bead − opened) ≤ life, the rest of "
    "the need / (pack × pack yield), rounded up, is opened; added",
    unit="",
    source="an opened pack goes on to the next pane as long as its own life allows; it counts as opened when the bead begins",
    status=Status.COMMON_PRACTICE,
)
def packs_opened(
    *,
    to_buy: Sequence[Millilitres],
    begins: Sequence[Minutes],
    ends: Sequence[Minutes],
    pack: Millilitres,
    pack_yield: Ratio,
    life: Minutes = 0.0,
) -> int:
    """Packs that one gun opens for the panes of a session; one in hand for the session comes on top.

    ``to_buy``, ``begins`` and ``ends`` of the beads in their order; ``life`` 0: no opened pack goes on. Raises ``ValueError`` where they differ
    in length.

    >>> packs_opened(to_buy=[300, 300], begins=[0, 60], ends=[8, 68], pack=600, pack_yield=1.0, life=90)
    1
    >>> packs_opened(to_buy=[300, 300], begins=[0, 60], ends=[8, 68], pack=600, pack_yield=1.0, life=60)
    2
    """
    require.not_negative(life=life)
    opened, rest, since = 0, 0.0, 0.0
    for need, begin, end in zip(to_buy, begins, ends, strict=True):
        if end - since > life + 1e-9:
            rest = 0.0
        left = need - min(rest, need)
        rest -= need - left
        if left > 1e-9:
            new = packs_needed(to_buy=left, pack=pack, pack_yield=pack_yield)
            opened, rest, since = opened + new, new * pack * pack_yield - left, begin
    return opened


__all__ = [
    "PACKS",
    "abrasive_pads",
    "activator",
    "adhesive_to_buy",
    "backer_length",
    "backfill_volume",
    "bead_volume",
    "blocks_to_pack",
    "cloths",
    "frame_primer",
    "glass_primer",
    "masking_tape",
    "pack_change_place",
    "packs_needed",
    "packs_opened",
    "shielding_tape",
    "solvent",
]
