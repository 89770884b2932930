"""The STEP file as a second reader finds it: number, names, colours, volumes, centres and boxes of the bodies, and their unit.

By gmsh (`read_step.py` beside this says what that is), which comes with the test packages; without it this is skipped. Files: ISO
10303-21, product structure and presentation of ISO 10303-214.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections import defaultdict
from importlib.util import find_spec
from pathlib import Path

import pytest
from held import box_of
from pane_set import subject_of

from geometry.solids import kernel
from geometry.solids.bodies import bodies_of
from outputs.documents import document_files
from outputs.drawing.solid_parts import solid_parts
from outputs.sheets.contents import Contents

HERE = Path(__file__).parent
pytestmark = pytest.mark.skipif(find_spec("gmsh") is None, reason="gmsh is not installed: no second reader of STEP files here")
PANES = (
    "sallow-wren.toml SW-05",  # several solids as one backer, laminated
    "sallow-wren.toml SW-03",  # round, straight blocks turned
    "sallow-wren.toml SW-09",  # wall of its own
    "odd fillet under the bead",  # cones and tori
    "odd re-entrant, draft and fillet",
)

UPRIGHT = {"glass", "interlayer", "frit", "spacer"}


def read(path: Path) -> list[dict]:
    done = subprocess.run(
        [sys.executable, str(HERE / "read_step.py"), str(path)], capture_output=True, text=True, check=False, timeout=300
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


@pytest.mark.parametrize("name", PANES)
def test_the_bodies_are_the_same_to_a_second_reader(name: str, tmp_path: Path) -> None:
    subject = subject_of(name)
    detail = subject.detail
    files = document_files(Contents(subject.job, subject.pane, detail), ("solid",), ())
    path = tmp_path / "pane.step"
    path.write_bytes(next(data for ending, data in files.items() if ending.endswith(".step")))
    found = defaultdict(list)
    for each in read(path):
        # "Shapes/ASSEMBLY/OWN NAME/PRODUCT"; where one body is of several solids: "Shapes/PRODUCT"
        *_, above, product = each["name"].split("/")
        found[product if above == "Shapes" else above].append(each)
    bodies = bodies_of(detail)
    parts = solid_parts(detail, bodies)
    assert set(found) == {part.name for part in parts}
    for body, part in zip(bodies, parts, strict=True):
        own = found[part.name]
        solids = kernel.solids_of(body.shape)
        assert len(own) == len(solids), part.name
        assert {each["name"].split("/")[-1] for each in own} == {part.product}
        for each in own:
            assert each["colour"] == pytest.approx([255 * value for value in part.colour], abs=0.51), part.name  # whole numbers
        # in millimetres: a wrong unit would be off by powers of ten
        volume = sum(each["volume"] for each in own)
        assert volume == pytest.approx(body.volume.value, rel=1e-6), part.name
        low_corner, high_corner = box_of(body.shape)
        size = max(high - low for low, high in zip(low_corner, high_corner, strict=True))
        for axis in range(3):
            centre = sum(each["volume"] * each["centre"][axis] for each in own) / volume
            assert centre == pytest.approx(body.volume.centre[axis], abs=1e-6 * size), part.name
        for axis in range(3):
            low, high = min(each["box"][axis] for each in own), max(each["box"][3 + axis] for each in own)
            if body.material in UPRIGHT:
                assert (low, high) == pytest.approx((low_corner[axis], high_corner[axis]), abs=1e-3), part.name
            else:  # round a torus or a cone the reader's box is wider than need be
                assert low < low_corner[axis] + 1e-3 and high > high_corner[axis] - 1e-3, part.name
    assert len(parts) == len(bodies)
