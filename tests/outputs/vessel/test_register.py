"""The register against the folder itself: hashes by hashlib, tables read back by openpyxl and csv, numbers looked for on the documents.

The files are hashed anew as ``sha256sum`` would (FIPS 180-4, hashlib); the rules for a page come from its content security policy.
"""

from __future__ import annotations

import csv
import datetime
import hashlib
import io
import json
import re
import xml.etree.ElementTree as ElementTree
from functools import partial
from pathlib import Path

import openpyxl
import pytest

from geometry.job import job_of
from outputs import command_line
from outputs.documents import DOCUMENTS, READERS
from outputs.vessel.documents import VESSEL_DOCUMENTS, VesselContents, vessel_files
from outputs.vessel.kept import NAME
from outputs.vessel.one_pane import Asked, pane_drawn
from outputs.vessel.run import issued

JOB = """
sheet.date = 2026-11-02
vessel = { name = "Teal Wader (invented)", yard_number = "901" }
lists.decimal = "comma"
frame = "grp"
glass = { plies = [8] }
[[pane]]
code = "007"
name = "=saloon"
revision = "A"
in_hull = true
outline = { circle = 300 }
frit.width = 20
"""
TIGHT = '[[pane]]\ncode = "T1"\noutline = { rectangle = [60, 40] }\nbond.width = 30\n'


@pytest.fixture(scope="module")
def folder(tmp_path_factory) -> Path:
    """Every document of one pane, and a pane that cannot be drawn, issued by the command and then once more with the next letter."""
    place = tmp_path_factory.mktemp("issue")
    job = place / "teal.toml"
    job.write_text(JOB + TIGHT, encoding="utf-8")
    with pytest.raises(SystemExit) as leaving:
        command_line.main(["issue", str(job), "-o", str(place / "teal"), "--no-plate", "--workers", "1"])
    assert leaving.value.code == 2
    return place / "teal"


@pytest.fixture(scope="module")
def raised(folder, tmp_path_factory) -> Path:
    """The same folder's likeness after a revision, with the documents that are drawn soonest."""
    place = tmp_path_factory.mktemp("raised")
    asked = Asked(plate=False, documents=("label", "glass"), formats=("svg",))
    for text in (JOB, JOB.replace('"A"', '"B"').replace("2026-11-02", "2026-12-01")):
        issued(job_of(text), "teal", place, asked, workers=1, step=lambda _what: None)
    return place


def rows_of(path: Path, sheet: str) -> list[dict[str, object]]:
    table = openpyxl.load_workbook(path)[sheet]
    rows = list(table.iter_rows(values_only=True))
    head = next(index for index, row in enumerate(rows) if row[0] in ("pane", "reader", "list") and row[1])
    return [dict(zip(rows[head], row, strict=True)) for row in rows[head + 2 :]]


def test_the_documents_are_those_that_draw_writes(folder, tmp_path):
    job = tmp_path / "teal.toml"
    job.write_text(JOB, encoding="utf-8")
    sheets = ("pane", "glass", "label", "record")
    options = [part for name in sheets for part in ("--sheet", name)]
    with pytest.raises(SystemExit):
        command_line.main(["draw", str(job), "-o", str(tmp_path / "drawn"), "--no-plate", *options])
    drawn = {path.name: path.read_bytes() for path in (tmp_path / "drawn").glob("007-*")}
    assert len(drawn) == 9 and drawn == {name: (folder / "007" / name).read_bytes() for name in drawn}
    names = [*(each.name for each in DOCUMENTS), "record"]
    endings = [path.name.removeprefix("007-A-") for path in (folder / "007").iterdir()]
    found = [[name for name in names if re.fullmatch(rf"{name}[-.].*", ending)] for ending in endings]
    assert all(len(each) == 1 for each in found) and {name for (name,) in found} == set(names)


def test_every_file_of_the_folder_stands_in_the_register_once_with_its_hash(folder):
    rows = rows_of(folder / "teal-register.xlsx", "By pane")
    files = sorted(path.relative_to(folder).as_posix() for path in (folder / "007").iterdir())
    assert sorted(row["file"] for row in rows) == files
    for row in rows:
        data = (folder / str(row["file"])).read_bytes()
        assert (row["SHA-256"], row["length"]) == (hashlib.sha256(data).hexdigest(), len(data))
        assert (row["pane"], row["revision"], row["status"], row["state"].split()[0]) == ("007", "A", "issued", "FAIL")
        assert row["date of issue"] == datetime.datetime(2026, 11, 2)
        assert str(row["release"]).startswith("NOT FOR MANUFACTURE: no approval reference")


def test_the_number_of_a_document_is_the_one_that_stands_on_it(folder):
    rows = rows_of(folder / "teal-register.xlsx", "By pane")
    numbers = {str(row["document"]): str(row["number"]) for row in rows}
    assert len(set(numbers.values())) == len(numbers)
    for name in ("detail", "pane", "label"):
        assert numbers[name] in _lettered(folder / "007" / f"007-A-{name}.svg")
    assert numbers["record"] in (folder / "007" / "007-A-record.html").read_text("utf-8")
    letters = [each.letter for each in DOCUMENTS if each.letter]
    assert len(set(letters)) == len(letters)


