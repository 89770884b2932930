"""The file of a survey is opened as every other file of a job: only an ordinary one, and nobody waits for a pipe."""

from __future__ import annotations

import os

import pytest

from geometry.job import JobError, read_job

JOB = '[[pane]]\ncode = "X"\nframe = "grp"\nglass = { plies = [8] }\noutline = { survey = "w3.csv" }\n'


@pytest.mark.parametrize(
    ("kind", "said"), [("pipe", "not an ordinary file"), ("folder", "is a folder"), ("none", "no file"), ("empty", "is empty")]
)
def test_what_is_no_ordinary_file_is_told(tmp_path, kind, said):
    place = tmp_path / "w3.csv"
    {"pipe": lambda: os.mkfifo(place), "folder": place.mkdir, "none": lambda: None, "empty": lambda: place.write_bytes(b"")}[
        kind
    ]()
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    with pytest.raises(JobError, match=said) as caught:
        read_job(tmp_path / "job.toml")
    (problem,) = caught.value.problems
    assert problem.line == 5
