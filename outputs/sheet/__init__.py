"""The sheet: marks, layers, lettering, hatches and the arrangement on paper."""
