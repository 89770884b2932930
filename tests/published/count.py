"""Count the outside checks by kind: ``python tests/published/count.py``.

Exit 1 when a test states no kind or more than one, 2 when pytest cannot collect the folder.
"""

from __future__ import annotations

import contextlib
import io
import sys
from collections import Counter
from pathlib import Path

import pytest

KINDS = ("published", "second_hand", "computed", "from_memory", "worked_example")
if str(Path(__file__).parents[2]) not in sys.path:
    sys.path.insert(0, str(Path(__file__).parents[2]))  # the checkout may not be installed

NO_CHECKS = ("test_kinds.py", "test_proven.py", "proven.py")
"""The tests of the count and of the page are no outside checks."""


class Collector:
    """Notes the kind of every collected test, and the tests that do not state exactly one."""

    def __init__(self) -> None:
        self.found: Counter[str] = Counter()
        self.unclear: list[str] = []

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        for item in items:
            if item.path.name in NO_CHECKS:
                continue
            kinds = sorted({mark.name for mark in item.iter_markers() if mark.name in KINDS})
            self.found[kinds[0] if len(kinds) == 1 else "unclear"] += 1
            if len(kinds) != 1:
                self.unclear.append(f"{item.nodeid}: {' and '.join(kinds) or 'no kind'}")


def main(folder: str = str(Path(__file__).parent)) -> int:
    """Collect without running and print the count."""
    collector = Collector()
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        code = pytest.main(["--collect-only", "-q", "-p", "no:cacheprovider", folder], plugins=[collector])
    if code != pytest.ExitCode.OK:
        print(said.getvalue(), file=sys.stderr)
        return 2
    for kind in KINDS:
        print(f"{kind.replace('_', ' '):16}{collector.found[kind]:5d}")
    print(f"{'together':16}{sum(collector.found.values()):5d}")
    for line in collector.unclear:
        print(line, file=sys.stderr)
    return 1 if collector.unclear else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
