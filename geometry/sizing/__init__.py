"""Sizes that the office left out, each with its reason and whether it lies outside what the trade makes."""
