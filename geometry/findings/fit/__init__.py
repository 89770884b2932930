"""Fit: section, bead, filling and frit held against their limits."""
