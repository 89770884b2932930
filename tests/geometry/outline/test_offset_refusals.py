"""Every way in which a parallel curve fails to exist, told in the user's words with its place and figure."""

from __future__ import annotations

import re

import pytest

from geometry.outline import (
    OffsetError,
    Outline,
    circle,
    ellipse,
    moved,
    offset,
    offset_rounded,
    path,
    polygon,
    rectangle,
    rounded,
)

DUMB_BELL = polygon(
    [
        (0, 0),
        (300, 0),
        (300, 85),
        (400, 85),
        (400, 0),
        (700, 0),
        (700, 200),
        (400, 200),
        (400, 115),
        (300, 115),
        (300, 200),
        (0, 200),
    ]
)
U_SHAPE = polygon([(0, 0), (300, 0), (300, 200), (180, 200), (180, 40), (120, 40), (120, 200), (0, 200)])
KEYHOLE = polygon(
    [
        (0, 0),
        (600, 0),
        (600, 400),
        (320, 400),
        (320, 250),
        (400, 250),
        (400, 100),
        (200, 100),
        (200, 250),
        (280, 250),
        (280, 400),
        (0, 400),
    ]
)


@pytest.mark.parametrize(
    ("outline", "distance", "words"),
    [
        # an empty list, and at exactly half the width a wire of two edges and no area
        (
            rectangle(600, 400, radius=80),
            -250,
            "the bead cannot run 250 mm inside this outline: it is only 400 mm wide near (300, 200)",
        ),
        (
            rectangle(600, 400, radius=80),
            -200,
            "the bead cannot run 200 mm inside this outline: it is only 400 mm wide near (300, 200)",
        ),
        (rectangle(600, 400), -200, "it is only 400 mm wide near (300, 200)"),
        # "Null TopoDS_Shape"
        (circle(100), -50, "the bead cannot run 50 mm inside this outline: it is only 100 mm wide near (50, 50)"),
        (circle(100), -60, "it is only 100 mm wide near (50, 50)"),
        (ellipse(700, 400), -200, "it is only 400 mm wide near (350, 200)"),
        (path([(0, 0), (100, 0, 1)]), -30, "it is only 50 mm wide near (50, 25)"),
        (polygon([(0, 0), (640, 0), (640, 215)]), -100, "mm wide near"),
        # split in two
        (DUMB_BELL, -18, "it would fall into two parts at the neck near (350, 100), which is 30 mm wide"),
        (DUMB_BELL, -15, "it would fall into two parts at the neck near (350, 100), which is 30 mm wide"),
        (U_SHAPE, -25, "it would fall into two parts at the neck near (150, 20), which is 40 mm wide"),
        # outwards a keyhole closes
        (
            KEYHOLE,
            25,
            "the bead cannot run 25 mm outside this outline: it would close the opening near (300, 325), which is 40 mm wide",
        ),
    ],
)
def test_refusal_says_where_and_how_wide(outline: Outline, distance: float, words: str) -> None:
    with pytest.raises(OffsetError, match=re.escape(words)):
        offset(outline, distance, what="the bead")


@pytest.mark.parametrize("distance", [-14.9, 15.0, -5.0])
def test_neck_lets_pass_what_is_narrower(distance: float) -> None:
    assert offset(DUMB_BELL, distance) is not None


def test_width_is_given_where_the_pane_stands() -> None:
    with pytest.raises(OffsetError, match=re.escape("wide near (1300, -300)")):
        offset(moved(rectangle(600, 400), 1000, -500), -201)


def test_same_refusal_every_time() -> None:
    told = set()
    for _ in range(3):
        with pytest.raises(OffsetError) as refusal:
            offset(ellipse(701, 401), -205, what="the frit")
        told.add(str(refusal.value))
    assert told == {"the frit cannot run 205 mm inside this outline: it is only 401 mm wide near (350.5, 200.5)"}


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (
            lambda: offset_rounded(rectangle(600, 120), -40, radius=25, what="the bead"),
            "the bead cannot run 40 mm inside this outline with corners of 25 mm radius: the outline is only 120 mm wide near (300, 60)",
        ),
        (
            lambda: offset_rounded(DUMB_BELL, -10, radius=8, what="the bead"),
            "with corners of 8 mm radius: it would fall into two parts at the neck near (350, 100), which is 30 mm wide",
        ),
        (
            lambda: rounded(rectangle(100, 50), radius=26),
            "the rounded outline cannot have corners of 26 mm radius: the outline is only 50 mm wide near (50, 25)",
        ),
        (
            lambda: rounded(KEYHOLE, radius=0, concave_radius=25, what="the glass"),
            "the glass cannot have re-entrant corners of 25 mm radius: it would close the opening near (300, 325), which is 40 mm wide",
        ),
        (
            lambda: offset_rounded(rectangle(100, 50), -5, radius=-1, what="the bead"),
            "the bead: a corner radius is -1 mm; it must be 0 or more",
        ),
        (lambda: offset_rounded(rectangle(100, 50), -30, radius=0, what="the bead"), "it is only 50 mm wide near (50, 25)"),
    ],
)
def test_rounding_that_finds_no_room_is_refused(make: object, words: str) -> None:
    with pytest.raises(OffsetError, match=re.escape(words)):
        make()  # type: ignore[operator]
