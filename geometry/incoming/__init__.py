"""Outlines as people bring them: out of a drawing or a survey. A path in, values out; nothing here knows of job files."""

from geometry.incoming.incoming import Incoming, IncomingError

__all__ = ["Incoming", "IncomingError"]
