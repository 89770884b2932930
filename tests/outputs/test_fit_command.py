"""``fritline fit`` as a user types it: placing, gaps, chocks and proofs, as text and as JSON, and what it says with its exit code."""

from __future__ import annotations

import json
import math
import re
from pathlib import Path

import pytest
import shapely
import shapely.affinity

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import job_of, read_job
from geometry.outline import distance_between
from geometry.outline.regions import to_polygon
from outputs.command_line import main
from outputs.sheet.entities import Text
from outputs.sheets.card import card_sheets
from outputs.sheets.contents import Contents

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
AS_MADE = SAMPLES / "as-made.toml"
PANE = '[[pane]]\ncode = "X"\nframe = "grp"\nglass = { plies = [8] }\n'


@pytest.fixture
def fit(capsys):
    def run(*arguments: str) -> tuple[int, str, str]:
        with pytest.raises(SystemExit) as left:
            main(["fit", *map(str, arguments)])
        out, err = capsys.readouterr()
        return int(left.value.code or 0), out, err

    return run


@pytest.fixture
def job(tmp_path):
    def write(text: str) -> Path:
        path = tmp_path / "job.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return write


def test_the_sample_pane_is_too_large_for_its_survey(fit):
    code, out, err = fit(AS_MADE, "--json")
    told = json.loads(out)
    assert (code, err, told["verdict"]) == (1, "", "fail")
    assert told["least_gap_mm"] == pytest.approx(1.15, abs=0.02)  # the worked survey of tests/published/test_best_fit.py
    assert told["shift_mm"] == pytest.approx([6.8, 4.3], abs=0.1) and told["turn_deg"] == pytest.approx(0.057, abs=0.005)
    proof = told["proof"]
    assert proof["proved"] and proof["largest_least_gap_mm"] <= proof["bound_mm"] <= proof["largest_least_gap_mm"] + 0.00101
    assert sum(each["multiplier"] for each in proof["contacts"]) == pytest.approx(1)
    gaps = {tuple(each["at_mm"]): each["gap_mm"] for each in told["gaps"] if each["of"] == "wall"}
    assert gaps[5.5, 470] == pytest.approx(1.17, abs=0.03) and gaps[335, 709.5] == pytest.approx(3.85, abs=0.03)
    chocks = told["panes"][0]["chocks"]
    assert [each["height_mm"] for each in chocks] == [4.5, 4] and chocks[0]["pieces_mm"] == [4, 0.5]


def test_text_and_json_say_the_same(fit):
    _, text, _ = fit(AS_MADE)
    _, data, _ = fit(AS_MADE, "--json")
    pane = json.loads(data)["panes"][0]
    assert f"least gap {pane['least_gap_mm']:.2f} at" in text and "least joint 3.00: FAIL" in text
    assert f"largest least gap {pane['proof']['largest_least_gap_mm']:.4f}" in text
    shares = [float(share) for share in re.findall(r"share ([0-9.]+)", text)]
    assert shares == [pytest.approx(each["multiplier"], abs=1e-4) for each in pane["proof"]["contacts"]]
    taken = pane["tolerance_of_one_side"]
    assert f"{taken['worst_case_mm']:.2f} worst case, {taken['root_of_squares_mm']:.2f} root of squares" in text
    width, height = pane["largest_pane"]["sizes_mm"]
    assert f"at these tolerances: {width} × {height} (" in text


def test_one_side_loses_half_of_recess_and_pane_and_all_of_the_placing(fit, job):
    path = job(
        PANE + "outline = { rectangle = [900, 450] }\njoint = { width = 8 }\ntolerances = { recess = 3, pane = 4, placing = 1 }\n"
    )
    code, out, _ = fit(path, "--json")
    pane = json.loads(out)["panes"][0]
    taken = pane["tolerance_of_one_side"]
    assert taken["worst_case_mm"] == pytest.approx(1.5 + 2 + 1) and taken["root_of_squares_mm"] == pytest.approx(
        math.sqrt(1.5**2 + 2**2 + 1)
    )
    assert code == 0 and pane["least_gap_mm"] == pytest.approx(8, abs=1e-6)
    # the corners of the recess are arcs of 8 mm about those of the order: one more both ways leaves 8 − 0.5 √2 there, under 7.5
    assert pane["largest_pane"]["wanted_gap_mm"] == pytest.approx(3 + 4.5) and pane["largest_pane"]["sizes_mm"] == [900, 451]


