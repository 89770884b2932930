"""What stands in the way of a sheet: it finds no room, or it cannot be written."""

from __future__ import annotations


class SheetError(ValueError):
    """A sheet that cannot be set out or written; the message says what finds no room, or names the marks and what is wrong with each."""


__all__ = ["SheetError"]
