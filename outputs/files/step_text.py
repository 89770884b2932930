"""The text of a STEP file (ISO 10303-21) made the same every time, with its own header and names.

The kernel's writer puts the clock into the header, counts usages on within a process and orders colours by addresses in memory. Here the
geometry keeps its order; usages are numbered anew; what tells of presentation is sorted by its content, equal ones merged, and stands last.

Terms
-----
instance
    One line of the data section: ``#12 = TYPE(...);``.
presentation
    Instances of colour and style. Of geometry only points and directions are shared: equal edges or faces as one would glue bodies.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import count

PRESENTATION = (
    "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION",
    "STYLED_ITEM",
    "OVER_RIDING_STYLED_ITEM",
    "CONTEXT_DEPENDENT_OVER_RIDING_STYLED_ITEM",
    "PRESENTATION_STYLE_ASSIGNMENT",
    "PRESENTATION_STYLE_BY_CONTEXT",
    "SURFACE_STYLE_USAGE",
    "SURFACE_SIDE_STYLE",
    "SURFACE_STYLE_FILL_AREA",
    "SURFACE_STYLE_RENDERING_WITH_PROPERTIES",
    "SURFACE_STYLE_TRANSPARENT",
    "FILL_AREA_STYLE",
    "FILL_AREA_STYLE_COLOUR",
    "CURVE_STYLE",
    "COLOUR_RGB",
    "DRAUGHTING_PRE_DEFINED_COLOUR",
    "DRAUGHTING_PRE_DEFINED_CURVE_FONT",
)
_STYLE = frozenset(PRESENTATION)  # a file has tens of thousands of instances, each of which is asked
SHARED = ("DIRECTION", "CARTESIAN_POINT")
"""Plain values that many others share: the writer repeats them, which makes half of a file of many arcs."""
USAGE = "NEXT_ASSEMBLY_USAGE_OCCURRENCE"
_REFERENCE = re.compile(r"(#\d+)")
_KEY = re.compile(r"'(NAME-\d+-OF)'")


@dataclass(frozen=True, slots=True)
class Header:
    """What the header tells; blanks stay blank. ``date`` as YYYY-MM-DD, of the job."""

    name: str
    says: str
    date: str = ""
    author: str = ""
    organisation: str = ""
    program: str = ""
    authorisation: str = ""


def encoded(text: str) -> str:
    r"""A text as the format writes it: apostrophe and backslash doubled, other letters than ASCII by their code.

    >>> encoded("Salon d'été")
    "Salon d''\\X2\\00E9\\X0\\t\\X2\\00E9\\X0\\"
    """
    found = text.replace("\\", "\\\\").replace("'", "''")
    return re.sub(
        r"[^\x20-\x7e]+", lambda part: f"\\X2\\{''.join(_code(sign) for sign in part.group() if ord(sign) >= 32)}\\X0\\", found
    )


def _code(sign: str) -> str:
    return sign.encode("utf-16-be").hex().upper()


def settled(text: str, header: Header, names: Mapping[str, str]) -> str:
    """The file as it is written: ``names`` stand where the writer had their keys. Raises ``ValueError`` on what is no STEP file."""
    start, end = text.find("DATA;"), text.rfind("ENDSEC;")
    schema = re.search(r"FILE_SCHEMA\s*\(.*?\)\s*\)\s*;", text, re.S)
    if start < 0 or end < start or schema is None:
        raise ValueError("the kernel wrote no STEP file")
    body = _ordered(dict(_instances(text[start + len("DATA;") : end])))
    body = _KEY.sub(lambda part: f"'{encoded(names[part[1]])}'" if part[1] in names else part[0], body)
    return f"ISO-10303-21;\nHEADER;\n{_header(header)}{_one_line(schema.group())}\nENDSEC;\nDATA;\n{body}ENDSEC;\nEND-ISO-10303-21;\n"


def _instances(data: str) -> Iterator[tuple[str, str]]:
    """Number, as "#12", and body of every instance. No text of the writer's has an end of line in it: names are keys until the end."""
    for line in _one_line(data).removeprefix("#").removesuffix(";").split(";#"):
        number, _, body = line.partition("=")
        yield f"#{number.rstrip()}", body.lstrip()


def _one_line(body: str) -> str:
    return "".join(map(str.strip, body.split("\n")))


def _header(header: Header) -> str:
    told = {key: encoded(getattr(header, key)) for key in Header.__dataclass_fields__}
    date = f"{told['date']}T00:00:00" if header.date else ""
    return (
        f"FILE_DESCRIPTION(('{told['says']}'),'2;1');\n"
        f"FILE_NAME('{told['name']}','{date}',('{told['author']}'),('{told['organisation']}'),"
        f"'{told['program']}','{told['program']}','{told['authorisation']}');\n"
    )


def _kind(body: str) -> str:
    return body.partition("(")[0].rstrip()


def _ordered(instances: Mapping[str, str]) -> str:
    """Every instance in its final order, with its references renumbered."""
    kinds = {number: _kind(body) for number, body in instances.items()}
    new: dict[str, str] = {}
    shared: dict[str, str] = {}
    kept: list[str] = []
    for number, body in instances.items():
        kind = kinds[number]
        if kind in _STYLE:
            continue
        own = f"#{len(kept) + 1}"
        place = new[number] = shared.setdefault(body, own) if kind in SHARED else own
        if place is own:
            kept.append(number)
    final, styled = _presentation(instances, kinds, new, len(kept))
    uses = count(1)
    lines = [
        f"{number}={_counted(instances[number], uses) if kinds[number] == USAGE else instances[number]};\n" for number in kept
    ]
    parts = _REFERENCE.split("".join([*lines, *styled]))  # every other one is a reference
    parts[1::2] = map(final.__getitem__, parts[1::2])
    return "".join(parts)


def _counted(body: str, uses: Iterator[int]) -> str:
    return re.sub(r"\('[^']*'", f"('{next(uses)}'", body, count=1)


def _presentation(
    instances: Mapping[str, str], kinds: Mapping[str, str], new: Mapping[str, str], before: int
) -> tuple[dict[str, str], list[str]]:
    """New numbers of all instances, and the lines of colour and style with the old ones: by content, equal ones once."""
    written: dict[str, str] = {}

    def content(number: str) -> str:
        """What an instance of presentation comes to, whatever its number."""
        if number not in written:
            written[number] = _REFERENCE.sub(lambda part: told(part[0]), listed(number))
        return written[number]

    def listed(number: str) -> str:
        body = instances[number]
        if kinds[number] != PRESENTATION[0]:
            return body
        return re.sub(r"\((#\d+(?:,#\d+)*)\)", lambda part: f"({','.join(sorted(part[1].split(','), key=told))})", body)

    def told(reference: str) -> str:
        return f"#{int(new[reference][1:]):08d}" if reference in new else f"<{content(reference)}>"

    styles = [number for number in instances if number not in new]
    place: dict[str, str] = {}
    for each in sorted({content(number) for number in styles}, key=lambda each: (each.count("<"), each)):
        place[each] = f"#{before + len(place) + 1}"
    one = {content(number): number for number in reversed(styles)}
    lines = [f"{one[each]}={listed(one[each])};\n" for each in place]
    return {**new, **{number: place[content(number)] for number in styles}}, lines


__all__ = ["PRESENTATION", "Header", "encoded", "settled"]
