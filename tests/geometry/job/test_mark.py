"""The mark of a job: what it hangs on and what it does not."""

import io

from geometry.job import read_stream
from geometry.job.mark import SIGNS, mark_of

JOB = """
[vessel]
name = "Invented"

[[pane]]
code = "W1"
frame = "grp"
glass = { plies = [8] }
outline = { rectangle = [900, 450] }
"""
OTHER = """
[[pane]]
code = "W2"
frame = "grp"
glass = { plies = [8] }
outline = { circle = 400 }
"""


def mark(text: str) -> str:
    job = read_stream(io.BytesIO(text.encode()), file="boat.toml")
    return mark_of(job, job.panes[0])


def test_eight_signs_that_are_not_taken_for_one_another():
    first, _, second = mark(JOB).partition("-")
    assert len(first) == len(second) == 4
    assert set(first + second) <= set(SIGNS)
    assert not set(SIGNS) & set("0O1IL8B")
    assert len(set(SIGNS)) == len(SIGNS)


def test_comments_order_spelling_and_other_panes_leave_it():
    same = (
        JOB.replace("[8]", '["8 mm"]')
        .replace('frame = "grp"\n', "")
        .replace('code = "W1"', 'frame = "grp"\ncode = "W1"  # measured')
    )
    assert mark(same) == mark(JOB) == mark(JOB + OTHER)


def test_any_size_and_any_shared_value_changes_it():
    changed = [JOB.replace("900", "900.5"), JOB.replace("[8]", "[10]"), JOB.replace("Invented", "Other")]
    marks = {mark(text) for text in (JOB, *changed)}
    assert len(marks) == 4
