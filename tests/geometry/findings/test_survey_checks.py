"""A surveyed recess against its limits: every case is a survey made up so that the answer is known before the program reads it."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import JobError, job_of, read_job
from geometry.ledger.finding import Verdict
from geometry.workings.subject import Subject
from geometry.workings.surveyed_recess import surveyed_recess_of

JOB = """[[pane]]
code = "X"
frame = "aluminium"
frame_build = "machined"
glass = {{ plies = [10] }}
outline = {{ survey = "w3.csv", of = "recess"{more} }}
joint = {{ width = 8 }}
tolerances = {{ recess = 0, pane = 1 }}
pressure = {{ outward = 3, inward = 10 }}
"""
FLAT = "surveyed landing flat enough for the bond"


def round_the_box(width=1400.0, height=700.0, step=100.0):
    bottom = [(step * i, 0.0) for i in range(int(width / step))]
    right = [(width, step * i) for i in range(int(height / step))]
    top = [(width - step * i, height) for i in range(int(width / step))]
    left = [(0.0, height - step * i) for i in range(int(height / step))]
    return bottom + right + top + left


def in_space(folder, out):
    """A side of a hull to starboard (outside is -y), its wall ``out(x, y)`` mm proud of the plane."""
    rows = "".join(f"{4000 + x:.3f};{-2000 - out(x, y):.3f};{1500 + y:.3f}\n" for x, y in round_the_box())
    (folder / "w3.csv").write_text("x;y;z\n" + rows, encoding="utf-8")
    return checked(folder, ', seen_from = "-y"')


def in_plane(folder, rows, head="x;y;depth;landing"):
    (folder / "w3.csv").write_text("\n".join((head, *rows)) + "\n", encoding="utf-8")
    return checked(folder, "")


def checked(folder, more):
    path = folder / "job.toml"
    path.write_text(JOB.format(more=more), encoding="utf-8")
    job = read_job(path)
    return check_pane(job, job.panes[0])


def finding(check, name):
    return next(each for each in check.findings if each.name == name)


def test_a_curved_hull_fails_and_is_not_averaged(tmp_path):
    """A cylinder that rises 13 mm over 1400: chord and sagitta give its radius."""
    radius = (700**2 + 13**2) / (2 * 13)
    check = in_space(tmp_path, lambda x, y: math.sqrt(radius**2 - (x - 700) ** 2) - (radius - 13))
    found = finding(check, FLAT)
    assert found.verdict is Verdict.FAIL
    assert found.value == pytest.approx(13.0, abs=0.2)
    assert found.limit == pytest.approx(check.subject.sizes.bond_thickness.value / 3)
    assert "rise 13 mm over 1400 along" in found.says
    assert any("bent" in remedy.sentence for remedy in found.remedies)
    assert finding(check, "no point of the survey stands out").verdict is Verdict.PASS


def test_a_twist_within_a_third_of_the_bond_passes(tmp_path):
    """Twist 3 mm at the fourth corner: each corner of a rectangle lies a quarter of it off the plane, so 1.5 mm of warp."""
    check = in_space(tmp_path, lambda x, y: 3.0 * (x / 1400) * (y / 700))
    found = finding(check, FLAT)
    assert found.value == pytest.approx(1.5, abs=0.15) and found.verdict is Verdict.PASS
    assert "twist 3 mm at the fourth corner" in found.says


def test_a_slip_is_named_with_its_line(tmp_path):
    check = in_space(tmp_path, lambda x, y: 9.0 if (x, y) == (500.0, 0.0) else 0.0)
    found = finding(check, "no point of the survey stands out")
    assert found.verdict is Verdict.LOOK and found.value == 1
    assert "line 7 of w3.csv stands 9 mm out of the plane" in found.says  # the sixth point, below the heads
    assert finding(check, FLAT).verdict is Verdict.PASS


def test_stations_are_close_or_not(tmp_path):
    assert finding(in_space(tmp_path, lambda x, y: 0.0), "stations of the survey close enough").value == pytest.approx(100.0)
    four = in_plane(tmp_path, ["0;0;;", "1000;0;;", "1000;700;;", "0;700;;"])
    found = finding(four, "stations of the survey close enough")
    assert found.verdict is Verdict.LOOK and found.value == pytest.approx(1000.0)


DEEP = [
    "0;0;16;44", "500;0;16,4;44", "1000;0;16;44", "1000;350;15,6;44", "1000;700;16;44", "500;700;16;{wide}", "0;700;16;44", "0;350;{deep};44",
]  # fmt: skip


def test_depths_give_the_flush_face_and_the_spacers(tmp_path):
    rows = [row.format(wide="44", deep="16") for row in DEEP]
    check = in_plane(tmp_path, rows)
    sizes = check.subject.sizes
    mean = (16 * 6 + 16.4 + 15.6) / 8
    assert sizes.recess_depth.value == pytest.approx(mean) and "mean of 8 surveyed, 15.6 to 16.4" in sizes.recess_depth.reason
    recess = surveyed_recess_of(check.subject)
    bond, glass = sizes.bond_thickness.value, 10.0
    proud = bond + glass - mean
    for station, depth in zip(recess.stations, (16, 16.4, 16, 15.6, 16, 16, 16, 16), strict=True):
        assert station.flush == pytest.approx(bond + glass - depth)
        assert station.bond == pytest.approx(depth - glass + proud)  # glass as proud as drawn
        assert station.spacer == pytest.approx(station.bond / 0.95, abs=0.01)  # 5 % of squeeze, the default of the job
    low = next(each for each in recess.spacers if each.depth == max(s.depth for s in recess.spacers))
    at = next(each.centre for each in check.subject.detail.spacers if each.mark == low.mark)
    # on the sill the depth falls evenly from 16.4 at X 500 to 16 at either corner
    assert low.depth == pytest.approx(16.4 - 0.4 * abs(at.x - 500) / 500, abs=1e-3) and at.y < 50
    proud_found = finding(check, "glass not too proud at any surveyed station")
    spread = 0.5 + 0.3  # spacers ±0.5 mm and a ply of 10 mm ±0.3 mm, from the register of tolerances
    assert proud_found.value == pytest.approx(bond + glass - 15.6 + spread) and proud_found.at == pytest.approx((1000 - 8, 350))  # on the glass edge beside it


def test_a_shallow_place_leaves_no_bond(tmp_path):
    check = in_plane(tmp_path, [row.format(wide="44", deep="11") for row in DEEP])
    found = finding(check, "bond left where the surveyed recess is shallowest")
    mean = round((16 * 5 + 16.4 + 15.6 + 11) / 8, 2)
    assert found.value == pytest.approx(11 - mean + check.subject.sizes.bond_thickness.value)
    assert found.verdict is Verdict.FAIL and "line 9" in found.where


def test_a_narrow_landing_fails_where_it_was_measured(tmp_path):
    good = in_plane(tmp_path, [row.format(wide="44", deep="16") for row in DEEP])
    name = "bead and its squeeze-out on the landing at every surveyed station"
    assert finding(good, name).verdict is Verdict.PASS
    bad = in_plane(tmp_path, [row.format(wide="25", deep="16") for row in DEEP])
    found, sizes = finding(bad, name), bad.subject.sizes
    assert found.verdict is Verdict.FAIL and found.at == pytest.approx((500, 700 - 8)) and "line 7" in found.where
    assert found.value == pytest.approx(25 - 8 - sizes.set_back.value - sizes.bond_width.value)
    assert sizes.landing.value == 25 and "the least of 8 surveyed, the widest 44" in sizes.landing.reason


def test_a_recess_that_was_not_surveyed_has_none_of_these():
    job = job_of('[[pane]]\ncode = "X"\nframe = "grp"\nglass = { plies = [8] }\noutline = { rectangle = [900, 450] }\n')
    detail = build_detail(job, job.panes[0])
    assert surveyed_recess_of(Subject(job, job.panes[0], detail)) is None
    assert not [each for each in check_pane(job, job.panes[0], detail).findings if "survey" in each.name]


def test_a_fault_of_the_survey_is_a_fault_of_the_job(tmp_path):
    (tmp_path / "w3.csv").write_text("x;y\n0;0\n1000;o\n1000;700\n0;700\n", encoding="utf-8")
    (tmp_path / "job.toml").write_text(JOB.format(more=""), encoding="utf-8")
    with pytest.raises(JobError, match=r"^w3\.csv, line 3, column 6: pane 1 \(X\), outline\.survey: y is “o”"):
        read_job(tmp_path / "job.toml")


def test_the_measured_wall_is_the_recess_and_the_fitted_line_makes_the_pane(tmp_path):
    """A sill that sags 2 mm in its middle: the pane's sill is straight, the joint is read off the points."""
    rows = ["0;0;;", "250;-1,5;;", "500;-2;;", "750;-1,5;;", "1000;0;;", "1000;700;;", "0;700;;"]
    check = in_plane(tmp_path, rows)
    job_wall = [(round(v.x, 6), round(v.y, 6)) for v in check.subject.pane.recess_outline.vertices]
    assert (500.0, -2.0) in job_wall
    glass = check.subject.detail.curves.glass
    assert len(glass.vertices) == 4
    assert check.subject.sizes.joint_width.value == 8


