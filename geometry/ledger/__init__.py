"""Values that know where they come from: size, figure, finding."""

__all__ = ["figure", "finding", "size"]
