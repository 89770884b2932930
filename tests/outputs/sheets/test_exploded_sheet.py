"""The sheet of the exploded view: asked for and not, its numbers, its lettering, the same bytes, and what every file shows of it."""

from __future__ import annotations

import io
import math
import os
import re
import subprocess
import sys
from pathlib import Path as File
from types import SimpleNamespace
from typing import TYPE_CHECKING

import ezdxf
import pytest
import shapely
from measured import text_near_line, text_near_text
from pypdf import PdfReader

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import read_job
from geometry.job.mark import mark_of
from geometry.job.reading import job_of
from geometry.solids.seen import isometric
from outputs import command_line
from outputs.documents import document_files
from outputs.drawing import exploded_balloons
from outputs.drawing.exploded_balloons import balloons as balloons_of
from outputs.drawing.exploded_view import LINES, TINTS
from outputs.drawing.exploded_ways import ANGLES, ways_of
from outputs.files.dxf import dxf_bytes
from outputs.files.svg import svg_bytes
from outputs.sheet.boxes import overlap
from outputs.sheet.drafting import DraftingStyle
from outputs.sheet.entities import Path, Text
from outputs.sheet.keep_clear import KeepClear
from outputs.sheet.outcomes import Fate, Outcome
from outputs.sheet.pencil import Pencil
from outputs.sheets import exploded_inset
from outputs.sheets.contents import Contents
from outputs.sheets.detail_sheet import detail_of
from outputs.sheets.detail_tables import part_rows
from outputs.sheets.exploded_sheet import exploded_sheet

if TYPE_CHECKING:
    from outputs.sheet.entities import Sheet, View

ROOT = File(__file__).parents[3]
VESSEL = (ROOT / "samples" / "sallow-wren.toml").read_text("utf-8")
ASKED = "[sheet]\nexploded = true\n"
HEAD = '[[pane]]\ncode = "P1"\nframe = "aluminium"\nglass = { plies = [8] }\n'
ODD = {
    "L": "outline = { polygon = [[0, 0], [1200, 0], [1200, 400], [700, 400], [700, 900], [0, 900]], radius = 40 }",
    "kite": "outline = { polygon = [[400, 0], [800, 500], [400, 800], [0, 500]], radius = 30 }",
    "round": "outline = { circle = 180 }",
    "strip": "outline = { rectangle = [3000, 300], radius = 40 }\nglass = { plies = [10] }",
}


def contents_of(name: str) -> Contents:
    if name.startswith("SW"):
        job = read_job(ROOT / "samples" / "sallow-wren.toml")
        job = job.model_copy(update={"sheet": job.sheet.model_copy(update={"exploded": True})})
    else:
        head = HEAD.replace("glass = { plies = [8] }\n", "") if "glass" in ODD[name] else HEAD
        job = job_of(ASKED + head + ODD[name] + "\n")
    pane = next(pane for pane in job.panes if pane.code == name or not name.startswith("SW"))
    detail = build_detail(job, pane)
    return Contents(job, pane, detail, check_pane(job, pane, detail, plate=False, plan=False))


@pytest.fixture(scope="module", params=["SW-01", "SW-07", *ODD])
def drawn(request: pytest.FixtureRequest) -> tuple[Contents, Sheet]:
    contents = contents_of(request.param)
    return contents, exploded_sheet(contents)


def balloons(view: View) -> list[str]:
    """The numbers that stand in the circles of a view."""
    circles = [
        ((mark.nodes[0][0] + mark.nodes[1][0]) / 2, mark.nodes[0][1])
        for mark in view.marks
        if isinstance(mark, Path) and mark.layer == "ITEM_LEADERS" and mark.closed
    ]
    texts = [mark for mark in view.marks if isinstance(mark, Text) and mark.string.isdigit()]
    assert len(circles) == len(texts)
    return [text.string for text in texts]


def test_numbers_in_balloons_are_those_of_the_parts_list_beside_it(drawn):
    contents, sheet = drawn
    listed = {number: quantity for number, quantity, *_ in part_rows(contents.detail, contents.check)}
    on_sheet = {mark.string for mark in sheet.marks if isinstance(mark, Text)}
    assert set(listed) <= on_sheet
    told = [number for view in sheet.views for number in balloons(view)]
    assert len(told) == len(set(told))
    # a part that the pane has none of is listed and not shown; whatever else found no place is told with its reason
    lost = {outcome.what.removeprefix("item ") for _, outcome in sheet.outcomes if outcome.fate is not Fate.DRAWN}
    assert lost == set()
    assert set(told) == {number for number, quantity in listed.items() if quantity != "0"}


