"""Files of records: every kind reads the same, every slip is one fault with file and field, and no file at all ends in a traceback."""

from __future__ import annotations

import csv
import datetime
import io
import json
from functools import cache

import pytest
from good_records import document, good_entries
from hypothesis import given
from hypothesis import strategies as st

from geometry.findings.check import check_pane
from geometry.job import job_of
from geometry.recorded.bonding_record import record_of
from geometry.recorded.record_fields import record_fields
from geometry.recorded.record_reading import found_records

JOB = """
[[pane]]
code = "007"
revision = "B"
frame = "aluminium"
glass = { plies = [6, 6], interlayers = [1.52] }
outline = { rectangle = [1200, 600], radius = 60 }
joint = { width = 6 }
bond = { width = 15, thickness = 5, set_back = 8 }
quantity = 2
"""


@cache
def checked():
    job = job_of(JOB)
    return check_pane(job, job.panes[0])


@cache
def fields():
    return record_fields(checked())


def read(path):
    """The entries of a file, held to the fields of the pane, and every fault."""
    found = found_records([str(path)])
    if found.faults:
        return None, found.faults
    return record_of(found.records[0], fields())


def saved(folder, name, data):
    path = folder / name
    path.write_bytes(data if isinstance(data, bytes) else data.encode("utf-8"))
    return path


def as_csv(entries, sign=",", decimal="."):
    target = io.StringIO()
    writer = csv.writer(target, delimiter=sign)
    writer.writerow(["field", "value", "unit"])
    for name, value in {"code": "007", "revision": "B", "mark": checked().mark, **entries}.items():
        writer.writerow([name, str(value).replace(".", decimal) if isinstance(value, float) else value, ""])
    return target.getvalue()


def as_toml(entries):
    lines = ['code = "007"', 'revision = "B"', f'mark = "{checked().mark}"']
    return "\n".join([*lines, *(f"{name} = {json.dumps(value)}" for name, value in entries.items())])


def test_every_kind_of_file_gives_the_same_record(tmp_path):
    entries = good_entries(checked())
    entries["adhesive.lot"], entries["photo.1"] = "1E2", "0012"
    files = (
        saved(tmp_path, "a.json", json.dumps(document(checked(), entries))),
        saved(tmp_path, "b.csv", as_csv(entries)),
        saved(tmp_path, "c.csv", "\ufeff" + as_csv(entries, ";", ",")),
        saved(tmp_path, "d.csv", as_csv(entries, "\t")),
        saved(tmp_path, "e.toml", as_toml(entries)),
    )
    records = [read(path) for path in files]
    assert not any(faults for _, faults in records)
    first = records[0][0].entries
    assert set(first) == {field.id for field in record_fields(checked()) if field.needed}
    assert (first["adhesive.lot"], first["photo.1"]) == ("1E2", "0012")
    assert first["adhesive.expiry"] == datetime.date(2027, 1, 31)
    for record, _ in records:
        assert dict(record.entries) == dict(first) and record.mark == checked().mark


def test_a_table_of_toml_and_its_own_dates_and_times(tmp_path):
    text = 'code = "007"\nrevision = "B"\nmark = "X"\nbonding.date = 2026-05-04\nstep.both_bead.at = 09:30:00\n[gap]\n1 = 6.1\n'
    record, faults = read(saved(tmp_path, "a.toml", text))
    assert not faults and record.number("gap.1") == 6.1
    assert record.bonded == datetime.date(2026, 5, 4) and record.minute("step.both_bead.at") == 570


def test_stamps_of_the_page_stand_where_nothing_was_typed(tmp_path):
    """The last stamp of a step, its day the day of bonding; what was typed comes first."""
    taps = [
        {"step": "both_bead", "at": "2026-05-04T23:50:00"},
        {"step": "both_lift", "at": "2026-05-05T00:01:30"},
        {"step": "both_lift", "at": "2026-05-05T00:02:30"},
        {"step": "last_press", "at": "2026-05-05T00:09:00"},
    ]
    told = document(checked(), {"step.last_press.at": "00:10 +1"}) | {"taps": taps}
    record, faults = read(saved(tmp_path, "a.json", json.dumps(told)))
    assert not faults and record.bonded == datetime.date(2026, 5, 4)
    assert [record.minute(f"step.{step}.at") for step in ("both_bead", "both_lift", "last_press")] == [1430, 1442.5, 1450]
    assert record.repeated == ("step.both_lift.at",)


