"""Stress in the bond of a glass pane under uniform pressure: a plate of any outline on an elastic bead."""

__all__ = ["bond", "curve", "glass", "mesh", "morley", "nodes", "results", "solve"]
