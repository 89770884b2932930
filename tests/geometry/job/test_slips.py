"""Slips of the hand in a job file: the line, the place in it and the line mended; and never another quantity."""

from __future__ import annotations

import tomllib

import pytest

from geometry.job import JobError, job_of
from geometry.job.slips import MOST_SLIPS

GOOD = """\
[[pane]]
code = "P1"
frame = "aluminium"
glass = { plies = [8] }
outline = { rectangle = [900, 450], radius = 50 }
"""
FIRST = 6  # the line after these


def problems_of(text):
    with pytest.raises(JobError) as caught:
        job_of(text, file="job.toml")
    return caught.value.problems


# typed, sign under which the caret stands (its first place from the right where marked), mended, words of the sentence
MENDED = [
    ("bow = 1,5", ",5", "bow = 1.5", "decimal sign is a point"),
    ("bond = { width = 15,5, thickness = 5 }", ",5, ", "bond = { width = 15.5, thickness = 5 }", "decimal sign is a point"),
    ("bow = 1,5 mm/m", ",5", 'bow = "1.5 mm/m"', "decimal sign"),
    ("bow = 0,250", ",250", "bow = 0.250", "decimal sign"),
    ("joint = { width = 6 mm }", "6 mm", 'joint = { width = "6 mm" }', "unit stands in quotes"),
    ("joint = { width = 6mm }", "6mm", 'joint = { width = "6 mm" }', "unit stands in quotes"),
    ("joint = { width = 20 MM }", "20", 'joint = { width = "20 MM" }', "unit stands in quotes"),
    ("joint = { width = 1/4 in }", "1/4", 'joint = { width = "1/4 in" }', "unit stands in quotes"),
    ('joint = { width = 1/4" }', "1/4", 'joint = { width = "1/4 in" }', "unit stands in quotes"),
    ('joint = { width = "1/4"" }', '1/4""', 'joint = { width = "1/4 in" }', "sign for inches"),
    ("pressure = { outward = 3 kN/m² }", "3 kN", 'pressure = { outward = "3 kN/m²" }', "unit stands in quotes"),
    ("temperatures = { bonding = 15 °C }", "15", 'temperatures = { bonding = "15 °C" }', "unit stands in quotes"),
    ("bond.width = 15 mm # as drawn", "15", 'bond.width = "15 mm" # as drawn', "unit stands in quotes"),
    ("name = “Saloon light”", "“", 'name = "Saloon light"', "typographic"),
    ('name = "Saloon light”', '"', 'name = "Saloon light"', "typographic"),
    ("name = „Salon“", "„", 'name = "Salon"', "typographic"),
    ("name = ‘Saloon’", "‘", "name = 'Saloon'", "typographic"),
    ("load_bearing = True", "True", "load_bearing = true", "true or false"),
    ("in_hull = FALSE", "FALSE", "in_hull = false", "true or false"),
    ("held = yes", "yes", "held = true", "true or false"),
    ("side = port", "port", 'side = "port"', "in quotes"),
    ("name = Saloon light", "Saloon", 'name = "Saloon light"', "in quotes"),
    ("name = Saloon's light", "Saloon", 'name = "Saloon\'s light"', "in quotes"),
    ("revision = A", "A", 'revision = "A"', "in quotes"),
    ("location = 12A", "12A", 'location = "12A"', "in quotes"),
    ('name : "x"', ":", 'name = "x"', "parted by ="),
    ('name: "x"', ":", 'name = "x"', "parted by ="),
    ("bond = { width: 15 }", ":", "bond = { width = 15 }", "parted by ="),
    ('name := "x"', ":=", 'name = "x"', "parted by ="),
    ("bow == 1", "==", "bow = 1", "parted by ="),
    ("bow 1.5", " 1.5", "bow = 1.5", "parted by ="),
    ("bow = 1;", ";", "bow = 1", "end of a line"),
    ("bow = 1.5,", ",", "bow = 1.5", "end of a line"),
    ("bow = 1 // a note", "//", "bow = 1 # a note", "comment begins with #"),
    ("// a note", "//", "# a note", "comment begins with #"),
    ("; a note", ";", "# a note", "comment begins with #"),
    ("-- a note", "--", "# a note", "comment begins with #"),
    ("bow = 1 /* note */", "/*", "bow = 1 # note", "comment begins with #"),
    ("climate.air = –5", "–", "climate.air = -5", "dash"),
    ("climate.air = −5", "−", "climate.air = -5", "dash"),
    ("joint = { width\u00a0= 6 }", "\u00a0", "joint = { width = 6 }", "no-break"),
    ("bow\u200b = 1", "\u200b", "bow = 1", "invisible"),
    ('revisions = [{ letter = "A", date = 02.03.2026, what = "x" }]', "02.03", 'revisions = [{ letter = "A", date = 2026-03-02, what = "x" }]', "year-month-day"),
    ('revisions = [{ letter = "A", date = 2026-3-2, what = "x" }]', "2026", 'revisions = [{ letter = "A", date = 2026-03-02, what = "x" }]', "year-month-day"),
    ('revisions = [{ letter = "A", date = 25/12/2026, what = "x" }]', "25/", 'revisions = [{ letter = "A", date = 2026-12-25, what = "x" }]', "year-month-day"),
    ("work = { start = 8:30 }", "8:30", "work = { start = 08:30:00 }", "time of day"),
    ("chocks = { at = [200, 700 }", "}", "chocks = { at = [200, 700] }", "bracket"),
    ("bond = { width = 15", "", "bond = { width = 15 }", "bracket"),
    ("chocks = { at = [200, 700]] }", "] }", "chocks = { at = [200, 700] }", "bracket"),
    ("chocks.at = [200 700]", " 700", "chocks.at = [200, 700]", "parted by a comma"),
    ("limits = { bond_widths = [10; 12] }", "; 12", "limits = { bond_widths = [10, 12] }", "parted by a comma"),
    ("bond = { width = 15 thickness = 5 }", " thickness", "bond = { width = 15, thickness = 5 }", "parted by a comma"),
    ("bond = { width = 15, }", ", }", "bond = { width = 15 }", "comma"),
    ("limits.least_pane = 300 x 300", "300 x", "limits.least_pane = [300, 300]", "brackets"),
    ("chocks.at = (200, 700)", "(", "chocks.at = [200, 700]", "brackets"),
    ("bow = .5", ".5", "bow = 0.5", "begins with a digit"),
    ("bow = 5.", ".", "bow = 5.0", "ends with a digit"),
    ("quantity = 02", "02", "quantity = 2", "leading noughts"),
    ('name = "open', '"', 'name = "open"', "ends with the quotes"),
    ('name = "C:\\old"', "C:", "name = 'C:\\old'", "backslash"),
    ("backfill after = 7", " after", "backfill_after = 7", "one word"),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "sign", "mended", "words"), MENDED, ids=[each[0] for each in MENDED])
