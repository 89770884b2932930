"""The detail of one pane, complete before anything is drawn."""

__all__ = ["blocks", "build", "edges", "parts", "recess_profile", "sections", "worst_corner"]
