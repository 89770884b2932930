"""Outlines that a job names in a drawing, and panes that follow from the line of a recess or a daylight opening."""

from __future__ import annotations

import io
import math
import os
import shutil

import ezdxf
import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import JobError, job_of, read_job, read_stream, with_changes
from geometry.job.mark import mark_of
from geometry.outline.loop import Arc, segments
from geometry.outline.measure import area, bounding_box, perimeter
from geometry.outline.shapes import polygon, rectangle
from geometry.outline.stations import distance_from
from outputs.record.data import outline_data, pane_data, plain
from outputs.sheets.words import files_outside, notes, outline_notes

HEAD = 'code = "P1"\nframe = "aluminium"\nglass = { plies = [10] }\n'


def pane_text(outline, more=""):
    return (
        f"{more}\n[[pane]]\n{HEAD}outline = {outline}\n"
        if more.startswith("[")
        else f"[[pane]]\n{HEAD}outline = {outline}\n{more}\n"
    )


def drawn(folder, name, *outlines, far=0.0, turned=(), ellipse=None, circle=None):
    """A drawing of outlines, each a tuple of layer and outline, exploded into lines and arcs."""
    doc = ezdxf.new("R2010", units=4)
    space = doc.modelspace()
    for layer, outline in outlines:
        at = {"layer": layer}
        for part in reversed(segments(outline)):
            if isinstance(part, Arc):
                start, end = (math.degrees(math.atan2(p.y - part.centre.y, p.x - part.centre.x)) for p in (part.start, part.end))
                if part.bulge < 0:
                    start, end = end, start
                space.add_arc((part.centre.x + far, part.centre.y), part.radius, start, end, dxfattribs=at)
            else:
                space.add_line((part.end.x + far, part.end.y), (part.start.x + far, part.start.y), dxfattribs=at)
    if ellipse is not None:
        space.add_ellipse(*ellipse)
    if circle is not None:
        space.add_circle(*circle)
    folder.mkdir(parents=True, exist_ok=True)
    doc.saveas(folder / name)


def job_in(folder, outline, more=""):
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / "job.toml"
    path.write_text(pane_text(outline, more), encoding="utf-8")
    return read_job(path)


def figures(job):
    """Everything that a check finds but where the outline comes from."""
    pane = job.panes[0]
    data = pane_data(check_pane(job, pane, build_detail(job, pane), plate=False))
    data.pop("mark")
    notes = data.pop("outline_notes")
    source = data["outline"].pop("source")
    for finding in data["findings"]:
        finding.pop("remedies")  # a corner radius can be changed in the job file only where it is typed there
    return plain(data), source, notes


def unlike(one, two, path=""):
    """Where two answers differ by more than rounding: written with all their digits, a drawing's angles are rounded once more."""
    if isinstance(one, dict) and isinstance(two, dict) and one.keys() == two.keys():
        return [each for key in one for each in unlike(one[key], two[key], f"{path}.{key}")]
    if isinstance(one, list) and isinstance(two, list) and len(one) == len(two):
        return [each for i, (a, b) in enumerate(zip(one, two, strict=True)) for each in unlike(a, b, f"{path}[{i}]")]
    if isinstance(one, float) and isinstance(two, float):
        return [] if math.isclose(one, two, rel_tol=1e-9, abs_tol=1e-9) else [(path, one, two)]
    return [] if one == two else [(path, one, two)]


@pytest.mark.parametrize(
    "typed",
    [
        "{ rectangle = [1200, 600], radius = 60 }",
        "{ rectangle = [900, 450] }",
        "{ polygon = [[0, 0], [900, 30], [800, 500]], radius = 40 }",
    ],
)
def test_the_same_outline_drawn_gives_the_same_figures(tmp_path, typed):
    one = job_in(tmp_path, typed)
    drawn(tmp_path, "deck.dxf", ("Glass", one.panes[0].glass_outline), ("OTHER", rectangle(5000, 3000)))
    other = job_in(tmp_path, '{ drawing = "deck.dxf", layer = "GLASS" }')
    (first, source, notes), (second, drawn_source, drawn_notes) = figures(one), figures(other)
    assert unlike(first, second) == []
    assert source.startswith("typed: ") and notes == []
    assert drawn_source == "deck.dxf, layer GLASS, in mm by its header"
    assert drawn_notes == ["Outline of the glass from deck.dxf, layer GLASS, in mm by its header."]


