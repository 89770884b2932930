"""The solid of a pane in the vessel's frame: it lies on the face that its outline came from, and every file tells its centre in one place."""

from __future__ import annotations

import csv
import json
import math
import re
import struct
from pathlib import Path

import openpyxl
import pytest
from held import box_of
from step_files import FRONT, SAMPLE

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.incoming.solid import SolidPick, read_solid, solid_of
from geometry.job import read_job
from geometry.job.reading import job_of
from geometry.outline.measure import area
from geometry.solids import kernel
from outputs import command_line
from outputs.documents import document_files
from outputs.record.data import pane_data
from outputs.record.pane_page import pane_page
from outputs.sheets.contents import Contents

ROOT = Path(__file__).parents[2]
THICK = 12.0  # of the sample's one ply


def files_of(job_path: Path) -> tuple[Contents, dict[str, bytes]]:
    job = read_job(job_path)
    contents = Contents(job, job.panes[0], build_detail(job, job.panes[0]))
    files = document_files(contents, ("solid",), ())
    return contents, {name.rpartition(".")[2]: data for name, data in files.items()}


@pytest.fixture(scope="module")
def placed() -> tuple[Contents, dict[str, bytes]]:
    return files_of(ROOT / "samples" / "from-solid.toml")


def shape_in(data: bytes, folder: Path):
    """A STEP file as the geometry kernel reads it."""
    from OCP.STEPControl import STEPControl_Reader

    path = folder / "read.step"
    path.write_bytes(data)
    reader = STEPControl_Reader()
    reader.ReadFile(str(path))
    reader.TransferRoots()
    return reader.OneShape()


def test_the_weather_face_of_the_glass_lies_on_the_face_it_came_from(placed, tmp_path: Path) -> None:
    """Both files read by the kernel: the face of the ship model and the glass that was written have the whole face in common."""
    contents, files = placed
    model = next(face for face in kernel.faces_of(shape_in(SAMPLE.read_bytes(), tmp_path)))
    whole = kernel.surface(model)
    assert whole.value == pytest.approx(area(contents.detail.curves.glass), rel=1e-9)
    solids = kernel.solids_of(shape_in(files["step"], tmp_path))
    # the ply and its print together are the glass: the prism of the face, as thick as the glass
    glass = [solid for solid in solids if kernel.volume(solid).value == pytest.approx(whole.value * THICK, rel=2e-3)]
    assert len(glass) == 1
    shared = [face for face in kernel.faces_of(glass[0]) if kernel.surface(face).value == pytest.approx(whole.value, rel=1e-9)]
    assert len(shared) == 1
    assert kernel.surface(shared[0]).centre == pytest.approx(whole.centre, abs=1e-6)
    corners, known = sorted(kernel.corners_of(shared[0])), sorted(kernel.corners_of(model))
    assert len(corners) == len(known) == 8
    for one in known:
        assert min(math.dist(one, other) for other in corners) < 1e-6
    assert kernel.surface(kernel.common(model, shared[0])).value == pytest.approx(whole.value, rel=1e-9)
    # and the glass stands behind it: its body lies inboard by half its thickness
    centre = kernel.volume(glass[0]).centre
    inboard = [a - b for a, b in zip(whole.centre, centre, strict=True)]
    assert math.fsum(a * b for a, b in zip(inboard, FRONT.normal, strict=True)) == pytest.approx(THICK / 2, abs=0.02)


def test_the_glass_that_was_written_gives_the_same_outline_again(placed) -> None:
    contents, files = placed
    again = solid_of(files["step"], "again.step")
    came = contents.pane.outline.incoming
    part = next(part for part in again.faces("").parts.all if any(", item 6" in name for name in part.names))
    glass = next(each for each in again.faces("").of_part(part) if each.rough > 8e5 and each.normal[0] > 0)
    number = next(place for place, each in enumerate(again.faces("").flat, start=1) if each.face == glass.face)
    found = read_solid(again, SolidPick(face=number))
    assert len(found.outline.vertices) == len(came.outline.vertices)
    for one, two in zip(found.outline.vertices, came.outline.vertices, strict=True):
        assert one == pytest.approx(two, abs=1e-6)
    for one, two in zip(found.in_space, came.in_space, strict=True):
        assert one == pytest.approx(two, abs=1e-6)


