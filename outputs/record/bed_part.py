"""The pane on its bed of shear springs: what went in, every case as a table with its units, one place worked out, the stations."""

from __future__ import annotations

from math import fsum
from typing import TYPE_CHECKING

from outputs.record.findings_part import basis_mark
from outputs.record.markup import AsItIs, Html, join, tag, text
from outputs.record.numbers import number, quantity
from outputs.record.parts import in_columns

if TYPE_CHECKING:
    from collections.abc import Sequence

    from outputs.record.worked import Group, Use, Worked

STATIONS = "Stations of the bead, counted from 0 along its centre line, counter-clockwise: place and the length of bead each stands for, mm"
_TOGETHER = ("shear modulus", "bond width", "bond thickness")
_COLUMNS = 5  # of stations side by side


def bed_article(group: Group, worked: Worked) -> Html:
    """One article over the whole width."""
    uses = group.uses
    largest = max(uses, key=lambda use: use.figure.value.largest)
    return tag(
        "article",
        tag("h4", AsItIs(group.sum.number), "  ", group.record.title, " ", basis_mark(group.record.status)),
        tag("p", group.record.formula, class_="formula words"),
        tag("p", _inputs(uses, worked), class_="worked"),
        _cases(uses, worked),
        _example(largest),
        _stations(uses[0]),
        tag("p", AsItIs(group.record.source), class_="source"),
        class_="sum wide",
        id=None if len(uses) > 1 else uses[0].id_,
    )


def _inputs(uses: Sequence[Use], worked: Worked) -> Html:
    """What is the same in every case, once."""
    inputs = {each.name: each for use in reversed(uses) for each in use.figure.inputs}
    parts = []
    for name in _TOGETHER:
        letter = worked.letter_of(inputs[name])
        said = tag("var", letter) if letter else tag("i", name)
        refs = join(
            tag("sub", tag("a", AsItIs(each), href=f"#{each}")) for each in worked.references(inputs[name]) if each[0] == "i"
        )
        parts.append(join(said, f" {quantity(inputs[name].value, inputs[name].unit, digits=6)}", refs))
    if "centroid" in inputs:
        right, up = inputs["centroid"].value
        parts.append(text(f"centroid of the pane X {number(right, digits=6)}, Y {number(up, digits=6)} mm"))
    contacts = inputs["contacts"].value if "contacts" in inputs else ()
    for place, each in enumerate(contacts, start=1):
        push = f"push right {number(each.push_x, digits=6)}, up {number(each.push_y, digits=6)}"
        parts.append(text(f"contact {place} at X {number(each.x, digits=6)}, Y {number(each.y, digits=6)} mm, {push}"))
    return join("In every case: ", *(part for place, each in enumerate(parts) for part in ("; " if place else None, each)))


