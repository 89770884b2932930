"""The as-fitted revision of one pane: what was used, read and done, what it comes to, and what nobody wrote down; a page and its data.

Terms
-----
as-fitted revision
    The pane of one revision as it stands in the boat: the record of its bonding with the verdicts, no figure that was only planned.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from geometry.recorded.outcomes import Outcome
from geometry.recorded.record_fields import PRODUCTS, FieldGroup
from geometry.recorded.record_findings import RecordState, limits_words
from geometry.recorded.record_values import value_words
from outputs.record.data import json_text, plain
from outputs.record.markup import AsItIs, Html, items, join, page, section, table, tag
from outputs.record.pane_page import cautions, issue_line
from outputs.record.words import AN_AID
from outputs.version import IDENTITY, PROGRAM

if TYPE_CHECKING:
    from geometry.recorded.outcomes import RecordFinding
    from geometry.recorded.record_fields import RecordField
    from geometry.recorded.record_findings import JudgedRecord

AS_FITTED = "as-fitted revision"
AS_FITTED_SCHEMA = 1
CLASS = {
    Outcome.FAIL: "fail",
    Outcome.LOOK: "look",
    Outcome.NOT_RECORDED: "open",
    Outcome.NO_LIMIT: "open",
    Outcome.PASS: "pass",
}
STATE_CLASS = {
    RecordState.WRONG_PAPER: "fail",
    RecordState.OUTSIDE: "fail",
    RecordState.NOT_FULLY: "open",
    RecordState.DEVIATIONS: "look",
    RecordState.AS_DRAWN: "pass",
    RecordState.NO_RECORD: "open",
}
TITLES = {
    FieldGroup.DAY: "Days",
    FieldGroup.GOODS_IN: "Goods in",
    FieldGroup.FRIT: "Width of the print",
    FieldGroup.CLIMATE: "Climate",
    FieldGroup.TIMES: "Times",
    FieldGroup.GAPS: "Gap and flush",
    FieldGroup.TEAR_TEST: "Tear test",
    FieldGroup.PHOTOS: "Photographs",
    FieldGroup.NAMES: "Names",
}


def as_fitted_stem(judged: JudgedRecord) -> str:
    """How the files of a fitted pane begin: its number stands in them where the order is of several."""
    pane = judged.check.subject.pane
    return f"{pane.file_stem}-{judged.record.piece}" if pane.quantity > 1 else pane.file_stem


def as_fitted_name(judged: JudgedRecord) -> str:
    """The as-fitted revision in words: ``A, as fitted 2026-05-04``."""
    bonded = judged.record.bonded
    day = f"as fitted {bonded.isoformat()}" if bonded else "as fitted, day not recorded"
    return ", ".join(part for part in (judged.check.subject.pane.revision, day) if part)


def tally(judged: JudgedRecord) -> str:
    """How many entries and what follows from them came out which way."""
    counts = [(len(judged.of(outcome)), outcome.value) for outcome in Outcome]
    return ", ".join(f"{count} {name}" for count, name in counts if count)


def as_fitted_data(judged: JudgedRecord) -> dict[str, Any]:
    """Everything that a fitted pane's record says, for a machine; the same values as on page and terminal."""
    check, record = judged.check, judged.record
    return {
        "code": record.code,
        "piece": record.piece,
        "name": check.subject.pane.name,
        "revision": check.subject.pane.revision,
        "as_fitted": as_fitted_name(judged),
        "mark": check.mark,
        "paper": {"file": record.file, "revision": record.revision, "mark": record.mark},
        "state": judged.state.value,
        "state_of_the_checks": check.state.told,
        "bonded": plain(record.bonded),
        "counts": {outcome.value: len(judged.of(outcome)) for outcome in Outcome},
        "entries": {field.id: _entry(field, judged) for field in judged.fields if field.id in record.entries},
        "findings": [finding_entry(finding) for finding in judged.findings],
    }


def finding_entry(finding: RecordFinding) -> dict[str, Any]:
    """One finding as plain data."""
    return {
        "name": finding.name,
        "outcome": finding.outcome.value,
        "group": "paper" if finding.group is None else finding.group.value,
        "fields": list(finding.fields),
        "value": plain(finding.value),
        "least": plain(finding.least),
        "most": plain(finding.most),
        "unit": finding.unit or None,
        "says": finding.says,
    }


def _entry(field: RecordField, judged: JudgedRecord) -> Any:
    value = judged.record.entries[field.id]
    return plain(value) if isinstance(value, (float, bool)) else value_words(field, value)


def as_fitted_json(judged: JudgedRecord) -> bytes:
    """The data file."""
    head = {"schema": AS_FITTED_SCHEMA, "kind": AS_FITTED, "program": IDENTITY}
    return (json_text({**head, **as_fitted_data(judged)}) + "\n").encode("utf-8")