def test_masses_and_centres_are_told_in_the_vessels_frame_and_say_so(placed, tmp_path: Path) -> None:
    files = placed[1]
    told = json.loads(files["json"])
    assert told["frame_of_reference"].startswith("the vessel's, as pane.placing gives it")
    for way, known in zip(("x", "y", "z"), (FRONT.x, FRONT.y, FRONT.normal), strict=True):
        assert told["plan_on_vessel"][way] == pytest.approx(known, abs=1e-9)
    rows = {row["name"]: row for row in told["bodies"]}
    assert rows["glass"]["centre_mm"] == pytest.approx(FRONT.at(600, 350, -THICK / 2), abs=0.02)
    by_kernel = kernel.volume(shape_in(files["step"], tmp_path)).centre
    # what formulas tell stands in the frame of its file too: bead and glass of one ply have their middles on the normal of the face
    assert told["in_place"]["glass"]["centre_mm"] == pytest.approx(FRONT.at(600, 350, -THICK / 2), abs=1e-5)
    for name in ("bead", "backfill"):
        assert told["in_place"][name]["centre_mm"] == pytest.approx(rows[name]["centre_mm"], abs=0.05)
    volumes = [row["volume_ml"] for row in told["bodies"]]
    for axis in range(3):
        own = math.fsum(row["centre_mm"][axis] * row["volume_ml"] for row in told["bodies"]) / math.fsum(volumes)
        assert own == pytest.approx(by_kernel[axis], abs=1e-3)


def test_without_a_place_everything_stands_in_the_frame_of_the_plan(tmp_path: Path) -> None:
    text = (ROOT / "samples" / "from-solid.toml").read_text(encoding="utf-8").replace("placing =", "# placing =")
    (tmp_path / "deckhouse.step").write_bytes(SAMPLE.read_bytes())
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    contents, files = files_of(tmp_path / "job.toml")
    told = json.loads(files["json"])
    assert told["plan_on_vessel"] is None and told["frame_of_reference"].startswith("X and Y as on the plan")
    rows = {row["name"]: row for row in told["bodies"]}
    centre = contents.detail.centroid
    assert rows["glass"]["centre_mm"][:2] == pytest.approx([centre.x, centre.y], abs=1e-5)


def spots_of(glb: bytes) -> list[tuple[float, float, float]]:
    """Every corner of every mesh where its nodes put it, turned back from +Y up and metres (glTF 2.0, 3.5.2 and 3.6)."""
    length = struct.unpack_from("<I", glb, 12)[0]
    told, rest = json.loads(glb[20 : 20 + length]), glb[20 + length + 8 :]
    found = []

    def corners(mesh: int):
        for each in told["meshes"][mesh]["primitives"]:
            accessor = told["accessors"][each["attributes"]["POSITION"]]
            view = told["bufferViews"][accessor["bufferView"]]
            start, stride = view.get("byteOffset", 0) + accessor.get("byteOffset", 0), view.get("byteStride", 12)
            yield from (struct.unpack_from("<3f", rest, start + stride * place) for place in range(accessor["count"]))

    def moved(node: dict, at: tuple[float, ...]) -> tuple[float, ...]:
        if "matrix" in node:
            m = node["matrix"]
            return tuple(math.fsum(m[4 * column + row] * (*at, 1.0)[column] for column in range(4)) for row in range(3))
        assert "scale" not in node
        x, y, z, w = node.get("rotation", (0.0, 0.0, 0.0, 1.0))
        twice = [2 * each for each in (y * at[2] - z * at[1], z * at[0] - x * at[2], x * at[1] - y * at[0])]
        more = (y * twice[2] - z * twice[1], z * twice[0] - x * twice[2], x * twice[1] - y * twice[0])
        turned = [a + w * b + c for a, b, c in zip(at, twice, more, strict=True)]
        return tuple(a + b for a, b in zip(turned, node.get("translation", (0.0, 0.0, 0.0)), strict=True))

    def walked(number: int, above: tuple[dict, ...]) -> None:
        node = told["nodes"][number]
        for at in corners(node["mesh"]) if "mesh" in node else ():
            for each in (node, *above):
                at = moved(each, at)
            found.append((at[0] * 1e3, -at[2] * 1e3, at[1] * 1e3))
        for child in node.get("children", ()):
            walked(child, (node, *above))

    for number in told["scenes"][told.get("scene", 0)]["nodes"]:
        walked(number, ())
    return found


