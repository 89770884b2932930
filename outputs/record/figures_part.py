"""Every figure of a pane so that it can be worked by hand: formula in words, inputs, result, limit, source.

Terms
-----
number
    F1, F2 ... in the order of the page; a finding names the sum behind it by that number.
the same figure
    Two checks may work out the same thing from the same inputs; it stands on the page once.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from geometry.ledger.size import in_words
from outputs.record.data import plain
from outputs.record.findings_part import default_mark, source_line, verdict_mark
from outputs.record.markup import Html, tag
from outputs.record.numbers import quantity
from outputs.record.parts import margin_of, relation

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from geometry.ledger.figure import Figure, Input
    from geometry.ledger.finding import Finding
    from geometry.workings.subject import Subject

_TOPICS = {
    "materials": "Materials",
    "glass": "Glass",
    "gravity": "Weight",
    "loads": "Loads that are given",
    "section": "Section of the detail",
    "section_room": "Room in the section",
    "sizing": "Sizes that were left out",
    "corner": "Corners",
    "bead": "Bead",
    "bead_sizing": "Bead",
    "thermal": "Movement from heat",
    "shear_bed": "Pane on its bed of shear springs",
    "bond": "Bond",
    "pane_bending": "Bending of the pane",
    "joint": "Joint",
    "frit": "Frit",
    "chocks": "Chocks",
    "tolerance": "Tolerances",
    "quantities": "Quantities",
    "climate": "Climate",
    "cure": "Cure",
    "green": "Uncured bead",
    "time_plan": "Bonding day",
    "lifting": "Lifting",
    "plate": "Pane bent on its bead",
}


class Numbered:
    """The figures of a page with their numbers, grouped by topic, each once."""

    def __init__(self, figures: Iterable[Figure]) -> None:
        once: dict[str, Figure] = {}
        for figure in figures:
            once.setdefault(_identity(figure), figure)
        topics: dict[str, list[tuple[str, Figure]]] = {}
        for identity, figure in once.items():
            topics.setdefault(topic_of(figure.record.name), []).append((identity, figure))
        self._numbers: dict[str, str] = {}
        self.topics: list[tuple[str, list[tuple[str, Figure]]]] = []
        for topic, members in topics.items():
            numbered = []
            for identity, figure in members:
                self._numbers[identity] = f"F{len(self._numbers) + 1}"
                numbered.append((self._numbers[identity], figure))
            self.topics.append((topic, numbered))

    def numbers_at(self, each: Input) -> tuple[str, ...]:
        """The numbers of the figures that an input came from: one, but for the same result worked out in two ways; none for no figure."""
        return tuple(
            number
            for _, members in self.topics
            for number, figure in members
            if (figure.what, figure.where) == each.figure and figure.value == each.value
        )

    def number_of(self, figure: Figure) -> str:
        """The number of a figure, "" for one that is not on the page."""
        return self._numbers.get(_identity(figure), "")


def _identity(figure: Figure) -> str:
    return json.dumps(plain(figure), ensure_ascii=False)


def topic_of(name: str) -> str:
    """The topic of a calculation by the name of its record."""
    module = name.split(".")[0]
    return _TOPICS.get(module, module.replace("_", " ").capitalize())


def figures_list(subject: Subject, numbered: Numbered, findings: Sequence[Finding]) -> Html:
    """Every figure under its topic."""
    held: dict[str, list[Finding]] = {}
    for finding in findings:
        if finding.figure is not None:
            held.setdefault(numbered.number_of(finding.figure), []).append(finding)
    parts = (
        (
            tag("h3", topic),
            "\n",
            ((_figure(subject, numbered, number, figure, held.get(number, ())), "\n") for number, figure in members),
        )
        for topic, members in numbered.topics
    )
    return tag("div", parts, class_="figures")


def _figure(subject: Subject, numbered: Numbered, number: str, figure: Figure, held: Sequence[Finding]) -> Html:
    record = figure.record
    place = f", {figure.where}" if figure.where and figure.where not in figure.what else ""
    return tag(
        "article",
        tag("h4", f"{number}  {figure.what}{place}"),
        tag("p", tag("span", record.title, class_="name"), " = ", tag("span", record.formula, class_="formula")),
        tag(
            "table",
            tag("caption", f"Inputs and result of {number}"),
            tag("thead", tag("tr", (tag("th", each, scope="col") for each in ("input", "value", "origin")))),
            tag("tbody", (_input(subject, numbered, each) for each in figure.inputs)),
            tag(
                "tfoot",
                tag(
                    "tr",
                    tag("th", "result", scope="row"),
                    tag("td", quantity(figure.value, figure.unit), colspan=2),
                ),
            ),
        ),
        (_held(each) for each in held),
        tag(
            "p",
            "Source: ",
            source_line(record.source, record.status),
            (" ", default_mark(f"behind it: {', '.join(figure.defaults)}")) if figure.defaults else None,
            class_="source",
        ),
        class_="figure",
        id=number,
    )


def _input(subject: Subject, numbered: Numbered, each: Input) -> Html:
    origin = in_words(each.origin, subject.given_by(each.key) if each.key else "")
    behind = each.key or ", ".join(numbered.numbers_at(each))
    named = default_mark(each.key) if origin == "default" else f"{origin}{f': {behind}' if behind else ''}"
    return tag(
        "tr",
        tag("th", each.name, scope="row"),
        tag("td", quantity(each.value, each.unit, digits=6), class_=_kind(each)),
        tag("td", named),
    )


def _kind(each: Input) -> str | None:
    return "num" if isinstance(each.value, (int, float)) and not isinstance(each.value, bool) else None


def _held(finding: Finding) -> Html:
    said = relation(finding)
    margin = f", margin {margin_of(finding)} {finding.unit}".rstrip() if said else ""
    return tag("p", "Held against: ", finding.name, f": {said}{margin} " if said else " ", verdict_mark(finding.verdict))


__all__ = ["Numbered", "figures_list", "topic_of"]