def test_a_balloon_leads_to_the_piece_that_is_well_seen_and_not_to_a_sliver_nearer_to_its_room():
    """Two chocks, one hidden but for a sliver that the order of spots takes first: it is the higher one."""
    sliver, seen, bead = shapely.box(0.0, 40.0, 3.0, 43.0), shapely.box(30.0, 0.0, 36.0, 4.0), shapely.box(3.0, -60.0, 5.0, 43.0)
    view = SimpleNamespace(parts=[SimpleNamespace(item=item) for item in ("8", "8", "4")], silhouettes=[sliver, seen, bead])
    pencil = Pencil(DraftingStyle(), 1.0)
    marks = exploded_balloons.balloons(view, {"8"}, pencil, KeepClear(scale=1.0, clear=0.7))
    leader = next(mark for mark in marks if isinstance(mark, Path) and not mark.closed)
    assert seen.contains(shapely.Point(leader.nodes[-1][:2]))


def test_lettering_keeps_clear_as_on_every_sheet(drawn):
    _, sheet = drawn
    assert text_near_text(sheet, 1.5 - 1e-6) == []
    assert text_near_line(sheet, 0.7 - 1e-6) == []


def test_views_stand_apart_on_a3_with_scales_of_the_standard(drawn):
    _, sheet = drawn
    assert (sheet.size, sheet.width, sheet.height) == ("A3", 420.0, 297.0)
    boxes = []
    for view in sheet.views:
        assert view.scale in (2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02)  # ISO 5455
        (left, low, right, high), (x, y) = view.window, view.paper
        boxes.append((x, y, x + (right - left) * view.scale, y + (high - low) * view.scale))
    assert not any(overlap(one, other) for index, one in enumerate(boxes) for other in boxes[index + 1 :])
    assert svg_bytes(sheet)  # the proof of every sheet lets it pass


def test_outlines_are_wide_and_trace_lines_stop_at_what_hides_them(drawn):
    _, sheet = drawn
    widths = {layer.name: layer.width for layer in sheet.layers}
    assert widths["SOLID_OUTLINE"] == 2 * widths["SOLID_EDGE"] == 0.5  # wide and narrow, 2 to 1: ISO 128-2
    for view in sheet.views:
        layers = [mark.layer for mark in view.marks]
        assert layers.count("TRACE_LINES") >= 3
        # parallel to the normal, which goes down to the left at 30° (ISO 5456-3)
        for mark in view.marks:
            if isinstance(mark, Path) and mark.layer == "TRACE_LINES":
                (x1, y1, _), (x2, y2, _) = mark.nodes
                assert (y2 - y1) / (x2 - x1) == pytest.approx(0.5 / 0.8660254037844386, abs=1e-6)


def test_files_show_the_same_strokes(drawn):
    _, sheet = drawn
    own = {layer.name for layer in (*TINTS, *LINES)}
    marks = [mark for view in sheet.views for mark in view.marks if mark.layer in own]
    document = ezdxf.read(io.StringIO(dxf_bytes(sheet).decode("utf-8")))
    lines = [each for each in document.modelspace() if each.dxf.layer in {layer.name for layer in LINES}]
    assert len(lines) == len([mark for mark in marks if isinstance(mark, Path)])
    assert {each.dxf.layer for each in document.modelspace()} >= {mark.layer for mark in marks}
    text = svg_bytes(sheet).decode()
    assert all(layer in text for layer in {mark.layer for mark in marks})


def test_tones_do_not_lie_on_one_another(drawn):
    _, sheet = drawn
    shades = {layer.name for layer in TINTS} - {"SHADE_PRINT"}
    for view in sheet.views:
        faces = []
        for mark in view.marks:
            if mark.layer in shades:
                outer, *holes = mark.boundaries if hasattr(mark, "boundaries") else (mark.nodes,)
                faces.append(shapely.Polygon([n[:2] for n in outer], [[n[:2] for n in hole] for hole in holes]).buffer(0))
        whole = shapely.union_all(faces)
        assert math.fsum(face.area for face in faces) == pytest.approx(whole.area, rel=2e-3)