def test_a_closed_form_by_the_command(fit, job):
    """A rectangle of 1000 × 600 in one of 1020 × 616: 8 mm, then 10 the other way."""
    recess = "recess = { outline = { polygon = [[0, 0], [1020, 0], [1020, 616], [0, 616]] } }\n"
    path = job(PANE + "outline = { polygon = [[0, 0], [1000, 0], [1000, 600], [0, 600]] }\njoint = { width = 8 }\n" + recess)
    code, out, _ = fit(path, "--json")
    told = json.loads(out)
    assert code == 0 and told["least_gap_mm"] == pytest.approx(8, abs=1e-6)
    assert told["shift_mm"] == pytest.approx([10, 8], abs=1e-6) and told["turn_deg"] == pytest.approx(0, abs=1e-6)


def test_witness_marks_and_turn_follow_from_the_placing(fit):
    _, out, _ = fit(AS_MADE, "--json")
    pane = json.loads(out)["panes"][0]
    stood = pane["on_chocks"]
    turn, pivot = math.radians(stood["turn_deg"]), stood["pivot_mm"]
    assert stood["turn_mm_per_m"] == pytest.approx(1000 * math.tan(turn))
    sill = next(each for each in pane["witness_marks"] if each["side"] == "bottom")
    # the middle of the sill lies straight below the pivot: it goes with the shift, and sideways by the turn
    assert sill["offset_mm"] == pytest.approx(stood["shift_mm"][0] + pivot[1] * math.sin(turn), abs=0.05)


def test_the_pane_as_made_is_drawn_where_it_stands(fit):
    _, out, _ = fit(AS_MADE, "--json")
    stood = json.loads(out)["panes"][0]["on_chocks"]
    job = read_job(AS_MADE)
    detail = build_detail(job, job.panes[0])
    assert distance_between(detail.curves.glass, detail.curves.recess) == pytest.approx(stood["least_gap_mm"], abs=1e-6)
    assert to_polygon(detail.curves.glass).area == pytest.approx(1002 * 701.5, rel=2e-3) and detail.pane_tolerance == 1
    assert [round(chock.height, 3) for chock in detail.chocks if chock.kind == "setting chock"] == [4.5, 4.0]
    # bead and print go with the glass
    assert shapely.distance(
        to_polygon(detail.curves.glass).exterior, to_polygon(detail.curves.frit_inner).exterior
    ) == pytest.approx(36, abs=0.01)


def test_without_made_nothing_is_drawn_anew():
    job = read_job(SAMPLES / "own-recess.toml")
    assert build_detail(job, job.panes[0]).curves.glass == job.panes[0].glass_outline


def test_wrong_input_is_refused_and_told_to_a_machine_as_well(fit, job):
    path = job(PANE + "outline = { rectangle = [900, 450] }\nmade = { width = 901 }\n")
    code, out, err = fit(path, "--json")
    assert code == 2 and "without height" in err and json.loads(out)["errors"][0]["key"].endswith("made.width")
    assert fit(path, "--pane", "Y")[0] == 2
    assert fit(path.parent / "none.toml")[0] == 2


def test_a_vessel_is_told_pane_by_pane(fit):
    code, out, _ = fit(SAMPLES / "refit.toml", "--json")
    told = json.loads(out)
    assert code == 0 and [pane["code"] for pane in told["panes"]] == ["R-1", "R-2"] and "least_gap_mm" not in told


def test_a_deck_light_stands_on_no_chocks(fit):
    _, out, _ = fit(SAMPLES / "deck-light.toml", "--json")
    pane = json.loads(out)["panes"][0]
    assert pane["on_chocks"] is None and pane["chocks"] == []


def test_tables_of_tolerances_are_taken_by_name():
    """Rows of ISO 13920 and ISO 2768-1 as transcribed, EN 12150-1 from memory: side 1500 of the recess, side 1400 of the pane."""
    rows = {"ISO 13920-A": 3, "ISO 13920-B": 4, "ISO 13920-C": 8, "ISO 2768-m": 1.2}
    for named, size in rows.items():
        job = job_of(
            PANE
            + f'outline = {{ rectangle = [1400, 450] }}\ntolerances = {{ recess_standard = "{named}", pane_standard = "EN 12150-1" }}\n'
        )
        detail = build_detail(job, job.panes[0], cut=False)
        assert (detail.recess_tolerance, detail.pane_tolerance) == (size, 2.0), named
    own = job_of(PANE + 'outline = { rectangle = [1400, 450] }\ntolerances = { recess_standard = "ISO 13920-C", recess = 1.5 }\n')
    assert build_detail(own, own.panes[0], cut=False).recess_tolerance == 1.5


def test_a_class_without_a_row_for_the_recess_is_refused(fit, job):
    path = job(PANE + 'outline = { rectangle = [2100, 450] }\ntolerances = { recess_standard = "ISO 2768-f" }\n')
    code, _, err = fit(path)
    assert code == 2 and "tolerances.recess_standard" in err and "its last row ends at 2000 mm" in err


