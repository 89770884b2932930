"""The document of bodies: STEP read again by the kernel and by a plain reader of its text, glTF, masses, and the same bytes every time."""

from __future__ import annotations

import json
import math
import os
import re
import struct
import subprocess
import sys
from pathlib import Path

import pytest
from pane_set import CANNOT_RUN, PANE, PLAIN, PLIES, SIZES

from geometry.detail.build import build_detail
from geometry.job import read_job
from geometry.job.reading import job_of
from geometry.solids import kernel
from geometry.solids.bodies import bodies_of
from outputs import command_line
from outputs.documents import NAMES, document_files
from outputs.files.step_text import encoded
from outputs.sheets.contents import Contents
from outputs.sheets.detail_tables import part_rows

ROOT = Path(__file__).parents[2]
VESSEL = read_job(ROOT / "samples" / "sallow-wren.toml")
ODD = (
    '[sheet]\ndrawn_by = "Jörg O\'Hara"\nowner = "Œuvres"\ndate = 2026-05-04\n[adhesive]\ndensity = 1200\n'
    '[[pane]]\ncode = "E-1"\nname = "l\'été"\nframe = "grp"\nglass = { plies = [6, 6], interlayers = [1.52] }\n'
    "outline = { polygon = [[0, 0], [900, 0], [900, 400], [500, 400], [500, 700], [0, 700]], radius = 30 }\n"
    "recess = { depth = 18, landing = 40, draft = 2, fillet = 2 }\nfrit = { width = 40 }\n"
)


def contents_of(code: str) -> Contents:
    job = VESSEL if code.startswith("SW") else job_of(ODD)
    pane = next(pane for pane in job.panes if pane.code == code)
    return Contents(job, pane, build_detail(job, pane))


@pytest.fixture(scope="module", params=["SW-05", "E-1"])
def made(request: pytest.FixtureRequest) -> tuple[Contents, dict[str, bytes]]:
    contents = contents_of(request.param)
    files = document_files(contents, ("solid",), ())
    return contents, {name.rpartition(".")[2]: data for name, data in files.items()}


def instances(step: bytes) -> dict[int, str]:
    return {int(number): body for number, body in re.findall(r"^#(\d+)=(.*);$", step.decode("ascii"), re.M)}


def of_kind(found: dict[int, str], kind: str) -> list[str]:
    return [body for body in found.values() if body.startswith(f"{kind}(")]


def test_header_units_and_references_as_the_text_has_them(made) -> None:
    contents, files = made
    text, found = files["step"].decode("ascii"), instances(files["step"])
    words = contents.job.sheet
    assert text.startswith("ISO-10303-21;\nHEADER;\n") and text.endswith("ENDSEC;\nEND-ISO-10303-21;\n")
    assert f"'{words.date}T00:00:00',('{encoded(words.drawn_by)}'),('{encoded(words.owner)}'),'Fritline " in text
    assert "FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'));" in text
    units = [body for body in found.values() if "LENGTH_UNIT()" in body]
    assert units and all("SI_UNIT(.MILLI.,.METRE.)" in body for body in units)
    assert list(found) == list(range(1, len(found) + 1))
    assert {int(each) for body in found.values() for each in re.findall(r"#(\d+)", body)} <= set(found)
    assert "NAME-" not in text


def test_names_and_colours_are_those_of_the_parts_list(made) -> None:
    contents, files = made
    found, code = instances(files["step"]), encoded(contents.detail.code)
    uses = of_kind(found, "NEXT_ASSEMBLY_USAGE_OCCURRENCE")
    names = [re.match(r"[A-Z_]+\('\d+','((?:[^']|'')*)'", body)[1] for body in uses]  # type: ignore[index]
    assert len(names) == len(set(names)) == len(bodies_of(contents.detail))
    for name in ("frame, item 1", "bead, item 4", "frit, item 5", "glass 1, item 6", "interlayer 1, item 6", "backfill, item 7"):
        assert f"{code} {name}" in names
    for spacer in contents.detail.spacers:
        assert f"{code} spacer {spacer.mark}, item 3" in names
    item_of = {part: item for item, _, part, *_ in part_rows(contents.detail)}
    for chock in contents.detail.chocks:
        assert f"{code} {chock.kind} {chock.mark}, item {item_of[str(chock.kind)]}" in names
    # one product for all spacers, and colours as the format's reader sees them: sRGB, 0 to 1
    assert sum(f"'{code} spacer, item 3'" in body for body in of_kind(found, "PRODUCT")) == 1
    colours = [[float(each) for each in re.findall(r"[\d.]+(?:E-\d+)?", body)] for body in of_kind(found, "COLOUR_RGB")]
    assert any(all(abs(a - b) < 1e-6 for a, b in zip(each, (0.55, 0.78, 0.80), strict=True)) for each in colours)
    assert len(colours) == len({body.material for body in bodies_of(contents.detail)})
    assert not of_kind(found, "DRAUGHTING_PRE_DEFINED_COLOUR")


