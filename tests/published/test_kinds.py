"""Every test of this folder states one kind of source, so that the outside checks can be counted."""

import subprocess
import sys
from pathlib import Path

import pytest

COUNT = Path(__file__).with_name("count.py")


def count(folder):
    return subprocess.run(
        [sys.executable, str(COUNT), str(folder)], cwd=COUNT.parents[2], capture_output=True, text=True, check=False
    )


def test_every_test_of_this_folder_states_its_kind():
    """The whole folder is collected apart from this run, whatever was chosen here."""
    found = count(COUNT.parent)
    assert (found.returncode, found.stderr) == (0, ""), found.stderr
    counts = {line[:16].strip(): int(line[16:]) for line in found.stdout.splitlines()}
    assert counts.pop("together") == sum(counts.values())
    assert counts["published"] > 100 and counts["second hand"] > 30


@pytest.mark.parametrize(
    ("marks", "words"),
    [
        ("", "no kind"),
        ("@pytest.mark.published\n@pytest.mark.computed\n", "computed and published"),
        ("@pytest.mark.computed\n", ""),
    ],
)
def test_a_test_without_a_kind_is_told(tmp_path, marks, words):
    """The count refuses a test of no kind and one of two kinds, and lets one of a single kind pass."""
    (tmp_path / "pytest.ini").write_text("[pytest]\nmarkers =\n    published\n    computed\n")
    (tmp_path / "test_one.py").write_text(f"import pytest\n\n\n{marks}def test_one():\n    pass\n")
    found = count(tmp_path)
    assert found.returncode == (1 if words else 0)
    assert words in found.stderr and ("test_one" in found.stderr) == bool(words)
