"""Every way a job file can be wrong gives one clear error, and all of them are told together."""

from __future__ import annotations

import os
import tomllib

import pytest

from geometry.job import JobError, job_of, read_job

GOOD = """\
[[pane]]
code = "P1"
frame = "aluminium"
glass = { plies = [8] }
outline = { rectangle = [900, 450], radius = 50 }
"""


def problems_of(text):
    with pytest.raises(JobError) as caught:
        job_of(text, file="job.toml")
    return caught.value.problems


def only(text):
    (problem,) = problems_of(text)
    return problem


def file_problem(path):
    with pytest.raises(JobError) as caught:
        read_job(path)
    (problem,) = caught.value.problems
    assert problem.file == str(path)
    return problem


def written(folder, data):
    path = folder / "job.toml"
    path.write_bytes(data)
    return path


# --- the file as a whole ---


def test_file_that_is_missing(tmp_path):
    (tmp_path / "kestrel.toml").write_text(GOOD)
    problem = file_problem(tmp_path / "kestral.toml")
    assert (problem.line, problem.found, problem.hint) == (None, "there is no such file", "did you mean kestrel.toml?")


def test_folder_instead_of_a_file(tmp_path):
    assert "folder" in file_problem(tmp_path).found


def test_device_instead_of_a_file():
    assert "not an ordinary file" in file_problem("/dev/null").found


def test_name_too_long_for_the_file_system():
    assert "cannot be read" in file_problem("x" * 5000).found


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="the superuser may read everything")
def test_file_without_permission(tmp_path):
    path = written(tmp_path, GOOD.encode())
    path.chmod(0)
    assert "ermission" in file_problem(path).found


@pytest.mark.parametrize("data", [b"", b"\n \n", b"\xef\xbb\xbf"])
def test_empty_file(tmp_path, data):
    assert "empty" in file_problem(written(tmp_path, data)).found


def test_file_of_comments_only(tmp_path):
    assert "[[pane]]" in file_problem(written(tmp_path, b"# nothing here\n")).allowed


def test_file_of_three_megabytes(tmp_path):
    problem = file_problem(written(tmp_path, GOOD.encode() + b"#" * 3_000_000))
    assert "3000" in problem.found and "1 MB" in problem.allowed


def test_binary_file(tmp_path):
    assert "no text" in file_problem(written(tmp_path, b"\x7fELF\x00\x00\x01\x02" * 50)).found


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be", "utf-32"])
def test_other_unicode_encodings(tmp_path, encoding):
    problem = file_problem(written(tmp_path, GOOD.encode(encoding)))
    assert "UTF-8" in problem.allowed


def test_latin_1_names_the_line(tmp_path):
    problem = file_problem(written(tmp_path, GOOD.encode() + 'name = "Écluse"\n'.encode("latin-1")))
    assert problem.line == 6 and "0xC9" in problem.found and "UTF-8" in problem.allowed


@pytest.mark.parametrize("line_end", ["\n", "\r\n"])
def test_utf_8_with_and_without_mark_and_both_line_ends(tmp_path, line_end):
    text = (GOOD + 'name = "Écluse"\n').replace("\n", line_end)
    for mark in (b"", b"\xef\xbb\xbf"):
        assert read_job(written(tmp_path, mark + text.encode())).panes[0].name == "Écluse"


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("a = \n", 1),
        (GOOD + "width == 3\n", 6),
        (GOOD + "[pane\n", 6),
        (GOOD + 'name = "open\n', 6),
        (GOOD + 'code = "again"\n', 6),
        (GOOD + "\nbow = [1,\n", 7),
        (GOOD.replace("\n", "\r\n") + "x\r\n", 6),
    ],
)
def test_text_that_is_no_toml_keeps_its_line(text, line):
    problem = next(each for each in problems_of(text) if "TOML" in each.found)
    assert problem.line == line and problem.column and problem.text in text.splitlines()


def test_number_of_thousands_of_digits():
    problem = only(GOOD + "quantity = " + "9" * 5000)
    assert problem.line == 6 and "digits" in problem.found and len(str(problem)) < 200


