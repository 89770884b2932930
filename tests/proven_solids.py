"""Bodies and sections of every pane of the samples, of odd ones and of random ones: ``python tests/proven_solids.py --random 30``.

Held of each pane: the drawn sections are the cuts of its bodies; each body is valid, closed and shares no volume with another; there are
as many as the parts list counts; glass, bead and backfill have the volumes and centres that formulas give. The whole set takes a few
minutes; of it the tests hold a part. What is refused is told with its sentence. Exit code 1 where anything is at fault.
"""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path

if __name__ == "__main__":
    sys.path[:0] = [str(Path(__file__).parents[1]), str(Path(__file__).parent / "geometry" / "solids")]


def main() -> int:
    """Hold the panes and tell what was found."""
    from held import faults_of
    from pane_set import names, subject_of

    from geometry.detail.build import DetailError

    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--random", type=int, default=30, help="how many random panes")
    parser.add_argument("--only", default="", help="only panes whose name has this in it")
    asked = parser.parse_args()
    wrong = refused = told = 0
    chosen = [name for name in names(asked.random) if asked.only in name]
    for name in chosen:
        began = time.process_time()
        try:
            faults, conventions = faults_of(subject_of(name))
        except DetailError as error:
            refused += 1
            print(f"refused {name}: {error}", flush=True)
            continue
        told += conventions
        wrong += bool(faults)
        print(
            f"{'FAULT' if faults else 'held '} {name}, {time.process_time() - began:.1f} s", *faults, sep="\n      ", flush=True
        )
    print(f"{len(chosen)} panes: {wrong} at fault, {refused} refused; {told} differences by convention, each told in words")
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(main())
