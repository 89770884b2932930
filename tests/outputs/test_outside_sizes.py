"""A size that no size of the trade stands for is told as one on sheet and record, not as one that was merely worked out."""

from __future__ import annotations

import json

import pytest

from geometry.detail.build import build_detail
from geometry.job import job_of
from geometry.ledger.size import OUTSIDE, Size
from outputs.command_line import main
from outputs.record.inputs_part import sizes_table
from outputs.record.worked import Worked

# 10 × 5 mm of bond pressed from a notch that is wet at 7.175: 14.35 high, and no bead of 100 mm² stands over 13.8
JOB = """
[[pane]]
code = "A"
frame = "aluminium"
temperatures = { frame_colour = "bright" }  # a dark frame would ask for a deeper backfill as well
glass = { plies = [8] }
outline = { rectangle = [900, 450], radius = 50 }
bond = { width = 10, thickness = 5 }
"""


def test_the_record_tells_what_lies_outside_the_trade():
    job = job_of(JOB)
    detail = build_detail(job, job.panes[0])
    sizes: dict[str, Size] = {size.name: size for size in detail.sizes.all()}
    marked = {name for name, size in sizes.items() if size.outside}
    assert marked == {"notch width", "notch height"}
    written = str(sizes_table(detail.sizes.all(), Worked(())))
    assert written.count(OUTSIDE) == len(marked)
    assert sizes["notch height"].origin_in_words == f"worked out, {OUTSIDE}"


def test_the_terminal_tells_the_same_sizes_as_the_json(tmp_path, capsys):
    """What lies outside the trade stands under the table of the pane, with its reason; the JSON marks the same sizes."""
    job = tmp_path / "job.toml"
    job.write_text(JOB, encoding="utf-8")
    with pytest.raises(SystemExit):
        main(["check", str(job), "--no-plate"])
    told = capsys.readouterr().out
    with pytest.raises(SystemExit):
        main(["check", str(job), "--no-plate", "--json"])
    (pane,) = json.loads(capsys.readouterr().out)["panes"]
    marked = {size["name"]: size["reason"] for size in pane["sizes"] if size["outside"]}
    under = told.partition(f"  {OUTSIDE}:\n")[2].partition("\n  not checked:")[0]
    assert [line.strip() for line in under.splitlines()] == [f"{name}: {reason}" for name, reason in marked.items()]
    assert set(marked) == {"notch width", "notch height"}
