"""The commands as they are typed: their arguments, options and help. What they do stands in a module of each command.

Terms
-----
refusal
    What the user gave is wrong: told on the standard error, and as JSON as well where a machine listens.

Nothing heavy is imported before it is needed, so that help answers at once.
"""

from __future__ import annotations

from collections.abc import Callable

import click

from outputs.commands.shared import InputError, print_json
from outputs.documents import ALL_NAMES, FORMATS, NAMES


def _version(context: click.Context, _parameter: click.Parameter, wanted: bool) -> None:
    if not wanted or context.resilient_parsing:
        return
    from outputs.version import DATE, VERSION, commit

    known = commit()
    click.echo(f"fritline {VERSION} ({', '.join(part for part in (DATE, known and f'commit {known}') if part)})")
    context.exit()


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.option(
    "--version",
    is_flag=True,
    expose_value=False,
    is_eager=True,
    callback=_version,
    help="Print version, date and commit, and leave.",
)
def commands() -> None:
    """Draw and check the fit-up details of bonded marine glazing from a job file.

    An aid, not an approval: local codes, the rules of class and flag, and licensed practice stand above it.
    """


@commands.command(short_help="Write a first job file of one pane, with comments.")
@click.argument("file", required=False)
@click.option("--from", "drawing", metavar="DRAWING", help="Take the job out of a sheet that was drawn from it: DXF, SVG or PDF.")
@click.option("--shape", metavar="WORD", help="rectangle, polygon, circle, ellipse or path.")
@click.option("--width", metavar="MM", help="Width of a rectangle or ellipse; a size may carry its unit: '35.5 in'.")
@click.option("--height", metavar="MM", help="Height of a rectangle or ellipse.")
@click.option("--radius", metavar="MM", help="Corner radius of a rectangle or polygon.")
@click.option("--diameter", metavar="MM", help="Diameter of a circle.")
@click.option("--corners", metavar="POINTS", help="Corners of a polygon, counter-clockwise: '0,0 900,0 800,450'.")
@click.option(
    "--points", metavar="POINTS", help="Points of a path, x,y or x,y,bulge of the side that leaves: '0,0 900,0,0.2 900,450'."
)
@click.option(
    "--outline", metavar="WORD", help="glass, as it is cut, or recess, as it stands; of a recess the glass is worked out."
)
@click.option("--joint", metavar="MM", help="Joint width round the glass; with --outline recess.")
@click.option("--frame", metavar="WORD", help="aluminium, steel, stainless, grp, timber_along, timber_across, plywood or cfrp.")
@click.option("--glass", metavar="MM", help="One ply, 8, or plies and interlayers from outside inwards: 6+1.52+6.")
@click.option("--code", metavar="CODE", help="Short mark of the pane; names its files. Left out: P1.")
def start(file: str | None, drawing: str | None, **options: str | None) -> int:
    """Write a first job file of one pane into FILE (left out: pane.toml; -: print it), with comments, valid as it is.

    With --from the job is the one that a sheet carries, with what it reads beside it; FILE left out: <code>-<revision>.toml. A sheet
    for the supplier carries his part only: outline, make-up and print.

    On a terminal it asks for what the options leave open. On a pipe an example stands in, and the file says so. A file that is
    there already is never overwritten.

    \b
    Exit code 0: done. 2: an option is wrong or the file cannot be written; nothing was written.
    """  # noqa: D301 - the backspace keeps the lines below it apart
    given = {name: value for name, value in options.items() if value is not None}
    if drawing is not None:
        from outputs.commands.carried_job import start_from

        return start_from(drawing, file, list(given))
    from outputs.commands.start import start as run

    return run(file or "pane.toml", given)


