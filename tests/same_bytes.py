"""Compare what two checkouts make of the samples, byte for byte: ``python tests/same_bytes.py OLD NEW``.

Every job in ``samples`` of the first checkout is drawn, checked and recorded by both; every file and every answer must be the same.
A change of the house that keeps behaviour is proven by it. ``--plate`` bends the panes on their beads as well. ``--python`` names
the interpreter of the second checkout: the same checkout under two interpreters shows that bytes do not depend on Python.

Exit code 0: the same; 1: they differ, and every file that does is named.
"""

from __future__ import annotations

import argparse
import filecmp
import os
import subprocess
import sys
import tempfile
from pathlib import Path

RUN = "import sys; from outputs.command_line import main; sys.exit(main())"


def made(checkout: Path, jobs: list[Path], into: Path, *, python: str, plate: bool) -> None:
    """Write sheets, records and answers of every job into a folder; ``checkout`` holds the program that does it."""
    environment = {**os.environ, "PYTHONPATH": str(checkout), "PYTHONHASHSEED": "random"}
    for job in jobs:
        place = into / job.stem
        place.mkdir(parents=True)
        bend = [] if plate else ["--no-plate"]
        calls = {
            "draw": ["draw", "--no-plate", job.name, "-o", str(place / "sheets")],
            "check": ["check", job.name, *bend, "--record", str(place / "record")],
            "check-json": ["check", job.name, *bend, "--json"],
        }
        for name, arguments in calls.items():
            done = subprocess.run([python, "-c", RUN, *arguments], cwd=job.parent, env=environment, capture_output=True)
            told = b"exit %d\n" % done.returncode + done.stdout + done.stderr
            (place / f"{name}.txt").write_bytes(told.replace(str(place).encode(), b"PLACE"))


def differing(old: Path, new: Path) -> list[str]:
    """Names of files that are not the same in two folders, or stand in one of them only."""
    names = {path.relative_to(root) for root in (old, new) for path in root.rglob("*") if path.is_file()}
    return [
        str(name)
        for name in sorted(names)
        if not ((old / name).is_file() and (new / name).is_file() and filecmp.cmp(old / name, new / name, shallow=False))
    ]


def main() -> int:
    """Compare two checkouts."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("old", type=Path)
    parser.add_argument("new", type=Path)
    parser.add_argument("--plate", action="store_true", help="bend the panes on their beads as well (minutes)")
    parser.add_argument("--python", default=sys.executable, help="interpreter that runs the second checkout")
    parser.add_argument("--keep", type=Path, help="folder that keeps what was made; left out: a temporary one")
    asked = parser.parse_args()
    jobs = sorted(
        path for path in (asked.old.resolve() / "samples").glob("*.toml") if path.name != "office.toml"
    )  # named by a job
    with tempfile.TemporaryDirectory() as scratch:
        root = (asked.keep or Path(scratch)).resolve()
        made(asked.old.resolve(), jobs, root / "old", python=sys.executable, plate=asked.plate)
        made(asked.new.resolve(), jobs, root / "new", python=asked.python, plate=asked.plate)
        found = differing(root / "old", root / "new")
        count = sum(path.is_file() for path in (root / "old").rglob("*"))
    print("\n".join([f"differs: {name}" for name in found] or [f"{count} files and answers of {len(jobs)} jobs are the same"]))
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
