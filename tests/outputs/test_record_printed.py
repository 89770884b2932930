"""The record printed by a browser: pages counted, the running head on each, no row cut between two pages.

Chromium prints as an office would; poppler and pypdf read what came out. Where one of them does not stand, the test says so and is left out.
The panes are worked examples of an invented vessel.
"""

from __future__ import annotations

import html
import re
import shutil
import subprocess
from pathlib import Path

import pytest
from browser import chromium

from geometry.findings.check import check_pane
from geometry.findings.sensitivity import sensitivities
from geometry.job import read_job
from geometry.job.mark import mark_of
from outputs.record.pane_page import pane_page

VESSEL = read_job(Path(__file__).parents[2] / "samples" / "sallow-wren.toml")
BROWSER = chromium()
READER = shutil.which("pdftotext")
OPTIONS = ("--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer")
LEAST, MOST = 8, 10
"""Pages with the plate, of panes of which up to thirteen findings do not pass."""
A4 = (595.3, 841.9)  # points

pytestmark = [
    pytest.mark.skipif(BROWSER is None, reason="no Chromium stands here to print the record"),
    pytest.mark.skipif(READER is None, reason="no pdftotext stands here to read the print"),
]


def words_of(markup: str) -> str:
    """What a reader sees, without any blank."""
    return re.sub(r"\s", "", html.unescape(re.sub(r"<[^>]+>", "", markup)))


@pytest.fixture(scope="module", params=["SW-01", "SW-02", "SW-06", "SW-08"])
def printed_record(request, tmp_path_factory):
    """The record of a pane with its plate and trials: the page, the printed file, the text of each printed page."""
    pane = next(pane for pane in VESSEL.panes if pane.code == request.param)
    check = check_pane(VESSEL, pane, plate=True)
    folder = tmp_path_factory.mktemp("record")
    page, print_ = folder / "record.html", folder / "record.pdf"
    page.write_bytes(pane_page(VESSEL, check, sensitivities(check.subject)))
    command = [BROWSER, *OPTIONS, f"--user-data-dir={folder / 'profile'}", f"--print-to-pdf={print_}", page.as_uri()]
    subprocess.run(command, capture_output=True, timeout=180, check=True)
    text = subprocess.run([READER, "-layout", print_, "-"], capture_output=True, text=True, timeout=60, check=True).stdout
    return pane, page.read_text("utf-8"), print_, text.split("\f")[:-1]


def test_it_prints_on_a_few_sheets_of_a4(printed_record):
    pypdf = pytest.importorskip("pypdf", reason="no pypdf stands here to count the pages")
    _, _, print_, texts = printed_record
    pages = pypdf.PdfReader(print_).pages
    assert len(pages) == len(texts)
    assert LEAST <= len(pages) <= MOST
    for page in pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(A4, abs=1.0)


def test_every_page_has_its_running_head(printed_record):
    """Number of the record, pane, revision, mark, page n of m."""
    pane, _, _, texts = printed_record
    for count, text in enumerate(texts, start=1):
        head = next(line for line in text.splitlines() if line.strip())
        for words in (
            f"417-{pane.code}-C",
            pane.name,
            f"revision {pane.revision}",
            mark_of(VESSEL, pane),
            f"page {count} of {len(texts)}",
        ):
            assert words in " ".join(head.split()), (count, head)


def test_the_first_page_holds_the_state_and_ends_with_what_is_not_decided(printed_record):
    _, page, print_, texts = printed_record
    first = texts[0]
    raw = subprocess.run([READER, "-raw", "-l", "1", print_, "-"], capture_output=True, text=True, timeout=60, check=True).stdout
    assert (
        first.index("State of the checks") < first.index("What fails, and what to do") < first.index("What is not decided here")
    )
    assert "This record approves nothing" in first and "Not checked on this pane" in first and "own default" in first
    assert "published" in first and "from memory" in first  # the legend of bases, whole
    listed = re.search(r"Not checked on this pane</h3>(.*?)</ul>", page, re.DOTALL)
    last = words_of(re.findall(r"<li>(.*?)</li>", listed[1], re.DOTALL)[-1]) if listed else ""
    assert last in re.sub(r"\s", "", raw)
    assert "Made" in first and "Checked" in first and "Approved" in first


def test_no_row_of_a_table_and_no_sum_is_cut_between_two_pages(printed_record):
    """What stands last in a row and what stands first in it are on one page: by the text of the row's heading and of its last cell."""
    _, page, print_, _ = printed_record
    read = subprocess.run([READER, "-raw", print_, "-"], capture_output=True, text=True, timeout=60, check=True).stdout
    pages = [re.sub(r"\s", "", text) for text in read.split("\f")[:-1]]
    whole = 0
    rows = re.findall(r"<tr[^>]*>(.*?)</tr>", re.search(r'<table class="flags.*?</table>', page, re.DOTALL).group(0), re.DOTALL)
    for row in rows[1:]:
        cells = [words_of(cell) for cell in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, re.DOTALL)]
        assert any(cells[1][:12] in text and cells[-1][-8:] in text for text in pages), cells[1]
        whole += 1
    for article in re.findall(r'<article class="sum".*?</article>', page, re.DOTALL):
        title = words_of(re.search(r"<h4>(.*?)(?:<span|</h4>)", article, re.DOTALL).group(1))
        result = words_of(re.findall(r'<b class="result">(.*?)</b>|<td class="num result">(.*?)</td>', article)[-1][0])
        assert any(title in text and result in text for text in pages), title
        whole += 1
    assert whole > 70
