"""One outline held against another: a returned drawing laid on the pane, the pane in its recess."""

__all__ = ["alignment", "best_fit", "between", "largest", "move", "near", "standing"]
