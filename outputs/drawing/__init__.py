"""Views of a detail, drawn full size in the model."""
