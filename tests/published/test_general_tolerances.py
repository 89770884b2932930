"""General tolerances of frames against the rows of the standards, as other texts restate them."""

import pytest

from geometry.rules import general_tolerances as rules

SIZES = {60: 1, 250: 2, 700: 3, 1500: 4, 3000: 5, 6000: 6, 10_000: 7}

# ISO 13920 linear dimensions, a table of the metal trade: 30-120, -400, -1000, -2000, -4000, -8000, -12 000 mm
WELDED = {
    "A": (1, 1, 2, 3, 4, 5, 6),
    "B": (2, 2, 3, 4, 6, 8, 10),
    "C": (3, 4, 6, 8, 11, 14, 18),
    "D": (4, 7, 9, 12, 16, 21, 27),
}
# ISO 2768-1 linear dimensions, a sheet of DIN ISO 2768-1: 30-120, -400, -1000, -2000, -4000 mm
MACHINED = {
    "f": (0.15, 0.2, 0.3, 0.5),
    "m": (0.3, 0.5, 0.8, 1.2, 2),
    "c": (0.8, 1.2, 2, 3, 4),
    "v": (1.5, 2.5, 4, 6, 8),
}


@pytest.mark.second_hand
@pytest.mark.parametrize(("accuracy", "row"), WELDED.items())
def test_welded_frames_by_iso_13920(accuracy, row):
    assert tuple(rules.welded_frame(size=size, accuracy=accuracy) for size in SIZES) == row


@pytest.mark.second_hand
@pytest.mark.parametrize(("accuracy", "row"), MACHINED.items())
def test_machined_frames_by_iso_2768(accuracy, row):
    assert tuple(rules.machined_frame(size=size, accuracy=accuracy) for size in list(SIZES)[: len(row)]) == row


@pytest.mark.second_hand
def test_a_size_on_a_limit_belongs_to_the_row_below_and_no_row_is_invented():
    assert (rules.welded_frame(size=1000, accuracy="B"), rules.welded_frame(size=1000.1, accuracy="B")) == (3, 4)
    for accuracy, size in (("f", 2001), ("m", 4001)):
        with pytest.raises(ValueError, match="allowed: up to"):
            rules.machined_frame(size=size, accuracy=accuracy)
    with pytest.raises(ValueError, match="allowed: A, B, C, D"):
        rules.welded_frame(size=500, accuracy="E")
