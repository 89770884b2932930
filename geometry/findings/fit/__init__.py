"""Fit: section, bead, filling and frit held against their limits."""

__all__ = ["bead_remedies", "frit_checks", "hand_checks", "section_checks"]