def test_nothing_changes_and_nothing_is_loaded_where_it_is_not_asked_for():
    code = (
        "import sys\nfrom pathlib import Path\nfrom geometry.detail.build import build_detail\nfrom geometry.job import read_job\n"
        "from outputs.documents import document_files\nfrom outputs.sheets.contents import Contents\n"
        f"job = read_job(Path({str(ROOT)!r}) / 'samples' / 'rectangle.toml')\npane = job.panes[0]\n"
        "files = document_files(Contents(job, pane, build_detail(job, pane)), ('detail',), ('svg', 'dxf', 'pdf'))\n"
        "print(sorted(files), 'OCP' in sys.modules, 'outputs.sheets.exploded_sheet' in sys.modules)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert re.search(r"\['[^']*-detail\.dxf', '[^']*-detail\.pdf', '[^']*-detail\.svg'\] False False", done.stdout), done.stdout
    assert "SHADE" not in svg_bytes_of_detail()


def svg_bytes_of_detail() -> str:
    job = job_of(HEAD + ODD["kite"] + "\n")
    pane = job.panes[0]
    ((_, data),) = document_files(Contents(job, pane, build_detail(job, pane)), ("detail",), ("svg",)).items()
    return data.decode()


def test_the_mark_of_a_job_that_does_not_ask_stays_and_that_of_one_that_asks_is_another():
    plain, told, asked = (job_of(words + HEAD + ODD["kite"] + "\n") for words in ("", "[sheet]\nexploded = false\n", ASKED))
    assert mark_of(plain, plain.panes[0]) == mark_of(told, told.panes[0]) != mark_of(asked, asked.panes[0])


@pytest.fixture
def no_room(monkeypatch: pytest.MonkeyPatch) -> None:
    """No room on a detail sheet is large enough for the view."""
    monkeypatch.setattr(exploded_inset, "LEAST", (2000.0, 2000.0))


def test_the_document_has_a_sheet_more_and_every_sheet_counts_it(no_room):
    contents = contents_of("kite")
    files = document_files(contents, ("detail", "pane"), ("svg", "pdf", "dxf"))
    stem = contents.pane.file_stem
    assert sorted(files) == sorted(
        f"{stem}-{end}"
        for end in ("detail-1.svg", "detail-2.svg", "detail.dxf", "detail.pdf", "pane.svg", "pane.dxf", "pane.pdf")
    )
    pages = PdfReader(io.BytesIO(files[f"{stem}-detail.pdf"])).pages
    assert len(pages) == 2
    layouts = ezdxf.read(io.StringIO(files[f"{stem}-detail.dxf"].decode("utf-8"))).layouts
    assert len([name for name in layouts.names() if name != "Model"]) == 2
    counts = [
        re.findall(r">(\d of \d)<", files[f"{stem}-{end}"].decode()) for end in ("detail-1.svg", "pane.svg", "detail-2.svg")
    ]
    assert counts == [["1 of 5"], ["2 of 5"], ["5 of 5"]]


def test_the_account_of_both_sheets_tells_where_it_is():
    contents = contents_of("kite")
    ((_, told),) = [each for each in detail_of(contents).outcomes if each[0] == "EXPLODED VIEW"]
    assert (told.fate, told.reason) == (Fate.LEFT_OUT, "on a sheet of its own: 5 of 5")
    assert ("EXPLODED VIEW", Outcome("exploded view", Fate.DRAWN)) in exploded_sheet(contents).outcomes


DRAWN = """
import hashlib, sys
from outputs.documents import document_files
sys.path.insert(0, {here!r})
from test_exploded_sheet import contents_of
for name in ("kite", "round", "kite"):
    files = document_files(contents_of(name), ("detail",), ("svg", "dxf", "pdf"))
    print(name, *(hashlib.sha256(data).hexdigest() for data in files.values()))
"""


def test_the_same_bytes_over_hash_seeds_processes_and_a_second_time():
    told = []
    for seed in ("0", "4711"):
        done = subprocess.run(
            [sys.executable, "-c", DRAWN.format(here=str(File(__file__).parent))],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": f"{ROOT}:{File(__file__).parent}"},
            capture_output=True,
            text=True,
            check=True,
        )
        told.append(done.stdout.splitlines())
    assert told[0] == told[1]
    assert told[0][0] == told[0][2] != told[0][1]


def test_a_kernel_that_gives_up_is_one_sentence_and_no_file(tmp_path, capsys, monkeypatch):
    from OCP.StdFail import StdFail_NotDone

    from geometry.solids import seen

    def gives_up(*_given: object) -> None:
        raise StdFail_NotDone("BRep_API: command not done")

    monkeypatch.setattr(seen, "_hidden_removed", gives_up)
    job = tmp_path / "job.toml"
    job.write_text(ASKED + HEAD + ODD["kite"] + "\n", encoding="utf-8")
    with pytest.raises(SystemExit) as left:
        command_line.main(["draw", str(job), "--sheet", "detail", "--no-plate", "-o", str(tmp_path / "none")])
    assert left.value.code == 2
    said = capsys.readouterr().err
    assert "the exploded view cannot be drawn: the view of the bodies cannot be made: the geometry kernel gave up" in said
    assert not (tmp_path / "none").exists()


def test_a_balloon_keeps_off_every_body_of_the_parts_that_it_does_not_name():
    """Of a part of several bodies, as spacers are, the second hides what stands on it as much as the first."""
    style = contents_of("kite").style
    wanted, first, second = shapely.box(0, 0, 10, 10), shapely.box(100, 0, 110, 10), shapely.box(-30, 12, 40, 40)
    view = SimpleNamespace(
        parts=[SimpleNamespace(item="9"), SimpleNamespace(item="3"), SimpleNamespace(item="3")],
        silhouettes=(wanted, first, second),
    )
    room = KeepClear(scale=1.0, clear=style.off_lines, apart=style.clear, within=(-200.0, -200.0, 200.0, 200.0))
    marks = balloons_of(view, {"9"}, Pencil(style, 1.0), room)  # type: ignore[arg-type]
    (circle,) = [mark for mark in marks if isinstance(mark, Path) and mark.closed]
    middle = shapely.Point((circle.nodes[0][0] + circle.nodes[1][0]) / 2, circle.nodes[0][1])
    radius = abs(circle.nodes[0][0] - circle.nodes[1][0]) / 2
    assert min(middle.distance(shape) for shape in (wanted, first, second)) >= radius + 1.0 - 1e-6


@pytest.mark.parametrize(("axis", "way"), [((1, 0, 0), "right"), ((-1, 0, 0), "left"), ((0, 1, 0), "up"), ((0, -1, 0), "down"),
                                           ((0, 0, 1), "out of the plan"), ((0, 0, -1), "into the plan")])  # fmt: skip
def test_the_ways_run_on_the_picture_as_the_projection_puts_a_place_that_lies_that_way(axis, way):
    x, y = isometric().at(axis)
    assert math.cos(math.radians(ANGLES[way])) == pytest.approx(x / math.hypot(x, y))
    assert math.sin(math.radians(ANGLES[way])) == pytest.approx(y / math.hypot(x, y))


def arrows_of(view: View) -> dict[str, float]:
    """Of each word at the tip of an arrow the direction in which that arrow runs, degrees: from the ring that all begin at to the tip."""
    rings = [mark for mark in view.marks if isinstance(mark, Path) and mark.layer == "SEEN_OUTLINE" and mark.closed]
    shafts = [mark for mark in view.marks if isinstance(mark, Path) and mark.layer == "SEEN_OUTLINE" and not mark.closed]
    (ring,) = rings
    foot = ((ring.nodes[0][0] + ring.nodes[1][0]) / 2, ring.nodes[0][1])
    found = {}
    for shaft in shafts:
        start, tip = (node[:2] for node in shaft.nodes)
        assert math.dist(foot, start) < math.dist(foot, tip)
        words = [
            text for text in view.marks if isinstance(text, Text) and re.fullmatch(r"(UP|OUTSIDE|FWD)( = FWD)?", text.string)
        ]
        nearest = min(words, key=lambda text: math.dist((text.x, text.y), tip))
        found[nearest.string] = math.degrees(math.atan2(tip[1] - foot[1], tip[0] - foot[0])) % 360.0
    return found


def test_three_arrows_tell_outside_up_and_the_bow(drawn):
    """By the formula of ISO 5456-3 as transcribed: Y upwards, X down to the right, outboard down to the left; FWD where the job tells it."""
    contents, sheet = drawn
    told = arrows_of(sheet.views[0])
    wanted = {"OUTSIDE": 210.0, "UP": 90.0} | ({"FWD": 150.0} if contents.detail.forward == "left" else {})
    assert told == pytest.approx(wanted)
    assert (contents.detail.forward is None) == any(
        "FWD not given" in mark.string for mark in sheet.views[0].marks if isinstance(mark, Text)
    )


def test_arrows_stand_on_no_part(drawn):
    _, sheet = drawn
    view = sheet.views[0]
    shades = {layer.name for layer in TINTS}
    faces = [mark.boundaries[0] if hasattr(mark, "boundaries") else mark.nodes for mark in view.marks if mark.layer in shades]
    parts = shapely.union_all([shapely.Polygon([node[:2] for node in run]).buffer(0) for run in faces])
    for mark in view.marks:
        if isinstance(mark, Path) and mark.layer == "SEEN_OUTLINE":
            assert shapely.LineString([node[:2] for node in mark.nodes]).distance(parts) * view.scale > 2.0


def test_ways_that_are_one_have_one_arrow_and_a_level_light_has_none_up():
    for told, wanted in (
        ((False, "out of the plan"), {"out of the plan": "OUTSIDE = FWD", "up": "UP"}),
        ((False, None), {"out of the plan": "OUTSIDE", "up": "UP"}),
        ((False, "into the plan"), {"out of the plan": "OUTSIDE", "up": "UP", "into the plan": "FWD"}),
        ((True, "up"), {"out of the plan": "OUTSIDE", "up": "FWD"}),
    ):
        assert ways_of(SimpleNamespace(deck_light=told[0], forward=told[1])) == wanted
