"""Every job in ``samples`` is read and its first sheet written and proven; every form of outline has a job of its own."""

from __future__ import annotations

import importlib.util
import io
import tomllib
from pathlib import Path
from xml.etree import ElementTree

import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import read_job
from geometry.job.outlines import FORMS
from geometry.ledger.finding import Verdict
from outputs.files.dxf import dxf_bytes
from outputs.files.svg import svg_bytes
from outputs.sheets.contents import Contents
from outputs.sheets.detail_sheet import detail_of

ROOT = Path(__file__).resolve().parents[2]
SAMPLES = ROOT / "samples"
JOBS = sorted(path for path in SAMPLES.glob("*.toml") if "pane" in tomllib.loads(path.read_text(encoding="utf-8")))
ALONE = ("rectangle", "polygon", "circle", "ellipse", "path", "own-recess", "deck-light", "proud", "from-drawing", "from-survey", "from-solid")
"""Jobs of one pane that show one thing each and hold no fault."""


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_a_sheet_of_every_sample_is_written_and_reads_back(path):
    """Writing proves the sheet first: nothing outside its paper, no view on another, no text on text."""
    import ezdxf

    job = read_job(path)
    pane = job.panes[0]
    detail = build_detail(job, pane)
    check = check_pane(job, pane, detail)
    sheet = detail_of(Contents(job, pane, detail, check))
    picture = ElementTree.fromstring(svg_bytes(sheet))
    assert picture.get("width") == f"{sheet.width:g}mm"
    document = ezdxf.read(io.StringIO(dxf_bytes(sheet).decode("utf-8")))
    assert not document.audit().errors
    layer = job.layers.get("GLASS", "GLASS")
    (glass,) = document.modelspace().query(f'LWPOLYLINE[layer=="{layer}"]')
    assert glass.closed
    if path.stem in ALONE:
        assert not [finding.name for finding in check.findings if finding.verdict is Verdict.FAIL]


def test_every_form_of_outline_has_a_sample_of_its_own_and_says_that_it_is_invented():
    panes = {path.stem: read_job(path).panes for path in JOBS if path.stem in ALONE}
    assert set(panes) == set(ALONE) and all(len(found) == 1 for found in panes.values())
    assert {found[0].outline.form for found in panes.values()} == set(FORMS)
    assert panes["own-recess"][0].recess.outline is not None
    assert panes["deck-light"][0].rake == 90 and len(panes["deck-light"][0].glass.plies) == 2
    job = read_job(SAMPLES / "proud.toml")
    levels = build_detail(job, job.panes[0]).sections[0].levels
    assert levels.glass_face > levels.skin
    for path in JOBS:
        assert "invented" in path.read_text(encoding="utf-8").casefold(), path


def test_the_lettered_drawing_is_the_one_that_the_program_makes():
    spec = importlib.util.spec_from_file_location("pictures", ROOT / "tests" / "pictures.py")
    pictures = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(pictures)
    drawn = svg_bytes(pictures.lettered())
    assert drawn == (SAMPLES / "what-you-measure.svg").read_bytes()
    letters = {text.text for text in ElementTree.fromstring(drawn).iter() if text.text and len(text.text.strip()) == 1}
    table = (ROOT / "README.md").read_text(encoding="utf-8").split("## What you measure")[1].split("\n## ")[0]
    assert letters == {
        row.split("|")[1].strip() for row in table.splitlines() if row.startswith("| ") and len(row.split("|")[1].strip()) == 1
    }
