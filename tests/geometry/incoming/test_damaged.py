"""Whatever a file holds, it ends in an outline or in one refusal in one line: never in a traceback, never in a long wait."""

from __future__ import annotations

import os
import random
import re
from functools import cache
from pathlib import Path

import pytest
from drawings import bulged, data_of, exploded, mapped, new, read

from geometry.incoming import IncomingError
from geometry.incoming.drawing import Pick, drawing_of, open_drawing, read_drawing
from geometry.outline import shapes
from geometry.outline.soundness import sound

REAL = os.environ.get("FRITLINE_REAL_DXF", "")
"""A folder of public DXF files, which are no part of the project."""
FILES = sorted(Path(REAL).glob("**/*.dxf")) if REAL else []


@cache
def whole(version, fmt):
    doc, space = new(version)
    pane = shapes.rectangle(900, 450, radius=50)
    exploded(doc.blocks.new("W"), pane, layer="GLASS")
    space.add_blockref("W", (1000, 0), dxfattribs={"xscale": -1, "rotation": 20}).add_attrib("MARK", "W1", (0, 0))
    (space.add_polyline2d if version == "R12" else space.add_lwpolyline)(
        bulged(mapped(pane, shift=(2000, 0))), format="xyb", close=True
    )
    space.add_circle((4000, 0), 300)
    space.add_text("W2", dxfattribs={"insert": (2400, 200)})
    if version != "R12":
        space.add_ellipse((5000, 0), (400, 0), 0.5)
        space.add_open_spline([(0, 1000, 0), (500, 900, 0), (900, 1500, 0), (0, 1400, 0), (0, 1000, 0)])
        space.add_spline([(0, 3000, 0), (500, 2900, 0), (900, 3500, 0)])
    return data_of(doc, fmt)


def mutated(data, rng):
    """The bytes with a few things gone wrong: cut off, bytes changed, lines swapped, doubled or lost, figures made huge."""
    found = bytearray(data)
    kind = rng.randrange(6)
    if kind == 0:
        return bytes(found[: rng.randrange(1, len(found))])
    if kind == 1:
        for _ in range(rng.randint(1, 30)):
            found[rng.randrange(len(found))] = rng.randrange(256)
        return bytes(found)
    if data.startswith(b"AutoCAD"):
        return bytes(found[:-1])
    # pairs of group code and value stay pairs, so that the file is read and its entities are wrong
    lines = data.split(b"\n")
    pairs = list(zip(lines[::2], lines[1::2], strict=False))
    first = rng.choice([0, max(0, len(pairs) - 700)])  # the entities stand at the end
    for _ in range(rng.randint(1, 8)):
        i = rng.randrange(first, len(pairs))
        code, value = pairs[i]
        if kind == 2:
            del pairs[i : i + rng.randint(1, 3)]
        elif kind == 3:
            pairs[i:i] = pairs[max(0, i - rng.randint(1, 20)) : i]
        elif kind == 4:
            pairs[i] = (
                code,
                rng.choice([b"1e308", b"-1e300", b"nan", b"inf", b"99999999999", b"-1", b"0", b"1", b"3", b"0.5", value + b"7"]),
            )
        else:
            same = [j for j in range(first, len(pairs)) if pairs[j][0].strip() == code.strip()]
            j = rng.choice(same)
            pairs[i], pairs[j] = pairs[j], pairs[i]
        if len(pairs) <= first + 1:
            break
    return b"\n".join(line for pair in pairs for line in pair)


def ends_well(data, pick):
    try:
        found = read_drawing(drawing_of(data, "mutated.dxf"), pick)
    except IncomingError as error:
        assert error.found and "\n" not in str(error) and not re.search("0x[0-9a-f]{5}", str(error))
        return "refused"
    assert sound(found.outline.vertices)
    assert "\n" not in found.source and 0 <= found.deviation <= 0.01
    return "read"


@pytest.mark.parametrize(("version", "fmt"), [("R12", "asc"), ("R2000", "asc"), ("R2018", "asc"), ("R2000", "bin")])
def test_a_hundred_mutations_of_each_kind_of_file(version, fmt):
    data = whole(version, fmt)
    rng = random.Random(f"{version} {fmt}")
    picks = [
        Pick(units="mm", at=(2400.0, 100.0)),
        Pick(units="mm"),
        Pick(),
        Pick(layer="GLASS", units="mm"),
        Pick(units="mm", label="W2"),
    ]
    ends = [ends_well(mutated(data, rng), rng.choice(picks)) for _ in range(100)]
    assert "refused" in ends
    assert fmt == "bin" or "read" in ends


@pytest.mark.parametrize("data", [b"", b"\n\n", b"0\nSECTION\n", b"x" * 5000, b"0\r\nSECTION\r\n2\r\nENTITIES\r\n0\r\nEOF\r\n", b"AC1018" + b"\0" * 99, b"PK\3\4abc", b"AutoCAD Binary DXF\r\n\x1a\x00"])  # fmt: skip
def test_what_is_no_drawing(data):
    with pytest.raises(IncomingError):
        read(data)


def test_the_refusal_of_a_file_is_the_same_every_time():
    """No address of memory and no order of a hash stands in it."""
    data = whole("R2018", "asc").replace(b"AcDbSpline", b"AcDbSplnie")
    said = set()
    for _ in range(3):
        with pytest.raises(IncomingError) as refused:
            read(data, units="mm")
        said.add(str(refused.value))
    assert len(said) == 1


def test_a_folder_a_pipe_and_a_file_that_is_not_there(tmp_path):
    with pytest.raises(IncomingError, match="deck.dxf is a folder"):
        open_drawing(tmp_path, "deck.dxf")
    os.mkfifo(tmp_path / "pipe.dxf")
    with pytest.raises(IncomingError, match="not an ordinary file"):
        open_drawing(tmp_path / "pipe.dxf", "pipe.dxf")
    with pytest.raises(IncomingError, match="there is no file deck.dxf; allowed: a DXF file; the folder holds pipe.dxf"):
        open_drawing(tmp_path / "deck.dxf", "deck.dxf")
    with pytest.raises(IncomingError, match="cannot be read"):
        open_drawing(Path("a\0b.dxf"), "a?b.dxf")


@pytest.mark.skipif(not FILES, reason="FRITLINE_REAL_DXF names no folder of public DXF files")
@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_public_file_ends_in_an_outline_a_list_or_one_refusal(path):
    for pick in (Pick(), Pick(units="in"), Pick(units="mm", at=(0.0, 0.0))):
        ends_well(path.read_bytes(), pick)


PUBLIC = {
    "mc_12x31": ({}, 12), "squircle2": ({"units": "in"}, 2), "genshi": ({"units": "in"}, None), "buffer_regions": ({"units": "in"}, 9),
}  # fmt: skip


@pytest.mark.skipif(not FILES, reason="FRITLINE_REAL_DXF names no folder of public DXF files")
@pytest.mark.parametrize("name", PUBLIC)
def test_public_files_that_hold_one_outline(name):
    (path,) = (each for each in FILES if each.stem == name)
    pick, sides = PUBLIC[name]
    found = read_drawing(drawing_of(path.read_bytes(), path.name), Pick(**pick))
    assert sides is None or len(found.outline.vertices) == sides
