"""The text of a STEP file (ISO 10303-21) made the same every time, with its own header and names.

The kernel's writer puts the clock into the header, counts usages on within a process and orders colours by addresses in memory. Here the
geometry keeps its order; usages are numbered anew; what tells of presentation is sorted by its content, equal ones merged, and stands last.

Terms
-----
instance
    One line of the data section: ``#12 = TYPE(...);``.
presentation
    Instances of colour and style. Among geometry equal instances are never merged: that would glue equal bodies.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

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
_INSTANCE = re.compile(r"#(\d+)\s*=\s*((?:'(?:[^']|'')*'|[^';])*);", re.S)
_REFERENCE = re.compile(r"#(\d+)")


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
    instances = {int(number): _one_line(body) for number, body in _INSTANCE.findall(text[start:end])}
    lines = _ordered(instances)
    body = "".join(f"#{number}={line};\n" for number, line in enumerate(lines, start=1))
    for key, name in names.items():
        body = body.replace(f"'{key}'", f"'{encoded(name)}'")
    return f"ISO-10303-21;\nHEADER;\n{_header(header)}{_one_line(schema.group())}\nENDSEC;\nDATA;\n{body}ENDSEC;\nEND-ISO-10303-21;\n"


def _one_line(body: str) -> str:
    return re.sub(r"\s*\n\s*", "", body).strip()


def _header(header: Header) -> str:
    told = {key: encoded(getattr(header, key)) for key in Header.__dataclass_fields__}
    date = f"{told['date']}T00:00:00" if header.date else ""
    return (
        f"FILE_DESCRIPTION(('{told['says']}'),'2;1');\n"
        f"FILE_NAME('{told['name']}','{date}',('{told['author']}'),('{told['organisation']}'),"
        f"'{told['program']}','{told['program']}','{told['authorisation']}');\n"
    )


def _kind(body: str) -> str:
    return body.partition("(")[0].strip()


def _ordered(instances: Mapping[int, str]) -> list[str]:
    """Every instance in its final order, with its references renumbered."""
    geometry = [number for number, body in instances.items() if _kind(body) not in PRESENTATION]
    new = {number: place for place, number in enumerate(geometry, start=1)}
    written: dict[int, str] = {}

    def content(number: int) -> str:
        """What an instance of presentation comes to, whatever its number."""
        if number not in written:
            body = instances[number]
            if _kind(body) == PRESENTATION[0]:
                body = re.sub(r"\((#\d+(?:,#\d+)*)\)", lambda part: f"({','.join(sorted(part[1].split(','), key=told))})", body)
            written[number] = _REFERENCE.sub(lambda part: told(part.group()), body)
        return written[number]

    def told(reference: str) -> str:
        number = int(reference[1:])
        return f"#{new[number]:08d}" if number in new else f"<{content(number)}>"

    styles = [number for number in instances if number not in new]
    place: dict[str, int] = {}
    for each in sorted({content(number) for number in styles}, key=lambda each: (each.count("<"), each)):
        place[each] = len(new) + len(place) + 1
    final = new | {number: place[content(number)] for number in styles}
    uses = 0
    lines: list[str] = []
    for number in geometry:
        body = _REFERENCE.sub(lambda part: f"#{final[int(part[1])]}", instances[number])
        if _kind(body) == "NEXT_ASSEMBLY_USAGE_OCCURRENCE":
            uses += 1
            body = re.sub(r"\('[^']*'", f"('{uses}'", body, count=1)
        lines.append(body)
    one = {content(number): number for number in reversed(styles)}
    for each in place:
        body = instances[one[each]]
        if _kind(body) == PRESENTATION[0]:
            body = re.sub(r"\((#\d+(?:,#\d+)*)\)", lambda part: f"({','.join(sorted(part[1].split(','), key=told))})", body)
        lines.append(_REFERENCE.sub(lambda part: f"#{final[int(part[1])]}", body))
    return lines


__all__ = ["PRESENTATION", "Header", "encoded", "settled"]
