"""The sheet: marks, layers, lettering, hatches and the paper."""

__all__ = [
    "boxes",
    "drafting",
    "entities",
    "flattening",
    "keep_clear",
    "layers",
    "lettering",
    "moving",
    "outcomes",
    "paper",
    "patterns",
    "pencil",
    "refusal",
    "runs",
    "spaces",
    "tables",
    "title_block",
]