def test_the_picture_stands_where_the_bodies_stand(placed, tmp_path: Path) -> None:
    """The box of all its triangles is that of the STEP file as the kernel reads it, but for the sag of the triangles."""
    files = placed[1]
    spots, (low, high) = spots_of(files["glb"]), box_of(shape_in(files["step"], tmp_path))
    for axis in range(3):
        own = [spot[axis] for spot in spots]
        assert (min(own), max(own)) == pytest.approx((low[axis], high[axis]), abs=0.15)


def test_the_mass_list_tells_where_the_panes_lie(tmp_path: Path) -> None:
    (tmp_path / "deckhouse.step").write_bytes(SAMPLE.read_bytes())
    more = '\n[[pane]]\ncode = "FM-2"\nframe = "grp"\nglass = { plies = [8] }\noutline = { circle = 400 }\n'
    text = (ROOT / "samples" / "from-solid.toml").read_text(encoding="utf-8") + more
    (tmp_path / "job.toml").write_text(text, encoding="utf-8")
    with pytest.raises(SystemExit):
        command_line.main(["issue", str(tmp_path / "job.toml"), "--no-plate", "--workers", "1", "-o", str(tmp_path / "out")])
    rows = list(csv.DictReader((tmp_path / "out" / "job-masses.csv").read_text("utf-8-sig").splitlines()))
    one, two = (next(row for row in rows if row["code"] == code) for code in ("FM-1", "FM-2"))
    heads = [f"vessel {axis} [mm]" for axis in "XYZ"]
    assert [float(one[head]) for head in heads] == pytest.approx(FRONT.at(600, 350, -THICK / 2), abs=0.06)
    assert [two[head] for head in heads] == ["", "", ""]
    sheet = openpyxl.load_workbook(tmp_path / "out" / "job-masses.xlsx").active
    said = " ".join(str(cell) for row in sheet.iter_rows(values_only=True) for cell in row if cell is not None)
    assert "in the vessel's frame as pane.placing gives it" in said
    assert "The job does not say where these panes lie on the vessel: FM-2." in said


def test_the_record_tells_where_the_pane_lies_as_the_bodies_have_it(placed) -> None:
    contents, files = placed
    data = pane_data(check := check_pane(contents.job, contents.pane, contents.detail))
    back = contents.detail.sizes.bond_thickness.value + THICK  # from the face, where the weather face lies, to the landing
    assert data["plan_on_vessel"]["origin_mm"] == pytest.approx(FRONT.at(0, 0, -back), abs=1e-6)
    assert data["plan_on_vessel"] == json.loads(files["json"])["plan_on_vessel"]
    told = re.sub("<[^>]+>", "", pane_page(contents.job, check, ()).decode("utf-8"))
    said = re.search(r"as the face of the ship model lies, the weather face in that plane: .* lies at \((.*?)\)", told, re.S)
    assert said is not None
    assert [float(each.replace("−", "-").replace(",", ".")) for each in said[1].split("; ")] == pytest.approx(
        FRONT.at(0, 0, -back), abs=0.05
    )
    job = job_of('[[pane]]\ncode = "A"\nframe = "grp"\nglass = { plies = [8] }\noutline = { circle = 400 }\n')
    plain = check_pane(job, job.panes[0], build_detail(job, job.panes[0]))
    assert pane_data(plain)["plan_on_vessel"] is None and "vessel's frame" not in pane_page(job, plain, ()).decode("utf-8")


def test_the_same_bytes_when_placed() -> None:
    first, again = (files_of(ROOT / "samples" / "from-solid.toml")[1] for _ in range(2))
    assert first == again


def test_a_typed_place_moves_the_bodies_by_hand(tmp_path: Path) -> None:
    text = (
        '[[pane]]\ncode = "T-1"\nframe = "grp"\nglass = { plies = [8] }\noutline = { rectangle = [900, 450] }\n'
        'placing = { origin = [100, 200, 300], x = [0, 1, 0], y = [0, 0, 1], on = "landing" }\n'
    )
    job = job_of(text)
    contents = Contents(job, job.panes[0], build_detail(job, job.panes[0]))
    files = {name.rpartition(".")[2]: data for name, data in document_files(contents, ("solid",), ()).items()}
    bond = contents.detail.sizes.bond_thickness.value
    told = {row["name"]: row for row in json.loads(files["json"])["bodies"]}
    # x of the plan is Y of the vessel, y is Z, and outboard is X
    assert told["glass"]["centre_mm"] == pytest.approx([100 + bond + 4, 200 + 450, 300 + 225], abs=0.02)
