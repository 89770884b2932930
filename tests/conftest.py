"""What holds for every test: examples are the same in every run and in every order, and no example is held to a time."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("fritline", max_examples=60, deadline=None, derandomize=True)
settings.load_profile("fritline")