def test_a_slip_is_told_with_its_line_its_place_and_the_line_mended(typed, sign, mended, words):
    with pytest.raises(tomllib.TOMLDecodeError):
        tomllib.loads(GOOD + typed)
    (problem,) = problems_of(GOOD + typed + "\n")
    assert (problem.line, problem.text, problem.mended) == (FIRST, typed, mended)
    assert words in problem.found
    assert problem.column - 1 == (typed.index(sign) if sign else len(typed))
    job_of(GOOD + mended + "\n")  # what is shown is good
    rows = str(problem).split("\n")
    assert rows[2].index("^") == 12 + problem.column - 1
    assert rows[3].endswith(mended)


def test_a_mended_line_holds_the_numbers_that_were_typed():
    """Digit by digit: no slip adds, drops or swaps a digit, but for the noughts a date, a time or a bare point needs."""
    import re

    for typed, _, mended, _ in MENDED:
        before, after = ("".join(re.findall(r"[0-9]", text)) for text in (typed, mended))
        if not re.search(r"[0-9][./:-][0-9]+[./:-]?|= \.[0-9]|[0-9]\.$|= 0[0-9]", typed):
            assert before == after, typed


OPEN = [
    ("bow = 1,500", "may be any of these"),
    ("bow = 1 200", "may be any of these"),
    ("bow = 1.200,5", "may be any of these"),
    ("limits.least_pane = 300,300", "list stands in brackets"),
    ("glass.interlayers = 1,52", "list stands in brackets"),
    ("limits.least_pane = 300 300", "list stands in brackets"),
    ('revisions = [{ letter = "A", date = 02/03/2026, what = "x" }]', "two ways"),
    ('revisions = [{ letter = "A", date = 02.03.26, what = "x" }]', "year in full"),
    ("bow = ", "value is missing"),
    ("name = none", "leave the key out"),
    ("bow = null", "leave the key out"),
    ("bow = 1\nbow = 2", "line 6 already"),
    ("bond = { width = 3, width = 4 }", "twice in these braces"),
    ('[vessel] name = "x"', "line by itself"),
    ("<<<<<<< ours", "TOML"),
]