def test_curved_faces_are_true_and_nothing_is_faceted(made) -> None:
    found = instances(made[1]["step"])
    assert of_kind(found, "CYLINDRICAL_SURFACE") and of_kind(found, "CIRCLE")
    assert not [body for body in found.values() if "B_SPLINE" in body or "POLY_LINE" in body or "TESSELLATED" in body]
    assert of_kind(found, "MANIFOLD_SOLID_BREP") and not of_kind(found, "SHELL_BASED_SURFACE_MODEL")


def test_corners_of_the_glass_lie_where_the_outline_has_them() -> None:
    # read by the text alone: the product's shape, its vertices, their points
    contents = contents_of("SW-05")
    found = instances(document_files(contents, ("solid",), ())["SW-05-A-solid.step"])

    def reached(number: int, seen: set[int]) -> set[int]:
        for each in (int(part) for part in re.findall(r"#(\d+)", found[number])):
            if each not in seen:
                seen.add(each)
                reached(each, seen)
        return seen

    solid = next(
        number for number, body in found.items() if body.startswith("MANIFOLD_SOLID_BREP('") and _is_plain_ply(body, found)
    )
    points = {
        tuple(float(part) for part in re.findall(r"-?\d+\.(?:\d+)?(?:E-?\d+)?", found[number]))
        for number in (
            int(found[each].split("#")[1].rstrip(")")) for each in reached(solid, set()) if found[each].startswith("VERTEX_POINT")
        )
    }
    wanted = {(vertex.x, vertex.y) for vertex in contents.detail.curves.glass.vertices}
    for x, y in wanted:
        assert min(math.dist((x, y), (each[0], each[1])) for each in points) < 1e-6


def _is_plain_ply(body: str, found: dict[int, str]) -> bool:
    """A ply or interlayer without print: four straight sides, four rounded corners, two faces."""
    return len(re.findall(r"#\d+", found[int(body.split("#")[1].rstrip(")"))])) == 10


def test_the_kernel_reads_the_same_bodies_again(made, tmp_path: Path) -> None:
    from OCP.STEPControl import STEPControl_Reader

    contents, files = made
    path = tmp_path / "again.step"
    path.write_bytes(files["step"])
    reader = STEPControl_Reader()
    reader.ReadFile(str(path))
    reader.TransferRoots()
    own = bodies_of(contents.detail)
    again = reader.OneShape()
    assert kernel.valid(again)
    solids = [solid for body in own for solid in kernel.solids_of(body.shape)]
    found = sorted(round(kernel.volume(solid).value, 3) for solid in kernel.solids_of(again))
    assert found == pytest.approx(sorted(round(kernel.volume(solid).value, 3) for solid in solids), rel=1e-9, abs=2e-3)
    assert kernel.volume(again).value == pytest.approx(math.fsum(body.volume.value for body in own), rel=1e-9)
    assert kernel.volume(again).centre == pytest.approx(
        kernel.volume(kernel.together(body.shape for body in own)).centre, abs=1e-6
    )


def test_gltf_is_whole_named_and_in_metres(made) -> None:
    contents, files = made
    data = files["glb"]
    magic, version, length, first, kind = struct.unpack_from("<4sIIII", data)
    assert (magic, version, length, kind) == (b"glTF", 2, len(data), 0x4E4F534A)
    told = json.loads(data[20 : 20 + first])
    names = " ".join(node.get("name", "") for node in told["nodes"])
    assert f"{contents.detail.code} bead, item 4" in names
    sizes = [limit for each in told["accessors"] if "max" in each for limit in (*each["max"], *each["min"])]
    assert max(sizes) < 2.0  # metres


