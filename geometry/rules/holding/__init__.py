"""Rules of holding and moving: weight, chocks, bond, bending, heat, joint."""

__all__ = ["bond", "chocks", "gravity", "green", "joint", "loads", "pane_bending", "shear_bed", "thermal"]
