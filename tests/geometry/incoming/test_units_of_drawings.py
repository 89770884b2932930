"""The unit of a drawing comes from its raw header ($INSUNITS of the DXF reference) or is asked for; fixtures by hand, by GDAL and by ezdxf."""

from __future__ import annotations

import pytest
from drawings import exploded, farthest, mapped, new, read

from geometry.incoming import IncomingError
from geometry.incoming.units import WORDS
from geometry.outline import shapes
from geometry.outline.measure import bounding_box

PANE = shapes.rectangle(900, 450, radius=50)


def r12(lines, header=""):
    """A DXF of release 12 as a person types it: lines alone, no tables."""
    rows = ["0", "SECTION", "2", "HEADER", *header.split(), "0", "ENDSEC"] if header else []
    rows += ["0", "SECTION", "2", "ENTITIES"]
    for (x1, y1), (x2, y2) in lines:
        rows += ["0", "LINE", "8", "0", "10", str(x1), "20", str(y1), "11", str(x2), "21", str(y2)]
    return "\n".join([*rows, "0", "ENDSEC", "0", "EOF", ""]).encode("ascii")


def square(wide, high):
    corners = [(0, 0), (wide, 0), (wide, high), (0, high)]
    return list(zip(corners, corners[1:] + corners[:1], strict=True))


def test_release_12_by_hand_states_no_unit_and_is_asked_although_the_library_says_metres():
    import io

    import ezdxf

    data = r12(square(0.9, 0.45))
    assert ezdxf.read(io.StringIO(data.decode())).units == 6  # what the library makes of it
    with pytest.raises(IncomingError) as refused:
        read(data)
    assert "states no unit; its outline measures 0.9 × 0.45" in str(refused.value)
    assert 'units = "mm" or "cm" or "m" or "in" or "ft"' in refused.value.allowed
    assert refused.value.hint == "it would be a pane in m (900 × 450 mm) or ft (274.3 × 137.2 mm)"
    assert tuple(bounding_box(read(data, units="m").outline)) == pytest.approx((0, 0, 900, 450))


def test_a_header_of_release_12_without_the_variable_and_one_that_states_it():
    bare = "9 $ACADVER 1 AC1009"
    with pytest.raises(IncomingError, match="states no unit"):
        read(r12(square(900, 450), bare))
    stated = r12(square(35, 18), f"{bare} 9 $INSUNITS 70 1")
    assert bounding_box(read(stated).outline).width == pytest.approx(35 * 25.4)


@pytest.mark.parametrize(
    ("number", "name", "mm"), [(1, "in", 25.4), (2, "ft", 304.8), (4, "mm", 1.0), (5, "cm", 10.0), (6, "m", 1000.0)]
)
def test_every_unit_of_the_header(number, name, mm):
    doc, space = new(units=number)
    exploded(space, mapped(PANE, scale=1 / mm))
    found = read(doc)
    assert farthest(found.outline, PANE) < 1e-6 and f"in {WORDS.get(name, name)} by its header" in found.source


@pytest.mark.parametrize(
    ("number", "words"), [(0, "that it has no unit"), (3, "miles"), (9, "mils"), (77, "the unknown unit 77")]
)
def test_no_unit_and_units_that_no_pane_is_drawn_in_are_a_question(number, words):
    doc, space = new()
    exploded(space, PANE)
    doc.header["$INSUNITS"] = number
    with pytest.raises(IncomingError, match=f"made.dxf states {words}"):
        read(doc)


def test_the_unit_of_the_job_wins_and_the_contradiction_is_told():
    doc, space = new(units=6)
    exploded(space, PANE)
    found = read(doc, units="mm")
    assert bounding_box(found.outline).width == 900
    assert found.mended == ("its header states m, the job mm: the job's unit holds",)
    assert "in mm" in found.source and "by its header" not in found.source


@pytest.mark.parametrize(("wide", "high"), [(79, 400), (6001, 400), (0.9, 0.45), (90000, 45000)])
def test_a_pane_outside_80_to_6000_mm_is_asked_for_its_unit(wide, high):
    doc, space = new(units=4)
    exploded(space, shapes.rectangle(wide, high))
    with pytest.raises(IncomingError) as refused:
        read(doc)
    assert refused.value.found.startswith("units? the outline is") and refused.value.key == "units"
    assert bounding_box(read(doc, units="mm").outline).width == pytest.approx(wide)  # the answer


@pytest.mark.filterwarnings("ignore:.crs. was not provided")
def test_a_drawing_by_gdal(tmp_path):
    """GDAL writes a DXF of polylines without a unit."""
    pyogrio = pytest.importorskip("pyogrio")
    import numpy as np
    import shapely

    path = tmp_path / "gdal.dxf"
    ring = shapely.LineString([(0, 0), (900, 0), (900, 450), (0, 450), (0, 0)])
    pyogrio.raw.write(
        path, geometry=np.array([shapely.to_wkb(ring)], dtype=object), field_data=[np.array(["GLASS"], dtype=object)], fields=["Layer"],
        geometry_type="LineString", driver="DXF", crs=None,
    )  # fmt: skip
    data = path.read_bytes()
    found = read(data, units="mm")
    assert tuple(bounding_box(found.outline)) == pytest.approx((0, 0, 900, 450))
