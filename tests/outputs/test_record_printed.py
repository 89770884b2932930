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
from outputs.sheet.lettering import CAP_HEIGHT as CAP
from outputs.sheet.lettering import text_width

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


@pytest.fixture(scope="module", params=[pane.code for pane in VESSEL.panes])
def printed_record(request, tmp_path_factory):
    """The record of a pane with its plate and trials: the page, the printed file, the text of each printed page."""
    pane = next(pane for pane in VESSEL.panes if pane.code == request.param)
    page, print_ = printed(VESSEL, pane, tmp_path_factory.mktemp("record"))
    text = subprocess.run([READER, "-layout", print_, "-"], capture_output=True, text=True, timeout=60, check=True).stdout
    return pane, page.read_text("utf-8"), print_, text.split("\f")[:-1]


def printed(job, pane, folder):
    """The page of a pane with its plate and trials, and what Chromium printed of it."""
    check = check_pane(job, pane, plate=True)
    page, print_ = folder / "record.html", folder / "record.pdf"
    page.write_bytes(pane_page(job, check, sensitivities(check.subject)))
    command = [BROWSER, *OPTIONS, f"--user-data-dir={folder / 'profile'}", f"--print-to-pdf={print_}", page.as_uri()]
    subprocess.run(command, capture_output=True, timeout=180, check=True)
    return page, print_


@pytest.mark.parametrize("name", ["as-made", "own-recess", "polygon", "proud"])
def test_records_of_other_samples_keep_to_as_many_pages(name, tmp_path):
    """A surveyed recess with a table of every point (from-survey) takes one page more."""
    pypdf = pytest.importorskip("pypdf", reason="no pypdf stands here to count the pages")
    job = read_job(Path(__file__).parents[2] / "samples" / f"{name}.toml")
    _, print_ = printed(job, job.panes[0], tmp_path)
    assert LEAST <= len(pypdf.PdfReader(print_).pages) <= MOST


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


def test_nothing_stands_alone_at_the_foot_or_the_head_of_a_page(printed_record):
    """A heading is on the page of what it heads, a caption on that of its first two rows, the last row on that of the one before it.

    By the text of the whole row, where it is read in one piece; the last page holds more than the line of the program.
    """
    _, page, print_, texts = printed_record
    read = subprocess.run([READER, "-raw", print_, "-"], capture_output=True, text=True, timeout=60, check=True).stdout
    pages = [re.sub(r"\s", "", text) for text in read.split("\f")[:-1]]

    def together(*told):
        on = [{number for number, text in enumerate(pages) if each in text} for each in told]
        return None if not all(on) else bool(set.intersection(*on))

    checked = 0
    for heading, after in re.findall(r"<h[23]>(.*?)</h[23]>\s*<(?:p|ul|div)[^>]*>(.*?)</(?:p|ul|div)>", page, re.DOTALL):
        first = re.search(r"<caption>(.*?)</caption>|<li>(.*?)</li>", after, re.DOTALL)
        told = words_of(next(filter(None, first.groups()), "") if first else after)[:20]
        if told:
            assert together(words_of(heading), told) is not False, heading
            checked += 1
    for table in re.findall(r"<table.*?</table>", page, re.DOTALL):
        caption = re.search(r"<caption>(.*?)</caption>", table, re.DOTALL)
        rows = [words_of(row) for row in re.findall(r"<tr[^>]*>(.*?)</tr>", table.split("</thead>")[-1], re.DOTALL)]
        if caption is None or len(rows) < 3 or 'class="hidden"' in table:
            continue  # what went in runs on in narrow columns, its heads are for those who listen
        for told in ((words_of(caption[1]), *rows[:2]), rows[-2:]):
            assert together(*told) is not False, told
            checked += together(*told) is not None
    assert checked > 25
    assert len(texts[-1].split()) > 60


def test_no_head_of_the_matrix_runs_into_its_neighbour(printed_record):
    """Every word of the heads of "Which millimetre matters" is as wide as its column at most, by the metrics of the face."""
    _, page, _, _ = printed_record
    table = re.search(r'<table class="matrix".*?</table>', page, re.DOTALL)
    heads = re.findall(r"<th[^>]*>(.*?)</th>", table[0].split("</thead>")[0], re.DOTALL)
    room = (188.0 - 40.0 - 8.0) / (len(heads) - 2) - 2 * 0.4 - 0.15  # mm between the edges of a cell
    em = 6.0 * 25.4 / 72 * 1.06  # mm of a letter's size as the style has it
    parts = [part for head in heads[2:] for word in html.unescape(head).split() for part in parts_of(word)]
    assert max(map(len, parts)) > 5
    for part in parts:
        assert text_width(part, em * CAP, bold=True) <= room, part


def parts_of(word):
    """A word as it is broken at its soft hyphens."""
    *first, last = word.split("\u00ad")
    return [*(f"{each}-" for each in first), last]
