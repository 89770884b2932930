"""``fritline compare`` as a user meets it: our own files read back, and drawings sent back with one thing changed."""

from __future__ import annotations

import json
import math
import random
import re
from pathlib import Path

import ezdxf
import pytest
from returned_drawings import Returned, dots_round, dxf_of, sample_drawings

from geometry.compare.move import Move
from geometry.detail.build import build_detail
from geometry.job import read_job
from geometry.outline import bounding_box, ellipse, moved, offset_rounded, polygon
from outputs import command_line

ROOT = Path(__file__).resolve().parents[2]
VESSEL = ROOT / "samples" / "sallow-wren.toml"
JOB = """
[[pane]]
code = "W1"
name = "Galley side, invented"
revision = "B"
frame = "aluminium"
glass = { plies = [10] }
outline = { polygon = [[0, 0], [1300, 120], [1120, 870], [60, 820]], radius = 40 }
bond = { width = 15, thickness = 5, set_back = 8 }
frit = { width = 50, fade = 8 }
tolerances = { pane = 1.5, print = 2 }
"""
CORNERS = [(0, 0), (1300, 120), (1120, 870), (60, 820)]


def run(capsys, *arguments: str | Path) -> tuple[int, str, str]:
    with pytest.raises(SystemExit) as leaving:
        command_line.main([str(each) for each in arguments])
    caught = capsys.readouterr()
    return leaving.value.code, caught.out, caught.err


