"""The calculation record: what was checked on a pane, as a page to read and as data for a machine."""
