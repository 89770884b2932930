"""The drawing that comes back from the supplier, compared with the pane that was issued."""

__all__ = ["comparison", "differences", "inside", "layer_words", "named_sizes", "print_findings", "search", "solid_frit", "words"]
