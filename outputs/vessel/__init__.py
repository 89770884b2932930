"""A vessel at once: what its lists are made of, its issue into one folder, its register."""

__all__ = ["documents", "facts"]
