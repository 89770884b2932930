"""Outlines that a job names in a STEP file, and where a pane lies on its vessel."""

from __future__ import annotations

import io
import math
import os
import re
import shutil

import pytest
from step_files import FRONT, SAMPLE, Seat, StepFile, rounded

from geometry.detail.build import build_detail
from geometry.detail.on_vessel import landing_on_vessel
from geometry.findings.check import check_pane
from geometry.job import JobError, job_of, read_job, read_stream
from geometry.job.carried import own_job
from geometry.job.mark import mark_of
from geometry.job.placing import OnVessel, on_vessel
from geometry.outline.measure import area, bounding_box
from outputs.record.data import outline_data
from outputs.sheets.words import outline_notes

HEAD = '[[pane]]\ncode = "P1"\nframe = "aluminium"\nglass = { plies = [10] }\n'
GLASS = '{ solid = "deckhouse.step", face = "GLASS" }'
PLACED = "placing = { origin = [1000, 2000, 3000], x = [0, 2, 0], y = [0, 0, 5] }"


@pytest.fixture
def folder(tmp_path):
    shutil.copy(SAMPLE, tmp_path / "deckhouse.step")
    return tmp_path


def job_in(folder, outline, more="rake = 30"):
    path = folder / "job.toml"
    path.write_text(f"{HEAD}outline = {outline}\n{more}\n", encoding="utf-8")
    return read_job(path)


def problem_of(folder, outline, more="rake = 30"):
    with pytest.raises(JobError) as refused:
        job_in(folder, outline, more)
    (problem,) = refused.value.problems
    assert "\n" not in problem.sentence and "Traceback" not in problem.sentence
    return problem


def test_the_pane_is_the_face_and_everybody_is_told(folder):
    job = job_in(folder, GLASS)
    pane = job.panes[0]
    typed = job_of(f"{HEAD}outline = {{ rectangle = [1200, 700], radius = 80 }}\nrake = 30\n").panes[0]
    assert bounding_box(pane.glass_outline)[2:] == pytest.approx(bounding_box(typed.glass_outline)[2:], abs=1e-8)
    assert area(pane.glass_outline) == pytest.approx(area(typed.glass_outline), rel=1e-12)
    told = outline_data(pane)
    assert told["source"].startswith(
        "deckhouse.step, face GLASS of DECKHOUSE FRONT, in mm by the file, seen from outside by the face's normal"
    )
    assert (told["mended"], told["deviation_mm"]) == ([], 0)
    assert outline_notes(build_detail(job, pane)) == (f"Outline of the glass from {told['source']}.",)


def test_a_lean_that_is_not_the_rake_is_found(folder):
    for rake, verdict in ((30, "pass"), (25, "fail")):
        job = job_in(folder, GLASS, f"rake = {rake}")
        found = check_pane(job, job.panes[0], build_detail(job, job.panes[0]), plate=False).findings
        (lean,) = [each for each in found if each.name == "rake as drawn or surveyed"]
        assert lean.verdict.value == verdict


def test_the_line_of_the_recess_from_its_face_and_the_print_beside_it(folder):
    # the landing runs 10 mm outside the glass all round, so a joint of 10 gives the glass again
    follows = job_in(
        folder, '{ solid = "deckhouse.step", face = "LANDING", of = "recess" }', "rake = 30\njoint = { width = 10 }"
    ).panes[0]
    glass = job_in(folder, GLASS, 'rake = 30\nrecess = { outline = { solid = "deckhouse.step", face = "LANDING" } }').panes[0]
    assert area(follows.glass_outline) == pytest.approx(area(glass.glass_outline), rel=1e-9)
    box, own = bounding_box(glass.glass_outline), bounding_box(glass.recess_outline)
    assert [b - a for a, b in zip(box, own, strict=True)] == pytest.approx([-10, -10, 10, 10], abs=1e-8)


def test_faces_of_one_pane_that_lie_askew_are_refused(folder):
    problem = problem_of(folder, GLASS, 'rake = 30\nrecess = { outline = { solid = "deckhouse.step", face = "PORT LIGHT" } }')
    assert problem.key == "pane 1 (P1), recess.outline" and "lies askew to that of the glass" in problem.found