@commands.command(short_help="Draw the documents of every pane.")
@click.argument("job", nargs=-1, required=True)
@click.option("-o", "--output", metavar="FOLDER", help="Folder for the files. Left out: <name of each job file>-sheets, here.")
@click.option("--pane", "codes", metavar="CODE", multiple=True, help="Draw this pane only; may be given more than once.")
@click.option(
    "--sheet",
    "documents",
    type=click.Choice(ALL_NAMES),
    multiple=True,
    help="Draw this document only; may be given more than once. Left out: all of them but solid.",
)
@click.option(
    "--format",
    "formats",
    type=click.Choice(FORMATS),
    multiple=True,
    help="Write the sheets in this format only; may be given more than once. Left out: all of them.",
)
@click.option("--no-plate", is_flag=True, help="Leave out the pane bent on its bead, which takes seconds; the sheets say so.")
@click.option(
    "--since",
    metavar="FILE",
    help="An older job file, a drawing of it, or the data file of its record: what moved since is listed, in mm, and marked.",
)
@click.option(
    "--prove", is_flag=True, help="Hold every drawn section against the cut of the pane's bodies, and say where they differ."
)
@click.option("--json", "as_json", is_flag=True, help="Print what was written, and every figure, as JSON.")
def draw(
    job: tuple[str, ...],
    output: str | None,
    codes: tuple[str, ...],
    documents: tuple[str, ...],
    formats: tuple[str, ...],
    no_plate: bool,
    since: str | None,
    prove: bool,
    as_json: bool,
) -> int:
    """Draw the documents of every pane in the file JOB (several may be given; -: the standard input).

    Detail sheet, pane sheet, fitter's card and record come from one run of the checks and carry its state. Files are named
    <code>-<revision>-<document>.dxf, .svg and .pdf, the card as a page for a phone .html; files of that name are replaced unless
    they are write-protected, all others stay. All are made before the first is written: if one pane cannot be drawn, nothing is written.

    The document solid is made only where it is asked for: frame, glass, bead, blocks and joint as bodies, in STEP, glTF and JSON.

    \b
    Exit code 0: done, nothing fails.
              1: done, and at least one finding fails, or with --prove a section differs from its bodies by no convention.
              2: the input is wrong or the folder cannot be written; nothing was written.
              3: a fault of the program.
    """  # noqa: D301 - the backspace keeps the lines below it apart
    from outputs.commands.draw import Wanted
    from outputs.commands.draw import draw as run

    wanted = Wanted(documents or NAMES, formats or FORMATS, plate=not no_plate, as_json=as_json, since=since, prove=prove)
    return _answered(as_json, lambda: run(job, output, codes, wanted))


@commands.command(short_help="Issue every document of every pane, and the register, into one folder.")
@click.argument("job")
@click.option("-o", "--output", metavar="FOLDER", help="Folder of the issue. Left out: <name of the job file>-issue, here.")
@click.option(
    "--pane", "codes", metavar="CODE", multiple=True, help="Bring this pane up to date only; may be given more than once."
)
@click.option(
    "--workers",
    type=click.IntRange(1, 256),
    metavar="COUNT",
    help="Processes that draw side by side. Left out: as many as there are cores at hand.",
)
@click.option("--no-plate", is_flag=True, help="Leave out the pane bent on its bead, which takes seconds; the sheets say so.")
@click.option(
    "--for",
    "purpose",
    type=click.Choice(["approval"]),
    help="Add the pack that an approval asks for: panes, open questions, deviations.",
)
@click.option("--solid", is_flag=True, help="Add the bodies of every pane: STEP, glTF, masses and centres.")
@click.option("--json", "as_json", is_flag=True, help="Print what was issued as JSON.")
def issue(
    job: str,
    output: str | None,
    codes: tuple[str, ...],
    workers: int | None,
    no_plate: bool,
    purpose: str | None,
    solid: bool,
    as_json: bool,
) -> int:
    """Issue the file JOB (-: the standard input) into a folder: every document of every pane, in a folder for each, and the lists.

    A pane whose input and program are as before, and whose files stand as they were written, is up to date and left. A file of an issue
    that was changed or is missing is written again: work on copies. Documents of an older revision, and of panes that are no longer in
    the job, are moved into the folder "superseded", and the register says by what they were; files that no issue wrote stay. A run that
    was stopped leaves no half file, and the next one goes on from there; a folder without lists was not completed. One folder is for one
    job; what an issue has to know of the one before stands in its file .fritline-issue.json: keep it with the folder.

    With --pane the documents of all other panes stay as they stand; they must stand as they were written. Where the job or these options
    have changed a pane since, or it was never issued, it is in no sum of the lists: each of them says so, and the register that its
    documents are not up to date. The exit code tells of the panes that are up to date. Panes that are no longer in the job are moved aside
    all the same.

    A pane that cannot be drawn does not stop the others. It is named with its reason, here and in the register, and the exit code is 2
    whatever the others come to: the folder is not the whole job.

    \b
    Exit code 0: done, nothing fails.
              1: done, and at least one finding fails.
              2: the input or the folder is wrong and nothing was written; or a pane could not be drawn, and the others were.
              3: a fault of the program.
    """  # noqa: D301 - the backspace keeps the lines below it apart
    from outputs.commands.issue import Wanted
    from outputs.commands.issue import issue as run

    wanted = Wanted(workers, plate=not no_plate, purpose=purpose or "", codes=codes, as_json=as_json, solid=solid)
    return _answered(as_json, lambda: run(job, output, wanted))


