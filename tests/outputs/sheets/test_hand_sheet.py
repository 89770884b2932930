"""Card and forms stand on layers under the office's own names, as every other sheet of the pane."""

from __future__ import annotations

import io
from pathlib import Path

import ezdxf
import pytest

from geometry.detail.build import build_detail
from geometry.findings.check import check_pane
from geometry.job import job_of
from outputs.documents import document_files
from outputs.sheets.contents import Contents

SAMPLES = Path(__file__).resolve().parents[3] / "samples"


@pytest.mark.parametrize("document", ["card", "bonding", "survey", "goods-in"])
def test_layers_have_the_offices_names(document):
    text = (SAMPLES / "rectangle.toml").read_text(encoding="utf-8")
    job = job_of('[layers]\nTEXT = "G-WORDS"\nGLASS = "G-PANE"\n' + text)
    pane = job.panes[0]
    detail = build_detail(job, pane)
    files = document_files(Contents(job, pane, detail, check_pane(job, pane, detail, plate=False)), (document,), ("dxf",))
    (data,) = [data for name, data in files.items() if name.endswith(".dxf")]
    drawing = ezdxf.read(io.StringIO(data.decode("utf-8")))
    used = {entity.dxf.layer for layout in drawing.layouts for entity in layout}
    assert "G-WORDS" in used and "TEXT" not in used
    assert not used & {"GLASS"}


def test_the_template_has_them_too():
    """Only as PDF: the names of its optional content are the layers'."""
    pypdf = pytest.importorskip("pypdf", reason="comes with the extra `test`")
    text = (SAMPLES / "rectangle.toml").read_text(encoding="utf-8")
    job = job_of('[layers]\nTEXT = "G-WORDS"\nGLASS = "G-PANE"\n' + text)
    pane = job.panes[0]
    files = document_files(Contents(job, pane, build_detail(job, pane)), ("template",), ("pdf",))
    assert len(files) == 2
    for data in files.values():
        reader = pypdf.PdfReader(io.BytesIO(data))
        names = {each.get_object()["/Name"] for each in reader.trailer["/Root"]["/OCProperties"]["/OCGs"]}
        assert {"G-WORDS", "G-PANE"} <= names and not names & {"TEXT", "GLASS"}
