"""Sheets: which views, tables, words and paper each document has."""

__all__ = ["column", "detail_sheet", "pictures", "recipe", "sheet_tables", "words"]