def _cases(uses: Sequence[Use], worked: Worked) -> Html:
    """Every case as a column, every result as a row with its unit."""
    weights = [next((each.value for each in use.figure.inputs if each.name == "weight"), None) for use in uses]
    strains = [next(each for each in use.figure.inputs if each.name == "differential strain") for use in uses]
    values = [use.figure.value for use in uses]
    contacts = max((len(each.contact_forces) for each in values), default=0)
    rows: list[tuple[str, str, list[str]]] = [
        ("differential strain", "mm/mm", [number(each.value, digits=6) for each in strains]),
        ("weight, right", "N", ["0" if each is None else number(each[0], digits=6) for each in weights]),
        ("weight, up", "N", ["0" if each is None else number(each[1], digits=6) for each in weights]),
        ("shift, right", "mm", [number(each.shift[0], digits=6) for each in values]),
        ("shift, up", "mm", [number(each.shift[1], digits=6) for each in values]),
        ("turn, counter-clockwise", "rad", [number(each.turn, digits=6) for each in values]),
        *(
            (
                f"force of contact {count + 1}",
                "N",
                [number(each.contact_forces[count], digits=6) if count < len(each.contact_forces) else "0" for each in values],
            )
            for count in range(contacts)
        ),
        ("station that moves most", "", [str(each.worst) for each in values]),
        ("its movement", "mm", [number(each.largest) for each in values]),
        ("direction, from the right", "°", [number(each.direction) for each in values]),
        ("shear strain of the bead", "mm/mm", [number(each.shear_strain) for each in values]),
        ("shear stress of the bead", "MPa", [number(each.shear_stress) for each in values]),
    ]
    rows = [row for row in rows if any(cell != "0" for cell in row[2])]
    heads = [
        join(tag("b", use.letter), f" {use.figure.what.removeprefix('movement of the bead, ')}, {use.figure.where}")
        for use in uses
    ]
    refs = [
        join(
            tag("sub", tag("a", AsItIs(each), href=f"#s{each.replace(' ', '')}"))
            for each in worked.references(strain)
            if each[0] != "i"
        )
        for strain in strains
    ]
    return tag(
        "table",
        tag("caption", "Results of ", AsItIs(uses[0].number), "; what is not listed is 0"),
        tag(
            "thead",
            tag(
                "tr",
                tag("th", "result", scope="col"),
                tag("th", "unit", scope="col"),
                (
                    tag("th", head, scope="col", id=use.id_ if len(uses) > 1 else None)
                    for use, head in zip(uses, heads, strict=True)
                ),
            ),
        ),
        tag(
            "tbody",
            (
                tag(
                    "tr",
                    tag("th", name, scope="row"),
                    tag("td", unit),
                    (tag("td", cell, refs[place] if not count else None, class_="num") for place, cell in enumerate(cells)),
                )
                for count, (name, unit, cells) in enumerate(rows)
            ),
        ),
        class_="cases",
    )


def _example(use: Use) -> Html:
    """The station that moves most in the case that moves most, worked out from the results of that case."""
    value = use.figure.value
    stations = next(each.value for each in use.figure.inputs if each.name == "stations")
    strain = next(each.value for each in use.figure.inputs if each.name == "differential strain")
    racking = next((each.value for each in use.figure.inputs if each.name == "racking"), 0.0)
    total = fsum(each.length for each in stations)
    middle = tuple(fsum(each[axis] * each.length for each in stations) / total for axis in (0, 1))
    worst = stations[value.worst]
    arm = (worst.x - middle[0], worst.y - middle[1])
    moved = value.shears[value.worst]

    def line(axis: int) -> str:
        other = 1 - axis
        turned = (-arm[1] if axis == 0 else arm[0]) * (1.0 if value.turn >= 0 else -1.0)
        terms = f"{number(value.shift[axis], digits=6)} {_signed(turned)} × {number(abs(value.turn), digits=6)}"
        terms += f" {_signed(-strain)} × {_bracketed(arm[axis])}"
        if racking:
            terms += f" − {number(racking, digits=6)} / 2 × {_bracketed(arm[other])}"
        return f"{terms} = {number(moved[axis])} mm"

    return tag(
        "p",
        tag("b", f"{use.letter} worked out at station {value.worst}".strip()),
        f", X {number(worst.x, digits=6)}, Y {number(worst.y, digits=6)} mm; middle of the bead X {number(middle[0], digits=6)}, "
        f"Y {number(middle[1], digits=6)} mm, so its arm is {number(arm[0], digits=6)}; {number(arm[1], digits=6)} mm. Right: ",
        tag("span", line(0), class_="numbers"),
        "; up: ",
        tag("span", line(1), class_="numbers"),
        f". √({_bracketed(moved[0])}² + {_bracketed(moved[1])}²) = {number(value.largest)} mm.",
        class_="worked",
    )


def _signed(value: float) -> str:
    return f"{'−' if value < 0 else '+'} {number(abs(value), digits=6)}"


def _bracketed(value: float) -> str:
    words = number(value, digits=6)
    return f"({words})" if value < 0 else words


def _stations(use: Use) -> Html:
    """Where the sums over the bead are made up: they can be done again from the table."""
    stations = next(each.value for each in use.figure.inputs if each.name == "stations")
    rows = [
        (str(place), number(each.x, digits=5), number(each.y, digits=5), number(each.length, digits=5))
        for place, each in enumerate(stations)
    ]
    return in_columns(STATIONS, ("no.", "X", "Y", "length"), rows, _COLUMNS, class_="stations")


__all__ = ["bed_article"]
