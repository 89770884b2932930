"""What a checker finds: every constraint of a pane held against its limit, with the remedy."""
