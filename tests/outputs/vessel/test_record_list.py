"""The record of the vessel in an issue: what a drawing of all its panes at once writes, made of what was noted pane by pane."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest

from geometry.findings.check import check_pane
from geometry.job import job_of
from outputs.record.data import json_bytes, vessel_data
from outputs.record.together import planned_sessions, pooled_quantities
from outputs.record.vessel_page import vessel_page
from outputs.record.vessel_rows import pane_row
from outputs.version import IDENTITY
from outputs.vessel.documents import LeftOut, VesselContents, vessel_files
from outputs.vessel.facts import DocumentFacts, FileFacts
from outputs.vessel.facts_gathered import facts_of
from outputs.vessel.record_list import record_list

JOB = """
vessel.name = "Teal Wader (invented)"
sheet.date = 2026-11-02
frame = "grp"
glass = { plies = [8] }
adhesive.opened_life = 120
[[session]]
date = 2026-11-04
panes = ["007", "1E2"]
[[pane]]
code = "007"
name = "saloon <P>"
revision = "A"
quantity = 2
outline = { rectangle = [900, 450], radius = 50 }
pressure = { outward = 2, inward = 4 }
[[pane]]
code = "1E2"
outline = { circle = 300 }
bond = { width = 6 }
"""


@pytest.fixture(scope="module")
def checks():
    job = job_of(JOB)
    return [check_pane(job, pane, plan=True) for pane in job.panes]


def contents_of(checks) -> VesselContents:
    facts = []
    for check in checks:
        stem = f"{check.subject.pane.file_stem}-record"
        files = tuple(FileFacts(f"{stem}.{ending}", "00", 1) for ending in ("html", "json"))
        facts.append(facts_of(check).with_documents((DocumentFacts("record", "n", ("engineer",), files),)))
    return VesselContents(checks[0].subject.job, "teal", tuple(facts))


def test_the_record_is_that_of_a_drawing_of_all_panes(checks):
    """But for the place of each pane's own page, which is a folder for each pane."""
    job = checks[0].subject.job
    rows, plans, together = list(map(pane_row, checks)), planned_sessions(job, checks), pooled_quantities(job, checks)
    pages = {"007": "007/007-A-record.html", "1E2": "1E2/1E2-record.html"}
    made = record_list(contents_of(checks))
    assert list(made) == ["teal-records.html", "teal-records.json"]
    assert made["teal-records.html"] == vessel_page(job, rows, plans, together=together, pages=pages)
    whole = {"program": IDENTITY, **vessel_data(job, rows, plans, together), "left_out": []}
    told, wanted = json.loads(made["teal-records.json"]), json.loads(json_bytes(whole))
    amounts = [[row.pop("amount") for row in data["quantities"]["rows"]] for data in (told, wanted)]
    assert told == wanted and amounts[0] == pytest.approx(amounts[1], rel=1e-11), "what was noted has twelve digits"


def test_the_page_holds_what_the_checks_hold(checks):
    """Counted in the page itself: a row for each finding that fails or asks for a look, the panes of each default, packs of both days."""
    page = record_list(contents_of(checks))["teal-records.html"].decode()
    root = ElementTree.fromstring(page.removeprefix("<!DOCTYPE html>"))
    places = {node.attrib["id"]: node for node in root.iter("section")}
    wrong = [tuple("".join(cell.itertext()) for cell in row)[:3] for row in places["wrong"].iter("tr")][1:]
    found = [
        (check.subject.pane.code, verdict, each.name)
        for verdict in ("fail", "look")
        for check in checks
        for each in check.findings
        if each.verdict.value == verdict
    ]
    assert [(code, name) for code, _, name in wrong] == [(code, name) for code, _, name in found] and len(found) > 1
    words = re.sub(r"\s+", " ", "".join(places["quantities"].itertext()))
    assert "filled on 1 day" in words or "filled on 2 days" in words
    assert "opened in 1 session" in words and "saloon &lt;P&gt;" in page


def test_what_is_left_out_is_told_on_top_and_without_records_there_is_none(checks):
    whole = contents_of(checks)
    lacking = replace(whole, facts=whole.facts[:1], left_out=(LeftOut("1E2", "", "not drawn", "why"),))
    made = record_list(lacking)
    page = made["teal-records.html"].decode()
    assert "INCOMPLETE, in no sum: 1E2 (not drawn)." in page and "Only 1 of the 2 panes" in page
    assert "Planned, packs as well, with panes that are not in this record: 1E2." in page
    assert "not in this record" not in record_list(whole)["teal-records.html"].decode()
    (left,) = json.loads(made["teal-records.json"])["left_out"]
    assert (left["code"], left["outcome"]) == ("1E2", "not drawn") and left["reason"]
    bare = replace(whole, facts=tuple(each.with_documents(()) for each in whole.facts))
    assert record_list(bare) == {} and "records" not in vessel_files(bare)


def test_the_register_and_the_approval_pack_tell_of_it(checks):
    made = vessel_files(contents_of(checks), purpose="approval")
    assert "teal-records.html" in made["register"]["teal-register.html"].decode()
    assert "teal-records.html" in made["approval"]["teal-approval.html"].decode()
