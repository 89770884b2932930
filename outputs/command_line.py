"""The command line: ``fritline draw JOB``.

Terms
-----
exit code
    0 done, nothing fails; 1 done, and something fails; 2 the input is wrong or the result cannot be written, nothing was written;
    3 a fault of the program itself; 130 stopped by the user.

What is heavy (kernel, writers, progress bar, even the job model) is imported only when it is needed, so that help and a bad job
file answer at once.
"""

from __future__ import annotations

import os
import re
import signal
import sys
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from collections.abc import Callable

    from geometry.detail.parts import Detail
    from geometry.job import Job, Pane

DONE, FAILS, WRONG, FAULT, STOPPED = 0, 1, 2, 3, 130

# shared library -> Debian package that holds it; the geometry kernel needs them although nothing is shown on a screen
_DEBIAN = {
    "libGL.so.1": "libgl1",
    "libEGL.so.1": "libegl1",
    "libGLU.so.1": "libglu1-mesa",
    "libX11.so.6": "libx11-6",
    "libxcb.so.1": "libxcb1",
    "libXrender.so.1": "libxrender1",
    "libXext.so.6": "libxext6",
    "libXi.so.6": "libxi6",
    "libXcursor.so.1": "libxcursor1",
    "libSM.so.6": "libsm6",
    "libICE.so.6": "libice6",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libgomp.so.1": "libgomp1",
    "libexpat.so.1": "libexpat1",
}


class InputError(click.ClickException):
    """Something the user gave is wrong; nothing was written. ``entries`` is the same for a machine."""

    exit_code = WRONG

    def __init__(self, sentences: Sequence[str], entries: Sequence[dict[str, Any]] = ()) -> None:
        super().__init__("\n".join(sentences))
        self.entries = list(entries) or [{"found": sentence} for sentence in sentences]

    def show(self, file: Any = None) -> None:
        """Print the sentences, one for each fault."""
        click.echo(self.message, err=True)


def _version(context: click.Context, _parameter: click.Parameter, wanted: bool) -> None:
    if not wanted or context.resilient_parsing:
        return
    from importlib.metadata import PackageNotFoundError, version

    try:
        number = version("fritline")
    except PackageNotFoundError:
        number = "(run from its source folder, not installed)"
    click.echo(f"fritline {number}")
    context.exit()


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.option(
    "--version", is_flag=True, expose_value=False, is_eager=True, callback=_version, help="Print the version and leave."
)
def commands() -> None:
    """Draw the fit-up details of bonded marine glazing from a job file.

    An aid, not an approval: local codes, the rules of class and flag, and licensed practice stand above it.
    """


@commands.command()
@click.argument("job")
@click.option("-o", "--output", metavar="FOLDER", help="Folder for the sheets. Left out: <name of the job file>-sheets, here.")
@click.option("--pane", "codes", metavar="CODE", multiple=True, help="Draw this pane only; may be given more than once.")
@click.option("--json", "as_json", is_flag=True, help="Print what was written, and every figure, as JSON.")
def draw(job: str, output: str | None, codes: tuple[str, ...], as_json: bool) -> int:
    r"""Draw the detail sheet of every pane in the file JOB, as DXF and SVG.

    Files are named <code>-<revision>.dxf and .svg. All sheets are made before the first is written: if one pane cannot be drawn,
    nothing is written.

    \b
    Exit code 0: done, nothing fails.
              1: done, and at least one finding fails.
              2: the input is wrong or the folder cannot be written; nothing was written.
              3: a fault of the program.
    """
    try:
        return _draw(job, output, codes, as_json)
    except InputError as error:
        if as_json:
            _print_json({"errors": error.entries})
        raise


