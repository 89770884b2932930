"""Tables that stand once for the vessel or in the office's defaults: which value holds, where it stands, and every fault of both files."""

from __future__ import annotations

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import quick_findings
from geometry.job import JobError, job_of, with_changes
from geometry.ledger.size import Origin
from geometry.workings.subject import Subject

PANE = '[[pane]]\ncode = "P1"\noutline = { rectangle = [900, 450], radius = 50 }\n'
FULL = PANE + 'frame = "aluminium"\nglass = { plies = [8] }\n'
OFFICE = """\
[adhesive]
pack = 310

[bond]
width = 18
thickness = 6

[limits]
joint_least = 2
"""


@pytest.fixture
def office(tmp_path):
    (tmp_path / "office.toml").write_text(OFFICE)
    return tmp_path


def read(text, folder=None):
    return job_of(text, file="job.toml", folder=folder)


def problems_of(text, folder=None):
    with pytest.raises(JobError) as caught:
        read(text, folder)
    return caught.value.problems


# --- once for the vessel ---


def test_every_table_of_the_pane_may_stand_once_and_a_pane_overrides_single_keys():
    shared = (
        "[glass]\nplies = [6, 6]\ninterlayers = [1.52]\ntreatment = 'annealed'\n[frame]\nmaterial = 'steel'\n[recess]\nfillet = 3\n"
        "[joint]\nwidth = 8\n[bond]\nwidth = 15\nthickness = 6\n[frit]\nfade = 4\n[pressure]\noutward = 3\ninward = 4\n"
    )
    own = (
        PANE.replace("P1", "P2")
        + "bond = { width = 18 }\npressure = { outward = 5 }\nglass = { treatment = 'toughened' }\nframe = 'grp'\n"
    )
    first, second = read(shared + PANE + own).panes
    assert (first.glass.plies, first.glass.treatment, first.frame.material) == ((6.0, 6.0), "annealed", "steel")
    assert (first.recess.fillet, first.joint.width, first.frit.fade) == (3, 8, 4)
    assert (second.bond.width, second.bond.thickness) == (18, 6)
    assert (second.pressure.outward, second.pressure.inward) == (5, 4)
    assert (second.glass.plies, second.glass.treatment, second.frame.material) == ((6.0, 6.0), "toughened", "grp")
    for key in ("bond.width", "bond.thickness", "pressure.inward", "glass.plies", "frame.material"):
        assert second.was_given(key)
    assert second.source_of("bond.set_back") == "worked out"


def test_a_shared_file_is_the_same_job_as_one_that_types_all_in_each_pane():
    shared = read(
        "[bond]\nwidth = 15\n[glass]\nplies = [8]\n[limits]\njoint_least = 2\n"
        + PANE
        + "frame = 'grp'\nbond = { thickness = 6 }\n"
    )
    typed = read(
        PANE + "frame = 'grp'\nbond = { width = 15, thickness = 6 }\nglass = { plies = [8] }\nlimits = { joint_least = 2 }\n"
    )
    assert shared.panes == typed.panes


def test_what_belongs_to_another_key_goes_with_it():
    it = read("[frame]\nmaterial = 'steel'\nexpansion = 11e-6\n" + FULL)
    assert (it.panes[0].frame.material, it.panes[0].frame.expansion) == ("aluminium", None)
    it = read("[recess]\nradius = 60\nfillet = 2\n" + FULL.replace("rectangle = [900, 450], radius = 50", "circle = 400"))
    assert (it.panes[0].recess.radius, it.panes[0].recess.fillet) == (None, 2)


def test_a_fault_of_a_shared_table_is_told_once_where_it_stands():
    (problem,) = problems_of("[bond]\nwidth = true\n" + FULL + FULL.replace("P1", "P2"))
    assert (problem.line, problem.key) == (2, "bond.width")


def test_shared_and_own_keys_that_do_not_go_together_are_refused():
    (problem,) = problems_of("[glass]\nplies = [6, 6]\ninterlayers = [1.52]\n" + FULL)
    assert "1 ply and 1 interlayer" in problem.found
    (problem,) = problems_of("[limits]\njoint_most = 10\n" + FULL + "limits = { joint_least = 12 }\n")
    assert "joint_least 12 is more than joint_most 10" in problem.found and problem.line == 8