def test_a_finding_that_fails_by_tolerance_names_the_tolerances(capsys, job):
    path = job(
        PANE + "outline = { rectangle = [900, 450] }\njoint = { width = 6 }\ntolerances = { recess = 3, pane = 4, placing = 1 }\n"
    )
    with pytest.raises(SystemExit):
        main(["check", str(path), "--no-plate"])
    out = capsys.readouterr().out
    parts = "tolerances.recess ±3 takes 1.5, tolerances.pane ±4 takes 2, tolerances.placing ±1 takes 1; worst case 4.5, root of squares 2.69 mm"
    assert f"6 mm as drawn less 4.5 mm of tolerance leaves 1.5 mm: {parts}" in out


def test_readings_stand_beside_the_order(fit):
    _, out, _ = fit(AS_MADE, "--json")
    read = {each["what"]: each for each in json.loads(out)["panes"][0]["readings"]}
    assert (read["width"]["made_mm"], read["width"]["ordered_mm"], read["width"]["verdict"]) == (
        1002,
        1000,
        "look",
    )  # ordered to ± 1
    assert (read["thickness"]["made_mm"], read["thickness"]["verdict"]) == (10.1, "pass")
    assert read["difference of the diagonals"]["verdict"] == "not checked"  # the job agrees on none
    assert read["bow"]["more_mm"] == pytest.approx(1.5 * 1.0, abs=0.01)  # 1.5 mm/m over the longest side


@pytest.mark.parametrize(("frit", "code"), [("36", 0), ("20", 1)])
def test_frit_as_made_has_to_cover_the_bead(fit, job, frit, code):
    readings = ", ".join(["36"] * 7 + [frit])
    path = job(PANE + f"outline = {{ rectangle = [900, 450] }}\njoint = {{ width = 8 }}\nmade = {{ frit = [{readings}] }}\n")
    found, out, _ = fit(path)
    assert found == code and f"solid frit as made, reading {1 if code == 0 else 8}: {frit}.00 least" in out


def test_the_card_says_how_far_the_tape_goes_and_how_the_pane_is_turned(fit):
    """Figures of the fit, to a tenth of a millimetre, with the heights of the chocks; of a pane as ordered nothing goes anywhere."""
    _, out, _ = fit(AS_MADE, "--json")
    pane = json.loads(out)["panes"][0]
    told = card_of(AS_MADE)
    marks = {each["side"]: each for each in pane["witness_marks"]}
    below, above, right, left = (f"{abs(marks[side]['offset_mm']):.1f}" for side in ("bottom", "top", "right", "left"))
    turn = pane["on_chocks"]["turn_mm_per_m"]
    assert [marks[side]["way"] for side in ("bottom", "top", "right", "left")] == ["right", "right", "up", "up"]
    assert f"right {below} below, {above} above".replace(".", ",") in told
    assert f"up {right} right, {left} left".replace(".", ",") in told
    assert turn > 0 and f"turned left {turn:.1f}".replace(".", ",").removesuffix(",0") + " mm/m" in told
    assert {"4,5 high", "4 high"} <= set(told)
    assert not [each for each in card_of(SAMPLES / "own-recess.toml") if "turned" in each or "goes" in each]


def card_of(path: Path) -> list[str]:
    """Words on the first side of the fitter's card."""
    job = read_job(path)
    pane = job.panes[0]
    detail = build_detail(job, pane)
    sheets = card_sheets(Contents(job, pane, detail, check_pane(job, pane, detail, plate=False)))
    return [mark.string for mark in sheets[0].marks if isinstance(mark, Text)]


# A surveyed recess, hands and the names of the answer.