def _lettered(path: Path) -> str:
    """The texts of a sheet."""
    return " ".join("".join(node.itertext()) for node in ElementTree.parse(path).iter() if node.tag.endswith("text"))


def test_each_reader_finds_his_documents(folder):
    rows = rows_of(folder / "teal-register.xlsx", "By reader")
    found = {reader: {row["document"] for row in rows if row["reader"] == reader} for reader in READERS}
    assert found == {
        reader: {each.name for each in DOCUMENTS if reader in each.readers}
        | ({"record"} if reader in ("office", "engineer") else set())
        for reader in READERS
    }
    assert found["fitter"] >= {"card", "template"} and found["supplier"] >= {"pane", "glass", "print"}
    assert not found["supplier"] & {"detail", "card", "record"}
    assert {row["name"] for row in rows} == {"=saloon"}  # a text, no formula
    book = openpyxl.load_workbook(folder / "teal-register.xlsx")
    assert not [cell for sheet in book for row in sheet.iter_rows() for cell in row if cell.data_type == "f"]


def test_the_table_tells_the_same_as_the_workbook_and_of_what_is_not_drawn(folder):
    told = (folder / "teal-register.csv").read_text("utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(told), delimiter=";"))
    assert [row["file"] for row in rows if row["status"] == "issued"] == [
        row["file"] for row in rows_of(folder / "teal-register.xlsx", "By pane")
    ]
    (missing,) = [row for row in rows if row["status"] == "not drawn"]
    assert (missing["pane"], missing["file"]) == ("T1", "") and "cannot run" in missing["state"]
    (named,) = rows_of(folder / "teal-register.xlsx", "Left out")
    assert named["pane"] == "T1" and f"{named['what']}: {named['why']}" == missing["state"]


def test_the_page_is_well_formed_and_fetches_nothing(folder):
    page = (folder / "teal-register.html").read_text("utf-8")
    root = ElementTree.fromstring(page.removeprefix("<!DOCTYPE html>"))
    policy = next(
        node.attrib["content"] for node in root.iter("meta") if node.attrib.get("http-equiv") == "Content-Security-Policy"
    )
    assert policy.startswith("default-src 'none'") and "script" not in policy
    assert not re.search(r"(?:src|href)=|https?:|@import|<script", page)
    words = " ".join(root.itertext())
    for row in rows_of(folder / "teal-register.xlsx", "By pane"):
        assert str(row["file"]) in words and str(row["SHA-256"])[:16] in words and str(row["number"]) in words
    assert "Date of issue: 2026-11-02" in words and "NOT FOR MANUFACTURE" in words and "not an approval" in words


def test_what_was_superseded_is_told_with_what_took_its_place(raised):
    aside = rows_of(raised / "teal-register.xlsx", "Superseded")
    issued_ = rows_of(raised / "teal-register.xlsx", "By pane")
    assert len(aside) == len(issued_) == 2
    for row in aside:
        data = (raised / str(row["file"])).read_bytes()
        assert hashlib.sha256(data).hexdigest() == row["SHA-256"] and str(row["file"]).startswith("superseded/007-A-")
        assert (row["revision"], row["status"], row["date of issue"]) == ("A", "superseded", datetime.datetime(2026, 11, 2))
        assert row["superseded on"] == datetime.datetime(2026, 12, 1)
        assert row["superseded by"] == f"revision B, mark {issued_[0]['mark']}"
    assert {row["replaces"] for row in issued_} == {f"revision A, mark {aside[0]['mark']}"}
    assert "Superseded: not to be worked from" in (raised / "teal-register.html").read_text("utf-8")


def test_one_table_says_which_paper_is_valid(raised, folder):
    """A yard manager with a paper in his hand: its revision and mark are there, those of the older issue are not."""
    (row,) = rows_of(raised / "teal-register.xlsx", "Valid")
    (now,) = {(each["revision"], each["mark"]) for each in rows_of(raised / "teal-register.xlsx", "By pane")}
    (gone,) = {each["mark"] for each in rows_of(raised / "teal-register.xlsx", "Superseded")}
    assert (row["revision"], row["mark"]) == now == ("B", now[1]) and gone != now[1]
    assert row["of"] == datetime.datetime(2026, 12, 1)
    page = (raised / "teal-register.html").read_text("utf-8")
    valid = page[page.index('id="valid"') : page.index('id="by-pane"')]
    assert now[1] in valid and gone not in valid
    told = {each["pane"]: each for each in rows_of(folder / "teal-register.xlsx", "Valid")}
    assert told["T1"]["mark"] == "none" and told["T1"]["state"] == "not drawn: no paper is valid"


def test_without_a_date_the_register_says_so(tmp_path):
    job = job_of(JOB.replace("sheet.date = 2026-11-02\n", ""))
    facts = pane_drawn(job, job.panes[0], Asked(plate=False, documents=("glass",))).facts
    made = vessel_files(VesselContents(job, "teal", (facts,)))["register"]
    rows = list(csv.DictReader(io.StringIO(made["teal-register.csv"].decode("utf-8-sig")), delimiter=";"))
    assert {row["date of issue"] for row in rows} == {"not given"}
    assert b"Date of issue: not given" in made["teal-register.html"]
    assert made == vessel_files(VesselContents(job, "teal", (facts,)))["register"]


def test_the_register_is_made_last_and_tells_of_the_other_lists(monkeypatch):
    from outputs.vessel import documents

    first = documents.VesselDocument("sums", "a list", lambda contents: {f"{contents.stem}-sums.csv": b"1\r\n"})
    later = documents.VesselDocument(
        "pack", "only for a purpose", lambda contents: {f"{contents.stem}-pack.csv": b"2\r\n"}, "approval"
    )
    assert VESSEL_DOCUMENTS[-1].name == "register"
    monkeypatch.setattr(documents, "VESSEL_DOCUMENTS", (first, later, VESSEL_DOCUMENTS[-1]))
    contents = VesselContents(job_of(JOB), "teal", ())
    assert list(vessel_files(contents)) == ["sums", "register"]
    made = vessel_files(contents, purpose="approval")
    assert list(made) == ["sums", "pack", "register"]
    page = made["register"]["teal-register.html"].decode("utf-8")
    assert hashlib.sha256(b"2\r\n").hexdigest()[:16] in page
    assert "only for a purpose" in page, "whom a list is for stands beside it"


def test_what_was_made_for_a_purpose_stays_until_something_changes(tmp_path):
    """A pack that went to somebody is no list to be written over: it goes aside whole."""
    asked = Asked(plate=False, documents=("glass",))
    go = partial(issued, stem="teal", folder=tmp_path, asked=asked, workers=1, step=lambda _what: None)
    go(job_of(JOB), purpose="approval")
    packs = {path.name: path.read_bytes() for path in tmp_path.glob("teal-approval*")}
    assert packs
    go(job_of(JOB))
    assert {path.name: path.read_bytes() for path in tmp_path.glob("teal-approval*")} == packs
    listed = {row["file"] for row in rows_of(tmp_path / "teal-register.xlsx", "Lists")}
    assert listed == {path.name for path in tmp_path.glob("teal-*") if "register" not in path.name} >= set(packs)
    go(job_of(JOB.replace("300", "310").replace("2026-11-02", "2026-12-01")))
    assert not list(tmp_path.glob("teal-approval*"))
    assert {path.name: path.read_bytes() for path in (tmp_path / "superseded" / "lists").iterdir()} == packs
    aside = [row for row in rows_of(tmp_path / "teal-register.xlsx", "Superseded") if row["pane"] == "all"]
    assert {str(row["file"]) for row in aside} == {f"superseded/lists/{name}" for name in packs}
    for row in aside:
        assert row["SHA-256"] == hashlib.sha256((tmp_path / str(row["file"])).read_bytes()).hexdigest()
        assert (row["document"], row["superseded by"]) == (
            "approval",
            "nothing: it was not asked for again when the issue changed",
        )
        assert (row["date of issue"], row["superseded on"]) == (
            datetime.datetime(2026, 11, 2),
            datetime.datetime(2026, 12, 1),
        )
    page = (tmp_path / "teal-register.html").read_text("utf-8")
    assert all(name in page[page.index('id="superseded"') :] for name in packs)


def test_lists_under_the_name_of_a_job_file_that_was_renamed_go_aside_and_are_told(tmp_path):
    asked = Asked(plate=False, documents=("glass",))
    go = partial(issued, folder=tmp_path, asked=asked, workers=1, step=lambda _what: None)
    go(job_of(JOB), "teal")
    old = {path.name: path.read_bytes() for path in tmp_path.glob("teal-*")}
    assert len(old) > 10 and {each.what for each in go(job_of(JOB), "wader").panes if each.facts} == {"up to date"}
    assert not list(tmp_path.glob("teal-*"))
    aside = rows_of(tmp_path / "wader-register.xlsx", "Superseded")
    assert {str(row["file"]).removeprefix("superseded/lists/") for row in aside} == set(old)
    assert {path.name: path.read_bytes() for path in (tmp_path / "superseded" / "lists").iterdir()} == old
    assert {row["superseded by"] for row in aside} == {"nothing: this issue makes no list of that name"}


def test_what_is_kept_holds_no_time_and_no_place(folder):
    """Nothing of the day, the computer or the folder: the same issue elsewhere keeps the same bytes."""
    told = json.loads((folder / NAME).read_bytes())
    assert str(folder.parent) not in json.dumps(told)
    assert set(told) == {"schema", "kind", "program", "job", "lists_input", "lists", "superseded", "moving", "panes"}
