"""The diagram of the bead's tension says by which theory it is, and how far the bead is stretched instead of a stress at its edge."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

import pytest

from geometry.detail.build import build_detail
from geometry.findings.holding.plate_checks import plate_of
from geometry.job import job_of
from geometry.workings.subject import Subject
from outputs.drawing.stress_view import stress_picture, theory_in_words
from outputs.record.pictures import STYLE
from outputs.sheet.entities import Text

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
def test_the_theory_and_the_strain_are_lettered(theory: Literal["linear", "large deflection"]) -> None:
    subject = Subject(JOB, JOB.panes[0], build_detail(JOB, JOB.panes[0]))
    stress = plate_of(subject)
    assert stress is not None
    stress = replace(stress, outward=replace(stress.outward, theory=theory))
    words = [mark.string for mark in stress_picture(subject.detail, stress, STYLE).marks if isinstance(mark, Text)]
    assert any(each.startswith(theory_in_words(stress.outward)) for each in words)
    assert (
        theory_in_words(stress.outward)
        == {"linear": "linear theory", "large deflection": "large deflection (von Karman)"}[theory]
    )
    # 4 x 0.8 x (1 + (12 / 12)^2) = 6.4 MPa across the bead
    (told,) = (each for each in words if each.startswith("bead stretched"))
    assert float(told.split()[2].replace(",", ".")) == pytest.approx(100 * stress.outward.peak_tension.value / 6.4, abs=0.05)
    assert not any("peak" in each for each in words)