def as_fitted_page(judged: JudgedRecord) -> bytes:
    """The page; the same record gives the same bytes."""
    pane, job = judged.check.subject.pane, judged.check.subject.job
    title = " ".join(part for part in (pane.code, pane.name) if part)
    several = f", pane {judged.record.piece} of {pane.quantity}" if pane.quantity > 1 else ""
    running = " · ".join(("As-fitted revision", pane.code, as_fitted_name(judged), f"mark {judged.check.mark}"))
    return page(
        f"As-fitted revision: {title}",
        tag("header", tag("h1", f"As-fitted revision: {title}{several}"), issue_line(job)),
        "\n",
        tag(
            "main",
            _state(judged),
            "\n",
            section("What is not as drawn", _deviations(judged), id_="deviations"),
            "\n",
            section("Not recorded", _open(judged), id_="not-recorded"),
            "\n",
            section("What was used", _used(judged), id_="used"),
            "\n",
            section("What was read and done", *(_group(judged, group) for group in TITLES), id_="read"),
            "\n",
            cautions(),
        ),
        tag("footer", tag("p", f"{PROGRAM}. {AN_AID}", class_="small")),
        running=running,
    )


def outcome_mark(outcome: Outcome) -> Html:
    """The outcome as a word in a box."""
    return tag("span", outcome.value.upper(), class_=f"verdict {CLASS[outcome]}")


def _state(judged: JudgedRecord) -> Html:
    record, check = judged.record, judged.check
    facts = (
        ("Revision", as_fitted_name(judged)),
        ("Mark of the job", check.mark),
        (
            "Record",
            f"{record.file.replace(chr(92), '/').rpartition('/')[2]}, of revision {record.revision or 'none'}, mark {record.mark or 'none'}",
        ),
        ("State of the checks", check.state.told),
        ("Bonded by", record.text("name.bonded") or "not recorded"),
        ("Checked by", record.text("name.checked") or "not recorded"),
        ("Signed by", record.text("signature.name") or "not recorded"),
        ("Signed on", str(record.date("signature.date") or "not recorded")),
    )
    cells = [join(tag("span", name, class_="field"), tag("br"), AsItIs(value)) for name, value in facts]
    rows = [cells[at : at + 4] for at in range(0, len(cells), 4)]
    body = tag("tbody", (tag("tr", (tag("td", cell) for cell in row)) for row in rows))
    return section(
        "State of the bonding",
        tag("p", tag("b", judged.state.value.upper(), class_=f"state {STATE_CLASS[judged.state]}"), f" {tally(judged)}."),
        tag("table", body, class_="facts"),
        id_="state",
    )


def _deviations(judged: JudgedRecord) -> Html:
    if not judged.deviations:
        return tag("p", "Nothing that was recorded lies outside the pane's limits or differs from the drawing.")
    rows = [(outcome_mark(each.outcome), each.name, _says(each)) for each in judged.deviations]
    return table("What fails first, then what a person decides", ("outcome", "what", "found"), rows)


def _says(finding: RecordFinding) -> str:
    """What a finding says with the page's decimal sign; what somebody typed stays as it is."""
    return AsItIs(finding.says) if finding.group in (None, FieldGroup.LOTS, FieldGroup.NAMES) else finding.says


def _open(judged: JudgedRecord) -> Html:
    found = judged.of(Outcome.NOT_RECORDED)
    if not found:
        return tag("p", "Nothing: every entry that is needed was written down.")
    return tag("div", items(_said(each) for each in found), class_="small-columns")


def _said(finding: RecordFinding) -> str:
    return finding.name if finding.says == Outcome.NOT_RECORDED.value else f"{finding.name}: {finding.says}"


def _used(judged: JudgedRecord) -> Html:
    record = judged.record
    rows = []
    for key, words in PRODUCTS:
        expiry = record.date(f"{key}.expiry")
        cells = (record.text(f"{key}.product"), record.text(f"{key}.lot"), expiry.isoformat() if expiry else "")
        rows.append((words, *(AsItIs(cell or "not recorded") for cell in cells)))
    return table("As it stands on the packs, typed by those who used it", ("product", "name on the pack", "lot", "use by"), rows)


def _group(judged: JudgedRecord, group: FieldGroup) -> Html | None:
    """The entries of a group with their limits, then what follows from them."""
    by_field = {finding.fields: finding for finding in judged.findings if len(finding.fields) == 1}
    rows: list[tuple[Any, ...]] = []
    for field in judged.fields:
        value = judged.record.entries.get(field.id)
        if field.group is not group or value is None:
            continue
        finding = by_field.get((field.id,))
        has_limits = field.least is not None or field.most is not None
        mark = outcome_mark(finding.outcome) if finding is not None else ""
        told = value_words(field, value)
        shown = AsItIs(told) if isinstance(value, str) else told
        rows.append((field.words, shown, field.unit, limits_words(field) if has_limits else "", mark))
    rows += [
        (finding.name, _says(finding), "", "", outcome_mark(finding.outcome))
        for finding in judged.findings
        if finding.group is group and len(finding.fields) > 1 and finding.outcome is not Outcome.NOT_RECORDED
    ]
    if not rows:
        return None
    return table(TITLES[group], ("what", "recorded", "unit", "limits", "outcome"), rows)


__all__ = [
    "AS_FITTED", "AS_FITTED_SCHEMA", "STATE_CLASS", "as_fitted_data", "as_fitted_json", "as_fitted_name", "as_fitted_page", "as_fitted_stem",
    "finding_entry", "outcome_mark", "tally",
]  # fmt: skip