def _draw(path: str, output: str | None, codes: Sequence[str], as_json: bool) -> int:
    job = _read(path)
    panes = _chosen(job, codes)
    folder = Path(output) if output is not None else Path(f"{Path(path).stem}-sheets")
    if output == "":
        raise InputError(["-o: found an empty name; allowed: the name of a folder"])
    if folder.exists() and not folder.is_dir():
        raise InputError([f"-o: {folder} is a file; allowed: the name of a folder, which is made where it is missing"])
    with _libraries_explained():
        drawn = _drawn(job, panes, path)
    files = {folder / name: data for _, _, named in drawn for name, data in named.items()}

    from outputs.files.whole import WriteError, write_all

    try:
        write_all(list(files.items()))
    except WriteError as error:
        raise InputError([f"{error}; nothing was written"]) from error
    if as_json:
        _print_json(
            {
                "job": path,
                "folder": str(folder),
                "panes": [_figures(pane, detail, [str(folder / name) for name in named]) for pane, detail, named in drawn],
            }
        )
    else:
        _echo("\n".join(f"written: {name}" for name in files))
    failing = [pane.code for pane, detail, _ in drawn if detail.glass_cuts_recess]
    for code in failing:
        click.echo(f"{path}: pane {code}: the glass as drawn lies outside the recess; it cannot be fitted", err=True)
    return FAILS if failing else DONE


def _read(path: str) -> Job:
    from geometry.job import JobError, read_job

    try:
        return read_job(path)
    except JobError as error:
        count = len(error.problems)
        sentences = [str(problem) for problem in error.problems]
        if count > 1:
            sentences.append(f"{count} faults; nothing was written")
        keys = ("file", "line", "key", "found", "allowed", "hint")
        raise InputError(sentences, [{key: getattr(problem, key) for key in keys} for problem in error.problems]) from error


def _chosen(job: Job, codes: Sequence[str]) -> list[Pane]:
    if not codes:
        return list(job.panes)
    known = [pane.code for pane in job.panes]
    wrong = [code for code in codes if code not in known]
    if wrong:
        from geometry.job.refusal import near
        from geometry.job.units import shown

        raise InputError(
            [f"--pane: found {shown(code)}; allowed: {', '.join(known)}; {near(code, known)}".rstrip("; ") for code in wrong]
        )
    return [pane for pane in job.panes if pane.code in codes]


def _drawn(job: Job, panes: Sequence[Pane], path: str) -> list[tuple[Pane, Detail, dict[str, bytes]]]:
    """Every pane's detail and its files by name; all details are built before the first sheet is drawn."""
    with _progress(2 * len(panes)) as step:
        from geometry.detail.build import DetailError, build_detail
        from geometry.outline.loop import OutlineError

        details: list[Detail] = []
        faults: list[dict[str, Any]] = []
        for pane in panes:
            step(f"working out {pane.code}")
            try:
                details.append(build_detail(job, pane))
            except (DetailError, OutlineError) as error:
                faults.append({"file": path, "pane": pane.code, "found": str(error)})
        _refuse_if_any(faults)

        from outputs.drawing.detail_sheet import detail_sheet
        from outputs.files.dxf import dxf_bytes
        from outputs.files.proof import SheetError
        from outputs.files.svg import svg_bytes
        from outputs.sheet.lettering import LetteringError

        drawn = []
        for pane, detail in zip(panes, details, strict=True):
            step(f"drawing {pane.code}")
            try:
                sheet = detail_sheet(job, pane, detail)
                files = {f"{pane.file_stem}.dxf": dxf_bytes(sheet), f"{pane.file_stem}.svg": svg_bytes(sheet)}
            except (SheetError, LetteringError) as error:
                faults.append({"file": path, "pane": pane.code, "found": str(error)})
            else:
                drawn.append((pane, detail, files))
        _refuse_if_any(faults)
        return drawn


def _refuse_if_any(faults: Sequence[dict[str, Any]]) -> None:
    if faults:
        sentences = [f"{fault['file']}: pane {fault['pane']}: {fault['found']}" for fault in faults]
        raise InputError([*sentences, "nothing was written"], faults)


