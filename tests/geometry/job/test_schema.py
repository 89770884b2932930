"""The JSON Schema of the job file, held against every sample by the jsonschema library and against the reader itself."""

from __future__ import annotations

import copy
import datetime
import json
import tomllib
from pathlib import Path

import jsonschema
import pytest

from geometry.job import Job, JobError, job_of
from geometry.job.keys import all_keys
from geometry.job.schema import as_json, job_schema

ROOT = Path(__file__).resolve().parents[3]
SAMPLES = sorted(path for path in (ROOT / "samples").glob("*.toml") if path.name != "office.toml")
GOOD = """\
[[pane]]
code = "P1"
frame = "aluminium"
glass = { plies = [8] }
outline = { rectangle = [900, 450], radius = 50 }
"""


@pytest.fixture(scope="module")
def judge():
    schema = Job.model_json_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def as_data(text):
    """TOML as JSON would carry it: dates and times as texts."""
    return json.loads(json.dumps(tomllib.loads(text), default=lambda value: value.isoformat()))


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.name)
def test_every_sample_holds(judge, sample):
    assert list(judge.iter_errors(as_data(sample.read_text(encoding="utf-8")))) == []


TAKEN = [
    'bond = { width = "0.6 in", thickness = "3/4 in", set_back = "1 1/2 in", notch_height = "20 MM" }',
    'pressure = { outward = 3, inward = "0.002 N/mm²" }',
    "frame = { material = 'steel', expansion = 11e-6 }",
    "outline = { circle = 400 }",
    "outline = { path = [[0, 0], [800, 0, 0.4], [900, 400], [0, 400]] }",
    'outline = { polygon = [[0, 0], ["800 mm", 0], [0, 400]], radius = [1, 2, 3] }',
    "revisions = [{ letter = 'A', date = 2026-01-12, what = 'First issue' }]",
    "work = { start = 07:30:00, people = 3 }",
    "temperatures = { cases = { dock = { frame = 65, glass = 60 } } }",
    "limits = { bond_widths = [10, 12] }",
    "glass = { plies = [6, 6], interlayers = [1.52] }",
]
REFUSED = [
    "bond = { widht = 15 }",
    "bond = { width = '15' }",
    "bond = { width = '15 kPa' }",
    "bond = { width = true }",
    "bond = { width = -1 }",
    "bond = 15",
    "frame = 'bronze'",
    "frame = {}",
    "outline = { rectangle = [900, 450], circle = 300 }",
    "outline = { circle = 300, radius = 5 }",
    "outline = {}",
    "outline = { rectangle = [900] }",
    "outline = { path = [[0, 0, 0, 0], [800, 0], [900, 400]] }",
    "glass = { plies = [] }",
    "quantity = 1.5",
    "quantity = 0",
    "name = 7",
    "load_bearing = 'true'",
    "side = 'left'",
    "rake = 91",
    "revisions = [{ date = 2026-01-12 }]",
    "code = 'a/b'",
    "work = { start = '8 am' }",
]


def changed(line):
    """The good job with one line of its pane typed anew."""
    key = line.split(" = ")[0]
    kept = [old for old in GOOD.splitlines() if not old.startswith(f"{key} = ")]
    return "\n".join([*kept, line, ""])


@pytest.mark.parametrize("line", TAKEN)
def test_what_the_reader_takes_holds(judge, line):
    job_of(changed(line))
    assert list(judge.iter_errors(as_data(changed(line)))) == []


@pytest.mark.parametrize("line", REFUSED)
def test_what_the_schema_refuses_is_refused_by_the_reader_too(judge, line):
    assert not judge.is_valid(as_data(changed(line)))
    with pytest.raises(JobError):
        job_of(changed(line))


@pytest.mark.parametrize(
    "table", ["[vessel]\nlaunch = 'soon'\n", "[layers]\nGLAS = 'X'\n", "[sheet]\nsize = 'A5'\n", "[adhesiv]\n", ""]
)
def test_what_is_wrong_with_the_whole_file(judge, table):
    text = table + GOOD if table else "[vessel]\nname = 'no pane'\n"
    assert not judge.is_valid(as_data(text))
    with pytest.raises(JobError):
        job_of(text)


def fields(schema, part, path=""):
    """Every key of a schema with its own fragment."""
    part = schema["$defs"][part["$ref"].rsplit("/", 1)[1]] if "$ref" in part else part
    for form in [part, *part.get("anyOf", [])]:
        form = schema["$defs"][form["$ref"].rsplit("/", 1)[1]] if "$ref" in form else form
        for name, inner in form.get("properties", {}).items():
            key = f"{path}.{name}".lstrip(".")
            yield key, inner
            if key.endswith("cases"):
                yield from fields(schema, inner["additionalProperties"], f"{key}.<name>")
            yield from fields(schema, inner, key)
            if "items" in inner:
                yield from fields(schema, inner["items"], key)


def test_the_schema_tells_of_every_key_what_the_page_of_keys_tells():
    schema = job_schema()
    told = {}
    for key, part in fields(schema, schema):
        told.setdefault(key, part)
    for key in all_keys():
        part = told[key.name]
        assert part.get("description"), key.name
        if key.unit:
            assert part["x-unit"] == key.unit, key.name
        if "default" in part and key.default not in ("none", "required"):
            value = part["default"]
            shown = str(value).lower() if isinstance(value, bool) else f"{value:g}" if isinstance(value, float) else value
            assert isinstance(value, list) or str(shown) == key.default, key.name


def test_no_table_takes_an_unknown_key_and_nothing_is_null():
    schema = job_schema()
    tables = [part for part in walk(schema) if "properties" in part and "type" in part]
    assert len(tables) > 25 and all(part["additionalProperties"] is False for part in tables)
    assert not any(part.get("type") == "null" or ("default" in part and part["default"] is None) for part in walk(schema))


def walk(part):
    if isinstance(part, dict):
        yield part
        for inner in part.values():
            yield from walk(inner)
    elif isinstance(part, list):
        for inner in part:
            yield from walk(inner)


def test_the_text_is_the_schema_and_the_same_each_time():
    assert json.loads(as_json()) == job_schema() == copy.deepcopy(job_schema())
    assert as_json() == as_json()


def test_dates_and_times_are_texts_in_json():
    assert as_data("day = 2026-03-02\nhour = 08:00:00\n") == {
        "day": datetime.date(2026, 3, 2).isoformat(),
        "hour": datetime.time(8).isoformat(),
    }
