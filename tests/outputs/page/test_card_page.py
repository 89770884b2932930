"""The card as a page: what stands in the file. One file, nothing from outside, the figures of the paper card, never a go before anything was read.

How it works in a browser is tested in ``test_card_page_alive``.
"""

from __future__ import annotations

import base64
import hashlib
import html
import json
import re

import pytest
from page_samples import CODES, ODD, contents_of, page_of

from outputs.documents import document_files
from outputs.drawing.card_facts import facts_of
from outputs.drawing.card_readings import CAUTIONS
from outputs.page.card_page import card_page
from outputs.record.words import AN_AID

MOST = 150_000  # bytes


def words_of(page: str) -> str:
    """What is read on the page."""
    body = re.sub(r"<(script|style)\b.*?</\1>", "", page, flags=re.S)
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", body)).split())


@pytest.mark.parametrize("name", (*CODES, *ODD))
def test_one_small_file_that_needs_nothing_from_outside(name):
    data = page_of(name)
    page = data.decode("utf-8")
    assert len(data) < MOST
    assert not re.search(r"""\b(src|href|action|poster|srcset)=["'](?!#)""", page)
    assert "url(" not in page and "@import" not in page and "fetch(" not in page and " style=" not in page
    policy = html.unescape(re.search(r'Content-Security-Policy" content="([^"]*)"', page)[1])
    for kind, text in (("style", r"<style>(.*?)</style>"), ("script", r"<script>(.*?)</script>")):
        digest = base64.b64encode(hashlib.sha256(re.search(text, page, re.S)[1].encode()).digest()).decode()
        assert f"{kind}-src 'sha256-{digest}'" in policy
    assert policy.startswith("default-src 'none'; ") and "unsafe" not in policy


def test_the_same_contents_give_the_same_bytes_and_the_document_is_written_where_it_is_asked_for():
    contents = contents_of("SW-02")
    assert card_page(contents) == page_of("SW-02")
    assert document_files(contents, {"card"}, ("html",)) == {"SW-02-A-card.html": page_of("SW-02")}
    assert not document_files(contents, {"detail", "label"}, ("html",))
    with pytest.raises(ValueError, match="made of the checks"):
        card_page(type(contents)(contents.job, contents.pane, contents.detail))


@pytest.mark.parametrize("name", CODES)
def test_what_stands_on_the_paper_card_stands_on_the_page(name):
    """State and flags first; cautions, times, days, blocks, key figures, gaps: the same words as on paper; no go before anything was read."""
    contents = contents_of(name)
    facts, told = facts_of(contents.check), words_of(page_of(name).decode())
    state = contents.check.state
    assert told.index(state.told) < told.index("Look at")
    for flag in state.flags:
        assert f" {flag.number} " in told and flag.finding.name in told
    assert all(each in told for each in (*CAUTIONS, AN_AID, contents.mark, facts.take))
    clock = facts.clock
    lines = [*clock.frame, *clock.glass, *clock.both]
    assert all(f"{clock.at(each.offset)} " in told for each in lines)
    assert f"LAST PRESS {clock.at(clock.last_press)} ABORT {clock.at(clock.abort)}" in told
    for row in facts.rows:
        assert all(f" {tick.mark} " in told for tick in row.ticks)
    for day in (facts.days.move, facts.days.backfill, facts.days.hose):
        assert day is None or f" day {day} " in told or facts.days.too_early
    assert told.count(" gap ") >= 8 and told.count(" flush ") >= 8
    found = re.search(r'class="verdict (\w+)".*?<strong id="verdict-head">([^<]*)<', page_of(name).decode())
    barred = bool(state.not_for_manufacture)
    assert found.groups() == (("stop", "NOT FOR MANUFACTURE: DO NOT FIT") if barred else ("wait", "NOT READ"))


def test_no_word_of_a_job_gets_out_of_its_place():
    """A name with markup in it, and one that would end the data, are words on the page."""
    page = page_of("markup").decode()
    assert "<b>bold" not in page and "alert(1)</script>" not in page
    values = re.search(r'<script type="application/json" id="values">(.*?)</script>', page, re.S)[1]
    assert json.loads(values)["record"]["code"] == "P1"
    assert "<b>bold</b> & </script><script>alert(1)</script>" in words_of(page)
