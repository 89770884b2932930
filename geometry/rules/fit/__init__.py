"""Rules of the fit: section, corner, bead, frit, and the sizes worked out from them."""
