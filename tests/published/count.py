"""Count the outside checks by kind: ``python tests/published/count.py``."""

from __future__ import annotations

import contextlib
import io
import sys
from collections import Counter
from pathlib import Path

import pytest

KINDS = ("published", "second_hand", "computed", "from_memory", "worked_example")


class Collector:
    """Notes the nearest kind of every collected test."""

    def __init__(self) -> None:
        self.found: Counter[str] = Counter()

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        for item in items:
            kind = next((mark.name for mark in item.iter_markers() if mark.name in KINDS), "no kind")
            self.found[kind] += 1


def main() -> int:
    """Collect without running; exit 1 when a test of this folder states no kind."""
    collector = Collector()
    with contextlib.redirect_stdout(io.StringIO()):
        pytest.main(["--collect-only", "-q", "-p", "no:cacheprovider", str(Path(__file__).parent)], plugins=[collector])
    for kind in (*KINDS, "no kind"):
        print(f"{kind.replace('_', ' '):16}{collector.found[kind]:5d}")
    print(f"{'together':16}{sum(collector.found.values()):5d}")
    return 1 if collector.found["no kind"] else 0


if __name__ == "__main__":
    sys.exit(main())
