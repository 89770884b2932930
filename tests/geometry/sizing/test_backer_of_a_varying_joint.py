"""The backer serves the widest place of a joint that is not the same all round.

Its size is that of an article on sealant joints, at second hand: squeezed by about a quarter, 1.25 times the joint. The joints are by hand:
a recess of 920 × 480 round a pane of 900 × 450 leaves 10 at its sides and 15 at sill and head.
"""

from __future__ import annotations

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import job_of

PANE = 'code = "P1"\nframe = "aluminium"\nglass = { plies = [15] }\noutline = { rectangle = [900, 450] }\n'


def checked(recess):
    job = job_of(f"[[pane]]\n{PANE}joint = {{ width = 10 }}\n{recess}")
    return check_pane(job, job.panes[0], build_detail(job, job.panes[0]), plate=False)


def backer_of(check):
    (finding,) = (each for each in check.findings if each.name == "room for the backer")
    return check.subject.sizes.backer_diameter, finding


def test_the_backer_follows_the_widest_place_and_the_narrowest_is_told():
    size, finding = backer_of(checked("recess = { outline = { rectangle = [920, 480] } }"))
    assert size.value == pytest.approx(15 * 1.25)
    assert "the joint width of 15 at its widest; where it is narrowest, 10, 12.5 mm would do" in size.reason
    assert "serves the joint of 15 mm" in finding.says and "would take 12.5 mm" in finding.says


def test_an_even_joint_has_one_backer():
    for recess in ("", "recess = { outline = { rectangle = [920, 470] } }"):
        size, finding = backer_of(checked(recess))
        assert size.value == pytest.approx(10 * 1.25)
        assert "narrowest" not in size.reason and "serves" not in finding.says
