"""Stress in the bond of a glass pane under uniform pressure: a plate of any outline on an elastic bead."""

__all__ = [
    "bead",
    "bond",
    "curve",
    "fields",
    "glass",
    "glass_peak",
    "large",
    "local",
    "membrane",
    "mesh",
    "morley",
    "nodes",
    "patch",
    "pressure",
    "recovery",
    "results",
    "solve",
    "system",
]