def test_masses_are_those_of_the_record_and_what_has_no_density_is_named(made) -> None:
    contents, files = made
    told, detail = json.loads(files["json"]), contents.detail
    rows = {row["name"]: row for row in told["bodies"]}
    glass = math.fsum(row["mass_kg"] for row in told["bodies"] if row["material"] in ("glass", "interlayer", "frit"))
    # the print is glass; under an interlayer nothing changes
    assert glass == pytest.approx(detail.glass.mass, rel=1e-5)
    density = contents.job.adhesive.density
    bead = rows["bead"]
    assert bead["mass_kg"] == (None if density is None else pytest.approx(bead["volume_ml"] * 1e-6 * density, rel=1e-5))
    assert rows["glass 1"]["centre_mm"][:2] == pytest.approx([detail.centroid.x, detail.centroid.y], abs=1e-5)
    assert "frame" in told["together"]["without"] and ("bead" in told["together"]["of"]) == (density is not None)


EXPORT = """
import hashlib, sys
sys.path.insert(0, {root!r})
from pathlib import Path
from geometry.detail.build import build_detail
from geometry.job import read_job
from outputs.documents import document_files
from outputs.sheets.contents import Contents
job = read_job(Path({root!r}) / "samples" / "sallow-wren.toml")
for code in ("SW-05", "SW-03", "SW-05"):
    pane = next(pane for pane in job.panes if pane.code == code)
    files = document_files(Contents(job, pane, build_detail(job, pane)), ("solid",), ())
    print(code, *(hashlib.sha256(data).hexdigest() for data in files.values()))
print("of the heavy libraries:", *sorted({{"cadquery", "OCP", "vtkmodules", "skfem", "scipy"}} & set(sys.modules)))
"""


def test_the_same_bytes_over_hash_seeds_processes_and_a_second_export() -> None:
    told = []
    for seed in ("0", "4711"):
        done = subprocess.run(
            [sys.executable, "-c", EXPORT.format(root=str(ROOT))],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        )
        told.append(done.stdout.splitlines())
    assert told[0] == told[1]
    assert told[0][0] == told[0][2] and told[0][0] != told[0][1]
    # the kernel alone is loaded, not the library around it
    assert told[0].pop() == "of the heavy libraries: OCP"
    assert len(told[0]) == 3  # the kernel says nothing of its own on the standard output


def test_draw_makes_it_only_where_it_is_asked_for_and_proves_in_words(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert "solid" not in NAMES
    job = str(ROOT / "samples" / "sallow-wren.toml")
    options = ["--sheet", "solid", "--prove", "--no-plate", "-o", str(tmp_path)]
    with pytest.raises(SystemExit):
        command_line.main(["draw", job, "--pane", "SW-01", "--pane", "SW-03", *options])
    said = capsys.readouterr().out
    assert "SW-01: sections A, B, C, D are those of its bodies" in said
    assert "SW-03: by convention: section A, chock: area drawn 50.0000 mm², cut " in said
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        f"{code}-A-solid.{ending}" for code in ("SW-01", "SW-03") for ending in ("glb", "json", "step")
    ]


def test_a_kernel_that_gives_up_is_one_sentence_and_no_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    from OCP.StdFail import StdFail_NotDone

    def gives_up(*_given: object, **_named: object) -> None:
        raise StdFail_NotDone("BRep_API: command not done")

    monkeypatch.setattr(kernel, "swept", gives_up)
    job = str(ROOT / "samples" / "sallow-wren.toml")
    options = ["--pane", "SW-01", "--sheet", "solid", "--no-plate", "-o", str(tmp_path / "none")]
    with pytest.raises(SystemExit) as left:
        command_line.main(["draw", job, *options])
    assert left.value.code == 2
    said = capsys.readouterr().err
    assert "SW-01: the bodies of the pane cannot be made: the geometry kernel gave up (StdFail_NotDone)" in said
    assert not (tmp_path / "none").exists()