def test_a_circle_and_an_ellipse_drawn_give_the_same_figures(tmp_path):
    drawn(tmp_path, "round.dxf", circle=((210, 210), 210))
    drawn(tmp_path, "oval.dxf", ellipse=((350, 200), (350, 0), 200 / 350))
    for typed, name in (("{ circle = 420 }", "round.dxf"), ("{ ellipse = [700, 400] }", "oval.dxf")):
        one, two = (figures(job_in(tmp_path, outline))[0] for outline in (typed, f'{{ drawing = "{name}" }}'))
        assert unlike(one, two) == []


def test_the_answer_for_a_machine_tells_size_box_source_mended_and_deviation(tmp_path):
    drawn(tmp_path, "deck.dxf", ("GLASS", rectangle(1200, 600, radius=60)), far=5000)
    found = outline_data(job_in(tmp_path, '{ drawing = "deck.dxf" }').panes[0])
    assert found["area_mm2"] == pytest.approx(1200 * 600 - (4 - math.pi) * 60**2)
    assert found["perimeter_mm"] == pytest.approx(2 * (1080 + 480) + 2 * math.pi * 60)
    assert found["box_mm"] == pytest.approx([5000, 0, 6200, 600])
    assert (found["mended"], found["deviation_mm"]) == ([], 0)
    typed = outline_data(job_in(tmp_path, "{ ellipse = [700, 400] }").panes[0])
    assert 0 < typed["deviation_mm"] <= 0.01 and typed["source"] == "typed: ellipse"


def test_a_pane_far_off_counts_from_its_lower_left_corner(tmp_path):
    drawn(tmp_path, "deck.dxf", ("GLASS", rectangle(1200, 600, radius=60)), far=4e7)
    job = job_in(tmp_path, '{ drawing = "deck.dxf", of = "recess" }', "joint = { width = 6 }")
    detail = build_detail(job, job.panes[0])
    assert detail.origin.name.startswith("sharp corner V1")
    assert area(detail.curves.glass) == pytest.approx(1188 * 588 - (4 - math.pi) * 54**2, rel=1e-9)


# ---- which line it is


CASES = {
    "rectangle": ("{{ rectangle = [900, 450], radius = 50{} }}", rectangle(900, 450, radius=50)),
    "polygon": (
        "{{ polygon = [[0, 0], [900, 30], [800, 500]], radius = 60{} }}",
        polygon([(0, 0), (900, 30), (800, 500)], radii=60),
    ),
}


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("by_drawing", [False, True])
def test_the_glass_of_a_recess_and_of_a_daylight_opening(tmp_path, case, by_drawing):
    """Steiner's formula for parallel curves of convex shapes: A ± P d + π d², P ± 2 π d."""
    text, line = CASES[case]
    drawn(tmp_path, "line.dxf", ("L", line))
    for of, more, by in (
        ("recess", "joint = { width = 7 }", -7),
        ("daylight", "joint = { width = 6 }\nrecess = { landing = 40 }", 34),
    ):
        ask = f', of = "{of}"'
        job = job_in(tmp_path, f'{{ drawing = "line.dxf"{ask} }}' if by_drawing else text.format(ask), more)
        glass = job.panes[0].glass_outline
        assert area(glass) == pytest.approx(area(line) + by * perimeter(line) + math.pi * by**2)
        assert perimeter(glass) == pytest.approx(perimeter(line) + 2 * math.pi * by)
        pane = job.panes[0]
        assert pane.outline_worked_out and pane.follows_from == of
        detail = build_detail(job, pane)
        assert bounding_box(detail.curves.recess).width == pytest.approx(bounding_box(line).width + (0 if of == "recess" else 80))
        assert any(
            ("recess as given" if of == "recess" else "daylight opening as given") in note for note in outline_notes(detail)
        )


