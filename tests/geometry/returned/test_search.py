"""What the names of layers and the words of a drawing say."""

from __future__ import annotations

import pytest

from geometry.compare.move import Move
from geometry.incoming.pieces import Label
from geometry.returned.layer_words import Role, role_of
from geometry.returned.words import Asked, Says, quoted

ASKED = Asked(4, 4, "lower corner left, in the frit, read from outside")


@pytest.mark.parametrize(
    ("layer", "role"),
    [
        ("glass", Role.GLASS),
        ("FRIT_FADE", Role.SOLID),
        ("GLASKANTE", Role.GLASS),
        ("Siebdruck", Role.PRINT),
        ("S-CERAMIC-BAND", Role.PRINT),
        ("frit dots", Role.FADE),
        ("BEAD_EDGE", Role.OTHER),
        ("G-EDGE", Role.GLASS),  # the office's own name
        ("0", Role.UNKNOWN),
        ("DIM", Role.UNKNOWN),
    ],
)
def test_the_name_of_a_layer_says_what_its_lines_are(layer: str, role: Role):
    assert role_of([layer], {"GLASS": "G-EDGE"}, ["BEAD_EDGE", "GLASS"]) is role


def test_lines_of_two_kinds_of_layers_say_nothing():
    assert role_of(["GLASS", "FRIT_INNER"], {}, ()) is Role.UNKNOWN


@pytest.mark.parametrize(
    ("text", "topic", "says"),
    [
        ("PRINT ON FACE 4", "face", Says.AGREES),
        ("Enamel on surface #1", "face", Says.CONTRADICTS),
        ("ceramic print pos. 2", "face", Says.CONTRADICTS),
        ("#4 black", "face", Says.AGREES),
        ("FACE 1 OUTSIDE", "face", Says.LOOK),
        ("LOGO UPPER RIGHT", "mark", Says.CONTRADICTS),
        ("stamp lower left", "mark", Says.LOOK),
        ("view from inside", "view", Says.LOOK),
        ("Outside view", "view", Says.AGREES),
    ],
)
def test_words_of_face_mark_and_view(text: str, topic: str, says: Says):
    [found] = quoted([Label(text, (10.0, 20.0, 0.0))], Move(), ASKED)
    assert (found.topic, found.says, found.text) == (topic, says, text)


@pytest.mark.parametrize(
    "text", ["SCALE 1:10", "SURFACES 3.2", "1200", "faces", "witness marks", "mark of the job ABC", "REV #", ""]
)
def test_other_words_are_not_quoted(text: str):
    assert quoted([Label(text, (0.0, 0.0, 0.0))], Move(), ASKED) == ()


def test_without_a_request_a_mark_is_not_checked():
    [found] = quoted([Label("STAMP", (0.0, 0.0, 0.0))], Move(), Asked(2, 2, ""))
    assert found.says is Says.NOT_CHECKED
