"""``fritline keys``: the page of keys, the search and the schema, as a user types them."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

from outputs.command_line import main

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def keys(capsys):
    def run(*arguments: str) -> tuple[int, str, str]:
        with pytest.raises(SystemExit) as left:
            main(["keys", *arguments])
        out, err = capsys.readouterr()
        return int(left.value.code or 0), out, err

    return run


def test_without_a_word_it_prints_the_page_in_the_samples(keys):
    code, out, _ = keys()
    assert code == 0 and out == (ROOT / "samples" / "keys.md").read_text(encoding="utf-8")


def test_a_word_is_looked_for_in_names_and_meanings(keys):
    _, out, _ = keys("fillet")
    assert [row.split("`")[1] for row in out.splitlines()[2:]] == ["pane.recess.fillet"]
    _, out, _ = keys("Set-Back")
    assert "`pane.bond.set_back`" in out and "`limits.set_back_most`" in out
    _, out, _ = keys("backfill", "chock")
    assert "`limits.chock_backfill_least`" in out and "`pane.joint.backfill_depth`" not in out


def test_a_word_that_is_not_there_is_told_with_words_near_it(keys):
    code, out, err = keys("chocck")
    assert (code, err) == (0, "") and "no key" in out and "chocck" in out and "chock" in out.split("near it: ")[1]
    _, out, _ = keys("\x1b[31m" + "x" * 3000)
    assert out.strip().isprintable() and len(out) < 200


def test_the_schema_is_one_that_a_judge_of_schemas_takes(keys):
    code, out, _ = keys("--json-schema")
    schema = json.loads(out)
    jsonschema.Draft202012Validator.check_schema(schema)
    assert code == 0 and schema["anyOf"] == [{"required": ["pane"]}, {"required": ["panes"]}], "typed panes, or a schedule"
    code, _, err = keys("--json-schema", "bond")
    assert code == 2 and "printed whole" in err
