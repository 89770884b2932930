"""The rules of the trade: one function each, with formula, unit and source."""

__all__ = ["calculation", "day", "fit", "glass", "holding", "materials", "register", "require", "rounding", "tolerance", "units"]