@commands.command(short_help="Check every pane: what holds, what fails, what to do.")
@click.argument("job", nargs=-1, required=True)
@click.option("--pane", "codes", metavar="CODE", multiple=True, help="Check this pane only; may be given more than once.")
@click.option("--all", "everything", is_flag=True, help="Print what passes as well, and every default that went in.")
@click.option("--no-plate", is_flag=True, help="Leave out the pane bent on its bead, which takes seconds for each pane.")
@click.option("--json", "as_json", is_flag=True, help="Print every finding and every figure as JSON.")
@click.option("--record", metavar="FOLDER", help="Write the calculation record, a page and a data file for each pane.")
@click.option(
    "--since",
    metavar="FILE",
    help="An older job file, a drawing of it, or the data file of its record: each pane's verdict then and now, with its type.",
)
@click.option("--propose", is_flag=True, help="Write the job with every plan's changes made beside the old one, never over it.")
@click.option(
    "--done",
    "records",
    metavar="RECORD",
    multiple=True,
    help="Hold a bonding record against its pane: JSON, a filled form (PDF), TOML or CSV, or a folder of them; may be given more than once.",
)
@click.option(
    "-o", "--output", metavar="FOLDER", help="With --done: write as-fitted revisions, care sheets and the sign-off list."
)
def check(
    job: tuple[str, ...],
    codes: tuple[str, ...],
    everything: bool,
    no_plate: bool,
    as_json: bool,
    record: str | None,
    since: str | None,
    propose: bool,
    records: tuple[str, ...],
    output: str | None,
) -> int:
    """Check every pane in the file JOB (several may be given; -: the standard input): what holds, what fails, what to do.

    A vessel's panes come first in one table; then what fails, what to look at and what is not checked. --all prints every row.

    Every constraint is held against its limit. A remedy is tried on the job before it is printed. What only you can know and did
    not give (a pressure, an approval) is "not checked", never taken as zero. First stands one plan for each pane: the smallest set
    of changes found that together make it pass, or as much of it as can, tried as a whole. --propose writes it into a new job file.

    With --done it is told what the bonding records of the panes come to: readings against the limits of the pane, and what nobody
    wrote down, which is "not recorded" and never a pass.

    \b
    Exit code 0: done, nothing fails.
              1: done, and at least one finding, or one reading of a record, fails.
              2: the input is wrong or the folder cannot be written; nothing was written.
              3: a fault of the program.
    """  # noqa: D301 - the backspace keeps the lines below it apart
    from outputs.commands.check import Wanted
    from outputs.commands.check import check as run

    if records or output is not None:
        beside = {"--record": record is not None, "--propose": propose, "--since": since is not None}
        if not records or any(beside.values()):
            named = next((option for option, found in beside.items() if found), "")
            lacking = f"--done: found with {named}" if records else "-o: found without --done"
            return _answered(
                as_json, lambda: _refused(f"{lacking}; allowed: --done with --pane, --all, --no-plate, --json and -o")
            )
        from outputs.commands.done import Wanted as WantedOfRecords
        from outputs.commands.done import done

        asked = WantedOfRecords(plate=not no_plate, as_json=as_json, everything=everything, output=output)
        return _answered(as_json, lambda: done(job, codes, records, asked))
    wanted = Wanted(plate=not no_plate, as_json=as_json, record=record, everything=everything, propose=propose, since=since)
    return _answered(as_json, lambda: run(job, codes, wanted))


