"""The text of a first job file: one pane, commented, valid as it is.

Terms
-----
choice
    What a first job says of its pane: form and sizes of the outline, frame, plies of the glass, as typed.
stand-in
    A choice that nobody made: it stands in the file so that the file can be run, and the file says that it is an example.

What only the user can know (pressures, the adhesive's own figures) stands behind ``#`` with a ``?`` for the figure: never invented.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from geometry.job import Job

EXAMPLES: Mapping[str, str] = {
    "shape": "rectangle",
    "width": "900",
    "height": "450",
    "radius": "50",
    "diameter": "400",
    "corners": "0,0 900,0 800,450 0,450",
    "points": "0,0 900,0,0.2 900,450 0,450",
    "outline": "glass",
    "joint": "8",
    "frame": "aluminium",
    "glass": "8",
}
"""What stands for a choice that nobody made."""

ASKED: Mapping[str, tuple[str, ...]] = {
    "rectangle": ("width", "height", "radius"),
    "polygon": ("corners", "radius"),
    "circle": ("diameter",),
    "ellipse": ("width", "height"),
    "path": ("points",),
}
"""The sizes that each shape takes."""

OUTLINE_OF: Mapping[str, tuple[str, ...]] = {"glass": (), "recess": ("joint",)}
"""Whose outline the shape is, and what is asked besides: of a recess that stands, the joint from which the glass follows."""

_BEHIND = 48
"""Column in which the comments stand, where the line leaves room."""


class ChoiceError(ValueError):
    """A choice that cannot be: ``option`` names it, the message says what was found and what is allowed."""

    def __init__(self, option: str, sentence: str) -> None:
        self.option = option
        super().__init__(f"{option}: {sentence}")


@dataclass(frozen=True)
class Choices:
    """One pane as chosen; ``examples`` names the choices that nobody made."""

    values: Mapping[str, str]
    examples: frozenset[str] = field(default_factory=frozenset)

    @property
    def shape(self) -> str:
        """The form of the outline."""
        return self.values["shape"]


def completed(given: Mapping[str, str]) -> Choices:
    """The choices with an example in place of each that was not made. Raises ``ChoiceError`` for one that cannot be."""
    shape = given.get("shape", EXAMPLES["shape"])
    read_choice("shape", shape)
    sizes = ASKED[shape]
    whose = given.get("outline", EXAMPLES["outline"])
    read_choice("outline", whose)
    besides = OUTLINE_OF[whose]
    for name in given:
        if name == "joint" and name not in besides:
            raise ChoiceError("--joint", f"found beside the outline of the {whose}; allowed: with --outline recess")
        if name in EXAMPLES and name not in ("shape", "outline", "frame", "glass", *sizes, *besides):
            raise ChoiceError(f"--{name}", f"found beside the shape {shape}; allowed: {', '.join(f'--{size}' for size in sizes)}")
    wanted = ("shape", *sizes, *besides, "frame", "glass")
    values = {name: given.get(name, EXAMPLES[name]) for name in wanted}
    for name in wanted:
        read_choice(name, values[name])
    return Choices(
        values | {"code": given.get("code", "P1"), "outline": whose}, frozenset(name for name in wanted if name not in given)
    )


def read_choice(name: str, typed: str) -> str:
    """The value as it is written into the file. Raises ``ChoiceError``."""
    from pydantic_core import PydanticCustomError

    from geometry.job.fields import SECTION_SIZE, SIZE, SIZE_OR_ZERO
    from geometry.job.refusal import near, refuse
    from geometry.job.section_tables import FRAMES
    from geometry.job.units import shown

    try:
        if name in ("shape", "frame", "outline"):
            words = {"shape": tuple(ASKED), "frame": FRAMES, "outline": tuple(OUTLINE_OF)}[name]
            if typed not in words:
                raise refuse(f"found {shown(typed)}", "one of " + ", ".join(words), near(typed, words))
            return json.dumps(typed)
        if name == "glass":
            plies, layers = _make_up(typed)
            rows = f"plies = [{', '.join(plies)}]"
            return f"{{ {rows}, interlayers = [{', '.join(layers)}] }}" if layers else f"{{ {rows} }}"
        if name in ("corners", "points"):
            return _corners(typed, bulges=name == "points")
        measure = {"radius": SIZE_OR_ZERO, "joint": SECTION_SIZE}.get(name, SIZE)
        measure.read(_number(typed))
        return _written(typed)
    except PydanticCustomError as error:
        raise ChoiceError(f"--{name}", error.message()) from None


def _make_up(typed: str) -> tuple[list[str], list[str]]:
    from geometry.job.fields import SIZE
    from geometry.job.refusal import refuse
    from geometry.job.units import shown

    parts = [part.strip() for part in typed.split("+")]
    if len(parts) % 2 == 0:
        allowed = "one ply, such as 8, or plies and interlayers in turn from outside inwards, such as 6+1.52+6"
        raise refuse(f"found {shown(typed)}", allowed)
    for part in parts:
        SIZE.read(_number(part))
    return [_written(part) for part in parts[::2]], [_written(part) for part in parts[1::2]]


def _corners(typed: str, *, bulges: bool) -> str:
    """A list of points; with ``bulges`` each may carry a third number, the bulge of the side that leaves it."""
    from geometry.job.outlines import CORNERS, VERTICES
    from geometry.job.refusal import refuse
    from geometry.job.units import shown

    points = [point.split(",") for point in typed.split()]
    least, lengths = (2, (2, 3)) if bulges else (3, (2,))
    if len(points) < least or any(len(point) not in lengths for point in points):
        allowed = (
            'x,y or x,y,bulge of two points or more with a space between, such as "0,0 900,0,0.2 900,450 0,450"'
            if bulges
            else 'x,y of three corners or more with a space between, such as "0,0 900,0 800,450"'
        )
        raise refuse(f"found {shown(typed)}", allowed)
    (VERTICES if bulges else CORNERS)([[_number(each) for each in point] for point in points])
    return "[" + ", ".join(f"[{', '.join(map(_written, point))}]" for point in points) + "]"


def _number(typed: str) -> float | int | str:
    """A bare number as a number, all else as the text that it is (with a unit, perhaps)."""
    try:
        number = float(typed) if "_" not in typed else typed
    except ValueError:
        return typed
    return int(number) if isinstance(number, float) and number.is_integer() and abs(number) < 1e6 else number


def _written(typed: str) -> str:
    number = _number(typed)
    return json.dumps(typed.strip(), ensure_ascii=False) if isinstance(number, str) else f"{number:.10g}"


def outline_text(choices: Choices) -> str:
    """The outline as the file says it."""
    values = {name: read_choice(name, choices.values[name]) for name in ASKED[choices.shape]}
    if choices.shape == "circle":
        return f"{{ circle = {values['diameter']} }}"
    if choices.shape == "path":
        return f"{{ path = {values['points']} }}"
    if choices.shape == "polygon":
        return f"{{ polygon = {values['corners']}, radius = {values['radius']} }}"
    sizes = f"{choices.shape} = [{values['width']}, {values['height']}]"
    return f"{{ {sizes}, radius = {values['radius']} }}" if choices.shape == "rectangle" else f"{{ {sizes} }}"


def job_text(choices: Choices) -> str:
    """The whole file. Raises ``ChoiceError`` where the choices make no pane."""
    example = {
        name: "; EXAMPLE, type yours" if set(names) & choices.examples else ""
        for name, names in {"outline": ("shape", *ASKED[choices.shape]), "frame": ("frame",), "glass": ("glass",)}.items()
    }
    rows: Sequence[tuple[str, str]] = (
        ('# One pane. Lengths in mm, pressures in kPa; a value may carry its own unit: "35.5 in". Seen from outside, Y up.', ""),
        (
            "# A line behind # is not read: take the sign away and type your figure for the ?. Left out: worked out and said so.",
            "",
        ),
        ("# All keys with their meaning: fritline keys", ""),
        ("", ""),
        ("[[pane]]", ""),
        (f"code = {json.dumps(choices.values['code'], ensure_ascii=False)}", "names the files"),
        *_whose(choices, example["outline"]),
        (f"frame = {read_choice('frame', choices.values['frame'])}", f"what the recess is made of{example['frame']}"),
        (f"glass = {read_choice('glass', choices.values['glass'])}", f"plies from outside inwards{example['glass']}"),
        *_recess_and_joint(choices),
        ("# frit = { width = ? }", "glass edge to the inner edge of the print"),
        ("# rake = ?", "degrees: 0 upright, + leans back, 90 deck light"),
        ("# pressure = { outward = ?, inward = ? }", "from your engineer or the rule; left out: not checked"),
    )
    text = "".join(f"{line.ljust(_BEHIND - 1)} # {said}\n" if said else f"{line}\n" for line, said in rows)
    _job_of(text)
    return text


def _whose(choices: Choices, example: str) -> Sequence[tuple[str, str]]:
    """The outline of the glass, or that of the recess with the joint between them."""
    if choices.values["outline"] == "glass":
        return ((f"outline = {outline_text(choices)}", f"the glass as cut{example}"),)
    joint = "; EXAMPLE, type yours" if "joint" in choices.examples else ""
    return (
        (f"recess.outline = {outline_text(choices)}", f"the recess as it stands{example}"),
        (
            f"joint = {{ width = {read_choice('joint', choices.values['joint'])} }}",
            f"the glass is so much smaller all round{joint}",
        ),
    )


def _recess_and_joint(choices: Choices) -> Sequence[tuple[str, str]]:
    """What waits for its figure, beside what stands."""
    if choices.values["outline"] == "glass":
        return (
            ("# recess = { depth = ?, landing = ? }", "skin to landing; width of the landing"),
            ("# joint = { width = ? }", "glass edge to recess wall"),
        )
    return (("# recess.depth = ?", "skin to landing"), ("# recess.landing = ?", "width of the landing"))


def _job_of(text: str) -> Job:
    from geometry.job import JobError, job_of

    try:
        return job_of(text)
    except JobError as error:
        first = error.problems[0]
        allowed = f"; allowed: {first.allowed}" if first.allowed else ""
        option = {"code": "--code", "glass": "--glass"}.get(first.key.rpartition(", ")[2].split(".")[0], "outline")
        raise ChoiceError(option, f"{first.found}{allowed}") from None


__all__ = ["ASKED", "EXAMPLES", "OUTLINE_OF", "ChoiceError", "Choices", "completed", "job_text", "outline_text", "read_choice"]
