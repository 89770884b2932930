"""Two outlines held against each other: the pane as drawn and what came back, the pane as made and the recess as built."""

__all__ = ["alignment", "differences", "move", "named_sizes", "near", "solid_frit"]
