"""Both hands of a pane: the mirror image is the same pane on the other side of the vessel, under the same names."""

from __future__ import annotations

import math

import pytest
from shapely.affinity import scale, translate

from geometry.detail.build import build_detail
from geometry.detail.edges import edges_of
from geometry.findings.check import check_pane
from geometry.job import JobError, read_job
from geometry.job.reading import job_of
from geometry.outline import corners
from geometry.outline.regions import to_polygon
from outputs.commands.proposed_job import proposed_text

HEAD = """
[[pane]]
code = "W3"
frame = "aluminium"
glass = { plies = [10] }
pressure = { outward = 2, inward = 6 }
"""
FORMS = {
    "rectangle": "outline = { rectangle = [900, 450], radius = [40, 50, 60, 70] }\nchocks = { at = [200, 600] }",
    "polygon": "outline = { polygon = [[0, 0], [1100, 0], [980, 520], [60, 600]], radius = [40, 50, 60, 70] }\nchocks = { at = [200, 800] }",
    "cut-out": "outline = { polygon = [[0, 0], [1100, 0], [1100, 300], [700, 300], [700, 600], [0, 600]], radius = [40, 50, 60, 30, 60, 70] }",
    "path": "outline = { path = [[0, 0], [800, 0, 0.41421356237309503], [900, 100], [900, 400], [0, 300]] }\nstraps = [[100, 200], [700, 300]]",
    "ellipse": "outline = { ellipse = [700, 400] }",
    "inches": 'outline = { rectangle = ["36 in", 450] }\nchocks = { at = ["8 in", 600] }',
    "patch": "outline = { rectangle = [900, 450] }\nrake = 90\nloads = { patch = { force = 600, x = 200, y = 200, width = 100 } }",
    "recess": "recess = { outline = { rectangle = [900, 450], radius = [40, 50, 60, 70] } }\njoint = { width = 6 }\nchocks = { at = [200, 600] }",
}


def both(form: str, side: str = "port"):
    job = job_of(f'{HEAD}side = "{side}"\nhand = "port and starboard"\n{FORMS[form]}\n')
    return job, *job.panes


@pytest.mark.parametrize("form", FORMS)
def test_the_other_hand_is_the_mirror_image(form):
    """Shapely turns the typed pane over about the upright line through its centroid; nothing of the other hand may differ from that."""
    _, port, starboard = both(form)
    one, other = to_polygon(port.glass_outline), to_polygon(starboard.glass_outline)
    turned = scale(one, -1.0, 1.0, origin="centroid")
    turned = translate(turned, other.centroid.x - turned.centroid.x, other.centroid.y - turned.centroid.y)
    assert turned.symmetric_difference(other).area < 1e-6 * one.area
    assert (port.code, starboard.code, port.side, starboard.side) == ("W3-P", "W3-S", "port", "starboard")
    assert (port.forward_on_plan, starboard.forward_on_plan) in {("left", "right"), (None, None)}
    assert (port.pair, starboard.pair, port.hand, starboard.hand) == ("W3-S", "W3-P", None, None)


@pytest.mark.parametrize("form", FORMS)
def test_corners_and_edges_keep_their_names(form):
    _, port, starboard = both(form)
    here = {corner.number: corner for corner in corners(port.glass_outline)}
    there = {corner.number: corner for corner in corners(starboard.glass_outline)}
    assert here.keys() == there.keys()
    across = {round(here[number].theoretical.x + there[number].theoretical.x, 6) for number in here}
    assert len(across) <= 1
    for number, corner in here.items():
        assert corner.theoretical.y == pytest.approx(there[number].theoretical.y, abs=1e-9)
        assert (corner.radius, corner.interior_angle) == pytest.approx((there[number].radius, there[number].interior_angle))
    lengths = [{edge.name: edge.straight for edge in edges_of(pane.glass_outline)} for pane in (port, starboard)]
    assert lengths[0].keys() == lengths[1].keys()
    assert [lengths[1][name] for name in lengths[0]] == pytest.approx(list(lengths[0].values()))


@pytest.mark.parametrize("form", FORMS)
def test_both_hands_give_the_same_findings(form):
    """What holds of a pane holds of its mirror image: every value, limit and verdict."""
    job, port, starboard = both(form)
    one, other = check_pane(job, port), check_pane(job, starboard)
    for mine, theirs in zip(one.findings, other.findings, strict=True):
        assert (mine.name, mine.verdict) == (theirs.name, theirs.verdict)
        for figure in ("value", "limit"):
            here, there = getattr(mine, figure), getattr(theirs, figure)
            assert (here is None and there is None) or here == pytest.approx(there, rel=1e-6, abs=1e-6), mine.name


