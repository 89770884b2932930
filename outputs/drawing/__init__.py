"""Views of a detail, drawn full size in the model."""

__all__ = [
    "balloons",
    "bead_view",
    "corner_view",
    "figures_round",
    "materials",
    "movement_view",
    "plan_options",
    "plan_outlines",
    "plan_view",
    "section_heights",
    "section_room",
    "section_rows",
    "section_view",
    "stress_map",
    "stress_view",
]
