"""The page of what is proven, and the data behind the record's last page, say what the checks say today."""

import json
import subprocess
import sys
from pathlib import Path

from count import NO_CHECKS

from geometry.rules.register import CALCULATIONS
from outputs.record.proven_part import DATA, PLATE, proofs, rows, said_of

HERE = Path(__file__).parent
SCRIPT = HERE / "proven.py"


def test_the_counts_and_deviations_are_those_of_the_checks():
    """The checks of the rules are run again; those of the plate, which take long, by the script alone."""
    quick = [
        path for path in sorted(HERE.glob("test_*.py")) if not path.name.startswith("test_plate") and path.name not in NO_CHECKS
    ]
    run = subprocess.run(
        [sys.executable, str(SCRIPT), "--check", *map(str, quick)],
        cwd=HERE.parents[1],
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stderr


def test_every_calculation_of_the_program_is_on_the_page():
    known = proofs(json.loads(DATA.read_text()))
    assert [proof.name for proof in known] == [*(each.name for each in CALCULATIONS), PLATE]
    page = (HERE / "README.md").read_text()
    assert all(f"| {proof.title} | " in page for proof in known)
    assert "".join(said_of(proof.checks) for proof in known if not proof.checks) == "none" * sum(
        not proof.checks for proof in known
    )


def test_topics_add_up():
    known = proofs(json.loads(DATA.read_text()))
    assert sum(int(row[1]) for row in rows(known)) == len(known)
    assert sum(int(row[3]) for row in rows(known)) == sum(not proof.checks for proof in known)
