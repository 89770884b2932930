"""The table of a survey as people write it: read as it stands, or refused with its line and column; never a traceback."""

from __future__ import annotations

import random

import pytest

from geometry.incoming.survey import read_survey
from geometry.incoming.survey_faults import MOST_TOLD, SurveyError
from geometry.incoming.survey_table import read_table

PLAIN = "x,y,edge,station,depth,landing\n0,0,sill,1,16.5,42\n1012.5,0.5,sill,2,,\n1011,714,head,3,15.8,41\n2.5,711,head,4,,40\n"
SAME = (
    (0.0, 0.0, "sill", "1", 16.5, 42.0), (1012.5, 0.5, "sill", "2", None, None), (1011.0, 714.0, "head", "3", 15.8, 41.0),
    (2.5, 711.0, "head", "4", None, 40.0),
)  # fmt: skip


def rows(table):
    return tuple((*point.place, point.edge, point.station, point.depth, point.landing) for point in table.points)


def with_decimal_comma(text):
    return "\n".join(line.replace(",", ";").replace(".", ",") for line in text.split("\n"))


WRITINGS = {
    "plain": PLAIN,
    "semicolons": PLAIN.replace(",", ";"),
    "decimal comma": with_decimal_comma(PLAIN),
    "tabs": PLAIN.replace(",", "\t"),
    "first line names the separator": "sep=;\n" + with_decimal_comma(PLAIN),
    "windows": PLAIN.replace("\n", "\r\n"),
    "old mac": PLAIN.replace("\n", "\r"),
    "byte order mark": "\ufeff" + PLAIN,
    "capitals and spaces": PLAIN.replace("x,y,edge,station,depth,landing", " X , Y Coordinate , Side , POINT , Recess depth , Landing_width "),
    "quoted, decimal comma between commas": '"x","y","edge","station","depth","landing"\n0,0,sill,1,"16,5",42\n"1012,5","0,5",sill,2,,\n1011,714,head,3,"15,8",41\n"2,5",711,head,4,,40\n',
    "remarks and blank lines": "# invented\n\n# units: mm\n" + PLAIN.replace("head,3", "head,3") + "\n;;;\n",
    "units in the heads": PLAIN.replace("x,y,", "x [mm],y (mm),").replace("depth", "depth [cm]").replace("16.5", "1.65").replace("15.8", "1.58"),
    "other order": "station,landing,y,depth,edge,x\n1,42,0,16.5,sill,0\n2,,0.5,,sill,1012.5\n3,41,714,15.8,head,1011\n4,40,711,,head,2.5\n",
    "true minus": PLAIN.replace("0,0,sill", "\u22120,0,sill"),
}  # fmt: skip


@pytest.mark.parametrize("name", WRITINGS)
def test_the_same_table_however_it_is_written(name):
    assert rows(read_table(WRITINGS[name].encode(), name="w3.csv")) == SAME


def test_other_encodings():
    text = PLAIN.replace("sill", "Brüstung")
    for data in (text.encode("latin-1"), text.encode("utf-8"), text.encode("utf-16")):
        assert read_table(data, name="w3.csv").points[0].edge == "Brüstung"


def test_units():
    metres = "x,y\n0,0\n1.0125,0\n1.011,0.714\n"
    assert read_table(metres.encode(), name="w", units="m").points[1].place == pytest.approx((1012.5, 0.0))
    assert read_table(("# units: m\n" + metres).encode(), name="w").points[1].place == pytest.approx((1012.5, 0.0))
    assert read_table(metres.replace("x,y", "x [m],y [m]").encode(), name="w").points[1].place == pytest.approx((1012.5, 0.0))
    # an international inch is 25.4 mm by definition (1959)
    assert read_table(b"x,y\n0,0\n40,0\n40,30\n", name="w", units="in").points[1].place == pytest.approx((1016.0, 0.0))
    with pytest.raises(SurveyError, match=r"two units: in \(the job\) and m \(line 1\)"):
        read_table(("# units: m\n" + metres).encode(), name="w", units="in")
    with pytest.raises(SurveyError, match=r"line 1, column 1: x, y and z in different units: m, mm"):
        read_table(metres.replace("x,y", "x [m],y").encode(), name="w")
    with pytest.raises(SurveyError, match="units “furlong”|units 'furlong'"):
        read_table(metres.encode(), name="w", units="furlong")


