"""Materials: expansion and density with their sources.

Expansions 1/K, densities kg/m³.
"""

from __future__ import annotations

EXPANSION = {
    "glass": 9e-6,  # EN 572-1, second hand
    "aluminium": 23e-6,  # EN 1999-1-1, 3.2.5
    "steel": 12e-6,  # EN 1993-1-1, second hand
    "stainless": 16e-6,  # 1.4401: Callister table 19.1
    "grp": 25e-6,  # from memory; 10 to 35 by lay-up
    "timber_along": 5e-6,  # tables of expansion, second hand
    "timber_across": 30e-6,  # tables of expansion, second hand
    "plywood": 6e-6,  # tables of expansion, second hand
    "cfrp": 2e-6,  # from memory; 0 to 5 by lay-up
}
GLASS_DENSITY = 2500.0  # EN 572-1, second hand
INTERLAYER_DENSITY = 1070.0  # polyvinyl butyral, from memory


def mass(*, area: float, glass: float, interlayer: float, glass_density: float = GLASS_DENSITY, interlayer_density: float = INTERLAYER_DENSITY) -> float:
    """Mass of a pane, kg, from its area in mm² and the thickness in mm of all plies and of all interlayers.

    >>> round(mass(area=1e6, glass=12, interlayer=1.52), 3)
    31.626
    """
    return area * (glass * glass_density + interlayer * interlayer_density) * 1e-9
