"""The sheet: marks, layers, lettering, hatches and the arrangement on paper."""

__all__ = [
    "arrangement",
    "boxes",
    "drafting",
    "entities",
    "flattening",
    "keep_clear",
    "layers",
    "layout",
    "lettering",
    "mirrored",
    "moving",
    "outcomes",
    "paper",
    "patterns",
    "pencil",
    "picture",
    "refusal",
    "runs",
    "spaces",
    "tables",
]
