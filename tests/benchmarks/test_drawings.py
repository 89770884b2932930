"""A drawing of 20 000 entities read, joined and picked, next to what the library takes to read it."""

from __future__ import annotations

import io
import math

import ezdxf
import pytest

from geometry.incoming.drawing import Pick, drawing_of, read_drawing


def windows(space):
    for number in range(5000):
        x, y = number % 100 * 1000, number // 100 * 600
        corners = [(x, y), (x + 900, y), (x + 900, y + 450), (x, y + 450)]
        for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
            space.add_line(a, b)


def one_curve(space):
    count = 20_000
    places = [(500 * math.cos(2 * math.pi * i / count), 300 * math.sin(2 * math.pi * i / count)) for i in range(count)]
    for i in range(count):
        space.add_line(places[i - 1], places[i])


@pytest.mark.parametrize(("draw", "pick"), [(windows, Pick(at=(50.0, 50.0))), (one_curve, Pick())], ids=["windows", "one curve"])
def test_a_drawing_next_to_the_library_alone(compare, tmp_path, draw, pick):
    doc = ezdxf.new("R2010", units=4)
    draw(doc.modelspace())
    stream = io.StringIO()
    doc.write(stream)
    (tmp_path / "deck.dxf").write_text(stream.getvalue(), encoding="utf-8")
    data = (tmp_path / "deck.dxf").read_bytes()
    name = {windows: "5000 windows of 4 lines", one_curve: "one curve of 20 000 lines"}[draw]
    compare(
        f"drawing of {name}, read, joined and picked",
        lambda: read_drawing(drawing_of(data, "deck.dxf"), pick),
        "ezdxf.readfile",
        lambda: ezdxf.readfile(tmp_path / "deck.dxf"),
        target=3,
        rounds=3,
    )
