"""The detail of one pane, complete before anything is drawn."""