def test_a_glass_or_frame_given_nowhere_is_missing():
    assert {problem.key for problem in problems_of(PANE)} == {"pane 1 (P1), glass", "pane 1 (P1), frame"}


@pytest.mark.parametrize("line", ["[recess]\noutline = { circle = 300 }\n", "[frit]\noutline = { circle = 300 }\n"])
def test_outlines_are_those_of_one_pane(line):
    (problem,) = problems_of(line + FULL)
    assert "no such key" in problem.found


# --- the office's defaults ---


def test_own_keys_come_first_then_the_vessels_then_the_offices(office):
    it = read(
        'defaults = "office.toml"\n[bond]\nthickness = 7\n' + FULL + FULL.replace("P1", "P2") + "bond = { width = 20 }\n", office
    )
    first, second = it.panes
    assert (first.bond.width, first.bond.thickness, second.bond.width) == (18, 7, 20)
    assert it.adhesive.pack == 310 and first.limits.joint_least == 2
    assert first.given_by("bond.width") == "office.toml, line 5"
    assert first.given_by("bond.thickness") == second.given_by("bond.width") == ""
    assert it.given_by("adhesive.pack") == "office.toml, line 2"
    assert first.given_by("limits.joint_least") == "office.toml, line 9"
    assert first.was_given("bond.width") and it.was_given("adhesive.pack")


def test_an_origin_reaches_sizes_and_figures_and_no_default_mark_does(office):
    job = read('defaults = "office.toml"\n' + FULL, office)
    detail = build_detail(job, job.panes[0])
    width = detail.sizes.bond_width
    assert (width.origin, width.given_by, width.origin_in_words) == (
        Origin.GIVEN,
        "office.toml, line 5",
        "given by office.toml, line 5",
    )
    assert detail.sizes.joint_width.given_by == ""
    subject = Subject(job, job.panes[0], detail)
    assert subject.given_by("adhesive.pack") == "office.toml, line 2"
    assert not any(
        "limits.joint_least" in finding.defaults or "adhesive.pack" in finding.defaults for finding in quick_findings(subject)
    )


def test_a_type_of_detail_in_the_offices_defaults_is_one_fault_with_what_to_do(office):
    """A type is a section of one vessel. The panes that name it are no faults of their own, another that is nowhere is."""
    (office / "office.toml").write_text("[bond]\nwidth = 18\n[type.B]\nbond.width = 20\n[type.C]\nbond.width = 22\n")
    (problem,) = problems_of(
        'defaults = "office.toml"\n' + FULL + 'type = "B"\n' + FULL.replace("P1", "P2") + 'type = "C"\n', office
    )
    assert (problem.file, problem.line) == ("office.toml", 3)
    assert problem.found == "found the types of detail [type.B], [type.C] in the office's defaults"
    assert problem.allowed.startswith("the same tables in the job file: a type is the section that panes of one vessel")
    found = problems_of('defaults = "office.toml"\n' + FULL + 'type = "D"\n', office)
    assert [(each.file, 'type "D"' in each.found) for each in found] == [("office.toml", False), ("job.toml", True)]


def test_faults_of_the_office_are_told_with_its_own_name_and_lines_together_with_those_of_the_job(office):
    (office / "office.toml").write_text("[bond]\nwidth = 1,5\nthickness = true\n[adhesiv]\npack = 3\n[vessel]\nname = 'x'\n")
    found = problems_of('defaults = "office.toml"\n' + FULL + "rake = 91\n", office)
    assert sorted((problem.file, problem.line) for problem in found) == [
        ("job.toml", 7), ("office.toml", 2), ("office.toml", 3), ("office.toml", 4), ("office.toml", 6)
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("office_text", "words"),
    [
        ('defaults = "other.toml"\n', "name no other file"),
        (FULL, "shared tables alone"),
        ("[vessel]\nname = 'x'\n", "shared tables alone"),
    ],
)
def test_the_office_names_no_other_file_and_holds_no_pane(office, office_text, words):
    (office / "office.toml").write_text(office_text)
    found = problems_of('defaults = "office.toml"\n' + FULL, office)
    assert all(problem.file == "office.toml" for problem in found) and any(words in problem.allowed for problem in found)


@pytest.mark.parametrize("name", ["nowhere.toml", ".", "\\u0000", ""])
def test_an_office_file_that_is_not_there(office, name):
    if name == "":
        assert read('defaults = ""\n' + FULL, office).panes
        return
    found = problems_of(f'defaults = "{name}"\n' + FULL, office)
    assert found and all(problem.found for problem in found)


