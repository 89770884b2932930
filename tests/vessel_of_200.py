"""An invented vessel issued at once, measured: ``python tests/vessel_of_200.py --panes 200``.

Printed as a table: panes in a minute on one process and on two, the memory of all processes together in each quarter of the run, a run
that is killed ten times (``--kills``) and goes on until it is whole, a second run with nothing changed and one with one pane changed. The folder of the
run on one process, of that on two and of the killed one must hold the same bytes, and no killed run may leave a half file under the name of
a document: that is held, and the exit code says so. Times are shown, never held. ``--no-plate`` leaves the plates out, ``--keep FOLDER`` keeps what was made.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
LOOK = 0.1
"""Seconds between two looks at the memory."""

HEAD = """# Invented: a vessel of {count} panes, no real one.
vessel = {{ name = "Sanderling (invented)", yard_number = "T-200" }}
sheet = {{ date = 2026-11-02, owner = "Invented Drawing Office" }}
frame = "aluminium"
pressure = {{ outward = 2.5, inward = 6.0 }}
recess.depth = 22
bond = {{ width = 18, thickness = 6 }}
"""
GLASS = ("[8]", "[10]", "[6, 6], interlayers = [1.52]", "[12]")


def pane(index: int, dice: random.Random, *, wider: int = 0) -> str:
    """One pane of a fleet of ordinary forms; both hands of two of three of them."""
    wide, high = dice.randrange(500, 1300, 10) + wider, dice.randrange(350, 700, 10)
    radius, slope = dice.choice((40, 60, 80)), dice.randrange(20, 120, 5)
    form = (
        f"{{ rectangle = [{wide}, {high}], radius = {radius} }}",
        f"{{ polygon = [[0, 0], [{wide}, 0], [{wide - slope}, {high}], [{slope // 2}, {high}]], radius = {radius} }}",
        f"{{ circle = {high} }}",
        f"{{ ellipse = [{wide}, {high}] }}",
        f"{{ path = [[0, 0], [{wide}, 0, 0.1], [{wide}, {high}], [0, {high}]] }}",
    )[index % 5]
    return (
        f'\n[[pane]]\ncode = "W{index:03d}"\nname = "window {index}"\nrevision = "A"\nglass = {{ plies = {dice.choice(GLASS)} }}\n'
        f"outline = {form}\nrake = {dice.choice((0, 0, 5, 12))}\n"
    )


def job(count: int, *, changed: int | None = None, only: int | None = None) -> str:
    """The job of so many panes: one of them wider, or only one of them."""
    told = HEAD.format(count=count)
    for index in range(count):
        text = pane(index, random.Random(index), wider=10 if index == changed else 0)
        told += text if only in (None, index) else ""
    return told


@dataclass
class Run:
    """What a run came to: exit code, seconds, seconds of processor, most MB of all its processes together in each quarter."""

    code: int
    seconds: float
    processor: float
    memory: list[float]
    processes: int


def started(job_file: Path, folder: Path, workers: int, options: list[str]) -> subprocess.Popen[bytes]:
    """The command, in a process of its own."""
    command = [sys.executable, "-m", "outputs.command_line", "issue", str(job_file), "-o", str(folder), "--workers", str(workers)]
    quiet = subprocess.DEVNULL
    return subprocess.Popen([*command, *options], stdout=quiet, stderr=quiet, env={**os.environ, "PYTHONPATH": str(ROOT)})


def tree_of(process: int) -> list[int]:
    """A process and those that it started."""
    try:
        children = Path(f"/proc/{process}/task/{process}/children").read_text().split()
    except OSError:
        return [process]
    return [process, *(each for child in children for each in tree_of(int(child)))]


def megabytes(process: int) -> float:
    """What a process holds in memory, shared parts by their share where the system tells it."""
    for name, key in (("smaps_rollup", "Pss:"), ("status", "VmRSS:")):
        try:
            lines = Path(f"/proc/{process}/{name}").read_text().splitlines()
        except OSError:
            continue
        return next((int(line.split()[1]) / 1024 for line in lines if line.startswith(key)), 0.0)
    return 0.0


def measured(job_file: Path, folder: Path, workers: int, options: list[str]) -> Run:
    """A whole run, looked at all the while."""
    before = os.times()
    begun = time.monotonic()
    process = started(job_file, folder, workers, options)
    seen: list[tuple[float, float]] = []
    most = 0
    while process.poll() is None:
        all_of_them = tree_of(process.pid)
        seen.append((time.monotonic() - begun, sum(map(megabytes, all_of_them))))
        most = max(most, len(all_of_them))
        time.sleep(LOOK)
    seconds, after = time.monotonic() - begun, os.times()
    quarters = [
        max((held for at, held in seen if count * seconds / 4 <= at < (count + 1) * seconds / 4), default=0.0)
        for count in range(4)
    ]
    used = after.children_user + after.children_system - before.children_user - before.children_system
    return Run(process.returncode, seconds, used, quarters, most)


def hashes(folder: Path, *, hidden: bool = True) -> dict[str, str]:
    """Every file below a folder with its hash."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and (hidden or not path.name.startswith("."))
    }


