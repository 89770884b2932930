"""What went in, each value once: the sizes of the section by their letters, then every key and every measure by its number."""

from __future__ import annotations

from typing import TYPE_CHECKING

from geometry.ledger.size import Origin, in_words
from geometry.outline import corners
from geometry.sizing.tolerances import PaneTolerances
from geometry.workings.section_sums import tolerance
from geometry.workings.standing import standing
from outputs.record.findings_part import default_mark
from outputs.record.markup import AsItIs, Html, join, tag
from outputs.record.numbers import number, quantity, value_text, with_unit
from outputs.record.parts import defaults_of
from outputs.record.worked import CENTRE, LETTERS, Kind

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from geometry.detail.parts import Curves
    from geometry.findings.check import PaneCheck
    from geometry.ledger.size import Size
    from geometry.outline import Outline
    from outputs.record.worked import Entry, Worked

NO_RATE = ("work.cup_rating", "work.cup_step", "work.reach_share", "work.powered_gun", "work.heat_transfer")
"""Keys of the work that are no rate of the plan."""
TITLES = {
    Kind.GIVEN: "Given in the job file",
    Kind.OFFICE: "Given by the office's file",
    Kind.DEFAULT: "DEFAULT values that went in: replace them",
    Kind.MEASURED: "Measured on the outline, or worked out on the way",
}


LEAST = {"bead corner radius": "bead_centre", "frit corner radius": "frit_inner"}
"""Sizes that are the least that a corner may have, and the curve whose corners are drawn no tighter."""


def sizes_table(sizes: Iterable[Size], worked: Worked, curves: Curves | None = None) -> Html:
    """Every size of the section with its letter and where it comes from; of a least radius of a corner also what is drawn."""
    rows: list[Html] = []
    for each in sizes:
        least = curves is not None and each.name in LEAST
        rows.append(_size(each, f"{each.name}, least" if least else each.name))
        drawn = drawn_radii(getattr(curves, LEAST[each.name])) if least else ()
        if drawn:
            told = "; ".join(number(radius, digits=4) for radius in drawn)
            rows.append(
                _row("", f"{each.name}, as drawn", with_unit(told, "mm"), "", "the parallel curve, no tighter than the least")
            )
    centre = worked.value_of(CENTRE)
    if centre is not None:
        link = tag("a", AsItIs("2.3"), href="#s2.3")
        rows.append(_row("c", "bead centre from the glass edge", quantity(centre, "mm", digits=6), "", join("sum ", link)))
    head = tag("tr", (tag("th", each, scope="col") for each in ("", "size", "value", "±", "origin")))
    caption = "Sizes of the section, by the letters of the sketch"
    return tag("table", tag("caption", caption), tag("thead", head), tag("tbody", rows), class_="sizes")


def drawn_radii(outline: Outline) -> tuple[float, ...]:
    """The radii to which the corners of a curve are drawn, each once, the smallest first, mm."""
    return tuple(sorted({round(corner.radius, 2) for corner in corners(outline)}))


def _size(size: Size, name: str) -> Html:
    origin: Html | str = default_mark() if size.origin is Origin.DEFAULT else size.origin_in_words
    reason = size.reason.removeprefix(f"{size.value:g} {size.unit}: ")  # the value stands in its own column
    why = join(origin, tag("span", f": {reason}", class_="small")) if reason else origin
    deviation = "" if size.tolerance is None else value_text(size.tolerance)
    return _row(LETTERS.get(size.name, ""), name, quantity(size.value, size.unit, digits=6), deviation, why)


def _row(letter: str, name: str, value: str, deviation: str, origin: Html | str) -> Html:
    return tag(
        "tr",
        tag("th", tag("var", letter) if letter else None, scope="row"),
        tag("td", name),
        tag("td", value, class_="num"),
        tag("td", deviation, class_="num"),
        tag("td", origin),
    )