@pytest.mark.parametrize("depth", [20, 200, 3000])
def test_nesting_without_end(depth):
    assert "deep" in only(GOOD + f"name = {'[' * depth}{']' * depth}\n").found


# --- panes ---


def test_no_pane_at_all():
    assert "[[pane]]" in only('[vessel]\nname = "x"\n').found


def test_pane_in_single_brackets():
    problem = only(GOOD.replace("[[pane]]", "[pane]"))
    assert problem.line == 1 and "[[pane]]" in problem.allowed


@pytest.mark.parametrize("second", ["P1", "p1"])
def test_two_panes_of_one_code(second):
    problem = only(GOOD + GOOD.replace("P1", second))
    assert (problem.line, problem.key) == (7, f"pane 2 ({second}), code") and "pane 1 and pane 2" in problem.found


def test_two_panes_of_one_file_name():
    text = GOOD.replace('"P1"', '"P1-B"') + GOOD.replace('"P1"', '"P1"\nrevision = "B"')
    problem = only(text)
    assert problem.line == 7 and "files named P1-B" in problem.found


@pytest.mark.parametrize(
    "code", ["", "a/b", "../x", "a b", ".hidden", "dot.", "con", "LPT1.x", "ä", "a:b", "x" * 41, "a\\\\b", "\\u0000"]
)
def test_codes_that_cannot_be_a_file_name(code):
    problem = only(GOOD.replace('"P1"', f'"{code}"'))
    assert (
        problem.line == 2 and problem.key.endswith("code") and ("file name" in problem.allowed or "printable" in problem.allowed)
    )


def test_code_that_is_no_text():
    assert only(GOOD.replace('"P1"', "1")).found == "found 1"


def test_too_many_panes():
    problem = only("".join(GOOD.replace("P1", f"P{i}") for i in range(201)))
    assert "201 panes" in problem.found and "1 to 200" in problem.allowed


def test_too_many_points():
    points = ", ".join(f"[{i}, {i * i}]" for i in range(501))
    problem = only(GOOD.replace("{ rectangle = [900, 450], radius = 50 }", f"{{ polygon = [{points}] }}"))
    assert problem.line == 5 and "501 points" in problem.found and "500" in problem.allowed


# --- keys and values ---


@pytest.mark.parametrize(
    ("line", "key", "words"),
    [
        ("fritt = { width = 3 }", "fritt", ["did you mean frit?"]),
        ("bond = { widht = 3 }", "bond.widht", ["did you mean width?", "thickness"]),
        ("glass2 = 3", "glass2", ["no such key", "did you mean glass?"]),
        ("joint = { width = true }", "joint.width", ["found true", "a number in mm"]),
        ("joint = { width = nan }", "joint.width", ["nan", "not a finite"]),
        ("joint = { width = inf }", "joint.width", ["inf", "not a finite"]),
        ("joint = { width = -1 }", "joint.width", ["found -1", "at least 0.1"]),
        ("joint = { width = 0 }", "joint.width", ["found 0", "at least 0.1"]),
        ('joint = { width = "6" }', "joint.width", ["without its unit", "mm"]),
        ('joint = { width = "6 kPa" }', "joint.width", ["unit of pressure", "mm"]),
        ('joint = { width = "6 furlong" }', "joint.width", ["not a known unit"]),
        ('joint = { width = "wide" }', "joint.width", ['"wide"']),
        ("joint = 6", "joint", ["found 6", "a table"]),
        ("joint = [6]", "joint", ["found [6]", "a table"]),
        ("rake = 91", "rake", ["found 91", "at most 90"]),
        ("rake = -46", "rake", ["found -46", "at least -45"]),
        ("load_bearing = 1", "load_bearing", ["true or false"]),
        ("quantity = 1.0", "quantity", ["whole number"]),
        ("quantity = 0", "quantity", ["1 to 1000"]),
        ('frame_build = "weldd"', "frame_build", ["did you mean welded?"]),
        ("recess = { radius = [6, 6, 6] }", "recess.radius", ["3 recess radii for 4 corners"]),
        ("chocks = { at = [200, 901] }", "chocks.at", ["X = 901", "900"]),
        ("frit = { width = 20, fade = 20 }", "frit.width", ["no solid print"]),
        ("pressure = { outward = 0 }", "pressure.outward", ["more than 0"]),
        ('name = "two\\nlines"', "name", ["one line"]),
    ],
)
def test_wrong_key_or_value_of_a_pane(line, key, words):
    problem = only(GOOD + line + "\n")
    assert problem.line == 6 and problem.key == f"pane 1 (P1), {key}"
    for word in words:
        assert word in str(problem)