def killed(
    job_file: Path, folder: Path, whole: dict[str, str], options: list[str], *, moments: int, seconds: float
) -> tuple[int, list[str]]:
    """The run of so many seconds killed at so many moments spread over it, and completed; how often it was, and what was wrong."""
    dice, wrong, kills = random.Random(1), [], 0
    for count in range(moments):
        process = started(job_file, folder, 2, options)
        try:
            process.wait(timeout=4.0 + seconds / moments * dice.uniform(0.3, 1.2))
        except subprocess.TimeoutExpired:
            process.send_signal(signal.SIGKILL)
            kills += 1
        process.wait()
        found = hashes(folder, hidden=False) if folder.exists() else {}
        wrong += [f"kill {count + 1}: {name} is not whole" for name, told in found.items() if whole.get(name) != told]
    last = measured(job_file, folder, 2, options)
    if last.code not in (0, 1):
        wrong.append(f"the run after the kills left with exit code {last.code}")
    if hashes(folder) != whole:
        wrong.append("what was killed and completed is not what was made at once")
    return kills, wrong


def main() -> int:
    """Make it, measure it, print it."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--panes", type=int, default=200)
    asked.add_argument("--kills", type=int, default=10)
    asked.add_argument("--no-plate", action="store_true")
    asked.add_argument("--keep", metavar="FOLDER")
    given = asked.parse_args()
    options = ["--no-plate"] if given.no_plate else []
    place = Path(given.keep or tempfile.mkdtemp(prefix="vessel-"))
    place.mkdir(parents=True, exist_ok=True)
    count, changed = given.panes, given.panes // 2
    job_file, alone = place / "sanderling.toml", place / "alone" / "sanderling.toml"
    alone.parent.mkdir(exist_ok=True)
    job_file.write_text(job(count), encoding="utf-8")
    alone.write_text(job(count, changed=changed, only=changed), encoding="utf-8")
    wrong: list[str] = []

    one = measured(job_file, place / "one", 1, options)
    two = measured(job_file, place / "two", 2, options)
    whole = hashes(place / "two")
    wrong += [] if hashes(place / "one") == whole else ["one process and two do not make the same bytes"]
    wrong += [f"exit code {each.code}" for each in (one, two) if each.code not in (0, 1)]
    kills, more = killed(job_file, place / "killed", whole, options, moments=given.kills, seconds=two.seconds)
    wrong += more
    nothing = measured(job_file, place / "two", 2, options)
    job_file.write_text(job(count, changed=changed), encoding="utf-8")
    again = measured(job_file, place / "two", 2, options)
    single = measured(alone, place / "single", 1, options)
    kept = json.loads((place / "two" / ".fritline-issue.json").read_bytes())
    size = sum(path.stat().st_size for path in (place / "one").rglob("*") if path.is_file()) / 2**20

    rows = [
        ("panes, documents, MB", f"{count}, {sum(len(each['facts']['documents']) for each in kept['panes'])}, {size:.0f}"),
        (
            "one process",
            f"{one.seconds:.0f} s, {one.processor:.0f} s of processor, {60 * count / one.seconds:.1f} panes in a minute",
        ),
        (
            "two processes",
            f"{two.seconds:.0f} s, {two.processor:.0f} s of processor, {60 * count / two.seconds:.1f} panes in a minute",
        ),
        ("two against one", f"{one.seconds / two.seconds:.2f} times as fast (aimed at: 1.8)"),
        ("memory of one, by quarters of the run", ", ".join(f"{each:.0f}" for each in one.memory) + " MB"),
        (
            "memory of two and the first, by quarters",
            ", ".join(f"{each:.0f}" for each in two.memory) + f" MB, {two.processes} processes",
        ),
        ("killed", f"{kills} times, then completed: {'the same bytes, no half file' if not more else more[0]}"),
        ("second run, nothing changed", f"{nothing.seconds:.1f} s"),
        ("second run, one pane changed", f"{again.seconds:.1f} s; that pane alone in an empty folder {single.seconds:.1f} s"),
    ]
    print("| what | measured |\n|---|---|")
    print("\n".join(f"| {what} | {said} |" for what, said in rows))
    for each in wrong:
        print(f"WRONG: {each}", file=sys.stderr)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
