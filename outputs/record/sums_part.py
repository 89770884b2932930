"""Every sum of a pane for the reader: chapter by chapter the formula, the figures in it, the result.

Terms
-----
basis
    How far a rule can be trusted, as one letter beside its title; what is weak stands out.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from geometry.ledger.finding import WRONG
from geometry.rules.calculation import Status
from outputs.record.bed_part import bed_article
from outputs.record.findings_part import basis_mark, verdict_mark
from outputs.record.markup import AsItIs, Html, join, tag, text
from outputs.record.numbers import quantity, value_text
from outputs.record.parts import relation
from outputs.record.sums import CHAPTERS
from outputs.record.worked import formula_of, input_of, part_formulas, results_of, substituted, values_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from geometry.ledger.figure import Input
    from geometry.ledger.finding import Finding
    from outputs.record.worked import Group, Use, Worked

BED = "shear_bed.shear_bed"
MOST_TOLD = 2  # inputs that tell one use of a rule from another
SHORT = 64
"""A formula no longer than this, its places written out, stands on one line with its figures."""
_PLACE = re.compile(r"\{([^}]*)\}")


def sums_chapters(worked: Worked, findings: Sequence[Finding]) -> Html:
    """All chapters that have a sum on this pane, in two columns; the bed of springs across both."""
    held: dict[str, list[Finding]] = {}
    for finding in findings:
        use = None if finding.figure is None else worked.use_of(finding.figure)
        if use is not None and finding.verdict in WRONG:
            held.setdefault(use.label, []).append(finding)
    parts: list[Html] = []
    column: list[Html] = []
    chapter = 0
    for group in worked.groups:
        if group.sum.chapter != chapter:
            chapter = group.sum.chapter
            column.append(tag("h3", AsItIs(str(chapter)), "  ", CHAPTERS.get(chapter, "Sums without a number")))
        if group.record.name == BED:
            parts += [tag("div", column, class_="sums"), bed_article(group, worked)]
            column = []
        else:
            column.append(join(_article(group, worked, held), "\n"))
    return join(*parts, tag("div", column, class_="sums") if column else None)


def _article(group: Group, worked: Worked, held: Mapping[str, Sequence[Finding]]) -> Html:
    record = group.record
    several = len(group.uses) > 1
    words = "" if record.status is Status.DERIVED else record.source.removesuffix(record.status.value).rstrip(" ;,:")
    source = join(" ", tag("span", AsItIs(words), class_="source")) if words else None
    return tag(
        "article",
        tag("h4", AsItIs(group.sum.number), "  ", record.title, " ", basis_mark(record.status), source),
        (_uses(group, uses, formula, worked, several=several, held=held) for formula, uses in _by_formula(group, worked)),
        class_="sum",
        id=None if several else group.uses[0].id_,
    )


def _by_formula(group: Group, worked: Worked) -> Iterator[tuple[str, list[Use]]]:
    """The uses that share a formula, in their order."""
    found: dict[str, list[Use]] = {}
    for use in group.uses:
        found.setdefault(formula_of(group, use, worked), []).append(use)
    yield from found.items()


def _uses(
    group: Group, uses: Sequence[Use], formula: str, worked: Worked, *, several: bool, held: Mapping[str, Sequence[Finding]]
) -> Html:
    """One formula and every use of it."""
    if not formula:
        told = tag("p", group.record.formula, class_="formula words")
        return join(told, ((_in_words(group, use, worked, several=several), _held(held.get(use.label, ()))) for use in uses))
    shared = {
        place: refs.pop()
        for place in _PLACE.findall(formula)
        if len(refs := {_references(use, place, worked) for use in uses}) == 1
    }
    line = lettered(formula, uses[0], worked, shared)
    if not several and len(formula) < SHORT:
        return join(
            _worked(group, uses[0], formula, worked, shared, before=join(line, " = ")), _held(held.get(uses[0].label, ()))
        )
    return join(
        tag("p", line, class_="formula"),
        ((_worked(group, use, formula, worked, shared, several=several), _held(held.get(use.label, ()))) for use in uses),
    )


def _worked(
    group: Group,
    use: Use,
    formula: str,
    worked: Worked,
    shared: Mapping[str, tuple[str, ...]],
    *,
    before: Html | None = None,
    several: bool = False,
) -> Html:
    """The figures in a formula and the result, on the line of the formula where ``before`` is that; and what decided the formula."""
    places = {re.sub(r" \d+$", "", place) for place in _PLACE.findall(formula)} | set(_PLACE.findall(formula))
    deciding = [each for each in use.figure.inputs if each.name not in places and not each.name.startswith("ice")]
    return tag(
        "p",
        _label(use, group, several=several),
        before,
        numbers_line(formula, use, worked, without=shared),
        " = ",
        tag("b", quantity(use.figure.value, use.figure.unit), class_="result"),
        tag("span", " (", _listed(deciding, worked), ")", class_="small") if deciding and callable(group.sum.formula) else None,
        class_="worked",
        id=use.id_ if several else None,
    )


def lettered(formula: str, use: Use, worked: Worked, shared: Mapping[str, tuple[str, ...]]) -> Html:
    """A formula in letters and words, with where each input is from where that is the same for every use."""
    parts: list[Html] = []
    for piece, place in _pieces(formula):
        parts.append(text(piece))
        if place:
            parts += [_name(use, place, worked), _marks(shared.get(place, ()))]
    return join(*parts)


def numbers_line(formula: str, use: Use, worked: Worked, *, without: Mapping[str, tuple[str, ...]]) -> Html:
    """The same with its figures; ``without`` are the places whose references stand in the formula."""
    values = values_of(use, worked, formula)
    parts: list[Html] = []
    done = ""
    for piece, place in _pieces(formula):
        parts.append(text(piece))
        done += piece
        if place:
            sign = done.rstrip()[-1:]
            figure = substituted(f"{sign} {{{place}}}", values)[len(sign) :].strip()
            parts += [text(figure), _marks(() if place in without else _references(use, place, worked))]
            done += figure
    return tag("span", *parts, class_="numbers")


def _pieces(formula: str) -> Iterator[tuple[str, str]]:
    """A formula cut at its places: the text before each, and the place; the rest with none."""
    end = 0
    for found in _PLACE.finditer(formula):
        yield formula[end : found.start()], found[1]
        end = found.end()
    yield formula[end:], ""


def _name(use: Use, place: str, worked: Worked) -> Html:
    if place.startswith("@"):
        rule = place[1:]
        title = next(group.record.title for group in worked.groups if group.record.name == rule)
        return tag("i", title[:1].lower() + title[1:])
    each = input_of(use, place)
    letter = worked.letter_of(each) if each is not None else ""
    return tag("var", letter) if letter else tag("i", place)


def _references(use: Use, place: str, worked: Worked) -> tuple[str, ...]:
    if place.startswith("@"):
        return tuple(group.uses[0].label for group in worked.groups if group.record.name == place[1:])
    each = input_of(use, place)
    return () if each is None else worked.references(each)


def _marks(references: Sequence[str]) -> Html:
    """Small signs that say where an input is from, each a link."""
    return join(tag("sub", tag("a", AsItIs(each), href=f"#{_aim(each)}")) for each in references)


def _aim(label: str) -> str:
    return label if label.startswith("i") else f"s{label.replace(' ', '')}"


def _what(use: Use) -> str:
    figure = use.figure
    return f"{figure.what}, {figure.where}" if figure.where and figure.where not in figure.what else figure.what


def _telling(use: Use, group: Group) -> str:
    """What tells a use from others of its rule that are the same figure: inputs of another value, or from another key."""
    alike = [other for other in group.uses if other is not use and _what(other) == _what(use)]
    told: list[str] = []
    for each in use.figure.inputs if alike else ():
        others = [next((one for one in other.figure.inputs if one.name == each.name), None) for other in alike]
        if any(one is None or one.value != each.value for one in others):
            told.append(f"{each.name} {quantity(each.value, each.unit)}")
        if each.key and any(one is not None and one.value == each.value and one.key != each.key for one in others):
            told.append(each.key)
    return ", ".join(told[:MOST_TOLD])


def _label(use: Use, group: Group, *, several: bool) -> Html | None:
    """Which one of several, or what it is the sum of where the title does not say it."""
    figure, what = use.figure, _what(use)
    if several:
        telling = _telling(use, group)
        words = tag("span", f"{what}, {telling}: " if telling else f"{what}: ", class_="what")
        return join(tag("b", use.letter, class_="use"), " ", words)
    said = figure.record.title.casefold().startswith(what.casefold()) or what.casefold() == figure.record.title.casefold()
    return None if said else tag("span", f"{what}: ", class_="what")


def _in_words(group: Group, use: Use, worked: Worked, *, several: bool) -> Html:
    """The inputs by name and the result, of a rule that is no arithmetic on one line."""
    value = use.figure.value
    table = _results(group, use, worked) if results_of(value) else None
    return tag(
        "div",
        tag(
            "p",
            _label(use, group, several=several),
            "with ",
            _listed(use.figure.inputs, worked),
            join(" = ", tag("b", quantity(value, use.figure.unit), class_="result")) if table is None else None,
            class_="worked",
        ),
        table,
        id=use.id_ if several else None,
    )


def _listed(inputs: Sequence[Input], worked: Worked) -> Html:
    """Inputs by name and value, one after the other."""
    return join(*(part for place, each in enumerate(inputs) for part in ("; " if place else None, _entered(each, worked))))


def _entered(each: Input, worked: Worked) -> Html:
    letter = worked.letter_of(each)
    name = tag("var", letter) if letter else tag("i", each.name)
    return join(name, f" {quantity(each.value, each.unit, digits=6)}", _marks(worked.references(each)))


def _results(group: Group, use: Use, worked: Worked) -> Html:
    """Several results as a small table, each with its unit and, where it has one, its sum."""
    value, units = use.figure.value, results_of(use.figure.value)
    formulas = dict(part_formulas(group, use, worked))
    rows = [
        tag(
            "tr",
            tag("th", name.replace("_", " "), scope="row"),
            tag("td", join(numbers_line(formulas[name], use, worked, without={}), " =") if name in formulas else None)
            if formulas
            else None,
            tag("td", value_text(getattr(value, name)), class_="num result"),
            tag("td", units[name] or ""),
        )
        for name in units
    ]
    head = tag("tr", (tag("th", each, scope="col") for each in ("result", *(("sum",) if formulas else ()), "value", "unit")))
    return tag(
        "table",
        tag("caption", "Results of ", AsItIs(use.label), class_="hidden"),
        tag("thead", head, class_="hidden"),
        tag("tbody", rows),
        class_="results",
    )


def _held(findings: Sequence[Finding]) -> Html:
    """What does not pass and rests on this sum."""
    return join(tag("p", verdict_mark(each.verdict), f" {each.name}: {relation(each)}", class_="held") for each in findings)


__all__ = ["lettered", "numbers_line", "sums_chapters"]
