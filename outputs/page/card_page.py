"""The fitter's card of one pane as a page: one file for a phone, that needs nothing from outside and works without a network.

Terms
-----
alone
    What the page may fetch is nothing, and of style and script it runs those two that stand in it, known by their hashes.
values
    Data of the page for its script, as JSON in the page.
"""

from __future__ import annotations

import base64
import hashlib
import json
from pathlib import Path
from typing import TYPE_CHECKING

from geometry.recorded.record_fields import record_fields
from geometry.workings.on_the_day import on_the_day
from outputs.drawing.card_facts import facts_of
from outputs.page.page_clock import clock
from outputs.page.page_entries import climate, gaps, records
from outputs.page.page_sections import before_start, days, foot, head, looks, save, where
from outputs.page.page_values import page_values
from outputs.record.data import plain
from outputs.record.markup import AsItIs, Html, escaped, tag
from outputs.sheets.letters import CARD
from outputs.sheets.title import identification

if TYPE_CHECKING:
    from outputs.sheets.contents import Contents

_STYLE, _SCRIPT = (Path(__file__).with_name(f"card_page.{ending}") for ending in ("css", "js"))
_MARKUP = {"<": "\\u003c", ">": "\\u003e", "&": "\\u0026", "\u2028": "\\u2028", "\u2029": "\\u2029"}


def card_page(contents: Contents) -> bytes:
    """The page, UTF-8; the same contents give the same bytes. Raises ``ValueError`` where the pane was not checked."""
    check = contents.check
    if check is None or check.time_plan is None:
        raise ValueError("a fitter's card is made of the checks of its pane; none were made")
    facts, fields, day = facts_of(check), record_fields(check), on_the_day(check.subject, check.time_plan)
    style, script = _STYLE.read_text("utf-8"), _SCRIPT.read_text("utf-8")
    code, revision = contents.detail.code, contents.detail.revision
    title = f"{code}{f' rev {revision}' if revision else ''}, fitter's card"
    values = json.dumps(plain(page_values(check)), ensure_ascii=False, separators=(",", ":"))
    body = tag(
        "body",
        head(check, facts),
        looks(),
        tag(
            "main",
            before_start(check, facts, day, identification(contents, CARD)),
            climate(fields),
            clock(check, facts, day),
            where(check, facts),
            gaps(check, facts, fields),
            records(fields),
            days(facts),
            save(),
        ),
        foot(),
        tag("script", Html("".join(_MARKUP.get(each, each) for each in values)), type="application/json", id="values"),
        tag("script", Html(script)),
    )
    policy = f"default-src 'none'; style-src {_hashed(style)}; script-src {_hashed(script)}; base-uri 'none'; form-action 'none'"
    top = tag(
        "head",
        tag("meta", charset="utf-8"),
        tag("meta", http_equiv="Content-Security-Policy", content=policy),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("meta", name="format-detection", content="telephone=no"),
        tag("title", escaped(AsItIs(title))),
        tag("style", Html(style)),
    )
    return f"<!DOCTYPE html>\n{tag('html', top, Html(chr(10)), body, lang='en')}\n".encode()


def _hashed(text: str) -> str:
    """The hash by which a policy knows a style or script."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode('ascii')}'"


__all__ = ["card_page"]
