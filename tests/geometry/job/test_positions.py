"""Every key is found on its line, checked against where its value stands in the text."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.job import JobError, job_of
from geometry.job.positions import key_lines

ROOT = Path(__file__).resolve().parents[3]

# keys as TOML may spell them, and texts that could mislead a scanner: brackets, quotes, signs of equality and of comments
KEYS = ["a", "b-c", "d_1", '"x y"', "'q]'", '"e\\"[="', '"caf\\u00e9"', "7"]
COMMENTS = ["", "  # [[no]] table = { 'x", '\t# """ not a text', " #"]
TEXTS = [
    '"]"',
    "'# no'",
    '"""one\n[two]\n# three = 3"""',
    "'''\nk = 1\n'''",
    '"a \\" b"',
    '"""x \\""" y""""',
    "1979-05-27 07:32:00",
    "-1e9",
]


@st.composite
def documents(draw):
    """A valid TOML text in which every whole number occurs once, so that the text itself tells where each stands."""
    count = 1_000_000

    def number() -> str:
        nonlocal count
        count += 1
        return str(count)

    def value(depth: int, inline: bool) -> str:
        kind = draw(st.sampled_from(["number", "number", "text", "list", "table"] if depth < 3 else ["number"]))
        if kind == "text":
            return draw(st.sampled_from([t for t in TEXTS if not inline or "\n" not in t]))
        if kind == "list":
            gap = " " if inline else draw(st.sampled_from([" ", "\n", "\n  # ] }\n", "\r\n"]))
            parts = [value(depth + 1, inline) for _ in range(draw(st.integers(0, 3)))]
            return "[" + gap + ("," + gap).join(parts) + (("," if draw(st.booleans()) else "") + gap if parts else "") + "]"
        if kind == "table":
            names = draw(st.lists(st.sampled_from(KEYS), unique=True, max_size=3))
            return "{" + ", ".join(f"{name} = {value(depth + 1, True)}" for name in names) + "}"
        return number()

    def pairs() -> str:
        names = draw(st.lists(st.sampled_from(KEYS), unique=True, max_size=3))
        spelled = [f"{name} . {draw(st.sampled_from(KEYS))}" if draw(st.booleans()) else name for name in names]
        return "".join(f"{name}  =\t{value(0, False)}{draw(st.sampled_from(COMMENTS))}\n" for name in spelled)

    text = pairs()
    for index in range(draw(st.integers(0, 4))):
        text += draw(st.sampled_from(["", "\n", "# t = 1\r\n\n"]))
        if draw(st.booleans()):
            text += f"[ table{index} . {draw(st.sampled_from(KEYS))} ]{draw(st.sampled_from(COMMENTS))}\n" + pairs()
        else:
            for _ in range(draw(st.integers(1, 3))):
                text += f"[[array{index}]]\n" + pairs()
                if draw(st.booleans()):
                    text += f"[array{index}.inner]\n" + pairs()
                for _ in range(draw(st.integers(0, 2))):
                    text += f"[[array{index}.'deep er']]\n" + pairs()
    return text


def numbers(value, path=()):
    """Every whole number of a document with its path."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from numbers(inner, (*path, key))
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from numbers(inner, (*path, index))
    elif isinstance(value, int):
        yield path, value


@settings(max_examples=250, deadline=None)
@given(documents())
def test_the_line_of_a_key_is_the_line_of_its_value(text):
    document = tomllib.loads(text)  # the generator writes valid TOML
    lines = key_lines(text)
    rows = text.replace("\r\n", "\n").split("\n")
    for path, number in numbers(document):
        found = lines[path]
        if str(number) not in rows[found - 1]:
            pytest.fail(f"{path} is told on line {found}: {rows[found - 1]!r}")


@pytest.mark.parametrize("sample", sorted(path.name for path in (ROOT / "samples").glob("*.toml")))
def test_every_key_of_a_sample_is_told_on_a_line_that_holds_its_name(sample):
    text = (ROOT / "samples" / sample).read_text(encoding="utf-8")
    rows = text.splitlines()
    lines = key_lines(text)
    assert lines
    for path, line in lines.items():
        if isinstance(path[-1], str):
            assert path[-1] in rows[line - 1]


SAMPLE = (ROOT / "samples" / "every-key.toml").read_text(encoding="utf-8")
PLAIN = [
    index
    for index, row in enumerate(SAMPLE.splitlines())
    if " = " in row.split("#")[0] and row[:1].isalpha() and row.split("=")[1].strip()[0] != "{"
]


@settings(max_examples=40, deadline=None)
@given(st.sets(st.sampled_from(PLAIN), min_size=1, max_size=6))
def test_a_fault_put_on_a_line_is_told_on_that_line(chosen):
    """A datetime is wrong for every key, so each chosen line must be told, and the faults in the order of the file."""
    rows = SAMPLE.splitlines()
    for index in chosen:
        rows[index] = rows[index].split("=")[0] + "= 1979-05-27T07:32:00Z"
    with pytest.raises(JobError) as caught:
        job_of("\n".join(rows), folder=ROOT / "samples")
    told = [problem.line for problem in caught.value.problems]
    assert told == sorted(told)
    assert set(told) == {index + 1 for index in chosen}
