"""``fritline start``: a first job file of one pane, commented; it asks on a terminal and takes options anywhere.

Terms
-----
terminal
    Somebody sits there and is asked for what the options leave open; on a pipe an example stands in, and the file says so.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from pathlib import Path

import click

from outputs.commands.exit_codes import DONE
from outputs.commands.first_job import ASKED, EXAMPLES, OUTLINE_OF, ChoiceError, Choices, completed, job_text, read_choice
from outputs.commands.shared import InputError, echo, say

QUESTIONS: Mapping[str, str] = {
    "shape": "Shape of the outline, seen from outside (rectangle, polygon, circle, ellipse, path)",
    "outline": "Outline that you know: of the glass as it is cut, or of the recess as it stands (glass, recess)",
    "width": "Width, mm",
    "height": "Height, mm",
    "radius": "Corner radius, mm",
    "diameter": "Diameter, mm",
    "corners": "Corners x,y in mm, a space between",
    "points": "Points x,y or x,y,bulge in mm, a space between; a bulge bends the side that leaves its point, 1 is half a circle",
    "joint": "Joint width between glass and recess, mm",
    "frame": "Frame (aluminium, steel, stainless, grp, timber_along, timber_across, plywood, cfrp)",
    "glass": "Glass, mm from outside inwards (8, or laminated 6+1.52+6)",
}


def start(name: str, given: Mapping[str, str]) -> int:
    """Write the file ``name`` ("-": print it). Raises ``InputError``; then nothing was written."""
    if name != "-":
        _refuse_what_stands(name)
    try:
        choices = completed(_asked(given) if sys.stdin is not None and sys.stdin.isatty() else given)
        text = job_text(choices)
    except ChoiceError as error:
        raise InputError([f"{error}; nothing was written"], [{"key": error.option, "found": str(error)}]) from None
    if name == "-":
        echo(text.removesuffix("\n"))
        return DONE
    _write_new(name, text.encode("utf-8"))
    echo("\n".join(_told(name, choices)))
    return DONE


def _asked(given: Mapping[str, str]) -> dict[str, str]:
    """The choices with an answer for each that no option made; an answer that cannot be is refused and asked again."""
    answers = dict(given)

    def ask(name: str) -> None:
        while name not in answers:
            typed = str(click.prompt(QUESTIONS[name], default=EXAMPLES[name], err=True)).strip()
            try:
                read_choice(name, typed)
            except ChoiceError as error:
                say(f"  {str(error).removeprefix(f'{error.option}: ')}")
            else:
                answers[name] = typed

    ask("outline")
    ask("shape")
    for name in (*ASKED.get(answers["shape"], ()), *OUTLINE_OF.get(answers["outline"], ()), "frame", "glass"):
        ask(name)
    return answers


def _told(name: str, choices: Choices) -> list[str]:
    quoted = name if name.replace("/", "").replace(".", "").replace("-", "").replace("_", "").isalnum() else f"'{name}'"
    lines = [f"written: {name}"]
    if choices.examples:
        lines.append(
            f"examples that nobody chose, type yours: {', '.join(each for each in EXAMPLES if each in choices.examples)}"
        )
    return [
        *lines,
        f"next: fritline check {quoted}   what holds, what fails, what is not checked",
        f"then: fritline draw {quoted}    the sheet, DXF and SVG",
        "still open: pressures from your engineer, figures of your adhesive's data sheet",
    ]


def _refuse_what_stands(name: str) -> None:
    """Raise ``InputError`` where something stands under the name; nothing is ever overwritten."""
    if not name or "\0" in name:
        raise InputError(["FILE: found an empty name; allowed: the name of a new file, such as pane.toml"])
    if os.path.lexists(name):
        raise InputError([f"{name} is there already; allowed: the name of a new file; nothing was written"])


def _write_new(name: str, data: bytes) -> None:
    made = False
    try:
        with Path(name).open("xb") as stream:
            made = True
            stream.write(data)
    except FileExistsError:
        _refuse_what_stands(name)
    except OSError as error:
        if made:
            Path(name).unlink(missing_ok=True)
        raise InputError([f"{name} cannot be written: {error.strerror or error}; nothing was written"]) from error


__all__ = ["start"]
