"""Corners and the shape of the glass held against their limits."""
