"""The detail as exact bodies, and the proof that the drawn sections are sections of them: the only room that loads the solid kernel."""

__all__ = ["blocks", "bodies", "joint", "kernel", "proof", "recess"]
