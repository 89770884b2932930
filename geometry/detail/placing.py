"""The pane placed in its recess: as it was made or as it is ordered, in the best fit and on the chocks that there are.

Terms
-----
free
    In the best fit, wherever that is.
stood
    On setting chocks of heights from the stock; a deck light stands on none.
drawn
    Where the job gives the pane as made, it is drawn as it stands: on its chocks, else free.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from geometry.detail import blocks, curves
from geometry.job.made import made_outline
from geometry.outline import Point, centroid

if TYPE_CHECKING:
    from geometry.compare.best_fit import Fit
    from geometry.compare.standing import Stood
    from geometry.job import Pane
    from geometry.outline import Outline
    from geometry.sizing.sizes import Sizes


@dataclass(frozen=True, slots=True)
class Placed:
    """A pane before it is placed and its recess, both from the origin, its placings and the feet of its chocks on it."""

    pane: Outline
    recess: Outline
    free: Fit
    stood: Stood | None
    feet: tuple[Point, ...]

    @property
    def drawn(self) -> Fit:
        """The placing that is drawn."""
        return self.free if self.stood is None else self.stood.fit


def recess_of(pane: Pane, sizes: Sizes) -> Outline:
    """The recess wall: of its own, else the pane as ordered and the joint all round."""
    own = pane.recess_outline
    if own is not None:
        return own
    return curves.recess_wall(pane.glass_outline, joint_width=sizes.joint_width.value, radius=pane.recess.radius)


def outline_to_place(pane: Pane) -> Outline:
    """The pane as it was made, else as it is ordered, from its origin."""
    if pane.made is None or not pane.made.shape_given:
        return pane.glass_outline
    return made_outline(pane.made, pane.outline, pane.origin)


def placed(pane: Pane, sizes: Sizes, *, prove: bool) -> Placed:
    """The pane in its recess; ``prove`` looks through every turn."""
    outline = outline_to_place(pane)
    return _placed(outline, recess_of(pane, sizes), _feet(pane, sizes, outline), pane.chocks.stock, pane.chocks.shims, prove)


def drawn_glass(pane: Pane, sizes: Sizes) -> tuple[Outline, Fit | None]:
    """The glass where it is drawn: as ordered, or as made where it stands, with its placing."""
    if pane.made is None or not pane.made.shape_given:
        return pane.glass_outline, None
    found = placed(pane, sizes, prove=False)
    return found.drawn.placed(found.pane), found.drawn


def _feet(pane: Pane, sizes: Sizes, outline: Outline) -> tuple[Point, ...]:
    """Where the setting chocks stand on the glass edge."""
    sites = blocks.chock_sites(
        outline,
        centroid(outline),
        rake=pane.rake,
        length=sizes.chock_length.value,
        out=pane.setting_out,
        limits=pane.limits,
        at=pane.chocks.at or (),
    )
    return tuple(site.station.point for kind, site in sites if kind.value == "setting chock")


@lru_cache(maxsize=32)
def _placed(
    outline: Outline, recess: Outline, feet: tuple[Point, ...], stock: tuple[float, ...], shims: tuple[float, ...], prove: bool
) -> Placed:
    """Kept: most remedies leave pane and recess as they are."""
    from geometry.compare.best_fit import best_fit
    from geometry.compare.standing import stand

    free = best_fit(outline, recess, prove=prove)
    stood = stand(outline, recess, free, feet, stock=stock, shims=shims) if len(feet) == 2 else None
    return Placed(outline, recess, free, stood, feet)


__all__ = ["Placed", "drawn_glass", "outline_to_place", "placed", "recess_of"]
