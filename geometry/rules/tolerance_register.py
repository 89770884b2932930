"""The register of tolerances: what is taken where the job file states none.

All are plus and minus, mm. Register by kind: common practice, no source, unless said otherwise.
"""

from __future__ import annotations

from collections.abc import Sequence

RECESS_BY_BUILD = {"welded": 2.0, "machined": 1.0, "moulded": 2.0, "joinery": 1.5}
BUILD_OF_FRAME = {
    "aluminium": "welded",
    "steel": "welded",
    "stainless": "welded",
    "grp": "moulded",
    "cfrp": "moulded",
    "timber_along": "joinery",
    "timber_across": "joinery",
    "plywood": "joinery",
}
PLACING = 1.0  # with chocks and witness marks
BOND_THICKNESS = 0.5  # over spacers
RECESS_DEPTH = 1.0
LANDING = 1.0
LANDING_FLATNESS = 1.0  # in 1 m


def toughened_pane(*, longest_side: float, thickness: float) -> float:
    """Size of a toughened pane (from memory of EN 12150-1:2015, table 2).

    >>> toughened_pane(longest_side=1200, thickness=8), toughened_pane(longest_side=1200, thickness=10)
    (2.0, 3.0)
    """
    thick = 0.0 if thickness <= 8 else 1.0
    return (2.0 if longest_side <= 2000 else 3.0 if longest_side <= 3000 else 4.0) + thick


def laminated_pane(*, longest_side: float, plies: Sequence[float]) -> float:
    """Upper deviation of a laminated pane over 8 mm (second hand: EN ISO 12543-5 as tabled by processors).

    >>> laminated_pane(longest_side=1300, plies=(6, 6))
    3.5
    """
    thick = max(plies) >= 10
    for limit, thin_value, thick_value in ((1100, 2.5, 3.5), (1500, 3.5, 4.5), (2000, 3.5, 5.0), (2500, 5.0, 6.0)):
        if longest_side < limit:
            return thick_value if thick else thin_value
    return 6.5 if thick else 5.5


def print_position(*, longest_side: float) -> float:
    """Place of the enamel print (second hand: a glass trade's handbook of tolerances).

    >>> print_position(longest_side=1200), print_position(longest_side=2500)
    (2.0, 3.0)
    """
    return 2.0 if longest_side <= 2000 else 3.0 if longest_side <= 3000 else 4.0


def glass_thickness(plies: Sequence[float], interlayers: Sequence[float]) -> float:
    """Thickness of the whole make-up (EN 572-2 float as transcribed second hand; interlayer from memory of EN ISO 12543-5).

    >>> glass_thickness((6, 6), (1.52,)), glass_thickness((10,), ())
    (0.5, 0.3)
    """
    total = sum(0.2 if ply <= 6 else 0.3 if ply <= 12 else 0.5 if ply <= 15 else 1.0 for ply in plies)
    if interlayers:
        total += 0.1 if sum(interlayers) < 2 else 0.2
    return round(total, 3)
