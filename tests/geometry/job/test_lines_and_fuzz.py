"""Line numbers are those of the keys, and no text at all brings anything but a job or a job error."""

from __future__ import annotations

import random
import tomllib
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from geometry.job import Job, JobError, job_of
from geometry.job.positions import key_lines
from geometry.job.reading import Problem

SAMPLES = Path(__file__).parents[3] / "samples"
SAMPLE_TEXTS = [path.read_text(encoding="utf-8") for path in sorted(SAMPLES.glob("*.toml"))]
QUICK = settings(deadline=None, max_examples=60, derandomize=True, suppress_health_check=[HealthCheck.too_slow])

WORDS = st.text("abcdefghijklmnopqrstuvwxyz_-0123456789", min_size=1, max_size=8)
LEAVES = st.one_of(
    st.integers(-9, 9),
    st.booleans(),
    st.floats(allow_nan=False, allow_infinity=False, width=16),
    st.text(max_size=6),
    st.dates(),
)
VALUES = st.recursive(
    LEAVES, lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(WORDS, inner, max_size=3)), max_leaves=6
)


class Writer:
    """Writes values as TOML in ways of its own choosing, and keeps the line of every key: the check's own book."""

    def __init__(self, choose):
        self.choose = choose
        self.out = ""
        self.lines = {}

    @property
    def line(self):
        return self.out.count("\n") + 1

    def key(self, word):
        quote = self.choose(["", '"', "'"])
        return f"{quote}{word}{quote}"

    def value(self, path, value):
        if isinstance(value, dict):
            self.out += "{ "
            for i, (word, inner) in enumerate(value.items()):
                self.out += ", " if i else ""
                self.lines[(*path, word)] = self.line
                self.out += f"{self.key(word)} = "
                self.value((*path, word), inner)
            self.out += " }"
        elif isinstance(value, list):
            self.out += "["
            for i, inner in enumerate(value):
                self.out += self.choose(["", " ", "\n  ", " # ] } = \" '''\n"])
                self.lines[(*path, i)] = self.line
                self.value((*path, i), inner)
                self.out += ","
            self.out += self.choose(["]", "\n]"])
        elif isinstance(value, bool):
            self.out += "true" if value else "false"
        elif isinstance(value, str):
            self.text(value)
        else:
            self.out += str(value)

    def text(self, value):
        plain = "".join(c if c.isprintable() and c not in "\"'\\" else "." for c in value)
        self.out += self.choose(
            [
                f'"{plain}"',
                f"'{plain}#'",
                f'"\\"{plain}\\\\"',
                f'"""\n{plain} = 1\n[x]\n\\""" "{plain}"""',
                f"'''{plain}'\n\n'x = 3'''",
                f'"""{plain}"""""',
            ]
        )

    def table(self, path, header, value):
        self.lines.setdefault(path, self.line)
        self.out += header + self.choose(["\n", " # [not] = this\n", "\n\n"])
        for word, inner in value.items():
            self.lines[(*path, word)] = self.line
            self.out += self.choose(["", "  ", "\t"]) + f"{self.key(word)} = "
            self.value((*path, word), inner)
            self.out += self.choose(["\n", " # note\n", "\n# = [\n"])


@QUICK
@given(
    st.dictionaries(WORDS, st.dictionaries(WORDS, VALUES, max_size=3), max_size=3),
    st.lists(st.dictionaries(WORDS, VALUES, max_size=3), max_size=3),
    st.randoms(use_true_random=False),
)
def test_every_key_has_the_line_on_which_it_was_written(tables, panes, source):
    tables.pop("pane", None)
    writer = Writer(source.choice)
    for name, table in tables.items():
        writer.table((name,), f"[{name}]", table)
    for i, pane in enumerate(panes):
        writer.table(("pane", i), "[[pane]]", pane)
    tomllib.loads(writer.out)  # the text is TOML
    found = key_lines(writer.out)
    assert {path: line for path, line in found.items() if path != ("pane",)} == writer.lines


@pytest.mark.parametrize("text", SAMPLE_TEXTS)
def test_samples_every_key_has_a_line_that_holds_its_word(text):
    lines = text.splitlines()
    found = key_lines(text)

    def walk(path, value):
        if path and isinstance(path[-1], str):
            assert path[-1] in lines[found[path] - 1]
        for step, inner in value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ():
            walk((*path, step), inner)

    walk((), tomllib.loads(text))