@pytest.mark.parametrize(
    ("outline", "key", "said"),
    [
        ('{ solid = "deckhouse.step" }', "outline.face", "shows 3 flat faces, and none is clearly the largest: (1) face LANDING"),
        ('{ solid = "deckhouse.step", face = "GLAS" }', "outline.face", "did you mean GLASS?"),
        ('{ solid = "deckhouse.step", face = 9 }', "outline.face", "found face = 9; deckhouse.step shows 3 flat faces"),
        ('{ solid = "deckhouse.step", face = 0 }', "outline.face", "found 0; allowed: a whole number from 1"),
        ('{ solid = "deckhouse.step", face = true }', "outline.face", "found true; allowed: a name in quotes"),
        ('{ solid = "deckhouse.step", face = "" }', "outline.face", "allowed: a name in quotes"),
        ('{ solid = "deckhouse.step", face = "GLASS", layer = "A" }', "outline.layer", "found layer beside solid; allowed: layer only with drawing"),
        ('{ solid = "deckhouse.step", face = "GLASS", radius = 5 }', "outline.radius", "found radius beside solid"),
        ('{ solid = "deckhouse.step", face = "GLASS", seen_from = "-z", up = "up" }', "outline.up", "one of +x, -x"),
        ('{ solid = "deckhouse.step", face = "GLASS", units = "m" }', "outline", "found a pane of"),
        ('{ circle = 400, face = "GLASS" }', "outline.face", "found face beside circle; allowed: face only with solid"),
        ('{ circle = 400, arcs_within = 0.1 }', "outline.arcs_within", "allowed: arcs_within only with drawing or solid"),
        ('{ solid = "frame.step" }', "outline.solid", "there is no file frame.step; allowed: a STEP file (.step or .stp: text of ISO 10303-21); the folder holds deckhouse.step"),
        ('{ solid = "" }', "outline.solid", "found an empty name"),
        ('{ solid = "pipe" }', "outline.solid", "is not an ordinary file"),
        ('{ solid = "job.toml" }', "outline.solid", "job.toml is no STEP file"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_told_with_line_key_and_what_is_allowed(folder, outline, key, said):
    os.mkfifo(folder / "pipe")
    problem = problem_of(folder, outline)
    assert problem.key == f"pane 1 (P1), {key}" and problem.line == 5, problem.sentence
    assert said in problem.sentence, problem.sentence


def test_a_file_that_is_too_large_is_not_read(folder):
    with (folder / "huge.step").open("wb") as file:
        file.truncate(60_000_001)
    problem = problem_of(folder, '{ solid = "huge.step" }')
    assert problem.sentence.endswith(
        "outline.solid: huge.step has 60000001 bytes; allowed: at most 60000000 bytes; leave out what is not needed of it"
    )


@pytest.mark.parametrize("name", ["deckhouse.step", "DECK.STP"])
def test_a_step_file_given_as_the_job_says_where_it_goes(folder, name):
    (folder / name).write_bytes(SAMPLE.read_bytes())
    with pytest.raises(JobError, match=re.escape(f'outline = {{ solid = "{name}" }}')):
        read_job(folder / name)
    with pytest.raises(JobError, match=re.escape('outline = { solid = "FILE.step" }')):
        read_stream(io.BytesIO(SAMPLE.read_bytes()), file="standard input")


def test_a_file_outside_the_folder_is_named(folder):
    (folder / "jobs").mkdir()
    pane = job_in(folder / "jobs", '{ solid = "../deckhouse.step", face = "GLASS" }').panes[0]
    assert outline_data(pane)["mended"] == ["reads ../deckhouse.step, outside the job's folder"]


def test_the_own_job_carries_the_file(folder):
    job = job_in(folder, GLASS)
    own = own_job(job, job.panes[0])
    assert own.companions == {"deckhouse.step": SAMPLE.read_bytes()}


def test_the_mark_follows_the_outline_and_the_place_not_the_name_of_the_file(folder):
    shutil.copy(SAMPLE, folder / "other.stp")
    plain = job_in(folder, GLASS)
    again = job_in(folder, '{ solid = "other.stp", face = 2 }')
    assert mark_of(plain, plain.panes[0]) == mark_of(again, again.panes[0])
    placed = [job_in(folder, GLASS, f'rake = 30\nplacing = {{ taken_from = "face"{on} }}') for on in ("", ', on = "landing"')]
    marks = {mark_of(job, job.panes[0]) for job in (plain, *placed)}
    assert len(marks) == 3
    # the face moved out by 100 mm: the same pane, elsewhere
    far = StepFile()
    seat = Seat(FRONT.at(0, 0, 100), FRONT.x, FRONT.y)
    far.sheet("F", [far.face("GLASS", seat, [far.loop(rounded(1200, 700, 80), seat)])])
    (folder / "deckhouse.step").write_text(far.text(), encoding="ascii")
    for more, same in (("rake = 30", True), ('rake = 30\nplacing = { taken_from = "face" }', False)):
        job = job_in(folder, GLASS, more)
        assert (mark_of(job, job.panes[0]) in marks) == same


def test_a_pane_without_a_place_keeps_the_mark_it_had():
    text = '[[pane]]\ncode = "P1"\nframe = "grp"\nglass = { plies = [8] }\noutline = { circle = 400 }\n'
    one, two = job_of(text), job_of(text + PLACED)
    assert mark_of(one, one.panes[0]) != mark_of(two, two.panes[0])
    told = one.panes[0].model_dump(mode="json")
    assert told["placing"] is None


# The place on the vessel


def test_a_typed_place_by_hand():
    pane = job_of(f"{HEAD}outline = {{ rectangle = [900, 450] }}\n{PLACED}\n").panes[0]
    plan = on_vessel(pane)
    assert plan == OnVessel((1000, 2000, 3000), (0, 1, 0), (0, 0, 1)) and plan.outwards == (1, 0, 0)
    job = job_of(f"{HEAD}outline = {{ rectangle = [900, 450] }}\nbond = {{ thickness = 6 }}\n{PLACED}\n")
    pane = job.panes[0]
    detail = build_detail(job, pane)
    # the weather face lies in the plane: the landing 6 + 10 mm behind it, the middle of the glass 5 mm
    assert landing_on_vessel(pane, detail).origin == pytest.approx((984, 2000, 3000))
    assert landing_on_vessel(pane, detail).at(450, 225, 6 + 5) == pytest.approx((995, 2450, 3225))


@pytest.mark.parametrize(("on", "x"), [("weather face", 995.0), ("bond face", 1005.0), ("landing", 1011.0)])
def test_what_of_the_pane_lies_in_the_plane(on, x):
    more = PLACED.replace(" }", f', on = "{on}" }}')
    job = job_of(f"{HEAD}outline = {{ rectangle = [900, 450] }}\nbond = {{ thickness = 6 }}\n{more}\n")
    assert landing_on_vessel(job.panes[0], build_detail(job, job.panes[0])).at(450, 225, 6 + 5)[0] == pytest.approx(x)


def test_the_place_taken_from_the_face_is_that_of_the_face(folder):
    pane = job_in(folder, GLASS, 'rake = 30\nplacing = { taken_from = "face" }').panes[0]
    plan = on_vessel(pane)
    left, bottom, _, _ = bounding_box(pane.glass_outline)
    assert plan.at(left, bottom) == pytest.approx(FRONT.origin, abs=1e-8)
    assert plan.outwards == pytest.approx((math.cos(math.radians(30)), 0, 0.5), abs=1e-12)  # forward, and upwards
    assert plan.at(left + 300, bottom + 200) == pytest.approx(FRONT.at(300, 200), abs=1e-8)


def test_a_landing_gives_the_glass_and_its_own_plane(folder):
    """The face LANDING of the model lies 24 mm behind its face GLASS, 10 mm outside it all round."""
    outline = '{ solid = "deckhouse.step", face = "LANDING", of = "recess" }'
    more = 'rake = 30\njoint = { width = 10 }\nplacing = { taken_from = "face", on = "landing" }'
    job = job_in(folder, outline, more)
    pane = job.panes[0]
    landing = landing_on_vessel(pane, build_detail(job, pane))
    left, bottom, _, _ = bounding_box(pane.glass_outline)
    assert landing.at(left, bottom) == pytest.approx(FRONT.at(0, 0, -24), abs=1e-8)


def test_directions_a_little_off_square_are_made_square_and_x_holds():
    more = "placing = { origin = [0, 0, 0], x = [1, 0, 0], y = [0.005, 0.866, 0.5] }"
    plan = on_vessel(job_of(f"{HEAD}outline = {{ circle = 500 }}\n{more}\n").panes[0])
    length = math.hypot(0.866, 0.5)
    assert plan.x == (1, 0, 0) and plan.y == pytest.approx((0, 0.866 / length, 0.5 / length))


@pytest.mark.parametrize(
    ("placing", "key", "said"),
    [
        ("{ origin = [0, 0, 0], x = [1, 0, 0], y = [-2, 0, 0] }", "placing.y", "x and y are parallel; allowed: directions square"),
        ("{ origin = [0, 0, 0], x = [1, 0, 0], y = [1, 1, 0] }", "placing.y", "x and y stand at 45.00 deg to each other"),
        ("{ origin = [0, 0, 0], x = [0, 0, 0], y = [1, 1, 0] }", "placing.x", "found a direction without a length"),
        ("{ origin = [0, 0], x = [1, 0, 0], y = [0, 1, 0] }", "placing.origin", "found a list of 2; allowed: 3 to 3"),
        ("{ origin = [0, 0, 0], x = [1, 0, 0] }", "placing.y", "y is missing"),
        ("{ on = \"landing\" }", "placing", "origin and x and y are missing"),
        ('{ taken_from = "face", origin = [0, 0, 0] }', "placing.origin", "found origin beside taken_from"),
        ('{ taken_from = "face" }', "placing.taken_from", "found face beside an outline of the form circle"),
        ('{ taken_from = "plane" }', "placing.taken_from", "allowed: one of face"),
        ("{ origin = [0, 0, 2e9], x = [1, 0, 0], y = [0, 1, 0] }", "placing.origin, entry 3", "at most"),
    ],
)  # fmt: skip
def test_a_place_that_cannot_be_is_refused_in_words(placing, key, said):
    with pytest.raises(JobError) as refused:
        job_of(f"{HEAD}outline = {{ circle = 500 }}\nplacing = {placing}\n")
    (problem,) = refused.value.problems
    assert problem.key == f"pane 1 (P1), {key}" and problem.line == 6, problem.sentence
    assert said in problem.sentence, problem.sentence


def test_both_hands_and_a_mirrored_face_have_no_one_place(folder):
    hand = f'rake = 30\nside = "port"\nhand = "port and starboard"\n{PLACED}'
    assert "found placing beside hand" in problem_of(folder, GLASS, hand).sentence
    mirrored = '{ solid = "deckhouse.step", face = "GLASS", mirrored = true }'
    assert "found face beside mirrored" in problem_of(folder, mirrored, 'rake = 30\nplacing = { taken_from = "face" }').sentence


def test_a_schedule_names_step_files_and_faces(folder):
    (folder / "panes.csv").write_text(
        "code;outline file;step face;glass;frame;rake\nA1;deckhouse.step;GLASS;10;grp;30\nA2;deckhouse.step;PORT LIGHT;10;grp;0\n",
        encoding="utf-8",
    )
    (folder / "job.toml").write_text('panes = { schedule = "panes.csv" }\n', encoding="utf-8")
    panes = read_job(folder / "job.toml").panes
    assert [(pane.outline.form, pane.outline.shape) for pane in panes] == [("solid", ""), ("solid", "circle")]


@pytest.mark.parametrize(("cell", "name"), [("2", "LANDING"), ('"""2"""', "2"), ("LANDING", "LANDING")])
def test_a_schedule_names_a_face_by_its_number(folder, cell, name):
    """A number is one as in the job file, and in quotes a name."""
    made = StepFile()
    faces = [
        made.face(label, FRONT, [made.loop(rounded(wide, 500, 60), FRONT)])
        for label, wide in (("GLASS", 900), ("LANDING", 800), ("2" if name == "2" else "FRAME", 700))
    ]
    made.sheet("F", faces)
    (folder / "own.step").write_text(made.text(), encoding="ascii")
    (folder / "panes.csv").write_text(
        f"code;outline file;step face;glass;frame;rake\nA1;own.step;{cell};10;grp;30\n", encoding="utf-8"
    )
    (folder / "job.toml").write_text('panes = { schedule = "panes.csv" }\n', encoding="utf-8")
    assert f"face {name} of F" in read_job(folder / "job.toml").panes[0].outline.incoming.source


def test_a_number_that_is_the_name_of_another_face_is_asked_about(folder):
    made = StepFile()
    faces = [made.face(label, FRONT, [made.loop(rounded(wide, 500, 60), FRONT)]) for label, wide in (("2", 900), ("1", 800))]
    made.sheet("F", faces)
    (folder / "own.step").write_text(made.text(), encoding="ascii")
    said = problem_of(folder, '{ solid = "own.step", face = 1 }').sentence
    assert "found face = 1, the number of face 2 of F in the list; another face of own.step is called so" in said


def test_a_file_in_inches_gives_a_pane_in_millimetres(tmp_path):
    made = StepFile("in")
    seat = FRONT
    made.sheet(
        "F", [made.face("GLASS", seat, [made.loop([(x / 25.4, y / 25.4, *b) for x, y, *b in rounded(900, 500, 60)], seat)])]
    )
    (tmp_path / "inch.step").write_text(made.text(), encoding="ascii")
    pane = job_in(tmp_path, '{ solid = "inch.step" }').panes[0]
    assert "in inches by the file" in outline_data(pane)["source"]
    assert bounding_box(pane.glass_outline).width == pytest.approx(900, abs=1e-8)