def _refused(sentence: str) -> int:
    """Options that do not go together."""
    raise InputError([sentence])


@commands.command(short_help="Fit every pane, as made or as ordered, into its recess as it stands.")
@click.argument("job", nargs=-1, required=True)
@click.option("--pane", "codes", metavar="CODE", multiple=True, help="Fit this pane only; may be given more than once.")
@click.option("--json", "as_json", is_flag=True, help="Print placing, gaps, chocks and proof as JSON.")
def fit(job: tuple[str, ...], codes: tuple[str, ...], as_json: bool) -> int:
    """Fit every pane in the file JOB (several may be given; -: the standard input) into its recess as it stands.

    The pane as it was made (key "made"), else as it is ordered, is shifted and turned until its least gap is as large as it can be,
    what is left then centred; and stood on chocks of the heights at hand (chocks.stock, chocks.shims). Both proofs are printed: the
    contacts that hold it, and the bound over every turn. Nothing is written.

    \b
    Exit code 0: done, every least gap is at least the least joint, bead and print lie where they must.
              1: done, and a pane does not fit so.
              2: the input is wrong.
              3: a fault of the program.
    """  # noqa: D301 - the backspace keeps the lines below it apart
    from outputs.commands.fit import fit as run

    return _answered(as_json, lambda: run(job, codes, as_json=as_json))


@commands.command(short_help="Compare the supplier's returned drawing with its pane.")
@click.argument("job")
@click.argument("returned", metavar="RETURNED.dxf")
@click.option(
    "--pane", "code", metavar="CODE", default="", help="The pane that it shows. Left out: the only one that it resembles."
)
@click.option(
    "-o", "--output", metavar="FOLDER", help="Folder for the marked-up drawing. Left out: <name of the job file>-compared, here."
)
@click.option("--at", metavar="X,Y", default="", help="A place inside the outline that is meant, in the drawing's own units.")
@click.option("--json", "as_json", is_flag=True, help="Print the comparison as JSON.")
def compare(job: str, returned: str, code: str, output: str | None, at: str, as_json: bool) -> int:
    """Compare the drawing RETURNED.dxf that the supplier sent back with the pane of the file JOB (-: the standard input).

    Outline and print are found by layer or by nesting. How the drawing lies is worked out and named: unit, turn, shift, mirrored or
    not; nothing is undone in silence. Sizes come first, then how far outline and print deviate, then the solid print all round, held
    against twice the bond width and the bead's inner edge. Words that say face or mark are quoted. What lines cannot tell is "not
    checked". The marked-up drawing is written as <code>-<revision>-compared.dxf, .svg and .pdf.

    \b
    Exit code 0: done, everything that could be checked is within its limit.
              1: done, and something is short, mirrored or differs by more than its limit.
              2: the input is wrong, or no outline, or more than one, could be the pane; nothing was written.
              3: a fault of the program.
    """  # noqa: D301 - the backspace keeps the lines below it apart
    from outputs.commands.compare import Wanted
    from outputs.commands.compare import compare as run

    return _answered(as_json, lambda: run(job, returned, output, Wanted(code, at, as_json)))


@commands.command(short_help="The keys of the job file: all, or those that hold a word.")
@click.argument("word", nargs=-1)
@click.option("--json-schema", is_flag=True, help="Print a JSON Schema of the job file, for editors and other programs.")
def keys(word: tuple[str, ...], json_schema: bool) -> int:
    """Print the keys of the job file with unit, default and meaning; with WORD only those whose name or meaning holds it."""
    from outputs.commands.keys import keys as run

    return run(word, json_schema=json_schema)


def _answered(as_json: bool, run: Callable[[], int]) -> int:
    """Run a command; refusals are told to a machine as well where it listens."""
    try:
        return run()
    except InputError as error:
        if as_json:
            from outputs.commands.jobs import refusals

            print_json(refusals(error.entries))
        raise


__all__ = ["check", "commands", "compare", "draw", "fit", "issue", "keys", "start"]
