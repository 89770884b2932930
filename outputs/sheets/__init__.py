"""Sheets: which views, tables, words and paper each document has."""