@pytest.mark.parametrize("form", [name for name in FORMS if name != "patch"])
def test_blocks_and_straps_are_mirrored(form):
    """Every block stands where its mirror image stood, under its own mark."""
    job, port, starboard = both(form)
    one, other = build_detail(job, port), build_detail(job, starboard)
    across = one.centroid.x + other.centroid.x
    here = {chock.mark: chock.foot for chock in one.chocks} | {spacer.mark: spacer.centre for spacer in one.spacers}
    there = {chock.mark: chock.foot for chock in other.chocks} | {spacer.mark: spacer.centre for spacer in other.spacers}
    assert here.keys() == there.keys()
    for mark, (x, y) in here.items():
        assert math.dist((across - x, y), there[mark]) < 1e-6, mark
    assert [(round(across - x, 6), y) for x, y in port.straps or ()] == [(round(x, 6), y) for x, y in starboard.straps or ()]


def test_a_starboard_pane_may_be_the_one_typed():
    _, starboard, port = both("polygon", "starboard")
    assert (starboard.code, port.code, port.side) == ("W3-S", "W3-P", "port")
    assert not starboard.outline.mirrored
    assert port.outline.mirrored


def test_typed_panes_stand_before_the_other_hands():
    more = '[[pane]]\ncode = "W4"\nframe = "steel"\nglass = { plies = [8] }\noutline = { circle = 400 }\n'
    job = job_of(f'{HEAD}side = "port"\nhand = "port and starboard"\n{FORMS["polygon"]}\n{more}')
    assert [pane.code for pane in job.panes] == ["W3-P", "W4", "W3-S"]


@pytest.mark.parametrize(
    ("typed", "line", "found"),
    [
        ('hand = "port and starboard"\n', 7, "side is left out"),
        ('hand = "port and starboard"\nside = "centre"\n', 7, "found side centre"),
        ('hand = "port and starboard"\nside = "port"\npair = "W4"\n', 7, "found pair beside it"),
        ('hand = "both"\nside = "port"\n', 7, "both"),
        ('pair = "W9"\n', 7, "W9"),
        ('side = "port"\nhand = "port and starboard"\nbond = { width = -4 }\n', 9, "-4"),
    ],
)
def test_what_cannot_be_a_pair_is_told_once_with_its_line(typed, line, found):
    with pytest.raises(JobError) as caught:
        job_of(HEAD + typed + FORMS["rectangle"] + "\n")
    (problem,) = caught.value.problems
    assert problem.line == line
    assert found in str(problem)


def two(second: str, side: str = "starboard", pair: str = "") -> str:
    return f"""{HEAD.replace("W3", "W3P")}side = "port"\n{FORMS["polygon"]}
{HEAD.replace("W3", "W3S")}side = "{side}"\n{pair}{second}\n"""


def test_a_pair_that_is_no_mirror_image_fails():
    """An unmirrored starboard pane: both typed with the same points."""
    job = job_of(two(FORMS["polygon"]))
    for pane, other in zip(job.panes, reversed(job.panes), strict=True):
        finding = next(each for each in check_pane(job, pane).findings if each.name.startswith("mirror image"))
        assert finding.verdict.value == "fail"
        assert f"that of {other.code} as it stands" in finding.says
        cured = [remedy for remedy in finding.remedies if remedy.changes]
        assert cured, "mirroring the outline cures it"
    mirrored = FORMS["polygon"].replace("radius", "mirrored = true, radius")
    job = job_of(two(mirrored.replace("200, 800", "-800, -200")))
    finding = next(each for each in check_pane(job, job.panes[1]).findings if each.name.startswith("mirror image"))
    assert (finding.verdict.value, finding.value) == ("pass", pytest.approx(0.0, abs=1e-6))


def test_how_far_a_pair_is_off_is_measured():
    """One edge 2 mm out moves the centroid by 1: the greatest distance lies between 1 and 2 mm (by hand)."""
    job = job_of(
        f'{HEAD.replace("W3", "A")}side = "port"\noutline = {{ rectangle = [900, 450] }}\n'
        f'{HEAD.replace("W3", "B")}side = "starboard"\npair = "A"\noutline = {{ rectangle = [902, 450] }}\n'
    )
    for pane in job.panes:  # the one that is named knows of it too
        finding = next(each for each in check_pane(job, pane).findings if each.name.startswith("mirror image"))
        assert finding.value == pytest.approx(1.0, abs=1e-9)
        assert finding.verdict.value == "fail"


def test_two_panes_on_one_side_are_no_pair():
    with pytest.raises(JobError, match="both are port"):
        job_of(two(FORMS["polygon"], side="port", pair='pair = "W3P"\n'))
    job = job_of(two(FORMS["polygon"], side="port"))
    assert not any(each.name.startswith("mirror image") for each in check_pane(job, job.panes[0]).findings)


def test_a_proposal_changes_the_pane_that_is_typed(tmp_path):
    text = f'{HEAD}side = "port"\nhand = "port and starboard"\n{FORMS["polygon"]}\n'
    path = tmp_path / "job.toml"
    path.write_text(text)
    job = read_job(path)
    changed = proposed_text(text, [check_pane(job, pane, plan=True) for pane in job.panes])
    assert changed != text
    assert "mirrored" not in changed
    again = job_of(changed)
    assert [pane.code for pane in again.panes] == ["W3-P", "W3-S"]