@pytest.mark.parametrize(
    ("text", "key", "words"),
    [
        ("[adhesiv]\npack = 600\n", "adhesiv", ["did you mean adhesive?"]),
        ("[layers]\nGLAS = 'X'\n", "layers.GLAS", ["did you mean GLASS?"]),
        ("[layers]\nGLASS = 'A|B'\n", "layers.GLASS", ["none of"]),
        ("[layers]\nGLASS = 'recess'\n", "layers.GLASS", ["RECESS and GLASS"]),
        ("[sheet]\nsize = 'a3'\n", "sheet.size", ["A3, A2, A1, A0", "did you mean A3?"]),
        ("[sheet]\ndate = '2026-03-02'\n", "sheet.date", ["without quotes"]),
        ("[sheet]\ndate = 2026-03-02T10:00:00\n", "sheet.date", ["without a time"]),
        ("[vessel]\nyard_number = 417\n", "vessel.yard_number", ["found 417", "in quotes"]),
        ("[climate]\nhumidity = 101\n", "climate.humidity", ["at most 100"]),
        ("[temperatures]\ncases = {}\n", "temperatures.cases", ["0 temperature cases"]),
        ("[materials]\nbronze = { expansion = 18e-6 }\n", "materials.bronze", ["no such key"]),
    ],
)
def test_wrong_key_or_value_of_a_shared_table(text, key, words):
    problem = only(text + GOOD)
    assert problem.key == key and problem.line in (1, 2)
    for word in words:
        assert word in str(problem)


@pytest.mark.parametrize("key", ["code", "frame", "glass", "outline"])
def test_missing_key_is_told_at_its_pane(key):
    text = "".join(line for line in ("\n\n" + GOOD).splitlines(keepends=True) if not line.startswith(key))
    problem = only(text)
    assert problem.line == 3 and problem.key.endswith(key) and "missing" in problem.found


def test_all_faults_of_a_file_are_told_together_in_order():
    text = (
        "[adhesive]\npack = 'a'\npak = 1\n"
        + GOOD.replace("aluminium", "alluminium").replace("[8]", "[0]")
        + GOOD.replace("900", "-900")
        + "bond = { width = true, thickness = nan }\n"
    )
    found = problems_of(text)
    assert [problem.line for problem in found] == [2, 3, 6, 7, 10, 13, 14, 14]
    assert [problem.key.split(", ", 1)[-1] for problem in found] == [
        "adhesive.pack",
        "adhesive.pak",
        "frame",
        "glass.plies, entry 1",
        "code",
        "outline.rectangle, entry 1",
        "bond.width",
        "bond.thickness",
    ]
    assert all(str(problem).startswith(f"job.toml, line {problem.line}: ") for problem in found)


def test_every_message_is_one_short_line():
    long = "x" * 5000
    text = GOOD + f'"{long}" = 1\n"\\u001b[31m" = 2\nname = "{long}"\nside = "{long}"\nbow = "{long} mm"\n'
    for problem in problems_of(text):
        assert str(problem).isprintable() and len(str(problem)) < 1200


# --- what pydantic would let pass, and must not ---


def test_numbers_are_strict_but_whole_numbers_pass():
    assert job_of(GOOD + "joint = { width = 6 }").panes[0].joint.width == 6.0
    assert isinstance(job_of(GOOD + "joint = { width = 6 }").panes[0].joint.width, float)


def test_toml_reader_is_the_judge_of_syntax():
    """Any text that the standard reader accepts is read, whatever its style of keys."""
    text = 'pane = [{ "code" = "P1", frame = "grp", glass.plies = [8], outline.circle = 300 }]\n'
    assert tomllib.loads(text)
    assert job_of(text).panes[0].glass.plies == (8.0,)
