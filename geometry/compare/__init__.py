"""Two outlines held against each other: the pane as drawn and what came back, the pane as made and the recess as built."""

__all__ = [
    "alignment",
    "comparison",
    "differences",
    "layer_words",
    "move",
    "named_sizes",
    "near",
    "print_findings",
    "returned",
    "solid_frit",
    "words",
]
