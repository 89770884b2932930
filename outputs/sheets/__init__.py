"""Sheets: which views, tables, words and paper each document has."""

__all__ = [
    "card",
    "contents",
    "detail_choice",
    "detail_places",
    "detail_sheet",
    "detail_tables",
    "flag_words",
    "goods_in_sheet",
    "label",
    "letters",
    "pane_sheet",
    "pane_tables",
    "pane_words",
    "pictures",
    "survey_sheet",
    "template",
    "template_tiles",
    "template_words",
    "title",
    "words",
]
