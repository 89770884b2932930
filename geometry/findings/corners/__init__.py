"""Corners and the shape of the glass held against their limits."""

__all__ = ["corner_checks", "cut_out_checks"]
