"""The pane as made: readings that close, readings that no pane can have, and the outline that follows."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.job import JobError, job_of
from geometry.job.made import READ, made_outline
from geometry.outline import area, bounding_box, corners

JOB = '[[pane]]\ncode = "X"\nframe = "grp"\nglass = {{ plies = [8] }}\noutline = {{ {outline} }}\nmade = {{ {made} }}\n'
ORDER = "rectangle = [1000, 700], radius = 10"


def pane_of(made, outline=ORDER):
    return job_of(JOB.format(outline=outline, made=made)).panes[0]


def refusal(made, outline=ORDER):
    with pytest.raises(JobError) as caught:
        pane_of(made, outline)
    return str(caught.value)


def sharp(pane):
    outline = made_outline(pane.made, pane.outline, pane.origin)
    return [corner.theoretical for corner in corners(outline)], outline


def over_the_roundings(places, radius):
    """Both diagonals from the middles of the roundings of nearly square corners, and a radius at either end."""
    middle = (sum(x for x, _ in places) / 4, sum(y for _, y in places) / 4)

    def inner(place):
        away = (place[0] - middle[0], place[1] - middle[1])
        return place[0] - math.copysign(radius, away[0]), place[1] - math.copysign(radius, away[1])

    ends = [inner(place) for place in places]
    return math.dist(ends[0], ends[2]) + 2 * radius, math.dist(ends[1], ends[3]) + 2 * radius


def test_width_and_height_alone_make_a_rectangle_of_the_radius_ordered():
    places, outline = sharp(pane_of("width = 1002, height = 701.5"))
    assert places == [pytest.approx(p) for p in ((0, 0), (1002, 0), (1002, 701.5), (0, 701.5))]
    assert area(outline) == pytest.approx(1002 * 701.5 - (4 - math.pi) * 100)


def test_diagonals_make_the_pane_lean():
    """Parallelogram law: d1² + d2² = 2 (w² + h²); the lean is (d1² − d2²) / (4 w)."""
    width, height, lean = 1000.0, 700.0, 3.0
    rise = math.sqrt(height**2 - lean**2)
    first, second = math.hypot(width + lean, rise), math.hypot(width - lean, rise)
    places, _ = sharp(pane_of(f"width = 1000, height = 700, diagonals = [{first}, {second}]", "rectangle = [1000, 700]"))
    assert places[3] == pytest.approx((lean, rise), abs=1e-6) and places[2] == pytest.approx((width + lean, rise), abs=1e-6)


def test_diagonals_are_those_over_the_roundings():
    over = math.hypot(1000 - 20, 700 - 20) + 20
    places, _ = sharp(pane_of(f"width = 1000, height = 700, diagonals = [{over}, {over}]"))
    assert places == [pytest.approx(p, abs=1e-6) for p in ((0, 0), (1000, 0), (1000, 700), (0, 700))]


def test_diagonals_that_cannot_close_are_refused_with_what_would_follow():
    said = refusal("width = 1002, height = 701.5, diagonals = [1225, 1225]")
    assert "made.diagonals" in said and "no pane has them together" in said
    first = 1225 - 20  # by hand: the inner rectangle's parallelogram law gives the second one
    second = math.sqrt(2 * (982**2 + 681.5**2) - first**2) + 20
    assert f"the second follows, {second:.1f} mm" in said
    assert f"both are {math.hypot(982, 681.5) + 20:.1f} mm" in said


@pytest.mark.parametrize(
    ("made", "outline", "words"),
    [
        ("width = 1002", ORDER, "without height"),
        ("diagonals = [1220, 1220]", ORDER, "without width and height"),
        ("width = 1002, height = 701, outline = { rectangle = [1002, 701] }", ORDER, "beside an outline as made"),
        ("width = 100.2, height = 70.15", ORDER, "ordered 1000 mm"),
        ("width = 1002, height = 701, diagonals = [1800, 400]", ORDER, "the corners do not meet"),
        ("frit = [36, 36]", ORDER, "a list of 2"),
        ("", ORDER, "empty table"),
        ("width = 800, height = 400", "polygon = [[0, 0], [800, 0], [700, 400]]", "made.outline"),
        ("width = [700, 701], height = 400", "ellipse = [700, 400]", "one width and one height"),
        ("widht = 1002, height = 701", ORDER, "widht"),
    ],
)
def test_readings_that_no_pane_can_have_are_refused(made, outline, words):
    assert words in refusal(made, outline)


def test_an_outline_as_made_counts_from_the_origin_of_the_order():
    pane = pane_of(
        "outline = { polygon = [[5, 6], [1005, 6], [1005, 705], [5, 704]] }",
        "polygon = [[5, 5], [1005, 5], [1005, 705], [5, 705]]",
    )
    assert bounding_box(made_outline(pane.made, pane.outline, pane.origin)) == (5, 6, 1005, 705)


def test_only_thickness_leaves_the_outline_as_ordered():
    pane = pane_of("thickness = 8.1")
    assert not pane.made.shape_given
    assert area(made_outline(pane.made, pane.outline, pane.origin)) == pytest.approx(area(pane.glass_outline))


def test_two_hands_are_not_made_alike():
    text = JOB.format(outline=ORDER, made="width = 1002, height = 701") + 'side = "port"\nhand = "port and starboard"\n'
    with pytest.raises(JobError, match="no two panes are made alike"):
        job_of(text)


def test_the_other_hand_as_made_keeps_its_names_and_its_radii():
    """The radii of a mirrored order are those of the hand typed: its lower right corner comes from the lower left."""
    order = "rectangle = [1000, 700], radius = [10, 20, 30, 40], mirrored = true"
    pane = pane_of("width = 1002, height = 701", order)
    outline = made_outline(pane.made, pane.outline, pane.origin)
    assert outline.clockwise_names
    found = {(round(c.theoretical.x), round(c.theoretical.y)): round(c.radius, 6) for c in corners(outline)}
    left = min(x for x, _ in found)
    assert {(x - left, y): radius for (x, y), radius in found.items()} == {
        (0, 0): 20,
        (1002, 0): 10,
        (1002, 701): 40,
        (0, 701): 30,
    }


@given(st.floats(-3, 3), st.floats(-3, 3), st.floats(-3, 3), st.floats(-3, 3), st.floats(-4, 4), st.floats(-0.9, 0.9))
@settings(max_examples=60, deadline=None)
def test_the_readings_of_a_pane_that_is_give_that_pane_back(x2, x3, y3, y4, lean, error):
    """Corners drawn by lot; sides and diagonals measured on them, the second diagonal read a little wrong."""
    real = [(0.0, 0.0), (1000 + x2, 0.0), (1000 + x3, 700 + y3), (lean, 700 + y4)]
    bottom, right, top, left = (math.dist(real[i], real[(i + 1) % 4]) for i in range(4))
    first, second = math.dist(real[0], real[2]), math.dist(real[1], real[3]) + error
    made = f"width = [{bottom}, {top}], height = [{left}, {right}], diagonals = [{first}, {second}]"
    places, _ = sharp(pane_of(made, "rectangle = [1000, 700]"))
    for found, expected in zip(places, real, strict=True):
        assert found == pytest.approx(expected, abs=2 * abs(error) + 1e-6)


sizes = st.floats(-80, 80)


@settings(max_examples=150, deadline=None)
@given(sizes, sizes, sizes, sizes, st.floats(-400, 400), st.floats(-400, 400))
def test_any_readings_make_a_pane_that_has_them_or_are_refused(bottom, top, left, right, first, second):
    sides = (1000 + bottom, 700 + right, 1000 + top, 700 + left)
    made = f"width = [{sides[0]}, {sides[2]}], height = [{sides[3]}, {sides[1]}], diagonals = [{1212 + first}, {1212 + second}]"
    try:
        pane = pane_of(made)
    except JobError as error:
        assert "made" in str(error) and "allowed" in str(error)
        return
    places, _ = sharp(pane)
    found = [math.dist(places[i], places[(i + 1) % 4]) for i in range(4)]
    assert found == pytest.approx(sides, abs=1e-6)
    assert over_the_roundings(places, 10) == pytest.approx((1212 + first, 1212 + second), abs=READ + 1.0)


@settings(max_examples=60, deadline=None)
@given(
    st.dictionaries(
        st.sampled_from(["width", "height", "diagonals", "thickness", "bow", "frit", "outline", "radius"]),
        st.sampled_from(
            [
                "1002",
                "[1000, 1002]",
                "[1, 2, 3]",
                '"x"',
                "true",
                "-4",
                "1e9",
                "{ rectangle = [990, 690] }",
                "[36, 36, 36, 36, 36, 36, 36, 36]",
                "nan",
            ]
        ),
        max_size=4,
    )
)
def test_whatever_is_typed_is_a_pane_or_one_refusal(table):
    made = ", ".join(f"{key} = {value}" for key, value in table.items())
    try:
        pane = pane_of(made)
    except JobError as error:
        assert "X" in str(error)
        return
    assert area(made_outline(pane.made, pane.outline, pane.origin)) > 0