def entries_tables(check: PaneCheck, worked: Worked) -> Html:
    """Every value that went into a sum or a finding, by where it is from; keys of one table of the job file stand together."""
    entries = list(worked.entries.values())
    parts: list[Html] = []
    for kind, title in TITLES.items():
        rows = [_entry(each) for each in entries if each.kind is kind]
        if kind is Kind.DEFAULT:
            rows += _limits(check, {each.key for each in entries})
            rows += _rates(check, {each.key for each in entries} | set(defaults_of(check.findings)))
            rows.sort(key=lambda row: row[0])
        if rows:
            parts.append(_table(title, rows))
    return tag("div", parts, class_="entries")


def _table(title: str, rows: Sequence[tuple[str, str, Html]]) -> Html:
    """One kind of entries; keys of one table of the job file stand under its name."""
    head = tag("tr", (tag("th", each, scope="col") for each in ("no.", "key or measure", "value")))
    told: list[Html] = []
    under = ""
    for table, mark, cells in rows:
        if table != under:
            under = table
            name = tag("td", AsItIs(f"{table}."), colspan=2, class_="table-name")
            told.append(tag("tr", tag("th", scope="row"), name, class_="group") if table else join())
        told.append(tag("tr", cells, id=mark or None))
    return tag("table", tag("caption", title), tag("thead", head, class_="hidden"), tag("tbody", told))


def _entry(each: Entry) -> tuple[str, str, Html]:
    office = (
        tag("span", f" {in_words(Origin.GIVEN, each.given_by).removeprefix('given ')}", class_="small") if each.given_by else None
    )
    return _cells(each.key, each.name, quantity(each.value, each.unit, digits=6), label=each.label, office=office)


def _cells(key: str, name: str, value: str, *, label: str = "", office: Html | None = None) -> tuple[str, str, Html]:
    """The table of a key, the mark of its row, its cells."""
    table, _, last = key.rpartition(".")
    named: Html | str = _at_its_strokes(last) if key else name
    return table, label, join(tag("th", label, scope="row"), tag("td", named, office), tag("td", value))


def _at_its_strokes(key: str) -> Html:
    """A key as it is typed, that a line may end behind each of its low strokes."""
    first, *rest = key.split("_")
    return join(AsItIs(first), *(join(AsItIs("_"), tag("wbr"), AsItIs(each)) for each in rest))


def _limits(check: PaneCheck, known: set[str]) -> list[tuple[str, str, Html]]:
    """Defaults that a finding stands on without a sum."""
    return [_cells(key, "", _value_at(check, key)) for key in sorted(defaults_of(check.findings)) if key not in known]


def _rates(check: PaneCheck, known: set[str]) -> list[tuple[str, str, Html]]:
    """Rates of the bonding day that were left out of the job file and stand in no sum."""
    if check.time_plan is None:
        return []
    keys = [f"work.{name}" for name in type(check.subject.pane.work).model_fields if f"work.{name}" not in NO_RATE]
    rates = [check.subject.asked(key) for key in keys if key not in known]
    return [
        _cells(rate.key, "", quantity(rate.value, rate.unit))
        for rate in rates
        if rate.origin is Origin.DEFAULT and isinstance(rate.value, float)
    ]


def _value_at(check: PaneCheck, key: str) -> str:
    """The default as the job file would hold it, or as it went in."""
    found = standing(check.subject, key)
    if found is not None and found[0] is not None:
        return quantity(found[0], found[1], digits=6)
    for size in check.subject.sizes.all():
        if size.name == key:
            return quantity(size.value, size.unit, digits=6)
    if key.startswith("tolerances.") and hasattr(PaneTolerances, key.removeprefix("tolerances.")):
        return quantity(tolerance(check.subject, key.removeprefix("tolerances.")).value, "mm", digits=6)
    return "no single value: see what the findings say"


__all__ = ["drawn_radii", "entries_tables", "sizes_table"]
