"""Figures for a machine have twelve digits that count: the same file whichever Python or library made the last bits of a sum."""

from __future__ import annotations

import json

import pytest

from outputs.command_line import main

JOB = """
[[pane]]
code = "A"
frame = "aluminium"
glass = { plies = [8] }
outline = { rectangle = [900.1, 450.3], radius = 50 }
pressure = { outward = 3, inward = 10 }
"""


def digits_of(text: str) -> list[str]:
    """Digits that count of every number with a point or a power in a JSON text, as they are written."""
    found: list[str] = []
    json.loads(text, parse_float=lambda said: found.append(said.lower().partition("e")[0]) or 0.0)
    return [said.replace("-", "").replace(".", "").lstrip("0").rstrip("0") for said in found]


def test_no_number_of_the_json_has_more_than_twelve_digits_that_count(tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    with pytest.raises(SystemExit):
        main(["check", "job.toml", "--json", "--no-plate", "--record", "record"])
    printed = capsys.readouterr().out
    written = [each.read_text(encoding="utf-8") for each in sorted((tmp_path / "record").glob("*.json"))]
    assert written
    for text in (printed, *written):
        digits = digits_of(text)
        assert len(digits) > 10
        assert max(map(len, digits)) <= 12


def test_a_sum_is_written_as_a_reader_would_write_it():
    from outputs.record.data import json_text

    assert json.loads(json_text({"sum": 0.1 + 0.2, "third": 1e6 / 3})) == {"sum": 0.3, "third": 333333.333333}
    assert "0.30000000000000004" not in json_text({"sum": 0.1 + 0.2})
