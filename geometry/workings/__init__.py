"""What is worked out of a pane for its own sake: mass, section sums, movement, carrying, cure, clock, quantities."""

__all__ = [
    "bead_movement",
    "carrying",
    "cure_path",
    "glass_edge",
    "glass_strength",
    "laminate",
    "movement",
    "quantities",
    "section_sums",
    "spacer_room",
    "stacks",
    "standing",
    "subject",
    "time_plan",
    "watched",
]