@pytest.mark.parametrize(("typed", "words"), OPEN, ids=[each[0] for each in OPEN])
def test_what_may_mean_two_things_is_told_and_not_mended(typed, words):
    problem = problems_of(
        (GOOD.replace("glass = { plies = [8] }", "glass.plies = [8]") if "glass." in typed else GOOD) + typed + "\n"
    )[0]
    assert words in problem.found and problem.mended == "" and problem.column
    assert problem.text == typed.splitlines()[-1]


BRACES = "outline = {\n  rectangle = [900, 450],  # as measured\n  radius = 50,\n}\n"


def test_braces_over_several_lines_are_shown_on_one():
    (problem,) = problems_of(GOOD.replace("outline = { rectangle = [900, 450], radius = 50 }\n", BRACES))
    assert problem.line == 5 and problem.mended == "outline = { rectangle = [900, 450], radius = 50 }"


@pytest.mark.parametrize(
    ("text", "line", "mended"),
    [
        (GOOD.replace("[[pane]]", "[[pane]"), 1, "[[pane]]"),
        (GOOD.replace("[[pane]]", "[pane"), 1, "[[pane]]"),
        (GOOD.replace("[[pane]]", "[pane]]"), 1, "[[pane]]"),
        ("[adhesive\npack = 600\n" + GOOD, 1, "[adhesive]"),
        ("[setting out]\noval_from = 2\n" + GOOD, 1, "[setting_out]"),
        ("(adhesive)\npack = 600\n" + GOOD, 1, "[adhesive]"),
        (GOOD + "chocks.at = [200,\n  700\nbow = 1\n", 7, "700]"),
    ],
)
def test_brackets_of_tables_and_of_lists_over_lines(text, line, mended):
    (problem,) = problems_of(text)
    assert (problem.line, problem.mended) == (line, mended)


@pytest.mark.parametrize("table", ["[adhesive]\npack = 600\n[adhesive]\nwaste = 5\n", "[climate]\nair = 5\n[climate]\nair = 6\n"])
def test_a_table_that_is_there_twice(table):
    (problem,) = problems_of(table + GOOD)
    assert problem.line == 3 and "line 1 already" in problem.found


JSON = '{\n  "pane": [\n    { "code": "P1", "frame": "grp" }\n  ]\n}\n'
YAML = "pane:\n  - code: P1\n    frame: grp\n"
CSV = "code;width;height\nP1;900;450\nP2;600;400\n"


@pytest.mark.parametrize(("text", "name"), [(JSON, "JSON"), (YAML, "YAML"), (CSV, "CSV"), (CSV.replace(";", ","), "CSV")])
def test_another_language_is_named_and_one_line_shown_in_toml(text, name):
    (problem,) = problems_of(text)
    assert name in problem.found and "TOML" in problem.found and problem.text in text.splitlines()
    assert problem.mended == "" or tomllib.loads(problem.mended)
    if name != "JSON":
        assert problem.mended == 'code = "P1"'


def test_all_slips_and_all_other_faults_of_a_file_are_told_together():
    text = GOOD + "bow = 1,5\nside = port\nrake = 91\njoint = { width = 6 kPa }\nfritt = 3\nnull\n"
    found = problems_of(text)
    assert [problem.line for problem in found] == [6, 7, 8, 9, 9, 10, 11]
    assert "at most 90" in found[2].allowed and any("unit of pressure" in problem.found for problem in found)


def test_what_may_stand_in_a_line_that_could_not_be_read_is_not_told_as_missing():
    (problem,) = problems_of(GOOD.replace('code = "P1"', "code 'P' 1"))
    assert problem.line == 2


def test_a_file_of_nothing_but_slips_is_given_up_in_time():
    found = problems_of("!?\n" * 5000)
    assert len(found) <= MOST_SLIPS + 1


# --- words of the trade, and what is not covered ---


@pytest.mark.parametrize(
    ("line", "hint"),
    [
        ('glass.treatment = "tempered"', "toughened"),
        ('glass.treatment = "heat treated"', "heat_strengthened"),
        ('glass.treatment = "Float"', "annealed"),
        ('glass.treatment = "laminated"', "plies and interlayers"),
        ('side = "stbd"', "starboard"),
        ('frame_build = "joined"', "joinery"),
        ('glass.treatment = "toughend"', "toughened"),
    ],
)
def test_another_word_for_the_same_thing_is_a_hint(line, hint):
    (problem,) = problems_of(GOOD.replace("glass = { plies = [8] }", "glass.plies = [8]") + line + "\n")
    assert hint in problem.hint


