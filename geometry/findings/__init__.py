"""What a checker finds: every constraint of a pane held against its limit, with the remedy."""

__all__ = ["check", "checks", "corners", "day", "fit", "holding", "odd_sizes", "proving", "sensitivity"]
