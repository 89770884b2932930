"""The table of keys, the samples and the documentation agree with the model."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from geometry.job import Job, read_job
from geometry.job.keys import SHARED_AGAIN, SHARED_OF_THE_PANE, all_keys, as_markdown

ROOT = Path(__file__).resolve().parents[3]
SAMPLES = sorted(path for path in (ROOT / "samples").glob("*.toml") if path.name != "office.toml")  # no job: a job names it


def declared() -> set[str]:
    """Every dotted key of the model, walked by its annotations."""
    from pydantic import BaseModel

    found = set()

    def tables(annotation):
        if isinstance(annotation, type) and issubclass(annotation, BaseModel):
            yield annotation
        for inner in getattr(annotation, "__args__", ()):
            yield from tables(inner)

    def walk(model, path):
        for name, field in model.model_fields.items():
            key = ".".join(filter(None, (path, field.alias or name)))
            found.add(key)
            for table in tables(field.annotation):
                walk(table, f"{key}.<name>" if key.endswith("cases") else key)

    walk(Job, "")
    return found


def test_every_key_of_the_model_is_in_the_table_and_no_other():
    listed = {key.name for key in all_keys()}
    assert len(listed) == len(all_keys())
    model = declared()
    assert listed <= model
    for key in model - listed:  # what the table does not list by itself is covered by a line that says so
        own_outline = re.match(r"pane\.(recess|frit|made)\.outline\.", key)
        shared = key.startswith(tuple(f"pane.{name}." for name in SHARED_AGAIN))
        own_keys = re.match(rf"(?:type|{'|'.join(SHARED_OF_THE_PANE)})\.", key)  # told once, in the pane
        heading = any(other.startswith(f"{key}.") for other in listed)
        assert own_outline or shared or own_keys or heading, key


def test_the_table_says_what_each_key_means_and_every_measure_has_its_unit():
    rows = as_markdown().splitlines()
    assert rows[0] == "| key | unit | default | meaning |"
    assert len(rows) == len(all_keys()) + 2
    for key in all_keys():
        assert key.meaning, key.name
        assert key.default, key.name
    units = {key.name: key.unit for key in all_keys()}
    assert units["adhesive.design_tension"] == "MPa"
    assert units["pane.pressure.inward"] == "kPa"
    assert units["pane.bond.width"] == "mm"
    assert units["pane.glass.plies"] == "mm"
    assert units["vessel.hull_length"] == "m"


def test_the_page_of_keys_is_the_table():
    assert (ROOT / "samples" / "keys.md").read_text(encoding="utf-8") == as_markdown()


def keys_used(value, path=""):
    if isinstance(value, list) and value and isinstance(value[0], dict):
        for inner in value:
            yield from keys_used(inner, path)
    elif isinstance(value, dict) and path != "layers":
        for name, inner in value.items():
            step = "<name>" if path == "temperatures.cases" else name
            key = f"{path}.{step}" if path else step
            yield key
            yield from keys_used(inner, key)


def test_one_sample_uses_every_key():
    used = set(keys_used(tomllib.loads((ROOT / "samples" / "every-key.toml").read_text(encoding="utf-8"))))
    not_yet = {"pane.outline.survey"}  # no sample until surveys are read
    assert {key.name for key in all_keys()} - not_yet <= used


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.name)
def test_every_sample_is_a_good_job(sample):
    assert read_job(sample).panes
    assert "invented" in sample.read_text(encoding="utf-8")


def test_the_least_sample_is_short():
    rows = (ROOT / "samples" / "minimal.toml").read_text(encoding="utf-8").splitlines()
    assert len(rows) < 15


def test_the_vessel_of_ten_panes():
    job = read_job(ROOT / "samples" / "sallow-wren.toml")
    assert [pane.code for pane in job.panes] == [f"SW-{number:02}" for number in range(1, 11)]
