"""The fitter's card as a page for a phone: the words and pictures of the paper card, its clock and its go or no-go alive."""

__all__ = ["card_page", "page_clock", "page_entries", "page_parts", "page_pictures", "page_sections", "page_values"]
