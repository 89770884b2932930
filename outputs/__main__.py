"""``python -m outputs`` is the command ``fritline``."""

from __future__ import annotations

from outputs.command_line import main

if __name__ == "__main__":
    main()


__all__ = []
