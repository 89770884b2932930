"""Where the command starts: installed as ``fritline.py`` beside the packages, so that nobody else's package is taken for ours.

The names ``geometry`` and ``outputs`` are common. Where another package of such a name comes first on Python's path, the user is
told in one sentence which folder is in the way.
"""

from __future__ import annotations

import sys


def main() -> None:
    """Run the command; where another package stands in its place say so and leave with exit code 2."""
    try:
        from outputs.command_line import main as command
    except ImportError as error:
        if (error.name or "").split(".")[0] != "outputs":
            raise
        print(in_the_way("outputs", next(iter(getattr(sys.modules.get("outputs"), "__path__", [])), "nowhere")), file=sys.stderr)
        sys.exit(2)
    except MemoryError:
        print("fritline: not enough memory", file=sys.stderr)
        sys.exit(3)
    command()


def in_the_way(name: str, place: str) -> str:
    """The sentence about a package of the same name as one of ours."""
    return (
        f"fritline: another package named {name} stands in the way: found {place}; allowed: none before Fritline's own on Python's "
        "path; empty PYTHONPATH, or install fritline in a virtual environment of its own"
    )


if __name__ == "__main__":
    main()


__all__ = ["in_the_way", "main"]
