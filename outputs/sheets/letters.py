"""The letter that ends the identification number of each document of a pane: the same on its sheets, in the register and in the record."""

from __future__ import annotations

DETAIL = "D"
PANE = "P"
CARD = "F"
TEMPLATE = "T"
FORM = "B"
SURVEY = "S"
GOODS_IN = "G"
LABEL = "L"
RECORD = "C"
MARKED_UP = "R"

__all__ = ["CARD", "DETAIL", "FORM", "GOODS_IN", "LABEL", "MARKED_UP", "PANE", "RECORD", "SURVEY", "TEMPLATE"]