def test_a_value_spoiled_on_any_line_is_told_on_that_line():
    """Each value of the fullest sample in turn is made a date, which almost no key allows."""
    text = (SAMPLES / "every-key.toml").read_text(encoding="utf-8")
    lines = text.splitlines()
    told = 0
    for number, line in enumerate(lines, start=1):
        head, equals, _ = line.partition(" = ")
        if not equals or line.startswith(("#", " ")) or head in ("date", "launch"):
            continue
        spoiled = [*lines[: number - 1], f"{head} = 1999-12-31", *lines[number:]]
        with pytest.raises(JobError) as caught:
            job_of("\n".join(spoiled), folder=SAMPLES)
        problem = caught.value.problems[0]
        assert problem.line == number
        assert head.strip('"') in problem.key
        assert "1999-12-31" in problem.found
        told += 1
    assert told > 100


def judged(text):
    """The job, or sound problems; anything else is a fault of the reader."""
    try:
        assert isinstance(job_of(text, folder=SAMPLES), Job)
    except JobError as error:
        count = text.count("\n") + 1
        assert error.problems
        for problem in error.problems:
            assert isinstance(problem, Problem) and problem.found
            assert all(row.isprintable() for row in str(problem).split("\n"))
            assert problem.line is None or problem.file != "job" or 1 <= problem.line <= count


@QUICK
@given(st.sampled_from(SAMPLE_TEXTS), st.integers(0, 10**9), st.integers(1, 8))
def test_spoiled_samples_give_a_job_or_a_job_error(text, seed, strokes):
    """Signs, lines and values of a good file cut, doubled, swapped and overwritten."""
    chance = random.Random(seed)
    for _ in range(strokes):
        at = chance.randrange(len(text) + 1)
        kind = chance.randrange(6)
        if kind == 0:
            text = text[:at] + text[at + chance.randrange(1, 30) :]
        elif kind == 1:
            text = text[:at] + chance.choice("[]{}\"'=.,#\n\\0-e_ \t\r\x00é°𝔉") + text[at:]
        elif kind == 2:
            lines = text.splitlines()
            one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
            lines[one], lines[other] = lines[other], lines[one]
            text = "\n".join(lines)
        elif kind == 3:
            lines = text.splitlines()
            lines.insert(chance.randrange(len(lines)), chance.choice(lines))
            text = "\n".join(lines)
        else:
            lines = text.splitlines()
            spots = [i for i, line in enumerate(lines) if " = " in line]
            spot = chance.choice(spots)
            head = lines[spot].partition(" = ")[0]
            value = chance.choice(
                ["nan", "-inf", "1e308", "-1e-320", "10**9", "true", '""', '"6 mm"', "[]", "{}", "[[]]", "[[0,0],[0,0],[0,0]]",
                 "{ circle = 1e-9 }", "{ path = [[0,0,1],[1,0,1]] }", "{ polygon = [[0,0],[1e6,0],[0,1e-6]] }", "0x7f", "1_0",
                 "2026-02-30", "9" * 400, "{ rectangle = [1e5, 1e-3], radius = 1e5 }", "{ ellipse = [1e5, 1e-4] }", "1999-01-01"]
            )  # fmt: skip
            lines[spot] = f"{head} = {value}"
            text = "\n".join(lines)
    judged(text)


@QUICK
@given(st.binary(max_size=400))
def test_any_bytes_give_a_job_or_a_job_error(data):
    judged(data.decode("utf-8", errors="replace"))


OUTLINES = st.fixed_dictionaries(
    {},
    optional={
        "rectangle": st.lists(st.sampled_from([1e-6, 0.5, 10, 1e5, 1e9, -3]), max_size=3),
        "polygon": st.lists(st.lists(st.sampled_from([0, 1, 5.5, -7, 1e5, 1e-7]), min_size=1, max_size=3), max_size=6),
        "path": st.lists(st.lists(st.sampled_from([0, 1, 2, -1, 40, 1e5, 1e-9]), min_size=2, max_size=3), max_size=6),
        "circle": st.sampled_from([1e-9, 1, 400, 1e5, 1e7]),
        "ellipse": st.lists(st.sampled_from([1e-3, 1, 400, 700, 1e5]), min_size=2, max_size=2),
        "radius": st.one_of(st.sampled_from([0, 1, 1e-9, 1e5]), st.lists(st.sampled_from([0, 1, 3]), max_size=5)),
    },
)


@settings(QUICK, max_examples=150)
@given(OUTLINES, st.none() | OUTLINES)
def test_any_outline_gives_a_job_or_a_job_error(outline, recess):
    writer = Writer(lambda options: options[0])
    pane = {"code": "P1", "frame": "grp", "glass": {"plies": [8]}, "outline": outline}
    if recess is not None:
        pane["recess"] = {"outline": recess}
    writer.table(("pane", 0), "[[pane]]", pane)
    judged(writer.out)