def test_a_circle_and_an_ellipse_as_other_lines(tmp_path):
    job = job_in(tmp_path, '{ circle = 400, of = "recess" }', "joint = { width = 6 }")
    assert job.panes[0].outline.shape == "circle" and job.panes[0].outline.circle == 388
    job = job_in(tmp_path, '{ circle = 400, of = "daylight" }', "joint = { width = 6 }\nrecess = { landing = 30 }")
    assert job.panes[0].outline.circle == 448
    job = job_in(tmp_path, '{ ellipse = [700, 400], of = "recess" }', "joint = { width = 6 }")
    assert min(distance_from(job.panes[0].outline.as_typed, part.start) for part in segments(rectangle(1, 1))) > 0
    assert bounding_box(job.panes[0].outline.as_typed).width == pytest.approx(688, abs=1e-3)


def test_a_pane_as_large_as_no_pane_is_told_of_its_unit(tmp_path):
    drawn(tmp_path, "deck.dxf", ("GLASS", rectangle(900, 450)))
    with pytest.raises(JobError, match=r"900000 × 450000 mm; allowed: 10 to 20000 mm each way; units of the outline says"):
        job_in(tmp_path, '{ drawing = "deck.dxf", units = "m" }')


def test_a_rounding_tighter_than_the_joint_is_told(tmp_path):
    job = job_in(tmp_path, '{ rectangle = [900, 450], radius = [4, 50, 50, 50], of = "recess" }', "joint = { width = 6 }")
    notes = outline_notes(build_detail(job, job.panes[0]))
    assert "V1 of the recess has R 4, less than the joint of 6: the glass is sharp there and the joint wider." in notes
    assert job.panes[0].outline.radius == (0, 44, 44, 44)


def test_sharp_corners_of_a_daylight_opening_are_followed_and_told(tmp_path):
    job = job_in(tmp_path, '{ rectangle = [900, 450], of = "daylight" }', "joint = { width = 6 }\nrecess = { landing = 40 }")
    notes = outline_notes(build_detail(job, job.panes[0]))
    assert any("the glass has R 34 there" in note for note in notes)
    assert job.panes[0].outline.rectangle == (968, 518) and job.panes[0].outline.radius == 34


@pytest.mark.parametrize(
    ("of", "more", "said"),
    [
        ("recess", "", "line 6: pane 1 (P1), joint.width: the glass is to be worked out from the line of the recess, and joint.width is missing"),
        ("daylight", "joint = { width = 6 }", "recess.landing: the glass is to be worked out from the line of the daylight opening, and recess.landing is"),
        ("daylight", "", "and joint.width and recess.landing are missing; allowed: joint.width and recess.landing, or the outline of the glass"),
        ("daylight", "joint = { width = 12 }\nrecess = { landing = 12 }", "leaves no glass on the landing"),
        ("recess", "joint = { width = 6 }\nrecess = { outline = { circle = 300 } }", 'found of = "recess" beside recess.outline'),
        ("recess", "joint = { width = 6 }\nrecess = { radius = 8 }", 'found recess.radius beside of = "recess"'),
        ("glass", 'frit = { outline = { circle = 300, of = "recess" } }', "frit.outline.of: found of = recess in the outline of the print"),
        ("recess", "joint = { width = 300 }", "a joint of 300 mm inside the outline of the recess leaves no glass"),
        ("wall", "", "outline.of: found 'wall'; allowed: one of glass, recess, daylight"),
    ],
)  # fmt: skip
def test_what_is_needed_for_a_line_that_is_not_the_glass(tmp_path, of, more, said):
    with pytest.raises(JobError) as refused:
        job_in(tmp_path, f'{{ rectangle = [900, 450], of = "{of}" }}', more)
    assert said.replace("'", '"') in str(refused.value).replace("'", '"') or ("line 6" in said and said[8:] in str(refused.value))


def test_shared_sizes_of_the_vessel_serve_and_a_shared_radius_does_not_stand_in_the_way(tmp_path):
    job = job_in(
        tmp_path, '{ rectangle = [900, 450], of = "recess" }', "[joint]\nwidth = 6\n[recess]\nradius = 12\nlanding = 40\n"
    )
    assert job.panes[0].outline.rectangle == (888, 438)


