"""The rules of the trade: one function each, with formula, unit and source."""