def test_a_value_changed_for_a_trial_is_no_longer_the_offices(office):
    job = read('defaults = "office.toml"\n' + FULL, office)
    changed = with_changes(job, "P1", {"bond.width": 20.0})
    assert changed.panes[0].given_by("bond.width") == "" and changed.panes[0].given_by("bond.thickness") == "office.toml, line 6"


# --- a glass worked out from its recess ---

RECESS = '[[pane]]\ncode = "P1"\nframe = "aluminium"\nglass = { plies = [8] }\nrecess = { outline = { FORM } }\njoint = { width = 8 }\n'
FORMS = [
    "rectangle = [916, 466], radius = 58",
    "rectangle = [916, 466], radius = [58, 20, 5, 0]",
    "circle = 416",
    "ellipse = [716, 416]",
    "polygon = [[0, 0], [800, 0], [700, 400], [0, 400]], radius = 40",
    "path = [[0, 0], [800, 0, 0.41421356237309503], [900, 100], [900, 400], [0, 400]]",
]


@pytest.mark.parametrize("form", FORMS)
def test_the_glass_is_the_parallel_curve_inside_the_recess(form):
    """Held against shapely's buffer of the recess, whose arcs are chords: the two areas and their distance agree."""
    from shapely.geometry import Polygon

    from geometry.outline import Point
    from geometry.outline.stations import distance_from

    pane = read(RECESS.replace("FORM", form)).panes[0]
    assert pane.source_of("outline") == "worked out" and pane.outline_worked_out
    for outline in (pane.glass_outline, pane.recess_outline):
        assert outline is not None
    glass, recess = (Polygon(_fine(outline)) for outline in (pane.glass_outline, pane.recess_outline))
    by_shapely = recess.buffer(-8, quad_segs=200, join_style="mitre", mitre_limit=50)
    assert glass.symmetric_difference(by_shapely).area < 2e-4 * glass.area
    for x, y in _fine(pane.glass_outline)[::17]:
        assert distance_from(pane.recess_outline, Point(x, y)) == pytest.approx(8, abs=1e-6)


def _fine(outline, pieces=64):
    from geometry.outline import Line, segments

    points = []
    for part in segments(outline):
        count = 1 if isinstance(part, Line) else pieces
        points += [tuple(part.point_at(i / count)) for i in range(count)]
    return points


def test_a_rectangle_stays_a_rectangle_and_its_corners_are_parallel():
    form = read(RECESS.replace("FORM", "rectangle = [916, 466], radius = 58")).panes[0].outline
    assert (form.rectangle, form.radius) == ((900, 450), 50)
    form = read(RECESS.replace("FORM", "circle = 416")).panes[0].outline
    assert form.circle == 400


def test_it_is_the_same_pane_as_the_one_typed_with_both():
    both = RECESS.replace("FORM", FORMS[0]) + "outline = { rectangle = [900, 450], radius = 50 }\n"
    worked, typed = read(RECESS.replace("FORM", FORMS[0])), read(both)
    one, other = (build_detail(job, job.panes[0]) for job in (worked, typed))
    assert one.curves == other.curves and one.spacers == other.spacers and one.chocks == other.chocks
    assert one.glass_from_recess and not other.glass_from_recess
    assert "worked out from the recess" in one.sizes.joint_width.reason and other.sizes.joint_width.reason == ""


def test_another_joint_makes_another_glass():
    job = read(RECESS.replace("FORM", FORMS[0]))
    assert with_changes(job, "P1", {"joint.width": 10.0}).panes[0].outline.rectangle == (896, 446)


def test_a_joint_in_the_shared_table_counts_as_well():
    text = "[joint]\nwidth = 8\n" + RECESS.replace("FORM", FORMS[0]).replace("joint = { width = 8 }\n", "")
    assert read(text).panes[0].outline.rectangle == (900, 450)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("joint = { width = 8 }\n", "", "joint width is missing"),
        ("width = 8", "width = 300", "leaves no glass"),
        ("FORM", "ellipse = [716, 16]", "leaves no glass"),
    ],
)
def test_a_recess_without_a_glass_is_refused(old, new, words):
    text = RECESS.replace(old, new).replace("FORM", FORMS[0])
    (problem,) = problems_of(text)
    assert words in problem.found and problem.line
