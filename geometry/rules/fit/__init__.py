"""Rules of the fit: section, corner, bead, frit, and the sizes worked out from them."""

__all__ = ["bead", "corner", "frit", "section", "section_room"]
