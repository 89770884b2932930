"""Stress in the bond of a glass pane under uniform pressure: a plate of any outline on an elastic bead."""