@pytest.fixture(scope="module")
def job(tmp_path_factory) -> Path:
    path = tmp_path_factory.mktemp("job") / "w1.toml"
    path.write_text(JOB, encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def curves(job):
    whole = read_job(job)
    return build_detail(whole, whole.panes[0]).curves


def compared(capsys, tmp_path, job: Path, drawn: Returned | bytes, *options: str) -> tuple[int, dict]:
    path = tmp_path / "returned.dxf"
    path.write_bytes(drawn if isinstance(drawn, bytes) else dxf_of(drawn))
    code, out, err = run(capsys, "compare", job, path, "-o", tmp_path / "out", "--json", *options)
    assert out, err
    return code, json.loads(out)


def mutated(data: bytes, dice: random.Random) -> bytes:
    """A file with something wrong: bytes changed, a piece cut out or doubled, lines exchanged, the end lost."""
    kind = dice.randrange(5)
    if kind == 0:
        changed = bytearray(data)
        for _ in range(dice.randint(1, 20)):
            changed[dice.randrange(len(changed))] = dice.randrange(256)
        return bytes(changed)
    start = dice.randrange(len(data))
    end = min(len(data), start + dice.randint(1, 400))
    if kind == 1:
        return data[:start] + data[end:]
    if kind == 2:
        return data[:end] + data[start:]
    if kind == 3:
        return data[:start]
    lines = data.split(b"\n")
    one, other = dice.randrange(len(lines)), dice.randrange(len(lines))
    lines[one], lines[other] = lines[other], lines[one]
    return b"\n".join(lines)


def verdicts(found: dict) -> dict[str, str]:
    return {finding["name"]: finding["verdict"] for finding in found["findings"]}


def test_a_drawing_that_is_as_issued_passes(capsys, tmp_path, job, curves):
    texts = (("W1 CONFIRMATION", 400.0, 500.0), ("CERAMIC PRINT ON FACE 2", 400.0, 460.0))
    code, found = compared(capsys, tmp_path, job, Returned(curves.glass, curves.frit_fade, texts=texts))
    assert code == 0
    assert found["verdict"] == "pass"
    assert (found["turned_deg"], found["mirrored"], found["scale"]) == (0.0, False, 1.0)
    assert found["differences"] == []
    assert found["solid_frit"]["least_mm"] == pytest.approx(42.0, abs=1e-6)
    assert verdicts(found)["words of the printed face as asked"] == "pass"
    assert verdicts(found)["words of the permanent mark as asked"] == "not checked"


@pytest.mark.parametrize("document", ["pane", "glass", "print"])
def test_our_own_files_read_back_are_equal(capsys, tmp_path, job, document: str):
    code, _, _ = run(capsys, "draw", job, "--no-plate", "--sheet", document, "--format", "dxf", "-o", tmp_path / "sheets")
    assert code in (0, 1)
    code, out, _ = run(capsys, "compare", job, tmp_path / "sheets" / f"W1-B-{document}.dxf", "-o", tmp_path / "out", "--json")
    found = json.loads(out)
    assert code == 0
    assert found["differences"] == []
    assert not found["mirrored"]
    for name, deviation in found["deviations"].items():
        if deviation is not None:
            assert abs(deviation["greatest_mm"]) < 1e-6, name
    missing = {"pane": set(), "glass": {"solid_edge", "end_of_fade"}, "print": {"outline", "end_of_fade"}}[document]
    assert {name for name, deviation in found["deviations"].items() if deviation is None} == missing
    assert found["solid_frit"]["least_mm"] == (None if document == "glass" else pytest.approx(42.0, abs=1e-6))


@pytest.mark.parametrize(
    ("unit", "scale", "name"), [(1, 25.4, "inches"), (6, 1000.0, "metres"), (0, 25.4, "inches"), (4, 25.4, "inches")]
)
def test_a_unit_is_worked_out_and_a_header_that_says_another_is_told(
    capsys, tmp_path, job, curves, unit: int, scale: float, name: str
):
    code, found = compared(capsys, tmp_path, job, Returned(curves.glass, curves.frit_fade, move=Move(1 / scale), unit=unit))
    assert code == 0
    assert found["scale"] == pytest.approx(scale)
    assert found["unit"] == name
    assert found["differences"] == []
    told = any("the sizes say" in note for note in found["notes"])
    assert told is (unit in (0, 4))


def test_a_mirrored_drawing_is_an_error_and_is_never_turned_over_in_silence(capsys, tmp_path, job, curves):
    code, found = compared(
        capsys, tmp_path, job, Returned(curves.glass, curves.frit_fade, move=Move(mirrored=True, turn=0.4, dx=900))
    )
    assert code == 1
    assert found["mirrored"] is True
    assert found["turned_deg"] == pytest.approx(math.degrees(0.4), abs=1e-5)
    assert verdicts(found)["drawn from the side that was issued"] == "fail"
    assert verdicts(found)["outline as issued"] == "pass"


def test_of_a_symmetric_pane_the_print_tells_how_it_stands(capsys, tmp_path):
    """A rectangle whose print is 10 mm wider on the left and 5 at the top: its outline alone is the same turned over and mirrored."""
    job = tmp_path / "even.toml"
    wide = "frit = { width = 40, outline = { path = [[50, 40], [860, 40], [860, 455], [50, 455]] } }"
    even = re.sub(r"outline = .*", "outline = { rectangle = [900, 500], radius = 30 }", JOB)
    job.write_text(re.sub(r"frit = .*", wide, even), encoding="utf-8")
    whole = read_job(job)
    curves = build_detail(whole, whole.panes[0]).curves
    for move, turned, mirrored in (
        (Move(), 0.0, False),
        (Move(turn=math.pi, dx=900), 180.0, False),
        (Move(mirrored=True), 0.0, True),
    ):
        code, found = compared(capsys, tmp_path, job, Returned(curves.glass, curves.frit_inner, move=move))
        assert (found["mirrored"], abs(found["turned_deg"])) == (mirrored, pytest.approx(turned))
        assert verdicts(found)["drawn from the side that was issued"] == ("fail" if mirrored else "pass")
        assert verdicts(found)["print as issued"] == "pass"
        assert code == int(mirrored)
        assert any("told by the edge of the print" in note for note in found["notes"]) is bool(turned or mirrored)


def test_one_layer_for_all_is_no_hindrance(capsys, tmp_path, job, curves):
    for layer in ("GLASS", "0", "CONTOUR"):
        code, found = compared(
            capsys, tmp_path, job, Returned(curves.glass, curves.frit_fade, glass_layer=layer, print_layer=layer)
        )
        assert (code, found["solid_frit"]["least_mm"]) == (0, pytest.approx(42.0, abs=1e-6)), layer


def test_a_quarter_turn_is_named(capsys, tmp_path, job, curves):
    move = Move(turn=math.pi / 2, dx=5000, dy=-300)
    code, found = compared(capsys, tmp_path, job, Returned(curves.glass, curves.frit_fade, move=move))
    assert (code, found["turned_deg"], found["mirrored"]) == (0, pytest.approx(90.0, abs=1e-6), False)
    assert found["shift_mm"] == pytest.approx([5000, -300], abs=1e-4)


def test_exploded_into_four_hundred_lines_it_is_the_same_pane(capsys, tmp_path, job, curves):
    drawn = Returned(curves.glass, curves.frit_fade, move=Move(1 / 25.4, False, 2.0, 3.0, 4.0), lines=400, unit=1)
    code, found = compared(capsys, tmp_path, job, drawn)
    assert code == 0
    assert found["differences"] == []
    assert found["turned_deg"] == pytest.approx(math.degrees(2.0), abs=0.01)
    # chords of 8 in a rounding of 40 lie 0,1 mm inside it; of the print the same
    assert found["solid_frit"]["least_mm"] == pytest.approx(42.0, abs=0.2)


def test_one_side_two_millimetres_out(capsys, tmp_path, job, curves):
    out = polygon([(0, 0), (1302, 120), (1122, 870), (60, 820)], radii=40)
    code, found = compared(capsys, tmp_path, job, Returned(out, curves.frit_fade, move=Move(turn=-1.0)))
    assert code == 1
    sizes = {size["name"]: size["difference_mm"] for size in found["sizes"]}
    assert sizes["e1"] == pytest.approx(math.dist((0, 0), (1302, 120)) - math.dist(CORNERS[0], CORNERS[1]), abs=1e-4)
    assert sizes["e4"] == pytest.approx(0.0, abs=1e-4)
    outline = [each for each in found["differences"] if each["kind"] == "outline"]
    assert [each["what"] for each in outline] == ["e2"]
    assert outline[0]["difference_mm"] == pytest.approx(2.0, abs=0.1)
    assert found["deviations"]["outline"]["part"] in ("e2", "V2", "V3")


def test_one_radius_changed(capsys, tmp_path, job, curves):
    other = polygon(CORNERS, radii=[40, 40, 60, 40])
    code, found = compared(capsys, tmp_path, job, Returned(other, curves.frit_fade))
    assert code == 1
    over = {each["what"]: each for each in found["differences"]}
    assert (over["radius at V3"]["issued_mm"], over["radius at V3"]["returned_mm"]) == (40.0, pytest.approx(60.0, abs=1e-6))
    assert over["V3"]["difference_mm"] < -5


def test_one_ellipse_for_a_parallel_curve_is_short_between_the_axes(capsys, tmp_path):
    job = tmp_path / "oval.toml"
    oval = JOB.replace("{ polygon = [[0, 0], [1300, 120], [1120, 870], [60, 820]], radius = 40 }", "{ ellipse = [700, 400] }")
    job.write_text(oval.replace("width = 50, fade = 8", "width = 37"), encoding="utf-8")
    drawn = Returned(ellipse(700, 400), moved(ellipse(626, 326), 37, 37))
    code, found = compared(capsys, tmp_path, job, drawn)
    assert found["solid_frit"]["least_mm"] == pytest.approx(35.37, abs=0.01)  # the demo pane SW-04's print
    x, y = found["solid_frit"]["at"]
    assert (abs(x), abs(y - 200)) == (pytest.approx(280, abs=2), pytest.approx(120, abs=2))  # X counts from the middle
    assert code == 1
    assert verdicts(found)["print as issued"] == "fail"
    assert verdicts(found)["frit at least twice the bond width"] == "pass"  # 35,37 less 2 is over 30
    assert found["cannot_tell"] == {"turns_deg": [180.0], "any_turn": False, "mirrored": True}


def test_dots_are_not_counted(capsys, tmp_path, job, curves):
    """A line where the dots end, none where the solid print ends: it ends where the first dot begins."""
    inner = offset_rounded(curves.glass, -30.0, radius=10.0)
    end = offset_rounded(curves.glass, -50.0, radius=10.0)
    dots = dots_round(inner, rows=4, pitch=5.0, radius=1.5)
    code, found = compared(capsys, tmp_path, job, Returned(curves.glass, end, dots=dots, print_layer="SCREEN"))
    assert found["solid_frit"]["to_dots"] is True
    assert found["solid_frit"]["least_mm"] == pytest.approx(30 + 2.5 - 1.5, abs=0.05)
    assert code == 1
    # the same dots within a drawn solid edge take nothing from it
    code, found = compared(
        capsys,
        tmp_path,
        job,
        Returned(curves.glass, curves.frit_fade, dots=dots_round(curves.frit_fade, rows=2, pitch=5, radius=1)),
    )
    assert (code, found["solid_frit"]["to_dots"]) == (0, False)
    assert found["solid_frit"]["least_mm"] == pytest.approx(42.0, abs=1e-6)


def test_no_print_at_all_fails_and_a_file_to_cut_from_is_not_checked(capsys, tmp_path, job, curves):
    code, found = compared(capsys, tmp_path, job, Returned(curves.glass, None))
    assert code == 1
    assert found["solid_frit"]["least_mm"] == 0.0
    assert verdicts(found)["solid print drawn"] == "fail"
    code, found = compared(capsys, tmp_path, job, Returned(curves.glass, None, framed=False))
    assert code == 0
    assert found["solid_frit"] == {"least_mm": None, "at": None, "part": "", "verdict": "not checked"}
    assert verdicts(found)["solid print drawn"] == "not checked"
    assert found["verdict"] == "not checked"  # of a pane that asks for a print, its edge alone is no pass


def test_words_that_name_the_other_side_than_the_lines_are_told(capsys, tmp_path, job, curves):
    """Lines as seen from outside under the words VIEW FROM INSIDE: who makes it may turn it over."""
    for words, verdict in (("VIEW FROM INSIDE", "look"), ("VIEW FROM OUTSIDE", "pass")):
        drawn = Returned(curves.glass, curves.frit_fade, texts=((words, 300.0, 300.0),))
        code, found = compared(capsys, tmp_path, job, drawn)
        assert (code, found["mirrored"]) == (0, False)
        [finding] = [each for each in found["findings"] if each["name"] == "drawn from the side that was issued"]
        assert finding["verdict"] == verdict
        assert ("“VIEW FROM INSIDE”; one of the two is wrong" in finding["says"]) == (verdict == "look")


def test_a_print_pushed_aside_is_short_on_one_side_with_the_ladder_of_remedies(capsys, tmp_path, job, curves):
    pushed = moved(curves.frit_fade, -16.0, 0.0)
    code, found = compared(capsys, tmp_path, job, Returned(curves.glass, pushed))
    assert code == 1
    assert found["solid_frit"]["part"] == "e4"
    assert found["solid_frit"]["least_mm"] == pytest.approx(42 - 16 * math.cos(math.atan2(60, 820)), abs=0.01)
    frit = next(finding for finding in found["findings"] if finding["name"] == "frit at least twice the bond width")
    assert frit["remedies"][0]["sentence"].startswith("have the print drawn as issued, solid 42 mm")


def test_words_are_quoted_and_held_against_the_request(capsys, tmp_path, job, curves):
    texts = (("FRIT ON SURFACE 1", 300.0, 400.0), ("STAMP", 600.0, 500.0), ("VIEW FROM INSIDE", 300.0, 300.0))
    code, found = compared(capsys, tmp_path, job, Returned(curves.glass, curves.frit_fade, texts=texts))
    assert code == 1
    assert [(each["topic"], each["says"]) for each in found["words"]] == [
        ("face", "contradicts"),
        ("mark", "not checked"),
        ("view", "look"),
    ]
    assert verdicts(found)["words of the printed face as asked"] == "fail"
    says = {finding["name"]: finding["says"] for finding in found["findings"]}
    assert "“STAMP” stands in the clear view" in says["words of the permanent mark as asked"]


def test_signs_that_the_lettering_lacks_and_endless_words_are_no_hindrance(capsys, tmp_path, job, curves):
    texts = (("FACE 2 \u9762 \u73bb\u7483", 300.0, 400.0), ("STAMP " + "x" * 400, 300.0, 300.0))
    path = tmp_path / "\u56f3 returned.dxf"
    path.write_bytes(dxf_of(Returned(curves.glass, curves.frit_fade, texts=texts, version="R2010")))
    code, out, _ = run(capsys, "compare", job, path, "-o", tmp_path / "out")
    assert code == 0
    assert "FACE 2" in out
    assert "FACE 2 ? ??" in (tmp_path / "out" / "W1-B-compared.svg").read_text(encoding="utf-8")


def test_two_outlines_that_could_be_the_pane_are_listed(capsys, tmp_path, job, curves):
    import io

    document = ezdxf.read(io.StringIO(dxf_of(Returned(curves.glass, None, framed=False)).decode()))
    model = document.modelspace()
    for x in (3000.0, 6000.0):
        model.add_lwpolyline([(v.x + x, v.y, v.bulge) for v in curves.glass.vertices], format="xyb", close=True)
    path = tmp_path / "three.dxf"
    document.saveas(path)
    code, out, err = run(capsys, "compare", job, path, "-o", tmp_path / "out")
    assert (code, out) == (2, "")
    assert err.count("lower left at") == 3
    assert "--at" in err
    assert not (tmp_path / "out").exists()
    code, out, _ = run(capsys, "compare", job, path, "-o", tmp_path / "out", "--json", "--at", "3600,400")
    assert code == 1  # it shows no print
    assert json.loads(out)["shift_mm"] == pytest.approx([3000, 0], abs=1e-6)


def test_what_is_no_drawing_of_the_pane_is_refused(capsys, tmp_path, job, curves):
    path = tmp_path / "other.dxf"
    path.write_bytes(dxf_of(Returned(polygon([(0, 0), (500, 0), (500, 480), (0, 480)]), None)))
    code, _, err = run(capsys, "compare", job, path, "-o", tmp_path / "out")
    assert code == 2
    assert "resembles pane W1" in err
    assert "nothing was written" in err
    for name, data in (("none.dxf", None), ("text.dxf", b"hello"), ("empty.dxf", b"")):
        wrong = tmp_path / name
        if data is not None:
            wrong.write_bytes(data)
        code, _, err = run(capsys, "compare", job, wrong, "-o", tmp_path / "out")
        assert code == 2
        assert name in err
        _, out, _ = run(capsys, "compare", job, wrong, "-o", tmp_path / "out", "--json")
        [refusal] = json.loads(out)["errors"]  # a machine is told which of the two files is wrong
        assert refusal["file"] == str(wrong) and refusal["found"] and "allowed:" not in refusal["found"]
    code, _, err = run(capsys, "compare", VESSEL, path, "-o", tmp_path / "out")
    assert code == 2
    assert "--pane" in err
    _, out, _ = run(capsys, "compare", VESSEL, path, "-o", tmp_path / "out", "--json")
    [refusal] = json.loads(out)["errors"]
    assert refusal["file"] == str(path) and refusal["allowed"].startswith("--pane with one of SW-01, ")
    code, _, err = run(capsys, "compare", job, path, "-o", tmp_path / "out", "--at", "here")
    assert code == 2
    assert "--at" in err


def test_of_a_vessel_the_only_pane_that_it_resembles_is_taken(capsys, tmp_path):
    code, out, _ = run(capsys, "compare", VESSEL, ROOT / "samples" / "returned-SW-02.dxf", "-o", tmp_path, "--json")
    found = json.loads(out)
    assert (code, found["pane"], found["unit"], found["turned_deg"]) == (1, "SW-02", "inches", pytest.approx(90.0, abs=1e-4))
    assert {path.name for path in tmp_path.iterdir()} == {f"SW-02-A-compared.{kind}" for kind in ("dxf", "svg", "pdf")}


def test_the_marked_up_drawing_holds_the_differences_on_layers_of_their_own(capsys, tmp_path):
    run(capsys, "compare", VESSEL, ROOT / "samples" / "returned-SW-02.dxf", "--pane", "SW-02", "-o", tmp_path)
    document = ezdxf.readfile(tmp_path / "SW-02-A-compared.dxf")
    layers = {entity.dxf.layer for entity in document.modelspace()}
    assert {"GLASS", "FRIT_INNER", "RETURNED_GLASS", "RETURNED_PRINT", "DIFFERENCES", "SHORT_PRINT", "DIFFERENCE_FLAGS"} <= layers
    returned = next(each for each in document.modelspace() if each.dxf.layer == "RETURNED_GLASS")
    laid = [(x, y) for x, y, *_ in returned.get_points("xyb")]
    assert max(x for x, _ in laid) == pytest.approx(bounding_box(polygon(CORNERS, radii=40)).right, abs=8)  # on the pane, mm
    svg = (tmp_path / "SW-02-A-compared.svg").read_text(encoding="utf-8")
    for told in ("DO NOT RELEASE", "radius at V3", "over ±0,5", "differs by more than its limit", "Words of the drawing, quoted"):
        assert told in svg


def test_the_short_list_says_first_how_it_lies(capsys, tmp_path):
    code, out, _ = run(capsys, "compare", VESSEL, ROOT / "samples" / "returned-SW-02.dxf", "-o", tmp_path)
    assert code == 1
    lines = out.splitlines()
    assert lines[0] == "SW-02, returned-SW-02.dxf: FAIL (9 findings: 5 fail, 3 pass, 1 not checked)"
    assert lines[1].startswith("  laid on the pane: in inches, not mirrored, turned by 90°")
    assert any(re.fullmatch(r"    radius at V3: 40  55  \+15\.00", line) for line in lines)
    # by hand: corner V3 rounded by 55 in place of 40 stands back, and its print edge e2 with it; no sign has to be looked up
    assert any(re.match(r"  outline, V3: 4\.47 mm inside the issued line at X 1113, Y 860, over 63 mm", line) for line in lines)
    assert not any(re.search(r" [+-]\d+\.\d+ mm at", line) for line in lines)


def test_a_difference_has_one_place_in_list_and_table(capsys, tmp_path):
    """What the terminal says lies at X 1113, Y 860 is numbered on the sheet with that place, not with its foot on the other line."""
    _, out, _ = run(capsys, "compare", VESSEL, ROOT / "samples" / "returned-SW-02.dxf", "-o", tmp_path)
    places = re.findall(r"^  (?:outline|solid edge of the print|solid print)\b.*?X (-?\d+), Y (-?\d+)", out, re.MULTILINE)
    assert len(places) == 4
    svg = (tmp_path / "SW-02-A-compared.svg").read_text(encoding="utf-8")
    for x, y in places:
        assert f">{x}, {y}<" in svg


def test_the_same_drawing_gives_the_same_bytes(capsys, tmp_path):
    for folder in ("one", "two"):
        run(capsys, "compare", VESSEL, ROOT / "samples" / "returned-SW-02.dxf", "-o", tmp_path / folder)
    for path in (tmp_path / "one").iterdir():
        assert path.read_bytes() == (tmp_path / "two" / path.name).read_bytes(), path.name


def test_the_samples_are_what_the_tool_makes():
    for name, data in sample_drawings().items():
        assert (ROOT / "samples" / name).read_bytes() == data, name
        assert b"INVENTED" in data


def test_mutated_drawings_are_compared_or_refused_in_words(capsys, tmp_path, job, curves):
    """Bytes changed, cut, doubled: exit code 0, 1 or 2 with words; never a traceback and never a file of a fault."""
    whole = dxf_of(Returned(curves.glass, curves.frit_fade, texts=(("FACE 2", 10.0, 10.0),), version="R12"))
    dice = random.Random(5)
    codes = set()
    for _ in range(40):
        path = tmp_path / "mutated.dxf"
        path.write_bytes(mutated(whole, dice))
        code, out, err = run(capsys, "compare", job, path, "-o", tmp_path / "out")
        codes.add(code)
        assert code in (0, 1, 2), (out, err)
        assert "Traceback" not in err
        assert out or err
    assert 2 in codes
    assert codes & {0, 1}


def test_the_other_hand_of_a_pair_is_a_mirrored_drawing(capsys, tmp_path):
    job = ROOT / "samples" / "pair.toml"
    run(capsys, "draw", job, "--no-plate", "--sheet", "glass", "-o", tmp_path)
    for code_of, mirrored in (("W3-S", False), ("W3-P", True)):
        code, out, _ = run(
            capsys, "compare", job, tmp_path / "W3-S-glass.dxf", "--pane", code_of, "-o", tmp_path / "out", "--json"
        )
        found = json.loads(out)
        assert (code, found["mirrored"], found["differences"]) == (int(mirrored), mirrored, [])
        assert not any(size["over"] for size in found["sizes"])
    code, _, err = run(capsys, "compare", job, tmp_path / "W3-S-glass.dxf", "-o", tmp_path / "out")
    assert code == 2
    assert "W3-P, W3-S" in err
