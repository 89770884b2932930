"""Several sheets in one DXF, read by ezdxf and GDAL: one model, a layout for each sheet, every view shown whole and alone."""

from __future__ import annotations

import io
from dataclasses import replace

import ezdxf
import pytest

from outputs.files.dxf import dxf_bytes
from outputs.sheet.entities import Block, Path, Text
from outputs.sheet.refusal import SheetError


def front_and_back(sheet):
    """The invented sheet, and the same on a page of another name and size."""
    return sheet, replace(sheet, title="SW-01 back", size="A1", width=841.0, height=594.0)


@pytest.fixture(scope="module")
def two(sheet):
    return ezdxf.read(io.StringIO(dxf_bytes(*front_and_back(sheet)).decode()))


def test_each_sheet_has_its_layout_of_its_size(two, sheet):
    assert two.layouts.names_in_taborder() == ["Model", sheet.title, "SW-01 back"]
    sizes = [(two.layout(name).dxf.paper_width, two.layout(name).dxf.paper_height) for name in (sheet.title, "SW-01 back")]
    assert sizes == [(594.0, 420.0), (841.0, 594.0)]
    assert two.layouts.active_layout().name == sheet.title
    assert two.audit().errors == []


def windows(layout):
    """Window in the model and middle on the paper of each view of a layout."""
    found = []
    for port in layout.query("VIEWPORT"):
        if port.dxf.id != 1:
            scale = port.dxf.height / port.dxf.view_height
            middle, wide, high = port.dxf.view_center_point, port.dxf.width / scale / 2, port.dxf.height / scale / 2
            found.append(((middle.x - wide, middle.y - high, middle.x + wide, middle.y + high), tuple(port.dxf.center), scale))
    return found


def test_no_view_shows_marks_of_another(two, sheet):
    first, second = (windows(two.layout(name)) for name in (sheet.title, "SW-01 back"))
    assert [window for window, _, _ in first] == [pytest.approx(view.window) for view in sheet.views]
    assert [rest for _, *rest in first] == [rest for _, *rest in second]  # where it stands on the paper, and its scale
    boxes = [window for window, _, _ in (*first, *second)]
    for number, one in enumerate(boxes):
        for other in boxes[:number]:
            assert min(one[2], other[2]) <= max(one[0], other[0]) or min(one[3], other[3]) <= max(one[1], other[1])


def test_the_second_sheet_holds_all_that_the_first_holds(two, sheet, dxf_file):
    alone = ezdxf.read(io.StringIO(dxf_file.decode()))
    kinds = sorted(entity.dxftype() for entity in alone.modelspace())
    assert sorted(entity.dxftype() for entity in two.modelspace()) == sorted(kinds * 2)
    for name in (sheet.title, "SW-01 back"):
        layout = two.layout(name)
        assert sorted(e.dxftype() for e in layout) == sorted(e.dxftype() for e in alone.layout(sheet.title))
    shift = windows(two.layout("SW-01 back"))[0][0][0] - windows(two.layout(sheet.title))[0][0][0]
    glass = [entity for entity in two.modelspace().query("LWPOLYLINE") if entity.dxf.layer == "GLASS"]
    one, other = (list(entity.get_points("xyb")) for entity in glass)
    assert [(x + shift, y, bulge) for x, y, bulge in one] == [pytest.approx(point) for point in other]
    assert {name for name in (block.name for block in two.blocks) if name.startswith("SPACER")} == {
        "SPACER_20x8"
    }  # once for both


def test_one_sheet_alone_is_written_as_ever(sheet, dxf_file):
    assert dxf_bytes(sheet) == dxf_file and dxf_bytes(*front_and_back(sheet)) == dxf_bytes(*front_and_back(sheet))


def test_sheets_of_one_title_are_told_apart(sheet):
    paper = replace(sheet, views=(), blocks=(), marks=(Text("TEXT", 20.0, 20.0, "words", 3.5),))
    document = ezdxf.read(io.StringIO(dxf_bytes(paper, paper, paper).decode()))
    assert document.layouts.names_in_taborder() == ["Model", sheet.title, f"{sheet.title} 2", f"{sheet.title} 3"]


def test_gdal_reads_it(sheet, tmp_path):
    pyogrio = pytest.importorskip("pyogrio", reason="comes with the extra `test`")
    file = tmp_path / "two.dxf"
    file.write_bytes(dxf_bytes(*front_and_back(sheet)))
    meta, _, geometry, _ = pyogrio.raw.read(file)
    assert meta["geometry_type"] and len(geometry) > 100


def test_two_meanings_of_one_block_are_refused(sheet):
    other = replace(sheet, blocks=(Block("SPACER_20x8", (Path("0", ((0.0, 0.0, 0.0), (1.0, 0.0, 0.0))),)),), views=(), marks=())
    with pytest.raises(SheetError, match="mean different things by the block 'SPACER_20x8'"):
        dxf_bytes(sheet, other)
    with pytest.raises(ValueError, match="one sheet or more"):
        dxf_bytes()