def test_a_change_of_the_joint_moves_the_glass_that_follows_from_it(tmp_path):
    drawn(tmp_path, "line.dxf", ("L", rectangle(900, 450, radius=50)))
    for outline in ('{ rectangle = [900, 450], radius = 50, of = "recess" }', '{ drawing = "line.dxf", of = "recess" }'):
        job = job_in(tmp_path, outline, "joint = { width = 6 }")
        changed = with_changes(job, "P1", {"joint.width": 8.0})
        assert bounding_box(changed.panes[0].outline.as_typed).width == pytest.approx(884)
        again = with_changes(changed, "P1", {"bond.width": 14.0})
        assert bounding_box(again.panes[0].outline.as_typed).width == pytest.approx(884)
        assert again.panes[0].follows_from == "recess" and again.panes[0].recess_outline is not None


# ---- files


def test_a_change_never_reads_the_file_again(tmp_path):
    drawn(tmp_path, "deck.dxf", ("GLASS", rectangle(900, 450)))
    job = job_in(tmp_path, '{ drawing = "deck.dxf" }')
    (tmp_path / "deck.dxf").unlink()
    for changes in ({"frit.width": 47.0}, {"code": "P2"}, {"outline": {"drawing": "deck.dxf"}}, {"adhesive.pack": 300.0}):
        changed = with_changes(job, "P1", changes)
        assert changed.panes[0].glass_outline == job.panes[0].glass_outline


def test_the_mark_hangs_on_the_outline_and_not_on_the_file(tmp_path):
    drawn(tmp_path, "deck.dxf", ("GLASS", rectangle(900, 450)))
    first = job_in(tmp_path, '{ drawing = "deck.dxf" }')
    os.utime(tmp_path / "deck.dxf", (1, 1))
    shutil.copy(tmp_path / "deck.dxf", tmp_path / "renamed.dxf")
    second = job_in(tmp_path, '{ drawing = "renamed.dxf" }')
    drawn(tmp_path, "deck.dxf", ("GLASS", rectangle(900, 451)))
    third = job_in(tmp_path, '{ drawing = "deck.dxf" }')
    marks = [mark_of(job, job.panes[0]) for job in (first, second, third)]
    assert marks[0] == marks[1] != marks[2]


def test_a_file_outside_the_folder_of_the_job_is_read_and_named(tmp_path):
    drawn(tmp_path / "drawings", "deck.dxf", ("GLASS", rectangle(900, 450)))
    folder = tmp_path / "jobs"
    folder.mkdir()
    os.symlink(tmp_path / "drawings" / "deck.dxf", folder / "link.dxf")
    for name in ("../drawings/deck.dxf", str(tmp_path / "drawings" / "deck.dxf"), "link.dxf"):
        job = job_in(folder, f'{{ drawing = "{name}" }}')
        said = f"reads {name}, outside the job's folder"
        assert outline_data(job.panes[0])["mended"] == [said]
        assert outline_notes(build_detail(job, job.panes[0]))[0].endswith(", outside the job's folder.")
    drawn(folder / "own", "deck.dxf", ("GLASS", rectangle(900, 450)))
    assert outline_data(job_in(folder, '{ drawing = "own/../own/deck.dxf" }').panes[0])["mended"] == []


def test_office_defaults_outside_the_folder_of_the_job_are_named(tmp_path):
    for name, outside in (("../office.toml", True), ("office.toml", False), ("../jobs/office.toml", False)):
        folder = tmp_path / "jobs"
        folder.mkdir(exist_ok=True)
        (folder / name).write_text("joint = { width = 7 }\n", encoding="utf-8")
        (folder / "job.toml").write_text(f'defaults = "{name}"\n{pane_text("{ rectangle = [900, 450] }")}', encoding="utf-8")
        job = read_job(folder / "job.toml")
        detail = build_detail(job, job.panes[0])
        said = (f"Office's defaults: reads {name}, outside the job's folder.",) if outside else ()
        assert files_outside(detail) == said
        data = pane_data(check_pane(job, job.panes[0], detail, plate=False))
        assert data["files_outside"] == list(said)
        assert [each for each in notes(detail, origin="O") if "defaults" in each] == list(said)


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("none.dxf", "there is no file none.dxf"),
        ("folder", "folder is a folder"),
        ("pipe", "pipe is not an ordinary file"),
        ("", "an empty name"),
    ],
)
def test_what_cannot_be_read_is_told_in_one_sentence_with_file_line_and_key(tmp_path, name, said):
    (tmp_path / "folder").mkdir()
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(JobError) as refused:
        job_in(tmp_path, f'{{ drawing = "{name}" }}')
    (problem,) = refused.value.problems
    assert (problem.line, problem.key, problem.pane) == (5, "pane 1 (P1), outline.drawing", "P1")
    assert said in problem.found and "\n" not in problem.sentence