SLIPS = {
    "gap.9": (6, "there is no such field"),
    "gap.1": (850, "found 850"),
    "gap.2": ("6.1 cm", 'found "6.1 cm"'),
    "flush.1": (True, "found true"),
    "frit.1": ([1], "found [1]"),
    "climate.1.humidity": (101, "found 101"),
    "climate.2.air": ("nan", 'found "nan"'),
    "climate.1.time": ("25:00", 'found "25:00"'),
    "step.both_bead.at": ("2026-05-04T09:47:10Z", 'found "2026-05-04T09:47:10Z"'),
    "bonding.date": ("04.05.2026", 'found "04.05.2026"'),
    "adhesive.expiry": ("2026-13", 'found "2026-13"'),
    "sealant.lot": (1e2, "found 100.0"),
    "goods_in.width_top": (1400, "found 1400"),
    "goods_in.printed_face": ("5", 'found "5"'),
    "goods_in.edges": ("maybe", 'found "maybe"'),
    "tear_test.result": ("fine", 'found "fine"'),
    "piece.number": (3, "found 3"),
}


def test_every_slip_is_one_fault_with_file_and_field(tmp_path):
    path = saved(tmp_path, "a.json", json.dumps(document(checked(), {name: value for name, (value, _) in SLIPS.items()})))
    _, faults = read(path)
    assert {fault.field: fault.found for fault in faults} == {name: found for name, (_, found) in SLIPS.items()}
    assert all(fault.file == str(path) and fault.allowed for fault in faults)
    assert all(str(fault).startswith(f"{path}: {fault.field}: found") for fault in faults if fault.field != "gap.9")
    nearest = next(fault.allowed for fault in faults if fault.field == "gap.9")
    assert "gap." in nearest


@pytest.mark.parametrize(
    ("name", "data", "said"),
    [
        ("a.json", "{", "this is no JSON"),
        ("a.json", "[" * 100_000, "cannot be read"),
        ("a.json", '{"kind": "as-fitted revision"}', "does not say that it is a bonding record"),
        ("a.json", '{"kind": "bonding record", "schema": 2}', "another form"),
        (
            "a.json",
            '{"kind": "bonding record", "schema": 1, "code": "007", "entries": {"gap.1": 1, "gap.1": 2}}',
            "more than once",
        ),
        ("a.json", '{"kind": "bonding record", "schema": 1, "code": "007", "entries": []}', "found no table"),
        ("a.json", '{"kind": "bonding record", "schema": 1, "code": 7, "entries": {"gap.1": 1}}', "no short text"),
        ("a.json", '{"kind": "bonding record", "schema": 1, "entries": {"gap.1": 1}}', "must be given and is missing"),
        ("a.json", '{"kind": "bonding record", "schema": 1, "code": "007", "entries": {}}', "nothing is filled in"),
        ("a.json", '{"kind": "bonding record", "schema": 1, "code": "007", "taps": [1]}', "tap 1"),
        ("a.toml", "code = ", "this is no TOML"),
        ("a.toml", 'gap.1 = 6\n"gap.1" = 7', "does not say of which pane"),
        ("a.toml", 'code = "007"\ngap.1 = 6\n"gap.1" = 7', "more than once"),
        ("a.csv", "code,007\ngap.1,6\ngap.1,7\n", "more than once"),
        ("a.csv", "code,007\ngap.1\n", "one cell"),
        ("a.csv", "code,007\ngap.1,4,8\n", 'found "8" behind "4"'),
        ("a.csv", "field;value\ncode;007\ngap.1;4;8\n", 'found "8" behind "4"'),
        ("a.csv", "gap.1,6\n", "does not say of which pane"),
        ("a.csv", b"code,007\ngap.1,\xff\n", "not UTF-8"),
        ("a.pdf", b"%PDF-1.7\nnothing", "cannot be read"),
        ("a.txt", "code", "ends in .txt"),
        ("a.json", "", "is empty"),
    ],
)
def test_a_file_that_is_no_record_is_refused_in_one_sentence(tmp_path, name, data, said):
    found = found_records([str(saved(tmp_path, name, data))])
    assert len(found.faults) == 1 and said in str(found.faults[0]), found.faults


