"""The calculation record: what was checked on a pane, as a page to read and as data for a machine."""

__all__ = ["data", "files", "findings_part", "numbers", "pane_page", "parts", "pictures", "proven_part", "stress_part", "words"]