def test_a_pane_whose_bead_cannot_run_is_refused_with_the_sentence_of_the_drawing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = tmp_path / "neck.toml"
    job.write_text(PANE + PLIES + SIZES + CANNOT_RUN + PLAIN, encoding="utf-8")
    said = []
    for asked in (["--sheet", "detail"], ["--sheet", "solid"], ["--prove", "--sheet", "solid"]):
        with pytest.raises(SystemExit) as left:
            command_line.main(["draw", str(job), *asked, "--no-plate", "-o", str(tmp_path / "none")])
        assert left.value.code == 2
        said.append(capsys.readouterr().err)
    assert "the bead cannot run" in said[0] and "at the neck near (450, 15), which is 30 mm wide" in said[0]
    assert said[0] == said[1] == said[2]
    assert not (tmp_path / "none").exists()


def test_issue_adds_it_with_its_option_and_the_register_lists_it(tmp_path: Path) -> None:
    job = tmp_path / "one.toml"
    job.write_text(
        '[[pane]]\ncode = "A1"\nframe = "grp"\nglass = { plies = [8] }\noutline = { circle = 400 }\n', encoding="utf-8"
    )
    with pytest.raises(SystemExit):
        command_line.main(["issue", str(job), "--solid", "--no-plate", "--workers", "1", "-o", str(tmp_path / "issued")])
    files = {path.name for path in (tmp_path / "issued" / "A1").glob("*solid*")}
    assert files == {"A1-solid.step", "A1-solid.glb", "A1-solid.json"}
    register = (tmp_path / "issued" / "one-register.csv").read_text("utf-8-sig")
    assert all(f"A1/{name}" in register for name in files)


def test_issue_refuses_a_pane_with_the_sentence_of_the_drawing_and_goes_on_with_the_others(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = tmp_path / "two.toml"
    other = '[[pane]]\ncode = "A1"\nframe = "grp"\nglass = { plies = [8] }\noutline = { circle = 400 }\n'
    job.write_text(PANE + PLIES + SIZES + CANNOT_RUN + PLAIN + other, encoding="utf-8")
    with pytest.raises(SystemExit):
        command_line.main(["draw", str(job), "--pane", "X", "--sheet", "solid", "--no-plate", "-o", str(tmp_path / "none")])
    drawn = capsys.readouterr().err.splitlines()[0].removeprefix(f"{job}: pane X: ")
    assert drawn.startswith("the bead cannot run")
    with pytest.raises(SystemExit) as left:
        command_line.main(["issue", str(job), "--solid", "--no-plate", "--workers", "1", "-o", str(tmp_path / "issued")])
    said = capsys.readouterr()
    assert left.value.code == 2
    assert f"{job}: pane X is not drawn: {drawn}" in said.err.splitlines()
    assert f"not drawn: {drawn}" in said.out and "2 panes: 1 written, 1 not drawn" in said.out
    assert not (tmp_path / "issued" / "X").exists()
    assert len(list((tmp_path / "issued" / "A1").glob("A1-solid.*"))) == 3


def test_issue_names_the_package_where_the_kernel_lacks_a_library_of_the_system(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def lacks(*_given: object, **_named: object) -> None:
        raise ImportError("libGL.so.1: cannot open shared object file: No such file or directory")

    job = tmp_path / "one.toml"
    job.write_text(PANE + PLIES + SIZES + "outline = { circle = 400 }\n" + PLAIN, encoding="utf-8")
    monkeypatch.setattr(kernel, "prism", lacks)
    said = []
    for command in (["draw", str(job), "--sheet", "solid"], ["issue", str(job), "--solid", "--workers", "1"]):
        with pytest.raises(SystemExit) as left:
            command_line.main([*command, "--no-plate", "-o", str(tmp_path / command[0])])
        assert left.value.code == 2
        said.append(capsys.readouterr().err)
        assert not list((tmp_path / command[0]).glob("**/*-solid.*"))
    assert (
        "the system library libGL.so.1 is missing, which the geometry kernel needs; on Debian or Ubuntu: apt-get install"
        in said[0]
    )
    assert said[0].splitlines()[0] in said[1]