@pytest.mark.parametrize(
    "line",
    [
        'glass.treatment = "acrylic"',
        'glass.material = "polycarbonate"',
        'glass.treatment = "PMMA"',
        'glass.kind = "cast acrylic"',
    ],
)
def test_plastics_are_refused_with_the_reason(line):
    (problem,) = problems_of(GOOD.replace("glass = { plies = [8] }", "glass.plies = [8]") + line + "\n")
    assert "seven times" in problem.hint and "mineral glass only" in problem.hint and "adhesive" in problem.hint


def test_frames_by_other_names():
    for word, known in (("aluminum", "aluminium"), ("fibreglass", "grp"), ("teak", "timber_along"), ("inox", "stainless")):
        (problem,) = problems_of(GOOD.replace('"aluminium"', f'"{word}"'))
        assert known in problem.hint


# --- brackets and places ---


def test_the_forms_of_an_outline_are_named_where_it_is_missing():
    (problem,) = problems_of(GOOD.replace("outline = { rectangle = [900, 450], radius = 50 }\n", ""))
    for form in ("rectangle", "polygon", "circle", "ellipse", "path", "recess.outline"):
        assert form in problem.allowed


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        (GOOD.replace("[[pane]]", "[[panes]]"), 1, "[[pane]]"),
        (GOOD.replace("[[pane]]", "[pane]"), 1, "[[pane]]"),
        (GOOD.replace("[[pane]]", "[[Pane]]"), 1, "[[pane]]"),
        (GOOD.replace("[[pane]]", "[window]"), 1, "[[pane]]"),
        ("[[adhesive]]\npack = 600\n" + GOOD, 1, "single brackets"),
        (GOOD + "[[pane.bond]]\nwidth = 15\n", 6, "single brackets"),
        ("rake = 5\n" + GOOD, 1, "under [[pane]]"),
        ("[timber]\nstile_width = 90\nmoisture_change = 4\n" + GOOD, 1, "under [[pane]]"),
        (GOOD + "[pane.adhesive]\npack = 600\n", 6, "top of the file"),
    ],
)
def test_brackets_and_places_of_tables(text, line, words):
    (problem,) = problems_of(text)
    assert problem.line == line and words in problem.allowed


def test_a_key_in_the_wrong_table_is_told_where_keys_of_that_name_stand():
    (problem,) = problems_of(GOOD + "thickness = 5\n")
    assert "[pane.bond]" in problem.hint
    (problem,) = problems_of(GOOD + "[pane.bond]\nrake = 5\n")
    assert "[[pane]]" in problem.hint


# --- absurd sizes ---


@pytest.mark.parametrize(
    ("old", "new", "hint"),
    [
        ("[900, 450]", "[0.9, 0.45]", '"0.9 m"'),
        ("[900, 450], radius = 50", "[100000, 450]", ""),
        ("[8]", "[100000]", ""),
        ("[8]", "[0.008]", '"0.008 m"'),
    ],
)
def test_sizes_that_no_pane_has(old, new, hint):
    problem = problems_of(GOOD.replace(old, new))[0]
    assert hint in problem.hint and problem.allowed


@pytest.mark.parametrize(
    ("line", "hint"),
    [
        ("pressure.outward = 3000", '"3000 Pa"'),
        ("pressure.inward = 25000", '"25000 Pa"'),
        ("climate.air = 68", '"68 degF"'),
        ("climate.air = 293", '"293 K"'),
        ("temperatures.bonding = 288", '"288 K"'),
        ("bond.width = 0.015", '"0.015 m"'),
        ("joint.width = 6000", ""),
    ],
)
def test_a_bare_number_in_another_unit_is_named_and_the_number_kept(line, hint):
    (problem,) = problems_of(GOOD + line + "\n")
    assert hint in problem.hint and problem.line == FIRST


def test_absurd_outlines_are_refused_by_their_box():
    for form in ("polygon = [[0, 0], [90000, 0], [90000, 45000]]", "path = [[0, 0], [9, 0], [9, 4], [0, 4]]"):
        (problem,) = problems_of(GOOD.replace("rectangle = [900, 450], radius = 50", form))
        assert "found a pane of" in problem.found
