"""Sizes that the office left out, each with its reason and whether it lies outside what the trade makes."""

__all__ = ["bead_fitting", "bead_sizes", "governing", "section_sizes", "sizer", "sizes", "tolerances"]