@pytest.mark.parametrize(
    ("outline", "key", "said"),
    [
        ('{ rectangle = [900, 450], layer = "GLASS" }', "outline.layer", "found layer beside rectangle; allowed: layer only with drawing"),
        ('{ circle = 400, units = "in" }', "outline.units", "found units beside circle"),
        ('{ circle = 400, drawing = "deck.dxf" }', "outline", "found circle and drawing"),
        ('{ drawing = "deck.dxf", units = "inch" }', "outline.units", "allowed: one of mm, cm, m, in, ft"),
        ('{ drawing = "deck.dxf", gap = 50 }', "outline.gap", "at most 10 mm"),
        ('{ drawing = "deck.dxf", layer = "GLAS" }', "outline.layer", "did you mean GLASS"),
        ('{ drawing = "deck.dxf", at = [5, 5, 5, 5] }', "outline.at", "2 to 3"),
        ('{ survey = "w3.csv" }', "outline.survey", ""),
    ],
)  # fmt: skip
def test_keys_of_a_drawing_are_judged_with_their_line(tmp_path, outline, key, said):
    drawn(tmp_path, "deck.dxf", ("GLASS", rectangle(900, 450)))
    with pytest.raises(JobError) as refused:
        job_in(tmp_path, outline)
    (problem,) = refused.value.problems
    assert problem.key == f"pane 1 (P1), {key}" and problem.line == 5
    assert said in problem.sentence


def test_a_recess_and_a_pane_of_one_drawing_keep_their_places(tmp_path):
    """The pane stands 4 mm off the middle of the recess; seen from inside it stands 4 mm off to the other side."""
    recess = rectangle(920, 470)
    glass = polygon([(14, 10), (914, 10), (914, 460), (14, 460)])
    drawn(tmp_path, "deck.dxf", ("GLASS", glass), ("RECESS", recess), far=300)
    for side, left in (("outside", -14), ("inside", -6)):
        ask = f'drawing = "deck.dxf", seen_from = "{side}"'
        job = job_in(tmp_path, f'{{ {ask}, layer = "glass" }}', f'recess = {{ outline = {{ {ask}, layer = "recess" }} }}')
        pane = job.panes[0]
        assert bounding_box(pane.recess_outline).left - bounding_box(pane.glass_outline).left == pytest.approx(left)


@pytest.mark.parametrize(
    "outline",
    [
        '{ drawing = "deck.dxf" }',
        '{ drawing = "deck.dxf", of = "recess" }',
        '{ rectangle = [900, 450], radius = [10, 50, 20, 30], of = "daylight" }',
        '{ rectangle = [900, 450], radius = [10, 50, 20, 30], of = "recess" }',
    ],
)
def test_both_hands_of_an_outline_that_is_drawn_or_followed(tmp_path, outline):
    """The starboard pane is the mirror image, its corners bear the names of the port one, a chock stands at the mirrored place."""
    drawn(tmp_path, "deck.dxf", ("GLASS", polygon([(0, 0), (900, 40), (820, 500), (10, 430)], radii=[10, 50, 20, 30])), far=700)
    more = 'side = "port"\nhand = "port and starboard"\nchocks = { at = [150, 700] }\njoint = { width = 6 }\nrecess = { landing = 40 }'
    job = job_in(tmp_path, outline, more)
    port, starboard = (build_detail(job, pane) for pane in job.panes)
    assert [pane.code for pane in job.panes] == ["P1-P", "P1-S"]
    assert area(port.curves.glass) == pytest.approx(area(starboard.curves.glass))
    for corner in port.corners:
        (twin,) = (each for each in starboard.corners if each.number == corner.number)
        assert twin.radius == pytest.approx(corner.radius)
    for one, other in ((port, starboard), (starboard, port)):
        box, across = bounding_box(one.curves.glass), bounding_box(other.curves.glass)
        feet = sorted(chock.foot.x - box.left for chock in one.chocks if chock.kind == "setting chock")
        twins = sorted(across.right - chock.foot.x for chock in other.chocks if chock.kind == "setting chock")
        assert feet == pytest.approx(twins)