FAULTS = {
    "x,y\n1,5,2,5\n3,3\n4,4\n": (2, 5, "semicolons"),
    "x,y,,\n1,5,2,5\n3,3\n4,4\n": (2, 5, "semicolons"),
    "x;y\n1,5;2.5\n1;1\n": (2, 5, "decimal comma"),
    "x;y\n1;1\n1.234,5;3\n": (3, 1, "between its thousands"),
    "x;y\n1;1 234\n": (2, 3, "between its thousands"),
    "x;y\n;3\n": (2, 1, "no x"),
    "x;y\n3\n": (2, 2, "no y"),
    "x;y\nnan;3\n": (2, 1, "nan"),
    "x;y\n3;12 mm\n": (2, 3, "12 mm"),
    "x;y\n3;1e99\n": (2, 3, "at most"),
    "x;y;depth\n3;4;-2\n": (2, 5, "over 0"),
    'x;y\n"3;4\n': (2, 1, "quotation mark"),
    "1;2\n3;4\n5;6\n": (1, 1, "heads"),
    "x;depth\n3;4\n": (1, 1, "no column y"),
    "x;y;X\n3;4;5\n": (1, 5, "two columns of x"),
    "x;y;detph\n3;4;5\n": (1, 5, "did you mean depth"),
    "x;y;edge [mm]\n3;4;5\n": (1, 5, "unit beside edge"),
    "x;y\n1;2\n3;4\n": (0, 0, "2 points"),
    "": (0, 0, "no row at all"),
}


@pytest.mark.parametrize("text", FAULTS)
def test_a_fault_has_its_line_and_column(text):
    line, column, words = FAULTS[text]
    with pytest.raises(SurveyError) as caught:
        read_table(text.encode(), name="w3.csv")
    first = caught.value.faults[0]
    assert (first.line, first.column) == (line, column)
    assert words in str(caught.value)


def test_all_faults_are_told_together_and_no_more_than_fifty():
    text = "x;y\n" + "".join(f"{number};o\n" for number in range(80))
    with pytest.raises(SurveyError) as caught:
        read_table(text.encode(), name="w3.csv")
    assert len(caught.value.faults) == 80
    told = str(caught.value).split("\n")
    assert len(told) == MOST_TOLD + 1 and told[-1] == "w3.csv: and 30 more"
    assert told[0].startswith("w3.csv, line 2, column 3: y is “o”")


def test_an_unread_column_is_told():
    assert read_table(PLAIN.replace("station", "remark").encode(), name="w").notes == ("column “remark” is not read",)


def test_mutated_tables_are_read_or_refused():
    """Four hundred: signs dropped, put in, doubled, exchanged, bytes spoilt; a refusal has one sentence for each fault."""
    pick = random.Random(20)
    signs = '0123456789.,;\t"\n\r-+eE xyz#[]()µ\u2212\ufeffmnai='
    read = refused = 0
    for _ in range(400):
        text = list(pick.choice(list(WRITINGS.values())).replace("sill", "").replace("head", ""))
        for _ in range(pick.choice((1, 1, 2, 5, 20))):
            at = pick.randrange(len(text) + 1)
            text[at : at + pick.choice((0, 1, 1, 8))] = [pick.choice(signs)] * pick.choice((0, 1, 1, 3))
        data = "".join(text).encode(pick.choice(("utf-8", "utf-16", "utf-8")))
        if pick.random() < 0.2:
            at = pick.randrange(len(data))
            data = data[:at] + bytes([pick.randrange(256)]) + data[at + 1 :]
        try:
            found = read_survey(data, name="w3.csv")
        except SurveyError as error:
            refused += 1
            assert error.faults and all(sentence.startswith("w3.csv") and "\n" not in sentence for sentence in error.sentences)
            assert error.found
        else:
            read += 1
            assert len(found.outline.vertices) >= 2
    assert read > 20 and refused > 100


def test_an_edge_of_one_point_is_refused():
    corners = PLAIN.replace("sill,2", "jamb,2")
    with pytest.raises(SurveyError, match="edge “sill” has one point, and its neighbours are not on a line with it"):
        read_survey(corners.encode())


def test_a_file_that_is_none(tmp_path):
    with pytest.raises(SurveyError, match=r"gone\.csv: the file cannot be read"):
        read_survey(tmp_path / "gone.csv")
    with pytest.raises(SurveyError, match=r"cannot be read"):
        read_survey(tmp_path)
    with pytest.raises(SurveyError, match=r"meet nowhere near: 71[14] mm of the wall were not surveyed there"):
        read_survey(PLAIN.encode())  # sill and head, and nothing of the jambs
    (tmp_path / "w3.csv").write_text(PLAIN.replace("sill", "").replace("head", ""), encoding="utf-8")
    assert read_survey(tmp_path / "w3.csv").source == "w3.csv"
