"""What is worked out of a pane for its own sake: mass, section sums, movement, carrying, cure, clock, quantities."""