def _figures(pane: Pane, detail: Detail, files: list[str]) -> dict[str, Any]:
    """What was written for one pane and its chief figures, in mm, m², kg and ml as the names say."""
    sizes = {
        name: {
            "value": size.value,
            "unit": size.unit,
            "tolerance": size.tolerance,
            "origin": size.origin.value,
            "reason": size.reason,
        }
        for name, size in ((name, getattr(detail.sizes, name)) for name in detail.sizes.__dataclass_fields__)
    }
    return {
        "code": pane.code,
        "name": pane.name,
        "revision": pane.revision,
        "files": files,
        "area_m2": detail.area / 1e6,
        "mass_kg": detail.glass.mass,
        "perimeter_mm": detail.perimeter,
        "centroid_mm": [detail.centroid.x, detail.centroid.y],
        "daylight_area_m2": detail.daylight_area / 1e6,
        "bead_length_mm": detail.fresh_bead.length,
        "bead_volume_ml": detail.fresh_bead.volume,
        "glass_cuts_recess": detail.glass_cuts_recess,
        "sizes": sizes,
    }


@contextmanager
def _progress(steps: int) -> Iterator[Callable[[str], None]]:
    """A progress bar on a terminal, nothing on a pipe."""
    if not sys.stderr.isatty():
        yield lambda _what: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn

    with Progress(TextColumn("{task.description}"), BarColumn(), console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("", total=steps, completed=-1)

        def step(what: str) -> None:
            bar.update(task, advance=1, description=what)

        yield step


@contextmanager
def _libraries_explained() -> Iterator[None]:
    """Say which package to install where a library of the system or of Python is missing."""
    try:
        yield
    except ImportError as error:
        missing = re.search(r"(lib[\w+-]+\.so(?:\.\d+)*)", str(error))
        if missing:
            package = _DEBIAN.get(missing.group(1))
            remedy = f"on Debian or Ubuntu: apt-get install {package}" if package else "install the system package that holds it"
            raise InputError(
                [f"the system library {missing.group(1)} is missing, which the geometry kernel needs; {remedy}"]
            ) from error
        name = error.name or ""
        if isinstance(error, ModuleNotFoundError) and name and name.split(".")[0] not in ("geometry", "outputs"):
            raise InputError([f"the Python package {name.split('.')[0]} is missing; install fritline again with pip"]) from error
        raise


def _print_json(value: dict[str, Any]) -> None:
    import json

    _echo(json.dumps(value, indent=2, ensure_ascii=False, allow_nan=False))


def _echo(text: str) -> None:
    try:
        click.echo(text)
        sys.stdout.flush()
    except OSError as error:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # so that leaving does not flush in vain again
        if isinstance(error, BrokenPipeError):  # the reader has seen enough (| head); the files are in place
            return
        raise InputError([f"the answer cannot be printed: {error.strerror or error}"]) from error


def _fault(error: Exception) -> str:
    import tempfile
    import traceback

    details = "".join(traceback.format_exception(error))
    kind = type(error).__name__
    try:
        with tempfile.NamedTemporaryFile("w", prefix="fritline-fault-", suffix=".txt", delete=False, encoding="utf-8") as stream:
            stream.write(details)
            where = f"the details are in {stream.name}"
    except OSError:
        where = "the details could not be saved"
    return f"fritline: this is a fault of the program, not of your job file ({kind}); {where}"


def _stop(_number: int, _frame: object) -> None:
    """A request to end is met as the stop key is: temporary files are cleared away first."""
    raise KeyboardInterrupt


def main(arguments: Sequence[str] | None = None) -> None:
    """Run one command and leave with its exit code."""
    if threading.current_thread() is threading.main_thread():  # elsewhere Python allows no handler
        signal.signal(signal.SIGTERM, _stop)
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a terminal that lacks a sign shows a question mark
    try:
        code = commands.main(args=None if arguments is None else list(arguments), prog_name="fritline", standalone_mode=False)
    except click.ClickException as error:
        error.show()
        code = error.exit_code
    except (click.Abort, KeyboardInterrupt):
        click.echo("stopped; no file was left half-written", err=True)
        code = STOPPED
    except Exception as error:  # whatever was not foreseen: one line, never a traceback
        click.echo(_fault(error), err=True)
        code = FAULT
    sys.exit(code if isinstance(code, int) else DONE)


if __name__ == "__main__":
    main()
