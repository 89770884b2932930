"""Blocks of a vessel in heights that can be bought: what is taken from the stock, with which shims, and what has to be cut.

Terms
-----
wanted
    The height that the detail draws.
made up
    A chock of the stock with its shims; the nearest to the wanted height, of two as near the lower: it never wedges the glass.
off
    Made up less wanted, mm.
to be cut
    Nothing of the stock comes near enough; the block is made to the wanted height. A spacer is never shimmed: its height is the bond's.
left
    Thickness of the bond that a spacer leaves when the pane is pressed home: its height less what it gives. A spacer of the bond's own
    thickness gives as well, and leaves a bond thinner than the one that was checked, which is on the unsafe side for its strain: it is not
    taken for the wanted one. The job draws the bond that the stock leaves, or the spacer is cut.
spare
    Pieces beyond those in place, of each article once for the vessel.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

NEAR = 0.25
"""mm by which a block may be off the wanted height: half the smallest usual shim (own default)."""
EXACT = 0.05
"""mm within which a spacer of the stock is the wanted one (own default: below what a saw keeps)."""
SPACER = "spacer"
SHIM = "shim"


@dataclass(frozen=True, slots=True)
class Wanted:
    """Blocks of one kind and size in one pane: ``length`` along the glass edge, ``width`` across it, mm; ``count`` of them in place.

    ``stock`` are the heights that can be bought (empty: any), ``shims`` each once under a chock.
    """

    kind: str
    length: float
    width: float
    height: float
    hardness: float
    count: int
    stock: tuple[float, ...] = ()
    shims: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class MadeUp:
    """How one wanted block is come by: the block first, then its shims, mm; ``off`` in mm.

    ``cut``: none of the stock; ``pieces`` and ``off`` are those of the nearest then, which is not taken.
    """

    wanted: Wanted
    pieces: tuple[float, ...]
    off: float
    cut: bool


@dataclass(frozen=True, slots=True)
class Article:
    """One line of the order: a block, or a shim of the footprint of its block, mm."""

    kind: str
    length: float
    width: float
    height: float
    hardness: float
    cut: bool
    in_place: int
    spare: int

    @property
    def to_buy(self) -> int:
        """Pieces in place and spare."""
        return self.in_place + self.spare


def made_up(wanted: Wanted) -> MadeUp:
    """The block of the stock that comes nearest, or one to be cut.

    >>> made_up(Wanted("setting chock", 60, 12, 7.2, 80, 1, stock=(3, 4, 5, 6), shims=(0.5, 1))).pieces
    (6.0, 1.0)
    >>> made_up(Wanted("spacer", 25, 5, 6.4, 50, 1, stock=(6, 8))).cut
    True
    """
    from geometry.compare.standing import heights_of

    if not wanted.stock:
        return MadeUp(wanted, (wanted.height,), 0.0, cut=False)
    spacer = wanted.kind == SPACER
    known = heights_of(wanted.stock, () if spacer else wanted.shims)
    best = min(known, key=lambda each: (round(abs(each.height - wanted.height), 6), each.height))
    off = round(best.height - wanted.height, 6) + 0.0
    return MadeUp(wanted, best.pieces, off, cut=abs(off) > (EXACT if spacer else NEAR) + 1e-9)


def bonds_left(wanted: Wanted, squeeze: float) -> tuple[tuple[float, float], ...]:
    """Heights of the stock next below and next above a wanted spacer, each with the thickness of the bond that it leaves, mm.

    ``squeeze`` is the share of its height that a spacer gives under the press.

    >>> bonds_left(Wanted("spacer", 25, 5, 6 / 0.95, 50, 1, stock=(3, 4, 5, 6, 8, 10, 12)), 0.05)
    ((6, 5.7), (8, 7.6))
    """
    below = max((each for each in wanted.stock if each < wanted.height), default=None)
    above = min((each for each in wanted.stock if each > wanted.height), default=None)
    return tuple((each, round(each * (1 - squeeze), 6)) for each in (below, above) if each is not None)


def articles_of(made: Iterable[MadeUp], *, spare: int) -> tuple[Article, ...]:
    """What is to be bought for all of them, by kind, footprint and height; ``spare`` pieces of each article on top."""
    counts: Counter[tuple[str, float, float, float, float, bool]] = Counter()
    for each in made:
        wanted, (block, *shims) = each.wanted, (each.wanted.height,) if each.cut else each.pieces
        counts[wanted.kind, wanted.length, wanted.width, block, wanted.hardness, each.cut] += wanted.count
        for shim in shims:
            counts[SHIM, wanted.length, wanted.width, shim, wanted.hardness, False] += wanted.count
    kinds = list(dict.fromkeys(kind for kind, *_ in counts if kind != SHIM))
    order = [*kinds, SHIM]
    return tuple(Article(*key, counts[key], spare) for key in sorted(counts, key=lambda key: (order.index(key[0]), *key[1:])))


def wanted_of(blocks: Sequence[Wanted]) -> tuple[Wanted, ...]:
    """Equal blocks together, in the order in which they come first."""
    counts: Counter[Wanted] = Counter()
    for each in blocks:
        counts[Wanted(each.kind, each.length, each.width, each.height, each.hardness, 1, each.stock, each.shims)] += each.count
    return tuple(
        Wanted(each.kind, each.length, each.width, each.height, each.hardness, count, each.stock, each.shims)
        for each, count in counts.items()
    )


__all__ = ["Article", "MadeUp", "Wanted", "articles_of", "bonds_left", "made_up", "wanted_of"]