def test_a_column_that_has_a_head_may_stand_beside_the_value(tmp_path):
    path = saved(tmp_path, "a.csv", "field;value;limit;\ncode;007;;\ngap.1;4,8;at least 4;\n")
    (record,) = found_records([str(path)]).records
    assert record.entries == {"gap.1": "4,8"}


def test_an_id_of_signs_that_no_terminal_shows_is_told_in_one_line(tmp_path):
    told = document(checked(), {"gap.1\n\x1b[2J\x00": 5})
    _, (fault,) = read(saved(tmp_path, "a.json", json.dumps(told)))
    assert str(fault).isprintable() and "gap.1??[2J?" in str(fault)


def test_of_a_folder_what_is_no_record_is_passed_over_and_named(tmp_path):
    entries = {"gap.1": 6}
    saved(tmp_path, "b.json", json.dumps(document(checked(), entries)))
    for name, data in (
        ("a-as-fitted.json", '{"kind": "as-fitted revision"}'),
        ("blank.csv", as_csv({"gap.1": ""})),
        ("list.csv", "pane,name\nX,Y\n"),
        ("photo.png", "x"),
    ):
        saved(tmp_path, name, data)
    found = found_records([str(tmp_path)])
    assert not found.faults and [each.code for each in found.records] == ["007"]
    assert [name.rpartition("/")[2] for name in found.passed_over] == ["a-as-fitted.json", "blank.csv", "list.csv"]
    empty = tmp_path / "empty"
    empty.mkdir()
    assert "no bonding record is in it" in str(found_records([str(empty)]).faults[0])
    assert "there is no file" in str(found_records([str(tmp_path / "gone.json")]).faults[0])


PLAIN = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.floats(),
    st.text(max_size=40),
    st.lists(st.integers(), max_size=2),
    st.dates().map(str),
)


@given(
    entries=st.dictionaries(
        st.one_of(st.sampled_from([*SLIPS, "notes", "name.bonded", "climate.3.time"]), st.text(max_size=12)), PLAIN, max_size=6
    )
)
def test_any_value_is_an_entry_or_a_fault(entries):
    """Whatever stands in a file: a value of the field's kind, nothing, or one fault."""
    from geometry.recorded.record_reading import FoundRecord

    record, faults = record_of(FoundRecord("f", "007", "B", "m", entries), fields())
    wrong = {fault.field for fault in faults}
    known = {field.id for field in fields()}
    assert set(record.entries) <= set(entries) & known | {"bonding.date"}
    assert not wrong & (set(record.entries) - {"bonding.date"})
    assert {name[:60] for name in entries if name not in known} <= wrong


@given(data=st.binary(max_size=300), ending=st.sampled_from([".json", ".toml", ".csv", ".pdf"]))
def test_any_bytes_are_a_record_or_a_fault(tmp_path_factory, data, ending):
    path = tmp_path_factory.getbasetemp() / f"fuzz{ending}"
    heads = {
        ".json": b'{"kind": "bonding record", "schema": 1, "code": "007", "entries": {',
        ".toml": b'code = "007"\n',
        ".csv": b"code,7\n",
    }
    for head in (b"", heads.get(ending, b"%PDF-1.7\n")):
        path.write_bytes(head + data)
        found = found_records([str(path)])
        assert len(found.records) + len(found.faults) == 1
