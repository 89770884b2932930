"""Closed loops of true lines and arcs: making, measuring, offsetting."""