# ---- a job that is none


@pytest.mark.parametrize(
    ("name", "form"),
    [("deck.dxf", "drawing"), ("Deck.DXF", "drawing"), ("w3.csv", "survey"), ("w3.xlsx", "survey"), ("deck.dwg", "drawing")],
)
def test_a_drawing_or_table_given_as_the_job_is_told_where_it_goes(tmp_path, name, form):
    (tmp_path / name).write_bytes(b"0\nSECTION\n" * 500_000)  # larger than any job
    with pytest.raises(JobError) as refused:
        read_job(tmp_path / name)
    (problem,) = refused.value.problems
    assert "a job file is a text in TOML" in problem.found and "[[pane]]" in problem.found
    assert f"outline = {{ {form} = " in problem.hint and "\n" not in problem.sentence


@pytest.mark.parametrize("data", [b"  0\r\nSECTION\r\n  2\r\nHEADER\r\n", b"999\nmade by hand\n0\nSECTION\n", b"AutoCAD Binary DXF\r\n\x1a\x00", b"PK\x03\x04rest"])  # fmt: skip
def test_the_same_by_its_first_bytes(data):
    with pytest.raises(JobError, match=r"no job file: a job file is a text in TOML.*outline = \{ (drawing|survey) ="):
        read_stream(io.BytesIO(data), file="standard input")


@pytest.mark.parametrize("data", [b"x,y\n0,0\n900,0\n900,450\n", b"sep=;\r\nedge;x;y\r\nsill;0,5;0\r\n", b"# of the yard\n0\t1.5\n", b"AC1032\x00\x00"])  # fmt: skip
def test_a_table_of_points_or_a_drawing_on_the_standard_input(data):
    with pytest.raises(
        JobError, match=r"no job file: a job file is a text in TOML.*outline = \{ (drawing|survey) = \"FILE\."
    ) as refused:
        read_stream(io.BytesIO(data), file="standard input")
    assert len(refused.value.problems) == 1
    with pytest.raises(JobError, match="no job file"):  # larger than any job
        read_stream(io.BytesIO(b"  0\nSECTION\n" + b"999\nx\n" * 300_000), file="standard input")


def test_a_job_with_a_list_of_points_over_lines_is_no_table_of_points():
    text = pane_text("{ polygon = [\n0, 0,\n] }")
    with pytest.raises(JobError) as refused:
        read_stream(io.BytesIO(text.encode()), file="standard input")
    assert "no job file" not in str(refused.value)


def survey_faults(tmp_path, table):
    (tmp_path / "aft.csv").write_text(table, encoding="utf-8")
    with pytest.raises(JobError) as refused:
        job_in(tmp_path, '{ survey = "aft.csv", of = "recess" }', "joint = { width = 9 }\nrake = 200")
    return refused.value.problems


def test_every_fault_of_a_survey_is_a_problem_with_the_line_of_its_own_file(tmp_path):
    first, second, third, own = survey_faults(tmp_path, "edge;x;y\nsill;0;0\nsill;abc;1\nsill;300;nan\nhead;500;\n")
    assert [(each.file, each.line, each.column, each.pane) for each in (first, second, third)] == [
        ("aft.csv", 3, 6, "P1"),
        ("aft.csv", 4, 10, "P1"),
        ("aft.csv", 5, 10, "P1"),
    ]
    assert first.sentence.startswith("aft.csv, line 3, column 6: pane 1 (P1), outline.survey: x is “abc”; allowed: ")
    assert own.file.endswith("job.toml") and own.key == "pane 1 (P1), rake"


def test_of_many_faults_fifty_are_told_and_the_rest_counted(tmp_path):
    problems = survey_faults(tmp_path, "x;y\n" + "a;1\n" * 80)
    assert [each.line for each in problems[:50]] == list(range(2, 52))
    assert problems[50].sentence == "aft.csv: pane 1 (P1), outline.survey: and 30 more" and len(problems) == 52


def test_a_text_read_without_a_folder_looks_here(tmp_path, monkeypatch):
    drawn(tmp_path, "deck.dxf", ("GLASS", rectangle(900, 450)))
    monkeypatch.chdir(tmp_path)
    assert job_of(pane_text('{ drawing = "deck.dxf" }')).panes[0].outline.form == "drawing"
