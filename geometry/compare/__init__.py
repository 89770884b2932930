"""One outline held against another: the pane in its recess."""

__all__ = ["best_fit", "between", "largest", "standing"]
