"""The pictures of the bead's tension in the record say by which theory they are."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import job_of
from outputs.drawing.stress_view import theory_in_words
from outputs.record.stress_part import stress_section

JOB = job_of(
    """
[[pane]]
code = "A"
frame = "aluminium"
glass = { plies = [10] }
outline = { circle = 500 }
bond = { width = 12, thickness = 6, set_back = 8 }
pressure = { outward = 4 }
"""
)


@pytest.mark.parametrize("theory", ["linear", "large deflection"])
def test_the_theory_stands_under_both_pictures_of_the_record(theory: Literal["linear", "large deflection"]) -> None:
    check = check_pane(JOB, JOB.panes[0], build_detail(JOB, JOB.panes[0]), plate=True)
    assert check.plate is not None
    outward = replace(check.plate.outward, theory=theory)
    told = str(stress_section(replace(check, plate=replace(check.plate, outward=outward))))
    words = {"linear": "linear theory", "large deflection": "large deflection (von Karman)"}
    assert theory_in_words(outward) == words[theory]
    assert told.count(f"kPa outward by {words[theory]}, seen from outside") >= 2  # the diagram and the map
    other = next(each for name, each in words.items() if name != theory)
    assert f"kPa outward by {other}" not in told
