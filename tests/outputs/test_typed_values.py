"""A change as it is typed into the job, against the reader of TOML 1.0 in Python's own library."""

from __future__ import annotations

import datetime
import tomllib

import pytest

from geometry.ledger.finding import Change
from outputs.record.plan_part import as_typed


@pytest.mark.parametrize(
    "value",
    [38.0, True, "port", [250.0, 650.0], {"width": 50.0}, datetime.date(2026, 5, 8), datetime.time(7, 30)],
)
def test_what_is_to_be_typed_is_read_as_it_was_meant(value):
    """A launch put off is a day: no quotes, as the job wants it."""
    assert tomllib.loads(as_typed(Change("a.b", value))) == {"a": {"b": value}}
