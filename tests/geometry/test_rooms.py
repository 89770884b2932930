"""The rooms of geometry stand above one another: a module imports from its own room and from rooms below, never upwards."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2] / "geometry"
BELOW: dict[str, set[str]] = {
    "outline": set(),
    "rules": set(),
    "ledger": {"rules"},
    "incoming": {"outline"},
    "compare": {"outline"},
    "job": {"outline", "ledger", "incoming"},
    "sizing": {"outline", "rules", "ledger", "job"},
    "detail": {"outline", "compare", "rules", "ledger", "incoming", "job", "sizing"},
    "solids": {"outline", "incoming", "detail"},
    "plate": {"outline", "rules", "ledger"},
    "workings": {"outline", "compare", "incoming", "rules", "ledger", "job", "sizing", "detail"},
    "findings": {"outline", "compare", "incoming", "rules", "ledger", "job", "sizing", "detail", "plate", "workings"},
    "returned": {"outline", "compare", "rules", "ledger", "job", "sizing", "detail", "workings", "findings", "incoming"},
    "recorded": {"outline", "incoming", "rules", "ledger", "job", "sizing", "detail", "workings", "findings"},
}


def test_every_room_is_known():
    assert {path.name for path in ROOT.iterdir() if path.is_dir() and path.name != "__pycache__"} == set(BELOW)


@pytest.mark.parametrize("room", BELOW)
def test_no_arrow_runs_up(room):
    for module in (ROOT / room).rglob("*.py"):
        used = set(re.findall(r"^\s*(?:from|import) geometry\.(\w+)", module.read_text(encoding="utf-8"), re.M))
        assert used <= BELOW[room] | {room}, module