def test_the_other_hand_has_the_mirrored_wall_and_is_to_be_surveyed(tmp_path):
    rows = [row.format(wide="44", deep="16") for row in DEEP]
    rows[4] = "1010;700;16;44"  # not the same to the left and to the right
    in_plane(tmp_path, rows)
    text = JOB.format(more="").replace('code = "X"', 'code = "X"\nside = "starboard"\nhand = "port and starboard"')
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    job = read_job(tmp_path / "job.toml")
    one, other = (check_pane(job, pane) for pane in job.panes)
    assert {(round(-v.x, 6), round(v.y, 6)) for v in one.subject.pane.recess_outline.vertices} == {
        (round(v.x, 6), round(v.y, 6)) for v in other.subject.pane.recess_outline.vertices
    }
    for mine, theirs in zip(
        surveyed_recess_of(one.subject).stations, surveyed_recess_of(other.subject).stations, strict=True
    ):
        assert (mine.at.x, mine.joint, mine.landing_inside) == pytest.approx((-theirs.at.x, theirs.joint, theirs.landing_inside))
    name = "the recess itself was surveyed"
    assert finding(other, name).verdict is Verdict.LOOK and name not in {each.name for each in one.findings}


def test_a_corner_whose_radius_is_given_has_its_joint_at_the_rounding():
    """By hand: the glass is the recess less 9 mm all round, so in a corner that is put in the joint is 9, not the way to a sharp point."""
    job = read_job(Path(__file__).parents[3] / "samples" / "from-survey.toml")
    found = surveyed_recess_of(Subject(job, job.panes[0], build_detail(job, job.panes[0])))
    in_corners = [each.joint for each in found.stations if each.name in ("1", "4", "7", "10")]
    assert in_corners == pytest.approx([9.0] * 4, abs=0.25)
