"""Compare what several versions of Python make of the samples, byte for byte: ``python tests/same_bytes_pythons.py PYTHON ...``.

Each PYTHON is an interpreter that has the libraries of this project (the project itself is taken from this checkout); a folder is
taken for a root of another system, made by debootstrap say, whose ``/root/python`` is run by chroot (that takes root). The first is
held against each of the others, with ``tests/same_bytes.py``: sheets, records, printed and JSON answers of every sample. Say
``--plate`` to bend the panes as well. Versions of numpy and scipy that differ are told: where bytes differ it may be theirs.

Exit code 0: the same; 1: they differ, and every file that does is named.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import tempfile
from pathlib import Path

from same_bytes import differing, made

ROOT = Path(__file__).resolve().parent.parent
ASKED = "import sys, numpy, scipy; print(sys.version.split()[0], 'numpy', numpy.__version__, 'scipy', scipy.__version__)"


def interpreter(name: str, scratch: Path) -> str:
    """The interpreter to run: the name itself, or a script that runs the one of another system's root from here."""
    if not Path(name).is_dir():  # it is run from other folders
        return str(Path(name).absolute()) if "/" in name else name
    script = scratch / f"python-{len(list(scratch.iterdir()))}"
    carried = "PYTHONPATH PYTHONHASHSEED PYTHONDONTWRITEBYTECODE"
    script.write_text(
        "#!/bin/sh\n"
        f'exec chroot {name} /bin/sh -c \'cd "$1" && shift && exec /root/python "$@"\' sh "$(pwd)" "$@"\n'
        f"# {carried} are handed on by the environment; the folders named in them must lie at the same place in the root\n"
    )
    script.chmod(0o755)
    return str(script)


def main() -> int:
    """Compare the interpreters."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("pythons", nargs="+", metavar="PYTHON")
    parser.add_argument("--plate", action="store_true", help="bend the panes on their beads as well (minutes)")
    parser.add_argument("--scratch", type=Path, help="folder for what is made, reached from every root under the same name")
    asked = parser.parse_args()
    jobs = sorted((ROOT / "samples").glob("*.toml"))
    failed = False
    with tempfile.TemporaryDirectory(dir=asked.scratch) as scratch:
        place = Path(scratch)
        first: Path | None = None
        (place / "run").mkdir()
        for number, name in enumerate(asked.pythons):
            python = interpreter(name, place / "run")
            which = subprocess.run([python, "-c", ASKED], capture_output=True, text=True, check=True, cwd=ROOT).stdout.strip()
            into = place / str(number)
            made(ROOT, jobs, into, python=python, plate=asked.plate)
            if first is None:
                first = into
                count = sum(path.is_file() for path in into.rglob("*"))
                print(f"{which}: {count} files and answers of {len(jobs)} jobs", flush=True)
                continue
            found = differing(first, into)
            failed = failed or bool(found)
            print(f"{which}: " + (f"{len(found)} differ: {', '.join(found)}" if found else "the same"), flush=True)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
