"""The job out of a drawing: ``fritline start --from DRAWING`` writes it, ``--since DRAWING`` reads it.

Terms
-----
carried job
    What a sheet holds of the job that it was drawn from: of its own pane, and nothing of others (``outputs.files.carried``).
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from outputs.commands.exit_codes import DONE
from outputs.commands.shared import InputError, echo, write

if TYPE_CHECKING:
    from outputs.files.carried import Carried

DRAWINGS = (".dxf", ".svg", ".pdf")
LARGEST = 100_000_000
"""Bytes of a drawing that is looked into."""
WANTED = "allowed: a sheet of this program as DXF, SVG or PDF"


def carried_in(name: str, option: str) -> Carried:
    """The whole job that a drawing carries. Raises ``InputError``, which names the option, where it carries none."""
    found = _found(name, option)
    if found.part != "job":
        raise InputError([f"{option}: {name} is a sheet for the supplier and carries his part only, no whole job; {WANTED}"])
    return found


def _found(name: str, option: str) -> Carried:
    from geometry.incoming.incoming import IncomingError
    from geometry.incoming.opening import bytes_of
    from outputs.files.carried import CarriedError, carried_by

    try:
        return carried_by(bytes_of(Path(name), name, most=LARGEST, what="a sheet as DXF, SVG or PDF"), name)
    except IncomingError as error:
        raise InputError([f"{option}: {error}"]) from None
    except CarriedError as error:
        raise InputError([f"{option}: {name}: {error}; {WANTED}"]) from None


def start_from(drawing: str, file: str | None, others: Sequence[str]) -> int:
    """Write the job that a drawing carries into ``file`` ("-": print it; None: under its own name), and beside it what it reads.

    Raises ``InputError``; then nothing was written. Nothing that stands there is overwritten.
    """
    if others:
        raise InputError([f"--from: found --{others[0]} beside it; allowed: --from alone, the job says everything else itself"])
    found = _found(drawing, "--from")
    text = found.files[found.name]
    if file == "-":
        echo(text.decode("utf-8").removesuffix("\n"))
        return DONE
    target = Path(found.name if file is None else file)
    files = {target: text} | {target.parent / name: data for name, data in found.files.items() if name != found.name}
    standing = [str(path) for path in files if os.path.lexists(path)]
    if standing:
        raise InputError([f"{standing[0]} is there already; allowed: --from with the name of a new file; nothing was written"])
    write(files)
    echo("\n".join([*(f"written: {path}" for path in files), *_told(found, target)]))
    return DONE


def _told(found: Carried, target: Path) -> list[str]:
    revision = f", revision {found.revision}" if found.revision else ""
    lines = [f"of pane {found.code}{revision}, mark {found.mark}, drawn by {found.program}; its comments are not carried"]
    lines += [f"not carried, lay it beside the job: {each}" for each in found.left_out]
    if found.part != "job":
        return [*lines, "a sheet for the supplier carries his part only: frame, recess, joint and bond have to be typed"]
    return [*lines, f"next: fritline check {target}   its mark must be {found.mark}"]


__all__ = ["DRAWINGS", "carried_in", "start_from"]