def test_a_surveyed_recess_is_taken_as_it_was_measured_at_its_own_stations(fit):
    """The sample's points are read here by hand, joined, and the gap at each is measured by shapely to the pane as it is placed."""
    path = SAMPLES / "from-survey.toml"
    _, out, _ = fit(path, "--json")
    pane = json.loads(out)["panes"][0]
    rows = [
        line.split(";")
        for line in (SAMPLES / "deckhouse-aft.csv").read_text(encoding="utf-8").splitlines()
        if not line.startswith("#")
    ]
    points = {
        f"{edge} {station}": (float(x.replace(",", ".")), float(y.replace(",", "."))) for edge, station, x, y, *_ in rows[1:]
    }
    assert pane["recess"] == {"from": "survey", "survey": "deckhouse-aft.csv", "measured_points": len(points)}
    stations = {each["station"]: each for each in pane["gaps"] if each["of"] == "wall"}
    assert list(stations) == list(points)
    job = read_job(path)
    glass = to_polygon(job.panes[0].glass_outline, sagitta=0.001)
    placed = shapely.affinity.translate(
        shapely.affinity.rotate(glass, pane["turn_deg"], origin=tuple(pane["pivot_mm"])), *pane["shift_mm"]
    )
    for name, place in points.items():
        at = stations[name]["at_mm"]
        assert stations[name]["gap_mm"] == pytest.approx(placed.distance(shapely.Point(at)), abs=0.002)
        # beside a corner whose radius is given the wall is the rounding; elsewhere the station is the point as typed
        if name.split()[1] not in ("1", "4", "7", "10"):
            assert at == pytest.approx(place, abs=1e-6)
    for one, other in (("sill 2", "sill 3"), ("stbd 5", "stbd 6"), ("head 8", "head 9"), ("port 11", "port 12")):
        side = shapely.LineString(
            [points[one], points[other]]
        )  # nothing of the wall as measured is nearer than the least gap told
        assert placed.distance(side) >= pane["least_gap_mm"] - 0.002
    _, text, _ = fit(path)
    assert "in the wall as measured: the 12 points of deckhouse-aft.csv joined" in text and "stbd 6 at right" in text


HANDED = """
[[pane]]
code = "H"
side = "port"
hand = "port and starboard"
frame = "grp"
glass = { plies = [8] }
outline = { polygon = [[0, 0], [900, 0], [860, 430], [40, 450]], radius = 20 }
recess = { outline = { polygon = [[-9, -8], [400, -7], [912, -9], [869, 440], [420, 452], [31, 461]] }, depth = 14, landing = 45 }
joint = { width = 8 }
"""


def test_the_other_hand_is_placed_as_in_a_mirror(fit, job):
    code, out, _ = fit(job(HANDED), "--json")
    port, starboard = json.loads(out)["panes"]
    assert (port["code"], starboard["code"]) == ("H-P", "H-S")
    assert starboard["least_gap_mm"] == pytest.approx(port["least_gap_mm"], abs=1e-6) and code in (0, 1)
    x, y = port["shift_mm"]
    assert starboard["shift_mm"] == pytest.approx([-x, y], abs=1e-3)
    assert starboard["turn_deg"] == pytest.approx(-port["turn_deg"], abs=1e-5) and abs(port["turn_deg"]) > 1e-3
    gaps = {each["at_mm"][1]: each["gap_mm"] for each in port["gaps"] if each["of"] == "wall"}
    others = {each["at_mm"][1]: each["gap_mm"] for each in starboard["gaps"] if each["of"] == "wall"}
    assert others == pytest.approx(gaps, abs=1e-3)
    # edges bear the names of the pane that was typed: the gap in the middle of each is the same on both hands
    middle = {each["edge"]: each["gap_mm"] for each in port["witness_marks"]}
    assert {each["edge"]: each["gap_mm"] for each in starboard["witness_marks"]} == pytest.approx(middle, abs=0.3)


def test_the_other_hand_stands_on_the_mirrored_chocks(fit, job):
    _, out, _ = fit(job(HANDED), "--json")
    port, starboard = json.loads(out)["panes"]
    heights = [each["best_fit_mm"] for each in port["chocks"]]
    assert [each["best_fit_mm"] for each in starboard["chocks"]] == pytest.approx(heights[::-1], abs=1e-3)
    for pane in (port, starboard):
        across = [each["at_mm"][0] for each in pane["chocks"]]
        assert across == sorted(across)
    assert [each["mark"] for each in port["chocks"]] == ["K1", "K2"] == [each["mark"] for each in starboard["chocks"]][::-1]
    assert starboard["on_chocks"]["least_gap_mm"] == pytest.approx(port["on_chocks"]["least_gap_mm"], abs=1e-3)


NAMES = ("least_gap_mm", "shift_mm", "turn_deg", "gaps", "proof")


def test_one_pane_is_told_at_the_top_and_under_panes_alike(fit, job):
    """Of a job of one pane, of one pane picked out of several, and of each job of several jobs of one pane."""
    for arguments in ((AS_MADE,), (SAMPLES / "refit.toml", "--pane", "R-2")):
        _, out, _ = fit(*arguments, "--json")
        told = json.loads(out)
        assert len(told["panes"]) == 1 and {name: told[name] for name in NAMES} == {
            name: told["panes"][0][name] for name in NAMES
        }
    _, out, _ = fit(AS_MADE, SAMPLES / "own-recess.toml", "--json")
    for each in json.loads(out)["jobs"]:
        assert [each[name] == each["panes"][0][name] for name in NAMES] == [True] * len(NAMES)
