"""Several outlines on one drawing: picked by layer, place or text, listed where it is not certain which one is meant."""

from __future__ import annotations

import pytest
from drawings import exploded, farthest, mapped, new, read

from geometry.incoming import IncomingError
from geometry.outline import shapes
from geometry.outline.measure import bounding_box

PANE = shapes.rectangle(900, 450, radius=50)


def side(border=True):
    """Three windows 1200 apart with their marks below them, the middle one with its recess, in a border."""
    doc, space = new()
    for number, x in enumerate((0, 1200, 2400), start=1):
        exploded(space, mapped(PANE, shift=(x, 0)), layer="GLASS")
        space.add_text(f"W{number}", height=50, dxfattribs={"insert": (x + 400, -120)})
    exploded(space, mapped(shapes.rectangle(912, 462, radius=56), shift=(1194, -6)), layer="RECESS")
    if border:
        space.add_lwpolyline([(-800, -900), (4200, -900), (4200, 1300), (-800, 1300)], close=True, dxfattribs={"layer": "FRAME"})
    return doc, space


def left_of(found):
    return bounding_box(found.outline).left


def test_without_a_pick_the_refusal_lists_each_with_place_size_text_and_what_it_lies_inside():
    doc, _ = side()
    with pytest.raises(IncomingError) as refused:
        read(doc)
    said = refused.value.found
    assert "shows 5 outlines" in said
    assert "5000 × 2200 mm on layer FRAME" in said and "912 × 462 mm on layer RECESS" in said
    assert said.count("900 × 450 mm on layer GLASS") == 3
    assert "text W1, inside 1 other" in said and "inside 2 others" in said
    assert refused.value.allowed.startswith("the one that is meant, by at = [x, y]")


def test_every_place_of_the_list_picks_the_outline_that_it_stands_before():
    import re

    doc, _ = side()
    with pytest.raises(IncomingError) as refused:
        read(doc)
    rows = re.findall(r"at = \[(-?[\d.]+), (-?[\d.]+)\]: ([\d.]+) × ([\d.]+) mm", refused.value.found)
    assert len(rows) == 5
    for x, y, wide, high in rows:
        box = bounding_box(read(doc, at=(float(x), float(y))).outline)
        assert (box.width, box.height) == pytest.approx((float(wide), float(high)), abs=1e-3)


@pytest.mark.parametrize(("label", "left"), [("W1", 0), ("w3", 2400)])
def test_a_text_beside_its_window(label, left):
    doc, _ = side()
    found = read(doc, label=label, layer="glass")
    assert left_of(found) == pytest.approx(left) and f"text {label}: beside" in found.source


def test_a_text_inside_goes_before_one_that_is_near():
    doc, space = side()
    space.add_mtext("{\\fArial|b1;W9}", dxfattribs={"insert": (2800, 200)})
    assert left_of(read(doc, label="W9")) == pytest.approx(2400)


def test_a_mark_in_a_small_ring_and_a_hole_beside_it_still_pick_the_window():
    doc, space = side(border=False)
    space.add_text("W8", dxfattribs={"insert": (2800, 200)})
    space.add_circle((2805, 205), 35)  # the ring round the mark
    space.add_circle((2760, 200), 6)  # a hole in the pane
    found = read(doc, label="W8")
    assert left_of(found) == pytest.approx(2400) and "text W8: inside" in found.source


def test_a_text_within_a_ring_and_its_pane_is_not_guessed():
    """W2 lies below both the recess and the glass inside it: nearest is the recess, and the note says how."""
    doc, _ = side()
    found = read(doc, label="W2")
    assert left_of(found) == pytest.approx(1194) and "beside" in found.source


def test_a_text_that_stands_twice_or_between_two_windows_is_refused_with_its_places():
    doc, space = side(border=False)
    space.add_text("W1", dxfattribs={"insert": (2500, -120)})
    with pytest.raises(IncomingError, match=r"'W1' stands more than once: at \(400, -120\), \(2500, -120\)"):
        read(doc, label="W1", layer="GLASS")
    space.add_text("MID", dxfattribs={"insert": (1050, 200)})
    with pytest.raises(IncomingError, match=r"'MID' stands nearest to no one outline: at \(1050, 200\)"):
        read(doc, label="MID", layer="GLASS")
    with pytest.raises(IncomingError, match="shows no text 'W7'; allowed: one of its texts: W1, W2, W3, MID"):
        read(doc, label="W7")


def test_the_attribute_of_a_block_picks_what_the_block_shows():
    doc, space = new()
    exploded(doc.blocks.new("WINDOW"), PANE)
    for number, x in enumerate((0, 1200), start=1):
        insert = space.add_blockref("WINDOW", (x, 0))
        insert.add_attrib("MARK", f"W{number}", (600, 900))  # beside both, nearer to neither
    assert left_of(read(doc, label="W2")) == pytest.approx(1200)


def test_a_place_outside_every_outline_and_one_that_contradicts_the_text():
    doc, _ = side(border=False)
    with pytest.raises(IncomingError, match=r"no outline of made.dxf lies round at = \[0, 2000\]"):
        read(doc, at=(0, 2000))
    with pytest.raises(IncomingError, match="at and label pick two outlines"):
        read(doc, at=(400, 200), label="W3", layer="GLASS")


def test_open_lines_beside_one_outline_are_listed_until_a_place_says_which():
    doc, space = new()
    exploded(space, PANE)
    space.add_line((-100, 225), (1000, 225))
    with pytest.raises(
        IncomingError, match=r"one outline, and lines that close nothing: .*open between \(-100, 225\) and \(1000, 225\)"
    ):
        read(doc)
    assert farthest(read(doc, at=(100, 100)).outline, PANE) < 1e-9


def test_one_drawing_feeds_many_panes_and_is_taken_apart_once():
    from drawings import data_of

    from geometry.incoming.drawing import Pick, drawing_of, read_drawing

    doc, _ = side()
    drawing = drawing_of(data_of(doc), "made.dxf")
    lefts = [left_of(read_drawing(drawing, Pick(layer="GLASS", label=f"W{number}"))) for number in (1, 2, 3)]
    assert lefts == pytest.approx([0, 1200, 2400])
    assert len(drawing._joined) == 1


def test_a_window_upright_in_space_is_picked_by_a_place_with_its_height():
    doc, space = new()
    for y in (0, 3000):
        corners = [(0, y, 0), (900, y, 0), (900, y, 500), (0, y, 500)]
        for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
            space.add_line(a, b)
    with pytest.raises(IncomingError, match=r"at = \[450, 3000, 250\]: 900 × 500 mm"):
        read(doc)
    assert bounding_box(read(doc, at=(450, 3000, 250), seen_from="-y").outline).width == pytest.approx(900)
